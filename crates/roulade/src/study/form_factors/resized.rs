//! A sheet in a can of another size, by the rules of [`super::Recipe`].

use super::{Hold, Recipe};
use crate::cell::design::Blueprint;
use crate::cell::design::Electrolyte as Filling;
use crate::cell::design::Fill;
use crate::cell::design::Fit;
use crate::cell::draft::{Draft, list_parts};
use crate::quantity::notation;
use crate::quantity::problem::{Problem, Problems};
use crate::quantity::units::{Length, Unit};
use crate::sheet::{Edit, Sheet, all_applied};
use crate::study::remove::descends;
use roulade_stats::uncertain::{Origin, Uncertain};

/// The sheet in a can of another outer diameter and height, made from it: everything else is held as
/// [`Recipe::held`] says of `hold`.
///
/// # Errors
/// Where the sheet does not hold together, in its own can or in the other.
#[allow(clippy::needless_pass_by_value, reason = "the sheet becomes another one")]
pub fn resized(sheet: Sheet, diameter: Length, height: Length, hold: Hold) -> Result<Sheet, Problems> {
    let mut sheet = Draft::sheet_as_built(&sheet)?.into_owned();
    // What stands in at its own size is what grows, not what would stand in at the other.
    list_parts(&mut sheet);
    let draft = Draft::read(&sheet)?;
    let recipe = Recipe::of(&draft, &draft.values(), hold)?;
    let sized = recipe.sized(diameter, height)?;
    let (own, other) = (recipe.own().blueprint(), sized.design.blueprint());

    let mut edits = Vec::new();
    let mut exactly = |key: &str, value: f64, unit: Unit| {
        let text = notation::print_uncertain(&Uncertain::exact(value), unit);
        edits.push(Edit::Set { key: key.to_owned(), to: text.into() });
    };
    exactly("can.diameter", diameter.value, Unit::Millimetre);
    exactly("can.height", height.value, Unit::Millimetre);
    if let Some(mass) = other.can.weighed {
        exactly("can.mass", mass.value, Unit::Gram);
    }
    let asked = [
        ("can.wall", hold.wall_thickness, other.can.wall, own.can.wall),
        ("can.bottom", hold.bottom, other.can.bottom, own.can.bottom),
        ("winding.core_diameter", hold.core_diameter, other.winding.core_diameter, own.winding.core_diameter),
    ];
    let mut grows = Vec::new();
    for (key, asked, is, was) in asked {
        if asked.is_some() {
            exactly(key, is.value, Unit::Millimetre);
        } else {
            grows.push((key, (is / was).value));
        }
    }
    let mut gone = vec!["cell_mass", "can.size"];
    if other.can.weighed.is_none() {
        gone.push("can.mass");
    }
    if let (Fit::VoidHeight(space), true) =
        (other.fit, matches!(own.fit, Fit::Width(_)) || hold.void_height.is_some())
    {
        gone.push("cathode.width");
        exactly("void_height", space.value, Unit::Millimetre);
    }
    if let (Fill::Gap(is), Fill::Gap(was)) = (other.winding.fill, own.winding.fill) {
        if hold.radial_clearance.is_some() {
            exactly("winding.radial_clearance", is.value, Unit::Millimetre);
        } else {
            grows.push(("winding.radial_clearance", (is / was).value));
        }
    }
    if let (Fill::Lengths { .. }, Fill::Gap(gap)) = (own.winding.fill, other.winding.fill) {
        gone.extend(["winding.cathode_length", "winding.anode_length"]);
        exactly("winding.radial_clearance", gap.value, Unit::Millimetre);
        exactly("winding.anode_overhang_end", other.winding.anode_overhang_end, Unit::Turn);
    }
    if let (Filling::Filled { .. }, Filling::Excess { share, .. }) = (own.electrolyte, other.electrolyte) {
        if share.value < 0.0 {
            let expected = "a mass that fills the pores; only then can its excess be kept in another can";
            return Err(Problem::new("electrolyte.mass", "less than the pores hold", expected).into());
        }
        gone.push("electrolyte.mass");
        exactly("electrolyte.excess", share.value, Unit::Percent);
    }
    // With its spread; what stands in here would be another in the other can.
    for (key, by) in grows {
        match draft.inputs().iter().find(|input| input.key == key) {
            Some(input) if input.origin == Origin::Default => {
                let text = notation::print_uncertain(&input.uncertain.times(by), input.unit);
                edits.push(Edit::Set { key: key.to_owned(), to: text.into() });
            }
            Some(_) if (by - 1.0).abs() > 0.0 => edits.push(Edit::Scale { key: key.to_owned(), by }),
            _ => {}
        }
    }
    // The electrodes are those of a cell made for the same: in a can of another size its stand-in would tell another purpose.
    if let (None, Some(input)) = (&sheet.purpose, draft.inputs().iter().find(|input| input.path == "purpose"))
    {
        let text = notation::print_uncertain(&input.uncertain, Unit::One);
        edits.push(Edit::Set { key: "purpose".to_owned(), to: text.into() });
    }
    edits.extend(gone.into_iter().map(|key| Edit::Clear { key: key.to_owned() }));
    edits.extend(scaled_hardware(&sheet, own, other));
    let mut new = all_applied(&sheet, &edits)?;
    let sides = [diameter, height].map(|side| notation::print(1e3 * side.value, 0.0, Unit::One));
    new.cell = Some(format!("{} as {} × {}", draft.name(), sides[0], sides[1]));
    descends(&mut new, draft.name());
    let new = Draft::settled(&sheet, new);
    // The new sheet must say what the recipe says.
    Draft::read(&new)?.design()?;
    Ok(new)
}

/// Parts and rings of weld spots as they are in the other can.
fn scaled_hardware(sheet: &Sheet, own: &Blueprint, other: &Blueprint) -> Vec<Edit> {
    // A mass that goes with the inner diameter was read off no specimen of the new size.
    let mut edits = Vec::new();
    let mut scaled = |key: String, by: f64| edits.push(Edit::Scale { key, by });
    for (i, (part, (was, is))) in
        sheet.parts.iter().flatten().zip(own.parts.iter().zip(other.parts.iter())).enumerate()
    {
        let key =
            |what: &str| format!("parts[{}].{what}", part.name.clone().unwrap_or_else(|| i.to_string()));
        if is.height != was.height {
            scaled(key("height"), (is.height / was.height).value);
        }
        let grown = (is.volume / was.volume).value;
        if part.solid_fraction.is_some() || !grown.is_finite() || grown <= 0.0 {
            continue;
        }
        if part.mass.is_some() {
            scaled(key("mass"), grown);
        }
        if part.volume.is_some() {
            scaled(key("volume"), grown);
        }
    }
    if let Some(path) = &sheet.current_path {
        let grown = (other.can.bore() / own.can.bore()).value;
        for (side, collection) in [("cathode", &path.cathode), ("anode", &path.anode)] {
            if collection.as_ref().is_some_and(|collection| collection.ring_radius.is_some()) {
                scaled(format!("current_path.{side}.ring_radius"), grown);
            }
        }
    }
    edits
}

#[cfg(test)]
mod tests {
    use super::super::{Hardware, Parts, Wall};
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
                hardware: Hardware::Stays,
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
                    assert!(
                        close,
                        "{} at {diameter:?} {hold:?}, {}: {found:?} for {expected:?}",
                        draft.name(),
                        figure.id
                    );
                }
            }
        }
    }

    /// A can that is known by the name of its size has another, measured one.
    /// A cell that grows as cells do is as ordinary in its new can as in its own.
    #[test]
    fn a_resized_cell_is_no_less_plausible() {
        let series = include_str!("../../../../../demo/marram-a.json");
        let small = include_str!("../../../../../demo/marram-small.json");
        for text in [series, small] {
            let from = Sheet::parse(text).unwrap();
            assert!(Draft::read(&from).unwrap().implausible().next().is_none());
            for diameter in [18.0, 21.0, 26.0, 46.0, 60.0, 80.0] {
                let new = resized(from.clone(), mm(diameter), mm(90.0), Hold::default()).unwrap();
                let draft = Draft::read(&new).unwrap();
                let outside = draft.implausible().filter(|entry| entry.path != "can.diameter");
                let remarks: Vec<String> = outside.map(|entry| entry.remark).collect();
                assert!(remarks.is_empty(), "at {diameter} mm: {remarks:?}");
            }
        }
    }

    #[test]
    fn the_name_of_a_size_goes_with_it() {
        let mut text = with(&[]);
        text["can"] = json!({ "size": "46 × 95" });
        let from = Sheet::parse(&text.to_string()).unwrap();
        let new = resized(from, mm(40.0), mm(90.0), Hold::default()).unwrap();
        assert!(new.can.as_ref().is_some_and(|can| can.size.is_none()), "{:?}", new.can);
        let draft = Draft::read(&new).unwrap();
        assert!((draft.blueprint_at(&draft.values()).can.diameter - mm(40.0)).value.abs() < 1e-12);
    }

    /// A sheet whose can moves with its coatings, in another can: what is exact there moves with nothing.
    #[test]
    fn what_moves_together_still_does_in_another_can() {
        let correlated = json!({
            "paths": ["can.diameter", "cathode.loading", "can.mass", "parts[plate].mass", "winding.radial_clearance"],
            "coefficients": [[0.5], [0.4, 0.3], [0.2, 0.1, -0.1], [0.1, 0.1, 0.1, 0.1]]
        });
        let text = with(&[
            ("can/diameter", json!("46.0 ± 0.1 mm")),
            ("can/mass", json!("60 ± 1 g")),
            ("cathode/loading", json!("20 ± 0.1 mg/cm2")),
            ("parts/1/mass", json!("4 ± 0.1 g")),
            ("winding/radial_clearance", json!("0.25 ± 0.01 mm")),
            ("correlated", correlated),
        ]);
        let from = Sheet::parse(&text.to_string()).unwrap();
        let new = resized(from, mm(40.0), mm(90.0), Hold::default()).unwrap();
        let section = new.correlated.unwrap();
        assert_eq!(
            section.paths.unwrap(),
            ["cathode.loading", "parts[plate].mass", "winding.radial_clearance"]
        );
        assert_eq!(section.coefficients.unwrap(), [vec![0.1], vec![0.1, 0.1]]);
    }
}
