//! The clearance between roll and wall that the charged roll asks for.

use crate::cell::design::{Blueprint, CurrentCollection, Electrode, Feed};
use roulade_stats::uncertain::Uncertain;

/// Where it comes from.
pub(crate) const SOURCE: &str = "what the charged roll grows by, and some hundredths of a millimetre to slide it in: small in fresh \
     cells, and smaller after the first cycles: Batteries 9 (2023) 6, doi 10.3390/batteries9010006; the figure: common \
     practice, no source";

/// Share of the anode's host that a full charge uses.
const USED: f64 = 0.95;
/// Strain of an anode of which nothing is known.
const STRAIN: f64 = 0.06;

/// Radial clearance as wound, m.
///
/// # Formula
/// Wound lengths stay, so cross-sections add: a share s of the roll's cross-section that grows by the strain ε widens the
/// radius R by about s·ε·(R − r²/R)/2, with r that of the core. To that come 0.06 mm and 2 ‰ of the radius, and what a tab
/// stands out by where the coating left out for it does not make room for tab and tape. The scatter is a quarter of it all.
pub(crate) fn clearance(b: &Blueprint) -> Uncertain {
    let radius = 0.5 * b.can.bore().value;
    let core = 0.5 * b.winding.core_diameter.value;
    let separators = 2.0 * b.separator.thickness();
    let turn = b.anode.thickness_both() + b.cathode.thickness_both() + separators;
    let share = (2.0 * b.anode.thickness / turn).value;
    let strain = b.swelling.map_or(STRAIN, |swelling| swelling.strain) * USED;
    let grows = 0.5 * share * strain * (radius - core * core / radius);
    let tabs = bulge(&b.anode, &b.path.anode).max(bulge(&b.cathode, &b.path.cathode));
    let gap = 6e-5 + 2e-3 * radius + grows + tabs;
    if gap.is_finite() && gap > 0.0 {
        Uncertain::standard(gap, 0.25 * gap)
    } else {
        // A cell that does not hold together is complained of elsewhere.
        Uncertain::standard(2e-4, 5e-5)
    }
}

/// What the highest tab with its tape stands out by over both coatings, m.
fn bulge(electrode: &Electrode, collection: &CurrentCollection) -> f64 {
    let Feed::Tabs(tabs) = &collection.feed else { return 0.0 };
    let above = tabs.iter().map(|tab| (tab.thickness + 2.0 * tab.tape - 2.0 * electrode.thickness).value);
    above.fold(0.0, f64::max)
}
