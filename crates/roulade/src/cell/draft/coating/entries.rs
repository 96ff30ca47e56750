//! The entries of an electrode, and what of it they leave to follow.

use super::{Coating, Read};
use crate::cell::draft::materials::Materials;
use crate::cell::draft::materials::used::Used;
use crate::cell::draft::read::{Name, Reader, Said, Slot};
use crate::material::Hosts;
use crate::material::Role;
use crate::quantity::problem::Problem;
use crate::quantity::units::{Length, Ratio};
use crate::sheet;
use crate::sheet::defaults::Default;
use crate::sheet::{Entry, REST, Sheet};
use roulade_stats::uncertain::Uncertain;

/// The keys that both electrodes have.
pub(super) struct Common<'a> {
    pub(super) side: &'static str,
    pub(super) role: Role,
    foil_metal: &'static str,
    pub(super) foil: Option<&'a sheet::Foil>,
    pub(super) mix: Option<&'a [sheet::Mixed]>,
    pub(super) loading: Option<&'a Entry>,
    pub(super) thickness: Option<&'a Entry>,
    pub(super) porosity: Option<&'a Entry>,
    pub(super) silicon: [(&'static str, &'static str, Option<&'a Entry>); 2],
    n_to_p: Option<&'a Entry>,
    pub(super) efficiency: Option<&'a Entry>,
    pub(super) uncoated_margin: Option<&'a Entry>,
    pub(super) fold_height: Option<&'a Entry>,
    pub(super) swelling: Option<&'a Entry>,
    pub(super) expansion_into_pores: Option<&'a Entry>,
}

impl Coating {
    pub(in crate::cell::draft) fn cathode(
        r: &mut Reader,
        materials: &mut Materials<'_>,
        sheet: &Sheet,
    ) -> Self {
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

    pub(in crate::cell::draft) fn anode(
        r: &mut Reader,
        materials: &mut Materials<'_>,
        sheet: &Sheet,
    ) -> Self {
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
}

impl Common<'_> {
    pub(super) fn read(self, r: &mut Reader, materials: &mut Materials<'_>) -> Coating {
        let side = self.side;
        let path = |what: &str| [side, ".", what].concat();
        let metal = self.foil.and_then(|foil| foil.material.as_deref()).unwrap_or(self.foil_metal);
        let foil =
            r.entry(path("foil.thickness").as_str(), self.foil.and_then(|foil| foil.thickness.as_ref()));
        let foil_density = materials.density(r, path("foil.material"), metal);
        let (mix, rest) = self.mix(r, materials);
        let without = self.without(&mix);
        let silicon = self.silicon(r, materials, &mix);
        let plated = mix.iter().chain(&silicon).any(|(used, _)| used.plates());
        if plated && mix.len() + silicon.len() > 1 {
            r.problems.push(Problem::new(
                path("mix"),
                "a metal beside other materials",
                "a metal that is plated to stand alone in its mix",
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
            without,
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
            self.agree(r, &mut coating);
        }
        coating
    }

    /// The anode's swelling: given, or from its hosts, where all of them say how they swell.
    pub(super) fn swelling(&self, r: &mut Reader, coating: &mut Coating) {
        if self.role != Role::Anode {
            return;
        }
        if self.swelling.is_some() && self.expansion_into_pores.is_some() {
            r.problems.push(Problem::new(
                "anode.expansion_into_pores",
                "a share of the pores beside the swelling",
                "the swelling alone, which already leaves out what the pores take up; leave this one out",
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
    pub(super) fn mix(
        &self,
        r: &mut Reader,
        materials: &mut Materials<'_>,
    ) -> (Vec<(Used, Slot<f64>)>, usize) {
        let place = format!("{}.mix", self.side);
        let listed = self.mix.unwrap_or(&[]);
        if listed.is_empty() {
            let example = if self.role == Role::Anode { "graphite" } else { "NMC811" };
            r.problems.push(Problem::new(
                &place,
                "nothing",
                format!("a list of the materials that the coating consists of, for example [{{\"material\": \"{example}\"}}]"),
            ));
        }
        let mut mix: Vec<(Used, Slot<f64>)> = Vec::new();
        let mut open = Vec::new();
        let before = r.problems.0.len();
        for (i, component) in listed.iter().enumerate() {
            let place = format!("{place}[{i}]");
            let Some(name) = component.material.as_deref().filter(|name| !name.trim().is_empty()) else {
                r.problems.push(Problem::new(
                    format!("{place}.material"),
                    "nothing",
                    "each component to name its material",
                ));
                continue;
            };
            let used = materials.component(r, format!("{place}.material"), name);
            let field = [self.side, ".mix[].share"].concat();
            let named = Name::item(&field, Some(i), &used.name);
            // As it is listed, so it may be written.
            let share =
                if let Some(entry) = component.share.as_ref().filter(|share| share.text().trim() != REST) {
                    r.entry(named, Some(entry))
                } else {
                    open.push(mix.len());
                    let rest = Default { text: REST, source: "what the other shares leave" };
                    r.filled_in(&named, Uncertain::exact(0.0), Said::Default(rest))
                };
            mix.push((used, share));
        }
        self.besides(r, materials, &open, &mut mix);
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
                    format!(
                        "a mix of the {} that has no other active material than {0} materials",
                        self.side
                    ),
                ));
            }
        }
        let rest = rest(r, &place, &mix, &open);
        (mix, rest)
    }

    /// Silicon and its oxide by their shares of the active part.
    pub(super) fn silicon(
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
                    "silicon to stand once, in the mix or as a share of the active material",
                ));
            }
            let used = materials.component(r, place.clone(), name);
            silicon.push((used, r.entry(Name::from(place.as_str()), Some(entry))));
        }
        // One share keeps to its bound.
        let all = if silicon.len() > 1 { silicon.as_slice() } else { &[] };
        let sum: f64 = all.iter().map(|(_, share)| r.value(*share)).sum();
        if sum >= 1.0 {
            r.problems.push(Problem::new(
                format!("{}.silicon", self.side),
                format!("silicon and its oxide with shares that add to {sum:.4}"),
                "fractions that leave a rest to the active materials of the mix",
            ));
        }
        silicon
    }

    /// The foil of a metal, which may be none.
    pub(super) fn foil(&self, r: &mut Reader) -> Read {
        let beside = [("loading", self.loading), ("porosity", self.porosity), ("n_to_p", self.n_to_p)];
        for (key, _) in beside.iter().filter(|(_, entry)| entry.is_some()) {
            r.problems.push(Problem::new(
                format!("{}.{key}", self.side),
                "an entry that a metal does not have",
                "only the thickness of the metal; leave this one out",
            ));
        }
        if self.thickness.is_none() {
            r.problems.push(Problem::new(
                format!("{}.thickness", self.side),
                "nothing",
                "the thickness of the metal on one side of the foil, for example \"20 µm\", or \"0 µm\" where all of it is plated on bare foil",
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
                "the loadings alone, from which the ratio follows; leave this one out",
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
    fn agree(&self, r: &mut Reader, coating: &mut Coating) {
        let side = self.side;
        let (Read::LoadingThickness(loading, thickness), Some(entry)) = (&coating.read, self.porosity) else {
            return;
        };
        let (loading, thickness) = (*loading, *thickness);
        let place = format!("{side}.porosity");
        let porosity: Slot<Ratio> = r.entry(place.as_str(), Some(entry));
        let stated = r.uncertain(porosity);
        r.all_decide();
        let values: Vec<f64> = r.inputs.iter().map(|input| input.uncertain.value).collect();
        let electrode = coating.at(&values, Length::default(), None, None);
        let derived = electrode.porosity().value;
        let relative = |uncertain: Uncertain| uncertain.u() / uncertain.value;
        let dense = 1.0 - derived;
        let square = |x: f64| x * x;
        let u_derived = dense
            * (square(relative(r.uncertain(loading))) + square(relative(r.uncertain(thickness)))).sqrt();
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
                "readings that agree, or a wider uncertainty on the one that is suspect",
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
pub(super) fn rest(r: &mut Reader, place: &str, mix: &[(Used, Slot<f64>)], open: &[usize]) -> usize {
    let sum: f64 = mix.iter().map(|(_, share)| r.value(*share)).sum();
    match open {
        [] => {
            if !mix.is_empty() && (sum - 1.0).abs() > 1e-6 {
                r.problems.push(Problem::new(
                    place,
                    format!("shares that add to {sum:.4}"),
                    "mass fractions that add to 1; one that is left out takes the rest",
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
                    "shares that leave a rest for the one that is left out",
                ));
            }
            *only
        }
        [first, ..] => {
            r.problems.push(Problem::new(
                place,
                format!("{} shares left out", open.len()),
                "at most one share to be left out",
            ));
            *first
        }
    }
}
