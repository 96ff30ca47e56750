//! The bench sheet: CSV text to readings, and everything wrong with it by line and column.

use super::Reading;
use super::conditions::{Condition, Conditions};
use super::instrument::unknown_column;
use super::marks::Marks;
use super::quantity::{self, Asked, Of};
use super::table::{Record, Table};
use crate::cell::state::{Changes, Pores, State};
use crate::quantity::notation;
use crate::quantity::problem::{Problem, Problems, shortened};
use crate::quantity::units::{Dimension, Unit};
use roulade_stats::uncertain::{Spread, Uncertain};
use std::collections::BTreeMap;

/// Columns of a bench sheet; `quantity` and `value` must be there, in any order.
pub const COLUMNS: &[(&str, &str)] = &[
    ("cell", "which cell, as in its design sheet; may be left out where there is but one"),
    ("specimen", "which specimen of it; readings of one specimen share its deviation from the others"),
    ("quantity", "what was read: a name of the list, or the label or key of an entry of the design sheet"),
    (
        "state",
        "what was done to the cell before, words between commas: as built (where left out), or after formation with charged, discharged, \
         \"discharged to 3.0 V\" or \"at 30 %\"; washed, dried or wet; before opening, or opened for some time",
    ),
    (
        "at",
        "the conditions of an electrical reading, between commas: the capacity drawn, \"2.5 Ah, 0.1 A\"; a pulse, \"10 s, 50 %, 25 °C\"; \
         cut-off voltages against lithium, \"3.0 .. 4.3 V\"",
    ),
    ("part", "of which part, where the quantity is a part's and does not say so itself"),
    ("value", "the reading; may hold its unit and uncertainty too, \"68 ± 1 µm\""),
    ("unit", "its unit, where the value does not hold it"),
    (
        "uncertainty",
        "standard uncertainty of this reading, all of it, in the same unit or in per cent of the value",
    ),
    ("instrument", "name of the instrument, as in the instrument file"),
    (
        "fit",
        "fit, or unfit and why: a dented or leaking specimen is not fit for every reading; checked, where a reading was taken \
         again and stands, so that it is used however far it is off",
    ),
    ("population", "which of several suspected variants the specimen is one of"),
    ("remark", "anything worth keeping"),
    ("date", "when"),
];

/// A bench sheet as far as it could be read.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Bench {
    /// Good rows, in their order.
    pub readings: Vec<Reading>,
    /// What is wrong with the others.
    pub problems: Problems,
}

impl Bench {
    /// Reads a bench sheet. Commas, semicolons or tabs between cells, decimal point or comma, quoted cells and a byte
    /// order mark are all read; columns may stand in any order.
    ///
    /// # Errors
    /// Where nothing in it can be used: every reason.
    ///
    /// # Example
    /// ```
    /// use roulade::study::readings::sheet::Bench;
    /// let bench = Bench::read("specimen;quantity;value;unit;uncertainty\nA;cathode width;80,8;mm;0,1\n")?;
    /// let reading = &bench.readings[0];
    /// assert!((reading.value - 0.0808).abs() < 1e-12 && (reading.u.unwrap() - 1e-4).abs() < 1e-12);
    /// # Ok::<(), roulade::quantity::problem::Problems>(())
    /// ```
    pub fn read(text: &str) -> Result<Self, Problems> {
        let mut problems = Problems::default();
        let table = Table::read(text);
        let mut records = table.records.iter();
        let Some(head) = records.next() else {
            return Err(Problem::new("", "an empty text", expected()).into());
        };
        let columns = columns(head, &mut problems);
        let missing = |name: &str| !columns.contains(&Some(name));
        if missing("quantity") || missing("value") {
            let names: Vec<&str> = ["quantity", "value"].into_iter().filter(|name| missing(name)).collect();
            let found = format!("no column \"{}\"", names.join("\" and no column \""));
            // What the columns are called instead would be told of each of them.
            return Err(Problem::new(format!("line {}", head.line), found, expected()).into());
        }
        if let Some(line) = table.unclosed {
            problems.push(Problem::new(
                format!("line {line}"),
                "a quotation mark that is never closed",
                "a mark at both ends of a quoted cell, and two marks for one inside it",
            ));
        }
        let mut bench = Self { readings: Vec::new(), problems };
        let numbers = table.records.iter().skip(1).flat_map(|record| record.cells.iter().zip(&columns));
        let numbers = numbers.filter(|(_, column)| matches!(column, Some("value" | "uncertainty")));
        let marks = Marks::of(table.separator, numbers.map(|(cell, _)| cell.as_str()));
        // A bench sheet says the same few names again and again.
        let mut named = BTreeMap::new();
        // What such a mark swallowed cannot be told.
        for record in records.filter(|record| table.unclosed != Some(record.line)) {
            let row = Row { record, columns: &columns, marks };
            let before = bench.problems.0.len();
            if record.cells.len() > columns.len()
                && record.cells.iter().skip(columns.len()).any(|c| !c.is_empty())
            {
                bench.problems.push(Problem::new(
                    format!("line {}", record.line),
                    format!("{} cells", record.cells.len()),
                    format!(
                        "as many cells as columns, {}; put a cell that has a {} in it into quotation marks",
                        columns.len(),
                        if table.separator == ',' { "comma" } else { "separator" }
                    ),
                ));
                continue;
            }
            let reading = row.read(&mut named, &mut bench.problems);
            bench.readings.extend(reading.filter(|_| before == bench.problems.0.len()));
        }
        if bench.readings.is_empty() {
            bench.problems.push(Problem::new(
                "",
                "no reading that can be used",
                "at least one row that has no fault",
            ));
            return Err(bench.problems);
        }
        Ok(bench)
    }

    /// Names of the cells, in the order of their first reading; without those that name none.
    pub fn cells(&self) -> Vec<&str> {
        let mut cells: Vec<&str> = Vec::new();
        for cell in self.readings.iter().filter_map(|reading| reading.cell.as_deref()) {
            if !cells.contains(&cell) {
                cells.push(cell);
            }
        }
        cells
    }
}

fn expected() -> String {
    let names: Vec<&str> = COLUMNS.iter().map(|(name, _)| *name).collect();
    format!(
        "a bench sheet: CSV with a line of column names ({}), then one reading in each line",
        names.join(", ")
    )
}

/// The columns by name, `None` for one nobody knows.
fn columns(head: &Record, problems: &mut Problems) -> Vec<Option<&'static str>> {
    let names: Vec<&str> = COLUMNS.iter().map(|(name, _)| *name).collect();
    let mut columns: Vec<Option<&'static str>> = Vec::new();
    for (i, cell) in head.cells.iter().enumerate() {
        let found = COLUMNS.iter().map(|(name, _)| *name).find(|name| cell.eq_ignore_ascii_case(name));
        if cell.is_empty() {
            // A column without a name may hold nothing; its cells are not read.
        } else if found.is_none() {
            problems.push(unknown_column(head.line, cell, &names));
        } else if columns.contains(&found) {
            problems.push(Problem::new(
                format!("line {}", head.line),
                format!("a second column \"{}\", in place {}", shortened(cell), i + 1),
                "each column to stand once; the first is read",
            ));
            columns.push(None);
            continue;
        }
        columns.push(found);
    }
    columns
}

/// One row under its columns.
struct Row<'a> {
    record: &'a Record,
    columns: &'a [Option<&'static str>],
    marks: Marks,
}

impl Row<'_> {
    fn cell(&self, column: &str) -> Option<&str> {
        let i = self.columns.iter().position(|name| *name == Some(column))?;
        self.record.cells.get(i).map(String::as_str).filter(|cell| !cell.is_empty())
    }

    fn owned(&self, column: &str) -> Option<String> {
        self.cell(column).map(str::to_owned)
    }

    fn place(&self, column: &str) -> String {
        format!("line {}, {column}", self.record.line)
    }

    fn read(&self, named: &mut BTreeMap<String, Asked>, problems: &mut Problems) -> Option<Reading> {
        let (name, part) = (self.cell("quantity").unwrap_or_default(), self.cell("part"));
        // A line feed stands in no name and parts the two.
        let both = format!("{name}\n{}", part.unwrap_or_default());
        let asked = match named.get(&both).cloned().map_or_else(|| quantity::find(name, part), Ok) {
            Ok(asked) => {
                named.entry(both).or_insert_with(|| asked.clone());
                Some(asked)
            }
            Err(problem) => {
                problems.push(Problem { place: self.place("quantity"), ..problem });
                None
            }
        };
        let state = self.state(asked.as_ref(), problems);
        let unfit = self.unfit(problems);
        let under = asked.as_ref().map(|asked| self.under(asked, problems));
        let asked = Asked { state: state?, under: under??, ..asked? };
        let (text, uncertain) = self.value(&asked, problems)?;
        Some(Reading {
            line: self.record.line,
            cell: self.owned("cell"),
            specimen: self.owned("specimen").unwrap_or_default(),
            text,
            value: uncertain.value,
            u: Some(uncertain.u()).filter(|u| *u > 0.0),
            asked,
            instrument: self.owned("instrument"),
            unfit: unfit?,
            checked: self.cell("fit").is_some_and(|cell| cell.eq_ignore_ascii_case("checked")),
            population: self.owned("population"),
            remark: self.owned("remark"),
            date: self.owned("date"),
        })
    }

    /// The state it was read in.
    fn state(&self, asked: Option<&Asked>, problems: &mut Problems) -> Option<State> {
        let Some(cell) = self.cell("state") else { return Some(State::default()) };
        let place = || self.place("state");
        let state =
            State::read(cell).map_err(|problem| problems.push(Problem { place: place(), ..problem })).ok()?;
        let wet = asked.is_some_and(|asked| asked.quantity.changes == Changes::WetRoll);
        if wet && matches!(state.pores, Some(Pores::Washed | Pores::Dried)) {
            let expected = "the quantity \"dry jelly roll mass\", or the state \"wet\"";
            problems.push(Problem::new(
                place(),
                format!("\"{}\" of a wet jelly roll", shortened(cell)),
                expected,
            ));
            return None;
        }
        Some(state)
    }

    /// The conditions it was read under.
    fn under(&self, asked: &Asked, problems: &mut Problems) -> Option<Conditions> {
        let (takes, needs): (&[Condition], _) = match asked.quantity.of {
            Of::Under(takes, needs, _) => (takes, needs),
            _ => (&[], None),
        };
        let read = Conditions::read(self.cell("at").unwrap_or_default(), takes, needs);
        read.map_err(|problem| problems.push(Problem { place: self.place("at"), ..problem })).ok()
    }

    /// Whether the specimen is unfit for the reading, and why.
    #[allow(clippy::option_option, reason = "unreadable, or read: fit, or unfit and why")]
    fn unfit(&self, problems: &mut Problems) -> Option<Option<String>> {
        let Some(cell) = self.cell("fit") else { return Some(None) };
        let (word, why) = cell.split_once([':', ',', ' ', '(']).unwrap_or((cell, ""));
        let why = why.trim_matches(|c: char| c.is_whitespace() || matches!(c, ':' | ',' | '(' | ')' | ';'));
        let why = if why.is_empty() { self.cell("remark").unwrap_or("no reason given") } else { why };
        match word.to_lowercase().as_str() {
            "fit" | "yes" | "checked" => Some(None),
            "unfit" | "no" => Some(Some(why.to_owned())),
            _ => {
                problems.push(Problem::new(
                    self.place("fit"),
                    format!("\"{}\"", shortened(cell)),
                    "\"fit\", \"checked\" or \"unfit\" and why, for example \"unfit: dented\"",
                ));
                None
            }
        }
    }

    /// The value with its uncertainty, and as one would write it.
    fn value(&self, asked: &Asked, problems: &mut Problems) -> Option<(String, Uncertain)> {
        let quantity = asked.quantity;
        let dimension = quantity.unit.dimension();
        let before = problems.0.len();
        let value = self.number("value", problems)?;
        let unit = self.cell("unit").unwrap_or_default();
        let own = own_unit(&value);
        if !own.is_empty() && !unit.is_empty() && own != unit {
            let found = format!("\"{}\" beside \"{}\"", shortened(unit), shortened(&value));
            problems.push(Problem::new(
                self.place("unit"),
                found,
                "one unit, either in the value or beside it",
            ));
        }
        let text = if unit.is_empty() || !own.is_empty() { value } else { format!("{value} {unit}") };
        let uncertain = match notation::read(&text, dimension) {
            Ok(uncertain) => Some(uncertain),
            Err(complaint) => {
                let unit_alone = !unit.is_empty() && notation::read(&format!("1 {unit}"), dimension).is_err();
                let place = self.place(if unit_alone { "unit" } else { "value" });
                problems.push(complaint.at(place));
                None
            }
        };
        let uncertain =
            uncertain.and_then(|uncertain| self.with_uncertainty(uncertain, &text, dimension, problems));
        if let Some(uncertain) = uncertain.filter(|uncertain| uncertain.value < 0.0) {
            problems.push(Problem::new(
                self.place("value"),
                format!("\"{}\"", notation::print_uncertain(&uncertain, quantity.unit)),
                format!("a reading that is zero or more for {}", asked.label()),
            ));
        }
        let share = dimension == Dimension::Fraction;
        if let Some(uncertain) = uncertain.filter(|uncertain| share && uncertain.value > 1.0) {
            problems.push(Problem::new(
                self.place("value"),
                format!("\"{}\"", notation::print_uncertain(&uncertain, Unit::Percent)),
                "a share that is at most 100 %; a number without a per cent sign is a fraction, 0.25 for 25 %",
            ));
        }
        let uncertain = uncertain.filter(|_| before == problems.0.len())?;
        let text = match uncertain.spread {
            Spread::Exact => text,
            _ => notation::print_uncertain(&uncertain, quantity.unit),
        };
        Some((text, uncertain))
    }

    /// The uncertainty column, where there is one.
    fn with_uncertainty(
        &self,
        uncertain: Uncertain,
        text: &str,
        dimension: Dimension,
        problems: &mut Problems,
    ) -> Option<Uncertain> {
        if self.cell("uncertainty").is_none() {
            return Some(uncertain);
        }
        let place = self.place("uncertainty");
        if uncertain.u() > 0.0 {
            let found = format!("an uncertainty beside \"{}\"", shortened(text));
            problems.push(Problem::new(place, found, "one uncertainty, either in the value or beside it"));
            return None;
        }
        let written = self.number("uncertainty", problems)?;
        let written =
            ["±", "+/-", "+-"].iter().find_map(|mark| written.strip_prefix(mark)).unwrap_or(&written);
        // As one would write "68 mm ± 0.1 mm" or "68 mm ± 2 %"; a bare number is in the value's own unit.
        let unit = if own_unit(written).is_empty() { own_unit(text) } else { "" };
        match notation::read(format!("{text} ± {written} {unit}").trim(), dimension) {
            Ok(with) if with.u() > 0.0 => Some(with),
            Ok(_) => {
                problems.push(Problem::new(
                    place,
                    format!("\"{}\"", shortened(written)),
                    "a standard uncertainty that is greater than zero; leave it out where it is not known",
                ));
                None
            }
            Err(complaint) => {
                problems.push(Problem::new(place, format!("\"{}\"", shortened(written)), complaint.expected));
                None
            }
        }
    }

    /// A cell that holds numbers, its decimal commas as points; `None` where its marks may group thousands.
    fn number(&self, column: &str, problems: &mut Problems) -> Option<String> {
        let text = self.cell(column).unwrap_or_default();
        let read = self.marks.plain(text);
        let quantity = read.map_err(|both| {
            problems.push(Problem::new(
                self.place(column),
                format!("\"{}\", where a mark may group thousands", shortened(text)),
                format!("{both}, whichever is meant: thousands are not grouped"),
            ));
        });
        quantity.ok()
    }
}

/// The unit that a value brings with it, from the first letter behind its number on; the e of an exponent is none.
fn own_unit(text: &str) -> &str {
    let mut before = ' ';
    for (i, c) in text.char_indices() {
        let exponent = matches!(c, 'e' | 'E') && before.is_ascii_digit();
        if (c.is_alphabetic() || c == '%') && !exponent {
            let number = text.get(..i).is_some_and(|before| before.contains(|c: char| c.is_ascii_digit()));
            return text.get(i..).filter(|_| number).unwrap_or_default().trim();
        }
        before = c;
    }
    ""
}

#[cfg(test)]
mod tests;
