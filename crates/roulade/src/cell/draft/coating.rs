//! A coating: what it is mixed from, and loading, thickness and porosity, of which any two give the third.

use super::materials::{HalfCell, Materials, Used};
use crate::cell::design::{BareEnds, Component, Electrode, Potential};
use crate::cell::design::{Silicon, Swelling};
use crate::cell::draft::read::{Name, Reader, Said, Slot};
use crate::cell::population;
use crate::material::{Hosts, Ion, Role};
use crate::quantity::problem::Problem;
use crate::quantity::units::{
    ArealMassDensity, ElectricPotential, Length, MassDensity, Ratio, SpecificCharge,
};
use crate::sheet::defaults::Default;
use crate::sheet::{self, Entry, Sheet};
use roulade_stats::uncertain::Uncertain;
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
/// Pores of a metal foil, for rounding's sake.
const NO_PORES: f64 = 1e-9;

/// The keys that both electrodes have.
struct Common<'a> {
    side: &'static str,
    role: Role,
    foil_metal: &'static str,
    foil: Option<&'a sheet::Foil>,
    mix: Option<&'a [sheet::Mixed]>,
    loading: Option<&'a Entry>,
    thickness: Option<&'a Entry>,
    porosity: Option<&'a Entry>,
    silicon: [(&'static str, &'static str, Option<&'a Entry>); 2],
    n_to_p: Option<&'a Entry>,
    efficiency: Option<&'a Entry>,
    uncoated_margin: Option<&'a Entry>,
    fold_height: Option<&'a Entry>,
    swelling: Option<&'a Entry>,
    expansion_into_pores: Option<&'a Entry>,
}

impl Coating {
    /// Height of the folded edge of its foil.
    pub(super) fn fold_height(&self) -> Slot<Length> {
        self.fold_height
    }

    pub(super) fn cathode(r: &mut Reader, materials: &mut Materials<'_>, sheet: &Sheet) -> Self {
        let empty = sheet::Cathode::default();
        let c = sheet.cathode.as_ref().unwrap_or(&empty);
        Common {
            side: "cathode",
            role: Role::Cathode,
            foil_metal: "aluminium",
            foil: c.foil.as_ref(),
            mix: c.mix.as_deref(),
            loading: c.loading.as_ref(),
            thickness: c.thickness.as_ref(),
            porosity: c.porosity.as_ref(),
            silicon: [("silicon", "silicon", None), ("silicon_oxide", "silicon oxide", None)],
            n_to_p: None,
            efficiency: c.initial_coulombic_efficiency.as_ref(),
            uncoated_margin: c.uncoated_margin.as_ref(),
            fold_height: c.fold_height.as_ref(),
            swelling: None,
            expansion_into_pores: None,
        }
        .read(r, materials)
    }

    pub(super) fn anode(r: &mut Reader, materials: &mut Materials<'_>, sheet: &Sheet) -> Self {
        let empty = sheet::Anode::default();
        let a = sheet.anode.as_ref().unwrap_or(&empty);
        Common {
            side: "anode",
            role: Role::Anode,
            foil_metal: "copper",
            foil: a.foil.as_ref(),
            mix: a.mix.as_deref(),
            loading: a.loading.as_ref(),
            thickness: a.thickness.as_ref(),
            porosity: a.porosity.as_ref(),
            silicon: [
                ("silicon", "silicon", a.silicon.as_ref()),
                ("silicon_oxide", "silicon oxide", a.silicon_oxide.as_ref()),
            ],
            n_to_p: a.n_to_p.as_ref(),
            efficiency: a.initial_coulombic_efficiency.as_ref(),
            uncoated_margin: a.uncoated_margin.as_ref(),
            fold_height: a.fold_height.as_ref(),
            swelling: a.swelling.as_ref(),
            expansion_into_pores: a.expansion_into_pores.as_ref(),
        }
        .read(r, materials)
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

    /// The hosts of which it is known what they store.
    pub(super) fn ions(&self) -> impl Iterator<Item = (&str, Ion)> {
        self.components().filter_map(|used| Some((&*used.name, used.host.as_ref()?.ion?)))
    }

    /// The electrode or host whose initial coulombic efficiency is above one, and its value.
    pub(super) fn above_all(&self, r: &Reader) -> Option<(String, f64)> {
        let own = self.efficiency.map(|slot| (format!("the {}", self.side), r.value(slot)));
        let hosts = self
            .components()
            .filter_map(|used| Some((used.name.to_string(), r.value(used.host.as_ref()?.efficiency))));
        own.map_or_else(|| hosts.collect(), |own| vec![own]).into_iter().find(|(_, value)| *value > 1.0)
    }

    /// Without a nominal voltage every host needs a curve.
    pub(super) fn needs_curves(&self, r: &mut Reader) {
        for used in self.components() {
            if used.host.as_ref().is_some_and(|host| host.half.is_none()) {
                r.problems.push(Problem::new(
                    format!("{}.mix", self.side),
                    format!("{}, for which there is no half-cell curve", used.name),
                    "a curve in the sheet's materials, or voltage.nominal in the place of curves",
                ));
            }
        }
    }

    /// The electrode at given values. `beyond` is how far the separator reaches past this coating; `other` is the
    /// cathode, for an anode known by its ratio to it.
    pub(super) fn at(&self, v: &[f64], beyond: Length, other: Option<&Electrode>) -> Electrode {
        let shares = self.shares(v);
        let hosts = || self.components().zip(&shares).filter_map(|(used, w)| Some((used.host.as_ref()?, *w)));
        let per_density =
            self.components().zip(&shares).map(|(used, w)| w / used.density.of(v).value).sum::<f64>();
        let solid_density =
            MassDensity::new::<uom::si::mass_density::kilogram_per_cubic_meter>(1.0 / per_density);
        let reversible =
            hosts().fold(SpecificCharge::default(), |sum, (host, w)| sum + host.capacity.of(v) * w);
        // Share of the first charge that comes back: reversible over first, summed over the hosts.
        let first = hosts().fold(SpecificCharge::default(), |sum, (host, w)| {
            sum + host.capacity.of(v) * w / host.efficiency.of(v)
        });
        let full = |half: &HalfCell| {
            let (low, high) = half.curve.window();
            high - low
        };
        let host = hosts().fold(SpecificCharge::default(), |sum, (host, w)| {
            sum + host.capacity.of(v) * w / host.half.as_ref().map_or(1.0, full)
        });
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
            foil_material: Arc::clone(&self.foil_material),
            loading,
            thickness,
            solid_density,
            mix: self
                .components()
                .zip(&shares)
                .map(|(used, share)| Component {
                    name: Arc::clone(&used.name),
                    share: *share,
                    density: used.density.of(v),
                })
                .collect(),
            reversible,
            host,
            initial_coulombic_efficiency: self.efficiency.map_or(reversible / first, |slot| slot.of(v)),
            potential: self.potential(v, &shares),
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

    /// Shares of the components; one of the mix takes what the others leave, so that they always add to one, and what
    /// the active part holds besides takes its share from each of the mix's hosts.
    fn shares(&self, v: &[f64]) -> Vec<f64> {
        let mut shares: Vec<f64> = self.mix.iter().map(|(_, share)| share.of(v)).collect();
        let others: f64 = shares.iter().enumerate().filter(|(i, _)| *i != self.rest).map(|(_, w)| w).sum();
        if let Some(rest) = shares.get_mut(self.rest) {
            *rest = 1.0 - others;
        }
        if self.silicon.is_empty() {
            return shares;
        }
        let besides: Vec<f64> = self.silicon.iter().map(|(_, share)| share.of(v)).collect();
        let left = 1.0 - besides.iter().sum::<f64>();
        let mut active = 0.0;
        for (share, _) in shares.iter_mut().zip(&self.mix).filter(|(_, (used, _))| used.host.is_some()) {
            active += *share;
            *share *= left;
        }
        shares.extend(besides.iter().map(|share| share * active));
        shares
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
                && let Some(same) = other.halves().find(|known| known.curve == half.curve)
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
    fn potential(&self, v: &[f64], shares: &[f64]) -> Option<Potential> {
        let own = self.efficiency.map(|slot| slot.of(v).value);
        let mut of_capacity = Vec::with_capacity(shares.len());
        let (mut total, mut first, mut moved, mut shift, mut stretch) = (0.0, 0.0, 0.0, 0.0, 0.0);
        for (used, w) in self.components().zip(shares) {
            let Some(host) = &used.host else { continue };
            let half = host.half.as_ref()?;
            let (low, high) = half.curve.window();
            let reversible = w * host.capacity.of(v).value;
            let full = reversible / (high - low);
            of_capacity.push(full);
            total += full;
            let efficiency = own.unwrap_or_else(|| host.efficiency.of(v).value);
            first += full * low + reversible / efficiency;
            moved += reversible;
            shift += reversible * half.shift.of(v).value;
            stretch += reversible * half.extension.map_or(1.0, |slot| slot.of(v));
        }
        Some(Potential {
            curve: self.hosts.blend(&of_capacity)?.stretched(stretch / moved),
            as_assembled: match (self.side, &self.read) {
                ("cathode", _) => first / total,
                (_, Read::Foil(_)) => 1.0,
                _ => 0.0,
            },
            shift: ElectricPotential::new::<uom::si::electric_potential::volt>(shift / moved),
        })
    }
}

impl Common<'_> {
    fn read(self, r: &mut Reader, materials: &mut Materials<'_>) -> Coating {
        let side = self.side;
        let path = |what: &str| [side, ".", what].concat();
        let metal = self.foil.and_then(|foil| foil.material.as_deref()).unwrap_or(self.foil_metal);
        let foil =
            r.entry(path("foil.thickness").as_str(), self.foil.and_then(|foil| foil.thickness.as_ref()));
        let foil_density = materials.density(r, path("foil.material"), metal);
        let (mix, rest) = self.mix(r, materials);
        let silicon = self.silicon(r, materials, &mix);
        let plated = mix.iter().chain(&silicon).any(|(used, _)| used.plates());
        if plated && mix.len() + silicon.len() > 1 {
            r.problems.push(Problem::new(
                path("mix"),
                "a metal beside other materials",
                "a metal that is plated stands alone in its mix",
            ));
        }
        let mut coating = Coating {
            side,
            foil,
            foil_density,
            foil_material: metal.into(),
            mix,
            rest,
            silicon,
            read: if plated { self.foil(r) } else { self.two_of_three(r) },
            efficiency: r.optional(path("initial_coulombic_efficiency").as_str(), self.efficiency),
            uncoated_margin: r.optional(path("uncoated_margin").as_str(), self.uncoated_margin),
            fold_height: r.entry(path("fold_height").as_str(), self.fold_height),
            strain: None,
            expansion_into_pores: None,
            hosts: Hosts::default(),
            remarks: Vec::new(),
        };
        coating.hosts = Hosts::new(coating.halves().map(|half| half.curve.clone()).collect());
        self.swelling(r, &mut coating);
        if r.problems.0.is_empty() {
            let values: Vec<f64> = r.inputs.iter().map(|input| input.known.value).collect();
            self.agree(r, &mut coating, &values);
        }
        coating
    }

    /// The anode's swelling: given, or from its hosts, where all of them say how they swell.
    fn swelling(&self, r: &mut Reader, coating: &mut Coating) {
        if self.role != Role::Anode {
            return;
        }
        if self.swelling.is_some() && self.expansion_into_pores.is_some() {
            r.problems.push(Problem::new(
                "anode.expansion_into_pores",
                "a share of the pores beside the swelling",
                "the swelling says what the pores leave: leave it out",
            ));
        }
        coating.strain = r.optional("anode.swelling", self.swelling);
        let hosts = || coating.components().filter_map(|used| used.host.as_ref());
        if matches!(coating.read, Read::Foil(_)) {
            return;
        }
        if coating.strain.is_none() && hosts().all(|host| host.expansion.is_some()) {
            coating.expansion_into_pores =
                Some(r.entry("anode.expansion_into_pores", self.expansion_into_pores));
        }
    }

    /// Components, and the number of the one that takes the rest.
    fn mix(&self, r: &mut Reader, materials: &mut Materials<'_>) -> (Vec<(Used, Slot<f64>)>, usize) {
        let place = format!("{}.mix", self.side);
        let listed = self.mix.unwrap_or(&[]);
        if listed.is_empty() {
            r.problems.push(Problem::new(
                &place,
                "nothing",
                "what the coating is mixed from, for example [{\"material\": \"NMC811\"}]",
            ));
        }
        let mut mix: Vec<(Used, Slot<f64>)> = Vec::new();
        let mut open = Vec::new();
        let before = r.problems.0.len();
        for (i, component) in listed.iter().enumerate() {
            let place = format!("{place}[{i}]");
            let Some(name) = component.material.as_deref().filter(|name| !name.trim().is_empty()) else {
                r.problems.push(Problem::new(format!("{place}.material"), "nothing", "a material's name"));
                continue;
            };
            let used = materials.component(r, format!("{place}.material"), name);
            let field = [self.side, ".mix[].share"].concat();
            let named = Name::item(&field, Some(i), &used.name);
            let share = if let Some(entry) = &component.share {
                r.entry(named, Some(entry))
            } else {
                open.push(mix.len());
                let rest = Default { text: "the rest", source: "what the other shares leave" };
                r.filled_in(&named, Uncertain::exact(0.0), Said::Default(rest))
            };
            mix.push((used, share));
        }
        self.besides(r, materials, listed, &mut mix);
        // A component that is not understood may well have been the host.
        let understood = r.problems.0.len() == before;
        if understood
            && !mix.is_empty()
            && !mix.iter().any(|(used, _)| used.role == self.role && used.host.is_some())
        {
            r.problems.push(Problem::new(
                &place,
                "no active material",
                format!("at least one {} material", self.side),
            ));
        }
        for (used, _) in &mix {
            if used.host.is_some() && used.role != self.role {
                let found = format!("{}, which is no {} material", used.name, self.side);
                r.problems.push(Problem::new(
                    &place,
                    found,
                    format!("the {}'s mix holds no other active material than {0} materials", self.side),
                ));
            }
        }
        let rest = rest(r, &place, &mix, &open);
        (mix, rest)
    }

    /// What an ordinary mix holds besides, where the sheet names its active material alone and gives it no share.
    fn besides(
        &self,
        r: &mut Reader,
        materials: &mut Materials<'_>,
        listed: &[sheet::Mixed],
        mix: &mut Vec<(Used, Slot<f64>)>,
    ) {
        let ([only], [(host, _)]) = (listed, mix.as_slice()) else { return };
        // A material of the sheet's own may stand for a whole coating; a metal that is plated needs no binder.
        if only.share.is_some() || host.host.is_none() || host.plates() || !materials.is_of_table(&host.name)
        {
            return;
        }
        let field = [self.side, ".mix[].share"].concat();
        for row in population::BESIDES.iter().filter(|row| row.side == self.side) {
            let used = materials.component(r, format!("{}.mix", self.side), row.material);
            let known = row.share.known(&r.setting);
            let share = r.of_population(&Name::item(&field, None, row.material), known, row.share.source);
            mix.push((used, share));
        }
    }

    /// Silicon and its oxide by their shares of the active part.
    fn silicon(
        &self,
        r: &mut Reader,
        materials: &mut Materials<'_>,
        mix: &[(Used, Slot<f64>)],
    ) -> Vec<(Used, Slot<f64>)> {
        let mut silicon = Vec::new();
        for (key, name, entry) in self.silicon {
            let Some(entry) = entry else { continue };
            let place = format!("{}.{key}", self.side);
            let held = ["silicon", "silicon oxide", "graphite with silicon oxide"];
            let twice = mix.iter().find(|(used, _)| held.contains(&&*used.name));
            if let Some((twice, _)) = twice {
                r.problems.push(Problem::new(
                    &place,
                    format!("a share of {name} beside {} in the mix", twice.name),
                    "silicon stands once: in the mix, or as a share of the active part",
                ));
            }
            let used = materials.component(r, place.clone(), name);
            silicon.push((used, r.entry(Name::from(place.as_str()), Some(entry))));
        }
        let sum: f64 = silicon.iter().map(|(_, share)| r.value(*share)).sum();
        if silicon.len() > 1 && sum >= 1.0 {
            r.problems.push(Problem::new(
                format!("{}.silicon", self.side),
                format!("silicon and its oxide with shares that add to {sum:.4}"),
                "the two fractions leave a rest to the active materials of the mix",
            ));
        }
        silicon
    }

    /// The foil of a metal, which may be none.
    fn foil(&self, r: &mut Reader) -> Read {
        let beside = [("loading", self.loading), ("porosity", self.porosity), ("n_to_p", self.n_to_p)];
        for (key, _) in beside.iter().filter(|(_, entry)| entry.is_some()) {
            r.problems.push(Problem::new(
                format!("{}.{key}", self.side),
                "an entry that a metal has none of",
                "the thickness of the foil says all: leave it out",
            ));
        }
        if self.thickness.is_none() {
            r.problems.push(Problem::new(
                format!("{}.thickness", self.side),
                "nothing",
                "the thickness of the metal on one side of the foil, \"20 µm\"; \"0 µm\" where all of it is plated on bare foil",
            ));
        }
        Read::Foil(r.entry(
            format!("{}.thickness", self.side).as_str(),
            self.thickness.or(Some(&Entry::Text("0 µm".to_owned()))),
        ))
    }

    /// Any two of loading, thickness and porosity; defaults where fewer were read.
    fn two_of_three(&self, r: &mut Reader) -> Read {
        let side = self.side;
        let path = |what: &str| [side, ".", what].concat();
        let by_ratio = self.role == Role::Anode && self.loading.is_none();
        let (loading, thickness, porosity) = (path("loading"), path("thickness"), path("porosity"));
        if self.n_to_p.is_some()
            && (self.loading.is_some() || self.thickness.is_some() && self.porosity.is_some())
        {
            r.problems.push(Problem::new(
                "anode.n_to_p",
                "a ratio beside what the loading follows from",
                "the ratio follows from the loadings: leave it out",
            ));
        }
        match (self.loading, self.thickness, self.porosity) {
            (Some(l), Some(t), _) => Read::LoadingThickness(
                r.entry(loading.as_str(), Some(l)),
                r.entry(thickness.as_str(), Some(t)),
            ),
            (Some(l), None, p) => {
                Read::LoadingPorosity(r.entry(loading.as_str(), Some(l)), r.entry(porosity.as_str(), p))
            }
            (None, Some(t), None) if by_ratio && self.n_to_p.is_some() => Read::RatioThickness(
                r.entry("anode.n_to_p", self.n_to_p),
                r.entry(thickness.as_str(), Some(t)),
            ),
            (None, Some(t), p) => {
                Read::ThicknessPorosity(r.entry(thickness.as_str(), Some(t)), r.entry(porosity.as_str(), p))
            }
            (None, None, p) if by_ratio => {
                Read::RatioPorosity(r.entry("anode.n_to_p", self.n_to_p), r.entry(porosity.as_str(), p))
            }
            (None, None, p) => {
                Read::ThicknessPorosity(r.entry(thickness.as_str(), None), r.entry(porosity.as_str(), p))
            }
        }
    }

    /// Redundant readings must agree within what their uncertainties allow; they are not averaged here.
    fn agree(&self, r: &mut Reader, coating: &mut Coating, values: &[f64]) {
        let side = self.side;
        let (Read::LoadingThickness(loading, thickness), Some(entry)) = (&coating.read, self.porosity) else {
            return;
        };
        let (loading, thickness) = (*loading, *thickness);
        let place = format!("{side}.porosity");
        let porosity: Slot<Ratio> = r.entry(place.as_str(), Some(entry));
        let stated = r.known(porosity);
        let electrode = coating.at(values, Length::default(), None);
        let derived = electrode.porosity().value;
        let relative = |known: Uncertain| known.u() / known.value;
        let dense = 1.0 - derived;
        let square = |x: f64| x * x;
        let u_derived =
            dense * (square(relative(r.known(loading))) + square(relative(r.known(thickness)))).sqrt();
        // A reading without an uncertainty still has its last digit: half a per cent of pore volume.
        let u = (square(u_derived) + square(stated.u()) + square(0.005)).sqrt();
        let miss = (derived - stated.value).abs();
        if miss > 3.0 * u {
            r.problems.push(Problem::new(
                place,
                format!(
                    "{:.1} %, where loading and thickness of this mix leave {:.1} % (they differ by {:.1} standard uncertainties)",
                    100.0 * stated.value,
                    100.0 * derived,
                    miss / u
                ),
                "readings that agree, or a wider uncertainty on the one that is doubted",
            ));
        } else {
            coating.remarks.push(format!(
                "The {side}'s loading, thickness and porosity were all given; porosity {:.1} % follows from the first two, {:.1} % was read.",
                100.0 * derived,
                100.0 * stated.value
            ));
        }
    }
}

/// Shares add to one; a single open share takes the rest, otherwise the largest gives way when others are shifted.
fn rest(r: &mut Reader, place: &str, mix: &[(Used, Slot<f64>)], open: &[usize]) -> usize {
    let sum: f64 = mix.iter().map(|(_, share)| r.value(*share)).sum();
    match open {
        [] => {
            if !mix.is_empty() && (sum - 1.0).abs() > 1e-6 {
                r.problems.push(Problem::new(
                    place,
                    format!("shares that add to {sum:.4}"),
                    "mass fractions add to 1; leave one share out and it takes the rest",
                ));
            }
            let largest =
                mix.iter().enumerate().max_by(|(_, (_, a)), (_, (_, b))| r.value(*a).total_cmp(&r.value(*b)));
            largest.map_or(0, |(i, _)| i)
        }
        [only] => {
            if sum >= 1.0 {
                r.problems.push(Problem::new(
                    place,
                    format!("shares that add to {sum:.4}, with one more left to fill in"),
                    "the shares given leave a rest",
                ));
            }
            *only
        }
        [first, ..] => {
            r.problems.push(Problem::new(
                place,
                format!("{} shares left out", open.len()),
                "at most one share may be left out",
            ));
            *first
        }
    }
}
