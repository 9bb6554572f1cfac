//! What other devices call.

use std::collections::{HashMap, VecDeque};
use std::io::Write;
use std::net::{IpAddr, Ipv4Addr, Ipv6Addr, Shutdown, SocketAddr, TcpListener, TcpStream};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::thread;
use std::time::{Duration, Instant};

use super::admission::Door;
use super::connection::BUSY;
use super::{CarrierError, Connection, Limits, Verdict, tls};
use crate::keys::Identity;

/// How long a listener rests when the system has nothing left to give.
const REST: Duration = Duration::from_millis(50);

/// How many of those turned away are held until they have heard it, and for how
/// long at the least where more come.
const LEAVING: usize = 64;
const LEAVE: Duration = Duration::from_secs(1);

/// A bound address.
#[derive(Debug)]
pub struct Listener {
    socket: TcpListener,
    address: SocketAddr,
    room: Arc<Mutex<Room>>,
    limits: Limits,
}

/// Who is in, and for how long anyone may be.
#[derive(Debug, Default)]
struct Room {
    stopped: bool,
    cut: bool,
    next: u64,
    /// Second handles on the sockets, by which [`Stop::cut`] reaches them.
    open: HashMap<u64, TcpStream>,
}

/// Nothing under this lock is left half-changed by a panic.
fn guard(room: &Mutex<Room>) -> MutexGuard<'_, Room> {
    room.lock().unwrap_or_else(PoisonError::into_inner)
}

/// Stops a listener from another thread.
#[derive(Clone, Debug)]
pub struct Stop {
    room: Arc<Mutex<Room>>,
    address: SocketAddr,
}

impl Stop {
    /// No call is answered any more; those under way come to their end.
    pub fn stop(&self) {
        guard(&self.room).stopped = true;
        // A call of our own wakes the listener. Where it cannot be made, the
        // listener has ended already.
        drop(TcpStream::connect_timeout(&self.address, Duration::from_secs(1)));
    }

    /// No call is answered any more, and those under way are cut: what was taken
    /// in stays, and the next sync goes on from there.
    pub fn cut(&self) {
        {
            let mut room = guard(&self.room);
            room.cut = true;
            for socket in room.open.values() {
                // It may have ended by itself.
                let _ = socket.shutdown(Shutdown::Both);
            }
        }
        self.stop();
    }
}

impl Listener {
    /// Binds an address; port 0 takes a free one.
    ///
    /// # Errors
    /// [`CarrierError::Unreachable`] where the address is taken or not this
    /// machine's.
    pub fn bind(address: SocketAddr, limits: Limits) -> Result<Self, CarrierError> {
        let unreachable = |source| CarrierError::Unreachable { address: address.to_string(), source };
        let socket = TcpListener::bind(address).map_err(unreachable)?;
        let address = socket.local_addr().map_err(unreachable)?;
        Ok(Self { socket, address, room: Arc::default(), limits })
    }

    /// Where it listens.
    #[must_use]
    pub fn address(&self) -> SocketAddr {
        self.address
    }

    /// What stops it.
    #[must_use]
    pub fn stop(&self) -> Stop {
        let mut address = self.address;
        if address.ip().is_unspecified() {
            address.set_ip(match address.ip() {
                IpAddr::V4(_) => Ipv4Addr::LOCALHOST.into(),
                IpAddr::V6(_) => Ipv6Addr::LOCALHOST.into(),
            });
        }
        Stop { room: Arc::clone(&self.room), address }
    }

    /// Answers calls until it is stopped, each on a thread of its own, and comes
    /// back when the last has ended. `handler` gets every call: a connection
    /// whose key is proved, or why there is none; what it says of the caller is
    /// held for or against the caller's source (see
    /// [`Admission`](super::Admission)). A handshake that came to nothing is
    /// held against it whatever the handler says.
    ///
    /// A caller for whom there is no place is told to come again, and
    /// [`Connection::reach`] does. To leave it in the system's backlog instead
    /// would be less work, but on a hotspot it would be worse: the backlog knows
    /// no sources, so one bad address could fill it for everyone, and a phone in
    /// it cannot tell a laptop that is busy from one that is out of reach.
    ///
    /// # Panics
    /// Where a handler panicked, after the others have ended; until then the
    /// listener went on.
    pub fn serve(
        &self,
        identity: &Identity,
        handler: &(dyn Fn(Result<Connection, CarrierError>) -> Verdict + Sync),
    ) {
        let config = match tls::called(identity) {
            Ok(config) => config,
            Err(e) => {
                // Nobody can be answered with this key, and nobody is to blame.
                let _ = handler(Err(e.into()));
                return;
            }
        };
        let door = Door::new(self.limits.admission);
        let mut leaving = Leaving::default();
        thread::scope(|scope| {
            loop {
                let accepted = self.socket.accept();
                if guard(&self.room).stopped {
                    break;
                }
                let Ok((socket, address)) = accepted else {
                    // Out of descriptors, or the caller has left: not for ever.
                    leaving.clear();
                    thread::sleep(REST);
                    continue;
                };
                let place = door.enter(address.ip(), Instant::now());
                let (Some(place), Some(seat)) = (place, Seat::take(&self.room, &socket)) else {
                    leaving.turn_away(socket);
                    continue;
                };
                let config = &config;
                let spawned = thread::Builder::new().spawn_scoped(scope, move || {
                    let _seat = seat;
                    let connection = Connection::answer(socket, address, config, &self.limits);
                    let failed = connection.is_err();
                    if handler(connection) == Verdict::Refused || failed {
                        place.failed(Instant::now());
                    }
                });
                if spawned.is_err() {
                    thread::sleep(REST);
                }
            }
        });
    }
}

/// A caller among those who are in, until dropped.
struct Seat {
    room: Arc<Mutex<Room>>,
    number: u64,
}

impl Seat {
    fn take(room: &Arc<Mutex<Room>>, socket: &TcpStream) -> Option<Self> {
        let second = socket.try_clone().ok()?;
        let mut inside = guard(room);
        if inside.cut {
            return None;
        }
        let number = inside.next;
        inside.next += 1;
        inside.open.insert(number, second);
        Some(Self { room: Arc::clone(room), number })
    }
}

impl Drop for Seat {
    fn drop(&mut self) {
        guard(&self.room).open.remove(&self.number);
    }
}

/// Those who were told to come again. Their sockets are held for a moment: to
/// close one whose first message is unread resets the connection, and what it
/// was told could be lost on its way.
#[derive(Default)]
struct Leaving(VecDeque<(Instant, TcpStream)>);

impl Leaving {
    /// Costs no thread, no wait and no cryptography.
    fn turn_away(&mut self, mut socket: TcpStream) {
        let now = Instant::now();
        while self.0.front().is_some_and(|(since, _)| now.duration_since(*since) > LEAVE)
            || self.0.len() >= LEAVING
        {
            self.0.pop_front();
        }
        // A record of type alert (21), legacy version, two bytes, fatal
        // (RFC 8446, sections 5.1 and 6).
        let alert = [21, 3, 3, 0, 2, 2, u8::from(BUSY)];
        let told = socket.set_nonblocking(true).and_then(|()| socket.write_all(&alert));
        if told.and_then(|()| socket.shutdown(Shutdown::Write)).is_ok() {
            self.0.push_back((now, socket));
        }
    }

    fn clear(&mut self) {
        self.0.clear();
    }
}
