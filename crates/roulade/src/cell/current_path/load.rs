//! What the cell gives under load.

use super::Path;
use super::areal::warmer;
use super::salt::Salt;
use super::warming::{Body, Warming};
use crate::cell::balance::{Balance, Discharge, Lag};
use crate::cell::design::{Design, Electrochemical, Kinetics, Transport};
use crate::quantity::units::{
    ArealResistance, ElectricCharge, ElectricCurrent, ElectricPotential, ElectricalResistance, Energy, Power,
};

/// Activation energy of diffusion in the particles, J/mol: 30 kJ/mol for graphite, 15 for NMC111 in example files of the open
/// exchange standard, read.
pub(super) const IN_PARTICLES: f64 = 30e3;

/// By how much a kelvin lowers the heat of a discharge, about: for a guess from which the rise is worked out.
const LESS_FOR_EACH_KELVIN: f64 = 0.02;
/// How near a rise is to that which its heat makes, K and as a share.
const NEAR: (f64, f64) = (0.2, 0.1);
/// Of the anode's depth: what gives the current where it would reach no cathode.
const LEAST: f64 = 0.01;
/// How often an interval is halved that holds it.
const HALVINGS: u32 = 10;

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
/// it. A stated resistance says nothing of these.
///
/// `I·R + η`, and what the surfaces of the particles are off their inside times the mean slope of its curve, is heat. It warms
/// the cell, and all of the above is taken at the mean temperature of the discharge: too warm for its beginning, and too cold for
/// its end, which decides what is left. The reversible heat `−I·T·dU/dT`, which changes its sign within a discharge, is left out:
/// no curve of the table has a temperature coefficient. A stated resistance stays as stated but for that of metals.
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
    /// By how much the discharge warms the cell.
    pub warming: Warming,
}

impl Load {
    /// A design at the rate that it states; `path` is its way of the current at the stated temperature.
    ///
    /// # Formula
    /// The mean rise θ is that which the heat of the discharge at θ makes. A straight line through what the heat at none and at a
    /// first guess make, without working out where the discharge ends, comes within some per cent of it; where it does not, in a
    /// load that ends early, halving an interval does.
    pub fn of(design: &Design, balance: &Balance, path: &Path) -> Self {
        let body = Body::of(design);
        let under = Under {
            design,
            balance,
            body: &body,
            metal: path.metal(),
            slopes: slopes(design, balance),
            rise: rise(design, balance),
        };
        let guessed = under.guessed_rise();
        let load = under.at(guessed);
        let (mut low, mut high) = match load.warming.mean - guessed {
            off if off.abs() <= NEAR.0 + NEAR.1 * guessed => return load,
            off if off < 0.0 => (0.0, guessed),
            off => (guessed, guessed + 2.0 * off),
        };
        for _ in 0..HALVINGS {
            let middle = 0.5 * (low + high);
            if under.at(middle).warming.mean > middle { low = middle } else { high = middle }
        }
        under.at(0.5 * (low + high))
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
    pub fn heat(&self, resistance: ElectricalResistance) -> Power {
        self.current * self.current * resistance
    }
}

/// A design at the rate that it states, at one temperature or another.
struct Under<'a> {
    design: &'a Design,
    balance: &'a Balance,
    body: &'a Body,
    /// Resistance of the metals at the stated temperature.
    metal: ElectricalResistance,
    slopes: [f64; 2],
    /// Rise of the anode's potential in a whole discharge at the slope of its first half, V.
    rise: f64,
}

/// What a current does, before it is known where the discharge ends.
struct Resisted {
    drop: ElectricPotential,
    behind: Lag,
    limit: Option<f64>,
}

impl Under<'_> {
    fn current(&self) -> ElectricCurrent {
        self.balance.capacity * self.design.blueprint().path.rate
    }

    /// Without a path of its own: the metals are those of the stated temperature.
    fn guessed_rise(&self) -> f64 {
        let made = |rise: f64| {
            let celsius = self.design.blueprint().path.temperature + rise;
            let path = Path::coatings(self.design, celsius);
            let resisted = self.resisted(&path, self.metal + path.total(), celsius);
            self.warmed(&resisted, self.balance.capacity * resisted.behind.reached).mean
        };
        let first = made(0.0);
        if first <= 0.0 {
            return 0.0;
        }
        let guess = first / (1.0 + LESS_FOR_EACH_KELVIN * first);
        first / (1.0 - ((made(guess) - first) / guess).min(0.5))
    }

    /// So much warmer than stated.
    fn at(&self, rise: f64) -> Load {
        let celsius = self.design.blueprint().path.temperature + rise;
        let path = Path::at(self.design, celsius);
        let resisted = self.resisted(&path, path.total(), celsius);
        let Resisted { drop, behind, limit } = resisted;
        let drawn = self.balance.drawn(self.design, drop, &behind);
        let warming =
            self.warmed(&resisted, drawn.map_or_else(ElectricCharge::default, |drawn| drawn.capacity));
        Load { current: self.current(), drop, reached: behind.reached, limit, drawn, warming }
    }

    /// By what is drawn, and by what its voltage lies below that of a cell at rest.
    fn warmed(&self, resisted: &Resisted, drawn: ElectricCharge) -> Warming {
        let [cathode, anode] = self.slopes;
        let below = resisted.drop.value + cathode * resisted.behind.cathode + anode * resisted.behind.anode;
        self.body.warmed(drawn.value * below, (drawn / self.current()).value)
    }

    fn resisted(&self, path: &Path, total: ElectricalResistance, celsius: f64) -> Resisted {
        let (design, b) = (self.design, self.design.blueprint());
        let current = self.current();
        let mut drop = current * total;
        let (mut behind, mut limit) = (Lag::NONE, None);
        if let (Electrochemical::Computed(kinetics), Some(areal)) = (&b.path.electrochemical, path.areal()) {
            let (inner, outer) = design.active_area();
            let density = current / (inner + outer);
            let salt = Salt::under(design, kinetics, density.value, self.rise, celsius);
            // What the pores and the crowded particles resist besides what they do in a pulse.
            let more: ArealResistance = areal.anode_pores * (salt.anode * salt.pores[0] - 1.0)
                + areal.cathode_pores * (salt.reached * salt.pores[1] - 1.0)
                + areal.cathode_particles * (1.0 / salt.reached.max(f64::MIN_POSITIVE) - 1.0)
                + areal.anode_particles * (1.0 / salt.anode.max(LEAST) - 1.0);
            drop += density * more
                + ElectricPotential::new::<uom::si::electric_potential::volt>(salt.overpotential);
            behind = lag(design, self.balance, kinetics, (current, salt.reached), celsius);
            limit = Some(salt.limit);
        }
        Resisted { drop, behind, limit }
    }
}

/// By how many volts the potentials of cathode and anode change over what they take part in, for each unit of stoichiometry. The
/// anode's are those that the cell's limits leave it: at rest it is full at the upper, empty at the lower.
fn slopes(design: &Design, balance: &Balance) -> [f64; 2] {
    let b = design.blueprint();
    let (Some(w), Some(cathode)) = (&balance.windows, &b.cathode.potential) else { return [0.0; 2] };
    let (full, empty) = (cathode.at(w.cathode_charged), cathode.at(w.cathode_discharged));
    let by_anode = (b.window.upper - b.window.lower).value - (full - empty);
    [
        (full - empty) / (w.cathode_discharged - w.cathode_charged),
        by_anode.max(0.0) / (w.anode_charged - w.anode_discharged),
    ]
}

/// By how much the anode's potential would rise in a discharge of the whole capacity at the slope that it has over the first half,
/// V; without end where there is no curve, which nothing then keeps from giving evenly.
fn rise(design: &Design, balance: &Balance) -> f64 {
    let (Some(w), Some(anode)) = (&balance.windows, &design.blueprint().anode.potential) else {
        return f64::INFINITY;
    };
    let half = 0.5 * (w.anode_charged + w.anode_discharged);
    2.0 * (anode.at(half) - anode.at(w.anode_charged))
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
    (current, reached): (ElectricCurrent, f64),
    celsius: f64,
) -> Lag {
    let b = design.blueprint();
    let Some(windows) = &balance.windows else { return Lag { reached, ..Lag::NONE } };
    let seconds = |t: &Transport| {
        t.radius.value * t.radius.value / (15.0 * t.diffusion.value * warmer(IN_PARTICLES, celsius))
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
    use super::*;
    use crate::cell::figures::Worked;
    use crate::test_support::draft;
    use approx::assert_relative_eq;
    use proptest::prelude::*;
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

    fn warmed(rate: f64, cooling: f64, kelvin: f64) -> Worked {
        let draft = draft(&[(
            "current_path",
            json!({ "c_rate": format!("{rate} C"), "temperature": format!("{} °C", 25.0 + kelvin),
                "heat_transfer": format!("{cooling} W/m2/K"), "charge_transfer": "100 Ω·cm²" }),
        )]);
        Worked::at(&draft, &draft.values()).unwrap()
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]
        /// A rise is that at which its heat was worked out. It grows with the current and with what hinders heat from leaving, and
        /// is not above the adiabatic one.
        #[test]
        fn a_discharge_warms_its_cell(rate in 0.02..1.2_f64, more in 1.02..1.5_f64, cooling in 2.0..60.0_f64) {
            let w = warmed(rate, cooling, 0.0);
            let warming = w.loaded().1.warming;
            prop_assert!(warming.mean > 0.0 && warming.end > warming.mean);
            let body = Body::of(&w.design);
            let (design, balance) = (&w.design, &w.estimate.balance);
            let under = Under {
                design,
                balance,
                body: &body,
                metal: w.loaded().0.metal(),
                slopes: slopes(design, balance),
                rise: rise(design, balance),
            };
            let off = (under.at(warming.mean).warming.mean - warming.mean).abs();
            prop_assert!(off < 0.2 + 0.1 * warming.mean, "{off} of {}", warming.mean);
            let heavier = warmed(rate * more, cooling, 0.0).loaded().1.warming;
            let cooler = warmed(rate, cooling * more, 0.0).loaded().1.warming;
            prop_assert!(heavier.mean > warming.mean && heavier.end > warming.end, "{heavier:?} {warming:?}");
            prop_assert!(cooler.mean < warming.mean && cooler.end < warming.end, "{cooler:?} {warming:?}");
            // Both curves fall in straight lines, from 4.1 V: at rest the same charge gives so much more.
            let kept = warmed(rate, 0.0, 0.0);
            let (load, balance) = (&kept.loaded().1, &kept.estimate.balance);
            let (q, all) = (load.capacity().value, balance.capacity.value);
            let slope = 2.0 * (4.1 - balance.mean_voltage().value) / all;
            let heat = 4.1 * q - 0.5 * slope * q * q - load.energy().value;
            let adiabatic = heat / crate::cell::ledger::heat_capacity(&kept.design);
            prop_assert!((load.warming.end / adiabatic - 1.0).abs() < 0.01, "{load:?} {adiabatic}");
            prop_assert!(warming.end < adiabatic);
        }
    }

    /// A cell that warms itself gives no less than one that is held at its temperature, and no more than one held at the warmest.
    #[test]
    fn warmth_helps_a_load() {
        let cool = warmed(1.5, 1e6, 0.0);
        let own = warmed(1.5, 10.0, 0.0);
        let warm = warmed(1.5, 1e6, own.loaded().1.warming.end);
        let energies = [&cool, &own, &warm].map(|w| w.loaded().1.energy().value);
        assert!(energies[0] < energies[1] && energies[1] < energies[2], "{energies:?}");
        assert!(cool.loaded().1.warming.end < 0.01 && own.loaded().1.warming.mean > 1.0);
        // None at no current, in proportion to it.
        let slow = warmed(1e-3, 10.0, 0.0).loaded().1.warming;
        assert!(slow.end < 1e-3, "{slow:?}");
        assert_eq!(own.loaded().0, cool.loaded().0);
        assert_eq!(own.estimate, cool.estimate);
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
