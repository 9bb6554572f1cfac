//! A record cut into stretches on the ground and in the air, by turns.

use std::ops::Range;

/// A stretch of a record on one side of the threshold.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Phase {
    pub(super) grounded: bool,
    pub(super) samples: Range<usize>,
}

impl Phase {
    fn flipped(self) -> Self {
        Self { grounded: !self.grounded, ..self }
    }
}

/// The phases of a record whose samples are `grounded` or not.
///
/// First what is too short for a contact is taken for air, then what is too
/// short for a flight for ground, at both ends of the record as well: a foot
/// that touches for a moment in the air has not landed, and a flight ends
/// where the ground is there to stay. The order matters where both are short,
/// as in a blip just before a touchdown.
pub(super) fn phases(
    grounded: impl Iterator<Item = bool>,
    least_contact: usize,
    least_flight: usize,
) -> Vec<Phase> {
    let mut runs: Vec<Phase> = Vec::new();
    let mut run: Option<Phase> = None;
    for (sample, grounded) in grounded.enumerate() {
        match &mut run {
            Some(run) if run.grounded == grounded => run.samples.end = sample + 1,
            _ => {
                let next = Phase { grounded, samples: sample..sample + 1 };
                if let Some(done) = run.replace(next) {
                    join(&mut runs, settled(done, true, least_contact));
                }
            }
        }
    }
    if let Some(last) = run {
        join(&mut runs, settled(last, true, least_contact));
    }

    if runs.len() == 1 {
        // There is nothing around it that it could count for.
        return runs;
    }
    let mut phases = Vec::new();
    for run in runs {
        join(&mut phases, settled(run, false, least_flight));
    }
    phases
}

/// A run on the side `grounded` that is shorter than `least` counts for the
/// other side.
fn settled(run: Phase, grounded: bool, least: usize) -> Phase {
    if run.grounded == grounded && run.samples.len() < least { run.flipped() } else { run }
}

fn join(phases: &mut Vec<Phase>, next: Phase) {
    match phases.last_mut() {
        Some(last) if last.grounded == next.grounded => last.samples.end = next.samples.end,
        _ => phases.push(next),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// `#` for ground, `.` for air.
    fn read(record: &str, least_contact: usize, least_flight: usize) -> Vec<(bool, Range<usize>)> {
        phases(record.bytes().map(|byte| byte == b'#'), least_contact, least_flight)
            .into_iter()
            .map(|phase| (phase.grounded, phase.samples))
            .collect()
    }

    #[test]
    fn phases_take_turns_and_cover_the_record() {
        assert_eq!(read("", 1, 1), []);
        assert_eq!(read("..###.", 1, 1), [(false, 0..2), (true, 2..5), (false, 5..6)]);
        assert_eq!(read("###", 3, 3), [(true, 0..3)]);
        assert_eq!(read("##", 3, 3), [(false, 0..2)]);
    }

    #[test]
    fn a_blip_is_no_contact_and_a_gap_no_flight() {
        assert_eq!(read("....#..#####...", 3, 3), [(false, 0..7), (true, 7..12), (false, 12..15)]);
        assert_eq!(read("...####.####...", 3, 3), [(false, 0..3), (true, 3..12), (false, 12..15)]);
        // Chatter belongs to the flight, on either side of it.
        assert_eq!(read("####.#.##....#.#####", 3, 3), [(true, 0..4), (false, 4..15), (true, 15..20)]);
    }

    #[test]
    fn the_ends_of_a_record_have_to_last_as_well() {
        assert_eq!(read(".####....#####.", 3, 3), [(true, 0..5), (false, 5..9), (true, 9..15)]);
        assert_eq!(read("#...####...#", 3, 3), [(false, 0..4), (true, 4..8), (false, 8..12)]);
    }
}
