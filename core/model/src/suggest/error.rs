//! Why frames are not taken: each error says what is wrong.

use thiserror::Error;

/// Why a setting, a frame or a whole clip is refused.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum SuggestError {
    /// The frame rate is no rate of a camera.
    #[error("a rate of {found} frames a second: it must lie between 10 and 2000")]
    Rate {
        /// What was given.
        found: f64,
    },
    /// The frames are too small to show a foot, or too large.
    #[error("frames of {width} by {height} pixels: each side must have 16 to 2048")]
    Size {
        /// Pixels in a row.
        width: usize,
        /// Rows.
        height: usize,
    },
    /// A frame has another number of bytes than its size says.
    #[error("frame {frame} has {found} bytes, {wanted} were expected")]
    Bytes {
        /// The frame, from 0.
        frame: usize,
        /// Its bytes.
        found: usize,
        /// Width times height.
        wanted: usize,
    },
    /// More pixels than are kept.
    #[error("frame {frame} goes beyond the {limit} pixels that are kept: give fewer frames, or smaller ones")]
    TooMany {
        /// The frame that is refused, from 0.
        frame: usize,
        /// The limit.
        limit: usize,
    },
    /// The ground row is not in the picture.
    #[error("the ground is said to be in row {row}, but the frames have {height} rows")]
    GroundRow {
        /// The row.
        row: usize,
        /// How many there are.
        height: usize,
    },
}
