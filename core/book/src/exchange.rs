//! One sync over one link: the conversation's messages, moved and answered.

use pitside_log::sync::{Conversation, Join, Message, Progress, SyncError};
use pitside_model::facts::{DeviceKey, LogId, Role, Scope, SquadId};

use crate::clock::Clock;
use crate::pairing::Invitation;
use crate::store::{Book, BookError, BookReplica, Filter};

/// The most messages that one exchange takes: far more than the largest book
/// needs, so that no peer can keep it going for ever.
const MAX_MESSAGES: u32 = 100_000;

/// What moves whole messages between two devices that know each other's key.
pub trait Link {
    /// Why it could not.
    type Error: core::error::Error;
    /// The device at the other end, as proved by its key.
    fn peer(&self) -> DeviceKey;
    /// Sends one message.
    ///
    /// # Errors
    /// Where the link is cut, refused or too slow.
    fn send(&mut self, message: &[u8]) -> Result<(), Self::Error>;
    /// Receives one message.
    ///
    /// # Errors
    /// Where the link is cut, refused or too slow, or the message too large.
    fn receive(&mut self) -> Result<Vec<u8>, Self::Error>;
}

/// Which end of the link this is.
#[derive(Clone, Debug)]
pub enum Part {
    /// It called, as a device of the squad.
    Caller,
    /// It called, with an invitation.
    Guest(Join, SquadId),
    /// It was called.
    Called,
}

/// What an exchange brought.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Outcome {
    /// The other device.
    pub peer: DeviceKey,
    /// Entries that were new here.
    pub received: u64,
    /// Entries that were sent.
    pub sent: u64,
    /// Logs that were written twice, as this exchange showed: both branches are kept.
    pub forked: Vec<LogId>,
    /// The other's wall clock minus ours, in milliseconds.
    pub clock_apart_ms: i64,
}

/// Why an exchange ended early. What was taken in by then stays; the next one
/// goes on from there.
#[derive(Debug, thiserror::Error)]
pub enum ExchangeError<E: core::error::Error> {
    /// One of the two refused.
    #[error(transparent)]
    Sync(SyncError<BookError>),
    /// The link failed.
    #[error(transparent)]
    Link(E),
    /// A person called it off.
    #[error("called off; what was taken in by then stays")]
    CalledOff,
    /// The other side never comes to an end.
    #[error("the other device does not come to an end")]
    Endless,
}

impl<E: core::error::Error> From<SyncError<BookError>> for ExchangeError<E> {
    fn from(e: SyncError<BookError>) -> Self {
        Self::Sync(e)
    }
}

/// Brings the two books together.
///
/// # Errors
/// [`ExchangeError`]; the other side has been told where it can be.
pub fn exchange<L: Link>(
    book: &Book,
    link: &mut L,
    part: Part,
    clock: &dyn Clock,
) -> Result<Outcome, ExchangeError<L::Error>> {
    exchange_watched(book, link, part, clock, &mut |_| true)
}

/// The same; `watch` hears after each message how far it is, and calls it off by
/// saying `false`.
///
/// # Errors
/// [`ExchangeError`]; the other side has been told where it can be.
pub fn exchange_watched<L: Link>(
    book: &Book,
    link: &mut L,
    part: Part,
    clock: &dyn Clock,
    watch: &mut dyn FnMut(Progress) -> bool,
) -> Result<Outcome, ExchangeError<L::Error>> {
    let (initiator, guest) = match part {
        Part::Caller => (true, None),
        Part::Guest(join, squad) => (true, Some((join, squad))),
        Part::Called => (false, None),
    };
    let mut conversation = Conversation::new(link.peer(), initiator, guest);
    let ended = converse(book, link, &mut conversation, initiator, clock, watch);
    if let Err(ExchangeError::Sync(e)) = &ended
        && let Some(why) = e.to_tell()
    {
        // The refusal stands, whether or not the other side still hears it.
        let _ = link.send(&Message::Refuse(why).to_bytes());
    }
    ended?;
    Ok(Outcome {
        peer: link.peer(),
        received: conversation.progress().received,
        sent: conversation.progress().sent,
        forked: conversation.forked().to_vec(),
        clock_apart_ms: conversation.clock_apart_ms(),
    })
}

fn converse<L: Link>(
    book: &Book,
    link: &mut L,
    conversation: &mut Conversation,
    initiator: bool,
    clock: &dyn Clock,
    watch: &mut dyn FnMut(Progress) -> bool,
) -> Result<(), ExchangeError<L::Error>> {
    let mut replica = BookReplica::new(book, clock);
    if initiator {
        let hello = conversation.begin(&mut replica, clock.now().ms)?;
        link.send(&hello.to_bytes()).map_err(ExchangeError::Link)?;
    }
    for _ in 0..MAX_MESSAGES {
        let bytes = link.receive().map_err(ExchangeError::Link)?;
        let message = match Message::from_bytes(&bytes) {
            Ok(message) => message,
            Err(why) => {
                // Kept, so that it can be looked at; the reason goes to the other side.
                book.set_aside(link.peer(), &why.to_string(), &bytes, clock.now())
                    .map_err(SyncError::Store)?;
                return Err(SyncError::Message(why).into());
            }
        };
        if let Some(answer) = conversation.step(&mut replica, message, clock.now().ms)? {
            link.send(&answer.to_bytes()).map_err(ExchangeError::Link)?;
        }
        if conversation.is_done() {
            return Ok(());
        }
        if !watch(conversation.progress()) {
            return Err(ExchangeError::CalledOff);
        }
    }
    Err(ExchangeError::Endless)
}

/// Whether nothing is written about any member that a device serves.
fn none_is_used(book: &Book) -> Result<bool, BookError> {
    for member in book.own_members()? {
        for scope in [Scope::Member(member), Scope::Private(member)] {
            if !book.held(&Filter { scope: Some(scope), ..Filter::default() })?.is_empty() {
                return Ok(false);
            }
        }
    }
    Ok(true)
}

/// What a device that got an invitation shows for it.
///
/// A device that serves nobody yet, or only members about whom nothing is written, serves
/// the invited member from now on, and one that is no athlete's serves nobody.
///
/// # Errors
/// [`BookError::Demo`] where a demo book and a person's own would mix,
/// [`BookError::HasSquad`] where the book belongs to another squad.
pub fn accept(book: &Book, invitation: &Invitation, clock: &dyn Clock) -> Result<Part, BookError> {
    if invitation.demo != book.is_demo() {
        return Err(BookError::Demo);
    }
    match book.squad() {
        Some(squad) if squad != invitation.squad => return Err(BookError::HasSquad),
        Some(_) => {}
        None => {
            // A phone makes a member at its first start; unused, it would come into the
            // squad as an athlete without a name.
            let unused = none_is_used(book)?;
            match (invitation.role == Role::Athlete, invitation.member) {
                // A coach's, an assistant's or a guardian's device has no athlete of its own.
                (false, _) if unused => book.serve(&[])?,
                (true, Some(member)) if unused => book.serve(&[member])?,
                (true, _) if book.own_members()?.is_empty() => {
                    book.start_member(clock.now())?;
                }
                _ => {}
            }
        }
    }
    book.set_peer(invitation.device, &invitation.addresses)?;
    let join = Join { secret: invitation.secret, members: book.own_members()? };
    Ok(Part::Guest(join, invitation.squad))
}

#[cfg(test)]
mod tests {
    use pitside_model::facts::{Card, Fact, Grant, MemberId, Subject};
    use zeroize::Zeroizing;

    use super::*;
    use crate::clock::SystemClock;
    use crate::keys::{Identity, Seed};
    use crate::store::Draft;

    fn book(folder: &tempfile::TempDir, key: u8) -> Book {
        let identity = Identity::from_seed(Seed::from_bytes(Zeroizing::new([key; 32])));
        Book::create(folder.path(), identity, false).unwrap()
    }

    /// What a phone that was started serves after it accepted an invitation of a coach for
    /// Ada; `used` says whether something was logged on it before.
    fn served(role: Role, used: bool) -> (MemberId, Vec<MemberId>, MemberId) {
        let folders = [tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap()];
        let (coach, phone) = (book(&folders[0], 3), book(&folders[1], 4));
        let now = SystemClock.now();
        coach.found("Weir jumps", now).unwrap();
        let ada = coach.add_member("Ada", now).unwrap();
        let started = phone.start_member(now).unwrap();
        if used {
            let name = Draft::about(Subject::Uuid(started.0), Fact::Card(Card::Name("Own".into())));
            phone.write(Scope::Member(started), &name, now).unwrap();
        }
        let open = coach.invite(Grant::new(role, vec![ada]), now, 10).unwrap();
        let invitation = Invitation::of(&coach, &open, Vec::new()).unwrap();
        accept(&phone, &invitation, &SystemClock).unwrap();
        (ada, phone.own_members().unwrap(), started)
    }

    #[test]
    fn a_phone_on_which_nothing_was_logged_brings_no_athlete_without_a_name() {
        let (ada, serves, _) = served(Role::Athlete, false);
        assert_eq!(serves, [ada]);
        assert!(served(Role::Assistant, false).1.is_empty());
        let (_, serves, started) = served(Role::Athlete, true);
        assert_eq!(serves, [started], "what was logged before goes along");
    }
}
