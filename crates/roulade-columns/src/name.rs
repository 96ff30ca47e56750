//! Names that programs take: letters, digits and underscores.

use roulade::cell::figures::Definition;
use roulade::quantity::units::Unit;

/// What a figure's column is called: its name in words, and its unit.
///
/// ```
/// use roulade::cell::figures::definition;
/// let figure = definition("volumetric").unwrap();
/// assert_eq!(roulade_columns::name::of(figure), "volumetric_energy_density_Wh_per_L");
/// ```
pub fn of(figure: &Definition) -> String {
    // "d.c." is one word, and a ratio is spoken.
    let words = words(&figure.name().replace("d.c.", "dc").replace("N/P", "n to p"));
    let unit = unit(figure.unit);
    if unit.is_empty() { words } else { format!("{words}_{unit}") }
}

/// What the column of a figure's standard uncertainty is called: u, as JCGM 100:2008 has it, of the figure.
pub fn of_uncertainty(figure: &Definition) -> String {
    format!("u_{}", of(figure))
}

/// A unit in letters and digits: `Wh_per_L`, `mg_per_cm2`, `um`, `percent`; nothing for a plain number.
pub fn unit(unit: Unit) -> String {
    match unit {
        Unit::Percent => return "percent".to_owned(),
        Unit::Celsius => return "degC".to_owned(),
        Unit::One => return String::new(),
        _ => {}
    }
    let mut name = String::new();
    for sign in unit.symbol().chars() {
        match sign {
            'µ' => name.push('u'),
            'Ω' => name.push_str("ohm"),
            '²' => name.push('2'),
            '³' => name.push('3'),
            '/' => name.push_str("_per_"),
            '·' => name.push('_'),
            other => name.push(other),
        }
    }
    name
}

/// Letters and digits in lower case, an underscore for whatever lies between.
fn words(text: &str) -> String {
    let words = text.split(|c: char| !c.is_ascii_alphanumeric()).filter(|word| !word.is_empty());
    words.map(str::to_ascii_lowercase).collect::<Vec<_>>().join("_")
}

#[cfg(test)]
mod tests {
    use super::*;
    use roulade::cell::figures::FIGURES;
    use std::collections::BTreeSet;

    #[test]
    fn every_figure_has_a_name_of_its_own_that_any_program_takes() {
        let names: BTreeSet<String> = FIGURES.iter().map(of).collect();
        assert_eq!(names.len(), FIGURES.len());
        for name in names {
            assert!(name.starts_with(|c: char| c.is_ascii_lowercase()), "{name}");
            assert!(name.chars().all(|c| c.is_ascii_alphanumeric() || c == '_'), "{name}");
            assert!(!name.contains("__") && !name.ends_with('_'), "{name}");
        }
        let named = |id: &str| of(roulade::cell::figures::definition(id).unwrap());
        assert_eq!(named("resistance"), "dc_internal_resistance_mohm");
        assert_eq!(named("balance.n_to_p"), "n_to_p_ratio");
        assert_eq!(named("cathode.porosity"), "cathode_porosity_percent");
        assert_eq!(
            named("resistance.pores"),
            "area_specific_ionic_resistance_pores_of_both_coatings_ohm_cm2"
        );
    }

    #[test]
    fn units_differ_by_name_where_they_differ() {
        let names: BTreeSet<String> = Unit::ALL.iter().map(|unit| self::unit(*unit)).collect();
        assert_eq!(names.len(), Unit::ALL.len());
    }
}
