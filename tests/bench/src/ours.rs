//! Our side: real books, real conversations.

use std::collections::HashMap;
use std::fs::{self, File};
use std::io::{BufReader, BufWriter, Read, Write};
use std::net::{Ipv4Addr, SocketAddr};
use std::path::Path;
use std::sync::mpsc::{Receiver, Sender, channel};
use std::thread;
use std::time::Instant;

use pitside_book::carrier::{Connection, Limits, Listener, Verdict};
use pitside_book::clock::{Clock, Stamp};
use pitside_book::exchange::{Link, Part, accept, exchange};
use pitside_book::keys::{Identity, Seed};
use pitside_book::pairing::Invitation;
use pitside_book::store::{Book, BookReplica, Draft, Filter};
use pitside_log::authority::{Judgement, Root};
use pitside_log::entry::{Body, Content, Entry, Header, Target, origin};
use pitside_log::memory::MemoryLedger;
use pitside_log::merge::{Ledger, apply};
use pitside_log::opening::Opening;
use pitside_log::seal::{MAX_ENTRIES, Seal};
use pitside_log::segment::Segment;
use pitside_log::sync::{Batch, Message, Replica};
use pitside_model::facts::{
    DeviceKey, Extra, Fact, Grant, Hash, LogId, MemberId, Role, Scope, Subject, kind,
};
use uuid::Uuid;
use zeroize::Zeroizing;

use crate::Failure;
use crate::measure::{Figures, Watch, copy, memory_bytes, size_of};
use crate::workload::{CARDS, DEVICES, Device, Random, Record, card_id, share};

const COACH: u8 = 0;
/// The second laptop, to which everything goes over loopback.
const SECOND: u8 = 100;
const NOW: At = At(Stamp { ms: 1_790_812_800_000, zone_min: 60 });

/// A clock that stands.
struct At(Stamp);
impl Clock for At {
    fn now(&self) -> Stamp {
        self.0
    }
}

fn identity(number: u8) -> Identity {
    Identity::from_seed(Seed::from_bytes(Zeroizing::new([number; 32])))
}

/// A link in memory that keeps what was sent.
struct Wire {
    peer: DeviceKey,
    to: Sender<Vec<u8>>,
    from: Receiver<Vec<u8>>,
    sent: Vec<Vec<u8>>,
}

#[derive(Debug, thiserror::Error)]
#[error("the other side is gone")]
struct Gone;

impl Link for Wire {
    type Error = Gone;
    fn peer(&self) -> DeviceKey {
        self.peer
    }
    fn send(&mut self, message: &[u8]) -> Result<(), Gone> {
        self.sent.push(message.to_vec());
        self.to.send(message.to_vec()).map_err(|_| Gone)
    }
    fn receive(&mut self) -> Result<Vec<u8>, Gone> {
        self.from.recv().map_err(|_| Gone)
    }
}

/// One conversation of two books; gives what the caller sent.
fn meet(caller: &Book, part: Part, called: &Book) -> Result<Vec<Vec<u8>>, Failure> {
    let ((a, b), (c, d)) = (channel(), channel());
    let mut near = Wire { peer: called.device(), to: a, from: d, sent: vec![] };
    let mut far = Wire { peer: caller.device(), to: c, from: b, sent: vec![] };
    thread::scope(|scope| {
        let other = scope.spawn(move || exchange(called, &mut far, Part::Called, &NOW).map(drop));
        exchange(caller, &mut near, part, &NOW)?;
        other.join().map_err(|_| "the called side panicked")??;
        Ok(near.sent)
    })
}

fn invitation(coach: &Book, grant: Grant) -> Result<Invitation, Failure> {
    let open = coach.invite(grant, NOW.now(), 10)?;
    Ok(Invitation {
        device: coach.device(),
        squad: coach.squad().ok_or("a squad expected")?,
        demo: false,
        secret: open.secret,
        expires_s: open.expires_ms / 1_000,
        member: None,
        role: open.grant.role,
        addresses: vec![],
    })
}

/// A device's own logs, written with the stamps of the workload.
struct Author {
    identity: Identity,
    member: MemberId,
    device: Device,
    logs: HashMap<Scope, Log>,
    /// What the device last saw of each card.
    cards: Vec<Hash>,
    random: Random,
    last_set: Option<Hash>,
}

/// A log and what of it is not sealed.
struct Log {
    opening: Opening,
    sealed: (u64, Hash),
    before: Hash,
    open: Vec<(Vec<u8>, Content)>,
}

impl Author {
    fn new(number: u64, facts: u64, member: MemberId, cards: &[Hash]) -> Result<Self, Failure> {
        Ok(Self {
            identity: identity(u8::try_from(number)?),
            member,
            device: Device::new(number, facts),
            logs: HashMap::new(),
            cards: cards.to_vec(),
            random: Random(number << 32),
            last_set: None,
        })
    }

    /// Writes the next facts; gives them sealed.
    fn write(&mut self, facts: u64) -> Result<Vec<Segment>, Failure> {
        let mut segments = Vec::new();
        for record in self.device.write(facts).into_iter().flatten() {
            segments.extend(self.append(&record)?);
        }
        for log in self.logs.values_mut() {
            segments.extend(seal(log, &self.identity));
        }
        Ok(segments)
    }

    fn append(&mut self, record: &Record) -> Result<Option<Segment>, Failure> {
        let (kind, field) = record.fact.address().ok_or("a fact without an address")?;
        let scope = if record.card.is_some() { Scope::Staff } else { Scope::Member(self.member) };
        let nonce = self.random.bytes();
        let log = self.logs.entry(scope).or_insert_with(|| {
            let opening = Opening::new(&self.identity, scope, nonce);
            let start = origin(opening.id());
            Log { opening, sealed: (0, start), before: start, open: Vec::new() }
        });
        let seen = record.card.map(usize::try_from).transpose()?;
        let header = Header {
            kind: kind.to_owned(),
            target: record
                .card
                .map(|card| Target { subject: Subject::Uuid(card_id(card)), field: field.to_owned() }),
            stamp_ms: record.stamp_ms,
            zone_min: 60,
            replaces: seen.map(|card| self.cards[card]).into_iter().collect(),
        };
        let body = Body { salt: self.random.bytes(), payload: record.fact.write(&Extra::new())? };
        let seq = log.sealed.0 + log.open.len() as u64 + 1;
        let bytes = header.to_bytes();
        let content = Content::Body(body);
        let entry =
            Entry::from_parts(log.opening.id(), seq, scope, log.before, bytes.clone(), content.clone())?;
        log.before = entry.hash;
        log.open.push((bytes, content));
        match seen {
            Some(card) => self.cards[card] = entry.hash,
            None => self.last_set = Some(entry.hash),
        }
        Ok(if log.open.len() as u64 == MAX_ENTRIES { seal(log, &self.identity) } else { None })
    }
}

fn seal(log: &mut Log, by: &Identity) -> Option<Segment> {
    let entries = core::mem::take(&mut log.open);
    let (sealed, before) = log.sealed;
    if entries.is_empty() {
        return None;
    }
    log.sealed = (sealed + entries.len() as u64, log.before);
    let id = log.opening.id();
    Some(Segment {
        log: id,
        first_seq: sealed + 1,
        before,
        opening: (sealed == 0).then(|| log.opening.clone()),
        entries,
        seal: Seal::new(by, id, log.sealed.0, log.before),
    })
}

/// Bytes that the devices sent.
#[derive(Default)]
struct Sent {
    whole: u64,
    /// Of these, what entries are in.
    batches: u64,
}

/// Makes a squad, lets every device write, and brings it all to the coach's
/// book. Leaves in the folder: `base`, the coach's book before; `messages`, what
/// the devices then sent it; `full`, the book after; `figures`.
pub fn prepare(folder: &Path, facts: u64) -> Result<(), Failure> {
    let coach = Book::create(&folder.join("coach"), identity(COACH), false)?;
    coach.found("Quay jumps", NOW.now())?;
    let cards: Vec<(Scope, Draft)> = (0..CARDS)
        .map(|card| (Scope::Staff, Draft::about(Subject::Uuid(card_id(card)), Record::card(card).fact)))
        .collect();
    let cards = coach.write_all(&cards, NOW.now())?;
    let mut phones = Vec::new();
    for number in 1..=DEVICES {
        let member = coach.add_member(&format!("Athlete {number}"), NOW.now())?;
        let name = u8::try_from(number)?;
        let phone = Book::create(&folder.join(format!("phone-{number}")), identity(name), false)?;
        let invitation = invitation(&coach, Grant::new(Role::Assistant, vec![member]))?;
        let part = accept(&phone, &invitation, &NOW)?;
        meet(&phone, part, &coach)?;
        phones.push((phone, Author::new(number, facts, member, &cards)?));
    }
    coach.close()?;
    copy(&folder.join("coach"), &folder.join("base"))?;

    let coach = Book::open(&folder.join("coach"), identity(COACH))?;
    let mut messages = BufWriter::new(File::create(folder.join("messages"))?);
    let mut figures = Figures::default();
    let mut sent = [Sent::default(), Sent::default()];
    for (round, sent) in sent.iter_mut().enumerate() {
        let each = if round == 0 { share(facts) } else { share(facts / 100) };
        for (phone, author) in &mut phones {
            let written = Batch { segments: author.write(each)?, bodies: vec![] };
            BookReplica::new(phone, &NOW).take_in(&written, author.identity.key())??;
            for message in meet(phone, Part::Caller, &coach)? {
                sent.whole += message.len() as u64;
                let batch = matches!(Message::from_bytes(&message)?, Message::Batch(b) if !b.is_empty());
                if batch {
                    sent.batches += message.len() as u64;
                }
                if round == 0 && batch {
                    messages.write_all(&author.identity.key().0)?;
                    messages.write_all(&u32::try_from(message.len())?.to_be_bytes())?;
                    messages.write_all(&message)?;
                }
            }
        }
        if round == 0 {
            keep_full(folder)?;
            let (_, author) = &phones[0];
            let record = author.last_set.ok_or("no set was written")?;
            fs::write(folder.join("record"), format!("{} {record}", author.member.0))?;
        }
    }
    messages.flush()?;
    let [first, further] = sent;
    figures.put("sent", first.whole as f64);
    figures.put("sent-batches", first.batches as f64);
    figures.put("further", further.whole as f64);
    figures.put("further-batches", further.batches as f64);
    figures.write(&folder.join("figures"))?;
    Ok(())
}

/// The book as it is now, in `full`: what was committed is in its files.
fn keep_full(folder: &Path) -> Result<(), Failure> {
    copy(&folder.join("coach"), &folder.join("full"))?;
    Book::open(&folder.join("full"), identity(COACH))?.close()?;
    Ok(())
}

/// What the devices sent, one message after the other.
struct Messages(BufReader<File>);

impl Messages {
    fn open(folder: &Path) -> Result<Self, Failure> {
        Ok(Self(BufReader::new(File::open(folder.join("messages"))?)))
    }
    fn next(&mut self) -> Result<Option<(DeviceKey, Vec<u8>)>, Failure> {
        let mut head = [0; 36];
        match self.0.read_exact(&mut head) {
            Err(e) if e.kind() == std::io::ErrorKind::UnexpectedEof => return Ok(None),
            other => other?,
        }
        let (device, length) = head.split_at(32);
        let mut message = vec![0; u32::from_be_bytes(length.try_into()?) as usize];
        self.0.read_exact(&mut message)?;
        Ok(Some((DeviceKey(device.try_into()?), message)))
    }
}

fn batch_of(message: &[u8]) -> Result<Batch, Failure> {
    match Message::from_bytes(message)? {
        Message::Batch(batch) => Ok(batch),
        _ => Err("a batch expected".into()),
    }
}

/// The record to read at the end.
fn record(folder: &Path) -> Result<(Scope, Hash), Failure> {
    let text = fs::read_to_string(folder.join("record"))?;
    let (member, hash) = text.split_once(' ').ok_or("no record")?;
    let hash = Hash::parse(hash).ok_or("no record")?;
    Ok((Scope::Member(MemberId(Uuid::parse_str(member)?)), hash))
}

fn read_one(book: &Book, (scope, hash): (Scope, Hash)) -> Result<(), Failure> {
    let filter = Filter {
        scope: Some(scope),
        kind: Some(kind::SET),
        subject: Some(Subject::Fact(hash)),
        ..Filter::default()
    };
    match book.held(&filter)?.first().and_then(|held| held.fact().cloned()) {
        Some(Fact::Set(_)) => Ok(()),
        _ => Err("the record is not there".into()),
    }
}

/// Merge in memory: what came is unpacked and checked, then merged.
pub fn merge(folder: &Path, work: &Path) -> Result<Figures, Failure> {
    copy(&folder.join("base"), work)?;
    let book = Book::open(work, identity(COACH))?;
    let root = Root { squad: book.squad(), device: book.device() };
    let mut ledger = MemoryLedger::default();
    let mut openings: HashMap<LogId, Opening> = HashMap::new();
    let replica = BookReplica::new(&book, &NOW);
    for line in replica.lines()? {
        let mut at = 0;
        while let Some(segment) = replica.segment_after(&line.head, at)? {
            at = segment.seal.seq;
            let (opening, entries) = segment.check(openings.get(&segment.log))?;
            openings.insert(segment.log, opening.clone());
            take(&mut ledger, &root, opening.device, entries)?;
        }
    }
    drop(book);
    let (_, wanted) = record(folder)?;
    let mut messages = Messages::open(folder)?;
    let (mut checking, mut merging) = (Watch::default(), Watch::default());
    while let Some((_, bytes)) = messages.next()? {
        let checked = checking.run(|| {
            let mut checked = Vec::new();
            for segment in &batch_of(&bytes)?.segments {
                let (opening, entries) = segment.check(openings.get(&segment.log))?;
                openings.entry(segment.log).or_insert_with(|| opening.clone());
                checked.push((opening.device, entries));
            }
            Ok(checked)
        })?;
        merging.run(|| {
            checked.into_iter().try_for_each(|(device, entries)| take(&mut ledger, &root, device, entries))
        })?;
    }
    if ledger.judgement(wanted)? != Some(Judgement::Counted) {
        return Err("the record does not count".into());
    }
    let mut figures = Figures::default();
    merging.put(&mut figures, "merge");
    checking.and(&merging).put(&mut figures, "checked");
    figures.put("memory", memory_bytes()?);
    Ok(figures)
}

fn take(
    ledger: &mut MemoryLedger,
    root: &Root,
    device: DeviceKey,
    entries: Vec<Entry>,
) -> Result<(), Failure> {
    let places: Vec<Hash> = entries.iter().map(|entry| entry.hash).collect();
    for entry in entries {
        ledger.put(device, entry);
    }
    Ok(apply(ledger, root, &places)?)
}

/// Merge until readable and durable: what came, into a book on the disk.
pub fn durable(folder: &Path, work: &Path) -> Result<Figures, Failure> {
    copy(&folder.join("base"), work)?;
    let book = Book::open(work, identity(COACH))?;
    let wanted = record(folder)?;
    let mut messages = Messages::open(folder)?;
    let mut taking = Watch::default();
    let mut taken = 0;
    while let Some((device, bytes)) = messages.next()? {
        taken +=
            taking.run(|| Ok(BookReplica::new(&book, &NOW).take_in(&batch_of(&bytes)?, device)??.new))?;
    }
    taking.run(|| read_one(&book, wanted))?;
    let uncounted = book.uncounted()?.len();
    if uncounted > 0 {
        return Err(format!("{uncounted} of {taken} entries do not count").into());
    }
    let mut figures = Figures::default();
    figures.put("memory", memory_bytes()?);
    taking.put(&mut figures, "durable");
    figures.put("entries", taken as f64);
    book.close()?;
    figures.put("stored", size_of(work)? as f64);
    Ok(figures)
}

/// Opening a book and reading one record.
pub fn open(folder: &Path, work: &Path) -> Result<Figures, Failure> {
    copy(&folder.join("full"), work)?;
    let (identity, wanted) = (identity(COACH), record(folder)?);
    let begin = Instant::now();
    let book = Book::open(work, identity)?;
    let opened = begin.elapsed();
    read_one(&book, wanted)?;
    let read = begin.elapsed();
    let mut figures = Figures::default();
    figures.put("open", opened.as_secs_f64());
    figures.put("read", read.as_secs_f64());
    figures.put("memory", memory_bytes()?);
    Ok(figures)
}

/// Everything, from one laptop to a second one, over loopback.
pub fn sync(folder: &Path, work: &Path) -> Result<Figures, Failure> {
    copy(&folder.join("full"), &work.join("coach"))?;
    let coach = Book::open(&work.join("coach"), identity(COACH))?;
    let second = Book::create(&work.join("second"), identity(SECOND), false)?;
    let part = accept(&second, &invitation(&coach, Grant::new(Role::Owner, vec![]))?, &NOW)?;
    let listener = Listener::bind(SocketAddr::from((Ipv4Addr::LOCALHOST, 0)), Limits::default())?;
    let (stop, address) = (listener.stop(), listener.address().to_string());
    let begin = Instant::now();
    let (outcome, elapsed) = thread::scope(|scope| {
        let serving = scope.spawn(|| {
            listener.serve(coach.identity(), &|call| match call {
                Ok(mut connection) => Verdict::of(&exchange(&coach, &mut connection, Part::Called, &NOW)),
                Err(_) => Verdict::Accepted,
            });
        });
        let called = || -> Result<_, Failure> {
            let mut connection =
                Connection::connect(&address, second.identity(), coach.device(), &Limits::default())?;
            let outcome = exchange(&second, &mut connection, part, &NOW)?;
            connection.close();
            Ok(outcome)
        };
        let outcome = called();
        let elapsed = begin.elapsed();
        stop.stop();
        let _ = serving.join();
        outcome.map(|outcome| (outcome, elapsed))
    })?;
    read_one(&second, record(folder)?)?;
    let mut figures = Figures::default();
    figures.put("sync", elapsed.as_secs_f64());
    figures.put("entries", outcome.received as f64);
    figures.put("memory", memory_bytes()?);
    Ok(figures)
}
