//! The columns of a training log.

use crate::table::{Sheet, SheetError};

/// Makes the enum of columns with their names.
macro_rules! columns {
    ($($(#[$doc:meta])* $variant:ident = $name:literal, $plain:literal;)+) => {
        /// A column that is looked at.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Column { $($(#[$doc])* $variant,)+ }

        impl Column {
            /// Every column, in the order in which they are documented.
            pub const ALL: &'static [Self] = &[$(Self::$variant,)+];
            /// Its name.
            #[must_use]
            pub const fn name(self) -> &'static str {
                match self { $(Self::$variant => $name,)+ }
            }
            /// Its name as [`plain`](crate::table::plain) compares it.
            pub(super) const fn plain(self) -> &'static str {
                match self { $(Self::$variant => $plain,)+ }
            }
        }
    };
}

columns! {
    /// The day: 2026-11-25.
    Date = "date", "date";
    /// Who trained, by name.
    Athlete = "athlete", "athlete";
    /// What was done, by name.
    Exercise = "exercise", "exercise";
    /// Sets alike, 1 where left out.
    Sets = "sets", "sets";
    /// Repetitions of each set.
    Reps = "reps", "reps";
    /// Contacts of each repetition, where not as the exercise says.
    Contacts = "contacts", "contacts";
    /// Which leg, in the words of [`Leg`](crate::facts::Leg).
    Leg = "leg", "leg";
    /// Height of box or platform.
    Box = "box cm", "box cm";
    /// Running strides of the run-in.
    Strides = "strides", "strides";
    /// Length of the run-in.
    RunIn = "run-in m", "run in m";
    /// Outside load.
    Load = "load kg", "load kg";
    /// Seconds of the last 10 m of the run-in, timed.
    LastTen = "last 10 m s", "last 10 m s";
    /// What was asked for, in the words of [`Cue`](crate::facts::Cue).
    Cue = "cue", "cue";
    /// Whether it was a drill of the warm-up.
    WarmUp = "warm-up", "warm up";
    /// When the session began: 17:30.
    Start = "start", "start";
    /// What the session was for.
    Purpose = "purpose", "purpose";
    /// Where it was.
    Place = "place", "place";
    /// What was under the feet.
    Surface = "surface", "surface";
    /// What was on the feet.
    Shoes = "shoes", "shoes";
    /// Weather in words.
    Weather = "weather", "weather";
    /// Rating of perceived exertion of the session, 0 to 10.
    Rpe = "rpe", "rpe";
    /// Minutes that the session took.
    Minutes = "minutes", "minutes";
    /// Whether the day was a rest day.
    Rest = "rest", "rest";
}

/// Where the columns of a table are.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Columns {
    /// By column in the order of [`Column::ALL`], counted from 0.
    places: Vec<Option<usize>>,
}

impl Columns {
    pub(super) fn find(sheet: &Sheet) -> Result<Self, SheetError> {
        let places = Column::ALL.iter().map(|column| sheet.place(column.plain()));
        Ok(Self { places: places.collect::<Result<_, _>>()? })
    }

    /// Where a column is, counted from 0; `None` where the table does not have it.
    #[must_use]
    pub fn place(&self, column: Column) -> Option<usize> {
        self.places.get(column as usize).copied().flatten()
    }

    /// The number of a column, counted from 1; `None` where the table does not have it.
    #[must_use]
    pub fn number(&self, column: Column) -> Option<usize> {
        self.place(column).map(|place| place + 1)
    }

    /// Whether the column of a number is one that is looked at.
    pub(super) fn has_number(&self, number: usize) -> bool {
        self.places.iter().flatten().any(|place| place + 1 == number)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::table::plain;

    #[test]
    fn names_are_compared_as_they_are_documented() {
        for column in Column::ALL {
            assert_eq!(plain(column.name()), column.plain());
        }
    }
}
