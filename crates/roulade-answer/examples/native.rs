//! What the page asks of the model, asked natively: the page's tests compare the two texts.
//!
//! ```text
//! cargo run --release --package roulade-answer --example native -- compare FIRST SECOND
//! cargo run --release --package roulade-answer --example native -- digest SHEET COUNT SEED
//! cargo run --release --package roulade-answer --example native -- sampled < QUESTION
//! ```
//!
//! As `sampled`, also `claim`, `attribute`, `map` and `reconcile`: their questions are JSON text on standard input. The answer goes to
//! standard output, the milliseconds it took to standard error: the least of so many, where `times COUNT` comes first.
#![allow(clippy::print_stdout, clippy::print_stderr, reason = "an example for the terminal")]

use roulade_answer::ask;
use roulade_stats::executor::alone;
use std::fs::read_to_string;
use std::io::read_to_string as read_all;
use std::process::ExitCode;
use std::time::Instant;

fn answer(words: &[&str]) -> Result<(String, f64), String> {
    let read = |path: &str| read_to_string(path).map_err(|error| format!("{path}: {error}"));
    let number = |text: &str| text.parse::<u32>().map_err(|error| format!("{text}: {error}"));
    let (times, words) = match *words {
        ["times", times, ref rest @ ..] => (number(times)?, rest),
        ref all => (1, all),
    };
    let timed = |question: &dyn Fn() -> String| {
        let (mut text, mut least) = (String::new(), f64::INFINITY);
        for _ in 0..times {
            let start = Instant::now();
            text = question();
            least = least.min(1e3 * start.elapsed().as_secs_f64());
        }
        (text, least)
    };
    match *words {
        ["compare", first, second] => {
            let (first, second) = (read(first)?, read(second)?);
            Ok(timed(&|| ask::compare(&first, &second)))
        }
        ["digest", sheet, count, seed] => {
            let (sheet, count, seed) = (read(sheet)?, number(count)?, number(seed)?);
            Ok(timed(&|| ask::digest(&sheet, count, seed)))
        }
        [verb] => {
            let question = read_all(std::io::stdin()).map_err(|error| error.to_string())?;
            let ask: fn(&str) -> String = match verb {
                "sampled" => |question| ask::sampled(question, &alone()),
                "claim" => |question| ask::claim(question, &alone()),
                "attribute" => |question| ask::attribute(question, &alone()),
                "map" => |question| ask::map(question, &alone()),
                "reconcile" => ask::reconcile,
                "edit" => ask::edit,
                _ => return Err(format!("{verb} is asked nowhere")),
            };
            Ok(timed(&|| ask(&question)))
        }
        _ => {
            Err("usage: native compare FIRST SECOND | native digest SHEET COUNT SEED | native VERB"
                .to_owned())
        }
    }
}

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    match answer(&words.iter().map(String::as_str).collect::<Vec<_>>()) {
        Ok((text, milliseconds)) => {
            println!("{text}");
            eprintln!("{milliseconds}");
            ExitCode::SUCCESS
        }
        Err(problem) => {
            eprintln!("{problem}");
            ExitCode::from(2)
        }
    }
}
