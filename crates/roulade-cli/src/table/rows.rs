//! A table: named columns, rows of texts and numbers.

use crate::report::visible;
use roulade::quantity::spreadsheet::disarmed;
use roulade_answer::long::{COLUMNS, Cell, lines};

/// One table: named columns, and rows of as many cells.
#[derive(Clone, Debug, Default)]
pub(crate) struct Table {
    /// What it is called.
    pub(crate) name: String,
    pub(crate) columns: Vec<Column>,
    pub(crate) rows: Vec<Vec<Cell>>,
}

/// A column.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Column {
    pub(crate) name: String,
    /// What it holds, in words.
    pub(crate) about: String,
    pub(crate) number: bool,
}

impl Table {
    /// Every figure of an answer's JSON, those of several answers after one another, each part with its answer's name before it.
    pub(crate) fn of_figures(answers: &[(&str, String)]) -> Self {
        let columns = COLUMNS.map(|(name, about, number)| Column {
            name: name.to_owned(),
            about: about.to_owned(),
            number,
        });
        let mut rows = Vec::new();
        for (answer, json) in answers {
            for mut line in lines(json) {
                if !answer.is_empty() {
                    let part = format!("{answer}.{}", line.part);
                    part.trim_end_matches('.').clone_into(&mut line.part);
                }
                rows.push(line.cells().to_vec());
            }
        }
        Self { name: "figures".to_owned(), columns: columns.to_vec(), rows }
    }

    /// A table of texts, in which what reads as a number is one.
    pub(crate) fn of_texts(name: &str, rows: &[Vec<String>]) -> Self {
        let (head, rows) = rows.split_first().map_or((&[][..], rows), |(head, rows)| (head.as_slice(), rows));
        let cell = |text: &String| match text.parse::<f64>() {
            Ok(number) if number.is_finite() => Cell::Number(Some(number)),
            _ => Cell::Text(text.clone()),
        };
        let rows: Vec<Vec<Cell>> = rows.iter().map(|row| row.iter().map(cell).collect()).collect();
        let column = |(i, name): (usize, &String)| Column {
            name: name.clone(),
            about: String::new(),
            number: rows.iter().all(|row| matches!(row.get(i), Some(Cell::Number(_)))),
        };
        let columns = head.iter().enumerate().map(column).collect();
        Self { name: name.to_owned(), columns, rows }
    }

    /// As comma-separated values (RFC 4180, plain line ends): numbers unrounded, texts that no spreadsheet takes for formulas.
    pub(super) fn csv(&self) -> String {
        let mut writer = csv::Writer::from_writer(Vec::new());
        // Writing to memory does not fail, and the rows of a table are of one length.
        let _ = writer.write_record(self.columns.iter().map(|column| &column.name));
        for row in &self.rows {
            let _ = writer.write_record(row.iter().map(|cell| match cell {
                Cell::Text(text) => disarmed(&visible(text)).into_owned(),
                Cell::Number(number) => number.map_or(String::new(), |number| number.to_string()),
            }));
        }
        String::from_utf8(writer.into_inner().unwrap_or_default()).unwrap_or_default()
    }
}
