//! Half-cell curves of the table made once, for whoever reads many sheets.

use super::{Curve, MATERIALS, Material};

/// Curves of the table that are there already. To make one from its closed form costs more than all else of a sheet.
///
/// # Example
/// ```
/// use roulade::material::{CurveCache, find};
/// let nmc = find("NMC811").expect("a material of the table");
/// assert_eq!(CurveCache::full().curve(nmc), CurveCache::default().curve(nmc));
/// ```
#[derive(Clone, Debug, Default)]
pub struct CurveCache(Vec<(&'static str, Curve)>);

impl CurveCache {
    /// With every curve of the table on it.
    pub fn full() -> Self {
        Self(MATERIALS.iter().filter_map(|material| Some((material.name, material.curve()?))).collect())
    }

    /// The curve of a material, made where it is not there yet.
    pub fn curve(&self, material: &Material) -> Option<Curve> {
        let there = self.0.iter().find(|(name, _)| *name == material.name);
        there.map(|(_, curve)| curve.clone()).or_else(|| material.curve())
    }
}
