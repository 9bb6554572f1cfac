//! What stands above the parts of a phone's screens, and on the buttons that fold them. The same
//! for every record, so a shell asks once a language.

use crate::env::Env;
use crate::text::Words;

/// Headings and small buttons of a phone's screens.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record)]
pub struct Headings {
    /// Above the weekly figures.
    pub weeks: String,
    /// Before the hardest contact of this week.
    pub hardest: String,
    /// Shows every week in words.
    pub all_weeks: String,
    /// Folds what was unfolded.
    pub fold: String,
    /// Above what stands behind the weekly figures.
    pub behind: String,
    /// Above what speaks against work today.
    pub today: String,
    /// Above limits.
    pub limits: String,
    /// Above the conditions of what comes next.
    pub next: String,
    /// Above the tests before higher boxes.
    pub tests: String,
    /// Above targets of contact times.
    pub targets: String,
    /// Above takes.
    pub takes: String,
    /// Above sessions.
    pub sessions: String,
    /// Shows older sessions.
    pub older: String,
    /// Above other training.
    pub other: String,
    /// Above what hurts.
    pub hurts: String,
    /// Above values that two people wrote differently.
    pub clashes: String,
    /// Above the card of an athlete.
    pub card: String,
    /// Above what to look at first.
    pub look_at: String,
    /// Above the athletes.
    pub athletes: String,
    /// Above the orders of a list.
    pub order: String,
    /// Above the events to be like.
    pub event: String,
    /// In the field that searches by name.
    pub search: String,
    /// Above the contacts of a repetition.
    pub contacts: String,
    /// Shows each number with what it rests on.
    pub numbers: String,
    /// Above how like the events an exercise is.
    pub likeness: String,
    /// Above cautions.
    pub cautions: String,
    /// Before what the times of an exercise rest on.
    pub source: String,
    /// Gives the private part to an audience.
    pub share: String,
    /// Ends that.
    pub stop_sharing: String,
    /// Above the members of the squad.
    pub members: String,
    /// Beside the devices: what of it is done on the laptop.
    pub at_the_desk: String,
    /// Above entries that wait or do not count.
    pub not_counted: String,
    /// Above deliveries that were refused.
    pub refused: String,
    /// Shows how the plans of the last weeks went.
    pub earlier_plans: String,
    /// Above what is not reached by it.
    pub not_reached: String,
    /// Said where a button that must be held was only tapped.
    pub hold: String,
}

/// Headings and small buttons in the language of a device. No book need be open.
#[uniffi::export]
#[must_use]
pub fn headings(env: &Env) -> Headings {
    let words = &Words::of(&env.language);
    Headings {
        weeks: words.word("heading-weeks"),
        hardest: words.word("heading-hardest"),
        all_weeks: words.word("heading-all-weeks"),
        fold: words.word("heading-fold"),
        behind: words.word("heading-behind"),
        today: words.word("heading-today"),
        limits: words.word("heading-limits"),
        next: words.word("heading-next"),
        tests: words.word("heading-tests"),
        targets: words.word("heading-targets"),
        takes: words.word("heading-takes"),
        sessions: words.word("heading-sessions"),
        older: words.word("heading-older"),
        other: words.word("heading-other"),
        hurts: words.word("heading-hurts"),
        clashes: words.word("heading-clashes"),
        card: words.word("heading-card"),
        look_at: words.word("heading-look-at"),
        athletes: words.word("heading-athletes"),
        order: words.word("heading-order"),
        event: words.word("heading-event"),
        search: words.word("heading-search"),
        contacts: words.word("heading-contacts"),
        numbers: words.word("heading-numbers"),
        likeness: words.word("heading-likeness"),
        cautions: words.word("heading-cautions"),
        source: words.word("heading-source"),
        share: words.word("heading-share"),
        stop_sharing: words.word("heading-stop-sharing"),
        members: words.word("heading-members"),
        at_the_desk: words.word("heading-at-the-desk"),
        not_counted: words.word("heading-not-counted"),
        refused: words.word("heading-refused"),
        earlier_plans: words.word("heading-earlier-plans"),
        not_reached: words.word("heading-not-reached"),
        hold: words.word("heading-hold"),
    }
}
