//! One squad's book on a device.
//!
//! * [`store`]: the book itself, in SQLite: what was written is there after a
//!   dead battery.
//! * [`carrier`]: TCP with TLS 1.3 between paired keys.
//! * [`exchange`]: one sync over one link.
//! * [`hand_over`]: one sync in a file, for a device that is out of reach.
//! * [`keys`]: the seed of a device, the key made from it, and its file.
//! * [`announce`]: how the desk is found on the local network, without names.
//! * [`parcel`]: the file one device hands to another, sealed.
//! * [`pairing`]: the text that a QR code carries from the coach to a phone.
//! * [`clock`]: where stamps come from.

pub mod announce;
pub mod carrier;
pub mod clock;
mod durable;
pub mod exchange;
pub mod hand_over;
pub mod keys;
pub mod pairing;
pub mod parcel;
pub mod store;
