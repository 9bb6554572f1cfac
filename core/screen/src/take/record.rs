//! What the screens of takes show: the list of clips, the marking of one, and what a
//! decoder has to know.

use crate::record::{MarkRow, Marked, MarkingForm, TakeRow};

/// A clip's file, as a shell found it.
#[derive(Clone, Debug, Default, PartialEq, Eq, uniffi::Record)]
pub struct ClipFile {
    /// By what the shell finds it again, for instance the address that a picker gave.
    pub place: String,
    /// Its name.
    pub name: String,
    /// Its bytes, where they are known.
    pub bytes: Option<u64>,
    /// When it was last written, in milliseconds since the Unix epoch, where that is known.
    pub written_ms: Option<i64>,
}

/// Where a clip on the list is.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record)]
pub struct ClipFound {
    /// Its file.
    pub file: ClipFile,
    /// Said where it is not found there any more.
    pub gone: String,
    /// Calls off the reading of it.
    pub cancel: String,
}

/// A clip that was chosen, or why it should not be.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record)]
pub struct ChosenClip {
    /// Where it is marked; empty where something speaks against it, and it is not on the
    /// list then.
    pub route: String,
    /// Said above the reasons.
    pub title: String,
    /// What speaks against it, the plainest first; empty where nothing does.
    pub against: Vec<String>,
    /// What to do instead.
    pub instead: String,
    /// Chooses another clip.
    pub another: String,
    /// Marks it all the same.
    pub anyway: String,
    /// Places of files that left the list for it, whose times are saved: they need not be read
    /// again.
    pub left: Vec<String>,
}

/// A clip on the list.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record)]
pub struct ClipRow {
    /// What names it in calls.
    pub id: String,
    /// Where it is marked; empty where its times are kept already.
    pub route: String,
    /// By what the shell finds it again.
    pub place: String,
    /// Its name.
    pub name: String,
    /// Its size, when it was chosen, how many marks there are.
    pub text: String,
    /// Deletes the file, with its size, where the button is held; the times stay. Empty
    /// where they are not saved.
    pub hold_delete: String,
    /// The same for a reader, which has an action in place of holding.
    pub delete: String,
    /// Takes it off the list with its marks, and leaves the file, where the button is held;
    /// empty where its times are saved and nothing is lost by it.
    pub hold_drop: String,
    /// The same for a reader, and on a button that is only tapped.
    pub drop: String,
    /// All of it.
    pub spoken: String,
}

/// The takes of a phone: a clip to choose, those that wait, the newest ones.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct Takes {
    /// The book's revision when this was read.
    pub revision: u64,
    /// The heading.
    pub title: String,
    /// Chooses a clip.
    pub choose: String,
    /// How to film.
    pub about: String,
    /// Above the clips that wait to be marked.
    pub later_title: String,
    /// Clips that were chosen and whose times are not saved, the newest first.
    pub later: Vec<ClipRow>,
    /// Above the clips whose times are kept.
    pub done_title: String,
    /// Clips whose times are kept and whose files are still there.
    pub done: Vec<ClipRow>,
    /// Above the takes.
    pub takes_title: String,
    /// The newest takes, the newest first.
    pub takes: Vec<TakeRow>,
    /// Said where there is none.
    pub empty: String,
    /// Unfolds a take.
    pub unfold: String,
    /// Calls off the reading of a clip.
    pub cancel: String,
    /// Said where a clip could not be deleted.
    pub not_deleted: String,
}

/// The part of the pictures that is shown large: an upright rectangle, three parts wide and
/// four high.
#[derive(Clone, Copy, Debug, PartialEq, uniffi::Record)]
pub struct Crop {
    /// Its middle from the left, as a part of the picture's width as it is shown.
    pub x: f64,
    /// Its middle from the top, as a part of the height.
    pub y: f64,
    /// Its width, as a part of the shorter side.
    pub width: f64,
}

/// What a clip shows.
#[derive(Clone, Debug, Default, PartialEq, Eq, uniffi::Record)]
pub struct ClipShows {
    /// The athlete; empty on a device that serves one.
    pub member: String,
    /// The set; empty for none.
    pub set: String,
    /// The exercise where no set is chosen; empty for none.
    pub exercise: String,
    /// The day it was filmed, where no set is chosen.
    pub day: String,
    /// The capture rate that the person knows, in thousandths of a frame a second.
    pub capture_mhz: Option<u32>,
}

/// The event that the next mark is of.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record)]
pub struct Coming {
    /// `left`, `right` or `both`.
    pub foot: String,
    /// `touchdown` or `toe-off`.
    pub kind: String,
    /// Which event.
    pub text: String,
    /// How the picture before it is called: "not yet".
    pub before: String,
    /// How the picture after it is called: "on".
    pub after: String,
    /// What to do.
    pub hint: String,
    /// Said where the exercise has ended; else empty.
    pub ended: String,
}

/// What the marks come to in one line, or why they come to nothing.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record)]
pub struct TakeLine {
    /// `0.131 s ± 7 ms · can't tell from 0.135`; empty where there is no time.
    pub text: String,
    /// Why there is none; else empty.
    pub why: String,
}

/// One tap, or one gesture, of a person who marks a clip.
#[derive(Clone, Debug, PartialEq, uniffi::Enum)]
pub enum Tap {
    /// An event lies between two frames; frames between them are in doubt. The foot and
    /// the kind are those of [`Coming`].
    Gap {
        /// `left`, `right` or `both`.
        foot: String,
        /// `touchdown` or `toe-off`.
        kind: String,
        /// The last frame surely before it.
        before: u32,
        /// The first frame surely after it.
        after: u32,
    },
    /// The newest mark is taken back.
    Undo,
    /// The next mark is of another foot than the one that is said.
    OtherFoot,
    /// The next mark is a toe-off in place of a touchdown, or the other way round.
    OtherKind,
    /// Where the person looks, kept for the next time.
    Look {
        /// The frame in the middle.
        frame: u32,
    },
    /// The part of the pictures that is shown large.
    Pin {
        /// That part.
        crop: Crop,
    },
    /// What the clip shows.
    Shows {
        /// That.
        shows: ClipShows,
    },
}

/// A clip while it is marked, after each tap.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct Marking {
    /// The event that the next mark is of.
    pub next: Coming,
    /// The frame in the middle.
    pub frame: u32,
    /// What is shown large.
    pub crop: Crop,
    /// Whether a person chose that.
    pub pinned: bool,
    /// What the clip shows, filled in.
    pub shows: ClipShows,
    /// The same in words.
    pub shown: String,
    /// What is taken back; empty where nothing is marked.
    pub undo: String,
    /// What the marks come to.
    pub line: TakeLine,
    /// The marks in the order of time.
    pub marks: Vec<MarkRow>,
    /// The rest: the clock, the take as it will stand.
    pub marked: Marked,
    /// Whether it can be saved as it is.
    pub may_save: bool,
}

/// The words around a clip that is marked.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record)]
pub struct MarkWords {
    /// Takes the newest mark back.
    pub undo: String,
    /// Saves the times.
    pub save: String,
    /// Leaves the clip on the list.
    pub later: String,
    /// Unfolds the rest.
    pub more: String,
    /// Folds it again.
    pub less: String,
    /// Chooses the part of the pictures that is shown large.
    pub foot: String,
    /// What to do while it is chosen.
    pub foot_hint: String,
    /// Makes that part smaller, so that the foot is shown larger.
    pub closer: String,
    /// Makes it larger.
    pub wider: String,
    /// Keeps it for this clip.
    pub pin: String,
    /// The strip under the thumb.
    pub strip: String,
    /// One frame on.
    pub on: String,
    /// One frame back.
    pub back: String,
    /// Another foot.
    pub other_foot: String,
    /// Another kind of event.
    pub other_kind: String,
    /// Beside what the clip shows.
    pub shows: String,
    /// Above the sets.
    pub sets: String,
    /// Above the exercises.
    pub exercises: String,
    /// Beside the capture rate.
    pub rate: String,
    /// Beside the hand that holds the phone.
    pub hand: String,
    /// One of the two.
    pub left: String,
    /// The other.
    pub right: String,
    /// Takes the picture before a gap into it, as one in doubt.
    pub doubt_before: String,
    /// Takes the picture after it in.
    pub doubt_after: String,
    /// Said where a picture cannot be decoded.
    pub no_picture: String,
}

/// A rate of capture that can be chosen.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record)]
pub struct RateChoice {
    /// Thousandths of a frame a second; `None` for what the clip itself says.
    pub mhz: Option<u32>,
    /// The same in words.
    pub text: String,
}

/// A clip that is opened for marking.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct MarkPage {
    /// The clip's name.
    pub title: String,
    /// The words around it.
    pub words: MarkWords,
    /// Whether everything stands the other way round, for the left thumb.
    pub left_hand: bool,
    /// What a decoder has to know.
    pub frames: FrameIndex,
    /// What can be chosen about the clip.
    pub form: MarkingForm,
    /// Capture rates, where the clip does not say its own.
    pub rates: Vec<RateChoice>,
    /// How far it is.
    pub marking: Marking,
}

/// What a decoder has to know of a clip: which times its frames have, and where it can begin.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record)]
pub struct FrameIndex {
    /// When each frame is shown, in display order, in microseconds of the file from the
    /// first one on.
    pub times_us: Vec<i64>,
    /// The frames that are decoded without another one, in decoding order; the first is that
    /// of the first sample.
    pub keys: Vec<u32>,
    /// Which of the file's video tracks it is, from 0.
    pub video: u32,
    /// Degrees clockwise by which pictures are turned.
    pub turn: u16,
    /// Whether they are mirrored, left to right, before that.
    pub mirrored: bool,
}

/// One of the pictures side by side.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record)]
pub struct CropLook {
    /// Which frame; `None` outside the clip.
    pub frame: Option<u32>,
    /// Its number and time.
    pub caption: String,
}

/// The gap between two of them.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record)]
pub struct GapLook {
    /// The frame before it.
    pub before: u32,
    /// The frame after it.
    pub after: u32,
    /// Whether the clip has both.
    pub possible: bool,
    /// What a tap on it says.
    pub spoken: String,
}

/// What stands around a frame.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record)]
pub struct FrameLook {
    /// The frame in the middle.
    pub frame: u32,
    /// Which frame, of how many, at what time.
    pub spoken: String,
    /// The frame before it, itself, the one after.
    pub crops: Vec<CropLook>,
    /// The gap before it, and the one after.
    pub gaps: Vec<GapLook>,
}
