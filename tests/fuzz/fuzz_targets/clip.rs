//! Any bytes as a clip: an answer or an error, never a panic, a hang or
//! unbounded memory. Real clips as seeds: `seeds/clip`.

#![no_main]

use std::io::Cursor;

use libfuzzer_sys::fuzz_target;
use pitside_model::clip::{Clip, Media, Rate};

fuzz_target!(|bytes: &[u8]| {
    if let Ok(clip) = Clip::read(Cursor::new(bytes)) {
        let frames = &clip.frames;
        assert!(frames.ticks().is_sorted());
        assert!(frames.shown() <= frames.ticks().len());
        clip.clock(None);
        clip.clock(Rate::from_millihertz(240_000));
        frames.gaps();
        frames.digest();
        for track in &clip.tracks {
            drop(Clip::read_track(Cursor::new(bytes), Some(track.id)));
            if let Ok(media) = Media::read(Cursor::new(bytes), Some(track.id)) {
                drop(media.codec.rfc6381());
            }
        }
    }
});
