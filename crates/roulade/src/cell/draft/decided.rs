//! Which numbers of a sheet decided more than themselves while it was read.

use std::cell::{Cell, RefCell};
use std::collections::BTreeSet;

/// Entries from which the setting of a cell is found.
const SETTING: [&str; 3] = ["can.diameter", "can.height", "purpose"];

/// Numbers that decided what other inputs are, which there are, or what is wrong with the sheet. The others can be given
/// other values within their bounds, and all else stays as it was read.
#[derive(Debug, Default)]
pub(super) struct Decided {
    inputs: RefCell<BTreeSet<usize>>,
    setting: Cell<bool>,
}

impl Decided {
    /// The number of an input is looked at.
    pub(super) fn looked_at(&self, input: usize) {
        self.inputs.borrow_mut().insert(input);
    }

    /// What is known of the cell beforehand is looked at.
    pub(super) fn setting_looked_at(&self) {
        self.setting.set(true);
    }

    /// Among all inputs, by their paths.
    pub(super) fn of<'a>(&self, paths: impl Iterator<Item = &'a str>) -> BTreeSet<usize> {
        let mut decided = self.inputs.borrow().clone();
        if self.setting.get() {
            decided.extend(paths.enumerate().filter_map(|(i, path)| SETTING.contains(&path).then_some(i)));
        }
        decided
    }
}
