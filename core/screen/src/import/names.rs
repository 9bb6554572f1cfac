//! Whom and what the names of a table mean.

use std::collections::{BTreeMap, BTreeSet};

use pitside_book::store::{Book, BookError, Filter};
use pitside_model::facts::{Card, Exercise, Fact, MemberId, field_name, kind};
use uuid::Uuid;

use super::{Naming, Newcomer, Reason, Who};

/// Names that come near and are told.
const NEAREST: usize = 3;
/// Unknown names for which near ones are looked up: a table of nothing else shall not
/// take long.
const LOOKED_UP: usize = 200;
/// How near a name must come, from 0 (nothing in common) to 1.
const NEAR: f64 = 0.5;

/// A name as it is compared: small letters, one blank between words.
fn plain(name: &str) -> String {
    name.to_lowercase().split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Known names by which unknown ones are looked up.
#[derive(Default)]
struct Names {
    /// The plain name, and as it is shown.
    all: Vec<(String, String)>,
    /// What was looked up already.
    asked: BTreeMap<String, Vec<String>>,
}

impl Names {
    fn add(&mut self, shown: &str) {
        self.all.push((plain(shown), shown.to_owned()));
    }

    /// The names nearest to one; those that have it as a part come first.
    fn nearest(&mut self, name: &str) -> Vec<String> {
        let name = plain(name);
        if let Some(found) = self.asked.get(&name) {
            return found.clone();
        }
        if self.asked.len() >= LOOKED_UP {
            return Vec::new();
        }
        let near = |known: &str| {
            let part = known.contains(&name) || name.contains(known);
            strsim::normalized_damerau_levenshtein(known, &name) + if part { 1.0 } else { 0.0 }
        };
        let mut found: Vec<(f64, &String)> =
            self.all.iter().map(|(known, shown)| (near(known), shown)).collect();
        found.retain(|(near, _)| *near >= NEAR);
        found.sort_by(|a, b| b.0.total_cmp(&a.0).then_with(|| a.1.cmp(b.1)));
        found.dedup_by(|a, b| a.1 == b.1);
        let found: Vec<String> = found.into_iter().take(NEAREST).map(|(_, shown)| shown.clone()).collect();
        self.asked.insert(name, found.clone());
        found
    }
}

/// The athletes of a squad, and those a table adds.
pub(super) struct People {
    naming: Naming,
    by_name: BTreeMap<String, Vec<Who>>,
    called: BTreeMap<MemberId, String>,
    /// Names of those who left.
    left: BTreeSet<String>,
    names: Names,
    pub(super) newcomers: Vec<Newcomer>,
}

impl People {
    pub(super) fn read(book: &Book, naming: Naming) -> Result<Self, BookError> {
        let members = book.members()?;
        let authority = book.authority()?;
        let filter = Filter { kind: Some(kind::MEMBER), field: Some(field_name::NAME), ..Filter::default() };
        let mut people = Self {
            naming,
            by_name: BTreeMap::new(),
            called: BTreeMap::new(),
            left: BTreeSet::new(),
            names: Names::default(),
            newcomers: Vec::new(),
        };
        for held in book.held(&filter)? {
            let Some(member) = held.key.scope.member().map(|member| authority.person(member)) else {
                continue;
            };
            for live in &held.values {
                let Ok(Fact::Card(Card::Name(name))) = &live.fact else { continue };
                if !members.contains(&member) {
                    people.left.insert(plain(name));
                    continue;
                }
                let who = people.by_name.entry(plain(name)).or_default();
                if !who.contains(&Who::Known(member)) {
                    who.push(Who::Known(member));
                }
                people.called.entry(member).or_insert_with(|| name.clone());
                people.names.add(name);
            }
        }
        Ok(people)
    }

    /// Whose a row is that names nobody.
    pub(super) fn unnamed(&self) -> Option<Who> {
        self.naming.unnamed.map(Who::Known)
    }

    /// Who is meant by a name; somebody new where that was allowed.
    pub(super) fn find(&mut self, name: &str, line: u64) -> Result<Who, Reason> {
        match self.by_name.get(&plain(name)).map(Vec::as_slice) {
            Some([one]) => Ok(*one),
            Some([_, ..]) => Err(Reason::Several { name: name.to_owned() }),
            _ if self.left.contains(&plain(name)) => Err(Reason::Left { name: name.to_owned() }),
            _ => {
                let nearest = self.names.nearest(name);
                if !self.naming.new_members {
                    return Err(Reason::Nobody { name: name.to_owned(), nearest });
                }
                let who = Who::New(self.newcomers.len());
                self.newcomers.push(Newcomer { name: name.to_owned(), line, nearest });
                self.by_name.insert(plain(name), vec![who]);
                Ok(who)
            }
        }
    }

    /// How somebody is called; nobody's name is empty.
    pub(super) fn called(&self, who: Who) -> String {
        let name = match who {
            Who::Known(member) => self.called.get(&member),
            Who::New(at) => self.newcomers.get(at).map(|newcomer| &newcomer.name),
        };
        name.cloned().unwrap_or_default()
    }
}

/// The exercises of a squad.
pub(super) struct Exercises {
    all: Vec<(Uuid, Exercise)>,
    by_name: BTreeMap<String, Vec<usize>>,
    names: Names,
}

impl Exercises {
    pub(super) fn read(book: &Book) -> Result<Self, BookError> {
        let all = book.exercises()?;
        let (mut by_name, mut names) = (BTreeMap::<_, Vec<usize>>::new(), Names::default());
        for (at, (_, exercise)) in all.iter().enumerate() {
            by_name.entry(plain(&exercise.name)).or_default().push(at);
            names.add(&exercise.name);
        }
        Ok(Self { all, by_name, names })
    }

    /// What is meant by a name.
    pub(super) fn find(&mut self, name: &str) -> Result<(Uuid, &Exercise), Reason> {
        match self.by_name.get(&plain(name)).map(Vec::as_slice) {
            Some([one]) if *one < self.all.len() => {
                let (id, exercise) = &self.all[*one];
                Ok((*id, exercise))
            }
            Some(_) => Err(Reason::SeveralExercises { name: name.to_owned() }),
            None => Err(Reason::NoExercise { name: name.to_owned(), nearest: self.names.nearest(name) }),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn near_names_are_told_the_nearest_first() {
        let mut names = Names::default();
        for name in ["Pogo, two legs", "Pogo, one leg", "Drop jump", "Bounds, standing"] {
            names.add(name);
        }
        assert_eq!(names.nearest("pogo"), ["Pogo, one leg", "Pogo, two legs"]);
        assert_eq!(names.nearest("Drop  jmup"), ["Drop jump"]);
        assert!(names.nearest("xyz").is_empty());
    }

    #[test]
    fn looking_up_ends() {
        let mut names = Names::default();
        names.add("Pogo 1");
        for n in 0..LOOKED_UP {
            assert!(!names.nearest(&format!("Pogo {n}")).is_empty());
        }
        assert!(names.nearest("Pogo x").is_empty());
        assert!(!names.nearest("Pogo 7").is_empty());
    }
}
