//! Hosts at one potential, and curves past their windows.

use super::parallel::Line;
use super::*;
use crate::material::find;
use proptest::prelude::*;

fn curve(name: &str) -> Curve {
    find(name).unwrap().curve().unwrap()
}

fn blend(hosts: &[(f64, &Curve)]) -> Option<Blend> {
    let shares: Vec<f64> = hosts.iter().map(|host| host.0).collect();
    Hosts::new(hosts.iter().map(|host| host.1.clone()).collect()).blend(&shares)
}

fn falls(curve: &Blend) -> bool {
    let (low, high) = curve.reach();
    let values: Vec<f64> =
        (0..=20_000).map(|i| curve.potential(low + (high - low) * f64::from(i) / 20_000.0)).collect();
    values.windows(2).all(|w| w[1] < w[0])
}

fn coarse() -> Curve {
    Curve::from_points(&[(0.0, 1.0), (0.1, 0.5), (0.5, 0.3), (1.0, 0.01)]).unwrap()
}

/// With a long plateau and knots at which it is level: the slope of the parabola there rises.
fn level() -> Curve {
    let points = [(0.0, 1.0), (0.05, 0.3), (0.1, 0.299_999), (0.9, 0.299_99), (0.95, 0.1), (1.0, 0.01)];
    Curve::from_points(&points).unwrap()
}

fn apart() -> [Curve; 2] {
    let upper = Curve::from_points(&[(0.0, 1.0), (0.3, 0.9), (0.7, 0.8), (1.0, 0.7)]).unwrap();
    let lower = Curve::from_points(&[(0.0, 0.4), (0.3, 0.3), (0.7, 0.2), (1.0, 0.1)]).unwrap();
    [upper, lower]
}

#[test]
fn one_host_is_itself() {
    let graphite = curve("graphite");
    assert_eq!(blend(&[(0.3, &graphite)]), Some(graphite.clone().into()));
    assert_eq!(blend(&[(0.3, &graphite), (0.0, &curve("silicon"))]), Some(graphite.into()));
    assert_eq!(blend(&[]), None);
    assert_eq!(blend(&[(0.0, &curve("silicon"))]), None);
}

#[test]
fn only_ratios_of_shares_count() {
    let (graphite, silicon) = (curve("graphite"), curve("silicon"));
    assert_eq!(blend(&[(3.0, &graphite), (1.0, &silicon)]), blend(&[(0.75, &graphite), (0.25, &silicon)]));
    let hosts = [(0.75, &graphite), (0.25, &silicon), (-0.1, &coarse())];
    let (three, two) = (blend(&hosts).unwrap(), blend(&hosts[..2]).unwrap());
    assert_eq!(three.reach(), two.reach());
    let (one, other) = (three.ends(), two.ends());
    assert!((one.0 - other.0).abs() < 1e-11 && (one.1 - other.1).abs() < 1e-11);
    for i in 0..=1000 {
        let x = f64::from(i) / 1000.0;
        // Where the blend falls by 1000 V over the whole of x, rounding of x is worth 1e-13 V a bit.
        assert!((three.potential(x) - two.potential(x)).abs() < 1e-11, "{x}");
    }
}

#[test]
fn two_equal_hosts_are_the_one() {
    let graphite = curve("graphite");
    let both = blend(&[(0.3, &graphite), (0.7, &graphite)]).unwrap();
    for i in 0..=1000 {
        let x = f64::from(i) / 1000.0;
        let (u, slope) = both.potential_and_slope(x);
        let error = (u - graphite.potential(x)).abs();
        assert!(error < 1e-14, "{x}: {error:e}");
        assert!((both.antiderivative(x) - graphite.antiderivative(x)).abs() < 1e-15, "{x}");
        // At a knot the slope is that of either side.
        let error = (slope / graphite.potential_and_slope(x).1 - 1.0).abs();
        assert!(x > graphite.reach().1 || error < 1e-6, "{x}: {error:e}");
    }
}

#[test]
fn reaches_over_both_windows() {
    let (graphite, silicon) = (curve("graphite"), curve("silicon"));
    let both = blend(&[(0.8, &graphite), (0.2, &silicon)]).unwrap();
    assert!(falls(&both));
    assert!((both.ends().0 - graphite.ends().0).abs() < 1e-12);
    assert!((both.ends().1 - graphite.ends().1).abs() < 1e-12);
    // Above silicon's curve it waits at its low end, and below it silicon is full.
    assert_eq!(both.reach(), (0.0, 1.0));
    assert!((both.window().0 - 0.8 * 0.001_626_1).abs() < 1e-12);
    assert!((both.window().1 - (0.8 * 0.95 + 0.2)).abs() < 1e-12);
    assert_eq!((both.potential(-3.0), both.potential(f64::INFINITY)), both.ends());
    assert_eq!((both.stoichiometry(9.0), both.stoichiometry(-9.0)), both.reach());
    assert!(both.potential(f64::NAN).is_nan());
}

#[test]
fn a_gap_between_windows_is_a_step_down() {
    let [upper, lower] = apart();
    let both = blend(&[(0.5, &upper), (0.5, &lower)]).unwrap();
    assert!(falls(&both));
    assert!((both.potential(0.5 - 1e-9) - 0.7).abs() < 1e-8);
    assert!((both.potential(0.5 + 1e-9) - 0.4).abs() < 1e-8);
    assert!((both.stoichiometry(0.55) - 0.5).abs() < 1e-15);
    let halves = 0.5 * (upper.antiderivative(1.0) + lower.antiderivative(1.0));
    assert!((both.antiderivative(1.0) - halves).abs() < 1e-15);
    // A voltage that falls inside the gap is met there, by no charge.
    let (at, reached) = both.until((0.1, 0.9), 3.0, |_| (3.55, 1e-3));
    assert!(reached && (at.x - 0.5).abs() < 1e-12 && (at.u - 0.55).abs() < 1e-12, "{at:?}");
}

/// Stretched, every potential past the window lies so much further out, and what is inside stays.
#[test]
fn stretching_moves_what_lies_past_the_window() {
    for (number, (curves, shares)) in blends().into_iter().enumerate() {
        let plain = Hosts::new(curves).blend(shares).unwrap();
        let (low, high) = plain.window();
        let long = plain.clone().stretched(1.4);
        let [from, to] = [plain.reach(), long.reach()];
        assert!((to.0 - (low + 1.4 * (from.0 - low))).abs() < 1e-12);
        assert!((to.1 - (high + 1.4 * (from.1 - high))).abs() < 1e-12);
        let n = 400;
        for i in 0..=n {
            let x = to.0 + (to.1 - to.0) * f64::from(i) / f64::from(n);
            let inner = if x < low {
                low + (x - low) / 1.4
            } else if x > high {
                high + (x - high) / 1.4
            } else {
                x
            };
            assert!((long.potential(x) - plain.potential(inner)).abs() < 1e-9, "blend {number} at {x}");
            // Area is the integral: the trapezium of a short step.
            let h = 1e-5;
            let step = long.antiderivative(x + h) - long.antiderivative(x);
            let mean = 0.5 * (long.potential(x) + long.potential(x + h));
            let width = (x + h).min(to.1) - x;
            let slack = 1e-9 + h * (long.potential(x) - long.potential(x + h)).abs();
            assert!((step - mean * width).abs() < slack, "blend {number} at {x}");
        }
        // It is met from outside too.
        let (top, bottom) = long.ends();
        for part in [0.02, 0.3, 0.98] {
            let u = top + part * (bottom - top);
            let x = long.stoichiometry(u);
            let (at, reached) = long.until(to, 3.5 - u, |_| (3.5, 0.0));
            assert!(reached && (long.potential(at.x) - u).abs() < 1e-6, "blend {number}: {u} at {x}, {at:?}");
        }
    }
}

type Shares = &'static [f64];

fn blends() -> Vec<(Vec<Curve>, Shares)> {
    let (graphite, silicon) = (curve("graphite"), curve("silicon"));
    let [upper, lower] = apart();
    vec![
        (vec![graphite.clone(), silicon.clone()], &[0.9, 0.1]),
        (vec![curve("graphite-SiOx"), silicon.clone()], &[0.5, 0.5]),
        (vec![coarse(), silicon.clone()], &[0.5, 0.5]),
        (vec![coarse(), graphite.clone(), silicon.clone()], &[0.3, 0.3, 0.4]),
        (vec![level(), silicon.clone()], &[0.7, 0.3]),
        (vec![level(), level()], &[0.7, 0.3]),
        (vec![upper.clone(), lower.clone()], &[0.2, 0.8]),
        // More than are moved by Newton's steps.
        (vec![graphite, silicon, coarse(), level(), upper, lower], &[0.1, 0.1, 0.3, 0.2, 0.1, 0.2]),
    ]
}

/// x(U) = Σ fⱼ·xⱼ(U) and ∫U dx = Σ fⱼ·∫U dxⱼ, of the hosts' own tables, to rounding.
#[test]
fn is_the_weighted_sum_of_its_hosts() {
    for (number, (curves, shares)) in blends().into_iter().enumerate() {
        let both = Hosts::new(curves.clone()).blend(shares).unwrap();
        let (top, bottom) = both.ends();
        for i in 0..=2000 {
            let u = top + (bottom - top) * f64::from(i) / 2000.0;
            let of = |f: &dyn Fn(&Curve) -> f64| -> f64 {
                shares.iter().zip(&curves).map(|(share, curve)| share * f(curve)).sum()
            };
            let x = of(&|curve| curve.stoichiometry(u));
            let gap = (both.stoichiometry(u - 1e-6) - both.stoichiometry(u + 1e-6)).abs() < 1e-15;
            let place = both.place(x);
            let error = (place.u - u).abs();
            assert!(gap || error < 1e-12, "blend {number} at {u}: {error:e} V");
            let error = (place.area - of(&|curve| curve.antiderivative(curve.stoichiometry(u)))).abs();
            assert!(error < 1e-14, "blend {number} at {u}: {error:e} V of area");
            assert!((place.x - x).abs() < 1e-15);
        }
    }
}

#[test]
fn halving_finds_what_newton_finds() {
    for (curves, shares) in blends().into_iter().take(4) {
        let Kind::Parallel(hosts) = Hosts::new(curves).blend(shares).unwrap().kind else { panic!() };
        let (low, high) = hosts.window();
        for i in 1..500 {
            let x = low + (high - low) * f64::from(i) / 500.0;
            let line = |_| Line::upright(x);
            let below = hosts.first(|rung| hosts.rung(rung) > x);
            let (newton, slope) = hosts.newton(below, 0.5, &line).unwrap();
            let (halved, also) = hosts.halve(below, &line);
            let (error, slopes) = ((newton.u - halved.u).abs(), (slope / also - 1.0).abs());
            assert!(error < 1e-14 && slopes < 1e-6, "{x}: {error:e} V, {slopes:e}");
        }
    }
}

/// On the way down from just past a long plateau, whose cubic meets the voltage once more beyond the start.
#[test]
fn a_cubic_that_meets_the_voltage_twice_is_met_on_its_stretch() {
    let (curves, shares) = blends().swap_remove(5);
    let both = Hosts::new(curves).blend(shares).unwrap();
    let (from, x, rise) = (0.927_745_318_995_697_9, 0.925_181_477_844_756_2, 1.287_855_341_277_708);
    let (at, reached) = both.until((from, 0.0), 3.5 - both.potential(x), |at| (3.5 + rise * (at - x), rise));
    assert!(reached && (at.x - x).abs() < 1e-9, "{at:?}");
}

proptest! {
    /// A falling cell voltage meets its end where the blend says it does, on the way up and on the way down.
    #[test]
    fn goes_until_the_voltage_is_there(a in 0.0..1.0f64, b in 0.0..1.0f64, met in 0.0..1.0f64, rise in 0.0..2.0f64) {
        for (number, (curves, shares)) in blends().into_iter().enumerate() {
            let both = Hosts::new(curves).blend(shares).unwrap();
            let (low, high) = both.reach();
            let [a, b, x] = [a, b, met].map(|part| low + part * (high - low));
            let other = |at: f64| (3.5 + rise * (at - x), rise);
            let volts = 3.5 - both.potential(x);
            for (from, to) in [(a, b), (b, a)] {
                let (at, reached) = both.until((from, to), volts, other);
                let between = (at.x - from) * (at.x - to) <= 1e-18;
                let excess = other(at.x).0 - at.u - volts;
                prop_assert!(between, "blend {number}: {at:?} from {from} to {to}");
                let on_the_way = (x - from) * (x - to) <= 0.0;
                let beyond = (x - to) * (to - from) > 0.0;
                prop_assert!(!on_the_way || excess.abs() < 1e-10, "blend {number}: {at:?}, {excess:e} from {x}");
                prop_assert!(reached != beyond || (x - to).abs() < 1e-9, "blend {number}: {at:?}, {x}");
                let end = both.place(at.x);
                prop_assert!((end.area - at.area).abs() < 1e-14, "blend {number}");
            }
        }
    }
}
