//! The tour in README.md prints what the command line prints today.

use crate::{call, top};
use std::fmt::Write;
use std::path::Path;

/// Runs `roulade …`, where `| head -N` keeps the first lines and `| tail -N` the last, as a terminal would.
fn run(line: &str) -> String {
    let number = |lines: &str| lines.parse().expect("a number of lines");
    let (command, lines, last) = match (line.split_once(" | head -"), line.split_once(" | tail -")) {
        (Some((command, lines)), _) => (command, number(lines), usize::MAX),
        (None, Some((command, lines))) => (command, usize::MAX, number(lines)),
        (None, None) => (line, usize::MAX, usize::MAX),
    };
    let mut words = Vec::new();
    for (i, part) in command.split('"').enumerate() {
        // Every second part stood between quotes.
        if i % 2 == 1 { words.push(part) } else { words.extend(part.split_whitespace()) }
    }
    assert_eq!(words.first(), Some(&"roulade"), "{line}");
    let said = call(&words[1..]);
    let mut out = String::new();
    let all: Vec<&str> = said.out.lines().chain(said.err.lines()).take(lines).collect();
    for line in all.iter().skip(all.len().saturating_sub(last)) {
        writeln!(out, "{line}").expect("a text");
    }
    out
}

/// Holds every console block of a file to what its command prints, or with `UPDATE=1` writes it anew; how many there are.
pub(crate) fn held(path: &Path, remedy: &str) -> usize {
    let text = std::fs::read_to_string(path).expect("a text");
    let mut current = String::new();
    let mut blocks = 0;
    let mut parts = text.split("```console\n");
    current.push_str(parts.next().unwrap_or_default());
    for part in parts {
        let (block, rest) = part.split_once("```").expect("the block ends");
        let command =
            block.lines().next().and_then(|line| line.strip_prefix("$ ")).expect("a command comes first");
        write!(current, "```console\n$ {command}\n{}```{rest}", run(command)).expect("a text");
        blocks += 1;
    }
    if std::env::var_os("UPDATE").is_some() {
        std::fs::write(path, &current).expect("it can be written");
    } else {
        assert!(text == current, "{} is not current: {remedy}", path.display());
    }
    blocks
}

#[test]
fn the_tour_is_current() {
    let blocks = held(&top().join("README.md"), "UPDATE=1 cargo test -p roulade-cli tour");
    assert!(blocks >= 4, "the tour has {blocks} commands");
}

#[test]
fn the_small_sheet_of_the_tour_is_answered() {
    let readme = std::fs::read_to_string(top().join("README.md")).expect("there is a README");
    let sheet = readme.split("```json\n").nth(1).and_then(|rest| rest.split("```").next()).expect("a sheet");
    let answer = roulade_answer::ask::estimate(sheet);
    assert!(answer.starts_with("{\"ok\":"), "{answer}");
}
