//! A declared figure from end to end: words, statuses, forms; and the report.

use crate::{answered, call, folder};
use serde_json::Value;

#[test]
fn statuses_follow_the_verdict() {
    for (claim, status, verdict) in [
        ("at least 195 Wh/kg", 0, "Supported."),
        ("at most 180 Wh/kg", 1, "Contradicted."),
        ("at least 224 Wh/kg", 0, "Open."),
    ] {
        let said = call(&["claim", claim, "demo/marram-small.json", "--draws", "600"]);
        assert_eq!((said.status, said.err.as_str()), (status, ""), "{claim}: {}", said.out);
        assert!(said.out.starts_with(verdict), "{claim}: {}", said.out);
    }
}

#[test]
fn forms_of_a_claim() {
    let asked = ["claim", "at least 224 Wh/kg", "demo/marram-small.json", "--draws", "600"];
    let with = |form: &'static str| answered(&[&asked[..], &[form]].concat());
    let json: Value = serde_json::from_str(&with("--json")).expect("JSON");
    let ok = &json["ok"];
    assert_eq!(ok["verdict"], "open");
    assert_eq!(ok["claim"]["figure"], "gravimetric");
    let counts = ok["histogram"]["counts"].as_array().expect("bars");
    let drawn: u64 = counts.iter().filter_map(Value::as_u64).sum();
    assert_eq!(Some(drawn), ok["histogram"]["held"].as_u64());
    assert!(with("--csv").starts_with("input,label,known,plausible,needed,unit,place"));
    assert!(with("--markdown").contains("| read as |"));
    // The same seed, the same bits.
    assert_eq!(with("--json"), with("--json"));
}

#[test]
fn a_claim_over_another_cell() {
    let asked = ["claim", "at least 5 % over the other cell per volume", "demo/marram-b.json"];
    let alone = call(&asked);
    assert_eq!(alone.status, 2);
    assert!(alone.err.contains("with which the claim compares"), "{}", alone.err);
    let text = answered(&[&asked[..], &["--over", "demo/marram-a.json", "--draws", "600"]].concat());
    assert!(text.starts_with("Open. Marram B is predicted to give +"), "{text}");
}

#[test]
fn a_report_is_written_once() {
    let folder = folder("report");
    let file = folder.join("report.html").to_string_lossy().into_owned();
    let asked = ["report", "demo/marram-a.json", "demo/marram-b.json", "--date", "a day", "--write", &file];
    assert_eq!(answered(&asked), "");
    let page = std::fs::read_to_string(&file).expect("it was written");
    assert!(page.starts_with("<!doctype html>") && page.contains("a day"));
    let again = call(&asked);
    assert_eq!(again.status, 2);
    assert!(again.err.contains("a file that is there already"), "{}", again.err);
    let missing = call(&["report", "demo/no.json", "demo/marram-small.json", "--claim", "5 parsec"]);
    assert_eq!(missing.status, 2);
    assert!(missing.err.contains("demo/no.json: found no such file"), "{}", missing.err);
}

#[test]
fn several_figures_are_held_against_one_another_first() {
    // 4.6 Ah × 3.69 V is 17.0 Wh, by hand.
    let agree = answered(&["claim", "demo/marram-small.json", "4.6 Ah", "16.6 Wh", "72 g", "--draws", "600"]);
    let agree = agree.replace('\n', " ");
    assert!(
        agree.contains("The declared figures agree with one another: 4.6 Ah × 3.69 ± 0.04 V = 16.9"),
        "{agree}"
    );
    let list = "4.6 Ah, 72 g; 330 Wh/kg\n640 Wh/L";
    let said = call(&["claim", list, "demo/marram-small.json", "--draws", "600"]);
    assert_eq!((said.status, said.err.as_str()), (1, ""), "{}", said.out);
    let out = said.out.replace('\n', " ");
    assert!(out.starts_with("Contradicted. The declared figures do not agree with one another: "), "{out}");
    assert!(out.contains("where 330 Wh/kg is declared") && out.contains("given all the others"), "{out}");
    for form in ["--json", "--csv", "--markdown"] {
        let said = call(&["claim", list, "demo/marram-small.json", "--draws", "600", form]);
        assert_eq!((said.status, said.err.as_str()), (1, ""), "{form}");
    }
    let json = call(&["claim", list, "demo/marram-small.json", "--draws", "600", "--json"]);
    let json: Value = serde_json::from_str(&json.out).expect("JSON");
    assert_eq!(json["ok"]["consistency"]["agreement"], "disagree");
    assert_eq!(json["ok"]["figures"].as_array().map(Vec::len), Some(4));
    let strains = json["ok"]["consistency"]["strains"].as_array().expect("a list");
    assert!(strains.contains(&Value::from("330 Wh/kg")), "{strains:?}");
}

#[test]
fn a_list_of_claims_in_a_file_and_what_is_wrong_with_one() {
    let folder = folder("claims");
    let file = folder.join("claims.json");
    std::fs::write(&file, r#"["4.2 Ah, minimum", { "value": "72 g" }]"#).expect("it can be written");
    let file = file.to_string_lossy().into_owned();
    let text = answered(&["claim", &file, "demo/marram-small.json", "--draws", "600"]);
    assert!(text.contains("about 4.2 Ah, minimum"), "{text}");
    let said = call(&["claim", "demo/marram-small.json", "5 Ah", "6 Ah", "7 parsec"]);
    assert_eq!(said.status, 2);
    for words in ["claims[1]: found \"about 6 Ah\" beside \"about 5 Ah\"", "claims[2]: found \"parsec\""] {
        assert!(said.err.contains(words), "{}", said.err);
    }
}
