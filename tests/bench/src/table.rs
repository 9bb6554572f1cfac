//! The one table: work, ours, peer, ratio.

use core::fmt::Write as _;

/// How a figure is written.
#[derive(Clone, Copy, Debug)]
pub enum Unit {
    /// Seconds.
    Seconds,
    /// Bytes.
    Bytes,
}

impl Unit {
    fn show(self, value: f64) -> String {
        match self {
            Self::Seconds if value < 1e-4 => format!("{:.1} µs", value * 1e6),
            Self::Seconds if value < 0.1 => format!("{:.2} ms", value * 1e3),
            Self::Seconds => format!("{value:.2} s"),
            Self::Bytes if value < 1e6 => format!("{:.1} kB", value / 1e3),
            Self::Bytes => format!("{:.2} MB", value / 1e6),
        }
    }
}

/// Lines of the table.
#[derive(Debug, Default)]
pub struct Table(Vec<[String; 4]>);

impl Table {
    /// One work beside one peer.
    pub fn beside(&mut self, work: &str, unit: Unit, ours: f64, peer: &str, theirs: f64) {
        let peer = format!("{peer} {}", unit.show(theirs));
        let ratio = ours / theirs;
        let ratio = if ratio < 0.01 { format!("{ratio:.5}") } else { format!("{ratio:.2}") };
        self.0.push([work.to_owned(), unit.show(ours), peer, ratio]);
    }
    /// One work that no peer does.
    pub fn alone(&mut self, work: &str, unit: Unit, ours: f64) {
        self.0.push([work.to_owned(), unit.show(ours), "–".to_owned(), "–".to_owned()]);
    }
    /// The table, for a person to read.
    pub fn to_text(&self) -> String {
        let head = ["work", "ours", "peer", "ratio"].map(str::to_owned);
        let rows: Vec<&[String; 4]> = core::iter::once(&head).chain(&self.0).collect();
        let width = |at: usize| rows.iter().map(|row| row[at].chars().count()).max().unwrap_or(0);
        let (work, ours, peer, ratio) = (width(0), width(1), width(2), width(3));
        let mut text = String::new();
        for row in rows {
            let [w, o, p, r] = row;
            // Writing into a string cannot fail.
            let _ = writeln!(text, "{w:<work$}  {o:>ours$}  {p:<peer$}  {r:>ratio$}");
        }
        text
    }
}
