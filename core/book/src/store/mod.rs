//! The book: everything one device holds of one squad, in one SQLite file.
//!
//! Entries and seals are the truth; `live`, `replaced`, `grants` and the
//! judgements are the projection that merge makes of them, kept up to date with
//! every entry, so that opening a book replays nothing. Whatever a call of this
//! module has returned `Ok` for is on the disk.
//!
//! One connection writes, behind a lock; a few others read, so that a screen
//! does not wait for a sync. One process at a time has a book open.

mod error;
mod held;
mod ledger;
mod replica;
mod schema;

pub use error::BookError;
pub use held::{Draft, Filter, Held, Live};
pub use replica::BookReplica;

use std::collections::BTreeMap;
use std::fs::{File, OpenOptions, TryLockError};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Mutex, MutexGuard, PoisonError};

use pitside_log::authority::{Grants, Judgement, Root};
use pitside_log::entry::{Body, Entry, Header, Key, origin};
use pitside_log::merge::{Ledger, apply};
use pitside_log::opening::Opening;
use pitside_log::seal::{MAX_BYTES, MAX_ENTRIES, Seal};
use pitside_log::sync::SECRET;
use pitside_model::cbor::{decode, encode};
use pitside_model::facts::{
    DeviceKey, Exercise, Extra, Fact, Founding, Grant, Hash, LogId, MemberId, Place, Role, Roster, Scope,
    SquadId, Standing, Subject, field_name, kind,
};
use pitside_model::load::catalogue;
use rusqlite::{Connection, OpenFlags, OptionalExtension, ToSql, Transaction, TransactionBehavior, params};
use uuid::Uuid;

use crate::clock::Stamp;
use crate::durable::{make_folder, sync_folder};
use crate::keys::{Identity, OsRng, Rng};
use ledger::{SqlLedger, bytes32, damaged, judgement_of, scope as read_scope, scope_bytes};

/// The file of a book in its folder.
pub const FILE: &str = "book.sqlite";
const LOCK: &str = "book.lock";
/// What a book is made as, until it is whole.
const DRAFT: &str = "book.sqlite.new";
/// Readers kept open between two calls.
const READERS: usize = 4;

/// An open book.
#[derive(Debug)]
pub struct Book {
    path: PathBuf,
    identity: Identity,
    demo: bool,
    writer: Mutex<Connection>,
    readers: Mutex<Vec<Connection>>,
    squad: Mutex<Option<SquadId>>,
    revision: AtomicU64,
    /// Held as long as the book is open; the system lets go of it when the
    /// process dies.
    _lock: File,
}

/// An entry that is held and does not count.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Uncounted {
    /// Where it stands.
    pub place: Place,
    /// Its kind of fact.
    pub kind: String,
    /// The scope of its log.
    pub scope: Scope,
    /// The device that wrote it.
    pub device: DeviceKey,
    /// Why it does not count.
    pub judgement: Judgement,
}

/// Bytes that were received and refused.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Aside {
    /// Why.
    pub reason: String,
    /// Who sent them.
    pub from: Option<DeviceKey>,
    /// How many.
    pub bytes: u64,
    /// When.
    pub at_ms: i64,
}

/// What other devices are known to have of this device's own entries.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Carried {
    /// Own sets that no other device has confirmed.
    pub only_here: u64,
    /// The stamp of the oldest of them.
    pub oldest_only_here_ms: Option<i64>,
    /// The devices met, and when each last confirmed what it has.
    pub peers: Vec<(DeviceKey, i64)>,
}

/// An open invitation.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OpenInvitation {
    /// Its one-time secret.
    pub secret: [u8; SECRET],
    /// The member it is for, where it is for one.
    pub member: Option<MemberId>,
    /// When it ends, by this device's clock.
    pub expires_ms: i64,
}

impl Book {
    /// Makes a new book in a folder, which is made too where it is missing.
    ///
    /// A demo book takes part in an invented squad only.
    ///
    /// # Errors
    /// [`BookError::Exists`], [`BookError::ReadOnly`], [`BookError::InUse`].
    pub fn create(folder: &Path, identity: Identity, demo: bool) -> Result<Self, BookError> {
        if Self::exists(folder) {
            return Err(BookError::Exists(folder.to_owned()));
        }
        let denied = |source| BookError::ReadOnly { path: folder.to_owned(), source };
        make_folder(folder).map_err(denied)?;
        let lock = lock(folder)?;
        // Another program may have made one meanwhile.
        if Self::exists(folder) {
            return Err(BookError::Exists(folder.to_owned()));
        }
        // Made beside, and put in its place whole: where the machine stops there
        // is no book or all of it.
        let (draft, path) = (folder.join(DRAFT), folder.join(FILE));
        for part in ["-wal", "-journal", ""] {
            match std::fs::remove_file(folder.join(format!("{DRAFT}{part}"))) {
                Err(e) if e.kind() != std::io::ErrorKind::NotFound => return Err(denied(e)),
                _ => {}
            }
        }
        let mut connection = connect(&draft, true)?;
        let transaction = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
        schema::migrate(&transaction, &draft)?;
        set_meta(&transaction, "device", &identity.key().0)?;
        set_meta(&transaction, "demo", &[u8::from(demo)])?;
        set_meta(&transaction, "projection", &schema::PROJECTION.to_be_bytes())?;
        transaction.commit()?;
        // Closing would fold the log in too, and say nothing where that fails.
        connection.query_row("PRAGMA wal_checkpoint(TRUNCATE)", [], |_| Ok(()))?;
        connection.close().map_err(|(_, e)| e)?;
        std::fs::rename(&draft, &path).and_then(|()| sync_folder(folder)).map_err(denied)?;
        let connection = connect(&path, false)?;
        Ok(Self::assemble(path, identity, demo, connection, None, lock))
    }

    /// Opens the book of a folder.
    ///
    /// # Errors
    /// [`BookError::Missing`], [`BookError::InUse`], [`BookError::Newer`],
    /// [`BookError::Damaged`], [`BookError::OtherDevice`], [`BookError::ReadOnly`].
    pub fn open(folder: &Path, identity: Identity) -> Result<Self, BookError> {
        if !Self::exists(folder) {
            return Err(BookError::Missing(folder.to_owned()));
        }
        let lock = lock(folder)?;
        let path = folder.join(FILE);
        let mut connection = connect(&path, false)?;
        let damage = |why: &str| BookError::Damaged { path: path.clone(), why: why.to_owned() };
        let found = schema::version(&connection).map_err(|e| damage(&e.to_string()))?;
        if found > schema::VERSION {
            return Err(BookError::Newer { path, found, known: schema::VERSION });
        }
        let transaction = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
        schema::migrate(&transaction, &path)?;
        let device = meta(&transaction, "device")?.ok_or_else(|| damage("it names no device"))?;
        if device != identity.key().0 {
            return Err(BookError::OtherDevice(path));
        }
        let demo = meta(&transaction, "demo")?.as_deref() == Some(&[1]);
        let squad = match meta(&transaction, "squad")? {
            None => None,
            Some(bytes) => Some(SquadId(bytes.try_into().map_err(|_| damage("its squad has no id"))?)),
        };
        if meta(&transaction, "projection")?.as_deref() != Some(&schema::PROJECTION.to_be_bytes()) {
            rebuild(&transaction, &Root { squad, device: identity.key() })?;
            set_meta(&transaction, "projection", &schema::PROJECTION.to_be_bytes())?;
        }
        transaction.commit()?;
        Ok(Self::assemble(path, identity, demo, connection, squad, lock))
    }

    fn assemble(
        path: PathBuf,
        identity: Identity,
        demo: bool,
        writer: Connection,
        squad: Option<SquadId>,
        lock: File,
    ) -> Self {
        Self {
            path,
            identity,
            demo,
            writer: Mutex::new(writer),
            readers: Mutex::new(Vec::new()),
            squad: Mutex::new(squad),
            revision: AtomicU64::new(1),
            _lock: lock,
        }
    }

    /// Whether a folder has a book.
    #[must_use]
    pub fn exists(folder: &Path) -> bool {
        folder.join(FILE).is_file()
    }

    /// This device.
    #[must_use]
    pub fn device(&self) -> DeviceKey {
        self.identity.key()
    }
    /// The identity with which it signs.
    #[must_use]
    pub fn identity(&self) -> &Identity {
        &self.identity
    }
    /// The squad, once there is one.
    #[must_use]
    pub fn squad(&self) -> Option<SquadId> {
        *guard(&self.squad)
    }
    /// Whether it is a book of the invented demo squad.
    #[must_use]
    pub fn is_demo(&self) -> bool {
        self.demo
    }
    /// Grows with every change; screens made at one revision stay true until the
    /// next.
    #[must_use]
    pub fn revision(&self) -> u64 {
        self.revision.load(Ordering::Acquire)
    }

    fn root(&self) -> Root {
        Root { squad: self.squad(), device: self.device() }
    }

    /// Runs `work` in one transaction of the writing connection.
    fn writing<T>(
        &self,
        work: impl FnOnce(&Transaction<'_>) -> Result<T, BookError>,
    ) -> Result<T, BookError> {
        let mut writer = guard(&self.writer);
        let transaction = writer.transaction_with_behavior(TransactionBehavior::Immediate)?;
        let done = work(&transaction)?;
        transaction.commit()?;
        self.revision.fetch_add(1, Ordering::AcqRel);
        Ok(done)
    }

    /// Runs `work` on a reading connection: a snapshot that no writer holds up.
    fn reading<T>(&self, work: impl FnOnce(&Connection) -> Result<T, BookError>) -> Result<T, BookError> {
        let spare = guard(&self.readers).pop();
        let connection = match spare {
            Some(connection) => connection,
            None => connect(&self.path, false)?,
        };
        let done = {
            let snapshot = connection.unchecked_transaction()?;
            let done = work(&snapshot);
            snapshot.finish()?;
            done
        };
        let mut readers = guard(&self.readers);
        if readers.len() < READERS {
            readers.push(connection);
        }
        done
    }

    /// Founds a squad: this device becomes its owner, and the catalogue of
    /// exercises is written.
    ///
    /// # Errors
    /// [`BookError::HasSquad`], or the name is refused.
    pub fn found(&self, name: &str, now: Stamp) -> Result<SquadId, BookError> {
        let mut current = guard(&self.squad);
        if current.is_some() {
            return Err(BookError::HasSquad);
        }
        let squad = self.writing(|t| {
            let founding = Fact::Founding(Founding { demo: self.demo, recovery: None });
            let place = self.append(t, Scope::Squad, &Draft::new(founding), now)?;
            let Some(entry) = SqlLedger(t).entry(place)? else {
                return Err(damaged("an entry expected").into());
            };
            let squad = SquadId(entry.hash.0);
            set_meta(t, "squad", &squad.0)?;
            let root = Root { squad: Some(squad), device: self.device() };
            rebuild(t, &root)?;
            let started = started_member(t)?;
            if !started.is_empty() {
                let grant = Fact::Grant(Grant { role: Role::Owner, members: started });
                let draft = Draft::about(Subject::Device(self.device()), grant);
                self.put(t, &root, Scope::Squad, &draft, now)?;
            }
            let name = Fact::SquadName(name.to_owned());
            self.put(t, &root, Scope::Squad, &Draft::about(Subject::Fact(place), name), now)?;
            for item in catalogue::all() {
                let draft = Draft::about(Subject::Uuid(item.id), Fact::Exercise(item.exercise));
                self.put(t, &root, Scope::Squad, &draft, now)?;
            }
            Ok(squad)
        })?;
        *current = Some(squad);
        Ok(squad)
    }

    /// Makes the member that this device serves before any pairing, once.
    ///
    /// # Errors
    /// [`BookError::HasSquad`] where the book has a squad.
    pub fn start_member(&self, now: Stamp) -> Result<MemberId, BookError> {
        if self.squad().is_some() {
            return Err(BookError::HasSquad);
        }
        self.writing(|t| {
            if let Some(member) = started_member(t)?.first() {
                return Ok(*member);
            }
            let member = new_member(now)?;
            set_meta(t, "member", member.0.as_bytes())?;
            Ok(member)
        })
    }

    /// Serves a member who was made elsewhere: the one an invitation is for.
    ///
    /// # Errors
    /// [`BookError::HasSquad`] where the book has a squad.
    pub fn serve(&self, member: MemberId) -> Result<(), BookError> {
        if self.squad().is_some() {
            return Err(BookError::HasSquad);
        }
        self.writing(|t| Ok(set_meta(t, "member", member.0.as_bytes())?))
    }

    /// Puts a new member on the roster, with a name. Owner devices do that for
    /// athletes who have no phone yet.
    ///
    /// # Errors
    /// [`BookError::NotAllowed`], or the name is refused.
    pub fn add_member(&self, name: &str, now: Stamp) -> Result<MemberId, BookError> {
        let root = self.root();
        self.writing(|t| {
            let member = new_member(now)?;
            let roster = Fact::Roster(Roster { standing: Standing::Active, since: now.day() });
            self.put(t, &root, Scope::Squad, &Draft::about(Subject::Uuid(member.0), roster), now)?;
            let card = Fact::Card(pitside_model::facts::Card::Name(name.to_owned()));
            self.put(t, &root, Scope::Member(member), &Draft::about(Subject::Uuid(member.0), card), now)?;
            Ok(member)
        })
    }

    /// Writes one fact.
    ///
    /// # Errors
    /// [`BookError::Refused`] where a field is out of its range,
    /// [`BookError::NotAllowed`] where this device may not write it there.
    pub fn write(&self, scope: Scope, draft: &Draft, now: Stamp) -> Result<Place, BookError> {
        let root = self.root();
        self.writing(|t| self.put(t, &root, scope, draft, now))
    }

    /// Writes a field of a member, exercise, device or session in the place of
    /// every value that the book holds of it; anew where it holds none.
    ///
    /// # Errors
    /// As [`Book::write`].
    pub fn revise(&self, scope: Scope, subject: Subject, fact: Fact, now: Stamp) -> Result<Place, BookError> {
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
    pub fn write_all(&self, drafts: &[(Scope, Draft)], now: Stamp) -> Result<Vec<Place>, BookError> {
        let root = self.root();
        self.writing(|t| drafts.iter().map(|(scope, draft)| self.put(t, &root, *scope, draft, now)).collect())
    }

    /// Appends and takes into the state; an entry that would not count is not
    /// written.
    fn put(
        &self,
        t: &Transaction<'_>,
        root: &Root,
        scope: Scope,
        draft: &Draft,
        now: Stamp,
    ) -> Result<Place, BookError> {
        let place = self.append(t, scope, draft, now)?;
        let mut ledger = SqlLedger(t);
        apply(&mut ledger, root, place)?;
        match ledger.judgement(place)? {
            Some(Judgement::Counted) => Ok(place),
            Some(Judgement::Refused(reason)) => Err(BookError::NotAllowed(Some(reason))),
            _ => Err(BookError::NotAllowed(None)),
        }
    }

    /// Appends an entry to this device's log of the scope, which is opened where
    /// it is missing, and seals it where a seal is due.
    fn append(
        &self,
        t: &Transaction<'_>,
        scope: Scope,
        draft: &Draft,
        now: Stamp,
    ) -> Result<Place, BookError> {
        let payload = draft.fact.write(&draft.extra)?;
        let kind = match (draft.fact.address(), &draft.kind) {
            (Some((kind, _)), _) => kind.to_owned(),
            (None, Some(kind)) => kind.clone(),
            (None, None) => return Err(BookError::NotAllowed(None)),
        };
        let (row, log, head_seq, head_hash) = self.own_log(t, scope)?;
        let mut salt = [0; 16];
        OsRng.fill(&mut salt).map_err(BookError::Random)?;
        let body = Body { salt, payload };
        let header = Header {
            kind,
            target: draft.target.clone(),
            stamp_ms: now.ms,
            zone_min: now.zone_min,
            replaces: draft.replaces.clone(),
            commitment: body.commitment(),
        };
        let place = Place { log, seq: head_seq + 1 };
        let entry =
            Entry::from_parts(place, scope, head_hash, header.to_bytes(), Some(body)).map_err(|e| {
                BookError::Damaged {
                    path: self.path.clone(),
                    why: format!("an entry could not be made: {e}"),
                }
            })?;
        insert_entry(t, row, &entry)?;
        let size = entry.header_bytes.len() + entry.body.as_ref().map_or(0, |b| b.payload.len());
        t.prepare_cached(
            "UPDATE logs SET head_seq = ?2, head_hash = ?3, unsealed_bytes = unsealed_bytes + ?4 WHERE id = ?1",
        )?
        .execute(params![row, place.seq, entry.hash.0.as_slice(), size as u64])?;
        let (sealed, bytes): (u64, u64) = t
            .prepare_cached("SELECT sealed_seq, unsealed_bytes FROM logs WHERE id = ?1")?
            .query_row([row], |r| Ok((r.get(0)?, r.get(1)?)))?;
        if place.seq - sealed >= MAX_ENTRIES || bytes >= MAX_BYTES as u64 {
            self.seal_log(t, row, log, place.seq, entry.hash)?;
        }
        Ok(place)
    }

    fn own_log(&self, t: &Transaction<'_>, scope: Scope) -> Result<(i64, LogId, u64, Hash), BookError> {
        let found = t
            .prepare_cached("SELECT id, log, head_seq, head_hash FROM logs WHERE device = ?1 AND scope = ?2")?
            .query_row(params![self.device().0.as_slice(), scope_bytes(scope)], |r| {
                Ok((r.get(0)?, LogId(bytes32(r, 1)?), r.get(2)?, Hash(bytes32(r, 3)?)))
            })
            .optional()?;
        if let Some(found) = found {
            return Ok(found);
        }
        let mut nonce = [0; 16];
        OsRng.fill(&mut nonce).map_err(BookError::Random)?;
        let opening = Opening::new(&self.identity, scope, nonce);
        let row = insert_log(t, &opening)?;
        let log = opening.id();
        Ok((row, log, 0, origin(log)))
    }

    fn seal_log(
        &self,
        t: &Transaction<'_>,
        row: i64,
        log: LogId,
        seq: u64,
        hash: Hash,
    ) -> Result<(), BookError> {
        insert_seal(t, row, &Seal::new(&self.identity, log, seq, hash))?;
        Ok(())
    }

    /// Seals every own log up to its last entry.
    ///
    /// # Errors
    /// Where the book cannot be written.
    pub fn seal(&self) -> Result<(), BookError> {
        self.writing(|t| {
            let open: Vec<(i64, LogId, u64, Hash)> = t
                .prepare_cached(
                    "SELECT id, log, head_seq, head_hash FROM logs WHERE device = ?1 AND head_seq > sealed_seq",
                )?
                .query_map([self.device().0.as_slice()], |r| {
                    Ok((r.get(0)?, LogId(bytes32(r, 1)?), r.get(2)?, Hash(bytes32(r, 3)?)))
                })?
                .collect::<Result<_, _>>()?;
            for (row, log, seq, hash) in open {
                self.seal_log(t, row, log, seq, hash)?;
            }
            Ok(())
        })
    }

    /// The live facts that a filter lets through, the earliest day first, then
    /// by stamp. Facts whose one live value is a deletion are left out.
    ///
    /// # Errors
    /// Where the book cannot be read.
    pub fn held(&self, filter: &Filter<'_>) -> Result<Vec<Held>, BookError> {
        self.reading(|c| held(c, filter))
    }

    /// Members on the roster, served by a counted device, or started here.
    ///
    /// # Errors
    /// Where the book cannot be read.
    pub fn members(&self) -> Result<Vec<MemberId>, BookError> {
        self.reading(|c| {
            let mut members: std::collections::BTreeSet<MemberId> = started_member(c)?.into_iter().collect();
            for (_, grants) in all_grants(c)? {
                members.extend(grants.members);
            }
            let roster = Filter {
                kind: Some(kind::MEMBER),
                field: Some(field_name::ROSTER),
                scope: Some(Scope::Squad),
                ..Filter::default()
            };
            for held in held(c, &roster)? {
                let (Subject::Uuid(id), Some(Fact::Roster(entry))) = (held.key.subject, held.fact()) else {
                    continue;
                };
                match entry.standing {
                    Standing::Active => members.insert(MemberId(id)),
                    Standing::Left => members.remove(&MemberId(id)),
                };
            }
            Ok(members.into_iter().collect())
        })
    }

    /// The members that this device serves.
    ///
    /// # Errors
    /// Where the book cannot be read.
    pub fn own_members(&self) -> Result<Vec<MemberId>, BookError> {
        self.reading(|c| {
            let mut members = SqlLedger(c).grants(self.device())?.members;
            members.extend(started_member(c)?);
            Ok(members.into_iter().collect())
        })
    }

    /// The exercises of the squad in the order they were written, or the product's
    /// own before there is a squad.
    ///
    /// # Errors
    /// Where the book cannot be read.
    pub fn exercises(&self) -> Result<Vec<(Uuid, Exercise)>, BookError> {
        let held = self.held(&Filter { kind: Some(kind::EXERCISE), ..Filter::default() })?;
        let found: Vec<(Uuid, Exercise)> = held
            .iter()
            .filter_map(|held| match (held.key.subject, held.fact()) {
                (Subject::Uuid(id), Some(Fact::Exercise(exercise))) => Some((id, exercise.clone())),
                _ => None,
            })
            .collect();
        if found.is_empty() {
            return Ok(catalogue::all().into_iter().map(|item| (item.id, item.exercise)).collect());
        }
        Ok(found)
    }

    /// Whether a member lets the staff see the private part. While two people
    /// disagree on a consent, it is not given.
    ///
    /// # Errors
    /// Where the book cannot be read.
    pub fn shares_private(&self, member: MemberId) -> Result<bool, BookError> {
        let consent = self.held(&Filter {
            scope: Some(Scope::Member(member)),
            kind: Some(kind::CONSENT),
            field: Some(field_name::PRIVATE),
            subject: Some(Subject::Uuid(member.0)),
            ..Filter::default()
        })?;
        Ok(consent
            .first()
            .is_some_and(|held| !held.is_clash() && matches!(held.fact(), Some(Fact::Consent(c)) if c.given)))
    }

    /// What a device was given.
    ///
    /// # Errors
    /// Where the book cannot be read.
    pub fn grants(&self, device: DeviceKey) -> Result<Grants, BookError> {
        self.reading(|c| Ok(SqlLedger(c).grants(device)?))
    }

    /// Every device that was given anything.
    ///
    /// # Errors
    /// Where the book cannot be read.
    pub fn devices(&self) -> Result<Vec<(DeviceKey, Grants)>, BookError> {
        self.reading(|c| Ok(all_grants(c)?))
    }

    /// Entries that are held and do not count, with the reason.
    ///
    /// # Errors
    /// Where the book cannot be read.
    pub fn uncounted(&self) -> Result<Vec<Uncounted>, BookError> {
        self.reading(|c| {
            let rows = c
                .prepare_cached(
                    "SELECT l.log, e.seq, e.header, l.scope, l.device, e.judgement
                     FROM logs l JOIN entries e ON e.log = l.id WHERE e.judgement <> 1",
                )?
                .query_map([], |r| {
                    let header: Vec<u8> = r.get(2)?;
                    Ok(Uncounted {
                        place: Place { log: LogId(bytes32(r, 0)?), seq: r.get(1)? },
                        kind: Header::from_bytes(&header).map(|h| h.kind).unwrap_or_default(),
                        scope: read_scope(&r.get::<_, Vec<u8>>(3)?)?,
                        device: DeviceKey(bytes32(r, 4)?),
                        judgement: judgement_of(r.get(5)?),
                    })
                })?
                .collect::<Result<_, _>>()?;
            Ok(rows)
        })
    }

    /// What was received and refused, the newest first.
    ///
    /// # Errors
    /// Where the book cannot be read.
    pub fn aside(&self) -> Result<Vec<Aside>, BookError> {
        self.reading(|c| {
            let rows = c
                .prepare_cached("SELECT reason, peer, length(bytes), at_ms FROM aside ORDER BY id DESC")?
                .query_map([], |r| {
                    let from: Option<Vec<u8>> = r.get(1)?;
                    Ok(Aside {
                        reason: r.get(0)?,
                        from: from.and_then(|b| b.try_into().ok()).map(DeviceKey),
                        bytes: r.get(2)?,
                        at_ms: r.get(3)?,
                    })
                })?
                .collect::<Result<_, _>>()?;
            Ok(rows)
        })
    }

    /// What other devices are known to have of this device's own sets. Nothing
    /// is ever deleted because of it.
    ///
    /// # Errors
    /// Where the book cannot be read.
    pub fn carried(&self) -> Result<Carried, BookError> {
        self.reading(|c| {
            let (only_here, oldest) = c
                .prepare_cached(
                    "SELECT count(*), min(v.stamp_ms) FROM live v JOIN logs l ON l.id = v.log
                     WHERE l.device = ?1 AND v.kind = 'set'
                       AND v.seq > coalesce((SELECT max(seq) FROM receipts r WHERE r.log = l.log), 0)",
                )?
                .query_row([self.device().0.as_slice()], |r| Ok((r.get(0)?, r.get(1)?)))?;
            let peers = c
                .prepare_cached("SELECT device, receipt_ms FROM peers WHERE receipt_ms IS NOT NULL")?
                .query_map([], |r| Ok((DeviceKey(bytes32(r, 0)?), r.get(1)?)))?
                .collect::<Result<_, _>>()?;
            Ok(Carried { only_here, oldest_only_here_ms: oldest, peers })
        })
    }

    /// Whether no other device has confirmed an own entry.
    ///
    /// # Errors
    /// Where the book cannot be read.
    pub fn only_here(&self, place: Place) -> Result<bool, BookError> {
        self.reading(|c| {
            let confirmed: Option<u64> = c
                .prepare_cached("SELECT max(seq) FROM receipts WHERE log = ?1")?
                .query_row([place.log.0.as_slice()], |r| r.get(0))?;
            let own: bool = c
                .prepare_cached("SELECT 1 FROM logs WHERE log = ?1 AND device = ?2")?
                .exists(params![place.log.0.as_slice(), self.device().0.as_slice()])?;
            Ok(own && confirmed.is_none_or(|seq| seq < place.seq))
        })
    }

    /// A draft or setting of this device.
    ///
    /// # Errors
    /// Where the book cannot be read.
    pub fn local(&self, name: &str) -> Result<Option<Vec<u8>>, BookError> {
        self.reading(|c| {
            let value = c
                .prepare_cached("SELECT value FROM local WHERE name = ?1")?
                .query_row([name], |r| r.get(0))
                .optional()?;
            Ok(value)
        })
    }

    /// Keeps a draft or setting of this device, or drops it.
    ///
    /// # Errors
    /// Where the book cannot be written.
    pub fn set_local(&self, name: &str, value: Option<&[u8]>) -> Result<(), BookError> {
        self.writing(|t| {
            match value {
                Some(value) => t
                    .prepare_cached("INSERT OR REPLACE INTO local (name, value) VALUES (?1, ?2)")?
                    .execute(params![name, value])?,
                None => t.prepare_cached("DELETE FROM local WHERE name = ?1")?.execute([name])?,
            };
            Ok(())
        })
    }

    /// Invites a device: whoever shows the secret before the end is admitted,
    /// once. Owner devices only.
    ///
    /// # Errors
    /// [`BookError::NoSquad`], [`BookError::NotAllowed`].
    pub fn invite(
        &self,
        member: Option<MemberId>,
        now: Stamp,
        minutes: u16,
    ) -> Result<OpenInvitation, BookError> {
        if self.squad().is_none() {
            return Err(BookError::NoSquad);
        }
        let mut secret = [0; SECRET];
        OsRng.fill(&mut secret).map_err(BookError::Random)?;
        let expires_ms = now.ms.saturating_add(i64::from(minutes) * 60_000);
        self.writing(|t| {
            if !SqlLedger(t).grants(self.device())?.owner {
                return Err(BookError::NotAllowed(None));
            }
            t.execute("DELETE FROM invitations WHERE expires_ms < ?1", [now.ms])?;
            t.execute(
                "INSERT INTO invitations (secret, member, expires_ms) VALUES (?1, ?2, ?3)",
                params![secret.as_slice(), member.map(|m| m.0.as_bytes().to_vec()), expires_ms],
            )?;
            Ok(OpenInvitation { secret, member, expires_ms })
        })
    }

    /// Keeps where a device was last reached.
    ///
    /// # Errors
    /// Where the book cannot be written.
    pub fn set_peer(&self, device: DeviceKey, addresses: &[String]) -> Result<(), BookError> {
        self.writing(|t| {
            t.prepare_cached(
                "INSERT INTO peers (device, addresses) VALUES (?1, ?2)
                 ON CONFLICT (device) DO UPDATE SET addresses = excluded.addresses",
            )?
            .execute(params![device.0.as_slice(), addresses.join(" ")])?;
            Ok(())
        })
    }

    /// The devices met and where each was last reached.
    ///
    /// # Errors
    /// Where the book cannot be read.
    pub fn peers(&self) -> Result<Vec<(DeviceKey, Vec<String>)>, BookError> {
        self.reading(|c| {
            let rows = c
                .prepare_cached("SELECT device, addresses FROM peers")?
                .query_map([], |r| {
                    let addresses: String = r.get(1)?;
                    let addresses = addresses.split_whitespace().map(str::to_owned).collect();
                    Ok((DeviceKey(bytes32(r, 0)?), addresses))
                })?
                .collect::<Result<_, _>>()?;
            Ok(rows)
        })
    }

    /// Makes the projection anew from the entries. What was there before must
    /// not differ; it is the repair where it does.
    ///
    /// # Errors
    /// Where the book cannot be written.
    pub fn rebuild(&self) -> Result<(), BookError> {
        let root = self.root();
        self.writing(|t| rebuild(t, &root))
    }

    /// Closes the book: the log of the writer is folded into the file.
    ///
    /// # Errors
    /// Where the last write to the file fails; nothing acknowledged is lost.
    pub fn close(self) -> Result<(), BookError> {
        guard(&self.readers).clear();
        let writer = self.writer.into_inner().unwrap_or_else(PoisonError::into_inner);
        writer.close().map_err(|(_, e)| e.into())
    }
}

/// A poisoned lock means that a panic passed through a call. Its transaction
/// was rolled back when it was dropped, so what the lock guards is whole.
fn guard<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}

fn lock(folder: &Path) -> Result<File, BookError> {
    let path = folder.join(LOCK);
    let file = OpenOptions::new()
        .create(true)
        .truncate(false)
        .write(true)
        .open(&path)
        .map_err(|source| BookError::ReadOnly { path: path.clone(), source })?;
    match file.try_lock() {
        Ok(()) => Ok(file),
        Err(TryLockError::WouldBlock) => Err(BookError::InUse(folder.to_owned())),
        Err(TryLockError::Error(source)) => Err(BookError::ReadOnly { path, source }),
    }
}

fn connect(path: &Path, create: bool) -> Result<Connection, BookError> {
    let mut flags = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    if create {
        flags |= OpenFlags::SQLITE_OPEN_CREATE;
    }
    let connection = Connection::open_with_flags(path, flags)?;
    // SQLite opens a file without the right to write for reading alone, and then
    // makes its log with the same rights, in the way of whoever gives them back.
    if connection.is_readonly("main")? {
        let source = std::io::ErrorKind::PermissionDenied.into();
        return Err(BookError::ReadOnly { path: path.to_owned(), source });
    }
    schema::prepare(&connection).map_err(|e| match e.sqlite_error_code() {
        Some(rusqlite::ErrorCode::NotADatabase | rusqlite::ErrorCode::DatabaseCorrupt) => {
            BookError::Damaged { path: path.to_owned(), why: e.to_string() }
        }
        Some(rusqlite::ErrorCode::ReadOnly | rusqlite::ErrorCode::PermissionDenied) => {
            BookError::ReadOnly { path: path.to_owned(), source: std::io::Error::other(e.to_string()) }
        }
        _ => e.into(),
    })?;
    Ok(connection)
}

fn meta(c: &Connection, name: &str) -> rusqlite::Result<Option<Vec<u8>>> {
    c.prepare_cached("SELECT value FROM meta WHERE name = ?1")?.query_row([name], |r| r.get(0)).optional()
}

fn set_meta(c: &Connection, name: &str, value: &[u8]) -> rusqlite::Result<()> {
    c.prepare_cached("INSERT OR REPLACE INTO meta (name, value) VALUES (?1, ?2)")?
        .execute(params![name, value])?;
    Ok(())
}

fn started_member(c: &Connection) -> rusqlite::Result<Vec<MemberId>> {
    let bytes = meta(c, "member")?;
    Ok(bytes.and_then(|b| Uuid::from_slice(&b).ok()).map(MemberId).into_iter().collect())
}

fn new_member(now: Stamp) -> Result<MemberId, BookError> {
    let mut random = [0; 10];
    OsRng.fill(&mut random).map_err(BookError::Random)?;
    let ms = u64::try_from(now.ms).unwrap_or(0);
    Ok(MemberId(uuid::Builder::from_unix_timestamp_millis(ms, &random).into_uuid()))
}

fn all_grants(c: &Connection) -> rusqlite::Result<Vec<(DeviceKey, Grants)>> {
    let devices: Vec<DeviceKey> = c
        .prepare_cached("SELECT device FROM grants")?
        .query_map([], |r| bytes32(r, 0).map(DeviceKey))?
        .collect::<Result<_, _>>()?;
    devices.into_iter().map(|d| Ok((d, SqlLedger(c).grants(d)?))).collect()
}

fn insert_log(t: &Connection, opening: &Opening) -> rusqlite::Result<i64> {
    let log = opening.id();
    t.prepare_cached(
        "INSERT INTO logs (log, device, scope, opening, base_hash, head_seq, head_hash, sealed_seq, sealed_hash)
         VALUES (?1, ?2, ?3, ?4, ?1, 0, ?1, 0, ?1)",
    )?
    .execute(params![
        log.0.as_slice(),
        opening.device.0.as_slice(),
        scope_bytes(opening.scope),
        encode(&opening.to_value())
    ])?;
    Ok(t.last_insert_rowid())
}

fn insert_entry(t: &Connection, row: i64, entry: &Entry) -> rusqlite::Result<()> {
    t.prepare_cached(
        "INSERT INTO entries (log, seq, hash, header, salt, payload) VALUES (?1, ?2, ?3, ?4, ?5, ?6)",
    )?
    .execute(params![
        row,
        entry.place.seq,
        entry.hash.0.as_slice(),
        entry.header_bytes,
        entry.body.as_ref().map(|b| b.salt.to_vec()),
        entry.body.as_ref().map(|b| &b.payload),
    ])?;
    Ok(())
}

fn insert_seal(t: &Connection, row: i64, seal: &Seal) -> rusqlite::Result<()> {
    t.prepare_cached("INSERT OR IGNORE INTO seals (log, seq, hash, signature) VALUES (?1, ?2, ?3, ?4)")?
        .execute(params![row, seal.seq, seal.hash.0.as_slice(), seal.signature.as_slice()])?;
    t.prepare_cached("UPDATE logs SET sealed_seq = ?2, sealed_hash = ?3, unsealed_bytes = 0 WHERE id = ?1")?
        .execute(params![row, seal.seq, seal.hash.0.as_slice()])?;
    Ok(())
}

fn rebuild(t: &Connection, root: &Root) -> Result<(), BookError> {
    t.execute_batch(
        "DELETE FROM live; DELETE FROM replaced; DELETE FROM grants; UPDATE entries SET judgement = NULL;",
    )?;
    let places: Vec<Place> = t
        .prepare("SELECT l.log, e.seq FROM logs l JOIN entries e ON e.log = l.id ORDER BY l.id, e.seq")?
        .query_map([], |r| Ok(Place { log: LogId(bytes32(r, 0)?), seq: r.get(1)? }))?
        .collect::<Result<_, _>>()?;
    let mut ledger = SqlLedger(t);
    for place in places {
        apply(&mut ledger, root, place)?;
    }
    Ok(())
}

fn held(c: &Connection, filter: &Filter<'_>) -> Result<Vec<Held>, BookError> {
    let mut sql = "SELECT v.scope, v.kind, v.subject, v.field, l.log, v.seq, v.hash, l.device, v.stamp_ms,
                          e.header, e.payload, v.day
                   FROM live v JOIN logs l ON l.id = v.log
                        JOIN entries e ON e.log = v.log AND e.seq = v.seq WHERE 1"
        .to_owned();
    let mut values: Vec<Box<dyn ToSql>> = Vec::new();
    let mut narrow = |condition: &str, value: Box<dyn ToSql>| {
        values.push(value);
        sql.push_str(&format!(" AND {condition} ?{}", values.len()));
    };
    if let Some(scope) = filter.scope {
        narrow("v.scope =", Box::new(scope_bytes(scope)));
    }
    // Facts are looked up by member, kind and day; a scope says whose they are.
    if let Some(member) = filter.member.or(filter.scope.and_then(Scope::member)) {
        narrow("v.member =", Box::new(member.0.as_bytes().to_vec()));
    }
    if let Some(kind) = filter.kind {
        narrow("v.kind =", Box::new(kind.to_owned()));
    }
    if let Some(field) = filter.field {
        narrow("v.field =", Box::new(field.to_owned()));
    }
    if let Some(subject) = filter.subject {
        narrow("v.subject =", Box::new(encode(&subject.to_value())));
    }
    if let Some(session) = filter.session {
        narrow("v.session =", Box::new(encode(&session.to_value())));
    }
    if let Some((first, last)) = filter.days {
        narrow("v.day >=", Box::new(first.number()));
        narrow("v.day <=", Box::new(last.number()));
    }
    if filter.clashing {
        // One pass over an index that has all three columns.
        sql.push_str(
            " AND (v.subject, v.kind, v.field) IN
                  (SELECT subject, kind, field FROM live GROUP BY subject, kind, field HAVING count(*) > 1)",
        );
    }
    // The newest value of a fact first; ties by hash, the same on every device.
    sql.push_str(" ORDER BY v.stamp_ms DESC, v.hash DESC");
    let mut statement = c.prepare_cached(&sql)?;
    let mut rows = statement.query(rusqlite::params_from_iter(values.iter()))?;
    let mut found: BTreeMap<Key, Gathered> = BTreeMap::new();
    while let Some(r) = rows.next()? {
        let subject: Vec<u8> = r.get(2)?;
        let key = Key {
            scope: read_scope(&r.get::<_, Vec<u8>>(0)?)?,
            kind: r.get(1)?,
            subject: decode(&subject)
                .ok()
                .and_then(|v| Subject::from_value(&v))
                .ok_or_else(|| damaged("a subject expected"))?,
            field: r.get(3)?,
        };
        let header: Vec<u8> = r.get(9)?;
        let header = Header::from_bytes(&header).map_err(|_| damaged("a header expected"))?;
        let payload: Vec<u8> = r.get::<_, Option<Vec<u8>>>(10)?.unwrap_or_default();
        let read = Fact::read(&key.kind, &key.field, &payload);
        let (fact, extra) = match read {
            Ok((fact, extra)) => (Ok(fact), extra),
            Err(e) => (Err(e), Extra::new()),
        };
        let stamp_ms: i64 = r.get(8)?;
        let live = Live {
            place: Place { log: LogId(bytes32(r, 4)?), seq: r.get(5)? },
            hash: Hash(bytes32(r, 6)?),
            device: DeviceKey(bytes32(r, 7)?),
            stamp: Stamp { ms: stamp_ms, zone_min: header.zone_min },
            fact,
            extra,
        };
        match found.get_mut(&key) {
            // Equal values written at once are one value.
            Some(gathered) => {
                gathered.held.seen.push(live.hash);
                if !gathered.payloads.contains(&payload) {
                    gathered.payloads.push(payload);
                    gathered.held.values.push(live);
                }
            }
            None => {
                let seen = vec![live.hash];
                let held = Held { key: key.clone(), values: vec![live], seen };
                found.insert(key, Gathered { day: r.get(11)?, held, payloads: vec![payload] });
            }
        }
    }
    let mut list: Vec<Gathered> = found.into_values().collect();
    list.retain(|g| g.held.is_clash() || !matches!(g.held.value().fact, Ok(Fact::Deleted)));
    list.sort_by_key(|g| (g.day, g.held.value().stamp, g.held.value().place));
    Ok(list.into_iter().map(|g| g.held).collect())
}

/// A fact while its live values are gathered.
struct Gathered {
    day: Option<i32>,
    held: Held,
    payloads: Vec<Vec<u8>>,
}
