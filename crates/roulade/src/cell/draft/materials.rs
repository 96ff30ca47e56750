//! The materials a sheet uses: the table's, with the figures that the sheet gives in their place.

use super::filled_in::FilledIn;
use super::lent::{borrowed_capacity, own_curve};
use super::makeup::{Composition, Makeup, Makeups};
use crate::cell::design::Metal;
use crate::cell::draft::read::{Name, Reader, Slot};
use crate::material::{self, Curve, CurveCache, Figure, Formula, Grade, Half, Ion, Role};
use crate::quantity::problem::{Problem, shortened};
use crate::quantity::units::{
    ElectricPotential, ElectricalResistivity, MassDensity, Ratio, SpecificCharge, Unit,
};
use crate::sheet::{self, Sheet};
use roulade_stats::uncertain::Uncertain;
use std::borrow::Cow;
use std::sync::Arc;

/// The numbers of one material as inputs.
#[derive(Clone, Debug)]
pub(super) struct Used {
    pub(super) name: Arc<str>,
    pub(super) role: Role,
    pub(super) density: Slot<MassDensity>,
    pub(super) host: Option<Host>,
}

/// What makes a material a host of lithium.
#[derive(Clone, Debug)]
pub(super) struct Host {
    pub(super) capacity: Slot<SpecificCharge>,
    pub(super) efficiency: Slot<Ratio>,
    pub(super) half: Option<HalfCell>,
    pub(super) expansion: Option<Expansion>,
    /// What it stores, where table or formula say it.
    pub(super) ion: Option<Ion>,
    /// Whether it is the metal itself.
    plates: bool,
}

impl Used {
    /// Whether it is a metal that is plated.
    pub(super) fn plates(&self) -> bool {
        self.host.as_ref().is_some_and(|host| host.plates)
    }
}

/// Volume that a host gains from free of lithium to full.
#[derive(Clone, Copy, Debug)]
pub(super) struct Expansion {
    volume: Slot<Ratio>,
    /// The capacity that "full" stands for, C/kg; absent where it is this host's own.
    at: Option<f64>,
}

impl Expansion {
    /// For a host that takes up `capacity` from stoichiometry 0 to 1.
    pub(super) fn of(&self, v: &[f64], capacity: SpecificCharge) -> f64 {
        self.volume.of(v).value * self.at.map_or(1.0, |at| capacity.value / at)
    }
}

/// Its half-cell curve.
#[derive(Clone, Debug)]
pub(super) struct HalfCell {
    pub(super) curve: Curve,
    /// Added to all its potentials: its error, and what the sheet shifts it by.
    pub(super) shift: Slot<ElectricPotential>,
    /// Length of its continuations; none where it has none.
    pub(super) extension: Option<Slot<f64>>,
}

/// Length of a curve's continuation over what the table states: half of it either way. A judgement: what a host holds
/// beyond its usual limits differs from powder to powder by that much.
const EXTENSION: (f64, f64) = (0.5, 1.5);

/// How a metal conducts.
#[derive(Clone, Copy, Debug)]
pub(super) struct MetalSlot {
    resistivity: Slot<ElectricalResistivity>,
    per_kelvin: f64,
}

impl MetalSlot {
    pub(super) fn of(self, v: &[f64]) -> Metal {
        Metal { at_20: self.resistivity.of(v), per_kelvin: self.per_kelvin }
    }
}

/// The materials met so far.
#[derive(Debug)]
pub(super) struct Materials<'a> {
    own: &'a [sheet::Material],
    shelf: &'a CurveCache,
    used: Vec<Used>,
    /// In the order of the makeups.
    densities: Vec<Slot<MassDensity>>,
    pub(super) compositions: Vec<Arc<Composition>>,
    pub(super) makeups: Makeups,
    metals: Vec<(String, MetalSlot)>,
    pub(super) remarks: Vec<String>,
}

impl<'a> Materials<'a> {
    pub(super) fn new(r: &mut Reader, sheet: &'a Sheet, shelf: &'a CurveCache) -> Self {
        let own = sheet.materials.as_deref().unwrap_or(&[]);
        for (i, material) in own.iter().enumerate() {
            if material.name.as_deref().is_none_or(|name| name.trim().is_empty()) {
                r.problems.push(Problem::new(
                    format!("materials[{i}].name"),
                    "nothing",
                    "every material has a name",
                ));
            }
        }
        Self {
            own,
            shelf,
            used: Vec::new(),
            densities: Vec::new(),
            metals: Vec::new(),
            compositions: Vec::new(),
            makeups: Makeups::default(),
            remarks: Vec::new(),
        }
    }

    /// Density alone, of a material that holds no lithium. `place` names the entry that asks for it.
    pub(super) fn density(
        &mut self,
        r: &mut Reader,
        place: impl Into<Cow<'static, str>>,
        name: &str,
    ) -> Slot<MassDensity> {
        let (canonical, table) = known_as(name);
        let place = place.into();
        let number = self.makeups.number(canonical);
        if let Some((number, slot)) = number.and_then(|number| Some((number, *self.densities.get(number)?))) {
            self.makeups.name(place, number);
            return slot;
        }
        let own = self.own_entry(canonical);
        if own.is_none() && table.is_none() {
            unknown_material(r, &place, name);
        }
        self.makeups.name(place, self.densities.len());
        let measured = own.is_some_and(|(_, m)| m.metals.is_some());
        let composition = own.and_then(|own| Composition::read(r, own, canonical, &mut self.remarks));
        let stand_in = match &composition {
            Some(composition) => Some(composition.estimate.clone()),
            None if measured => Some(FilledIn::missed()),
            None => table.map(|t| FilledIn::of(&t.density)),
        };
        let slot = figure(
            r,
            canonical,
            own.and_then(|(i, m)| Some((i, m.density.as_ref()?))),
            "materials[].density",
            stand_in,
        );
        let makeup = match composition {
            Some(mut composition) => {
                composition.density = Some(slot);
                let composition = Arc::new(composition);
                self.compositions.push(Arc::clone(&composition));
                Some(Makeup::Measured(composition))
            }
            None => own_formula(r, own).or_else(|| Some(Makeup::of_table(table?.formula?))),
        };
        self.makeups.add(canonical, makeup);
        self.densities.push(slot);
        slot
    }

    /// Whether a material is the table's, with no figure of the sheet's own.
    pub(super) fn is_of_table(&self, name: &str) -> bool {
        material::find(name).is_some() && self.own_entry(known_as(name).0).is_none()
    }

    /// Whether a material conducts like a metal.
    pub(super) fn conducts(&self, name: &str) -> bool {
        let (name, table) = known_as(name);
        table.is_some_and(|table| table.conduction.is_some())
            || self.own_entry(name).is_some_and(|(_, own)| own.resistivity.is_some())
    }

    /// How a metal conducts; `usual`, a metal of the table, where nothing is known of it.
    pub(super) fn metal(&mut self, r: &mut Reader, name: &str, usual: &'static str) -> MetalSlot {
        let (mut name, mut table) = known_as(name);
        let there = |metals: &[(String, MetalSlot)], name: &str| {
            metals.iter().find(|(known, _)| known == name).map(|(_, slot)| *slot)
        };
        if let Some(slot) = there(&self.metals, name) {
            return slot;
        }
        if !self.conducts(name) {
            // A material that nobody knows was complained of where its density was asked for.
            if self.own_entry(name).is_some() || table.is_some() {
                let remark = format!(
                    "{name} has no resistivity here; that of {usual} stands in for the current path."
                );
                if !self.remarks.contains(&remark) {
                    self.remarks.push(remark);
                }
            }
            (name, table) = known_as(usual);
            if let Some(slot) = there(&self.metals, name) {
                return slot;
            }
        }
        let conduction = table.and_then(|table| table.conduction.as_ref());
        let resistivity = figure(
            r,
            name,
            self.own_entry(name).and_then(|(i, m)| Some((i, m.resistivity.as_ref()?))),
            "materials[].resistivity",
            conduction.map(|conduction| FilledIn::of(&conduction.at_20)),
        );
        // A metal of the sheet's own is taken to warm like the usual one.
        let warms = conduction.or_else(|| material::find(usual)?.conduction.as_ref());
        let slot =
            MetalSlot { resistivity, per_kelvin: warms.map_or(0.0, |warms| warms.per_kelvin.known.value) };
        self.metals.push((name.to_owned(), slot));
        slot
    }

    /// A component of a coating: density, and what makes it a host where it is one.
    pub(super) fn component(&mut self, r: &mut Reader, place: String, name: &str) -> Used {
        let (canonical, table) = known_as(name);
        if let Some(used) = self.used.iter().find(|used| *used.name == *canonical) {
            return used.clone();
        }
        let own = self.own_entry(canonical);
        let own_role = own.and_then(|(_, m)| m.role);
        let density = self.density(r, place, name);
        let metals = own.is_some_and(|(_, m)| m.metals.is_some());
        let said = own_role.or(table.map(|t| t.role));
        let role = said.filter(|_| !metals).unwrap_or(if metals { Role::Cathode } else { Role::Binder });
        if metals && said.is_some_and(|role| role != Role::Cathode) {
            r.problems.push(Problem::new(
                format!("materials[{}].metals", own.map_or(0, |(i, _)| i)),
                format!("metals of {canonical}, which is no cathode material"),
                "the metals of a layered oxide stand in a cathode material of your own",
            ));
        }
        if table.is_none() && own_role.is_none() && own.is_some() && !metals {
            r.problems.push(Problem::new(
                format!("materials[{}].role", own.map_or(0, |(i, _)| i)),
                "nothing",
                "a material of your own says what it does: cathode, anode, binder, conductive, metal, polymer or ceramic",
            ));
        }
        let host = matches!(role, Role::Cathode | Role::Anode).then(|| self.host(r, canonical, table, own));
        let used = Used { name: canonical.into(), role, density, host };
        self.used.push(used.clone());
        used
    }

    fn host(
        &mut self,
        r: &mut Reader,
        name: &str,
        table: Option<&'static material::Material>,
        own: Option<(usize, &sheet::Material)>,
    ) -> Host {
        // Where the metals were refused, what they would have lent is missed no second time.
        let measured = own.is_some_and(|(_, m)| m.metals.is_some());
        let composition = self.compositions.iter().find(|composition| *composition.name == *name).cloned();
        let lent = |of: fn(&'static material::Material) -> Option<&'static Figure>| match &composition {
            Some(composition) => {
                let lender = composition.lender;
                let figure = of(lender)?;
                Some(FilledIn::lent(figure, lender.name))
            }
            None if measured => Some(FilledIn::missed()),
            None => table.and_then(of).map(FilledIn::of),
        };
        let capacity = figure(
            r,
            name,
            own.and_then(|(i, m)| Some((i, m.capacity.as_ref()?))),
            "materials[].capacity",
            lent(|t| t.capacity.as_ref()).map(|filled| match &composition {
                Some(composition) => borrowed_capacity(filled, composition),
                None => filled,
            }),
        );
        let efficiency: Slot<Ratio> = figure(
            r,
            name,
            own.and_then(|(i, m)| Some((i, m.initial_coulombic_efficiency.as_ref()?))),
            "materials[].initial_coulombic_efficiency",
            lent(|t| t.initial_coulombic_efficiency.as_ref()),
        );
        #[allow(clippy::single_match_else, reason = "a sheet's own curve and the table's weigh the same")]
        let half = match own.and_then(|(i, m)| Some((i, m.curve.as_ref()?))) {
            Some((i, points)) => match own_curve(points, own.and_then(|(_, m)| m.window.as_deref())) {
                Ok(curve) => {
                    let known = Uncertain::exact(0.0);
                    let source = "the sheet's own curve, taken as it stands".to_owned();
                    Some(self.half(r, name, own, (curve, FilledIn::new(known, Unit::Millivolt, source))))
                }
                Err(problem) => {
                    // The points of a sheet are the curve itself.
                    let place = match problem.place.strip_prefix("points") {
                        Some(point) => format!("materials[{i}].curve{point}"),
                        None => format!("materials[{i}].{}", problem.place),
                    };
                    r.problems.push(Problem { place, ..problem });
                    None
                }
            },
            None => {
                let distance = composition.as_ref().map_or(0.0, |composition| composition.distance);
                let lender = composition.map(|composition| composition.lender).or(table);
                lender.and_then(|lender| {
                    let half = lender.half?;
                    let curve = self.shelf.curve(lender)?;
                    let error = material::borrowed_error(half.error, distance);
                    let source = if distance > 0.0 {
                        format!(
                            "that of {} and what {:.1} % of other metals add: {}",
                            lender.name,
                            100.0 * distance,
                            half.error_source
                        )
                    } else {
                        half.error_source.to_owned()
                    };
                    self.attested(name, &half);
                    let filled = FilledIn::new(Uncertain::standard(0.0, error), Unit::Millivolt, source);
                    Some(self.half(r, name, own, (curve, filled)))
                })
            }
        };
        let ion = table.map(material::Material::ion).or_else(|| {
            let formula = Formula::read(own?.1.formula.as_deref()?).ok()?;
            [Ion::Lithium, Ion::Sodium].into_iter().find(|ion| formula.moles(ion.symbol()) > 0.0)
        });
        let ion = ion.or(measured.then_some(Ion::Lithium));
        let plates = table.and_then(|table| table.half).is_some_and(|half| half.plates);
        Host { capacity, efficiency, half, expansion: expansion(r, name, table, own), ion, plates }
    }

    /// A curve with its error and, where it goes on past its window, the length of that.
    #[allow(clippy::unused_self, reason = "beside the readers of a host's other figures")]
    fn half(
        &self,
        r: &mut Reader,
        name: &str,
        own: Option<(usize, &sheet::Material)>,
        (curve, error): (Curve, FilledIn),
    ) -> HalfCell {
        let shift = figure(
            r,
            name,
            own.and_then(|(i, m)| Some((i, m.potential.as_ref()?))),
            "materials[].potential",
            Some(error),
        );
        let own_points = own.is_some_and(|(_, m)| m.curve.is_some());
        let extension = (curve.reach() != curve.window()).then(|| {
            let (known, source) = if own_points {
                (Uncertain::exact(1.0), "the sheet's own points, taken as they stand".to_owned())
            } else {
                let source = "how far powders differ beyond their usual limits: a judgement".to_owned();
                (Uncertain::range(EXTENSION.0, EXTENSION.1), source)
            };
            figure(
                r,
                name,
                own.and_then(|(i, m)| Some((i, m.extension.as_ref()?))),
                "materials[].extension",
                Some(FilledIn::new(known, Unit::One, source)),
            )
        });
        HalfCell { curve, shift, extension }
    }

    /// A remark on a curve of the table that is not well attested.
    fn attested(&mut self, name: &str, half: &Half) {
        let whose = half.shape_of.map_or(String::new(), |lender| format!(", in shape that of {lender},"));
        if half.grade == Grade::C {
            self.remarks.push(format!(
                "The half-cell curve of {name}{whose} is uncertain: {:.0} mV either way as a standard uncertainty ({}).",
                1e3 * half.error,
                half.error_source
            ));
        }
    }

    fn own_entry(&self, canonical: &str) -> Option<(usize, &'a sheet::Material)> {
        self.own
            .iter()
            .enumerate()
            .find(|(_, m)| m.name.as_deref().is_some_and(|name| known_as(name).0 == canonical))
    }
}

/// The formula that the sheet gives a material.
fn own_formula(r: &mut Reader, own: Option<(usize, &sheet::Material)>) -> Option<Makeup> {
    let (i, material) = own?;
    match Formula::read(material.formula.as_deref()?) {
        Ok(formula) => Some(Makeup::Fixed(Box::new(formula.fractions()))),
        Err(problem) => {
            r.problems.push(Problem { place: format!("materials[{i}].formula"), ..problem });
            None
        }
    }
}

/// How a host of the anode swells; nothing where neither sheet nor table says it.
fn expansion(
    r: &mut Reader,
    name: &str,
    table: Option<&'static material::Material>,
    own: Option<(usize, &sheet::Material)>,
) -> Option<Expansion> {
    let own = own.and_then(|(i, m)| Some((i, m.expansion.as_ref()?)));
    let of_table = table.and_then(|t| t.expansion.as_ref());
    if own.is_none() && of_table.is_none() {
        return None;
    }
    let at = of_table.filter(|_| own.is_none()).map(|expansion| expansion.at);
    let stand_in = of_table.map(|expansion| FilledIn::of(&expansion.volume));
    let volume = figure(r, name, own, "materials[].expansion", stand_in);
    Some(Expansion { volume, at })
}

/// One figure of a material: the sheet's own where it has one, what stands in otherwise.
fn figure<Q>(
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
    let FilledIn { known, said } = stand_in.unwrap_or_else(|| {
        let what = field.trim_start_matches("materials[].");
        if material::find(material).is_some() || what != "density" {
            r.problems.push(Problem::new(
                name.path(),
                "nothing",
                format!("a {} of {material} is needed in the sheet's materials", what.replace('_', " ")),
            ));
        }
        FilledIn::missed()
    });
    r.filled_in(&name, known, said)
}

/// The table's spelling of a name, or the name as it stands; and the material of the table.
fn known_as(name: &str) -> (&str, Option<&'static material::Material>) {
    match material::find(name) {
        Some(table) => (table.name, Some(table)),
        None => (name.trim(), None),
    }
}

fn unknown_material(r: &mut Reader, place: &str, name: &str) {
    let hint = match material::nearest(name) {
        Some(near) => format!("perhaps \"{near}\" was meant; "),
        None => String::new(),
    };
    r.problems.push(Problem::new(
        place,
        format!("\"{}\", a material that is not known", shortened(name)),
        format!("{hint}a material of the table, or one described in the sheet's materials"),
    ));
}
