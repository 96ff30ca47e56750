//! What stands in for the inside of a cell that nobody has opened: a joint prior by size, purpose and chemistry.
//!
//! Every quantity that a sheet leaves out has a law: a middle that follows from the size of the can and the chemistry, a
//! slope on one latent number, the purpose of the cell (power −1, middle 0, energy +1), and a scatter of its own. Given the
//! purpose the quantities are independent; over cells of unknown purpose they move together, through the purpose alone, so
//! that a thin coating comes with a thick separator and not with the best end of everything. The purpose is an input of the
//! cell like any other, and so are all the quantities: their marginal distributions are what the sheet shows, and their
//! correlation is carried wherever correlations are.
//!
//! The numbers are ranges of published cells and parts, each row with its source; none is fitted to a cell.

use crate::quantity::notation;

mod clearance;
mod collection;
mod hardware;
mod outer;
mod plausible;
mod purpose;
mod setting;
mod table;
mod usual_part;

pub(crate) use clearance::{SOURCE as CLEARANCE, clearance, highest_tab};
pub(crate) use collection::{Collected, EDGES_FROM};
pub(crate) use hardware::{Growth, SOURCE as HARDWARE, parts, tab_places, tabs};
pub(crate) use outer::{SOURCE as OUTER_SIZE, Size};
pub use plausible::goes_with_size;
pub(crate) use plausible::{at_size, plausible};
pub(crate) use purpose::Purpose;
pub(crate) use setting::{Chemistry, REFERENCE, Setting};
pub(crate) use table::{BESIDES, row};
pub(crate) use usual_part::{SOURCE as USUAL_PART, usual_part, words};

/// What stands in for a quantity in an ordinary cell of 21 mm × 70 mm whose purpose is not said, and where it comes from;
/// `None` where it does not go with size or purpose.
pub fn shown(path: &str) -> Option<(String, &'static str)> {
    let row = row(path)?;
    let (uncertain, _) = row.uncertain(&REFERENCE);
    let text = match uncertain.u() {
        u if u > 0.0 => notation::print(uncertain.value, u, row.unit),
        _ => notation::print_brief(&uncertain, row.unit),
    };
    Some((format!("{text} (by size and purpose; here 21 × 70, purpose not said)"), row.source))
}

#[cfg(test)]
mod tests;
