//! What the headline figures mean, against the vocabulary of the trade and its standard for sizes.
//!
//! - IEC 60050-482, entry 482-03-34, "specific characteristic (related to cells or batteries)": the ratio of a
//!   characteristic of a cell to its mass, volume or area, in Wh/kg, Ah/dm³ and the like. Read as quoted in a public
//!   Czech dictionary of the vocabulary; the vocabulary itself was not read.
//! - IEC 61960:2011, clause 5.1: a cylindrical designation names the largest diameter and height in whole millimetres,
//!   rounded up. Rule read as quoted in a public forum; examples computed from it.
//! - 12.6 Wh in an 18 mm × 65 mm can: Heenan et al., J. Electrochem. Soc. 167 (2020) 140530, doi
//!   10.1149/1945-7111/abc4c1, read; the densities from it are arithmetic.

use super::say::{relative, within};
use roulade::cell::design::Can;
use roulade::cell::draft::Draft;
use roulade::cell::estimate::Estimate;
use roulade::cell::ledger;
use roulade::quantity::units::{Energy, Length, MassDensity, Unit};
use serde_json::{Value, json};
use std::f64::consts::PI;

fn can(diameter: f64, height: f64) -> Can {
    let mm = Length::new::<uom::si::length::millimeter>;
    Can {
        diameter: mm(diameter),
        height: mm(height),
        wall: mm(0.25),
        bottom: mm(0.4),
        density: MassDensity::new::<uom::si::mass_density::gram_per_cubic_centimeter>(7.872),
        weighed: None,
        named: None,
    }
}

fn litres(diameter: f64, height: f64) -> f64 {
    can(diameter, height).envelope().value / Unit::Litre.in_si()
}

/// π/4·D²·H by hand, in mL to three decimals; and the ratios that are known of these sizes.
#[test]
fn envelope_of_common_sizes() {
    for (diameter, height, millilitres) in [
        // 81·65·π, 110.25·70·π and 529·80·π mm³.
        (18.0, 65.0, 16.540),
        (21.0, 70.0, 24.245),
        (46.0, 80.0, 132.952),
        (18.4, 65.1, 17.310),
    ] {
        within(&format!("{diameter} × {height}, mL"), millilitres, 1e3 * litres(diameter, height), 5e-4);
    }
    within("21 × 70 over 18 × 65", 1.466, litres(21.0, 70.0) / litres(18.0, 65.0), 5e-4);
    within("46 × 80 over 18 × 65", 8.038, litres(46.0, 80.0) / litres(18.0, 65.0), 5e-4);
}

/// The same 12.6 Wh on two bases: nominal size and largest size.
#[test]
fn basis_of_a_published_energy() {
    let energy = Energy::new::<uom::si::energy::watt_hour>(12.6);
    for (diameter, height, published) in [(18.0, 65.0, 762.0), (18.4, 65.1, 728.0)] {
        let density = energy / can(diameter, height).envelope();
        let computed = density.value / Unit::WattHourPerLitre.in_si();
        within(&format!("12.6 Wh on {diameter} × {height}, Wh/L"), published, computed, 0.5);
    }
    within("basis, %", 4.6, 100.0 * (litres(18.4, 65.1) / litres(18.0, 65.0) - 1.0), 0.1);
}

/// A designation rounds up, so its cylinder holds the can's envelope, and holds no more than a millimetre each way.
#[test]
fn designations_hold_their_cells() {
    for (diameter, height, name) in [
        (18.4, 65.2, "ICR19/66"),
        (18.0, 65.0, "ICR18/65"),
        (21.15, 70.15, "ICR22/71"),
        (21.7, 70.9, "ICR22/71"),
        (26.2, 65.6, "ICR27/66"),
        (46.3, 80.4, "ICR47/81"),
    ] {
        let (d, h) = name.trim_start_matches("ICR").split_once('/').unwrap();
        let (d, h): (f64, f64) = (d.parse().unwrap(), h.parse().unwrap());
        assert_eq!((f64::ceil(diameter), f64::ceil(height)), (d, h), "{name}");
        let (own, named) = (litres(diameter, height), litres(d, h));
        println!("{name}: {:.3} mL, the can {:.3} mL", 1e3 * named, 1e3 * own);
        assert!(own <= named && litres(d - 1.0, h - 1.0) < own);
    }
}

/// Volumetric: energy over the bare can's outer cylinder. Gravimetric: energy over the mass of the whole cell, every
/// line of its ledger. Both recomputed here from the design's own lines; rounding is the only margin.
#[test]
fn energy_densities_are_ratios_to_the_whole_cell() {
    let sheet = json!({
        "can": { "diameter": "21.1 mm", "height": "70.2 mm" },
        "cathode": { "mix": [{ "material": "NMC811", "share": "0.97" }, { "material": "PVDF" }] },
        "anode": { "mix": [{ "material": "graphite", "share": "0.97" }, { "material": "CMC" }] },
    });
    let design = Draft::parse(&sheet.to_string()).unwrap().design().unwrap();
    let estimate = Estimate::of(&design).unwrap();
    let energy = estimate.balance.energy.value / 3600.0;
    let litres = PI / 4.0 * 0.211 * 0.211 * 0.702;
    relative(
        "Wh/L",
        energy / litres,
        estimate.volumetric(&design).value / Unit::WattHourPerLitre.in_si(),
        1e-13,
    );
    let (mut kilograms, mut volume) = (0.0, 0.0);
    ledger::lines(&design, |line| {
        kilograms += line.mass.value;
        volume += line.volume.value;
    });
    relative(
        "Wh/kg",
        energy / kilograms,
        estimate.gravimetric().value / Unit::WattHourPerKilogram.in_si(),
        1e-13,
    );
    relative("all lines fill the can, L", litres, 1e3 * volume, 1e-12);
    relative(
        "mean voltage",
        energy * 3600.0 / estimate.balance.capacity.value,
        estimate.balance.mean_voltage().value,
        1e-13,
    );
}

/// One tab across each foil, 0.1 mm × 4 mm and 10 mm past it, in the middle of 10 mm that are bare on both sides; no tape.
fn tabs() -> Value {
    let side = |metal: &str| {
        json!({ "tabs": [{ "at": "50 %", "width": "4 mm", "thickness": "0.1 mm", "length": "10 mm", "material": metal,
                           "uncoated": "10 mm", "tape": "0 µm" }] })
    };
    json!({ "cathode": side("aluminium"), "anode": side("copper") })
}

/// Mass by hand: what each foil, coating, tab, separator and the can weigh, from lengths, widths and loadings of the
/// sheet. The electrolyte is given as a mass, so nothing of the model's pores enters. Margin: rounding.
#[test]
fn mass_by_hand() {
    let sheet = json!({
        "can": { "diameter": "21 mm", "height": "70 mm", "wall": "0.25 mm", "bottom": "0.4 mm" },
        "parts": [{ "name": "lid", "place": "above roll", "height": "3.5 mm", "mass": "3 g", "material": "steel" }],
        "winding": { "cathode_length": "780 mm", "anode_length": "830 mm", "tape_turns": "0" },
        "cathode": { "foil": { "thickness": "15 µm" }, "mix": [{ "material": "NMC811" }], "loading": "22 mg/cm²",
                     "porosity": "30 %", "width": "61 mm" },
        "anode": { "foil": { "thickness": "10 µm" }, "mix": [{ "material": "graphite" }], "loading": "14 mg/cm²",
                   "porosity": "30 %", "overhang": "0.5 mm" },
        "separator": { "thickness": "12 µm", "porosity": "40 %", "margin": "1 mm" },
        "electrolyte": { "mass": "5 g" },
        "current_path": tabs(),
    });
    let design = Draft::parse(&sheet.to_string()).unwrap().design().unwrap();
    // Lengths and widths in cm; the two separators' lengths are the roll's own, checked in `spiral`.
    let roll = design.roll();
    let film = 100.0 * (roll.lengths().inner_separator + roll.lengths().outer_separator).value;
    let (bore, outer) = (2.05_f64, 2.1_f64);
    let test_support = [
        78.0 * 6.1 * 15e-4 * 2.699,
        77.0 * 6.1 * 2.0 * 0.022,
        83.0 * 6.2 * 10e-4 * 8.96,
        82.0 * 6.2 * 2.0 * 0.014,
        0.4 * 0.01 * (6.1 + 1.0) * 2.699,
        0.4 * 0.01 * (6.2 + 1.0) * 8.96,
        film * 6.4 * 12e-4 * 0.6 * 0.5 * (0.941 + 0.965),
        5.0,
        3.0,
        PI / 4.0 * (outer * outer * 7.0 - bore * bore * (7.0 - 0.04)) * 7.872,
    ];
    let computed = Estimate::of(&design).unwrap().mass.value / Unit::Gram.in_si();
    relative("mass by hand, g", test_support.iter().sum(), computed, 1e-11);
}

/// The paired area by hand: with anode everywhere opposite, two faces of cathode, length less the tab's bare stretch times
/// width. The anode's tab stands on its overhang.
#[test]
fn area_by_hand() {
    let sheet = json!({
        "can": { "diameter": "21 mm", "height": "70 mm" },
        "winding": { "cathode_length": "780 mm", "anode_overhang_end": "1.2" },
        "cathode": { "mix": [{ "material": "NMC811" }], "loading": "22 mg/cm²", "porosity": "30 %", "width": "61 mm" },
        "anode": { "mix": [{ "material": "graphite" }], "loading": "14 mg/cm²", "porosity": "30 %" },
        "current_path": {
            "cathode": { "tabs": [{ "at": "50 %", "uncoated": "10 mm" }] },
            "anode": { "tabs": [{ "at": "100 %", "uncoated": "10 mm" }] },
        },
    });
    let design = Draft::parse(&sheet.to_string()).unwrap().design().unwrap();
    let (inner, outer) = design.active_area();
    relative(
        "both faces, cm²",
        2.0 * 77.0 * 6.1,
        (inner + outer).value / Unit::SquareCentimetre.in_si(),
        1e-11,
    );
}
