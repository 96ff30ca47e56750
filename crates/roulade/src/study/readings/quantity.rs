//! What a bench can read off a cell: each quantity by its name, with its unit, how a design predicts it, and what an
//! ordinary instrument is worth on it.

mod listed;
mod name;
mod rows;

use super::conditions::{Condition, Conditions};
use crate::cell::design::Part;
use crate::cell::draft::Draft;
use crate::cell::figures;
use crate::cell::figures::Worked;
use crate::cell::state::{Cause, Changes, State, StateChange};
use crate::quantity::slip;
use crate::quantity::units::Unit;

pub use listed::{Listed, listed};
pub use name::find;
pub(crate) use name::of_input;
pub(crate) use rows::QUANTITIES;

/// How a design predicts a quantity.
#[derive(Clone, Copy, Debug)]
pub enum Of {
    /// From the worked design, SI.
    Worked(fn(&Worked) -> Option<f64>),
    /// From the worked design under the conditions it was read under, SI, with what the model is off by: some of those
    /// conditions may be said, and one must be where the second says which.
    Under(&'static [Condition], Option<Condition>, fn(&Worked, &Conditions) -> Option<StateChange>),
    /// From one of its parts, SI.
    Part(fn(&Part) -> f64),
    /// It is an input of the sheet.
    Input,
    /// The figure of this id, where this version has one.
    Figure(&'static str),
}

/// What an ordinary instrument is worth on a quantity: common practice, no source.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Typical {
    /// Standard uncertainty in the quantity's unit.
    pub absolute: f64,
    /// The same as a share of the value; the two add in squares.
    pub relative: f64,
    /// Which instrument.
    pub instrument: &'static str,
}

/// A quantity of a bench.
#[derive(Debug)]
pub struct Quantity {
    /// Its name, as written in a bench sheet; a part's is `parts[NAME].height`, a material's
    /// `materials[NAME].metals.nickel`.
    pub key: &'static str,
    /// Heading it stands under.
    pub group: &'static str,
    /// Unit of the trade; any unit of the same kind will do in a bench sheet.
    pub unit: Unit,
    /// How a design predicts it, as built.
    pub of: Of,
    /// What of it the state changes that a cell is read in.
    pub changes: Changes,
    /// Path of the input it reads directly; empty for none.
    pub input: &'static str,
    /// An ordinary instrument.
    pub typical: Typical,
    /// What is meant by it; empty where the name says it.
    pub note: &'static str,
}

/// Share of an ordinary reading's variance that all readings of one instrument have in common: its zero and scale, how it is
/// held and read. Half: common practice, no source; maximum permissible errors of calipers, micrometers, tapes and balances
/// (ISO 13385-1, ISO 3611, the tapes of directive 2014/32/EU, OIML R 76; from memory) are as large as one such reading repeats.
pub const SHARED: f64 = 0.5;

impl Typical {
    /// Standard uncertainty that readings of a value with one ordinary instrument have in common, both SI; counts have none.
    pub fn shared(&self, value: f64, unit: Unit) -> f64 {
        if self.instrument == "counted" { 0.0 } else { SHARED.sqrt() * self.u(value, unit) }
    }

    /// Standard uncertainty on a value, both SI.
    pub fn u(&self, value: f64, unit: Unit) -> f64 {
        let (a, b) = (self.absolute * unit.in_si(), self.relative * value);
        (a * a + b * b).sqrt()
    }
}

/// A quantity that was asked for, of one part where it is a part's.
#[derive(Clone, Debug)]
pub struct Asked {
    /// The quantity.
    pub quantity: &'static Quantity,
    /// Name of the part.
    pub part: Option<String>,
    /// In which state the cell was read.
    pub state: State,
    /// Under which conditions.
    pub under: Conditions,
}

impl PartialEq for Asked {
    fn eq(&self, other: &Self) -> bool {
        self.alike(other) && self.state == other.state && self.under == other.under
    }
}

/// Beginnings of the names of quantities that are a part's, or a material's.
const OF_PART: [&str; 2] = ["parts[].", "materials[].metals."];

impl Asked {
    /// A quantity of a cell as built.
    pub fn of(quantity: &'static Quantity, part: Option<String>) -> Self {
        Self { quantity, part, state: State::default(), under: Conditions::default() }
    }

    /// A quantity as one would read it of a design: where it needs a capacity drawn, at half of the design's.
    pub(crate) fn proposed(quantity: &'static Quantity, part: Option<String>, worked: &Worked) -> Self {
        let half = 0.5 * worked.estimate.balance.capacity.value;
        let needs = matches!(quantity.of, Of::Under(_, Some(Condition::Drawn), _));
        let under = Conditions { drawn: needs.then_some(half), ..Conditions::default() };
        Self { under, ..Self::of(quantity, part) }
    }

    /// Whether another is the same quantity, in whatever state and under whatever conditions.
    pub fn alike(&self, other: &Self) -> bool {
        self.quantity.key == other.quantity.key && self.part == other.part
    }

    /// Its name: "cathode length", `parts[lid].height`.
    pub fn key(&self) -> String {
        self.filled(self.quantity.key)
    }

    /// Its name in plain words, and the state where it is not the cell as built: "cathode length", "height of lid", "anode
    /// coating thickness (after formation, discharged)".
    pub fn label(&self) -> String {
        let mut label = self.name();
        if !self.under.none() {
            label = format!("{label} at {}", self.under);
        }
        if !self.state.as_built() {
            label = format!("{label} ({})", self.state);
        }
        label
    }

    fn name(&self) -> String {
        match (&self.part, OF_PART.iter().find_map(|begin| self.quantity.key.strip_prefix(begin))) {
            (Some(part), Some(what)) => format!("{} of {part}", what.replace('_', "-")),
            _ => self.quantity.key.to_owned(),
        }
    }

    /// What a number of it is, as far as typical slips depend on that.
    pub fn slips(&self) -> slip::SlipKind {
        let kind = slip::SlipKind::of(self.quantity.unit.dimension());
        let has = |word: &str| self.quantity.key.contains(word);
        match () {
            () if has("diameter") => kind.round(),
            () if has("both faces") || has("both sides") => kind.both_sides(),
            () if has("loading") || has("coating") || has("areal capacity") => kind.per_side(),
            () => kind,
        }
    }

    /// Number of the input that it reads directly, in a draft.
    pub fn input(&self, draft: &Draft) -> Option<usize> {
        let wanted = self.filled(self.quantity.input);
        draft.inputs().iter().position(|input| !wanted.is_empty() && input.key == wanted)
    }

    fn filled(&self, path: &str) -> String {
        match &self.part {
            Some(part) => path.replace("[]", &format!("[{part}]")),
            None => path.to_owned(),
        }
    }

    /// What its state adds to it, and how well that is known; `None` where the design cannot tell how full the cell is.
    pub fn change(&self, draft: &Draft, worked: &Worked) -> Option<StateChange> {
        self.state.change(self.quantity.changes, &worked.design, &worked.estimate.balance, draft.ion())
    }

    /// Standard uncertainty of what a design predicts for it beside that of the design, SI, by cause: of its state and of the
    /// model.
    pub(crate) fn unsure(&self, draft: &Draft, worked: &Worked) -> [f64; Cause::ALL.len()] {
        let change = self.change(draft, worked).unwrap_or_default();
        match self.quantity.of {
            Of::Under(.., of) => of(worked, &self.under).unwrap_or_default().and(change).u,
            _ => change.u,
        }
    }

    /// What a design at these values of the draft's inputs predicts for it, SI, in its state; `None` where that design has
    /// no such quantity.
    pub fn predict(&self, draft: &Draft, values: &[f64], worked: &Worked) -> Option<f64> {
        let built = match self.quantity.of {
            Of::Worked(of) => of(worked),
            Of::Under(.., of) => of(worked, &self.under).map(|predicted| predicted.by),
            Of::Part(of) => {
                let parts = &worked.design.blueprint().parts;
                parts.iter().find(|part| Some(&*part.label.name) == self.part.as_deref()).map(of)
            }
            Of::Input => values.get(self.input(draft)?).copied(),
            Of::Figure(id) => (figures::definition(id)?.of)(worked),
        }?;
        Some(built + self.change(draft, worked)?.by).filter(|value| value.is_finite())
    }
}

#[cfg(test)]
mod tests;
