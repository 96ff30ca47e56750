//! Resistance as a bench reads it: at 1 kHz, and by the step of the voltage a while into a pulse.

use super::areal::{IONS, hindrance, warmer};
use super::{Areal, Path};
use crate::cell::balance::Balance;
use crate::cell::design::{Design, Electrochemical, Electrode, Kinetics, Transport};
use crate::quantity::units::ElectricCharge;
use roulade_stats::maths::{cos, exp, ln, sin, sinh};
use roulade_stats::uncertain::Uncertain;
use std::f64::consts::PI;

/// Capacity of the double layer on a unit of the particles' surface, F/m²: 5 to 20 µF/cm² in textbooks, from memory.
const DOUBLE_LAYER: f64 = 0.1;
/// Standard uncertainty of the model at 1 kHz, as a share of what is not metal: the double layer is known to a factor of two,
/// tortuosity from porosity alone is not better. Judgement, no source.
const AT_1_KHZ: f64 = 0.2;
/// The same of a pulse of ten seconds at half charge. Judgement, no source.
const PULSE: f64 = 0.2;
/// The pulse that stands behind it, s.
const TEN_SECONDS: f64 = 10.0;
/// So much more for each power of ten that a pulse is longer or shorter: diffusion in the particles is not in the model.
const PER_DECADE: f64 = 0.1;
/// So much more outside of 20 to 80 % of charge, where charge transfer and diffusion change. Judgement, no source.
const AT_THE_ENDS: f64 = 0.3;

/// How a pulse is read.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Pulse {
    /// How long after the step the voltage is read, s; ten seconds where not said.
    pub seconds: Option<f64>,
    /// State of charge, a share of the capacity; half where not said.
    pub share: Option<f64>,
    /// Temperature, °C; that of the design where not said.
    pub celsius: Option<f64>,
}

/// Resistance at 1 kHz, Ω, with what the model is off by; nothing where the design states the resistance of its coatings,
/// which says nothing of its parts.
///
/// # Formula
/// Metals, separator, and ions in the pores of both coatings, whose current charges the double layer there: no charge is
/// transferred. A coating of thickness t whose pores have the resistivity `ρ = τ/(κ·ε)` and whose particles have the surface a
/// and the double layer C takes the real part of de Levie's line, `ρ·t·(sinh x − sin x)/(x·(cosh x − cos x))` with
/// `x = t·√(2·ω·ρ·a·C)` and ω = 2π·1000/s: `ρ·t/3` where it is thin, less where the current no longer reaches its depth
/// (de Levie, Electrochim. Acta 8 (1963) 751, doi 10.1016/0013-4686(63)80042-0; the form from memory).
pub(crate) fn at_one_kilohertz(design: &Design, celsius: Option<f64>) -> Option<Uncertain> {
    let b = design.blueprint();
    let Electrochemical::Computed(kinetics) = b.path.electrochemical else { return None };
    let celsius = celsius.unwrap_or(b.path.temperature);
    let path = Path::at(design, celsius);
    let (inner, outer) = design.active_area();
    let pores = pores(&b.anode, (&kinetics, &kinetics.anode), celsius)
        + pores(&b.cathode, (&kinetics, &kinetics.cathode), celsius);
    let liquid = (Areal::of(design, &kinetics, celsius).separator.value + pores) / (inner + outer).value;
    Some(Uncertain::standard(path.metal().value + liquid, AT_1_KHZ * liquid))
}

fn pores(electrode: &Electrode, (kinetics, transport): (&Kinetics, &Transport), celsius: f64) -> f64 {
    if electrode.is_metal() {
        return 0.0;
    }
    let (t, porosity) = (electrode.thickness.value, electrode.porosity().value);
    let rho = hindrance(porosity, electrode.tortuosity, transport.exponent)
        / (kinetics.conductivity.value * warmer(IONS, celsius));
    let surface = 3.0 * (1.0 - porosity) / super::areal::PARTICLE;
    let omega = 2.0 * PI * 1000.0;
    rho * t * line((2.0 * omega * rho * surface * DOUBLE_LAYER).sqrt() * t)
}

/// `(sinh x − sin x)/(x·(cosh x − cos x))`: 1/3 at nothing, 1/x far out.
fn line(x: f64) -> f64 {
    if x < 1e-2 {
        return 1.0 / 3.0;
    }
    if x > 40.0 {
        return 1.0 / x;
    }
    let cosh = 0.5 * (exp(x) + exp(-x));
    (sinh(x) - sin(x)) / (x * (cosh - cos(x)))
}

/// Resistance by a discharge pulse, Ω, with what the model is off by.
///
/// # Formula
/// That of the whole path at the pulse's temperature, and `τ·(−dU/dQ)` besides: in τ seconds a current I draws I·τ, by which
/// the open-circuit voltage falls at that state of charge. Diffusion in the particles is not in it.
pub(crate) fn by_pulse(design: &Design, balance: &Balance, pulse: &Pulse) -> Option<Uncertain> {
    let celsius = pulse.celsius.unwrap_or(design.blueprint().path.temperature);
    let seconds = pulse.seconds.unwrap_or(TEN_SECONDS);
    let share = pulse.share.unwrap_or(0.5);
    let path = Path::at(design, celsius);
    // A nominal voltage does not fall.
    let falls = if balance.windows.is_some() { seconds * slope(design, balance, share)? } else { 0.0 };
    let decades = ln(seconds / TEN_SECONDS).abs() / ln(10.0);
    let ends = if (0.2..=0.8).contains(&share) { 0.0 } else { AT_THE_ENDS };
    let model = PULSE + PER_DECADE * decades + ends;
    let value = path.total().value + falls;
    Some(Uncertain::standard(value, model * path.electrochemical().value))
}

/// By how many volts the open-circuit voltage falls for each coulomb drawn at a state of charge, over 2 % of the capacity.
fn slope(design: &Design, balance: &Balance, share: f64) -> Option<f64> {
    const HALF: f64 = 0.01;
    let at = |share: f64| balance.voltage_after(design, balance.capacity * (1.0 - share));
    let (above, below) = ((share + HALF).min(1.0), (share - HALF).max(0.0));
    let drawn: ElectricCharge = balance.capacity * (above - below);
    Some(((at(above)? - at(below)?) / drawn).value.max(0.0))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cell::figures::Worked;
    use crate::test_support::draft;
    use approx::assert_relative_eq;
    use serde_json::{Value, json};

    fn worked(changes: &[(&str, Value)]) -> Worked {
        let path = json!({ "charge_transfer": "200 Ω·cm²", "temperature": "25 °C" });
        let all =
            [&[("current_path", path), ("electrolyte/conductivity", json!("10 mS/cm"))], changes].concat();
        let draft = draft(&all);
        Worked::at(&draft, &draft.values()).unwrap()
    }

    /// The line against the sum of its parts: a ladder of resistors and capacitors, from its far end.
    #[test]
    fn a_line_is_a_ladder() {
        for x in [0.1, 1.0, 3.0, 8.0] {
            // ρ·t = 1 and ω·C·t = x²/2.
            let (steps, mut re, mut im) = (4000_u32, 1e30_f64, 0.0_f64);
            let n = f64::from(steps);
            for _ in 0..steps {
                // Beside a capacitor of admittance i·x²/(2n), before a resistor of 1/n.
                let square = re * re + im * im;
                let (g, b) = (re / square, -im / square + 0.5 * x * x / n);
                let square = g * g + b * b;
                (re, im) = (g / square + 1.0 / n, -b / square);
            }
            assert_relative_eq!(line(x), re, max_relative = 2e-3);
        }
        assert_relative_eq!(line(0.0099), line(0.0101), max_relative = 1e-4);
        assert_relative_eq!(line(39.9), 1.0 / 39.9, max_relative = 1e-9);
    }

    #[test]
    fn what_a_frequency_leaves_out() {
        let w = worked(&[]);
        let (path, balance) = (&w.loaded().0, &w.estimate.balance);
        let high = at_one_kilohertz(&w.design, None).unwrap();
        let areal = path.areal().unwrap();
        let (inner, outer) = w.design.active_area();
        let over = |areal: crate::quantity::units::ArealResistance| (areal / (inner + outer)).value;
        let least = path.metal().value + over(areal.separator);
        let most = least + over(areal.anode_pores + areal.cathode_pores);
        assert!(high.value > least && high.value < most, "{least} {} {most}", high.value);
        // Without charge transfer it does not matter; a pulse has it all.
        let easy = worked(&[("current_path/charge_transfer", json!("20 Ω·cm²"))]);
        assert_relative_eq!(
            at_one_kilohertz(&easy.design, None).unwrap().value,
            high.value,
            max_relative = 1e-12
        );
        let of = |pulse: Pulse| by_pulse(&w.design, balance, &pulse).unwrap();
        let instant = of(Pulse { seconds: Some(1e-9), ..Pulse::default() });
        assert_relative_eq!(instant.value, path.total().value, max_relative = 1e-6);
        // 2.9 + 0.0132·q in the straight cell of the balance's tests; here by its own voltage a second earlier and later.
        let ten = of(Pulse::default());
        let fall = (ten.value - instant.value) / 10.0;
        let half = 0.5 * balance.capacity;
        let one = crate::quantity::units::ElectricCharge::new::<uom::si::electric_charge::coulomb>(1.0);
        let by_hand = balance.voltage_after(&w.design, half - one).unwrap()
            - balance.voltage_after(&w.design, half + one).unwrap();
        assert_relative_eq!(fall, 0.5 * by_hand.value, max_relative = 0.02);
        // In the cold, and where nothing vouches for it.
        let cold = of(Pulse { celsius: Some(0.0), ..Pulse::default() });
        let nearly_empty = of(Pulse { share: Some(0.1), ..Pulse::default() });
        assert!(cold.value > 1.5 * ten.value && nearly_empty.u() > ten.u());
    }

    #[test]
    fn a_stated_resistance_has_no_parts() {
        let stated = draft(&[("current_path", json!({ "areal_resistance": "15 Ω·cm²" }))]);
        let w = Worked::at(&stated, &stated.values()).unwrap();
        assert!(at_one_kilohertz(&w.design, None).is_none());
        assert!(by_pulse(&w.design, &w.estimate.balance, &Pulse::default()).is_some());
    }
}
