//! A sheet changed from the command line, and one that a fit wrote used like any other.

use crate::{answered, call, folder, text_of};
use serde_json::{Value, json};

const SHEET: &str = "demo/marram-a.json";

fn parsed(text: &str) -> Value {
    serde_json::from_str(text).expect("a sheet is JSON")
}

fn edited(arguments: &[&str]) -> Value {
    parsed(&answered(&[&["edit", SHEET], arguments].concat()))
}

#[test]
fn each_way_of_changing_an_entry() {
    let wall = edited(&["can.wall=0.3 mm"]);
    assert_eq!(wall["can"]["wall"], "0.3 mm");
    let fixed = edited(&["--fix", "can.diameter"]);
    assert_eq!(fixed["can"]["diameter"]["value"], "40 mm");
    let scaled = edited(&["--scale", "can.wall=0.5"]);
    assert_eq!(scaled["can"]["wall"], "0.21 ± 0.005 mm");
    let left_out = edited(&["can.wall="]);
    assert_eq!(left_out["can"]["wall"], Value::Null);
    let removed = edited(&["--remove", "parts[crimp]"]);
    let count = |sheet: &Value| sheet["parts"].as_array().map(Vec::len);
    assert_eq!(count(&removed), count(&parsed(&text_of(SHEET))).map(|n| n - 1));
    let renamed = edited(&["--rename", "parts[gasket]=seal"]);
    assert!(renamed["parts"].as_array().expect("a list").iter().any(|part| part["name"] == "seal"));
    let resized = edited(&["--resize", "46 mm", "80 mm"]);
    assert_eq!((&resized["can"]["diameter"], &resized["can"]["height"]), (&json!("46 mm"), &json!("80 mm")));
}

#[test]
fn the_inverse_leads_back() {
    let folder = folder("edit-inverse");
    let path = |name: &str| folder.join(name).to_string_lossy().into_owned();
    let (new, back) = (path("new.json"), path("back.json"));
    let changes = ["can.wall=0.3 mm", "--remove", "parts[crimp]", "--resize", "46 mm", "80 mm"];
    let made = call(&[&["edit", SHEET], &changes[..], &["--write", &new, "--inverse", &back]].concat());
    // What the crimp leaves to the void is more than cells have.
    assert!(made.status == 0 && made.err.starts_with(&format!("{new}: void_height: 1.55 mm")), "{made:?}");
    let again = parsed(&answered(&["edit", &new, "--edits", &back]));
    assert_eq!(again, parsed(&text_of(SHEET)));
    // What is there is not written over unasked.
    let said = call(&["edit", SHEET, "can.wall=0.3 mm", "--write", &new]);
    assert!(said.status == 2 && said.err.contains("--overwrite"), "{said:?}");
}

#[test]
fn what_cannot_be_changed_or_does_not_hold_together_is_reported() {
    let said = call(&["edit", SHEET, "can.wal=0.3 mm"]);
    assert_eq!((said.status, said.out.as_str()), (2, ""));
    assert!(said.err.contains("perhaps \"wall\" was meant"), "{said:?}");
    let said = call(&["edit", SHEET, "can.wall=30 mm"]);
    assert_eq!(said.status, 1);
    // The new sheet is there all the same, for whoever goes on with it.
    assert_eq!(parsed(&said.out)["can"]["wall"], "30 mm");
    assert!(said.err.contains("can.wall"), "{said:?}");
}

/// A sheet that a fit wrote, with its correlations, is changed, resized, taken apart, compared, weighed and read again.
#[test]
fn a_reconciled_sheet_is_a_sheet_like_any_other() {
    let folder = folder("edit-reconciled");
    let path = |name: &str| folder.join(name).to_string_lossy().into_owned();
    let fit = path("fit.json");
    let bench =
        ["reconcile", SHEET, "demo/bench.csv", "--instruments", "demo/instruments.csv", "--write", &fit];
    let status = call(&bench).status;
    assert!(status < 2, "it is answered: {status}");
    let written = parsed(&std::fs::read_to_string(&fit).expect("it was written"));
    assert!(!written["correlated"].is_null(), "a fit has correlations");
    for (name, change) in [
        ("resized", &["--resize", "46 mm", "80 mm"][..]),
        ("exact", &["--fix", "can.diameter"]),
        ("scaled", &["--scale", "cathode.loading=1.02"]),
        ("apart", &["--remove", "parts[lower collector plate]"]),
        ("set", &["can.wall=0.40 mm"]),
    ] {
        let file = path(&format!("{name}.json"));
        answered(&[&["edit", &fit], change, &["--write", &file]].concat());
        answered(&["estimate", &file]);
        answered(&["compare", &fit, &file]);
        assert!(call(&["claim", "at least 150 Wh/kg", &file, "--trials", "200"]).status < 2, "{name}");
    }
    answered(&["remove", &fit, "lower collector plate"]);
    answered(&["form-factors", &fit]);
    // What a fit wrote is where the next one starts.
    let again = ["reconcile", &fit, "demo/bench.csv", "--instruments", "demo/instruments.csv"];
    assert!(call(&again).status < 2);
}
