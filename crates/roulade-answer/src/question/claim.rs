//! The question about a declared figure.

use roulade::section;
use roulade::sheet::Sheet;
use roulade::study::claim::Said;

section! {
    /// The question whether declared figures can be true.
    ClaimAsked {
        /// The claim: a figure, or several in one text between commas, semicolons or line breaks.
        claim: Said,
        /// Several declared figures, each a text or its parts.
        claims: Vec<Said>,
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
