//! Draws the rendered clips: a simple figure whose contacts are known exactly,
//! written as a phone writes slow motion. Rendered, not filmed; the picture,
//! the file and everything beside it say so.
//!
//! * [`motion`]: where the figure is at any instant, and when a foot is on the
//!   ground. All of it invented.
//! * [`picture`]: one frame of it.
//! * [`file`](mod@file): frames → MP4 with the capture key.
//! * [`clip`]: the clips there are.
//! * [`truth`]: the known times that lie beside a clip.
//!
//! `cargo xtask render` writes `clips/` again. Who tests against a clip reads
//! the JSON beside it.

pub mod clip;
mod dice;
pub mod file;
pub mod measure;
pub mod motion;
pub mod picture;
pub mod scene;
pub mod truth;
