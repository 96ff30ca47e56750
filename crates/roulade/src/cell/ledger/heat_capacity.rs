//! How much heat a cell takes up for each kelvin.

use super::{Line, Thing, solids};
use crate::cell::design::Design;

/// `Σ m·c` over everything that has mass, J/K.
///
/// Specific heats c near room temperature, J/(kg·K), by what a thing is; of two kinds of one thing, by density, which a sheet's
/// own material has too. Metals: aluminium 897, iron 449, copper 385 and nickel 444 (element tables; from memory). Graphite 709
/// and silicon 712; layered oxides and phosphates 730 to 760, as lithium cobalt oxide's 72 J/(mol·K) (Kawaji et al., Solid State
/// Ionics 152 (2002) 195, from memory). Carbonate electrolytes 1.5 to 1.8 kJ/(kg·K), polyolefins 1.9, other polymers 1.2 to 1.4,
/// alumina 775: from memory.
pub(crate) fn heat_capacity(design: &Design) -> f64 {
    let mut sum = 0.0;
    solids(design, |line| sum += line.mass.value * specific_heat(&line));
    sum
}

fn specific_heat(line: &Line<'_>) -> f64 {
    let density = line.mass.value / line.volume.value;
    match line.thing {
        Thing::Foil | Thing::Can | Thing::Part(_) | Thing::Tabs(_) => match density {
            d if d < 2300.0 => 1300.0,
            d if d < 3500.0 => 897.0,
            d if d < 8500.0 => 449.0,
            _ => 385.0,
        },
        Thing::Component if density > 3000.0 => 750.0,
        Thing::Component | Thing::Prelithiation => 710.0,
        Thing::Film => 1900.0,
        Thing::Ceramic => 775.0,
        Thing::Electrolyte => 1650.0,
        Thing::Tape | Thing::TabTape | Thing::Sleeve | Thing::Space => 1300.0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::test_support::{demo, design};

    /// 850 to 1100 J/(kg·K) is typical of whole cells, from memory: sums of tabulated parts lie below it, by up to a fifth.
    #[test]
    fn a_kilogram_of_cell() {
        for design in
            [demo("marram a").design().unwrap(), demo("marram small").design().unwrap(), design(&[])]
        {
            let specific = heat_capacity(&design) / crate::cell::ledger::mass(&design).value;
            assert!((680.0..1100.0).contains(&specific), "{specific} J/(kg·K)");
        }
    }
}
