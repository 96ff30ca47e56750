//! Hazards of the cells that an answer is about: each once, whatever was asked.

use roulade::cell::draft::Draft;
use roulade::cell::figures::Worked;
use roulade::cell::hazard::{Hazard, hazards};

/// The cautions about some cells at their best values. What is said of all of them alike is said once; what is said of one of
/// several begins with its name.
pub fn cautioned(drafts: &[&Draft]) -> Vec<String> {
    let of =
        |draft: &&Draft| Worked::at(draft, &draft.values()).map(|w| hazards(draft, &w)).unwrap_or_default();
    let each: Vec<(&str, Vec<Hazard>)> = drafts.iter().map(|draft| (draft.name(), of(draft))).collect();
    let shared = |hazard: &Hazard| each.iter().all(|(_, own)| own.contains(hazard));
    let mut cautions = Vec::new();
    for (name, own) in &each {
        for hazard in own {
            let text = if shared(hazard) { hazard.text.clone() } else { format!("{name}: {}", hazard.text) };
            if !cautions.contains(&text) {
                cautions.push(text);
            }
        }
    }
    cautions
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::test_support::draft;
    use serde_json::json;

    #[test]
    fn a_hazard_is_reported_once_and_of_whom() {
        let can = ("can/material", json!("light metal"));
        let sound = draft(&[]);
        let one = draft(&[can.clone(), ("cell", json!("one"))]);
        let other = draft(&[can, ("cell", json!("other")), ("anode/loading", json!("7 mg/cm2"))]);
        assert!(cautioned(&[&sound]).is_empty(), "{:?}", cautioned(&[&sound]));
        let cautions = cautioned(&[&one]);
        assert!(cautions.len() == 1 && cautions[0].starts_with("The can is of aluminium"), "{cautions:?}");
        let both = cautioned(&[&one, &other]);
        assert_eq!(both.iter().filter(|text| text.starts_with("The can is")).count(), 1, "{both:?}");
        assert!(both.iter().any(|text| text.starts_with("other: N/P is")), "{both:?}");
        assert!(cautioned(&[&sound, &one])[0].starts_with("one: The can"));
    }
}
