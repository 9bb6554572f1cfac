//! The conversation of two devices over encoded bytes: what crosses, what does
//! not, what happens when it is cut, and what a peer that lies gets to hear.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "helpers of tests fail as tests do"
)]

use std::convert::Infallible;

use pitside_log::entry::{Body, EntryError, MAX_PAYLOAD};
use pitside_log::opening::{Opening, OpeningError};
use pitside_log::seal::{MAX_ENTRIES, Seal, Signer};
use pitside_log::segment::{Segment, SegmentError};
use pitside_log::sync::{
    Batch, Conversation, Have, Head, Hello, Join, Message, MessageError, PROTOCOL, Refusal, Replica, SECRET,
    SyncError,
};
use pitside_model::cbor::{Value, decode, encode};
use pitside_model::facts::{Fact, Hash, MemberId, Role, Scope, Session, SquadId};
use proptest::prelude::*;

mod world;
use world::replica::MemoryReplica;
use world::{Draft, day, hurt, member, rest};

type Ended = Result<bool, SyncError<Infallible>>;

/// The most messages that a conversation of the sizes here may take.
const BOUND: usize = 200;

/// How one conversation went. `Ok(false)` is a side that heard no end.
struct Talk {
    caller: Ended,
    called: Ended,
    /// Every message that was sent, in order; the caller's are the even ones.
    wire: Vec<Vec<u8>>,
    forked: (usize, usize),
}

impl Talk {
    fn is_whole(&self) -> bool {
        matches!((&self.caller, &self.called), (Ok(true), Ok(true)))
    }
    /// What the called side refused; the caller was told it.
    #[track_caller]
    fn refused_by_called(&self) -> &SyncError<Infallible> {
        let why = self.called.as_ref().expect_err("the called side refuses");
        match &self.caller {
            Err(SyncError::RefusedByPeer(told)) => assert_eq!(Some(*told), why.to_tell()),
            other => panic!("the caller was not told of {why}: {other:?}"),
        }
        why
    }
    #[track_caller]
    fn refused_by_caller(&self) -> &SyncError<Infallible> {
        let why = self.caller.as_ref().expect_err("the caller refuses");
        match &self.called {
            Err(SyncError::RefusedByPeer(told)) => assert_eq!(Some(*told), why.to_tell()),
            other => panic!("the called side was not told of {why}: {other:?}"),
        }
        why
    }
}

struct Side<'a> {
    replica: &'a mut MemoryReplica,
    talk: Conversation,
    ended: Option<Ended>,
}

impl Side<'_> {
    /// Takes bytes in; gives the answer, or the refusal that goes back.
    fn hear(&mut self, bytes: &[u8]) -> Option<Vec<u8>> {
        let now_ms = self.replica.now_ms;
        let step = Message::from_bytes(bytes)
            .map_err(SyncError::from)
            .and_then(|message| self.talk.step(self.replica, message, now_ms));
        match step {
            Ok(answer) => {
                if self.talk.is_done() {
                    self.ended = Some(Ok(true));
                }
                answer.map(|m| m.to_bytes())
            }
            Err(e) => {
                let told = e.to_tell();
                self.ended = Some(Err(e));
                told.map(|why| Message::Refuse(why).to_bytes())
            }
        }
    }
}

/// Runs one conversation; `carry` gets the number of each message and its bytes
/// and gives what arrives, or nothing where the link is cut.
fn talk_over(
    caller: &mut MemoryReplica,
    called: &mut MemoryReplica,
    guest: Option<(Join, SquadId)>,
    mut carry: impl FnMut(usize, Vec<u8>) -> Option<Vec<u8>>,
) -> Talk {
    let near = Conversation::new(called.device(), true, guest);
    let far = Conversation::new(caller.device(), false, None);
    let mut sides =
        [Side { replica: caller, talk: near, ended: None }, Side { replica: called, talk: far, ended: None }];
    let now_ms = sides[0].replica.now_ms;
    let Ok(first) = sides[0].talk.begin(sides[0].replica, now_ms) else { unreachable!() };
    let mut next = Some(first.to_bytes());
    let mut wire = vec![];
    while let Some(bytes) = next.take() {
        assert!(wire.len() < BOUND, "a conversation ends");
        let n = wire.len();
        wire.push(bytes.clone());
        let Some(arrives) = carry(n, bytes) else { break };
        let side = &mut sides[(n + 1) % 2];
        if side.ended.is_none() {
            next = side.hear(&arrives);
        }
    }
    let [a, b] = sides;
    let forked = (a.talk.forked().len(), b.talk.forked().len());
    Talk { caller: a.ended.unwrap_or(Ok(false)), called: b.ended.unwrap_or(Ok(false)), wire, forked }
}

fn talk(caller: &mut MemoryReplica, called: &mut MemoryReplica) -> Talk {
    talk_over(caller, called, None, |_, bytes| Some(bytes))
}

fn places(entries: &[pitside_log::entry::Entry]) -> Vec<pitside_model::facts::Place> {
    entries.iter().map(|e| e.place).collect()
}

/// Both hold the same entries, bodies and all, of every scope both may read, and
/// no scope that the device may not read came to either.
#[track_caller]
fn agree(a: &MemoryReplica, b: &MemoryReplica) {
    let both = |scope| {
        let reads = |r: &MemoryReplica, d: &MemoryReplica| r.may_read(d.device(), scope);
        reads(a, a) && reads(b, b) && reads(a, b) && reads(b, a)
    };
    assert_eq!(a.entries_of(both), b.entries_of(both));
    for r in [a, b] {
        assert_eq!(r.state(), &r.reference());
        let mut once = places(&r.entries());
        once.sort_unstable();
        once.dedup();
        assert_eq!(once.len(), r.entries().len(), "no entry twice");
        for entry in r.entries() {
            let device = r.device();
            // What came while it was shared stays.
            let might = r.grants(device).unwrap().may_read(entry.scope, true);
            assert!(entry.scope == Scope::Squad || might || written_by(r, &entry));
        }
    }
}

fn written_by(r: &MemoryReplica, entry: &pitside_log::entry::Entry) -> bool {
    Opening::new(&r.device, entry.scope, [0; 16]).id() == entry.place.log
}

const COACH: u8 = 0;
const PHONE: u8 = 1;

fn join(secret: u8, members: &[MemberId]) -> Join {
    Join { secret: [secret; SECRET], members: members.to_vec() }
}

/// A coach, and the phone of member 1, which logged before it joined.
fn coach_and_guest() -> (MemoryReplica, MemoryReplica, SquadId) {
    let (mut coach, mut phone) = (MemoryReplica::new(COACH), MemoryReplica::new(PHONE));
    let squad = coach.found();
    coach.invite([7; SECRET], 1_000);
    for n in 0..5 {
        phone.write(Scope::Member(member(1)), Draft::new(&rest(n)));
        phone.write(Scope::Private(member(1)), Draft::new(&hurt(n)));
    }
    (coach, phone, squad)
}

fn joined() -> (MemoryReplica, MemoryReplica) {
    let (mut coach, mut phone, squad) = coach_and_guest();
    let guest = Some((join(7, &[member(1)]), squad));
    let t = talk_over(&mut phone, &mut coach, guest, |_, bytes| Some(bytes));
    assert!(t.is_whole(), "{:?} {:?}", t.caller, t.called);
    (coach, phone)
}

/// The coach and the phones of members 1 and 2, all with each other's squad logs.
fn squad_of_three() -> [MemoryReplica; 3] {
    let (mut coach, mut one) = joined();
    let mut two = MemoryReplica::new(2);
    coach.invite([8; SECRET], 1_000);
    let guest = Some((join(8, &[member(2)]), coach.squad().unwrap()));
    assert!(talk_over(&mut two, &mut coach, guest, |_, bytes| Some(bytes)).is_whole());
    // Two phones speak with each other once both have heard of their admissions.
    assert!(talk(&mut one, &mut coach).is_whole());
    [coach, one, two]
}

#[test]
fn a_guest_brings_what_it_logged_before_it_joined() {
    let (coach, phone) = joined();
    agree(&coach, &phone);
    assert_eq!(coach.entries_of(|s| s == Scope::Member(member(1))).len(), 5);
    assert_eq!(coach.entries_of(|s| s == Scope::Private(member(1))).len(), 0);
    assert_eq!(phone.squad(), coach.squad());
    assert_eq!(coach.receipts.last().unwrap().0, phone.device());
}

#[test]
fn what_is_private_crosses_with_consent_and_stops_without() {
    let (mut coach, mut phone) = joined();
    let private = |r: &MemoryReplica| r.entries_of(|s| s == Scope::Private(member(1))).len();
    phone.consent(member(1), true);
    // Consent and what it opens come in one conversation, whoever calls.
    assert!(talk(&mut coach, &mut phone).is_whole());
    assert_eq!(private(&coach), 5);
    phone.consent(member(1), false);
    phone.write(Scope::Private(member(1)), Draft::new(&hurt(9)));
    assert!(talk(&mut phone, &mut coach).is_whole());
    assert_eq!(private(&coach), 5, "what came with consent stays, nothing more comes");
    agree(&coach, &phone);
}

/// A second phone of the member has not heard yet that consent was withdrawn;
/// the coach has. Nothing private crosses.
#[test]
fn a_withdrawal_is_heard_before_anything_private_is_sent() {
    for phone_calls in [true, false] {
        let (mut coach, mut phone) = joined();
        phone.consent(member(1), true);
        let mut second = MemoryReplica::new(5);
        coach.invite([9; SECRET], 1_000);
        let guest = Some((join(9, &[member(1)]), coach.squad().unwrap()));
        assert!(talk_over(&mut second, &mut coach, guest, |_, bytes| Some(bytes)).is_whole());
        assert!(talk(&mut phone, &mut coach).is_whole());
        assert!(talk(&mut second, &mut coach).is_whole());
        second.write(Scope::Private(member(1)), Draft::new(&secret("not for the coach")));
        phone.consent(member(1), false);
        assert!(talk(&mut phone, &mut coach).is_whole());
        let t = if phone_calls { talk(&mut second, &mut coach) } else { talk(&mut coach, &mut second) };
        assert!(t.is_whole(), "{:?} {:?}", t.caller, t.called);
        assert!(!crossed(&t, "not for the coach"), "phone calls: {phone_calls}");
        agree(&coach, &second);
    }
}

fn secret(words: &str) -> Fact {
    Fact::Session(Session {
        day: day(1),
        start_min: None,
        purpose: Some(words.to_owned()),
        location: None,
        surface: None,
        shoes: None,
        weather: None,
        cut_short: None,
    })
}

fn crossed(t: &Talk, words: &str) -> bool {
    t.wire.iter().any(|bytes| bytes.windows(words.len()).any(|w| w == words.as_bytes()))
}

/// What each device writes into each scope crosses to those who may read it,
/// and to no one else: looked for in the bytes.
#[test]
fn nothing_outside_a_devices_scopes_crosses() {
    let [mut coach, mut one, mut two] = squad_of_three();
    coach.write(Scope::Staff, Draft::new(&secret("staff only")));
    coach.write(Scope::Squad, Draft::new(&secret("for everyone")));
    one.write(Scope::Member(member(1)), Draft::new(&secret("training of one")));
    one.write(Scope::Private(member(1)), Draft::new(&secret("private of one")));
    // Written without any right to: kept, and given to nobody who may not read it.
    two.write(Scope::Private(member(1)), Draft::new(&secret("forged private")));
    two.write(Scope::Staff, Draft::new(&secret("forged staff")));

    let t = talk(&mut one, &mut coach);
    assert!(t.is_whole() && crossed(&t, "training of one") && crossed(&t, "for everyone"));
    assert!(!crossed(&t, "private of one") && !crossed(&t, "staff only"));
    let t = talk(&mut coach, &mut two);
    assert!(t.is_whole() && crossed(&t, "for everyone"));
    for words in ["training of one", "private of one", "staff only", "forged private"] {
        assert!(!crossed(&t, words), "{words} crossed to or from another member's device");
    }
    // The two athletes' phones meet: the squad's logs only.
    coach.write(Scope::Squad, Draft::new(&secret("carried by a phone")));
    assert!(talk(&mut one, &mut coach).is_whole());
    let t = talk(&mut one, &mut two);
    assert!(t.is_whole() && crossed(&t, "carried by a phone"));
    assert!(!crossed(&t, "of one") && !crossed(&t, "staff only"));
    agree(&one, &two);
    // Even the names of logs stay where they may be known.
    let hidden: Vec<_> = [Scope::Member(member(1)), Scope::Private(member(1))]
        .map(|scope| Opening::new(&one.device, scope, [0; 16]).id())
        .into();
    let names = |id: &[u8; 32]| t.wire.iter().any(|bytes| bytes.windows(32).any(|w| w == id));
    assert!(hidden.iter().all(|log| !names(&log.0)));
}

/// One write by one of the devices.
#[derive(Clone, Debug)]
enum Act {
    Write { by: usize, scope: u8, of: u8, times: u8 },
    Consent { by: usize, given: bool },
    Meet { caller: usize, called: usize, cut: Option<usize> },
}

fn act() -> impl Strategy<Value = Act> {
    let cut = prop_oneof![3 => Just(None), 2 => (0_usize..24).prop_map(Some)];
    prop_oneof![
        4 => (0_usize..4, 0_u8..4, 1_u8..3, 1_u8..40)
            .prop_map(|(by, scope, of, times)| Act::Write { by, scope, of, times }),
        1 => (1_usize..3, any::<bool>()).prop_map(|(by, given)| Act::Consent { by, given }),
        4 => (0_usize..4, 1_usize..4, cut).prop_map(|(caller, apart, cut)| Act::Meet {
            caller,
            called: (caller + apart) % 4,
            cut,
        }),
    ]
}

fn pair(all: &mut [MemoryReplica], caller: usize, called: usize, cut: Option<usize>) -> Talk {
    let (mut a, mut b) = (all[caller].clone(), all[called].clone());
    let t = talk_over(&mut a, &mut b, None, |n, bytes| (Some(n) != cut).then_some(bytes));
    (all[caller], all[called]) = (a, b);
    t
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, ..ProptestConfig::default() })]

    /// Whatever was written, whoever met whom, and wherever it was cut: after
    /// everyone has met everyone, all hold the same of what both may read.
    #[test]
    fn devices_converge_in_any_order_of_meetings(
        acts in prop::collection::vec(act(), 1..24),
        order in Just((0..4_usize).flat_map(|a| (0..4).filter(move |b| a != *b).map(move |b| (a, b)))
            .collect::<Vec<_>>()).prop_shuffle(),
    ) {
        let [mut coach, one, two] = squad_of_three();
        let mut second = MemoryReplica::new(3);
        coach.admit_device(second.device(), Role::Owner, &[]);
        coach.invite([5; SECRET], 1_000);
        let guest = Some((join(5, &[]), coach.squad().unwrap()));
        prop_assert!(talk_over(&mut second, &mut coach, guest, |_, bytes| Some(bytes)).is_whole());
        let mut all = [coach, one, two, second];
        for phone in 1..3 {
            prop_assert!(pair(&mut all, phone, 0, None).is_whole());
        }
        let mut before = vec![];
        for act in acts {
            match act {
                Act::Write { by, scope, of, times } => for n in 0..times {
                    let scope = match scope {
                        0 => Scope::Squad,
                        1 => Scope::Staff,
                        2 => Scope::Member(member(of)),
                        _ => Scope::Private(member(of)),
                    };
                    // Owners write all but what is private, phones of their member.
                    let owner = by == 0 || by == 3;
                    let scope = if owner && matches!(scope, Scope::Private(_)) { Scope::Staff } else { scope };
                    let scope = if owner { scope } else { Scope::Member(member(by as u8)) };
                    all[by].write(scope, Draft::new(&rest(n)));
                },
                Act::Consent { by, given } => { all[by].consent(member(by as u8), given); }
                Act::Meet { caller, called, cut } => {
                    before = all.iter().map(|r| places(&r.entries())).collect();
                    let t = pair(&mut all, caller, called, cut);
                    prop_assert!(t.caller.is_ok() && t.called.is_ok(), "{:?} {:?}", t.caller, t.called);
                    if t.is_whole() {
                        agree(&all[caller], &all[called]);
                    }
                }
            }
            for (r, before) in all.iter().zip(&before) {
                let now = places(&r.entries());
                prop_assert!(before.iter().all(|place| now.contains(place)), "nothing is lost");
            }
        }
        for _ in 0..3 {
            for (caller, called) in &order {
                let t = pair(&mut all, *caller, *called, None);
                prop_assert!(t.is_whole(), "{:?} {:?}", t.caller, t.called);
            }
        }
        for (a, b) in &order {
            agree(&all[*a], &all[*b]);
        }
        // Authority and the squad's logs are the same everywhere.
        for r in &all {
            prop_assert_eq!(&r.state().grants, &all[0].state().grants);
        }
        // A meeting of those who have nothing new for each other moves no entry.
        let t = pair(&mut all, 0, 1, None);
        let batches = t.wire.iter().map(|b| Message::from_bytes(b).unwrap());
        prop_assert!(batches.filter(|m| matches!(m, Message::Batch(b) if !b.segments.is_empty())).count() == 0
            || !all[1].shares(Scope::Private(member(1))));
    }
}

/// Cut after each message in turn and taken up by a new conversation, a sync
/// ends where an uncut one ends; for a guest too.
#[test]
fn a_conversation_that_was_cut_is_taken_up_again() {
    let (mut coach, mut phone, squad) = coach_and_guest();
    phone.consent(member(1), true);
    for n in 0..200_u8 {
        for _ in 0..4 {
            phone.write(Scope::Member(member(1)), Draft::new(&rest(n)));
        }
        coach.write(Scope::Squad, Draft::new(&secret(&"long words ".repeat(7))));
    }
    let guest = || Some((join(7, &[member(1)]), squad));
    let (mut whole_coach, mut whole_phone) = (coach.clone(), phone.clone());
    let whole = talk_over(&mut whole_phone, &mut whole_coach, guest(), |_, bytes| Some(bytes));
    assert!(whole.is_whole());
    agree(&whole_coach, &whole_phone);
    assert_eq!(whole_coach.entries_of(|s| s == Scope::Member(member(1))).len(), 806);
    assert_eq!(whole_coach.entries_of(|s| s == Scope::Private(member(1))).len(), 5);
    for cut in 0..whole.wire.len() {
        let (mut c, mut p) = (coach.clone(), phone.clone());
        let t = talk_over(&mut p, &mut c, guest(), |n, bytes| (n != cut).then_some(bytes));
        assert!(
            matches!((&t.caller, &t.called), (Ok(_), Ok(_))),
            "cut at {cut}: {:?} {:?}",
            t.caller,
            t.called
        );
        assert!(!(t.is_whole()), "cut at {cut}");
        // A guest that was admitted meanwhile comes as a device of the squad.
        let guest = if p.squad().is_none() { guest() } else { None };
        let t = talk_over(&mut p, &mut c, guest, |_, bytes| Some(bytes));
        assert!(t.is_whole(), "cut at {cut}: {:?} {:?}", t.caller, t.called);
        assert_eq!(c.entries(), whole_coach.entries(), "cut at {cut}");
        assert_eq!(p.entries(), whole_phone.entries(), "cut at {cut}");
        agree(&c, &p);
    }
}

/// Both start from what `make` gives, and neither has more after the refusal.
#[track_caller]
fn refused(
    caller: &MemoryReplica,
    called: &MemoryReplica,
    guest: Option<(Join, SquadId)>,
    carry: impl FnMut(usize, Vec<u8>) -> Option<Vec<u8>>,
) -> Talk {
    let (mut a, mut b) = (caller.clone(), called.clone());
    let t = talk_over(&mut a, &mut b, guest, carry);
    assert_eq!((a.entries(), b.entries()), (caller.entries(), called.entries()), "nothing was applied");
    assert_eq!((a.state(), b.state()), (caller.state(), called.state()));
    t
}

fn whole(_: usize, bytes: Vec<u8>) -> Option<Vec<u8>> {
    Some(bytes)
}

#[test]
fn strangers_are_refused() {
    let (coach, phone) = joined();
    let mut other = MemoryReplica::new(9);
    other.found();
    let is = |e: &SyncError<Infallible>, why| assert!(matches!(e, SyncError::Refused(w) if *w == why), "{e}");
    is(refused(&other, &coach, None, whole).refused_by_called(), Refusal::OtherSquad);
    // A device that belongs to no squad and shows no invitation.
    let stranger = MemoryReplica::new(8);
    is(refused(&stranger, &coach, None, whole).refused_by_called(), Refusal::NotAdmitted);
    // It does not help to name the squad.
    let mut claims = stranger.clone();
    assert_eq!(claims.adopt(coach.squad().unwrap()), Ok(false));
    let named = |n, bytes: Vec<u8>| {
        if n > 0 {
            return Some(bytes);
        }
        let Ok(Message::Hello(hello)) = Message::from_bytes(&bytes) else { panic!() };
        Some(Message::Hello(Hello { squad: coach.squad(), ..hello }).to_bytes())
    };
    is(refused(&stranger, &coach, None, named).refused_by_called(), Refusal::NotAdmitted);
    // Two that belong nowhere; a guest that was invited to another squad.
    is(refused(&stranger, &MemoryReplica::new(7), None, whole).refused_by_called(), Refusal::OtherSquad);
    let mut inviting = coach.clone();
    inviting.invite([3; SECRET], 1_000);
    let guest = Some((join(3, &[member(4)]), SquadId([1; 32])));
    let (mut a, mut b) = (stranger.clone(), inviting.clone());
    let t = talk_over(&mut a, &mut b, guest, whole);
    is(t.refused_by_caller(), Refusal::OtherSquad);
    assert!(a.entries().is_empty(), "the guest took nothing");
    // An owner that is not one here: the phone of another squad's coach as guest.
    is(refused(&phone, &other, None, whole).refused_by_called(), Refusal::OtherSquad);
}

#[test]
fn invitations_that_do_not_hold_are_refused() {
    let (coach, phone, squad) = coach_and_guest();
    let is = |e: &SyncError<Infallible>, why| assert!(matches!(e, SyncError::Refused(w) if *w == why), "{e}");
    let guest = |secret| Some((join(secret, &[member(1)]), squad));
    let t = refused(&phone, &coach, guest(6), whole);
    is(t.refused_by_called(), Refusal::Invitation);
    let mut late = coach.clone();
    late.now_ms = 1_001;
    is(refused(&phone, &late, guest(7), whole).refused_by_called(), Refusal::Expired);
    // Used by someone else already.
    let (mut used, mut first) = (coach.clone(), MemoryReplica::new(6));
    assert!(talk_over(&mut first, &mut used, guest(7), whole).is_whole());
    is(refused(&phone, &used, guest(7), whole).refused_by_called(), Refusal::Invitation);
}

/// Changes the caller's or the called side's message number `at`.
fn change(
    at: usize,
    mut by: impl FnMut(Message) -> Message,
) -> impl FnMut(usize, Vec<u8>) -> Option<Vec<u8>> {
    move |n, bytes| Some(if n == at { by(Message::from_bytes(&bytes).unwrap()).to_bytes() } else { bytes })
}

#[test]
fn protocols_without_a_common_version_are_refused() {
    let (coach, phone) = joined();
    let speaks = |low, high| {
        change(0, move |m| {
            let Message::Hello(hello) = m else { panic!() };
            Message::Hello(Hello { protocols: (low, high), ..hello })
        })
    };
    for (low, high) in [(PROTOCOL + 1, PROTOCOL + 9), (0, PROTOCOL - 1), (PROTOCOL + 1, PROTOCOL)] {
        let t = refused(&phone, &coach, None, speaks(low, high));
        assert!(matches!(t.refused_by_called(), SyncError::Refused(Refusal::Protocol)));
    }
    let (mut a, mut b) = (phone, coach);
    assert!(talk_over(&mut a, &mut b, None, speaks(0, PROTOCOL + 7)).is_whole());
}

/// The number under which a message travels.
fn number(message: &Message) -> usize {
    match message {
        Message::Hello(_) => 0,
        Message::Have(_) => 1,
        Message::Batch(_) => 2,
        Message::Receipt(_) => 3,
        Message::Bye => 4,
        Message::Refuse(_) => 5,
    }
}

/// At each point of a conversation, each message that is not due.
#[test]
fn a_message_out_of_its_turn_is_refused() {
    let (coach, phone) = joined();
    let (mut a, mut b) = (phone.clone(), coach.clone());
    let regular: Vec<_> =
        talk(&mut a, &mut b).wire.iter().map(|b| number(&Message::from_bytes(b).unwrap())).collect();
    let Ok(first) = Conversation::new(coach.device(), true, None).begin(&mut phone.clone(), 0) else {
        panic!()
    };
    let each = [
        first,
        Message::Have(Have::default()),
        Message::Batch(Batch::default()),
        Message::Receipt(Have::default()),
        Message::Bye,
    ];
    let mut tried = 0;
    // Whoever is called has come to the end with the last message.
    for at in 0..regular.len() - 1 {
        for other in &each {
            // Told apart from what is due by its kind; a caller may go on to the
            // next stage, and may say again that it has nothing.
            let due = |n: &usize| *n == number(other);
            if due(&regular[at]) || (at % 2 == 0 && regular.get(at + 2).is_some_and(due)) {
                continue;
            }
            if at % 2 == 0 && number(other) == 2 && at > 2 && regular[at - 2] == 2 {
                continue;
            }
            tried += 1;
            let t = refused(&phone, &coach, None, change(at, |_| other.clone()));
            let e = if at % 2 == 0 { t.refused_by_called() } else { t.refused_by_caller() };
            assert!(matches!(e, SyncError::Refused(Refusal::Turn)), "{other:?} as message {at}: {e}");
        }
        let t = refused(&phone, &coach, None, change(at, |_| Message::Refuse(Refusal::Store)));
        let e = if at % 2 == 0 { &t.called } else { &t.caller };
        assert!(matches!(e, Err(SyncError::RefusedByPeer(Refusal::Store))), "{e:?}");
        assert_eq!(t.wire.len(), at + 1, "a refusal is not answered");
    }
    assert!(tried > 30, "{tried}");
}

#[test]
fn bytes_that_are_no_message_are_refused() {
    let (coach, phone) = joined();
    let length = talk(&mut phone.clone(), &mut coach.clone()).wire.len();
    let odd: [Vec<u8>; 5] = [
        vec![],
        vec![0xff; 40],
        encode(&Value::Array(vec![6.into(), Value::Null])),
        encode(&Value::Array(vec![1.into(), Value::Null])),
        vec![0; pitside_log::sync::MAX_MESSAGE + 1],
    ];
    // Whoever is called has come to the end with the last message.
    for at in 0..length - 1 {
        for bytes in &odd {
            let t = refused(&phone, &coach, None, |n, b| Some(if n == at { bytes.clone() } else { b }));
            let e = if at % 2 == 0 { t.refused_by_called() } else { t.refused_by_caller() };
            assert!(matches!(e, SyncError::Message(_)), "{e}");
            assert_eq!(e.to_tell(), Some(Refusal::Garbage));
        }
    }
}

/// A phone with something new for the coach, and the number of the message in
/// which it is sent.
fn something_new() -> (MemoryReplica, MemoryReplica, usize) {
    let (coach, mut phone) = joined();
    for n in 10..14 {
        phone.write(Scope::Member(member(1)), Draft::new(&rest(n)));
    }
    let t = talk(&mut phone.clone(), &mut coach.clone());
    let at = t.wire.iter().position(
        |b| matches!(Message::from_bytes(b), Ok(Message::Batch(batch)) if !batch.segments.is_empty()),
    );
    (coach, phone, at.unwrap())
}

fn sends(mut by: impl FnMut(&mut Segment)) -> impl FnMut(Message) -> Message {
    move |m| {
        let Message::Batch(mut batch) = m else { panic!("{m:?}") };
        by(&mut batch.segments[0]);
        Message::Batch(batch)
    }
}

/// Each byte of a batch in turn is changed on its way: the coach takes in what
/// was sealed, or nothing.
#[test]
fn a_changed_byte_anywhere_in_a_batch_is_noticed() {
    let (coach, phone, at) = something_new();
    let mut length = 0;
    talk_over(&mut phone.clone(), &mut coach.clone(), None, |n, bytes| {
        length = if n == at { bytes.len() } else { length };
        Some(bytes)
    });
    for byte in 0..length {
        for bit in [0x01, 0x80] {
            let t = refused(&phone, &coach, None, |n, mut bytes| {
                if n == at {
                    bytes[byte] ^= bit;
                }
                Some(bytes)
            });
            let e = t.refused_by_called();
            assert!(
                matches!(e, SyncError::Segment(_) | SyncError::Message(_) | SyncError::Refused(_)),
                "byte {byte}: {e}"
            );
        }
    }
    assert!(length > 400, "{length}");
}

#[test]
fn each_part_of_a_segment_that_does_not_hold_is_named() {
    let (coach, phone, at) = something_new();
    let told = |by: &dyn Fn(&mut Segment)| {
        let t = refused(&phone, &coach, None, change(at, sends(by)));
        match t.called.as_ref().unwrap_err() {
            SyncError::Segment(why) => {
                assert_eq!(t.refused_by_called().to_tell(), Some(Refusal::Segment));
                why.clone()
            }
            other => panic!("{other}"),
        }
    };
    let log = Opening::new(&phone.device, Scope::Member(member(1)), [0; 16]).id();
    let body = |s: &mut Segment, by: &dyn Fn(&mut Body)| by(s.entries[1].1.as_mut().unwrap());
    let entry = |source| SegmentError::Entry { log, seq: 7, source };
    assert_eq!(told(&|s| body(s, &|b| b.salt[0] ^= 1)), entry(EntryError::Commitment));
    assert_eq!(told(&|s| body(s, &|b| b.payload = vec![0xf6])), entry(EntryError::Commitment));
    let large = MAX_PAYLOAD + 1;
    assert_eq!(told(&|s| body(s, &|b| b.payload = vec![0; large])), entry(EntryError::PayloadSize(large)));
    assert!(matches!(told(&|s| s.entries[1].0.truncate(9)), SegmentError::Entry { seq: 7, .. }));
    assert_eq!(told(&|s| s.entries.swap(0, 1)), SegmentError::Chain(log));
    assert_eq!(told(&|s| drop(s.entries.pop())), SegmentError::Chain(log));
    assert_eq!(told(&|s| s.before.0[0] ^= 1), SegmentError::Chain(log));
    assert_eq!(told(&|s| s.first_seq += 1), SegmentError::Chain(log));
    assert_eq!(told(&|s| s.seal.hash.0[0] ^= 1), SegmentError::Chain(log));
    assert_eq!(told(&|s| s.seal.seq += 1), SegmentError::Chain(log));
    assert_eq!(told(&|s| s.seal.signature[5] ^= 1), SegmentError::Signature(log));
    assert_eq!(told(&|s| s.entries.clear()), SegmentError::Count { log, found: 0 });
    // Sealed by another device: by the coach's own, even.
    let by_coach =
        Seal::new(&coach.device, log, 9, phone.entries_of(|s| s == Scope::Member(member(1)))[8].hash);
    assert_eq!(told(&|s| s.seal = by_coach.clone()), SegmentError::Signature(log));
    // The log that is held, with an opening record of another.
    let other = Opening::new(&phone.device, Scope::Member(member(1)), [1; 16]);
    assert_eq!(told(&|s| s.opening = Some(other.clone())), SegmentError::OtherLog(log));
}

#[test]
fn a_forged_opening_record_is_refused() {
    let (coach, mut phone) = joined();
    // A log in another member's name: the record says another device wrote it.
    let mut forged = Opening::new(&phone.device, Scope::Member(member(1)), [4; 16]);
    phone.write_into(forged.clone(), Draft::new(&rest(1)));
    let at = 8;
    let (mut a, mut b) = (phone.clone(), coach.clone());
    let t = talk(&mut a, &mut b);
    let at = t
        .wire
        .iter()
        .position(|b| matches!(Message::from_bytes(b), Ok(Message::Batch(b)) if !b.segments.is_empty()))
        .unwrap_or(at);
    forged.device = world::device(COACH).key();
    let t = refused(&phone, &coach, None, change(at, sends(|s| s.opening = Some(forged.clone()))));
    let e = t.refused_by_called();
    assert!(
        matches!(
            e,
            SyncError::Message(MessageError::Segment(SegmentError::Opening(OpeningError::Signature)))
        ),
        "{e}"
    );
    // Without any record a new log cannot be placed.
    let t = refused(&phone, &coach, None, change(at, sends(|s| s.opening = None)));
    assert!(matches!(t.refused_by_called(), SyncError::Refused(Refusal::Segment)));
}

/// A batch that the caller makes up, sent in place of its own at `at`.
fn instead(at: usize, segment: &Segment) -> impl FnMut(usize, Vec<u8>) -> Option<Vec<u8>> {
    change(at, |_| Message::Batch(Batch { segments: vec![segment.clone()] }))
}

/// A segment that is sealed well by whoever writes it.
fn sealed(by: &MemoryReplica, scope: Scope, entries: u64) -> Segment {
    let opening = Opening::new(&by.device, scope, [2; 16]);
    let mut writer = MemoryReplica::new(0);
    writer.device = by.device.clone();
    for n in 0..entries {
        writer.write_into(opening.clone(), Draft::new(&rest((n % 200) as u8)));
    }
    let all = writer.entries();
    let last = all.last().unwrap();
    Segment {
        log: opening.id(),
        first_seq: 1,
        before: Hash(opening.id().0),
        opening: Some(opening.clone()),
        entries: all.iter().map(|e| (e.header_bytes.clone(), e.body.clone())).collect(),
        seal: Seal::new(&by.device, opening.id(), last.place.seq, last.hash),
    }
}

#[test]
fn logs_of_scopes_that_the_receiver_may_not_hold_are_refused() {
    let [coach, one, two] = squad_of_three();
    let batches = |a: &MemoryReplica, b: &MemoryReplica| -> Vec<usize> {
        let t = talk(&mut a.clone(), &mut b.clone());
        let is_batch = |n: &usize| matches!(Message::from_bytes(&t.wire[*n]), Ok(Message::Batch(_)));
        (0..t.wire.len()).step_by(2).filter(is_batch).collect()
    };
    let at = batches(&one, &two);
    assert!(at.len() >= 2);
    for scope in [Scope::Staff, Scope::Member(member(1)), Scope::Private(member(1))] {
        let segment = sealed(&one, scope, 3);
        for at in &at {
            let t = refused(&one, &two, None, instead(*at, &segment));
            let e = t.refused_by_called();
            assert!(matches!(e, SyncError::Refused(Refusal::Scope)), "{scope:?} in message {at}: {e}");
        }
    }
    // The squad's logs come in their round, the others' in theirs.
    let at = batches(&one, &coach);
    let squads = sealed(&one, Scope::Squad, 3);
    let t = refused(&one, &coach, None, instead(at[at.len() - 1], &squads));
    assert!(matches!(t.refused_by_called(), SyncError::Refused(Refusal::Scope)));
    let members = sealed(&one, Scope::Member(member(1)), 3);
    let t = refused(&one, &coach, None, instead(at[0], &members));
    assert!(matches!(t.refused_by_called(), SyncError::Refused(Refusal::Scope)));
    // And a squad-wide log by a phone comes in, and does not count.
    let (mut a, mut b) = (one.clone(), coach.clone());
    assert!(talk_over(&mut a, &mut b, None, instead(at[0], &squads)).is_whole());
    assert_eq!(b.entries().len(), coach.entries().len() + 3);
    assert_eq!(b.state().live, coach.state().live);
}

#[test]
fn more_entries_than_lie_between_two_seals_are_refused() {
    let (coach, phone, at) = something_new();
    let count = MAX_ENTRIES + 1;
    let long = sealed(&phone, Scope::Member(member(1)), count);
    let t = refused(&phone, &coach, None, instead(at, &long));
    match t.refused_by_called() {
        SyncError::Segment(SegmentError::Count { found, .. }) => assert_eq!(*found as u64, count),
        other => panic!("{other}"),
    }
    let (mut a, mut b) = (phone.clone(), coach.clone());
    let long = sealed(&phone, Scope::Member(member(1)), MAX_ENTRIES);
    assert!(talk_over(&mut a, &mut b, None, instead(at, &long)).is_whole(), "as many as may lie there");
}

#[test]
fn entries_after_a_gap_are_refused() {
    let (coach, mut phone) = joined();
    for n in 0..3 {
        phone.write(Scope::Member(member(1)), Draft::new(&rest(n)));
        let Ok(()) = phone.seal();
    }
    let log = Opening::new(&phone.device, Scope::Member(member(1)), [0; 16]).id();
    let Ok(Some(later)) = phone.segment_after(log, 6) else { panic!() };
    let t = talk(&mut phone.clone(), &mut coach.clone());
    let at = t
        .wire
        .iter()
        .rposition(|b| matches!(Message::from_bytes(b), Ok(Message::Batch(b)) if !b.segments.is_empty()));
    let t = refused(&phone, &coach, None, instead(at.unwrap(), &later));
    let e = t.refused_by_called();
    assert!(matches!(e, SyncError::Segment(SegmentError::Gap { after: 5, first: 7, .. })), "{e}");
}

/// Heads that are longer than the log, or of logs that nobody has: the other
/// sends what it has good reason to, and the conversation ends.
#[test]
fn a_head_that_claims_more_than_there_is_does_no_harm() {
    let (mut coach, phone, _) = something_new();
    coach.write(Scope::Member(member(1)), Draft::new(&rest(70)));
    let haves: Vec<usize> = (0..BOUND).collect();
    let length = talk(&mut phone.clone(), &mut coach.clone()).wire.len();
    for at in haves.into_iter().take(length) {
        let (mut a, mut b) = (phone.clone(), coach.clone());
        let longer = |bytes: Vec<u8>| {
            let claim = |have: Have| {
                let head = |h: Head| Head { seq: h.seq + 1_000, ..h };
                let mut heads: Vec<_> = have.heads.into_iter().map(head).collect();
                heads.push(Head {
                    log: pitside_model::facts::LogId([1; 32]),
                    seq: 1 << 40,
                    hash: Hash([1; 32]),
                });
                Have { heads }
            };
            match Message::from_bytes(&bytes).unwrap() {
                Message::Have(have) => Message::Have(claim(have)).to_bytes(),
                Message::Receipt(have) => Message::Receipt(claim(have)).to_bytes(),
                _ => bytes,
            }
        };
        let t = talk_over(&mut a, &mut b, None, |n, bytes| Some(if n == at { longer(bytes) } else { bytes }));
        assert!(t.is_whole(), "{at}: {:?} {:?}", t.caller, t.called);
        // The next one without the claim makes it good.
        assert!(talk(&mut a, &mut b).is_whole());
        agree(&a, &b);
    }
}

/// A phone that was put back from a backup and wrote on: the same number, another
/// entry. The log is left as it is on both sides, everything else goes on.
#[test]
fn a_log_that_was_written_twice_is_left_alone() {
    for longer in [true, false] {
        let (mut coach, mut phone) = joined();
        let mut backup = phone.clone();
        phone.write(Scope::Member(member(1)), Draft::new(&rest(20)));
        if !longer {
            phone.write(Scope::Member(member(1)), Draft::new(&rest(21)));
        }
        assert!(talk(&mut phone, &mut coach).is_whole());
        for n in 0..if longer { 3 } else { 1 } {
            backup.write(Scope::Member(member(1)), Draft::new(&rest(30 + n)));
        }
        coach.write(Scope::Squad, Draft::new(&secret("goes on")));
        let before = (backup.clone(), coach.clone());
        let t = talk(&mut backup, &mut coach);
        assert!(t.is_whole(), "{:?} {:?}", t.caller, t.called);
        assert!(t.forked.0 + t.forked.1 >= 1, "one of the two says so");
        let of_one = |r: &MemoryReplica| r.entries_of(|s| s == Scope::Member(member(1)));
        assert_eq!(of_one(&backup), of_one(&before.0));
        assert_eq!(of_one(&coach), of_one(&before.1));
        assert!(crossed(&t, "goes on"));
        assert_eq!(backup.entries_of(|s| s == Scope::Squad), coach.entries_of(|s| s == Scope::Squad));
    }
}

/// Sent all the same, the second history is refused where it differs.
#[test]
fn the_other_half_of_a_fork_is_refused() {
    let (coach, phone) = joined();
    let (mut coach, mut first, mut second) = (coach, phone.clone(), phone);
    first.write(Scope::Member(member(1)), Draft::new(&rest(20)));
    assert!(talk(&mut first, &mut coach).is_whole());
    second.write(Scope::Member(member(1)), Draft::new(&rest(30)));
    second.write(Scope::Member(member(1)), Draft::new(&rest(31)));
    let Ok(()) = second.seal();
    let log = Opening::new(&second.device, Scope::Member(member(1)), [0; 16]).id();
    let Ok(Some(segment)) = second.segment_after(log, 5) else { panic!() };
    first.write(Scope::Member(member(1)), Draft::new(&rest(22)));
    let t = talk(&mut first.clone(), &mut coach.clone());
    let at = t
        .wire
        .iter()
        .position(|b| matches!(Message::from_bytes(b), Ok(Message::Batch(b)) if !b.segments.is_empty()));
    let t = refused(&first, &coach, None, instead(at.unwrap(), &segment));
    let e = t.refused_by_called();
    assert!(matches!(e, SyncError::Segment(SegmentError::Fork { seq: 6, .. })), "{e}");
}

/// Messages survive their bytes: what is told is what is heard.
#[test]
fn every_message_of_a_conversation_has_one_encoding() {
    let (coach, phone, _) = something_new();
    for bytes in talk(&mut phone.clone(), &mut coach.clone()).wire {
        let message = Message::from_bytes(&bytes).unwrap();
        assert_eq!(message.to_bytes(), bytes);
        assert!(decode(&bytes).is_ok());
    }
}
