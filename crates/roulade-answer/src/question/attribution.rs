//! The question of what each change between two sheets contributes.

use roulade::section;
use roulade::sheet::Sheet;
use roulade::study::attribute::{Changes, Prices};

section! {
    /// The contribution of each change between two sheets.
    AttributionQuestion {
        /// The sheet the changes start from.
        first: Sheet,
        /// The sheet they lead to.
        second: Sheet,
        /// What moves together; what is not listed is grouped by part and by recipe.
        changes: Changes,
        /// What things cost.
        prices: Prices,
        /// How many pairs of cells are drawn from the uncertainties of both sheets; 200 where left out.
        draws: u32,
        /// Seed of the draws; 1 where left out.
        seed: u32,
    }
}
