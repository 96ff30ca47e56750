//! What instruments are worth: a file of its own, CSV or JSON, for all readings that name one of them.

use super::table::Table;
use crate::quantity::notation;
use crate::quantity::problem::{Problem, Problems, nearest, perhaps, shortened};
use crate::quantity::units::{Dimension, Unit};
use crate::section;
use crate::sheet::{Shape, parse};

section! {
    /// An instrument of the bench: what it is worth, each entry a text with its unit.
    InstrumentEntries {
        /// Its name, as in the bench sheet.
        instrument: String,
        /// One step of its scale.
        resolution: String,
        /// Standard uncertainty of one reading against the next.
        repeatability: String,
        /// Standard uncertainty of its zero, the same for all its readings.
        calibration: String,
        /// Relative standard uncertainty of its scale, the same for all its readings.
        relative: String,
        /// Anything worth keeping.
        remark: String,
    }
}

/// An instrument, SI base units of its dimension.
///
/// What differs from reading to reading: the resolution, a rectangle of half a step to either side, √3 standard
/// uncertainties wide (JCGM 100:2008, F.2.2.1), and the repeatability. What all its readings share: the calibration and
/// a relative error of its scale; neither is averaged away by reading more often.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Instrument {
    /// Its name.
    pub name: String,
    /// What it reads; `None` where only a relative error is known.
    pub dimension: Option<Dimension>,
    /// One step of its scale.
    pub resolution: f64,
    /// Standard uncertainty of one reading against the next.
    pub repeatability: f64,
    /// Standard uncertainty of its zero, the same for all readings.
    pub calibration: f64,
    /// Relative standard uncertainty of its scale, the same for all readings.
    pub relative: f64,
}

impl Instrument {
    /// Standard uncertainty of one reading, without what all readings share: √(step²/12 + repeatability²).
    ///
    /// # Example
    /// A caliper with steps of 0.01 mm: 0.01/√12 = 0.0029 mm.
    /// ```
    /// # use roulade::study::readings::instrument::Instrument;
    /// let caliper = Instrument { resolution: 0.01, ..Instrument::default() };
    /// assert!((caliper.own() - 0.0028867513).abs() < 1e-9);
    /// ```
    pub fn own(&self) -> f64 {
        (self.resolution * self.resolution / 12.0 + self.repeatability * self.repeatability).sqrt()
    }

    /// Standard uncertainty of one reading of a value, everything included.
    pub fn u(&self, value: f64) -> f64 {
        let (own, scale) = (self.own(), self.relative * value);
        (own * own + self.calibration * self.calibration + scale * scale).sqrt()
    }
}

/// Instruments of one bench.
const MOST: usize = 200;

/// Columns of an instrument file.
const COLUMNS: &[&str] = InstrumentEntries::KEYS;

/// Reads an instrument file: a JSON list of objects, or CSV, both with instrument, resolution, repeatability,
/// calibration, relative and remark. Good instruments survive the problems of others.
pub fn read(text: &str) -> (Vec<Instrument>, Problems) {
    let mut problems = Problems::default();
    let written = if text.trim_start().starts_with(['[', '{']) {
        json(text, &mut problems)
    } else {
        csv(text, &mut problems)
    };
    let mut instruments: Vec<Instrument> = Vec::new();
    if written.len() > MOST {
        problems.push(Problem::new(
            "",
            format!("{} instruments", written.len()),
            format!("at most {MOST} instruments"),
        ));
        return (instruments, problems);
    }
    for (place, written) in written {
        let Some(instrument) = interpret(&place, &written, &mut problems) else { continue };
        if instruments.iter().any(|other| same(&other.name, &instrument.name)) {
            let found = format!("a second instrument called \"{}\"", shortened(&instrument.name));
            problems.push(Problem::new(place, found, "each instrument to have a name of its own"));
        } else {
            instruments.push(instrument);
        }
    }
    if instruments.is_empty() && problems.0.is_empty() {
        problems.push(Problem::new("", "no instrument", "a row that has a name and an error"));
    }
    (instruments, problems)
}

/// Whether two names mean one instrument.
pub fn same(a: &str, b: &str) -> bool {
    a.trim().eq_ignore_ascii_case(b.trim())
}

fn json(text: &str, problems: &mut Problems) -> Vec<(String, InstrumentEntries)> {
    let value = match parse(text, "a list of instruments, [{\"instrument\": …, \"resolution\": …}, …]")
    {
        Ok(value) => value,
        Err(problem) => {
            problems.push(problem);
            return Vec::new();
        }
    };
    let list = Vec::<InstrumentEntries>::whole(value, problems).unwrap_or_default();
    list.into_iter().enumerate().map(|(i, written)| (format!("[{i}]"), written)).collect()
}

fn csv(text: &str, problems: &mut Problems) -> Vec<(String, InstrumentEntries)> {
    let table = Table::read(text);
    let mut records = table.records.into_iter();
    let Some(head) = records.next() else { return Vec::new() };
    let columns: Vec<String> = head.cells.iter().map(|cell| cell.to_lowercase()).collect();
    for column in columns.iter().filter(|column| !COLUMNS.contains(&column.as_str())) {
        problems.push(unknown_column(head.line, column, COLUMNS));
    }
    let rows = records.map(|record| {
        let mut written = InstrumentEntries::default();
        for (column, cell) in columns.iter().zip(record.cells).filter(|(_, cell)| !cell.is_empty()) {
            let slot = match column.as_str() {
                "instrument" => &mut written.instrument,
                "resolution" => &mut written.resolution,
                "repeatability" => &mut written.repeatability,
                "calibration" => &mut written.calibration,
                "relative" => &mut written.relative,
                "remark" => &mut written.remark,
                _ => continue,
            };
            *slot = Some(cell);
        }
        (format!("line {}", record.line), written)
    });
    rows.collect()
}

/// The complaint about a column nobody knows.
pub(super) fn unknown_column(line: u64, column: &str, columns: &[&str]) -> Problem {
    let expected = match nearest(column, columns.iter().copied()) {
        Some(near) => format!("the name of a column; this one is left out; {}", perhaps(near)),
        None => format!("the name of a column, one of: {}; this one is left out", columns.join(", ")),
    };
    Problem::new(
        format!("line {line}"),
        format!("a column \"{}\" that is not known here", shortened(column)),
        expected,
    )
}

fn interpret(place: &str, written: &InstrumentEntries, problems: &mut Problems) -> Option<Instrument> {
    let before = problems.0.len();
    let at = |what: &str| format!("{place}, {what}");
    for key in written.unknown.keys() {
        problems.push(Problem::new(
            at(&shortened(key)),
            "a key that is not known here",
            format!("one of the keys known here: {}", COLUMNS.join(", ")),
        ));
    }
    let name = written.instrument.as_deref().map(str::trim).filter(|name| !name.is_empty());
    if name.is_none() {
        problems.push(Problem::new(at("instrument"), "nothing", "each instrument to have a name"));
    }
    let mut instrument = Instrument { name: name.unwrap_or_default().to_owned(), ..Instrument::default() };
    let mut dimension = None;
    for (what, text, slot) in [
        ("resolution", &written.resolution, &mut instrument.resolution),
        ("repeatability", &written.repeatability, &mut instrument.repeatability),
        ("calibration", &written.calibration, &mut instrument.calibration),
    ] {
        let Some(text) = text.as_deref() else { continue };
        let text = decimal_point(text);
        match sized(&text, dimension) {
            Ok((value, own)) if value >= 0.0 => {
                dimension = Some(own);
                *slot = value;
            }
            Ok(_) => {
                problems.push(Problem::new(
                    at(what),
                    format!("\"{}\"", shortened(&text)),
                    "an error that is zero or more",
                ));
            }
            Err(complaint) => problems.push(complaint.at(at(what))),
        }
    }
    instrument.dimension = dimension;
    if let Some(text) = &written.relative {
        match notation::read(&decimal_point(text), Dimension::Fraction) {
            Ok(uncertain) if (0.0..1.0).contains(&uncertain.value) => instrument.relative = uncertain.value,
            Ok(_) => problems.push(Problem::new(
                at("relative"),
                format!("\"{}\"", shortened(text)),
                "a share of the value that is below 1, for example \"0.1 %\"",
            )),
            Err(complaint) => problems.push(complaint.at(at("relative"))),
        }
    }
    if before == problems.0.len() && instrument.u(1.0) == 0.0 {
        problems.push(Problem::new(
            place,
            format!("\"{}\", for which no error is given", shortened(&instrument.name)),
            "a resolution, repeatability, calibration or relative error that is greater than zero",
        ));
    }
    (before == problems.0.len()).then_some(instrument)
}

/// A quantity of whatever dimension its unit says; of `wanted`, where that is known already.
fn sized(text: &str, wanted: Option<Dimension>) -> Result<(f64, Dimension), notation::Complaint> {
    let read = |dimension| notation::read(text, dimension).map(|uncertain| (uncertain.value, dimension));
    if let Some(dimension) = wanted {
        return read(dimension);
    }
    // A plain number is a count and a share as well; then a share.
    let mut found = Unit::ALL.iter().filter_map(|unit| read(unit.dimension()).ok());
    found.next().map_or_else(|| read(Dimension::Length), Ok)
}

/// A decimal comma as a point, where only a decimal mark can be meant.
fn decimal_point(text: &str) -> String {
    if text.contains('.') { text.to_owned() } else { text.replace(',', ".") }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_file_in_two_forms() {
        let csv = "instrument;resolution;calibration;relative;remark\ncaliper 2;0,01 mm;0,02 mm;;yearly\nscale;1 mg;;0.1 %;";
        let json = r#"[{"instrument": "caliper 2", "resolution": "0.01 mm", "calibration": "0.02 mm", "remark": "yearly"},
                       {"instrument": "scale", "resolution": "1 mg", "relative": "0.1 %"}]"#;
        let (instruments, problems) = read(csv);
        assert!(problems.0.is_empty(), "{problems}");
        assert_eq!(instruments, read(json).0);
        let caliper = instruments.first().unwrap();
        assert_eq!(caliper.dimension, Some(Dimension::Length));
        // 0.01/√12 = 0.002887 mm, with 0.02 mm of calibration 0.020207 mm.
        assert!(
            (caliper.own() - 2.886_751e-6).abs() < 1e-11 && (caliper.u(0.05) - 2.020_726e-5).abs() < 1e-11
        );
        assert!((instruments[1].u(0.01) - (8.333_333e-14_f64 + 1e-10).sqrt()).abs() < 1e-12);
    }

    #[test]
    fn what_is_wrong_is_reported_and_the_rest_survives() {
        let text = "instrument,resolution,calibration,colour\ncaliper,0.01 mm,0.2 g,red\n,1 g,,\nrule,0.5 mm,,\nrule,1 mm,,\nlens,,,\n";
        let (instruments, problems) = read(text);
        assert_eq!(instruments.iter().map(|i| i.name.as_str()).collect::<Vec<_>>(), ["rule"]);
        let places: Vec<&str> = problems.0.iter().map(|p| p.place.as_str()).collect();
        assert_eq!(places, ["line 1", "line 2, calibration", "line 3, instrument", "line 5", "line 6"]);
        assert!(read("").1.to_string().contains("no instrument"));
        assert!(read("[1]").1.to_string().contains("[0]") && read("{").1.to_string().contains("line 1"));
    }
}
