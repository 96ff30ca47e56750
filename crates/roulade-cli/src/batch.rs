//! Many cells: sheets as JSON Lines in, figures out. One thread reads ahead, all cores work, results leave in order; no
//! more than a few hundred lines are held at a time.

use crate::args::{BatchArgs, FormArgs};
use crate::files;
use crate::lines::{Line, Lines};
use crate::report::{Delivery, Out, Sources, form, visible};
use crate::table::Growing;
use rayon::prelude::*;
use roulade::cell::draft::Draft;
use roulade::cell::figures::{Definition, wanted};
use roulade::material::CurveCache;
use roulade::quantity::problem::{Problem, Problems, json_visible};
use roulade::sheet::read::{LARGEST, too_large};
use roulade_answer::answer::{Plain, column, plain};
use roulade_answer::long::Cell;
use std::fmt::Write as _;
use std::io::{self, BufReader, Write};
use std::sync::mpsc::sync_channel;
use std::thread;

/// Bytes read at a time.
const AT_ONCE: usize = 1 << 18;

/// The form of the figures.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Form {
    /// JSON, an object on each line.
    Json,
    /// Comma-separated values.
    Csv,
    /// A workbook, in a file.
    Workbook,
}

/// How figures are told.
pub(crate) struct As {
    /// With uncertainties.
    pub(crate) spread: bool,
    pub(crate) form: Form,
    /// Curves made once for all.
    pub(crate) curve_cache: CurveCache,
}

/// How many lines were answered, and how many not.
#[derive(Default)]
struct Count {
    answered: u64,
    refused: u64,
}

/// Answers line by line; what is left to deliver is the summary.
pub(crate) fn run(asked: &BatchArgs, how: &As) -> Delivery {
    let name = files::name(&asked.sheets);
    let result = wanted(&asked.figures, "figures").and_then(|figures| stream(asked, &name, &figures, how));
    match result {
        Ok(count) => {
            let lines = |n: u64| if n == 1 { "1 line".to_owned() } else { format!("{n} lines") };
            let err = match &count {
                Count { answered: 0, refused: 0 } => {
                    format!("{name}: found no line; a design sheet on each\n")
                }
                Count { refused: 0, .. } => String::new(),
                Count { answered, refused } => {
                    format!("{name}: {} answered, {} refused\n", lines(*answered), lines(*refused))
                }
            };
            let status = match count {
                Count { answered: 0, .. } => 2,
                Count { refused: 0, .. } => 0,
                Count { .. } => 1,
            };
            Delivery { out: Out::Exact(String::new()), err, status }
        }
        Err(problems) => {
            let begins = ["figures", "table"].map(|word| (word, format!("--{word}"))).to_vec();
            form(&FormArgs::default()).problems(&problems, &Sources { file: name, begins })
        }
    }
}

fn stream(
    asked: &BatchArgs,
    name: &str,
    figures: &[&'static Definition],
    how: &As,
) -> Result<Count, Problems> {
    let mut lines = Lines::of(BufReader::with_capacity(AT_ONCE, files::open(&asked.sheets)?));
    let mut book = asked.table.as_ref().map(|path| Growing::new(path, asked.replace_table)).transpose()?;
    let columns: Vec<[String; 2]> = figures.iter().map(|figure| named(figure)).collect();
    let keys: Vec<[String; 2]> =
        columns.iter().map(|both| both.each_ref().map(|name| quoted(name))).collect();
    let mut count = Count::default();
    let mut out = io::stdout().lock();
    let mut err = io::stderr().lock();
    thread::scope(|scope| {
        let (send, receive) = sync_channel(1);
        scope.spawn(move || {
            loop {
                let some = lines.some();
                let last = some.as_ref().map_or(true, Vec::is_empty);
                // Nobody listens any more where the output was closed.
                if send.send(some).is_err() || last {
                    break;
                }
            }
        });
        let mut text = String::new();
        let head = head(&columns, how);
        match &mut book {
            Some(book) => book.name(&head)?,
            None if how.form == Form::Csv => text.push_str(&csv_line(&head)),
            None => {}
        }
        for some in receive {
            let some = some.map_err(|error| files::refused(&error))?;
            let done: Vec<Result<Answered, String>> =
                some.par_iter().map(|line| answer(line, figures, &keys, how)).collect();
            for (line, done) in some.iter().zip(done) {
                match done {
                    Ok(Answered { output, plausibility }) => {
                        count.answered += 1;
                        match (output, &mut book) {
                            (Output::Row(cells), Some(book)) => book.push(&cells)?,
                            (Output::Row(_), None) => {}
                            (Output::Text(line), _) => text.push_str(&line),
                        }
                        for remark in plausibility {
                            let _ = writeln!(err, "{name}: line {}: {}", line.number, visible(&remark));
                        }
                    }
                    Err(why) => {
                        count.refused += 1;
                        // Nothing is left to be done where even this cannot be said.
                        let _ = writeln!(err, "{name}: line {}: {why}", line.number);
                    }
                }
            }
            match out.write_all(text.as_bytes()) {
                Ok(()) => text.clear(),
                // Whoever was listening has heard enough; the thread that reads may wait for more for ever.
                Err(error) if error.kind() == io::ErrorKind::BrokenPipe => std::process::exit(0),
                Err(error) => return Err(Problems::from(unwritten(&error))),
            }
        }
        match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
            Err(error) if error.kind() != io::ErrorKind::BrokenPipe => Err(unwritten(&error).into()),
            _ => Ok(()),
        }
    })?;
    if let Some(book) = book.filter(|_| count.answered > 0) {
        book.save().map_err(|problem| Problem { place: "table".to_owned(), ..problem })?;
    }
    Ok(count)
}

fn unwritten(error: &io::Error) -> Problem {
    Problem::new("", format!("an output that could not be written: {error}"), "an output that can be written")
}

/// A line of figures, and what looks wrong with its sheet.
struct Answered {
    output: Output,
    plausibility: Vec<String>,
}

/// A line of figures: as text, with its end, or as cells.
enum Output {
    Text(String),
    Row(Vec<Cell>),
}

/// One line; or why there is none, on one line.
fn answer(
    line: &Line,
    figures: &[&'static Definition],
    keys: &[[String; 2]],
    how: &As,
) -> Result<Answered, String> {
    if line.length > LARGEST as u64 {
        return Err(too_large(line.length).to_string());
    }
    let text = std::str::from_utf8(&line.bytes).map_err(|error| {
        let at = error.valid_up_to();
        format!("found a byte that is not UTF-8 at offset {at}; a text in UTF-8 is read")
    })?;
    let output = Draft::parse_with(text, &how.curve_cache)
        .and_then(|draft| Ok((plain(&draft, figures, how.spread)?, draft)));
    match output {
        Ok((plain, draft)) => {
            let output = match how.form {
                Form::Json => Output::Text(object(line.number, draft.name(), keys, &plain)),
                Form::Csv => Output::Text(record(line.number, draft.name(), &plain, how)),
                Form::Workbook => Output::Row(cells(line.number, draft.name(), &plain, how)),
            };
            Ok(Answered { output, plausibility: draft.plausibility() })
        }
        Err(problems) => {
            let all: Vec<String> = problems.listed().iter().map(ToString::to_string).collect();
            Err(visible(&all.join("; also ")).into_owned())
        }
    }
}

/// The names of a figure and of its uncertainty.
fn named(figure: &Definition) -> [String; 2] {
    let column = column(figure);
    let u = format!("u({column})");
    [column, u]
}

fn head(columns: &[[String; 2]], how: &As) -> Vec<String> {
    let mut head = vec!["line".to_owned(), "cell".to_owned()];
    for [value, u] in columns {
        head.push(value.clone());
        head.extend(how.spread.then(|| u.clone()));
    }
    head
}

fn record(number: u64, name: &str, plain: &[Plain], how: &As) -> String {
    let text = |cell: Cell| match cell {
        Cell::Text(text) => text,
        Cell::Number(value) => value.map_or(String::new(), |value| value.to_string()),
    };
    csv_line(&cells(number, name, plain, how).into_iter().map(text).collect::<Vec<_>>())
}

fn cells(number: u64, name: &str, plain: &[Plain], how: &As) -> Vec<Cell> {
    let mut cells = vec![Cell::Number(Some(number as f64)), Cell::Text(name.to_owned())];
    for figure in plain {
        cells.push(Cell::Number(figure.value));
        cells.extend(how.spread.then_some(Cell::Number(figure.u)));
    }
    cells
}

fn csv_line(cells: &[String]) -> String {
    crate::report::csv_text(std::iter::once(cells))
}

fn object(number: u64, name: &str, keys: &[[String; 2]], plain: &[Plain]) -> String {
    let mut text = format!("{{\"line\":{number},\"cell\":{}", quoted(name));
    for ([key, key_of_u], figure) in keys.iter().zip(plain) {
        for (key, value) in [(key, Some(figure.value)), (key_of_u, figure.u.map(Some))] {
            let Some(value) = value else { continue };
            // A number that is none has no JSON; writing to a string does not fail.
            let _ = match value.filter(|value| value.is_finite()) {
                Some(value) => write!(text, ",{key}:{value}"),
                None => write!(text, ",{key}:null"),
            };
        }
    }
    text.push_str("}\n");
    text
}

fn quoted(text: &str) -> String {
    json_visible(serde_json::Value::from(text).to_string())
}
