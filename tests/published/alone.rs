//! Published cells from the can and the chemistry alone, and with their class: what the joint prior of the population is worth.
//!
//! Sources as in [`cells`](super::cells) and [`chen`](super::chen), and the 18 × 65 cell of the open parameter-exchange JSON
//! standard's example files (2022; 2 Ah, LFP and graphite, middle class), with their standing in `data/cells.json`. The prior is
//! fitted to none of these cells, so that leaving one out changes nothing. Rated figures are held against open-circuit ones:
//! part of each difference.

use super::cells::{cell, data};
use super::say::number;
use roulade::cell::draft::Draft;
use roulade::cell::figures::definition;
use roulade_answer::answer::plain;
use serde_json::{Value, json};

/// Size, cathode, anode, class, figure, unit's symbol, published.
type Row = (&'static str, &'static str, &'static str, &'static str, &'static str, f64);

fn rows() -> Vec<Row> {
    let data = data();
    let says = |id: &str, what: &str| number(cell(&data, id), &format!("/to_predict/{what}/value"));
    let (chen, sturm, heenan) = (
        "wound-21x70-nmc811-graphite-siox",
        "wound-18x65-nmc811-silicon-graphite",
        "wound-18x65-nmc811-graphite-silicon",
    );
    let silicon = "graphite with silicon oxide";
    let energy = says(chen, "nominal_energy_Wh");
    vec![
        ("21 × 70", "NMC811", silicon, "energy", "capacity", says(chen, "nominal_capacity_Ah")),
        ("21 × 70", "NMC811", silicon, "energy", "energy", energy),
        ("21 × 70", "NMC811", silicon, "energy", "mass", 68.5),
        ("21 × 70", "NMC811", silicon, "energy", "gravimetric", 1e3 * energy / 68.5),
        ("18 × 65", "NMC811", silicon, "energy", "capacity", says(sturm, "capacity_Ah")),
        ("18 × 65", "NMC811", silicon, "energy", "capacity", says(heenan, "nominal_capacity_Ah")),
        ("18 × 65", "NMC811", silicon, "energy", "energy", says(heenan, "nominal_energy_Wh")),
        ("18 × 65", "LFP", "graphite", "middle", "capacity", 2.0),
    ]
}

/// Each size with its chemistry, once: by its name, and its sheet.
pub(super) fn sheets() -> Vec<(String, Value)> {
    let mut all: Vec<(String, Value)> = Vec::new();
    for (size, cathode, anode, class, ..) in rows() {
        let name = format!("{size}, {cathode}, {class}");
        if all.iter().all(|(known, _)| *known != name) {
            let sheet = json!({ "can": { "size": size }, "cathode": { "mix": [{ "material": cathode }] },
                "anode": { "mix": [{ "material": anode }] }, "purpose": class });
            all.push((name, sheet));
        }
    }
    all
}

/// Standardised differences of all rows, and the relative uncertainties.
fn differences(with_class: bool) -> (Vec<f64>, Vec<f64>) {
    let of = |(size, cathode, anode, class, figure, published): Row| {
        let mut sheet = json!({ "can": { "size": size }, "cathode": { "mix": [{ "material": cathode }] },
            "anode": { "mix": [{ "material": anode }] } });
        if with_class {
            sheet["purpose"] = json!(class);
        }
        let draft = Draft::parse(&sheet.to_string()).unwrap_or_else(|problems| panic!("{size}: {problems}"));
        let told = plain(&draft, &[definition(figure).unwrap()], true).unwrap();
        let (value, u) = (told[0].value.unwrap(), told[0].u.unwrap());
        let z = (value - published) / u;
        println!(
            "{size} {cathode}, {}: {figure} published {published:.4}, predicted {value:.4} ± {u:.2} ({:.1} %), z {z:+.2}",
            if with_class { class } else { "purpose not said" },
            100.0 * u / value
        );
        (z, u / value)
    };
    rows().into_iter().map(of).unzip()
}

/// Nine in ten within 95 %, and as a whole no further off than the stated uncertainties say, nor much less. Nearly every
/// difference has the same sign: the prior is low by about one u for such cells, which are good ones of their years.
#[test]
fn published_cells_lie_within_the_stated_intervals() {
    for with_class in [false, true] {
        let (z, mut u) = differences(with_class);
        let within = z.iter().filter(|z| z.abs() <= 1.96).count();
        let count = z.len() as f64;
        let rms = (z.iter().map(|z| z * z).sum::<f64>() / count).sqrt();
        u.sort_by(f64::total_cmp);
        println!(
            "class {}: {within} of {} within 95 %, rms of z {rms:.2}, mean {:+.2}, median u {:.1} %",
            if with_class { "stated" } else { "not stated" },
            z.len(),
            z.iter().sum::<f64>() / count,
            100.0 * u[u.len() / 2]
        );
        assert!(10 * within >= 9 * z.len(), "{z:?}");
        assert!((0.7..1.3).contains(&rms), "{rms}");
    }
}
