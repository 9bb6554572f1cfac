//! The conversation of two devices over encoded bytes: what crosses, what does
//! not, what happens when it is cut, and what a peer that lies gets to hear.

#![allow(
    clippy::expect_used,
    clippy::panic,
    clippy::unwrap_used,
    reason = "helpers of tests fail as tests do"
)]

use std::convert::Infallible;

use pitside_log::authority::{Consents, Judgement, Reason};
use pitside_log::entry::{Body, Content, EntryError, MAX_PAYLOAD};
use pitside_log::opening::{Opening, OpeningError};
use pitside_log::seal::{MAX_ENTRIES, Seal, Signer};
use pitside_log::segment::{Segment, SegmentError};
use pitside_log::sync::{
    Batch, Conversation, Have, Hello, Join, Line, Message, MessageError, PROTOCOL, Refusal, Replica, SECRET,
    SyncError,
};
use pitside_model::cbor::{Value, decode, encode};
use pitside_model::facts::{
    Conditions, Fact, Hash, Head, LogId, MemberId, Role, Scope, Session, SquadId, Subject,
};
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

fn hashes(entries: &[pitside_log::entry::Entry]) -> Vec<Hash> {
    entries.iter().map(|e| e.hash).collect()
}

/// What a device may hold once a member lets everyone see the private part.
fn with_consent(r: &MemoryReplica, scope: Scope) -> bool {
    let all = Consents { coach: true, assistants: true, medical: true };
    let Ok(standing) = r.standing(r.device());
    standing.may_read(scope, all)
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
        assert_eq!(r.state(), r.reference());
        let mut once = hashes(&r.entries());
        once.sort_unstable();
        once.dedup();
        assert_eq!(once.len(), r.entries().len(), "no entry twice");
        for entry in r.entries() {
            // What came while it was shared stays.
            let might = with_consent(r, entry.scope);
            assert!(entry.scope == Scope::Squad || might || written_by(r, &entry));
        }
    }
}

fn written_by(r: &MemoryReplica, entry: &pitside_log::entry::Entry) -> bool {
    Opening::new(&r.device, entry.scope, [0; 16]).id() == entry.log
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
        conditions: Conditions::default(),
    })
}

fn crossed(t: &Talk, words: &str) -> bool {
    let within = |bytes: &[u8]| bytes.windows(words.len()).any(|w| w == words.as_bytes());
    let said = |content: &Content| content.body().is_some_and(|body| within(&body.payload));
    t.wire.iter().any(|bytes| match Message::from_bytes(bytes).unwrap() {
        // What is packed is looked at unpacked.
        Message::Batch(batch) => {
            let entries = batch.segments.iter().flat_map(|s| &s.entries);
            entries.into_iter().any(|(header, content)| within(header) || said(content))
                || batch.bodies.iter().any(|(_, body)| within(&body.payload))
        }
        _ => within(bytes),
    })
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
    let names = |id: &[u8; 32]| {
        t.wire.iter().any(|bytes| match Message::from_bytes(bytes).unwrap() {
            Message::Batch(batch) => batch.segments.iter().any(|s| s.log.0 == *id),
            _ => bytes.windows(32).any(|w| w == id),
        })
    };
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
                    let own = member(by as u8);
                    let scope = match scope {
                        _ if owner => scope,
                        Scope::Private(_) => Scope::Private(own),
                        _ => Scope::Member(own),
                    };
                    all[by].write(scope, Draft::new(&rest(n)));
                },
                Act::Consent { by, given } => { all[by].consent(member(by as u8), given); }
                Act::Meet { caller, called, cut } => {
                    before = all.iter().map(|r| hashes(&r.entries())).collect();
                    let t = pair(&mut all, caller, called, cut);
                    prop_assert!(t.caller.is_ok() && t.called.is_ok(), "{:?} {:?}", t.caller, t.called);
                    if t.is_whole() {
                        agree(&all[caller], &all[called]);
                    }
                }
            }
            for (r, before) in all.iter().zip(&before) {
                let now = hashes(&r.entries());
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
            prop_assert_eq!(r.state().authority, all[0].state().authority);
        }
        // A meeting of those who have nothing new for each other moves no entry.
        let t = pair(&mut all, 0, 1, None);
        let batches = t.wire.iter().map(|b| Message::from_bytes(b).unwrap());
        prop_assert!(batches.filter(|m| matches!(m, Message::Batch(b) if !b.is_empty())).count() == 0);
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
        Message::Receipt(vec![]),
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
    assert!(length > 250, "{length}");
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
    let body = |s: &mut Segment, by: &dyn Fn(&mut Body)| {
        let Content::Body(body) = &mut s.entries[1].1 else { panic!() };
        by(body);
    };
    let entry = |source| SegmentError::Entry { log, seq: 7, source };
    assert_eq!(told(&|s| body(s, &|b| b.salt[0] ^= 1)), SegmentError::Chain(log));
    assert_eq!(told(&|s| body(s, &|b| b.payload = vec![0xf6])), SegmentError::Chain(log));
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
    let by_coach = Seal::new(
        &coach.device,
        log,
        9,
        phone.entries_of(|s| s == Scope::Member(member(1))).iter().find(|e| e.seq == 9).unwrap().hash,
    );
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
    change(at, |_| Message::Batch(Batch { segments: vec![segment.clone()], bodies: vec![] }))
}

/// A segment that is sealed well by whoever writes it.
fn sealed(by: &MemoryReplica, scope: Scope, entries: u64) -> Segment {
    let opening = Opening::new(&by.device, scope, [2; 16]);
    let mut writer = MemoryReplica::new(0);
    writer.device = by.device.clone();
    let draft = |n: u64| Draft::new(&rest((n % 200) as u8));
    let all: Vec<_> = (0..entries).map(|n| writer.write_into(opening.clone(), draft(n))).collect();
    let last = all.last().unwrap();
    Segment {
        log: opening.id(),
        first_seq: 1,
        before: Hash(opening.id().0),
        opening: Some(opening.clone()),
        entries: all.iter().map(|e| (e.header_bytes.clone(), e.content.clone())).collect(),
        seal: Seal::new(&by.device, opening.id(), last.seq, last.hash),
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
    let t = talk_over(&mut a, &mut b, None, instead(at[0], &squads));
    // The caller does not know that it sent something, and goes on too early.
    assert!(matches!(t.refused_by_called(), SyncError::Refused(Refusal::Turn)));
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
    let Ok(Some(later)) = phone.segment_after(&line(&phone, log).head, 6) else { panic!() };
    let t = talk(&mut phone.clone(), &mut coach.clone());
    let at = t
        .wire
        .iter()
        .rposition(|b| matches!(Message::from_bytes(b), Ok(Message::Batch(b)) if !b.segments.is_empty()));
    let t = refused(&phone, &coach, None, instead(at.unwrap(), &later));
    let e = t.refused_by_called();
    assert!(matches!(e, SyncError::Segment(SegmentError::Gap { first: 7, .. })), "{e}");
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
                heads.push(Head { log: LogId([1; 32]), seq: 1 << 40, hash: Hash([1; 32]) });
                Have { heads, lacking: have.lacking }
            };
            match Message::from_bytes(&bytes).unwrap() {
                Message::Have(have) => Message::Have(claim(have)).to_bytes(),
                Message::Receipt(heads) => {
                    Message::Receipt(claim(Have { heads, lacking: vec![] }).heads).to_bytes()
                }
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

/// A phone whose folder was copied and written on in both places: whoever meets
/// whom, all end with both branches under the same names, both count, and each
/// phone writes on in a log of its own.
#[test]
fn both_branches_of_a_log_that_was_written_twice_are_kept_and_count() {
    for (here, there) in [(1, 3), (2, 1), (1, 1), (3, 2)] {
        for order in [[0, 1, 2], [2, 1, 0], [1, 0, 2], [1, 2, 0]] {
            let (coach, phone) = joined();
            let (mut first, mut second) = (phone.clone(), phone);
            for n in 0..here {
                first.write(Scope::Member(member(1)), Draft::new(&rest(20 + n)));
            }
            for n in 0..there {
                second.write(Scope::Member(member(1)), Draft::new(&rest(40 + n)));
            }
            let mut all = [coach, first, second];
            let mut told = 0;
            // Twice round: the coach, and the two copies with each other.
            for pass in 0..3 {
                for at in order {
                    let (a, b) = [(1, 0), (2, 0), (1, 2)][at];
                    let (mut x, mut y) = (all[a].clone(), all[b].clone());
                    // Two copies have one key: the carrier would not tell them apart.
                    let t = talk(&mut x, &mut y);
                    assert!(t.is_whole(), "{pass} {at}: {:?} {:?}", t.caller, t.called);
                    told += t.forked.0 + t.forked.1;
                    (all[a], all[b]) = (x, y);
                }
            }
            assert!(told > 0, "a fork is told");
            let of_one = |r: &MemoryReplica| {
                let mut hashes = hashes(&r.entries_of(|s| s == Scope::Member(member(1))));
                hashes.sort_unstable();
                hashes
            };
            for r in &all {
                assert_eq!(of_one(r).len(), 5 + usize::from(here + there));
                assert_eq!(of_one(r), of_one(&all[0]));
                assert_eq!(r.branches(), all[0].branches());
                assert_eq!(r.branches().len(), 2);
                assert_eq!(r.state().live, r.reference().live);
                let counted = |e: &Hash| r.state().judgements[e] == Judgement::Counted;
                assert!(of_one(r).iter().all(counted), "both count");
            }
            for r in &mut all[1..] {
                let entry = r.write(Scope::Member(member(1)), Draft::new(&rest(60)));
                assert_eq!(entry.seq, 1, "a new log");
            }
        }
    }
}

/// The other copy wrote on, further than anything known of the log: what it lacks
/// of the first copy's branch still comes in the same conversation.
#[test]
fn a_branch_is_sent_to_one_that_is_further_on_in_another() {
    for (here, more) in [(1, 5), (3, 1), (2, 2)] {
        let (mut coach, phone) = joined();
        let (mut first, mut second) = (phone.clone(), phone);
        for n in 0..here {
            first.write(Scope::Member(member(1)), Draft::new(&rest(20 + n)));
        }
        second.write(Scope::Member(member(1)), Draft::new(&rest(40)));
        assert!(talk(&mut second, &mut coach).is_whole());
        assert!(talk(&mut first, &mut coach).is_whole());
        for n in 0..more {
            second.write(Scope::Member(member(1)), Draft::new(&rest(50 + n)));
        }
        assert!(talk(&mut second, &mut coach).is_whole());
        let of_one = |r: &MemoryReplica| {
            let mut hashes = hashes(&r.entries_of(|s| s == Scope::Member(member(1))));
            hashes.sort_unstable();
            hashes
        };
        assert_eq!(of_one(&second), of_one(&coach), "{here} here, {more} more there");
        // And nothing twice.
        let again = talk(&mut second, &mut coach);
        let sends =
            |bytes: &Vec<u8>| matches!(Message::from_bytes(bytes), Ok(Message::Batch(b)) if !b.is_empty());
        assert!(!again.wire.iter().any(sends));
    }
}

fn line(r: &MemoryReplica, log: LogId) -> Line {
    let Ok(lines) = r.lines();
    lines.into_iter().find(|l| l.head.log == log).unwrap()
}

/// A relay that takes the bodies of admissions away does not keep a device out,
/// and what it stripped is asked for from whoever has it.
#[test]
fn a_stripped_body_is_missed_and_comes_from_elsewhere() {
    let [mut coach, one, mut two] = squad_of_three();
    let admission = coach.admit_device(world::device(6).key(), Role::Athlete, &[member(6)]);
    let mut relay = one.clone();
    assert!(talk(&mut relay, &mut coach).is_whole());
    relay.strip(admission.hash);
    assert!(talk(&mut relay, &mut two).is_whole());
    let Ok(standing) = two.standing(world::device(6).key());
    assert!(standing.grants.is_empty(), "without its body the admission gives nothing");
    let line = line(&two, admission.log);
    assert_eq!(line.whole.unwrap().seq, admission.seq - 1, "no receipt for what is not there whole");
    assert!(talk(&mut two, &mut coach).is_whole());
    let Ok(standing) = two.standing(world::device(6).key());
    assert!(standing.is_admitted());
    assert_eq!(two.state(), two.reference());
    agree(&coach, &two);
    // A body that is another's is refused and kept aside.
    let mut third = two.clone();
    third.strip(admission.hash);
    let lies = |n, bytes: Vec<u8>| match Message::from_bytes(&bytes) {
        Ok(Message::Batch(mut batch)) if n % 2 == 1 && !batch.bodies.is_empty() => {
            batch.bodies[0].1.salt[0] ^= 1;
            Some(Message::Batch(batch).to_bytes())
        }
        _ => Some(bytes),
    };
    let (mut a, mut b) = (third.clone(), coach.clone());
    let t = talk_over(&mut a, &mut b, None, lies);
    assert!(matches!(
        t.refused_by_caller(),
        SyncError::Segment(SegmentError::Entry { source: EntryError::Commitment, .. })
    ));
    assert_eq!(a.aside.len(), third.aside.len() + 1);
}

/// A removed device is told so, hands over what it wrote late, and gets nothing
/// but the squad-wide part.
#[test]
fn a_removed_device_is_told_and_its_late_entries_are_kept_apart() {
    let [mut coach, mut one, _] = squad_of_three();
    coach.remove_device(one.device());
    coach.write(Scope::Member(member(1)), Draft::new(&secret("after the removal")));
    let late = one.write(Scope::Member(member(1)), Draft::new(&rest(50)));
    let t = talk(&mut one, &mut coach);
    assert!(t.is_whole(), "{:?} {:?}", t.caller, t.called);
    assert!(!crossed(&t, "after the removal"));
    let Ok(own) = one.standing(one.device());
    assert!(own.cut.is_some(), "it knows");
    assert_eq!(coach.state().judgements[&late.hash], Judgement::Refused(Reason::Removed));
    assert_eq!(coach.state(), coach.reference());
    // An owner takes them in: a removal with a later cut.
    coach.remove_device(one.device());
    assert_eq!(coach.state().judgements[&late.hash], Judgement::Counted);
    // What it dates back, on another branch, stays outside.
    let (_, mut thief) = joined();
    let forged = thief.write(Scope::Member(member(1)), Draft::new(&rest(51)));
    let _ = talk(&mut thief, &mut coach);
    assert_eq!(coach.state().judgements.get(&forged.hash), Some(&Judgement::Refused(Reason::Removed)));
    assert_eq!(coach.state(), coach.reference());
}

/// A member's data go: everywhere but with the member, whatever comes first.
#[test]
fn an_erased_member_is_held_by_the_members_own_devices_only() {
    let [coach, one, two] = squad_of_three();
    for late in [false, true] {
        let (mut coach, mut one) = (coach.clone(), one.clone());
        let mut second = MemoryReplica::new(3);
        coach.admit_device(second.device(), Role::Owner, &[]);
        coach.invite([5; SECRET], 1_000);
        let guest = Some((join(5, &[]), coach.squad().unwrap()));
        assert!(talk_over(&mut second, &mut coach, guest, |_, bytes| Some(bytes)).is_whole());
        assert_eq!(second.entries_of(|s| s == Scope::Member(member(1))).len(), 5);
        assert!(talk(&mut one, &mut coach).is_whole());
        if late {
            one.write(Scope::Member(member(1)), Draft::new(&secret("written late")));
        }
        coach.write(Scope::Squad, Draft::about(Subject::Uuid(member(1).0), &Fact::Erasure));
        assert!(coach.entries_of(|s| s.member() == Some(member(1))).is_empty());
        let t = talk(&mut second, &mut coach);
        assert!(t.is_whole(), "{:?} {:?}", t.caller, t.called);
        let t = talk(&mut one, &mut second);
        assert!(t.is_whole() && !crossed(&t, "written late"));
        assert!(talk(&mut one, &mut coach).is_whole());
        for staff in [&coach, &second] {
            assert!(staff.entries_of(|s| s.member() == Some(member(1))).is_empty());
            assert_eq!(staff.state(), staff.reference());
        }
        assert_eq!(one.entries_of(|s| s == Scope::Member(member(1))).len(), 5 + usize::from(late));
        assert_eq!(
            coach.entries_of(|s| s == Scope::Member(member(2))),
            two.entries_of(|s| { s == Scope::Member(member(2)) })
        );
    }
}

/// The coach's laptop is lost. A new one, admitted by the printed recovery key,
/// gathers the squad from the phones, and removes the lost one.
#[test]
fn a_new_laptop_carries_the_squad_on_by_the_recovery_key() {
    let recovery = world::device(20);
    let mut coach = MemoryReplica::new(COACH);
    let squad = coach.found_with(Some(recovery.key()));
    let mut phones: Vec<_> = (1..3).map(MemoryReplica::new).collect();
    for (n, phone) in (1..).zip(&mut phones) {
        phone.write(Scope::Member(member(n)), Draft::new(&rest(n)));
        coach.invite([n; SECRET], 1_000);
        let guest = Some((join(n, &[member(n)]), squad));
        assert!(talk_over(phone, &mut coach, guest, whole).is_whole());
    }
    let mut laptop = MemoryReplica::new(9);
    let mut key = MemoryReplica::new(20);
    key.admit_device(laptop.device(), Role::Owner, &[]);
    let Ok(()) = key.seal();
    let Ok(lines) = key.lines();
    let Ok(Some(admission)) = key.segment_after(&lines[0].head, 0) else { panic!() };
    laptop.recover(squad, vec![admission]);
    laptop.invite([40; SECRET], 1_000);
    laptop.invite([41; SECRET], 1_000);
    // A stranger without the secret is not let in, whatever squad it names.
    let stranger = MemoryReplica::new(30);
    let t = talk_over(&mut stranger.clone(), &mut laptop.clone(), None, whole);
    assert!(matches!(t.refused_by_called(), SyncError::Refused(Refusal::NotAdmitted)));
    for (n, phone) in (1..).zip(&mut phones) {
        let guest = Some((join(39 + n, &[member(n)]), squad));
        let t = talk_over(phone, &mut laptop, guest, whole);
        assert!(t.is_whole(), "{:?} {:?}", t.caller, t.called);
        agree(phone, &laptop);
    }
    assert_eq!(laptop.squad(), Some(squad));
    assert_eq!(laptop.entries_of(|s| matches!(s, Scope::Member(_))).len(), 2);
    laptop.remove_device(coach.device());
    // The lost one's removal of the new one has no effect: it is junior.
    let idle = coach.remove_device(laptop.device());
    assert!(talk(&mut phones[0], &mut laptop).is_whole());
    let _ = talk(&mut coach, &mut phones[0]);
    let Ok(lost) = phones[0].standing(coach.device());
    assert!(lost.cut.is_some());
    let Ok(new) = phones[0].standing(laptop.device());
    assert!(new.is_admitted());
    assert_ne!(phones[0].state().judgements.get(&idle.hash), Some(&Judgement::Counted));
    assert_eq!(phones[0].state(), phones[0].reference());
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
