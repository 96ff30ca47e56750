//! An answer as people read it, before it takes a form: sentences, lists and tables, nothing rounded and nothing
//! laid out.

mod attribution;
mod bench;
mod claim;
mod claims;
mod comparison;
mod elements;
mod estimate;
mod lists;
mod search;
mod sizes;
mod spread;

pub(crate) use attribution::attribute;
pub(crate) use bench::{bench_quantities, next, readings, reconciliation};
pub(crate) use claim::claim;
pub(crate) use claims::claims;
pub(crate) use comparison::comparison;
pub(crate) use estimate::estimate;
pub(crate) use lists::{cautions, material, materials, quantities};
pub(crate) use search::search;
pub(crate) use sizes::{map, sweep};
pub(crate) use spread::spread;

use roulade::sheet::defaults::FIELDS;
use roulade_answer::answer::{Figure, Run, Sentence};

/// Blocks from top to bottom.
#[derive(Debug, Default)]
pub(crate) struct Page(pub(crate) Vec<Block>);

/// A stretch of a page.
#[derive(Debug)]
pub(crate) enum Block {
    /// The answer itself; its numbers stand out.
    Answer(Vec<Run>),
    Heading(String),
    Text(String),
    /// What matters less than the text around it.
    Aside(String),
    List(Vec<String>),
    Numbered(Vec<String>),
    Table(Table),
}

/// A table; each row has a cell for each column.
#[derive(Debug)]
pub(crate) struct Table {
    pub(crate) columns: Vec<Column>,
    pub(crate) lines: Vec<Line>,
}

/// A column and its head.
#[derive(Debug)]
pub(crate) enum Column {
    Words(String),
    /// Figures as the model writes them: "26.5 ± 0.6 Ah".
    Number(String),
    /// Words that matter less.
    Note(String),
}

/// A line of a table.
#[derive(Debug)]
pub(crate) enum Line {
    /// A heading inside the table.
    Group(String),
    /// A note on the row above it, as wide as the table.
    Under(String),
    Row(Vec<String>),
    Sum(Vec<String>),
}

impl Column {
    pub(crate) fn head(&self) -> &str {
        match self {
            Self::Words(head) | Self::Number(head) | Self::Note(head) => head,
        }
    }
}

impl Table {
    fn new(columns: impl Into<Vec<Column>>) -> Self {
        Self { columns: columns.into(), lines: Vec::new() }
    }

    fn group(&mut self, name: impl Into<String>) {
        self.lines.push(Line::Group(name.into()));
    }

    fn under(&mut self, note: impl Into<String>) {
        self.lines.push(Line::Under(note.into()));
    }

    fn row<const N: usize>(&mut self, cells: [&str; N]) {
        self.lines.push(Line::Row(cells.map(str::to_owned).into()));
    }

    fn sum<const N: usize>(&mut self, cells: [&str; N]) {
        self.lines.push(Line::Sum(cells.map(str::to_owned).into()));
    }
}

impl Page {
    fn heading(&mut self, text: impl Into<String>) {
        self.0.push(Block::Heading(text.into()));
    }

    fn text(&mut self, text: impl Into<String>) {
        self.0.push(Block::Text(text.into()));
    }

    fn aside(&mut self, text: impl Into<String>) {
        let text = text.into();
        if !text.is_empty() {
            self.0.push(Block::Aside(text));
        }
    }

    fn table(&mut self, table: Table) {
        self.0.push(Block::Table(table));
    }

    fn list(&mut self, items: Vec<String>) {
        self.0.push(Block::List(items));
    }

    /// The answer, what its uncertainty comes from, and how much of it was supposed.
    fn lead(&mut self, answer: &Sentence) {
        self.lead_on(answer, "in the volumetric energy density");
    }

    /// The same where the main figure is another one.
    fn lead_on(&mut self, answer: &Sentence, figure: &str) {
        self.0.push(Block::Answer(answer.runs.clone()));
        let sensitivity: Vec<String> =
            answer.sensitivity.iter().map(|share| format!("{} ({})", share.label, share.percent())).collect();
        let sensitivity = match sensitivity.as_slice() {
            [] => String::new(),
            _ => format!("The uncertainty {figure} comes mostly from {}. ", sensitivity.join("; ")),
        };
        self.aside(sensitivity + &answer.assumed);
    }

    /// Where readings may come from an opened cell.
    fn caution(&mut self) {
        self.heading("Caution");
        self.text(
            "Opening a cell is hazardous and is work for trained people; local codes and licensed practice decide. \
             What to keep in mind, with sources: roulade cautions",
        );
    }
}

/// Headings of the sheet's entries, each once, in the order in which they first appear.
fn sections() -> Vec<&'static str> {
    let mut sections: Vec<&str> = Vec::new();
    for field in FIELDS {
        if !sections.contains(&field.section) {
            sections.push(field.section);
        }
    }
    sections
}

fn words(head: &str) -> Column {
    Column::Words(head.to_owned())
}

fn number(head: &str) -> Column {
    Column::Number(head.to_owned())
}

fn note(head: &str) -> Column {
    Column::Note(head.to_owned())
}

/// A row of comma-separated values: the value and its uncertainty, unrounded.
fn unrounded(figure: Option<&Figure>) -> [String; 2] {
    let value = figure.map_or(String::new(), |figure| figure.value.to_string());
    let u = figure.and_then(|figure| figure.u).map_or(String::new(), |u| u.to_string());
    [value, u]
}
