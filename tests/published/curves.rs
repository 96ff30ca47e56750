//! The table's half-cell curves against independent data, with the error that each states of itself; published specific
//! capacities and mean voltages; and what efficiency and cut-off voltages do to capacity.
//!
//! Sources, with how each is attested: `data/curves.json`.

use super::formulas::{Cubic, data, record};
use super::say::{list, number, say, text};
use roulade::cell::balance::Balance;
use roulade::cell::draft::Draft;
use roulade::material::{self, Curve, Material};
use roulade::quantity::units::Unit;
use roulade_stats::uncertain::Spread;
use serde_json::{Value, json};

/// A difference between two independent curves lies within this many of the stated standard uncertainties.
const K: f64 = 2.0;

fn table(name: &str) -> (&'static Material, Curve) {
    let material = material::find(name).unwrap();
    (material, material.curve().unwrap())
}

fn error(name: &str) -> f64 {
    table(name).0.half.unwrap().error
}

/// Mean of a function over a stretch, by 4000 midpoints.
fn mean(from: f64, to: f64, f: impl Fn(f64) -> f64) -> f64 {
    let n = 4000;
    (0..n).map(|i| f(from + (to - from) * (f64::from(i) + 0.5) / f64::from(n))).sum::<f64>() / f64::from(n)
}

/// Prints table less data in the mean and at each point, and holds the mean against the table's own error.
#[track_caller]
fn held(what: &str, name: &str, points: &[(f64, f64)], (from, to): (f64, f64)) {
    let (curve, cubic) = (table(name).1, Cubic::new(points));
    let off = mean(from, to, |x| curve.potential(x) - cubic.at(x));
    let u = error(name);
    println!(
        "{what}: table less data {:+.1} mV in the mean of {from} to {to}, stated u {:.0} mV",
        1e3 * off,
        1e3 * u
    );
    for (x, volts) in points.iter().filter(|(x, _)| (from..=to).contains(x)) {
        println!("  {x:.4}: {:+.0} mV", 1e3 * (curve.potential(*x) - volts));
    }
    assert!(off.abs() <= K * u, "{what}: {off:e} V");
}

/// Another opened cell's graphite, on its own scale. Below x = 0.02, where both are walls, a difference says nothing of
/// their height.
#[test]
fn graphite_of_another_opened_cell() {
    held("graphite, pouch cell", "graphite", &record("graphite, opened pouch cell", 1), (0.02, 0.75668));
}

/// Taken to be on one scale: the plateau hides what that is worth, the knee does not, and stays undecided between three
/// sources.
#[test]
fn lfp_digitised() {
    held("LFP, digitised, plateau", "LFP", &record("LFP, digitised", 1), (0.1, 0.7));
}

/// Between the branches of one cycle, which stand 100 to 200 mV apart.
#[test]
fn lco_between_its_branches() {
    for (branch, column, sign) in [("charge", 1, 1.0), ("discharge", 2, -1.0)] {
        let points = record("LCO, third cycle to 4.6 V", column);
        let (curve, cubic) = (table("LCO").1, Cubic::new(&points));
        let above = sign * mean(0.3, 0.9, |y| cubic.at(y) - curve.potential(y));
        println!("LCO: {branch} lies {:+.0} mV to its side of the table in the mean", 1e3 * above);
        assert!((0.0..0.15).contains(&above), "{branch}");
    }
}

/// The lithiation of silicon lies below the delithiation that the table has: the hysteresis in the mean, which no
/// one-valued curve holds.
#[test]
fn silicon_lithiation_is_the_other_branch() {
    let cubic = Cubic::new(&record("silicon, lithiation, digitised", 1));
    let (_, curve) = table("silicon");
    let gap = mean(0.05, 0.95, |x| curve.potential(x) - cubic.at(x));
    println!("silicon: delithiation less lithiation {:.0} mV in the mean", 1e3 * gap);
    assert!((0.2..0.35).contains(&gap));
}

/// Layered oxides between 4.28 and 3.60 V at equal shares of each one's own charge: a digitised NMC whose grade is not
/// said against all of the table that reach over that window. Its composition lies somewhere among theirs, so each is
/// allowed what the distance of NMC111 from NMC811 adds to its own error.
#[test]
fn shape_of_the_layered_oxides() {
    let digitised = Cubic::new(&record("NMC, grade not said, digitised", 1));
    let at = |f: &dyn Fn(f64) -> f64, u: f64, low: f64, high: f64| {
        let (mut a, mut b) = (low, high);
        for _ in 0..60 {
            let middle = 0.5 * (a + b);
            if f(middle) > u { a = middle } else { b = middle }
        }
        0.5 * (a + b)
    };
    let mean_of = |f: &dyn Fn(f64) -> f64, low: f64, high: f64| {
        let (from, to) = (at(f, 4.28, low, high), at(f, 3.6, low, high));
        mean(from, to, f)
    };
    let theirs = mean_of(&|x| digitised.at(x), 0.0, 1.0);
    for name in ["NMC111", "NMC532", "NMC622", "NMC811", "NMC90", "NMC95", "NCA", "NCA88"] {
        let (_, curve) = table(name);
        let (low, high) = curve.reach();
        let own = mean_of(&|x| curve.potential(x), low, high);
        say(&format!("{name}, mean from 4.28 to 3.60 V"), theirs, own);
        let u = material::borrowed_error(error(name), 0.467);
        assert!((own - theirs).abs() <= K * u, "{name}: {:+.0} mV", 1e3 * (own - theirs));
    }
}

/// The opened pouch cell at C/20: its mean voltage, from its cathode and the table's graphite over its own windows. The
/// measured discharge lies below open circuit by an overpotential that is not known.
#[test]
fn whole_cells_by_their_mean_voltage() {
    let cells = list(data(), "/records");
    let of = |name: &str| cells.iter().find(|cell| cell["name"] == name).unwrap();
    let pouch = number(of("whole pouch cell, NMC111 / graphite, C/20 discharge"), "/mean_V");
    let small = number(of("whole 18 x 65 cell, LFP / graphite, open circuit"), "/mean_V");
    for (what, published, cathode, y, x) in [
        ("NMC111 / graphite pouch cell, C/20", pouch, "NMC111", (0.42424, 0.9621), (0.005_504, 0.75668)),
        (
            "LFP / graphite 18 × 65 cell, open circuit",
            small,
            "LFP",
            (0.0875, 0.95038),
            (0.001_626_1, 0.82258),
        ),
    ] {
        let (c, a) = (table(cathode).1, table("graphite").1);
        let volts = mean(y.0, y.1, |y| c.potential(y)) - mean(x.0, x.1, |x| a.potential(x));
        let u = error(cathode).hypot(error("graphite"));
        let off = say(&format!("{what}, mean V"), published, volts);
        println!("  stated u {:.0} mV", 1e3 * u);
        assert!(off.abs() <= K * u, "{what}");
    }
}

/// Specific capacities between two potentials against lithium. The table's own: its practical capacity, with the range's
/// half-width, times what its curve holds there over its window. LCO holds more than the charge of its source shows at a
/// working rate; a laboratory's powder holds more than the range that cells for sale have.
#[test]
fn published_specific_capacities() {
    for case in list(data(), "/capacities") {
        let name = text(case, "/material");
        let (material, curve) = table(name);
        let (low, high) = curve.window();
        let [from, to] = ["/to_V", "/from_V"].map(|end| curve.stoichiometry(number(case, end)));
        let share = (to - from) / (high - low);
        let capacity = material.capacity.unwrap().uncertain;
        let half = match capacity.spread {
            Spread::Range { low, high } => 0.5 * (high - low),
            _ => 2.0 * capacity.u(),
        };
        let [own, half] = [capacity.value, half].map(|q| share * q / Unit::MilliampereHourPerGram.in_si());
        for published in list(case, "/mAh_g").iter().map(|q| q.as_f64().unwrap()) {
            let what = format!("{name}, {} to {} V", case["from_V"], case["to_V"]);
            println!(
                "{what}: published {published}, table {own:.1} ± {half:.1} mAh/g ({:+.1} %)",
                100.0 * (own / published - 1.0)
            );
            // And 4 % for a rate, a rest, a powder.
            assert!((own - published).abs() <= half + 0.04 * published, "{what}");
        }
    }
}

fn cell(changes: &[(&str, &str)]) -> Value {
    let mut sheet = json!({
        "can": { "diameter": "21.1 mm", "height": "70.1 mm" },
        "materials": [{ "name": "NMC811", "capacity": "200 mAh/g" }, { "name": "graphite", "capacity": "350 mAh/g" }],
        "cathode": { "mix": [{ "material": "NMC811" }, { "material": "PVDF", "share": "4 %" }],
                     "loading": "20 mg/cm²", "porosity": "25 %" },
        "anode": { "mix": [{ "material": "graphite" }, { "material": "CMC", "share": "4 %" }],
                   "loading": "13.5 mg/cm²", "porosity": "28 %" },
        "voltage": { "charge_cut_off": "4.2 V", "discharge_cut_off": "2.8 V" },
    });
    for (path, value) in changes {
        let at = path.split('/').fold(&mut sheet, |at, key| &mut at[key]);
        *at = json!(value);
    }
    sheet
}

/// Capacity over what the window of the paired cathode holds.
fn used(changes: &[(&str, &str)]) -> f64 {
    let design = Draft::parse(&cell(changes).to_string()).unwrap().design().unwrap();
    let balance = Balance::of(&design).unwrap();
    let (inner, outer) = design.active_area();
    (balance.capacity / (balance.cathode_areal * (inner + outer))).value
}

/// With reversible capacities stated, the losses of both electrodes take from the same lithium: of the first charge,
/// `1/η_c` of the window, `η_a` comes back, as far as the window has room. So capacity is `min(1, η_a/η_c)` of the
/// window, but for what the voltage limits cut at its ends: 3 %.
#[test]
fn efficiency_moves_capacity_the_right_way() {
    let at = |eta_c: &str, eta_a: &str| {
        used(&[
            ("cathode/initial_coulombic_efficiency", eta_c),
            ("anode/initial_coulombic_efficiency", eta_a),
        ])
    };
    let share = |text: &str| text.trim_end_matches(" %").parse::<f64>().unwrap() / 100.0;
    let efficiencies = ["86 %", "88 %", "90 %", "92 %", "94 %", "96 %", "98 %"];
    for eta_a in efficiencies {
        let mut before = f64::INFINITY;
        for eta_c in efficiencies {
            let (found, by_hand) = (at(eta_c, eta_a), (share(eta_a) / share(eta_c)).min(1.0));
            println!("cathode {eta_c}, anode {eta_a}: {found:.4} of the window, by hand {by_hand:.4}");
            assert!((found - by_hand).abs() < 0.03, "{eta_c}, {eta_a}");
            // Less lithium as assembled is never more capacity, and where the anode takes more than the cathode leaves
            // it is less.
            // (A first charge of more lithium ends a little earlier.)
            assert!(found <= before + 1e-3, "{eta_c}, {eta_a}");
            assert!(share(eta_c) <= share(eta_a) + 0.03 || found < before - 0.005, "{eta_c}, {eta_a}");
            before = found;
        }
    }
    // A reversible capacity is not cut by the cathode's own efficiency.
    assert!((at("80 %", "92 %") - at("88 %", "92 %")).abs() < 0.005);
}

/// Every cut-off counts, and the right way; the answer says what lies on a continuation.
#[test]
fn cut_off_voltages_move_capacity_the_right_way() {
    for (key, cut_offs, sign) in [
        ("voltage/discharge_cut_off", ["2.5 V", "2.7 V", "2.9 V", "3.0 V", "3.2 V"], -1.0),
        ("voltage/charge_cut_off", ["4.1 V", "4.2 V", "4.25 V", "4.3 V", "4.39 V"], 1.0),
    ] {
        for eta_a in ["88 %", "95 %"] {
            let capacities =
                cut_offs.map(|volts| used(&[(key, volts), ("anode/initial_coulombic_efficiency", eta_a)]));
            println!("{key}, anode {eta_a}: {cut_offs:?} {capacities:.4?}");
            assert!(capacities.windows(2).all(|pair| sign * (pair[1] - pair[0]) > 1e-4), "{key}, {eta_a}");
            let moved = sign * (capacities[4] / capacities[0] - 1.0);
            assert!((0.002..0.3).contains(&moved), "{key}, {eta_a}: {moved}");
        }
    }
}
