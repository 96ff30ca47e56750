//! What a chemical formula says: moles and mass of each element.

use crate::quantity::problem::{Problem, shortened};
use roulade_stats::decimal;

/// The salt of an electrolyte.
pub const SALT: &str = "LiPF6";

/// Faraday's constant, C/mol (CODATA 2018: exact but for the digits left out).
pub const FARADAY: f64 = 96_485.332_12;

/// A chemical element as met in cells.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Element {
    /// Its symbol.
    pub symbol: &'static str,
    /// Its name.
    pub name: &'static str,
    /// Standard atomic weight, g/mol.
    pub weight: f64,
}

/// How many elements are known here.
pub const COUNT: usize = 29;

/// The elements met in cells, those first that are asked for first. Conventional standard atomic weights of Prohaska
/// et al., Pure Appl. Chem. 94 (2022) 573, doi 10.1515/pac-2019-0603; typed from memory, and each compared with a
/// general periodic table in the tests.
pub static ELEMENTS: [Element; COUNT] = [
    element("Li", "lithium", 6.94),
    element("Ni", "nickel", 58.6934),
    element("Co", "cobalt", 58.933_194),
    element("Mn", "manganese", 54.938_043),
    element("Al", "aluminium", 26.981_538_4),
    element("Cu", "copper", 63.546),
    element("Fe", "iron", 55.845),
    element("C", "carbon", 12.011),
    element("Si", "silicon", 28.085),
    element("P", "phosphorus", 30.973_761_998),
    element("F", "fluorine", 18.998_403_162),
    element("O", "oxygen", 15.999),
    element("H", "hydrogen", 1.008),
    element("N", "nitrogen", 14.007),
    element("Na", "sodium", 22.989_769_28),
    element("S", "sulfur", 32.06),
    element("B", "boron", 10.81),
    element("Mg", "magnesium", 24.305),
    element("K", "potassium", 39.0983),
    element("Ca", "calcium", 40.078),
    element("Ti", "titanium", 47.867),
    element("V", "vanadium", 50.9415),
    element("Cr", "chromium", 51.9961),
    element("Zn", "zinc", 65.38),
    element("Zr", "zirconium", 91.224),
    element("Nb", "niobium", 92.906_37),
    element("Mo", "molybdenum", 95.95),
    element("Sn", "tin", 118.71),
    element("W", "tungsten", 183.84),
];

const fn element(symbol: &'static str, name: &'static str, weight: f64) -> Element {
    Element { symbol, name, weight }
}

/// Shares of a mass that are each element, in the order of [`ELEMENTS`]; they add to one.
pub type Fractions = [f64; COUNT];

/// Moles of each element in one formula unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Formula([f64; COUNT]);

impl Formula {
    /// Reads symbols, each with its count where that is not one: `LiNi0.8Co0.1Mn0.1O2`, `LiCoO₂`. An element may stand
    /// more than once; brackets are not read.
    ///
    /// # Errors
    /// Where the text is no such formula, or names an element that is not known here. The place is left empty.
    ///
    /// ```
    /// use roulade::material::Formula;
    /// // 97.871 g/mol and 273.84 mAh/g: F/3.6M of an independent table of atomic weights.
    /// let oxide = Formula::read("LiCoO2").unwrap();
    /// assert!((1e3 * oxide.molar_mass() - 97.871).abs() < 5e-4);
    /// assert!((oxide.capacity(1.0) / 3600.0 - 273.84).abs() < 5e-3);
    /// ```
    pub fn read(text: &str) -> Result<Self, Problem> {
        let complaint = |what: &str, expected: &str| {
            Problem::new("", format!("\"{}\", {what}", shortened(text)), expected)
        };
        let mut moles = [0.0; COUNT];
        let mut rest = text.trim();
        if rest.is_empty() {
            return Err(complaint("an empty formula", EXAMPLE));
        }
        while !rest.is_empty() {
            let (symbol, after) = symbol(rest).ok_or_else(|| {
                let at: String = rest.chars().take(1).collect();
                complaint(&format!("with \"{}\" where a symbol begins", shortened(&at)), EXAMPLE)
            })?;
            let slot = ELEMENTS.iter().zip(&mut moles).find(|(element, _)| element.symbol == symbol);
            let Some((_, slot)) = slot else {
                let elements: Vec<&str> = ELEMENTS.iter().map(|element| element.symbol).collect();
                let elements = format!("elements that are known here: {}", elements.join(", "));
                return Err(complaint(&format!("with the element {symbol}"), &elements));
            };
            let (digits, after) = digits(after);
            let count = if digits.is_empty() { Some(1.0) } else { decimal::number(&digits) };
            let Some(count) = count.filter(|count| count.is_finite() && *count > 0.0) else {
                let what = format!("with {} times {symbol}", shortened(&digits));
                return Err(complaint(&what, "counts that are greater than zero"));
            };
            *slot += count;
            rest = after;
        }
        // Finite counts may yet add to more than a number holds.
        if moles.iter().all(|n| *n < 1e12) {
            Ok(Self(moles))
        } else {
            Err(complaint("with too large a count", EXAMPLE))
        }
    }

    /// Moles of the elements named, one after another.
    pub(super) fn of(parts: &[(&str, f64)]) -> Self {
        let mut moles = [0.0; COUNT];
        for (symbol, count) in parts {
            if let Some((_, slot)) = ELEMENTS.iter().zip(&mut moles).find(|(e, _)| e.symbol == *symbol) {
                *slot += count;
            }
        }
        Self(moles)
    }

    /// Moles of an element in one formula unit.
    pub fn moles(&self, symbol: &str) -> f64 {
        ELEMENTS.iter().zip(&self.0).find(|(element, _)| element.symbol == symbol).map_or(0.0, |(_, n)| *n)
    }

    /// Molar mass Σ nₑ·Aₑ, kg/mol.
    pub fn molar_mass(&self) -> f64 {
        1e-3 * ELEMENTS.iter().zip(&self.0).map(|(element, n)| n * element.weight).sum::<f64>()
    }

    /// Mass fractions nₑ·Aₑ/M.
    pub fn fractions(&self) -> Fractions {
        let per_mass = 1e-3 / self.molar_mass();
        let mut fractions = self.0;
        for (element, fraction) in ELEMENTS.iter().zip(&mut fractions) {
            *fraction *= element.weight * per_mass;
        }
        fractions
    }

    /// Theoretical capacity n·F/M for n lithium per formula unit, C/kg; in mAh/g it is n·F/(3.6·M) with M in g/mol.
    pub fn capacity(&self, lithium: f64) -> f64 {
        lithium * FARADAY / self.molar_mass()
    }
}

const EXAMPLE: &str =
    "symbols with their counts, brackets multiplied out, for example \"LiNi0.8Co0.1Mn0.1O2\"";

/// A capital with the small letters behind it, and what follows.
fn symbol(text: &str) -> Option<(&str, &str)> {
    let small = text.strip_prefix(|c: char| c.is_ascii_uppercase())?;
    let end = text.len() - small.trim_start_matches(|c: char| c.is_ascii_lowercase()).len();
    text.split_at_checked(end)
}

/// Digits and points, subscripts among them as plain ones, and what follows.
fn digits(text: &str) -> (String, &str) {
    let rest = text.trim_start_matches(|c: char| plain(c).is_some());
    (text.chars().map_while(plain).collect(), rest)
}

fn plain(c: char) -> Option<char> {
    match c {
        '0'..='9' | '.' => Some(c),
        '₀'..='₉' => char::from_digit(u32::from(c) - u32::from('₀'), 10),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::material::MATERIALS;
    use approx::assert_relative_eq;
    use proptest::prelude::*;

    fn read(text: &str) -> Formula {
        Formula::read(text).unwrap()
    }

    #[test]
    fn symbols_and_counts() {
        let oxide = read("LiNi0.8Co0.15Al.05O₂");
        let moles = ["Li", "Ni", "Co", "Al", "O", "Mn", "x"].map(|symbol| oxide.moles(symbol));
        for (found, wanted) in moles.into_iter().zip([1.0, 0.8, 0.15, 0.05, 2.0, 0.0, 0.0]) {
            assert_relative_eq!(found, wanted);
        }
        // An element may come again, and a C is not the beginning of a Co.
        assert_eq!(read("CH3CO2H"), read(" C2H4O2 "));
        assert_relative_eq!(read("C1O1").moles("Co"), 0.0);
    }

    #[test]
    fn what_is_no_formula_is_reported() {
        for (text, found) in [
            ("", "\"\", an empty formula"),
            ("  ", "\"  \", an empty formula"),
            ("licoo2", "\"licoo2\", with \"l\" where a symbol begins"),
            ("2Li", "\"2Li\", with \"2\" where a symbol begins"),
            ("Al(OH)3", "\"Al(OH)3\", with \"(\" where a symbol begins"),
            ("LiXxO2", "\"LiXxO2\", with the element Xx"),
            ("Li0O2", "\"Li0O2\", with 0 times Li"),
            ("Li1.2.3", "\"Li1.2.3\", with 1.2.3 times Li"),
            ("Li.", "\"Li.\", with . times Li"),
            ("Li1e9", "\"Li1e9\", with \"e\" where a symbol begins"),
            ("Li9999999999999", "\"Li9999999999999\", with too large a count"),
        ] {
            assert_eq!(Formula::read(text).unwrap_err().found, found);
        }
        assert!(Formula::read(&format!("Li{}", "9".repeat(400))).is_err());
    }

    #[test]
    fn every_formula_of_the_table_is_one() {
        let formulas = MATERIALS.iter().filter_map(|material| material.formula);
        for formula in formulas {
            assert_relative_eq!(read(formula).fractions().iter().sum::<f64>(), 1.0, max_relative = 1e-12);
        }
    }

    /// Mass fractions behind the formulas of mixtures, which stand beside them in words.
    #[test]
    fn mixtures_have_the_mass_fractions_they_name() {
        let share = |material: &str, symbol: &str| {
            let formula = read(crate::material::find(material).unwrap().formula.unwrap());
            let fractions = formula.fractions();
            ELEMENTS.iter().position(|e| e.symbol == symbol).map(|i| fractions[i]).unwrap()
        };
        for (material, symbol, fraction, within) in [
            ("steel", "Mn", 0.004, 2e-4),
            ("steel", "C", 0.001, 5e-5),
            ("aluminium 3003", "Mn", 0.0125, 3e-4),
            ("aluminium 3003", "Fe", 0.005, 3e-4),
            ("aluminium 3003", "Si", 0.003, 3e-4),
            ("aluminium 3003", "Cu", 0.0012, 1e-4),
            // Half styrene C8H8, half butadiene C4H6.
            ("SBR", "C", 0.5 * 0.9226 + 0.5 * 0.8882, 1e-3),
            // C6H10O5 with 0.7 of its H in the place of which CH2COONa stands: 22.99·0.7/218.
            ("CMC", "Na", 0.0738, 3e-4),
            // 3 of ethylene carbonate, 7 of ethyl methyl carbonate: 0.3·48/88.06 + 0.7·48/104.10.
            ("electrolyte", "O", 0.4863, 3e-4),
        ] {
            let found = share(material, symbol);
            assert!((found - fraction).abs() < within, "{material} {symbol}: {found}");
        }
    }

    proptest! {
        /// Whatever is read, fractions add to one; whatever is written is read back.
        #[test]
        fn fractions_add_to_one(counts in proptest::collection::vec((0..COUNT, 1u32..9999), 1..8)) {
            let parts = counts.iter().map(|(i, n)| format!("{}{}", ELEMENTS[*i].symbol, f64::from(*n) / 1000.0));
            let formula = Formula::read(&parts.collect::<Vec<_>>().concat()).unwrap();
            prop_assert!((formula.fractions().iter().sum::<f64>() - 1.0).abs() < 1e-12);
            let moles: f64 = counts.iter().map(|(_, n)| f64::from(*n) / 1000.0).sum();
            prop_assert!((formula.0.iter().sum::<f64>() - moles).abs() < 1e-9);
        }

        /// No text makes it panic, and what it takes weighs something.
        #[test]
        fn any_text_is_answered(text in "[A-Za-z0-9.()₀-₉ ]{0,12}|\\PC{0,12}") {
            if let Ok(formula) = Formula::read(&text) {
                prop_assert!(formula.molar_mass() > 0.0 && formula.molar_mass().is_finite());
            }
        }
    }
}
