//! Several specimens of one cell: how far they differ from one another, beyond what the instrument explains.
//!
//! A specimen's reading is the kind's mean, what is the specimen's own (variance τ²), and the error of the reading (u²).
//! τ² is the one at which the weighted squares Σ(y − ȳ)²/(u² + τ²) are what is expected of them, their degrees of freedom;
//! it needs no normal distribution (R. C. Paule, J. Mandel, J. Res. Natl. Bur. Stand. 87 (1982) 377,
//! doi:10.6028/jres.087.022). For equal u it is s² − u², or zero where that is less.

use super::distribution::{chi_square_tail, student_two_sided};

/// One specimen's reading, and the standard uncertainty that is this reading's own.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Specimen {
    /// The reading.
    pub value: f64,
    /// Its standard uncertainty, without what all readings share; may be zero.
    pub u: f64,
}

/// The mean of a kind of cell, from its specimens.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mean {
    /// The weighted mean.
    pub value: f64,
    /// Its standard uncertainty: scatter, readings, and what all readings share.
    pub u: f64,
    /// τ, the standard deviation between specimens; `None` from one specimen, which says nothing about it.
    pub between: Option<f64>,
    /// What τ is not above, with a probability of 95 %: from few specimens far more than τ (the profile of the same squares;
    /// W. Viechtbauer, Stat. Med. 26 (2007) 37, doi:10.1002/sim.2514).
    pub between_high: Option<f64>,
    /// Specimens.
    pub count: usize,
}

/// Groups of specimens that may have different means but scatter alike.
struct Scattered<'a> {
    groups: &'a [&'a [Specimen]],
}

impl Scattered<'_> {
    /// Specimens less means.
    fn degrees(&self) -> usize {
        self.groups.iter().map(|g| g.len().saturating_sub(1)).sum()
    }

    /// Σ(y − ȳ)²/(u² + τ²), each group about its own mean.
    fn squares(&self, tau2: f64) -> f64 {
        self.groups
            .iter()
            .map(|group| {
                let (mean, _) = weighted(group, tau2);
                group.iter().map(|s| (s.value - mean) * (s.value - mean) / (s.u * s.u + tau2)).sum::<f64>()
            })
            .sum()
    }

    /// The τ² at which `enough` of the squares turns true, and stays so above; zero if it is at once.
    fn where_first(&self, enough: impl Fn(f64) -> bool) -> f64 {
        let plain: f64 = self
            .groups
            .iter()
            .map(|group| {
                let mean = group.iter().map(|s| s.value).sum::<f64>() / group.len().max(1) as f64;
                group.iter().map(|s| (s.value - mean) * (s.value - mean)).sum::<f64>()
            })
            .sum();
        if plain <= 0.0 {
            return 0.0;
        }
        // Scatter of this part of the plain squares is rounding, unless readings are exact.
        let (mut low, mut high) = (plain * 1e-30, plain);
        if enough(self.squares(low)) {
            return 0.0;
        }
        while !enough(self.squares(high)) && high.is_finite() {
            high *= 4.0;
        }
        for _ in 0..400 {
            let middle = 0.5 * (low + high);
            if middle <= low || middle >= high {
                break;
            }
            if enough(self.squares(middle)) { high = middle } else { low = middle }
        }
        high
    }

    fn tau2(&self) -> Option<f64> {
        let degrees = self.degrees();
        (degrees > 0).then(|| self.where_first(|squares| squares <= degrees as f64))
    }

    fn tau2_high(&self) -> Option<f64> {
        let degrees = self.degrees();
        (degrees > 0).then(|| self.where_first(|squares| chi_square_tail(squares, degrees as f64) >= 0.95))
    }
}

/// Mean weighted by 1/(u² + τ²), and its variance.
fn weighted(group: &[Specimen], tau2: f64) -> (f64, f64) {
    let variance = |s: &Specimen| s.u * s.u + tau2;
    // Exact readings leave no weight to others.
    let exact: Vec<f64> = group.iter().filter(|s| variance(s) <= 0.0).map(|s| s.value).collect();
    if !exact.is_empty() {
        return (exact.iter().sum::<f64>() / exact.len() as f64, 0.0);
    }
    let total: f64 = group.iter().map(|s| 1.0 / variance(s)).sum();
    (group.iter().map(|s| s.value / variance(s)).sum::<f64>() / total, 1.0 / total)
}

fn are_sound(specimens: &[Specimen]) -> bool {
    !specimens.is_empty() && specimens.iter().all(|s| s.value.is_finite() && s.u >= 0.0 && s.u.is_finite())
}

/// The mean over specimens, with an uncertainty that has their scatter in it; `shared` is the standard uncertainty that all
/// readings have in common (the instrument's scale), which no number of specimens makes smaller.
///
/// From one specimen the scatter is unknown and `u` is of that specimen, not of its kind. `None` without specimens, or if a
/// number makes no sense.
///
/// # Example
/// Three cells weigh 69.0, 70.0 and 71.0 g, each ± 0.6: s² = 1, τ² = 1 − 0.36, and the mean has √(1/3).
/// ```
/// use roulade_stats::least_squares::scatter::{Specimen, mean};
/// let cells = [69.0, 70.0, 71.0].map(|value| Specimen { value, u: 0.6 });
/// let kind = mean(&cells, 0.0).unwrap();
/// assert!((kind.between.unwrap() - 0.8).abs() < 1e-12 && (kind.u - (1.0f64 / 3.0).sqrt()).abs() < 1e-12);
/// ```
pub fn mean(specimens: &[Specimen], shared: f64) -> Option<Mean> {
    if !(are_sound(specimens) && shared >= 0.0 && shared.is_finite()) {
        return None;
    }
    let all = Scattered { groups: &[specimens] };
    let tau2 = all.tau2();
    let (value, variance) = weighted(specimens, tau2.unwrap_or(0.0));
    Some(Mean {
        value,
        u: (variance + shared * shared).sqrt(),
        between: tau2.map(f64::sqrt),
        between_high: all.tau2_high().map(f64::sqrt),
        count: specimens.len(),
    })
}

/// Two groups of specimens that were declared different: are they?
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Groups {
    /// Mean of the first less mean of the second.
    pub difference: f64,
    /// Its standard uncertainty.
    pub u: f64,
    /// Degrees of freedom of that uncertainty; infinite where it comes from the readings alone.
    pub degrees: f64,
    /// Probability of a difference at least this large if both had one mean.
    pub probability: f64,
    /// τ within the groups, supposed the same in both.
    pub between: f64,
}

impl Groups {
    /// Whether the data say that there are two means, at a risk of saying so of one. A no does not say that there is one:
    /// see [`Self::are_one`].
    pub fn are_two(&self, risk: f64) -> bool {
        self.probability < risk
    }

    /// Whether the data say that the means are less than `margin` apart, at a risk of saying so of means that are not: two
    /// one-sided tests (D. J. Schuirmann, J. Pharmacokinet. Biopharm. 15 (1987) 657, doi:10.1007/BF01068419). What is
    /// neither two nor one is open.
    pub fn are_one(&self, margin: f64, risk: f64) -> bool {
        let room = margin - self.difference.abs();
        room > 0.0 && 0.5 * student_two_sided(room / self.u, self.degrees) < risk
    }
}

/// One mean or two: the difference over its uncertainty, by Student's distribution with the degrees of freedom of B. L.
/// Welch, Biometrika 34 (1947) 28, doi:10.1093/biomet/34.1-2.28, and F. E. Satterthwaite, Biometrics Bull. 2 (1946) 110,
/// doi:10.2307/3002019, where part of the uncertainty is known. The scatter within is taken over both groups. With
/// readings of no uncertainty this is Student's test of two means, and its square the F test of one mean against two.
///
/// With three and four specimens that scatter as much as their readings err, a risk of 5 % is some 7 % (drawn, 1000 times):
/// the scatter is then sometimes found as none. With more scatter, or none, it is 5 % or less.
///
/// `None` if a group is empty, if both have one specimen only (their scatter is unknown then, and a difference between two
/// cells says nothing of two kinds), or if a number makes no sense.
pub fn groups(first: &[Specimen], second: &[Specimen]) -> Option<Groups> {
    if !are_sound(first) || !are_sound(second) {
        return None;
    }
    let both = Scattered { groups: &[first, second] };
    let tau2 = both.tau2()?;
    let ((a, var_a), (b, var_b)) = (weighted(first, tau2), weighted(second, tau2));
    let variance = var_a + var_b;
    let of_scatter = |group: &[Specimen], var: f64| {
        group.iter().map(|s| var / (s.u * s.u + tau2)).map(|part| part * part).sum::<f64>() * tau2
    };
    let scatter = if tau2 > 0.0 { of_scatter(first, var_a) + of_scatter(second, var_b) } else { 0.0 };
    let degrees = if scatter > 0.0 {
        let part = variance / scatter;
        both.degrees() as f64 * part * part
    } else {
        f64::INFINITY
    };
    let (difference, u) = (a - b, variance.sqrt());
    let probability = if difference == 0.0 { 1.0 } else { student_two_sided(difference / u, degrees) };
    Some(Groups { difference, u, degrees, probability, between: tau2.sqrt() })
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;
    use proptest::prelude::*;

    fn specimens(values: &[f64], u: f64) -> Vec<Specimen> {
        values.iter().map(|value| Specimen { value: *value, u }).collect()
    }

    /// Additional hours of sleep with two isomers: Student, Biometrika 6 (1908) 1, doi:10.1093/biomet/6.1.1 (from memory);
    /// as two independent groups t = −1.8608 with 18 degrees of freedom, p = 0.07919 (from memory).
    #[test]
    fn exact_readings_give_students_test() {
        let one = specimens(&[0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0], 0.0);
        let two = specimens(&[1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4], 0.0);
        let found = groups(&one, &two).unwrap();
        assert_relative_eq!(found.degrees, 18.0, max_relative = 1e-12);
        assert!((found.difference / found.u + 1.8608).abs() < 5e-5);
        assert!((found.probability - 0.079_19).abs() < 5e-6);
        assert!(
            !found.are_two(0.05)
                && found.are_two(0.1)
                && !found.are_one(2.0, 0.05)
                && found.are_one(4.0, 0.05)
        );
    }

    #[test]
    fn readings_that_explain_their_scatter_leave_none() {
        let found = mean(&specimens(&[10.0, 10.1, 9.9], 0.5), 0.2).unwrap();
        assert_eq!(found.between, Some(0.0));
        assert_relative_eq!(found.u, (0.25_f64 / 3.0 + 0.04).sqrt(), max_relative = 1e-12);
        // Squares of 0.02/(0.25 + τ²) leave little room above; the 95 % limit solves Q = 0.10259 (χ² of 2, lower 5 %).
        let high = found.between_high.unwrap();
        assert!((0.0..0.01).contains(&high), "{high}");
        let one = mean(&specimens(&[10.0], 0.5), 0.0).unwrap();
        assert_eq!((one.value, one.u, one.between, one.between_high), (10.0, 0.5, None, None));
    }

    #[test]
    fn the_upper_limit_is_that_of_the_variance_where_readings_are_exact() {
        // (n − 1) s²/χ²: 2/0.102586589, lower 5 % of two degrees of freedom is −2 ln 0.95.
        let found = mean(&specimens(&[-1.0, 0.0, 1.0], 0.0), 0.0).unwrap();
        assert_relative_eq!(found.between.unwrap(), 1.0, max_relative = 1e-12);
        assert_relative_eq!(
            found.between_high.unwrap(),
            (-1.0 / crate::maths::ln(0.95)).sqrt(),
            max_relative = 1e-10
        );
    }

    #[test]
    fn groups_apart_are_two_and_groups_alike_are_one_only_within_a_margin() {
        let one = specimens(&[30.1, 30.0, 29.9, 30.05], 0.1);
        let two = specimens(&[32.0, 32.1, 31.95], 0.1);
        let apart = groups(&one, &two).unwrap();
        assert!(apart.are_two(0.001) && !apart.are_one(1.0, 0.05));
        // The scatter is less than the readings explain: a normal test.
        assert!(apart.degrees.is_infinite() && apart.between == 0.0);
        let alike = groups(&one, &specimens(&[30.0, 30.1, 29.95], 0.1)).unwrap();
        assert!(!alike.are_two(0.05) && alike.are_one(0.5, 0.05) && !alike.are_one(0.1, 0.05));
        assert!(groups(&one[..1], &two[..1]).is_none() && groups(&one, &[]).is_none());
        assert!(groups(&one[..1], &two).is_some());
    }

    #[test]
    fn numbers_without_sense_and_equal_exact_readings() {
        assert!(mean(&[], 0.0).is_none() && mean(&specimens(&[1.0], -1.0), 0.0).is_none());
        assert!(
            mean(&specimens(&[f64::NAN], 1.0), 0.0).is_none()
                && mean(&specimens(&[1.0], 1.0), f64::NAN).is_none()
        );
        let equal = mean(&specimens(&[5.0, 5.0], 0.0), 0.0).unwrap();
        assert_eq!((equal.value, equal.u, equal.between), (5.0, 0.0, Some(0.0)));
        let same = groups(&specimens(&[5.0, 5.0], 0.0), &specimens(&[5.0], 0.0)).unwrap();
        assert_eq!((same.difference, same.probability), (0.0, 1.0));
        let other = groups(&specimens(&[5.0, 5.0], 0.0), &specimens(&[6.0], 0.0)).unwrap();
        assert!(other.probability < 1e-300);
    }

    /// How often two groups of one mean are called two, at a risk of 5 %, by how far specimens scatter beside the readings.
    #[test]
    fn the_risk_is_about_what_it_says() {
        use crate::propagation::deviate::Stream;
        let mut stream = Stream::of(2, 0);
        for (scatter, low, high) in [(0.0, 0.02, 0.065), (1.0, 0.03, 0.09), (10.0, 0.03, 0.07)] {
            let draws = 1000;
            let mut two = 0;
            for _ in 0..draws {
                let mut group = |count: usize| -> Vec<Specimen> {
                    (0..count)
                        .map(|_| Specimen { value: scatter * stream.normal() + stream.normal(), u: 1.0 })
                        .collect()
                };
                two += i32::from(groups(&group(3), &group(4)).unwrap().are_two(0.05));
            }
            let share = f64::from(two) / f64::from(draws);
            assert!((low..high).contains(&share), "{scatter}: {share}");
        }
    }

    proptest! {
        #[test]
        fn equal_uncertainties_have_a_closed_form(
            values in prop::collection::vec(-3.0..3.0_f64, 2..8), u in 0.01..2.0_f64,
        ) {
            let n = values.len() as f64;
            let centre = values.iter().sum::<f64>() / n;
            let s2 = values.iter().map(|v| (v - centre) * (v - centre)).sum::<f64>() / (n - 1.0);
            let found = mean(&specimens(&values, u), 0.0).unwrap();
            let tau2 = (s2 - u * u).max(0.0);
            prop_assert!((found.between.unwrap() - tau2.sqrt()).abs() < 1e-6, "{:?} {}", found, tau2);
            prop_assert!((found.u - (s2.max(u * u) / n).sqrt()).abs() < 1e-9);
            prop_assert!((found.value - centre).abs() < 1e-9);
            prop_assert!(found.between_high.unwrap() >= found.between.unwrap());
        }

        #[test]
        fn the_squares_are_as_expected(values in prop::collection::vec((-3.0..3.0_f64, 0.01..1.0_f64), 2..8)) {
            let readings: Vec<Specimen> = values.iter().map(|(value, u)| Specimen { value: *value, u: *u }).collect();
            let all = Scattered { groups: &[&readings] };
            let tau2 = all.tau2().unwrap();
            let squares = all.squares(tau2);
            let degrees = (values.len() - 1) as f64;
            prop_assert!(squares <= degrees * (1.0 + 1e-9));
            prop_assert!(tau2 == 0.0 || (squares - degrees).abs() < 1e-6 * degrees, "{} {}", tau2, squares);
        }
    }
}
