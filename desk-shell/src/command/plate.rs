//! `pitside plate`: contacts and flights of a force plate's record.

use std::fs::File;
use std::io::{BufReader, Write};
use std::path::PathBuf;
use std::str::FromStr;

use pitside_model::clip::Rate;
use pitside_model::plate::{
    BodyWeight, Column, Comparison, Filmed, Offset, Reading, Record, Settings, Weight, WeightSource, compare,
};
use pitside_model::timing::{self, EventKind};
use serde::Serialize;

use super::contact::{self, Refusal};
use super::{FILE_HINT, RATE_HELP, Unreadable, clip_hint, parse_rate, read_clip};
use crate::failure::{Exit, Failure};

const JSON_HELP: &str = "\
JSON keys (--json): weight_n (null where nobody stood still for a second), contacts
({start_s, end_s, duration_s, mean_bw, peak_bw, reactive_strength_m_s}; those that the
record has whole), flights ({start_s, end_s, duration_s, height_m}; between two contacts),
cut_contacts ({start_s, end_s, peak_bw}; null where it lies outside the record), rate_hz,
threshold_n, offset_n. With --against also compared ({plate_s, clip_s, half_width_95_s of the
clip with frames, clock and judging, difference_s (clip minus plate), allowed_s (that and the
plate's samples), covered}) and mean_difference_s. A file that is no record or no clip: {\"error\": \"...\"} and exit code 4;
settings or marks that give no times, and other numbers of contacts: {\"refused\": \"...\"} and exit code 3.";

/// The arguments of `pitside plate`.
#[derive(clap::Args)]
#[command(after_help = JSON_HELP)]
pub(crate) struct Args {
    /// The record: a table in text, one row a sample
    file: PathBuf,
    /// Samples a second
    #[arg(long, value_name = "HZ")]
    rate: f64,
    /// Columns of vertical force, by name or by number from 1; several are added up.
    /// May be left out where there is one
    #[arg(long, value_name = "COLUMN,...", value_delimiter = ',', value_parser = parse_column)]
    columns: Vec<Column>,
    /// From this force on there is contact, in N
    #[arg(long, value_name = "N", default_value_t = 20.0, allow_negative_numbers = true)]
    threshold: f64,
    /// Taken off first: a number in N, `minimum` of the record, or the mean of the `flight`
    #[arg(long, value_name = "WHAT", default_value = "0", allow_negative_numbers = true, value_parser = parse_offset)]
    offset: Offset,
    /// Body weight: a number in N, or a window of quiet standing in seconds, FROM-TO. Left
    /// out: the steadiest second, if one is quiet
    #[arg(long, value_name = "N|FROM-TO", value_parser = parse_weight)]
    weight: Option<Weight>,
    /// The shortest contact in milliseconds; what is shorter is a blip
    #[arg(long, value_name = "MS", default_value_t = 20.0)]
    shortest_contact: f64,
    /// The shortest flight in milliseconds
    #[arg(long, value_name = "MS", default_value_t = 20.0)]
    shortest_flight: f64,
    /// Print JSON
    #[arg(long)]
    json: bool,
    #[command(flatten)]
    filmed: FilmedArgs,
}

/// The same contacts on a clip.
#[derive(clap::Args)]
#[command(next_help_heading = "The same contacts on a clip")]
struct FilmedArgs {
    /// A clip of the same contacts, to set beside the plate
    #[arg(long, value_name = "CLIP", requires = "marks")]
    against: Option<PathBuf>,
    /// Each contact on the clip, in order: the first frame surely with the foot on the ground
    /// and the first surely with it off again (frames count from 0)
    #[arg(long, value_name = "ON-OFF,...", value_delimiter = ',', value_parser = parse_marks, requires = "against")]
    marks: Vec<(i64, i64)>,
    #[arg(long, value_name = "HZ", value_parser = parse_rate, requires = "against", help = RATE_HELP)]
    capture_rate: Option<Rate>,
    /// The number of the video track, where not the one that a player shows
    #[arg(long, value_name = "ID", requires = "against")]
    track: Option<u32>,
}

/// A reading, and the clip beside it where one was given.
struct Answered {
    reading: Reading,
    compared: Option<(Comparison, Vec<Filmed>)>,
}

pub(crate) fn run(args: &Args, out: &mut dyn Write) -> Result<(), Failure> {
    let shown = args.file.display();
    let record = File::open(&args.file)
        .map_err(|error| (format!("{shown} cannot be opened: {error}"), FILE_HINT))
        .and_then(|file| {
            Record::read(BufReader::new(file), &args.columns, args.rate)
                .map_err(|error| (format!("{shown}: {error}"), RECORD_HINT))
        });
    let record = match record {
        Ok(record) => record,
        Err((wrong, hint)) => {
            if args.json {
                serde_json::to_writer(&mut *out, &serde_json::json!({ "error": wrong }))?;
                writeln!(out)?;
            }
            return Err(Failure::new(Exit::NotAClip, wrong).hint(hint));
        }
    };
    let settings = Settings {
        threshold_n: args.threshold,
        offset: args.offset,
        least_contact_s: args.shortest_contact / 1000.0,
        least_flight_s: args.shortest_flight / 1000.0,
        weight: args.weight.unwrap_or_default(),
    };
    let answered = Reading::of(&record, &settings)
        .map_err(|error| Unset::Refused(Refusal { reason: error.to_string(), hint: SETTINGS_HINT }))
        .and_then(|reading| {
            let compared = args.filmed.beside(&reading)?;
            Ok(Answered { reading, compared })
        });
    match answered {
        Ok(answered) if args.json => {
            serde_json::to_writer(&mut *out, &Report::from(&answered))?;
            writeln!(out)?;
            Ok(())
        }
        Ok(answered) => {
            print(&answered.reading, out)?;
            Ok(answered.compared.iter().try_for_each(|compared| print_compared(compared, out))?)
        }
        Err(Unset::Refused(refusal)) if args.json => {
            serde_json::to_writer(&mut *out, &serde_json::json!({ "refused": refusal.reason }))?;
            writeln!(out)?;
            Err(Failure::told(Exit::Refused))
        }
        Err(Unset::Refused(refusal)) => Err(Failure::new(Exit::Refused, refusal.reason).hint(refusal.hint)),
        Err(Unset::NoClip(wrong)) => {
            if args.json {
                serde_json::to_writer(&mut *out, &serde_json::json!({ "error": wrong }))?;
                writeln!(out)?;
            }
            Err(Failure::new(Exit::NotAClip, wrong).hint(FILE_HINT))
        }
    }
}

/// Why there is no answer.
enum Unset {
    /// The settings, the clip or its marks give no times, or not the plate's contacts.
    Refused(Refusal),
    /// The clip cannot be opened.
    NoClip(String),
}

impl From<Refusal> for Unset {
    fn from(refusal: Refusal) -> Self {
        Self::Refused(refusal)
    }
}

impl FilmedArgs {
    /// The contacts of the clip beside those of the plate, where a clip was given.
    fn beside(&self, reading: &Reading) -> Result<Option<(Comparison, Vec<Filmed>)>, Unset> {
        let Some(file) = &self.against else { return Ok(None) };
        let clip = read_clip(file, self.track).map_err(|unreadable| match unreadable {
            Unreadable::File(wrong) => Unset::NoClip(wrong),
            Unreadable::Content(error) => {
                Refusal { reason: error.to_string(), hint: clip_hint(&error) }.into()
            }
        })?;
        let (scale, _) = contact::scale(&clip, self.capture_rate, None)?;
        let timed = |(on, off): &(i64, i64)| -> Result<Filmed, Refusal> {
            let on = contact::event(&clip, EventKind::Touchdown, *on, None)?;
            let off = contact::event(&clip, EventKind::ToeOff, *off, None)?;
            let timed = timing::contact(&on, &off, &scale).map_err(contact::marks)?;
            Ok(Filmed { seconds: timed.seconds, half_width_95_s: timed.total_half_width_95() })
        };
        let filmed = self.marks.iter().map(timed).collect::<Result<Vec<_>, _>>()?;
        let compared = compare(reading, &filmed)
            .map_err(|error| Refusal { reason: error.to_string(), hint: COUNTS_HINT })?;
        Ok(Some((compared, filmed)))
    }
}

/// What a person can do about settings that fit no reading.
const SETTINGS_HINT: &str = "see pitside plate --help";

/// What a person can do about contacts that do not pair.
const COUNTS_HINT: &str = "mark each whole contact of the plate on the clip, in order, and no other";

fn parse_marks(text: &str) -> Result<(i64, i64), String> {
    let read = || {
        let (on, off) = text.split_once('-')?;
        Some((on.parse().ok()?, off.parse().ok()?))
    };
    read().ok_or_else(|| "expected two frames ON-OFF, such as 165-200".to_owned())
}

fn print_compared(
    (compared, filmed): &(Comparison, Vec<Filmed>),
    out: &mut dyn Write,
) -> std::io::Result<()> {
    writeln!(out, "\nthe clip beside the plate")?;
    for (pair, film) in compared.pairs.iter().zip(filmed) {
        writeln!(
            out,
            "contact   plate {:.4} s, clip {:.4} s ± {:.0} ms: {:+.1} ms, {} (± {:.1} ms with the plate's samples)",
            pair.plate_s,
            pair.film_s,
            (film.half_width_95_s * 1000.0).ceil(),
            pair.difference_s * 1000.0,
            if pair.within { "covered" } else { "not covered" },
            pair.allowed_s * 1000.0
        )?;
    }
    writeln!(out, "mean      {:+.1} ms, clip minus plate", compared.mean_difference_s * 1000.0)?;
    writeln!(
        out,
        "± is the 95 % half-width of frames, clock and judging: of twenty contacts about one is not covered."
    )?;
    writeln!(
        out,
        "A difference that leans one way is of camera, judge and threshold together, not of one of them."
    )
}

/// What a person can do about a file that is no record.
const RECORD_HINT: &str =
    "a record is a table in text, one row a sample; --columns says which columns hold the force";

fn parse_column(text: &str) -> Result<Column, String> {
    Column::from_str(text).map_err(|never| match never {})
}

fn parse_offset(text: &str) -> Result<Offset, String> {
    Ok(match text {
        "minimum" => Offset::Minimum,
        "flight" => Offset::Flight,
        number => match number.parse() {
            Ok(0.0) => Offset::Zero,
            Ok(newtons) => Offset::Given(newtons),
            Err(_) => return Err("expected a number in N, `minimum` or `flight`".to_owned()),
        },
    })
}

fn parse_weight(text: &str) -> Result<Weight, String> {
    let wrong = || "expected a number in N, or seconds FROM-TO, such as 0.5-1.5".to_owned();
    match text.split_once('-').filter(|(from, _)| !from.is_empty()) {
        Some((from, to)) => match (from.parse(), to.parse()) {
            (Ok(from_s), Ok(to_s)) => Ok(Weight::Window { from_s, to_s }),
            _ => Err(wrong()),
        },
        None => text.parse().map(Weight::Given).map_err(|_| wrong()),
    }
}

/// The answer as JSON. The keys are documented in `--help` and stay.
#[derive(Serialize)]
struct Report {
    weight_n: Option<f64>,
    contacts: Vec<ContactReport>,
    flights: Vec<FlightReport>,
    cut_contacts: Vec<CutReport>,
    rate_hz: f64,
    threshold_n: f64,
    offset_n: f64,
    #[serde(flatten)]
    compared: Option<ComparedReport>,
}

#[derive(Serialize)]
struct ComparedReport {
    compared: Vec<PairReport>,
    mean_difference_s: f64,
}

#[derive(Serialize)]
struct PairReport {
    plate_s: f64,
    clip_s: f64,
    half_width_95_s: f64,
    difference_s: f64,
    allowed_s: f64,
    covered: bool,
}

impl From<&(Comparison, Vec<Filmed>)> for ComparedReport {
    fn from((compared, filmed): &(Comparison, Vec<Filmed>)) -> Self {
        let pairs = compared.pairs.iter().zip(filmed).map(|(pair, film)| PairReport {
            plate_s: pair.plate_s,
            clip_s: pair.film_s,
            half_width_95_s: film.half_width_95_s,
            difference_s: pair.difference_s,
            allowed_s: pair.allowed_s,
            covered: pair.within,
        });
        Self { compared: pairs.collect(), mean_difference_s: compared.mean_difference_s }
    }
}

#[derive(Serialize)]
struct ContactReport {
    start_s: f64,
    end_s: f64,
    duration_s: f64,
    mean_bw: Option<f64>,
    peak_bw: Option<f64>,
    reactive_strength_m_s: Option<f64>,
}

#[derive(Serialize)]
struct FlightReport {
    start_s: f64,
    end_s: f64,
    duration_s: f64,
    height_m: f64,
}

#[derive(Serialize)]
struct CutReport {
    start_s: Option<f64>,
    end_s: Option<f64>,
    peak_bw: Option<f64>,
}

impl From<&Answered> for Report {
    fn from(Answered { reading, compared }: &Answered) -> Self {
        let contacts = reading.contacts.iter().map(|contact| ContactReport {
            start_s: contact.start_s,
            end_s: contact.end_s,
            duration_s: contact.duration_s,
            mean_bw: contact.mean_bw,
            peak_bw: contact.peak_bw,
            reactive_strength_m_s: contact.reactive_strength,
        });
        let flights = reading.flights.iter().map(|flight| FlightReport {
            start_s: flight.start_s,
            end_s: flight.end_s,
            duration_s: flight.duration_s,
            height_m: flight.height_m,
        });
        let cut = reading.cut.iter().map(|part| CutReport {
            start_s: part.start_s,
            end_s: part.end_s,
            peak_bw: part.peak_bw,
        });
        Self {
            weight_n: reading.weight.map(|weight| weight.newtons),
            contacts: contacts.collect(),
            flights: flights.collect(),
            cut_contacts: cut.collect(),
            rate_hz: reading.rate_hz,
            threshold_n: reading.threshold_n,
            offset_n: reading.offset_n,
            compared: compared.as_ref().map(ComparedReport::from),
        }
    }
}

fn print(reading: &Reading, out: &mut dyn Write) -> std::io::Result<()> {
    writeln!(
        out,
        "threshold {} N, {:.2} N taken off, {} samples a second",
        reading.threshold_n, reading.offset_n, reading.rate_hz
    )?;
    writeln!(out, "weight    {}", weight_words(reading.weight))?;
    let in_weights = |force: Option<f64>| force.map_or_else(|| "-".to_owned(), |bw| format!("{bw:.2}"));
    for contact in &reading.contacts {
        let strength = contact.reactive_strength.map_or_else(String::new, |rsi| {
            format!(", reactive strength {rsi:.2} m/s with the flight after it")
        });
        writeln!(
            out,
            "contact   {:.4} s, from {:.3} s: mean {} and peak {} body weights{strength}",
            contact.duration_s,
            contact.start_s,
            in_weights(contact.mean_bw),
            in_weights(contact.peak_bw)
        )?;
    }
    for flight in &reading.flights {
        writeln!(
            out,
            "flight    {:.4} s, from {:.3} s: {:.3} m where the body leaves and lands in one posture",
            flight.duration_s, flight.start_s, flight.height_m
        )?;
    }
    for part in &reading.cut {
        let when = match (part.start_s, part.end_s) {
            (None, Some(end)) => format!("until {end:.3} s"),
            (Some(start), None) => format!("from {start:.3} s on"),
            _ => "over the whole record".to_owned(),
        };
        writeln!(out, "cut off   a contact {when}: peak {} body weights", in_weights(part.peak_bw))?;
    }
    writeln!(out, "Times depend on the threshold: say it with them. A peak is of this plate alone.")
}

fn weight_words(weight: Option<BodyWeight>) -> String {
    match weight {
        None => "unknown: nobody stood still for a second; give it with --weight".to_owned(),
        Some(BodyWeight { newtons, source: WeightSource::Given }) => format!("{newtons:.2} N, as given"),
        Some(BodyWeight { newtons, source: WeightSource::Standing { from_s, to_s, deviation_n, .. } }) => {
            format!("{newtons:.2} N, standing from {from_s:.2} to {to_s:.2} s (spread {deviation_n:.1} N)")
        }
    }
}
