//! Which numbers of a sheet decided more than themselves while it was read.

use std::cell::{Cell, RefCell};

/// Entries from which the setting of a cell is found.
const SETTING: [&str; 3] = ["can.diameter", "can.height", "purpose"];

/// Numbers that decided what other inputs are, which there are, or what is wrong with the sheet. The others can be given
/// other values within their bounds, and all else stays as it was read.
#[derive(Debug, Default)]
pub(super) struct Decided {
    /// Per input as far as the last that was looked at.
    inputs: RefCell<Vec<bool>>,
    setting: Cell<bool>,
}

impl Decided {
    /// The number of an input is looked at.
    pub(super) fn looked_at(&self, input: usize) {
        let mut inputs = self.inputs.borrow_mut();
        let length = inputs.len().max(input + 1);
        inputs.resize(length, false);
        if let Some(looked_at) = inputs.get_mut(input) {
            *looked_at = true;
        }
    }

    /// What is known of the cell beforehand is looked at.
    pub(super) fn setting_looked_at(&self) {
        self.setting.set(true);
    }

    /// Whether each input, by its path, decided more than itself.
    pub(super) fn of<'a>(&self, paths: impl Iterator<Item = &'a str>) -> Vec<bool> {
        let inputs = self.inputs.borrow();
        let looked_at = inputs.iter().copied().chain(std::iter::repeat(false));
        paths
            .zip(looked_at)
            .map(|(path, looked_at)| looked_at || self.setting.get() && SETTING.contains(&path))
            .collect()
    }
}
