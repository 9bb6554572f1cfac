//! A clip on a phone: chosen, put off, marked tap by tap, saved, deleted.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "helpers of tests fail as tests do"
)]

mod meeting;

use std::io::Cursor;

use meeting::{DAY_MS, NOON, at, env};
use pitside_model::load::catalogue::id;
use pitside_screen::record::SetForm;
use pitside_screen::take::{ClipFile, ClipShows, Crop, Marking, Tap};
use pitside_screen::{Companion, OpenClip, ScreenError, SessionForm};
use tempfile::TempDir;

/// Drawn with known contacts at 240 frames a second: tests/render.
const DRAWN: &[u8] = include_bytes!("../../../tests/render/clips/bounds-240.mp4");

/// The first frames on the ground and off it, as read by eye: bounds-240.marks.json.
const READ: [u32; 8] = [165, 200, 270, 308, 383, 416, 496, 539];

/// Nothing says what it was captured with.
const UNKNOWN: &[u8] = include_bytes!("../../../tests/published/data/clips/iibbibb_editlist_videoonly.mp4");

fn phone(folder: &TempDir) -> Companion {
    Companion::open(folder.path().to_str().unwrap(), vec![7; 32], &env()).unwrap()
}

fn clip(bytes: &'static [u8]) -> OpenClip {
    OpenClip::read(Cursor::new(bytes), None).unwrap()
}

fn file(name: &str) -> ClipFile {
    let bytes = Some(12_345_678);
    ClipFile { place: format!("content://{name}"), name: name.to_owned(), bytes, written_ms: Some(NOON) }
}

/// A set of bounds of today, the left leg first.
fn bounds(phone: &Companion) {
    let session = phone.begin_session(&env(), "", &SessionForm::default()).unwrap();
    let form = SetForm {
        exercise: id::BOUNDS_RUN_IN.to_string(),
        sets: 1,
        reps: 1,
        leg: "alternate-left".to_owned(),
        strides: Some(6),
        ..SetForm::default()
    };
    phone.save_sets(&env(), &session, &form).unwrap();
}

/// A tap on the gap before a frame, of the event that was said.
fn gap(said: &Marking, after: u32) -> Tap {
    Tap::Gap { foot: said.next.foot.clone(), kind: said.next.kind.clone(), before: after - 1, after }
}

#[test]
fn four_contacts_are_eight_taps_and_each_outlives_the_process() {
    let folder = TempDir::new().unwrap();
    let open = clip(DRAWN);
    let mut phone = phone(&folder);
    bounds(&phone);
    let chosen = phone.choose_clip(&env(), &open, &file("bounds.mp4"), false).unwrap();
    assert_eq!(chosen.against, [""; 0]);
    assert!(chosen.route.starts_with("mark/"), "{}", chosen.route);
    let mut said = phone.marking(&env(), &open).unwrap().marking;
    assert!(said.shown.contains("ounds"), "the one set of that day: {}", said.shown);
    let feet = ["left", "right", "left", "right"];
    for (number, after) in READ.into_iter().enumerate() {
        let kind = if number % 2 == 0 { "touchdown" } else { "toe-off" };
        assert_eq!((said.next.foot.as_str(), said.next.kind.as_str()), (feet[number / 2], kind));
        if number > 0 {
            let away = i64::from(said.frame) - i64::from(after);
            assert!(away.abs() < 35, "the view jumps near: {away} frames at mark {number}");
        }
        said = phone.mark(&env(), &open, &gap(&said, after)).unwrap();
        // Nothing is held but what the book holds.
        phone.close();
        drop(phone);
        phone = self::phone(&folder);
        assert_eq!(phone.marking(&env(), &open).unwrap().marking, said, "after mark {number}");
    }
    assert_eq!(said.marks.len(), 8);
    // Contacts of 35, 38, 33 and 43 frames: 37.25/240 s.
    assert!(said.line.text.starts_with("mean of 4: 0.155 s ± "), "{:?}", said.line);
    assert!(said.may_save && said.line.why.is_empty());
    let row = &phone.takes(&env()).unwrap().later[0];
    assert_eq!(row.text, "12\u{a0}MB · chosen today · 8 marks");

    phone.save_marks(&env(), &open).unwrap();
    let takes = phone.takes(&env()).unwrap();
    assert!(takes.later.is_empty());
    assert_eq!(takes.done[0].hold_delete, "Hold to delete the clip and keep the times (12\u{a0}MB)");
    assert_eq!(takes.done[0].hold_drop, "", "nothing is lost by it");
    assert_eq!(takes.takes[0].line, said.line.text);
    // Saved once.
    assert!(matches!(phone.save_marks(&env(), &open), Err(ScreenError::NotFound { .. })));
    phone.drop_clip(&takes.done[0].id).unwrap();
    let takes = phone.takes(&env()).unwrap();
    assert!(takes.done.is_empty() && takes.takes.len() == 1, "the times stay");
}

#[test]
fn a_gap_tapped_twice_is_one_mark_and_the_newest_is_taken_back() {
    let folder = TempDir::new().unwrap();
    let (phone, open) = (phone(&folder), clip(DRAWN));
    phone.choose_clip(&env(), &open, &file("a.mp4"), false).unwrap();
    let first = phone.marking(&env(), &open).unwrap().marking;
    assert_eq!((first.undo.as_str(), first.line.why.as_str()), ("", "Nothing is marked yet."));
    assert!(!first.may_save);
    let tap = gap(&first, 165);
    let one = phone.mark(&env(), &open, &tap).unwrap();
    assert_eq!(phone.mark(&env(), &open, &tap).unwrap(), one);
    assert_eq!(one.line.why, "No contact is complete yet: its toe-off is missing.");
    assert!(!one.may_save, "there is no time to save");
    // Another foot than the one that is expected is refused as an order that cannot be.
    let other = phone.mark(&env(), &open, &Tap::OtherFoot).unwrap();
    assert_ne!(other.next.foot, one.next.foot);
    let wrong = phone.mark(&env(), &open, &gap(&other, 200)).unwrap();
    assert!(wrong.line.why.contains("without a touchdown"), "{}", wrong.line.why);
    let back = phone.mark(&env(), &open, &Tap::Undo).unwrap();
    assert_eq!((back.marks.len(), back.frame), (1, 200), "the view is where it was taken back");
    let doubted = Tap::Gap { foot: "right".into(), kind: "toe-off".into(), before: 199, after: 202 };
    let said = phone.mark(&env(), &open, &doubted).unwrap();
    assert!(said.marks[1].doubted, "{:?}", said.marks);
    for _ in 0..3 {
        phone.mark(&env(), &open, &Tap::Undo).unwrap();
    }
    assert_eq!(phone.marking(&env(), &open).unwrap().marking.marks, []);
}

#[test]
fn a_tap_that_is_refused_changes_nothing() {
    let folder = TempDir::new().unwrap();
    let (phone, open) = (phone(&folder), clip(DRAWN));
    let nowhere = phone.mark(&env(), &open, &Tap::Undo);
    assert!(matches!(nowhere, Err(ScreenError::NotFound { .. })), "it is not on the list");
    phone.choose_clip(&env(), &open, &file("a.mp4"), false).unwrap();
    let before = phone.marking(&env(), &open).unwrap().marking;
    let outside = Crop { x: f64::NAN, y: 0.0, width: 0.1 };
    for tap in [
        gap(&before, 9_999),
        Tap::Gap { foot: "wing".into(), kind: "toe-off".into(), before: 1, after: 2 },
        Tap::Gap { foot: "left".into(), kind: "toe-off".into(), before: 2, after: 2 },
        Tap::Pin { crop: outside },
    ] {
        assert!(phone.mark(&env(), &open, &tap).is_err(), "{tap:?}");
    }
    assert_eq!(phone.marking(&env(), &open).unwrap().marking, before);
}

#[test]
fn where_a_person_looks_and_what_is_shown_large_is_kept_for_the_clip() {
    let folder = TempDir::new().unwrap();
    let (phone, open) = (phone(&folder), clip(DRAWN));
    phone.choose_clip(&env(), &open, &file("a.mp4"), false).unwrap();
    assert!(!phone.marking(&env(), &open).unwrap().marking.pinned);
    let crop = Crop { x: 0.25, y: 2.0, width: 0.5 };
    phone.mark(&env(), &open, &Tap::Pin { crop }).unwrap();
    let said = phone.mark(&env(), &open, &Tap::Look { frame: 4_000 }).unwrap();
    assert_eq!((said.frame, said.crop), (600, Crop { y: 1.0, ..crop }));
    let shows = ClipShows {
        exercise: id::DROP_JUMP.to_string(),
        capture_mhz: Some(120_000),
        day: "2026-11-24".to_owned(),
        ..ClipShows::default()
    };
    let said = phone.mark(&env(), &open, &Tap::Shows { shows: shows.clone() }).unwrap();
    assert_eq!((said.next.foot.as_str(), said.shows), ("both", shows));
    // The same file chosen once more keeps what was done, with where it is now.
    phone.choose_clip(&env(), &open, &file("b.mp4"), false).unwrap();
    let page = phone.marking(&env(), &open).unwrap();
    assert_eq!((page.title.as_str(), page.marking.frame), ("b.mp4", 600));
    phone.hold_in(true).unwrap();
    assert!(phone.marking(&env(), &open).unwrap().left_hand);
    let id = phone.takes(&env()).unwrap().later[0].id.clone();
    assert_eq!(phone.clip_file(&env(), &id).unwrap().file, file("b.mp4"));
}

#[test]
fn a_clip_without_a_clock_is_said_and_taken_only_all_the_same() {
    let folder = TempDir::new().unwrap();
    let (phone, open) = (phone(&folder), clip(UNKNOWN));
    let chosen = phone.choose_clip(&env(), &open, &file("passed-on.mp4"), false).unwrap();
    assert_eq!(chosen.route, "");
    assert_eq!(chosen.against[0], "Whether the clip’s times are real is not known.");
    assert!(phone.takes(&env()).unwrap().later.is_empty());
    let chosen = phone.choose_clip(&env(), &open, &file("passed-on.mp4"), true).unwrap();
    assert!(!chosen.route.is_empty());
    let page = phone.marking(&env(), &open).unwrap();
    assert!(page.marking.line.why.contains("State the capture rate"), "{:?}", page.marking.line);
    let shows = ClipShows { capture_mhz: page.rates[2].mhz, ..page.marking.shows };
    let said = phone.mark(&env(), &open, &Tap::Shows { shows }).unwrap();
    assert!(said.marked.clock.known, "{:?}", said.marked.clock);
}

#[test]
fn too_few_frames_a_second_are_told_with_what_lies_between_them() {
    // What the phone says that it captured, a float: 60 in the place of 240.
    let mut bytes = DRAWN.to_vec();
    let said = 240_f32.to_be_bytes();
    let at = bytes.windows(4).position(|four| four == said).unwrap();
    bytes[at..at + 4].copy_from_slice(&60_f32.to_be_bytes());
    let open = OpenClip::read(Cursor::new(bytes), None).unwrap();
    let folder = TempDir::new().unwrap();
    let phone = phone(&folder);
    let small = ClipFile { bytes: Some(43_481), ..file("a.mp4") };
    let chosen = phone.choose_clip(&env(), &open, &small, false).unwrap();
    let told = "It holds 60 frames a second: 17 ms lie between two of them, too much for a contact.";
    assert_eq!((chosen.route.as_str(), chosen.against), ("", vec![told.to_owned()]));
    phone.choose_clip(&env(), &open, &small, true).unwrap();
    assert_eq!(phone.takes(&env()).unwrap().later[0].text, "44\u{a0}kB · chosen today · nothing marked yet");
}

#[test]
fn the_day_is_that_of_the_file_and_a_set_is_guessed_only_where_there_is_one() {
    let folder = TempDir::new().unwrap();
    let (phone, open) = (phone(&folder), clip(DRAWN));
    bounds(&phone);
    let yesterday = ClipFile { written_ms: Some(NOON - DAY_MS), ..file("a.mp4") };
    phone.choose_clip(&env(), &open, &yesterday, false).unwrap();
    let shows = phone.marking(&env(), &open).unwrap().marking.shows;
    assert_eq!((shows.day.as_str(), shows.set.as_str()), ("2026-11-24", ""));
    let id = phone.takes(&env()).unwrap().later[0].id.clone();
    phone.drop_clip(&id).unwrap();
    // A clock that is ahead gives no day that has not come.
    let ahead = ClipFile { written_ms: Some(NOON + 40 * DAY_MS), ..file("a.mp4") };
    phone.choose_clip(&at(NOON + 1), &open, &ahead, false).unwrap();
    let shows = phone.marking(&env(), &open).unwrap().marking.shows;
    assert_eq!((shows.day.as_str(), shows.set.is_empty()), ("2026-11-25", false));
}

#[test]
fn of_a_full_list_nothing_that_was_marked_is_dropped_for_another_clip() {
    let folder = TempDir::new().unwrap();
    let phone = phone(&folder);
    bounds(&phone);
    // The same clip with a free box at its end: other bytes, and so another clip.
    let other = |n: u8| {
        let mut bytes = DRAWN.to_vec();
        bytes.extend([0, 0, 0, 9]);
        bytes.extend(b"free");
        bytes.push(n);
        OpenClip::read(Cursor::new(bytes), None).unwrap()
    };
    let marked = other(0);
    phone.choose_clip(&env(), &marked, &file("0.mp4"), false).unwrap();
    let said = phone.marking(&env(), &marked).unwrap().marking;
    phone.mark(&env(), &marked, &gap(&said, READ[0])).unwrap();
    for n in 1..100 {
        phone.choose_clip(&env(), &other(n), &file(&format!("{n}.mp4")), false).unwrap();
    }
    let one_more = |phone: &Companion| phone.choose_clip(&env(), &other(100), &file("100.mp4"), false);
    let refused = one_more(&phone);
    let Err(ScreenError::NotAllowed { reason }) = refused else { panic!("{refused:?}") };
    assert!(reason.starts_with("100 clips wait to be marked"), "{reason}");
    let later = phone.takes(&env()).unwrap().later;
    assert_eq!((later.len(), later[99].name.as_str()), (100, "0.mp4"));
    assert_eq!(phone.marking(&env(), &marked).unwrap().marking.marks.len(), 1, "its mark stands");
    // One that is there already is chosen again, and one that was taken off makes room.
    phone.choose_clip(&env(), &marked, &file("0.mp4"), false).unwrap();
    phone.drop_clip(&later[50].id).unwrap();
    one_more(&phone).unwrap();
}
