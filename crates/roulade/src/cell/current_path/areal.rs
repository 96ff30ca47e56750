//! What coatings, separator and electrolyte cost between the two foils.

use crate::cell::design::{Design, Electrode, Kinetics, Separator, Transport};
use crate::quantity::units::ArealResistance;
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
    /// Charge transfer at the particles of the anode's coating.
    pub anode_particles: ArealResistance,
    /// Charge transfer at the particles of the cathode's coating.
    pub cathode_particles: ArealResistance,
}

/// Gas constant, J/(mol·K); exact in the SI.
pub(super) const GAS: f64 = 8.314_462_618_153_24;
/// Faraday's constant, C/mol; exact in the SI.
pub(super) const FARADAY: f64 = 96_485.332_123_310_01;
/// Activation energy of the conductivity and of the diffusion in carbonate electrolytes near room temperature, J/mol: Nyman,
/// Behm, Lindbergh, Electrochim. Acta 53 (2008) 6356, doi 10.1016/j.electacta.2008.04.023, read in an example file of the open
/// exchange standard.
pub(super) const IONS: f64 = 17.1e3;
/// Activation energy of charge transfer at graphite and layered oxides, J/mol: from memory, 50 to 60 kJ/mol in published
/// impedance spectra.
const TRANSFER: f64 = 55e3;
/// Radius of a particle for which the charge-transfer resistance of its surface is stated, m: only their ratio counts, so it
/// is not that of the material at hand.
pub(super) const PARTICLE: f64 = 5e-6;
/// Surface of plated metal over that of the face it stands on: mossy deposits; common practice, from memory.
const ROUGHNESS: f64 = 10.0;
/// `exp(−E/R·(1/T − 1/T₀))`, T₀ = 25 °C.
pub(super) fn warmer(energy: f64, celsius: f64) -> f64 {
    exp(-energy / GAS * (1.0 / (celsius + 273.15) - 1.0 / 298.15))
}

/// Tortuosity over porosity, `MacMullin`'s number: by the tortuosity that was read, or by `τ = ε^(−α)`. Bruggeman's α for round
/// particles is 1/2 (Ann. Phys. 416 (1935) 636, doi 10.1002/andp.19354160705); coatings and films that were measured have more.
pub(super) fn hindrance(porosity: f64, tortuosity: Option<f64>, exponent: f64) -> f64 {
    tortuosity.map_or_else(|| pow(porosity, -1.0 - exponent), |tortuosity| tortuosity / porosity)
}

/// `t·τ/ε` of film and ceramic layer, m; a layer of grains has Bruggeman's exponent.
pub(super) fn through(s: &Separator, kinetics: &Kinetics) -> f64 {
    let layer = |thickness: f64, porosity: f64, exponent: f64| {
        if thickness > 0.0 { thickness * hindrance(porosity, None, exponent) } else { 0.0 }
    };
    layer(s.film.value, s.porosity.value, kinetics.separator_exponent)
        + layer(s.ceramic.value, s.ceramic_porosity.value, 0.5)
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
        let conductivity = kinetics.conductivity.value * warmer(IONS, celsius);
        let surface = kinetics.transfer / warmer(TRANSFER, celsius);
        let unit = |value: f64| ArealResistance { value, ..ArealResistance::default() };
        let pores = |electrode: &Electrode, transport: &Transport| {
            if electrode.is_metal() {
                return 0.0;
            }
            let hindered = hindrance(electrode.porosity().value, electrode.tortuosity, transport.exponent);
            electrode.thickness.value * hindered / (3.0 * conductivity)
        };
        let particles = |electrode: &Electrode| {
            if electrode.is_metal() {
                return surface.value / ROUGHNESS;
            }
            surface.value * PARTICLE / (3.0 * (1.0 - electrode.porosity().value) * electrode.thickness.value)
        };
        Self {
            anode_pores: unit(pores(&b.anode, &kinetics.anode)),
            cathode_pores: unit(pores(&b.cathode, &kinetics.cathode)),
            separator: unit(through(&b.separator, kinetics) / conductivity),
            anode_particles: unit(particles(&b.anode)),
            cathode_particles: unit(particles(&b.cathode)),
        }
    }

    /// All of it.
    pub fn total(&self) -> ArealResistance {
        self.anode_pores + self.cathode_pores + self.separator + self.particles()
    }

    /// Charge transfer at the particles of both coatings.
    pub fn particles(&self) -> ArealResistance {
        self.anode_particles + self.cathode_particles
    }
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
        // Bruggeman's exponent, so that it can be done by pencil.
        let round = |key| (key, json!("0.5"));
        let all = [
            &[
                ("current_path", path),
                ("electrolyte/conductivity", json!("10 mS/cm")),
                round("cathode/tortuosity_exponent"),
                round("anode/tortuosity_exponent"),
                round("separator/tortuosity_exponent"),
            ],
            changes,
        ]
        .concat();
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
        assert_relative_eq!(areal.particles().value, particles, max_relative = 1e-9);
        // In the cold all of it is more.
        let cold = kinetics(&[], "0 °C");
        assert!(cold.particles() > 5.0 * areal.particles() && cold.separator > 1.5 * areal.separator);
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
