//! Sizes of cans that are commonly made, and how a standard names them.

use crate::cell::design::Blueprint;

/// Nominal outer diameter and height, mm. Common practice, no source.
pub const COMMON: [(u32, u32); 14] = [
    (14, 50),
    (16, 34),
    (18, 35),
    (18, 50),
    (18, 65),
    (20, 70),
    (21, 70),
    (26, 65),
    (32, 70),
    (33, 140),
    (40, 135),
    (46, 80),
    (46, 95),
    (46, 120),
];

/// What is said of the designations.
pub const STANDARD: &str = "designations after IEC 61960-3:2017, from memory: I for lithium-ion, a letter for the metal of \
    the cathode (C cobalt, N nickel, M manganese, F iron), R for round, then diameter / height in mm, rounded up";

/// How people call a size.
pub fn label(diameter: u32, height: u32) -> String {
    format!("{diameter} × {height}")
}

/// The designation of a size with the cathode of a cell: "INR18/65". Without the second letter where the cathode is of
/// no material that tells it.
///
/// # Example
/// The standard's own pattern, from memory: ICR19/66 for cobalt oxide, 18.4 mm × 65.2 mm.
/// ```
/// assert_eq!(roulade::study::form_factors::common::designation(Some('C'), 18.4, 65.2), "ICR19/66");
/// ```
pub fn designation(letter: Option<char>, diameter: f64, height: f64) -> String {
    // A micrometre is rounding, not size.
    let up = |mm: f64| (mm - 1e-3).ceil();
    format!("I{}R{:.0}/{:.0}", letter.map_or(String::new(), String::from), up(diameter), up(height))
}

/// The letter of the metal that a cathode has most of, as its host's name in the table of materials tells it.
pub fn letter(blueprint: &Blueprint) -> Option<char> {
    let most = blueprint.cathode.mix.iter().max_by(|a, b| a.share.total_cmp(&b.share))?;
    [("LCO", 'C'), ("NMC", 'N'), ("NCA", 'N'), ("LMO", 'M'), ("LFP", 'F')]
        .into_iter()
        .find_map(|(begin, letter)| most.name.starts_with(begin).then_some(letter))
}
