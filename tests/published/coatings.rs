//! Coatings and stacks.
//!
//! Sources, all read, figures in `data/cells.json`: Frith, Lacey, Ulissi, Nat. Commun. 14 (2023) 420, doi
//! 10.1038/s41467-023-35933-2, Table 1; Choi et al., J. Electrochem. Soc. (2023), doi 10.1149/1945-7111/acf525; World
//! Electr. Veh. J. 14 (2023) 279, doi 10.3390/wevj14100279.

use super::accuracy::{Expect::Agreement, Expect::Miss, Published, Row};
use super::cells::{Answered, data, practice, with};
use super::say::number;
use roulade::cell::draft::Draft;
use roulade::cell::estimate::Estimate;
use roulade::quantity::units::Unit;
use serde_json::{Value, json};

/// Any can: what is asked of these coatings does not depend on it.
fn in_some_can(more: &Value) -> Answered {
    Answered::of(&with(practice("46 mm", "80 mm"), more))
}

/// Of the automotive coating: the cathode's areal capacity from its thickness and porosity, and the anode's from the
/// cathode's and N/P. Composition LiNi0.65Mn0.2Co0.15O2 after Guenter, Wassiliadis, J. Electrochem. Soc. 169 (2022)
/// 030515 (read); the nearest of the table is NMC622, which has no curve, hence a nominal voltage.
fn frith(data: &Value) -> Vec<Row> {
    let at = |what: &str| number(data, &format!("/coatings/0/figures/{what}"));
    let what = "cathode of a 78 Ah pouch cell (Frith 2023)";
    let mix = json!([
        { "material": "NMC622" },
        { "material": "carbon black", "share": "1.5 .. 2.5 %" },
        { "material": "PVDF", "share": "1.5 .. 2.5 %" },
    ]);
    let thickness = in_some_can(&json!({
        "cathode": {
            "mix": mix.clone(),
            "thickness": format!("{} µm", at("cathode_coating_thickness_um")),
            "porosity": format!("{}", at("cathode_porosity")),
        },
        "voltage": { "nominal": "3.7 V" },
    }));
    // A cathode with the published areal capacity: loading so that 187 mAh/g of 96 % give it.
    let areal = at("cathode_areal_capacity_mAh_cm2");
    let ratio = in_some_can(&json!({
        "cathode": { "mix": mix, "loading": format!("{} mg/cm²", areal / (0.187 * 0.96)) },
        // 1.04 is known to half a unit of its last digit.
        "anode": { "n_to_p": "1.035 .. 1.045" },
        "voltage": { "nominal": "3.7 V" },
    }));
    vec![
        Row::of(
            what,
            "cathode, mAh/cm², from 87.3 µm and 22 %",
            (Published::printed(&format!("{areal}")), "read"),
            thickness.figure("balance.cathode_areal"),
            (
                Miss(5.0, 7.5),
                "composition and cut-off are not in that table: NMC622 with 180 to 188 mAh/g to 4.3 V against lithium stands in, the figures imply 171",
            ),
        ),
        Row::of(
            what,
            "anode, mAh/cm², from 5.02 and N/P 1.04",
            (Published::printed(&format!("{}", at("anode_areal_capacity_mAh_cm2"))), "read"),
            ratio.figure("balance.anode_areal"),
            (Agreement, "N/P is printed with two decimals, and the mix is of common practice"),
        ),
    ]
}

/// Of a dry and a slurry-coated cathode: density from the mix and a porosity of common practice; the dry one's
/// capacity per volume from its density. The active material is not in the excerpt read: NMC811 stands in.
fn choi(data: &Value) -> Vec<Row> {
    let at = |what: &str| number(data, &format!("/coatings/1/figures/{what}"));
    let mix = |active: f64, binder: &str| {
        let rest = format!("{:.4}", 0.5 * (1.0 - active));
        json!([
            { "material": "NMC811", "share": format!("{active}") },
            { "material": binder, "share": rest.clone() },
            { "material": "carbon black", "share": rest },
        ])
    };
    let slurry = in_some_can(&json!({ "cathode": { "mix": mix(at("slurry_active_share"), "PVDF") } }));
    let dry = in_some_can(&json!({ "cathode": { "mix": mix(at("dry_active_share"), "PTFE") } }));
    // 0.1 mm at the published density: mg/cm² is then 10 times g/cm³, mAh/cm³ 100 times mAh/cm².
    let dense = in_some_can(&json!({ "cathode": {
        "mix": mix(at("dry_active_share"), "PTFE"),
        "thickness": "100 µm",
        "loading": format!("{} mg/cm²", 10.0 * at("dry_density_g_cm3")),
    } }));
    let printed =
        |what: &str, decimals: usize| (Published::printed(&format!("{:.decimals$}", at(what))), "read");
    vec![
        Row::of(
            "slurry-coated cathode (Choi 2023)",
            "density, g/cm³",
            printed("slurry_density_g_cm3", 1),
            slurry.figure("cathode.density"),
            (Agreement, "porosity is not given: 22 to 30 % of common practice; the figure is 24 %"),
        ),
        Row::of(
            "dry-coated cathode (Choi 2023)",
            "density, g/cm³",
            printed("dry_density_g_cm3", 1),
            dry.figure("cathode.density"),
            (Agreement, "porosity is not given, and that of slurry coatings stands in; the figure is 18 %"),
        ),
        Row::of(
            "dry-coated cathode (Choi 2023)",
            "mAh/cm³, from 3.8 g/cm³ and 98 %",
            printed("dry_volumetric_capacity_mAh_cm3", 0).map_reading(5.0),
            &dense.times("balance.cathode_areal", 100.0),
            (Agreement, "the active material is not given; NMC811 stands in"),
        ),
    ]
}

/// A published figure with a wider reading than its last digit: 760 is read as rounded to tens.
trait Reading {
    fn map_reading(self, reading: f64) -> Self;
}

impl Reading for (Published, &'static str) {
    fn map_reading(self, reading: f64) -> Self {
        (self.0.read_to(reading), self.1)
    }
}

/// Wh/L of the stack alone: one turn's thickness times the area of one face, no core, can or head.
fn stack_density(sheet: &Value) -> f64 {
    let design = Draft::parse(&sheet.to_string()).unwrap().design().unwrap();
    let (inner, outer) = design.active_area();
    let volume = design.roll().pitch() * 0.5 * (inner + outer);
    let energy = Estimate::of(&design).unwrap().balance.energy;
    (energy / volume).value / Unit::WattHourPerLitre.in_si()
}

/// Gain in per cent of the stack's Wh/L where a cathode of this thickness at 40 % porosity goes to 30 %: pressed, at
/// the same loading; or filled, at the same thickness. The anode follows by N/P.
fn denser_cathode(micrometres: f64) -> (f64, f64) {
    let sheet =
        |cathode: Value| stack_density(&with(practice("46 mm", "80 mm"), &json!({ "cathode": cathode })));
    let thick = format!("{micrometres} µm");
    let porous = sheet(json!({ "thickness": thick, "porosity": "0.4" }));
    let filled = sheet(json!({ "thickness": thick, "porosity": "0.3" }));
    let pressed = sheet(json!({ "thickness": format!("{} µm", micrometres * 0.6 / 0.7), "porosity": "0.3" }));
    (100.0 * (pressed / porous - 1.0), 100.0 * (filled / porous - 1.0))
}

/// Baselines for the worth of porosity: from a power cell's coating to a thick one's.
const BASELINES: [f64; 6] = [30.0, 40.0, 50.0, 60.0, 80.0, 100.0];

fn porosity(data: &Value) -> Row {
    let published = number(data, "/worth_of_changes/0/figures/cathode_porosity_40_to_30_percent");
    let gains = BASELINES.map(|t| denser_cathode(t).0);
    let (low, high) =
        (gains.iter().copied().fold(f64::MAX, f64::min), gains.iter().copied().fold(0.0, f64::max));
    Row {
        what: "stack, cathode porosity 40 to 30 % (WEVJ 2023)",
        quantity: "gain in Wh/L, %",
        published: Published::printed(&format!("{published:.1}")),
        attested: "read",
        predicted: 0.5 * (low + high),
        u: (high - low) / 12.0_f64.sqrt(),
        expect: Agreement,
        why: "coating thickness is not given: spread over 30 to 100 µm at 40 %, pressed at the same loading",
    }
}

/// Rows of this file.
pub(super) fn rows() -> Vec<Row> {
    let data = data();
    let mut rows = [frith(&data), choi(&data)].concat();
    rows.push(porosity(&data));
    rows
}

/// The published 5.5 % lies inside the spread over baselines of a cathode that is pressed, and below that of one that
/// is filled at the same thickness: pressing is what the figure means.
#[test]
fn contribution_of_porosity_over_baselines() {
    let published = number(&data(), "/worth_of_changes/0/figures/cathode_porosity_40_to_30_percent");
    let mut pressed = Vec::new();
    for t in BASELINES {
        let (gain, filled) = denser_cathode(t);
        println!("{t:>5.0} µm: pressed {gain:+.2} %, filled {filled:+.2} %, published {published:+.1} %");
        assert!(filled > gain);
        pressed.push(gain);
    }
    // Thicker coatings leave less to foils and separators, so the same step is worth more.
    assert!(pressed.windows(2).all(|pair| pair[0] < pair[1]), "{pressed:?}");
    assert!(pressed.first().is_some_and(|low| *low < published + 0.05));
    assert!(pressed.last().is_some_and(|high| *high > published - 0.05));
}
