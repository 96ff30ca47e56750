//! The book prints what the command line prints today; every chapter is in its contents.

use crate::{text_of, top, tour};

const BOOK: &str = "crates/roulade-cli/book/src";

#[test]
fn every_example_of_the_book_is_current() {
    let contents = text_of(&format!("{BOOK}/SUMMARY.md"));
    let mut chapters = 0;
    for file in std::fs::read_dir(top().join(BOOK)).expect("there is a book") {
        let path = file.expect("it can be listed").path();
        let name = path.file_name().expect("a name").to_string_lossy().into_owned();
        if name == "SUMMARY.md" {
            continue;
        }
        assert!(contents.contains(&format!("({name})")), "{name} is not in the contents");
        let blocks = tour::held(&path, "UPDATE=1 cargo test -p roulade-cli book");
        assert!(blocks >= 1, "{name} has no example");
        chapters += 1;
    }
    assert_eq!(contents.matches(".md)").count(), chapters, "a chapter of the contents is missing");
}

#[test]
fn the_sheet_of_the_book_is_answered() {
    let text = text_of(&format!("{BOOK}/introduction.md"));
    let sheet = text.split("```json\n").nth(1).and_then(|rest| rest.split("```").next()).expect("a sheet");
    let answer = roulade_answer::ask::estimate(sheet);
    assert!(answer.starts_with("{\"ok\":"), "{answer}");
}

/// Lines of code in the book that are no console blocks, because they write files, run too.
#[test]
fn commands_that_write_files_run() {
    let folder = crate::folder("book");
    let mut run = 0;
    let chapters = ["exchange.md", "batch.md"].map(|name| text_of(&format!("{BOOK}/{name}")));
    for line in chapters.iter().flat_map(|text| text.lines()) {
        let Some(command) = line.strip_prefix("    roulade ") else { continue };
        let words: Vec<String> = command
            .split_whitespace()
            .map(|word| {
                if word.starts_with("demo/") {
                    top().join(word).display().to_string()
                } else {
                    word.to_owned()
                }
            })
            .collect();
        let words: Vec<&str> = words.iter().map(String::as_str).collect();
        let status = crate::roulade(&words).current_dir(&folder).output().expect("it starts").status;
        assert!(status.code().is_some_and(|code| code < 2), "{command}");
        run += 1;
    }
    assert!(run >= 4, "{run} commands");
    let files =
        ["figures.csv", "figures.csv-metadata.json", "readings.xlsx", "figures.xlsx", "loadings.xlsx"];
    for file in files {
        assert!(folder.join(file).is_file(), "{file}");
    }
}
