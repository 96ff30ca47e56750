//! A file holds one idea: past 450 lines it is split.

use super::{files, top};
use std::fs;

/// Most lines of a file, tests in it included.
const MOST: usize = 450;
/// Written by a program, and held current by a test.
const GENERATED: [&str; 1] = ["web/src/model/types.ts"];

#[test]
fn no_file_is_longer_than_an_idea() {
    let top = top();
    let kinds = [("crates", ".rs"), ("tests", ".rs"), ("tests", ".mjs"), ("web/src", ".ts")];
    let sources: Vec<_> =
        kinds.iter().flat_map(|(folder, ending)| files(&top.join(folder), ending)).collect();
    assert!(sources.len() > 400, "only {} files were found", sources.len());
    let long: Vec<String> = sources
        .iter()
        .filter(|file| !GENERATED.iter().any(|generated| **file == top.join(generated)))
        .filter_map(|file| {
            let lines = fs::read_to_string(file).expect("a source file").lines().count();
            (lines > MOST)
                .then(|| format!("{}: {lines} lines", file.strip_prefix(&top).unwrap_or(file).display()))
        })
        .collect();
    assert!(long.is_empty(), "longer than {MOST} lines, to be split by idea:\n{}", long.join("\n"));
}
