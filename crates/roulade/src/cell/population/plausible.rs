//! Where a quantity lies in wound cells at large, in a can of a size.
//!
//! The ranges are stated for one size. What goes with the size of the can has the same range at every size, in parts of what
//! is ordinary there; so a cell that is put into another can and grows with it stays where it was.

use super::clearance::ordinary_clearance;
use super::{Growth, REFERENCE};
use crate::sheet::defaults::field;
use crate::sheet::plausible::ends;

/// Whether the plausible range of a quantity goes with the size of the can, whatever the indices in its path.
pub fn goes_with_size(path: &str) -> bool {
    field(path).is_some_and(|field| grown(field.path, REFERENCE.diameter).is_some())
}

/// By how much both ends of a quantity's range are more in a can of a diameter (mm) than in the one they are stated for.
fn grown(path: &str, diameter: f64) -> Option<[f64; 2]> {
    let growth = Growth::between(REFERENCE.diameter, diameter);
    match path {
        "can.wall" => Some([growth.wall; 2]),
        "can.bottom" => Some([growth.bottom; 2]),
        "winding.core_diameter" => Some([growth.core; 2]),
        "parts[].height" => Some([growth.heights; 2]),
        // Into a wide can, too, a roll may be slid with little room.
        "winding.radial_clearance" => {
            let widened = ordinary_clearance(diameter) / ordinary_clearance(REFERENCE.diameter);
            Some([widened.min(1.0), widened])
        }
        _ => None,
    }
}

/// A range that is stated for a quantity (its path without list indices), in a can of an outer diameter, m. Beyond cans that
/// are made, 5 to 200 mm, the range is that of the last of them.
pub(crate) fn at_size(path: &str, (low, high): (f64, f64), diameter: f64) -> (f64, f64) {
    let diameter = if diameter.is_nan() { REFERENCE.diameter } else { (1e3 * diameter).clamp(5.0, 200.0) };
    match grown(path, diameter) {
        Some([below, above]) => (below * low, above * high),
        None => (low, high),
    }
}

/// Lower and upper end, SI, of what is plausible for a quantity in a can of an outer diameter, m, and the source: the range
/// that is stated, or that of its default.
pub(crate) fn plausible(path: &str, diameter: f64) -> Option<((f64, f64), &'static str)> {
    let (range, source) = ends(path)?;
    Some((at_size(field(path)?.path, range, diameter), source))
}
