//! Maps, sweeps, searches and batches from end to end.

use crate::{answered, call, call_with, folder, roulade, text_of};
use roulade_answer::ask;
use roulade_stats::executor::alone;
use serde_json::{Value, json};
use std::io::{BufRead, BufReader, Write};
use std::process::Stdio;

const SHEET: &str = "demo/marram-a.json";
const MANY: &str = "demo/cells.jsonl";

fn parsed(text: &str) -> Value {
    serde_json::from_str(text).expect("an answer is JSON")
}

#[test]
fn a_map_is_that_of_the_model() {
    let json = answered(&["map", SHEET, "--steps", "6", "--figure", "volumetric", "--json"]);
    let span = |from: &str, to: &str| json!({ "from": from, "to": to, "steps": 6 });
    let question = json!({ "sheet": parsed(&text_of(SHEET)), "diameter": span("16 mm", "50 mm"),
        "height": span("50 mm", "130 mm"), "figures": ["volumetric"] });
    // All cores and one give the same bytes.
    assert_eq!(json, ask::map(&question.to_string(), &alone()) + "\n");
    let text = answered(&["map", SHEET, "--steps", "6"]);
    for size in parsed(&json)["ok"]["common"].as_array().expect("sizes") {
        let (label, value) = (size["label"].as_str().expect("a label"), &size["figures"][0]["text"]);
        let value = value.as_str().expect("a text").trim_end_matches(" Wh/L");
        let line = text.lines().find(|line| line.trim_start().starts_with(label)).expect(label);
        assert!(line.contains(value), "{value} in {line}");
    }
}

#[test]
fn a_map_as_csv_has_a_row_for_each_cell() {
    let text = answered(&["map", SHEET, "--steps", "3", "--figure", "mass", "--csv"]);
    let lines: Vec<&str> = text.lines().collect();
    assert_eq!((lines.len(), lines[0]), (17, "can.diameter_mm,can.height_mm,mass_g"));
    assert!(lines[4].starts_with("50,50,") && lines[16].starts_with("50,130,"), "{text}");
}

#[test]
fn what_is_held_otherwise_changes_the_map() {
    let volumetric = |hold: &[&str]| {
        let json = answered(&[&["map", SHEET, "--steps", "2", "--json"], hold].concat());
        parsed(&json)["ok"]["figures"][0]["values"][0].as_f64().expect("a number")
    };
    let held = volumetric(&[]);
    assert!(volumetric(&["--hold", "wall=with the diameter"]) > held);
    assert!(volumetric(&["--hold", "radial_clearance=1 mm"]) < held);
}

#[test]
fn a_sweep_is_that_of_the_model() {
    let call = [
        "sweep",
        SHEET,
        "can.wall",
        "0.3 mm",
        "0.8 mm",
        "--and",
        "cathode.loading",
        "20 mg/cm²",
        "24 mg/cm²",
    ];
    let json = answered(&[&call[..], &["--steps", "4", "--json"]].concat());
    let question = json!({ "sheet": parsed(&text_of(SHEET)), "along": [
        { "key": "can.wall", "from": "0.3 mm", "to": "0.8 mm", "steps": 4 },
        { "key": "cathode.loading", "from": "20 mg/cm²", "to": "24 mg/cm²", "steps": 4 } ] });
    assert_eq!(json, ask::sweep(&question.to_string(), &alone()) + "\n");
    assert!(answered(&call).contains("What is held"));
}

#[test]
fn a_picture_has_its_lines_and_sizes_and_is_kept() {
    let file = folder("picture").join("map.svg");
    let file = file.to_str().expect("a plain path");
    let draw = ["map", SHEET, "--picture", file];
    answered(&draw);
    let svg = std::fs::read_to_string(file).expect("it was written");
    assert!(svg.starts_with("<svg ") && svg.ends_with("</svg>\n"));
    assert!(
        svg.matches("<polyline ").count() > 5 && svg.contains("46 × 80") && svg.contains("21 × 70"),
        "{svg}"
    );
    assert!(!svg.contains("NaN") && !svg.contains("inf"));
    let again = call(&draw);
    assert_eq!((again.status, again.out.as_str()), (2, ""), "a file that is there is kept");
    assert!(again.err.contains("--overwrite"), "{}", again.err);
    answered(&[&draw[..], &["--overwrite"]].concat());
}

#[test]
fn names_in_a_picture_are_escaped() {
    let folder = folder("escaped");
    let (sheet, file) = (folder.join("sheet.json"), folder.join("map.svg"));
    std::fs::write(&sheet, text_of(SHEET).replace("Marram A", "<script>&")).expect("it can be written");
    answered(&["map", &sheet.to_string_lossy(), "--picture", &file.to_string_lossy()]);
    let svg = std::fs::read_to_string(&file).expect("it was written");
    assert!(svg.contains("&lt;script&gt;&amp;") && !svg.contains("<script"), "{svg}");
}

#[test]
fn a_search_says_what_it_found() {
    let text = answered(&["search", SHEET, "demo/marram-a.search"]);
    assert!(
        text.contains("at its bound") && text.contains("Pareto front") && text.contains("safety margin"),
        "{text}"
    );
    let json = answered(&["search", SHEET, "demo/marram-a.search", "--json"]);
    assert_eq!(
        json,
        answered(&["search", SHEET, "demo/marram-a.search", "--json"]),
        "the same seed finds the same"
    );
    let found = &parsed(&json)["ok"];
    assert_eq!(found["holds"], true);
    let value = |point: &Value| point["figures"][0]["value"].as_f64().expect("a number");
    assert!(value(&found["best"]) > value(&found["own"]));
}

#[test]
fn a_search_that_finds_nothing_says_no() {
    let file = folder("search").join("impossible.json");
    let question = json!({ "free": [{ "key": "can.wall", "from": "0.2 mm", "to": "0.5 mm" }],
        "keep": [{ "figure": "volumetric", "at_least": "2000 Wh/L" }], "best": "volumetric" });
    std::fs::write(&file, question.to_string()).expect("it can be written");
    let said = call(&["search", SHEET, &file.to_string_lossy()]);
    assert_eq!((said.status, said.err.as_str()), (1, ""), "{said:?}");
    assert!(said.out.contains("none keeps everything") && said.out.contains("not kept"), "{}", said.out);
}

#[test]
fn a_batch_gives_what_single_estimates_give() {
    let lines = answered(&["batch", MANY]);
    let sheets = text_of(MANY);
    assert_eq!(lines.lines().count(), sheets.lines().count());
    for (number, (line, sheet)) in lines.lines().zip(sheets.lines()).enumerate() {
        let (line, estimate) = (parsed(line), parsed(&ask::estimate(sheet))["ok"].clone());
        assert_eq!((&line["line"], &line["cell"]), (&json!(number + 1), &estimate["cell"]));
        for row in estimate["headline"].as_array().expect("rows") {
            let key = format!(
                "{}_{}",
                row["id"].as_str().expect("an id"),
                row["figure"]["unit"].as_str().expect("a unit")
            );
            assert_eq!(line[&key], row["figure"]["value"], "{key}");
        }
    }
    // The lines are the sheets of the demo.
    let names: Vec<&str> = ["marram-a", "marram-b", "marram-small"].into();
    for (line, name) in sheets.lines().zip(names) {
        assert_eq!(parsed(line), parsed(&text_of(&format!("demo/{name}.json"))), "{name}");
    }
}

#[test]
fn a_batch_with_uncertainties_as_csv() {
    let text = answered(&["batch", MANY, "--figures", "energy,balance.n_to_p", "--spread", "--csv"]);
    let mut lines = text.lines();
    assert_eq!(lines.next(), Some("line,cell,energy_Wh,u(energy_Wh),balance.n_to_p,u(balance.n_to_p)"));
    for line in lines {
        let numbers: Vec<f64> = line.split(',').skip(2).map(|cell| cell.parse().expect("a number")).collect();
        assert!(
            numbers[0] > numbers[1] && numbers[1] > 0.0 && numbers[2] > numbers[3] && numbers[3] > 0.0,
            "{line}"
        );
    }
}

#[test]
fn bad_lines_are_reported_by_number_and_left_out() {
    let good = text_of(MANY).lines().next().expect("a line").to_owned();
    let input = format!("{good}\n\n{{\"can\": 3}}\n{good}\n[\n{good}\n");
    let said = call_with(&["batch", "--figures", "mass"], input.as_bytes());
    assert_eq!(said.status, 1);
    let numbers: Vec<u64> =
        said.out.lines().map(|line| parsed(line)["line"].as_u64().expect("a number")).collect();
    assert_eq!(numbers, [1, 4, 6]);
    let err_lines: Vec<&str> = said.err.lines().collect();
    assert!(err_lines[0].starts_with("standard input: line 3: can: found 3;"), "{err_lines:?}");
    assert!(
        err_lines[1].starts_with("standard input: line 5: line 1, column 1: found a text that breaks off"),
        "{err_lines:?}"
    );
    assert_eq!(err_lines[2..], ["standard input: 3 lines answered, 2 lines refused"]);
}

#[test]
fn a_batch_without_any_answer_is_none() {
    for (input, saying) in
        [("", "no line"), ("\n \n", "no line"), ("{}\n", "0 lines answered, 1 line refused")]
    {
        let said = call_with(&["batch"], input.as_bytes());
        assert_eq!((said.status, said.out.as_str()), (2, ""), "{said:?}");
        assert!(said.err.contains(saying), "{}", said.err);
    }
    for arguments in
        [&["batch", "nowhere.jsonl"][..], &["batch", "demo"], &["batch", MANY, "--figures", "mas"]]
    {
        let said = call(arguments);
        assert_eq!((said.status, said.out.as_str(), said.err.lines().count()), (2, "", 1), "{said:?}");
    }
}

/// Order holds over many more lines than are worked on together, and a line that cannot be read stops none after it.
#[test]
fn a_long_batch_keeps_its_order() {
    let good = text_of(MANY).lines().nth(2).expect("a line").to_owned();
    let bad = |i: usize| i % 1000 == 567;
    let line = |i| {
        let cell = good.replace("Marram small", &format!("cell {i}"));
        if bad(i) { cell.replace(" mm", " V") } else { cell }
    };
    let input: String = (1..=5000).map(|i| line(i) + "\n").collect();
    // By way of a file: writing all before reading any would fill both pipes.
    let file = folder("long").join("cells.jsonl");
    std::fs::write(&file, input).expect("it can be written");
    let said = call(&["batch", &file.to_string_lossy(), "--figures", "mass"]);
    assert_eq!(said.status, 1);
    let answered: Vec<usize> = (1..=5000).filter(|i| !bad(*i)).collect();
    assert_eq!(said.out.lines().count(), answered.len());
    for (line, i) in said.out.lines().zip(answered) {
        assert!(line.starts_with(&format!("{{\"line\":{i},\"cell\":\"cell {i}\",")), "{line}");
    }
    let complaints: Vec<&str> = said.err.lines().collect();
    assert_eq!(complaints.len(), 6, "{}", said.err);
    for (complaint, thousand) in complaints.iter().zip(0..5) {
        assert!(
            complaint.contains(&format!(": line {}: can.diameter: found \"", thousand * 1000 + 567)),
            "{complaint}"
        );
    }
    assert!(complaints[5].ends_with(": 4995 lines answered, 5 lines refused"), "{}", said.err);
}

/// Results come while the input is still open, and whoever stops listening ends it without a complaint.
#[test]
fn a_batch_streams_and_stops_when_nobody_listens() {
    let mut child = roulade(&["batch", "--figures", "mass"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("it starts");
    let mut pipe = child.stdin.take().expect("an input");
    let mut out = BufReader::new(child.stdout.take().expect("an output"));
    let good = text_of(MANY).lines().next().expect("a line").to_owned() + "\n";
    let writer = std::thread::spawn(move || {
        // Ends by itself once the other end is closed.
        for _ in 0..200_000 {
            if pipe.write_all(good.as_bytes()).is_err() {
                return true;
            }
        }
        false
    });
    let mut line = String::new();
    out.read_line(&mut line).expect("a line");
    assert!(line.starts_with("{\"line\":1,"), "{line}");
    drop(out);
    assert!(writer.join().expect("it ends"), "it stopped reading long before the end");
    let output = child.wait_with_output().expect("it ends");
    assert_eq!((output.status.code(), String::from_utf8_lossy(&output.stderr).as_ref()), (Some(0), ""));
}

/// A sheet to begin with is the size and what the coatings are of; every verb takes it from standard input.
#[test]
fn a_sheet_begins_from_size_and_active_materials() {
    let begun = answered(&["sheet", "4680", "NMC811", "graphite"]);
    let sheet = parsed(&begun);
    assert_eq!(
        [
            &sheet["can"]["size"],
            &sheet["cathode"]["mix"][0]["material"],
            &sheet["anode"]["mix"][0]["material"]
        ],
        ["4680", "NMC811", "graphite"]
    );
    let named = |size: &str| {
        let sheet = answered(&["sheet", size, "NMC811", "graphite"]);
        let estimate = call_with(&["estimate", "-", "--json"], sheet.as_bytes());
        assert_eq!(estimate.status, 0, "{}", estimate.err);
        parsed(&estimate.out)["ok"]["headline"].clone()
    };
    assert_eq!(named("46 × 80"), named("4680"));
    assert_ne!(named("46 × 80"), named("4695"));
    let weighed = call_with(&["claim", "-", "4680, 26 Ah", "--trials", "500"], begun.as_bytes());
    assert_eq!(weighed.status, 0, "{}", weighed.err);
    assert!(weighed.out.starts_with("Supported."), "{}", weighed.out);

    let refused = call(&["sheet", "217000", "NMC81", "LFP"]);
    assert_eq!((refused.status, &*refused.out), (2, ""));
    for argument in ["SIZE: found \"217000\"", "CATHODE: found \"NMC81\"", "ANODE: found LFP"] {
        assert!(refused.err.contains(argument), "{argument}: {}", refused.err);
    }
}

/// Where tabs stand in, their number goes with the diameter, and the answer says so.
#[test]
fn steps_of_tabs_that_stand_in_are_told() {
    let said = |size: &str, verb: &[&str]| {
        let sheet = answered(&["sheet", size, "NMC811", "graphite"]);
        let out = call_with(&[&verb[..1], &["-", "--json"], &verb[1..]].concat(), sheet.as_bytes()).out;
        out.contains("Each further tab takes coated length")
    };
    assert!(said("21 × 70", &["form-factors", "--steps", "3"]));
    assert!(said("21 × 70", &["sweep", "can.diameter", "22 mm", "30 mm", "--steps", "3"]));
    assert!(!said("21 × 70", &["sweep", "can.height", "65 mm", "75 mm", "--steps", "3"]));
    assert!(!said("46 × 80", &["form-factors", "--steps", "3"]), "edges have no tabs");
}

#[test]
fn a_claim_alone_is_told_how_a_sheet_begins() {
    for (given, found) in
        [("4680, 26 Ah", "found a claim and no design sheet"), (SHEET, "found a design sheet and no claim")]
    {
        let refused = call(&["claim", given]);
        assert_eq!((refused.status, &*refused.out), (2, ""));
        assert!(refused.err.contains(found) && refused.err.contains("`roulade sheet"), "{}", refused.err);
    }
}
