//! What the page's script is told, as JSON: the frames of an open clip, where their
//! pictures lie, and what the marks come to.

use data_encoding::{BASE64, HEXLOWER};
use pitside_model::clip::Media;
use pitside_screen::record::{ClockRow, Mark, MarkForm, Marked, Measurement};
use serde::{Deserialize, Serialize};

use super::super::athlete;
use super::pictures::Drawing;
use super::shelf::Shelved;

/// An open clip.
#[derive(Serialize)]
pub(super) struct Index {
    id: String,
    /// What names its bytes, whoever opened them and when.
    key: String,
    /// It is a copy; else it lies in the folder and may be deleted there.
    copy: bool,
    /// The video tracks.
    tracks: Vec<u32>,
    /// The one that is read.
    track: u32,
    timescale: u32,
    /// The time of each frame in display order.
    ticks: Vec<i64>,
    /// Degrees clockwise.
    turn: u16,
    mirrored: bool,
    /// Where the coded pictures lie; nothing where that is not known.
    media: Option<Coded>,
}

/// Coded pictures, in decoding order.
#[derive(Serialize)]
pub(super) struct Coded {
    codec: String,
    /// The decoder's configuration, base64.
    description: String,
    /// Byte, size, frame, key.
    samples: Vec<(u64, u32, u32, bool)>,
}

impl Coded {
    fn of(media: &Media) -> Option<Self> {
        let samples = media.samples.iter().map(|s| (s.offset, s.size, s.frame, s.key)).collect();
        let description = BASE64.encode(&media.codec.config);
        Some(Self { codec: media.codec.rfc6381()?, description, samples })
    }
}

impl Index {
    pub(super) fn of(shelved: &Shelved) -> Self {
        let clip = shelved.open.clip();
        let videos = clip.tracks.iter().filter(|track| track.kind == pitside_model::clip::TrackKind::Video);
        Self {
            id: shelved.id.clone(),
            key: HEXLOWER.encode(&shelved.open.identity()),
            copy: shelved.lies.is_copy(),
            tracks: videos.map(|track| track.id).collect(),
            track: clip.tracks.get(clip.chosen).map_or(0, |track| track.id),
            timescale: clip.frames.timescale(),
            ticks: clip.frames.ticks().to_vec(),
            turn: clip.orientation.turn,
            mirrored: clip.orientation.mirrored,
            media: shelved.media.as_ref().ok().and_then(Coded::of),
        }
    }
}

/// How far the pictures are that ffmpeg draws.
#[derive(Serialize)]
#[serde(rename_all = "kebab-case", tag = "state")]
pub(super) enum Progress {
    Unasked,
    Underway { done: usize },
    Drawn { media: Option<Coded> },
    Failed { why: String },
}

impl Progress {
    pub(super) fn of(drawing: &Drawing) -> Self {
        match drawing {
            Drawing::Unasked => Self::Unasked,
            Drawing::Underway(done) => Self::Underway { done: *done },
            Drawing::Drawn(drawn) => Self::Drawn { media: Coded::of(&drawn.media) },
            Drawing::Failed(why) => Self::Failed { why: why.clone() },
        }
    }
}

/// What the page sends: the form of a take.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Sent {
    member: String,
    set: String,
    exercise: String,
    day: String,
    capture_mhz: Option<u32>,
    measured: Option<SentMeasurement>,
    marks: Vec<SentMark>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct SentMark {
    foot: String,
    kind: String,
    before: u32,
    after: u32,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", tag = "with")]
enum SentMeasurement {
    Ball { released: [u32; 2], landed: [u32; 2], height_mm: u32, height_u_mm: u32 },
    Clock { first: u32, first_ms: u32, second: u32, second_ms: u32, digit_ms: u32 },
}

impl From<SentMark> for Mark {
    fn from(sent: SentMark) -> Self {
        Self { foot: sent.foot, kind: sent.kind, before: sent.before, after: sent.after }
    }
}

impl From<SentMeasurement> for Measurement {
    fn from(sent: SentMeasurement) -> Self {
        let moment = |[before, after]: [u32; 2]| Mark { before, after, ..Mark::default() };
        match sent {
            SentMeasurement::Ball { released, landed, height_mm, height_u_mm } => {
                Self::Ball { released: moment(released), landed: moment(landed), height_mm, height_u_mm }
            }
            SentMeasurement::Clock { first, first_ms, second, second_ms, digit_ms } => {
                Self::Clock { first, first_ms, second, second_ms, digit_ms }
            }
        }
    }
}

impl From<Sent> for MarkForm {
    fn from(sent: Sent) -> Self {
        Self {
            member: sent.member,
            set: sent.set,
            exercise: sent.exercise,
            day: sent.day,
            capture_mhz: sent.capture_mhz,
            measured: sent.measured.map(Into::into),
            marks: sent.marks.into_iter().map(Into::into).collect(),
        }
    }
}

/// What the marks come to.
#[derive(Serialize)]
pub(super) struct Answer {
    clock: ClockAnswer,
    marks: Vec<(String, bool)>,
    expected: Option<Next>,
    trouble: String,
    may_save: bool,
    /// The take as the other pages show it.
    take: String,
}

#[derive(Serialize)]
struct ClockAnswer {
    text: String,
    evidence: Vec<String>,
    warnings: Vec<String>,
    known: bool,
}

#[derive(Serialize)]
struct Next {
    foot: String,
    kind: String,
    frame: Option<u32>,
}

impl From<Marked> for Answer {
    fn from(marked: Marked) -> Self {
        let ClockRow { text, evidence, warnings, known } = marked.clock;
        Self {
            clock: ClockAnswer { text, evidence, warnings, known },
            marks: marked.marks.into_iter().map(|mark| (mark.text, mark.doubted)).collect(),
            expected: marked.expected.map(|next| Next {
                foot: next.foot,
                kind: next.kind,
                frame: next.frame,
            }),
            trouble: marked.trouble,
            may_save: marked.may_save,
            take: marked.take.map(|take| athlete::take(&take).into_string()).unwrap_or_default(),
        }
    }
}
