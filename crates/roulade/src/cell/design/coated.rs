//! Where a foil carries no coating: at its ends, on one side, and under its tabs; and what its tabs add to the roll.

use super::bare_ends::{BareEnds, Side};
use super::blueprint::Electrode;
use super::collection::{CurrentCollection, Feed, Tab};
use crate::cell::winding::Roll;
use crate::quantity::units::{Area, Length};
use crate::sheet::Welded;

/// What is missing from one electrode's coating, and what its tabs put in its place.
///
/// # Formula
/// A tab takes a stretch u of both sides. Tape of thickness i lies over it on both sides, and across the foil the tab of
/// width b and thickness d. All of that is thicker than the two coatings of thickness t that are missing by
/// `h = max(0, d + 2i − 2t)`; every turn above it goes over that bulge of cross-section `h·b`. Where the coatings leave
/// more room than tab and tape need, the turns above bridge it, and nothing is gained. Stretches at the ends of the
/// electrode are long enough that the roll follows them.
///
/// Cross-sections add, since every turn lies on the one below: what is missing at the start of winding, and the part
/// `1 − x` of a bulge at the share x of the length, stands below the electrode, the rest above.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Missing {
    /// Along the foil, both sides together.
    pub(super) length: Length,
    /// Cross-section that the bare ends leave, which the roll closes.
    pub(super) ends: Area,
    /// Cross-section of coating that is missing under tabs.
    pub(super) under_tabs: Area,
    /// Cross-section that all bulges add.
    pub(super) bulges: Area,
    /// What all of this adds below the electrode; less than none where ends are bare.
    pub(super) below: Area,
    /// The same above it.
    pub(super) above: Area,
    /// Height of the highest bulge.
    pub(super) highest: Length,
    /// Cross-section of tabs on the foil.
    pub(super) tabs: Area,
    /// Cross-section of tape over them.
    pub(super) tape: Area,
}

impl Missing {
    /// Of an electrode that is about `length` long: that counts only for tabs that lie in a bare end.
    pub(super) fn of(electrode: &Electrode, collection: &CurrentCollection, length: Length) -> Self {
        let tabs: &[Tab] = match &collection.feed {
            Feed::Tabs(tabs) => tabs,
            Feed::Edge => &[],
        };
        let ends = &electrode.bare_ends;
        let mut missing = Self::default();
        if tabs.is_empty() && ends.none() {
            return missing;
        }
        let coating = electrode.thickness;
        missing.length = 2.0 * (ends.start + ends.end) + ends.one_sided_start + ends.one_sided_end;
        missing.ends = coating * missing.length;
        missing.below -= coating * (2.0 * ends.start + ends.one_sided_start);
        missing.above -= coating * (2.0 * ends.end + ends.one_sided_end);
        for tab in tabs {
            let (from, to) = tab.stretch(length);
            let coated = |side| {
                let (start, end) = ends.of(side);
                overlap((from, to), (start, length - end))
            };
            let taken = coated(Side::Inner) + coated(Side::Outer);
            missing.length += taken;
            missing.under_tabs += coating * taken;
            let width = tab.width.min(length);
            let on_foil = if tab.welded == Welded::Across { tab.thickness } else { Length::default() };
            let room =
                if tab.uncoated.value > 0.0 { coating * taken / tab.uncoated } else { Length::default() };
            let higher = (on_foil + 2.0 * tab.tape - room).max(Length::default());
            // Where no coating makes room for it, the tape reaches past the tab.
            let least = on_foil * width + 2.0 * tab.tape * (to - from) - coating * taken;
            let bulge = (higher * width).max(least);
            missing.tabs += on_foil * width;
            missing.tape += 2.0 * tab.tape * (to - from);
            missing.bulges += bulge;
            missing.below += bulge * (1.0 - tab.at);
            missing.above += bulge * tab.at;
            missing.highest = missing.highest.max(higher);
        }
        missing
    }
}

impl Tab {
    /// The stretch of foil that it takes, on a foil so long: moved inwards where it would reach past an end.
    fn stretch(&self, length: Length) -> (Length, Length) {
        let taken = self.uncoated.min(length);
        let from = (length * self.at - 0.5 * taken).max(Length::default()).min(length - taken);
        (from, from + taken)
    }
}

fn overlap(a: (Length, Length), b: (Length, Length)) -> Length {
    (a.1.min(b.1) - a.0.max(b.0)).max(Length::default())
}

/// An electrode's bare stretches on its wound length.
struct Bare<'a> {
    ends: &'a BareEnds,
    tabs: &'a [Tab],
    length: Length,
}

impl<'a> Bare<'a> {
    fn of(electrode: &'a Electrode, collection: &'a CurrentCollection, length: Length) -> Self {
        let tabs: &[Tab] = match &collection.feed {
            Feed::Tabs(tabs) => tabs,
            Feed::Edge => &[],
        };
        Self { ends: &electrode.bare_ends, tabs, length }
    }

    fn none(&self) -> bool {
        self.tabs.is_empty() && self.ends.none()
    }

    /// Length of one side within a stretch that has no coating.
    fn within(&self, side: Side, stretch: (Length, Length)) -> Length {
        let (start, end) = self.ends.of(side);
        let coated = (start.min(self.length), (self.length - end).max(start));
        let whole = overlap(stretch, (Length::default(), self.length));
        let at_ends = whole - overlap(stretch, coated);
        let coated = (coated.0.max(stretch.0), coated.1.min(stretch.1));
        self.tabs.iter().fold(at_ends, |sum, tab| sum + overlap(tab.stretch(self.length), coated))
    }
}

/// Length of cathode, inner and outer face, that lies idle because it or the anode opposite has no coating there.
pub(super) fn idle(
    roll: &Roll,
    anode: (&Electrode, &CurrentCollection),
    cathode: (&Electrode, &CurrentCollection),
) -> (Length, Length) {
    let lengths = roll.lengths();
    let anode = Bare::of(anode.0, anode.1, lengths.anode);
    let cathode = Bare::of(cathode.0, cathode.1, lengths.cathode);
    if anode.none() && cathode.none() {
        return (Length::default(), Length::default());
    }
    let [inner, outer] = roll.opposite();
    // The inner face of the cathode meets the outer face of the anode of its turn, the outer face the inner of the next.
    (
        cathode.within(Side::Inner, inner.cathode) + anode.within(Side::Outer, inner.anode),
        cathode.within(Side::Outer, outer.cathode) + anode.within(Side::Inner, outer.anode),
    )
}
