//! Where pictures lie: generated files give back the places that were put in, and damaged
//! ones an answer inside the file or an error.

use super::*;
use crate::clip::{Media, Sample};

/// Decoding ticks of each frame.
const STEP: i32 = 10;

/// A decoder's configuration.
const CONFIG: [u8; 7] = [1, 0x64, 0, 0x1f, 0xff, 0xe1, 0];

/// One picture as it is put in.
#[derive(Clone, Copy, Debug)]
struct Put {
    size: u8,
    offset: i32,
    key: bool,
}

/// How the sizes of the movie box are written.
#[derive(Clone, Copy, Debug)]
enum SizesAs {
    Words,
    Halves,
    Bytes,
    /// One size for all.
    Same(u8),
}

/// How a fragment says where its data begin.
#[derive(Clone, Copy, Debug)]
enum BaseAs {
    /// Counted from the fragment, which says so.
    Moof,
    /// Counted from the fragment, as the first part of one is.
    Unsaid,
    /// Counted from a byte of the file.
    Byte,
    /// They begin at a byte of the file, and the run says nothing.
    Begin,
}

/// A file and what it should be read as.
#[derive(Clone, Debug)]
struct Laid {
    bytes: Vec<u8>,
    samples: Vec<Sample>,
}

/// The parts of a generated file.
#[derive(Clone, Debug)]
struct Layout {
    frames: Vec<Put>,
    /// Frames of each chunk, from the first one; what is left stands in a last one.
    chunks: Vec<usize>,
    backwards: bool,
    sizes: SizesAs,
    long: bool,
    keyed: bool,
    closed: bool,
    fragments: Vec<(BaseAs, Vec<Put>)>,
}

impl Layout {
    fn lay(&self) -> Laid {
        let mut frames = self.frames.clone();
        if let SizesAs::Same(size) = self.sizes {
            frames.iter_mut().for_each(|frame| frame.size = size);
        }
        let mut left = frames.as_slice();
        let mut chunks = Vec::new();
        for count in &self.chunks {
            let (chunk, rest) = left.split_at((*count).min(left.len()));
            chunks.push(chunk);
            left = rest;
        }
        chunks.push(left);
        let mut bytes = boxed(b"ftyp", b"isom\0\0\0\0");
        // Behind the header of `mdat`, with a byte that is nobody's before each chunk.
        let mut at = u64::try_from(bytes.len() + 8).unwrap();
        let mut begins = vec![0; chunks.len()];
        let mut order: Vec<usize> = (0..chunks.len()).collect();
        if self.backwards {
            order.reverse();
        }
        for chunk in order {
            at += 1;
            begins[chunk] = at;
            at += chunks[chunk].iter().map(|frame| u64::from(frame.size)).sum::<u64>();
        }
        let media = usize::try_from(at).unwrap() - bytes.len() - 8;
        bytes.extend(boxed(b"mdat", &vec![0x5a; media]));
        let mut samples = Vec::new();
        for (chunk, begin) in chunks.iter().zip(&begins) {
            let mut offset = *begin;
            for frame in *chunk {
                let (size, key) = (u32::from(frame.size), frame.key || !self.keyed);
                samples.push(Sample { offset, size, frame: 0, key });
                offset += u64::from(size);
            }
        }
        bytes.extend(self.moov(&frames, &chunks, &begins));
        for (base, frames) in &self.fragments {
            fragment(&mut bytes, &mut samples, *base, frames);
        }
        let all = frames.iter().chain(self.fragments.iter().flat_map(|(_, frames)| frames));
        let times: Vec<i32> = all.zip(0..).map(|(frame, at)| STEP * at + frame.offset).collect();
        for at in 0..times.len() {
            let before =
                times.iter().enumerate().filter(|(other, time)| (**time, *other) < (times[at], at)).count();
            samples[at].frame = u32::try_from(before).unwrap();
        }
        Laid { bytes, samples }
    }

    fn moov(&self, frames: &[Put], chunks: &[&[Put]], begins: &[u64]) -> Vec<u8> {
        let count = u32::try_from(frames.len()).unwrap();
        let mut entry = [&[0; 6][..], &[0, 1], &[0; 16], &[1, 64, 0, 180], &[0; 50]].concat();
        entry.extend(boxed(b"pasp", &words(&[1, 1])));
        entry.extend(boxed(b"avcC", &CONFIG));
        if self.closed {
            entry.extend([0; 4]);
        }
        let mut stbl = boxed(b"stsd", &[words(&[0, 1]), boxed(b"avc1", &entry)].concat());
        stbl.extend(boxed(b"stts", &words(&[0, 1, count, signed(STEP)])));
        let mut ctts = vec![1 << 24, count];
        ctts.extend(frames.iter().flat_map(|frame| [1, signed(frame.offset)]));
        stbl.extend(boxed(b"ctts", &words(&ctts)));
        let sizes = frames.iter().map(|frame| frame.size);
        stbl.extend(match self.sizes {
            SizesAs::Same(size) => boxed(b"stsz", &words(&[0, size.into(), count])),
            SizesAs::Words => {
                let table: Vec<u32> = [0, 0, count].into_iter().chain(sizes.map(u32::from)).collect();
                boxed(b"stsz", &words(&table))
            }
            SizesAs::Halves => {
                let table: Vec<u8> = sizes.flat_map(|size| u16::from(size).to_be_bytes()).collect();
                boxed(b"stz2", &[words(&[0, 16, count]), table].concat())
            }
            SizesAs::Bytes => boxed(b"stz2", &[words(&[0, 8, count]), sizes.collect()].concat()),
        });
        // Runs of chunks that hold the same number.
        let mut stsc: Vec<[u32; 3]> = Vec::new();
        for (chunk, number) in chunks.iter().zip(1_u32..) {
            let held = u32::try_from(chunk.len()).unwrap();
            if stsc.last().is_none_or(|run| run[1] != held) {
                stsc.push([number, held, 1]);
            }
        }
        let runs = u32::try_from(stsc.len()).unwrap();
        stbl.extend(boxed(b"stsc", &words(&[vec![0, runs], stsc.concat()].concat())));
        let number = u32::try_from(begins.len()).unwrap();
        stbl.extend(match self.long {
            true => {
                let table: Vec<u8> = begins.iter().flat_map(|at| at.to_be_bytes()).collect();
                boxed(b"co64", &[words(&[0, number]), table].concat())
            }
            false => {
                let table = begins.iter().map(|at| u32::try_from(*at).unwrap());
                boxed(b"stco", &words(&[0, number].into_iter().chain(table).collect::<Vec<u32>>()))
            }
        });
        if self.keyed {
            let keys = frames.iter().zip(1_u32..).filter(|(frame, _)| frame.key).map(|(_, number)| number);
            let keys: Vec<u32> = keys.collect();
            let number = u32::try_from(keys.len()).unwrap();
            stbl.extend(boxed(b"stss", &words(&[vec![0, number], keys].concat())));
        }
        let plan = Plan::default();
        let mdia = [
            plan.header(b"mdhd", 1000),
            boxed(b"hdlr", &words(&[0, 0, u32::from_be_bytes(*b"vide"), 0, 0, 0])),
            boxed(b"minf", &boxed(b"stbl", &stbl)),
        ];
        let tkhd = [3, 0, 0, ID, 0, 0, 0, 0, 0, 0, 1 << 16, 0, 0, 0, 1 << 16, 0, 0, 0, 1 << 30, 0, 0];
        let trak = boxed(b"trak", &[boxed(b"tkhd", &words(&tkhd)), boxed(b"mdia", &mdia.concat())].concat());
        let trex = boxed(b"trex", &words(&[0, ID, 1, signed(STEP), 0, 0]));
        boxed(b"moov", &[plan.header(b"mvhd", 1000), trak, boxed(b"mvex", &trex)].concat())
    }
}

/// Adds a fragment of two runs, of which the second one says nothing of where it lies.
fn fragment(bytes: &mut Vec<u8>, samples: &mut Vec<Sample>, base: BaseAs, frames: &[Put]) {
    let moof_at = u64::try_from(bytes.len()).unwrap();
    let moof = |data: u64| {
        let (flags, from) = match base {
            BaseAs::Moof => (0x2_0000, moof_at),
            BaseAs::Unsaid => (0, moof_at),
            BaseAs::Byte => (1, 7),
            BaseAs::Begin => (1, data),
        };
        let mut tfhd = vec![flags, ID];
        if flags == 1 {
            tfhd.extend([0, u32::try_from(from).unwrap()]);
        }
        let mut truns = Vec::new();
        let (one, two) = frames.split_at(frames.len() / 2);
        for (part, said) in [(one, !matches!(base, BaseAs::Begin)), (two, false)] {
            let mut trun = vec![(1 << 24) | 0xe00 | u32::from(said), u32::try_from(part.len()).unwrap()];
            trun.extend(said.then(|| u32::try_from(data - from).unwrap()));
            for frame in part {
                trun.extend([frame.size.into(), if frame.key { 0 } else { 0x1_0000 }, signed(frame.offset)]);
            }
            truns.extend(boxed(b"trun", &words(&trun)));
        }
        boxed(b"moof", &boxed(b"traf", &[boxed(b"tfhd", &words(&tfhd)), truns].concat()))
    };
    // Its length is the same wherever the data lie.
    let length = u64::try_from(moof(1 << 16).len()).unwrap();
    let mut offset = moof_at + length + 8;
    let data: usize = frames.iter().map(|frame| usize::from(frame.size)).sum();
    bytes.extend(moof(offset));
    bytes.extend(boxed(b"mdat", &vec![0x5a; data]));
    for frame in frames {
        samples.push(Sample { offset, size: frame.size.into(), frame: 0, key: frame.key });
        offset += u64::from(frame.size);
    }
}

fn puts(most: usize) -> impl Strategy<Value = Vec<Put>> {
    let put = (any::<u8>(), -40_i32..40, any::<bool>());
    prop::collection::vec(put.prop_map(|(size, offset, key)| Put { size, offset, key }), 1..most)
}

prop_compose! {
    fn layouts()(
        frames in puts(40),
        chunks in prop::collection::vec(0_usize..8, 0..8),
        backwards: bool,
        sizes in prop_oneof![
            Just(SizesAs::Words), Just(SizesAs::Halves), Just(SizesAs::Bytes), (1..=u8::MAX).prop_map(SizesAs::Same)
        ],
        long: bool,
        keyed: bool,
        closed: bool,
        fragments in prop::collection::vec((
            prop_oneof![Just(BaseAs::Moof), Just(BaseAs::Unsaid), Just(BaseAs::Byte), Just(BaseAs::Begin)],
            puts(12),
        ), 0..3),
    ) -> Layout {
        Layout { frames, chunks, backwards, sizes, long, keyed, closed, fragments }
    }
}

fn media(bytes: &[u8]) -> Result<Media, ClipError> {
    Media::read(Cursor::new(bytes), None)
}

proptest! {
    #[test]
    fn places_come_back(layout in layouts()) {
        let Laid { bytes, samples } = layout.lay();
        let read = media(&bytes).unwrap();
        prop_assert_eq!(read.samples, samples);
        prop_assert_eq!(read.codec.rfc6381(), Some("avc1.64001f".to_owned()));
        prop_assert_eq!((read.codec.width, read.codec.height), (320, 180));
        prop_assert_eq!(read.codec.config, CONFIG);
    }

    #[test]
    fn damaged_places_end_in_the_file_or_in_an_error(
        layout in layouts(),
        damage in prop::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 1..6),
    ) {
        let Laid { mut bytes, .. } = layout.lay();
        for (place, value) in damage {
            let place = place.index(bytes.len());
            bytes[place] = value;
        }
        match media(&bytes) {
            Ok(read) => {
                let length = u64::try_from(bytes.len()).unwrap();
                let mut frames: Vec<u32> = read.samples.iter().map(|sample| sample.frame).collect();
                frames.sort_unstable();
                prop_assert!(frames.into_iter().eq(0..u32::try_from(read.samples.len()).unwrap()));
                for sample in &read.samples {
                    prop_assert!(sample.offset + u64::from(sample.size) <= length);
                }
            }
            Err(error) => prop_assert!(!matches!(error, ClipError::Io { .. }), "{}", error),
        }
    }
}

/// A plain file of three frames.
fn plain() -> Layout {
    let frames = vec![Put { size: 9, offset: 0, key: true }; 3];
    let fragments = vec![(BaseAs::Moof, frames.clone())];
    Layout {
        frames,
        chunks: Vec::new(),
        backwards: false,
        sizes: SizesAs::Words,
        long: false,
        keyed: true,
        closed: false,
        fragments,
    }
}

/// Writes `value` at `at` bytes behind the name of a box.
fn changed(kind: &[u8; 4], at: usize, value: u32) -> Result<Media, ClipError> {
    let mut bytes = plain().lay().bytes;
    let name = bytes.windows(4).position(|found| found == kind).unwrap();
    let at = name + 4 + at;
    bytes[at..at + 4].copy_from_slice(&value.to_be_bytes());
    media(&bytes)
}

#[test]
fn false_places_are_refused_and_say_why() {
    let why = |read: Result<Media, ClipError>| read.unwrap_err().to_string();
    assert!(media(&plain().lay().bytes).is_ok());
    // The chunk begins where the file ends; holds too few; is another way of coding.
    assert!(why(changed(b"stco", 8, u32::MAX)).contains("beyond the end of the file"));
    assert!(why(changed(b"stsc", 12, 2)).contains("fewer frames than there are"));
    assert!(why(changed(b"stsc", 16, 2)).contains("coded in more than one way"));
    assert!(why(changed(b"stsc", 8, 2)).contains("do not rise"));
    assert!(why(changed(b"stss", 8, 0)).contains("none of the frames"));
    assert!(why(changed(b"stss", 8, 4)).contains("none of the frames"));
    assert!(why(changed(b"trex", 8, 2)).contains("coded in more than one way"));
    assert!(why(changed(b"trun", 8, i32::MAX.cast_unsigned())).contains("beyond the end of the file"));
}
