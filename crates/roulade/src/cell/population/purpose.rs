//! What a cell is made for: one latent number that moves its electrodes together.

use super::collection;
use roulade_stats::maths;
use roulade_stats::uncertain::Uncertain;

/// The purpose on its scale: power −1, middle 0, energy +1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Purpose {
    /// Its middle.
    pub(crate) middle: f64,
    /// Its standard deviation.
    pub(crate) deviation: f64,
}

/// The classes by their names. Within a class cells differ: power most, since no cell of that class with legible figures of
/// its electrodes was found.
pub(crate) const CLASSES: [(&str, Purpose); 3] = [
    ("energy", Purpose { middle: 1.0, deviation: 0.4 }),
    ("middle", Purpose { middle: 0.0, deviation: 0.4 }),
    ("power", Purpose { middle: -1.0, deviation: 0.5 }),
];

/// Shares of the classes among small cells without silicon of which the purpose is not known, in the order of [`CLASSES`]:
/// common practice, no source.
const SHARES: [f64; 3] = [0.45, 0.3, 0.25];
/// How much oftener cells of each class hold silicon than those of the middle do: what it costs in life is paid where energy
/// is sought. Common practice, no source.
const WITH_SILICON: [f64; 3] = [4.0, 1.0, 0.4];
/// How much oftener cells of each class are built in large cans than those of the middle are: thick rolls shed their heat
/// badly. Common practice, no source.
const WITH_LARGE_CANS: [f64; 3] = [1.5, 1.0, 0.35];

impl Purpose {
    /// Not said: the mean and the standard deviation of the mixture of the classes, taken as normal, with what an anode that
    /// holds silicon and the diameter of the can, mm, tell of it.
    pub(crate) fn unsaid(silicon: bool, diameter: f64) -> Self {
        let large = collection::large(diameter);
        let mut weights = SHARES;
        for (weight, (with_silicon, in_large)) in
            weights.iter_mut().zip(WITH_SILICON.iter().zip(WITH_LARGE_CANS))
        {
            *weight *= maths::pow(in_large, large) * if silicon { *with_silicon } else { 1.0 };
        }
        let whole: f64 = weights.iter().sum();
        let mean_of = |of: fn(&Self) -> f64| -> f64 {
            CLASSES.iter().zip(weights).map(|((_, purpose), weight)| weight / whole * of(purpose)).sum()
        };
        let middle = mean_of(|purpose| purpose.middle);
        let square =
            mean_of(|purpose| purpose.middle * purpose.middle + purpose.deviation * purpose.deviation);
        Self { middle, deviation: (square - middle * middle).max(0.0).sqrt() }
    }

    /// That of a class, by its name.
    pub(crate) fn of_class(name: &str) -> Option<Self> {
        let wanted = name.trim();
        CLASSES.iter().find(|(class, _)| class.eq_ignore_ascii_case(wanted)).map(|(_, purpose)| *purpose)
    }

    /// As a number of the sheet.
    pub(crate) fn uncertain(&self) -> Uncertain {
        if self.deviation > 0.0 {
            Uncertain::standard(self.middle, self.deviation)
        } else {
            Uncertain::exact(self.middle)
        }
    }

    /// From a number of the sheet.
    pub(crate) fn of(uncertain: &Uncertain) -> Self {
        Self { middle: uncertain.value, deviation: uncertain.u() }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: 0.45 − 0.25, and 0.45 · 1.16 + 0.3 · 0.16 + 0.25 · 1.25 − 0.2² under the root.
    #[test]
    fn what_is_not_said_is_the_mixture_of_the_classes() {
        let small = Purpose::unsaid(false, 10.0);
        assert!((small.middle - 0.2).abs() < 1e-3 && (small.deviation - 0.9179).abs() < 1e-3, "{small:?}");
    }

    #[test]
    fn silicon_and_large_cans_tell_of_energy() {
        let at = |silicon, diameter| Purpose::unsaid(silicon, diameter);
        for diameter in [18.0, 46.0] {
            assert!(at(true, diameter).middle > at(false, diameter).middle + 0.2);
            assert!(at(true, diameter).deviation < at(false, diameter).deviation);
        }
        assert!(at(false, 46.0).middle > at(false, 18.0).middle + 0.2);
        // All three classes stay within two standard deviations, whatever is seen.
        let most = at(true, 46.0);
        assert!(most.middle - 2.0 * most.deviation < 0.0 && most.deviation > 0.4, "{most:?}");
    }

    #[test]
    fn a_class_is_found_by_its_name() {
        assert_eq!(Purpose::of_class(" Energy "), Some(CLASSES[0].1));
        assert_eq!(Purpose::of_class("fast"), None);
    }
}
