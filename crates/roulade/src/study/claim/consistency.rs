//! Declared figures against one another by arithmetic: 26 Ah × 3.7 V ÷ 355 g is 271 Wh/kg, whatever else is declared.
//!
//! Capacity, mean voltage, mass and outer volume determine energy and both energy densities. In logarithms all of that is
//! linear, so that the figures are fitted by least squares, each with the uncertainty of its rounding and of what is not
//! stated, and a figure without which the others agree best is one that strains.

use super::basis::Basis;
use super::declared::{Claim, Relation};
use super::list::List;
use crate::quantity::notation;
use crate::quantity::units::Unit;
use nalgebra::{DVector, SMatrix, SVector};
use roulade_stats::maths::ln;
use roulade_stats::order;

/// A quantity of the arithmetic where it is not declared, SI, and its standard uncertainty.
pub(super) type Stand = (f64, f64);

/// How far one declared figure is from what others make of it.
#[derive(Clone, Debug)]
pub struct Relationship {
    /// The arithmetic: "26 Ah × 3.66 V ÷ 355 g".
    pub text: String,
    /// Place of the figure that it gives, among the claims.
    pub figure: usize,
    /// What it gives, SI, and its standard uncertainty: rounding, and what is not stated.
    pub gives: (f64, f64),
    /// What is declared, over what it gives, less one.
    pub off: f64,
    /// The same in standard uncertainties of both together, signed; nothing where a bound holds.
    pub deviations: f64,
}

/// How far declared figures go together.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Agreement {
    /// No two of them determine a third.
    Untested,
    /// Within twice the tolerance.
    Agree,
    /// Beyond that, within three times.
    Strained,
    /// Beyond three times.
    Disagree,
}

/// Declared figures held against one another.
#[derive(Clone, Debug)]
pub struct Consistency {
    /// Each figure that others determine.
    pub relationships: Vec<Relationship>,
    /// What becomes of them.
    pub agreement: Agreement,
    /// Places of the figures without any one of which the others agree best; none where all agree.
    pub strains: Vec<usize>,
}

/// Where strain begins and where agreement ends, standard uncertainties.
const BOUNDS: (f64, f64) = (2.0, 3.0);

/// Standard uncertainty, as a share, of a figure that does not say whether it is a minimum or typical, at which rate and
/// temperature; and of one that does. Common practice, no source.
const UNSAID: f64 = 0.01;
const SAID: f64 = 0.004;

const CAPACITY: [&str; 2] = ["capacity", "loaded_capacity"];
const ENERGY: [&str; 2] = ["energy", "loaded_energy"];
const VOLTAGE: [&str; 1] = ["mean_voltage"];
const MASS: [&str; 1] = ["mass"];
const VOLUME: [&str; 1] = ["envelope"];
const BY_MASS: [&str; 2] = ["gravimetric", "loaded_gravimetric"];
const BY_VOLUME: [&str; 2] = ["volumetric", "loaded_volumetric"];

/// One factor of the arithmetic.
#[derive(Clone, Debug)]
struct Factor {
    text: String,
    value: f64,
    /// Relative standard uncertainty.
    u: f64,
}

impl Factor {
    fn declared(claim: &Claim) -> Self {
        let half = claim.rounding.half() * claim.unit.in_si();
        let other = if claim.standing.is_some() { SAID } else { UNSAID };
        let rounding = half / 3f64.sqrt() / claim.value.abs();
        Self {
            text: format!("{} {}", claim.rounding.written, claim.unit.symbol()),
            value: claim.value / claim.factor(),
            u: (rounding * rounding + other * other).sqrt(),
        }
    }

    fn taken((value, u): Stand, unit: Unit) -> Self {
        Self { text: notation::print(value, u, unit), value, u: u / value }
    }
}

/// A product of factors, some of them divided by.
#[derive(Clone, Debug)]
struct Product(Factor);

impl Product {
    fn times(self, other: &Factor) -> Self {
        self.with(other, "×", other.value)
    }

    fn over(self, other: &Factor) -> Self {
        self.with(other, "÷", 1.0 / other.value)
    }

    fn with(self, other: &Factor, sign: &str, by: f64) -> Self {
        let own = self.0;
        Self(Factor {
            text: format!("{} {sign} {}", own.text, other.text),
            value: own.value * by,
            u: (own.u * own.u + other.u * other.u).sqrt(),
        })
    }
}

impl Consistency {
    /// Of a list of claims, with the mean voltage of the chemistry and the outer volume of the cell where they are not
    /// declared.
    pub fn of(list: &List, voltage: (f64, f64), volume: (f64, f64)) -> Self {
        let fits = |claim: &Claim| {
            matches!(claim.basis, Basis::Cell | Basis::Bare | Basis::Nominal) && claim.over.is_none()
        };
        // A bound beside a value of the same figure says less.
        let first = |ids: &'static [&'static str]| {
            let all = || list.of(ids).filter(|(_, claim)| fits(claim));
            all().find(|(_, claim)| claim.relation == Relation::About).or_else(|| all().next())
        };
        let factor = |ids| first(ids).map(|(_, claim)| Factor::declared(claim));
        let unsaid = |(value, u): Stand, share: f64| (value, (u * u + share * share * value * value).sqrt());
        // A nominal voltage is not the mean at open circuit: the drop at a low rate is some hundredths of a volt.
        let voltage = factor(&VOLTAGE).unwrap_or_else(|| Factor::taken(unsaid(voltage, 0.008), Unit::Volt));
        let volume =
            factor(&VOLUME).unwrap_or_else(|| Factor::taken(unsaid(volume, 0.002), Unit::CubicCentimetre));
        let (capacity, mass) = (factor(&CAPACITY), factor(&MASS));
        let of_capacity = capacity.map(|capacity| Product(capacity).times(&voltage));
        let energy = factor(&ENERGY).map(Product).or_else(|| of_capacity.clone());
        let by_mass = factor(&BY_MASS);
        let mut found: Vec<Relationship> = Vec::new();
        let mut hold = |ids, product: Option<Product>| {
            if let (Some((figure, claim)), Some(Product(gives))) = (first(ids), product) {
                found.push(relationship(figure, claim, &gives));
            }
        };
        hold(&ENERGY, of_capacity);
        hold(&BY_MASS, energy.clone().zip(mass.as_ref()).map(|(energy, mass)| energy.over(mass)));
        let by_volume = match (&energy, by_mass, &mass) {
            (None, Some(by_mass), Some(mass)) => Some(Product(by_mass).times(mass)),
            _ => energy,
        };
        hold(&BY_VOLUME, by_volume.map(|energy| energy.over(&volume)));
        let furthest = found.iter().map(|one| one.deviations.abs()).fold(0.0, f64::max);
        let agreement = match furthest {
            _ if found.is_empty() => Agreement::Untested,
            z if z <= BOUNDS.0 => Agreement::Agree,
            z if z <= BOUNDS.1 => Agreement::Strained,
            _ => Agreement::Disagree,
        };
        let strains = if agreement >= Agreement::Strained {
            strains(list, fits, (voltage.value, voltage.u), (volume.value, volume.u))
        } else {
            Vec::new()
        };
        Self { relationships: found, agreement, strains }
    }
}

fn relationship(figure: usize, claim: &Claim, gives: &Factor) -> Relationship {
    let declared = Factor::declared(claim);
    let off = declared.value / gives.value - 1.0;
    let z = off / (declared.u * declared.u + gives.u * gives.u).sqrt();
    let deviations = match claim.relation {
        Relation::About => z,
        Relation::AtLeast => z.max(0.0),
        Relation::AtMost => z.min(0.0),
    };
    Relationship {
        text: gives.text.clone(),
        figure,
        gives: (gives.value, gives.u * gives.value),
        off,
        deviations,
    }
}

/// Logarithms of capacity, voltage, mass and volume in that of a figure.
fn exponents(id: &str) -> Option<[f64; 4]> {
    let rows: [(&[&str], [f64; 4]); 7] = [
        (&CAPACITY, [1.0, 0.0, 0.0, 0.0]),
        (&VOLTAGE, [0.0, 1.0, 0.0, 0.0]),
        (&MASS, [0.0, 0.0, 1.0, 0.0]),
        (&VOLUME, [0.0, 0.0, 0.0, 1.0]),
        (&ENERGY, [1.0, 1.0, 0.0, 0.0]),
        (&BY_MASS, [1.0, 1.0, -1.0, 0.0]),
        (&BY_VOLUME, [1.0, 1.0, 0.0, -1.0]),
    ];
    rows.iter().find(|(ids, _)| ids.contains(&id)).map(|(_, exponents)| *exponents)
}

/// The figures without any one of which the others agree best: those whose leaving lowers the sum of squares most, within
/// four of one another (two standard uncertainties).
fn strains(
    list: &List,
    fits: impl Fn(&Claim) -> bool,
    voltage: (f64, f64),
    volume: (f64, f64),
) -> Vec<usize> {
    let mut rows: Vec<(Option<usize>, [f64; 4], f64, f64)> = vec![
        (None, [0.0, 1.0, 0.0, 0.0], ln(voltage.0), voltage.1),
        (None, [0.0, 0.0, 0.0, 1.0], ln(volume.0), volume.1),
    ];
    for (i, claim) in list.claims.iter().enumerate().filter(|(_, claim)| fits(claim)) {
        if let Some(exponents) = exponents(claim.figure.id)
            && claim.value > 0.0
            && !VOLTAGE.contains(&claim.figure.id)
            && !VOLUME.contains(&claim.figure.id)
        {
            let factor = Factor::declared(claim);
            rows.push((Some(i), exponents, ln(factor.value), factor.u));
        }
    }
    let squares = |without: Option<usize>| {
        let kept: Vec<_> = rows.iter().filter(|row| row.0.is_none() || row.0 != without).collect();
        least(&kept.iter().map(|row| (row.1, row.2, row.3)).collect::<Vec<_>>())
    };
    let whole = squares(None);
    let mut drops: Vec<(usize, f64)> =
        rows.iter().filter_map(|row| Some((row.0?, whole - squares(row.0)))).collect();
    order::by(&mut drops, |a, b| b.1.total_cmp(&a.1));
    let most = drops.first().map_or(0.0, |(_, drop)| *drop);
    let mut strains: Vec<usize> =
        drops.into_iter().filter(|(_, drop)| *drop > 0.0 && most - drop <= 4.0).map(|(i, _)| i).collect();
    strains.sort_unstable();
    strains
}

/// Sum of squares that a fit leaves. What nothing determines is held loosely at nothing, which costs nothing that shows.
fn least(rows: &[([f64; 4], f64, f64)]) -> f64 {
    const LOOSE: f64 = 1e-8;
    let mut normal = SMatrix::<f64, 4, 4>::identity() * LOOSE;
    let mut right = SVector::<f64, 4>::zeros();
    for (exponents, value, u) in rows {
        let row = SVector::<f64, 4>::from_column_slice(exponents) / *u;
        normal += row * row.transpose();
        right += row * (value / u);
    }
    let Some(factor) = normal.cholesky() else { return 0.0 };
    let fit = factor.solve(&right);
    let misses = rows
        .iter()
        .map(|(exponents, value, u)| (value - SVector::<f64, 4>::from_column_slice(exponents).dot(&fit)) / u);
    DVector::from_iterator(rows.len(), misses).norm_squared()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::study::claim::Said;

    fn of(text: &str) -> (List, Consistency) {
        let list = List::read(&[Said::Words(text.to_owned())]).unwrap();
        // A cell of 3.7 V in a can of 46 mm × 80 mm: 132.95 mL by hand.
        let consistency = Consistency::of(&list, (3.7, 0.02), (132.95e-6, 0.1e-6));
        (list, consistency)
    }

    /// 26 Ah × 3.70 V ÷ 355 g = 271 Wh/kg and 26 Ah × 3.70 V ÷ 132.95 mL = 724 Wh/L, by hand.
    #[test]
    fn a_figure_that_others_determine() {
        let (_, found) = of("26 Ah, 355 g, 300 Wh/kg, 750 Wh/L");
        let [by_mass, by_volume] = found.relationships.as_slice() else { panic!("{found:?}") };
        assert!(by_mass.text.starts_with("26 Ah × 3.70"), "{}", by_mass.text);
        assert!((by_mass.gives.0 / Unit::WattHourPerKilogram.in_si() - 271.0).abs() < 0.1);
        assert!((by_volume.gives.0 / Unit::WattHourPerLitre.in_si() - 723.6).abs() < 0.1);
        assert!((by_mass.off - 0.107).abs() < 1e-3 && by_mass.deviations > 3.0);
        assert_eq!(found.agreement, Agreement::Disagree);
        // Without the mass, or the figure by mass, the others agree to 3.6 %.
        assert_eq!(found.strains, [1, 2]);
    }

    #[test]
    fn figures_that_agree_and_figures_that_say_nothing_of_one_another() {
        assert_eq!(of("26 Ah, 355 g, 270 Wh/kg").1.agreement, Agreement::Agree);
        assert_eq!(of("26 Ah, at least 250 Wh/kg, 355 g").1.agreement, Agreement::Agree);
        assert_eq!(of("26 Ah, at least 300 Wh/kg, 355 g").1.agreement, Agreement::Disagree);
        assert_eq!(of("26 Ah, 355 g").1.agreement, Agreement::Untested);
        assert_eq!(of("26 Ah, 120 Wh").1.agreement, Agreement::Disagree);
        assert_eq!(of("300 Wh/kg, 355 g, 800 Wh/L").1.agreement, Agreement::Agree);
        // A voltage that is declared takes the place of the chemistry's.
        let (_, found) = of("26 Ah, 3.2 V, 83 Wh");
        assert!(found.agreement == Agreement::Agree && found.relationships[0].text == "26 Ah × 3.2 V");
    }

    /// Where one relation alone is broken any of its figures may be the one.
    #[test]
    fn of_one_relation_every_figure_may_strain() {
        assert_eq!(of("26 Ah, 355 g, 320 Wh/kg").1.strains, [0, 1, 2]);
        // Three that agree, and a mass beside them.
        assert_eq!(of("26 Ah, 96 Wh, 724 Wh/L, 300 g, 271 Wh/kg").1.strains, [3, 4]);
        assert_eq!(of("30 Ah, 96 Wh, 724 Wh/L, 355 g, 271 Wh/kg").1.strains, [0]);
    }
}
