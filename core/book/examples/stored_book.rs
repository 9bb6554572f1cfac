//! Writes a book of this version for the collection in `tests/books`: its file and
//! the seed of its device.
//!
//! `cargo run -p pitside-book --example stored_book -- core/book/tests/books`

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "run by hand, and whoever runs it sees where it stops"
)]

#[path = "../tests/folders/mod.rs"]
mod folders;

use std::path::PathBuf;

use folders::{At, NOW, folder, hurts, join, rest, share, squad, sync, train};
use pitside_book::clock::Clock;
use pitside_book::store::{Book, Draft, FILE, Filter};
use pitside_model::facts::{Card, Fact, Grant, Limit, Role, SaidBy, Scope, Subject, kind};
use rusqlite::Connection;

fn main() {
    let out = PathBuf::from(std::env::args().nth(1).expect("the folder to write to"));
    let (coach_place, phone_place, assistant_place) = (folder(), folder(), folder());
    let (coach, phone, member) = squad(coach_place.path(), phone_place.path());
    let assistant = Book::create(assistant_place.path(), folders::identity(3), false).unwrap();
    join(&assistant, &coach, Grant { everyone: true, ..Grant::new(Role::Assistant, vec![]) });

    // A phone that trained, rested, corrected itself and shares what hurts.
    let own = Scope::Member(member);
    let about = |fact| Draft::about(Subject::Uuid(member.0), fact);
    phone.write(own, &about(Fact::Card(Card::Name("Ino".into()))), NOW.now()).unwrap();
    train(&phone, member, 0..2, "low hops");
    rest(&phone, member, 0..3);
    let rests = phone.held(&Filter { kind: Some(kind::REST), ..Filter::default() }).unwrap();
    phone.withdraw(&rests[0], At(1).now()).unwrap();
    share(&phone, member, true);
    hurts(&phone, member);
    sync(&phone, &coach, At(2));

    // Two names written at once: a clash that nobody has settled.
    phone.revise(own, Subject::Uuid(member.0), Fact::Card(Card::Name("Inosh".into())), At(3).now()).unwrap();
    coach
        .revise(own, Subject::Uuid(member.0), Fact::Card(Card::Name("Ino Quay".into())), At(3).now())
        .unwrap();
    sync(&phone, &coach, At(4));

    // A member who was erased, an assistant who was removed and wrote on.
    let guest = coach.add_member("Ada", NOW.now()).unwrap();
    train(&coach, guest, 5..6, "to be erased");
    sync(&assistant, &coach, At(5));
    coach.erase_member(guest, At(6).now()).unwrap();
    coach.remove_device(assistant.device(), At(7).now()).unwrap();
    train(&assistant, member, 8..9, "after the removal");
    sync(&assistant, &coach, At(8));

    // Not sealed, a draft, an invitation, a peer.
    let limit = Fact::Limit(Limit {
        from: NOW.now().day(),
        until: None,
        no_one_leg: None,
        no_approach: true,
        max_box_mm: Some(400),
        said_by: SaidBy::Coach,
        note: None,
    });
    coach.write(own, &Draft::new(limit), At(9).now()).unwrap();
    coach.set_local("draft", Some(b"half a set")).unwrap();
    coach.invite(Grant::new(Role::Athlete, vec![member]), At(9).now(), 10).unwrap();
    coach.set_peer(phone.device(), &["127.0.0.1:4711".into()]).unwrap();
    coach.close().unwrap();

    let file = coach_place.path().join(FILE);
    let version: u32 =
        Connection::open(&file).unwrap().query_row("PRAGMA user_version", [], |r| r.get(0)).unwrap();
    std::fs::copy(&file, out.join(format!("version-{version}.sqlite"))).unwrap();
    std::fs::write(out.join(format!("version-{version}.seed")), [1; 32]).unwrap();
}
