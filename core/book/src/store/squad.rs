//! The squad: founding, members, devices, invitations, erasure.

use std::collections::BTreeSet;

use pitside_log::authority::{Grants, Judgement, Root, Standing};
use pitside_log::sync::{Admission, Join, SECRET};
use pitside_model::facts::exercise::Exercise;
use pitside_model::facts::{
    Card, Day, DeviceKey, Extra, Fact, Founding, Grant, Head, MemberId, Removal, Role, Roster, SamePerson,
    Scope, SquadId, Standing as OnRoster, Subject, field_name, kind,
};
use pitside_model::load::catalogue;
use rusqlite::{Connection, OptionalExtension, Transaction, params};
use uuid::Uuid;

use super::held::{Draft, Filter};
use super::ledger::{self, member as read_member};
use super::read::{held, person};
use super::{Book, BookError, FILE, line, meta, rebuild, set_meta, started_member};
use crate::clock::Stamp;
use crate::keys::{Identity, OsRng, Recovery, Rng, Seed};

/// A squad that was just founded.
#[derive(Debug)]
pub struct Founded {
    /// The squad.
    pub squad: SquadId,
    /// Its recovery key: kept nowhere, to be printed now.
    pub recovery: Recovery,
}

/// An open invitation.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OpenInvitation {
    /// Its one-time secret.
    pub secret: [u8; SECRET],
    /// What the guest's device will be given.
    pub grant: Grant,
    /// When it ends, by this device's clock.
    pub expires_ms: i64,
}

impl Book {
    /// Founds a squad: this device becomes its owner, and the catalogue of
    /// exercises is written.
    ///
    /// # Errors
    /// [`BookError::HasSquad`], or the name is refused.
    pub fn found(&self, name: &str, now: Stamp) -> Result<Founded, BookError> {
        let mut current = super::guard(&self.squad);
        if current.is_some() || self.recovers()?.is_some() {
            return Err(BookError::HasSquad);
        }
        let seed = Seed::generate(&mut OsRng).map_err(BookError::Random)?;
        let key = Identity::from_seed(Seed::from_bytes(zeroize::Zeroizing::new(*seed.expose()))).key();
        let squad = self.writing(|t| {
            let none = Root { squad: None, device: self.device() };
            let founding = Fact::Founding(Founding { demo: self.demo, recovery: Some(key.0) });
            let (founding, _) = self.append(t, &none, Scope::Squad, &Draft::new(founding), now)?;
            let squad = SquadId(founding.0);
            set_meta(t, "squad", &squad.0)?;
            let root = Root { squad: Some(squad), device: self.device() };
            rebuild(t, &root)?;
            let started = started_member(t)?;
            if !started.is_empty() {
                let grant = Fact::Grant(Grant::new(Role::Owner, started));
                self.put(t, &root, Scope::Squad, &Draft::about(Subject::Device(self.device()), grant), now)?;
            }
            let name = Draft::about(Subject::Fact(founding), Fact::SquadName(name.to_owned()));
            self.put(t, &root, Scope::Squad, &name, now)?;
            for item in catalogue::all() {
                let draft = Draft::about(Subject::Uuid(item.id), Fact::Exercise(item.exercise));
                self.put(t, &root, Scope::Squad, &draft, now)?;
            }
            Ok(squad)
        })?;
        *current = Some(squad);
        Ok(Founded { squad, recovery: Recovery { squad, demo: self.demo, seed } })
    }

    /// Carries a squad on by its recovery key: this device is made an owner by the
    /// key, senior to the founder, and gathers the squad from the devices that
    /// come to it with an invitation. Says so until the first came.
    ///
    /// # Errors
    /// [`BookError::HasSquad`], [`BookError::Demo`].
    pub fn recover(&self, recovery: &Recovery, now: Stamp) -> Result<(), BookError> {
        if self.squad().is_some() || self.recovers()?.is_some() {
            return Err(BookError::HasSquad);
        }
        if recovery.demo != self.demo {
            return Err(BookError::Demo);
        }
        self.writing(|t| {
            let key = recovery.identity();
            let members = started_member(t)?;
            let grant =
                Draft::about(Subject::Device(self.device()), Fact::Grant(Grant::new(Role::Owner, members)));
            self.write_as(t, &key, &grant, now)?;
            set_meta(t, "recovery", &key.key().0)?;
            Ok(set_meta(t, "recovers", &recovery.squad.0)?)
        })
    }

    /// The squad that this device carries on and has not heard from yet.
    ///
    /// # Errors
    /// Where the book cannot be read.
    pub fn recovers(&self) -> Result<Option<SquadId>, BookError> {
        self.reading(|c| Ok(meta(c, "recovers")?.and_then(|b| b.try_into().ok()).map(SquadId)))
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

    /// An id for a member who is to be made: whoever makes one under it twice has made one.
    ///
    /// # Errors
    /// [`BookError::Random`] where the system gives no random bytes.
    pub fn new_member_id(&self, now: Stamp) -> Result<MemberId, BookError> {
        new_member(now)
    }

    /// Whether an id is of the sort that [`Book::new_member_id`] makes: a UUID of version 7.
    #[must_use]
    pub fn makes_ids_like(id: Uuid) -> bool {
        id.get_version_num() == 7
    }

    /// Makes one more member, with a name, that this device serves before any pairing:
    /// siblings share a phone. Pairing takes all of them into the squad. The id is one of
    /// [`Book::new_member_id`].
    ///
    /// # Errors
    /// [`BookError::HasSquad`] where the book has a squad; or the name is refused.
    pub fn start_another(&self, member: MemberId, name: &str, now: Stamp) -> Result<(), BookError> {
        if self.squad().is_some() {
            return Err(BookError::HasSquad);
        }
        let root = self.root();
        self.writing(|t| {
            let mut started: Vec<u8> = started_member(t)?.iter().flat_map(|m| *m.0.as_bytes()).collect();
            started.extend(member.0.as_bytes());
            set_meta(t, "member", &started)?;
            let card = Fact::Card(Card::Name(name.to_owned()));
            self.put(t, &root, Scope::Member(member), &Draft::about(Subject::Uuid(member.0), card), now)?;
            Ok(())
        })
    }

    /// Serves these members, who were made elsewhere, and no other: the one an invitation is
    /// for, or nobody.
    ///
    /// # Errors
    /// [`BookError::HasSquad`] where the book has a squad.
    pub fn serve(&self, members: &[MemberId]) -> Result<(), BookError> {
        if self.squad().is_some() {
            return Err(BookError::HasSquad);
        }
        let ids: Vec<u8> = members.iter().flat_map(|member| *member.0.as_bytes()).collect();
        self.writing(|t| Ok(set_meta(t, "member", &ids)?))
    }

    /// Puts a new member on the roster, with a name. Owner devices do that for
    /// athletes who have no phone yet.
    ///
    /// # Errors
    /// [`BookError::NotAllowed`], or the name is refused.
    pub fn add_member(&self, name: &str, now: Stamp) -> Result<MemberId, BookError> {
        let member = new_member(now)?;
        self.add_member_as(member, name, now)?;
        Ok(member)
    }

    /// The same under an id of [`Book::new_member_id`].
    ///
    /// # Errors
    /// As [`Book::add_member`].
    pub fn add_member_as(&self, member: MemberId, name: &str, now: Stamp) -> Result<(), BookError> {
        let root = self.root();
        self.writing(|t| self.new_member(t, &root, member, name, now))
    }

    /// Makes a member who is on the roster and has a name.
    pub(super) fn new_member(
        &self,
        t: &Transaction<'_>,
        root: &Root,
        member: MemberId,
        name: &str,
        now: Stamp,
    ) -> Result<(), BookError> {
        self.enter(t, root, member, now)?;
        let card = Fact::Card(Card::Name(name.to_owned()));
        self.put(t, root, Scope::Member(member), &Draft::about(Subject::Uuid(member.0), card), now)?;
        Ok(())
    }

    /// Adds an exercise to the squad's own, under a fresh id.
    ///
    /// # Errors
    /// As [`Book::write`].
    pub fn add_exercise(&self, exercise: Exercise, now: Stamp) -> Result<Uuid, BookError> {
        let id = new_id(now)?;
        self.write(Scope::Squad, &Draft::about(Subject::Uuid(id), Fact::Exercise(exercise)), now)?;
        Ok(id)
    }

    /// Puts a member on the roster who is not on it.
    fn enter(&self, t: &Transaction<'_>, root: &Root, member: MemberId, now: Stamp) -> Result<(), BookError> {
        let roster = Filter {
            kind: Some(kind::MEMBER),
            field: Some(field_name::ROSTER),
            subject: Some(Subject::Uuid(member.0)),
            ..Filter::default()
        };
        if held(t, &roster)?.is_empty() {
            let fact =
                Fact::Roster(Roster { standing: OnRoster::Active, since: now.day(), keep_until: None });
            self.put(t, root, Scope::Squad, &Draft::about(Subject::Uuid(member.0), fact), now)?;
        }
        Ok(())
    }

    /// Takes a member off the roster. What is held stays until it is erased; with
    /// a date the coach is reminded then.
    ///
    /// # Errors
    /// [`BookError::NotAllowed`].
    pub fn leave(&self, member: MemberId, keep_until: Option<Day>, now: Stamp) -> Result<(), BookError> {
        let roster = Roster { standing: OnRoster::Left, since: now.day(), keep_until };
        self.revise(Scope::Squad, Subject::Uuid(member.0), Fact::Roster(roster), now)?;
        Ok(())
    }

    /// Members on the roster, served by a counted device, or started here; each
    /// person once, under the first id.
    ///
    /// # Errors
    /// Where the book cannot be read.
    pub fn members(&self) -> Result<Vec<MemberId>, BookError> {
        let authority = self.authority()?;
        self.reading(|c| {
            let mut members: BTreeSet<MemberId> = started_member(c)?.into_iter().collect();
            for standing in authority.standings.values() {
                members.extend(&standing.grants.serves);
            }
            for (member, roster) in roster(c)? {
                match roster.standing {
                    OnRoster::Active => members.insert(member),
                    OnRoster::Left => members.remove(&member),
                };
            }
            let own = authority.standing(self.device());
            members.retain(|m| !authority.erased.contains(m) || own.grants.keeps(*m));
            for member in let_go(c)? {
                members.remove(&member);
            }
            let persons: BTreeSet<MemberId> = members.into_iter().map(|m| authority.person(m)).collect();
            Ok(persons.into_iter().collect())
        })
    }

    /// Members who left and whose data are to be erased by now, with the day.
    ///
    /// # Errors
    /// Where the book cannot be read.
    pub fn kept_too_long(&self, today: Day) -> Result<Vec<(MemberId, Day)>, BookError> {
        let authority = self.authority()?;
        self.reading(|c| {
            let due = roster(c)?.into_iter().filter_map(|(member, roster)| {
                let until = roster.keep_until.filter(|until| *until <= today)?;
                let over = roster.standing == OnRoster::Left && !authority.erased.contains(&member);
                over.then_some((member, until))
            });
            Ok(due.collect())
        })
    }

    /// Every id of an athlete: more than one where two first entries are one person.
    ///
    /// # Errors
    /// Where the book cannot be read.
    pub fn ids(&self, member: MemberId) -> Result<Vec<MemberId>, BookError> {
        self.reading(|c| Ok(super::read::person(c, member)?))
    }

    /// The members that this device serves.
    ///
    /// # Errors
    /// Where the book cannot be read.
    pub fn own_members(&self) -> Result<Vec<MemberId>, BookError> {
        let authority = self.authority()?;
        self.reading(|c| {
            let mut members = authority.standing(self.device()).grants.serves;
            members.extend(started_member(c)?);
            let persons: BTreeSet<MemberId> = members.into_iter().map(|m| authority.person(m)).collect();
            Ok(persons.into_iter().collect())
        })
    }

    /// Says that two first entries are one athlete. Their data are then shown and
    /// added up together, and whoever is given the one is given the other.
    ///
    /// # Errors
    /// [`BookError::NotAllowed`].
    pub fn same_person(&self, a: MemberId, b: MemberId, now: Stamp) -> Result<(), BookError> {
        let draft = Draft::about(Subject::Uuid(a.0), Fact::SamePerson(SamePerson { with: b }));
        self.write(Scope::Squad, &draft, now)?;
        Ok(())
    }

    /// Takes it back: the two are two again.
    ///
    /// # Errors
    /// [`BookError::NotAllowed`].
    pub fn two_persons(&self, member: MemberId, now: Stamp) -> Result<(), BookError> {
        let root = self.root();
        self.writing(|t| {
            for id in person(t, member)? {
                let filter = Filter {
                    scope: Some(Scope::Squad),
                    kind: Some(kind::SAME_PERSON),
                    subject: Some(Subject::Uuid(id.0)),
                    ..Filter::default()
                };
                for held in held(t, &filter)? {
                    self.put(t, &root, Scope::Squad, &Draft::replacing(&held, Fact::Deleted), now)?;
                }
            }
            Ok(())
        })
    }

    /// What a device was given.
    ///
    /// # Errors
    /// Where the book cannot be read.
    pub fn grants(&self, device: DeviceKey) -> Result<Grants, BookError> {
        Ok(self.authority()?.standing(device).grants)
    }

    /// Every device that was given anything, removed ones too; not the recovery key.
    ///
    /// # Errors
    /// Where the book cannot be read.
    pub fn devices(&self) -> Result<Vec<(DeviceKey, Standing)>, BookError> {
        let authority = self.authority()?;
        let devices = authority.standings.iter().filter(|(_, s)| !s.grants.recovery);
        Ok(devices.map(|(device, standing)| (*device, standing.clone())).collect())
    }

    /// Gives a device more.
    ///
    /// # Errors
    /// [`BookError::NotAllowed`], or the grant is refused.
    pub fn give(&self, device: DeviceKey, grant: Grant, now: Stamp) -> Result<(), BookError> {
        self.write(Scope::Squad, &Draft::about(Subject::Device(device), Fact::Grant(grant)), now)?;
        Ok(())
    }

    /// Removes a device from the squad. What it wrote as far as this book has it
    /// counts; what comes later is kept, shown and not counted. Called again for
    /// a removed device it takes in what came meanwhile.
    ///
    /// # Errors
    /// [`BookError::NotAllowed`], also where the device is senior to this one;
    /// [`BookError::Unknown`].
    pub fn remove_device(&self, device: DeviceKey, now: Stamp) -> Result<(), BookError> {
        self.known(device)?;
        let root = self.root();
        self.writing(|t| {
            let draft = self.removal(t, device)?;
            self.put(t, &root, Scope::Squad, &draft, now)?;
            Ok(())
        })
    }

    /// The same by the squad's recovery key, to which every device is junior: for a
    /// lost laptop that is senior to this one.
    ///
    /// # Errors
    /// [`BookError::Unknown`], [`BookError::NotAllowed`] where the key is another
    /// squad's.
    pub fn remove_device_by_recovery(
        &self,
        device: DeviceKey,
        recovery: &Recovery,
        now: Stamp,
    ) -> Result<(), BookError> {
        self.known(device)?;
        if self.squad() != Some(recovery.squad) {
            return Err(BookError::NotAllowed(None));
        }
        self.writing(|t| {
            let draft = self.removal(t, device)?;
            self.write_as(t, &recovery.identity(), &draft, now)
        })
    }

    fn known(&self, device: DeviceKey) -> Result<(), BookError> {
        let known = self.authority()?.standings.contains_key(&device);
        if known { Ok(()) } else { Err(BookError::Unknown("device with this key")) }
    }

    fn removal(&self, t: &Transaction<'_>, device: DeviceKey) -> Result<Draft, BookError> {
        let cut: Vec<Head> = line::ends(t, device)?.iter().map(line::End::head).collect();
        let draft = self.revision_of(t, Subject::Device(device), Fact::Removal(Removal { cut }))?;
        Ok(Draft { extra: Extra::new(), ..draft })
    }

    /// Takes a removal back: the device is one of the squad's again, and all of its
    /// entries count.
    ///
    /// # Errors
    /// [`BookError::NotAllowed`], [`BookError::Unknown`] where it was not removed.
    pub fn readmit_device(&self, device: DeviceKey, now: Stamp) -> Result<(), BookError> {
        let root = self.root();
        self.writing(|t| {
            let filter = Filter {
                scope: Some(Scope::Squad),
                kind: Some(kind::DEVICE),
                field: Some(field_name::REMOVAL),
                subject: Some(Subject::Device(device)),
                ..Filter::default()
            };
            let removals = held(t, &filter)?;
            let Some(removal) = removals.first() else {
                return Err(BookError::Unknown("removal of this device"));
            };
            self.put(t, &root, Scope::Squad, &Draft::replacing(removal, Fact::Deleted), now)?;
            Ok(())
        })
    }

    /// Writes a squad-wide entry with another key than this device's: the
    /// recovery key's, in a log of its own each time.
    fn write_as(
        &self,
        t: &Transaction<'_>,
        key: &Identity,
        draft: &Draft,
        now: Stamp,
    ) -> Result<(), BookError> {
        let root = self.root();
        let (_, judgement) = self.append_by(t, key, &root, Scope::Squad, draft, now)?;
        match judgement {
            // Without a squad nothing can be judged yet.
            Some(Judgement::Counted) => Ok(()),
            Some(Judgement::Waiting) if root.squad.is_none() => Ok(()),
            Some(Judgement::Refused(reason)) => Err(BookError::NotAllowed(Some(reason))),
            _ => Err(BookError::NotAllowed(None)),
        }
    }

    /// Invites a device: whoever shows the secret before the end is admitted,
    /// once. Owner devices only.
    ///
    /// # Errors
    /// [`BookError::NoSquad`], [`BookError::NotAllowed`], or the grant is refused.
    pub fn invite(&self, grant: Grant, now: Stamp, minutes: u16) -> Result<OpenInvitation, BookError> {
        if self.squad().is_none() && self.recovers()?.is_none() {
            return Err(BookError::NoSquad);
        }
        let mut secret = [0; SECRET];
        OsRng.fill(&mut secret).map_err(BookError::Random)?;
        let expires_ms = now.ms.saturating_add(i64::from(minutes) * 60_000);
        let payload = Fact::Grant(grant.clone()).write(&Extra::new())?;
        let own = self.authority()?.standing(self.device());
        if self.squad().is_some() && !(own.grants.owner && own.is_admitted()) {
            return Err(BookError::NotAllowed(None));
        }
        self.writing(|t| {
            t.execute("DELETE FROM invitations WHERE expires_ms < ?1", [now.ms])?;
            t.execute(
                "INSERT INTO invitations (secret, grant_payload, expires_ms) VALUES (?1, ?2, ?3)",
                params![secret.as_slice(), payload, expires_ms],
            )?;
            Ok(OpenInvitation { secret, grant, expires_ms })
        })
    }

    /// Looks a guest's invitation up, and admits the guest if it is open.
    pub(super) fn admit(&self, guest: DeviceKey, join: &Join, now: Stamp) -> Result<Admission, BookError> {
        let root = self.root();
        let admission = self.writing(|t| {
            type Row = (Vec<u8>, i64, Option<Vec<u8>>);
            let found: Option<Row> = t
                .prepare_cached(
                    "SELECT grant_payload, expires_ms, used_by FROM invitations WHERE secret = ?1",
                )?
                .query_row([join.secret.as_slice()], |r| Ok((r.get(0)?, r.get(1)?, r.get(2)?)))
                .optional()?;
            let Some((payload, expires_ms, used_by)) = found else { return Ok(Admission::Unknown) };
            match used_by {
                // A guest that was cut off comes again with the same secret.
                Some(device) if device == guest.0 => return Ok(Admission::Admitted),
                Some(_) => return Ok(Admission::Unknown),
                None if expires_ms < now.ms => return Ok(Admission::Expired),
                None => {}
            }
            let own = ledger::authority(t)?.standing(root.device);
            if root.squad.is_some() && !(own.is_admitted() && own.grants.owner) {
                return Ok(Admission::NotOwner);
            }
            t.execute(
                "UPDATE invitations SET used_by = ?2 WHERE secret = ?1",
                params![join.secret.as_slice(), guest.0.as_slice()],
            )?;
            if root.squad.is_none() {
                // Carried on by the recovery key: the guest was admitted long ago, and
                // brings the proof.
                return Ok(Admission::Admitted);
            }
            let Ok((Fact::Grant(mut grant), _)) = Fact::read(kind::DEVICE, field_name::GRANT, &payload)
            else {
                return Err(super::ledger::damaged("an invitation expected").into());
            };
            // Whom a guest serves already is its own to say.
            if matches!(grant.role, Role::Athlete | Role::Owner) {
                grant.members.extend(&join.members);
                grant.members.sort_unstable();
                grant.members.dedup();
                for member in &grant.members {
                    self.enter(t, &root, *member, now)?;
                }
            }
            let standing = ledger::authority(t)?.standing(guest);
            let mut after = standing.grants.clone();
            after.add(&grant);
            if after != standing.grants {
                let draft = Draft::about(Subject::Device(guest), Fact::Grant(grant));
                self.put(t, &root, Scope::Squad, &draft, now)?;
            }
            Ok(Admission::Admitted)
        })?;
        self.seal()?;
        Ok(admission)
    }

    /// Erases a member: everything held in the member's scopes goes, here at once
    /// and from every other device of the staff with its next sync. The member's
    /// own devices are asked; files already handed over and backups elsewhere are
    /// not reached. Gives the devices that will be asked.
    ///
    /// # Errors
    /// [`BookError::NotAllowed`]. With [`BookError::Busy`] the data are deleted and
    /// a file still has them; the next call or opening cleans it.
    pub fn erase_member(&self, member: MemberId, now: Stamp) -> Result<Vec<DeviceKey>, BookError> {
        let root = self.root();
        let ids = self.writing(|t| {
            let ids = person(t, member)?;
            for id in &ids {
                let draft = Draft::about(Subject::Uuid(id.0), Fact::Erasure);
                self.put(t, &root, Scope::Squad, &draft, now)?;
            }
            Ok(ids)
        })?;
        let authority = self.authority()?;
        let keeps = authority.standings.iter().filter(|(_, s)| ids.iter().any(|id| s.grants.keeps(*id)));
        let asked = keeps.map(|(device, _)| *device).filter(|d| *d != self.device()).collect();
        self.clean()?;
        Ok(asked)
    }

    /// Members whose data the coach asks this device to erase, since it keeps
    /// them for its person.
    ///
    /// # Errors
    /// Where the book cannot be read.
    pub fn asked_to_erase(&self) -> Result<Vec<MemberId>, BookError> {
        let authority = self.authority()?;
        let own = authority.standing(self.device());
        let gone = self.reading(|c| Ok(let_go(c)?))?;
        let asked = authority.erased.iter().filter(|m| own.grants.keeps(**m) && !gone.contains(m));
        Ok(asked.copied().collect())
    }

    /// The person agrees: what this device keeps of an erased member goes too.
    ///
    /// # Errors
    /// [`BookError::Unknown`] where nobody asked for it; else as
    /// [`Book::erase_member`].
    pub fn let_go(&self, member: MemberId, now: Stamp) -> Result<(), BookError> {
        let asked = self.asked_to_erase()?;
        self.writing(|t| {
            let ids: Vec<MemberId> = person(t, member)?.into_iter().filter(|id| asked.contains(id)).collect();
            if ids.is_empty() {
                return Err(BookError::Unknown("wish to erase this member"));
            }
            for id in ids {
                line::purge(t, Scope::Member(id))?;
                line::purge(t, Scope::Private(id))?;
                t.execute(
                    "INSERT OR REPLACE INTO let_go (member, at_ms) VALUES (?1, ?2)",
                    params![id.0.as_bytes().as_slice(), now.ms],
                )?;
            }
            Ok(super::mark_unclean(t)?)
        })?;
        self.clean()
    }

    /// Takes what was erased out of every file of the folder; copies of a damaged
    /// and of a replaced book go.
    ///
    /// # Errors
    /// [`BookError::Busy`] where a reader does not come to its end.
    pub fn clean(&self) -> Result<(), BookError> {
        if self.reading(|c| Ok(meta(c, "unclean")?))?.is_none() {
            return Ok(());
        }
        self.scour()?;
        let copies = ["damaged", "replaced"].map(|why| format!("{FILE}.{why}-"));
        if let Ok(files) = std::fs::read_dir(&self.folder) {
            for file in files.flatten() {
                let name = file.file_name();
                if copies.iter().any(|copy| name.to_string_lossy().starts_with(copy)) {
                    std::fs::remove_file(file.path())
                        .map_err(|source| BookError::ReadOnly { path: file.path(), source })?;
                }
            }
        }
        self.writing(|t| {
            t.execute("DELETE FROM meta WHERE name = 'unclean'", [])?;
            Ok(())
        })
    }
}

fn new_member(now: Stamp) -> Result<MemberId, BookError> {
    new_id(now).map(MemberId)
}

fn new_id(now: Stamp) -> Result<Uuid, BookError> {
    let mut random = [0; 10];
    OsRng.fill(&mut random).map_err(BookError::Random)?;
    let ms = u64::try_from(now.ms).unwrap_or(0);
    Ok(uuid::Builder::from_unix_timestamp_millis(ms, &random).into_uuid())
}

fn roster(c: &Connection) -> Result<Vec<(MemberId, Roster)>, BookError> {
    let filter = Filter {
        kind: Some(kind::MEMBER),
        field: Some(field_name::ROSTER),
        scope: Some(Scope::Squad),
        ..Filter::default()
    };
    let entries = held(c, &filter)?.into_iter().filter_map(|held| match (held.key.subject, held.fact()) {
        (Subject::Uuid(id), Some(Fact::Roster(roster))) => Some((MemberId(id), roster.clone())),
        _ => None,
    });
    Ok(entries.collect())
}

/// Members whose data this device's person let go.
pub(super) fn let_go(c: &Connection) -> rusqlite::Result<Vec<MemberId>> {
    c.prepare_cached("SELECT member FROM let_go")?.query_map([], |r| read_member(r, 0))?.collect()
}
