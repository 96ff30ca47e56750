//! What the cell gives under load.

use super::Path;
use super::areal::warmer;
use super::salt::Salt;
use crate::cell::balance::{Balance, Discharge, Lag};
use crate::cell::design::{Design, Electrochemical, Kinetics, Transport};
use crate::quantity::units::{
    ArealResistance, ElectricCharge, ElectricCurrent, ElectricPotential, Energy, Power,
};

/// Activation energy of diffusion in the particles, J/mol: 30 kJ/mol for graphite, 15 for NMC111 in example files of the open
/// exchange standard, read.
const IN_PARTICLES: f64 = 30e3;

/// Discharge at a constant current.
///
/// # Formula
/// `I` = rate × capacity at open circuit. The cell starts full, at rest, and its voltage is `U − I·R − η` throughout; it
/// ends where that falls to the lower limit, or where a curve ends before. Energy is `∫U dQ − (I·R + η)·Q` up to there. With a
/// nominal voltage in the place of the curves nothing says where the discharge would end, and all of the capacity is drawn that
/// the current reaches.
///
/// Where the resistance is worked out from the coatings, what builds up in the first minutes is in it, as if it stood from the
/// start: U is that of the particles' surfaces; salt that is missing at the cathode raises the resistance of its
/// pores, takes the voltage η, and lets the current reach the share δ of the cathode's depth, whose particles then carry all of
/// it. A stated resistance says nothing of these. The cell stays at its temperature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Load {
    /// The current.
    pub current: ElectricCurrent,
    /// By how much it lowers the voltage.
    pub drop: ElectricPotential,
    /// Share of the cathode's depth that the current reaches.
    pub reached: f64,
    /// The C-rate beyond which it is less than all, over that of the load; nothing where the resistance is stated.
    pub limit: Option<f64>,
    /// What is drawn before the discharge ends; nothing where the load is too heavy for a full cell.
    pub drawn: Option<Discharge>,
}

impl Load {
    /// A design at the rate that it states.
    pub fn of(design: &Design, balance: &Balance, path: &Path) -> Self {
        let b = design.blueprint();
        let current = balance.capacity * b.path.rate;
        let mut drop = current * path.total();
        let (mut behind, mut limit) = (Lag::NONE, None);
        if let (Electrochemical::Computed(kinetics), Some(areal)) = (&b.path.electrochemical, path.areal()) {
            let (inner, outer) = design.active_area();
            let density = current / (inner + outer);
            let salt = Salt::under(design, kinetics, density.value, b.path.temperature);
            // What the pores and the crowded particles resist besides what they do in a pulse.
            let more: ArealResistance = areal.anode_pores * (salt.pores[0] - 1.0)
                + areal.cathode_pores * (salt.reached * salt.pores[1] - 1.0)
                + areal.cathode_particles * (1.0 / salt.reached.max(f64::MIN_POSITIVE) - 1.0);
            drop += density * more
                + ElectricPotential::new::<uom::si::electric_potential::volt>(salt.overpotential);
            (behind, limit) = (lag(design, balance, kinetics, current, salt.reached), Some(salt.limit));
        }
        let drawn = balance.drawn(design, drop, &behind);
        Self { current, drop, reached: behind.reached, limit, drawn }
    }

    /// Capacity under load.
    pub fn capacity(&self) -> ElectricCharge {
        self.drawn.map_or_else(ElectricCharge::default, |drawn| drawn.capacity)
    }

    /// Energy that reaches the terminals.
    pub fn energy(&self) -> Energy {
        self.drawn.map_or_else(Energy::default, |drawn| drawn.energy - self.drop * drawn.capacity)
    }

    /// Heat in a resistance that carries the current: `I²·R`.
    pub fn heat(&self, resistance: crate::quantity::units::ElectricalResistance) -> Power {
        self.current * self.current * resistance
    }
}

/// By how much the stoichiometry at the surface of the particles is off their mean.
///
/// # Formula
/// `r²·(dθ/dt)/(15·D)` of a sphere of radius r with the diffusion coefficient D into which a constant flux goes, a while after
/// its start: the profile is a parabola over the radius, whose mean lies `j·r/(5·D)` off its surface at the flux j, and
/// `dθ/dt = 3·j/r` in parts of the host (Crank, The Mathematics of Diffusion, 2nd ed. (1975), equation 6.45; form from memory).
/// `dθ/dt = I/C` of a host of capacity C, of which the share that the current reaches takes part; D follows temperature by
/// Arrhenius' law. Plated metal has no inside.
fn lag(
    design: &Design,
    balance: &Balance,
    kinetics: &Kinetics,
    current: ElectricCurrent,
    reached: f64,
) -> Lag {
    let b = design.blueprint();
    let Some(windows) = &balance.windows else { return Lag { reached, ..Lag::NONE } };
    let seconds = |t: &Transport| {
        t.radius.value * t.radius.value / (15.0 * t.diffusion * warmer(IN_PARTICLES, b.path.temperature))
    };
    let per_second = |host: ElectricCharge| current.value / host.value;
    let anode =
        if b.anode.is_metal() { 0.0 } else { seconds(&kinetics.anode) * per_second(windows.anode_host) };
    let cathode =
        seconds(&kinetics.cathode) * per_second(windows.cathode_host * reached.max(f64::MIN_POSITIVE));
    Lag { cathode, anode, reached }
}

#[cfg(test)]
mod tests {
    use crate::cell::figures::Worked;
    use crate::test_support::draft;
    use approx::assert_relative_eq;
    use serde_json::json;

    /// A sphere in shells into which a constant flux goes, step by step: how far its surface is above its mean, in the steady
    /// state, over `r²·(dθ/dt)/D`.
    #[test]
    fn a_sphere_in_shells() {
        const SHELLS: usize = 60;
        let n = SHELLS as f64;
        let edge = |i: usize| i as f64 / n;
        let cube = |x: f64| x * x * x;
        let volume = |i: usize| (cube(edge(i + 1)) - cube(edge(i))) / 3.0;
        let mut c = [0.0; SHELLS];
        // r = D = 1 and dθ/dt = 1: the flux at the surface is 1/3.
        let (step, mut time) = (2e-5, 0.0);
        while time < 0.6 {
            let mut flows = [0.0; SHELLS + 1];
            for i in 1..SHELLS {
                flows[i] = edge(i) * edge(i) * (c[i] - c[i - 1]) * n;
            }
            flows[SHELLS] = 1.0 / 3.0;
            for i in 0..SHELLS {
                c[i] += step * (flows[i + 1] - flows[i]) / volume(i);
            }
            time += step;
        }
        let mean: f64 = (0..SHELLS).map(|i| 3.0 * volume(i) * c[i]).sum();
        let surface = c[SHELLS - 1] + 0.5 / n / 3.0;
        assert_relative_eq!(mean, time, max_relative = 1e-6);
        assert_relative_eq!(surface - mean, 1.0 / 15.0, max_relative = 0.01);
    }

    /// Straight curves, `U = 4.1 − slope·q` when full: lags move both by `I·t/C`, and the discharge ends so much earlier.
    #[test]
    fn lithium_left_in_the_particles() {
        let with = |radius: &str| {
            let draft = draft(&[
                ("current_path", json!({ "c_rate": "0.5 C", "charge_transfer": "0 Ω·cm²" })),
                ("cathode/particle_radius", json!(radius)),
                ("cathode/solid_diffusion", json!("1e-14 m2/s")),
                ("anode/particle_radius", json!("0.001 µm")),
            ]);
            Worked::at(&draft, &draft.values()).unwrap()
        };
        let (fine, coarse) = (with("0.001 µm"), with("6 µm"));
        let drawn = |w: &Worked| w.loaded().1.capacity().value;
        // 36e-12/(15·1e-14) s of the current.
        let left = drawn(&fine) - drawn(&coarse);
        let current = fine.loaded().1.current.value;
        assert_relative_eq!(current, coarse.loaded().1.current.value);
        assert!(left > 0.0 && left < 240.0 * current * 1.001, "{left} {}", 240.0 * current);
        assert!(coarse.loaded().1.energy() < fine.loaded().1.energy());
        assert_eq!(coarse.estimate, fine.estimate);
    }
}
