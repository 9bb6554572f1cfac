//! How much of our time and memory another device can take.

use std::time::Duration;

use pitside_log::sync::MAX_MESSAGE;

/// How long a device waits and how much it takes, on one connection.
///
/// The defaults are for up to 200 devices that meet over one hotspot: long
/// enough for a squad's whole history on a slow radio link, short enough that a
/// phone that walked out of reach does not hold a place for long.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Limits {
    /// For finding a device at any of its addresses, until it has proved its
    /// key: a full listener is called again meanwhile.
    pub reach: Duration,
    /// For the TCP connection and the handshake together, at one address.
    pub handshake: Duration,
    /// Between two bytes, and for room to send the next ones.
    pub idle: Duration,
    /// For one message, from its first byte to its last. It ends a peer that
    /// sends or takes a byte now and then, which `idle` does not.
    pub message: Duration,
    /// For everything on the connection.
    pub whole: Duration,
    /// The largest message, in bytes.
    pub message_bytes: usize,
    /// The most bytes on the connection, both directions and what TLS adds
    /// together.
    pub whole_bytes: u64,
    /// Who is let in, on a listener.
    pub admission: Admission,
}

impl Default for Limits {
    fn default() -> Self {
        Self {
            reach: Duration::from_secs(30),
            handshake: Duration::from_secs(10),
            idle: Duration::from_secs(30),
            message: Duration::from_secs(120),
            whole: Duration::from_secs(30 * 60),
            message_bytes: MAX_MESSAGE,
            whole_bytes: 2 << 30,
            admission: Admission::default(),
        }
    }
}

/// Who is let in by a listener.
///
/// A source is an IPv4 address or an IPv6 network of 64 bits: whoever has one
/// IPv6 address has all of such a network (RFC 6177).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Admission {
    /// Connections at once, each on a thread of its own. A message, its frame
    /// and the store's work take a few MiB each at the most, and the book is
    /// written by one at a time anyway: more at once would not be served sooner.
    pub connections: usize,
    /// Connections at once from one source, so that no source takes every
    /// place. Phones behind one address translation, or on one IPv6 network,
    /// share it.
    pub connections_per_source: usize,
    /// Failures that a source may have within `window`: handshakes that came to
    /// nothing, and callers that the handler [refused](super::Verdict). They are
    /// forgotten one by one, evenly over the window; in the long run a source
    /// fails `failures` times in `window` and no more. Those under way when the
    /// last one is used up come on top once, at most `connections_per_source`.
    pub failures: u32,
    /// How long it takes to forget `failures` failures.
    pub window: Duration,
    /// Sources with failures that are remembered. When there are more, the one
    /// that is forgotten soonest makes room, so that a crowd of addresses does
    /// not keep a new one out.
    pub sources: usize,
}

impl Default for Admission {
    fn default() -> Self {
        Self {
            connections: 64,
            connections_per_source: 32,
            failures: 16,
            window: Duration::from_secs(60),
            sources: 4_096,
        }
    }
}
