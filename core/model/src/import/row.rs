//! The cells of a row → what it says.

use crate::facts::{Approach, Cue, Day, Leg, Shoes, Surface, Word};
use crate::table::{Decimals, Row as Cells};

use super::column::{Column, Columns};
use super::fault::{Fault, Why};

/// What a row says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Row {
    /// The day.
    pub day: Day,
    /// Who trained, as written, 1 to 60 letters; `None` where the cell is empty.
    pub athlete: Option<String>,
    /// When the session began, minutes after midnight.
    pub start_min: Option<u16>,
    /// What was done.
    pub does: Does,
    /// What it says of the session as a whole.
    pub about: About,
}

/// What a row says was done.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Does {
    /// Sets of one exercise.
    Sets(SetRow),
    /// The day was a rest day.
    Rest,
    /// Nothing by itself: the row tells of the session.
    Nothing,
}

/// Sets alike.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SetRow {
    /// The exercise as written, 1 to 80 letters.
    pub exercise: String,
    /// How many sets, 1 to 50.
    pub sets: u16,
    /// Repetitions of each, 1 to 500.
    pub reps: u16,
    /// Contacts of each repetition, 1 to 300, where not as the exercise says.
    pub contacts: Option<u16>,
    /// Which leg, where not as the exercise is usually done.
    pub leg: Option<Leg>,
    /// Height of the box, 0 to 2 000 mm.
    pub box_mm: Option<u32>,
    /// The run-in, within the ranges of [`Approach`].
    pub approach: Option<Approach>,
    /// Outside load, 0 to 200 000 g.
    pub load_g: Option<u32>,
    /// The last 10 m of the run-in, timed, 700 to 6 000 ms.
    pub last_10_m_ms: Option<u32>,
    /// What was asked for.
    pub cue: Option<Cue>,
    /// A drill of the warm-up.
    pub warm_up: bool,
}

/// What may stand in any row of a session.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct About {
    /// What it was for, up to 80 letters.
    pub purpose: Option<String>,
    /// Where, up to 80 letters.
    pub location: Option<String>,
    /// What was under the feet.
    pub surface: Option<Surface>,
    /// What was on the feet.
    pub shoes: Option<Shoes>,
    /// Weather, up to 80 letters.
    pub weather: Option<String>,
    /// Rating of perceived exertion in tenths, 0 to 100.
    pub rpe_tenths: Option<u16>,
    /// Minutes that it took, 1 to 600.
    pub minutes: Option<u16>,
}

/// The columns that tell of sets.
const OF_SETS: [Column; 11] = [
    Column::Sets,
    Column::Reps,
    Column::Contacts,
    Column::Leg,
    Column::Box,
    Column::Strides,
    Column::RunIn,
    Column::Load,
    Column::LastTen,
    Column::Cue,
    Column::WarmUp,
];

/// The columns that tell of a session.
const OF_SESSION: [Column; 8] = [
    Column::Start,
    Column::Purpose,
    Column::Place,
    Column::Surface,
    Column::Shoes,
    Column::Weather,
    Column::Rpe,
    Column::Minutes,
];

/// Takes a row apart; of a refused one everything that is wrong is said.
pub(super) fn read(columns: &Columns, decimals: &mut Decimals, cells: &Cells) -> Result<Row, Vec<Fault>> {
    let mut reading = Reading { columns, decimals, cells, faults: Vec::new() };
    let row = reading.row();
    let faults = reading.faults;
    row.filter(|_| faults.is_empty()).ok_or(faults)
}

/// A row while it is read.
struct Reading<'a> {
    columns: &'a Columns,
    decimals: &'a mut Decimals,
    cells: &'a Cells,
    faults: Vec<Fault>,
}

impl<'a> Reading<'a> {
    fn row(&mut self) -> Option<Row> {
        let day = self.day();
        let athlete = self.text(Column::Athlete, 60, "1 to 60 letters");
        let start_min = self.read(Column::Start, time);
        let rest = self.read(Column::Rest, yes);
        let about = self.about();
        let does = if !self.cell(Column::Exercise).is_empty() {
            if rest == Some(true) {
                self.refuse(Column::Rest, Why::Beside("an exercise in one row"));
            }
            self.sets().map(Does::Sets)
        } else if rest == Some(true) {
            self.no_place(&OF_SETS, "a rest day");
            self.no_place(&OF_SESSION, "a rest day");
            Some(Does::Rest)
        } else {
            let tells = OF_SESSION[1..].iter().any(|column| !self.cell(*column).is_empty());
            if !tells || OF_SETS.iter().any(|column| !self.cell(*column).is_empty()) {
                self.refuse(Column::Exercise, Why::Missing);
            }
            Some(Does::Nothing)
        };
        Some(Row { day: day?, athlete, start_min, does: does?, about })
    }

    fn day(&mut self) -> Option<Day> {
        let day = self.read(Column::Date, date);
        if self.cell(Column::Date).is_empty() {
            self.refuse(Column::Date, Why::Missing);
        }
        day
    }

    fn sets(&mut self) -> Option<SetRow> {
        let exercise = self.text(Column::Exercise, 80, "1 to 80 letters");
        let sets = self.whole(Column::Sets, 1, 50, "1 to 50 sets");
        let reps = self.whole(Column::Reps, 1, 500, "1 to 500 repetitions");
        if self.cell(Column::Reps).is_empty() {
            self.refuse(Column::Reps, Why::Missing);
        }
        let contacts = self.whole(Column::Contacts, 1, 300, "1 to 300 contacts");
        let leg = self.read(Column::Leg, word);
        let box_mm = self.measure(Column::Box, 10.0, 0..=2_000, "0 to 200 cm", "a millimetre");
        let strides = self.whole(Column::Strides, 1, 30, "1 to 30 strides");
        let run_mm = self.measure(Column::RunIn, 1_000.0, 500..=60_000, "0.5 to 60 m", "a millimetre");
        let load_g = self.measure(Column::Load, 1_000.0, 0..=200_000, "0 to 200 kg", "a gram");
        let last_10_m_ms =
            self.measure(Column::LastTen, 1_000.0, 700..=6_000, "0.7 to 6 s", "a thousandth of a second");
        let cue = self.read(Column::Cue, word);
        let warm_up = self.read(Column::WarmUp, yes).unwrap_or(false);
        let approach = match (strides, run_mm) {
            (None, None) => None,
            (Some(strides), None) => Some(Approach::Strides(strides)),
            (None, Some(mm)) => Some(Approach::Millimetres(mm)),
            (Some(_), Some(_)) => {
                self.refuse(Column::RunIn, Why::Beside("strides in one row"));
                None
            }
        };
        Some(SetRow {
            exercise: exercise?,
            sets: sets.unwrap_or(1),
            reps: reps?,
            contacts,
            leg,
            box_mm,
            approach,
            load_g,
            last_10_m_ms,
            cue,
            warm_up,
        })
    }

    fn about(&mut self) -> About {
        About {
            purpose: self.text(Column::Purpose, 80, "1 to 80 letters"),
            location: self.text(Column::Place, 80, "1 to 80 letters"),
            surface: self.read(Column::Surface, word),
            shoes: self.read(Column::Shoes, word),
            weather: self.text(Column::Weather, 80, "1 to 80 letters"),
            rpe_tenths: self
                .measure(Column::Rpe, 10.0, 0..=100, "0 to 10", "a tenth")
                .and_then(|tenths| u16::try_from(tenths).ok()),
            minutes: self.whole(Column::Minutes, 1, 600, "1 to 600 minutes"),
        }
    }

    /// The cell of a column; empty where the table has no such column.
    fn cell(&self, column: Column) -> &'a str {
        self.columns.place(column).map_or("", |place| self.cells.cell(place))
    }

    fn refuse(&mut self, column: Column, why: Why) {
        self.faults.push(Fault::new(self.columns, column, self.cell(column), why));
    }

    /// Refuses what stands in columns that have no business beside something.
    fn no_place(&mut self, of: &[Column], beside: &'static str) {
        for column in of {
            if !self.cell(*column).is_empty() {
                self.refuse(*column, Why::Beside(beside));
            }
        }
    }

    /// What a cell says, where it is not empty and not refused.
    fn read<T>(&mut self, column: Column, read: impl FnOnce(&str) -> Result<T, Why>) -> Option<T> {
        let cell = self.cell(column);
        if cell.is_empty() {
            return None;
        }
        match read(cell) {
            Ok(read) => Some(read),
            Err(why) => {
                self.refuse(column, why);
                None
            }
        }
    }

    fn text(&mut self, column: Column, most: usize, range: &'static str) -> Option<String> {
        self.read(column, |cell| {
            if cell.contains(char::REPLACEMENT_CHARACTER) {
                return Err(Why::Letters);
            }
            let odd = cell.chars().any(char::is_control) || cell.chars().count() > most;
            if odd { Err(Why::Range(range)) } else { Ok(cell.to_owned()) }
        })
    }

    fn whole(&mut self, column: Column, least: u32, most: u32, range: &'static str) -> Option<u16> {
        let number = self.measure(column, 1.0, least..=most, range, "a whole number")?;
        u16::try_from(number).ok()
    }

    /// A number in parts, `per_unit` of them to one.
    fn measure(
        &mut self,
        column: Column,
        per_unit: f64,
        range: core::ops::RangeInclusive<u32>,
        words: &'static str,
        part: &'static str,
    ) -> Option<u32> {
        let cell = self.cell(column);
        if cell.is_empty() {
            return None;
        }
        let number = match self.decimals.number(cell) {
            Ok(number) => number,
            Err(why) => {
                self.refuse(column, Why::NotANumber(why));
                return None;
            }
        };
        let parts = number * per_unit;
        if !(f64::from(*range.start())..=f64::from(*range.end())).contains(&parts) {
            self.refuse(column, Why::Range(words));
            return None;
        }
        // What is written with a decimal or two is not quite itself in binary.
        if (parts - parts.round()).abs() > 1e-6 {
            self.refuse(column, Why::TooFine(part));
            return None;
        }
        // In range, so nothing is cut off.
        Some(parts.round() as u32)
    }
}

fn date(cell: &str) -> Result<Day, Why> {
    if let Some(day) = Day::parse(cell).filter(|day| day.to_string() == cell) {
        return Ok(day);
    }
    let parts: Vec<&str> = cell.split(['.', '/', '-', ' ']).filter(|part| !part.is_empty()).collect();
    let digits = |part: &&str| part.len() <= 4 && part.bytes().all(|byte| byte.is_ascii_digit());
    // A date of this form that is none (2026-02-30) is no other form.
    let own = cell.len() == 10 && cell.bytes().filter(|byte| *byte == b'-').count() == 2;
    let other = parts.len() == 3 && parts.iter().all(digits) && !(own && parts[0].len() == 4);
    Err(if other { Why::OtherDate } else { Why::NotADate })
}

/// Minutes after midnight of `17:30`.
fn time(cell: &str) -> Result<u16, Why> {
    let part = |part: &str, most: u16| {
        let plain = (1..=2).contains(&part.len()) && part.bytes().all(|byte| byte.is_ascii_digit());
        part.parse().ok().filter(|number: &u16| plain && *number <= most)
    };
    let (hour, minute) = cell.split_once(':').ok_or(Why::NotATime)?;
    let minute = Some(minute).filter(|minute| minute.len() == 2).and_then(|minute| part(minute, 59));
    Ok(part(hour, 23).ok_or(Why::NotATime)? * 60 + minute.ok_or(Why::NotATime)?)
}

fn yes(cell: &str) -> Result<bool, Why> {
    match cell.to_lowercase().as_str() {
        "yes" => Ok(true),
        "no" => Ok(false),
        _ => Err(Why::Word("yes, no".to_owned())),
    }
}

fn word<W: Word>(cell: &str) -> Result<W, Why> {
    W::from_word(&cell.to_lowercase()).map_err(|wrong| Why::Word(wrong.accepted))
}
