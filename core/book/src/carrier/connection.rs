//! One connection: handshake, messages, end.

use std::fmt;
use std::io::{self, ErrorKind, Read, Write};
use std::net::{Shutdown, SocketAddr, TcpStream, ToSocketAddrs};
use std::sync::Arc;
use std::time::{Duration, Instant};

use pitside_model::facts::DeviceKey;
use rustls::{AlertDescription, ServerConfig, ServerConnection};

use super::tls::{self, Caller};
use super::{CarrierError, Limits, NotReached, Wait, reach};
use crate::exchange::Link;
use crate::keys::Identity;

/// The alert (RFC 8446, section 6.2) by which a full listener says so: "an
/// internal error unrelated to the peer", before the handshake begins.
pub(super) const BUSY: AlertDescription = AlertDescription::InternalError;

/// How long, and for how many bytes, an end that we chose waits for the peer's.
const LINGER: Duration = Duration::from_millis(250);
const LINGER_BYTES: usize = 64 * 1024;

/// How much goes to TLS, or comes from it, at a time.
const PIECE: usize = 16 * 1024;

/// A connection with a device whose key is proved.
///
/// To drop it without [`close`](Self::close) is to cut it.
pub struct Connection {
    stream: Stream,
    peer: DeviceKey,
    address: SocketAddr,
    /// After a failure nobody knows where in a message the two sides stand.
    over: bool,
}

impl Connection {
    /// Calls a device at `host:port`.
    ///
    /// # Errors
    /// [`CarrierError::Unreachable`]; [`CarrierError::WrongKey`] where another
    /// device answers, which is told too; [`CarrierError::Busy`] where it has no
    /// place now; timeouts.
    pub fn connect(
        address: &str,
        identity: &Identity,
        expected: DeviceKey,
        limits: &Limits,
    ) -> Result<Self, CarrierError> {
        let caller = Caller::new(identity, Some(expected))?;
        Self::call(address, &caller, limits, Instant::now() + limits.handshake)
    }

    /// Calls whoever answers at `host:port`. Its key proves nothing before a person
    /// has compared the [words](crate::pairing::words) of it.
    ///
    /// # Errors
    /// As [`Connection::connect`], without a wrong key.
    pub fn introduce(address: &str, identity: &Identity, limits: &Limits) -> Result<Self, CarrierError> {
        let caller = Caller::new(identity, None)?;
        Self::call(address, &caller, limits, Instant::now() + limits.handshake)
    }

    /// Calls a device at each of its last-known addresses and takes the first
    /// at which it proves its key.
    ///
    /// The next address is called when the last has failed or a quarter of a
    /// second has passed, whichever comes first, while the earlier go on
    /// (RFC 8305, section 5). Where the device is there and busy it is called
    /// again. All of it ends after [`Limits::reach`].
    ///
    /// # Errors
    /// [`NotReached`], with what happened at each address.
    pub fn reach(
        addresses: &[String],
        identity: &Identity,
        expected: DeviceKey,
        limits: &Limits,
    ) -> Result<Self, NotReached> {
        reach::reach(addresses, identity, expected, limits)
    }

    /// One call; the handshake is over by `until` or came to nothing.
    pub(super) fn call(
        address: &str,
        caller: &Caller,
        limits: &Limits,
        until: Instant,
    ) -> Result<Self, CarrierError> {
        let begun = Instant::now();
        let (socket, there) = open(address, until)?;
        let mut stream = Stream::new(socket, caller.connection()?.into(), limits, begun)?;
        match stream.handshake(until) {
            Ok(peer) => Ok(Self { stream, peer, address: there, over: false }),
            Err(error) => match caller.wrong_key() {
                Some((expected, found)) => Err(CarrierError::WrongKey { expected, found }),
                None => Err(error),
            },
        }
    }

    /// Answers a call.
    ///
    /// # Errors
    /// [`CarrierError`]: what called is no device, or gave up.
    pub(super) fn answer(
        socket: TcpStream,
        address: SocketAddr,
        config: &Arc<ServerConfig>,
        limits: &Limits,
    ) -> Result<Self, CarrierError> {
        let begun = Instant::now();
        let tls = ServerConnection::new(Arc::clone(config))?;
        let mut stream = Stream::new(socket, tls.into(), limits, begun)?;
        let peer = stream.handshake(begun + limits.handshake)?;
        Ok(Self { stream, peer, address, over: false })
    }

    /// Where the other device is.
    #[must_use]
    pub fn address(&self) -> SocketAddr {
        self.address
    }

    /// Says that nothing more comes, so that the other side can tell this end
    /// from a cut, and closes.
    pub fn close(mut self) {
        if !self.over {
            self.stream.tls.send_close_notify();
            // Whoever has left already does not need to hear it.
            let _ = self.stream.flush(Instant::now() + LINGER, Wait::Idle);
        }
        self.stream.part();
    }

    fn unless_over<T>(
        &mut self,
        work: impl FnOnce(&mut Stream) -> Result<T, CarrierError>,
    ) -> Result<T, CarrierError> {
        if self.over {
            return Err(CarrierError::Cut);
        }
        let done = work(&mut self.stream);
        // The other side's being done does not keep this one from going on.
        self.over = !matches!(done, Ok(_) | Err(CarrierError::Ended));
        done
    }
}

impl fmt::Debug for Connection {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Connection({} at {})", self.peer, self.address)
    }
}

impl Link for Connection {
    type Error = CarrierError;

    fn peer(&self) -> DeviceKey {
        self.peer
    }

    /// [`CarrierError::TooLarge`] leaves the connection as it was; after any
    /// other error it is over.
    fn send(&mut self, message: &[u8]) -> Result<(), CarrierError> {
        let limit = self.stream.limits.message_bytes;
        let length = u32::try_from(message.len()).ok().filter(|_| message.len() <= limit);
        let too_large = CarrierError::TooLarge { claimed: message.len() as u64, limit: limit as u64 };
        let length = length.ok_or(too_large)?;
        self.unless_over(|stream| stream.send(&[length.to_be_bytes().as_slice(), message].concat()))
    }

    /// [`CarrierError::Ended`] where the other device is done; after any other
    /// error the connection is over.
    fn receive(&mut self) -> Result<Vec<u8>, CarrierError> {
        self.unless_over(Stream::receive)
    }
}

/// The first of a name's addresses that takes a TCP connection. Each has its
/// share of the time that is left, so that the first cannot use up all of it.
fn open(address: &str, until: Instant) -> Result<(TcpStream, SocketAddr), CarrierError> {
    let unreachable = |source| CarrierError::Unreachable { address: address.to_owned(), source };
    let candidates: Vec<_> = address.to_socket_addrs().map_err(unreachable)?.collect();
    let mut last = io::Error::new(ErrorKind::NotFound, "the name has no address");
    for (n, candidate) in candidates.iter().enumerate() {
        let left = until.saturating_duration_since(Instant::now());
        let share = left / u32::try_from(candidates.len() - n).unwrap_or(u32::MAX);
        if share.is_zero() {
            return Err(unreachable(ErrorKind::TimedOut.into()));
        }
        match TcpStream::connect_timeout(candidate, share) {
            Ok(socket) => return Ok((socket, *candidate)),
            Err(e) => last = e,
        }
    }
    Err(unreachable(last))
}

/// TLS over the socket, within the limits. The library's own stream hides a
/// failed write until the next one, which would let a peer use up a limit twice.
struct Stream {
    socket: TcpStream,
    tls: rustls::Connection,
    limits: Limits,
    begun: Instant,
    moved: u64,
}

impl Stream {
    fn new(
        socket: TcpStream,
        tls: rustls::Connection,
        limits: &Limits,
        begun: Instant,
    ) -> Result<Self, CarrierError> {
        // A message is written in one go; waiting for more would only delay it.
        socket.set_nodelay(true).map_err(CarrierError::Io)?;
        Ok(Self { socket, tls, limits: *limits, begun, moved: 0 })
    }

    fn handshake(&mut self, until: Instant) -> Result<DeviceKey, CarrierError> {
        let done = self.shake_hands(until);
        // Whoever is refused by us is told why; the alert must not be lost
        // because bytes of the peer's were left unread (RFC 9293, section 3.6.1).
        if matches!(done, Err(CarrierError::Foreign(_) | CarrierError::Unproved)) {
            self.part();
        }
        done
    }

    fn shake_hands(&mut self, until: Instant) -> Result<DeviceKey, CarrierError> {
        while self.tls.is_handshaking() {
            if self.tls.wants_write() {
                self.flush(until, Wait::Handshake)?;
            } else {
                self.fill(until, Wait::Handshake)?;
            }
        }
        self.flush(until, Wait::Handshake)?;
        Ok(tls::proved(&self.tls)?)
    }

    /// How long the next system call may take.
    fn patience(&self, until: Instant, wait: Wait) -> Result<(Duration, Wait), CarrierError> {
        let now = Instant::now();
        let ends = [(until, wait), (self.begun + self.limits.whole, Wait::Whole)];
        let mut shortest = (self.limits.idle, Wait::Idle);
        for (end, wait) in ends {
            let left = end.saturating_duration_since(now);
            if left.is_zero() {
                return Err(CarrierError::Timeout(wait));
            }
            if left < shortest.0 {
                shortest = (left, wait);
            }
        }
        Ok(shortest)
    }

    fn count(&mut self, bytes: usize) -> Result<(), CarrierError> {
        self.moved += bytes as u64;
        let limit = self.limits.whole_bytes;
        if self.moved > limit { Err(CarrierError::TooMuch { limit }) } else { Ok(()) }
    }

    /// One read from the socket into TLS.
    fn fill(&mut self, until: Instant, wait: Wait) -> Result<(), CarrierError> {
        let (patience, wait) = self.patience(until, wait)?;
        self.socket.set_read_timeout(Some(patience)).map_err(CarrierError::Io)?;
        match self.tls.read_tls(&mut self.socket) {
            Ok(0) => return Err(CarrierError::Cut),
            Ok(n) => self.count(n)?,
            Err(e) if e.kind() == ErrorKind::Interrupted => return Ok(()),
            Err(e) => return Err(CarrierError::moving(e, wait)),
        }
        match self.tls.process_new_packets() {
            Ok(_) => Ok(()),
            Err(rustls::Error::AlertReceived(BUSY)) if self.tls.is_handshaking() => Err(CarrierError::Busy),
            Err(e) => {
                // The other side is told why before this side leaves.
                let _ = self.flush(Instant::now() + LINGER, Wait::Idle);
                Err(e.into())
            }
        }
    }

    /// Writes what TLS has to write.
    fn flush(&mut self, until: Instant, wait: Wait) -> Result<(), CarrierError> {
        while self.tls.wants_write() {
            let (patience, wait) = self.patience(until, wait)?;
            self.socket.set_write_timeout(Some(patience)).map_err(CarrierError::Io)?;
            match self.tls.write_tls(&mut self.socket) {
                Ok(0) => return Err(CarrierError::Cut),
                Ok(n) => self.count(n)?,
                Err(e) if e.kind() == ErrorKind::Interrupted => {}
                Err(e) => return Err(CarrierError::moving(e, wait)),
            }
        }
        Ok(())
    }

    /// TLS is given a little at a time, so that what a peer does not take stays
    /// in the message and is not copied into buffers.
    fn send(&mut self, framed: &[u8]) -> Result<(), CarrierError> {
        let until = Instant::now() + self.limits.message;
        for piece in framed.chunks(PIECE) {
            self.tls.writer().write_all(piece).map_err(CarrierError::Io)?;
            self.flush(until, Wait::Message)?;
        }
        Ok(())
    }

    fn receive(&mut self) -> Result<Vec<u8>, CarrierError> {
        let first = match self.read(1, self.begun + self.limits.whole, Wait::Whole) {
            // Before a message, an end that was said is no cut.
            Err(CarrierError::Cut) if self.is_ended() => return Err(CarrierError::Ended),
            read => read?,
        };
        let until = Instant::now() + self.limits.message;
        let rest = self.read(3, until, Wait::Message)?;
        let length = first.iter().chain(&rest).fold(0_u64, |n, byte| n << 8 | u64::from(*byte));
        let limit = self.limits.message_bytes as u64;
        if length > limit {
            return Err(CarrierError::TooLarge { claimed: length, limit });
        }
        self.read(usize::try_from(length).unwrap_or(usize::MAX), until, Wait::Message)
    }

    /// Reads exactly `length` bytes; memory grows as they arrive.
    fn read(&mut self, length: usize, until: Instant, wait: Wait) -> Result<Vec<u8>, CarrierError> {
        let mut bytes = Vec::new();
        let mut piece = [0; PIECE];
        while bytes.len() < length {
            let want = piece.len().min(length - bytes.len());
            match self.tls.reader().read(&mut piece[..want]) {
                Ok(0) => return Err(CarrierError::Cut),
                Ok(n) => bytes.extend_from_slice(&piece[..n]),
                Err(e) if e.kind() == ErrorKind::WouldBlock => {
                    self.flush(until, wait)?;
                    self.fill(until, wait)?;
                }
                Err(_) => return Err(CarrierError::Cut),
            }
        }
        Ok(bytes)
    }

    /// Whether the other side said that nothing more comes (close_notify).
    fn is_ended(&mut self) -> bool {
        matches!(self.tls.reader().read(&mut [0]), Ok(0))
    }

    /// Ends our side and waits a moment for the peer to end its own: to close
    /// with bytes unread resets the connection (RFC 9293, section 3.6.1), and
    /// what we said last could be lost on its way.
    fn part(&mut self) {
        let until = Instant::now() + LINGER;
        if self.socket.shutdown(Shutdown::Write).is_err() {
            return;
        }
        let mut left = LINGER_BYTES;
        let mut scrap = [0; 4_096];
        while left > 0 {
            let wait = until.saturating_duration_since(Instant::now());
            if wait.is_zero() || self.socket.set_read_timeout(Some(wait)).is_err() {
                return;
            }
            match self.socket.read(&mut scrap) {
                Ok(0) | Err(_) => return,
                Ok(n) => left = left.saturating_sub(n),
            }
        }
    }
}
