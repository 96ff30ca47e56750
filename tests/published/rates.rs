//! Rate tests of electrodes: what is left of the capacity at a rate.
//!
//! Surace, Jahn, Cupid, Batteries 10 (2024) 100, doi 10.3390/batteries10030100, abstract read: NMC811 electrodes of at least
//! 4 mAh/cm² with 3 % of binder. On carbon-coated foil the best water-based ones give 170 mAh/g at 1C and 80 mAh/g at 2C; those with
//! PVDF as much at 1C, and the water-based give "approximately 50 % more" than they at 2C: 53 mAh/g. On bare foil the best give
//! 150 mAh/g at 1C. Not in the abstract: porosity, separator, counter electrode, limits, the capacity at a low rate. Porosity
//! is spread over 25 to 40 %, which laboratory coatings have (`population.md` has 30 %, n = 1); graphite in excess stands for the
//! counter electrode. Everything else is the crate's default.

use super::cells::{practice, with};
use super::say::say;
use roulade::cell::draft::Draft;
use roulade::cell::figures::{Worked, definition};
use serde_json::json;

/// Milliampere-hours drawn from a gram of NMC811 at a rate, in a cell whose metals hardly resist.
fn drawn(porosity: f64, areal: f64, rate: &str) -> f64 {
    let edge = json!({ "feed": "edge", "joint": "0 mΩ" });
    let path = json!({ "c_rate": rate, "temperature": "25 °C", "cathode": edge, "anode": edge, "cap_assembly": "0 mΩ" });
    // 95 % active, 197 to 206 mAh/g by the table: so much loading for the areal capacity.
    let loading = areal / (0.95 * 0.2015);
    let sheet = with(
        practice("46 mm", "80 mm"),
        &json!({
            "current_path": path, "model": { "capacity": "0 %" }, "purpose": "middle",
            "cathode": { "loading": format!("{loading} mg/cm2"), "porosity": format!("{porosity}"),
                "mix": [{ "material": "NMC811", "share": "95 %" }, { "material": "carbon black", "share": "2 %" },
                    { "material": "PVDF", "share": "3 %" }] },
            "anode": { "mix": [{ "material": "graphite" }, { "material": "CMC", "share": "1.5 %" }, { "material": "SBR", "share": "1.5 %" }],
                "n_to_p": "1.2", "porosity": "40 %" },
            "voltage": { "charge_cut_off": "4.2 V", "discharge_cut_off": "2.8 V" },
        }),
    );
    let draft = Draft::parse(&sheet.to_string()).unwrap_or_else(|problems| panic!("{problems}"));
    let w = Worked::at(&draft, &draft.values()).unwrap();
    let figure = |id: &str| (definition(id).unwrap().of)(&w).unwrap();
    let (inner, outer) = w.design.active_area();
    let active = 0.95 * (w.design.blueprint().cathode.loading * (inner + outer)).value;
    figure("loaded_capacity") / 3600.0 / active
}

/// Prints how far the model is off. What it must hold is the order of what a rate costs: at 1C most is left, at 2C the salt in
/// the pores of so thick an electrode runs out, and a thin one gives nearly all at 3C.
#[test]
fn a_thick_electrode_loses_at_a_rate_what_it_was_seen_to_lose() {
    let porosities = [0.25, 0.3, 0.35, 0.4];
    let spread = |areal: f64, rate: &str| porosities.map(|porosity| drawn(porosity, areal, rate));
    for (rate, published) in [("1 C", &[170.0, 150.0][..]), ("2 C", &[80.0, 53.0])] {
        for (porosity, found) in porosities.into_iter().zip(spread(4.0, rate)) {
            for figure in published {
                let what = format!("NMC811, 4 mAh/cm², porosity {porosity}, {rate}, mAh/g");
                say(&what, *figure, found);
            }
        }
    }
    let slow = spread(4.0, "0.2 C");
    println!(
        "at C/5: {slow:.1?} mAh/g; at 3C {:.1?}; 1 mAh/cm² at 3C {:.1?}",
        spread(4.0, "3 C"),
        spread(1.0, "3 C")
    );
    let middle = |all: [f64; 4]| 0.5 * (all[1] + all[2]);
    let (one, two) = (middle(spread(4.0, "1 C")), middle(spread(4.0, "2 C")));
    // 1C within the two figures by 15 %, 2C within the spread that the binder alone makes, and a third beyond.
    assert!((0.85 * 150.0..=1.15 * 170.0).contains(&one), "{one}");
    assert!((53.0 / 1.35..=80.0 * 1.35).contains(&two), "{two}");
}
