//! The search on published test problems, each with its optimum.
//!
//! Sources: G06 and G08, Liang et al., Problem definitions and evaluation criteria for the CEC 2006 special session on
//! constrained real-parameter optimization, Nanyang Technological University (2006) (definitions and optima from memory).
//! ZDT1: Zitzler, Deb and Thiele, Evol. Comput. 8 (2000) 173, doi 10.1162/106365600568202 (from memory); its front is
//! f₂ = 1 − √f₁. Binh and Korn's problem: Proc. Third Int. Mendel Conf. Genetic Algorithms, Brno (1997) 176 (from memory);
//! its front is x₁ = x₂ up to 3, then x₂ = 3 (derived: Deb, Multi-Objective Optimization, Wiley (2001), from memory).

use super::say::{relative, within};
use roulade_search::{Trial, best, front};

/// How much of each constraint `g ≤ 0` is broken.
fn broken(constraints: &[f64]) -> f64 {
    constraints.iter().map(|g| g.max(0.0)).sum()
}

fn to(part: f64, low: f64, high: f64) -> f64 {
    low + part * (high - low)
}

/// A sliver of a feasible set between two circles; the optimum lies where both bind, −6961.81388 at (14.095, 0.84296).
#[test]
fn g06_between_two_circles() {
    let at = |p: &[f64]| (to(p[0], 13.0, 100.0), to(p[1], 0.0, 100.0));
    let trial = |p: &[f64]| {
        let (x, y) = at(p);
        let least = (x - 10.0).powi(3) + (y - 20.0).powi(3);
        let constraints =
            [100.0 - (x - 5.0).powi(2) - (y - 5.0).powi(2), (x - 6.0).powi(2) + (y - 5.0).powi(2) - 82.81];
        Some(Trial { scores: [-least], broken: broken(&constraints) })
    };
    for seed in 1..=3 {
        let (place, tried) = best(2, &[0.5, 0.5], seed, 50_000, trial).unwrap();
        let found = trial(&place).unwrap();
        assert!(found.broken == 0.0 && tried <= 50_100, "{found:?} {tried}");
        relative("G06", -6_961.813_88, -found.scores[0], 1e-6);
        within("G06, x₁", 14.095, at(&place).0, 1e-4);
    }
}

/// Many peaks and two constraints: 0.0958250 at (1.2279713, 4.2453733).
#[test]
#[allow(clippy::disallowed_methods, reason = "a test problem of its own")]
fn g08_with_many_peaks() {
    use std::f64::consts::TAU;
    let trial = |p: &[f64]| {
        let (x, y) = (to(p[0], 0.0, 10.0), to(p[1], 0.0, 10.0));
        let value = (TAU * x).sin().powi(3) * (TAU * y).sin() / (x.powi(3) * (x + y));
        let constraints = [x * x - y + 1.0, 1.0 - x + (y - 4.0).powi(2)];
        value.is_finite().then(|| Trial { scores: [value], broken: broken(&constraints) })
    };
    for seed in 1..=3 {
        let (place, _) = best(2, &[0.5, 0.5], seed, 50_000, trial).unwrap();
        relative("G08", 0.095_825_0, trial(&place).unwrap().scores[0], 1e-5);
        within("G08, x₁", 1.227_971, to(place[0], 0.0, 10.0), 1e-4);
    }
}

/// Thirty inputs and 25,000 trials, as in the paper of NSGA-II (Deb, Pratap, Agarwal and Meyarivan, IEEE Trans. Evol.
/// Comput. 6 (2002) 182, doi 10.1109/4235.996017), whose points lay 0.0335 from the front on average (real-coded, from
/// memory): its own measure, the distance to the nearest of 500 points on the front.
#[test]
fn zdt1_front() {
    let trial = |p: &[f64]| {
        let g = 1.0 + 9.0 * p[1..].iter().sum::<f64>() / 29.0;
        let f = [p[0], g * (1.0 - (p[0] / g).sqrt())];
        Some(Trial { scores: f.map(|f| -f), broken: 0.0 })
    };
    let (places, tried) = front(30, &[0.5; 30], 1, 25_000, trial);
    assert!(tried <= 25_100, "{tried}");
    let points: Vec<[f64; 2]> = places.iter().map(|p| trial(p).unwrap().scores.map(|f| -f)).collect();
    let on_front = (0..500).map(|i| f64::from(i) / 499.0).map(|f| [f, 1.0 - f.sqrt()]).collect::<Vec<_>>();
    let away =
        |[a, b]: &[f64; 2]| on_front.iter().map(|[x, y]| (a - x).hypot(b - y)).fold(f64::INFINITY, f64::min);
    let mean = points.iter().map(away).sum::<f64>() / points.len() as f64;
    within("ZDT1, mean distance from its front", 0.0, mean, 0.0335);
    spread_out("ZDT1", &points, 0.05);
}

/// Two constraints; the front in closed form: f₂ of the best place for the same f₁. A hundred points on a height of 46
/// stand half a unit apart: none lies above the front by more than two such steps, and on average by a fifth of one.
#[test]
fn a_constrained_front() {
    let at = |p: &[f64]| (to(p[0], 0.0, 5.0), to(p[1], 0.0, 3.0));
    let trial = |p: &[f64]| {
        let (x, y) = at(p);
        let f = [4.0 * (x * x + y * y), (x - 5.0).powi(2) + (y - 5.0).powi(2)];
        let constraints = [(x - 5.0).powi(2) + y * y - 25.0, 7.7 - (x - 8.0).powi(2) - (y + 3.0).powi(2)];
        Some(Trial { scores: f.map(|f| -f), broken: broken(&constraints) })
    };
    let on_front = |first: f64| {
        if first <= 72.0 {
            2.0 * ((first / 8.0).sqrt() - 5.0).powi(2)
        } else {
            ((first / 4.0 - 9.0).sqrt() - 5.0).powi(2) + 4.0
        }
    };
    let (places, _) = front(2, &[0.5, 0.5], 1, 20_000, trial);
    let found: Vec<Trial<2>> = places.iter().map(|place| trial(place).unwrap()).collect();
    assert!(found.iter().all(|found| found.broken == 0.0));
    let points: Vec<[f64; 2]> = found.iter().map(|found| found.scores.map(|f| -f)).collect();
    let above: Vec<f64> = points.iter().map(|[a, b]| b - on_front(*a)).collect();
    within("Binh and Korn, farthest above its front", 0.0, above.iter().copied().fold(0.0, f64::max), 1.0);
    within("Binh and Korn, mean above its front", 0.0, above.iter().sum::<f64>() / above.len() as f64, 0.1);
    let points: Vec<[f64; 2]> = points.iter().map(|[a, b]| [a / 136.0, b / 50.0]).collect();
    spread_out("Binh and Korn", &points, 0.05);
}

/// Neighbours on the front lie no farther apart than this, in parts of the front's width, and its ends are reached.
fn spread_out(what: &str, points: &[[f64; 2]], apart: f64) {
    let mut first: Vec<f64> = points.iter().map(|[a, _]| *a).collect();
    first.sort_by(f64::total_cmp);
    let widest = first.windows(2).map(|pair| pair[1] - pair[0]).fold(0.0, f64::max);
    within(&format!("{what}, widest hole"), 0.0, widest, apart);
    within(&format!("{what}, first end"), 0.0, first[0], 0.02);
    within(&format!("{what}, last end"), 1.0, first[first.len() - 1], 0.02);
    assert!(points.len() > 90);
}

#[test]
fn a_seed_finds_the_same_again() {
    let trial = |p: &[f64]| {
        Some(Trial { scores: [-(p[0] - 0.3).powi(2), -(p[1] - 0.6).powi(2) - p[0]], broken: 0.0 })
    };
    let bits = |seed| {
        let (places, _) = front(2, &[0.5, 0.5], seed, 3000, trial);
        places.into_iter().flatten().map(f64::to_bits).collect::<Vec<_>>()
    };
    assert_eq!(bits(1), bits(1));
    assert_ne!(bits(1), bits(2));
}
