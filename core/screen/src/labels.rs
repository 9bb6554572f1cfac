//! The words on a phone's forms: what stands beside a field and on a button. They are
//! the same for every record of a screen, so a shell asks once, and again when the
//! language of the device changes.

use crate::env::Env;
use crate::figure::height;
use crate::more;
use crate::record::{Choice, Link};
use crate::text::Words;

/// The words on a phone's forms.
#[derive(Clone, Debug, PartialEq, uniffi::Record)]
pub struct Labels {
    /// The screens that a phone can be at from anywhere, the first one first.
    pub places: Vec<Link>,
    /// Beside the exercise.
    pub exercise: String,
    /// Beside the number of repetitions.
    pub reps: String,
    /// Beside the number of sets alike.
    pub sets: String,
    /// Beside the choice of legs.
    pub legs: String,
    /// Beside the height of the box.
    pub r#box: String,
    /// Heights of a box to choose from, the lowest first: millimetres and words.
    pub boxes: Vec<Choice>,
    /// Beside the strides of the run-in.
    pub strides: String,
    /// Cues to choose from where an exercise asks for one.
    pub cues: Vec<Choice>,
    /// What a field says as long as nothing is filled in.
    pub not_said: String,
    /// A button that takes one away, before the name of its field.
    pub less: String,
    /// A button that adds one, before the name of its field.
    pub more: String,
    /// Saves the set.
    pub save_set: String,
    /// Writes the next set of a planned row down as it was planned.
    pub done_as_planned: String,
    /// Opens what can be done otherwise beside it.
    pub done_otherwise: String,
    /// Writes the set down as it was done otherwise.
    pub save_otherwise: String,
    /// The bar that takes the last set back while it is held.
    pub hold_to_take_back: String,
    /// The bar that unlocks the screen while it is held.
    pub hold_to_unlock: String,
    /// What a screen reader does instead of holding it.
    pub unlock: String,
    /// What a screen reader does instead of holding it.
    pub take_back: String,
    /// Locks the screen between sets.
    pub lock: String,
    /// Above the time that is left of a rest.
    pub rest: String,
    /// Stands there when it is over.
    pub rest_over: String,
    /// Before what comes next.
    pub next: String,
    /// Saves the check-in.
    pub save_check_in: String,
    /// Goes back to the screen before.
    pub back: String,
    /// The one question of a check-in.
    pub hurting: String,
    /// Answers it.
    pub yes: String,
    /// Answers it.
    pub no: String,
    /// Above the places.
    pub r#where: String,
    /// Beside the sides.
    pub side: String,
    /// Beside the score from 0 to 10.
    pub score: String,
    /// Beside the length of the night.
    pub sleep: String,
    /// Lengths of a night to choose from, the shortest first: minutes and words.
    pub nights: Vec<Choice>,
    /// Said where a call failed, before the reason.
    pub failed: String,
    /// Tries it again.
    pub again: String,
    /// Before what could not be written down, once its screen was left.
    pub not_saved: String,
    /// Lets that go.
    pub let_it_go: String,
}

fn in_words(words: &Words) -> Labels {
    let choice =
        |id: u32, text: String| Choice { id: id.to_string(), text, group: String::new(), chosen: false };
    let boxes = words.units().boxes().into_iter().map(|mm| choice(mm, height(words, mm))).collect();
    let night = |minutes: u32| {
        let (h, min) = (u64::from(minutes / 60), u64::from(minutes % 60));
        choice(minutes, words.say("phone-night", &[("hours", h.into()), ("minutes", min.into())]))
    };
    Labels {
        places: more::places(words),
        exercise: words.word("phone-exercise"),
        reps: words.word("phone-reps"),
        sets: words.word("phone-sets"),
        legs: words.word("phone-legs"),
        r#box: words.word("phone-box"),
        boxes,
        strides: words.word("phone-strides"),
        cues: ["short", "high"]
            .map(|id| Choice {
                id: id.to_owned(),
                text: words.word(&format!("cue-{id}")),
                group: String::new(),
                chosen: false,
            })
            .to_vec(),
        not_said: words.word("phone-not-said"),
        less: words.word("phone-less"),
        more: words.word("phone-more"),
        save_set: words.word("phone-save-set"),
        done_as_planned: words.word("phone-done-as-planned"),
        done_otherwise: words.word("phone-done-otherwise"),
        save_otherwise: words.word("phone-save-otherwise"),
        hold_to_take_back: words.word("phone-hold-to-take-back"),
        hold_to_unlock: words.word("phone-hold-to-unlock"),
        unlock: words.word("phone-unlock"),
        take_back: words.word("phone-take-back"),
        lock: words.word("phone-lock"),
        rest: words.word("phone-rest"),
        rest_over: words.word("phone-rest-over"),
        next: words.word("phone-next"),
        save_check_in: words.word("phone-save-check-in"),
        back: words.word("phone-back"),
        hurting: words.word("phone-hurting"),
        yes: words.word("phone-yes"),
        no: words.word("phone-no"),
        r#where: words.word("phone-where"),
        side: words.word("phone-side"),
        score: words.word("phone-score"),
        sleep: words.word("phone-sleep"),
        nights: (6..=28).map(|n| night(n * 30)).collect(),
        failed: words.word("phone-failed"),
        again: words.word("phone-again"),
        not_saved: words.word("phone-not-saved"),
        let_it_go: words.word("phone-let-it-go"),
    }
}

/// The words on a phone's forms, in the language of a device. No book need be open: they
/// also say that it cannot be opened.
#[uniffi::export]
#[must_use]
pub fn labels(env: &Env) -> Labels {
    in_words(&Words::of(&env.language))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_choices_are_in_order_and_in_words() {
        let english = in_words(&Words::of("en"));
        assert_eq!(english.boxes.first().map(|c| c.text.as_str()), Some("5 cm"));
        assert_eq!(english.boxes.last().map(|c| c.id.as_str()), Some("1500"));
        let night = english.nights.iter().find(|c| c.id == "510").unwrap();
        assert_eq!(night.text, "8 h 30 min");
        let inches = in_words(&Words::of("en-US")).boxes;
        let feet: Vec<&Choice> =
            inches.iter().filter(|c| ["12 in", "24 in"].contains(&c.text.as_str())).collect();
        assert_eq!(feet.iter().map(|c| c.id.as_str()).collect::<Vec<_>>(), ["305", "610"]);
    }
}
