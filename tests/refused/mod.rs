//! One sheet for each way to fail, its message beside it: the folder to read when weighing words.

use crate::{call, top};
use std::path::PathBuf;

fn sheets(folder: &str) -> Vec<PathBuf> {
    let folder = top().join("tests/refused").join(folder);
    let files = std::fs::read_dir(&folder).unwrap_or_else(|error| panic!("{}: {error}", folder.display()));
    let mut sheets: Vec<PathBuf> = files.map(|file| file.expect("it can be listed").path()).collect();
    sheets.sort();
    assert!(!sheets.is_empty(), "{} has its sheets", folder.display());
    sheets
}

fn in_snapshots(check: impl FnOnce()) {
    let mut settings = insta::Settings::clone_current();
    settings.set_snapshot_path("snapshots");
    settings.set_prepend_module_to_snapshot(false);
    settings.set_omit_expression(true);
    settings.bind(check);
}

#[test]
fn every_bad_sheet_is_refused_in_its_words() {
    in_snapshots(|| {
        for sheet in sheets("sheets") {
            let name = sheet.file_stem().expect("a name").to_string_lossy().into_owned();
            let path =
                format!("tests/refused/sheets/{}", sheet.file_name().expect("a name").to_string_lossy());
            let said = call(&["estimate", &path]);
            assert_eq!((said.status, said.out.is_empty()), (2, true), "{name}: {}", said.err);
            for line in said.err.lines() {
                assert!(line.starts_with(&format!("{path}: ")) && line.contains("found "), "{name}: {line}");
            }
            insta::assert_snapshot!(name, said.err.replace("tests/refused/sheets/", ""));
        }
    });
}

#[test]
fn every_bad_bench_sheet_is_refused_in_its_words() {
    in_snapshots(|| {
        for sheet in sheets("bench") {
            let file = sheet.file_name().expect("a name").to_string_lossy().into_owned();
            let said = call(&["readings", &format!("tests/refused/bench/{file}")]);
            assert_eq!((said.status, said.out.is_empty()), (2, true), "{file}: {}", said.err);
            let name = format!("bench-{}", sheet.file_stem().expect("a name").to_string_lossy());
            insta::assert_snapshot!(name, said.err.replace("tests/refused/bench/", ""));
        }
    });
}

#[test]
fn strange_names_are_answered() {
    in_snapshots(|| {
        for sheet in sheets("answered") {
            let name = sheet.file_stem().expect("a name").to_string_lossy().into_owned();
            let said = call(&["estimate", &sheet.to_string_lossy()]);
            assert_eq!((said.status, said.err.as_str()), (0, ""), "{name}");
            assert!(!said.out.contains(|c: char| c.is_control() && c != '\n'), "{name}");
            let sentence: Vec<&str> = said.out.lines().take_while(|line| !line.starts_with(' ')).collect();
            insta::assert_snapshot!(name, sentence.join("\n"));
        }
    });
}

#[test]
fn every_bad_list_for_the_worth_of_changes_is_refused_in_its_words() {
    in_snapshots(|| {
        for list in sheets("worth") {
            let name = list.file_stem().expect("a name").to_string_lossy().into_owned();
            let path = format!("tests/refused/worth/{name}.json");
            let option = if name.starts_with("prices") { "--prices" } else { "--changes" };
            let said = call(&["worth", "demo/series-1.json", "demo/series-2.json", option, &path]);
            assert_eq!((said.status, said.out.is_empty()), (2, true), "{name}: {}", said.err);
            for line in said.err.lines() {
                assert!(line.starts_with(&format!("{path}: ")) && line.contains("found "), "{name}: {line}");
            }
            insta::assert_snapshot!(name, said.err.replace("tests/refused/worth/", ""));
        }
    });
}
