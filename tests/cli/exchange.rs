//! Parameter sets out and in, as files.

use crate::{answered, call, call_with, folder, text_of, top};
use roulade::Sheet;
use serde_json::Value;

fn valid(text: &str) -> Value {
    let schema: Value =
        serde_json::from_str(&text_of("tests/published/data/bpx.schema.json")).expect("a schema is JSON");
    let validator = jsonschema::validator_for(&schema).expect("a schema");
    let document: Value = serde_json::from_str(text).expect("a parameter set is JSON");
    let errors: Vec<String> = validator.iter_errors(&document).map(|error| error.to_string()).collect();
    assert!(errors.is_empty(), "{errors:?}");
    document
}

#[test]
fn every_sheet_of_the_demo_leaves_and_comes_back() {
    for sheet in crate::demo() {
        let text = answered(&["export-parameters", &sheet]);
        let set = valid(&text);
        assert_eq!(set["Header"]["Model"], "Partial", "{sheet}");
        let back = call_with(&["import-parameters", "-"], text.as_bytes());
        assert_eq!(back.status, 0, "{sheet}: {}", back.err);
        Sheet::parse(&back.out).expect("a sheet");
    }
}

#[test]
fn somebody_elses_set_comes_in() {
    let set = "demo/marram-parameters.json";
    valid(&text_of(set));
    let said = call(&["import-parameters", set, "--into", "demo/marram-small.json"]);
    assert_eq!(said.status, 0, "{}", said.err);
    assert!(said.err.contains("1120.0 cm² face the anode"), "{}", said.err);
    for named in ["Parameterisation.Electrolyte", "Diffusivity [m2.s-1]", "Reaction rate constant"] {
        assert!(said.err.contains(named), "{}", said.err);
    }
    let estimate = call_with(&["estimate", "-", "--json"], said.out.as_bytes());
    assert_eq!(estimate.status, 0, "{}", estimate.err);
    // The same by its can alone; hardware is then filled in, and the sheet says so where it does not hold together.
    let by_can = call(&["import-parameters", set, "--can", "24 mm", "62 mm"]);
    assert!(by_can.status < 2, "{}", by_can.err);
    let without = call(&["import-parameters", set]);
    assert_eq!((without.status, without.out.as_str()), (2, ""));
    assert!(without.err.contains("no size of the can"), "{}", without.err);
}

#[test]
fn files_are_written_once() {
    let out = folder("exchange").join("set.json");
    let path = out.to_str().expect("a name");
    assert_eq!(answered(&["export-parameters", "demo/marram-a.json", "--write", path]), "");
    valid(&std::fs::read_to_string(&out).expect("it is there"));
    let again = call(&["export-parameters", "demo/marram-a.json", "--write", path]);
    assert_eq!(again.status, 2);
    assert!(again.err.contains("there already") && again.err.contains("set.json"), "{}", again.err);
    assert_eq!(answered(&["export-parameters", "demo/marram-a.json", "--write", path, "--overwrite"]), "");
}

#[test]
fn what_is_no_set_is_refused() {
    for (text, expected) in [
        ("", "breaks off"),
        ("[1, 2", "breaks off"),
        ("{}", "Header: found nothing"),
        (
            "{\"Header\": {\"Model\": \"DFN\"}, \"Parameterisation\": 5}",
            "Parameterisation: found nothing, or no object",
        ),
        ("{\"Header\": {\"Model\": \"\\u001b[2J\"}, \"Parameterisation\": {}}", "Header.Model"),
    ] {
        let said = call_with(&["import-parameters", "-"], text.as_bytes());
        assert_eq!(said.status, 2, "{text}");
        assert!(said.err.contains(expected) && said.err.contains("expected"), "{text}: {}", said.err);
        assert!(!said.err.contains('\u{1b}'), "{text}");
    }
    let no_file = call(&["import-parameters", top().join("no such file.json").to_str().expect("a name")]);
    assert!(no_file.err.contains("no such file"), "{}", no_file.err);
}
