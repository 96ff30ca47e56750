//! What stands in for a list that a sheet leaves out.

use super::{Entry, Part, Place, Tab};

/// The parts that an edit may name where a sheet lists none: those of an ordinary cell of 21 mm with tabs.
pub(crate) fn parts() -> Vec<Part> {
    let text = |t: &str| Some(Entry::Text(t.to_owned()));
    let part = |name: &str, place: Place, height: &str, solid: &str, material: &str| Part {
        name: Some(name.to_owned()),
        place: Some(place),
        height: text(height),
        solid_fraction: text(solid),
        material: Some(material.to_owned()),
        ..Part::default()
    };
    vec![
        part("bottom insulator", Place::BelowRoll, "0.21 ± 0.07 mm", "60 ± 12 %", "polypropylene"),
        part("top insulator", Place::AboveRoll, "0.32 ± 0.11 mm", "60 ± 12 %", "polypropylene"),
        part("cap assembly", Place::AboveRoll, "4.0 ± 0.5 mm", "29 ± 6 %", "steel"),
    ]
}

/// What stands in for the tabs of a foil that is connected by tabs and lists none: one, all of its entries left out.
pub(crate) fn tab() -> Tab {
    Tab::default()
}
