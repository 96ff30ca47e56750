//! What is answered is what the model answers.

use crate::{answered, call, call_with, demo, folder, text_of};
use roulade_answer::ask;
use serde_json::{Value, json};

const SERIES: [&str; 2] = ["demo/marram-a.json", "demo/marram-b.json"];
const PLATE: &str = "lower collector plate";

fn parsed(text: &str) -> Value {
    serde_json::from_str(text).expect("an answer is JSON")
}

/// The sentence of an answer as it stands in a text that may have been wrapped anywhere.
fn begins_with_sentence(text: &str, answer: &Value) {
    let sentence = answer["ok"]["answer"]["text"].as_str().expect("an answer has its sentence");
    let words = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words(text).starts_with(&words(sentence)), "{sentence}\n\n{text}");
}

#[test]
fn an_estimate_is_that_of_the_model() {
    for sheet in demo() {
        let json = answered(&["estimate", &sheet, "--json"]);
        assert_eq!(json, ask::estimate(&text_of(&sheet)) + "\n");
        begins_with_sentence(&answered(&["estimate", &sheet]), &parsed(&json));
    }
}

#[test]
fn every_figure_of_an_estimate_is_shown_as_the_model_rounds_it() {
    let shown = answered(&["estimate", SERIES[1], "--ledger"]);
    let answer = parsed(&ask::estimate(&text_of(SERIES[1])));
    let spaced = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    let shown = spaced(&shown);
    let tables = answer["ok"]["tables"].as_array().expect("tables");
    let rows = tables.iter().flat_map(|table| table["rows"].as_array().expect("rows"));
    let mut seen = 0;
    for row in rows.chain(answer["ok"]["headline"].as_array().expect("a headline")) {
        let text = row["figure"]["text"].as_str().expect("a text");
        // A unit that a whole column shares stands in its head.
        let bare = text.strip_suffix(row["figure"]["unit"].as_str().expect("a unit")).unwrap_or(text);
        assert!(shown.contains(&spaced(text)) || shown.contains(&format!("{} ", spaced(bare))), "{row}");
        seen += 1;
    }
    assert!(seen > 30, "{seen} figures");
    for line in answer["ok"]["ledger"]["lines"].as_array().expect("lines") {
        assert!(shown.contains(line["line"].as_str().expect("a name")), "{line}");
    }
}

#[test]
fn a_weighed_cell_is_held_against_its_ledger() {
    let mut sheet = parsed(&text_of(SERIES[0]));
    sheet["cell_mass"] = json!({ "value": "330 ± 1 g", "from": "measured" });
    let sheet = sheet.to_string();
    let residual = parsed(&ask::estimate(&sheet))["ok"]["ledger"]["mass_residual"]["text"].clone();
    let text = call_with(&["estimate", "-"], sheet.as_bytes()).out;
    let wanted = format!("Computed less weighed mass: {}.", residual.as_str().expect("a residual"));
    assert!(text.split_whitespace().collect::<Vec<_>>().join(" ").contains(&wanted), "{wanted}\n{text}");
}

#[test]
fn a_comparison_is_that_of_the_model() {
    let json = answered(&["compare", SERIES[0], SERIES[1], "--json"]);
    assert_eq!(json, ask::compare(&text_of(SERIES[0]), &text_of(SERIES[1])) + "\n");
    let text = answered(&["compare", SERIES[0], SERIES[1]]);
    begins_with_sentence(&text, &parsed(&json));
    for share in ["none of it", "as designed: 87 % of it", "all of it"] {
        assert!(text.contains(share), "{share}\n{text}");
    }
}

#[test]
fn cells_in_cans_of_two_sizes_are_compared_too() {
    let text = answered(&["compare", "demo/marram-small.json", SERIES[1]]);
    assert!(text.contains("the cans differ"), "{text}");
}

#[test]
fn a_part_taken_out_is_answered_as_by_the_model() {
    let sheet = parsed(&text_of(SERIES[0]));
    let ring = parsed(&text_of(SERIES[1]))["parts"][1].clone();
    let folder = folder("without");
    let ring_file = folder.join("ring.json");
    std::fs::write(&ring_file, ring.to_string()).expect("it can be written");
    let ring_file = ring_file.to_str().expect("a plain path");
    for (arguments, question) in [
        (vec![], json!({ "sheet": sheet, "part": PLATE })),
        (vec!["--reclaim", "0.85"], json!({ "sheet": sheet, "part": PLATE, "reclaim": 0.85 })),
        (vec!["--instead", ring_file], json!({ "sheet": sheet, "part": PLATE, "instead": ring })),
    ] {
        let call = [&["without", SERIES[0], PLATE], arguments.as_slice()].concat();
        let json = answered(&[call.as_slice(), &["--json"]].concat());
        assert_eq!(json, ask::without(&question.to_string()) + "\n", "{arguments:?}");
        begins_with_sentence(&answered(&call), &parsed(&json));
    }
}

#[test]
fn less_height_reclaimed_buys_less() {
    let gained = |share: &str| {
        let json = answered(&["without", SERIES[0], PLATE, "--reclaim", share, "--json"]);
        let figures = parsed(&json)["ok"]["figures"].clone();
        let energy = figures.as_array().into_iter().flatten().find(|row| row["id"] == "energy");
        energy.and_then(|row| row["change"]["value"].as_f64()).expect("an energy")
    };
    let (none, half, all) = (gained("0"), gained("0.5"), gained("1"));
    assert!(none.abs() < 1e-9 && half > 0.0 && all > half, "{none} {half} {all}");
}

#[test]
fn a_sheet_that_was_written_can_be_read_back() {
    let new = folder("written").join("new.json");
    let new = new.to_str().expect("a plain path");
    let taken = ["without", SERIES[0], PLATE, "--reclaim", "0.85", "--write", new];
    let before = parsed(&answered(&[taken.as_slice(), &["--json"]].concat()));

    let after = parsed(&answered(&["compare", SERIES[0], new, "--json"]));
    assert_eq!(after["ok"]["answer"]["text"], before["ok"]["answer"]["text"]);
    assert_eq!(after["ok"]["figures"], before["ok"]["figures"]);

    let again = call(&taken);
    assert_eq!((again.status, again.out.as_str()), (2, ""), "a file that is there is kept");
    assert!(again.err.contains("--overwrite"), "{}", again.err);
    answered(&[taken.as_slice(), &["--overwrite"]].concat());
}

#[test]
fn materials_come_from_the_table() {
    assert_eq!(answered(&["materials", "--json"]), ask::materials() + "\n");
    let all = answered(&["materials"]);
    for material in parsed(&ask::materials())["ok"].as_array().expect("a list") {
        let name = material["name"].as_str().expect("a name");
        let one = answered(&["materials", name]);
        let source = material["density"]["source"].as_str().expect("a source");
        let words = |text: &str| text.split_whitespace().map(str::to_owned).collect::<Vec<_>>();
        // Columns are wrapped, so that a source stands in pieces: its first word, and the whole in the list.
        assert!(one.contains(&words(source)[0]), "{source}\n{one}");
        assert!(words(&all).join(" ").contains(&words(source).join(" ")), "{source}\n{all}");
    }
    let unknown = call(&["materials", "NMC8111"]);
    assert_eq!(unknown.status, 2);
    assert!(unknown.err.contains("perhaps \"NMC811\" was meant"), "{}", unknown.err);
}

#[test]
fn cautions_have_their_sources() {
    let text = answered(&["cautions"]).split_whitespace().collect::<Vec<_>>().join(" ");
    for caution in roulade_answer::cautions::CAUTIONS {
        assert!(text.contains(caution.text) && text.contains(caution.source), "{caution:?}");
    }
    for verb in [["estimate", SERIES[0]].as_slice(), &["compare", SERIES[0], SERIES[1]]] {
        let text = answered(verb);
        assert!(text.contains("roulade cautions") && text.contains("hazardous"), "{text}");
    }
}

/// On all cores and on one: the same to the last bit.
#[test]
fn draws_are_those_of_the_model() {
    let [first, second] = SERIES.map(|path| parsed(&text_of(path)));
    let alone = roulade_stats::executor::alone();
    let asked = json!({ "sheet": first, "draws": 3000, "seed": 9, "figures": ["volumetric", "roll.radial_clearance"] });
    let said = answered(&[
        "spread",
        SERIES[0],
        "--draws",
        "3000",
        "--seed",
        "9",
        "--figure",
        "volumetric",
        "--figure",
        "roll.radial_clearance",
        "--json",
    ]);
    assert_eq!(said, ask::sampled(&asked.to_string(), &alone) + "\n");
    let both = json!({ "sheet": first, "second": second, "draws": 3000 });
    let said = answered(&["spread", SERIES[0], SERIES[1], "--draws", "3000", "--json"]);
    assert_eq!(said, ask::sampled(&both.to_string(), &alone) + "\n");
    begins_with_sentence(&answered(&["spread", SERIES[0], SERIES[1], "--draws", "3000"]), &parsed(&said));
    let said = parsed(&answered(&["spread", SERIES[0], "--draws", "3000", "--shares", "--json"]));
    let sensitivity =
        parsed(&ask::sensitivity(&json!({ "sheet": first, "draws": 3000 }).to_string(), &alone));
    assert_eq!(said["ok"]["sensitivity"], sensitivity["ok"]);
}

#[test]
fn draws_that_cannot_be_are_refused() {
    for (arguments, wanted) in [
        (&["--draws", "10"][..], "--trials: found 10; expected from 1000 to 400000 trials\n"),
        (&["--figure", "gapp"], "--figure: found \"gapp\", a figure that is not known; "),
    ] {
        let said = call(&[&["spread", SERIES[0]], arguments].concat());
        assert_eq!(said.status, 2);
        assert!(said.err.starts_with(wanted), "{}", said.err);
    }
    let bad = "tests/refused/sheets/negative-thickness.json";
    let said = call(&["spread", SERIES[0], bad]);
    assert!(said.status == 2 && said.err.starts_with(bad), "{}", said.err);
}

/// The words follow what is there: one cell, one table, one figure.
#[test]
fn an_answer_says_each_thing_once() {
    let text = answered(&["remove", SERIES[0], PLATE]);
    assert!(!text.contains("second cell"), "{text}");
    assert!(text.contains("Marram A before and after the change of parts"), "{text}");
    // All of the height is what was designed: no second block says the same.
    assert_eq!(text.lines().filter(|line| line.trim() == "as designed: all of it").count(), 1, "{text}");
    assert!(text.lines().all(|line| line.trim() != "all of it"), "{text}");
    let half = answered(&["remove", SERIES[0], PLATE, "--reclaim", "0.5"]);
    for share in ["none of it", "as designed: 50 % of it", "all of it"] {
        assert_eq!(half.lines().filter(|line| line.trim() == share).count(), 1, "{share}\n{half}");
    }
    for text in
        [answered(&["estimate", "demo/marram-b-assay.json"]), answered(&["compare", SERIES[0], SERIES[1]])]
    {
        let groups = text.lines().filter(|line| line.trim() == "Materials").count();
        assert!(groups <= 1, "{groups} tables of materials\n{text}");
    }
}

/// A ledger closes to rounding, which is no figure.
#[test]
fn what_rounding_leaves_is_no_figure() {
    for sheet in demo() {
        let text = answered(&["estimate", &sheet]);
        assert!(text.contains("The volumes add up to the envelope."), "{text}");
        assert!(!text.contains("e−1") && !text.contains("e-1"), "{text}");
    }
}

/// Figures have their names in the sentence, and what nobody measured is expected, not predicted.
#[test]
fn a_sentence_names_its_figures() {
    let text = answered(&["estimate", SERIES[0]]);
    assert!(text.starts_with("Marram A is predicted to give "), "{text}");
    assert!(
        text.contains("volumetric energy density") && text.contains("gravimetric energy density"),
        "{text}"
    );
    let bare = r#"{"cell": "x", "can": {"diameter": "40 mm", "height": "92 mm"}, "cathode": {"mix": [{"material": "LCO"}]},
        "anode": {"mix": [{"material": "graphite"}]}}"#;
    let text = call_with(&["estimate", "-"], bare.as_bytes()).out;
    assert!(text.starts_with("x is expected to give, from assumptions alone, "), "{text}");
}
