//! A sheet in a can of another size, by the rules of [`super::Recipe`].

use super::{Hold, Recipe, Wall};
use crate::cell::design::Electrolyte as Filling;
use crate::cell::design::Fill;
use crate::cell::design::Fit;
use crate::cell::draft::Draft;
use crate::quantity::notation;
use crate::quantity::problem::{Problem, Problems};
use crate::quantity::units::{Length, Unit};
use crate::sheet::{Can, Electrolyte, Entry, Noted, Sheet, Winding};
use roulade_stats::uncertain::{Spread, Uncertain};

/// The sheet in a can of another outer diameter and height, made from it: everything else is held as
/// [`Recipe::held`] says of `hold`.
///
/// # Errors
/// Where the sheet does not hold together, in its own can or in the other.
pub fn resized(mut sheet: Sheet, diameter: Length, height: Length, hold: Hold) -> Result<Sheet, Problems> {
    let draft = Draft::read(&sheet)?;
    let recipe = Recipe::of(&draft, &draft.values(), hold)?;
    let sized = recipe.sized(diameter, height)?;
    let (own, other) = (recipe.own().blueprint(), sized.design.blueprint());

    sheet.made_from = Some(draft.name().to_owned());
    let sides = [diameter, height].map(|side| notation::print(1e3 * side.value, 0.0, Unit::One));
    sheet.cell = Some(format!("{} as {} × {}", draft.name(), sides[0], sides[1]));
    let can = sheet.can.get_or_insert_with(Can::default);
    can.diameter = Some(exactly(diameter.value, Unit::Millimetre));
    can.height = Some(exactly(height.value, Unit::Millimetre));
    can.mass = other.can.weighed.map(|mass| exactly(mass.value, Unit::Gram));
    if hold.wall == Wall::WithTheDiameter || hold.wall_thickness.is_some() {
        can.wall = Some(exactly(other.can.wall.value, Unit::Millimetre));
    }
    if hold.bottom.is_some() {
        can.bottom = Some(exactly(other.can.bottom.value, Unit::Millimetre));
    }
    sheet.cell_mass = None;
    if hold.core_diameter.is_some() {
        let winding = sheet.winding.get_or_insert_with(Winding::default);
        winding.core_diameter = Some(exactly(other.winding.core_diameter.value, Unit::Millimetre));
    }
    if let (Fit::VoidHeight(space), true) =
        (other.fit, matches!(own.fit, Fit::Width(_)) || hold.void_height.is_some())
    {
        sheet.cathode.get_or_insert_default().width = None;
        sheet.void_height = Some(exactly(space.value, Unit::Millimetre));
    }
    if let (Fill::Gap(gap), true) = (other.winding.fill, hold.radial_clearance.is_some()) {
        let winding = sheet.winding.get_or_insert_with(Winding::default);
        winding.radial_clearance = Some(exactly(gap.value, Unit::Millimetre));
    }
    if let (Fill::Lengths { .. }, Fill::Gap(gap)) = (own.winding.fill, other.winding.fill) {
        let winding = sheet.winding.get_or_insert_with(Winding::default);
        winding.cathode_length = None;
        winding.anode_length = None;
        winding.radial_clearance = Some(exactly(gap.value, Unit::Millimetre));
        winding.anode_overhang_end = Some(exactly(other.winding.anode_overhang_end, Unit::Turn));
    }
    if let (Filling::Filled { .. }, Filling::Excess { share, .. }) = (own.electrolyte, other.electrolyte) {
        if share.value < 0.0 {
            let expected =
                "a mass that fills the pores: only then is there a share of it to keep in another can";
            return Err(Problem::new("electrolyte.mass", "less than the pores hold", expected).into());
        }
        let electrolyte = sheet.electrolyte.get_or_insert_with(Electrolyte::default);
        electrolyte.mass = None;
        electrolyte.excess = Some(exactly(share.value, Unit::Percent));
    }
    for (part, (was, is)) in sheet.parts.iter_mut().flatten().zip(own.parts.iter().zip(other.parts.iter())) {
        let grown = (is.volume / was.volume).value;
        if part.solid_fraction.is_some() || !grown.is_finite() {
            continue;
        }
        for (entry, unit) in [(&mut part.mass, Unit::Gram), (&mut part.volume, Unit::CubicCentimetre)] {
            *entry = entry.take().map(|entry| times(entry, grown, unit));
        }
    }
    if let Some(path) = &mut sheet.current_path {
        let grown = (other.can.bore() / own.can.bore()).value;
        for lead in [&mut path.cathode, &mut path.anode].into_iter().flatten() {
            lead.ring_radius = lead.ring_radius.take().map(|radius| times(radius, grown, Unit::Millimetre));
        }
    }
    // The new sheet must say what the recipe says.
    Draft::read(&sheet)?.design()?;
    Ok(sheet)
}

fn exactly(value: f64, unit: Unit) -> Entry {
    Entry::Text(notation::print_known(&Uncertain::exact(value), unit))
}

/// An entry with all its numbers multiplied; one that cannot be read has been complained of already.
fn times(entry: Entry, factor: f64, unit: Unit) -> Entry {
    let noted = match entry {
        Entry::Text(value) => Noted { value, from: None, remark: None },
        Entry::Noted(noted) => noted,
    };
    let Ok(known) = notation::read(&noted.value, unit.dimension()) else { return Entry::Noted(noted) };
    let spread = match known.spread {
        Spread::Exact => Spread::Exact,
        Spread::Standard(u) => Spread::Standard(u * factor),
        Spread::Range { low, high } => Spread::Range { low: low * factor, high: high * factor },
    };
    let value = notation::print_known(&Uncertain { value: known.value * factor, spread }, unit);
    // A mass that goes with the bore was read off no specimen of the new size.
    Entry::Noted(Noted { value, from: None, remark: noted.remark })
}

#[cfg(test)]
mod tests {
    use super::super::Parts;
    use super::*;
    use crate::cell::figures::{FIGURES, Worked};
    use crate::sheet::{Shape, parse};
    use crate::test_support::with;
    use serde_json::json;

    fn mm(value: f64) -> Length {
        Length::new::<uom::si::length::millimeter>(value)
    }

    /// The new sheet, read again, gives every figure that the recipe gives in that can.
    #[test]
    fn a_resized_sheet_says_what_the_recipe_says() {
        let lengths = with(&[
            ("winding/cathode_length", json!("2500 mm")),
            ("winding/radial_clearance", json!(null)),
            ("can/mass", json!("60 g")),
            ("cell_mass", json!("300 g")),
        ]);
        let series = include_str!("../../../../../demo/marram-a.json").to_owned();
        for text in [series, with(&[]).to_string(), lengths.to_string()] {
            let shape = parse(&text, "a sheet").unwrap();
            let from = Sheet::whole(shape, &mut Problems::default()).unwrap();
            let draft = Draft::read(&from).unwrap();
            let held = Hold {
                wall: Wall::WithTheDiameter,
                wall_thickness: None,
                bottom: Some(mm(0.7)),
                core_diameter: Some(mm(3.0)),
                radial_clearance: Some(mm(0.15)),
                void_height: Some(mm(0.5)),
                parts: Parts::AsTheyAre,
            };
            let small = (mm(26.0), mm(70.0));
            let large = (mm(46.0), mm(120.0));
            for (hold, (diameter, height)) in
                [(Hold::default(), small), (Hold::default(), large), (held, large)]
            {
                let recipe = Recipe::of(&draft, &draft.values(), hold).unwrap();
                let expected = recipe.sized(diameter, height).unwrap();
                let new = Draft::read(&resized(from.clone(), diameter, height, hold).unwrap()).unwrap();
                assert_eq!(new.made_from(), Some(draft.name()));
                let found = Worked::at(&new, &new.values()).unwrap();
                for figure in FIGURES {
                    let (found, expected) = ((figure.of)(&found), (figure.of)(&expected));
                    let close = match (found, expected) {
                        (Some(a), Some(b)) => (a - b).abs() <= 1e-9 * b.abs() + 1e-15,
                        (a, b) => a == b,
                    };
                    assert!(close, "{}: {found:?} for {expected:?}", figure.id);
                }
            }
        }
    }
}
