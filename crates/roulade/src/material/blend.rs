//! Several hosts in one coating share one potential.

use super::Curve;
use super::curve::Knot;

/// Knots nearer than this are one, V.
const SAME: f64 = 1e-9;
/// Largest error of the table halfway between two knots, V; where it is larger, a knot is put there.
const ERROR: f64 = 1e-6;
/// Most halvings between two knots of the components.
const MOST_HALVINGS: u32 = 12;

/// One host of the blend: its share of the host capacity, and its curve.
type Host<'a> = (f64, &'a Curve);

/// The curve of hosts in parallel: `x(U) = Σ fⱼ·xⱼ(U)`, with fⱼ the share of host capacity. Only the ratios of the
/// shares count; `None` where no host has a positive share.
///
/// The blend reaches over the windows of all its hosts. A host past its own window stays at that window's end: it is
/// empty or full, and its curve is not extrapolated. Where the windows of two hosts leave a gap in U, no charge
/// passes inside it: the blend's potential steps straight down at one stoichiometry.
///
/// Knots are the potentials of the hosts' knots; the slope there is `1/Σ fⱼ·(dxⱼ/dU)` over the hosts inside their
/// windows, so it breaks where a host begins or ends. One host returns its own curve.
pub fn blend(hosts: &[(f64, &Curve)]) -> Option<Curve> {
    let total: f64 = hosts.iter().map(|host| host.0).filter(|share| *share > 0.0).sum();
    let hosts: Vec<Host> =
        hosts.iter().filter(|host| host.0 > 0.0).map(|(share, curve)| (share / total, *curve)).collect();
    if let [(_, only)] = hosts.as_slice() {
        return Some((*only).clone());
    }
    let mut potentials: Vec<f64> = hosts.iter().flat_map(|(_, curve)| curve.knot_potentials()).collect();
    potentials.sort_by(|a, b| b.total_cmp(a));
    potentials.dedup_by(|next, kept| *kept - *next < SAME);

    let mut stretches = Vec::with_capacity(potentials.len());
    for (above, below) in potentials.iter().zip(potentials.iter().skip(1)) {
        let middle = 0.5 * (above + below);
        let active: Vec<bool> = hosts
            .iter()
            .map(|(_, curve)| {
                let (top, bottom) = curve.ends();
                bottom < middle && middle < top
            })
            .collect();
        let between = Between { hosts: &hosts, active: &active };
        between.fill(between.knot(*above), between.knot(*below), MOST_HALVINGS, &mut stretches);
    }
    Curve::from_stretches(stretches)
}

/// The hosts between two neighbouring potentials, and which of them are inside their windows there.
struct Between<'a> {
    hosts: &'a [Host<'a>],
    active: &'a [bool],
}

impl Between<'_> {
    fn knot(&self, u: f64) -> Knot {
        let (mut x, mut rate) = (0.0, 0.0);
        for ((share, curve), active) in self.hosts.iter().zip(self.active) {
            let own = curve.stoichiometry(u);
            x += share * own;
            if *active {
                rate -= share / curve.potential_and_slope(own).1.abs();
            }
        }
        Knot { x, u, slope: 1.0 / rate }
    }

    /// Stretches from `start` to `end`, halved until the table is right halfway.
    fn fill(&self, start: Knot, end: Knot, halvings: u32, stretches: &mut Vec<(Knot, Knot)>) {
        if end.x <= start.x {
            return;
        }
        let middle = self.knot(0.5 * (start.u + end.u));
        let inside = start.x < middle.x && middle.x < end.x;
        if halvings > 0 && inside && (start.potential_towards(&end, middle.x) - middle.u).abs() > ERROR {
            self.fill(start, middle, halvings - 1, stretches);
            self.fill(middle, end, halvings - 1, stretches);
        } else {
            stretches.push((start, end));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::material::find;
    use proptest::prelude::*;

    fn curve(name: &str) -> Curve {
        find(name).unwrap().curve().unwrap()
    }

    fn falls(curve: &Curve) -> bool {
        let (low, high) = curve.window();
        let values: Vec<f64> =
            (0..=20_000).map(|i| curve.potential(low + (high - low) * f64::from(i) / 20_000.0)).collect();
        values.windows(2).all(|w| w[1] < w[0])
    }

    #[test]
    fn one_host_is_itself() {
        let graphite = curve("graphite");
        assert_eq!(blend(&[(0.3, &graphite)]), Some(graphite.clone()));
        assert_eq!(blend(&[(0.3, &graphite), (0.0, &curve("silicon"))]), Some(graphite));
        assert_eq!(blend(&[]), None);
    }

    #[test]
    fn only_ratios_of_shares_count() {
        let (graphite, silicon) = (curve("graphite"), curve("silicon"));
        assert_eq!(
            blend(&[(3.0, &graphite), (1.0, &silicon)]),
            blend(&[(0.75, &graphite), (0.25, &silicon), (-0.1, &silicon)])
        );
    }

    #[test]
    fn a_table_is_no_finer_than_it_must_be() {
        let both = blend(&[(0.8, &curve("graphite")), (0.2, &curve("silicon"))]).unwrap();
        let knots = both.knot_potentials().count();
        assert!((100..10_000).contains(&knots), "{knots}");
    }

    #[test]
    fn two_equal_hosts_are_the_one() {
        let graphite = curve("graphite");
        let both = blend(&[(0.3, &graphite), (0.7, &graphite)]).unwrap();
        for i in 0..=1000 {
            let x = f64::from(i) / 1000.0;
            assert!((both.potential(x) - graphite.potential(x)).abs() < 1e-9, "{x}");
        }
    }

    #[test]
    fn reaches_over_both_windows() {
        let (graphite, silicon) = (curve("graphite"), curve("silicon"));
        let both = blend(&[(0.8, &graphite), (0.2, &silicon)]).unwrap();
        assert!(falls(&both));
        assert!((both.ends().0 - silicon.ends().0).abs() < 1e-12);
        assert!((both.ends().1 - graphite.ends().1).abs() < 1e-12);
        // Above graphite's window it waits at its low end, and below silicon's silicon is full.
        assert!((both.window().0 - 0.8 * 0.0017).abs() < 1e-12);
        assert!((both.window().1 - (0.8 * 0.95 + 0.2)).abs() < 1e-12);
    }

    #[test]
    fn a_gap_between_windows_is_a_step_down() {
        let upper = Curve::from_points(&[(0.0, 1.0), (0.3, 0.9), (0.7, 0.8), (1.0, 0.7)]).unwrap();
        let lower = Curve::from_points(&[(0.0, 0.4), (0.3, 0.3), (0.7, 0.2), (1.0, 0.1)]).unwrap();
        let both = blend(&[(0.5, &upper), (0.5, &lower)]).unwrap();
        assert!(falls(&both));
        assert!((both.potential(0.5 - 1e-9) - 0.7).abs() < 1e-6);
        assert!((both.potential(0.5 + 1e-9) - 0.4).abs() < 1e-6);
        assert!((both.stoichiometry(0.55) - 0.5).abs() < 1e-12);
        assert!(
            (both.antiderivative(1.0) - 0.5 * (upper.antiderivative(1.0) + lower.antiderivative(1.0))).abs()
                < 1e-6
        );
    }

    /// The blend is as good a table as its hosts, also between coarse points of a user.
    fn worst_error(hosts: &[(f64, &Curve)]) -> f64 {
        let both = blend(hosts).unwrap();
        let (top, bottom) = both.ends();
        (1..5000)
            .map(|i| top + (bottom - top) * f64::from(i) / 5000.0)
            .map(|u| (both.potential(hosts.iter().map(|(f, c)| f * c.stoichiometry(u)).sum()) - u).abs())
            .fold(0.0, f64::max)
    }

    #[test]
    #[allow(clippy::print_stdout, reason = "the worst error is worth reading")]
    fn table_error_stays_below_ten_microvolts() {
        let coarse = Curve::from_points(&[(0.0, 1.0), (0.1, 0.5), (0.5, 0.3), (1.0, 0.01)]).unwrap();
        let (graphite, silicon, mix) = (curve("graphite"), curve("silicon"), curve("graphite-SiOx"));
        for hosts in [
            &[(0.9, &graphite), (0.1, &silicon)][..],
            &[(0.5, &mix), (0.5, &silicon)],
            &[(0.5, &coarse), (0.5, &silicon)],
            &[(0.3, &coarse), (0.3, &graphite), (0.4, &silicon)],
        ] {
            let error = worst_error(hosts);
            println!("worst {:.3} µV", error * 1e6);
            assert!(error < 1e-5, "{error:e}");
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]
        /// x_blend(U) = Σ fⱼ·xⱼ(U), to the table's 10 µV times the blend's own dx/dU.
        #[test]
        fn stoichiometry_is_the_weighted_sum(share in 0.01..0.99f64, part in 0.0..1.0f64) {
            let (graphite, silicon) = (curve("graphite"), curve("silicon"));
            let both = blend(&[(share, &graphite), (1.0 - share, &silicon)]).unwrap();
            let (top, bottom) = both.ends();
            let u = top + part * (bottom - top);
            let x = share * graphite.stoichiometry(u) + (1.0 - share) * silicon.stoichiometry(u);
            let found = both.stoichiometry(u);
            let (u_there, slope) = both.potential_and_slope(x);
            prop_assert!((u_there - u).abs() < 1e-5);
            prop_assert!((found - x).abs() < 1e-9 + 2e-5 / slope.abs());
        }
    }
}
