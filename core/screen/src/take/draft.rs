//! A clip that was chosen and is not done with: where its file is, and what was marked so
//! far. Kept on this device at every tap.

use pitside_book::store::{Book, BookError};
use pitside_model::cbor::{Value, decode, encode};
use pitside_model::facts::{Day, Hash};

use super::record::{ClipFile, ClipShows, Crop};
use crate::marking::OpenClip;
use crate::record::{Mark, MarkForm};

/// Where the names of the clips are kept, the newest last.
const LIST: &str = "clips";

/// Clips that are kept at most. A phone's system lets an app read so many chosen files again
/// later, 128 before Android 11, and the list is drawn whole. For one more the oldest whose
/// times are saved goes; one whose marks are not saved never does.
pub(super) const MOST: usize = 100;

/// The crop before a person chose one: low in the middle, where a foot usually is.
pub(super) const USUAL: Crop = Crop { x: 0.5, y: 0.75, width: 0.4 };

/// A clip and its marks.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct ClipDraft {
    pub(super) file: ClipFile,
    /// The day on which it was chosen.
    pub(super) chosen: Day,
    pub(super) shows: ClipShows,
    /// The marks in the order in which they were put.
    pub(super) put: Vec<Mark>,
    /// The foot that was chosen for the next mark; empty for the one that is expected.
    pub(super) foot: String,
    /// The kind that was chosen for it.
    pub(super) kind: String,
    pub(super) frame: u32,
    pub(super) crop: Option<Crop>,
    /// Its times are written down.
    pub(super) saved: bool,
}

impl ClipDraft {
    pub(super) fn new(file: ClipFile, chosen: Day, shows: ClipShows) -> Self {
        Self {
            file,
            chosen,
            shows,
            put: Vec::new(),
            foot: String::new(),
            kind: String::new(),
            frame: 0,
            crop: None,
            saved: false,
        }
    }

    /// The marks in the order of time.
    pub(super) fn in_time(&self, open: &OpenClip) -> Vec<Mark> {
        let all = open.clip().frames.ticks();
        let tick = |frame: u32| usize::try_from(frame).ok().and_then(|at| all.get(at)).copied();
        let mut marks = self.put.clone();
        marks.sort_by_key(|mark| (tick(mark.before).zip(tick(mark.after))).map(|(a, b)| i64::midpoint(a, b)));
        marks
    }

    /// What times are computed from.
    pub(super) fn form(&self, open: &OpenClip) -> MarkForm {
        let ClipShows { member, set, exercise, day, capture_mhz } = self.shows.clone();
        let marks = self.in_time(open);
        MarkForm { member, set, exercise, day, capture_mhz, measured: None, marks }
    }
}

fn name(clip: Hash) -> String {
    format!("clip/{clip}")
}

/// The clips on the list, the newest first.
pub(super) fn list(book: &Book) -> Result<Vec<(Hash, ClipDraft)>, BookError> {
    let mut found = Vec::new();
    for clip in names(book)?.into_iter().rev() {
        if let Some(draft) = read(book, clip)? {
            found.push((clip, draft));
        }
    }
    Ok(found)
}

fn names(book: &Book) -> Result<Vec<Hash>, BookError> {
    let Some(bytes) = book.local(LIST)? else { return Ok(Vec::new()) };
    let Ok(Value::Array(names)) = decode(&bytes) else { return Ok(Vec::new()) };
    let hash = |value: &Value| match value {
        Value::Bytes(bytes) => <[u8; 32]>::try_from(bytes.as_slice()).ok().map(Hash),
        _ => None,
    };
    Ok(names.iter().filter_map(hash).collect())
}

fn keep_names(book: &Book, names: &[Hash]) -> Result<(), BookError> {
    let names = names.iter().map(|clip| Value::from(clip.0.as_slice())).collect();
    book.set_local(LIST, Some(&encode(&Value::Array(names))))
}

pub(super) fn read(book: &Book, clip: Hash) -> Result<Option<ClipDraft>, BookError> {
    let Some(bytes) = book.local(&name(clip))? else { return Ok(None) };
    // A draft that a later version wrote is not this one's to read.
    Ok(decode(&bytes).ok().and_then(|value| of_value(&value)))
}

/// Keeps a draft; its clip comes onto the list where it is not there yet. Gives the places of
/// the files that left the list for it; nothing, and keeps nothing, where the list is full of
/// clips whose marks are not saved.
pub(super) fn keep(book: &Book, clip: Hash, draft: &ClipDraft) -> Result<Option<Vec<String>>, BookError> {
    let mut all = names(book)?;
    let there = all.contains(&clip);
    let mut gone = Vec::new();
    while !there && all.len() >= MOST {
        let mut done = None;
        for (at, old) in all.iter().enumerate() {
            let draft = read(book, *old)?;
            // A name without a draft is nobody's marks.
            if draft.as_ref().is_some_and(|draft| draft.saved) || book.local(&name(*old))?.is_none() {
                done = Some((at, draft));
                break;
            }
        }
        match done {
            Some((at, draft)) => gone.push((all.remove(at), draft)),
            None => return Ok(None),
        }
    }
    // First the draft, then the list: a name without a draft is passed over.
    book.set_local(&name(clip), Some(&encode(&value_of(draft))))?;
    if !there {
        all.push(clip);
        keep_names(book, &all)?;
    }
    let mut places = Vec::new();
    for (old, left) in gone {
        book.set_local(&name(old), None)?;
        places.extend(left.map(|left| left.file.place));
    }
    if !places.is_empty() {
        let there = list(book)?;
        places.retain(|place| there.iter().all(|(_, draft)| draft.file.place != *place));
    }
    Ok(Some(places))
}

/// Takes a clip off the list, with its marks. Gives whether it was there.
pub(super) fn drop(book: &Book, clip: Hash) -> Result<bool, BookError> {
    let mut all = names(book)?;
    let before = all.len();
    all.retain(|other| *other != clip);
    if all.len() < before {
        keep_names(book, &all)?;
    }
    book.set_local(&name(clip), None)?;
    Ok(all.len() < before)
}

/// Parts of the picture, in thousandths of a thousandth: a draft is exact.
fn micro(part: f64) -> Value {
    Value::from((part * 1e6).round() as i64)
}

fn value_of(draft: &ClipDraft) -> Value {
    let text = |text: &str| Value::from(text);
    let file = &draft.file;
    let shows = &draft.shows;
    let mark = |mark: &Mark| {
        Value::Array(vec![text(&mark.foot), text(&mark.kind), mark.before.into(), mark.after.into()])
    };
    Value::Array(vec![
        Value::Array(vec![
            text(&file.place),
            text(&file.name),
            file.bytes.map_or(Value::Null, Value::from),
            file.written_ms.map_or(Value::Null, Value::from),
        ]),
        text(&draft.chosen.to_string()),
        Value::Array(vec![
            text(&shows.member),
            text(&shows.set),
            text(&shows.exercise),
            text(&shows.day),
            shows.capture_mhz.map_or(Value::Null, Value::from),
        ]),
        Value::Array(draft.put.iter().map(mark).collect()),
        text(&draft.foot),
        text(&draft.kind),
        draft.frame.into(),
        draft
            .crop
            .map_or(Value::Null, |crop| Value::Array(vec![micro(crop.x), micro(crop.y), micro(crop.width)])),
        draft.saved.into(),
    ])
}

fn of_value(value: &Value) -> Option<ClipDraft> {
    let text = |value: &Value| match value {
        Value::Text(text) => Some(text.clone()),
        _ => None,
    };
    let frame = |value: &Value| match value {
        Value::Int(n) => u32::try_from(*n).ok(),
        _ => None,
    };
    let array = |value: &Value| match value {
        Value::Array(items) => Some(items.clone()),
        _ => None,
    };
    let Value::Array(items) = value else { return None };
    let [file, chosen, shows, put, foot, kind, at, crop, Value::Bool(saved)] = items.as_slice() else {
        return None;
    };
    let file = array(file)?;
    let [place, name, bytes, written] = file.as_slice() else { return None };
    let shows = array(shows)?;
    let [member, set, exercise, day, rate] = shows.as_slice() else { return None };
    let mark = |value: &Value| {
        let items = array(value)?;
        let [foot, kind, before, after] = items.as_slice() else { return None };
        Some(Mark { foot: text(foot)?, kind: text(kind)?, before: frame(before)?, after: frame(after)? })
    };
    let part = |value: &Value| match value {
        Value::Int(n) => i32::try_from(*n).ok().map(|n| f64::from(n) / 1e6),
        _ => None,
    };
    let crop = match array(crop).as_deref() {
        Some([x, y, width]) => Some(Crop { x: part(x)?, y: part(y)?, width: part(width)? }),
        _ => None,
    };
    Some(ClipDraft {
        file: ClipFile {
            place: text(place)?,
            name: text(name)?,
            bytes: match bytes {
                Value::Int(n) => u64::try_from(*n).ok(),
                _ => None,
            },
            written_ms: match written {
                Value::Int(n) => i64::try_from(*n).ok(),
                _ => None,
            },
        },
        chosen: Day::parse(&text(chosen)?)?,
        shows: ClipShows {
            member: text(member)?,
            set: text(set)?,
            exercise: text(exercise)?,
            day: text(day)?,
            capture_mhz: frame(rate),
        },
        put: array(put)?.iter().map(mark).collect::<Option<_>>()?,
        foot: text(foot)?,
        kind: text(kind)?,
        frame: frame(at)?,
        crop,
        saved: *saved,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use pitside_book::keys::{Identity, Seed};

    fn book(folder: &tempfile::TempDir) -> Book {
        let identity = Identity::from_seed(Seed::from_bytes(zeroize::Zeroizing::new([7; 32])));
        Book::create(folder.path(), identity, false).unwrap()
    }

    fn draft(name: &str, saved: bool) -> ClipDraft {
        let file = ClipFile { name: name.to_owned(), ..ClipFile::default() };
        let chosen = Day::parse("2026-11-25").unwrap();
        ClipDraft { saved, ..ClipDraft::new(file, chosen, ClipShows::default()) }
    }

    #[test]
    fn a_draft_is_kept_whole() {
        let folder = tempfile::tempdir().unwrap();
        let book = book(&folder);
        let mark = |before, after| Mark { foot: "left".into(), kind: "toe-off".into(), before, after };
        let whole = ClipDraft {
            file: ClipFile {
                place: "content://clips/7".into(),
                name: "VID 7.mp4".into(),
                bytes: Some(u64::MAX),
                written_ms: Some(-5),
            },
            chosen: Day::parse("2026-11-24").unwrap(),
            shows: ClipShows {
                member: "m".into(),
                set: "s".into(),
                exercise: "e".into(),
                day: "2026-11-23".into(),
                capture_mhz: Some(239_760),
            },
            put: vec![mark(200, 203), mark(7, 8)],
            foot: "both".into(),
            kind: "touchdown".into(),
            frame: u32::MAX,
            crop: Some(Crop { x: 0.25, y: 1.0, width: 0.123_456 }),
            saved: true,
        };
        let clip = Hash([9; 32]);
        for kept in [whole, draft("plain", false)] {
            keep(&book, clip, &kept).unwrap();
            assert_eq!(read(&book, clip).unwrap(), Some(kept));
        }
        assert_eq!(list(&book).unwrap().len(), 1, "kept twice it is on the list once");
    }

    #[test]
    fn what_cannot_be_read_is_no_draft_and_stops_no_other() {
        let folder = tempfile::tempdir().unwrap();
        let book = book(&folder);
        keep(&book, Hash([1; 32]), &draft("one", false)).unwrap();
        keep(&book, Hash([2; 32]), &draft("two", false)).unwrap();
        book.set_local(&name(Hash([1; 32])), Some(b"of a later version")).unwrap();
        let names: Vec<_> = list(&book).unwrap().into_iter().map(|(_, draft)| draft.file.name).collect();
        assert_eq!(names, ["two"]);
    }

    #[test]
    fn the_list_has_an_end_and_only_what_is_saved_leaves_it() {
        let folder = tempfile::tempdir().unwrap();
        let book = book(&folder);
        let clip = |n: usize| Hash([u8::try_from(n).unwrap(); 32]);
        let placed = |n: usize, saved| {
            let draft = draft("one", saved);
            ClipDraft { file: ClipFile { place: format!("content://{n}"), ..draft.file }, ..draft }
        };
        for n in 0..MOST {
            assert_eq!(keep(&book, clip(n), &placed(n, n == 3)).unwrap(), Some(Vec::new()));
        }
        let left = keep(&book, clip(MOST), &placed(MOST, false)).unwrap();
        assert_eq!(left, Some(vec!["content://3".to_owned()]), "its file need not be read again");
        let there: Vec<Hash> = list(&book).unwrap().into_iter().map(|(clip, _)| clip).collect();
        assert_eq!(there.len(), MOST);
        assert!(there.contains(&clip(0)) && !there.contains(&clip(3)));
        // All of them wait to be marked: nothing is dropped for one more, and each goes on.
        assert_eq!(keep(&book, clip(MOST + 1), &placed(MOST + 1, false)).unwrap(), None);
        assert_eq!(read(&book, clip(MOST + 1)).unwrap(), None);
        assert!(keep(&book, clip(1), &placed(1, false)).unwrap().is_some());
        assert_eq!(list(&book).unwrap().len(), MOST);
        assert!(drop(&book, clip(0)).unwrap());
        assert!(!drop(&book, clip(0)).unwrap(), "it is gone already");
        assert_eq!(list(&book).unwrap().len(), MOST - 1);
    }
}
