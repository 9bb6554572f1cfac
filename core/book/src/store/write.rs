//! Writing facts: each becomes an entry of this device's log of the scope, and is
//! merged, in one transaction.

use std::sync::atomic::Ordering;

use pitside_log::authority::{Judgement, Root};
use pitside_log::entry::{Body, Content, Entry, Header, is_bound};
use pitside_log::merge::{Ledger, apply};
use pitside_log::opening::Opening;
use pitside_log::seal::{MAX_BYTES, MAX_ENTRIES, Seal};
use pitside_model::facts::{Fact, Hash, MemberId, Scope, Subject, field_name, kind};
use rusqlite::{OptionalExtension, Transaction, TransactionBehavior, params};

use super::held::{Draft, Filter, Held};
use super::ledger::{SqlLedger, scope_bytes};
use super::line::{self, End, LEAF, Place};
use super::{Book, BookError, drop_erased};
use crate::clock::Stamp;
use crate::keys::{Identity, OsRng, Rng};

impl Book {
    /// Writes one fact; gives the hash of its entry, which is the id of a fact
    /// written down anew.
    ///
    /// # Errors
    /// [`BookError::Refused`] where a field is out of its range,
    /// [`BookError::NotAllowed`] where this device may not write it there.
    pub fn write(&self, scope: Scope, draft: &Draft, now: Stamp) -> Result<Hash, BookError> {
        let root = self.root();
        self.writing(|t| self.put(t, &root, scope, draft, now))
    }

    /// Writes a field of a member, exercise, device or session in the place of
    /// every value that the book holds of it; anew where it holds none.
    ///
    /// # Errors
    /// As [`Book::write`].
    pub fn revise(&self, scope: Scope, subject: Subject, fact: Fact, now: Stamp) -> Result<Hash, BookError> {
        let address = fact.address();
        let held = self.held(&Filter {
            scope: Some(scope),
            kind: address.map(|(kind, _)| kind),
            field: address.map(|(_, field)| field),
            subject: Some(subject),
            ..Filter::default()
        })?;
        let draft = match held.first() {
            Some(held) => Draft::replacing(held, fact),
            None => Draft::about(subject, fact),
        };
        self.write(scope, &draft, now)
    }

    /// Writes several facts, all or none.
    ///
    /// # Errors
    /// As [`Book::write`].
    pub fn write_all(&self, drafts: &[(Scope, Draft)], now: Stamp) -> Result<Vec<Hash>, BookError> {
        self.together(now, |all| drafts.iter().map(|(scope, draft)| all.write(*scope, draft)).collect())
    }

    /// Writes what `work` writes in one transaction, all or nothing: where it fails,
    /// nothing of it is in the book. A later fact may name an earlier one, as a set
    /// does its session.
    ///
    /// # Errors
    /// What `work` fails with.
    pub fn together<T>(
        &self,
        now: Stamp,
        work: impl FnOnce(&Together<'_>) -> Result<T, BookError>,
    ) -> Result<T, BookError> {
        let root = self.root();
        self.writing(|t| work(&Together { book: self, t, root, now }))
    }

    /// Does what [`Book::together`] does and takes it all back: it fails where that
    /// would, and leaves the book as it was.
    ///
    /// # Errors
    /// What `work` fails with.
    pub fn rehearse<T>(
        &self,
        now: Stamp,
        work: impl FnOnce(&Together<'_>) -> Result<T, BookError>,
    ) -> Result<T, BookError> {
        let root = self.root();
        let mut writer = super::guard(&self.writer);
        let t = writer.transaction_with_behavior(TransactionBehavior::Immediate)?;
        let done = work(&Together { book: self, t: &t, root, now })?;
        t.rollback()?;
        Ok(done)
    }

    /// Takes the bodies of a fact's live values away, here at once and everywhere
    /// with the next syncs. What is in their place stays: that something was there,
    /// of which kind, by whom and when.
    ///
    /// # Errors
    /// [`BookError::NotAllowed`] where this device may not, or what others may do
    /// hangs on it, a limit, a rule or a consent too; then [`BookError::Busy`] as [`Book::erase_member`].
    pub fn withdraw(&self, held: &Held, now: Stamp) -> Result<(), BookError> {
        let act = [kind::SQUAD, kind::DEVICE, kind::SAME_PERSON, kind::ERASURE];
        if is_bound(&held.key.kind) || act.contains(&held.key.kind.as_str()) {
            return Err(BookError::NotAllowed(None));
        }
        let drafts: Vec<(Scope, Draft)> = held
            .seen
            .iter()
            .map(|hash| (held.key.scope, Draft::about(Subject::Fact(*hash), Fact::Withdrawal)))
            .collect();
        self.write_all(&drafts, now)?;
        self.clean()
    }

    /// Appends and takes into the state; an entry that would not count is not
    /// written.
    pub(super) fn put(
        &self,
        t: &Transaction<'_>,
        root: &Root,
        scope: Scope,
        draft: &Draft,
        now: Stamp,
    ) -> Result<Hash, BookError> {
        let (hash, judgement) = self.append(t, root, scope, draft, now)?;
        match judgement {
            Some(Judgement::Counted) => Ok(hash),
            Some(Judgement::Refused(reason)) => Err(BookError::NotAllowed(Some(reason))),
            _ => Err(BookError::NotAllowed(None)),
        }
    }

    /// Appends an entry to this device's log of the scope, which is opened where
    /// it is missing, seals it where a seal is due, and says how it was judged.
    pub(super) fn append(
        &self,
        t: &Transaction<'_>,
        root: &Root,
        scope: Scope,
        draft: &Draft,
        now: Stamp,
    ) -> Result<(Hash, Option<Judgement>), BookError> {
        self.append_by(t, &self.identity, root, scope, draft, now)
    }

    /// The same with a key. Another than the device's own writes in a new log each
    /// time, since nobody here knows where its others end.
    pub(super) fn append_by(
        &self,
        t: &Transaction<'_>,
        key: &Identity,
        root: &Root,
        scope: Scope,
        draft: &Draft,
        now: Stamp,
    ) -> Result<(Hash, Option<Judgement>), BookError> {
        let own = key.key() == self.device();
        let payload = draft.fact.write(&draft.extra)?;
        let kind = match (draft.fact.address(), &draft.kind) {
            (Some((kind, _)), _) => kind.to_owned(),
            (None, Some(kind)) => kind.clone(),
            (None, None) => return Err(BookError::NotAllowed(None)),
        };
        let end = if own { self.own_log(t, scope)? } else { new_log(t, key, scope)? };
        let mut salt = [0; 16];
        OsRng.fill(&mut salt).map_err(BookError::Random)?;
        let header = Header {
            kind,
            target: draft.target.clone(),
            stamp_ms: now.ms,
            zone_min: now.zone_min,
            replaces: draft.replaces.clone(),
        };
        let place = Place { line: end.line, seq: end.seq + 1 };
        let content = Content::Body(Body { salt, payload });
        let entry = Entry::from_parts(end.log, place.seq, scope, end.hash, header.to_bytes(), content)
            .map_err(|e| BookError::Damaged {
                path: self.folder.join(super::FILE),
                why: format!("an entry could not be made: {e}"),
            })?;
        let hash = entry.hash;
        let size = entry.header_bytes.len() + entry.body().map_or(0, |b| b.payload.len());
        let mut ledger = SqlLedger::new(t);
        ledger.put(place, entry, key.key());
        apply(&mut ledger, root, &[place])?;
        let judgement = ledger.judgement(place)?;
        t.prepare_cached(
            "UPDATE lines SET head_seq = ?2, head_hash = ?3, unsealed_bytes = unsealed_bytes + ?4 WHERE id = ?1",
        )?
        .execute(params![place.line, place.seq, hash.0.as_slice(), size as u64])?;
        let (sealed, bytes): (u64, u64) = t
            .prepare_cached("SELECT sealed_seq, unsealed_bytes FROM lines WHERE id = ?1")?
            .query_row([place.line], |r| Ok((r.get(0)?, r.get(1)?)))?;
        if !own || place.seq - sealed >= MAX_ENTRIES || bytes >= MAX_BYTES as u64 {
            seal_line(t, key, &End { seq: place.seq, hash, ..end })?;
        }
        drop_erased(t, root)?;
        if own {
            self.wrote.store(true, Ordering::Release);
        }
        Ok((hash, judgement))
    }

    /// The end of this device's open log of a scope.
    fn own_log(&self, t: &Transaction<'_>, scope: Scope) -> Result<End, BookError> {
        let found = t
            .prepare_cached(&format!(
                "SELECT id, log, head_seq, head_hash FROM lines l
                 WHERE device = ?1 AND scope = ?2 AND closed = 0 AND {LEAF}"
            ))?
            .query_row(params![self.device().0.as_slice(), scope_bytes(scope)], line::end_of)
            .optional()?;
        if let Some(found) = found {
            return Ok(found);
        }
        new_log(t, &self.identity, scope)
    }

    /// Seals every own log up to its last entry.
    ///
    /// # Errors
    /// Where the book cannot be written.
    pub fn seal(&self) -> Result<(), BookError> {
        self.writing(|t| {
            let open: Vec<End> = t
                .prepare_cached(&format!(
                    "SELECT id, log, head_seq, head_hash FROM lines l
                     WHERE device = ?1 AND head_seq > sealed_seq AND {LEAF}"
                ))?
                .query_map([self.device().0.as_slice()], line::end_of)?
                .collect::<Result<_, _>>()?;
            open.iter().try_for_each(|end| seal_line(t, &self.identity, end))
        })
    }

    /// A draft that puts a squad-wide field of something in the place of what is
    /// held of it.
    pub(super) fn revision_of(
        &self,
        t: &Transaction<'_>,
        subject: Subject,
        fact: Fact,
    ) -> Result<Draft, BookError> {
        let address = fact.address();
        let held = super::read::held(
            t,
            &Filter {
                scope: Some(Scope::Squad),
                kind: address.map(|(kind, _)| kind),
                field: address.map_or(Some(field_name::WHOLE), |(_, field)| Some(field)),
                subject: Some(subject),
                ..Filter::default()
            },
        )?;
        Ok(match held.first() {
            Some(held) => Draft::replacing(held, fact),
            None => Draft::about(subject, fact),
        })
    }
}

/// One transaction of [`Book::together`].
pub struct Together<'a> {
    book: &'a Book,
    t: &'a Transaction<'a>,
    root: Root,
    now: Stamp,
}

impl Together<'_> {
    /// Writes one fact; gives its hash.
    ///
    /// # Errors
    /// As [`Book::write`].
    pub fn write(&self, scope: Scope, draft: &Draft) -> Result<Hash, BookError> {
        self.book.put(self.t, &self.root, scope, draft, self.now)
    }

    /// Puts a new member on the roster, with a name.
    ///
    /// # Errors
    /// As [`Book::add_member`].
    pub fn add_member(&self, name: &str) -> Result<MemberId, BookError> {
        let member = self.book.new_member_id(self.now)?;
        self.book.new_member(self.t, &self.root, member, name, self.now)?;
        Ok(member)
    }
}

/// Opens another log of a scope.
fn new_log(t: &Transaction<'_>, key: &Identity, scope: Scope) -> Result<End, BookError> {
    let mut nonce = [0; 16];
    OsRng.fill(&mut nonce).map_err(BookError::Random)?;
    let row = line::insert(t, &Opening::new(key, scope, nonce), None)?;
    Ok(line::end(t, row)?)
}

fn seal_line(t: &Transaction<'_>, key: &Identity, end: &End) -> Result<(), BookError> {
    Ok(line::insert_seal(t, end.line, &Seal::new(key, end.log, end.seq, end.hash))?)
}
