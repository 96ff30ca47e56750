//! Published cells from the can and the chemistry alone, and with their class: what the joint prior of the population is worth.
//!
//! Sources as in [`cells`](super::cells) and [`chen`](super::chen), and the 18 × 65 cell of the open parameter-exchange JSON
//! standard's example files (2022; 2 Ah, LFP and graphite, middle class), with their standing in `data/cells.json`. The prior is
//! fitted to none of these cells, so that leaving one out changes nothing. Rated figures are held against open-circuit ones:
//! part of each difference.

use super::accuracy::{Expect::Agreement, Published, Row};
use super::cells::{cell, data, published};
use super::chen::says;
use roulade::cell::draft::Draft;
use roulade::cell::figures::definition;
use roulade_answer::answer::plain;
use serde_json::{Value, json};

/// A published figure of a cell of which only these are known.
struct Known {
    /// Whose cell, without its class and with it.
    what: [&'static str; 2],
    size: &'static str,
    cathode: &'static str,
    anode: &'static str,
    class: &'static str,
    figure: &'static str,
    /// What the table calls it, with its unit.
    quantity: &'static str,
    published: (Published, &'static str),
}

const AH: &str = "capacity, Ah";
const WH: &str = "energy, Wh";

fn rows() -> Vec<Known> {
    let data = data();
    let silicon = "graphite with silicon oxide";
    let energy = |size, what, figure, quantity, published| Known {
        what,
        size,
        cathode: "NMC811",
        anode: silicon,
        class: "energy",
        figure,
        quantity,
        published,
    };
    let chen =
        ["21 × 70 (Chen 2020), can and chemistry alone", "21 × 70 (Chen 2020), can, chemistry and class"];
    let sturm =
        ["18 × 65 (Sturm 2019), can and chemistry alone", "18 × 65 (Sturm 2019), can, chemistry and class"];
    let heenan =
        ["18 × 65 (Heenan 2020), can and chemistry alone", "18 × 65 (Heenan 2020), can, chemistry and class"];
    let of_sturm = cell(&data, "wound-18x65-nmc811-silicon-graphite");
    let of_heenan = cell(&data, "wound-18x65-nmc811-graphite-silicon");
    let says = says(&data);
    vec![
        energy("21 × 70", chen, "capacity", AH, says.plain("nominal_capacity_Ah", 1)),
        energy("21 × 70", chen, "energy", WH, says.plain("nominal_energy_Wh", 2)),
        energy("21 × 70", chen, "mass", "mass, g", says.mass()),
        energy("21 × 70", chen, "gravimetric", "Wh/kg", says.gravimetric()),
        energy("18 × 65", sturm, "capacity", AH, published(of_sturm, "capacity_Ah", 2)),
        energy("18 × 65", heenan, "capacity", AH, published(of_heenan, "nominal_capacity_Ah", 1)),
        energy("18 × 65", heenan, "energy", WH, published(of_heenan, "nominal_energy_Wh", 1)),
        Known {
            what: [
                "18 × 65 (example file of the exchange standard), can and chemistry alone",
                "18 × 65 (example file of the exchange standard), can, chemistry and class",
            ],
            size: "18 × 65",
            cathode: "LFP",
            anode: "graphite",
            class: "middle",
            figure: "capacity",
            quantity: AH,
            published: (Published::printed("2.0"), "read"),
        },
    ]
}

impl Known {
    fn sheet(&self, with_class: bool) -> Value {
        let mut sheet = json!({ "can": { "size": self.size }, "cathode": { "mix": [{ "material": self.cathode }] },
            "anode": { "mix": [{ "material": self.anode }] } });
        if with_class {
            sheet["purpose"] = json!(self.class);
        }
        sheet
    }

    /// The figure and its standard uncertainty, in its unit of the trade.
    fn predicted(&self, with_class: bool) -> (f64, f64) {
        let draft = Draft::parse(&self.sheet(with_class).to_string())
            .unwrap_or_else(|problems| panic!("{}: {problems}", self.size));
        let figures = plain(&draft, &[definition(self.figure).unwrap()], true).unwrap();
        (figures[0].value.unwrap(), figures[0].u.unwrap())
    }
}

/// Each size with its chemistry, once: by its name, and its sheet.
pub(super) fn sheets() -> Vec<(String, Value)> {
    let mut all: Vec<(String, Value)> = Vec::new();
    for cell in rows() {
        let name = format!("{}, {}, {}", cell.size, cell.cathode, cell.class);
        if all.iter().all(|(seen, _)| *seen != name) {
            all.push((name, cell.sheet(true)));
        }
    }
    all
}

/// As rows of the table: without the class, then with it.
pub(super) fn table() -> Vec<Row> {
    let why = "all of the inside stands in, and these are good cells of their years; open circuit, where a rated figure is one under load";
    let of = |with_class: bool| {
        rows().into_iter().map(move |cell| {
            let (predicted, u) = cell.predicted(with_class);
            let what = cell.what[usize::from(with_class)];
            let (published, attested) = cell.published;
            Row { what, quantity: cell.quantity, published, attested, predicted, u, expect: Agreement, why }
        })
    };
    of(false).chain(of(true)).collect()
}

/// Standardised differences of all rows, and the relative uncertainties.
fn differences(with_class: bool) -> (Vec<f64>, Vec<f64>) {
    let of = |cell: Known| {
        let (value, u) = cell.predicted(with_class);
        let published = cell.published.0.value;
        let z = (value - published) / u;
        println!(
            "{}: {} published {published:.4}, predicted {value:.4} ± {u:.2} ({:.1} %), z {z:+.2}",
            cell.what[usize::from(with_class)],
            cell.quantity,
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
