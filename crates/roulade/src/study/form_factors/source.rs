//! Where the cells of a map or a sweep come from.

use super::recipe::{HeldItem, Hold, Recipe};
use crate::cell::draft::Draft;
use crate::cell::figures::Worked;
use crate::quantity::problem::Problems;

/// Where cells come from whose inputs are moved.
#[derive(Debug)]
pub enum CellSource<'a> {
    /// All that is not moved stays as the sheet has it.
    Sheet(&'a Draft),
    /// The can changes its size.
    Recipe(Box<Recipe<'a>>),
}

impl<'a> CellSource<'a> {
    /// Of a draft at its best values; with `hold`, as a recipe.
    ///
    /// # Errors
    /// Where a recipe is wanted of a cell that does not hold together in its own can.
    pub fn of(draft: &'a Draft, hold: Option<Hold>) -> Result<Self, Problems> {
        match hold {
            Some(hold) => {
                Recipe::of(draft, &draft.values(), hold).map(|recipe| Self::Recipe(Box::new(recipe)))
            }
            None => Ok(Self::Sheet(draft)),
        }
    }

    /// The values to move inputs of.
    pub fn values(&self) -> Vec<f64> {
        match self {
            Self::Sheet(draft) => draft.values(),
            Self::Recipe(recipe) => recipe.values.clone(),
        }
    }

    /// The cell at some values, in the order of the draft's inputs.
    ///
    /// # Errors
    /// Where it does not hold together.
    pub fn at(&self, values: &[f64]) -> Result<Worked, Problems> {
        match self {
            Self::Sheet(draft) => Worked::at(draft, values),
            Self::Recipe(recipe) => recipe.at(values),
        }
    }

    /// Why figures change by steps along the diameter, where they do.
    pub fn steps(&self) -> Option<&'static str> {
        match self {
            Self::Recipe(recipe) if recipe.tabs_follow() => Some(
                "The sheet lists no tabs; as many as each diameter asks for stand in. Each further tab takes coated length, so that \
                 figures change by a step there.",
            ),
            _ => None,
        }
    }

    /// What is held; nothing where all is as the sheet has it.
    pub fn held(&self) -> Vec<HeldItem> {
        match self {
            Self::Sheet(_) => Vec::new(),
            Self::Recipe(recipe) => recipe.held(),
        }
    }
}
