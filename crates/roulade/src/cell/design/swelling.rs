//! How the anode's coating swells as its host takes up lithium.

/// Growth of the coating's thickness for a host from free of lithium to full; in between it goes with the
/// stoichiometry.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Swelling {
    /// Growth over the thickness as built.
    pub strain: f64,
    /// What another share of silicon would do; absent where the strain was given, or the mix has none.
    pub silicon: Option<Silicon>,
}

/// The host of a mix that swells most, as its share changes at the expense of the largest other host. Porosity stays.
///
/// # Formula
/// Strain `(1 − κ)·(1 − ε)·Σ wⱼ·eⱼ/ρⱼ / Σ wⱼ/ρⱼ`: κ share of the growth that pores take up, ε porosity, w mass
/// fractions, ρ true densities, e volume gained by a full host. The foil holds the coating in its plane, so what the
/// pores do not take goes into thickness.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Silicon {
    /// Its mass fraction in the dry coating.
    pub share: f64,
    /// Its mass fraction with none of the other host left.
    pub most: f64,
    /// `(1 − κ)·(1 − ε)`.
    pub(crate) free: f64,
    /// `Σ wⱼ·eⱼ/ρⱼ` as built, and what a unit of share adds.
    pub(crate) growth: (f64, f64),
    /// `Σ wⱼ/ρⱼ` as built, and what a unit of share adds.
    pub(crate) solid: (f64, f64),
}

impl Silicon {
    /// Strain of a mix with another share of it.
    pub(crate) fn strain_at(&self, share: f64) -> f64 {
        let more = share - self.share;
        self.free * (self.growth.0 + more * self.growth.1) / (self.solid.0 + more * self.solid.1)
    }

    /// The share that gives a strain, kept between none and [`Silicon::most`].
    pub(crate) fn share_for(&self, strain: f64) -> f64 {
        let more = (strain * self.solid.0 - self.free * self.growth.0)
            / (self.free * self.growth.1 - strain * self.solid.1);
        let share = self.share + more;
        // Where no share reaches the strain, all of it still fits.
        if share.is_nan() || strain >= self.strain_at(self.most) {
            self.most
        } else {
            share.clamp(0.0, self.most)
        }
    }
}
