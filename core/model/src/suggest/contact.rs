//! Rests along the ground → contacts.

use std::ops::RangeInclusive;

use super::rest::Rest;

/// What one foot leaves in the picture while it is down.
#[derive(Clone, Debug)]
pub(super) struct Contact {
    pub(super) rests: Vec<Rest>,
}

impl Contact {
    pub(super) fn columns(&self) -> RangeInclusive<usize> {
        let left = self.rests.iter().map(|rest| rest.x).min().unwrap_or(0);
        let right = self.rests.iter().map(|rest| rest.x).max().unwrap_or(0);
        left..=right
    }

    pub(super) fn frames(&self) -> (usize, usize) {
        let first = self.rests.iter().map(|rest| rest.first).min().unwrap_or(0);
        let last = self.rests.iter().map(|rest| rest.last).max().unwrap_or(0);
        (first, last)
    }
}

/// The lowest row at which things come to rest again and again: of the rests
/// of at most `longest` frames.
pub(super) fn ground_row(rests: &[Rest], height: usize, longest: usize) -> Option<usize> {
    let mut counts = vec![0_usize; height];
    for rest in rests.iter().filter(|rest| rest.frames() <= longest) {
        for count in &mut counts[rest.y.saturating_sub(1)..(rest.y + 2).min(height)] {
            *count += 1;
        }
    }
    let most = counts.iter().copied().max().filter(|most| *most >= 6)?;
    (0..height).rev().find(|row| 10 * counts[*row] >= 3 * most)
}

/// Groups rests in a band of rows: neighbours that lie still at the same time
/// and begin or end together, within `tolerance` frames. Groups no farther than
/// `reach` columns apart that last together are one contact.
pub(super) fn contacts(
    all: &[Rest],
    rows: RangeInclusive<usize>,
    reach: usize,
    tolerance: usize,
) -> Vec<Contact> {
    let mut rests: Vec<Rest> = all.iter().filter(|rest| rows.contains(&rest.y)).copied().collect();
    rests.sort_by_key(|rest| (rest.x, rest.first, rest.y));
    let mut group: Vec<usize> = (0..rests.len()).collect();
    for (at, rest) in rests.iter().enumerate() {
        for (before, other) in rests[..at].iter().enumerate().rev() {
            if rest.x - other.x > 2 {
                break;
            }
            let common = (rest.last.min(other.last) + 1).saturating_sub(rest.first.max(other.first));
            let together =
                rest.first.abs_diff(other.first) <= tolerance || rest.last.abs_diff(other.last) <= tolerance;
            if rest.y.abs_diff(other.y) <= 3 && together && 2 * common >= rest.frames().min(other.frames()) {
                let (a, b) = (root(&group, at), root(&group, before));
                group[a.max(b)] = a.min(b);
            }
        }
    }
    let mut groups: Vec<(usize, Contact)> = Vec::new();
    for (at, rest) in rests.iter().enumerate() {
        let name = root(&group, at);
        match groups.iter_mut().find(|(known, _)| *known == name) {
            Some((_, contact)) => contact.rests.push(*rest),
            None => groups.push((name, Contact { rests: vec![*rest] })),
        }
    }
    let mut contacts: Vec<Contact> = groups.into_iter().map(|(_, contact)| contact).collect();
    contacts.sort_by_key(|contact| (contact.frames(), *contact.columns().start()));
    joined(contacts, reach)
}

fn root(group: &[usize], mut at: usize) -> usize {
    while group[at] != at {
        at = group[at];
    }
    at
}

/// Parts of one foot, or two feet side by side, are one contact.
fn joined(contacts: Vec<Contact>, reach: usize) -> Vec<Contact> {
    let mut whole: Vec<Contact> = Vec::new();
    for contact in contacts {
        let (first, last) = contact.frames();
        let columns = contact.columns();
        let home = whole.iter_mut().find(|other| {
            let (other_first, other_last) = other.frames();
            let common = (last.min(other_last) + 1).saturating_sub(first.max(other_first));
            let beside = other.columns();
            2 * common >= (last + 1 - first).min(other_last + 1 - other_first)
                && *columns.start() <= beside.end() + reach
                && columns.end() + reach >= *beside.start()
        });
        match home {
            Some(home) => home.rests.extend(contact.rests),
            None => whole.push(contact),
        }
    }
    whole.retain(|contact| contact.rests.len() >= 6);
    whole
}
