//! The verbs of the bench.

use crate::{answered, call, call_with, folder, text_of};
use roulade_answer::ask;
use serde_json::{Value, json};

const SHEET: &str = "demo/marram-a.json";
const BENCH: &str = "demo/bench.csv";
const INSTRUMENTS: &str = "demo/instruments.csv";
const HELD: [&str; 5] = ["reconcile", SHEET, BENCH, "--instruments", INSTRUMENTS];

fn parsed(text: &str) -> Value {
    serde_json::from_str(text).expect("an answer is JSON")
}

fn held(more: &[&str]) -> Value {
    let said = call(&[&HELD, more, &["--json"]].concat());
    assert_eq!((said.status, said.err.as_str()), (1, ""), "the demo has a gross error in it");
    parsed(&said.out)["ok"].clone()
}

fn spaced(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn what_can_be_read_is_listed() {
    let text = answered(&["readings"]);
    for quantity in parsed(&ask::readable())["ok"].as_array().expect("a list") {
        assert!(text.contains(quantity["key"].as_str().expect("a key")), "{quantity}");
    }
    assert_eq!(answered(&["readings", "--json"]), ask::readable() + "\n");
}

#[test]
fn a_bench_sheet_is_checked() {
    assert_eq!(answered(&["readings", BENCH, "--json"]), ask::readings(&text_of(BENCH)) + "\n");
    assert!(answered(&["readings", BENCH]).contains("87 readings, and nothing is wrong with them."));
    let half = call_with(&["readings", "-"], b"quantity,value\ncan wall,0.5 mm\ncan wal,0.5 mm\n");
    assert_eq!((half.status, half.err.as_str()), (1, ""));
    assert!(half.out.contains("1 reading can be used; 1 thing is wrong."), "{}", half.out);
    assert!(spaced(&half.out).contains("line 3, quantity: found \"can wal\""), "{}", half.out);
}

#[test]
fn a_fold_that_the_sheet_does_not_have_is_reported_and_the_rest_fitted() {
    let table =
        "quantity,value,unit,uncertainty\ncathode folded edge height,0.5,mm,0.05\ncapacity,4.3,Ah,4300\n";
    let said = call_with(&["reconcile", "demo/marram-small.json", "-"], table.as_bytes());
    assert_eq!((said.status, said.err.as_str()), (0, ""), "{}", said.out);
    let page = spaced(&said.out);
    assert!(page.starts_with("1 reading of Marram small agrees with the design sheet"), "{page}");
    assert!(
        page.contains("the sheet has no folded edge there") && page.contains("\"cathode.fold_height\""),
        "{page}"
    );
}

#[test]
fn a_reconciliation_is_that_of_the_model() {
    let question = json!({
        "sheet": parsed(&text_of(SHEET)), "readings": text_of(BENCH), "instruments": text_of(INSTRUMENTS),
    });
    assert_eq!(call(&[&HELD[..], &["--json"]].concat()).out, ask::reconcile(&question.to_string()) + "\n");
    let answer = held(&[]);
    assert_eq!(answer["verdict"], "contradicted");
    // The planted one: a width misread by a millimetre.
    assert_eq!(answer["outliers"][0]["line"], 39);
    assert_eq!(answer["outliers"].as_array().map(Vec::len), Some(1));
    let text = call(&HELD).out;
    assert!(
        spaced(&text).starts_with(&spaced(answer["answer"]["text"].as_str().expect("a sentence"))),
        "{text}"
    );
    assert!(text.contains("unfit: leaked"), "{text}");
    let csv = call(&[&HELD[..], &["--csv"]].concat()).out;
    assert_eq!(csv.lines().count(), 88);
    assert!(call(&[&HELD[..], &["--markdown"]].concat()).out.contains("## Readings"));
}

#[test]
fn a_robust_fit_leaves_a_wild_reading_aside() {
    let bench = folder("robust").join("bench.csv");
    let text = "quantity,value,unit,uncertainty\ncathode width,77.9,mm,0.05\ncathode width,77.92,mm,0.05\n\
                cathode width,77.89,mm,0.05\ncathode width,80.9,mm,0.05\n";
    std::fs::write(&bench, text).expect("it can be written");
    let held = |more: &[&str]| {
        let path = bench.to_str().expect("a plain path");
        let said = call(&[&["reconcile", SHEET, path, "--json"], more].concat());
        assert_eq!(said.status, 1, "{}", said.err);
        parsed(&said.out)["ok"].clone()
    };
    let width = |answer: &Value| answer["readings"][0]["predicted"]["value"].as_f64().expect("a number");
    let (plain, robust) = (held(&[]), held(&["--robust", "student"]));
    // Without a robust loss it is left out; one that was checked is not.
    assert!(width(&plain) < 78.0 && width(&robust) < 78.0, "{} {}", width(&plain), width(&robust));
    assert_eq!(plain["readings"][3]["fate"], "left out");
    std::fs::write(
        &bench,
        text.replace("uncertainty", "uncertainty,fit").replace("80.9,mm,0.05", "80.9,mm,0.05,checked"),
    )
    .expect("it can be written");
    let checked = held(&[]);
    // It counts; yet readings whose mean contradicts the sheet may be off as a whole, and the sheet holds against them.
    assert!(width(&checked) > width(&plain), "{} {}", width(&checked), width(&plain));
    assert_eq!(checked["readings"][3]["fate"], "used");
    assert_eq!(
        (robust["fit"]["loss"].as_str(), plain["outliers"][0]["line"].as_u64()),
        (Some("student"), Some(5))
    );
    assert!(robust["fit"]["probability"].is_null() && robust["readings"][3]["weight"].as_f64() < Some(0.1));
}

#[test]
fn the_reconciled_sheet_is_a_sheet() {
    let new = folder("reconciled").join("new.json");
    let new = new.to_str().expect("a plain path");
    let answer = held(&["--write", new]);
    let estimate = parsed(&answered(&["estimate", new, "--json"]));
    for figure in answer["figures"].as_array().expect("figures") {
        let rows = estimate["ok"]["headline"].as_array().expect("a headline");
        let row = rows.iter().find(|row| row["id"] == figure["id"]).expect("the same figure");
        assert_eq!(row["figure"], figure["after"], "{figure}");
    }
    assert!(call(&[&HELD[..], &["--write", new]].concat()).err.contains("--overwrite"));
    // What the readings said is in the sheet: held against it once more, nothing moves by more than it is uncertain.
    let again = call(&["reconcile", new, BENCH, "--instruments", INSTRUMENTS, "--json"]);
    let again = parsed(&again.out);
    for row in again["ok"]["parameters"].as_array().expect("parameters") {
        assert!(row["moved"].as_f64().is_some_and(|moved| moved.abs() < 1.0), "{row}");
    }
}

#[test]
fn readings_of_another_cell_are_not_taken_for_this_ones() {
    let said = call(&["reconcile", "demo/marram-small.json", BENCH]);
    assert_eq!((said.status, said.out.as_str()), (2, ""));
    assert!(said.err.contains("no reading of \"Marram small\", but of \"Marram A\""), "{}", said.err);
    let bad = call(&["reconcile", "demo/nothing.json", "demo/nothing.csv", "--instruments", SHEET]);
    assert_eq!((bad.status, bad.err.matches("no such file").count()), (2, 2), "{}", bad.err);
}

#[test]
fn two_kinds_may_be_suspected() {
    let answer = held(&["--two", "cell mass", "--two", "mass of cap assembly"]);
    let found = answer["populations"].as_array().expect("populations");
    assert_eq!(found.len(), 2);
    assert!(found.iter().all(|row| row["verdict"] == "one"), "{found:?}");
    let said = call(&[&HELD[..], &["--two", "cell mas"]].concat());
    assert!(said.err.contains("perhaps \"cell mass\" was meant"), "{}", said.err);
}

#[test]
fn what_to_read_next_follows_what_was_read() {
    let json = answered(&["next", SHEET, "--for", "volumetric", "--json"]);
    let question = json!({ "sheet": parsed(&text_of(SHEET)), "figure": "volumetric" });
    assert_eq!(json, ask::next(&question.to_string()) + "\n");
    let answer = parsed(&json)["ok"].clone();
    let text = answered(&["next", SHEET, "--for", "volumetric"]);
    assert!(
        spaced(&text).starts_with(&spaced(answer["answer"]["text"].as_str().expect("a sentence"))),
        "{text}"
    );
    let alone = answer["alone"].as_array().expect("a list");
    let removed = |row: &Value| row["removed"].as_f64().expect("a share");
    assert!(alone.windows(2).all(|pair| removed(&pair[0]) >= removed(&pair[1])));
    assert!(alone.iter().all(|row| (0.0..=1.0).contains(&removed(row))));
    let after = parsed(&answered(&[
        "next",
        SHEET,
        BENCH,
        "--for",
        "volumetric",
        "--instruments",
        INSTRUMENTS,
        "--json",
    ]));
    let u = |answer: &Value| answer["now"]["u"].as_f64().expect("an uncertainty");
    assert!(u(&after["ok"]) < 0.5 * u(&answer));

    let both = parsed(&answered(&[
        "next",
        SHEET,
        "--second",
        "demo/marram-b.json",
        "--for",
        "volumetric",
        "--json",
    ]));
    assert_eq!(both["ok"]["cells"].as_array().map(Vec::len), Some(2));
    let compared = parsed(&answered(&["compare", SHEET, "demo/marram-b.json", "--json"]));
    let figures = compared["ok"]["figures"].as_array().expect("figures");
    let change = &figures.iter().find(|row| row["id"] == "volumetric").expect("the figure")["change"];
    let (a, b) = (u(&both["ok"]), change["u"].as_f64().expect("an uncertainty"));
    // The comparison moves each entry by a whole uncertainty, this by a tenth of it.
    assert!((a / b - 1.0).abs() < 0.1, "{a} {b}");

    let said = call(&["next", SHEET, "--for", "volumetrik"]);
    assert!(said.status == 2 && said.err.contains("--for: found \"volumetrik\""), "{}", said.err);
}

/// What contradicts is said by χ² and by the test for outliers; a reading has one normalised residual everywhere.
#[test]
fn words_follow_the_tests_and_quote_one_statistic() {
    let answer = held(&[]);
    assert!(answer["fit"]["probability"].as_f64().expect("a probability") > 0.01);
    let text = answer["answer"]["text"].as_str().expect("a sentence");
    assert!(text.contains("agree with one another and with the design sheet, but for 1 outlier: "), "{text}");
    assert!(!text.contains("contradict"), "{text}");
    let outlier = &answer["outliers"][0];
    let z = outlier["z"].as_f64().expect("a residual");
    let rows = answer["readings"].as_array().expect("readings");
    let row = rows.iter().find(|row| row["line"] == outlier["line"]).expect("its row");
    assert_eq!(row["z"].as_f64(), Some(z));
    let shown = format!("{:.1}", z.abs());
    assert!(outlier["text"].as_str().expect("words").contains(&format!("{shown} standard deviations ")));
    let table = call(&HELD).out;
    let mut rows =
        table.lines().skip_while(|line| !line.starts_with("  [1] ") || !line.contains("(line 39)"));
    assert!(
        rows.next().is_some_and(|line| line.contains(&format!("{shown} standard deviations"))),
        "{table}"
    );
}

/// An offset of a whole quantity is said in words and with its size, though nobody asks.
#[test]
fn an_offset_is_said_in_words() {
    let path = folder("offset").join("bench.csv");
    // A wall of 0.42 mm, read by a micrometer whose zero is off.
    let rows = "quantity,value,unit\ncan wall,0.485,mm\ncan wall,0.486,mm\ncan wall,0.484,mm\n";
    std::fs::write(&path, rows).expect("it can be written");
    let path = path.to_str().expect("a plain path");
    let (plain, json) = (call(&["reconcile", SHEET, path]), call(&["reconcile", SHEET, path, "--json"]));
    assert_eq!((plain.status, json.status), (1, 1), "{}", plain.err);
    let (text, offset) = (spaced(&plain.out), parsed(&json.out)["ok"].clone());
    let wanted = "can wall, all 3 readings (first on line 2): they lie 0.065 ± 0.013 mm (15.5 %, 6.5 u of one reading) above the \
                  0.420 ± 0.013 mm that the rest determines (5.0 standard deviations); an offset of the instrument (micrometer), or \
                  another thing was read than the sheet means";
    assert!(text.contains(wanted), "{text}");
    let outlier = &offset["outliers"][0];
    assert_eq!((&outlier["scope"], &outlier["off"]["unit"]), (&json!("quantity"), &json!("mm")), "{outlier}");
    assert!((outlier["off"]["value"].as_f64().expect("a number") - 0.065).abs() < 1e-3, "{outlier}");
}

/// Readings of the named quantities off so many specimens, three of each; the last so many are off by as much.
fn off_specimens(
    name: &str,
    plan: &[(&str, &str, f64, f64)],
    specimens: usize,
    last: usize,
) -> (String, Value) {
    // Standard scores that are as far apart as those of a few normal numbers.
    let scores = [-0.9, 0.4, -0.2, 1.1, 0.1, -0.6, 0.7, -0.4];
    let mut rows = String::from("specimen,quantity,value,unit\n");
    for (k, (quantity, unit, value, step)) in plan.iter().enumerate() {
        for specimen in 0..specimens {
            let off = if specimen + last >= specimens { 8.0 * step } else { 0.0 };
            let own = value + off + 0.5 * step * scores[(specimen + 3 * k) % scores.len()];
            for repeat in [-0.03, 0.0, 0.03] {
                rows.extend([format!("S{specimen},{quantity},{:.5},{unit}\n", own + repeat * step)]);
            }
        }
    }
    let path = folder(name).join("bench.csv");
    std::fs::write(&path, rows).expect("it can be written");
    let path = path.to_str().expect("a plain path");
    let (plain, json) = (call(&["reconcile", SHEET, path]), call(&["reconcile", SHEET, path, "--json"]));
    assert_eq!((plain.status, plain.err.as_str()), (json.status, ""), "{}", plain.out);
    (spaced(&plain.out), parsed(&json.out)["ok"].clone())
}

/// One specimen of four is off in every quantity: another cell, though nobody asks.
#[test]
fn another_cell_among_specimens_is_said_in_words() {
    let plan = [
        ("cathode width", "mm", 77.9, 0.05),
        ("anode width", "mm", 79.6, 0.05),
        ("separator width", "mm", 81.0, 0.08),
        ("cathode coated both sides", "µm", 140.3, 1.0),
        ("anode coated both sides", "µm", 131.5, 1.0),
        ("cell mass", "g", 326.8, 0.4),
        ("mass of cap assembly", "g", 10.85, 0.03),
    ];
    let (text, answer) = off_specimens("another", &plan, 4, 1);
    let outlier = &answer["outliers"][0];
    assert_eq!((&outlier["scope"], &outlier["left_out"]), (&json!("cell"), &json!(true)), "{outlier}");
    assert_eq!(outlier["also"].as_array().map(Vec::len), Some(3 * plan.len() - 1), "{outlier}");
    assert!(text.contains("specimen S3 is another cell: its 21 readings differ"), "{text}");
    assert!(text.contains("21 readings were left out of the fit."), "{text}");
}

/// Half of eight specimens have a heavier lid: two kinds, with the difference, though nobody asks.
#[test]
fn two_kinds_are_said_in_words_with_their_difference() {
    let plan = [("mass of cap assembly", "g", 10.85, 0.03), ("cathode width", "mm", 77.9, 0.0)];
    let (text, answer) = off_specimens("kinds", &plan, 8, 4);
    let found = answer["populations"].as_array().expect("populations");
    assert_eq!(found.len(), 1, "{found:?}");
    let kinds = &found[0];
    assert_eq!((&kinds["verdict"], &kinds["labelled"]), (&json!("two"), &json!(false)), "{kinds}");
    assert!((kinds["difference"]["value"].as_f64().expect("a number") - 0.24).abs() < 0.03, "{kinds}");
    assert!(text.contains("mass of cap assembly: the specimens are of two kinds"), "{text}");
    assert!(text.contains("(\"S4\", \"S5\", \"S6\", \"S7\") lie 0.238 ± 0.009 g (2.19 %) above"), "{text}");
}

/// What is left to say where every reading was left out.
#[test]
fn nothing_left_is_said_as_such() {
    let path = folder("nothing_left").join("bench.csv");
    let said = |rows: &str| {
        std::fs::write(&path, format!("quantity,value,unit\n{rows}")).expect("it can be written");
        let said = call(&["reconcile", SHEET, path.to_str().expect("a plain path")]);
        assert_eq!(said.status, 1, "{}", said.err);
        spaced(&said.out)
    };
    let none = said("cathode width,779,mm\n");
    assert!(
        none.starts_with("No reading of Marram A is left to hold against the design sheet. Outlier: "),
        "{none}"
    );
    assert!(none.contains("1 reading is tested against the others."), "{none}");
    let one = said("cathode width,779,mm\nseparator width,81,mm\n");
    assert!(
        one.starts_with("1 reading of Marram A agrees with the design sheet, but for 1 outlier: "),
        "{one}"
    );
}

#[test]
fn a_template_is_a_bench_sheet_without_values() {
    let text = answered(&["readings", "--template", SHEET]);
    let rows: Vec<&str> = text.lines().collect();
    assert!(rows.len() > 60 && rows[0].starts_with("cell,specimen,state,quantity,at,value,unit"), "{text}");
    // Filled in, every row is read.
    let filled = |row: &&str| {
        // Without conditions, or with them.
        if row.contains(",,,") { row.replacen(",,,", ",,0.3,", 1) } else { row.replacen(",,", ",0.3,", 1) }
    };
    let filled = rows.iter().map(filled).collect::<Vec<_>>().join("\n");
    let path = folder("template").join("bench.csv");
    std::fs::write(&path, filled).expect("it can be written");
    let said = call(&["readings", path.to_str().expect("a plain path")]);
    assert_eq!(said.status, 0, "{}", said.out);
    assert_eq!(call(&["readings", "--template", "demo/nothing.json"]).status, 2);
    // Of two cells, the one with tabs has no folded edge to read.
    let folded = |sheet: &str| answered(&["readings", "--template", sheet]).contains("folded edge height");
    assert!(folded("demo/marram-a.json") && !folded("demo/marram-small.json"));
}

/// One bench sheet as spreadsheet programs save it: semicolons and decimal commas, tabs, UTF-16, Latin-1.
#[test]
fn bench_sheets_are_read_as_people_save_them() {
    let plain = "quantity,value,unit\ncathode foil,15.1,µm\ncell mass,321.5,g\n";
    let comma = plain.replace(',', ";").replace('.', ",");
    let tabs = format!("sep=\t\r\n{}", comma.replace(';', "\t").replace('\n', "\r\n"));
    let wide: Vec<u8> =
        [0xFF, 0xFE].into_iter().chain(comma.encode_utf16().flat_map(u16::to_le_bytes)).collect();
    let latin: Vec<u8> = comma.chars().map(|c| u8::try_from(u32::from(c)).expect("Latin-1")).collect();
    let big: Vec<u8> =
        [0xFE, 0xFF].into_iter().chain(comma.encode_utf16().flat_map(u16::to_be_bytes)).collect();
    let greek = comma.replace('µ', "μ");
    let values = |bytes: &[u8]| {
        let said = call_with(&["readings", "-", "--json"], bytes);
        assert_eq!(said.status, 0, "{} {}", said.out, said.err);
        let rows = parsed(&said.out)["ok"]["readings"].clone();
        [0, 1].map(|i| rows[i]["reading"]["value"].as_f64().expect("a number"))
    };
    for bytes in [plain.as_bytes(), comma.as_bytes(), tabs.as_bytes(), &wide, &big, &latin, greek.as_bytes()]
    {
        let [foil, mass] = values(bytes);
        assert!((foil - 15.1).abs() < 1e-9 && (mass - 321.5).abs() < 1e-9, "{foil} {mass}");
    }
}
