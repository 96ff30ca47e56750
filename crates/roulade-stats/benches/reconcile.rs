//! What reconciling costs: the fit, the tests of its readings, and what to read next.
//!
//! `cargo bench -p roulade-stats --bench reconcile`.

use divan::{Bencher, black_box};
use roulade_stats::least_squares::next::{Candidate, in_turn};
use roulade_stats::least_squares::outlier::outliers;
use roulade_stats::least_squares::{Loss, Outcome, fit};
use roulade_stats::least_squares::{Observation, Prior};

const READINGS: usize = 100;
const PARAMETERS: usize = 40;

fn main() {
    divan::main();
}

/// Each reading sees a few parameters, a little bent; some 0.4 µs for all.
fn predict(x: &[f64]) -> Vec<f64> {
    let at = |i: usize| x.get(i % PARAMETERS).copied().unwrap_or(0.0);
    (0..READINGS).map(|i| at(i) * (1.0 + 0.1 * at(3 * i + 1)) + 0.5 * at(7 * i + 2) * at(i + 5)).collect()
}

fn case() -> (Vec<Prior>, Vec<Observation>) {
    let truth: Vec<f64> = (0..PARAMETERS).map(|i| 1.0 + 0.02 * (i * 7919 % 31) as f64).collect();
    let readings = predict(&truth)
        .iter()
        .enumerate()
        .map(|(i, h)| Observation { value: h + 0.01 * ((i * 7 % 11) as f64 - 5.0), u: 0.02 })
        .collect();
    (vec![Prior::new(1.0, 0.5); PARAMETERS], readings)
}

fn fitted(loss: Loss) -> Outcome {
    let (priors, readings) = case();
    fit(black_box(&priors), black_box(&readings), loss, |x| Some(predict(x))).expect("it fits")
}

#[divan::bench]
fn predictions(bencher: Bencher) {
    let x = vec![1.1; PARAMETERS];
    bencher.bench(|| predict(black_box(&x)));
}

#[divan::bench]
fn fit_100_readings_40_parameters(bencher: Bencher) {
    assert!(fitted(Loss::Normal).converged);
    bencher.bench(|| fitted(Loss::Normal));
}

#[divan::bench]
fn the_same_under_students_loss(bencher: Bencher) {
    assert!(fitted(Loss::Student { nu: 4.0 }).converged);
    bencher.bench(|| fitted(Loss::Student { nu: 4.0 }));
}

#[divan::bench]
fn readings_to_doubt(bencher: Bencher) {
    let outcome = fitted(Loss::Normal);
    bencher.bench(|| outliers(black_box(&outcome), 0.05));
}

#[divan::bench]
fn ten_readings_to_take_next_of_100(bencher: Bencher) {
    let outcome = fitted(Loss::Normal);
    let candidates: Vec<Candidate> = (0..READINGS)
        .map(|i| Candidate { row: outcome.jacobian.row(i).iter().copied().collect(), u: 0.02 })
        .collect();
    let gradient = vec![1.0; PARAMETERS];
    bencher.bench(|| in_turn(black_box(&outcome.covariance), &gradient, &candidates, 10));
}
