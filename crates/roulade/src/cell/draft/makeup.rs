//! What the materials of a sheet are made of: a formula, or the mole fractions that were measured.

use super::filled_in::FilledIn;
use crate::cell::draft::read::{Name, Reader, Slot};
use crate::material::{self, ELEMENTS, Formula, Fractions, Layered, METALS};
use crate::quantity::problem::Problem;
use crate::quantity::units::{MassDensity, Unit};
use crate::sheet::{self, Entry};
use roulade_stats::uncertain::{Spread, Uncertain};
use std::borrow::Cow;
use std::sync::{Arc, OnceLock};

/// What a material is made of.
#[derive(Clone, Debug)]
pub(crate) enum Makeup {
    /// Its formula says it.
    Fixed(Box<Fractions>),
    /// A formula of the table or of this crate, read when somebody asks.
    Table(&'static str, OnceLock<Box<Fractions>>),
    /// Measured mole fractions.
    Measured(Arc<Composition>),
}

impl Makeup {
    /// By a formula of the table or of this crate.
    pub(super) fn of_table(formula: &'static str) -> Self {
        Self::Table(formula, OnceLock::new())
    }

    /// Mass fractions of the elements at some values of the inputs.
    pub(crate) fn fractions(&self, values: &[f64]) -> Cow<'_, Fractions> {
        match self {
            Self::Fixed(fractions) => Cow::Borrowed(fractions),
            Self::Table(formula, fractions) => Cow::Borrowed(fractions.get_or_init(|| {
                // Each of them is read in a test.
                Box::new(Formula::read(formula).map_or([0.0; ELEMENTS.len()], |formula| formula.fractions()))
            })),
            Self::Measured(composition) => Cow::Owned(composition.at(values).formula().fractions()),
        }
    }

    /// Whether there can be any of an element in it, whatever the values.
    pub(crate) fn may_hold(&self, element: usize) -> bool {
        match self {
            Self::Fixed(_) | Self::Table(..) => {
                self.fractions(&[]).get(element).is_some_and(|share| *share > 0.0)
            }
            Self::Measured(composition) => ELEMENTS.get(element).is_some_and(|element| {
                let given = METALS.iter().zip(&composition.metals);
                ["Li", "O"].contains(&element.symbol)
                    || given
                        .into_iter()
                        .any(|((_, symbol), slot)| *symbol == element.symbol && slot.is_some())
            }),
        }
    }
}

/// A cathode active material by the mole fractions of its metals.
#[derive(Debug)]
pub struct Composition {
    /// Name of the material.
    pub name: Arc<str>,
    lithium: Slot<f64>,
    metals: [Option<Slot<f64>>; 4],
    /// The table's nearest.
    pub nearest: &'static material::Material,
    /// The nearest that has a half-cell curve and a capacity to lend.
    pub(super) lender: &'static material::Material,
    /// Share of the metal sites that hold another metal in the lender.
    pub(super) distance: f64,
    /// Density from the table's compositions.
    pub(super) estimate: FilledIn,
    /// The density that is used, written or estimated.
    pub(super) density: Option<Slot<MassDensity>>,
}

impl Composition {
    /// The oxide at some values of the inputs.
    pub fn at(&self, values: &[f64]) -> Layered {
        let of = |slot: &Option<Slot<f64>>| slot.map_or(0.0, |slot| slot.of(values));
        let [nickel, cobalt, manganese, aluminium] = &self.metals;
        Layered::new(self.lithium.of(values), [of(nickel), of(cobalt), of(manganese), of(aluminium)])
    }

    /// The true density in use at some values of the inputs, kg/m³.
    pub fn density(&self, values: &[f64]) -> Option<f64> {
        self.density.map(|slot| slot.of(values).value)
    }

    /// Reads the fractions of the material of that number in the sheet.
    pub(super) fn read(
        r: &mut Reader,
        (i, own): (usize, &sheet::Material),
        name: &str,
        remarks: &mut Vec<String>,
    ) -> Option<Self> {
        let metals = own.metals.as_ref()?;
        let place = format!("materials[{i}].metals");
        if own.formula.is_some() {
            let expected = "the metals alone, from which the formula follows; leave this one out";
            r.problems.push(Problem::new(
                format!("materials[{i}].formula"),
                "a formula beside metals",
                expected,
            ));
        }
        let before = r.problems.0.len();
        let one = |r: &mut Reader, field: &str, entry: &Option<Entry>| {
            r.optional(Name::item(field, Some(i), name), entry.as_ref())
        };
        let slots: [Option<Slot<f64>>; 4] = [
            one(r, "materials[].metals.nickel", &metals.nickel),
            one(r, "materials[].metals.cobalt", &metals.cobalt),
            one(r, "materials[].metals.manganese", &metals.manganese),
            one(r, "materials[].metals.aluminium", &metals.aluminium),
        ];
        let lithium =
            r.entry(Name::item("materials[].metals.lithium", Some(i), name), metals.lithium.as_ref());
        // A metal that is not known here is told already, and may well be what is missing.
        let refused = r.problems.0.len() > before || !metals.unknown.is_empty();
        if refused || !add_to_one(r, &place, name, &slots, remarks) {
            return None;
        }
        let fractions = slots.map(|slot| slot.map_or(0.0, |slot| r.value(slot)));
        let layered = Layered::new(r.value(lithium), fractions);
        let near = layered.neighbours();
        let (distance, nearest) = *near.first()?;
        let (lent, lender) = *near.iter().find(|(_, m)| m.half.is_some() && m.capacity.is_some())?;
        remarks.push(borrowed(name, own, (distance, nearest), lender));
        let spelled = |slot: &Option<Slot<f64>>| slot.map_or(0.0, |slot| r.uncertain(slot).u());
        let estimate = estimate(&layered, slots.each_ref().map(spelled), nearest);
        Some(Self {
            name: name.into(),
            lithium,
            metals: slots,
            nearest,
            lender,
            distance: lent,
            estimate,
            density: None,
        })
    }
}

/// Fractions add to one within three standard uncertainties; one written without any still has its last digit, taken
/// as the second decimal: 0.01/√12.
fn add_to_one(
    r: &mut Reader,
    place: &str,
    name: &str,
    slots: &[Option<Slot<f64>>; 4],
    remarks: &mut Vec<String>,
) -> bool {
    let given: Vec<Uncertain> = slots.iter().flatten().map(|slot| r.uncertain(*slot)).collect();
    let sum: f64 = given.iter().map(|uncertain| uncertain.value).sum();
    let u = |uncertain: &Uncertain| match uncertain.spread {
        Spread::Exact => 0.01 / 12f64.sqrt(),
        _ => uncertain.u(),
    };
    let allowed = 3.0 * given.iter().map(|uncertain| u(uncertain) * u(uncertain)).sum::<f64>().sqrt();
    if given.is_empty() {
        let example = "mole fractions of nickel, cobalt, manganese and aluminium, for example {\"nickel\": \"0.83 ± 0.01\", …}";
        r.problems.push(Problem::new(place, "no metal but lithium", example));
        return false;
    }
    if (sum - 1.0).abs() > allowed {
        r.problems.push(Problem::new(
            place,
            format!("fractions that add to {sum:.3}, where their uncertainties allow {allowed:.3} either way"),
            "mole fractions of the metals without lithium that add to 1; a metal may be missing, or an uncertainty too small",
        ));
        return false;
    }
    if (sum - 1.0).abs() > 1e-9 {
        remarks.push(format!("The metals of {name} add to {sum:.4}; each was divided by that."));
    }
    true
}

/// What the table lends to a measured composition.
fn borrowed(
    name: &str,
    own: &sheet::Material,
    (distance, nearest): (f64, &material::Material),
    lender: &material::Material,
) -> String {
    let mut lent: Vec<&str> = Vec::new();
    lent.extend(own.curve.is_none().then_some("half-cell curve"));
    lent.extend(own.capacity.is_none().then_some("practical capacity"));
    lent.extend(own.initial_coulombic_efficiency.is_none().then_some("initial coulombic efficiency"));
    let whose = if nearest.name == lender.name {
        "that material's".to_owned()
    } else {
        format!("those of {}, the nearest with a curve,", lender.name)
    };
    let lent = match lent.as_slice() {
        [] => String::new(),
        [only] => format!(" Its {only} is {whose} for want of its own."),
        [most @ .., last] => {
            format!(" Its {} and {last} are {whose} for want of its own.", most.join(", "))
        }
    };
    format!(
        "{name} is nearest to {} of the table: {:.1} % of its metal sites hold another metal.{lent}",
        nearest.name,
        100.0 * distance
    )
}

/// Density between the table's compositions; its uncertainty is that of the rule and what the fractions add to it.
fn estimate(layered: &Layered, u: [f64; 4], nearest: &material::Material) -> FilledIn {
    let rule = layered.density();
    let source = format!(
        "between the table's layered oxides, by molar volume, each weighted with one over its distance squared; nearest {}",
        nearest.name
    );
    if u.iter().all(|u| *u <= 0.0) {
        return FilledIn::new(rule, Unit::GramPerCubicCentimetre, source);
    }
    let mut variance = rule.u() * rule.u();
    for (i, u) in u.into_iter().enumerate() {
        let moved = |by: f64| {
            let mut metals = layered.metals;
            if let Some(fraction) = metals.get_mut(i) {
                *fraction = (*fraction + by).max(0.0);
            }
            Layered::new(layered.lithium, metals).density().value
        };
        let half = 0.5 * (moved(u) - moved(-u));
        variance += half * half;
    }
    FilledIn::new(Uncertain::standard(rule.value, variance.sqrt()), Unit::GramPerCubicCentimetre, source)
}

/// What every material of a sheet is made of, by the places that name it.
#[derive(Debug, Default)]
pub(super) struct Makeups {
    /// Place, and the number of the material it names.
    places: Vec<(Cow<'static, str>, usize)>,
    /// Material, and what it is made of where that is known.
    list: Vec<(String, Option<Makeup>)>,
}

impl Makeups {
    /// A place that names the material of that number.
    pub(super) fn name(&mut self, place: Cow<'static, str>, material: usize) {
        self.places.push((place, material));
    }

    /// The next material.
    pub(super) fn add(&mut self, material: &str, makeup: Option<Makeup>) {
        self.list.push((material.to_owned(), makeup));
    }

    /// The number of a material that was added.
    pub(super) fn number(&self, material: &str) -> Option<usize> {
        self.list.iter().position(|(name, _)| name == material)
    }

    /// Of the material that a place names.
    pub(super) fn at(&self, place: &str) -> Option<&Makeup> {
        let (_, material) = self.places.iter().find(|(named, _)| named == place)?;
        self.list.get(*material)?.1.as_ref()
    }

    /// Of a material.
    pub(super) fn of(&self, material: &str) -> Option<&Makeup> {
        self.list.get(self.number(material)?)?.1.as_ref()
    }

    pub(super) fn all(&self) -> impl Iterator<Item = &Makeup> {
        self.list.iter().filter_map(|(_, makeup)| makeup.as_ref())
    }
}

#[cfg(test)]
mod tests;
