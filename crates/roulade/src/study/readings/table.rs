//! CSV text to records: the dialects spreadsheets write, told apart by their first line.

use crate::quantity::spreadsheet::undisarmed;
use csv_core::{ReadFieldResult, ReaderBuilder};

/// One row that is not blank.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Record {
    /// Line on which it begins, from 1.
    pub(super) line: u64,
    /// Its cells, trimmed.
    pub(super) cells: Vec<String>,
}

/// All records of a text, and what separates their cells.
#[derive(Debug)]
pub(super) struct Table {
    pub(super) separator: char,
    pub(super) records: Vec<Record>,
    /// Line of a record whose last quotation mark is never closed.
    pub(super) unclosed: Option<u64>,
}

impl Table {
    /// Reads a text with commas, semicolons or tabs between cells: whichever its first line has most of.
    pub(super) fn read(text: &str) -> Self {
        let text = text.strip_prefix('\u{feff}').unwrap_or(text);
        let (declared, text) = declared_separator(text);
        let first = text.lines().find(|line| !line.trim().is_empty()).unwrap_or_default();
        // Of two that are as many, the one that is no decimal mark.
        let most = [';', '\t', ','].into_iter().rev().max_by_key(|mark| first.matches(*mark).count());
        let separator = declared.or(most).unwrap_or(',');
        let mut reader = ReaderBuilder::new().delimiter(u8::try_from(separator).unwrap_or(b',')).build();
        let (mut input, mut output) = (text.as_bytes(), vec![0; text.len() + 1]);
        let mut line = 1 + u64::from(declared.is_some());
        let mut records = Vec::new();
        let (mut cells, mut cell): (Vec<String>, Vec<u8>) = (Vec::new(), Vec::new());
        let mut begins = line;
        loop {
            if cells.is_empty() && cell.is_empty() {
                let blank = input.iter().take_while(|b| matches!(b, b'\r' | b'\n')).count();
                let (skipped, rest) = input.split_at_checked(blank).unwrap_or((input, &[]));
                line += newlines(skipped);
                (input, begins) = (rest, line);
            }
            let (result, used, written) = reader.read_field(input, &mut output);
            let (taken, rest) = input.split_at_checked(used).unwrap_or((input, &[]));
            line += newlines(taken);
            input = rest;
            cell.extend(output.get(..written).unwrap_or_default());
            let ended = match result {
                ReadFieldResult::Field { record_end } => record_end,
                ReadFieldResult::End => break,
                ReadFieldResult::InputEmpty | ReadFieldResult::OutputFull => continue,
            };
            // Bytes of a text between separators are text.
            cells.push(undisarmed(String::from_utf8_lossy(&cell).trim()).to_owned());
            cell.clear();
            if ended {
                let cells = std::mem::take(&mut cells);
                if cells.iter().any(|cell| !cell.is_empty()) {
                    records.push(Record { line: begins, cells });
                }
            }
        }
        // A mark inside a cell is doubled, so that a text without fault has an even number of them.
        let open = text.matches('"').count() % 2 == 1;
        let unclosed = records.last().filter(|_| open).map(|record| record.line);
        Self { separator, records, unclosed }
    }
}

/// The separator that a first line "sep=;" tells, and what follows it.
fn declared_separator(text: &str) -> (Option<char>, &str) {
    let (first, rest) = text.split_once('\n').unwrap_or((text, ""));
    let line = first.trim_end_matches('\r').trim_matches('"');
    let mark = line.get(..4).filter(|begin| begin.eq_ignore_ascii_case("sep=")).and_then(|_| line.get(4..));
    let mut marks = mark.unwrap_or_default().chars();
    match (marks.next(), marks.next()) {
        (Some(mark @ (';' | ',' | '\t' | '|')), None) => (Some(mark), rest),
        _ => (None, text),
    }
}

#[allow(clippy::naive_bytecount, reason = "a sheet is short; a crate for it would not be")]
fn newlines(bytes: &[u8]) -> u64 {
    bytes.iter().filter(|byte| **byte == b'\n').count() as u64
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn cells(text: &str) -> Vec<(u64, Vec<String>)> {
        Table::read(text).records.into_iter().map(|record| (record.line, record.cells)).collect()
    }

    fn row(line: u64, cells: &[&str]) -> (u64, Vec<String>) {
        (line, cells.iter().map(|cell| (*cell).to_owned()).collect())
    }

    #[test]
    fn dialects_of_one_table() {
        let wanted = [row(1, &["quantity", "value"]), row(2, &["can wall", "0,5 mm"])];
        for text in [
            "quantity;value\ncan wall;0,5 mm\n",
            "\u{feff}quantity;value\r\ncan wall;0,5 mm\r\n",
            "quantity,value\n\"can wall\", \"0,5 mm\"".replace(", \"", ",\"").as_str(),
            "quantity\tvalue\ncan wall\t0,5 mm",
            "sep=;\r\nquantity;value\r\ncan wall;0,5 mm\r\n",
            "quantity;value\n can wall ; 0,5 mm ",
        ] {
            let declared = u64::from(text.starts_with("sep"));
            let found: Vec<_> =
                cells(text).into_iter().map(|(line, cells)| (line - declared, cells)).collect();
            assert_eq!(found, wanted, "{text:?}");
        }
    }

    #[test]
    fn a_name_that_was_kept_from_being_a_formula_is_the_name() {
        assert_eq!(cells("cell,value\n'=1+1,'5\n"), [row(1, &["cell", "value"]), row(2, &["=1+1", "'5"])]);
    }

    #[test]
    fn lines_are_those_of_the_file() {
        let text = "a,b\n\n\n1,\"two\nlines\"\n,,\n3,\"say \"\"so\"\"\"\n";
        let wanted = [row(1, &["a", "b"]), row(4, &["1", "two\nlines"]), row(7, &["3", "say \"so\""])];
        assert_eq!(cells(text), wanted);
    }

    #[test]
    fn a_mark_that_is_never_closed_is_noticed() {
        let table = Table::read("a,b\n1,\"2\n3,4\n");
        assert_eq!((table.unclosed, table.records.len()), (Some(2), 2));
        assert_eq!(Table::read("a,b\n1,\"2\"\n").unclosed, None);
    }

    proptest! {
        #[test]
        fn any_text_is_read(text in any::<String>()) {
            let _ = Table::read(&text);
        }

        #[test]
        fn what_is_quoted_comes_back(cells in prop::collection::vec("[ -~\\n]{1,8}", 1..5)) {
            let quoted: Vec<String> = cells.iter().map(|cell| format!("\"{}\"", cell.replace('"', "\"\""))).collect();
            let text = format!("h,h,h,h\n{}\n", quoted.join(","));
            let wanted: Vec<String> = cells.iter().map(|cell| undisarmed(cell.trim()).to_owned()).collect();
            let back = Table::read(&text).records.get(1).map(|record| record.cells.clone());
            prop_assert_eq!(back.unwrap_or_default(), if wanted.iter().all(String::is_empty) { vec![] } else { wanted });
        }
    }
}
