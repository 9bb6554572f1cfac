//! Against a drawn block that comes down, stands and goes up; and against what
//! no clip is.

use super::*;

const WIDTH: usize = 64;
const HEIGHT: usize = 48;
const GROUND: usize = 40;

fn setting() -> Setting {
    Setting { width: WIDTH, height: HEIGHT, rate_hz: 240.0, ground_row: Some(GROUND) }
}

/// A dark block, 14 columns by 8 rows, whose underside is so many rows above
/// the ground; grey around, of the same grain in each frame.
fn frame(lift: usize, dark: u8) -> Vec<u8> {
    let mut luma: Vec<u8> = (0..WIDTH * HEIGHT).map(|pixel| 150 + (pixel * 7 % 5) as u8).collect();
    let bottom = GROUND.saturating_sub(lift);
    for y in bottom.saturating_sub(8)..bottom {
        luma[y * WIDTH + 24..y * WIDTH + 38].fill(dark);
    }
    luma
}

/// Rows above the ground in each frame: down from frame 20 to 59, again from
/// 100 to 139.
fn lifts() -> impl Iterator<Item = usize> {
    (0..160_usize).map(|frame| {
        let down = [20..60, 100..140];
        if down.iter().any(|down| down.contains(&frame)) {
            return 0;
        }
        let away = |edge: usize| frame.abs_diff(edge);
        2 * [20, 59, 100, 139].into_iter().map(away).min().unwrap_or(0).min(15)
    })
}

fn suggest(dark: u8) -> Vec<Suggestion> {
    let mut suggester = Suggester::new(setting()).unwrap();
    for lift in lifts() {
        suggester.push(&frame(lift, dark)).unwrap();
    }
    suggester.finish()
}

#[test]
fn a_block_that_comes_down_and_goes_up_is_found_to_the_frame() {
    let found: Vec<_> =
        suggest(40).into_iter().map(|s| (s.kind, s.bracket.before, s.bracket.after)).collect();
    let wanted = [
        (EventKind::Touchdown, 19, 20),
        (EventKind::ToeOff, 59, 60),
        (EventKind::Touchdown, 99, 100),
        (EventKind::ToeOff, 139, 140),
    ];
    assert_eq!(found, wanted);
}

#[test]
fn a_block_is_trusted_more_the_clearer_it_stands_out() {
    let least = |dark| suggest(dark).iter().map(|s| s.confidence).fold(1.0, f64::min);
    assert_eq!(suggest(120).len(), 4);
    assert!(least(40) > least(120) + 0.1, "{} {}", least(40), least(120));
    assert!(suggest(120).iter().all(|s| (0.0..=1.0).contains(&s.confidence) && (24..38).contains(&s.column)));
}

#[test]
fn lamps_on_alternating_current_move_nothing() {
    let mut suggester = Suggester::new(setting()).unwrap();
    for (number, lift) in lifts().enumerate() {
        let light = 1.0 + 0.06 * (number as f64 * 2.6).sin();
        let lit: Vec<u8> = frame(lift, 40).iter().map(|v| (f64::from(*v) * light).round() as u8).collect();
        suggester.push(&lit).unwrap();
    }
    let brackets: Vec<usize> = suggester.finish().iter().map(|s| s.bracket.after).collect();
    assert_eq!(brackets, [20, 60, 100, 140]);
}

#[test]
fn nothing_is_suggested_where_nothing_moves() {
    let mut suggester = Suggester::new(setting()).unwrap();
    assert_eq!(suggester.clone().finish(), []);
    suggester.push(&frame(0, 40)).unwrap();
    assert_eq!(suggester.clone().finish(), []);
    for _ in 0..50 {
        suggester.push(&frame(0, 40)).unwrap();
    }
    assert_eq!(suggester.finish(), []);
}

#[test]
fn what_is_no_clip_is_refused_by_name() {
    let with = |change: &dyn Fn(&mut Setting)| {
        let mut setting = setting();
        change(&mut setting);
        Suggester::new(setting).map(|_| ())
    };
    assert!(matches!(with(&|s| s.rate_hz = f64::NAN), Err(SuggestError::Rate { .. })));
    assert!(matches!(with(&|s| s.rate_hz = 0.0), Err(SuggestError::Rate { .. })));
    assert_eq!(with(&|s| s.width = 4000), Err(SuggestError::Size { width: 4000, height: HEIGHT }));
    assert_eq!(with(&|s| s.height = 0), Err(SuggestError::Size { width: WIDTH, height: 0 }));
    let row = Err(SuggestError::GroundRow { row: HEIGHT, height: HEIGHT });
    assert_eq!(with(&|s| s.ground_row = Some(HEIGHT)), row);

    let mut suggester = Suggester::new(setting()).unwrap();
    suggester.push(&frame(0, 40)).unwrap();
    let wanted = WIDTH * HEIGHT;
    assert_eq!(suggester.push(&[1, 2, 3]), Err(SuggestError::Bytes { frame: 1, found: 3, wanted }));
}

#[test]
fn frames_beyond_the_limit_are_refused() {
    let big = Setting { width: 2048, height: 2048, rate_hz: 240.0, ground_row: None };
    let mut suggester = Suggester::new(big).unwrap();
    let luma = vec![9; 2048 * 2048];
    for _ in 0..MOST_PIXELS / luma.len() {
        suggester.push(&luma).unwrap();
    }
    assert_eq!(suggester.push(&luma), Err(SuggestError::TooMany { frame: 16, limit: MOST_PIXELS }));
}

mod any {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        /// Whatever the pixels are: no panic, brackets of neighbours inside
        /// the clip, in order, and the same again for the same frames.
        #[test]
        fn frames_give_ordered_brackets(
            bytes in prop::collection::vec(any::<u8>(), 1..600),
            frames in 0_usize..40,
            slow in 1_usize..12,
            rate_hz in 10.0..2000.0_f64,
            ground_row in prop::option::of(0_usize..20),
        ) {
            let setting = Setting { width: 24, height: 20, rate_hz, ground_row };
            let mut suggester = Suggester::new(setting).unwrap();
            for frame in 0..frames {
                let start = frame / slow * 31;
                let luma: Vec<u8> =
                    (0..24 * 20).map(|pixel| bytes[(start + pixel) % bytes.len()]).collect();
                suggester.push(&luma).unwrap();
            }
            let found = suggester.clone().finish();
            for suggestion in &found {
                let FrameBracket { before, after } = suggestion.bracket;
                prop_assert!(before < after && after < frames);
                prop_assert!((0.0..=1.0).contains(&suggestion.confidence));
            }
            prop_assert!(found.is_sorted_by_key(|s| s.bracket));
            prop_assert_eq!(found, suggester.finish());
        }
    }
}
