//! What each change is worth, by hand of a user.

use crate::{answered, call, folder, text_of};
use roulade_answer::ask;
use roulade_stats::executor::alone;
use serde_json::{Value, json};

const PAIR: [&str; 2] = ["demo/marram-a.json", "demo/marram-b.json"];
const CHANGES: &str = "demo/changes.json";
const PRICES: &str = "demo/prices.json";

fn parsed(text: &str) -> Value {
    serde_json::from_str(text).expect("an answer is JSON")
}

fn attribute(options: &[&str]) -> String {
    answered(&[&["attribute", PAIR[0], PAIR[1]], options].concat())
}

#[test]
fn the_answer_is_that_of_the_model_whoever_does_the_work() {
    let json =
        attribute(&["--changes", CHANGES, "--prices", PRICES, "--draws", "20", "--seed", "3", "--json"]);
    let question = json!({
        "first": parsed(&text_of(PAIR[0])), "second": parsed(&text_of(PAIR[1])),
        "changes": parsed(&text_of(CHANGES)), "prices": parsed(&text_of(PRICES)), "draws": 20, "seed": 3,
    });
    assert_eq!(json, ask::attribute(&question.to_string(), &alone()) + "\n");
    let answer = &parsed(&json)["ok"];
    let names: Vec<&str> =
        answer["changes"].as_array().expect("a list").iter().filter_map(|c| c["name"].as_str()).collect();
    assert_eq!(
        names,
        [
            "welded ring for the lower plate",
            "layered oxide with nickel for the cobalt oxide",
            "cathode coating",
            "anode recipe with silicon oxide",
            "cathode current collector foil",
            "anode current collector foil",
            "separator"
        ]
    );
    for figure in answer["figures"].as_array().expect("a list") {
        let value = |amount: &Value| amount["value"].as_f64().expect("a number");
        let sum: f64 =
            figure["rows"].as_array().expect("a list").iter().map(|row| value(&row["contribution"])).sum();
        let whole = value(&figure["whole"]);
        assert!(
            (sum - whole).abs() <= 1e-12 * value(&figure["first"]).abs(),
            "{}: {sum} {whole}",
            figure["id"]
        );
        let apart = value(&figure["second"]) - value(&figure["first"]);
        assert!((whole - apart).abs() <= 1e-12 * value(&figure["first"]).abs(), "{}", figure["id"]);
    }
    assert_eq!(answer["prices"]["currency"], "crowns");
    assert_eq!((&answer["prices"]["unpriced"], &answer["prices"]["unused"]), (&json!([]), &json!([])));
}

#[test]
fn every_contribution_is_shown_as_it_is_rounded() {
    let options = ["--changes", CHANGES, "--prices", PRICES, "--draws", "10"];
    let answer = parsed(&attribute(&[&options[..], &["--json"]].concat()));
    let spaced = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    let (text, markdown) =
        (spaced(&attribute(&options)), attribute(&[&options[..], &["--markdown"]].concat()));
    let sentence = spaced(answer["ok"]["answer"]["text"].as_str().expect("a sentence"));
    assert!(text.starts_with(&sentence), "{sentence}\n{text}");
    let csv = attribute(&[&options[..], &["--csv"]].concat());
    let mut seen = 0;
    for figure in answer["ok"]["figures"].as_array().expect("a list") {
        for row in figure["rows"].as_array().expect("a list") {
            let shown = row["contribution"]["text"].as_str().expect("a text");
            let unit = figure["unit"].as_str().expect("a unit");
            let bare = shown.strip_suffix(unit).unwrap_or(shown).trim_end();
            if figure["id"] != "parts" {
                assert!(text.contains(bare) && markdown.contains(bare), "{bare}\n{text}");
            }
            let change = row["change"].as_str().expect("a name");
            let begin = format!("{},{unit},{change},", figure["id"].as_str().expect("an id"));
            let line = csv.lines().find_map(|line| line.strip_prefix(&begin)).expect("a line for each worth");
            let value: f64 = line.split(',').next().and_then(|cell| cell.parse().ok()).expect("a number");
            let contribution = row["contribution"]["value"].as_f64().expect("a number");
            assert!((value - contribution).abs() <= 1e-14 * contribution.abs(), "{row}\n{line}");
            seen += 1;
        }
    }
    assert!(seen >= 40, "{seen}");
}

#[test]
fn changes_are_written_edited_and_given_back() {
    let file = folder("changes").join("changes.json");
    let file = file.to_str().expect("a plain path");
    let draws = ["--draws", "0"];
    let before = parsed(&attribute(&[&draws[..], &["--json", "--write-changes", file]].concat()));
    let again = parsed(&attribute(&[&draws[..], &["--json", "--changes", file]].concat()));
    assert_eq!(before["ok"]["figures"], again["ok"]["figures"]);
    let kept = call(&["attribute", PAIR[0], PAIR[1], "--draws", "0", "--write-changes", file]);
    assert_eq!((kept.status, kept.out.as_str()), (2, ""), "a file that is there is kept");
    assert!(kept.err.contains("--overwrite"), "{}", kept.err);

    let mut list = parsed(&std::fs::read_to_string(file).expect("it was written"));
    let changes = list["changes"].as_array_mut().expect("a list");
    let last = changes.pop().expect("a change");
    changes[0]["keys"]
        .as_array_mut()
        .expect("a list")
        .extend(last["keys"].as_array().expect("a list").clone());
    std::fs::write(file, list.to_string()).expect("it can be written");
    let edited = parsed(&attribute(&[&draws[..], &["--json", "--changes", file]].concat()));
    let count = |answer: &Value| answer["ok"]["changes"].as_array().map(Vec::len);
    assert_eq!(count(&edited), count(&before).map(|n| n - 1));
}

#[test]
fn complaints_name_the_file() {
    let said = call(&["attribute", PAIR[0], "nowhere.json", "--prices", "demo"]);
    let lines: Vec<&str> = said.err.lines().collect();
    assert_eq!(said.status, 2);
    assert!(
        matches!(lines.as_slice(), [a, b] if a.starts_with("nowhere.json: ") && b.starts_with("demo: ")),
        "{lines:?}"
    );
    let said = call(&["attribute", PAIR[0], PAIR[1], "--draws", "1"]);
    assert!(said.err.starts_with("--trials: found 1; expected 0 for first order"), "{}", said.err);
}
