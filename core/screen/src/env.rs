//! What every call is told about the device it is for.

use pitside_book::clock::Stamp;
use pitside_model::facts::Day;

/// Language, zone and clock of the device.
#[derive(Clone, Debug, PartialEq, Eq, uniffi::Record)]
pub struct Env {
    /// BCP 47 language tag; English where there are no words in it.
    pub language: String,
    /// Minutes east of UTC.
    pub zone_min: i16,
    /// Clock times as 14:02 rather than 2:02 pm.
    pub hour24: bool,
    /// Wall clock, milliseconds since the Unix epoch.
    pub now_ms: i64,
}

impl Env {
    /// Now, as facts are stamped.
    #[must_use]
    pub fn stamp(&self) -> Stamp {
        Stamp { ms: self.now_ms, zone_min: self.zone_min }
    }
    /// Today where the device is.
    #[must_use]
    pub fn today(&self) -> Day {
        self.stamp().day()
    }
}
