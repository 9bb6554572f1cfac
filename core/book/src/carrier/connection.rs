//! One connection: handshake, messages, end.

use std::io::{self, ErrorKind, Read, Write};
use std::net::{Shutdown, TcpStream, ToSocketAddrs};
use std::time::{Duration, Instant};

use pitside_model::facts::DeviceKey;

use super::tls::{self, Proved};
use super::{CarrierError, Limits, Wait};
use crate::exchange::Link;
use crate::keys::Identity;

/// A connection with a device whose key is proved.
#[derive(Debug)]
pub struct Connection {
    socket: TcpStream,
    tls: rustls::Connection,
    peer: DeviceKey,
    limits: Limits,
    begun: Instant,
    moved: u64,
}

impl Connection {
    /// Calls a device at `host:port`.
    ///
    /// # Errors
    /// [`CarrierError::Unreachable`]; [`CarrierError::WrongKey`] where another
    /// device answers, which is told too; timeouts.
    pub fn connect(
        address: &str,
        identity: &Identity,
        expected: DeviceKey,
        limits: &Limits,
    ) -> Result<Self, CarrierError> {
        let unreachable = |source| CarrierError::Unreachable { address: address.to_owned(), source };
        let begun = Instant::now();
        let mut last = io::Error::new(ErrorKind::NotFound, "the name has no address");
        let mut socket = None;
        for candidate in address.to_socket_addrs().map_err(unreachable)? {
            match TcpStream::connect_timeout(&candidate, limits.handshake) {
                Ok(open) => {
                    socket = Some(open);
                    break;
                }
                Err(e) => last = e,
            }
        }
        let socket = socket.ok_or_else(|| unreachable(last))?;
        let (tls, proved) = tls::client(identity, expected).map_err(foreign)?;
        let made = Self::handshake(socket, tls.into(), &proved, limits, begun);
        match (made, proved.get()) {
            (Err(_), Some(found)) if *found != expected => {
                Err(CarrierError::WrongKey { expected, found: *found })
            }
            (made, _) => made,
        }
    }

    /// Answers a call.
    ///
    /// # Errors
    /// [`CarrierError`]: what called is no device, or gave up.
    pub(super) fn answer(
        socket: TcpStream,
        identity: &Identity,
        limits: &Limits,
    ) -> Result<Self, CarrierError> {
        let (tls, proved) = tls::server(identity).map_err(foreign)?;
        Self::handshake(socket, tls.into(), &proved, limits, Instant::now())
    }

    fn handshake(
        socket: TcpStream,
        tls: rustls::Connection,
        proved: &Proved,
        limits: &Limits,
        begun: Instant,
    ) -> Result<Self, CarrierError> {
        socket.set_nodelay(true).map_err(CarrierError::Io)?;
        // The key is known when the handshake is over; until then this stands in
        // and nobody can ask.
        let peer = DeviceKey([0; 32]);
        let mut connection = Self { socket, tls, peer, limits: *limits, begun, moved: 0 };
        let until = begun + limits.handshake;
        while connection.tls.is_handshaking() {
            if connection.tls.wants_write() {
                connection.flush(until, Wait::Handshake)?;
            } else {
                connection.fill(until, Wait::Handshake)?;
            }
        }
        connection.flush(until, Wait::Handshake)?;
        // A caller that offers no protocol gets through the handshake.
        if connection.tls.alpn_protocol() != Some(tls::ALPN) {
            return Err(CarrierError::Foreign("it does not speak this protocol".to_owned()));
        }
        connection.peer =
            *proved.get().ok_or_else(|| CarrierError::Foreign("it showed no key".to_owned()))?;
        Ok(connection)
    }

    /// Says that nothing more comes, and closes.
    pub fn close(mut self) {
        self.tls.send_close_notify();
        // Whoever has left already does not need to hear it.
        let _ = self.flush(Instant::now() + Duration::from_secs(1), Wait::Idle);
        let _ = self.socket.shutdown(Shutdown::Write);
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
        if self.moved > self.limits.whole_bytes {
            let limit = self.limits.whole_bytes;
            return Err(CarrierError::TooLarge { claimed: self.moved, limit });
        }
        Ok(())
    }

    /// One read from the socket into TLS.
    fn fill(&mut self, until: Instant, wait: Wait) -> Result<(), CarrierError> {
        let (patience, wait) = self.patience(until, wait)?;
        self.socket.set_read_timeout(Some(patience)).map_err(CarrierError::Io)?;
        match self.tls.read_tls(&mut self.socket) {
            Ok(0) => return Err(CarrierError::Cut),
            Ok(n) => self.count(n)?,
            Err(e) => return Err(failed(e, wait)),
        }
        if let Err(e) = self.tls.process_new_packets() {
            // The other side is told why before this side leaves.
            let _ = self.flush(Instant::now() + Duration::from_secs(1), Wait::Idle);
            return Err(foreign(e));
        }
        Ok(())
    }

    /// Writes what TLS has to write.
    fn flush(&mut self, until: Instant, wait: Wait) -> Result<(), CarrierError> {
        while self.tls.wants_write() {
            let (patience, wait) = self.patience(until, wait)?;
            self.socket.set_write_timeout(Some(patience)).map_err(CarrierError::Io)?;
            match self.tls.write_tls(&mut self.socket) {
                Ok(0) => return Err(CarrierError::Cut),
                Ok(n) => self.count(n)?,
                Err(e) => return Err(failed(e, wait)),
            }
        }
        Ok(())
    }

    /// Reads exactly `buffer`'s length; memory grows as bytes arrive.
    fn read_exactly(&mut self, length: usize, until: Instant, wait: Wait) -> Result<Vec<u8>, CarrierError> {
        let mut bytes = Vec::new();
        let mut chunk = [0; 16 * 1024];
        while bytes.len() < length {
            let want = chunk.len().min(length - bytes.len());
            match self.tls.reader().read(&mut chunk[..want]) {
                Ok(0) => return Err(CarrierError::Cut),
                Ok(n) => bytes.extend_from_slice(&chunk[..n]),
                Err(e) if e.kind() == ErrorKind::WouldBlock => {
                    self.flush(until, wait)?;
                    self.fill(until, wait)?;
                }
                Err(_) => return Err(CarrierError::Cut),
            }
        }
        Ok(bytes)
    }
}

impl Link for Connection {
    type Error = CarrierError;

    fn peer(&self) -> DeviceKey {
        self.peer
    }

    fn send(&mut self, message: &[u8]) -> Result<(), CarrierError> {
        let limit = self.limits.message_bytes;
        let length = u32::try_from(message.len()).ok().filter(|_| message.len() <= limit);
        let too_large = CarrierError::TooLarge { claimed: message.len() as u64, limit: limit as u64 };
        let length = length.ok_or(too_large)?;
        let until = Instant::now() + self.limits.message;
        let framed = [length.to_be_bytes().as_slice(), message].concat();
        // TLS buffers little at a time, so write and flush in turn.
        for piece in framed.chunks(16 * 1024) {
            self.tls.writer().write_all(piece).map_err(CarrierError::Io)?;
            self.flush(until, Wait::Message)?;
        }
        Ok(())
    }

    fn receive(&mut self) -> Result<Vec<u8>, CarrierError> {
        let whole = self.begun + self.limits.whole;
        let first = self.read_exactly(1, whole, Wait::Whole)?;
        let until = Instant::now() + self.limits.message;
        let rest = self.read_exactly(3, until, Wait::Message)?;
        let length = first.iter().chain(&rest).fold(0_u64, |n, byte| n << 8 | u64::from(*byte));
        let limit = self.limits.message_bytes as u64;
        if length > limit {
            return Err(CarrierError::TooLarge { claimed: length, limit });
        }
        self.read_exactly(usize::try_from(length).unwrap_or(usize::MAX), until, Wait::Message)
    }
}

fn failed(e: io::Error, wait: Wait) -> CarrierError {
    match e.kind() {
        ErrorKind::WouldBlock | ErrorKind::TimedOut => CarrierError::Timeout(wait),
        ErrorKind::ConnectionReset
        | ErrorKind::ConnectionAborted
        | ErrorKind::BrokenPipe
        | ErrorKind::UnexpectedEof => CarrierError::Cut,
        _ => CarrierError::Io(e),
    }
}

fn foreign(e: rustls::Error) -> CarrierError {
    match e {
        rustls::Error::AlertReceived(alert) => CarrierError::Refused(format!("{alert:?}")),
        other => CarrierError::Foreign(other.to_string()),
    }
}
