//! How the current is collected: by tabs, or along the whole edge of each foil.

use crate::sheet::{Collection, Entry, FeedKind, Sheet};
use roulade_stats::maths;

/// How the current of a cell is collected.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Collected {
    /// Along the edges, or by tabs: what the sheet says, or what is likelier at its size.
    pub(crate) edges: bool,
    /// Chance that it is the other way; none where the sheet says it.
    pub(crate) chance: f64,
}

/// Diameter from which edges are likelier than tabs, mm: common practice, from memory.
pub(crate) const EDGES_FROM: f64 = 29.0;
/// Over how many millimetres the one gives way to the other: the same.
const OVER: f64 = 2.5;

/// How far a can of this diameter, mm, counts among the large ones, 0 to 1.
pub(super) fn large(diameter: f64) -> f64 {
    1.0 / (1.0 + maths::exp((EDGES_FROM - diameter) / OVER))
}

impl Collected {
    /// What a sheet says or implies, and what is likely at this diameter, mm, where it does not.
    pub(crate) fn of(sheet: &Sheet, diameter: f64) -> Self {
        if let Some(said) = sheet.collection {
            return Self { edges: said == Collection::Edges, chance: 0.0 };
        }
        let path = sheet.current_path.as_ref();
        let sides = [path.and_then(|path| path.cathode.as_ref()), path.and_then(|path| path.anode.as_ref())];
        let folds = [
            sheet.cathode.as_ref().and_then(|cathode| cathode.fold_height.as_ref()),
            sheet.anode.as_ref().and_then(|anode| anode.fold_height.as_ref()),
        ];
        let mut edges = folds.into_iter().flatten().any(Entry::is_something);
        let mut tabs = false;
        for side in sides.into_iter().flatten() {
            edges |= side.feed == Some(FeedKind::Edge) || side.plate.is_some();
            // The ring's share is listed whatever the structure, and may be written as it is listed.
            edges |= side.ring_radius.is_some();
            tabs |= side.feed == Some(FeedKind::Tabs) || side.tabs.is_some();
        }
        if edges || tabs {
            return Self { edges, chance: 0.0 };
        }
        let likely = large(diameter);
        Self { edges: likely > 0.5, chance: likely.min(1.0 - likely) }
    }

    /// Mean and standard deviation of what stands at 0 where the structure is this one, and at `other` where it is the other.
    pub(crate) fn mixed(&self, other: f64) -> (f64, f64) {
        (self.chance * other, (self.chance * (1.0 - self.chance)).sqrt() * other.abs())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tabs_in_small_cans_and_edges_in_large_ones() {
        let at = |mm| Collected::of(&Sheet::default(), mm);
        assert!(!at(18.0).edges && !at(21.0).edges && at(32.0).edges && at(46.0).edges);
        assert!(at(18.0).chance < 0.05 && at(46.0).chance < 0.05 && at(28.0).chance > 0.3);
        let said = Sheet { collection: Some(Collection::Tabs), ..Sheet::default() };
        assert_eq!(Collected::of(&said, 46.0), Collected { edges: false, chance: 0.0 });
        assert!(at(26.0).mixed(3.0).0 > 0.5);
    }
}
