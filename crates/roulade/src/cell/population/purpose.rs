//! What a cell is made for: one latent number that moves its electrodes together.

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

/// Shares of the classes among cells of unknown purpose, in the order of [`CLASSES`]: common practice, no source.
#[cfg(test)]
const SHARES: [f64; 3] = [0.45, 0.3, 0.25];

impl Purpose {
    /// Not said: the mixture of the classes has this mean and this standard deviation, and is taken as normal.
    pub(crate) const UNSAID: Self = Self { middle: 0.2, deviation: 0.92 };

    /// That of a class, by its name.
    pub(crate) fn of_class(name: &str) -> Option<Self> {
        let wanted = name.trim();
        CLASSES.iter().find(|(class, _)| class.eq_ignore_ascii_case(wanted)).map(|(_, purpose)| *purpose)
    }

    /// As a number of the sheet.
    pub(crate) fn known(&self) -> Uncertain {
        if self.deviation > 0.0 {
            Uncertain::standard(self.middle, self.deviation)
        } else {
            Uncertain::exact(self.middle)
        }
    }

    /// From a number of the sheet.
    pub(crate) fn of(known: &Uncertain) -> Self {
        Self { middle: known.value, deviation: known.u() }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_not_said_is_the_mixture_of_the_classes() {
        let of = |f: fn(&Purpose) -> f64| -> f64 {
            CLASSES.iter().zip(SHARES).map(|((_, purpose), share)| share * f(purpose)).sum()
        };
        let mean = of(|purpose| purpose.middle);
        let square = of(|purpose| purpose.middle * purpose.middle + purpose.deviation * purpose.deviation);
        assert!((mean - Purpose::UNSAID.middle).abs() < 1e-12, "{mean}");
        let deviation = (square - mean * mean).sqrt();
        assert!((deviation - Purpose::UNSAID.deviation).abs() < 0.01, "{deviation}");
    }

    #[test]
    fn a_class_is_found_by_its_name() {
        assert_eq!(Purpose::of_class(" Energy "), Some(CLASSES[0].1));
        assert_eq!(Purpose::of_class("fast"), None);
    }
}
