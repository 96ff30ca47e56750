//! One figure of a material: the sheet's own, or what stands in for it.

use crate::cell::draft::filled_in::FilledIn;
use crate::cell::draft::makeup::Makeup;
use crate::cell::draft::read::{Name, Reader, Slot};
use crate::material::Formula;
use crate::quantity::problem::{Problem, hint, shortened};
use crate::{material, sheet};

/// The formula that the sheet gives a material.
pub(super) fn own_formula(r: &mut Reader, own: Option<(usize, &sheet::Material)>) -> Option<Makeup> {
    let (i, material) = own?;
    match Formula::read(material.formula.as_deref()?) {
        Ok(formula) => Some(Makeup::Fixed(Box::new(formula.fractions()))),
        Err(problem) => {
            r.problems.push(Problem { place: format!("materials[{i}].formula"), ..problem });
            None
        }
    }
}

/// One figure of a material: the sheet's own where it has one, what stands in otherwise.
pub(super) fn figure<Q>(
    r: &mut Reader,
    material: &str,
    own: Option<(usize, &sheet::Entry)>,
    field: &'static str,
    stand_in: Option<FilledIn>,
) -> Slot<Q> {
    let name = Name::item(field, own.map(|(i, _)| i), material);
    if let Some((_, entry)) = own {
        return r.entry(name, Some(entry));
    }
    let FilledIn { uncertain, said } = stand_in.unwrap_or_else(|| {
        let what = field.trim_start_matches("materials[].");
        if material::find(material).is_some() || what != "density" {
            r.problems.push(Problem::new(
                name.path(),
                "nothing",
                format!("a {} of \"{material}\" in the sheet's materials", what.replace('_', " ")),
            ));
        }
        FilledIn::missed()
    });
    r.filled_in(&name, uncertain, said)
}

/// The table's spelling of a name, or the name as it stands; and the material of the table.
pub(super) fn known_as(name: &str) -> (&str, Option<&'static material::Material>) {
    match material::find(name) {
        Some(table) => (table.name, Some(table)),
        None => (name.trim(), None),
    }
}

pub(super) fn unknown_material(r: &mut Reader, place: &str, name: &str) {
    let hint = hint(material::nearest(name));
    r.problems.push(Problem::new(
        place,
        format!("\"{}\", a material that is not known", shortened(name)),
        format!("a material of the table, or one described in the sheet's materials{hint}"),
    ));
}
