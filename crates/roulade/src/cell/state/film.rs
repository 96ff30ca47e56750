//! The film that the first charge leaves on the anode: the solid electrolyte interphase.

use crate::cell::design::Opened;
use crate::material::{FARADAY, Ion};
use roulade_stats::uncertain::Uncertain;

/// Molar mass of the ion's metal, kg/mol.
pub(super) fn metal(ion: Ion) -> f64 {
    match ion {
        Ion::Lithium => 6.94e-3,
        Ion::Sodium => 22.990e-3,
    }
}

/// Mass of film for each mole of lithium in it, that lithium included, kg/mol.
///
/// # Formula
/// `m = f·F + M`: f what the film weighs besides its lithium for the charge lost in it ([`Opened::film`]), F Faraday's
/// constant, M the molar mass of lithium. A film is taken to lie between carbonate, `Li₂CO₃`, of `M/2` = 36.9 g for a mole of lithium, and
/// ethylene dicarbonate, `(CH₂OCO₂Li)₂`, of 81.0 g: the middle, with the rectangle's standard uncertainty (JCGM 100:2008,
/// 4.3.7). That these two make up most of the film on graphite in carbonates is common knowledge of the field, from memory;
/// fluoride, 25.9 g, makes it lighter and polymers heavier. Gas that forms with it leaves.
///
/// ```
/// use roulade::cell::{design::Opened, state::per_mole};
/// let film = per_mole(&Opened::USUAL, roulade::material::Ion::Lithium);
/// assert!((1e3 * film.value - 59.0).abs() < 0.1 && (1e3 * film.u() - 12.7).abs() < 0.1);
/// ```
pub fn per_mole(opened: &Opened, ion: Ion) -> Uncertain {
    opened.film.times(FARADAY).plus(metal(ion))
}

/// Density of the film, kg/m³: 1300 by a quartz balance with an ellipsometer (Kwon, Kong, `McLarnon`, Evans, J.
/// Electrochem. Soc. 150 (2003) A229, abstract read; authors from memory), 2110 for pure lithium carbonate (handbooks, from memory).
pub(super) const DENSITY: f64 = 1700.0;
