//! The same electrodes in other cans.
//!
//! Source: Waldmann, abstract 1399, Advanced Battery Power 2022 (read), after Quinn et al., J. Electrochem. Soc. 165
//! (2018) A3284, doi 10.1149/2.0281814jes, and Waldmann et al., J. Power Sources 472 (2020) 228614, doi
//! 10.1016/j.jpowsour.2020.228614: 21 × 70 over 18 × 65 gives 1.5 times the energy, by experiment and from spirals;
//! 46 × 80 over 18 × 65 "about" 8.4 times, an estimate. What the abstract holds fixed besides the electrodes is not
//! said. Here hardware grows as it does from cell to cell; all else is as the defaults have it.

use super::accuracy::{Expect::Agreement, Expect::Miss, Published, Row};
use super::cells::{practice, with};
use roulade::cell::draft::Draft;
use roulade::cell::estimate::Estimate;
use roulade::quantity::units::Length;
use roulade::study::form_factors::{Hardware, Hold, Recipe};
use roulade_stats::propagation::FirstOrder;
use roulade_stats::uncertain::Uncertain;
use serde_json::{Value, json};

fn draft(sheet: &Value) -> Draft {
    Draft::parse(&sheet.to_string()).unwrap()
}

/// Energy in a can of that size over that in the sheet's own, and its uncertainty: the recipe is the same in both, and hardware
/// grows as `hold` says.
fn energy_ratio(sheet: &Value, (diameter, height): (f64, f64), hold: Hold) -> (f64, f64) {
    let draft = draft(sheet);
    let mm = Length::new::<uom::si::length::millimeter>;
    let ratio = |values: &[f64]| {
        let large = Recipe::of(&draft, values, hold).ok()?.sized(mm(diameter), mm(height)).ok()?;
        let small = Estimate::of(&draft.design_at(values).ok()?).ok()?;
        Some((large.estimate.balance.energy / small.balance.energy).value)
    };
    let uncertain: Vec<Uncertain> = draft.inputs().iter().map(|input| input.uncertain).collect();
    let best = ratio(&draft.values()).unwrap();
    let spread =
        FirstOrder::of(&uncertain, draft.correlation(), &[best], |values| Some(vec![ratio(values)?]));
    (best, spread.u(0))
}

/// The ratios of this file.
pub(super) fn rows() -> Vec<Row> {
    let small = practice("18 mm", "65 mm");
    let row = |what, size: (f64, f64), published, expect, why| {
        let (predicted, u) = energy_ratio(&small, size, Hold::default());
        Row { what, quantity: "energy over 18 × 65", published, attested: "read", predicted, u, expect, why }
    };
    let held = "hardware grows as from cell to cell; the abstract does not say what it holds";
    vec![
        row("21 × 70, same electrodes", (21.0, 70.0), Published::printed("1.5"), Agreement, held),
        row(
            "46 × 80, same electrodes",
            (46.0, 80.0),
            // "about": read as what rounds to it.
            Published { text: "about 8.4".to_owned(), ..Published::printed("8.4") },
            Miss(3.0, 8.0),
            "hardware grows as from cell to cell; scaled with the diameter it gives less than published; the abstract does not say \
             what it holds",
        ),
    ]
}

/// More than the ratio of outer volumes (derived: 1.466 and 8.038): can, core and head weigh less in the larger cell.
#[test]
fn larger_cans_gain_more_than_their_volume() {
    let small = practice("18 mm", "65 mm");
    for (d, h, volumes) in [(21.0, 70.0, 1.466), (46.0, 80.0, 8.038)] {
        let (ratio, u) = energy_ratio(&small, (d, h), Hold::default());
        println!("{d} × {h}: energy ratio {ratio:.3} ± {u:.3}, outer volumes {volumes}");
        assert!(ratio - 2.0 * u > volumes);
    }
}

/// The estimate of 8.4 lies between the two ways to hold the rest: wall, bottom, lid and core as in the small can, and
/// all of them grown with the diameter.
#[test]
fn published_ratio_lies_between_held_and_scaled_hardware() {
    let hardware = |scale: f64| {
        let mm = |x: f64| format!("{} mm", scale * x);
        json!({
            "can": { "wall": mm(0.25), "bottom": mm(0.4) },
            "winding": { "core_diameter": mm(3.0) },
            "parts": [{ "name": "lid", "place": "above roll", "height": mm(3.5), "solid_fraction": "35 %", "material": "steel" }],
        })
    };
    let energy = |sheet: &Value| Estimate::of(&draft(sheet).design().unwrap()).unwrap().balance.energy.value;
    let small = energy(&with(practice("18 mm", "65 mm"), &hardware(1.0)));
    let held = energy(&with(practice("46 mm", "80 mm"), &hardware(1.0))) / small;
    let scaled = energy(&with(practice("46 mm", "80 mm"), &hardware(46.0 / 18.0))) / small;
    println!("46 × 80 over 18 × 65: hardware held {held:.2}, scaled {scaled:.2}, published about 8.4");
    assert!(scaled < 8.4 && 8.4 < held);
    // The small cell's clearance and tabs held as well.
    let stays = Hold { hardware: Hardware::Stays, ..Hold::default() };
    let all_held = energy_ratio(&practice("18 mm", "65 mm"), (46.0, 80.0), stays).0;
    println!("all held: {all_held:.2}");
    assert!(held < all_held);
}
