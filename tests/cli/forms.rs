//! Each form of an answer is sound, and no terminal is sent what it would obey.

use crate::{answered, call_with, demo, roulade, text_of};
use serde_json::Value;

const BOTH: [&str; 3] = ["compare", "demo/marram-a.json", "demo/marram-b.json"];
const SPREAD: [&str; 6] =
    ["spread", "demo/marram-a.json", "demo/marram-b.json", "--draws", "2000", "--shares"];

fn records(text: &str) -> (Vec<String>, Vec<Vec<String>>) {
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let cells = |record: &csv::StringRecord| record.iter().map(str::to_owned).collect::<Vec<_>>();
    let head = cells(reader.headers().expect("a header"));
    let rows = reader.records().map(|record| cells(&record.expect("rows of one length")));
    (head, rows.collect())
}

fn column(head: &[String], name: &str) -> usize {
    head.iter().position(|cell| cell == name).unwrap_or_else(|| panic!("a column {name} in {head:?}"))
}

#[test]
fn the_ledger_as_csv_adds_to_its_totals() {
    for sheet in demo() {
        let (head, rows) = records(&answered(&["estimate", &sheet, "--csv"]));
        let answer: Value =
            serde_json::from_str(&answered(&["estimate", &sheet, "--json"])).expect("an answer is JSON");
        let totals = answer["ok"]["ledger"]["totals"].as_array().expect("totals").clone();
        assert_eq!(totals.len(), 7);
        let group = column(&head, "group");
        for total in totals {
            for (name, of) in [("mass_g", "mass"), ("volume_cm3", "volume")] {
                let at = column(&head, name);
                let whose = total["group"].as_str().expect("a group");
                let lines = rows.iter().filter(|row| whose == "cell" || row[group] == whose);
                let numbers = lines.map(|row| &row[at]).filter(|cell| !cell.is_empty());
                let sum: f64 = numbers.map(|cell| cell.parse::<f64>().expect("a number")).sum();
                let wanted = total[of]["value"].as_f64().expect("a number");
                assert!(
                    (sum - wanted).abs() <= 1e-9 * wanted.abs().max(1.0),
                    "{sheet} {whose} {name}: {sum}, {wanted}"
                );
            }
        }
    }
}

/// Masses of the elements add to the cell, and each over its energy is what stands beside it.
#[test]
fn the_elements_as_csv_add_to_the_cell() {
    for sheet in demo() {
        let (head, rows) = records(&answered(&["estimate", &sheet, "--elements", "--csv"]));
        let answer: Value =
            serde_json::from_str(&answered(&["estimate", &sheet, "--json"])).expect("an answer is JSON");
        let headline = answer["ok"]["headline"].as_array().expect("a headline");
        let figure = |id: &str| {
            let row = headline.iter().find(|row| row["id"] == id).expect("a figure");
            row["figure"]["value"].as_f64().expect("a number")
        };
        let number = |row: &[String], name: &str| row[column(&head, name)].parse::<f64>().expect("a number");
        let sum: f64 = rows.iter().map(|row| number(row, "mass_g")).sum();
        assert!((sum / figure("mass") - 1.0).abs() < 1e-12, "{sheet}: {sum}");
        for row in &rows {
            let per_energy = 1e3 * number(row, "mass_g") / figure("energy");
            let said = number(row, "per_energy_g_per_kWh");
            assert!((per_energy / said - 1.0).abs() < 1e-12, "{sheet}: {row:?}");
        }
    }
}

#[test]
fn the_elements_of_two_cells_are_those_of_each() {
    let (head, rows) = records(&answered(&[&BOTH[..], &["--elements", "--csv"]].concat()));
    for (sheet, of) in [(BOTH[1], "mass_first_g"), (BOTH[2], "mass_second_g")] {
        let (own_head, own) = records(&answered(&["estimate", sheet, "--elements", "--csv"]));
        let mass = column(&own_head, "mass_g");
        for row in own {
            let both = rows.iter().find(|both| both[0] == row[0]).expect("the element");
            assert_eq!(both[column(&head, of)], row[mass], "{row:?}");
        }
    }
}

#[test]
fn a_name_is_no_formula_in_a_spreadsheet() {
    let mut sheet: Value = serde_json::from_str(&text_of("demo/marram-a.json")).expect("a sheet");
    sheet["parts"][1]["name"] = "=1+1".into();
    let said = call_with(&["estimate", "-", "--csv"], sheet.to_string().as_bytes());
    let (head, rows) = records(&said.out);
    let line = column(&head, "line");
    assert!(rows.iter().any(|row| row[line] == "'=1+1"), "{}", said.out);
    let (head, rows) = records(&answered(&[&BOTH[..], &["--csv"]].concat()));
    let change = column(&head, "mass_change_g");
    assert!(rows.iter().any(|row| row[change].parse::<f64>().is_ok_and(|change| change < 0.0)));
}

#[test]
fn every_verb_has_csv_of_one_shape() {
    let sweep = ["sweep", "demo/marram-small.json", "cathode.loading", "20 mg/cm²", "25 mg/cm²"];
    let search = ["search", "demo/marram-a.json", "demo/marram-a.search"];
    let map = ["map", "demo/marram-small.json", "--steps", "4"];
    let elements = [&BOTH[..], &["--elements"]].concat();
    let asked = [
        &BOTH[..],
        &elements,
        &SPREAD,
        &map,
        &sweep,
        &search,
        &["materials"],
        &["quantities"],
        &["cautions"],
    ];
    for verb in asked {
        let (head, rows) = records(&answered(&[verb, &["--csv"]].concat()));
        assert!(head.len() > 1 && rows.len() > 5, "{verb:?}");
    }
}

#[test]
fn markdown_tables_are_of_one_width() {
    for verb in [&BOTH[..], &SPREAD, &["estimate", "demo/marram-small.json"], &["materials"], &["quantities"]]
    {
        let text = answered(&[verb, &["--markdown"]].concat());
        let mut width = None;
        let mut tables = 0;
        for line in text.lines() {
            if !line.starts_with('|') {
                width = None;
                continue;
            }
            let bars = line.replace("\\|", "").matches('|').count();
            if width.is_none() {
                tables += 1;
            }
            assert_eq!(*width.get_or_insert(bars), bars, "{line}");
        }
        assert!(tables > 0, "{text}");
    }
}

#[test]
fn text_is_at_most_a_hundred_columns_wide_and_has_no_escape_codes() {
    for verb in [
        &BOTH[..],
        &SPREAD,
        &["estimate", "demo/marram-a.json", "--ledger"],
        &["estimate", "demo/marram-b-assay.json", "--elements"],
        &["compare", "demo/marram-a.json", "demo/marram-b-assay.json", "--elements"],
        &["without", "demo/marram-a.json", "lower collector plate"],
        &["materials"],
        &["materials", "graphite"],
        &["quantities"],
        &["cautions"],
    ] {
        let text = answered(verb);
        for line in text.lines() {
            assert!(line.chars().count() <= 100, "{verb:?}: {line}");
            assert_eq!(line, line.trim_end(), "{verb:?}");
        }
        assert!(!text.contains('\u{1b}'), "{verb:?}");
    }
}

#[test]
fn colour_is_not_forced_on_a_pipe() {
    for (name, value) in [("CLICOLOR_FORCE", "1"), ("NO_COLOR", "1"), ("TERM", "xterm-256color")] {
        for verb in [&["estimate", "demo/marram-small.json"][..], &["estimate", "nowhere.json"]] {
            let output = roulade(verb).env(name, value).output().expect("it starts");
            let said = [output.stdout, output.stderr].concat();
            assert!(!said.is_empty() && !said.contains(&0x1b), "{name} {verb:?}");
        }
    }
}

#[test]
fn names_cannot_command_a_terminal_or_become_markup() {
    let evil = "\u{1b}]0;mine\u{7}\u{1b}[2J\u{9b}31m<script>alert(1)</script>|\u{202e}";
    let mut sheet: Value = serde_json::from_str(&text_of("demo/marram-a.json")).expect("a sheet");
    sheet["cell"] = evil.into();
    sheet["parts"][1]["name"] = evil.into();
    let sheet = sheet.to_string();
    for form in [&[][..], &["--csv"], &["--markdown"], &["--ledger"]] {
        let said = call_with(&[&["estimate", "-"], form].concat(), sheet.as_bytes());
        assert_eq!(said.status, 0, "{}", said.err);
        let obeyed = |c: char| c.is_control() && c != '\n' || c == '\u{202e}';
        assert!(
            !said.out.contains(obeyed),
            "{form:?}: {:?}",
            said.out.lines().find(|line| line.contains(obeyed))
        );
        if form == ["--markdown"] {
            assert!(!said.out.contains("<script>"), "{}", said.out);
        }
    }
    // In the wrong place, the name comes back in a problem.
    let broken = sheet.replace("\"copper\"", "\"nothing known\"").replace("4.3 ± 0.1 g", "4.3 V");
    let said = call_with(&["estimate", "-"], broken.as_bytes());
    assert_eq!(said.status, 2);
    assert!(!said.err.contains(|c: char| c.is_control() && c != '\n'), "{:?}", said.err);
}
