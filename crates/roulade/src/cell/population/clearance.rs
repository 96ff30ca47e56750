//! The clearance between roll and wall that the charged roll asks for.

use crate::cell::design::{Blueprint, CurrentCollection, Electrode, Feed};
use roulade_stats::uncertain::Uncertain;

/// Where it comes from.
pub(crate) const SOURCE: &str = "what the charged roll grows by, and some hundredths of a millimetre to slide it in: small in fresh \
     cells, and smaller after the first cycles: Batteries 9 (2023) 6, doi 10.3390/batteries9010006; the figure: common \
     practice, no source";

/// Stoichiometry of the anode at full charge: windows of graphites end at 0.9 to 0.95, over an N/P ratio of 1.04 to 1.1.
const USED: f64 = 0.87;
/// Strain of an anode of which nothing is known.
const STRAIN: f64 = 0.06;

/// Radial clearance as wound, m.
///
/// # Formula
/// Wound lengths stay, so cross-sections add: where anode faces cathode, from the radius r to the radius R, a share s of the
/// cross-section grows by the strain ε and widens a roll of radius W by s·ε·(R² − r²)/(2·W). Inside r lie core, separators
/// and the anode that leads, outside R the anode that trails, separators and tape. To that come 0.06 mm and 2 ‰ of the
/// radius, and what a tab stands out by where the coating left out for it does not make room for tab and tape. The scatter
/// is a quarter of it all.
pub(crate) fn clearance(b: &Blueprint) -> Uncertain {
    let radius = 0.5 * b.can.bore().value;
    let winding = &b.winding;
    let separators = 2.0 * b.separator.thickness();
    let anode = b.anode.thickness_both() + separators;
    let inside = winding.core_turns * separators + winding.anode_overhang_start * anode;
    let outside = winding.anode_overhang_end * anode
        + winding.outer_turns * separators
        + winding.tape_turns * winding.tape_thickness;
    let from = 0.5 * winding.core_diameter.value + inside.value;
    let to = (radius - outside.value).max(from);
    let share = (2.0 * b.anode.thickness / (anode + b.cathode.thickness_both())).value;
    let used = if b.anode.is_metal() {
        // Of a metal, so many times what is there as built comes on top of it: all that the cathode gives.
        (b.cathode.loading * b.cathode.reversible / (b.anode.loading * b.anode.reversible)).value
    } else {
        USED
    };
    let strain = b.swelling.map_or(STRAIN, |swelling| swelling.strain) * used;
    let grows = 0.5 * share * strain * (to * to - from * from) / radius;
    let tabs = highest_tab(b);
    let gap = 6e-5 + 2e-3 * radius + grows + tabs;
    if gap.is_finite() && gap > 0.0 {
        Uncertain::standard(gap, 0.25 * gap)
    } else {
        // A cell that does not hold together is complained of elsewhere.
        Uncertain::standard(2e-4, 5e-5)
    }
}

/// The same of an ordinary roll in a can of so many millimetres, m: anode makes half of each turn, and all of the roll faces.
pub(crate) fn ordinary_clearance(diameter: f64) -> f64 {
    let radius = 0.5e-3 * diameter;
    6e-5 + 2e-3 * radius + 0.25 * STRAIN * USED * radius
}

/// What the highest tab of a cell stands out by, m.
pub(crate) fn highest_tab(b: &Blueprint) -> f64 {
    bulge(&b.anode, &b.path.anode).max(bulge(&b.cathode, &b.path.cathode))
}

/// What the highest tab with its tape stands out by over both coatings, m.
fn bulge(electrode: &Electrode, collection: &CurrentCollection) -> f64 {
    let Feed::Tabs(tabs) = &collection.feed else { return 0.0 };
    let above = tabs.iter().map(|tab| (tab.thickness + 2.0 * tab.tape - 2.0 * electrode.thickness).value);
    above.fold(0.0, f64::max)
}
