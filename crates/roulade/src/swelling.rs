//! The roll as its anode swells: how much room full charge takes.

use crate::balance::Balance;
use crate::design::Design;
use crate::units::{Area, ArealMassDensity, Length, Ratio};
use std::f64::consts::PI;

/// The roll at both ends of charge.
///
/// # Formula
/// The wound lengths stay, and a coating that faces cathode grows by `t·ε·x` on each face: t its thickness as built, ε
/// the strain of a full host, x its stoichiometry. Every turn lies on the one below, so cross-sections add, and the
/// mean radius goes from R to `√(R² + ΔA/π)` with `ΔA` the thickness gained times the facing lengths of both faces.
/// The anode's coating alone swells here; separators do not give way, and the cathode, whose particles shrink by some
/// per cent as the anode swells, stays as it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Swollen {
    /// Growth of the coating over its thickness as built, charged.
    pub strain_charged: Ratio,
    /// The same, discharged.
    pub strain_discharged: Ratio,
    /// Mean radius of the roll, charged.
    pub radius_charged: Length,
    /// Mean radius of the roll, discharged.
    pub radius_discharged: Length,
    /// What is left to the wall when charged; negative where the roll presses against it.
    pub gap_charged: Length,
    /// Largest share of the host that swells most with which the charged roll just fits: same thickness, porosity and
    /// stoichiometry; where the mix has such a host and its swelling follows from the mix.
    pub most_silicon: Option<Ratio>,
    /// Largest loading of the cathode with which the charged roll just fits: both coatings thicker or thinner by one
    /// factor, same lengths.
    pub most_loading: ArealMassDensity,
}

impl Swollen {
    /// The roll of a design at both ends of charge; nothing where its sheet does not say how the anode swells.
    pub fn of(design: &Design, balance: &Balance) -> Option<Self> {
        let b = design.blueprint();
        let swelling = b.swelling?;
        let (charged, discharged) = match &balance.windows {
            Some(windows) => (windows.anode_charged, windows.anode_discharged),
            // Without curves: what is drawn, over what the anode could give back.
            None => {
                let (inner, outer) = design.active_area();
                ((balance.capacity / (balance.anode_areal * (inner + outer))).value, 0.0)
            }
        };
        let facing = design.roll().facing();
        let lengths = design.roll().lengths();
        let (anode, cathode) = (b.anode.thickness, b.cathode.thickness);
        // Cross-section that a strain of one would add.
        let per_strain = anode * (facing.inner + facing.outer);
        let built = design.roll().outer_radius() * design.roll().outer_radius() * PI;
        let bore = b.can.bore_area();
        let radius = |strain: f64| ((built + per_strain * strain) / PI).sqrt();
        let strain_charged = swelling.strain * charged;
        let radius_charged = radius(strain_charged);
        // The strain that fills the bore, and the factor on both coatings that does.
        let full = ((bore - built) / per_strain).value;
        let coatings: Area = 2.0 * (anode * lengths.anode + cathode * lengths.cathode);
        let factor = ((bore - built + coatings) / (coatings + per_strain * strain_charged)).value;
        Some(Self {
            strain_charged: ratio(strain_charged),
            strain_discharged: ratio(swelling.strain * discharged),
            radius_charged,
            radius_discharged: radius(swelling.strain * discharged),
            gap_charged: 0.5 * b.can.bore() - radius_charged,
            most_silicon: swelling.silicon.map(|silicon| ratio(silicon.share_for(full / charged))),
            most_loading: b.cathode.loading * factor.max(0.0),
        })
    }
}

fn ratio(value: f64) -> Ratio {
    Ratio::new::<uom::si::ratio::ratio>(value)
}
