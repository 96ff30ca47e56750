//! A discharge stepped through a cell in slices, for the tests of what stands in closed form.
//!
//! Ions in concentrated solution between porous electrodes (Doyle, Fuller, Newman, J. Electrochem. Soc. 140 (1993) 1526, doi
//! 10.1149/1.2221597; Newman, Thomas-Alyea, Electrochemical Systems, 3rd ed. (2004), chapter 22; both from memory), with one D and t₊:
//! `∂(ε·c)/∂t = ∂/∂x(D/H·∂c/∂x) + (1 − t₊)·j/F`,
//! `i = −κ(c)/H·(∂φ/∂x − 2·R·T/F·(1 − t₊)·∂ln c/∂x)`, `∂i/∂x = j`. At the particles of each slice
//! `j·ρ = φₛ − φ − U(θ)`, where θ is off its mean by `r²·(dθ/dt)/(15·D)`. The solid conducts without loss.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::print_stdout,
    clippy::too_many_lines,
    clippy::needless_range_loop,
    clippy::missing_panics_doc,
    reason = "for tests alone"
)]

use super::areal::{Areal, FARADAY, GAS, IONS, hindrance, warmer};
use super::load::IN_PARTICLES;
use super::salt::{at_rest, conducts};
use crate::cell::balance::Balance;
use crate::cell::design::{Blueprint, Design, Electrochemical, Electrode, Potential, Transport};
use roulade_stats::maths::ln;

/// Slices of each layer.
const SLICES: usize = 16;
const ALL: usize = 3 * SLICES;
/// Concentration over that at rest below which the pores no longer conduct better or worse.
const LEAST: f64 = 1e-4;

/// What came of it.
#[derive(Clone, Debug)]
pub(crate) struct Discharged {
    /// C.
    pub capacity: f64,
    /// J.
    pub energy: f64,
    /// Concentrations, over that at rest, at the end.
    pub salt: Vec<f64>,
    /// Stoichiometries at the end.
    pub filled: Vec<f64>,
}

/// One slice for each area.
#[derive(Clone, Copy, Default)]
struct Slice {
    width: f64,
    porosity: f64,
    hindered: f64,
    /// Ω·m² at its particles; nothing in the separator.
    surface: f64,
    /// C/m² of a stoichiometry.
    host: f64,
    /// Seconds by which the particles' surface is ahead.
    ahead: f64,
}

/// Potential with a steep fall past the ends of its curve, and its slope.
fn potential(of: &Potential, x: f64) -> (f64, f64) {
    const PAST: f64 = 30.0;
    let (low, high) = of.curve.reach();
    let past = |x: f64| PAST * ((low - x).max(0.0) - (x - high).max(0.0));
    let at = |x: f64| of.at(x) + past(x);
    (at(x), ((at(x + 1e-5) - at(x - 1e-5)) / 2e-5).min(-1e-3))
}

/// Solves a system of three diagonals, each `[below, at, above]`, for its right-hand side.
fn tridiagonal(rows: &[[f64; 3]], right: &[f64]) -> Vec<f64> {
    let n = rows.len();
    let (mut upper, mut x) = (vec![0.0; n], right.to_vec());
    let mut at = rows[0][1];
    x[0] /= at;
    for k in 1..n {
        upper[k] = rows[k - 1][2] / at;
        at = rows[k][1] - rows[k][0] * upper[k];
        x[k] = (x[k] - rows[k][0] * x[k - 1]) / at;
    }
    for k in (1..n).rev() {
        x[k - 1] -= upper[k] * x[k];
    }
    x
}

/// A design discharged at a multiple of its capacity per hour, kept at a temperature, through `metal` Ω, from what it balances to.
pub(crate) fn discharge(
    design: &Design,
    balance: &Balance,
    (rate, celsius, metal): (f64, f64, f64),
) -> Discharged {
    let b: &Blueprint = design.blueprint();
    let Electrochemical::Computed(kinetics) = b.path.electrochemical else { panic!("a stated resistance") };
    let windows = balance.windows.as_ref().unwrap();
    let (inner, outer) = design.active_area();
    let area = (inner + outer).value;
    let current = balance.capacity.value * rate / 3600.0 / area;
    let rest = at_rest(b);
    let spread = kinetics.salt_diffusion.value * warmer(IONS, celsius);
    let conductivity = |share: f64| {
        let at = |share: f64| conducts(1e-3 * rest * share) / conducts(1e-3 * rest);
        kinetics.conductivity.value
            * warmer(IONS, celsius)
            * if share < 0.02 { at(0.02) * share / 0.02 } else { at(share.min(3.0)) }
    };
    let thermal = 2.0 * GAS * (celsius + 273.15) / FARADAY * (1.0 - kinetics.transference);
    let areal = Areal::of(design, &kinetics, celsius);

    let n = SLICES as f64;
    let coating = |e: &Electrode, t: &Transport, surface: f64, host: f64| Slice {
        width: e.thickness.value / n,
        porosity: e.porosity().value,
        hindered: hindrance(e.porosity().value, e.tortuosity, t.exponent),
        surface: surface * n,
        host: host / area / n,
        ahead: t.radius.value * t.radius.value / (15.0 * t.diffusion.value * warmer(IN_PARTICLES, celsius)),
    };
    let mut slices = [Slice::default(); ALL];
    slices[..SLICES].fill(coating(
        &b.anode,
        &kinetics.anode,
        areal.anode_particles.value,
        windows.anode_host.value,
    ));
    let film = b.separator.film.value + b.separator.ceramic.value;
    let pores = b.separator.film.value * b.separator.porosity.value
        + b.separator.ceramic.value * b.separator.ceramic_porosity.value;
    slices[SLICES..2 * SLICES].fill(Slice {
        width: film / n,
        porosity: pores / film,
        hindered: super::areal::through(&b.separator, &kinetics) / film,
        ..Slice::default()
    });
    slices[2 * SLICES..].fill(coating(
        &b.cathode,
        &kinetics.cathode,
        areal.cathode_particles.value,
        windows.cathode_host.value,
    ));
    // Between the middles of a slice and the next.
    let between = |k: usize| {
        0.5 * (slices[k].width * slices[k].hindered + slices[k + 1].width * slices[k + 1].hindered)
    };

    let (anode, cathode) = (b.anode.potential.as_ref().unwrap(), b.cathode.potential.as_ref().unwrap());
    let mut filled = vec![0.0; ALL];
    filled[..SLICES].fill(windows.anode_charged);
    filled[2 * SLICES..].fill(windows.cathode_charged);
    let mut salt = vec![1.0_f64; ALL];
    let mut entering = vec![0.0; ALL];
    let (mut capacity, mut energy, mut last) = (0.0, 0.0, f64::NAN);
    let step = 1.0 / rate;
    for _ in 0..20_000 {
        let mut new: Vec<f64> = salt.clone();
        let mut voltage = 0.0;
        for _ in 0..4 {
            // Ohm's and Kirchhoff's laws: potentials in the pores, for a cell at 0 V and what a volt changes.
            let mut rows = vec![[0.0; 3]; ALL];
            let (mut right, mut by_volt) = (vec![0.0; ALL], vec![0.0; ALL]);
            let mut taken = vec![[0.0; 2]; ALL];
            let link: Vec<[f64; 2]> = (0..ALL - 1)
                .map(|k| {
                    let (here, next) = (new[k].max(LEAST), new[k + 1].max(LEAST));
                    let conducts = conductivity(0.5 * (here + next)) / between(k);
                    [conducts, conducts * thermal * ln(here / next)]
                })
                .collect();
            for k in 0..ALL {
                if k > 0 {
                    let [conducts, driven] = link[k - 1];
                    rows[k][0] -= conducts;
                    rows[k][1] += conducts;
                    right[k] -= driven;
                }
                if k < ALL - 1 {
                    let [conducts, driven] = link[k];
                    rows[k][2] -= conducts;
                    rows[k][1] += conducts;
                    right[k] += driven;
                }
                let s = &slices[k];
                if s.host > 0.0 {
                    let of_anode = k < SLICES;
                    // Discharge: j into the pores from the anode, negative into them in the cathode, each θ falling by j.
                    let seconds = (step + s.ahead) / s.host;
                    let (u, slope) =
                        potential(if of_anode { anode } else { cathode }, filled[k] - entering[k] * seconds);
                    let resists = s.surface - slope * seconds;
                    // j = (φₛ − φ − u − slope·seconds·(j_old))/resists
                    let open = u + slope * seconds * entering[k];
                    rows[k][1] += 1.0 / resists;
                    right[k] -= open / resists;
                    by_volt[k] = if of_anode { 0.0 } else { 1.0 / resists };
                    taken[k] = [open, 1.0 / resists];
                }
            }
            let (at_none, by_volt) = (tridiagonal(&rows, &right), tridiagonal(&rows, &by_volt));
            let given = |k: usize, volts: f64| {
                let [open, conducts] = taken[k];
                let solid = if k < SLICES { 0.0 } else { volts };
                conducts * (solid - at_none[k] - volts * by_volt[k] - open)
            };
            let sum = |volts: f64| (0..SLICES).map(|k| given(k, volts)).sum::<f64>();
            let (none, one) = (sum(0.0), sum(1.0));
            voltage = (current - none) / (one - none);
            entering = (0..ALL).map(|k| given(k, voltage)).collect();
            // Salt.
            let mut rows = vec![[0.0; 3]; ALL];
            let mut right = vec![0.0; ALL];
            for k in 0..ALL {
                let s = &slices[k];
                let holds = s.porosity * s.width / step;
                rows[k][1] += holds;
                right[k] = holds * salt[k] + (1.0 - kinetics.transference) * entering[k] / FARADAY / rest;
                for (other, place) in [(k.wrapping_sub(1), 0), (k + 1, 2)] {
                    if other < ALL {
                        let passes = spread / between(k.min(other));
                        rows[k][place] -= passes;
                        rows[k][1] += passes;
                    }
                }
            }
            new = tridiagonal(&rows, &right);
        }
        salt = new;
        for k in 0..ALL {
            if slices[k].host > 0.0 {
                filled[k] -= entering[k] * step / slices[k].host;
            }
        }
        voltage -= current * area * metal;
        let charge = current * area * step;
        let end = b.window.lower.value;
        if voltage.is_nan() || voltage <= end {
            // Part of the last step.
            let part = if last > end { (last - end) / (last - voltage) } else { 0.0 };
            capacity += part * charge;
            energy += part * charge * 0.5 * (last + end).max(0.0);
            break;
        }
        capacity += charge;
        energy += charge * if last.is_nan() { voltage } else { 0.5 * (voltage + last) };
        last = voltage;
    }
    Discharged { capacity, energy, salt, filled }
}

mod tests {
    use super::*;
    use crate::cell::draft::Draft;
    use crate::cell::figures::Worked;
    use serde_json::json;

    /// NMC811 and graphite at a rate, kept at 25 °C, exponents of the tortuosity of cathode and anode.
    fn cell(purpose: &str, exponents: [f64; 2], rate: f64) -> Worked {
        let [cathode, anode] = exponents.map(|exponent| exponent.to_string());
        let sheet = json!({
            "can": { "diameter": "21 mm", "height": "70 mm" }, "purpose": purpose,
            "cathode": { "tortuosity_exponent": cathode, "mix": [{ "material": "NMC811" },
                { "material": "carbon black", "share": "2 %" }, { "material": "PVDF", "share": "2 %" }] },
            "anode": { "tortuosity_exponent": anode, "mix": [{ "material": "graphite" },
                { "material": "CMC", "share": "1.5 %" }, { "material": "SBR", "share": "1.5 %" }] },
            "current_path": { "c_rate": format!("{rate} C"), "temperature": "25 °C", "heat_transfer": "100000 W/m²/K" },
        });
        let draft = Draft::parse(&sheet.to_string()).unwrap_or_else(|problems| panic!("{problems}"));
        Worked::at(&draft, &draft.values()).unwrap()
    }

    /// Shares of the capacity at rest: in closed form, stepped; and the rate over the limiting one.
    fn shares(purpose: &str, exponents: [f64; 2], rate: f64) -> [f64; 3] {
        let w = cell(purpose, exponents, rate);
        let (path, load) = w.loaded();
        let all = w.estimate.balance.capacity.value;
        let stepped = discharge(&w.design, &w.estimate.balance, (rate, 25.0, path.metal().value));
        // As much salt as there was.
        let mean = stepped.salt.iter().sum::<f64>() / stepped.salt.len() as f64;
        assert!(stepped.filled.len() == ALL && mean > 0.3, "{mean}");
        let energies = load.energy().value / stepped.energy;
        let found = [load.capacity().value / all, stepped.capacity / all, 1.0 / load.limit.unwrap()];
        println!(
            "{purpose} {exponents:?} {rate}C: {found:.3?}, reached {:.3}, energy by {energies:.3}",
            load.reached
        );
        found
    }

    /// Up to nine tenths of the limiting current little is off; at it the current, which enters evenly in closed form, has gone
    /// deeper as the front filled, and past it the anode gives from its separator's side. It falls with the rate, without a cliff.
    #[test]
    fn what_a_cell_gives_against_one_that_was_stepped() {
        let mut worst = [0.0_f64; 3];
        for purpose in ["energy", "middle", "power"] {
            for exponents in [[0.5, 0.5], [0.9, 1.1]] {
                let mut last = 1.0;
                for rate in [0.2, 1.0, 1.5, 2.0, 3.0] {
                    let [closed, stepped, past] = shares(purpose, exponents, rate);
                    let off = (closed - stepped).abs();
                    let place = if past < 0.9 { 0 } else { usize::from(past > 2.0) + 1 };
                    worst[place] = worst[place].max(off);
                    assert!(closed > 0.0 && closed < last, "{purpose} {exponents:?} {rate}");
                    last = closed;
                }
            }
        }
        println!("worst: {worst:.3?}");
        assert!(worst[0] < 0.01 && worst[1] < 0.055 && worst[2] < 0.04, "{worst:?}");
    }
}
