//! Why a file gives no frame times: each error names the box, its byte offset
//! and what is wrong with it.

use std::fmt;
use std::io;

use thiserror::Error;

/// The four-character name of a box.
///
/// Prints as text where all four bytes are printable ASCII, otherwise as hex.
#[derive(Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct FourCc(pub [u8; 4]);

impl fmt::Display for FourCc {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.0.iter().all(|byte| byte.is_ascii_graphic() || *byte == b' ') {
            for byte in self.0 {
                write!(out, "{}", char::from(byte))?;
            }
            Ok(())
        } else {
            write!(out, "0x{:08x}", u32::from_be_bytes(self.0))
        }
    }
}

impl fmt::Debug for FourCc {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "FourCc({self})")
    }
}

/// Why a file gives no frame times.
#[derive(Debug, Error)]
pub enum ClipError {
    /// The file itself could not be read.
    #[error("reading failed at byte {offset}: {source}")]
    Io {
        /// Where the reader stood.
        offset: u64,
        /// What the system said.
        source: io::Error,
    },
    /// The file has no bytes.
    #[error("the file is empty")]
    Empty,
    /// The file begins with nothing that an MP4 or QuickTime file begins with.
    #[error("this is no MP4 or QuickTime file: it does not begin with a box of that format")]
    NotAClip,
    /// The file ends with a phone maker's trailer that cannot be made out.
    #[error("the trailer of the file, at byte {offset}: {what}")]
    Trailer {
        /// Where it is wrong.
        offset: u64,
        /// What is wrong.
        what: &'static str,
    },
    /// A box says that it is longer than what holds it.
    #[error(
        "box `{kind}` at byte {offset} says {size} bytes, but only {left} are left there: the file is cut off or damaged"
    )]
    CutOff {
        /// The box.
        kind: FourCc,
        /// Where it stands.
        offset: u64,
        /// The size that it claims.
        size: u64,
        /// The bytes from its beginning to the end of what holds it.
        left: u64,
    },
    /// After the last box there are bytes that make no box.
    #[error("{left} stray bytes at byte {offset}: the file is cut off or damaged")]
    Stray {
        /// Where they stand.
        offset: u64,
        /// How many there are.
        left: u64,
    },
    /// A box is too short for the fields that belong in it.
    #[error("box `{kind}` at byte {offset} is too short: {size} bytes, at least {least} needed")]
    TooShort {
        /// The box.
        kind: FourCc,
        /// Where it stands.
        offset: u64,
        /// The size that it claims.
        size: u64,
        /// The size that its fields need.
        least: u64,
    },
    /// A box that must be there is missing.
    #[error("{parent} has no box `{kind}`")]
    Missing {
        /// The box that is missing.
        kind: FourCc,
        /// What should hold it.
        parent: Parent,
    },
    /// A box that must be alone of its kind stands there twice.
    #[error("box `{kind}` at byte {offset} stands there a second time")]
    Repeated {
        /// The box.
        kind: FourCc,
        /// Where the second one stands.
        offset: u64,
    },
    /// A box stands inside another of its own kind.
    #[error("box `{kind}` at byte {offset} stands inside another `{kind}`")]
    Nested {
        /// The box.
        kind: FourCc,
        /// Where the inner one stands.
        offset: u64,
    },
    /// More of something than this reader takes.
    #[error("{what} at byte {offset}: {found}, at most {limit} are read")]
    TooMany {
        /// What there is too much of.
        what: &'static str,
        /// Where it is claimed.
        offset: u64,
        /// How many are claimed.
        found: u64,
        /// The limit.
        limit: u64,
    },
    /// A table claims more entries than its box has room for.
    #[error(
        "box `{kind}` at byte {offset} claims {entries} entries of {entry_size} bytes, but has room for {room} bytes"
    )]
    Table {
        /// The box.
        kind: FourCc,
        /// Where it stands.
        offset: u64,
        /// The entries that it claims.
        entries: u64,
        /// The bytes of one entry.
        entry_size: u64,
        /// The bytes that the box has for entries.
        room: u64,
    },
    /// Two tables disagree about the number of frames.
    #[error("box `{kind}` at byte {offset} gives times for {found} frames, but the track has {frames}")]
    Count {
        /// The box.
        kind: FourCc,
        /// Where it stands.
        offset: u64,
        /// The frames that it covers.
        found: u64,
        /// The frames of the track.
        frames: u64,
    },
    /// A field holds what cannot be.
    #[error("box `{kind}` at byte {offset}: {what}")]
    Field {
        /// The box.
        kind: FourCc,
        /// Where it stands.
        offset: u64,
        /// What is wrong.
        what: &'static str,
    },
    /// No track has the number asked for.
    #[error("the file has no track {id}; its tracks are {}", numbers(.tracks))]
    NoSuchTrack {
        /// The number asked for.
        id: u32,
        /// The numbers that there are.
        tracks: Vec<u32>,
    },
    /// The track asked for is no video.
    #[error("track {id} is no video: its handler is `{handler}`")]
    NotAVideo {
        /// The number asked for.
        id: u32,
        /// What the track carries, by the name of its handler.
        handler: FourCc,
    },
    /// No track of the file is a video.
    #[error("the file has no video track")]
    NoVideo,
    /// The video track that is read holds no frame.
    #[error("video track {id} holds no frame")]
    NoFrames {
        /// Its number.
        id: u32,
    },
}

fn numbers(tracks: &[u32]) -> String {
    let numbers: Vec<String> = tracks.iter().map(u32::to_string).collect();
    numbers.join(", ")
}

/// What holds a box: the file, or another box.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Parent {
    /// The file itself.
    File,
    /// A box.
    Within {
        /// Its name.
        kind: FourCc,
        /// Where it stands.
        offset: u64,
    },
}

impl fmt::Display for Parent {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::File => write!(out, "the file"),
            Self::Within { kind, offset } => write!(out, "box `{kind}` at byte {offset}"),
        }
    }
}
