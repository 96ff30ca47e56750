//! The fit against certified regressions.
//!
//! NIST/ITL Statistical Reference Datasets, nonlinear regression, <https://www.itl.nist.gov/div898/strd/> (read), with
//! figures in `data/least_squares.json`: data, two starts each, certified parameters and standard deviations. JCGM
//! 100:2008, H.3 (readings read, results recomputed): a straight line with correlated parameters.
//!
//! Nothing is known before: flat priors. Nothing is known of the readings' uncertainty either: u = 1, and the parameters'
//! uncertainties are multiplied by the root of the reduced χ², as the certified ones were.

use super::say::{list, number, relative, text};
use roulade_stats::least_squares::{Loss, Outcome, fit};
use roulade_stats::least_squares::{Observation, Prior};
use serde_json::Value;

fn data() -> Value {
    serde_json::from_str(include_str!("data/least_squares.json")).unwrap()
}

fn polynomial(b: &[f64], x: f64) -> f64 {
    b.iter().rev().fold(0.0, |sum, b| sum * x + b)
}

/// The certified models, by the name of their set.
fn model(set: &str, b: &[f64], x: f64) -> f64 {
    match set {
        "Hahn1" | "Thurber" => polynomial(&b[..4], x) / (1.0 + x * polynomial(&b[4..], x)),
        "Lanczos3" => b[0] * (-b[1] * x).exp() + b[2] * (-b[3] * x).exp() + b[4] * (-b[5] * x).exp(),
        "MGH09" => b[0] * (x * x + x * b[1]) / (x * x + x * b[2] + b[3]),
        "Misra1a" => b[0] * (1.0 - (-b[1] * x).exp()),
        "Rat43" => b[0] / (1.0 + (b[1] - b[2] * x).exp()).powf(1.0 / b[3]),
        other => panic!("no model for {other}"),
    }
}

/// −log₁₀ of the largest relative error.
fn digits(pairs: impl Iterator<Item = (f64, f64)>) -> f64 {
    pairs
        .map(|(certified, found)| -((found - certified) / certified).abs().max(1e-11).log10())
        .fold(11.0, f64::min)
}

fn fitted(name: &str, set: &Value, start: &str) -> Outcome {
    let rows: Vec<(f64, f64)> =
        list(set, "/data").iter().map(|r| (number(r, "/0"), number(r, "/1"))).collect();
    let readings: Vec<Observation> = rows.iter().map(|(y, _)| Observation { value: *y, u: 1.0 }).collect();
    let priors: Vec<Prior> = list(set, "/parameters").iter().map(|p| Prior::flat(number(p, start))).collect();
    fit(&priors, &readings, Loss::Normal, |b| Some(rows.iter().map(|(_, x)| model(name, b, *x)).collect()))
        .unwrap()
}

/// All sets here, from both starts: converged, parameters to six digits and standard deviations to five.
///
/// Six digits are what a fit with numeric derivatives should reach where the residuals are not small against the readings;
/// the certified figures have eleven.
#[test]
fn certified_regressions() {
    let data = data();
    println!("set, start: digits of parameters, of standard deviations, of the sum of squares; steps");
    let mut short = Vec::new();
    for (name, set) in data["sets"].as_object().unwrap() {
        for start in ["/start_1", "/start_2"] {
            let found = fitted(name, set, start);
            let parameters = list(set, "/parameters");
            let certified = |p: &Value| number(p, "/certified");
            let of_parameters =
                digits(parameters.iter().map(certified).zip(found.parameters.iter().copied()));
            let root = found.reduced.unwrap().sqrt();
            let of_u = digits(
                parameters.iter().enumerate().map(|(i, p)| (number(p, "/certified_sd"), found.u(i) * root)),
            );
            let of_squares =
                digits(std::iter::once((number(set, "/residual_sum_of_squares"), found.chi_square)));
            println!(
                "{name}{start}: {of_parameters:.1}, {of_u:.1}, {of_squares:.1}; {} steps, {:?}",
                found.iterations, found.ending
            );
            // The degrees of freedom are in the certified figures twice: as a number and in the residual deviation. For
            // Rat43 the number is 9, but 15 readings of 4 parameters leave 11, and so does the deviation.
            let deviation = number(set, "/residual_sd");
            let implied = number(set, "/residual_sum_of_squares") / (deviation * deviation);
            assert!((found.degrees as f64 - implied).abs() < 1e-6, "{name}: {implied}");
            let agree = (number(set, "/degrees_of_freedom") - implied).abs() < 1e-6;
            assert_eq!(agree, name != "Rat43", "{name}");
            if !found.converged || of_parameters < 6.0 || of_u < 5.0 || !found.undetermined.is_empty() {
                short.push(format!("{name}{start}"));
            }
        }
    }
    assert!(short.is_empty(), "{short:?}");
}

/// JCGM 100:2008, H.3: b = y₁ + y₂ (t − 20); printed y₁ = −0.1712 (29), y₂ = 0.00218 (67), r = −0.930, and at 30 °C
/// −0.1494 (41).
#[test]
fn thermometer_line() {
    let data = data();
    let line = &data["line"];
    let numbers = |key: &str| -> Vec<f64> { list(line, key).iter().map(|v| v.as_f64().unwrap()).collect() };
    let (t, b) = (numbers("/t"), numbers("/b"));
    let readings: Vec<Observation> = b.iter().map(|b| Observation { value: *b, u: 1.0 }).collect();
    let found = fit(&[Prior::flat(0.0); 2], &readings, Loss::Normal, |y| {
        Some(t.iter().map(|t| y[0] + y[1] * (t - 20.0)).collect())
    })
    .unwrap();
    let (c, s2) = (&found.covariance, found.reduced.unwrap());
    let u = |v: f64| (v * s2).sqrt();
    // Derivatives are numeric: ten digits or so.
    for (key, computed) in [
        ("y1", found.parameters[0]),
        ("y2", found.parameters[1]),
        ("u1", u(c[(0, 0)])),
        ("u2", u(c[(1, 1)])),
        ("r", found.correlation[(0, 1)]),
        ("s", s2.sqrt()),
        ("ssr", found.chi_square),
        ("b30", found.parameters[0] + 10.0 * found.parameters[1]),
        ("u_b30", u(c[(0, 0)] + 20.0 * c[(0, 1)] + 100.0 * c[(1, 1)])),
    ] {
        relative(key, number(line, &format!("/expected/{key}")), computed, 1e-8);
    }
    assert_eq!(found.degrees, 9);
    assert!(text(line, "/published").contains("-0.1712 (29)"));
}
