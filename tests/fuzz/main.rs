//! The long run: every target in turn, for as long as is said.
//!
//! ```text
//! cargo run --profile fuzz --package roulade-tests --example fuzz -- --seconds 600 [--seed 7] [TARGET …]
//! cargo run --profile fuzz --package roulade-tests --example fuzz -- --print 200 --seed 7 [TARGET …]
//! ```
//!
//! Inputs that fail are written to `target/fuzz-finds/`, one for each way to fail; mended, they belong into
//! `tests/fuzz/corpus/`. With `--print`, questions and their answers go to standard output, a JSON array on each line, for
//! whoever asks another build of the model the same.
#![allow(clippy::print_stdout, clippy::print_stderr, reason = "a terminal tool")]
#![allow(
    clippy::cast_possible_truncation,
    clippy::cast_possible_wrap,
    clippy::cast_sign_loss,
    clippy::disallowed_methods,
    reason = "dice of inputs, not numbers of the model"
)]
#![allow(clippy::neg_cmp_op_on_partial_ord, reason = "not a number is at fault too")]
#![allow(clippy::format_push_string, reason = "a bench sheet is a text of lines")]
#![allow(clippy::unused_self, reason = "a generator is one, whether it looks at its schema or not")]

mod benches;
mod drive;
mod luck;
mod oracle;
mod questions;
mod sheets;
mod targets;
mod words;

use drive::Tally;
use luck::Luck;
use sheets::Bases;
use std::path::Path;
use std::process::ExitCode;
use std::time::{Duration, Instant};
use targets::{TARGETS, Target};

/// How long a target is run before the next has its turn; the small languages, which take a millionth of a second, longer.
const TURN: Duration = Duration::from_secs(2);
const LONG_TURN: Duration = Duration::from_secs(8);

struct Asked {
    seconds: u64,
    seed: u64,
    print: u64,
    targets: Vec<&'static Target>,
}

fn read() -> Result<Asked, String> {
    let mut asked = Asked { seconds: 60, seed: 1, print: 0, targets: Vec::new() };
    let mut words = std::env::args().skip(1);
    while let Some(word) = words.next() {
        let mut number =
            || words.next().and_then(|n| n.parse::<u64>().ok()).ok_or(format!("{word} takes a number"));
        match word.as_str() {
            "--seconds" => asked.seconds = number()?,
            "--seed" => asked.seed = number()?,
            "--print" => asked.print = number()?,
            name => {
                let listed = TARGETS.iter().find(|target| target.name == name);
                let names = || TARGETS.iter().map(|target| target.name).collect::<Vec<_>>().join(", ");
                asked
                    .targets
                    .push(listed.ok_or_else(|| format!("{name} is no target; one of: {}", names()))?);
            }
        }
    }
    if asked.targets.is_empty() {
        asked.targets = TARGETS.iter().collect();
    }
    Ok(asked)
}

fn main() -> ExitCode {
    let asked = match read() {
        Ok(asked) => asked,
        Err(why) => {
            eprintln!("{why}");
            return ExitCode::from(2);
        }
    };
    let bases = Bases::new();
    if asked.print > 0 {
        for target in &asked.targets {
            let mut luck = Luck::of(asked.seed);
            for _ in 0..asked.print {
                let input = (target.make)(&mut luck, &bases);
                if let Some(answer) = targets::answer(target.name, &input) {
                    println!("{}", serde_json::json!([target.name, input, answer]));
                }
            }
        }
        return ExitCode::SUCCESS;
    }
    // What fails is told at the end, once for each way to fail.
    std::panic::set_hook(Box::new(|_| {}));
    let mut tallies: Vec<Tally> = asked.targets.iter().map(|_| Tally::default()).collect();
    let (start, whole) = (Instant::now(), Duration::from_secs(asked.seconds));
    let mut round = 0;
    while start.elapsed() < whole {
        for (target, tally) in asked.targets.iter().zip(&mut tallies) {
            let turn = Instant::now();
            let length = if ["quantity", "formula"].contains(&target.name) { LONG_TURN } else { TURN };
            let seed = asked.seed.wrapping_mul(1_000_003).wrapping_add(round);
            tally.run(target, &bases, seed, |_| turn.elapsed() < length && start.elapsed() < whole);
        }
        round += 1;
        if round.is_multiple_of(10) {
            tallied(&asked.targets, &tallies, start.elapsed());
        }
    }
    let finds = tallied(&asked.targets, &tallies, start.elapsed());
    ExitCode::from(u8::from(finds > 0))
}

/// Prints the tallies, writes the finds, and says how many there are.
fn tallied(targets: &[&'static Target], tallies: &[Tally], since: Duration) -> usize {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../target/fuzz-finds");
    println!("\nafter {} s", since.as_secs());
    let (mut executions, mut finds) = (0, 0);
    for (target, tally) in targets.iter().zip(tallies) {
        let slowest = tally.slowest.0;
        println!(
            "{:12} {:>12} executions, {:>11} answered, slowest {slowest:.1?}, {} finds",
            target.name,
            tally.executions,
            tally.answered,
            tally.finds.len()
        );
        executions += tally.executions;
        finds += tally.finds.len();
        let write = |name: String, text: &str| {
            let written =
                std::fs::create_dir_all(&folder).and_then(|()| std::fs::write(folder.join(name), text));
            if let Err(error) = written {
                eprintln!("{}: {error}", folder.display());
            }
        };
        for (i, (why, input)) in tally.finds.values().enumerate() {
            println!("    {}", why.chars().take(300).collect::<String>());
            write(format!("{}-{i}.txt", target.name), input);
        }
        if slowest > Duration::from_secs(1) {
            write(format!("{}-slowest.txt", target.name), &tally.slowest.1);
        }
    }
    println!("{executions} executions, {finds} finds");
    finds
}
