//! What a part weighs that a sheet names and says nothing else of.

use super::Setting;
use crate::material;
use crate::quantity::notation;
use crate::quantity::units::Dimension;
use crate::sheet::{Entry, Part, Place};
use std::f64::consts::PI;

/// Where it comes from.
pub(crate) const SOURCE: &str =
    "the usual part of its name in a can of this size: common practice, no source";

/// Share of its height's room that such a part fills, where the sheet says nothing of its height.
const SOLID: f64 = 0.6;

/// A kind of part.
struct Usual {
    /// Words of its name, all of them.
    words: &'static [&'static str],
    place: Place,
    material: &'static str,
    /// g, in a can of inner cross-section A (cm²), outer diameter D and height H (mm).
    mass: fn(f64, f64, f64) -> f64,
}

/// Usual parts; the first whose words are all in a name is meant. An insulator is a disc of 0.25 mm that covers the bore, 60 %
/// solid; a tab 4 mm wide and 0.1 mm thick, as long as the can is high and 10 mm; a gasket 0.2 g at 18 mm, with the
/// diameter; a cap assembly 30 % solid over 3.4 mm; a plate 0.25 mm, 70 % solid; a weld 5 mg; tape of 30 µm once around the roll;
/// a crimp 0.5 mm of the can's wall folded over 2 mm. Common practice, no source.
const USUAL: &[Usual] = &[
    usual(&["anode", "tab"], Place::BelowRoll, "nickel", |_, _, h| 8.9e-3 * 0.4 * (h + 10.0)),
    usual(&["negative", "tab"], Place::BelowRoll, "nickel", |_, _, h| 8.9e-3 * 0.4 * (h + 10.0)),
    usual(&["tab"], Place::AboveRoll, "aluminium", |_, _, h| 2.7e-3 * 0.4 * (h + 10.0)),
    usual(&["bottom", "insulator"], Place::BelowRoll, "polypropylene", |a, _, _| 0.9 * a * 0.025 * 0.6),
    usual(&["lower", "insulator"], Place::BelowRoll, "polypropylene", |a, _, _| 0.9 * a * 0.025 * 0.6),
    usual(&["insulator"], Place::AboveRoll, "polypropylene", |a, _, _| 0.9 * a * 0.025 * 0.6),
    usual(&["gasket"], Place::AboveRoll, "polypropylene", |_, d, _| 0.2 * d / 18.0),
    usual(&["cap"], Place::AboveRoll, "steel", |a, _, _| 7.9 * a * 0.34 * 0.3),
    usual(&["crimp"], Place::AboveRoll, "steel", |_, d, _| 7.9e-3 * PI * d * 2.0 * 0.5),
    usual(&["negative", "plate"], Place::BelowRoll, "copper", |a, _, _| 8.96 * a * 0.025 * 0.7),
    usual(&["lower", "plate"], Place::BelowRoll, "copper", |a, _, _| 8.96 * a * 0.025 * 0.7),
    usual(&["plate"], Place::AboveRoll, "aluminium", |a, _, _| 2.7 * a * 0.025 * 0.7),
    usual(&["weld"], Place::BelowRoll, "steel", |_, _, _| 0.005),
    usual(&["tape"], Place::BesideRoll, "polypropylene", |_, d, h| 0.9e-3 * PI * d * h * 0.03),
];

const fn usual(
    words: &'static [&'static str],
    place: Place,
    material: &'static str,
    mass: fn(f64, f64, f64) -> f64,
) -> Usual {
    Usual { words, place, material, mass }
}

/// The words of a name. Beyond ASCII only the signs of Latin-1 and the punctuation of all scripts stand between words: the
/// letters of every script would be a table of 6 kB.
pub(crate) fn words(name: &str) -> impl Iterator<Item = &str> {
    name.split(|c: char| match c {
        '\0'..='\x7f' => !c.is_ascii_alphanumeric(),
        _ => matches!(c, '\u{80}'..='\u{bf}' | '×' | '÷' | '\u{2000}'..='\u{206f}'),
    })
}

/// A part of which a sheet gives the name, and neither mass nor volume nor how solid it is: with the usual mass, to 30 %, and
/// with place and material where it gives none. Nothing where the name says nothing. A usual mass gives way to a
/// height that the sheet gives: no more than the usual share of that is filled, and the words say so.
pub(crate) fn usual_part(part: &Part, setting: &Setting) -> Option<(Part, Option<String>)> {
    if part.mass.is_some() || part.volume.is_some() || part.solid_fraction.is_some() {
        return None;
    }
    let name = part.name.as_deref()?.to_ascii_lowercase();
    let named = |word: &&str| {
        let own = |given: &str| given == *word || given.strip_suffix('s') == Some(word);
        words(&name).any(own)
    };
    let found = USUAL.iter().find(|usual| usual.words.iter().all(named))?;
    let (diameter, height) = (setting.diameter, setting.height);
    let wall = 0.25 + 0.01 * setting.wider();
    let bore = 0.1 * (diameter - 2.0 * wall);
    let area = 0.25 * PI * bore * bore;
    let mut mass = (found.mass)(area, diameter, height);
    let place = part.place.unwrap_or(found.place);
    let material = part.material.as_deref().unwrap_or(found.material);
    // A height of which it fills the usual share; beside the roll and in the core it takes none.
    let axial = matches!(place, Place::BelowRoll | Place::AboveRoll);
    let density =
        material::find(material).filter(|_| axial).map(|material| 1e-3 * material.density.uncertain.value);
    let offered = part
        .height
        .as_ref()
        .and_then(|entry| Some(100.0 * notation::read(entry.text(), Dimension::Length).ok()?.value));
    let most = density.zip(offered).map(|(density, height)| SOLID * area * height * density);
    let gave_way = most.filter(|most| *most > 0.0 && *most < mass).map(|most| {
        let remark = format!(
            "parts: {}, {mass:.2} g as usual, would fill more of its stated height than such a part does: it gave way, to {most:.2} g.",
            name.trim()
        );
        mass = most;
        remark
    });
    let usual_height = density.map(|density| {
        let height = 10.0 * mass / density / (SOLID * area);
        Entry::Text(format!("{height:.4} ± {:.4} mm", 0.2 * height))
    });
    let part = Part {
        place: Some(place),
        height: part.height.clone().or(usual_height),
        material: Some(material.to_owned()),
        mass: Some(Entry::Text(format!("{mass:.4} ± {:.4} g", 0.3 * mass))),
        ..part.clone()
    };
    Some((part, gave_way))
}

#[cfg(test)]
mod tests {
    use super::super::REFERENCE;
    use super::*;
    use crate::test_support::read;
    use serde_json::json;

    fn grams(name: &str, diameter: f64, height: f64) -> Option<f64> {
        let part = Part { name: Some(name.to_owned()), ..Part::default() };
        let (found, _) = usual_part(&part, &Setting { diameter, height, ..REFERENCE })?;
        let Some(Entry::Text(text)) = found.mass else { panic!("no mass") };
        Some(text.split(' ').next().unwrap().parse().unwrap())
    }

    /// By hand at 18 × 65 mm: 4 mm × 0.1 mm × 75 mm of nickel; a bore of 17.5 mm.
    #[test]
    fn usual_masses_by_hand() {
        assert!((grams("Anode tab", 18.0, 65.0).unwrap() - 0.267).abs() < 1e-3);
        assert!((grams("gasket", 36.0, 65.0).unwrap() - 0.4).abs() < 1e-6);
        assert!((grams("top insulators", 18.0, 65.0).unwrap() - 0.9 * 2.405 * 0.015).abs() < 1e-3);
        assert!(grams("spring", 18.0, 65.0).is_none());
        // A larger can has heavier parts.
        assert!(grams("cap assembly", 46.0, 80.0) > grams("cap assembly", 18.0, 65.0));
    }

    #[test]
    fn words_end_at_signs_and_not_at_letters_of_other_scripts() {
        let words = |name| words(name).filter(|word| !word.is_empty()).collect::<Vec<_>>();
        assert_eq!(words("anode tab–2 (top)"), ["anode", "tab", "2", "top"]);
        assert_eq!(words("tab×2·gasket"), ["tab", "2", "gasket"]);
        assert_eq!(words("tabø крышка"), ["tabø", "крышка"]);
    }

    /// By hand: 0.5 mm of a bore of 20.44 mm, 0.9 g/cm³; a usual gasket of 0.233 g has 0.26 cm³ and would need 0.8 mm.
    #[test]
    fn a_usual_part_gives_way_to_a_stated_height() {
        let with = |height: &str| {
            read(&json!({ "can": { "size": "21 × 70" }, "cathode": { "mix": [{ "material": "NMC811" }] },
                "anode": { "mix": [{ "material": "graphite" }] },
                "parts": [{ "name": "gasket", "height": height }, { "name": "top insulator", "height": "0.1 mm" }] }))
        };
        let giving_way = |draft: &crate::cell::draft::Draft| {
            draft
                .remarks()
                .iter()
                .filter(|giving_way| giving_way.contains("gave way"))
                .cloned()
                .collect::<Vec<_>>()
        };
        let thin = with("0.5 mm").unwrap();
        thin.design().unwrap();
        let mass = thin.inputs().iter().find(|input| &*input.path == "parts[0].mass").unwrap().uncertain;
        assert!(
            (mass.value - SOLID * 0.9e-3 * 0.5 * 0.25 * PI * 20.44 * 20.44 * 1e-3).abs() < 3e-6,
            "{mass:?}"
        );
        let remarks_of = giving_way(&thin);
        assert!(remarks_of.len() == 2 && remarks_of[0].contains("gasket, 0.23 g as usual"), "{remarks_of:?}");
        assert_eq!(giving_way(&with("2 mm").unwrap()).len(), 1);
        // A mass that is stated stays, and is refused where it does not fit.
        let stated = json!({ "can": { "size": "21 × 70" }, "cathode": { "mix": [{ "material": "NMC811" }] },
            "anode": { "mix": [{ "material": "graphite" }] },
            "parts": [{ "name": "gasket", "place": "above roll", "height": "0.5 mm", "mass": "0.3 g", "material": "polypropylene" }] });
        assert!(read(&stated).unwrap().design().is_err());
    }

    #[test]
    fn a_named_part_needs_no_more() {
        let sheet = json!({ "can": { "size": "21 × 70" }, "cathode": { "mix": [{ "material": "NMC811" }] },
            "anode": { "mix": [{ "material": "graphite" }] },
            "parts": [{ "name": "anode tab" }, { "name": "gasket", "height": "0.9 mm" }, { "name": "cap assembly", "height": "3.4 mm" }] });
        let draft = read(&sheet).unwrap();
        let mass = draft.inputs().iter().find(|input| &*input.path == "parts[1].mass").unwrap();
        assert_eq!(mass.source().unwrap(), SOURCE);
        assert!(mass.uncertain.u() > 0.0);
        draft.design().unwrap();
        // A part that nobody knows needs its mass.
        let mut odd = sheet;
        odd["parts"][0]["name"] = json!("spring");
        let diagnostic = read(&odd).unwrap_err().to_string();
        assert!(
            diagnostic.contains("parts[0]") && diagnostic.contains("\"spring\" with neither mass nor volume"),
            "{diagnostic}"
        );
    }
}
