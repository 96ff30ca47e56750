use super::*;
use crate::cell::draft::Draft;
use crate::cell::estimate::Estimate;
use crate::cell::figures::Worked;
use crate::sheet::Sheet;
use crate::test_support::{design, draft, refused};
use approx::assert_relative_eq;
use proptest::prelude::*;
use serde_json::{Value, json};
use std::f64::consts::PI;

fn with(path: &Value) -> Design {
    design(&[("current_path", cool(path))])
}

/// At 20 °C, where a resistivity is what the sheet says.
fn cool(path: &Value) -> Value {
    let mut path = path.clone();
    path["temperature"] = json!("20 °C");
    path
}

fn worked(path: &Value) -> Worked {
    let draft = draft(&[("current_path", cool(path))]);
    Worked::at(&draft, &draft.values()).unwrap()
}

#[test]
fn edges_by_hand() {
    let design = with(&json!({}));
    let path = Path::of(&design);
    let length = design.roll().lengths().cathode.value;
    let of = |element| path.of_element(element).value;
    // 25 nΩ·m, 80 mm wide, 12 µm; margin of 0.5 + overhang of 0.5 and a fold of 1 mm beyond.
    assert_relative_eq!(
        of(Element::CathodeFoil),
        25e-9 * 0.08 / (3.0 * 12e-6 * length),
        max_relative = 1e-12
    );
    assert_relative_eq!(
        of(Element::CathodeUncoatedMargin),
        25e-9 * 0.002 / (12e-6 * length),
        max_relative = 1e-12
    );
    // 100 nΩ·m, 8 µm: an overhang of 0.5, a margin of 0.5 and a fold of 1 mm.
    assert_relative_eq!(of(Element::AnodeFoil), 100e-9 * 0.08 / (3.0 * 8e-6 * length), max_relative = 1e-12);
    assert_relative_eq!(
        of(Element::AnodeUncoatedMargin),
        100e-9 * 0.002 / (8e-6 * length),
        max_relative = 1e-12
    );
    // No part is called a collector: 9 spots of 0.45 mm go straight to the bottom and the lid.
    assert_eq!(
        path.elements().filter(|(e, _)| matches!(e, Element::AnodePlate | Element::CathodePlate)).count(),
        0
    );
    assert_relative_eq!(of(Element::AnodeSpots), 200e-9 / (4.0 * 9.0 * 0.45e-3), max_relative = 1e-12);
    assert_relative_eq!(of(Element::CathodeSpots), 125e-9 / (4.0 * 9.0 * 0.45e-3), max_relative = 1e-12);
    assert_relative_eq!(of(Element::CanWall), 100e-9 * 0.095 / (PI * 45.5e-3 * 0.5e-3), max_relative = 1e-12);
    // Over both faces; its parts are worked out beside the formula.
    let (inner, outer) = design.active_area();
    let areal = path.areal().unwrap().total() / (inner + outer);
    assert_relative_eq!(of(Element::Electrochemical), areal.value, max_relative = 1e-12);
    let sum: f64 = path.elements().map(|(_, of)| of.value).sum();
    assert_relative_eq!(path.total().value, sum, max_relative = 1e-12);
    assert_relative_eq!((path.metal() + path.electrochemical()).value, sum, max_relative = 1e-12);
}

#[test]
fn a_warm_metal_resists_more() {
    let cold = Path::of(&with(&json!({})));
    let warm = Path::of(&design(&[("current_path", json!({ "temperature": "60 °C" }))]));
    // The sheet's own metal warms like aluminium: 0.00385 per kelvin.
    let ratio = warm.of_element(Element::CathodeFoil) / cold.of_element(Element::CathodeFoil);
    assert_relative_eq!(ratio.value, 1.0 + 40.0 * 0.003_85, max_relative = 1e-12);
    assert!(warm.of_element(Element::Electrochemical) < cold.of_element(Element::Electrochemical));
}

#[test]
fn a_plate_gathers_and_direct_welds_do_without() {
    let plate =
        json!({ "anode": { "plate": "plate", "centre_weld_radius": "3 mm", "ring_radius": "12 mm" } });
    let gathered = Path::of(&with(&plate));
    let direct = Path::of(&with(&json!({ "anode": { "ring_radius": "12 mm" } })));
    assert!(gathered.of_element(Element::AnodePlate).value > 0.0);
    // From the middle of the bottom to its rim, 22.5 mm, 0.6 mm thick.
    let bottom = 100e-9 / (2.0 * PI * 0.6e-3) * roulade_stats::maths::ln(22.5 / 3.0);
    assert_relative_eq!(gathered.of_element(Element::CanBottom).value, bottom, max_relative = 1e-12);
    // The ring lies nearer to the rim.
    assert!(direct.of_element(Element::CanBottom) < gathered.of_element(Element::CanBottom));
    // Taken off at the bottom there is no wall, and with a plate no way along the bottom.
    let mut at_bottom = plate.clone();
    at_bottom["negative_at"] = json!("bottom");
    let short = Path::of(&with(&at_bottom));
    let gone = |e: &Element| matches!(e, Element::CanBottom | Element::CanWall);
    assert!(short.elements().all(|(element, _)| !gone(&element)));
    let direct = Path::of(&with(&json!({ "negative_at": "bottom" })));
    assert!(direct.elements().any(|(element, _)| element == Element::CanBottom));
}

#[test]
fn tabs_in_a_cell() {
    let tab = |at: &str| json!({ "at": at, "width": "4 mm", "thickness": "0.1 mm", "length": "10 mm", "material": "nickel" });
    let by = |tabs: Value| with(&json!({ "cathode": { "tabs": tabs } }));
    let one = by(json!([tab("50 %")]));
    let path = Path::of(&one);
    let length = one.roll().lengths().cathode.value;
    // Two stretches of half the length less half the tab.
    let half = 0.5 * length - 0.002;
    let foil = 25e-9 / (0.08 * 12e-6) * 2.0 * (half * half * half / 3.0) / (length * length);
    // Along the tab itself, 80 mm of it, less than it would have alone: the foil beside it helps.
    let alone = 69.6e-9 * 0.08 / 3.0 / (0.1e-3 * 4e-3);
    let along = path.of_element(Element::CathodeFoil).value - foil;
    assert!((0.1..0.9).contains(&(along / alone)), "{along} {alone}");
    // 69.6 nΩ·m, 10 mm past the foil.
    let own = 69.6e-9 * 0.01 / (0.1e-3 * 4e-3);
    assert_relative_eq!(path.of_element(Element::CathodeTabs).value, own, max_relative = 1e-12);
    assert!(path.elements().all(|(element, _)| element != Element::CathodeUncoatedMargin));
    let three = Path::of(&by(json!([tab("15 %"), tab("50 %"), tab("85 %")])));
    assert!(three.of_element(Element::CathodeFoil) < 0.2 * path.of_element(Element::CathodeFoil));
    assert!(three.of_element(Element::CathodeTabs) < 0.4 * path.of_element(Element::CathodeTabs));
    // An anode tab on the tail carries all of the current past the end of the cathode.
    let tail = Path::of(&with(&json!({ "anode": { "tabs": [tab("100 %")] } })));
    let roll = one.roll();
    let (_, end) = roll.anode_paired();
    let bare = roll.lengths().anode - end;
    assert!(tail.of_element(Element::AnodeFoil).value > 100e-9 / (0.081 * 8e-6) * (bare.value - 0.004));
}

#[test]
fn discharge_under_load_by_hand() {
    let light = worked(&json!({ "c_rate": "1 C", "electrochemical": "0 mΩ" }));
    let w = worked(&json!({ "c_rate": "2 C", "electrochemical": "10 mΩ" }));
    let (path, load) = w.loaded();
    let balance = &w.estimate.balance;
    let amperes = 2.0 * balance.capacity.value / 3600.0;
    assert_relative_eq!(load.current.value, amperes, max_relative = 1e-12);
    // Metals of 20 °C resist a little more at the temperature that the discharge makes.
    let warm = Path::at(&w.design, 20.0 + load.warming.mean);
    assert_relative_eq!(load.drop.value, amperes * warm.total().value, max_relative = 1e-4);
    assert!(warm.total() > path.total());
    // Both curves fall in a straight line, from 4.1 V.
    let (full, q) = (4.1, balance.capacity.value);
    let slope = 2.0 * (full - balance.mean_voltage().value) / q;
    let drawn = ((full - 3.0 - load.drop.value) / slope).min(q);
    assert!(drawn < q, "the load ends the discharge before the curve does");
    assert_relative_eq!(load.capacity().value, drawn, max_relative = 1e-9);
    let energy = (full - load.drop.value) * drawn - 0.5 * slope * drawn * drawn;
    assert_relative_eq!(load.energy().value, energy, max_relative = 1e-9);
    assert!(load.energy() < light.loaded().1.energy());
    assert_relative_eq!(
        load.heat(path.total()).value,
        amperes * amperes * path.total().value,
        max_relative = 1e-12
    );
    // Too heavy for a full cell.
    let heavy = worked(&json!({ "c_rate": "40 C", "electrochemical": "10 mΩ" }));
    assert_eq!((heavy.loaded().1.drawn, heavy.loaded().1.energy().value), (None, 0.0));
}

#[test]
fn a_nominal_voltage_gives_all_of_the_capacity() {
    let nominal = |rate: &str| {
        let path = json!({ "c_rate": rate, "electrochemical": "10 mΩ" });
        let draft = draft(&[("current_path", path), ("voltage/nominal", json!("3.6 V"))]);
        Worked::at(&draft, &draft.values()).unwrap()
    };
    let w = nominal("1 C");
    let load = w.loaded().1;
    assert_eq!(load.capacity(), w.estimate.balance.capacity);
    let volts = 3.6 - load.drop.value;
    assert_relative_eq!(load.energy().value, volts * load.capacity().value, max_relative = 1e-12);
    assert!(nominal("10 C").loaded().1.drawn.is_none());
}

#[test]
fn what_cannot_be_is_refused() {
    let by = |path: Value| refused(&[("current_path", path)]);
    for (path, expected) in [
        (
            json!({ "cathode": { "feed": "edge", "tabs": [{}] } }),
            "current_path.cathode.tabs: found tabs beside a whole edge",
        ),
        (json!({ "anode": { "tabs": [] } }), "current_path.anode.tabs: found 0 tabs"),
        (
            json!({ "anode": { "tabs": [{ "at": "60 %" }, { "at": "40 %" }] } }),
            "current_path.anode.tabs[1].at: found a tab before",
        ),
        (
            json!({ "anode": { "tabs": [{ "at": "120 %" }] } }),
            "current_path.anode.tabs[0].at: found \"120 %\"",
        ),
        (
            json!({ "anode": { "tabs": [{ "material": "plastic" }] } }),
            "current_path.anode.tabs[0].material: found \"plastic\", which has no resistivity",
        ),
        (
            json!({ "anode": { "plate": "plat" } }),
            "current_path.anode.plate: found \"plat\", a part that the sheet does not have; expected the name of a part",
        ),
        (
            json!({ "anode": { "plate": "insulator" } }),
            "current_path.anode.plate: found \"plastic\", which has no resistivity",
        ),
        (
            json!({ "anode": { "ring_radius": "23 mm" } }),
            "current_path.anode.ring_radius: found a ring of 23.00 mm radius in a can of 22.50 mm inner radius",
        ),
        (
            json!({ "anode": { "ring_radius": "12 mm", "ring": "50 %" } }),
            "current_path.anode.ring: found a share beside the ring's radius",
        ),
        (
            json!({ "areal_resistance": "20 Ω·cm²", "electrochemical": "2 mΩ" }),
            "current_path.areal_resistance: found an areal resistance beside",
        ),
        (json!({ "c_rate": "1 A" }), "current_path.c_rate: found \"1 A\""),
        (json!({ "anode": { "spot": "8" } }), "current_path.anode.spot: found a key that is not known here"),
    ] {
        let diagnostics = by(path);
        assert!(diagnostics.iter().any(|line| line.starts_with(expected)), "{expected}\n{diagnostics:?}");
    }
}

#[test]
fn a_plate_taken_out_leaves_direct_welds() {
    let before = crate::test_support::with(&[("current_path", json!({ "anode": { "plate": "plate" } }))]);
    let parsed = Sheet::parse(&before.to_string()).unwrap();
    let after = crate::study::remove::without(parsed, &["plate"], None, 1.0).unwrap();
    let draft = Draft::read(&after).unwrap();
    let path = Path::of(&draft.design().unwrap());
    assert!(path.elements().all(|(element, _)| element != Element::AnodePlate));
}

#[test]
fn estimates_do_not_need_it() {
    let draft = draft(&[]);
    let design = draft.design().unwrap();
    let estimate = Estimate::of(&design).unwrap();
    let w = Worked::of(design).unwrap();
    assert_eq!(w.estimate, estimate);
}

proptest! {
    #[test]
    fn more_spots_never_raise_it(times in 1.0..20.0_f64, ring in 3.0..21.0_f64, radius in 0.1..2.0_f64) {
        let collection = json!({ "ring_radius": format!("{ring} mm"), "spot_radius": format!("{radius} mm"), "spots": "4" });
        for anode in [json!({ "plate": "plate" }), json!({})] {
            let mut anode = anode;
            anode.as_object_mut().unwrap().extend(collection.as_object().unwrap().clone());
            let design = with(&json!({ "anode": anode, "cathode": collection }));
            let (few, many) = (Path::of(&design).total(), Path::with_spots(&design, times).total());
            prop_assert!(many.value <= few.value * (1.0 + 1e-12), "{many:?} {few:?}");
        }
    }

    #[test]
    fn a_heavier_load_gives_less(rate in 0.1..3.0_f64, more in 1.0..3.0_f64) {
        let at = |rate: f64| worked(&json!({ "c_rate": format!("{rate} C"), "electrochemical": "5 mΩ" }));
        let (light, heavy) = (at(rate), at(rate * more));
        prop_assert!(heavy.loaded().1.energy() <= light.loaded().1.energy());
        prop_assert!(heavy.loaded().1.capacity() <= light.loaded().1.capacity());
        prop_assert!(light.loaded().1.energy() <= light.estimate.balance.energy);
    }
}
