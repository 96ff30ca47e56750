//! What looks wrong with what columns say, in a can of the size that their row has.

use crate::cell::{Cell, Rows, number};
use crate::head::Head;
use roulade::cell::draft::{Draft, Implausible, plausibility_of, plausible_range, reaches_past};
use roulade::cell::population::goes_with_size;
use roulade::sheet::Sheet;

/// What wound cells have of each column.
#[derive(Debug)]
pub(crate) struct Ranges {
    /// For each column, SI; in the can of the base sheet, where rows have no other.
    each: Vec<Option<(f64, f64)>>,
    size: Size,
}

/// Where a row has the size of its can from.
#[derive(Clone, Copy, Debug)]
enum Size {
    /// From the base sheet: its outer diameter, m.
    Base(f64),
    /// From a column of diameters.
    Column(usize),
    /// From a word, or from nowhere.
    Unknown,
}

impl Ranges {
    pub(crate) fn of(heads: &[Head], base: &Sheet) -> Self {
        let column = |key: &str| heads.iter().position(|head| head.key == key);
        let size = match (column("can.diameter"), column("can.size").or_else(|| column("can"))) {
            (Some(column), _) => Size::Column(column),
            (None, Some(_)) => Size::Unknown,
            (None, None) => Draft::read(base).map_or(Size::Unknown, |draft| Size::Base(draft.diameter())),
        };
        let range = |head: &Head| match size {
            Size::Base(diameter) => plausible_range(&head.key, diameter),
            _ if goes_with_size(&head.key) => None,
            _ => plausible_range(&head.key, f64::NAN),
        };
        Self { each: heads.iter().map(range).collect(), size }
    }

    /// What looks wrong with what a row says, as the number of its column and a sentence.
    pub(crate) fn plausibility(&self, heads: &[Head], rows: &impl Rows, row: usize) -> Vec<(usize, String)> {
        let said = |column: usize| number(heads.get(column)?, rows.cell(row, column)).ok();
        let diameter = match self.size {
            Size::Base(diameter) => Some(diameter),
            Size::Column(column) => said(column).map(|uncertain| uncertain.value),
            Size::Unknown => None,
        };
        let mut all = Vec::new();
        for (column, (head, range)) in heads.iter().zip(&self.each).enumerate() {
            let (Some(field), Some(uncertain)) = (head.field, said(column)) else { continue };
            let unit = head.unit.unwrap_or(field.unit);
            // In a can of one size what is known of a column was looked up once.
            let range = match self.size {
                Size::Base(_) => *range,
                _ => range.or_else(|| plausible_range(&head.key, diameter?)),
            };
            if range.is_some_and(|(low, high)| !(low..=high).contains(&uncertain.value)) {
                let text = if let Cell::Text(text) = rows.cell(row, column) { text } else { unit.symbol() };
                let diameter = diameter.unwrap_or(f64::NAN);
                let found = Implausible::of_value(&head.key, uncertain.value, unit, text, diameter);
                all.extend(found.map(|found| (column, found.remark)));
            }
            all.extend(reaches_past(&head.key, &uncertain, unit).map(|past| (column, past)));
        }
        all
    }

    /// What looks wrong with the entries of the base sheet that no column writes, each in a sentence. In a can whose size
    /// varies, what goes with that is neither in nor out.
    pub(crate) fn plausibility_of_base(&self, heads: &[Head], draft: &Draft) -> Vec<String> {
        let varies = |key: &str| heads.iter().any(|head| head.key == key);
        let sized = matches!(self.size, Size::Base(_));
        let held = draft.inputs().iter().filter(|input| !varies(&input.key));
        let held = held.filter(|input| sized || !goes_with_size(&input.path));
        held.flat_map(|input| plausibility_of(input, draft.diameter())).collect()
    }
}
