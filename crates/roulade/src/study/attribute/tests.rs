mod grouping;

use super::corner::Source;
use super::merit::Merit;
use super::*;
use crate::cell::draft::Draft;
use crate::sheet::Sheet;
use crate::study::attribute::{Changes, Prices};
use crate::test_support::{sheet, with};
use approx::assert_relative_eq;
use proptest::prelude::*;
use roulade_stats::executor::{OneByOne, alone};
use serde_json::{Value, json};
use std::cell::Cell;

fn read(sheet: &Value) -> Sheet {
    Sheet::parse(&sheet.to_string()).unwrap()
}

fn demo(name: &str) -> Sheet {
    Sheet::parse(match name {
        "marram a" => include_str!("../../../../../demo/marram-a.json"),
        "marram b" => include_str!("../../../../../demo/marram-b.json"),
        _ => include_str!("../../../../../demo/marram-small.json"),
    })
    .unwrap()
}

fn ask<'a>(first: &'a Sheet, second: &'a Sheet) -> Question<'a> {
    Question { first, second, changes: None, prices: None, draws: 2, seed: 1, sharing: 1 }
}

fn automatic(first: &Value, second: &Value) -> Vec<(String, Vec<String>)> {
    named(&changes(&read(first), &read(second), None).unwrap())
}

fn named((overlay, changes): &(Overlay, Vec<Change>)) -> Vec<(String, Vec<String>)> {
    let keys = |change: &Change| change.edits.iter().map(|i| overlay.edits()[*i].key.clone()).collect();
    changes.iter().map(|change| (change.name.clone(), keys(change))).collect()
}

fn listed(first: &Value, second: &Value, list: &Value) -> Result<Vec<(String, Vec<String>)>, Vec<String>> {
    let list = Changes::parse(&list.to_string()).unwrap();
    let written = |problems: Problems| problems.0.iter().map(ToString::to_string).collect();
    changes(&read(first), &read(second), Some(&list)).map(|found| named(&found)).map_err(written)
}

#[test]
fn the_last_corner_is_the_second_cell_and_contributions_add_to_the_whole() {
    let other = with(&[
        ("cathode/mix/1/share", json!("8 %")),
        ("cathode/loading", json!(null)),
        ("cathode/porosity", json!("30 %")),
        ("cathode/width", json!(null)),
        ("void_height", json!("0.5 mm")),
        ("anode/loading", json!(null)),
        ("anode/n_to_p", json!("1.2")),
        ("winding/radial_clearance", json!(null)),
        ("winding/cathode_length", json!("3500 mm")),
        ("can/material", json!("light metal")),
        ("parts/3", json!({ "name": "spring", "place": "in core", "mass": "0.5 g", "material": "metal" })),
    ]);
    let pairs = vec![
        (demo("marram a"), demo("marram b")),
        (demo("marram b"), demo("marram a")),
        (read(&sheet()), read(&other)),
        (read(&other), read(&sheet())),
    ];
    for (first, second) in &pairs {
        let found = of(&ask(first, second), &alone()).unwrap();
        let own = |sheet| {
            let draft = Draft::read(sheet).unwrap();
            Worked::at(&draft, &draft.values()).unwrap()
        };
        let ends = [own(first), own(second)];
        for shared in &found.figures {
            let Merit::Figure(figure) = shared.merit else { continue };
            assert_relative_eq!(shared.first, (figure.of)(&ends[0]).unwrap(), max_relative = 1e-13);
            assert_relative_eq!(shared.second, (figure.of)(&ends[1]).unwrap(), max_relative = 1e-12);
            let sum: f64 =
                shared.contributions.iter().map(|contribution| contribution.contribution.value).sum();
            let rounding = 16.0 * f64::EPSILON * shared.first.abs().max(shared.second.abs());
            assert!(
                (sum - shared.whole.value).abs() <= rounding,
                "{}: {sum} {}",
                figure.id,
                shared.whole.value
            );
        }
        assert_eq!(found.corners, 1 << found.changes.len());
    }
}

#[test]
fn every_input_of_every_corner_has_its_source() {
    let (first, second) = (demo("marram a"), demo("marram b"));
    let (overlay, changes) = changes(&first, &second, None).unwrap();
    let (a, b) = (Draft::read(&first).unwrap(), Draft::read(&second).unwrap());
    let cells = Cells {
        overlay: &overlay,
        changes: &changes,
        drafts: [&a, &b],
        merits: &[],
        prices: None,
        curve_cache: CurveCache::default(),
    };
    let sought = cells.sought();
    let mut seen = 0;
    for corner in 0..1 << changes.len() {
        let Ok(corner) = cells.corner(corner, &sought) else { continue };
        // What follows from the other shares is no input.
        let own =
            corner.sources.iter().filter(|source| matches!(source, Source::Own(value) if *value != 0.0));
        assert_eq!(own.count(), 0);
        seen += 1;
    }
    assert!(seen > 1, "{seen}");
}

#[test]
fn a_contribution_by_hand() {
    // The lid loses a gram, the can's bottom nothing: mass, and energy per mass with it.
    let (a, b) = (
        read(&sheet()),
        read(&with(&[("parts/1/mass", json!("3 g")), ("voltage/discharge_cut_off", json!("3.1 V"))])),
    );
    let found = of(&ask(&a, &b), &alone()).unwrap();
    let names: Vec<&str> = found.changes.iter().map(|change| change.name.as_str()).collect();
    assert_eq!(names, ["other plate", "voltage window"]);
    let mass = found
        .figures
        .iter()
        .find(|shared| matches!(shared.merit, Merit::Figure(f) if f.id == "mass"))
        .unwrap();
    assert_relative_eq!(mass.contributions[0].contribution.value, -1e-3, max_relative = 1e-9);
    assert_eq!((mass.contributions[1].contribution.value, mass.pairs.len()), (0.0, 0));
    let ends = [mass.contributions[0].first_in.unwrap().value, mass.contributions[0].last_in.unwrap().value];
    assert!(ends.iter().all(|end| (end + 1e-3).abs() < 1e-12), "{ends:?}");
}

#[test]
fn corners_that_cannot_be_are_reported_and_passed_over() {
    // The width fits only once both parts are thinner.
    let second = with(&[
        ("parts/1/axial_clearance", json!("0.5 mm")),
        ("parts/2/height", json!("3 mm")),
        ("cathode/width", json!("85.5 mm")),
    ]);
    let (a, b) = (read(&sheet()), read(&second));
    let found = of(&ask(&a, &b), &alone()).unwrap();
    assert_eq!((found.corners, found.impossible.len()), (8, 3));
    assert!(found.impossible.iter().all(|corner| corner.made.contains(&2)), "{:?}", found.impossible);
    assert!(found.impossible[0].why.0[0].to_string().contains("mm"), "{:?}", found.impossible);
    let volumetric = &found.figures[0];
    assert!(volumetric.contributions[2].first_in.is_none() && volumetric.contributions[2].last_in.is_some());
    let sum: f64 = volumetric.contributions.iter().map(|contribution| contribution.contribution.value).sum();
    assert_relative_eq!(sum, volumetric.whole.value, max_relative = 1e-12);
    // All of the energy comes with the width, and both parts come before it.
    assert_relative_eq!(
        volumetric.contributions[2].contribution.value,
        volumetric.whole.value,
        max_relative = 1e-12
    );
    // A taller lid needs the taller can, a longer web the wider one: each by itself cannot be.
    let first =
        with(&[("winding/radial_clearance", json!(null)), ("winding/cathode_length", json!("3500 mm"))]);
    let mut second = first.clone();
    second["parts"][2]["height"] = json!("10 mm");
    second["can"]["diameter"] = json!("60 mm");
    second["can"]["height"] = json!("105 mm");
    second["winding"]["cathode_length"] = json!("5600 mm");
    let list = json!({ "changes": [{ "name": "lid", "keys": ["parts[lid]", "can.diameter"] },
        { "name": "web", "keys": ["can.height", "winding.cathode_length"] }] });
    let list = Changes::parse(&list.to_string()).unwrap();
    let (first, second) = (read(&first), read(&second));
    let diagnostic =
        of(&Question { changes: Some(&list), ..ask(&first, &second) }, &alone()).unwrap_err().to_string();
    assert!(diagnostic.starts_with("changes: found 2 changes of which no order can be made"), "{diagnostic}");
    assert!(diagnostic.contains("of 4 cells between the two, 2 can be built"), "{diagnostic}");
}

#[test]
fn prices_by_hand() {
    let prices = Prices::parse(
        &json!({ "per_kg": { "metal": 2, "light metal": 5, "gold": 1 }, "per_part": { "lid": 0.5 }, "currency": "X" }).to_string(),
    )
    .unwrap();
    let (a, b) =
        (read(&sheet()), read(&with(&[("parts/1/mass", json!("3 g")), ("can/wall", json!("0.4 mm"))])));
    let question = Question { prices: Some(&prices), ..ask(&a, &b) };
    let found = of(&question, &alone()).unwrap();
    assert_eq!(
        found.unpriced,
        ["A", "plastic", "C", "electrolyte", "polypropylene"]
            .map(str::to_owned)
            .into_iter()
            .collect::<Vec<_>>()
    );
    assert_eq!(found.unused, ["gold"]);
    let cost = found.figures.iter().find(|shared| matches!(shared.merit, Merit::Cost)).unwrap();
    let plate = found.changes.iter().position(|change| change.name == "other plate").unwrap();
    // A gram of metal less.
    assert_relative_eq!(cost.contributions[plate].contribution.value, -2e-3, max_relative = 1e-9);
    let misspelt = Prices::parse(&json!({ "per_kgs": { "copper": 9 } }).to_string()).unwrap();
    let refused = of(&Question { prices: Some(&misspelt), ..ask(&a, &b) }, &alone()).unwrap_err();
    let expected = "prices.per_kgs: found a key that is not known here; expected one of the keys known here; perhaps \"per_kg\"";
    assert!(refused.to_string().starts_with(expected), "{refused}");
    // Without a price there is no cost, but what could be priced is told.
    let none = Prices::parse(&json!({ "per_kg": {} }).to_string()).unwrap();
    let open = of(&Question { prices: Some(&none), ..ask(&a, &b) }, &alone()).unwrap();
    assert_eq!((open.figures.len(), open.unpriced.len()), (found.figures.len() - 2, 7));
    for list in [
        json!({ "per_kg": { "copper": -1 } }),
        json!({ "per_kg": { "copper": "9" } }),
        json!({ "per_kg": [] }),
    ] {
        assert!(Prices::parse(&list.to_string()).is_err(), "{list}");
    }
}

#[test]
fn draws_repeat_and_agree_with_first_order() {
    let (first, second) = (demo("marram a"), demo("marram b"));
    // Two changes: the plate, and everything else.
    let list = json!({ "changes": [{ "name": "all else", "keys": ["cathode.foil", "cathode.mix", "cathode.loading",
        "cathode.thickness", "anode.foil", "anode.mix", "anode.loading", "anode.thickness", "separator"] }] });
    let list = Changes::parse(&list.to_string()).unwrap();
    let asked = Question { changes: Some(&list), ..ask(&first, &second) };
    let drawn = |seed, draws| of(&Question { draws, seed, ..asked }, &alone()).unwrap();
    let (a, again, other) = (drawn(1, 20), drawn(1, 20), drawn(2, 20));
    assert_eq!(a.figures[0].whole, again.figures[0].whole);
    assert_ne!(a.figures[0].whole, other.figures[0].whole);
    assert!(a.answered > 10 && a.answered <= 20, "{}", a.answered);
    let (linear, many) = (drawn(1, 0), drawn(3, 400));
    assert_eq!((linear.answered, linear.changes.len()), (0, 2));
    for (drawn, linear) in many.figures.iter().zip(&linear.figures) {
        // Nearly linear in the readings; four hundred draws know a spread to 4 %.
        let at = linear.contributions.len() - 1;
        let (drawn, linear) = (drawn.contributions[at].contribution, linear.contributions[at].contribution);
        assert_relative_eq!(drawn.value, linear.value, max_relative = 1e-12);
        assert!((drawn.u - linear.u).abs() <= 0.15 * linear.u, "{drawn:?} {linear:?}");
        let wide = drawn.interval[1] - drawn.interval[0];
        assert!((wide - 3.92 * linear.u).abs() <= 0.25 * wide, "{drawn:?} {linear:?}");
    }
}

#[test]
fn questions_out_of_range_are_refused() {
    let (a, b) = (demo("marram a"), demo("marram b"));
    for draws in [1, MOST_DRAWS + 1] {
        let diagnostics = of(&Question { draws, ..ask(&a, &b) }, &alone()).unwrap_err().to_string();
        assert!(diagnostics.starts_with("draws: found"), "{diagnostics}");
    }
    let bad = read(&with(&[("can/wall", json!("5 g"))]));
    let diagnostics = of(&ask(&bad, &bad), &alone()).unwrap_err();
    let places: Vec<&str> = diagnostics.0.iter().map(|problem| problem.place.as_str()).collect();
    assert_eq!(places, ["first.can.wall", "second.can.wall"]);
    let tall = read(&with(&[("cathode/width", json!("90 mm"))]));
    let diagnostics = of(&ask(&a, &tall), &alone()).unwrap_err();
    assert!(diagnostics.0[0].place.starts_with("second"), "{diagnostics}");
}

#[test]
fn progress_is_reported() {
    let (a, b) = (demo("marram a"), demo("marram b"));
    let reported = Cell::new((0, 0));
    let executor = OneByOne(|done, of| reported.set((done, of)));
    of(&Question { draws: 5, ..ask(&a, &b) }, &executor).unwrap();
    assert_eq!(reported.get(), (5, 5));
}

#[test]
fn seventeen_changes_are_drawn_and_say_so() {
    let entries = [
        ("can/wall", json!("0.48 mm")),
        ("can/bottom", json!("0.5 mm")),
        ("winding/core_diameter", json!("3.8 mm")),
        ("winding/outer_turns", json!("1.2")),
        ("winding/anode_overhang_start", json!("0.4")),
        ("cathode/foil/thickness", json!("11 µm")),
        ("cathode/loading", json!("20.2 mg/cm2")),
        ("cathode/thickness", json!("51 µm")),
        ("cathode/mix/1/share", json!("9 %")),
        ("anode/foil/thickness", json!("7 µm")),
        ("anode/loading", json!("10.5 mg/cm2")),
        ("anode/thickness", json!("104 µm")),
        ("anode/overhang", json!("0.6 mm")),
        ("separator/thickness", json!("18 µm")),
        ("separator/porosity", json!("45 %")),
        ("electrolyte/excess", json!("8 %")),
        ("voltage/charge_cut_off", json!("4.15 V")),
    ];
    let (a, b) = (read(&sheet()), read(&with(&entries)));
    let key = |path: &str| path.replace('/', ".").replace("mix.1", "mix[plastic]");
    let list: Vec<Value> =
        entries.iter().map(|(path, _)| json!({ "name": path, "keys": [key(path)] })).collect();
    let list = Changes::parse(&json!({ "changes": list }).to_string()).unwrap();
    let question = Question { changes: Some(&list), ..ask(&a, &b) };
    let found = of(&Question { draws: 2, ..question }, &alone()).unwrap();
    assert!(!found.exact && found.changes.len() == 17);
    for shared in &found.figures {
        let sum: f64 = shared.contributions.iter().map(|contribution| contribution.contribution.value).sum();
        assert_relative_eq!(sum, shared.whole.value, max_relative = 1e-9, epsilon = 1e-9);
        assert!(
            shared.contributions.iter().all(|contribution| contribution.standard_error.is_some())
                && shared.pairs.is_empty()
        );
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, ..ProptestConfig::default() })]
    /// Whatever differs belongs to one change and to one only, and a sheet with every change made is the second.
    #[test]
    fn nothing_that_differs_is_left_outside(picked in proptest::collection::vec(proptest::bool::ANY, 22)) {
        let entries = [
            ("can/diameter", json!("46.5 mm")), ("can/wall", json!("0.4 mm")), ("can/mass", json!("50 g")),
            ("can/material", json!("light metal")), ("parts/0/height", json!("0.3 mm")), ("parts/1/material", json!("light metal")),
            ("parts/2/solid_fraction", json!("30 %")), ("winding/anode_overhang_end", json!("1.1")), ("cathode/foil/material", json!("metal")),
            ("cathode/mix/1/share", json!("7 %")), ("cathode/loading", json!("19 mg/cm2")), ("cathode/uncoated_margin", json!("3 mm")),
            ("cathode/initial_coulombic_efficiency", json!("95 %")), ("anode/mix/0/material", json!("graphite")),
            ("anode/overhang", json!("0.4 mm")), ("separator/margin", json!("0.6 mm")), ("separator/ceramic_thickness", json!("2 µm")),
            ("electrolyte/density", json!("1.3 g/cm3")), ("voltage/nominal", json!("3.7 V")), ("materials/2/density", json!("1.9 g/cm3")),
            ("cathode/width", json!("79 mm")), ("parts/3", json!({ "name": "pin", "place": "in core", "mass": "1 g", "material": "metal" })),
        ];
        let chosen: Vec<_> = entries.into_iter().zip(&picked).filter(|(_, yes)| **yes).map(|(entry, _)| entry).collect();
        let (first, second) = (read(&sheet()), read(&with(&chosen)));
        let (overlay, found) = changes(&first, &second, None).unwrap();
        prop_assert!(overlay.edits().len() >= chosen.len());
        for i in 0..overlay.edits().len() {
            prop_assert_eq!(found.iter().filter(|change| change.edits.contains(&i)).count(), 1);
        }
        let mut names: Vec<&str> = found.iter().map(|change| change.name.as_str()).collect();
        names.sort_unstable();
        names.dedup();
        prop_assert_eq!(names.len(), found.len());
        let drafted = |sheet: &Sheet| Draft::read(sheet).unwrap();
        let made = drafted(&overlay.sheet(|_| true).unwrap());
        let wanted = drafted(&second);
        for input in wanted.inputs() {
            let own = made.inputs().iter().find(|own| own.key == input.key);
            prop_assert_eq!(own.map(|own| own.uncertain), Some(input.uncertain), "{}", input.key);
        }
    }
}
