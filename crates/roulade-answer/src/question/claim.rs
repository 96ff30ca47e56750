//! The question about a declared figure.

use roulade::section;
use roulade::sheet::Sheet;
use roulade::study::claim::Said;

section! {
    /// The question whether a declared figure can be true.
    ClaimAsked {
        /// The claim.
        claim: Said,
        /// The sheet of the cell it is about.
        sheet: Sheet,
        /// That of the other cell, where it compares.
        other: Sheet,
        /// How many draws.
        draws: u32,
        /// Where the draws begin.
        seed: u32,
    }
}
