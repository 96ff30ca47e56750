//! The writer, the figures, the sentences and the drawings.

mod cell;
mod pair;
mod study;

use super::change::FigureChange;
use super::figure_writer::{FigureWriter, Noting, Writing};
use super::sentence::{VarianceShare, Words, listed};
use super::*;
use crate::test_support::{answer, demo, draft};
use approx::assert_relative_eq;
use roulade::cell::figures::FIGURES;
use roulade::quantity::units::Unit;
use serde_json::{Value, json};

#[track_caller]
fn close(a: f64, b: f64) {
    assert_relative_eq!(a, b, max_relative = 1e-9, epsilon = 1e-12);
}

#[test]
fn noting_and_writing_count_the_same() {
    fn through<W: FigureWriter>(
        writer: &mut W,
    ) -> (W::Figure, W::Figure, W::Figure, FigureChange<W::Figure>) {
        let length = writer.figure(0.0123, Unit::Millimetre);
        let rest = writer.rounding(1e-9, Unit::CubicMillimetre);
        let more = writer.difference(0.002, Unit::Millimetre);
        let change = FigureChange::write(writer, ("x", "an x"), Unit::Gram, 0.0, 0.001);
        (length, rest, more, change)
    }
    let mut noting = Noting::new();
    through(&mut noting);
    assert_eq!(noting.count(), 7);
    assert_eq!(noting.noted(), [0.0123, 1e-9, 0.002, 0.0, 0.001, 0.001, 0.0]);

    let u = [0.0001, 1e-9, 0.00004, 0.0, 1e-16, 0.00002];
    let mut writing = Writing::with(&u);
    let (length, rest, more, change) = through(&mut writing);
    assert_eq!(writing.count(), 7);
    assert_eq!((length.text.as_str(), length.unit), ("12.30 ± 0.10 mm", "mm"));
    close(length.value, 12.3);
    close(length.u.unwrap(), 0.1);
    assert_eq!(length.without_u(), "12.30 mm");
    assert_eq!((rest.u, rest.text.as_str()), (None, "1.000 mm³"));
    assert_eq!(more.text, "+2.00 ± 0.04 mm");
    // An uncertainty below the rounding of its value is none; a change over nothing has no per cent.
    assert_eq!(change.second.u, None);
    assert!(change.percent.is_none());
    assert_eq!(change.change.text, "+1.000 ± 0.020 g");
}

#[test]
fn counts_have_no_decimals() {
    let mut writer = Writing::with(&[0.0, 0.0, 0.0, 0.2]);
    assert_eq!(writer.figure(5.0, Unit::One).text, "5");
    assert_eq!(writer.figure(1.25, Unit::One).text, "1.250");
    assert_eq!(writer.figure(5.0, Unit::Turn).text, "5.000 turns");
    assert_eq!(writer.figure(5.0, Unit::One).text, "5.00 ± 0.20");
}

#[test]
fn a_change_is_second_less_first() {
    let mut writer = Writing::with(&[]);
    let change = FigureChange::write(&mut writer, ("mass", "mass"), Unit::Gram, 0.25, 0.2);
    close(change.first.value, 250.0);
    close(change.second.value, 200.0);
    close(change.change.value, -50.0);
    close(change.percent.unwrap().value, -20.0);
    // What rounding leaves between two alike is no change.
    let alike = FigureChange::write(&mut writer, ("mass", "mass"), Unit::Gram, 0.25, 0.25 * (1.0 + 4e-16));
    assert_eq!((alike.change.value, alike.percent.unwrap().value), (0.0, 0.0));
}

#[test]
fn words_of_a_sentence() {
    let names =
        |n: usize| listed(&["a", "b", "c"].iter().take(n).map(ToString::to_string).collect::<Vec<_>>());
    assert_eq!([names(0), names(1), names(2), names(3)], ["", "a", "a and b", "a, b and c"]);
    let figure = Writing::with(&[]).figure(0.25, Unit::Gram);
    let share = VarianceShare { path: String::new(), label: String::new(), share: 0.484 };
    assert_eq!(share.percent(), "48 %");
    let sentence = Words::default().say("It is ").number(&figure).done(vec![share], "all".to_owned());
    assert_eq!(sentence.text, "It is 250.0 g");
    assert_eq!(sentence.runs.iter().map(|run| run.strong).collect::<Vec<_>>(), [false, true]);
    assert_eq!((sentence.sensitivity.len(), sentence.assumed.as_str()), (1, "all"));
}

#[test]
fn every_figure_has_its_own_name_and_its_unit() {
    for (i, shown) in FIGURES.iter().enumerate() {
        assert!(FIGURES.iter().skip(i + 1).all(|other| other.id != shown.id), "{}", shown.id);
        assert!(!shown.label.is_empty() && !shown.table.is_empty());
    }
    let all = answer(&[]);
    let value = |id: &str| {
        let mut rows = all.headline.iter().chain(all.tables.iter().flat_map(|t| &t.rows));
        rows.find(|row| row.id == id).expect(id).figure.value
    };
    for (id, hand) in [
        ("envelope", 50.255 * std::f64::consts::PI),
        ("roll.diameter", 44.5),
        ("roll.radial_clearance", 0.25),
        ("roll.pitch", 360.0),
        ("cathode.both", 112.0),
        ("anode.both", 208.0),
        ("cathode.density", 4.0),
        ("anode.density", 1.0),
        ("cathode.porosity", 8.0),
        ("anode.porosity", 50.0),
        ("stack.cathode_width", 80.0),
        ("stack.anode_width", 81.0),
        ("stack.separator_width", 82.0),
        ("stack.hardware", 9.0),
        ("stack.void_height", 4.0),
        ("parts", 3.0),
        ("area.unpaired", 0.0),
        ("balance.cathode_areal", 3.6),
        ("balance.anode_areal", 4.5),
        ("balance.n_to_p", 1.25),
    ] {
        close(value(id), hand);
    }
    close(value("energy"), value("capacity") * value("mean_voltage"));
    close(value("area.inner"), value("roll.cathode_length") * 800.0);
    close(value("roll.widest").max(44.5), value("roll.widest"));
    assert_eq!(all.headline.len(), 7);
    let titles: Vec<&str> = all.tables.iter().map(|table| table.title).collect();
    assert_eq!(
        titles,
        [
            "Winding",
            "Electrodes",
            "Axial stack-up",
            "Electrolyte",
            "Heat-path lengths",
            "Capacity balance",
            "Under load"
        ]
    );
    close(value("resistance"), value("resistance.metal") + value("resistance.electrochemical"));
    close(value("current"), value("c_rate") * value("capacity"));
    close(value("loaded_volumetric"), value("loaded_energy") / value("envelope") * 1e3);
}

#[test]
fn the_ledger_of_an_answer_adds_up() {
    let all = answer(&[("cell_mass", json!("300 ± 1 g"))]);
    let cell = all.ledger.totals.last().unwrap();
    assert_eq!(cell.group, "cell");
    close(cell.mass.value, all.ledger.lines.iter().filter_map(|l| l.mass.as_ref()).map(|m| m.value).sum());
    close(cell.volume.value, all.ledger.lines.iter().map(|l| l.volume.value).sum());
    close(cell.volume.value, 50.255 * std::f64::consts::PI);
    assert!(all.ledger.volume_closure.value.abs() < 1e-3);
    let residual = all.ledger.mass_residual.unwrap();
    close(residual.value, cell.mass.value - 300.0);
    // 1 g of the balance, and what the tape's density leaves of a milligram.
    assert!((residual.u.unwrap() - 1.0).abs() < 1e-3);
    assert!(
        all.ledger.lines.iter().all(|l| l.mass.is_some() != (l.group == roulade::cell::ledger::Group::Space))
    );
}

#[test]
fn remarks_say_what_is_out_of_the_ordinary() {
    let said = |changes: &[(&str, Value)]| answer(changes).remarks.join(" ");
    let plain = said(&[]);
    assert!(!plain.contains("idle") && !plain.contains("dry") && !plain.contains("stands out"), "{plain}");
    assert!(
        said(&[("winding/anode_overhang_end", json!("0.5"))])
            .contains("of the cathode's outer face have no anode opposite")
    );
    assert!(!said(&[("winding/anode_overhang_end", json!("0.5"))]).contains("inner face"));
    let dry = said(&[("electrolyte", json!({ "density": "1.25 g/cm3", "mass": "1.25 g" }))]);
    assert!(dry.contains("The electrolyte leaves") && dry.contains("cm³ of the pores dry"), "{dry}");
    assert!(said(&[("winding/radial_clearance", json!("0.05 mm"))]).contains("the jelly roll stands out to"));
    let nominal = answer(&[("voltage/nominal", json!("3.6 V"))]);
    assert!(nominal.remarks.join(" ").contains("capacity times the nominal voltage"));
    assert!(nominal.curve.is_none());
}

#[test]
fn a_sentence_names_what_its_uncertainty_comes_from() {
    let all = answer(&[("cathode/loading", json!("20 ± 0.3 mg/cm2")), ("can/height", json!("95 ± 0.05 mm"))]);
    let labels: Vec<&str> = all.answer.sensitivity.iter().map(|share| share.label.as_str()).collect();
    assert_eq!(labels, ["Cathode: areal mass loading, per side", "Can: outer height"]);
    assert!(
        all.answer.text.starts_with("by hand is expected to give, from assumptions alone, "),
        "{}",
        all.answer.text
    );
    let inputs = draft(&[]).inputs().len();
    assert!(answer(&[]).answer.assumed.starts_with(&format!("{inputs} of {inputs} entries are assumed.")));
}

#[test]
fn blocks_lie_in_the_can_and_bands_do_not_overlap() {
    let pin = json!({ "name": "pin", "place": "in core", "volume": "0.5 cm3", "material": "copper" });
    for all in [answer(&[("parts/3", pin)]), EstimateAnswer::of(&demo("marram b")).unwrap()] {
        let section = &all.section;
        let mut top = 0.0;
        for block in &section.blocks {
            assert!(
                0.0 <= block.r[0] && block.r[0] < block.r[1] && 2.0 * block.r[1] <= section.diameter + 1e-9
            );
            assert!(0.0 <= block.z[0] && block.z[0] < block.z[1] && block.z[1] <= section.height + 1e-9);
            if block.what != "can wall" && block.what != "pin" {
                close(block.z[0], top);
                top = block.z[1];
            }
        }
        close(top, section.height);
    }
}

#[test]
fn section_and_roll_by_hand() {
    let pin = json!({ "name": "pin", "place": "in core", "volume": "0.5 cm3", "material": "copper" });
    let all = answer(&[
        ("parts/3", pin),
        ("parts/0/material", json!("PP")),
        ("cathode/foil/material", json!("Al")),
    ]);
    let block = |what: &str| all.section.blocks.iter().find(|block| block.what == what).expect(what);
    assert_eq!((block("can wall").r, block("can wall").z), ([22.5, 23.0], [0.0, 95.0]));
    for (what, look, r, z) in [
        ("insulator", Look::Polymer, [0.0, 22.5], [0.6, 1.0]),
        ("plate", Look::Steel, [0.0, 22.5], [1.0, 1.5]),
        ("axial clearance of the plate", Look::Space, [0.0, 22.5], [1.5, 3.0]),
        ("anode foil edge", Look::Steel, [2.0, 22.25], [3.0, 4.0]),
        ("jelly roll", Look::Roll, [2.0, 22.25], [5.0, 85.0]),
        ("cathode foil edge", Look::Aluminium, [2.0, 22.25], [86.0, 87.0]),
        ("void height", Look::Space, [0.0, 22.5], [87.0, 91.0]),
        ("pin", Look::Copper, [0.0, 2.0], [5.0, 85.0]),
    ] {
        let found = block(what);
        assert_eq!(found.look, look, "{what}");
        for (a, b) in found.r.iter().chain(&found.z).zip(r.iter().chain(&z)) {
            close(*a, *b);
        }
    }
    let roll = &all.roll;
    close(roll.bore, 22.5);
    close(roll.core, 2.0);
    close(roll.outer, 22.25);
    let thick: Vec<f64> = roll.plies.iter().map(|ply| (ply.thickness * 1e6).round() / 1e6).collect();
    assert_eq!(thick, [0.02, 0.208, 0.02, 0.112, 0.05]);
    // The arcs are the plies: their lengths add to the wound lengths.
    let length = |ply: usize| -> f64 {
        let own = roll.arcs.iter().filter(|arc| arc.0 == ply);
        own.map(|(_, r, from, to)| r * (to - from) * std::f64::consts::TAU).sum()
    };
    let wound = draft(&[]).design().unwrap();
    close(length(1), 1e3 * wound.roll().lengths().anode.value);
    close(length(3), 1e3 * wound.roll().lengths().cathode.value);
}

#[test]
fn a_drawn_discharge_runs_from_limit_to_end() {
    let all = answer(&[]);
    let capacity = all.headline[0].figure.value;
    let curve = all.curve.unwrap();
    close(curve.capacity[0], 0.0);
    close(*curve.capacity.last().unwrap(), capacity);
    close(curve.voltage[0], 4.1);
    assert!(curve.voltage.windows(2).all(|pair| pair[1] < pair[0]));
    for ((cell, cathode), anode) in curve.voltage.iter().zip(&curve.cathode).zip(&curve.anode) {
        close(*cell, cathode - anode);
    }
    // Straight curves: halfway in charge is halfway in volts.
    close(curve.voltage[120], 0.5 * (curve.voltage[0] + curve.voltage[240]));
    close(curve.capacity[60], 0.25 * capacity);
}
