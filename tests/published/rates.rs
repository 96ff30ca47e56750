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
use roulade_answer::answer::SampledAnswer;
use roulade_stats::executor::alone;
use serde_json::{Value, json};

/// Milliampere-hours drawn from a gram of NMC811 at a rate, in a cell whose metals hardly resist.
fn drawn(porosity: f64, areal: f64, rate: &str) -> f64 {
    drawn_with(porosity, areal, rate, &json!({}))
}

/// The same with other entries.
fn drawn_with(porosity: f64, areal: f64, rate: &str, more: &Value) -> f64 {
    let w = electrodes(porosity, areal, rate, more);
    let (inner, outer) = w.design.active_area();
    let active = 0.95 * (w.design.blueprint().cathode.loading * (inner + outer)).value;
    figure(&w, "loaded_capacity") / 3600.0 / active
}

/// Up to which C-rate the current reaches all of the cathode.
fn limiting(porosity: f64, areal: f64) -> f64 {
    figure(&electrodes(porosity, areal, "1 C", &json!({})), "limiting_rate") * 3600.0
}

fn figure(w: &Worked, id: &str) -> f64 {
    (definition(id).unwrap().of)(w).unwrap()
}

fn electrodes(porosity: f64, areal: f64, rate: &str, more: &Value) -> Worked {
    let draft = tested(porosity, areal, rate, more);
    Worked::at(&draft, &draft.values()).unwrap()
}

fn tested(porosity: f64, areal: f64, rate: &str, more: &Value) -> Draft {
    let edge = json!({ "feed": "edge", "joint": "0 mΩ" });
    let path = json!({ "c_rate": rate, "temperature": "25 °C", "heat_transfer": "10000 W/m²/K", "cathode": edge, "anode": edge, "cap_assembly": "0 mΩ" });
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
    Draft::parse(&with(sheet, more).to_string()).unwrap_or_else(|problems| panic!("{problems}"))
}

/// Prints how far the model is off: it flatters, by a fifth to a third at 1C, and at 2C it misses the fall altogether, which comes
/// at three times that rate in it. What it must hold is the order: the thick coating falls first and the densest most, the thin one
/// gives nearly all at 3C, and more porous coatings give no less. The electrodes stay at 25 °C, as small ones do; a cell's own
/// warmth would flatter more.
#[test]
fn a_thick_electrode_loses_at_a_rate_what_it_was_seen_to_lose() {
    let porosities = [0.25, 0.3, 0.35, 0.4];
    let spread = |areal: f64, rate: &str| porosities.map(|porosity| drawn(porosity, areal, rate));
    let mut off = Vec::new();
    for (rate, published) in [("1 C", [170.0, 150.0]), ("2 C", [80.0, 53.0])] {
        for (porosity, found) in porosities.into_iter().zip(spread(4.0, rate)) {
            for figure in published {
                let what = format!("NMC811, 4 mAh/cm², porosity {porosity}, {rate}, mAh/g");
                off.push((rate, say(&what, figure, found) / figure));
            }
        }
    }
    let slow = spread(4.0, "0.2 C");
    let (three, thin) = (spread(4.0, "3 C"), spread(1.0, "3 C"));
    println!("at C/5: {slow:.1?} mAh/g; at 3C {three:.1?}; 1 mAh/cm² at 3C {thin:.1?}");
    // No better than stated, and never below what was seen: who mends the model takes these down.
    for (porosity, limit) in porosities.map(|p| (p, limiting(p, 4.0))) {
        println!("porosity {porosity}: all of 4 mAh/cm² reached up to {limit:.2} C");
    }
    let within = |rate: &str, most: f64| {
        off.iter().filter(|(of, _)| *of == rate).all(|(_, by)| (0.0..most).contains(by))
    };
    assert!(within("1 C", 0.36) && within("2 C", 2.8), "{off:?}");
    assert!(three.iter().zip(&slow).all(|(three, slow)| *three < 0.95 * slow), "{three:?}");
    assert!(three[0] < 0.75 * slow[0], "{three:?}");
    assert!(thin.iter().zip(&slow).all(|(thin, slow)| *thin > 0.93 * slow), "{thin:?}");
    assert!(three.windows(2).all(|pair| pair[1] >= 0.999 * pair[0]), "{three:?}");
}

/// What is expected of such an electrode by the defaults alone, in 95 % of trials: wide. It holds what was seen on carbon-coated
/// foil at 1C, and at 2C from 4.5 mAh/cm² on; with the 4 mAh/cm² that the abstract has as the least, it ends a tenth above the
/// lowest, 53 mAh/g. The best on bare foil, 150 mAh/g at 1C, lie below it by a twentieth: contact of foil and coating is not in
/// the model. Porosity is spread as above; the capacity is per gram of NMC811 in the middle of the table's range.
#[test]
fn what_was_seen_lies_within_what_is_expected() {
    for areal in [4.0, 4.5, 5.0] {
        for (rate, seen) in [("1 C", 170.0), ("2 C", 80.0), ("2 C", 53.0)] {
            let (low, high) = expected(areal, rate);
            println!(
                "NMC811, {areal} mAh/cm², {rate}: {low:.0} to {high:.0} mAh/g in 95 % of trials, {seen} seen"
            );
            assert!(
                (low..high).contains(&seen) || areal < 4.5 && 1.15 * seen > low,
                "{areal} {rate}: {low} {high}"
            );
        }
    }
}

/// The middle 95 % of trials, mAh/g.
fn expected(areal: f64, rate: &str) -> (f64, f64) {
    let draft = tested(0.325, areal, rate, &json!({ "cathode": { "porosity": "25 .. 40 %" } }));
    let wanted = ["loaded_capacity".to_owned()];
    let answer = SampledAnswer::of(&draft, None, &wanted, (Some(4000), Some(5)), &alone()).unwrap();
    let shown = &answer.figures[0].drawn;
    let best = Worked::at(&draft, &draft.values()).unwrap();
    let per_ampere_hour = drawn(0.325, areal, rate) / (figure(&best, "loaded_capacity") / 3600.0);
    (per_ampere_hour * shown.low.unwrap(), per_ampere_hour * shown.high.unwrap())
}

/// What the fall is made of: the defaults are the middle of what was published for tortuosity, salt and particles, and no one of
/// the three at its slow end gives it. All at their slow ends, nothing chosen between, give 167 to 187 mAh/g at 1C and 10 to
/// 91 at 2C, by porosity: what was seen lies within, or is off by less than a tenth. They are: exponents of tortuosity 0.9
/// and 1.1, the middle of what was measured (`sheet/defaults/electrode.rs` has the sources); salt of 160 µm²/s and 0.26; NMC811 of
/// 0.004 µm²/s, the published figure of that very material. Contact of foil and binder, which differs between the tests, is not in
/// the model.
#[test]
fn transport_at_the_slow_ends_of_what_was_published_falls_as_was_seen() {
    let slow = [
        (
            "tortuosity",
            json!({ "cathode": { "tortuosity_exponent": "0.9" }, "anode": { "tortuosity_exponent": "1.1" } }),
        ),
        ("salt", json!({ "electrolyte": { "salt_diffusion": "160 µm²/s", "transference_number": "0.26" } })),
        ("particles", json!({ "cathode": { "solid_diffusion": "0.004 µm²/s" } })),
    ];
    let porosities = [0.25, 0.3, 0.35, 0.4];
    let spread = |more: &Value, rate: &str| porosities.map(|porosity| drawn_with(porosity, 4.0, rate, more));
    for (what, more) in &slow {
        let two = spread(more, "2 C");
        println!("{what} alone, slow: {two:.1?} mAh/g at 2C");
        assert!(two.iter().all(|two| *two > 80.0), "{what}: {two:?}");
    }
    let all = slow.iter().fold(json!({}), |all, (_, more)| with(all, more));
    let (one, two) = (spread(&all, "1 C"), spread(&all, "2 C"));
    println!("all slow: {one:.1?} mAh/g at 1C, {two:.1?} at 2C");
    let ends = |of: &[f64; 4]| {
        of.iter().fold((f64::INFINITY, 0.0_f64), |(low, high), x| (low.min(*x), high.max(*x)))
    };
    let ((least, most), (least_2, most_2)) = (ends(&one), ends(&two));
    assert!(least < 1.02 * 170.0 && least > 150.0 && most < 1.1 * 170.0, "{one:?}");
    assert!(least_2 < 53.0 && most_2 > 80.0, "{two:?}");
}

/// Tran, Smyrek, Park, Pfleging, Lee, Nanomaterials 12 (2022) 3897, doi 10.3390/nano12213897, abstract read: a cast NMC811 cathode
/// keeps 27.8 % of its capacity at C/10 at 2C. Not in the abstract: thickness, porosity, counter electrode. So the other way
/// round: such a coating has, by the model, an areal capacity between that of an ordinary one and twice that.
#[test]
fn a_cast_cathode_that_gives_a_quarter_at_2_c_is_a_thick_one() {
    for porosity in [0.25, 0.3, 0.35, 0.4] {
        let kept = |areal: f64| drawn(porosity, areal, "2 C") / drawn(porosity, areal, "0.1 C");
        let (mut thin, mut thick) = (2.0, 9.0);
        for _ in 0..12 {
            let middle = 0.5 * (thin + thick);
            if kept(middle) > 0.278 { thin = middle } else { thick = middle }
        }
        println!("porosity {porosity}: 27.8 % at 2C of {thin:.2} mAh/cm²");
        assert!((3.5..8.0).contains(&thin), "{porosity}: {thin}");
    }
}
