//! Parts that stand in where a sheet lists none, and tabs where it does not say how many.

use super::table::row;
use super::{REFERENCE, Setting};
use crate::sheet::{Entry, Part, Place, Tab};
use roulade_stats::maths;

/// Where the parts come from.
pub(crate) const SOURCE: &str = "4.3 to 5.1 mm for bottom, header and crimp together, a header of 3 to 4 mm at 18 mm (notes of a \
     pilot line; case kit of a laboratory supplier); 4 to 5 mm at 21 mm, a guess; how they grow with the diameter, insulators, \
     plates and fillings: common practice, from memory";

/// Height that plates, folds and their axial clearances take more than tabs do, mm.
const EDGES_TAKE: f64 = 2.4;

#[allow(clippy::unnecessary_wraps, reason = "every entry of a part may be left out")]
fn text(value: f64, u: f64, unit: &str) -> Option<Entry> {
    Some(Entry::Text(format!("{value:.3} ± {u:.3} {unit}")))
}

fn part(name: &str, place: Place, height: (f64, f64), filling: f64, material: &str) -> Part {
    Part {
        name: Some(name.to_owned()),
        place: Some(place),
        height: text(height.0, height.1, "mm"),
        solid_fraction: text(filling, 0.2 * filling, "%"),
        material: Some(material.to_owned()),
        ..Part::default()
    }
}

/// All hardware of a cell about which nothing is said, in axial order from the bottom.
///
/// The cap's height is that of cap assembly, gasket and crimp together. Where nothing says how the current is collected it
/// also holds what the other way of collecting it would take, by its chance.
pub(crate) fn parts(setting: &Setting) -> Vec<Part> {
    let wider = setting.wider();
    let (more, scatter) =
        setting.collected.mixed(if setting.collected.edges { -EDGES_TAKE } else { EDGES_TAKE });
    let cap = cap_height(wider);
    let cap_u = ((0.11 * cap) * (0.11 * cap) + scatter * scatter).sqrt();
    let lid = part(
        "cap assembly",
        Place::AboveRoll,
        ((cap + more).max(1.5), cap_u),
        (30.0 - 0.25 * wider).clamp(15.0, 40.0),
        "steel",
    );
    let grows = 1.0 + 0.02 * wider;
    if setting.collected.edges {
        let axial_clearance =
            |part: Part, value: f64| Part { axial_clearance: text(value, 0.35 * value, "mm"), ..part };
        vec![
            axial_clearance(
                part(
                    "negative collector plate",
                    Place::BelowRoll,
                    (0.25 * grows, 0.06 * grows),
                    70.0,
                    "copper",
                ),
                0.15 * grows,
            ),
            axial_clearance(
                part(
                    "positive collector plate",
                    Place::AboveRoll,
                    (0.3 * grows, 0.07 * grows),
                    70.0,
                    "aluminium",
                ),
                0.3 * grows,
            ),
            part("top insulator", Place::AboveRoll, (0.25 * grows, 0.08 * grows), 60.0, "polypropylene"),
            lid,
        ]
    } else {
        vec![
            part("bottom insulator", Place::BelowRoll, (0.2 * grows, 0.07 * grows), 60.0, "polypropylene"),
            part("top insulator", Place::AboveRoll, (0.3 * grows, 0.1 * grows), 60.0, "polypropylene"),
            lid,
        ]
    }
}

/// Height of cap assembly, gasket and crimp, mm.
fn cap_height(wider: f64) -> f64 {
    3.9 + 0.03 * wider
}

/// By what factors hardware grows from a can of one diameter to a can of another, as it does from cell to cell.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Growth {
    /// Wall thickness.
    pub(crate) wall: f64,
    /// Bottom thickness.
    pub(crate) bottom: f64,
    /// Core diameter.
    pub(crate) core: f64,
    /// Heights of what stands below and above the roll.
    pub(crate) heights: f64,
}

impl Growth {
    /// Between two outer diameters, mm: the middles of the laws for the one over those for the other.
    pub(crate) fn between(own: f64, other: f64) -> Self {
        let at = |path: &str, diameter: f64| {
            row(path).map_or(1.0, |row| row.uncertain(&Setting { diameter, ..REFERENCE }).0.value)
        };
        let of = |path: &str| at(path, other) / at(path, own);
        let cap = |diameter: f64| cap_height(Setting { diameter, ..REFERENCE }.wider()).max(1.5);
        Self {
            wall: of("can.wall"),
            bottom: of("can.bottom"),
            core: of("winding.core_diameter"),
            heights: cap(other) / cap(own),
        }
    }
}

/// Where the tabs of one foil stand where a sheet does not list them, as shares of its length: as many as keep the fall of
/// voltage along the foil to some tens of millivolts at a rate of 1 C, since the foil's length goes with the square of the
/// diameter (mm) and its fall with that of its length. The fall goes with the rate too, and down with the square of their number:
/// a cell for power, meant for some four times the rate, has twice as many. Common practice, from memory; the number by that
/// arithmetic.
pub(crate) fn tab_places(diameter: f64, purpose: f64, anode: bool) -> Vec<f64> {
    let meant = if purpose < 0.0 { 1.0 - purpose } else { 1.0 - 0.3 * purpose };
    let wanted = maths::pow(diameter / 21.0, 1.8) * meant;
    let count = (1..=12).find(|count| f64::from(*count) + 0.5 > wanted).unwrap_or(12);
    // One tab alone stands where it is easiest to weld: at the outer end of the anode, in the middle of the cathode.
    if count == 1 {
        return vec![if anode && diameter < 24.0 { 1.0 } else { 0.5 }];
    }
    // To a tenth of a per cent, as they are written.
    let at = |i: i32| 1e-3 * (1000.0 * (f64::from(i) + 0.5) / f64::from(count)).round();
    (0..count).map(at).collect()
}

/// The same as a sheet lists them.
pub(crate) fn tabs(setting: &Setting, anode: bool) -> Vec<Tab> {
    let places = tab_places(setting.diameter, setting.purpose.middle, anode);
    let text = |place: f64| Some(Entry::Text(format!("{:.1} %", 100.0 * place)));
    places.into_iter().map(|place| Tab { at: text(place), ..Tab::default() }).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand, from the laws: 0.25 mm at 18 mm and 0.53 mm at 46 mm; 3.9 and 4.74 mm.
    #[test]
    fn hardware_grows_with_the_diameter() {
        let growth = Growth::between(18.0, 46.0);
        assert!((growth.wall - 0.53 / 0.25).abs() < 1e-9, "{growth:?}");
        assert!((growth.heights - 4.74 / 3.9).abs() < 1e-9, "{growth:?}");
        let none = Growth::between(30.0, 30.0);
        assert!(
            [none.wall, none.bottom, none.core, none.heights]
                .iter()
                .all(|factor| (factor - 1.0).abs() < 1e-12)
        );
    }
}
