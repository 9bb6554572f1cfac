//! Generated box trees: the reader must give back the times that were put in,
//! and refuse what lies.

use std::io::Cursor;

use proptest::prelude::*;

use super::*;

/// One box.
fn boxed(kind: &[u8; 4], body: &[u8]) -> Vec<u8> {
    let size = u32::try_from(body.len() + 8).unwrap();
    [&size.to_be_bytes()[..], kind, body].concat()
}

/// A box with a 64-bit size.
fn long_boxed(kind: &[u8; 4], body: &[u8]) -> Vec<u8> {
    let size = u64::try_from(body.len() + 16).unwrap();
    [&[0, 0, 0, 1][..], kind, &size.to_be_bytes(), body].concat()
}

fn words(values: &[u32]) -> Vec<u8> {
    values.iter().flat_map(|value| value.to_be_bytes()).collect()
}

fn signed(value: i32) -> u32 {
    u32::from_be_bytes(value.to_be_bytes())
}

/// What a generated clip says.
#[derive(Clone, Debug)]
struct Plan {
    timescale: u32,
    movie_timescale: u32,
    /// (step to the next frame, composition offset), in decoding order.
    samples: Vec<(u32, i32)>,
    offsets: Option<u8>,
    /// (duration in movie ticks, media time, rate).
    edits: Option<Vec<(u32, i32, u32)>>,
    long_edits: bool,
    matrix: [i32; 4],
    flags: u32,
    handler: [u8; 4],
    moov_first: bool,
    long_mdat: bool,
    open_mdat: bool,
    long_headers: bool,
    /// Boxes added to `moov`.
    extra: Vec<u8>,
    split: Option<Split>,
}

/// Where the tables end and the fragments begin.
#[derive(Clone, Copy, Debug)]
struct Split {
    /// Frames that stand in the tables.
    tables: usize,
    /// Frames of one fragment.
    each: usize,
    /// Each fragment says when it begins.
    timed: bool,
    /// Durations stand in `trex` where all are alike, else in each run.
    long: bool,
}

impl Default for Plan {
    fn default() -> Self {
        Self {
            timescale: 90_000,
            movie_timescale: 1000,
            samples: vec![(3000, 0); 12],
            offsets: None,
            edits: None,
            long_edits: false,
            matrix: [0x1_0000, 0, 0, 0x1_0000],
            flags: 3,
            handler: *b"vide",
            moov_first: false,
            long_mdat: false,
            open_mdat: false,
            long_headers: false,
            extra: Vec::new(),
            split: None,
        }
    }
}

impl Plan {
    fn header(&self, kind: &[u8; 4], timescale: u32) -> Vec<u8> {
        if self.long_headers {
            boxed(kind, &words(&[1 << 24, 0, 0, 0, 0, timescale, 0, 0, 0]))
        } else {
            boxed(kind, &words(&[0, 0, 0, timescale, 0, 0]))
        }
    }

    /// The frames that stand in the tables.
    fn tabled(&self) -> &[(u32, i32)] {
        let tables = self.split.map_or(self.samples.len(), |split| split.tables.min(self.samples.len()));
        &self.samples[..tables]
    }

    fn stbl(&self) -> Vec<u8> {
        let samples = self.tabled();
        let count = u32::try_from(samples.len()).unwrap();
        let mut runs: Vec<(u32, u32)> = Vec::new();
        for (step, _) in samples {
            match runs.last_mut() {
                Some((times, same)) if same == step => *times += 1,
                _ => runs.push((1, *step)),
            }
        }
        let mut stts = vec![0, u32::try_from(runs.len()).unwrap()];
        stts.extend(runs.iter().flat_map(|(times, step)| [*times, *step]));
        let mut body = boxed(b"stsd", &words(&[0, 0]));
        body.extend(boxed(b"stts", &words(&stts)));
        if let Some(version) = self.offsets {
            let mut ctts = vec![u32::from(version) << 24, count];
            ctts.extend(samples.iter().flat_map(|(_, offset)| [1, signed(*offset)]));
            body.extend(boxed(b"ctts", &words(&ctts)));
        }
        body.extend(boxed(b"stsz", &words(&[0, 100, count])));
        boxed(b"stbl", &body)
    }

    fn trak(&self) -> Vec<u8> {
        let [a, b, c, d] = self.matrix.map(signed);
        let mut tkhd = if self.long_headers {
            vec![(1 << 24) | self.flags, 0, 0, 0, 0, 7, 0, 0, 0]
        } else {
            vec![self.flags, 0, 0, 7, 0, 0]
        };
        tkhd.extend([0, 0, 0, 0, a, b, 0, c, d, 0, 0, 0, 1 << 30, 0, 0]);
        let mut body = boxed(b"tkhd", &words(&tkhd));
        if let Some(edits) = &self.edits {
            let count = u32::try_from(edits.len()).unwrap();
            let mut elst = vec![u32::from(self.long_edits) << 24, count];
            for (duration, media_time, rate) in edits {
                let high = if *media_time < 0 { u32::MAX } else { 0 };
                match self.long_edits {
                    true => elst.extend([0, *duration, high, signed(*media_time), *rate]),
                    false => elst.extend([*duration, signed(*media_time), *rate]),
                }
            }
            body.extend(boxed(b"edts", &boxed(b"elst", &words(&elst))));
        }
        let handler = u32::from_be_bytes(self.handler);
        let mdia = [
            self.header(b"mdhd", self.timescale),
            boxed(b"hdlr", &words(&[0, 0, handler, 0, 0, 0])),
            boxed(b"minf", &self.stbl()),
        ]
        .concat();
        body.extend(boxed(b"mdia", &mdia));
        boxed(b"trak", &body)
    }

    fn file(&self) -> Vec<u8> {
        let mut plan = self.clone();
        let Some(split) = self.split else { return self.with_traks(&[self.trak()]) };
        let trex = |id, duration| boxed(b"trex", &words(&[0, id, 1, duration, 0, 0]));
        let usual = self.samples.first().map_or(0, |(step, _)| *step);
        plan.extra.extend(boxed(b"mvex", &[trex(9, 1), trex(7, usual)].concat()));
        let mut bytes = plan.with_traks(&[self.trak()]);
        let mut next: u32 = self.tabled().iter().map(|(step, _)| *step).sum();
        for frames in self.samples[self.tabled().len()..].chunks(split.each) {
            bytes.extend(self.fragment(split, next, frames, usual));
            next += frames.iter().map(|(step, _)| *step).sum::<u32>();
        }
        bytes
    }

    fn fragment(&self, split: Split, begin: u32, frames: &[(u32, i32)], usual: u32) -> Vec<u8> {
        let tfdt = match (split.timed, split.long) {
            (false, _) => vec![],
            (true, false) => boxed(b"tfdt", &words(&[0, begin])),
            (true, true) => boxed(b"tfdt", &words(&[1 << 24, 0, begin])),
        };
        let alike = frames.iter().all(|(step, _)| *step == usual);
        let durations = if alike && !split.long { 0 } else { 0x100 };
        let offsets = if self.offsets.is_some() { 0x800 } else { 0 };
        let version = u32::from(self.offsets.unwrap_or(0)) << 24;
        // Two runs, the first with a place and flags that nobody asks for.
        let (one, two) = frames.split_at(frames.len() / 2);
        let run = |frames: &[(u32, i32)], first: u32| {
            let mut run = vec![version | durations | offsets | first, u32::try_from(frames.len()).unwrap()];
            run.extend(vec![99; usize::try_from(first.count_ones()).unwrap()]);
            for (step, offset) in frames {
                run.extend((durations != 0).then_some(*step));
                run.extend((offsets != 0).then_some(signed(*offset)));
            }
            boxed(b"trun", &words(&run))
        };
        let other = boxed(b"traf", &boxed(b"tfhd", &words(&[0, 9])));
        let head = if split.long { vec![0x3, 7, 0, 1, 1] } else { vec![0, 7] };
        let ours = [boxed(b"tfhd", &words(&head)), tfdt, run(one, 0x5), run(two, 0)].concat();
        [boxed(b"moof", &[other, boxed(b"traf", &ours)].concat()), boxed(b"mdat", &[1; 9])].concat()
    }

    fn with_traks(&self, traks: &[Vec<u8>]) -> Vec<u8> {
        let moov = boxed(
            b"moov",
            &[self.header(b"mvhd", self.movie_timescale), traks.concat(), self.extra.clone()].concat(),
        );
        let media = [0xa5; 40];
        let mut mdat = match self.long_mdat {
            true => long_boxed(b"mdat", &media),
            false => boxed(b"mdat", &media),
        };
        let start = boxed(b"ftyp", b"isom\0\0\0\0");
        if self.moov_first {
            if self.open_mdat {
                mdat[..4].copy_from_slice(&[0; 4]);
            }
            [start, moov, mdat].concat()
        } else {
            [start, mdat, moov].concat()
        }
    }

    fn read(&self) -> Result<Clip, ClipError> {
        read(&self.file())
    }

    /// The media times in display order, the plain way.
    fn media_times(&self) -> Vec<i64> {
        let mut now = 0;
        let mut times = Vec::new();
        for (step, offset) in &self.samples {
            let offset = if self.offsets.is_some() { *offset } else { 0 };
            times.push(now + i64::from(offset));
            now += i64::from(*step);
        }
        times.sort();
        times
    }
}

fn read(bytes: &[u8]) -> Result<Clip, ClipError> {
    Clip::read(Cursor::new(bytes))
}

/// `meta` with one key and one value.
fn capture_meta(quicktime: bool, kind: u32, value: &[u8]) -> Vec<u8> {
    let name = b"com.android.capture.fps";
    let other = b"com.example.place";
    let mut keys = words(&[0, 2]);
    for name in [&other[..], &name[..]] {
        keys.extend(words(&[u32::try_from(name.len() + 8).unwrap()]));
        keys.extend(b"mdta");
        keys.extend(name);
    }
    let data = boxed(b"data", &[&words(&[kind, 0])[..], value].concat());
    let unread = boxed(b"data", &[&words(&[1, 0])[..], b"+00.00+000.00/"].concat());
    let list = [boxed(&1_u32.to_be_bytes(), &unread), boxed(&2_u32.to_be_bytes(), &data)].concat();
    let head = if quicktime { vec![] } else { vec![0; 4] };
    boxed(
        b"meta",
        &[
            head,
            boxed(b"hdlr", &words(&[0, 0, 0x6d64_7461, 0, 0, 0])),
            boxed(b"keys", &keys),
            boxed(b"ilst", &list),
        ]
        .concat(),
    )
}

fn with_meta(meta: Vec<u8>) -> Clip {
    let plan = Plan { extra: meta, ..Plan::default() };
    plan.read().unwrap()
}

prop_compose! {
    fn plans()(
        timescale in 1_u32..200_000,
        movie_timescale in 1_u32..100_000,
        samples in prop::collection::vec((0_u32..100_000, -200_000_i32..200_000), 1..60),
        offsets in prop::option::of(0_u8..2),
        edits in prop::option::of(prop::collection::vec(
            (0_u32..10_000, prop_oneof![Just(-1), 0_i32..500_000], Just(0x1_0000_u32)), 0..4)),
        long_edits: bool,
        moov_first: bool,
        long_mdat: bool,
        long_headers: bool,
        split in prop::option::of((0_usize..40, 1_usize..20, any::<bool>(), any::<bool>())),
    ) -> Plan {
        let split = split.map(|(tables, each, timed, long)| Split { tables, each, timed, long });
        Plan {
            timescale, movie_timescale, samples, offsets, edits, long_edits,
            moov_first, long_mdat, long_headers, split, ..Plan::default()
        }
    }
}

proptest! {
    #[test]
    fn times_come_back(plan in plans()) {
        let clip = plan.read().unwrap();
        let media = plan.media_times();
        let edits = plan.edits.clone().unwrap_or_default();
        let first = edits.iter().position(|(_, media_time, _)| *media_time >= 0);
        let start = first.map_or(0, |index| i64::from(edits[index].1));
        let empty: u64 = edits[..first.unwrap_or(edits.len())]
            .iter().map(|(duration, _, _)| u64::from(*duration)).sum();
        let timescale = u64::from(plan.timescale);
        let movie = u64::from(plan.movie_timescale);
        let delay = i64::try_from((2 * empty * timescale + movie) / (2 * movie)).unwrap();
        let expected: Vec<i64> = media.iter().map(|time| time - start + delay).collect();
        prop_assert_eq!(clip.frames.ticks(), expected);

        let shown = if edits.is_empty() { media.len() } else {
            media.iter().filter(|time| edits.iter().any(|(duration, media_time, _)| {
                let begin = i64::from(*media_time);
                let inside = i128::from(**time - begin) * i128::from(movie)
                    < i128::from(*duration) * i128::from(timescale);
                *media_time >= 0 && **time >= begin && (*duration == 0 || inside)
            })).count()
        };
        prop_assert_eq!(clip.frames.shown(), shown);
    }

    #[test]
    fn damage_ends_in_an_answer(
        plan in plans(),
        damage in prop::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 1..8),
        keep in any::<prop::sample::Index>(),
    ) {
        let mut bytes = plan.file();
        for (place, value) in damage {
            let place = place.index(bytes.len());
            bytes[place] = value;
        }
        drop(read(&bytes));
        bytes.truncate(keep.index(bytes.len()));
        drop(read(&bytes));
    }

    #[test]
    fn noise_ends_in_an_answer(noise in prop::collection::vec(any::<u8>(), 0..400)) {
        drop(read(&noise));
        drop(read(&[boxed(b"ftyp", b""), noise].concat()));
    }
}

#[test]
fn an_open_ended_last_box_is_read() {
    let plan = Plan { moov_first: true, open_mdat: true, ..Plan::default() };
    assert_eq!(plan.read().unwrap().frames.ticks().len(), 12);
}

#[test]
fn offsets_are_signed_in_both_versions() {
    for version in [0, 1] {
        let plan =
            Plan { samples: vec![(10, 5), (10, -10), (10, -15)], offsets: Some(version), ..Plan::default() };
        assert_eq!(plan.read().unwrap().frames.ticks(), [0, 5, 5]);
    }
}

#[test]
fn a_steady_or_changing_edit_is_told_apart() {
    let at_rate = |rate| Plan { edits: Some(vec![(100, 0, rate)]), ..Plan::default() }.read().unwrap();
    assert!(at_rate(0x1_0000).frames.steady_edits());
    let slowed = at_rate(0x4000);
    let clock = slowed.clock(Rate::from_millihertz(240_000));
    assert_eq!(clock.kind, ClockKind::Mixed);
    assert_eq!(clock.pace, None);
}

#[test]
fn the_matrix_gives_the_clockwise_turn() {
    const ONE: i32 = 0x1_0000;
    let cases = [
        ([ONE, 0, 0, ONE], 0, false),
        ([0, ONE, -ONE, 0], 90, false),
        ([-ONE, 0, 0, -ONE], 180, false),
        ([0, -ONE, ONE, 0], 270, false),
        ([-ONE, 0, 0, ONE], 0, true),
        ([ONE, 0, 0, -ONE], 180, true),
        ([0, 0, 0, 0], 0, false),
    ];
    for (matrix, turn, mirrored) in cases {
        for long_headers in [false, true] {
            let plan = Plan { matrix, long_headers, ..Plan::default() };
            let expected = Orientation { turn, mirrored };
            assert_eq!(plan.read().unwrap().orientation, expected, "{matrix:?}");
        }
    }
}

#[test]
fn the_first_enabled_video_track_is_chosen() {
    let track = |flags, handler: &[u8; 4], step| {
        Plan { flags, handler: *handler, samples: vec![(step, 0); 3], ..Plan::default() }.trak()
    };
    let pick = |traks: &[Vec<u8>]| {
        let clip = read(&Plan::default().with_traks(traks));
        clip.map(|clip| (clip.chosen, clip.frames.ticks()[1]))
    };
    let sound = track(3, b"soun", 1);
    let hidden = track(2, b"vide", 2);
    let (one, two) = (track(1, b"vide", 3), track(1, b"vide", 4));
    let all = [sound.clone(), hidden.clone(), one, two];
    assert_eq!(pick(&all).unwrap(), (2, 3));
    assert_eq!(pick(&[sound.clone(), hidden]).unwrap(), (1, 2));
    let chosen = |id| Clip::read_track(Cursor::new(Plan::default().with_traks(&all)), Some(id));
    assert_eq!(chosen(7).unwrap().chosen, 1, "a hidden one where a person says so");
    assert!(matches!(chosen(8), Err(ClipError::NoSuchTrack { id: 8 })));
    assert!(matches!(pick(&[sound]), Err(ClipError::NoVideo)));
    assert!(matches!(pick(&vec![track(1, b"text", 5); 129]), Err(ClipError::TooMany { .. })));
}

#[test]
fn the_capture_key_is_read_in_both_shapes_and_all_number_types() {
    let number = |kind, value: &[u8]| {
        let iso = with_meta(capture_meta(false, kind, value)).capture;
        assert_eq!(iso, with_meta(capture_meta(true, kind, value)).capture);
        let [tag] = iso[..] else { panic!("one tag expected") };
        assert_eq!(tag.source, CaptureSource::AndroidKey);
        tag.rate.map(Rate::millihertz)
    };
    assert_eq!(number(23, &240_f32.to_be_bytes()), Some(240_000));
    assert_eq!(number(24, &239.97_f64.to_be_bytes()), Some(239_970));
    assert_eq!(number(21, &[0, 240]), Some(240_000));
    assert_eq!(number(21, &[0xff]), None);
    assert_eq!(number(22, &[240]), Some(240_000));
    assert_eq!(number(67, &240_i32.to_be_bytes()), Some(240_000));
    assert_eq!(number(78, &u64::MAX.to_be_bytes()), None);
    assert_eq!(number(1, b"119.88"), Some(119_880));
    assert_eq!(number(1, b"fast"), None);
    assert_eq!(number(23, &f32::NAN.to_be_bytes()), None);
    assert_eq!(number(23, &[1, 2]), None);
    assert_eq!(number(13, b"jpeg"), None);
}

#[test]
fn the_user_data_rate_is_read_with_a_closing_zero() {
    let srfr = boxed(b"srfr", &words(&[240 << 16]));
    let smta = boxed(b"smta", &[vec![0; 4], srfr].concat());
    let udta = boxed(b"udta", &[smta, vec![0; 4]].concat());
    let tag = with_meta(udta).capture[0];
    assert_eq!(tag.source, CaptureSource::UserData);
    assert_eq!(tag.rate.map(Rate::millihertz), Some(240_000));
}

#[test]
fn lies_are_refused_before_anything_is_allocated() {
    let plan = Plan::default();
    let good = plan.file();
    let find = |kind: &[u8; 4]| good.windows(4).position(|four| four == kind).unwrap();
    let edited = |at: usize, value: u32| {
        let mut bytes = good.clone();
        bytes[at..at + 4].copy_from_slice(&value.to_be_bytes());
        read(&bytes).unwrap_err()
    };
    let stts = find(b"stts");
    // More entries than the box has room for.
    let claim = edited(stts + 8, u32::MAX);
    assert!(matches!(claim, ClipError::Table { .. }), "{claim}");
    // A run that covers 4 billion frames of a track of twelve.
    let claim = edited(stts + 12, u32::MAX);
    assert!(matches!(claim, ClipError::Count { .. }), "{claim}");
    let claim = edited(stts + 12, 11);
    assert!(matches!(claim, ClipError::Count { .. }), "{claim}");
    // A track of 4 billion frames of constant size.
    let claim = edited(find(b"stsz") + 12, u32::MAX);
    assert!(matches!(claim, ClipError::TooMany { .. }), "{claim}");
    assert!(matches!(edited(find(b"stsz") + 12, 0), ClipError::Count { frames: 0, .. }));
    // A movie box of 4 GiB in a file of a few hundred bytes.
    let claim = edited(find(b"moov") - 4, u32::MAX);
    assert!(matches!(claim, ClipError::CutOff { .. }), "{claim}");
    let claim = edited(find(b"stbl") - 4, u32::MAX);
    assert!(matches!(claim, ClipError::CutOff { .. }), "{claim}");
    let claim = edited(find(b"stbl") - 4, 4);
    assert!(matches!(claim, ClipError::TooShort { .. }), "{claim}");
    let text = edited(find(b"mdhd") + 16, 0).to_string();
    let offset = find(b"mdhd") - 4;
    assert_eq!(text, format!("box `mdhd` at byte {offset}: a second has no ticks"));
}

#[test]
fn deep_nests_and_long_rows_are_refused() {
    for kind in [b"moov", b"trak", b"udta", b"meta", b"free"] {
        let mut nest = Vec::new();
        for _ in 0..4000 {
            nest = boxed(kind, &nest);
        }
        let alone = [boxed(b"ftyp", b""), nest.clone()].concat();
        assert!(read(&alone).is_err());
        let inside = boxed(b"moov", &nest);
        assert!(read(&[boxed(b"ftyp", b""), inside].concat()).is_err());
    }
    let row = boxed(b"free", b"").repeat(140_000);
    assert!(matches!(read(&row), Err(ClipError::TooMany { .. })));
}

#[test]
fn a_clip_all_in_fragments_is_read_and_false_runs_are_refused() {
    let split = Split { tables: 0, each: 5, timed: false, long: false };
    let plan = Plan { split: Some(split), ..Plan::default() };
    let clip = plan.read().unwrap();
    assert_eq!(clip.frames.ticks(), plan.media_times());
    assert_eq!(clip.tracks[0].samples, 0, "in the tables");
    let mut none = plan.clone();
    none.samples.clear();
    assert!(matches!(none.read(), Err(ClipError::NoFrames)));

    // A run that claims more frames than its box has room for, and more than any clip.
    let with_run = |run: &[u32]| {
        let traf = [boxed(b"tfhd", &words(&[0, 7])), boxed(b"trun", &words(run))].concat();
        read(&[Plan::default().file(), boxed(b"moof", &boxed(b"traf", &traf))].concat())
    };
    assert_eq!(with_run(&[0x100, 1, 3000]).unwrap().frames.ticks().len(), 13);
    assert!(matches!(with_run(&[0x100, 2, 3000]), Err(ClipError::Table { entries: 2, .. })));
    assert!(matches!(with_run(&[0, u32::MAX]), Err(ClipError::TooMany { .. })));
    let beyond = [boxed(b"tfhd", &words(&[0, 7])), boxed(b"tfdt", &words(&[1 << 24, u32::MAX, 0]))].concat();
    let beyond = read(&[Plan::default().file(), boxed(b"moof", &boxed(b"traf", &beyond))].concat());
    assert!(matches!(beyond, Err(ClipError::Field { .. })), "{beyond:?}");
}

/// A trailer as the phones write it.
fn trailer(names: &[&str]) -> Vec<u8> {
    let entry = |name: &str| {
        let length = u32::try_from(name.len()).unwrap();
        [&[0, 0, 0x90, 8][..], &length.to_le_bytes(), name.as_bytes(), b"data"].concat()
    };
    let entries: Vec<Vec<u8>> = names.iter().map(|name| entry(name)).collect();
    let mut list =
        [&b"SEFH"[..], &106_u32.to_le_bytes(), &u32::try_from(names.len()).unwrap().to_le_bytes()].concat();
    for index in 0..entries.len() {
        let back: usize = entries[index..].iter().map(Vec::len).sum();
        list.extend([0, 0, 0x90, 8]);
        list.extend(u32::try_from(back).unwrap().to_le_bytes());
        list.extend(u32::try_from(entries[index].len()).unwrap().to_le_bytes());
    }
    let length = u32::try_from(list.len()).unwrap().to_le_bytes();
    [entries.concat(), list, length.to_vec(), b"SEFT".to_vec()].concat()
}

#[test]
fn a_trailer_is_read_by_its_names_in_a_box_and_behind_the_last_one() {
    let plan = Plan { samples: vec![(375, 0); 20], ..Plan::default() };
    for (names, mixed) in
        [(&["SlowMotion_Data"][..], false), (&["a", "Super_SlowMotion_Edit_Data"][..], true)]
    {
        let bare = [plan.file(), trailer(names)].concat();
        let boxed = [plan.file(), boxed(b"sefd", &trailer(names))].concat();
        for bytes in [bare, boxed] {
            let clip = read(&bytes).unwrap();
            assert_eq!(clip.frames.ticks(), plan.media_times());
            let clock = clip.clock(None);
            assert_eq!(clock.kind == ClockKind::Mixed, mixed, "{names:?} {:?}", clock.evidence);
            assert_eq!(clock.pace.is_none(), mixed);
        }
    }
    let whole = [plan.file(), trailer(&["Super_SlowMotion_BGM"])].concat();
    let list = whole.windows(4).position(|w| w == b"SEFH").unwrap();
    // Its length, number of entries, distance, size, and an entry's name.
    for (at, to) in [
        (whole.len() - 8, 7),
        (list, 0),
        (list + 8, 200),
        (list + 17, 255),
        (list + 20, 255),
        (list - 28, 99),
    ] {
        let mut bytes = whole.clone();
        bytes[at] = to;
        let refused = read(&bytes).unwrap_err();
        assert!(matches!(refused, ClipError::Trailer { .. }), "{at}: {refused}");
    }
}

#[test]
fn repeated_pictures_are_warned_of_and_b_frames_are_not() {
    let sized = |sizes: &[u32]| {
        let plan = Plan { samples: vec![(375, 0); sizes.len()], ..Plan::default() };
        let mut file = plan.file();
        let at = file.windows(4).position(|w| w == b"stsz").unwrap() - 4;
        // The table with a size a frame, in the place of one for all.
        let mut table = vec![0, 0, u32::try_from(sizes.len()).unwrap()];
        table.extend(sizes);
        let table = boxed(b"stsz", &words(&table));
        file.splice(at..at + 20, table.iter().copied());
        // The boxes around it have grown.
        let grown = u32::try_from(table.len() - 20).unwrap();
        for kind in [b"moov", b"trak", b"mdia", b"minf", b"stbl"] {
            let at = file.windows(4).position(|w| w == kind).unwrap() - 4;
            let size = u32::from_be_bytes(file[at..at + 4].try_into().unwrap()) + grown;
            file[at..at + 4].copy_from_slice(&size.to_be_bytes());
        }
        let clip = read(&file).unwrap();
        (clip.frames.repeated(), clip.clock(None).warnings)
    };
    let (twice, warnings) = sized(&[9_000, 70].repeat(40));
    assert_eq!(twice, Some(2));
    assert!(warnings[0].contains("120 a second of the 240"), "{warnings:?}");
    assert_eq!(sized(&[70, 9_000, 60, 55].repeat(40)).0, Some(4));
    assert_eq!(sized(&[30_000, 4_000, 2_500, 3_900].repeat(40)), (None, vec![]));
    // A picture that stands still, and a clip too short to tell.
    assert_eq!(sized(&[1_200, 30].repeat(40)).0, None);
    assert_eq!(sized(&[9_000, 70].repeat(5)).0, None);
}

#[test]
fn what_is_no_clip_is_said() {
    assert!(matches!(read(b""), Err(ClipError::Empty)));
    assert!(matches!(read(b"\0\0"), Err(ClipError::NotAClip)));
    assert!(matches!(read(b"\x89PNG\r\n\x1a\n and more"), Err(ClipError::NotAClip)));
    let text = read(&boxed(b"ftyp", b"isom")).unwrap_err().to_string();
    assert_eq!(text, "the file has no box `moov`");
}

#[test]
fn every_cut_of_a_file_is_refused() {
    for moov_first in [false, true] {
        let plan = Plan { moov_first, ..Plan::default() };
        let bytes = plan.file();
        for keep in 0..bytes.len() {
            assert!(read(&bytes[..keep]).is_err(), "{keep}");
        }
    }
}

#[test]
fn the_clock_follows_the_rule() {
    let decide = |step: u32, key: Option<f32>, stated: Option<u64>| {
        let plan = Plan {
            samples: vec![(step, 0); 9],
            extra: key.map_or(vec![], |key| capture_meta(false, 23, &key.to_be_bytes())),
            ..Plan::default()
        };
        let clip = plan.read().unwrap();
        let clock = clip.clock(stated.and_then(Rate::from_millihertz));
        assert_eq!(clock.pace.is_some(), matches!(clock.kind, ClockKind::Real | ClockKind::Stretched));
        clock
    };
    let kind = |step, key, stated| decide(step, key, stated).kind;
    // Stored at 30 a second.
    assert_eq!(kind(3000, None, None), ClockKind::Unknown);
    assert_eq!(kind(3000, Some(240.0), None), ClockKind::Stretched);
    assert_eq!(kind(3000, Some(30.0), None), ClockKind::Real);
    assert_eq!(kind(3000, Some(31.5), None), ClockKind::Real);
    assert_eq!(kind(3000, Some(31.6), None), ClockKind::Unknown);
    assert_eq!(kind(3000, Some(44.9), None), ClockKind::Unknown);
    assert_eq!(kind(3000, Some(45.0), None), ClockKind::Stretched);
    assert_eq!(kind(3000, Some(28.4), None), ClockKind::Unknown);
    assert_eq!(kind(3000, Some(0.0), None), ClockKind::Unknown);
    assert_eq!(kind(3000, None, Some(240_000)), ClockKind::Stretched);
    assert_eq!(kind(3000, None, Some(30_000)), ClockKind::Real);
    // Stored at 240 and 100 a second.
    assert_eq!(kind(375, None, None), ClockKind::Real);
    assert_eq!(kind(900, None, None), ClockKind::Real);
    assert_eq!(kind(901, None, None), ClockKind::Unknown);
    assert_eq!(kind(375, Some(30.0), None), ClockKind::Unknown);
    assert_eq!(kind(375, Some(30.0), Some(240_000)), ClockKind::Real);

    let pace = decide(3000, Some(240.0), None).pace.unwrap();
    assert_eq!((pace.num, pace.den), (1000, 240_000 * 3000));
    let pace = decide(375, None, None).pace.unwrap();
    assert_eq!((pace.num, pace.den), (1, 90_000));

    let wins = decide(3000, Some(240.0), Some(120_000));
    assert_eq!(wins.capture, Rate::from_millihertz(120_000));
    assert!(wins.evidence.iter().any(|line| line.contains("in place")), "{:?}", wins.evidence);
    assert_eq!(decide(3000, None, None).capture, None);
}

#[test]
fn gaps_and_the_median_are_found() {
    let plan =
        Plan { samples: vec![(29_281, 0), (3000, 0), (3000, 0), (6000, 0), (1, 0)], ..Plan::default() };
    let frames = plan.read().unwrap().frames;
    assert_eq!(frames.median_step(), Some(3000));
    let gaps: Vec<_> = frames.gaps().iter().map(|gap| (gap.after, gap.ticks)).collect();
    assert_eq!(gaps, [(0, 29_281), (3, 6000)]);

    let single = Plan { samples: vec![(3000, 0)], ..Plan::default() };
    let single = single.read().unwrap();
    assert_eq!(single.frames.median_step(), None);
    assert_eq!(single.clock(Rate::from_millihertz(240_000)).kind, ClockKind::Unknown);
}

#[test]
fn a_copy_without_its_edit_list_has_the_same_digest_bytes() {
    let plain = Plan::default();
    let edited = Plan { edits: Some(vec![(50, 3000, 0x1_0000)]), ..Plan::default() };
    let other = Plan { samples: vec![(3001, 0); 12], ..Plan::default() };
    let bytes = |plan: Plan| plan.read().unwrap().frames.digest_bytes();
    let plain = bytes(plain);
    assert_eq!(plain.len(), 12 + 12 * 8);
    assert_eq!(plain, bytes(edited));
    assert_ne!(plain, bytes(other));
}
