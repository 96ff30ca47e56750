//! The blocks of the electrodes as the standard has them: coatings, porosities, hosts with their open-circuit potentials.

use super::block::Block;
use super::document::Written;
use crate::formula::Formula;
use crate::rows::POTENTIAL;
use roulade::material::{Curve, Material, find};
use roulade::quantity::problem::{Problem, Problems, shortened};
use roulade::quantity::units::Unit;
use roulade_stats::uncertain::Uncertain;
use serde_json::{Value, json};

/// Faraday's constant, C/mol; exact in the SI.
const FARADAY: f64 = 96_485.332_123_310_01;

/// An electrode: its block in a parameter set, its key in a sheet, and what stands in for what the standard does not say.
pub(super) struct Side {
    pub(super) block: &'static str,
    pub(super) key: &'static str,
    /// Whose density stands in for that of the host.
    host: &'static str,
    /// What the volume is that is neither host nor pores.
    binder: &'static str,
}

pub(super) const SIDES: [Side; 2] = [
    Side { block: "Positive electrode", key: "cathode", host: "NMC811", binder: "PVDF" },
    Side { block: "Negative electrode", key: "anode", host: "graphite", binder: "CMC" },
];

/// Steps of stoichiometry at which a formula is read.
const STEPS: usize = 200;
/// How far past its window a formula is followed, as long as it falls: cut-off voltages may lie there.
const PAST: f64 = 0.05;
/// Below this volume fraction what is neither host nor pores is the rounding of the two.
const ROUNDING: f64 = 1e-4;

/// One host as it is read.
struct Host {
    name: String,
    /// Share of the coating's volume.
    fraction: f64,
    density: f64,
}

impl Side {
    /// Takes the coating and its hosts.
    ///
    /// # Formula
    /// A host of spheres of radius R with the surface a in a unit of volume fills `ε = a·R/3` of it. It holds
    /// `c·F·(x₂ − x₁)/ρ` per mass between its stoichiometries, and the coating `t·ε·ρ` of it per area: the density ρ, of
    /// which the standard says nothing, cancels in every capacity and stays in masses alone. What is neither host nor pores
    /// is taken for binder.
    pub(super) fn take(&self, block: &Block<'_>, written: &mut Written, problems: &mut Problems) {
        if block.is_empty() {
            return;
        }
        let thickness = block.positive("Thickness [m]", problems);
        let porosity = block.share("Porosity", problems);
        let mut hosts = Vec::new();
        if block.has("Particle") {
            let particles = block.inner("Particle", problems);
            for name in particles.names() {
                let called = format!("{} active material, {}", self.word(), name.trim());
                let particle = particles.inner(name, problems);
                hosts.extend(self.host(&particle, called, written, problems));
                written.left.extend(particle.untaken());
            }
        } else {
            hosts.extend(self.host(block, format!("{} active material", self.word()), written, problems));
        }
        written.left.extend(block.untaken());
        let Some(thickness) = thickness else {
            problems.push(Problem::new(block.place("Thickness [m]"), "nothing", "the coating's thickness"));
            return;
        };
        let active: f64 = hosts.iter().map(|host| host.fraction).sum();
        let Some(binder) = find(self.binder) else { return };
        let rest = porosity.map_or(0.0, |porosity| 1.0 - porosity - active);
        if rest < -ROUNDING || hosts.is_empty() || active <= 0.0 {
            if !hosts.is_empty() {
                problems.push(Problem::new(
                    block.place("Porosity"),
                    format!("pores and active materials that fill {:.4} of the coating", 1.0 - rest),
                    "at most 1, the sum of porosity and of surface area per unit volume times particle radius over three",
                ));
            }
            return;
        }
        let binder_density = binder.density().value;
        let rest = if rest > ROUNDING { rest } else { 0.0 };
        let solid: f64 =
            hosts.iter().map(|host| host.fraction * host.density).sum::<f64>() + rest * binder_density;
        let loading = thickness * solid;
        for key in
            ["porosity", "n_to_p", "silicon", "silicon_oxide", "initial_coulombic_efficiency", "loading"]
        {
            written.drop(&format!("{}.{key}", self.key));
        }
        written.number(&format!("{}.thickness", self.key), &Uncertain::exact(thickness));
        written.number(&format!("{}.loading", self.key), &Uncertain::exact(loading));
        let share = |mass: f64| written.entry(&Uncertain::exact(mass / solid), Unit::Percent);
        let mut mix: Vec<Value> = hosts
            .iter()
            .skip(1)
            .map(|host| json!({ "material": host.name, "share": share(host.fraction * host.density) }))
            .collect();
        if rest > 0.0 {
            mix.push(json!({ "material": binder.name, "share": share(rest * binder_density) }));
        }
        // The first takes the rest.
        mix.splice(0..0, hosts.first().map(|host| json!({ "material": host.name })));
        written.set(&format!("{}.mix", self.key), Value::Array(mix));
    }

    fn word(&self) -> &'static str {
        if self.key == "cathode" { "positive" } else { "negative" }
    }

    /// A host: its figures stand in the sheet's own materials.
    fn host(
        &self,
        block: &Block<'_>,
        name: String,
        written: &mut Written,
        problems: &mut Problems,
    ) -> Option<Host> {
        let low = block.share("Minimum stoichiometry", problems);
        let high = block.share("Maximum stoichiometry", problems);
        let concentration = block.positive("Maximum concentration [mol.m-3]", problems);
        let radius = block.positive("Particle radius [m]", problems);
        let surface = block.positive("Surface area per unit volume [m-1]", problems);
        let potential = block.value(POTENTIAL);
        for (there, what) in [
            (low.is_some(), "Minimum stoichiometry"),
            (high.is_some(), "Maximum stoichiometry"),
            (concentration.is_some(), "Maximum concentration [mol.m-3]"),
            (radius.is_some(), "Particle radius [m]"),
            (surface.is_some(), "Surface area per unit volume [m-1]"),
            (potential.is_some(), POTENTIAL),
        ] {
            if !there && !block.has(what) {
                problems.push(Problem::new(
                    block.place(what),
                    "nothing",
                    "a value, as the standard asks for",
                ));
            }
        }
        let (low, high) = (low?, high?);
        if low >= high {
            let found = format!("stoichiometries from {low} to {high}");
            problems.push(Problem::new(
                block.place("Minimum stoichiometry"),
                found,
                "a stoichiometry that is less than the maximum",
            ));
            return None;
        }
        let points = match points(potential?, (low, high)) {
            Ok(points) => points,
            Err(problem) => {
                problems.push(problem.within(&block.place(POTENTIAL)));
                return None;
            }
        };
        let stand_in: &Material = find(self.host)?;
        let density = stand_in.density().value;
        let fraction = surface? * radius? / 3.0;
        let capacity = concentration? * FARADAY * (high - low) / density;
        written.material(json!({
            "name": name,
            "role": self.key,
            "density": {
                "value": roulade::sheet::write::number(&Uncertain::exact(density), Unit::GramPerCubicCentimetre),
                "from": "assumed",
                "remark": format!("that of {}: parameter sets have none; it counts for masses alone", stand_in.name),
            },
            "capacity": written.entry(&Uncertain::exact(capacity), Unit::MilliampereHourPerGram),
            "initial_coulombic_efficiency": {
                "value": "100 %",
                "from": "assumed",
                "remark": "stoichiometries of a parameter set are those of a cell that has been formed",
            },
            "curve": points,
            "window": [low, high],
        }));
        Some(Host { name, fraction, density })
    }
}

/// A potential as the points of a sheet: those of a table, or of a formula at even steps over the window and, while it falls,
/// a little past it.
fn points(potential: &Value, (low, high): (f64, f64)) -> Result<Vec<(f64, f64)>, Problem> {
    let points = match potential {
        Value::String(text) => {
            let formula = Formula::parse(text)?;
            let at = |x: f64| {
                let u = formula.at(x);
                if u.is_finite() {
                    Ok((x, u))
                } else {
                    let found = format!("a formula that has no value at x = {x}");
                    Err(Problem::new("", found, "a value at all stoichiometries between minimum and maximum"))
                }
            };
            let step = (high - low) / STEPS as f64;
            let inside = (0..=STEPS).map(|i| at(if i == STEPS { high } else { low + step * i as f64 }));
            let mut points = inside.collect::<Result<Vec<_>, _>>()?;
            let further = |x: f64, from: (f64, f64), falls: fn(f64, f64) -> bool| {
                at(x).ok().filter(|next| (0.0..=1.0).contains(&x) && falls(next.1, from.1))
            };
            let past = (1..).map(|i| f64::from(i) * step).take_while(|past| *past <= PAST);
            for past in past.clone() {
                let Some(last) = points.last().copied() else { break };
                match further(high + past, last, |next, last| next < last - 1e-6) {
                    Some(point) => points.push(point),
                    None => break,
                }
            }
            for past in past {
                let Some(first) = points.first().copied() else { break };
                match further(low - past, first, |next, first| next > first + 1e-6) {
                    Some(point) => points.insert(0, point),
                    None => break,
                }
            }
            points
        }
        Value::Object(_) => table(potential)?,
        other => {
            return Err(Problem::new(
                "",
                shortened(&other.to_string()),
                "a formula of x as a text, or a table {\"x\": […], \"y\": […]}",
            ));
        }
    };
    Curve::from_points_within(&points, (low, high)).map(|_| points)
}

/// A table of points: two lists of numbers of one length.
pub(super) fn table(value: &Value) -> Result<Vec<(f64, f64)>, Problem> {
    let list = |name: &str| {
        let numbers = value.get(name).and_then(Value::as_array);
        let numbers = numbers.and_then(|list| list.iter().map(Value::as_f64).collect::<Option<Vec<f64>>>());
        numbers.ok_or_else(|| {
            let found = value.get(name).map_or("nothing".to_owned(), |found| shortened(&found.to_string()));
            Problem::new(name, found, "a list of numbers")
        })
    };
    let (x, y) = (list("x")?, list("y")?);
    if x.len() != y.len() {
        let found = format!("{} and {} numbers", x.len(), y.len());
        return Err(Problem::new("", found, "as many y as x"));
    }
    Ok(x.into_iter().zip(y).collect())
}
