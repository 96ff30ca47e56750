//! What of a design is a hazard, and what rests on an assumption that flatters it. Cautions, not a safety assessment.

use crate::cell::design::Electrode;
use crate::cell::figures::Worked;

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

/// Charge cut-off voltage up to which ordinary carbonate electrolytes with `LiPF6` are used, V: 4.3 to 4.5 V against
/// lithium, from memory; less a graphite anode's 0.1 V.
const CARBONATES: f64 = 4.35;
/// A can lighter than this, kg/m³, is of aluminium: its alloys have 2.7, steel 7.9 g/cm³.
const LIGHT: f64 = 3500.0;

/// All hazards that show in a design.
pub fn hazards(w: &Worked) -> Vec<Hazard> {
    let b = w.design.blueprint();
    let mut found = Vec::new();
    let n_to_p = w.estimate.balance.n_to_p().value;
    if n_to_p < 1.0 {
        found.push(Hazard {
            id: "n_to_p",
            text: format!(
                "N/P is {n_to_p:.2}, below 1: the anode cannot take up what the cathode gives, and lithium metal plates on it."
            ),
            source: "common practice, no source",
        });
    } else if let Some(first) = first_charge(w).filter(|first| *first < 1.0) {
        found.push(Hazard {
            id: "n_to_p_first",
            text: format!(
                "On the first charge the anode takes up {first:.2} of what the cathode gives, below 1: lithium metal can plate \
                 before the losses of the first cycle are made up."
            ),
            source: "common practice, no source",
        });
    }
    if b.can.density.value < LIGHT {
        found.push(Hazard {
            id: "aluminium_can",
            text: "The can is of aluminium and is the negative pole: at the anode's potential aluminium alloys with lithium and \
                   gives way. Aluminium cans are positive, or the roll is insulated from them."
                .to_owned(),
            source: "common practice, no source",
        });
    }
    let upper = b.window.upper.value;
    if upper > CARBONATES {
        found.push(Hazard {
            id: "charge_voltage",
            text: format!(
                "A charge cut-off of {upper:.2} V is more than ordinary carbonate electrolytes bear for long ({CARBONATES:.2} V): \
                 gas, and loss of capacity, unless the electrolyte is made for it."
            ),
            source: "from memory",
        });
    }
    for (side, electrode) in [("cathode", &b.cathode), ("anode", &b.anode)] {
        found.extend(undiluted(side, electrode));
    }
    found
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

/// A mix of active material alone.
fn undiluted(side: &str, electrode: &Electrode) -> Option<Hazard> {
    let [only] = &*electrode.mix else { return None };
    Some(Hazard {
        id: "undiluted",
        text: format!(
            "The {side} is mixed from {} alone: no binder and no conductive additive is an assumption. They usually take 2 to 6 % \
             of the mass, and the capacity is high by as much.",
            only.name
        ),
        source: "common practice, no source",
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::test_support::draft;
    use serde_json::{Value, json};

    fn ids(changes: &[(&str, Value)]) -> Vec<&'static str> {
        let draft = draft(changes);
        let w = Worked::at(&draft, &draft.values()).unwrap();
        hazards(&w).iter().map(|hazard| hazard.id).collect()
    }

    #[test]
    fn each_hazard_is_told_and_none_without_it() {
        assert!(ids(&[]).is_empty(), "{:?}", ids(&[]));
        assert!(ids(&[("can/material", json!("light metal"))]).contains(&"aluminium_can"));
        assert!(ids(&[("cathode/mix", json!([{ "material": "C" }]))]).contains(&"undiluted"));
        let scarce = [("anode/loading", json!("7 mg/cm2"))];
        assert!(ids(&scarce).contains(&"n_to_p"), "{:?}", ids(&scarce));
    }
}
