//! Which numbers of a sheet decided more than themselves while it was read.

use super::read::Input;
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

    /// Among all inputs.
    pub(super) fn of(&self, inputs: &[Input]) -> BTreeSet<usize> {
        let mut decided = self.inputs.borrow().clone();
        if self.setting.get() {
            let of_setting = |(i, input): (usize, &Input)| SETTING.contains(&&*input.path).then_some(i);
            decided.extend(inputs.iter().enumerate().filter_map(of_setting));
        }
        decided
    }
}
