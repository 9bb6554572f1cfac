//! Wall clock and zone, handed in wherever something is written down.

use chrono::{Local, Offset, Utc};
use pitside_model::facts::Day;

/// A moment on a device's wall clock.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Stamp {
    /// Milliseconds since the Unix epoch.
    pub ms: i64,
    /// Minutes east of UTC.
    pub zone_min: i16,
}

impl Stamp {
    /// The calendar day where the device is.
    #[must_use]
    pub fn day(self) -> Day {
        Day::of_stamp(self.ms, self.zone_min)
    }
    /// The minute of that day, 0 to 1 439.
    #[must_use]
    pub fn minute(self) -> u16 {
        let minutes = self.ms.div_euclid(60_000) + i64::from(self.zone_min);
        u16::try_from(minutes.rem_euclid(24 * 60)).unwrap_or(0)
    }
}

/// A source of stamps.
pub trait Clock: Send + Sync {
    /// Now.
    fn now(&self) -> Stamp;
}

/// The device's own clock.
#[derive(Clone, Copy, Debug, Default)]
pub struct SystemClock;

impl Clock for SystemClock {
    fn now(&self) -> Stamp {
        let offset = Local::now().offset().fix().local_minus_utc() / 60;
        Stamp { ms: Utc::now().timestamp_millis(), zone_min: i16::try_from(offset).unwrap_or(0) }
    }
}
