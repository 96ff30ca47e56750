//! What stands in for a list that a sheet leaves out.

use super::{Entry, Part, Place, Tab};

/// What stands in for all hardware of a sheet without parts.
pub(crate) fn part() -> Part {
    let text = |t: &str| Some(Entry::Text(t.to_owned()));
    Part {
        name: Some("lid".to_owned()),
        place: Some(Place::AboveRoll),
        height: text("3 .. 4 mm"),
        solid_fraction: text("25 .. 45 %"),
        material: Some("steel".to_owned()),
        ..Part::default()
    }
}

/// What stands in for the tabs of a foil that is connected by tabs and lists none: one, all of its entries left out.
pub(crate) fn tab() -> Tab {
    Tab::default()
}
