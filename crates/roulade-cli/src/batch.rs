//! Many cells: sheets as JSON Lines in, figures out. One thread reads ahead, all cores work, results leave in order; no
//! more than a few hundred lines are held at a time.

use crate::args::FormArgs;
use crate::files;
use crate::lines::{Line, Lines};
use crate::report::{Delivery, Out, Sources, form, visible};
use rayon::prelude::*;
use roulade::cell::draft::Draft;
use roulade::cell::figures::{Definition, wanted};
use roulade::material::CurveCache;
use roulade::quantity::problem::{Problem, Problems, json_visible};
use roulade::sheet::read::{LARGEST, too_large};
use roulade_answer::answer::{Plain, column, plain};
use std::fmt::Write as _;
use std::io::{self, BufReader, Write};
use std::path::Path;
use std::sync::mpsc::sync_channel;
use std::thread;

/// Bytes read at a time.
const AT_ONCE: usize = 1 << 18;

/// How figures are told.
pub(crate) struct As {
    /// With uncertainties.
    pub(crate) spread: bool,
    /// As comma-separated values.
    pub(crate) csv: bool,
    /// Curves made once for all.
    pub(crate) shelf: CurveCache,
}

/// How many lines were answered, and how many not.
#[derive(Default)]
struct Count {
    answered: u64,
    refused: u64,
}

/// Answers line by line; what is left to deliver is the summary.
pub(crate) fn run(path: &Path, name: &str, ids: &[String], how: &As) -> Delivery {
    let told = wanted(ids, "figures").and_then(|figures| stream(path, name, &figures, how));
    match told {
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
            let begins = vec![("figures", "--figures".to_owned())];
            form(&FormArgs::default()).problems(&problems, &Sources { file: name.to_owned(), begins })
        }
    }
}

fn stream(path: &Path, name: &str, figures: &[&'static Definition], how: &As) -> Result<Count, Problems> {
    let mut lines = Lines::of(BufReader::with_capacity(AT_ONCE, files::open(path)?));
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
        if how.csv {
            text.push_str(&head(&columns, how));
        }
        for some in receive {
            let some = some.map_err(|error| files::refused(&error))?;
            let done: Vec<Result<Answered, String>> =
                some.par_iter().map(|line| answer(line, figures, &keys, how)).collect();
            for (line, done) in some.iter().zip(done) {
                match done {
                    Ok(Answered { told, doubts }) => {
                        count.answered += 1;
                        text.push_str(&told);
                        for doubt in doubts {
                            let _ = writeln!(err, "{name}: line {}: {}", line.number, visible(&doubt));
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
    Ok(count)
}

fn unwritten(error: &io::Error) -> Problem {
    Problem::new("", format!("an output that could not be written: {error}"), "an output that can be written")
}

/// A line of figures, and what looks wrong with its sheet.
struct Answered {
    told: String,
    doubts: Vec<String>,
}

/// One line, with its end; or why there is none, on one line.
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
    let told = Draft::parse_with(text, &how.shelf)
        .and_then(|draft| Ok((plain(&draft, figures, how.spread)?, draft)));
    match told {
        Ok((plain, draft)) => {
            let told = if how.csv {
                record(line.number, draft.name(), &plain, how)
            } else {
                object(line.number, draft.name(), keys, &plain)
            };
            Ok(Answered { told, doubts: draft.doubts() })
        }
        Err(problems) => {
            let all: Vec<String> = problems.told().iter().map(ToString::to_string).collect();
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

fn head(columns: &[[String; 2]], how: &As) -> String {
    let mut head = vec!["line".to_owned(), "cell".to_owned()];
    for [value, u] in columns {
        head.push(value.clone());
        head.extend(how.spread.then(|| u.clone()));
    }
    csv_line(&head)
}

fn record(number: u64, name: &str, plain: &[Plain], how: &As) -> String {
    let mut cells = vec![number.to_string(), name.to_owned()];
    let text = |value: Option<f64>| value.map_or(String::new(), |value| value.to_string());
    for figure in plain {
        cells.push(text(figure.value));
        cells.extend(how.spread.then(|| text(figure.u)));
    }
    csv_line(&cells)
}

fn csv_line(cells: &[String]) -> String {
    crate::report::csv_text(std::iter::once(cells))
}

fn object(number: u64, name: &str, keys: &[[String; 2]], plain: &[Plain]) -> String {
    let mut told = format!("{{\"line\":{number},\"cell\":{}", quoted(name));
    for ([key, key_of_u], figure) in keys.iter().zip(plain) {
        for (key, value) in [(key, Some(figure.value)), (key_of_u, figure.u.map(Some))] {
            let Some(value) = value else { continue };
            // A number that is none has no JSON; writing to a string does not fail.
            let _ = match value.filter(|value| value.is_finite()) {
                Some(value) => write!(told, ",{key}:{value}"),
                None => write!(told, ",{key}:null"),
            };
        }
    }
    told.push_str("}\n");
    told
}

fn quoted(text: &str) -> String {
    json_visible(serde_json::Value::from(text).to_string())
}
