use crate::ask;
use crate::test_support::{sheet, with};
use roulade_stats::executor::{OneByOne, alone};
use serde_json::{Value, json};
use std::cell::Cell;

fn ok(answer: &str) -> Value {
    let answer: Value = serde_json::from_str(answer).unwrap();
    assert!(answer["problems"].is_null(), "{answer}");
    answer["ok"].clone()
}

fn problems(answer: &str) -> Vec<String> {
    let answer: Value = serde_json::from_str(answer).unwrap();
    let list = answer["problems"].as_array().expect("problems").iter();
    list.map(|problem| problem["text"].as_str().unwrap().to_owned()).collect()
}

fn map_question() -> Value {
    json!({ "sheet": sheet(), "diameter": { "from": "16 mm", "to": "50 mm", "steps": 34 },
        "height": { "from": "50 mm", "to": "130 mm", "steps": 16 } })
}

#[test]
fn a_map_has_its_axes_figures_lines_and_sizes() {
    let done_rows = Cell::new(0);
    let executor = OneByOne(|done, of| {
        assert!(done <= of && of == 17);
        done_rows.set(done);
    });
    let map = ok(&ask::map(&map_question().to_string(), &executor));
    assert_eq!(done_rows.get(), 17, "a piece of work for each row");
    assert_eq!(map["axes"][0]["values"][34], 50.0);
    assert_eq!(map["axes"][1]["values"][1], 55.0);
    assert_eq!(
        (&map["axes"][1]["label"], &map["axes"][1]["unit"]),
        (&json!("Can: outer height"), &json!("mm"))
    );
    assert_eq!(map["cells"], 35 * 17);
    let figure = &map["figures"][0];
    assert_eq!((&figure["id"], &figure["unit"]), (&json!("volumetric"), &json!("Wh/L")));
    let values = figure["values"].as_array().unwrap();
    assert_eq!(values.len(), 35 * 17);
    let levels: Vec<f64> =
        figure["contours"].as_array().unwrap().iter().map(|c| c["level"].as_f64().unwrap()).collect();
    assert!(levels.len() > 4 && levels.windows(2).all(|pair| pair[0] < pair[1]), "{levels:?}");
    let own = &map["own"];
    assert_eq!(
        (&own["label"], &own["diameter"], &own["designation"]),
        (&json!("by hand"), &json!(46.0), &json!("IR46/95"))
    );
    // The same figure in the map, at 46 mm × 95 mm: column 30, row 9.
    let own = own["figures"][0]["value"].as_f64().unwrap();
    assert!((own - values[9 * 35 + 30].as_f64().unwrap()).abs() < 1e-3);
    let common: Vec<&str> =
        map["common"].as_array().unwrap().iter().map(|size| size["label"].as_str().unwrap()).collect();
    assert_eq!(
        common,
        ["18 × 50", "18 × 65", "20 × 70", "21 × 70", "26 × 65", "32 × 70", "46 × 80", "46 × 95", "46 × 120"]
    );
    let held: Vec<&str> =
        map["held"].as_array().unwrap().iter().map(|held| held["what"].as_str().unwrap()).collect();
    assert_eq!(&held[1..4], ["wall", "bottom", "core diameter"]);
}

/// A common size is the estimate of the sheet with that can, uncertainty and all, where nothing is held by a reading and
/// hardware stays.
#[test]
fn a_common_size_is_the_estimate_of_its_sheet() {
    let plain = |changes: &[(&str, Value)]| {
        let open = [
            ("cathode/width", json!(null)),
            ("void_height", json!("0 .. 1 mm")),
            ("winding/radial_clearance", json!("0.1 .. 0.3 mm")),
            ("cathode/loading", json!("20 ± 0.2 mg/cm2")),
            (
                "parts/1",
                json!({ "name": "plate", "place": "below roll", "height": "0.5 mm", "solid_fraction": "10 %", "material": "metal" }),
            ),
            (
                "parts/0",
                json!({ "name": "foot", "place": "below roll", "height": "0.4 mm", "solid_fraction": "10 %", "material": "metal" }),
            ),
        ];
        with(&[&open, changes].concat())
    };
    let map = json!({ "sheet": plain(&[]), "diameter": { "from": "20 mm", "to": "46 mm", "steps": 1 },
        "height": { "from": "70 mm", "to": "95 mm", "steps": 1 }, "figures": ["energy", "gravimetric"],
        "hold": { "hardware": "stays" } });
    let map = ok(&ask::map(&map.to_string(), &alone()));
    let common = map["common"].as_array().unwrap();
    let size = common.iter().find(|size| size["label"] == "21 × 70").unwrap();
    let estimate = plain(&[("can/diameter", json!("21 mm")), ("can/height", json!("70 mm"))]);
    let estimate = ok(&ask::estimate(&estimate.to_string()));
    for (figure, id) in size["figures"].as_array().unwrap().iter().zip(["energy", "gravimetric"]) {
        let rows = estimate["headline"].as_array().unwrap();
        let row = &rows.iter().find(|row| row["id"] == id).unwrap()["figure"];
        assert_eq!(figure["text"], row["text"], "{id}");
        assert!(figure["text"].as_str().unwrap().contains(" ± "));
    }
}

#[test]
fn figures_that_are_not_there_are_reported() {
    let sheet = with(&[("voltage/nominal", json!("3.7 V"))]);
    let question = json!({ "sheet": sheet, "along": [{ "key": "can.height", "from": "60 mm", "to": "90 mm", "steps": 3 }],
        "figures": ["capacity", "balance.anode_active_material"] });
    let sweep = ok(&ask::sweep(&question.to_string(), &alone()));
    assert_eq!(sweep["figures"].as_array().unwrap().len(), 1);
    assert_eq!(
        sweep["absent"],
        json!([{ "id": "balance.anode_active_material", "why": "this cell has no such figure" }])
    );
}

/// The sheet gives the coated width: with the can's height it goes, along every other input it stays.
#[test]
fn a_sweep_holds_the_head_space_where_the_can_grows() {
    let sweep = |along: Value| {
        let question = json!({ "sheet": sheet(), "along": along, "figures": ["stack.cathode_width", "stack.void_height"] });
        ok(&ask::sweep(&question.to_string(), &alone()))
    };
    let grown = sweep(json!([{ "key": "can.height", "from": "95 mm", "to": "105 mm", "steps": 2 }]));
    assert_eq!(grown["figures"][0]["values"], json!([80.0, 85.0, 90.0]));
    assert_eq!(grown["figures"][1]["values"], json!([4.0, 4.0, 4.0]));
    assert!(grown["held"].as_array().is_some_and(|held| !held.is_empty()));
    let thicker = sweep(json!([
        { "key": "parts[lid].height", "from": "4 mm", "to": "9 mm", "steps": 5 },
        { "key": "separator.thickness", "from": "10 µm", "to": "20 µm", "steps": 1 }
    ]));
    // A lid of 9 mm would need one millimetre more than the void height.
    let row = [json!(80.0), json!(80.0), json!(80.0), json!(80.0), json!(80.0), Value::Null];
    assert_eq!(thicker["figures"][0]["values"], json!([row.clone(), row].concat()));
    assert_eq!(
        (&thicker["blank"][0]["cells"], &thicker["blank"][0]["place"]),
        (&json!(2), &json!("cathode.width"))
    );
    assert!(thicker["held"].is_null());
    assert_eq!(thicker["axes"][0]["label"], "lid: height");
}

#[test]
fn a_bad_question_is_reported_all_at_once() {
    let mut question = map_question();
    question["height"] = json!({ "from": "95 g", "to": "-3 mm", "step": 4 });
    question["hold"] = json!({ "parts": "as the are", "wall": "with diameter", "core": "2 mm", "radial_clearance": "-1 mm" });
    question["figures"] = json!(["volumetrik"]);
    question["sheet"]["can"]["wall"] = json!("5 g");
    let diagnostics = problems(&ask::map(&question.to_string(), &alone()));
    let places: Vec<&str> = diagnostics.iter().map(|text| text.split(": ").next().unwrap()).collect();
    for place in [
        "hold.core",
        "hold.wall",
        "hold.radial_clearance",
        "hold.parts",
        "figures",
        "sheet.can.wall",
        "height.step",
    ] {
        assert!(places.contains(&place), "{place}: {diagnostics:#?}");
    }
    question["sheet"] = sheet();
    question["hold"] = json!(null);
    let diagnostics = problems(&ask::map(&question.to_string(), &alone())).join("\n");
    for saying in ["height.from: found \"95 g\"", "height.to: found \"-3 mm\"", "height.steps: found nothing"]
    {
        assert!(diagnostics.contains(saying), "{saying}: {diagnostics}");
    }
    assert!(problems(&ask::map("{}", &alone())).len() >= 3);
}

#[test]
fn a_bad_sweep_is_reported_all_at_once() {
    let sweep = |along: Value| {
        problems(&ask::sweep(&json!({ "sheet": sheet(), "along": along }).to_string(), &alone()))
    };
    let span = |key: &str| json!({ "key": key, "from": "1 mm", "to": "2 mm", "steps": 4 });
    for (along, saying) in [
        (json!([]), "along: found nothing"),
        (json!([span("can.wall"), span("can.bottom"), span("void_height")]), "along: found 3 inputs"),
        (json!([span("can.wal")]), "perhaps \"can.wall\" was meant"),
        (json!([span("void_height")]), "this one follows from others"),
        (json!([span("can.height"), span("cathode.width")]), "the void height that it leaves is held"),
        (json!([span("can.wall"), span("can.wall")]), "the same input a second time"),
        (json!([{ "from": "1 mm", "to": "2 mm", "steps": 4 }]), "along[0].key: found nothing"),
        (json!([{ "key": "can.wall", "from": "1 mm", "to": "1 mm", "steps": 4 }]), "the range has two ends"),
        (
            json!([{ "key": "can.wall", "from": "1 ± 0.1 mm", "to": "2 mm", "steps": 0 }]),
            "with an uncertainty",
        ),
        (json!([{ "key": "can.wall", "from": "1 mm", "to": "2 mm", "steps": 4_000_000 }]), "4000001 cells"),
        (
            json!([{ "key": "cathode.mix[0].share", "from": "1 %", "to": "2 %", "steps": 3 }]),
            "takes what the others leave",
        ),
    ] {
        let diagnostics = sweep(along).join("\n");
        assert!(diagnostics.contains(saying), "{saying}: {diagnostics}");
    }
}

/// A can of which only the size's name is known goes by that name, though such cans are a little larger.
#[test]
fn a_size_that_is_named_is_called_so() {
    let mut question = map_question();
    question["sheet"]["can"] = json!({ "size": "46 × 95", "wall": "0.5 mm", "bottom": "0.8 mm" });
    let map = ok(&ask::map(&question.to_string(), &alone()));
    assert!(map["own"]["diameter"].as_f64().unwrap() > 46.0);
    assert_eq!(map["own"]["designation"], "IR46/95");
}
