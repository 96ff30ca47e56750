//! What coatings, separator and electrolyte cost between the two foils, and how deep a current reaches into a coating.

use crate::cell::design::{Design, Electrode, Kinetics};
use crate::quantity::units::{ArealResistance, Length};
use roulade_stats::maths::{exp, pow};

/// Parts of the resistance that each facing area has between its foils.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Areal {
    /// Ions in the pores of the anode's coating.
    pub anode_pores: ArealResistance,
    /// Ions in the pores of the cathode's coating.
    pub cathode_pores: ArealResistance,
    /// Ions in the separator.
    pub separator: ArealResistance,
    /// Charge transfer at the particles of both coatings.
    pub particles: ArealResistance,
}

/// Gas constant, J/(mol·K); exact in the SI.
const GAS: f64 = 8.314_462_618_153_24;
/// Faraday's constant, C/mol; exact in the SI.
const FARADAY: f64 = 96_485.332_123_310_01;
/// Activation energy of the conductivity and of the diffusion in carbonate electrolytes near room temperature, J/mol:
/// from memory, 15 to 20 kJ/mol in published fits.
pub(super) const IONS: f64 = 17e3;
/// Activation energy of charge transfer at graphite and layered oxides, J/mol: from memory, 50 to 60 kJ/mol in published
/// impedance spectra.
const TRANSFER: f64 = 55e3;
/// Radius of a particle, m: graphite 5 to 10 µm, layered oxides 3 to 6 µm; common practice, no source. Only its ratio to
/// the charge-transfer resistance counts.
pub(super) const PARTICLE: f64 = 5e-6;
/// Surface of plated metal over that of the face it stands on: mossy deposits; common practice, from memory.
const ROUGHNESS: f64 = 10.0;
/// Salt diffusion in the free electrolyte at 25 °C, m²/s: `LiPF6`, 1 mol/L in carbonates (Nyman, Behm, Lindbergh,
/// Electrochim. Acta 53 (2008) 6356, doi 10.1016/j.electacta.2008.04.023; value from memory).
const DIFFUSION: f64 = 3e-10;
/// Salt in the electrolyte, mol/m³.
const SALT: f64 = 1000.0;
/// Share of the current that lithium ions carry in it (as above, from memory: 0.25 to 0.4).
const TRANSFERENCE: f64 = 0.3;

/// `exp(−E/R·(1/T − 1/T₀))`, T₀ = 25 °C.
pub(super) fn warmer(energy: f64, celsius: f64) -> f64 {
    exp(-energy / GAS * (1.0 / (celsius + 273.15) - 1.0 / 298.15))
}

/// Tortuosity over porosity: that which was read, or Bruggeman's `τ = ε^(−1/2)` for round particles (Ann. Phys. 416
/// (1935) 636, doi 10.1002/andp.19354160705).
pub(super) fn hindrance(porosity: f64, tortuosity: Option<f64>) -> f64 {
    tortuosity.map_or_else(|| pow(porosity, -1.5), |tortuosity| tortuosity / porosity)
}

impl Areal {
    /// # Formula
    /// Coating: a current that enters evenly over the depth t of pores of porosity ε and tortuosity τ filled with
    /// conductivity κ falls by `t·τ/(3·κ·ε)` on the mean, the low-frequency limit of a transmission line (Ogihara,
    /// Itou, Sasaki, Takeuchi, J. Phys. Chem. C 119 (2015) 4612, doi 10.1021/jp512564f; the geometry is that of Newman,
    /// Tobias, J. Electrochem. Soc. 109 (1962) 1183, doi 10.1149/1.2425269). Separator: `tₛ·τₛ/(κ·εₛ)`. Particles of
    /// radius r with the charge-transfer resistance R of a unit of their surface: `R·r/(3·(1 − ε)·t)`, since the area of
    /// spheres is three times their volume over their radius. Plated metal has no pores, and `R/10`: ten times the surface of
    /// its face. κ and R follow temperature by Arrhenius' law.
    ///
    /// So a thicker coating costs more in its pores and less at its particles, and a denser one the same.
    pub fn of(design: &Design, kinetics: &Kinetics, celsius: f64) -> Self {
        let b = design.blueprint();
        let conductivity = kinetics.conductivity * warmer(IONS, celsius);
        let surface = kinetics.transfer / warmer(TRANSFER, celsius);
        let unit = |value: f64| ArealResistance { value, ..ArealResistance::default() };
        let pores = |electrode: &Electrode| {
            if electrode.is_metal() {
                return 0.0;
            }
            let depth = electrode.thickness.value;
            depth * hindrance(electrode.porosity().value, electrode.tortuosity) / (3.0 * conductivity)
        };
        let particles = |electrode: &Electrode| {
            if electrode.is_metal() {
                return surface.value / ROUGHNESS;
            }
            surface.value * PARTICLE / (3.0 * (1.0 - electrode.porosity().value) * electrode.thickness.value)
        };
        let s = &b.separator;
        let layer = |thickness: Length, porosity: f64| {
            if thickness.value > 0.0 {
                thickness.value * hindrance(porosity, None) / conductivity
            } else {
                0.0
            }
        };
        Self {
            anode_pores: unit(pores(&b.anode)),
            cathode_pores: unit(pores(&b.cathode)),
            separator: unit(layer(s.film, s.porosity.value) + layer(s.ceramic, s.ceramic_porosity.value)),
            particles: unit(particles(&b.anode) + particles(&b.cathode)),
        }
    }

    /// All of it.
    pub fn total(&self) -> ArealResistance {
        self.anode_pores + self.cathode_pores + self.separator + self.particles
    }
}

/// Share of both coatings that a current reaches before the salt in their pores is used up; at most one.
///
/// # Formula
/// Penetration depth `ε·D·c·F/(τ·(1 − t₊)·i)` over the coating's thickness: diffusion D of the salt of concentration c,
/// transference number t₊, current density i (Gallagher et al., J. Electrochem. Soc. 163 (2016) A138, doi
/// 10.1149/2.0321602jes; formula from memory). Below one, the coating's far part gives nothing at this rate.
pub fn reached(design: &Design, current_density: f64, celsius: f64) -> f64 {
    let b = design.blueprint();
    let diffusion = DIFFUSION * warmer(IONS, celsius);
    let depth = |electrode: &Electrode| {
        if electrode.is_metal() {
            return f64::INFINITY;
        }
        let open = 1.0 / hindrance(electrode.porosity().value, electrode.tortuosity);
        open * diffusion * SALT * FARADAY
            / ((1.0 - TRANSFERENCE) * current_density)
            / electrode.thickness.value
    };
    depth(&b.anode).min(depth(&b.cathode)).min(1.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cell::figures::Worked;
    use crate::test_support::draft;
    use approx::assert_relative_eq;
    use serde_json::{Value, json};

    fn worked(changes: &[(&str, Value)]) -> Worked {
        let draft = draft(changes);
        Worked::at(&draft, &draft.values()).unwrap()
    }

    fn kinetics(changes: &[(&str, Value)], celsius: &str) -> Areal {
        let path = json!({ "charge_transfer": "200 Ω·cm²", "temperature": celsius });
        let all =
            [&[("current_path", path), ("electrolyte/conductivity", json!("10 mS/cm"))], changes].concat();
        *worked(&all).loaded().0.areal().unwrap()
    }

    #[test]
    fn parts_by_hand() {
        let areal = kinetics(&[], "25 °C");
        // 1 S/m: 100 µm at 50 %, 50 µm at 8 %; 20 µm of film at 50 %.
        let anode = 1e-4 / pow(0.5, 1.5) / 3.0;
        assert_relative_eq!(areal.anode_pores.value, anode, max_relative = 1e-9);
        let solid = 1.0 / (0.9 / 5.0 + 0.1 / 2.0);
        let porosity: f64 = 1.0 - 4.0 / solid;
        assert_relative_eq!(areal.cathode_pores.value, 5e-5 / pow(porosity, 1.5) / 3.0, max_relative = 1e-9);
        assert_relative_eq!(areal.separator.value, 2e-5 / pow(0.5, 1.5), max_relative = 1e-9);
        // 200 Ω·cm² of surface, 3/(5 µm) of it in each volume of particles.
        let particles = 0.02 * 5e-6 / 3.0 * (1.0 / 0.5e-4 + 1.0 / ((1.0 - porosity) * 5e-5));
        assert_relative_eq!(areal.particles.value, particles, max_relative = 1e-9);
        // In the cold all of it is more.
        let cold = kinetics(&[], "0 °C");
        assert!(cold.particles > 5.0 * areal.particles && cold.separator > 1.5 * areal.separator);
    }

    /// Thicker coatings of the same density hold more and give it less readily: at a rate one of them gives most.
    #[test]
    fn a_rate_has_its_best_coating() {
        let at = |micrometres: f64, rate: &str| {
            let loading = |density: f64| json!(format!("{} mg/cm2", density * micrometres / 10.0));
            let thick = |factor: f64| json!(format!("{} µm", factor * micrometres));
            let w = worked(&[
                ("cathode/thickness", thick(1.0)),
                ("cathode/loading", loading(3.2)),
                ("anode/thickness", thick(2.0)),
                ("anode/loading", loading(2.0)),
                ("current_path", json!({ "rate": rate })),
            ]);
            w.loaded().1.energy().value
        };
        let sizes = [15.0, 25.0, 40.0, 60.0, 90.0, 130.0];
        let best = |rate: &str| {
            let all = sizes.map(|size| at(size, rate));
            all.iter().enumerate().max_by(|a, b| a.1.total_cmp(b.1)).unwrap().0
        };
        let (slow, fast) = (best("0.2 C"), best("5 C"));
        assert!(fast < slow && fast < sizes.len() - 1, "{slow} {fast}");
        assert!(at(60.0, "3 C") < at(60.0, "1 C") && at(60.0, "1 C") < at(60.0, "0.2 C"));
    }
}
