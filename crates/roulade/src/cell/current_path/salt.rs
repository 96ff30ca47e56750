//! Salt that a current piles up at the anode and takes from the cathode, and how deep a current reaches then.

use super::areal::{FARADAY, GAS, IONS, hindrance, warmer};
use crate::cell::design::{Blueprint, Design, Electrode, Electrolyte, Kinetics, Transport};
use roulade_stats::maths::ln;
use std::f64::consts::PI;

/// Mass of a mole of `LiPF6`, kg; a tenth less than that of `NaPF6`, for which it stands in too.
const MOLE: f64 = 0.1519;

/// Conductivity of the electrolyte over that at 1 mol/L by its concentration, mol/L: `LiPF6` in carbonates (Nyman, Behm,
/// Lindbergh, Electrochim. Acta 53 (2008) 6356, doi 10.1016/j.electacta.2008.04.023, read in an example file of the open exchange
/// standard).
pub(super) fn conducts(c: f64) -> f64 {
    (0.1297 * c * c * c - 2.51 * c * c.sqrt() + 3.329 * c) / (0.1297 - 2.51 + 3.329)
}

/// Salt across the cell at a constant current, once it no longer changes: a minute or two after the start.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Salt {
    /// Share of the cathode's depth that the current reaches; at most one.
    pub reached: f64,
    /// Share of the anode's depth, from the separator, over which the current leaves; at most one.
    pub anode: f64,
    /// The current at which it would reach no further than just all of it, over that which flows, were it to leave all of the anode evenly.
    pub limit: f64,
    /// Mean concentration in the anode's pores, and in those of the cathode that the current reaches; over that at rest.
    pub mean: [f64; 2],
    /// Resistance of the pores of both over that at rest.
    pub pores: [f64; 2],
    /// Voltage that the difference of concentrations takes, V.
    pub overpotential: f64,
}

/// One layer: its pore volume and how it hinders, for each area: m, and m.
#[derive(Clone, Copy)]
struct Layer {
    pores: f64,
    way: f64,
}

/// Halvings of the interval that holds the share reached.
const HALVINGS: u32 = 32;

impl Salt {
    /// `volts`: by how much the anode's potential would rise in a discharge of the whole capacity at the slope of its first half.
    ///
    /// # Formula
    /// Where a current density i enters each coating evenly, the ions that do not carry it pile up or are missing,
    /// `N = (1 − t₊)·i/F`, and diffuse back: `N·H·L/D` across the separator, `N·H·L/(2·D)` across a coating, whose mean is two
    /// thirds of that off its face; thickness L, `H = τ/ε`, diffusion D and transference number t₊ of the salt (Newman,
    /// Thomas-Alyea, Electrochemical Systems, 3rd ed. (2004), chapter 22; from memory). Salt is conserved:
    /// `Σ ε·L·(c − c₀) = 0` over the three layers. All of it is proportional to i, so the salt at the cathode's foil is used
    /// up at the limiting current.
    ///
    /// Beyond that the cathode works over the share δ of its depth, at whose end there is none: with `K = N·H·L/(2·D)` of the
    /// whole cathode, `K·δ` at its face, and a third of that on the mean up to δ,
    /// `v_c·K/3·δ² + (v_s + v_a)·K·δ = c₀·(v_a + v_s + v_c) − v_s·Δ_s/2 − v_a·(Δ_s + 2·Δ_a/3)` with `v = ε·L` and the differences
    /// Δ of separator and anode. Where c₀ held at the cathode's face, δ would be twice the penetration depth of Gallagher et
    /// al. (J. Electrochem. Soc. 163 (2016) A138, doi 10.1149/2.0321602jes, from memory) over its thickness.
    ///
    /// The anode gives from its separator's side first: a slice further in leads the current through more of the pores, and catches
    /// up as the potential of the emptied ones rises. With a straight curve that is diffusion of the filling, `g·V·L²/Q` by the
    /// conductance g of its pores and the volts V over the charge Q. A constant current into a half-space that has flowed for the
    /// time t has come `4·√(D·t/π)` far, where it is taken to leave evenly over that depth and so to need as many ions across it
    /// (Crank, The Mathematics of Diffusion, 2nd ed. (1975), equation 3.8, from memory: `∫erfc(x/2√(D·t)) dx = 2·√(D·t/π)`). After the
    /// share u of a discharge it is `δ_a = 4·√(g·V·u/(π·i))` of the depth, and the salt in it lies `N·H·L/(2·D)·δ_a·(1 − δ_a/3)` on
    /// the mean above its face. The discharge ends with what the cathode was reached by: `u = δ(δ_a(u))`. Ions of unlike
    /// concentration conduct worse at the potential that drives them, `1/g = H·L·(1/κ + 2·R·T·(1 − t₊)²/(F²·D·c₀))`. That the salt is
    /// not there at once changes nothing of it: it takes 10 to 30 s.
    ///
    /// Against cells stepped in slices (`stepped.rs`), from 0.02 to 3.5 times the limiting current, what is drawn is off by at most
    /// 0.05 of the capacity at rest: too much at the limiting current, where the front is full before the rest and the
    /// current goes deeper than evenly, too little or too much past it by how it leaves the anode, and by less than 0.01 below 0.9
    /// times it.
    ///
    /// Overpotential: `2·R·T/F·(1 − t₊)·ln(c_a/c_c)` of the mean concentrations, in dilute solution. The pores' resistance
    /// follows the conductivity at them. D is one number: it is larger where salt is scarce and smaller where it piles up, and
    /// on the whole that cancels.
    pub(crate) fn under(
        design: &Design,
        kinetics: &Kinetics,
        density: f64,
        volts: f64,
        celsius: f64,
    ) -> Self {
        let b = design.blueprint();
        let rest = at_rest(b);
        if rest.is_nan() || rest <= 0.0 {
            return Self {
                reached: 0.0,
                anode: 1.0,
                limit: 0.0,
                mean: [1.0; 2],
                pores: [1.0; 2],
                overpotential: 0.0,
            };
        }
        let molar = 1e-3 * rest;
        let per_length = (1.0 - kinetics.transference) * density
            / (FARADAY * kinetics.salt_diffusion.value * warmer(IONS, celsius));
        let coating = |electrode: &Electrode, transport: &Transport| {
            if electrode.is_metal() {
                return Layer { pores: 0.0, way: 0.0 };
            }
            let (porosity, thickness) = (electrode.porosity().value, electrode.thickness.value);
            let hindered = hindrance(porosity, electrode.tortuosity, transport.exponent);
            Layer { pores: porosity * thickness, way: hindered * thickness }
        };
        let (anode, cathode) = (coating(&b.anode, &kinetics.anode), coating(&b.cathode, &kinetics.cathode));
        let separator = Layer {
            pores: b.separator.film.value * b.separator.porosity.value
                + b.separator.ceramic.value * b.separator.ceramic_porosity.value,
            way: super::areal::through(&b.separator, kinetics),
        };
        let across = per_length * separator.way;
        let (of_anode, of_cathode) = (0.5 * per_length * anode.way, 0.5 * per_length * cathode.way);
        let pores = anode.pores + separator.pores + cathode.pores;
        let thermal = GAS * (celsius + 273.15) / FARADAY;
        let unlike = 2.0 * thermal * (1.0 - kinetics.transference) * per_length / (density * rest);
        let resists = anode.way * (1.0 / (kinetics.conductivity.value * warmer(IONS, celsius)) + unlike);
        let leaves = |drawn: f64| (4.0 * (volts * drawn / (PI * density * resists)).sqrt()).min(1.0);
        // How far its mean lies above the anode's face, and what the current moves out of the cathode.
        let above = |leaves: f64| of_anode * leaves * (1.0 - leaves / 3.0);
        let before = |leaves: f64| separator.pores * 0.5 * across + anode.pores * (across + above(leaves));
        // Over what there is: salt at the cathode's foil falls by so much.
        let whole = |leaves: f64| of_cathode + (before(leaves) - cathode.pores * of_cathode / 1.5) / pores;
        let even = whole(1.0);
        let limit = if even > 0.0 { rest / even } else { f64::INFINITY };
        let (all, at_all) = (leaves(1.0), whole(leaves(1.0)));
        let (reached, anode_share, face, mean) = if at_all <= rest {
            let face = rest - at_all + of_cathode;
            (1.0, all, face, face - of_cathode / 1.5)
        } else {
            let (a, b) = (cathode.pores * of_cathode / 3.0, (separator.pores + anode.pores) * of_cathode);
            let share = |leaves: f64| {
                let c = (rest * pores - before(leaves)).max(0.0);
                (2.0 * c / (b + (b * b + 4.0 * a * c).sqrt())).min(1.0)
            };
            let (mut low, mut high) = (0.0, 1.0);
            if all >= 1.0 && leaves(share(1.0)) >= 1.0 {
                low = share(1.0);
            } else {
                for _ in 0..HALVINGS {
                    let middle = 0.5 * (low + high);
                    if share(leaves(middle)) > middle { low = middle } else { high = middle }
                }
            }
            (low, leaves(low), of_cathode * low, of_cathode * low / 3.0)
        };
        let mean = [(face + across + above(anode_share)) / rest, mean / rest];
        // At the limit of a cathode that holds no salt the logarithm would have no end.
        let ratio = mean[0] / mean[1].max(1e-3);
        let resists = |share: f64| conducts(molar) / conducts(molar * share.max(1e-3));
        Self {
            reached,
            anode: anode_share,
            limit,
            mean,
            pores: mean.map(resists),
            overpotential: 2.0 * thermal * (1.0 - kinetics.transference) * ln(ratio),
        }
    }
}

/// Concentration of the salt at rest, mol/m³.
pub(super) fn at_rest(b: &Blueprint) -> f64 {
    b.salt * density_of(&b.electrolyte) / MOLE
}

fn density_of(electrolyte: &Electrolyte) -> f64 {
    match electrolyte {
        Electrolyte::Excess { density, .. }
        | Electrolyte::Filled { density, .. }
        | Electrolyte::PerCapacity { density, .. } => density.value,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cell::design::Electrochemical;
    use crate::test_support::design;
    use approx::assert_relative_eq;
    use roulade_stats::maths::pow;

    /// Salt along the cell, from foil to foil, in so many slices of each layer, by stepping from slice to slice: concentrations
    /// and widths of pores. The current enters the cathode's first `share` evenly, and there is none behind it.
    fn stepped(design: &Design, kinetics: &Kinetics, density: f64, share: f64) -> Vec<(f64, f64)> {
        const SLICES: u32 = 4000;
        let b = design.blueprint();
        let rest = b.salt * density_of(&b.electrolyte) / MOLE;
        let flux = (1.0 - kinetics.transference) * density / FARADAY / kinetics.salt_diffusion.value;
        let n = f64::from(SLICES);
        let (anode, cathode) = (b.anode.thickness.value, share * b.cathode.thickness.value);
        let (of_anode, of_cathode) = (b.anode.porosity().value, b.cathode.porosity().value);
        let layers = [
            (anode, of_anode, kinetics.anode.exponent, [0.0, 1.0]),
            (b.separator.film.value, b.separator.porosity.value, kinetics.separator_exponent, [1.0, 1.0]),
            (cathode, of_cathode, kinetics.cathode.exponent, [1.0, 0.0]),
        ];
        let (mut c, mut all) = (0.0, Vec::new());
        for (thickness, porosity, exponent, [from, to]) in layers {
            for slice in 0..SLICES {
                let along = (f64::from(slice) + 0.5) / n;
                let falls =
                    flux * (from + (to - from) * along) * pow(porosity, -1.0 - exponent) * thickness / n;
                c -= 0.5 * falls;
                all.push((c, porosity * thickness / n));
                c -= 0.5 * falls;
            }
        }
        // As much salt as at rest, which filled the part that is not reached too.
        let behind = of_cathode * (b.cathode.thickness.value - cathode);
        let there: f64 = all.iter().map(|(_, pores)| pores).sum::<f64>();
        let mean = all.iter().map(|(c, pores)| c * pores).sum::<f64>() / there;
        let shift = rest * (there + behind) / there - mean;
        all.iter().map(|(c, pores)| ((c + shift) / rest, *pores)).collect()
    }

    fn mean(slices: &[(f64, f64)]) -> f64 {
        slices.iter().map(|(c, _)| c).sum::<f64>() / slices.len() as f64
    }

    #[test]
    fn salt_stepped_through_the_cell() {
        let design = design(&[]);
        let Electrochemical::Computed(kinetics) = design.blueprint().path.electrochemical else { panic!() };
        let at = |density: f64| Salt::under(&design, &kinetics, density, f64::INFINITY, 25.0);
        let limit = at(1.0).limit;
        for part in [0.01, 0.5, 0.999] {
            let (salt, profile) = (at(part * limit), stepped(&design, &kinetics, part * limit, 1.0));
            assert_relative_eq!(salt.limit * part, 1.0, max_relative = 1e-9);
            assert_relative_eq!(salt.reached, 1.0);
            assert_relative_eq!(salt.mean[0], mean(&profile[..4000]), max_relative = 1e-5);
            assert_relative_eq!(salt.mean[1], mean(&profile[8000..]), max_relative = 1e-4);
            // The salt at the foil falls in proportion.
            assert_relative_eq!(profile.last().unwrap().0, 1.0 - part, epsilon = 1e-4);
        }
        for part in [1.001, 1.2] {
            let salt = at(part * limit);
            let profile = stepped(&design, &kinetics, part * limit, salt.reached);
            assert!(salt.reached < 1.0 && salt.reached > 0.2, "{salt:?}");
            assert_relative_eq!(profile.last().unwrap().0, 0.0, epsilon = 1e-4);
            assert_relative_eq!(salt.mean[1], mean(&profile[8000..]), max_relative = 1e-3);
        }
        // Continuous at the limit, and nothing where the anode would have to hold more than there is.
        let (below, above) = (at(limit * 0.999_999), at(limit * 1.000_001));
        assert_relative_eq!(below.overpotential, above.overpotential, max_relative = 1e-3);
        assert_relative_eq!(at(100.0 * limit).reached, 0.0);
        // Where it leaves the anode near the separator the cathode is reached further, and that more the less the anode's slope.
        let shares =
            [1e-3, 1e-2, 0.1, 1.0, 100.0].map(|v| Salt::under(&design, &kinetics, 1.5 * limit, v, 25.0));
        assert!(
            shares
                .windows(2)
                .all(|pair| pair[0].reached >= pair[1].reached && pair[0].anode <= pair[1].anode)
        );
        assert!(shares[0].reached > shares[4].reached && shares[0].anode < 0.5, "{shares:?}");
        assert_relative_eq!(shares[4].reached, at(1.5 * limit).reached);
        // By hand: 2·25.7 mV·(1 − t₊)·ln of the ratio.
        let half = at(0.5 * limit);
        let volts = 2.0 * 0.025_693 * (1.0 - kinetics.transference) * ln(half.mean[0] / half.mean[1]);
        assert_relative_eq!(half.overpotential, volts, max_relative = 1e-4);
        assert!(half.pores[1] > 1.0 && at(1e-9).overpotential < 1e-6);
    }

    #[test]
    fn an_electrolyte_by_its_concentration() {
        assert_relative_eq!(conducts(1.0), 1.0);
        assert!(
            conducts(0.2) < 0.5 && conducts(2.5) < 0.5 && (1..70).all(|c| conducts(0.1 * f64::from(c)) > 0.0)
        );
    }
}
