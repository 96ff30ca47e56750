//! A coating: what it is mixed from, and loading, thickness and porosity, of which any two give the third.

mod besides;
mod entries;

use super::materials::used::{HalfCell, Used};
use crate::cell::design::{BareEnds, Component, Electrode, Potential, Silicon, Swelling};
use crate::cell::draft::read::{Reader, Slot};
use crate::material::{Hosts, Ion};
use crate::quantity::problem::Problem;
use crate::quantity::units::{
    ArealMassDensity, ElectricPotential, Length, MassDensity, Ratio, SpecificCharge,
};
use std::sync::Arc;

/// One electrode of a sheet.
#[derive(Debug)]
pub(super) struct Coating {
    side: &'static str,
    foil: Slot<Length>,
    foil_density: Slot<MassDensity>,
    foil_material: Arc<str>,
    mix: Vec<(Used, Slot<f64>)>,
    /// Which component takes what the others leave.
    rest: usize,
    /// Hosts that the active part holds besides those of the mix, with their shares of it.
    silicon: Vec<(Used, Slot<f64>)>,
    /// What the mix is stated without, of what an ordinary one has.
    without: Option<&'static str>,
    read: Read,
    efficiency: Option<Slot<Ratio>>,
    uncoated_margin: Option<Slot<Length>>,
    fold_height: Slot<Length>,
    /// Strain of the coating with its host full, where it was given.
    strain: Option<Slot<Ratio>>,
    expansion_into_pores: Option<Slot<Ratio>>,
    /// Those with a half-cell curve.
    hosts: Hosts,
    pub(super) remarks: Vec<String>,
}

/// Which two of loading, thickness and porosity were read.
#[derive(Debug)]
enum Read {
    LoadingThickness(Slot<ArealMassDensity>, Slot<Length>),
    LoadingPorosity(Slot<ArealMassDensity>, Slot<Ratio>),
    ThicknessPorosity(Slot<Length>, Slot<Ratio>),
    /// Loading from the ratio to the other electrode's reversible areal capacity.
    RatioPorosity(Slot<Ratio>, Slot<Ratio>),
    RatioThickness(Slot<Ratio>, Slot<Length>),
    /// A metal: its foil, or none.
    Foil(Slot<Length>),
}

/// Layer of metal that stands for none where all of it is plated, m: a few atoms.
const NO_FOIL: f64 = 1e-9;
/// Hosts of a coating as a rule, at most: more of them are allocated for.
const FEW: usize = 8;
/// Pores of a metal foil, for rounding's sake.
const NO_PORES: f64 = 1e-9;

impl Coating {
    /// Height of the folded edge of its foil.
    pub(super) fn fold_height(&self) -> Slot<Length> {
        self.fold_height
    }

    /// What stands in the mix, then what the active part holds besides.
    fn components(&self) -> impl Iterator<Item = &Used> {
        self.mix.iter().chain(&self.silicon).map(|(used, _)| used)
    }

    /// The input that takes what the other shares leave, whatever is written in it.
    pub(super) fn gives_way(&self) -> Option<usize> {
        self.mix.get(self.rest).map(|(_, slot)| slot.number())
    }

    /// Cathode or anode.
    pub(super) fn side(&self) -> &'static str {
        self.side
    }

    /// What its mix is stated without, of what an ordinary one has.
    pub(super) fn without(&self) -> Option<&'static str> {
        self.without
    }

    /// The hosts of which it is known what they store.
    pub(super) fn ions(&self) -> impl Iterator<Item = (&str, Ion)> {
        self.components().filter_map(|used| Some((&*used.name, used.host.as_ref()?.ion?)))
    }

    /// The electrode or host whose initial coulombic efficiency is above one, and its value.
    pub(super) fn above_all(&self, r: &Reader) -> Option<(String, f64)> {
        let own = self.efficiency.map(|slot| (format!("the {}", self.side), r.shown(slot)));
        let hosts = self
            .components()
            .filter_map(|used| Some((used.name.to_string(), r.shown(used.host.as_ref()?.efficiency))));
        own.map_or_else(|| hosts.collect(), |own| vec![own]).into_iter().find(|(_, value)| *value > 1.0)
    }

    /// Without a nominal voltage every host needs a curve.
    pub(super) fn needs_curves(&self, r: &mut Reader) {
        for used in self.components() {
            if used.host.as_ref().is_some_and(|host| host.half.is_none()) {
                r.problems.push(Problem::new(
                    format!("{}.mix", self.side),
                    format!("\"{}\", for which there is no half-cell curve", used.name),
                    "a half-cell curve in the sheet's materials, or voltage.nominal in the place of curves",
                ));
            }
        }
    }

    /// The electrode at given values. `beyond` is how far the separator reaches past this coating; `other` is the
    /// cathode, for an anode known by its ratio to it. `former` is this electrode at other values, in the room of which it is put.
    pub(super) fn at(
        &self,
        v: &[f64],
        beyond: Length,
        other: Option<&Electrode>,
        former: Option<Electrode>,
    ) -> Electrode {
        let (foil_material, mix, potential) = match former {
            Some(former) => (former.foil_material, Some(former.mix), former.potential),
            None => (Arc::clone(&self.foil_material), None, None),
        };
        let mix = self.mix(v, mix);
        let per_density = mix.iter().map(|component| component.share / component.density.value).sum::<f64>();
        let solid_density =
            MassDensity::new::<uom::si::mass_density::kilogram_per_cubic_meter>(1.0 / per_density);
        // Summed over the hosts: what is reversible, what the first charge moves, and what stoichiometry 0 to 1 would.
        let [mut reversible, mut first, mut host] = [SpecificCharge::default(); 3];
        for (used, component) in self.components().zip(&*mix) {
            let Some(of) = &used.host else { continue };
            let own = of.capacity.of(v) * component.share;
            reversible += own;
            first += own / of.efficiency.of(v);
            host += own / of.half.as_ref().map_or(1.0, |half| half.curve.window().1 - half.curve.window().0);
        }
        let (loading, thickness) = self.loading_and_thickness(v, solid_density, reversible, other);
        let fold_height = self.fold_height.of(v);
        let uncoated_margin = match self.uncoated_margin {
            Some(slot) => slot.of(v),
            // A straight edge that ends at the top of its fold; without a fold the foil ends with its coating.
            None if fold_height.value > 0.0 => beyond + fold_height,
            None => Length::default(),
        };
        Electrode {
            foil: self.foil.of(v),
            foil_density: self.foil_density.of(v),
            foil_material,
            loading,
            thickness,
            solid_density,
            reversible,
            host,
            initial_coulombic_efficiency: self.efficiency.map_or(reversible / first, |slot| slot.of(v)),
            potential: self.potential(v, &mix, potential),
            mix,
            uncoated_margin,
            fold_height,
            bare_ends: BareEnds::default(),
            tortuosity: None,
        }
    }

    /// How this coating, an anode's, swells; nothing where that is not known.
    pub(super) fn swelling(&self, v: &[f64], electrode: &Electrode) -> Option<Swelling> {
        if let Some(strain) = self.strain {
            return Some(Swelling { strain: strain.of(v).value, silicon: None });
        }
        if let Read::Foil(_) = self.read {
            // Plated metal stands on what was there before, in a layer that is all its own.
            let host = self.components().find_map(|used| used.host.as_ref())?;
            let strain = host.expansion.as_ref()?.of(v, host.capacity.of(v));
            return Some(Swelling { strain, silicon: None });
        }
        let free = (1.0 - self.expansion_into_pores?.of(v).value) * (1.0 - electrode.porosity().value);
        let (mut growth, mut solid) = (0.0, 0.0);
        // Share, expansion and density of the host that swells most and of the largest other one.
        let (mut most, mut other): (Option<[f64; 3]>, Option<[f64; 3]>) = (None, None);
        for (used, component) in self.components().zip(electrode.mix.iter()) {
            let (share, density) = (component.share, component.density.value);
            solid += share / density;
            let Some(host) = &used.host else { continue };
            let window = host.half.as_ref().map_or(1.0, |half| half.curve.window().1 - half.curve.window().0);
            let expansion = host.expansion.as_ref()?.of(v, host.capacity.of(v) / window);
            growth += share * expansion / density;
            let mut this = Some([share, expansion, density]);
            if most.is_none_or(|[_, largest, _]| expansion > largest) {
                std::mem::swap(&mut most, &mut this);
            }
            if let Some(host) = this
                && other.is_none_or(|[largest, ..]| host[0] > largest)
            {
                other = Some(host);
            }
        }
        let silicon =
            most.zip(other).map(|([share, e_most, rho_most], [rest, e_other, rho_other])| Silicon {
                share,
                most: share + rest,
                free,
                growth: (growth, e_most / rho_most - e_other / rho_other),
                solid: (solid, 1.0 / rho_most - 1.0 / rho_other),
            });
        Some(Swelling { strain: free * growth / solid, silicon })
    }

    fn loading_and_thickness(
        &self,
        v: &[f64],
        solid: MassDensity,
        reversible: SpecificCharge,
        other: Option<&Electrode>,
    ) -> (ArealMassDensity, Length) {
        let dense =
            |porosity: Slot<Ratio>| solid * (Ratio::new::<uom::si::ratio::ratio>(1.0) - porosity.of(v));
        let by_ratio = |ratio: Slot<Ratio>| {
            let areal = other.map(|cathode| cathode.loading * cathode.reversible).unwrap_or_default();
            ratio.of(v) * areal / reversible
        };
        match self.read {
            Read::LoadingThickness(loading, thickness) => (loading.of(v), thickness.of(v)),
            Read::LoadingPorosity(loading, porosity) => (loading.of(v), loading.of(v) / dense(porosity)),
            Read::ThicknessPorosity(thickness, porosity) => {
                (thickness.of(v) * dense(porosity), thickness.of(v))
            }
            Read::RatioPorosity(ratio, porosity) => (by_ratio(ratio), by_ratio(ratio) / dense(porosity)),
            Read::RatioThickness(ratio, thickness) => (by_ratio(ratio), thickness.of(v)),
            Read::Foil(foil) => {
                let foil = foil.of(v).max(Length::new::<uom::si::length::meter>(NO_FOIL));
                (foil * solid * (1.0 - NO_PORES), foil)
            }
        }
    }

    /// What it is mixed from, in the room of a former mix where nobody else has that.
    fn mix(&self, v: &[f64], former: Option<Arc<[Component]>>) -> Arc<[Component]> {
        if let Some(mut mix) = former
            && let Some(components) = Arc::get_mut(&mut mix)
        {
            self.put_mix(v, components);
            return mix;
        }
        let new = |used: &Used| Component {
            name: Arc::clone(&used.name),
            share: 0.0,
            density: MassDensity::default(),
        };
        let mut mix: Arc<[Component]> = self.components().map(new).collect();
        if let Some(components) = Arc::get_mut(&mut mix) {
            self.put_mix(v, components);
        }
        mix
    }

    /// Shares and densities of the components; one of the mix takes what the others leave, so that they always add to one, and
    /// what the active part holds besides takes its share from each of the mix's hosts.
    fn put_mix(&self, v: &[f64], components: &mut [Component]) {
        for (component, (used, share)) in components.iter_mut().zip(self.mix.iter().chain(&self.silicon)) {
            (component.share, component.density) = (share.of(v), used.density.of(v));
        }
        let Some((mix, besides)) = components.split_at_mut_checked(self.mix.len()) else { return };
        let others: f64 =
            mix.iter().enumerate().filter(|(i, _)| *i != self.rest).map(|(_, other)| other.share).sum();
        if let Some(rest) = mix.get_mut(self.rest) {
            rest.share = 1.0 - others;
        }
        if besides.is_empty() {
            return;
        }
        let left = 1.0 - besides.iter().map(|component| component.share).sum::<f64>();
        let mut active = 0.0;
        for (component, _) in mix.iter_mut().zip(&self.mix).filter(|(_, (used, _))| used.host.is_some()) {
            active += component.share;
            component.share *= left;
        }
        for component in besides {
            component.share *= active;
        }
    }

    /// What holds lithium and has a curve.
    fn halves(&self) -> impl Iterator<Item = &HalfCell> {
        self.components().filter_map(|used| used.host.as_ref()?.half.as_ref())
    }

    /// Takes what another coating has too from there: for a coating with thousands of others beside it.
    pub(super) fn share(&mut self, other: &Self) {
        if self.hosts == other.hosts {
            self.hosts = other.hosts.clone();
        }
        for (used, _) in self.mix.iter_mut().chain(&mut self.silicon) {
            if let Some(half) = used.host.as_mut().and_then(|host| host.half.as_mut())
                && let Some(same) = other.halves().find(|theirs| theirs.curve == half.curve)
            {
                half.curve = same.curve.clone();
            }
        }
    }

    /// The potential that the hosts have together, by each one's share of the host capacity.
    ///
    /// # Formula
    /// As assembled a cathode holds `y₀ = Σ fⱼ·(y_low,ⱼ + (y_high,ⱼ − y_low,ⱼ)/ηⱼ)`: what its reversible window gave at
    /// first, over its initial coulombic efficiency; f are shares of host capacity, η the electrode's own where the sheet has
    /// it. An anode holds nothing, a metal all of itself. Errors of the hosts' potentials act in proportion to the charge that each moves over
    /// its window, which is right for the energy of the whole window.
    fn potential(&self, v: &[f64], mix: &[Component], former: Option<Potential>) -> Option<Potential> {
        let own = self.efficiency.map(|slot| slot.of(v).value);
        let count = self.hosts.curves().len();
        let (mut few, mut many) = ([0.0; FEW], Vec::new());
        let of_capacity = few.get_mut(..count).unwrap_or_else(|| {
            many.resize(count, 0.0);
            &mut many
        });
        let mut each = of_capacity.iter_mut();
        let (mut total, mut first, mut moved, mut shift, mut stretch) = (0.0, 0.0, 0.0, 0.0, 0.0);
        for (used, Component { share, .. }) in self.components().zip(mix) {
            let Some(host) = &used.host else { continue };
            let half = host.half.as_ref()?;
            let (low, high) = half.curve.window();
            let reversible = share * host.capacity.of(v).value;
            let full = reversible / (high - low);
            if let Some(slot) = each.next() {
                *slot = full;
            }
            total += full;
            let efficiency = own.unwrap_or_else(|| host.efficiency.of(v).value);
            first += full * low + reversible / efficiency;
            moved += reversible;
            shift += reversible * half.shift.of(v).value;
            stretch += reversible * half.extension.map_or(1.0, |slot| slot.of(v));
        }
        let blend = match (former, &*of_capacity) {
            // One host has its own curve whatever there is of it.
            (Some(former), [share]) if *share > 0.0 => former.curve,
            (_, shares) => self.hosts.blend(shares)?,
        };
        Some(Potential {
            curve: blend.stretched(stretch / moved),
            as_assembled: match (self.side, &self.read) {
                ("cathode", _) => first / total,
                (_, Read::Foil(_)) => 1.0,
                _ => 0.0,
            },
            shift: ElectricPotential::new::<uom::si::electric_potential::volt>(shift / moved),
        })
    }
}
