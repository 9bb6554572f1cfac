//! Running a plan, and making a failing one small.

use std::fmt;
use std::time::{Duration, Instant};

use crate::check::Shape;
use crate::plan::{Plan, Step};
use crate::world::{Violation, World};

/// A plan that failed, made as small as time allowed.
#[derive(Clone, Debug)]
pub struct Failure {
    /// The seed.
    pub seed: u64,
    /// What was violated in the end.
    pub violation: Violation,
    /// The steps in words, the last one where it failed.
    pub trace: Vec<String>,
    /// The number of steps of the whole plan.
    pub whole: usize,
}

impl fmt::Display for Failure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        writeln!(f, "seed {}: {}", self.seed, self.violation)?;
        writeln!(f, "{} of {} steps lead there:", self.trace.len() - 1, self.whole)?;
        for (n, line) in self.trace.iter().enumerate() {
            writeln!(f, "  {n:3}  {line}")?;
        }
        write!(f, "again: cargo xtask simulate --seed {}", self.seed)
    }
}

impl core::error::Error for Failure {}

/// What a plan came to.
struct Run {
    trace: Vec<String>,
    taken: usize,
    ended: Result<Shape, Violation>,
}

fn run_plan(plan: &Plan) -> Run {
    let mut trace = vec![format!("{} devices; device 0 founds the squad", plan.devices)];
    let mut world = match World::new(plan.devices) {
        Ok(world) => world,
        Err(violation) => return Run { trace, taken: 0, ended: Err(violation) },
    };
    for (n, step) in plan.steps.iter().enumerate() {
        let done = world.take(step).and_then(|(told, touched)| {
            trace.push(told);
            touched.into_iter().try_for_each(|device| world.check(device))
        });
        if let Err(violation) = done {
            if trace.len() == n + 1 {
                trace.push(if world.doing.is_empty() { format!("{step:?}") } else { world.doing.clone() });
            }
            return Run { trace, taken: n + 1, ended: Err(violation) };
        }
    }
    let ended = world.shape();
    Run { trace, taken: plan.steps.len(), ended }
}

/// Runs the plan of a seed and gives its steps in words; where it fails, makes it
/// small for at most so long.
///
/// # Errors
/// [`Failure`] with the steps that lead there.
pub fn run(seed: u64, shrink_for: Duration) -> Result<Vec<String>, Box<Failure>> {
    let plan = Plan::of(seed);
    let run = run_plan(&plan);
    let shape = match run.ended {
        Ok(shape) => shape,
        Err(violation) => {
            let small = shrink(&plan, run.taken, &violation, shrink_for);
            let again = run_plan(&small);
            // What hangs on a salt may not come again; the first run is told then.
            let (violation, trace) = match again.ended {
                Err(again_violation) => (again_violation, again.trace),
                Ok(_) => (violation, run.trace),
            };
            return Err(Box::new(Failure { seed, violation, trace, whole: plan.steps.len() }));
        }
    };
    // A clock that jumps changes what is shown, and nothing else.
    let jumps = plan.steps.iter().any(|s| matches!(s, Step::Clock { .. }));
    if seed.is_multiple_of(4) && jumps && !shape.expired {
        let true_clocks = run_plan(&plan.with_true_clocks());
        let same = match &true_clocks.ended {
            Ok(other) => other.expired || other.facts == shape.facts,
            Err(_) => false,
        };
        if !same {
            let what = "with true clocks other facts are live, or count".to_owned();
            let violation = Violation { kind: "clock", what };
            return Err(Box::new(Failure { seed, violation, trace: run.trace, whole: plan.steps.len() }));
        }
    }
    Ok(run.trace)
}

/// Leaves out steps as long as the same thing is violated.
fn shrink(plan: &Plan, taken: usize, violation: &Violation, most: Duration) -> Plan {
    let end = Instant::now() + most;
    let mut small = Plan { devices: plan.devices, steps: plan.steps[..taken].to_vec() };
    let fails = |plan: &Plan| matches!(run_plan(plan).ended, Err(v) if v.kind == violation.kind);
    let mut size = small.steps.len() / 2;
    while size > 0 {
        let mut at = 0;
        let mut fewer = false;
        while at < small.steps.len() && Instant::now() < end {
            let mut without = small.clone();
            without.steps.drain(at..(at + size).min(small.steps.len()));
            if fails(&without) {
                small = without;
                fewer = true;
            } else {
                at += size;
            }
        }
        if Instant::now() >= end {
            break;
        }
        // Once more at the size of one, as long as it helps.
        size = if size == 1 && fewer { 1 } else { size / 2 };
    }
    while small.devices > 2 && Instant::now() < end {
        let fewer = Plan { devices: small.devices - 1, steps: small.steps.clone() };
        if !fails(&fewer) {
            break;
        }
        small = fewer;
    }
    small
}
