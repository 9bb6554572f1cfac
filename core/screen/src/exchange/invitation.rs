//! The screen on which an invitation is scanned, pasted or typed.

use crate::companion::{Companion, ScreenError};
use crate::env::Env;
use crate::text::Words;

/// The words of the screen by which a phone joins a squad.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record)]
pub struct Invited {
    /// The heading.
    pub title: String,
    /// What an invitation is and where it comes from, a sentence each.
    pub about: Vec<String>,
    /// Opens the camera.
    pub scan: String,
    /// Said while the camera looks.
    pub scanning: String,
    /// Closes the camera.
    pub stop_scanning: String,
    /// Said where the camera may not be used.
    pub no_camera: String,
    /// Beside the field for the text.
    pub text: String,
    /// Takes the text from the clipboard.
    pub paste: String,
    /// Said where there is no text in the clipboard.
    pub nothing_to_paste: String,
    /// Joins.
    pub join: String,
    /// Calls it off.
    pub cancel: String,
    /// Goes back when the phone has joined.
    pub close: String,
    /// Said where this phone is in a squad already.
    pub in_squad: String,
}

#[uniffi::export(name = "Pitside")]
impl Companion {
    /// The screen by which a phone joins a squad.
    ///
    /// # Errors
    /// [`ScreenError::Closed`].
    pub fn join_form(&self, env: &Env) -> Result<Invited, ScreenError> {
        let words = Words::of(&env.language);
        let in_squad = self.open_book()?.squad().is_some();
        Ok(Invited {
            title: words.word("join-title"),
            about: ["join-about", "join-once", "join-before"].map(|key| words.word(key)).to_vec(),
            scan: words.word("join-scan"),
            scanning: words.word("join-scanning"),
            stop_scanning: words.word("join-stop-scanning"),
            no_camera: words.word("join-no-camera"),
            text: words.word("join-text"),
            paste: words.word("join-paste"),
            nothing_to_paste: words.word("join-nothing-to-paste"),
            join: words.word("join-now"),
            cancel: words.word("exchange-cancel"),
            close: words.word("exchange-close"),
            in_squad: if in_squad { words.word("join-in-squad") } else { String::new() },
        })
    }
}
