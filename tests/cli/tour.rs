//! The tour in README.md prints what the command line prints today.

use crate::{call, top};
use std::fmt::Write;

/// Runs `roulade …`, where `| head -N` keeps the first lines, as a terminal would.
fn run(line: &str) -> String {
    let (command, lines) = match line.split_once(" | head -") {
        Some((command, lines)) => (command, lines.parse().expect("a number of lines")),
        None => (line, usize::MAX),
    };
    let mut words = Vec::new();
    for (i, part) in command.split('"').enumerate() {
        // Every second part stood between quotes.
        if i % 2 == 1 { words.push(part) } else { words.extend(part.split_whitespace()) }
    }
    assert_eq!(words.first(), Some(&"roulade"), "{line}");
    let said = call(&words[1..]);
    let mut out = String::new();
    for line in said.out.lines().chain(said.err.lines()).take(lines) {
        writeln!(out, "{line}").expect("a text");
    }
    out
}

#[test]
fn the_tour_is_current() {
    let path = top().join("README.md");
    let readme = std::fs::read_to_string(&path).expect("there is a README");
    let mut current = String::new();
    let mut blocks = 0;
    let mut parts = readme.split("```console\n");
    current.push_str(parts.next().unwrap_or_default());
    for part in parts {
        let (block, rest) = part.split_once("```").expect("the block ends");
        let command =
            block.lines().next().and_then(|line| line.strip_prefix("$ ")).expect("a command comes first");
        write!(current, "```console\n$ {command}\n{}```{rest}", run(command)).expect("a text");
        blocks += 1;
    }
    assert!(blocks >= 4, "the tour has {blocks} commands");
    if std::env::var_os("UPDATE").is_some() {
        std::fs::write(&path, &current).expect("README.md can be written");
    } else {
        assert!(readme == current, "README.md is not current: UPDATE=1 cargo test -p roulade-cli tour");
    }
}

#[test]
fn the_small_sheet_of_the_tour_is_answered() {
    let readme = std::fs::read_to_string(top().join("README.md")).expect("there is a README");
    let sheet = readme.split("```json\n").nth(1).and_then(|rest| rest.split("```").next()).expect("a sheet");
    let answer = roulade_answer::ask::estimate(sheet);
    assert!(answer.starts_with("{\"ok\":"), "{answer}");
}
