//! Sobol's indices against functions whose indices are known in closed form.

use super::say::within;
use roulade_stats::executor::alone;
use roulade_stats::propagation::sample::{Plan, Sampler};
use roulade_stats::propagation::sensitivity::{Index, indices};
use roulade_stats::uncertain::{Correlation, Uncertain};
use std::f64::consts::PI;

/// First and total index of each input, in their order, each within four of its standard errors; these below `most`.
#[track_caller]
fn held(
    what: &str,
    inputs: &[Uncertain],
    expected: &[[f64; 2]],
    most: f64,
    model: impl Fn(&[f64]) -> f64 + Sync,
) {
    let sampler = Sampler::new(inputs, &Correlation::none());
    let found =
        indices(&sampler, Plan { draws: 60_000, seed: 1993 }, &alone(), || |x: &[f64]| Some(model(x)));
    assert_eq!((found.asked, found.without), ((inputs.len() as u64 + 2) * 60_000, 0));
    for (i, [first, total]) in expected.iter().enumerate() {
        let index: &Index = found.indices.iter().find(|index| index.inputs == [i]).unwrap();
        assert!(index.first_error < most && index.total_error < most, "{what}: {index:?}");
        within(&format!("{what}, first of {i}"), *first, index.first, 4.0 * index.first_error);
        within(&format!("{what}, total of {i}"), *total, index.total, 4.0 * index.total_error + 1e-12);
    }
}

/// Ishigami and Homma, Proc. 1st Int. Symp. Uncertainty Modeling and Analysis (1990) 398, doi 10.1109/ISUMA.1990.151285:
/// sin x₁ + a·sin² x₂ + b·x₃⁴·sin x₁ on (−π, π)³, the variances by integration (from memory, recomputed).
#[test]
fn ishigami() {
    let inputs = [Uncertain::range(-PI, PI); 3];
    for (a, b) in [(7.0, 0.1), (7.0, 0.05)] {
        let (of_1, of_2) = (0.5 * (1.0 + b * PI.powi(4) / 5.0).powi(2), a * a / 8.0);
        let of_13 = b * b * PI.powi(8) * (1.0 / 18.0 - 1.0 / 50.0);
        let all = of_1 + of_2 + of_13;
        let expected = [[of_1 / all, (of_1 + of_13) / all], [of_2 / all, of_2 / all], [0.0, of_13 / all]];
        held("Ishigami", &inputs, &expected, 0.012, |x| {
            x[0].sin() + a * x[1].sin().powi(2) + b * x[2].powi(4) * x[0].sin()
        });
    }
    // 0.3139, 0.4424, 0 and 0.5576, 0.4424, 0.2437 are the figures printed for a = 7, b = 0.1.
    let of_1 = 0.5 * (1.0 + 0.1 * PI.powi(4) / 5.0).powi(2);
    within("Ishigami, V1", 4.345_888_023_894_163, of_1, 1e-12);
}

/// Sobol's g-function, Π (|4xᵢ − 2| + aᵢ)/(1 + aᵢ) on (0, 1)ⁿ: Vᵢ = 1/(3·(1 + aᵢ)²), V = Π(1 + Vᵢ) − 1 (Saltelli and Sobol,
/// Reliab. Eng. Syst. Saf. 50 (1995) 225, doi 10.1016/0951-8320(95)00099-2; from memory, recomputed).
#[test]
fn g_function() {
    for a in [&[0.0, 1.0, 4.5, 9.0, 99.0, 99.0, 99.0, 99.0][..], &[0.0, 0.0, 0.0]] {
        let inputs = vec![Uncertain::range(0.0, 1.0); a.len()];
        let part: Vec<f64> = a.iter().map(|a| 1.0 / (3.0 * (1.0 + a) * (1.0 + a))).collect();
        let product: f64 = part.iter().map(|v| 1.0 + v).product();
        let all = product - 1.0;
        let expected: Vec<[f64; 2]> = part.iter().map(|v| [v / all, v * product / (1.0 + v) / all]).collect();
        held("g-function", &inputs, &expected, 0.02, |x| {
            x.iter().zip(a).map(|(x, a)| ((4.0 * x - 2.0).abs() + a) / (1.0 + a)).product()
        });
    }
    // Of the first: 0.7162 and 0.7871, as printed.
    let product: f64 =
        [1.0, 0.25, 1.0 / 30.25, 0.01, 1e-4, 1e-4, 1e-4, 1e-4].iter().map(|v| 1.0 + v / 3.0).product();
    within("g-function, first of 0", 0.716_192_168_879_033_3, (1.0 / 3.0) / (product - 1.0), 1e-12);
}

/// A product of independent factors with relative uncertainties 10, 20 and 5 %: exact by hand.
#[test]
fn product() {
    let inputs =
        [Uncertain::standard(2.0, 0.2), Uncertain::standard(3.0, 0.6), Uncertain::standard(5.0, 0.25)];
    let expected = [
        [0.188_586_731_037_604_2, 0.196_620_525_779_806_1],
        [0.754_346_924_150_416_7, 0.763_795_119_375_400_6],
        [0.047_146_682_759_401_044, 0.049_522_875_570_474_85],
    ];
    held("product", &inputs, &expected, 0.012, |x| x[0] * x[1] * x[2]);
}
