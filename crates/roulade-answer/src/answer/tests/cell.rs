//! What one cell's answer says of the balance, the elements, the swelling and the current path.

use crate::answer::Comparison;
use crate::test_support::{answer, read, with};
use approx::{assert_abs_diff_eq, assert_relative_eq};
use roulade::cell::draft::Draft;
use roulade::sheet::Sheet;
use serde_json::json;

#[test]
fn ends_are_reported_in_words() {
    let remarks = answer(&[]).remarks;
    assert!(
        remarks.contains(&"Charge ends at the charge cut-off voltage, 4.100 V.".to_owned()),
        "{remarks:?}"
    );
}

#[test]
fn a_measured_composition_reaches_its_elements() {
    let metals = |nickel: &str, manganese: &str| json!({ "name": "C", "density": "5 g/cm3", "metals": { "nickel": nickel, "cobalt": "0.1", "manganese": manganese } });
    // Its fraction's uncertainty reaches the elements, with lithium from the electrolyte besides.
    let answer = answer(&[("materials/3", metals("0.80 ± 0.01", "0.10 ± 0.01"))]);
    let row = |id: &str| answer.elements.rows.iter().find(|row| row.id == id).unwrap();
    let nickel = row("Ni");
    assert!(nickel.mass.u.unwrap() / nickel.mass.value > 0.002, "{}", nickel.mass.text);
    let rows = &answer.compositions[0].rows;
    let figure = |id: &str| &rows.iter().find(|row| row.id == id).unwrap().figure;
    assert_abs_diff_eq!(figure("molar_mass").value, 97.28, epsilon = 0.001);
    assert_abs_diff_eq!(figure("theoretical_capacity").value, 275.51, epsilon = 0.005);
    assert_abs_diff_eq!(figure("density").value, 5.0);
    assert_abs_diff_eq!(figure("distance").value, 0.0, epsilon = 1e-9);
    assert_eq!(answer.compositions[0].formula, "LiNi0.8Co0.1Mn0.1O2");
    assert_eq!(answer.compositions[0].nearest, "NMC811");
}

#[test]
fn an_overfilled_charged_can_is_reported_and_answered() {
    let all = answer(&[("anode/swelling", json!("40 %"))]);
    let remark =
        all.remarks.iter().find(|remark| remark.starts_with("Fully charged, the jelly roll would be"));
    assert!(remark.unwrap().ends_with("A computed fit is not a safety margin."), "{remark:?}");
    let row = |id: &str| {
        all.tables.iter().flat_map(|table| &table.rows).find(|row| row.id == id).map(|row| row.figure.value)
    };
    assert!(row("swelling.radial_clearance_charged").unwrap() < 0.0);
    // A mix whose hosts do not say how they swell has no such figures; the demo cells have.
    assert!(answer(&[]).tables.iter().all(|table| table.title != "Swelling"));
}

#[test]
fn the_table_of_an_answer_adds_up() {
    let all = answer(&[]);
    let sum: f64 = all.path.lines.iter().map(|line| line.resistance.value).sum();
    let cell = all.path.totals.last().unwrap();
    assert_relative_eq!(cell.resistance.value, sum, max_relative = 1e-12);
    assert_relative_eq!(cell.share.value, 100.0, max_relative = 1e-12);
    let heat: f64 = all.path.lines.iter().map(|line| line.heat.value).sum();
    assert_relative_eq!(cell.heat.value, heat, max_relative = 1e-12);
    let current = all.path.current.value;
    assert_relative_eq!(heat, current * current * sum * 1e-3, max_relative = 1e-12);
}

#[test]
fn the_drawn_curve_under_load_ends_at_the_limit() {
    let curve =
        answer(&[("current_path", json!({ "c_rate": "2 C", "electrochemical": "10 mΩ" }))]).curve.unwrap();
    assert_relative_eq!(*curve.loaded_voltage.last().unwrap(), 3.0, max_relative = 1e-6);
    assert!(curve.loaded_voltage[0] < curve.voltage[0]);
    assert!(curve.loaded_capacity.last() < curve.capacity.last());
    assert_eq!(curve.loaded_capacity.len(), curve.loaded_voltage.len());
}

#[test]
fn a_load_that_is_too_heavy_is_reported() {
    let said = answer(&[("current_path", json!({ "c_rate": "40 C", "electrochemical": "10 mΩ" }))]);
    assert!(said.remarks.iter().any(|remark| remark.starts_with("The load is too heavy")));
    assert!(said.curve.unwrap().loaded_voltage.is_empty());
}

#[test]
fn a_plate_taken_out_takes_its_resistance_along() {
    let before = with(&[("current_path", json!({ "anode": { "plate": "plate" } }))]);
    let parsed = Sheet::parse(&before.to_string()).unwrap();
    let after = roulade::study::remove::without(parsed, &["plate"], None, 1.0).unwrap();
    // The hardware alone: the first cell with the joints of the second.
    let answer = Comparison::of(&read(&before).unwrap(), &Draft::read(&after).unwrap()).unwrap();
    let all = answer.reclaim.iter().find(|reclaim| (reclaim.share - 1.0).abs() < 1e-12).unwrap();
    let bought = all.rows.iter().find(|row| row.id == "resistance.metal").unwrap();
    let whole = answer.figures.iter().find(|row| row.id == "resistance.metal").unwrap();
    assert_relative_eq!(bought.change.value, whole.change.value, max_relative = 1e-9);
    let line = answer.path.iter().find(|change| change.line == "anode collector plate").unwrap();
    assert!(line.resistance.first.value > 0.0 && line.resistance.second.value == 0.0);
}
