//! The known times that lie beside a clip, as JSON.

use serde::Serialize;

use crate::clip::{Clip, STORED_RATE_HZ};
use crate::motion::{Contact, Foot};

/// What is true of a rendered clip, because it was drawn so.
#[derive(Debug, Serialize)]
pub struct Truth {
    /// Always says that the clip is rendered.
    pub description: &'static str,
    /// File name of the clip.
    pub clip: String,
    /// What the figure does.
    pub exercise: &'static str,
    /// Frames a second of the figure's time.
    pub capture_rate_hz: u32,
    /// Frames a second at which the file plays.
    pub stored_rate_hz: u32,
    /// How many frames the file holds.
    pub frames: u32,
    /// How the times are meant.
    pub times: &'static str,
    /// The contacts of the exercise, in order.
    pub contacts: Vec<KnownContact>,
    /// Contacts of the steps before it, in order.
    pub run_in: Vec<KnownContact>,
}

/// One contact with its exact times.
#[derive(Debug, Serialize)]
pub struct KnownContact {
    /// The foot on the ground.
    pub foot: Foot,
    /// Real seconds from frame 0 to touchdown.
    pub touchdown_s: f64,
    /// Real seconds from frame 0 to toe-off.
    pub toe_off_s: f64,
}

impl Truth {
    /// The known times of a clip.
    #[must_use]
    pub fn of(clip: &Clip) -> Self {
        let known = |contacts: &[Contact]| contacts.iter().map(KnownContact::of).collect();
        Self {
            description: "rendered, not filmed",
            clip: clip.file_name(),
            exercise: clip.exercise,
            capture_rate_hz: clip.capture_rate_hz,
            stored_rate_hz: STORED_RATE_HZ,
            frames: clip.frames,
            times: "real seconds from frame 0; frame n in display order shows the instant n / capture_rate_hz",
            contacts: known(clip.motion.contacts()),
            run_in: known(clip.motion.run_in()),
        }
    }

    /// The text of the file.
    ///
    /// # Errors
    /// Those of the serializer; none is known for these types.
    pub fn to_json(&self) -> Result<String, serde_json::Error> {
        serde_json::to_string_pretty(self).map(|text| text + "\n")
    }
}

impl KnownContact {
    fn of(contact: &Contact) -> Self {
        // Division keeps the decimal: 685 900 µs is written 0.6859.
        Self {
            foot: contact.foot,
            touchdown_s: f64::from(contact.touchdown_us) / 1e6,
            toe_off_s: f64::from(contact.toe_off_us) / 1e6,
        }
    }
}
