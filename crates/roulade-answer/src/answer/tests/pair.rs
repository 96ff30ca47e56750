//! Two cells side by side.

use super::super::*;
use super::close;
use crate::answer::change::FigureChange;
use crate::answer::figure_writer::Writing;
use crate::test_support::{answer, compared, sheet, with};
use approx::assert_relative_eq;
use roulade::quantity::units::Unit;
use serde_json::json;

/// Two millimetres of 91 and a plate of 4 g: the shares between are in proportion.
#[test]
fn what_a_part_buys_by_hand() {
    let without = with(&[
        ("parts", json!([sheet()["parts"][0], sheet()["parts"][2]])),
        ("cathode/width", json!("81 mm")),
        ("made_from", json!("by hand")),
        ("cell", json!("bare")),
    ]);
    let all = compared(&sheet(), &without);
    let freed = all.freed.as_ref().unwrap();
    assert_eq!(
        (freed.left.as_slice(), freed.came.len(), freed.changed.len()),
        (["plate".to_owned()].as_slice(), 0, 0)
    );
    close(freed.height.value, 2.0);
    close(freed.volume.value, 2.0 * 0.50625 * std::f64::consts::PI);
    close(freed.solid_volume.value, 0.5);
    close(freed.mass.value, 4.0);
    let [from, to] = freed.z.unwrap();
    close(from, 1.0);
    close(to, 3.0);
    let headings: Vec<String> = all.reclaim.iter().map(Reclaim::heading).collect();
    assert_eq!(headings, ["none of it", "as designed: 50 % of it", "all of it"]);
    let gain = |i: usize, id: &str| {
        all.reclaim[i].rows.iter().find(|row| row.id == id).unwrap().percent.as_ref().unwrap().value
    };
    // Capacity goes with the width, 80 to 80, 81 and 82 mm.
    close(gain(0, "capacity"), 0.0);
    close(gain(1, "capacity"), 1.25);
    close(gain(2, "volumetric"), 2.5);
    assert!(gain(0, "gravimetric") > 1.0);
    let text = &all.answer.text;
    assert!(text.starts_with("Removing the plate frees "), "{text}");
    assert!(text.contains(", of which 50 % becomes electrode: "), "{text}");
    // Nothing but hardware differs: one sentence is enough.
    assert!(!text.contains("With all other changes"), "{text}");
    let rows: Vec<(&str, &str, &str)> =
        all.inputs.iter().map(|r| (r.path.as_str(), r.first.as_str(), r.second.as_str())).collect();
    assert!(rows.contains(&("cathode.width", "80 mm", "81 mm")), "{rows:?}");
    assert!(rows.contains(&("parts[1].mass", "4 g", "")), "{rows:?}");
    let plate = all.ledger.iter().find(|line| line.line == "plate").unwrap();
    close(plate.mass.as_ref().unwrap().change.value, -4.0);
    assert!(all.ledger.iter().filter(|line| line.mass.is_none()).count() == 8);
    // Each half is the answer about its own cell.
    let alone = answer(&[]);
    assert_eq!(all.first.headline[1].figure, alone.headline[1].figure);
    assert_eq!(all.second.headline[0].figure.text, {
        let second = crate::test_support::read(&without).unwrap();
        EstimateAnswer::of(&second).unwrap().headline[0].figure.text.clone()
    });
}

#[test]
fn the_other_way_round_height_is_lost() {
    let without = with(&[
        ("parts", json!([sheet()["parts"][0], sheet()["parts"][2]])),
        ("cathode/width", json!("82 mm")),
        ("cell", json!("bare")),
    ]);
    let text = compared(&without, &sheet()).answer.text;
    assert!(text.starts_with("Adding the plate changes the free height by −"), "{text}");
    assert!(!text.contains("becomes electrode"), "{text}");
    let all = compared(&without, &sheet());
    assert!(
        all.inputs
            .iter()
            .any(|row| row.path == "parts[1].mass" && row.first.is_empty() && row.second == "4 g")
    );
    // Lines that only the second has stand with their group.
    let groups: Vec<_> = all.ledger.iter().map(|line| line.group).collect();
    assert!(groups.windows(2).all(|pair| pair[0] <= pair[1]), "{groups:?}");
    assert!(all.ledger.iter().any(|line| line.line == "plate"));
}

#[test]
fn with_more_than_hardware_the_whole_is_reported_too() {
    let first = sheet();
    let second = with(&[
        (
            "parts/1",
            json!({ "name": "ring", "place": "below roll", "height": "0.2 mm", "mass": "1 g", "material": "metal" }),
        ),
        ("cathode/width", json!("81.8 mm")),
        ("cathode/foil/thickness", json!("10 µm")),
        ("cell", json!("other")),
    ]);
    let text = compared(&first, &second).answer.text;
    assert!(text.starts_with("Replacing the plate with the ring frees "), "{text}");
    assert!(
        text.contains("of which all becomes electrode")
            && text.contains(" With all other changes, other is expected to give, from assumptions alone: "),
        "{text}"
    );
    let text =
        compared(&first, &with(&[("cathode/foil/thickness", json!("10 µm")), ("cell", json!("other"))]))
            .answer
            .text;
    assert!(
        text.starts_with("Compared with by hand, other is expected to give, from assumptions alone: "),
        "{text}"
    );
    let text = compared(&first, &with(&[("anode/fold_height", json!("0.5 mm"))])).answer.text;
    assert!(
        text.starts_with("Changing the folded foil edges frees ")
            && text.contains("of which nothing becomes"),
        "{text}"
    );
}

#[test]
fn a_part_that_only_weighs_otherwise_is_one_change_among_others() {
    let heavier = with(&[("parts/1/mass", json!("5 g")), ("cell", json!("other"))]);
    let both = compared(&with(&[]), &heavier);
    assert!(
        both.answer
            .text
            .starts_with("Compared with by hand, other is expected to give, from assumptions alone: "),
        "{}",
        both.answer.text
    );
    assert_eq!(both.freed.unwrap().changed, ["plate"]);
}

#[test]
fn inputs_of_two_cells_are_reported_apart() {
    let noted = |cell: &str| {
        with(&[
            ("cathode/loading", json!({ "value": "20 ± 0.3 mg/cm2", "from": "measured" })),
            ("cell", json!(cell)),
        ])
    };
    let (first, second) = (noted("one"), noted("two"));
    let all = compared(&first, &second);
    let sensitivity = all.answer.sensitivity;
    let labels: Vec<&str> = sensitivity.iter().take(2).map(|share| share.label.as_str()).collect();
    assert!(
        labels.contains(&"Cathode: areal mass loading, per side (one)")
            && labels.contains(&"Cathode: areal mass loading, per side (two)"),
        "{labels:?}"
    );
    let own = &all.first.answer.sensitivity;
    assert_eq!(own[0].label, "Cathode: areal mass loading, per side");
    assert!((own[0].share - 1.0).abs() < 1e-6);
}

#[test]
fn an_uncertainty_that_fits_neither_way_whole_is_carried_by_smaller_steps() {
    // Neither 7.2 V nor 1.2 V is a voltage at which the pair can stop charging; some millivolts more or less are.
    let alone = answer(&[("voltage/charge_cut_off", json!("4.2 ± 3 V"))]);
    let said = |remarks: &[String]| {
        remarks.iter().filter(|r| r.contains("charge cut-off voltage (4.2 ± 3 V) is left out")).count()
    };
    assert_eq!(said(&alone.remarks), 0, "{:?}", alone.remarks);
    let u = |all: &EstimateAnswer| {
        all.headline.iter().find(|row| row.id == "capacity").and_then(|row| row.figure.u)
    };
    assert!(u(&alone) > u(&answer(&[])), "{:?}", u(&alone));
}

/// What is said first is what the second cell makes of the height, so its uncertainty comes from both widths; what all of the height
/// would buy does not.
#[test]
fn a_comparison_names_what_the_uncertainty_it_says_first_comes_from() {
    let width = |text: &str| json!({ "value": text, "from": "measured" });
    let first = with(&[("cathode/width", width("80 ± 0.1 mm"))]);
    let second = with(&[
        ("parts", json!([sheet()["parts"][0], sheet()["parts"][2]])),
        ("cathode/width", width("81 ± 0.2 mm")),
        ("cell", json!("bare")),
    ]);
    let sensitivity = compared(&first, &second).answer.sensitivity;
    assert_eq!(sensitivity[0].label, "Cathode: coated width (bare)");
    // 0.2² of 0.2² + 0.1², nearly: a wider first cell also gains from less.
    assert!((sensitivity[0].share - 0.8).abs() < 0.02, "{sensitivity:?}");
}

#[test]
fn a_difference_below_rounding_is_none() {
    let between = |first: f64, second: f64| {
        let none = [0.0; 4];
        FigureChange::write(&mut Writing::with(&none), ("x", "an x"), Unit::Metre, first, second).change.value
    };
    // 0.1 + 0.2 is 0.3 but for its last bit, 1.9e-16 of it.
    assert!(between(0.3, 0.1 + 0.2).abs() < f64::MIN_POSITIVE);
    assert_relative_eq!(between(100.0, 100.0 + 1e-8), 1e-8, max_relative = 1e-5);
    assert_relative_eq!(between(0.001, 0.001 + 1e-13), 1e-13, max_relative = 1e-2);
}

#[test]
fn a_derived_sheet_that_was_changed_further_keeps_its_changes() {
    let first = with(&[]);
    let made = |loading: &str| {
        with(&[
            ("parts", json!([sheet()["parts"][0], sheet()["parts"][2]])),
            ("cathode/loading", json!(loading)),
            ("cell", json!("other")),
            ("made_from", json!("by hand")),
        ])
    };
    let second = made("18 mg/cm²");
    let alone = EstimateAnswer::of(&crate::test_support::read(&second).unwrap()).unwrap();
    let both = compared(&first, &second);
    let capacity = |rows: &[Row]| rows.iter().find(|row| row.id == "capacity").unwrap().figure.value;
    close(capacity(&both.second.headline), capacity(&alone.headline));
    assert!(
        both.answer
            .text
            .contains(" With all other changes, other is expected to give, from assumptions alone: "),
        "{}",
        both.answer.text
    );
}
