use core::fmt::Write as _;

use proptest::prelude::*;

use super::*;
use crate::facts::{Approach, Cue, Day, Leg, Shoes, Surface};

fn log(text: &str) -> Log {
    Log::read(text.as_bytes()).unwrap()
}

/// The rows of a table, all of which are taken.
fn rows(text: &str) -> Vec<Row> {
    log(text).lines.into_iter().map(|line| line.row.unwrap()).collect()
}

/// What is said against the one row below these names.
fn against(names: &str, row: &str) -> Vec<String> {
    let log = log(&format!("{names}\n{row}\n"));
    let [line] = log.lines.as_slice() else { panic!("{} rows", log.lines.len()) };
    line.row.as_ref().unwrap_err().iter().map(Fault::to_string).collect()
}

#[test]
fn a_row_is_read_whatever_the_order_and_the_marks() {
    let text = "\u{feff}Run-in (m);LEG;note;Box cm;Load (kg);Reps;Exercise;Athlete;Date;Start\n\
                12,5;Left;well;30,5;0,25;6;Step-offs;Ino Vale;2026-03-02;7:05\n";
    let set = SetRow {
        exercise: "Step-offs".to_owned(),
        sets: 1,
        reps: 6,
        contacts: None,
        leg: Some(Leg::Left),
        box_mm: Some(305),
        approach: Some(Approach::Millimetres(12_500)),
        load_g: Some(250),
        last_10_m_ms: None,
        cue: None,
        warm_up: false,
    };
    let row = Row {
        day: Day::parse("2026-03-02").unwrap(),
        athlete: Some("Ino Vale".to_owned()),
        start_min: Some(425),
        does: Does::Sets(set),
        about: About::default(),
    };
    assert_eq!(rows(text), [row]);
    assert_eq!(log(text).passed_over, [(3, "note".to_owned())]);
}

#[test]
fn a_row_may_tell_of_a_rest_day_or_of_the_session_alone() {
    let rows = rows("date,rest,exercise,rpe,minutes\n2026-03-02,yes,,,\n2026-03-03,no,,6.5,70\n");
    assert_eq!(rows[0].does, Does::Rest);
    assert_eq!(rows[1].does, Does::Nothing);
    assert_eq!((rows[1].about.rpe_tenths, rows[1].about.minutes), (Some(65), Some(70)));
}

#[test]
fn everything_wrong_with_a_row_is_said_with_its_column() {
    let all =
        "date,athlete,exercise,sets,reps,contacts,leg,box cm,strides,run-in m,load kg,start,surface,rest";
    assert_eq!(
        against(all, "02.03.2026,Ino,Pogo,0,many,2.5,middle,30.05,31,,1e3,25:00,moss,maybe"),
        [
            "column 1, `date`: `02.03.2026` is a date of another form; write it as 2026-11-25",
            "column 12, `start`: `25:00` is no time of the day such as 17:30",
            "column 14, `rest`: `maybe` is none of: yes, no",
            "column 13, `surface`: `moss` is none of: track, grass, hall, sand, mat, hard",
            "column 4, `sets`: `0` is out of range: 1 to 50 sets",
            "column 5, `reps`: `many` is no number",
            "column 6, `contacts`: `2.5` is finer than a whole number",
            "column 7, `leg`: `middle` is none of: left, right, both, alternate-left, alternate-right",
            "column 8, `box cm`: `30.05` is finer than a millimetre",
            "column 9, `strides`: `31` is out of range: 1 to 30 strides",
            "column 11, `load kg`: `1e3` is out of range: 0 to 200 kg",
        ]
    );
    for (names, row, said) in [
        ("date,exercise", "2026-03-02,Pogo", "`reps`: is needed here"),
        ("date,exercise", ",Pogo", "column 1, `date`: is needed here"),
        ("date,exercise,reps", "2026-03-02,,5", "column 2, `exercise`: is needed here"),
        ("date,exercise,start", "2026-03-02,,17:30", "column 2, `exercise`: is needed here"),
        ("date,reps,rest", "2026-03-02,5,yes", "column 2, `reps`: `5` does not go together with a rest day"),
        ("date,rpe,rest", "2026-03-02,5,yes", "column 2, `rpe`: `5` does not go together with a rest day"),
        (
            "date,exercise,reps,rest",
            "2026-03-02,Pogo,5,yes",
            "column 4, `rest`: `yes` does not go together with an exercise in one row",
        ),
        (
            "date,exercise,reps,strides,run-in m",
            "2026-03-02,Hop,5,6,12",
            "column 5, `run-in m`: `12` does not go together with strides in one row",
        ),
        ("date,exercise,reps", "2026-03-02,Pogo", "2 cells for 3 columns"),
        (
            "date,exercise,reps",
            "2026-03-02,\"Pogo,5",
            "column 2: a quotation mark without its partner in one cell",
        ),
        ("date,exercise", "2026-03-02,\0", "zero bytes: save the table as plain text (UTF-8)"),
        (
            "date,athlete",
            "2026-03-02,In\u{fffd}",
            "column 2, `athlete`: `In\u{fffd}` has letters that cannot be read",
        ),
    ] {
        let against = against(names, row);
        assert!(against.iter().any(|fault| fault.starts_with(said)), "{row}: {against:?}");
    }
}

#[test]
fn dates_of_other_forms_are_told_from_what_is_no_date() {
    let date = |cell: &str| against("date,rpe", &format!("{cell},5")).remove(0);
    for other in ["02.03.2026", "3/2/26", "2026/03/02", "2026-3-2", "2. 3. 2026", "02-03-2026"] {
        assert!(date(other).contains("another form"), "{}", date(other));
    }
    for none in ["2026-02-30", "monday", "1899-12-31", "20260302", "2026-03-02T10:00"] {
        assert!(date(none).contains("is no date"), "{}", date(none));
    }
}

#[test]
fn the_whole_table_is_refused_where_it_is_none() {
    let refused = |text: &str| Log::read(text.as_bytes()).unwrap_err().to_string();
    assert!(refused("").contains("no line that names the columns"));
    assert!(refused("day;reps\n").contains("no column is called `date`; there is day, reps"));
    assert!(refused("date,Box (cm),box_cm\n").contains("two columns are called `box cm`"));
    assert!(refused("date\n\n").contains("no row below"));
}

#[test]
fn nothing_grows_without_bound() {
    let rows = "date,exercise,reps,sets\n".to_owned() + &"2026-03-02,Pogo,5,2\n".repeat(MAX_ROWS + 1);
    let refused = Log::read(rows.as_bytes()).unwrap_err();
    assert!(matches!(refused, LogError::TooManyRows { line: 100_002 }), "{refused}");
    let sets = "date,exercise,reps,sets\n".to_owned() + &"2026-03-02,Pogo,5,50\n".repeat(4_001);
    let refused = Log::read(sets.as_bytes()).unwrap_err();
    assert!(matches!(refused, LogError::TooManySets { line: 4_002 }), "{refused}");
    let long = format!("date,rpe\n{}\n2026-03-02,5\n", "1".repeat(20_000));
    assert!(log(&long).lines[0].row.as_ref().unwrap_err()[0].to_string().contains("more than 16384 bytes"));
    assert!(log(&long).lines[1].row.is_ok());
}

fn gathered(text: &str) -> session::Gathered {
    let log = log(text);
    let rows: Vec<(u64, &Row)> =
        log.lines.iter().map(|line| (line.line, line.row.as_ref().unwrap())).collect();
    session::gather(&log.columns, &rows)
}

#[test]
fn rows_of_a_day_are_a_session_and_what_is_said_once_holds_for_all() {
    let done = gathered(
        "date,exercise,reps,start,purpose,rpe,minutes\n\
         2026-03-02,Pogo,5,17:30,low hops,,\n\
         2026-03-02,Pogo,6,,,6,70\n\
         2026-03-02,Pogo,7,,low hops,,\n\
         2026-03-03,Pogo,8,,,,\n",
    );
    assert_eq!(done.faults, []);
    let [first, second] = done.sessions.as_slice() else { panic!("{done:?}") };
    assert_eq!((first.start_min, first.rows.as_slice()), (Some(1_050), &[0, 1, 2][..]));
    assert_eq!(first.about.purpose.as_deref(), Some("low hops"));
    assert_eq!((first.about.rpe_tenths, first.about.minutes), (Some(60), Some(70)));
    assert_eq!((second.start_min, second.rows.as_slice()), (None, &[3][..]));
}

#[test]
fn rows_that_contradict_each_other_are_refused() {
    let faults = |text: &str| -> Vec<(usize, String)> {
        gathered(text).faults.into_iter().map(|(at, fault)| (at, fault.to_string())).collect()
    };
    assert_eq!(
        faults(
            "date,exercise,reps,place,rpe,minutes\n2026-03-02,Pogo,5,pit,6,70\n2026-03-02,Pogo,5,hall,6.5,70\n"
        ),
        [
            (1, "column 4, `place`: `hall` but line 2 of the same session says `pit`".to_owned()),
            (1, "column 5, `rpe`: `6.5` but line 2 of the same session says `6`".to_owned()),
        ]
    );
    assert_eq!(
        faults("date,rpe,minutes\n2026-03-02,6,\n"),
        [(0, "column 3, `minutes`: is needed with `rpe` in the same session".to_owned())]
    );
    assert_eq!(
        faults(
            "date,exercise,reps,start\n2026-03-02,Pogo,5,17:30\n2026-03-02,Pogo,5,09:00\n2026-03-02,Pogo,5,\n"
        ),
        [(2, "column 4, `start`: is needed here: lines 2 and 3 are two sessions of that day".to_owned())]
    );
    assert_eq!(
        faults("date,exercise,reps,rest\n2026-03-02,,,yes\n2026-03-02,Pogo,5,\n"),
        [(0, "column 4, `rest`: but line 3 is training on that day".to_owned())]
    );
}

/// A text that a cell keeps as it is: no blank at its ends, no control character.
fn text(most: usize) -> impl Strategy<Value = String> {
    let odd = |text: &String| {
        text.trim() == text
            && !text.contains(char::REPLACEMENT_CHARACTER)
            && !text.chars().any(char::is_control)
    };
    let letters = prop_oneof![
        4 => prop::char::range('a', 'z'),
        1 => prop::sample::select(vec!['"', ',', ';', '.', ' ', 'é', '–', '\'', '𝛼']),
        1 => any::<char>(),
    ];
    prop::collection::vec(letters, 1..=most)
        .prop_map(|letters| letters.into_iter().collect::<String>())
        .prop_filter("kept by a cell", odd)
}

prop_compose! {
    fn set_row()(
        exercise in text(80),
        sets in 1_u16..=50,
        reps in 1_u16..=500,
        contacts in prop::option::of(1_u16..=300),
        leg in prop::option::of(prop::sample::select(Leg::ALL)),
        box_mm in prop::option::of(0_u32..=2_000),
        approach in prop::option::of(prop_oneof![
            (1_u16..=30).prop_map(Approach::Strides),
            (500_u32..=60_000).prop_map(Approach::Millimetres),
        ]),
        load_g in prop::option::of(0_u32..=200_000),
        last_10_m_ms in prop::option::of(700_u32..=6_000),
        cue in prop::option::of(prop::sample::select(Cue::ALL)),
        warm_up in any::<bool>(),
    ) -> SetRow {
        SetRow { exercise, sets, reps, contacts, leg, box_mm, approach, load_g, last_10_m_ms, cue, warm_up }
    }
}

prop_compose! {
    fn about()(
        purpose in prop::option::of(text(80)),
        location in prop::option::of(text(80)),
        surface in prop::option::of(prop::sample::select(Surface::ALL)),
        shoes in prop::option::of(prop::sample::select(Shoes::ALL)),
        weather in prop::option::of(text(80)),
        rpe_tenths in prop::option::of(0_u16..=100),
        minutes in prop::option::of(1_u16..=600),
    ) -> About {
        About { purpose, location, surface, shoes, weather, rpe_tenths, minutes }
    }
}

fn row() -> impl Strategy<Value = Row> {
    let does = prop_oneof![
        4 => set_row().prop_map(Does::Sets),
        1 => Just(Does::Rest),
        1 => Just(Does::Nothing),
    ];
    let day = Day::FIRST.number()..=Day::LAST.number();
    (day, prop::option::of(text(60)), prop::option::of(0_u16..1_440), does, about()).prop_filter_map(
        "something is said",
        |(day, athlete, start_min, does, about)| {
            let day = Day::from_number(day)?;
            Some(match does {
                Does::Rest => Row { day, athlete, start_min: None, does, about: About::default() },
                Does::Nothing if about == About::default() => return None,
                does => Row { day, athlete, start_min, does, about },
            })
        },
    )
}

/// How a table is written down.
#[derive(Clone, Copy, Debug)]
struct Style {
    separator: char,
    end: &'static str,
    comma: bool,
    quote_all: bool,
}

impl Style {
    fn number(self, parts: u32, per_unit: u32) -> String {
        let number = f64::from(parts) / f64::from(per_unit);
        let text = number.to_string();
        if self.comma { text.replace('.', ",") } else { text }
    }

    fn cell(self, cell: &str) -> String {
        let odd = cell.contains([self.separator, '"']);
        if odd || self.quote_all { format!("\"{}\"", cell.replace('"', "\"\"")) } else { cell.to_owned() }
    }
}

fn written(rows: &[Row], order: &[Column], style: Style) -> String {
    let line = |cells: Vec<String>| {
        let cells: Vec<String> = cells.iter().map(|cell| style.cell(cell)).collect();
        cells.join(&style.separator.to_string()) + style.end
    };
    let mut text = line(order.iter().map(|column| column.name().to_owned()).collect());
    // Decides between a decimal comma and one that sets off the thousands.
    let opening = Row {
        day: Day::FIRST,
        athlete: None,
        start_min: None,
        does: Does::Nothing,
        about: About { rpe_tenths: Some(5), ..About::default() },
    };
    for row in core::iter::once(&opening).chain(rows) {
        text += &line(order.iter().map(|column| cell(row, *column, style)).collect());
    }
    text
}

fn cell(row: &Row, column: Column, style: Style) -> String {
    let about = &row.about;
    let whole = |number: Option<u16>| number.map_or_else(String::new, |number| number.to_string());
    let parts =
        |number: Option<u32>, per_unit| number.map_or_else(String::new, |n| style.number(n, per_unit));
    let text = |text: &Option<String>| text.clone().unwrap_or_default();
    match column {
        Column::Date => return row.day.to_string(),
        Column::Athlete => return text(&row.athlete),
        Column::Start => {
            let mut cell = String::new();
            if let Some(min) = row.start_min {
                let _ = write!(cell, "{:02}:{:02}", min / 60, min % 60);
            }
            return cell;
        }
        Column::Purpose => return text(&about.purpose),
        Column::Place => return text(&about.location),
        Column::Surface => return about.surface.map_or("", Surface::word).to_owned(),
        Column::Shoes => return about.shoes.map_or("", Shoes::word).to_owned(),
        Column::Weather => return text(&about.weather),
        Column::Rpe => return parts(about.rpe_tenths.map(u32::from), 10),
        Column::Minutes => return whole(about.minutes),
        Column::Rest => return if row.does == Does::Rest { "yes".to_owned() } else { String::new() },
        _ => {}
    }
    let Does::Sets(set) = &row.does else { return String::new() };
    match (column, set.approach) {
        (Column::Exercise, _) => set.exercise.clone(),
        (Column::Sets, _) => set.sets.to_string(),
        (Column::Reps, _) => set.reps.to_string(),
        (Column::Contacts, _) => whole(set.contacts),
        (Column::Leg, _) => set.leg.map_or("", Leg::word).to_owned(),
        (Column::Box, _) => parts(set.box_mm, 10),
        (Column::Strides, Some(Approach::Strides(strides))) => strides.to_string(),
        (Column::RunIn, Some(Approach::Millimetres(mm))) => parts(Some(mm), 1_000),
        (Column::Load, _) => parts(set.load_g, 1_000),
        (Column::LastTen, _) => parts(set.last_10_m_ms, 1_000),
        (Column::Cue, _) => set.cue.map_or("", Cue::word).to_owned(),
        (Column::WarmUp, _) => if set.warm_up { "yes" } else { "" }.to_owned(),
        _ => String::new(),
    }
}

proptest! {
    #[test]
    fn any_bytes_end_in_an_answer(bytes in prop::collection::vec(any::<u8>(), 0..300)) {
        let _ = Log::read(bytes.as_slice());
    }

    #[test]
    fn any_rows_end_in_an_answer(
        rows in "date[,;]exercise[,;]reps[,;]rest[,;]rpe\n((2026-0[12]-[0-3][0-9]|[0-9./-]{0,10})[,;](pogo)?[,;][0-9,.]{0,3}[,;](yes|no)?[,;][0-9.]{0,3}\n){0,8}"
    ) {
        if let Ok(log) = Log::read(rows.as_bytes()) {
            let taken: Vec<(u64, &Row)> =
                log.lines.iter().filter_map(|line| Some((line.line, line.row.as_ref().ok()?))).collect();
            let done = session::gather(&log.columns, &taken);
            // Every row that trains is in one session or refused.
            let refused = done.faults.iter().map(|(at, _)| *at);
            let mut seen: Vec<usize> =
                done.sessions.iter().flat_map(|session| session.rows.clone()).chain(refused).collect();
            seen.sort_unstable();
            seen.dedup();
            let trains = (0..taken.len()).filter(|at| taken[*at].1.does != Does::Rest);
            prop_assert!(trains.into_iter().all(|at| seen.contains(&at)));
        }
    }

    #[test]
    fn rows_come_back(
        rows in prop::collection::vec(row(), 1..12),
        order in Just(Column::ALL.to_vec()).prop_shuffle(),
        separator in prop::sample::select(vec![',', ';', '\t']),
        end in prop::sample::select(vec!["\n", "\r\n", "\r"]),
        comma in any::<bool>(),
        quote_all in any::<bool>(),
    ) {
        let text = written(&rows, &order, Style { separator, end, comma, quote_all });
        let log = Log::read(text.as_bytes()).unwrap();
        prop_assert!(log.passed_over.is_empty());
        let back: Vec<_> = log.lines.into_iter().skip(1).map(|line| line.row).collect();
        prop_assert_eq!(back, rows.into_iter().map(Ok).collect::<Vec<_>>());
    }
}
