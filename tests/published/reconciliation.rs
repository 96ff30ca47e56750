//! Reconciling against published plants: measured flows that must balance.
//!
//! Figures in `data/reconciliation.json`, each with its source: flows, variances and balances were read, reconciled values
//! and tests recomputed from them. A balance is a reading of zero with an uncertainty of 10⁻⁵ of the smallest beside it;
//! what it does not force shifts results by the square of that. The parameters are the true flows, with flat priors.

use super::say::{list, number, relative, text, within};
use roulade_stats::least_squares::distribution::chi_square_tail;
use roulade_stats::least_squares::outlier::{outliers, sidak};
use roulade_stats::least_squares::{Loss, Outcome, fit};
use roulade_stats::least_squares::{Observation, Prior};
use serde_json::Value;

const FORCED: f64 = 1e-5;

fn data() -> Value {
    serde_json::from_str(include_str!("data/reconciliation.json")).unwrap()
}

fn numbers(row: &Value, pointer: &str) -> Vec<f64> {
    let at = |(i, _): (usize, &Value)| number(row, &format!("{pointer}/{i}"));
    list(row, pointer).iter().enumerate().map(at).collect()
}

/// Measured values and uncertainties, and relations that shall be zero.
fn reconciled(
    priors: &[Prior],
    measured: &[f64],
    u: &[f64],
    scales: &[f64],
    relations: impl Fn(&[f64]) -> Vec<f64>,
) -> Outcome {
    forced(FORCED, priors, measured, u, scales, relations)
}

fn forced(
    part: f64,
    priors: &[Prior],
    measured: &[f64],
    u: &[f64],
    scales: &[f64],
    relations: impl Fn(&[f64]) -> Vec<f64>,
) -> Outcome {
    let mut readings: Vec<Observation> =
        measured.iter().zip(u).map(|(value, u)| Observation { value: *value, u: *u }).collect();
    readings.extend(scales.iter().map(|scale| Observation { value: 0.0, u: part * scale }));
    fit(priors, &readings, Loss::Normal, |x| Some([&x[..measured.len()], &relations(x)].concat())).unwrap()
}

/// Curved relations are forced little by little: a stiff curved valley is slow to follow from afar.
fn curved(
    priors: &[Prior],
    measured: &[f64],
    u: &[f64],
    scales: &[f64],
    relations: impl Fn(&[f64]) -> Vec<f64>,
) -> Outcome {
    let mut priors = priors.to_vec();
    for part in [1e-1, 1e-2, 1e-3, 1e-4] {
        let softer = forced(part, &priors, measured, u, scales, &relations);
        println!("relations to {part}: {} steps, {:?}", softer.iterations, softer.ending);
        priors = softer.parameters.iter().map(|x| Prior::flat(*x)).collect();
    }
    let last = reconciled(&priors, measured, u, scales, relations);
    println!("relations to {FORCED}: {} steps, {:?}", last.iterations, last.ending);
    last
}

/// Values, standard deviations, χ², its probability, the measurement test and its limit, of every linear case.
#[test]
fn balances() {
    let data = data();
    for row in list(&data, "/balances") {
        let name = text(row, "/name");
        println!("{name}: {} ({})", text(row, "/source"), text(row, "/attested"));
        let measured = numbers(row, "/inputs/measured");
        let u: Vec<f64> = numbers(row, "/inputs/variance").iter().map(|v| v.sqrt()).collect();
        let rows: Vec<Vec<f64>> =
            (0..list(row, "/inputs/A").len()).map(|i| numbers(row, &format!("/inputs/A/{i}"))).collect();
        let flat: Vec<Prior> = measured.iter().map(|m| Prior::flat(*m)).collect();
        let least = u.iter().copied().fold(f64::INFINITY, f64::min);
        let found = reconciled(&flat, &measured, &u, &vec![least; rows.len()], |x| {
            rows.iter().map(|row| row.iter().zip(x).map(|(a, x)| a * x).sum()).collect()
        });
        assert!(found.converged && found.undetermined.is_empty(), "{name}: {:?}", found.ending);
        // Printed to ten decimals.
        for (i, expected) in numbers(row, "/expected/reconciled").iter().enumerate() {
            within(&format!("{name}, flow {i}"), *expected, found.parameters[i], 1e-8 * expected.max(1.0));
        }
        for (i, expected) in numbers(row, "/expected/reconciled_sd").iter().enumerate() {
            relative(&format!("{name}, sd of flow {i}"), *expected, found.u(i), 1e-7);
        }
        let expected = |key: &str| number(row, &format!("/expected/{key}"));
        relative(&format!("{name}, global test"), expected("global_test"), found.chi_square, 1e-8);
        within(&format!("{name}, degrees of freedom"), expected("dof"), found.degrees as f64, 0.0);
        relative(&format!("{name}, p"), expected("p_value"), found.probability.unwrap(), 1e-7);
        let critical = chi_square_tail(expected("chi2_95"), found.degrees as f64);
        relative(&format!("{name}, limit of the global test"), 0.05, critical, 1e-10);
        let tested = outliers(&found, 0.05);
        relative(&format!("{name}, limit of z"), expected("sidak_z_crit"), tested.critical, 1e-10);
        // A flow whose balances leave it little freedom has a small residual over a small deviation.
        for (i, expected) in numbers(row, "/expected/measurement_test_z").iter().enumerate() {
            let z = tested.z[i].unwrap().abs();
            within(&format!("{name}, z of flow {i}"), *expected, z, 1e-6 * expected.max(1.0));
        }
    }
}

fn case<'a>(data: &'a Value, name: &str) -> &'a Value {
    list(data, "/balances").iter().find(|row| text(row, "/name") == name).unwrap()
}

/// A bias of four standard deviations put on the second flow is named, and nothing else; without it nothing is.
#[test]
fn a_planted_bias_is_named() {
    let data = data();
    let of = |name: &str| {
        let row = case(&data, name);
        let rows: Vec<Vec<f64>> = (0..4).map(|i| numbers(row, &format!("/inputs/A/{i}"))).collect();
        let measured = numbers(row, "/inputs/measured");
        let flat: Vec<Prior> = measured.iter().map(|m| Prior::flat(*m)).collect();
        let found = reconciled(&flat, &measured, &[1.0; 6], &[1.0; 4], |x| {
            rows.iter().map(|row| row.iter().zip(x).map(|(a, x)| a * x).sum()).collect()
        });
        outliers(&found, 0.05)
    };
    assert!(of("hx_bypass").outliers.is_empty());
    let biased = of("hx_bypass_bias4_on_F2");
    assert_eq!(biased.outliers.len(), 1, "{biased:?}");
    assert_eq!((biased.outliers[0].reading, biased.outliers[0].or.len()), (1, 0));
    println!(
        "bias 4 on the second flow: z {:.4}, error {:.3}",
        biased.outliers[0].z, biased.outliers[0].error
    );
    // The others put it at 4 − 0.075, by their own scatter: z·√(its variance ratio of 3/2).
    within("estimated bias", 3.925, biased.outliers[0].error, 1e-6);
}

/// In one balance of three flows every flow has the same z: any may be wrong, and all are told.
#[test]
fn one_balance_cannot_say_which() {
    let data = data();
    let row = case(&data, "mixer_3stream");
    let measured = numbers(row, "/inputs/measured");
    let u: Vec<f64> = numbers(row, "/inputs/variance").iter().map(|v| v.sqrt()).collect();
    let flat: Vec<Prior> = measured.iter().map(|m| Prior::flat(*m)).collect();
    let found = reconciled(&flat, &measured, &u, &[0.09], |x| vec![x[0] - x[1] - x[2]]);
    let tested = outliers(&found, 0.05);
    assert_eq!(tested.outliers.len(), 1);
    assert_eq!((tested.outliers[0].reading, tested.outliers[0].or.as_slice()), (0, [1, 2].as_slice()));
    relative("limit for three tests", sidak(3, 0.05), tested.critical, 1e-12);
}

/// Six curved relations between five measured and three unmeasured quantities, C. C. D. Pai and G. D. Fisher, Am. Inst. Chem. Eng. J. 34
/// (1988) 873 (relations from memory; they hold to rounding at the solution, which was found with 40 digits).
#[test]
fn curved_relations_with_unmeasured_quantities() {
    let data = data();
    let mut seen = 0;
    for row in list(&data, "/curved") {
        let Some((_, right)) = text(row, "/name").split_once("pai_fisher_1988_rhs1=") else { continue };
        let right: f64 = right.parse().unwrap();
        let relations = |q: &[f64]| {
            let [x1, x2, x3, x4, x5, u1, u2, u3] = q.try_into().unwrap();
            vec![
                0.5 * x1 * x1 - 0.7 * x2 + x3 * u1 + x2 * x2 * u1 * u2 + 2.0 * x3 * u3 * u3 - right,
                x1 - 2.0 * x2 + 3.0 * x1 * x3 - 2.0 * x2 * u1 - x2 * u2 * u3 + 111.2,
                x3 * u1 - x1 + 3.0 * x2 + x1 * u2 - x3 * u3.sqrt() - 33.57,
                x4 - x1 - x3 * x3 + u2 + 3.0 * u3,
                x5 - 2.0 * x3 * u2 * u3,
                2.0 * x1 + x2 * x3 * u1 + u2 - u3 - 126.6,
            ]
        };
        let measured = numbers(row, "/inputs/measured");
        let mut start: Vec<Prior> = measured.iter().map(|m| Prior::flat(*m)).collect();
        // The usual start of the unmeasured (from memory).
        start.extend([11.0, 0.6, 2.0].map(Prior::flat));
        let found = curved(&start, &measured, &[1.0; 5], &[1.0; 6], relations);
        assert!(found.converged && found.undetermined.is_empty(), "{:?}", found.ending);
        for (i, expected) in numbers(row, "/expected/x1_5_u1_3").iter().enumerate() {
            // Differences of terms of some hundreds have 10⁻⁹ of rounding in their derivatives, before they are inverted.
            relative(&format!("quantity {i}"), *expected, found.parameters[i], 3e-7);
        }
        relative("sum of squares", number(row, "/expected/sum_sq"), found.chi_square, 1e-8);
        assert_eq!(found.degrees, 3);
        seen += 1;
    }
    assert_eq!(seen, 2);
}

/// Flows times compositions; the six listed relations are five, and the measured values contradict one another grossly.
#[test]
fn flows_times_compositions() {
    let data = data();
    let row = list(&data, "/curved").iter().find(|row| text(row, "/name") == "bilinear").unwrap();
    let (measured, u) = (numbers(row, "/inputs/measured"), numbers(row, "/inputs/sd"));
    let start: Vec<Prior> = measured.iter().map(|m| Prior::flat(*m)).collect();
    let scales = [1.0, 1.0, 0.005, 0.0005, 0.0002];
    let found = curved(&start, &measured, &u, &scales, |q| {
        let [f1, x11, x12, f2, x21, x22, f3, x31, x32] = q.try_into().unwrap();
        vec![
            f1 * x11 - f2 * x21 - f3 * x31,
            f1 * x12 - f2 * x22 - f3 * x32,
            x11 + x12 - 1.0,
            x21 + x22 - 1.0,
            x31 + x32 - 1.0,
        ]
    });
    assert!(found.converged, "{:?}", found.ending);
    for (i, expected) in numbers(row, "/expected/reconciled").iter().enumerate() {
        relative(&format!("quantity {i}"), *expected, found.parameters[i], 1e-7);
    }
    relative("global test", number(row, "/expected/chi2"), found.chi_square, 1e-7);
    within("degrees of freedom", number(row, "/expected/rank"), found.degrees as f64, 0.0);
    assert!(found.probability.unwrap() < 1e-50);
}
