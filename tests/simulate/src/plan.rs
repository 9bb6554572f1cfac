//! What happens, drawn from one seed.
//!
//! A step holds small numbers only; what they pick is found when it is taken,
//! among the devices, members, facts and meetings of that moment, counted in the
//! order in which they came to be. So a step still means something when those
//! before it are left out, and nothing hangs on the salts, nonces and uuids that
//! the books draw themselves.

use fastrand::Rng;

/// The most devices of one plan, copies of a book's folder among them.
pub(crate) const MAX_DEVICES: usize = 20;

/// What is written down.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum What {
    /// A session, and a set of it.
    Set,
    /// A rest day.
    Rest,
    /// A field of the card.
    Card,
    /// What hurts, in the private part.
    CheckIn,
    /// A session of the staff's own.
    Note,
    /// What a member may not do.
    Limit,
}

/// One thing that happens.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Step {
    /// A device makes the member it serves, before any pairing.
    Start { device: u8 },
    /// An owner puts a member without a phone on the roster.
    AddMember { owner: u8 },
    /// A fact is written down anew, or a field of the card.
    Write { device: u8, what: What, about: u8, value: u8 },
    /// A fact is corrected by someone who sees it.
    Correct { device: u8, fact: u16, value: u8 },
    /// A fact is deleted.
    Delete { device: u8, fact: u16 },
    /// The body of a fact is taken away.
    Withdraw { device: u8, fact: u16 },
    /// A clash is settled.
    Settle { device: u8, clash: u8, value: u8 },
    /// A consent is given or taken back.
    Consent { device: u8, about: u8, to: u8, given: bool },
    /// Entries of a later version come into a device's own log.
    Later { device: u8, about: u8, value: u8 },
    /// An owner invites a device, which calls; the conversation goes on for so
    /// many messages at once.
    Invite { owner: u8, guest: u8, role: u8, about: u8, extras: u8, messages: u8 },
    /// An owner gives a device more.
    Give { owner: u8, device: u8, role: u8, about: u8, extras: u8 },
    /// An owner removes a device, or takes in what it wrote late.
    Remove { owner: u8, device: u8 },
    /// The same by the recovery key.
    RemoveByKey { owner: u8, device: u8 },
    /// A removal is taken back.
    Readmit { owner: u8, device: u8 },
    /// A device without a squad carries the squad on by the recovery key.
    Recover { device: u8 },
    /// Two members are one athlete.
    SamePerson { owner: u8, a: u8, b: u8 },
    /// They are two again.
    TwoPersons { owner: u8, about: u8 },
    /// A member is erased.
    Erase { owner: u8, about: u8 },
    /// A person lets go of what the own device keeps.
    LetGo { device: u8 },
    /// The folder of a book is copied, and both are written on.
    Fork { device: u8 },
    /// The file of a book is kept elsewhere, or put back where it was kept before.
    Restore { device: u8 },
    /// A clock jumps by years.
    Clock { device: u8, years: i8 },
    /// Two devices meet.
    Meet { caller: u8, called: u8, messages: u8 },
    /// A device meets an owner's.
    Report { caller: u8, owner: u8, messages: u8 },
    /// An open conversation goes on for some messages.
    Deliver { meeting: u8, messages: u8 },
    /// The next message is lost, and the link with it.
    Cut { meeting: u8 },
    /// An earlier message comes once more, before its turn.
    Repeat { meeting: u8, back: u8 },
    /// A bit of the next message flips.
    Flip { meeting: u8, at: u16 },
    /// Devices meet within so many groups only from now on; one: all meet.
    Partition { groups: u8, shift: u8 },
    /// The process dies and comes back.
    Crash { device: u8 },
    /// Everyone meets everyone until nothing moves, and everything is checked.
    Quiet,
}

/// All that a seed decides.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Plan {
    /// The devices at the beginning; the first founds the squad.
    pub(crate) devices: usize,
    /// What happens.
    pub(crate) steps: Vec<Step>,
}

/// The whole conversation at once.
pub(crate) const WHOLE: u8 = u8::MAX;

impl Plan {
    /// The plan of a seed.
    #[must_use]
    pub(crate) fn of(seed: u64) -> Self {
        let mut rng = Rng::with_seed(seed);
        // One squad in eight is large; the others leave room for more to happen to each.
        let devices = if rng.u8(0..8) == 0 { rng.usize(12..=MAX_DEVICES - 2) } else { rng.usize(3..=7) };
        let mut steps = Vec::new();
        for guest in 1..devices {
            let guest = u8::try_from(guest).unwrap_or(0);
            if rng.u8(0..3) > 0 {
                steps.push(Step::Start { device: guest });
                steps.push(write(&mut rng, guest));
            }
            if rng.u8(0..40) == 0 {
                steps.push(Step::Recover { device: guest });
            } else if rng.u8(0..10) > 0 {
                let owner = if rng.bool() { 0 } else { rng.u8(..) };
                let messages = if rng.u8(0..6) > 0 { WHOLE } else { rng.u8(1..12) };
                steps.push(invite(&mut rng, owner, guest, messages));
            }
        }
        let more = rng.usize(50..130) + 4 * devices;
        for _ in 0..more {
            let step = any(&mut rng);
            steps.push(step);
        }
        steps.push(Step::Quiet);
        Self { devices, steps }
    }

    /// The same without clocks that jump.
    #[must_use]
    pub(crate) fn with_true_clocks(&self) -> Self {
        let true_clock = |step: &Step| match *step {
            Step::Clock { device, .. } => Step::Clock { device, years: 0 },
            other => other,
        };
        Self { devices: self.devices, steps: self.steps.iter().map(true_clock).collect() }
    }
}

fn write(rng: &mut Rng, device: u8) -> Step {
    let what = match rng.u8(0..10) {
        0 | 1 => What::Set,
        2 | 3 => What::Rest,
        4..=6 => What::Card,
        7 => What::CheckIn,
        8 => What::Note,
        _ => What::Limit,
    };
    Step::Write { device, what, about: rng.u8(..), value: rng.u8(..) }
}

fn invite(rng: &mut Rng, owner: u8, guest: u8, messages: u8) -> Step {
    Step::Invite { owner, guest, role: rng.u8(..), about: rng.u8(..), extras: rng.u8(..), messages }
}

fn messages(rng: &mut Rng) -> u8 {
    if rng.bool() { WHOLE } else { rng.u8(0..12) }
}

fn any(rng: &mut Rng) -> Step {
    let device = rng.u8(..);
    let owner = rng.u8(..);
    let meeting = rng.u8(..);
    match rng.u8(0..128) {
        0..=21 => write(rng, device),
        22..=28 => Step::Correct { device, fact: rng.u16(..), value: rng.u8(..) },
        29..=31 => Step::Delete { device, fact: rng.u16(..) },
        32..=36 => Step::Withdraw { device, fact: rng.u16(..) },
        37..=39 => Step::Settle { device, clash: rng.u8(..), value: rng.u8(..) },
        40..=45 => Step::Consent { device, about: rng.u8(..), to: rng.u8(..), given: rng.u8(0..3) > 0 },
        46 => Step::AddMember { owner },
        47 => Step::Later { device, about: rng.u8(..), value: rng.u8(..) },
        48..=53 => {
            let messages = messages(rng);
            invite(rng, owner, device, messages)
        }
        54..=55 => Step::Give { owner, device, role: rng.u8(..), about: rng.u8(..), extras: rng.u8(..) },
        56..=59 => Step::Remove { owner, device },
        60 => Step::RemoveByKey { owner, device },
        61..=63 => Step::Readmit { owner, device },
        64 => Step::Recover { device },
        65 => Step::SamePerson { owner, a: rng.u8(..), b: rng.u8(..) },
        66 => Step::TwoPersons { owner, about: rng.u8(..) },
        67 => Step::Erase { owner, about: rng.u8(..) },
        68..=69 => Step::LetGo { device },
        70 => Step::Fork { device },
        71..=73 => Step::Restore { device },
        74..=75 => Step::Clock { device, years: rng.i8(-30..=60) },
        76..=90 => Step::Meet { caller: device, called: rng.u8(..), messages: messages(rng) },
        91..=106 => Step::Report { caller: device, owner, messages: messages(rng) },
        107..=116 => Step::Deliver { meeting, messages: rng.u8(1..8) },
        117 => Step::Cut { meeting },
        118..=119 => Step::Repeat { meeting, back: rng.u8(0..6) },
        120 => Step::Flip { meeting, at: rng.u16(..) },
        121..=122 => Step::Partition { groups: [1, 1, 2, 3][rng.usize(0..4)], shift: rng.u8(..) },
        123..=126 => Step::Crash { device },
        _ => Step::Quiet,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_seed_decides_the_plan() {
        assert_eq!(Plan::of(7), Plan::of(7));
        assert_ne!(Plan::of(7), Plan::of(8));
    }
}
