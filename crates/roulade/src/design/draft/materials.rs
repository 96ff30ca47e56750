//! The materials a sheet uses: the table's, with the figures that the sheet gives in their place.

use super::makeup::{self, Composition, Makeup, Makeups};
use crate::design::lead::Metal;
use crate::design::read::{Name, Reader, Slot};
use crate::design::sheet::{self, Sheet};
use crate::known::{Known, Spread};
use crate::material::{self, Curve, Figure, Formula, Grade, Role, Shelf};
use crate::notation;
use crate::problem::{Problem, shortened};
use crate::units::{ElectricalResistivity, MassDensity, Ratio, SpecificCharge, Unit};
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
    pub(super) as_assembled: f64,
}

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
    shelf: &'a Shelf,
    used: Vec<Used>,
    densities: Vec<(String, Slot<MassDensity>)>,
    pub(super) compositions: Vec<Arc<Composition>>,
    pub(super) makeups: Makeups,
    metals: Vec<(String, MetalSlot)>,
    pub(super) remarks: Vec<String>,
}

impl<'a> Materials<'a> {
    pub(super) fn new(r: &mut Reader, sheet: &'a Sheet, shelf: &'a Shelf) -> Self {
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
            makeups: Makeups::new(),
            remarks: Vec::new(),
        }
    }

    /// Density alone, of a material that holds no lithium. `place` names the entry that asks for it.
    pub(super) fn density(&mut self, r: &mut Reader, place: &str, name: &str) -> Slot<MassDensity> {
        let canonical = canonical(name);
        self.makeups.name(place, &canonical);
        if let Some((_, slot)) = self.densities.iter().find(|(known, _)| *known == canonical) {
            return *slot;
        }
        let own = self.own_entry(&canonical);
        let table = material::find(name);
        if own.is_none() && table.is_none() {
            unknown_material(r, place, name);
        }
        let measured = own.is_some_and(|(_, m)| m.metals.is_some());
        let composition = own.and_then(|own| Composition::read(r, own, &canonical, &mut self.remarks));
        let stand_in = match &composition {
            Some(composition) => Some(composition.estimate.clone()),
            None if measured => Some(FilledIn::missed()),
            None => table.map(|t| FilledIn::of(&t.density, Unit::GramPerCubicCentimetre)),
        };
        let slot = figure(
            r,
            &canonical,
            own.and_then(|(i, m)| Some((i, "density", m.density.as_ref()?))),
            "density",
            stand_in,
        );
        let makeup = match composition {
            Some(mut composition) => {
                composition.density = Some(slot);
                let composition = Arc::new(composition);
                self.compositions.push(Arc::clone(&composition));
                Some(Makeup::Measured(composition))
            }
            None => own_formula(r, own).or_else(|| makeup::fixed(table?.formula?)),
        };
        self.makeups.add(&canonical, makeup);
        self.densities.push((canonical, slot));
        slot
    }

    /// Whether a material conducts like a metal.
    pub(super) fn conducts(&self, name: &str) -> bool {
        material::find(name).is_some_and(|table| table.conduction.is_some())
            || self.own_entry(&canonical(name)).is_some_and(|(_, own)| own.resistivity.is_some())
    }

    /// How a metal conducts; `usual`, a metal of the table, where nothing is known of it.
    pub(super) fn metal(&mut self, r: &mut Reader, name: &str, usual: &str) -> MetalSlot {
        let mut name = canonical(name);
        if !self.conducts(&name) {
            // A material that nobody knows was complained of where its density was asked for.
            if self.own_entry(&name).is_some() || material::find(&name).is_some() {
                let remark = format!(
                    "{name} has no resistivity here; that of {usual} stands in for the current path."
                );
                if !self.remarks.contains(&remark) {
                    self.remarks.push(remark);
                }
            }
            usual.clone_into(&mut name);
        }
        if let Some((_, slot)) = self.metals.iter().find(|(known, _)| *known == name) {
            return *slot;
        }
        let table = material::find(&name).and_then(|table| table.conduction);
        let resistivity = figure(
            r,
            &name,
            self.own_entry(&name).and_then(|(i, m)| Some((i, "resistivity", m.resistivity.as_ref()?))),
            "resistivity",
            table.map(|conduction| FilledIn::of(&conduction.at_20, Unit::NanoohmMetre)),
        );
        // A metal of the sheet's own is taken to warm like the usual one.
        let warms = table.or_else(|| material::find(usual)?.conduction);
        let slot =
            MetalSlot { resistivity, per_kelvin: warms.map_or(0.0, |warms| warms.per_kelvin.known.value) };
        self.metals.push((name, slot));
        slot
    }

    /// A component of a coating: density, and what makes it a host where it is one.
    pub(super) fn component(&mut self, r: &mut Reader, place: &str, name: &str) -> Used {
        let canonical = canonical(name);
        if let Some(used) = self.used.iter().find(|used| *used.name == canonical) {
            return used.clone();
        }
        let table = material::find(name);
        let own = self.own_entry(&canonical);
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
        let host =
            matches!(role, Role::Cathode | Role::Anode).then(|| self.host(r, &canonical, role, table, own));
        let used = Used { name: canonical.as_str().into(), role, density, host };
        self.used.push(used.clone());
        used
    }

    fn host(
        &mut self,
        r: &mut Reader,
        name: &str,
        role: Role,
        table: Option<&'static material::Material>,
        own: Option<(usize, &sheet::Material)>,
    ) -> Host {
        // Where the metals were refused, what they would have lent is missed no second time.
        let measured = own.is_some_and(|(_, m)| m.metals.is_some());
        let composition = self.compositions.iter().find(|composition| *composition.name == *name).cloned();
        let lent = |of: fn(&material::Material) -> Option<Figure>, unit| match &composition {
            Some(composition) => {
                let lender = composition.lender;
                let mut lent = FilledIn::of(&of(lender)?, unit);
                lent.source = format!("that of {}: {}", lender.name, lent.source);
                Some(lent)
            }
            None if measured => Some(FilledIn::missed()),
            None => table.and_then(of).map(|figure| FilledIn::of(&figure, unit)),
        };
        let capacity = figure(
            r,
            name,
            own.and_then(|(i, m)| Some((i, "capacity", m.capacity.as_ref()?))),
            "capacity",
            lent(|t| t.capacity, Unit::MilliampereHourPerGram),
        );
        let efficiency: Slot<Ratio> = figure(
            r,
            name,
            own.and_then(|(i, m)| Some((i, "first_cycle_efficiency", m.first_cycle_efficiency.as_ref()?))),
            "first_cycle_efficiency",
            lent(|t| t.first_cycle_efficiency, Unit::Percent),
        );
        let half = match own.and_then(|(i, m)| Some((i, m.curve.as_ref()?))) {
            Some((i, points)) => match Curve::from_points(points) {
                Ok(curve) => {
                    let (low, high) = curve.window();
                    let as_assembled = if role == Role::Anode {
                        0.0
                    } else {
                        (low + (high - low) / r.value(efficiency)).min(1.0_f64.max(high))
                    };
                    Some(HalfCell { curve, as_assembled })
                }
                Err(problem) => {
                    // The points of a sheet are the curve itself.
                    let point = problem.place.strip_prefix("points").unwrap_or_default();
                    r.problems.push(Problem { place: format!("materials[{i}].curve{point}"), ..problem });
                    None
                }
            },
            None => composition.map(|composition| composition.lender).or(table).and_then(|t| self.half_of(t)),
        };
        Host { capacity, efficiency, half, expansion: expansion(r, name, table, own) }
    }

    /// The table's curve, or the one that stands in for it; either with a remark where it is not well attested.
    fn half_of(&mut self, table: &'static material::Material) -> Option<HalfCell> {
        let lender = if table.half.is_some() {
            table
        } else {
            let lender = table.stand_in.and_then(material::find)?;
            self.remarks.push(format!(
                "{} has no half-cell curve of its own here; that of {} stands in for it.",
                table.name, lender.name
            ));
            lender
        };
        let half = lender.half?;
        if half.grade == Grade::C {
            self.remarks.push(format!(
                "The half-cell curve of {} is of uncertain attribution: it holds only as an assumption ({}).",
                lender.name, half.source
            ));
        }
        Some(HalfCell { curve: self.shelf.curve(lender)?, as_assembled: half.as_assembled })
    }

    fn own_entry(&self, canonical: &str) -> Option<(usize, &'a sheet::Material)> {
        self.own
            .iter()
            .enumerate()
            .find(|(_, m)| m.name.as_deref().is_some_and(|n| self::canonical(n) == canonical))
    }
}

/// What stands in where a sheet has no figure of its own.
#[derive(Clone, Debug)]
pub(super) struct FilledIn {
    pub(super) known: Known,
    text: String,
    source: String,
}

impl FilledIn {
    pub(super) fn new(known: Known, unit: Unit, source: String) -> Self {
        let text = match known.spread {
            Spread::Standard(u) => notation::print(known.value, u, unit),
            _ => notation::print_brief(&known, unit),
        };
        Self { known, text, source }
    }

    /// A figure of the table.
    fn of(figure: &Figure, unit: Unit) -> Self {
        Self { known: figure.known, text: notation::print_brief(&figure.known, unit), source: figure.cited() }
    }

    /// In the place of what would follow from an entry that was refused.
    fn missed() -> Self {
        Self { known: Known::exact(f64::NAN), text: String::new(), source: String::new() }
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
    let own = own.and_then(|(i, m)| Some((i, "expansion", m.expansion.as_ref()?)));
    let of_table = table.and_then(|t| t.expansion);
    if own.is_none() && of_table.is_none() {
        return None;
    }
    let at = of_table.filter(|_| own.is_none()).map(|expansion| expansion.at);
    let stand_in = of_table.map(|expansion| FilledIn::of(&expansion.volume, Unit::Percent));
    let volume = figure(r, name, own, "expansion", stand_in);
    Some(Expansion { volume, at })
}

/// One figure of a material: the sheet's own where it has one, what stands in otherwise.
fn figure<Q>(
    r: &mut Reader,
    material: &str,
    own: Option<(usize, &str, &sheet::Entry)>,
    what: &str,
    stand_in: Option<FilledIn>,
) -> Slot<Q> {
    let key = format!("materials[{material}].{what}");
    if let Some((i, what, entry)) = own {
        let path = format!("materials[{i}].{what}");
        return r.entry(Name { path: &path, key: &key, of: material }, Some(entry));
    }
    let name = Name { path: &key, key: &key, of: material };
    if let Some(FilledIn { known, text, source }) = stand_in {
        r.filled_in(&name, known, text, source)
    } else {
        if material::find(material).is_some() || what != "density" {
            r.problems.push(Problem::new(
                &key,
                "nothing",
                format!("a {} of {material} is needed in the sheet's materials", what.replace('_', " ")),
            ));
        }
        r.filled_in(&name, Known::exact(f64::NAN), String::new(), String::new())
    }
}

/// The table's spelling of a name, or the name as it stands.
fn canonical(name: &str) -> String {
    material::find(name).map_or_else(|| name.trim().to_owned(), |m| m.name.to_owned())
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
