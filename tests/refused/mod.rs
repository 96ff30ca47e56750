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

/// Every message says what was found, then once what was expected.
fn worded(messages: &str) {
    for line in messages.lines() {
        let said = line.split_once("found ").and_then(|(_, after)| after.split_once("; expected "));
        assert!(said.is_some_and(|(found, expected)| !found.is_empty() && !expected.is_empty()), "{line}");
        assert_eq!(line.matches("; expected ").count(), 1, "{line}");
        assert!(!line.contains("expected expected"), "{line}");
    }
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
            worded(&said.err);
            for line in said.err.lines() {
                assert!(line.starts_with(&format!("{path}: ")), "{name}: {line}");
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
            worded(&said.err);
            let name = format!("bench-{}", sheet.file_stem().expect("a name").to_string_lossy());
            insta::assert_snapshot!(name, said.err.replace("tests/refused/bench/", ""));
        }
    });
}

#[test]
fn every_bad_claim_is_refused_in_its_words() {
    in_snapshots(|| {
        for claim in sheets("claims") {
            let name = claim.file_stem().expect("a name").to_string_lossy().into_owned();
            let path =
                format!("tests/refused/claims/{}", claim.file_name().expect("a name").to_string_lossy());
            // A text is what would stand on the command line; a file of parts is named there.
            let given = if claim.extension().is_some_and(|end| end == "json") {
                path.clone()
            } else {
                crate::text_of(&path)
            };
            let said = call(&["claim", &given, "demo/marram-small.json"]);
            assert_eq!((said.status, said.out.is_empty()), (2, true), "{name}: {}", said.err);
            worded(&said.err);
            insta::assert_snapshot!(format!("claim-{name}"), format!("{given}\n{}", said.err));
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
fn every_bad_search_is_refused_in_its_words() {
    in_snapshots(|| {
        for question in sheets("searches") {
            let name = question.file_stem().expect("a name").to_string_lossy().into_owned();
            let path =
                format!("tests/refused/searches/{}", question.file_name().expect("a name").to_string_lossy());
            let said = call(&["search", "demo/marram-small.json", &path]);
            assert_eq!((said.status, said.out.is_empty()), (2, true), "{name}: {}", said.err);
            worded(&said.err);
            insta::assert_snapshot!(
                format!("search-{name}"),
                said.err.replace("tests/refused/searches/", "")
            );
        }
    });
}

#[test]
fn every_bad_map_and_sweep_is_refused_in_its_words() {
    let map = |more: &[&'static str]| [&["map", "demo/marram-small.json"], more].concat();
    let sweep = |more: &[&'static str]| [&["sweep", "demo/marram-small.json"], more].concat();
    in_snapshots(|| {
        for (name, arguments) in [
            ("map-of-too-many-cells", map(&["--steps", "1000"])),
            ("map-from-a-mass", map(&["--diameter", "18 g", "46 mm"])),
            ("map-to-below-zero", map(&["--height", "65 mm", "-65 mm"])),
            ("map-of-an-unknown-figure", map(&["--figure", "volumetrc"])),
            ("map-holding-the-unknown", map(&["--hold", "wal=0.3 mm"])),
            ("map-holding-no-length", map(&["--hold", "wall=with diameter"])),
            ("map-holding-twice", map(&["--hold", "wall=0.3 mm", "--hold", "wall=0.4 mm"])),
            ("map-holding-without-value", map(&["--hold", "wall"])),
            ("map-holding-a-negative-gap", map(&["--hold", "radial_clearance=-1 mm"])),
            ("map-of-one-size", map(&["--height", "65 mm", "65 mm"])),
            ("sweep-of-an-unknown-key", sweep(&["cathode.loadin", "20 mg/cm²", "25 mg/cm²"])),
            ("sweep-of-what-follows", sweep(&["cathode.porosity", "20 %", "30 %"])),
            ("sweep-of-the-rest", sweep(&["cathode.mix[0].share", "90 %", "97 %"])),
            (
                "sweep-of-what-is-held",
                sweep(&["can.wall", "0.2 mm", "0.3 mm", "--and", "cathode.width", "50 mm", "60 mm"]),
            ),
            (
                "sweep-of-one-key-twice",
                sweep(&["can.wall", "0.2 mm", "0.3 mm", "--and", "can.wall", "0.2 mm", "0.4 mm"]),
            ),
            ("sweep-with-a-spread", sweep(&["can.wall", "0.2 ± 0.1 mm", "0.3 mm"])),
            ("sweep-to-below-zero", sweep(&["can.wall", "0.2 mm", "-1 mm"])),
            ("sweep-without-steps", sweep(&["can.wall", "0.2 mm", "0.3 mm", "--steps", "0"])),
            (
                "sweep-of-one-input-as-a-picture",
                sweep(&["can.wall", "0.2 mm", "0.3 mm", "--picture", "none.svg"]),
            ),
        ] {
            let said = call(&arguments);
            assert_eq!((said.status, said.out.is_empty()), (2, true), "{name}: {}", said.err);
            worded(&said.err);
            insta::assert_snapshot!(name, said.err);
        }
    });
}

#[test]
fn every_bad_list_of_changes_is_refused_in_its_words() {
    in_snapshots(|| {
        for list in sheets("changes") {
            let name = list.file_stem().expect("a name").to_string_lossy().into_owned();
            let path = format!("tests/refused/changes/{name}.json");
            let option = if name.starts_with("prices") { "--prices" } else { "--changes" };
            let said = call(&["attribute", "demo/marram-a.json", "demo/marram-b.json", option, &path]);
            assert_eq!((said.status, said.out.is_empty()), (2, true), "{name}: {}", said.err);
            worded(&said.err);
            for line in said.err.lines() {
                assert!(line.starts_with(&format!("{path}: ")), "{name}: {line}");
            }
            insta::assert_snapshot!(name, said.err.replace("tests/refused/changes/", ""));
        }
    });
}
