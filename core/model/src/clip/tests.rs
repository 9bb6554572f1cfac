//! Generated box trees: the reader must give back the times that were put in,
//! and refuse what lies.

use std::io::Cursor;

use proptest::prelude::*;

use super::*;

mod places;

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

/// Step to the next frame, composition offset.
type Sample = (u32, i32);

/// What a generated clip says.
#[derive(Clone, Debug)]
struct Plan {
    id: u32,
    timescale: u32,
    movie_timescale: u32,
    /// In decoding order.
    samples: Vec<Sample>,
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
    long_offsets: bool,
    /// How many of the samples stand in each fragment, from the last one back.
    fragments: Vec<usize>,
    /// The version of `tfdt`; without one the fragments go on where they are.
    timed: Option<u8>,
    /// The version of `trun`.
    run_version: u8,
    /// What is the same for all frames of a run stands in its defaults.
    lean: bool,
    /// Boxes added to `moov`.
    extra: Vec<u8>,
}

/// The number of the track in generated clips.
const ID: u32 = 7;

/// Bytes of each frame in generated clips.
const SIZE: u32 = 100;

impl Default for Plan {
    fn default() -> Self {
        Self {
            id: ID,
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
            long_offsets: false,
            fragments: Vec::new(),
            timed: Some(1),
            run_version: 1,
            lean: false,
            extra: Vec::new(),
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

    /// The samples of the movie box, then those of each fragment.
    fn parts(&self) -> (&[Sample], Vec<&[Sample]>) {
        let mut rest = self.samples.as_slice();
        let mut parts = Vec::new();
        for count in &self.fragments {
            let (before, part) = rest.split_at(rest.len() - count);
            parts.insert(0, part);
            rest = before;
        }
        (rest, parts)
    }

    fn stbl(&self) -> Vec<u8> {
        let (samples, _) = self.parts();
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
        body.extend(boxed(b"stsz", &words(&[0, SIZE, count])));
        body.extend(boxed(b"stsc", &words(&[0, 1, 1, count, 1])));
        body.extend(match self.long_offsets {
            true => boxed(b"co64", &words(&[0, 1, 0, 40])),
            false => boxed(b"stco", &words(&[0, 1, 40])),
        });
        boxed(b"stbl", &body)
    }

    fn trak(&self) -> Vec<u8> {
        let [a, b, c, d] = self.matrix.map(signed);
        let mut tkhd = if self.long_headers {
            vec![(1 << 24) | self.flags, 0, 0, 0, 0, self.id, 0, 0, 0]
        } else {
            vec![self.flags, 0, 0, self.id, 0, 0]
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

    /// The fragment of `samples`, which begins at `time`, between two of
    /// another track.
    fn moof(&self, time: u64, samples: &[Sample]) -> Vec<u8> {
        let same = |value: fn(&Sample) -> u32| {
            let first = samples.first().map(value);
            first.filter(|first| self.lean && samples.iter().all(|sample| value(sample) == *first))
        };
        let duration = same(|(step, _)| *step);
        // Base offset, description, duration, size, flags.
        let mut tfhd = vec![0x3_u32, ID, 0, 4096, 1];
        if let Some(duration) = duration {
            tfhd[0] |= 0x8;
            tfhd.push(duration);
        }
        if !self.lean {
            tfhd[0] |= 0x30;
            tfhd.extend([SIZE, 0x1_0000]);
        }
        let time = [u32::try_from(time >> 32).unwrap(), u32::try_from(time & 0xffff_ffff).unwrap()];
        let tfdt = match self.timed {
            Some(0) => boxed(b"tfdt", &words(&[0, time[1]])),
            Some(_) => boxed(b"tfdt", &words(&[1 << 24, time[0], time[1]])),
            None => Vec::new(),
        };
        let mut truns = Vec::new();
        // Two runs, the first with all fields that there can be.
        let (one, two) = samples.split_at(samples.len().div_ceil(2));
        for (samples, full) in [(one, !self.lean), (two, false)] {
            let mut flags = u32::from(self.run_version) << 24;
            let mut trun = vec![0, u32::try_from(samples.len()).unwrap()];
            if full {
                flags |= 0x605;
                trun.extend([8, 0x0200_0000]);
            }
            flags |= if duration.is_none() { 0x100 } else { 0 };
            flags |= if self.offsets.is_some() { 0x800 } else { 0 };
            for (step, offset) in samples {
                trun.extend(duration.is_none().then_some(*step));
                trun.extend(full.then_some([SIZE, 0x1_0000]).into_iter().flatten());
                trun.extend(self.offsets.map(|_| signed(*offset)));
            }
            trun[0] = flags;
            truns.extend(boxed(b"trun", &words(&trun)));
        }
        let own = boxed(b"traf", &[boxed(b"tfhd", &words(&tfhd)), tfdt, truns].concat());
        // What is wrong in another track's fragment is none of ours.
        let other = boxed(
            b"traf",
            &[boxed(b"tfhd", &words(&[0, ID + 1])), boxed(b"trun", &words(&[0, u32::MAX]))].concat(),
        );
        let moof = boxed(b"moof", &[boxed(b"mfhd", &words(&[0, 1])), other.clone(), own, other].concat());
        [moof, boxed(b"mdat", &vec![0x5a; 100 * samples.len()])].concat()
    }

    fn file(&self) -> Vec<u8> {
        let mut bytes = self.with_traks(&[self.trak()]);
        let (first, parts) = self.parts();
        let lasting = |samples: &[Sample]| samples.iter().map(|(step, _)| u64::from(*step)).sum::<u64>();
        let mut time = lasting(first);
        for part in parts {
            bytes.extend(self.moof(time, part));
            time += lasting(part);
        }
        bytes
    }

    fn with_traks(&self, traks: &[Vec<u8>]) -> Vec<u8> {
        let trex = |id| boxed(b"trex", &words(&[0, id, 1, 3000, SIZE, 0]));
        let mvex = match self.fragments.is_empty() {
            true => Vec::new(),
            false => boxed(b"mvex", &[trex(ID + 1), trex(ID)].concat()),
        };
        let header = self.header(b"mvhd", self.movie_timescale);
        let moov = boxed(b"moov", &[header, traks.concat(), mvex, self.extra.clone()].concat());
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
        long_offsets: bool,
        cuts in prop::collection::vec(any::<prop::sample::Index>(), 0..4),
        whole: bool,
        timed in prop::option::of(0_u8..2),
        run_version in 0_u8..2,
        lean: bool,
    ) -> Plan {
        // With `whole` nothing is left for the movie box, else a part may be.
        let mut left = samples.len();
        let mut fragments = Vec::new();
        for cut in cuts {
            let count = cut.index(left + 1);
            left -= count;
            fragments.push(count);
        }
        if whole && left > 0 && !fragments.is_empty() {
            fragments.push(left);
        }
        Plan {
            timescale, movie_timescale, samples, offsets, edits, long_edits, moov_first, long_mdat,
            long_headers, long_offsets, fragments, timed, run_version, lean, ..Plan::default()
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
fn boxes_of_64_bit_and_of_open_size_are_read_anywhere() {
    let plain = Plan::default().file();
    let moov = plain.windows(4).position(|found| found == b"moov").unwrap() - 4;
    let expected = read(&plain).unwrap();
    let long = [&plain[..moov], &long_boxed(b"moov", &plain[moov + 8..])].concat();
    assert_eq!(read(&long).unwrap(), expected);
    let mut open = plain.clone();
    open[moov..moov + 4].copy_from_slice(&[0; 4]);
    assert_eq!(read(&open).unwrap(), expected);
    // Inside another box an open size means nothing.
    let mvhd = plain.windows(4).position(|found| found == b"mvhd").unwrap() - 4;
    let mut inner = plain;
    inner[mvhd..mvhd + 4].copy_from_slice(&[0; 4]);
    assert!(matches!(read(&inner), Err(ClipError::TooShort { .. })));
    // A 64-bit size beyond the file, and one below its own head.
    for size in [u64::MAX, 15] {
        let mut false_size = long.clone();
        false_size[moov + 8..moov + 16].copy_from_slice(&size.to_be_bytes());
        assert!(matches!(read(&false_size), Err(ClipError::CutOff { .. } | ClipError::TooShort { .. })));
    }
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
    let track = |flags, handler: &[u8; 4], step: u32| {
        Plan { id: step, flags, handler: *handler, samples: vec![(step, 0); 3], ..Plan::default() }.trak()
    };
    let pick = |traks: &[Vec<u8>]| {
        let clip = read(&Plan::default().with_traks(traks));
        clip.map(|clip| (clip.chosen, clip.frames.ticks()[1]))
    };
    let sound = track(3, b"soun", 1);
    let hidden = track(2, b"vide", 2);
    let (one, two) = (track(1, b"vide", 3), track(1, b"vide", 4));
    let empty = Plan { id: 6, samples: vec![], ..Plan::default() }.trak();
    let all = [sound.clone(), hidden.clone(), empty.clone(), one, two];
    assert_eq!(pick(&all).unwrap(), (3, 3));
    assert!(matches!(pick(&[empty]), Err(ClipError::NoFrames { id: 6 })));
    let bytes = Plan::default().with_traks(&all);
    let chosen = |id| {
        Clip::read_track(Cursor::new(&bytes), Some(id)).map(|clip| (clip.chosen, clip.frames.ticks()[1]))
    };
    assert_eq!(chosen(4).unwrap(), (4, 4));
    assert_eq!(chosen(2).unwrap(), (1, 2));
    assert_eq!(chosen(1).unwrap_err().to_string(), "track 1 is no video: its handler is `soun`");
    assert_eq!(chosen(9).unwrap_err().to_string(), "the file has no track 9; its tracks are 1, 2, 6, 3, 4");
    assert!(matches!(chosen(6), Err(ClipError::NoFrames { id: 6 })));
    assert_eq!(pick(&[sound.clone(), hidden]).unwrap(), (1, 2));
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
    let claim = edited(find(b"stsz") + 12, 0);
    assert!(matches!(claim, ClipError::Count { .. }), "{claim}");
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
    let row = boxed(b"free", b"").repeat(20_000);
    let inside = [boxed(b"ftyp", b""), boxed(b"moov", &row), boxed(b"mdat", b"")].concat();
    assert!(matches!(read(&inside), Err(ClipError::TooMany { .. })));
    assert!(matches!(read(&boxed(b"free", b"").repeat(600_000)), Err(ClipError::TooMany { .. })));
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
fn a_copy_without_its_edit_list_has_the_same_digest() {
    let plain = Plan::default();
    let edited = Plan { edits: Some(vec![(50, 3000, 0x1_0000)]), ..Plan::default() };
    let other = Plan { samples: vec![(3001, 0); 12], ..Plan::default() };
    let fragmented = Plan { fragments: vec![4, 8], ..Plan::default() };
    let digest = |plan: Plan| plan.read().unwrap().frames.digest();
    let plain = digest(plain);
    assert_eq!(plain, digest(edited));
    assert_eq!(plain, digest(fragmented));
    assert_ne!(plain, digest(other));
}

/// A fragmented clip whose `trun` and `tfhd` a test writes itself.
fn fragment(tfhd: &[u32], rest: &[Vec<u8>]) -> Result<Clip, ClipError> {
    let plan = Plan { samples: vec![(3000, 0); 2], fragments: vec![0], ..Plan::default() };
    let traf = boxed(b"traf", &[boxed(b"tfhd", &words(tfhd)), rest.concat()].concat());
    let mut bytes = plan.with_traks(&[plan.trak()]);
    bytes.extend(boxed(b"moof", &traf));
    bytes.extend(boxed(b"mdat", &[0; 400]));
    read(&bytes)
}

#[test]
fn a_fragment_takes_what_it_does_not_say_from_the_defaults() {
    let trun = |fields: &[u32]| boxed(b"trun", &words(fields));
    let ticks = |tfhd: &[u32], rest: &[Vec<u8>]| fragment(tfhd, rest).unwrap().frames.ticks().to_vec();
    // Duration 3000 from `trex`, goes on after the movie box.
    assert_eq!(ticks(&[0, ID], &[trun(&[0, 3])]), [0, 3000, 6000, 9000, 12_000]);
    assert_eq!(ticks(&[0x8, ID, 10], &[trun(&[0, 3])]), [0, 3000, 6000, 6010, 6020]);
    let own = trun(&[0x100, 2, 5, 6]);
    assert_eq!(ticks(&[0x8, ID, 10], &[own.clone(), trun(&[0, 1])]), [0, 3000, 6000, 6005, 6011]);
    // A gap: the time of the fragment stands in `tfdt`.
    let tfdt = boxed(b"tfdt", &words(&[1 << 24, 1, 0]));
    assert_eq!(ticks(&[0, ID], &[tfdt, own.clone()]), [0, 3000, 1 << 32, (1 << 32) + 5]);
    // Time that passes without a frame.
    let empty = [boxed(b"traf", &boxed(b"tfhd", &words(&[0x1_0008, ID, 50])))].concat();
    let clip = fragment(&[0x1_0008, ID, 50], &[]).unwrap();
    assert_eq!(clip.frames.ticks(), [0, 3000]);
    assert_eq!(
        read(&{
            let plan = Plan { samples: vec![(3000, 0); 2], fragments: vec![0], ..Plan::default() };
            let after = boxed(b"traf", &[boxed(b"tfhd", &words(&[0, ID])), own].concat());
            [plan.with_traks(&[plan.trak()]), boxed(b"moof", &empty), boxed(b"moof", &after)].concat()
        })
        .unwrap()
        .frames
        .ticks(),
        [0, 3000, 6050, 6055]
    );
    // Offsets are signed in both versions.
    for version in [0, 1 << 24] {
        let run = trun(&[version | 0x800, 3, signed(-1), 0, signed(i32::MIN)]);
        assert_eq!(ticks(&[0, ID], &[run]), [12_000 + i64::from(i32::MIN), 0, 3000, 5999, 9000]);
    }
    assert_eq!(fragment(&[0, ID], &[trun(&[0, 3])]).unwrap().tracks[0].samples, 5);
}

#[test]
fn fragments_that_lie_are_refused() {
    let trun = |fields: &[u32]| boxed(b"trun", &words(fields));
    let refused = |tfhd: &[u32], rest: &[Vec<u8>]| fragment(tfhd, rest).unwrap_err();
    let claim = refused(&[0, ID], &[trun(&[0x100, u32::MAX, 1])]);
    assert!(matches!(claim, ClipError::TooMany { .. }), "{claim}");
    let claim = refused(&[0, ID], &[trun(&[0x100, 3, 1, 1])]);
    assert!(matches!(claim, ClipError::Table { .. }), "{claim}");
    for (tfhd, run, word) in [
        (vec![0, ID], trun(&[0, 1_000_000]), "no room"),
        (vec![0x10, ID, 0], trun(&[0, 2]), "no room"),
        (vec![0, ID], trun(&[0x200, 1, u32::MAX]), "no room"),
        (vec![0, ID], trun(&[2 << 24, 1]), "version 0 or 1"),
        (vec![0x1_0000, ID], trun(&[0, 1]), "says it has none"),
    ] {
        let claim = refused(&tfhd, &[run]).to_string();
        assert!(claim.contains(word), "{claim}");
    }
    for time in [[u32::MAX, 0], [1 << 30, 1]] {
        let late = boxed(b"tfdt", &words(&[1 << 24, time[0], time[1]]));
        let claim = refused(&[0, ID], &[late, trun(&[0, 1])]).to_string();
        assert!(claim.contains("beyond any time"), "{claim}");
    }
    let odd = boxed(b"tfdt", &words(&[2 << 24, 0, 0]));
    assert!(refused(&[0, ID], &[odd]).to_string().contains("version 0 or 1"));
    let claim = refused(&[0], &[]);
    assert!(matches!(claim, ClipError::TooShort { .. }), "{claim}");
    // Without defaults of the movie a run must say all itself.
    let plan = Plan { samples: vec![(3000, 0); 2], ..Plan::default() };
    let with = |run: Vec<u8>| {
        let traf = boxed(b"traf", &[boxed(b"tfhd", &words(&[0, ID])), run].concat());
        read(&[plan.file(), boxed(b"moof", &traf)].concat())
    };
    assert!(with(trun(&[0x200, 1, 9])).unwrap_err().to_string().contains("no duration"));
    assert!(with(trun(&[0x100, 1, 9])).unwrap_err().to_string().contains("no size"));
    assert_eq!(with(trun(&[0x300, 1, 9, 9])).unwrap().frames.ticks(), [0, 3000, 6000]);
}

/// A trailer of entries (name, data) behind `bytes`.
fn with_trailer(mut bytes: Vec<u8>, entries: &[(&[u8], &[u8])], wrapped: bool) -> Vec<u8> {
    let small = |value: usize| u32::try_from(value).unwrap().to_le_bytes();
    let total: usize = entries.iter().map(|(name, data)| 8 + name.len() + data.len()).sum();
    let mut tail = [b"SEFH".as_slice(), &small(106), &small(entries.len())].concat();
    let mut body = Vec::new();
    let mut back = total;
    for (name, data) in entries {
        let entry = [&[0, 0, 0x90, 8][..], &small(name.len()), name, data].concat();
        tail.extend([&[0, 0, 0x90, 8][..], &small(back), &small(entry.len())].concat());
        back -= entry.len();
        body.extend(entry);
    }
    let close = [small(tail.len()).as_slice(), b"SEFT"].concat();
    let trailer = [body, tail, close].concat();
    bytes.extend(if wrapped { boxed(b"sefd", &trailer) } else { trailer });
    bytes
}

#[test]
fn a_trailer_is_read_behind_the_last_box_and_inside_it() {
    let open = Plan { moov_first: true, open_mdat: true, ..Plan::default() };
    for (plan, wrapped) in [(Plan::default(), false), (Plan::default(), true), (open, false)] {
        let said = |entries: &[(&[u8], &[u8])]| {
            let clip = read(&with_trailer(plan.file(), entries, wrapped)).unwrap();
            assert_eq!(clip.frames.ticks(), plan.media_times());
            clip
        };
        let even = said(&[(b"SlowMotion_Data", b"1:2:3"), (b"Other", b"")]);
        assert!(!even.slowed_part && !even.interpolated);
        assert_eq!(even.clock(Rate::from_millihertz(240_000)).kind, ClockKind::Stretched);
        let part = said(&[(b"Other", b"Super_SlowMotion"), (b"Super_SlowMotion_Data", b"4:5")]);
        let clock = part.clock(Rate::from_millihertz(240_000));
        assert_eq!((clock.kind, clock.pace), (ClockKind::Mixed, None));
        assert!(clock.evidence.iter().any(|line| line.contains("recorded slowed")), "{:?}", clock.evidence);
        assert!(clock.warnings.is_empty());
        let made = said(&[(b"Frame_Interpolation_On", b"1")]).clock(None);
        assert!(made.warnings[0].contains("interpolated"), "{:?}", made.warnings);
        assert!(!said(&[]).slowed_part);
    }
}

#[test]
fn a_damaged_trailer_is_refused_with_its_place() {
    let plain = Plan::default().file();
    let begins = plain.len();
    let whole = with_trailer(plain, &[(b"SlowMotion_Data", b"1:2:3")], false);
    let tail = whole.windows(4).position(|mark| mark == b"SEFH").unwrap();
    let edited = |at: usize, value: u32| {
        let mut bytes = whole.clone();
        bytes[at..at + 4].copy_from_slice(&value.to_le_bytes());
        read(&bytes).unwrap_err()
    };
    let close = whole.len() - 8;
    for (at, value, place, what) in [
        (close, u32::MAX, close, "length of its tail"),
        (close, 8, close, "length of its tail"),
        (close, 12, close - 12, "begin with `SEFH`"),
        (tail + 8, 2, tail, "no room for the entries"),
        (tail + 16, u32::MAX, tail + 12, "outside the file"),
        (tail + 20, 29, tail + 12, "outside the file"),
        (tail + 20, 7, begins, "shorter than its head"),
        (begins + 4, 22, begins, "longer than the entry"),
    ] {
        let refusal = edited(at, value).to_string();
        assert!(refusal.contains(what) && refusal.contains(&format!("byte {place}:")), "{refusal}");
    }
    assert!(matches!(edited(tail + 8, u32::MAX), ClipError::TooMany { .. }));
    // Where it is cut off, the boxes no longer end the file.
    for keep in begins + 1..whole.len() {
        assert!(read(&whole[..keep]).is_err(), "{keep}");
    }
}

/// Puts `extra` into the sample tables of a file, before `stsc`.
fn with_table(mut bytes: Vec<u8>, extra: &[u8]) -> Vec<u8> {
    let find = |bytes: &[u8], kind: &[u8; 4]| bytes.windows(4).position(|found| found == kind).unwrap() - 4;
    for holder in [b"moov", b"trak", b"mdia", b"minf", b"stbl"] {
        let at = find(&bytes, holder);
        let size = u32::from_be_bytes(bytes[at..at + 4].try_into().unwrap());
        let size = size + u32::try_from(extra.len()).unwrap();
        bytes[at..at + 4].copy_from_slice(&size.to_be_bytes());
    }
    let at = find(&bytes, b"stsc");
    bytes.splice(at..at, extra.iter().copied());
    bytes
}

/// A clip whose frames have these sizes.
fn sized(sizes: &[u32], table: &[u8; 4], head: &[u32], body: &[u8]) -> Clip {
    let plan = Plan { samples: vec![(375, 0); sizes.len()], ..Plan::default() };
    let count = u32::try_from(sizes.len()).unwrap();
    // The table that was there is renamed, one key frame is named.
    let mut bytes = plan.file();
    let old = bytes.windows(4).position(|found| found == b"stsz").unwrap();
    bytes[old..old + 4].copy_from_slice(b"free");
    let new = boxed(table, &[words(head), words(&[count]), body.to_vec()].concat());
    let bytes = with_table(bytes, &[new, boxed(b"stss", &words(&[0, 1, 1]))].concat());
    read(&bytes).unwrap()
}

#[test]
fn doubled_frames_are_warned_of_in_every_table_of_sizes() {
    let doubled: Vec<u32> = (0..200).map(|index| if index % 2 == 0 { 240 } else { 8 }).collect();
    let even = vec![240_u32; 200];
    let bytes = |sizes: &[u32]| sizes.iter().map(|size| u8::try_from(*size).unwrap()).collect::<Vec<_>>();
    let halves = |sizes: &[u32]| {
        sizes.iter().flat_map(|size| u16::try_from(*size).unwrap().to_be_bytes()).collect::<Vec<_>>()
    };
    for (sizes, period) in [(&doubled, Some(2)), (&even, None)] {
        let clips = [
            sized(sizes, b"stsz", &[0, 0], &words(sizes)),
            sized(sizes, b"stz2", &[0, 16], &halves(sizes)),
            sized(sizes, b"stz2", &[0, 8], &bytes(sizes)),
        ];
        for clip in clips {
            assert_eq!(clip.frames.repeated(), period);
            let clock = clip.clock(None);
            assert_eq!(clock.kind, ClockKind::Real);
            assert_eq!(clock.warnings.len(), usize::from(period.is_some()));
        }
    }
    // Half a byte each: nothing of 15 is a twentieth of it, but nothing is.
    let nibbles: Vec<u8> = (0..100).map(|_| 0xf0).collect();
    let clip = sized(&doubled, b"stz2", &[0, 4], &nibbles);
    assert_eq!(clip.frames.repeated(), Some(2));
    let warning = &clip.clock(None).warnings[0];
    assert!(warning.starts_with("Of every 2 frames only one"), "{warning}");
    assert!(warning.contains("120 a second of the 240"), "{warning}");
}

#[test]
fn doubled_frames_are_warned_of_in_fragments() {
    let doubled = |version: u32, period: u32| {
        let mut trun = vec![(version << 24) | 0x204, 200, 0];
        trun.extend((0..200).map(|index| if index % period == 0 { 1 } else { 0 }));
        let plan = Plan { samples: vec![], fragments: vec![0], ..Plan::default() };
        let tfhd = boxed(b"tfhd", &words(&[0x20, ID, 0x1_0000]));
        let traf = boxed(b"traf", &[tfhd, boxed(b"trun", &words(&trun))].concat());
        let media = boxed(b"mdat", &[0; 400]);
        read(&[plan.with_traks(&[plan.trak()]), boxed(b"moof", &traf), media].concat()).unwrap()
    };
    let clip = doubled(0, 4);
    assert_eq!(clip.frames.repeated(), Some(4));
    assert!(clip.clock(None).warnings[0].starts_with("Of every 4 frames only one"));
    assert_eq!(doubled(1, 3).frames.repeated(), None);
}

#[test]
fn several_edits_and_empty_ones_are_taken_together() {
    let cut = |edits: Vec<(u32, i32, u32)>| {
        let plan = Plan { edits: Some(edits), movie_timescale: 90_000, ..Plan::default() };
        let frames = plan.read().unwrap().frames;
        (frames.ticks()[0], frames.shown())
    };
    const ONE: u32 = 0x1_0000;
    assert_eq!(cut(vec![(6000, -1, ONE), (9000, 3000, ONE)]), (3000, 3));
    assert_eq!(cut(vec![(100, -1, ONE), (200, -1, ONE), (0, 0, ONE)]), (300, 12));
    // Two parts, which overlap; the empty one between them moves nothing.
    assert_eq!(cut(vec![(9000, 3000, ONE), (500, -1, ONE), (9000, 6000, ONE)]), (-3000, 4));
    assert_eq!(cut(vec![(3000, 30_000, ONE), (3000, 0, ONE)]), (-30_000, 2));
    assert_eq!(cut(vec![]), (0, 12));
}

#[test]
fn a_shift_table_changes_nothing() {
    // `cslg` repeats what follows from the offsets.
    let plan = Plan { samples: vec![(10, 5), (10, -10), (10, -15)], offsets: Some(1), ..Plan::default() };
    let cslg = boxed(b"cslg", &words(&[0, 99, signed(-15), 5, 0, 40]));
    let bytes = with_table(plan.file(), &cslg);
    assert_eq!(read(&bytes).unwrap().frames, plan.read().unwrap().frames);
}

#[test]
fn a_place_of_recording_leaves_no_trace() {
    let place = b"+47.1234+008.5678/";
    let clip = with_meta(capture_meta(false, 23, &240_f32.to_be_bytes()));
    assert_eq!(clip.capture.len(), 1);
    let tag = boxed(b"\xa9xyz", &[&[0, 18, 0x15, 0xc7][..], place].concat());
    let tagged = with_meta(boxed(b"udta", &tag));
    for clip in [clip, tagged] {
        let shown = format!("{clip:?} {:?}", clip.clock(None));
        assert!(!shown.contains("47.1234") && !shown.contains("00.00+000.00"), "{shown}");
    }
}
