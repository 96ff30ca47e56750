//! What of a design is a hazard, and what rests on an assumption that flatters it. Cautions, not a safety assessment.

use crate::cell::draft::Draft;
use crate::cell::figures::Worked;
use crate::material::Ion;

/// A caution about one design.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Hazard {
    /// Stable name.
    pub id: &'static str,
    /// The caution.
    pub text: String,
    /// Where it comes from.
    pub source: &'static str,
}

const PRACTICE: &str = "common practice, no source";
const MEMORY: &str = "from memory";
/// A can lighter than this, kg/m³, is of aluminium: its alloys have 2.7, steel 7.9 g/cm³.
const LIGHT: f64 = 3500.0;

/// Charge cut-off voltage up to which ordinary carbonate electrolytes are used, V: 4.3 to 4.5 V against lithium, from memory;
/// less a graphite anode's 0.1 V. Sodium's potential lies 0.33 V above lithium's (standard potentials, −3.04 and −2.71 V).
fn bearable(ion: Ion) -> f64 {
    match ion {
        Ion::Lithium => 4.35,
        Ion::Sodium => 4.1,
    }
}

/// All hazards that show in a design at some values of its sheet.
pub fn hazards(draft: &Draft, w: &Worked) -> Vec<Hazard> {
    let ion = draft.ion();
    let all = [
        plating(ion, w),
        aluminium_can(ion, w),
        charge_voltage(ion, w),
        overfilled(w),
        warm(w),
        undiluted("cathode", draft),
        undiluted("anode", draft),
    ];
    all.into_iter().flatten().collect()
}

/// An anode that cannot take up all that comes, on any charge or on the first.
fn plating(ion: Ion, w: &Worked) -> Option<Hazard> {
    let name = ion.name();
    let caution = |id, text| Some(Hazard { id, text, source: PRACTICE });
    if w.design.blueprint().anode.is_metal() {
        return caution(
            "metal_anode",
            format!(
                "The anode is {name} metal: what plates on it may grow through the separator and short the cell, and a cell of \
                 it burns harder than one with a graphite anode."
            ),
        );
    }
    let n_to_p = w.estimate.balance.n_to_p().value;
    if n_to_p < 1.0 {
        return caution(
            "n_to_p",
            format!(
                "N/P is {n_to_p:.2}, below 1: the anode cannot take up what the cathode gives, and {name} metal plates on it."
            ),
        );
    }
    let first = first_charge(w).filter(|first| *first < 1.0)?;
    caution(
        "n_to_p_first",
        format!(
            "On the first charge the anode takes up {first:.2} of what the cathode gives, below 1: {name} metal can plate \
             before the losses of the first cycle are made up."
        ),
    )
}

/// What the anode can take up on its first charge over what the cathode then gives, areas that face each other.
fn first_charge(w: &Worked) -> Option<f64> {
    let b = w.design.blueprint();
    let balance = &w.estimate.balance;
    let (anode, cathode) =
        (b.anode.initial_coulombic_efficiency.value, b.cathode.initial_coulombic_efficiency.value);
    (anode > 0.0 && cathode > 0.0 && cathode <= 1.0)
        .then(|| (balance.anode_areal.value / anode) / (balance.cathode_areal.value / cathode))
}

/// Aluminium takes up lithium; sodium it does not.
fn aluminium_can(ion: Ion, w: &Worked) -> Option<Hazard> {
    let light = w.design.blueprint().can.density.value < LIGHT;
    (light && ion == Ion::Lithium).then(|| Hazard {
        id: "aluminium_can",
        text: "The can is of aluminium and is the negative pole: at the anode's potential aluminium alloys with lithium and \
               gives way. Aluminium cans are positive, or the roll is insulated from them."
            .to_owned(),
        source: PRACTICE,
    })
}

fn charge_voltage(ion: Ion, w: &Worked) -> Option<Hazard> {
    let (upper, bearable) = (w.design.blueprint().window.upper.value, bearable(ion));
    (upper > bearable).then(|| Hazard {
        id: "charge_voltage",
        text: format!(
            "A charge cut-off of {upper:.2} V is more than ordinary carbonate electrolytes bear for long ({bearable:.2} V): gas, \
             and loss of capacity, unless the electrolyte is made for it."
        ),
        source: MEMORY,
    })
}

fn overfilled(w: &Worked) -> Option<Hazard> {
    let swollen = w.swollen().filter(|swollen| swollen.gap_charged.value < 0.0)?;
    Some(Hazard {
        id: "overfilled",
        text: format!(
            "Fully charged, the jelly roll would be {:.2} mm wide in a can of {:.2} mm inner diameter: it presses against the can, and what \
             gives way, separator, pores or can, is not computed here. A computed fit is not a safety margin.",
            2e3 * swollen.radius_charged.value,
            1e3 * w.design.blueprint().can.bore().value
        ),
        source: PRACTICE,
    })
}

/// Temperature up to which cells are commonly rated, °C: common practice, no source.
const RATED: f64 = 60.0;

/// A discharge at the stated rate that ends warmer than cells are commonly rated for.
fn warm(w: &Worked) -> Option<Hazard> {
    let (path, load) = (&w.design.blueprint().path, &w.loaded().1);
    let end = path.temperature + load.warming.end;
    (end > RATED).then(|| Hazard {
        id: "warm",
        text: format!(
            "Discharged at {:.1} C the cell would end at about {end:.0} °C, its core warmer still: cells are commonly rated for up to \
             {RATED:.0} °C. From 80 to 120 °C the film on the anode gives way and the cell heats itself; separators of \
             polyethylene melt at about 130 °C. What load a cell may bear is for its maker and a licensed test laboratory to say.",
            3600.0 * path.rate.value
        ),
        source: "rating: common practice, no source; film and separator: Feng et al., Energy Storage Materials 10 (2018) 246, doi \
                 10.1016/j.ensm.2017.05.013, from memory",
    })
}

/// A mix whose sheet says that there is no binder in it, or nothing that conducts beside the active material of a cathode.
fn undiluted(side: &'static str, draft: &Draft) -> Option<Hazard> {
    let without = draft.mixed_without(side)?;
    Some(Hazard {
        id: "undiluted",
        text: format!(
            "The {side}'s mix is stated without {without}: that is an assumption. Binder and conductive additive usually take \
             2 to 6 % of the mass, and the capacity is high by as much as is missing."
        ),
        source: PRACTICE,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::test_support::{draft, read};
    use serde_json::{Value, json};

    fn of(draft: &Draft) -> Vec<Hazard> {
        let w = Worked::at(draft, &draft.values()).unwrap();
        hazards(draft, &w)
    }

    fn ids(changes: &[(&str, Value)]) -> Vec<&'static str> {
        of(&draft(changes)).iter().map(|hazard| hazard.id).collect()
    }

    #[test]
    fn each_hazard_is_reported_and_none_without_it() {
        let diluted = json!([{ "material": "C" }, { "material": "PVDF", "share": "2 %" }, { "material": "carbon black", "share": "2 %" }]);
        let sound = [("cathode/mix", diluted)];
        assert!(!ids(&sound).contains(&"undiluted"), "{:?}", ids(&sound));
        assert!(ids(&[("can/material", json!("light metal"))]).contains(&"aluminium_can"));
        assert!(
            ids(&[("cathode/mix", json!([{ "material": "C", "share": "100 %" }]))]).contains(&"undiluted")
        );
        let scarce = [("anode/loading", json!("7 mg/cm2"))];
        assert!(ids(&scarce).contains(&"n_to_p"), "{:?}", ids(&scarce));
        let at =
            |rate: &str| json!({ "c_rate": rate, "heat_transfer": "1 W/m2/K", "electrochemical": "10 mΩ" });
        assert!(ids(&[("current_path", at("2 C"))]).contains(&"warm"));
        assert!(!ids(&[("current_path", at("0.1 C"))]).contains(&"warm"));
        let thick = [("anode/swelling", json!("40 %"))];
        assert!(ids(&thick).contains(&"overfilled"), "{:?}", ids(&thick));
    }

    fn cell(cathode: &str, anode: &Value, more: &[(&str, Value)]) -> Draft {
        let mut sheet = json!({ "can": { "size": "21 × 70" }, "cathode": { "mix": [{ "material": cathode }] }, "anode": anode });
        for (key, value) in more {
            sheet[*key] = value.clone();
        }
        read(&sheet).unwrap()
    }

    /// Metal plates by design, sodium does not alloy with aluminium, and no word of lithium is said of sodium.
    #[test]
    fn what_is_said_is_of_the_cell_in_hand() {
        let metal =
            cell("NMC811", &json!({ "mix": [{ "material": "lithium metal" }], "thickness": "0 µm" }), &[]);
        assert_eq!(of(&metal).iter().map(|hazard| hazard.id).collect::<Vec<_>>(), ["metal_anode"]);
        let carbon = json!({ "mix": [{ "material": "hard carbon" }], "n_to_p": "0.98" });
        let voltage = json!({ "charge_cut_off": "4.15 V", "discharge_cut_off": "1.5 V" });
        let can = json!({ "size": "21 × 70", "material": "aluminium" });
        let diagnostics = of(&cell("NFM111", &carbon, &[("voltage", voltage), ("can", can)]));
        assert!(diagnostics.iter().all(|hazard| !hazard.text.contains("lithium")), "{diagnostics:?}");
        assert!(
            diagnostics.iter().any(|hazard| hazard.text.contains("sodium metal plates")),
            "{diagnostics:?}"
        );
        assert!(diagnostics.iter().any(|hazard| hazard.id == "charge_voltage"), "{diagnostics:?}");
    }
}
