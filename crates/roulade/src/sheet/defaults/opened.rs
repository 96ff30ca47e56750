//! What readings of an opened cell show otherwise than the cell as built.

use super::bound::Bound;
use super::row::{Field, PRACTICE, given, or};
use crate::quantity::units::Unit;
use Bound::{Deviation, NotNegative, Part};
use Unit::{GramPerAmpereHour, Percent};

const SECTION: &str = "Opened cell";

/// In the order they are shown.
pub(super) const OPENED: &[Field] = &[
    or(
        given(
            "opened.cathode_spring_back",
            SECTION,
            "spring-back of the cathode's coating",
            Percent,
            Deviation,
        ),
        "2 ± 1.5 %",
        PRACTICE,
    ),
    or(
        given("opened.anode_spring_back", SECTION, "spring-back of the anode's coating", Percent, Deviation),
        "6 ± 3 %",
        "common practice, no source; one dilatometer saw near 9 % on the first charge of graphite, which did not go back to where \
         it began (Michael et al., J. Electrochem. Soc. 168 (2021) 010507, abstract read; place from memory)",
    ),
    or(
        given("opened.swelling", SECTION, "growth by lithium over that computed", Percent, NotNegative),
        "100 ± 25 %",
        PRACTICE,
    ),
    or(
        given(
            "opened.film",
            SECTION,
            "film besides its lithium, per capacity lost",
            GramPerAmpereHour,
            NotNegative,
        ),
        "1.1195 .. 2.7624 g/Ah",
        "from carbonate to ethylene dicarbonate of lithium: that these two make up most of the film is common knowledge of the \
         field, from memory",
    ),
    or(
        given("opened.residue", SECTION, "residue of unwashed pores over their salt", Percent, NotNegative),
        "100 ± 50 %",
        "what is left of cyclic carbonate adds, salt that decomposes takes away: common practice, no source",
    ),
    or(
        given("opened.evaporated", SECTION, "electrolyte that evaporates before weighing", Percent, Part),
        "5 ± 3 %",
        "linear carbonates evaporate within minutes: common practice, no source",
    ),
];
