//! Entries whose numbers decide nothing but themselves: many cells that differ in these from one sheet need it read once.

use super::Draft;
use super::wound::FillSlots;
use crate::cell::design::{Blueprint, Fill};
use crate::cell::population;
use crate::quantity::units::Length;
use crate::sheet::former;
use roulade_stats::uncertain::Uncertain;
use uom::si::length::meter;

impl Draft {
    /// The input under a key, where its number decides nothing but itself: with another number within its bound the same
    /// sheet gives the same inputs but for this one, and what [`Self::refilled_at`] fills in. `None` for an input that others
    /// were found from or that was held against others, and for a key that no input has.
    ///
    /// # Example
    /// Suppositions go by the size of the can; a loading is a loading.
    /// ```
    /// use roulade::{Draft, Sheet};
    /// let sheet = Sheet::new("a cell").can("21 mm", "70 mm").cathode(&[("NMC811", "")], "22 mg/cm²").anode(&[("graphite", "")]);
    /// let draft = Draft::read(&sheet)?;
    /// assert!(draft.alone("cathode.loading").is_some());
    /// assert!(draft.alone("can.diameter").is_none());
    /// # Ok::<(), roulade::Problems>(())
    /// ```
    pub fn alone(&self, key: &str) -> Option<usize> {
        let key = &*former::path_today(key);
        let mut named =
            self.inputs.iter().enumerate().filter(|(_, input)| input.key == key || input.path == key);
        let (at, _) = named.next()?;
        let free = named.next().is_none()
            && !self.decided.get(at).is_some_and(|decided| *decided)
            && self.follows != Some(at);
        free.then_some(at)
    }

    /// The blueprint at some values, with what follows from all others put into the values as it is there: the radial
    /// clearance, where the sheet says none. In the room of a former blueprint of this draft nothing is allocated.
    pub fn refilled_at(&self, values: &mut [f64], former: Option<Blueprint>) -> Blueprint {
        let mut blueprint = self.blueprint_in(former, values);
        if let Some(slot) = self.follows {
            let gap = population::clearance(&blueprint).value;
            if let Some(value) = values.get_mut(slot) {
                *value = gap;
            }
            if matches!(self.winding.fill, FillSlots::Gap(_)) {
                blueprint.winding.fill = Fill::Gap(Length::new::<meter>(gap));
            }
        }
        blueprint
    }

    /// The input that follows from all others, and what is known of it at some values.
    pub fn follows_at(&self, values: &[f64]) -> Option<(usize, Uncertain)> {
        Some((self.follows?, population::clearance(&self.blueprint_at(values))))
    }
}

#[cfg(test)]
mod tests {
    use crate::test_support::draft;
    use serde_json::json;

    /// With a number changed, a draft that was read with it has that input and no other otherwise.
    #[test]
    fn what_stands_alone_changes_nothing_else() {
        let cases = [
            ("can/wall", "can.wall", json!("0.31 mm"), 0.31e-3),
            ("cathode/loading", "cathode.loading", json!("21 mg/cm²"), 0.21),
            ("anode/foil/thickness", "anode.foil.thickness", json!("7 µm"), 7e-6),
        ];
        let base = draft(&[]);
        for (at, key, to, si) in cases {
            let slot = base.alone(key).unwrap_or_else(|| panic!("{key} stands alone"));
            let changed = draft(&[(at, to)]);
            let mut values = base.values();
            values[slot] = si;
            let _ = base.refilled_at(&mut values, None);
            for ((value, input), other) in values.iter().zip(base.inputs()).zip(changed.values()) {
                assert!((value - other).abs() <= 1e-15 * other.abs(), "{key}: {}", input.path);
            }
        }
    }

    #[test]
    fn what_decides_more_does_not_stand_alone() {
        let base = draft(&[]);
        assert!(base.alone("nothing.of.that").is_none());
        // All three given: they are held against one another.
        let three = draft(&[("cathode/porosity", json!("25 ± 9 %"))]);
        if three.inputs().iter().any(|input| input.path == "cathode.thickness") {
            assert!(three.alone("cathode.thickness").is_none());
        }
        // Read in another state, every number moves the way back.
        let opened = draft(&[("readings_state", json!("charged, dried"))]);
        assert!(opened.alone("can.wall").is_none());
    }
}
