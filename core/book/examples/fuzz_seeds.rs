//! Writes seeds for the fuzz targets: real messages, entries and facts, so that
//! what the fuzzer makes of them gets past the first checks.
//!
//! `cargo run -p pitside-book --example fuzz_seeds -- tests/fuzz/seeds`

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "run by hand, and whoever runs it sees where it stops"
)]

#[path = "../tests/folders/mod.rs"]
mod folders;

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use folders::{At, NOW, folder, hear, hurts, identity, join, rest, share, squad, train};
use pitside_book::clock::Clock;
use pitside_book::exchange::Part;
use pitside_book::store::{Book, Draft, Filter};
use pitside_log::entry::{Content, Header};
use pitside_log::sync::{Batch, Message, Refusal};
use pitside_model::facts::{
    Approach, Board, Card, Day, Fact, Grant, Jump, JumpEvent, Outcome, Phases, Role, Scope, Subject, Wind,
    WindRule, field_name as f, kind,
};

/// The largest seed: small ones are changed to more effect.
const MOST_BYTES: usize = 8 * 1024;

fn main() {
    let out = PathBuf::from(std::env::args().nth(1).expect("the folder to write to"));
    let (coach_place, phone_place) = (folder(), folder());
    let (coach, phone, member) = squad(coach_place.path(), phone_place.path());
    let guest_place = folder();
    let guest = Book::create(guest_place.path(), identity(3), false).unwrap();
    let own = Scope::Member(member);
    let about = |fact| Draft::about(Subject::Uuid(member.0), fact);
    let mut messages = join(&guest, &coach, Grant::new(Role::Guardian, vec![member]));
    let mut say = |caller: &Book, called: &Book, at| {
        messages.extend(hear(caller, Part::Caller, called, at));
    };
    phone.write(own, &about(Fact::Card(Card::Name("Ino".into()))), NOW.now()).unwrap();
    train(&phone, member, 0..1, "low hops");
    phone.write(own, &Draft::new(Fact::Jump(jump())), NOW.now()).unwrap();
    say(&phone, &coach, At(1));
    rest(&phone, member, 0..2);
    let rests = phone.held(&Filter { kind: Some(kind::REST), ..Filter::default() }).unwrap();
    phone.withdraw(&rests[0], At(1).now()).unwrap();
    share(&phone, member, true);
    hurts(&phone, member);
    say(&phone, &coach, At(2));
    coach.add_member("Ada", At(3).now()).unwrap();
    coach.erase_member(member, At(3).now()).unwrap();
    say(&coach, &phone, At(4));
    messages.push(Message::Refuse(Refusal::NotAdmitted).to_bytes());

    let mut kept: BTreeMap<String, Vec<u8>> = BTreeMap::new();
    let mut entries: BTreeMap<String, (Vec<u8>, Content)> = BTreeMap::new();
    for bytes in messages {
        let message = Message::from_bytes(&bytes).unwrap();
        let name = match &message {
            Message::Hello(hello) if hello.join.is_some() => "hello-of-a-guest".to_owned(),
            Message::Hello(_) => "hello".to_owned(),
            Message::Have(have) => format!("have-{}-{}", have.heads.len(), have.lacking.len()),
            Message::Receipt(heads) => format!("receipt-{}", heads.len()),
            Message::Bye => "bye".into(),
            Message::Refuse(_) => "refuse".into(),
            Message::Batch(batch) => {
                take_entries(batch, &mut entries);
                let entries: usize = batch.segments.iter().map(|s| s.entries.len()).sum();
                format!("batch-{}-{entries}-{}", batch.segments.len(), batch.bodies.len())
            }
        };
        if bytes.len() <= MOST_BYTES {
            kept.entry(name).or_insert(bytes);
        }
    }
    write(&out.join("message"), kept);

    let whole = |(name, (header, content)): (&String, &(Vec<u8>, Content))| {
        let length = u16::try_from(header.len()).unwrap().to_be_bytes();
        let rest = match content {
            Content::Body(body) => [body.salt.as_slice(), &body.payload].concat(),
            Content::Commitment(_) => Vec::new(),
        };
        (name.clone(), [length.as_slice(), header, &rest].concat())
    };
    write(&out.join("entry"), entries.iter().map(whole).collect());

    let mut facts = BTreeMap::new();
    for (name, (header, content)) in &entries {
        let header = Header::from_bytes(header).unwrap();
        let field = header.target.as_ref().map_or(f::WHOLE, |target| &target.field);
        let at = Fact::addresses().position(|address| address == (header.kind.as_str(), field));
        if let (Some(at), Content::Body(body)) = (at, content) {
            facts.insert(name.clone(), [&[u8::try_from(at).unwrap()], body.payload.as_slice()].concat());
        }
    }
    write(&out.join("fact"), facts);
}

/// A jump with something in every field but the take.
fn jump() -> Jump {
    Jump {
        day: Day::parse("2026-02-01").unwrap(),
        event: JumpEvent::Triple,
        indoor: false,
        competition: true,
        place: Some("Harbour stadium".into()),
        attempt: Some(3),
        outcome: Outcome::Measured(14_020),
        toe_mm: Some(-40),
        wind: Some(Wind::Gauge(-300)),
        wind_rule: Some(WindRule::FromMark),
        approach: Some(Approach::Strides(16)),
        start_mm: Some(32_400),
        pit_mm: Some(11_000),
        board: Some(Board::Plane),
        phases: Phases { hop_mm: Some(5_150), step_mm: Some(4_080), jump_mm: Some(4_830) },
        take: None,
    }
}

/// One entry of each kind and field.
fn take_entries(batch: &Batch, entries: &mut BTreeMap<String, (Vec<u8>, Content)>) {
    for (header, content) in batch.segments.iter().flat_map(|segment| &segment.entries) {
        let read = Header::from_bytes(header).unwrap();
        let field = read.target.filter(|target| !target.field.is_empty());
        let field = field.map_or_else(String::new, |target| format!("-{}", target.field));
        let bare = if matches!(content, Content::Commitment(_)) { "-bare" } else { "" };
        let name = format!("{}{field}{bare}", read.kind);
        entries.entry(name).or_insert_with(|| (header.clone(), content.clone()));
    }
}

fn write(folder: &Path, seeds: BTreeMap<String, Vec<u8>>) {
    std::fs::create_dir_all(folder).unwrap();
    for (name, bytes) in seeds {
        std::fs::write(folder.join(name), bytes).unwrap();
    }
}
