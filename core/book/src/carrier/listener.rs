//! What other devices call.

use std::net::{SocketAddr, TcpListener, TcpStream};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::thread;
use std::time::Duration;

use super::{CarrierError, Connection, Limits};
use crate::keys::Identity;

/// A bound address.
#[derive(Debug)]
pub struct Listener {
    socket: TcpListener,
    address: SocketAddr,
    stopped: Arc<AtomicBool>,
    limits: Limits,
}

/// Stops a listener from another thread.
#[derive(Clone, Debug)]
pub struct Stop {
    stopped: Arc<AtomicBool>,
    address: SocketAddr,
}

impl Stop {
    /// No call is answered any more; those under way come to their end.
    pub fn stop(&self) {
        self.stopped.store(true, Ordering::Release);
        // A call of our own wakes the listener. Where it cannot be made, the
        // listener has ended already.
        drop(TcpStream::connect_timeout(&self.address, Duration::from_secs(1)));
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
        Ok(Self { socket, address, stopped: Arc::default(), limits })
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
                std::net::IpAddr::V4(_) => std::net::Ipv4Addr::LOCALHOST.into(),
                std::net::IpAddr::V6(_) => std::net::Ipv6Addr::LOCALHOST.into(),
            });
        }
        Stop { stopped: Arc::clone(&self.stopped), address }
    }

    /// Answers calls until it is stopped, each on a thread of its own, and comes
    /// back when the last has ended. `handler` gets every call: a connection
    /// whose key is proved, or why there is none.
    pub fn serve(&self, identity: &Identity, handler: &(dyn Fn(Result<Connection, CarrierError>) + Sync)) {
        let open = AtomicUsize::new(0);
        thread::scope(|scope| {
            while !self.stopped.load(Ordering::Acquire) {
                let Ok((socket, _)) = self.socket.accept() else {
                    // Out of descriptors, or the caller has left: not for ever.
                    thread::sleep(Duration::from_millis(50));
                    continue;
                };
                if self.stopped.load(Ordering::Acquire) {
                    break;
                }
                if open.load(Ordering::Acquire) >= self.limits.connections {
                    drop(socket);
                    continue;
                }
                open.fetch_add(1, Ordering::AcqRel);
                let open = &open;
                scope.spawn(move || {
                    let _ends = Ends(open);
                    handler(Connection::answer(socket, identity, &self.limits));
                });
            }
        });
    }
}

/// Counts a connection out, however its thread ends.
struct Ends<'a>(&'a AtomicUsize);

impl Drop for Ends<'_> {
    fn drop(&mut self) {
        self.0.fetch_sub(1, Ordering::AcqRel);
    }
}
