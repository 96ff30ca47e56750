//! The cell with some of the changes made.

use super::merit::Merit;
use crate::cell::draft::{Draft, Input};
use crate::cell::figures::Worked;
use crate::material::CurveCache;
use crate::quantity::problem::Problems;
use crate::sheet::overlay::{Overlay, covers};
use crate::study::attribute::asked::Prices;
use crate::study::attribute::change::Change;
use crate::study::attribute::price::Bill;
use roulade_stats::uncertain::Uncertain;
use std::collections::BTreeMap;

/// Where a corner's draft takes an input from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Source {
    First(usize),
    Second(usize),
    /// In neither draft: a share that follows from others, or a default of this corner alone.
    Own(f64),
}

/// A cell between the two, ready to be worked out at any values.
#[derive(Debug)]
pub(super) struct Corner {
    pub(super) draft: Draft,
    pub(super) sources: Vec<Source>,
    pub(super) bill: Option<Bill>,
    pub(super) at_best: Vec<f64>,
    pub(super) n_to_p: f64,
}

/// The changes made at a corner.
pub(super) fn made(corner: u64, changes: usize) -> Vec<usize> {
    (0..changes).filter(|i| corner >> i & 1 == 1).collect()
}

/// What every corner is made from.
pub(super) struct Cells<'a> {
    pub(super) overlay: &'a Overlay,
    pub(super) changes: &'a [Change],
    pub(super) drafts: [&'a Draft; 2],
    pub(super) merits: &'a [Merit],
    pub(super) prices: Option<&'a Prices>,
    pub(super) curve_cache: CurveCache,
}

/// An input by its key: the change that sets it, its place in both drafts, and what is known of it there.
type Sought<'a> = BTreeMap<&'a str, (Option<usize>, [Option<(usize, Uncertain)>; 2])>;

impl<'a> Cells<'a> {
    pub(super) fn sought(&self) -> Sought<'a> {
        let mut sought: Sought<'a> = BTreeMap::new();
        for (side, draft) in self.drafts.into_iter().enumerate() {
            for (i, input) in draft.inputs().iter().enumerate() {
                let edits = self.overlay.edits().iter().enumerate();
                let mut covering = edits.filter(|(_, edit)| covers(&edit.key, &input.key)).map(|(i, _)| i);
                let change = |i| self.changes.iter().position(|change| change.edits.contains(&i));
                let (_, places) = sought
                    .entry(&input.key)
                    .or_insert_with(|| (covering.next().and_then(change), [None, None]));
                if let Some(place) = places.get_mut(side) {
                    place.get_or_insert((i, input.uncertain));
                }
            }
        }
        sought
    }

    pub(super) fn corner(&self, corner: u64, sought: &Sought<'_>) -> Result<Corner, Problems> {
        let taken = |change: usize| corner >> change & 1 == 1;
        let of_edit = |i: usize| self.changes.iter().position(|change| change.edits.contains(&i));
        let sheet = self.overlay.sheet(|edit| of_edit(edit).is_some_and(taken))?;
        let draft = Draft::read_with(&sheet, &self.curve_cache)?;
        let source = |input: &Input| {
            let Some((change, [first, second])) = sought.get(&*input.key) else {
                return Source::Own(input.uncertain.value);
            };
            let alike = |place: &Option<(usize, Uncertain)>| {
                place.filter(|(_, uncertain)| *uncertain == input.uncertain)
            };
            let (first, second) =
                (alike(first).map(|(i, _)| Source::First(i)), alike(second).map(|(i, _)| Source::Second(i)));
            let found = if change.is_some_and(taken) { second.or(first) } else { first.or(second) };
            found.unwrap_or(Source::Own(input.uncertain.value))
        };
        let sources = draft.inputs().iter().map(source).collect();
        let values = draft.values();
        let cell = Worked::at(&draft, &values)?;
        let bill = self.prices.map(|prices| Bill::of(prices, &sheet, &cell));
        let at_best = self.merits.iter().map(|merit| merit.of(&cell, bill.as_ref())).collect();
        let n_to_p = cell.estimate.balance.n_to_p().value;
        Ok(Corner { draft: draft.for_many(&self.drafts), sources, bill, at_best, n_to_p })
    }
}
