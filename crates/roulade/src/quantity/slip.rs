//! Typical slips in writing a number down: a decimal place, a prefix, both sides for one, a radius for a diameter.
//!
//! A slip turns what was meant into what stands there, `written = factor × meant + shift`. Two questions are asked of
//! them: which one would bring a number that lies outside a plausible range back into it ([`into_range`]), and which one
//! would make two numbers agree that should ([`between`]). The answer is an explanation that is offered, never a
//! correction that is made.
//!
//! The list is common practice, no source.

use super::units::Dimension;
use roulade_stats::decimal;

/// A slip.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slip {
    /// What happened, in words that follow "perhaps": "the decimal point is one place too far right".
    pub words: &'static str,
    /// What was meant times this ...
    pub factor: f64,
    /// ... and this besides (SI) is what was written.
    pub shift: f64,
}

impl Slip {
    const fn by(factor: f64, words: &'static str) -> Self {
        Self { words, factor, shift: 0.0 }
    }

    /// What was meant, where this slip was made (SI).
    ///
    /// ```
    /// # use roulade::quantity::slip::{SlipKind, into_range};
    /// # use roulade::quantity::units::Dimension;
    /// // 95 cm where wound cells are 4 to 15 cm high.
    /// let slip = into_range(0.95, (0.04, 0.15), SlipKind::of(Dimension::Length)).unwrap();
    /// assert!((slip.meant(0.95) - 0.095).abs() < 1e-12);
    /// ```
    pub fn meant(&self, written: f64) -> f64 {
        (written - self.shift) / self.factor
    }

    /// How far it moves a number, in powers of e; the least is the likeliest.
    fn reach(&self) -> f64 {
        if self.factor >= 1.0 { self.factor } else { 1.0 / self.factor }
    }
}

/// What a number is of, as far as slips depend on it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SlipKind {
    /// What it measures.
    pub dimension: Dimension,
    /// It is meant for one side of a foil: a loading, a coating thickness, an areal capacity.
    pub per_side: bool,
    /// It is meant for both sides of a foil: the thickness of the whole coated web.
    pub both_sides: bool,
    /// It is a diameter or a radius.
    pub round: bool,
    /// Whether it is a share that is written with a percent sign; nothing where that is not known.
    pub percent: Option<bool>,
}

impl SlipKind {
    /// A quantity that is neither of one side nor round.
    pub fn of(dimension: Dimension) -> Self {
        Self { dimension, per_side: false, both_sides: false, round: false, percent: None }
    }

    /// The same, of one side of a foil.
    pub fn per_side(self) -> Self {
        Self { per_side: true, ..self }
    }

    /// The same, of both sides of a foil.
    pub fn both_sides(self) -> Self {
        Self { both_sides: true, ..self }
    }

    /// The same, a diameter or a radius.
    pub fn round(self) -> Self {
        Self { round: true, ..self }
    }

    /// The same, a share that is written with a percent sign or without.
    pub fn percent(self, sign: bool) -> Self {
        Self { percent: Some(sign), ..self }
    }

    /// Slips that are typical of it, the most particular first.
    pub fn slips(self) -> impl Iterator<Item = Slip> {
        let of = |holds: bool, slips: &'static [Slip]| if holds { slips } else { &[] };
        let whole = self.dimension != Dimension::Temperature;
        let share = self.dimension == Dimension::Fraction;
        of(self.per_side, SIDES)
            .iter()
            .chain(of(self.both_sides, ONE_SIDE))
            .chain(of(self.round, ROUND))
            .chain(of(self.dimension == Dimension::Length && !self.per_side, LENGTHS))
            .chain(of(self.dimension == Dimension::Length, INCHES))
            .chain(of(self.dimension == Dimension::Loading, LOADINGS))
            .chain(of(share && self.percent != Some(true), NO_SIGN))
            .chain(of(share && self.percent != Some(false), SIGN))
            .chain(of(self.dimension == Dimension::Temperature, TEMPERATURES))
            .chain(of(whole, PLACES))
            .chain(of(whole && !share, PREFIXES))
            .chain(of(share, FAR_PLACES))
            .copied()
    }
}

const SIDES: &[Slip] = &[
    Slip::by(2.0, "it is that of both sides, where one is meant"),
    Slip::by(0.5, "it is half of what one side has"),
];
const ONE_SIDE: &[Slip] = &[Slip::by(0.5, "one side was read, where both are meant")];
const ROUND: &[Slip] =
    &[Slip::by(2.0, "a diameter stands for a radius"), Slip::by(0.5, "a radius stands for a diameter")];
const LENGTHS: &[Slip] = &[Slip::by(10.0, "millimetres are written as centimetres")];
const INCHES: &[Slip] = &[
    Slip::by(25.4, "millimetres are written as inches"),
    Slip::by(1.0 / 25.4, "inches are written as millimetres"),
];
const LOADINGS: &[Slip] = &[
    Slip::by(10.0, "g/m² are written as mg/cm²"),
    Slip::by(20.0, "g/m² of both sides are written as mg/cm² of one"),
];
const NO_SIGN: &[Slip] = &[Slip::by(100.0, "a percentage is written without its sign")];
const SIGN: &[Slip] = &[Slip::by(0.01, "a share of one is written with a percent sign")];
/// A share has no unit that could be a thousand times too large.
const FAR_PLACES: &[Slip] = &[Slip::by(1e3, "the decimal point is three places too far right")];
const TEMPERATURES: &[Slip] = &[
    Slip { words: "kelvins are written as degrees Celsius", factor: 1.0, shift: 273.15 },
    Slip { words: "degrees Fahrenheit are written as degrees Celsius", factor: 1.8, shift: 32.0 },
    Slip::by(10.0, "the decimal point is one place too far right"),
    Slip::by(100.0, "the decimal point is two places too far right"),
];
const PLACES: &[Slip] = &[
    Slip::by(10.0, "the decimal point is one place too far right"),
    Slip::by(0.1, "the decimal point is one place too far left"),
    Slip::by(100.0, "the decimal point is two places too far right"),
    Slip::by(0.01, "the decimal point is two places too far left"),
];
const PREFIXES: &[Slip] = &[
    Slip::by(1e3, "the unit is a thousand times too large"),
    Slip::by(1e-3, "the unit is a thousand times too small"),
];

/// The slip that brings a number back into a range, both SI; the one that moves it least, and of equals the one that is
/// most particular to the quantity. Nothing where the number lies in the range, or no slip brings it there.
pub fn into_range(written: f64, (low, high): (f64, f64), kind: SlipKind) -> Option<Slip> {
    if !written.is_finite() || (low..=high).contains(&written) {
        return None;
    }
    let inside = |slip: &Slip| (low..=high).contains(&slip.meant(written));
    least(kind.slips().filter(inside))
}

/// The slip that makes a number agree with what it should be, both SI: what was meant then lies within `tolerance`, a
/// share of the expected. Nothing where they agree already, or no slip makes them.
///
/// ```
/// # use roulade::quantity::slip::{SlipKind, between};
/// # use roulade::quantity::units::Dimension;
/// // A cell of 426 g whose mass was written as 4.26 g.
/// let slip = between(0.00426, 0.426, 0.1, SlipKind::of(Dimension::Mass)).unwrap();
/// assert_eq!(slip.words, "the decimal point is two places too far left");
/// ```
pub fn between(written: f64, expected: f64, tolerance: f64, kind: SlipKind) -> Option<Slip> {
    let agrees = |value: f64| (value - expected).abs() <= tolerance * expected.abs();
    if !written.is_finite() || !expected.is_finite() || agrees(written) {
        return None;
    }
    least(kind.slips().filter(|slip| agrees(slip.meant(written))))
}

/// The slips of a hand that exchanges two neighbouring digits: one for each pair of the number that begins a text and differs.
/// The decimal point stays in its place.
///
/// ```
/// # use roulade::quantity::slip::swapped;
/// let meant: Vec<f64> = swapped("64.01 mm").iter().map(|slip| (slip.meant(64.01) * 100.0).round() / 100.0).collect();
/// assert_eq!(meant, [46.01, 60.41, 64.1]);
/// ```
pub fn swapped(text: &str) -> Vec<Slip> {
    let number: String = text
        .trim_start_matches(|c: char| !c.is_ascii_digit() && c != '.')
        .chars()
        .take_while(|c| c.is_ascii_digit() || *c == '.')
        .collect();
    let Some(written) = decimal::number(&number).filter(|written| *written > 0.0) else {
        return Vec::new();
    };
    let digits: Vec<usize> =
        number.char_indices().filter(|(_, c)| c.is_ascii_digit()).map(|(i, _)| i).collect();
    let exchanged = |pair: &[usize]| {
        let &[a, b] = pair else { return None };
        let mut bytes = number.clone().into_bytes();
        bytes.swap(a, b);
        decimal::number(&String::from_utf8(bytes).ok()?)
    };
    digits
        .windows(2)
        .filter_map(exchanged)
        .filter(|meant| *meant > 0.0 && meant.total_cmp(&written).is_ne())
        .map(|meant| Slip::by(written / meant, "two digits are swapped"))
        .collect()
}

fn least(slips: impl Iterator<Item = Slip>) -> Option<Slip> {
    slips.reduce(|best, slip| if slip.reach() < best.reach() { slip } else { best })
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn plain_slips_are_explained() {
        let length = SlipKind::of(Dimension::Length);
        for (written, range, kind, words, meant) in [
            (0.95, (0.04, 0.15), length, "millimetres are written as centimetres", 0.095),
            (
                670e-6,
                (40e-6, 100e-6),
                length.per_side(),
                "the decimal point is one place too far right",
                67e-6,
            ),
            (
                134e-6,
                (40e-6, 100e-6),
                length.per_side(),
                "it is that of both sides, where one is meant",
                67e-6,
            ),
            (
                50.0,
                (0.0, 0.6),
                SlipKind::of(Dimension::Fraction),
                "a percentage is written without its sign",
                0.5,
            ),
            (
                4.7,
                (2.3, 3.4),
                SlipKind::of(Dimension::Loading).per_side(),
                "it is that of both sides, where one is meant",
                2.35,
            ),
            (
                298.15,
                (0.0, 60.0),
                SlipKind::of(Dimension::Temperature),
                "kelvins are written as degrees Celsius",
                25.0,
            ),
            (0.0105, (0.018, 0.05), length.round(), "a radius stands for a diameter", 0.021),
        ] {
            let slip = into_range(written, range, kind);
            assert_eq!(slip.map(|slip| slip.words), Some(words), "{written}");
            assert_relative_eq!(slip.unwrap().meant(written), meant, max_relative = 1e-12);
        }
    }

    #[test]
    fn a_share_with_its_sign_is_not_said_to_lack_it() {
        let share = SlipKind::of(Dimension::Fraction);
        let words = |written, kind| into_range(written, (0.0, 0.3), kind).map(|slip| slip.words);
        assert_eq!(words(5.0, share.percent(false)), Some("a percentage is written without its sign"));
        assert_eq!(words(5.0, share.percent(true)), Some("the decimal point is two places too far right"));
        assert_eq!(words(50.0, share.percent(true)), Some("the decimal point is three places too far right"));
        let half = |kind| into_range(0.004, (0.2, 0.6), kind).map(|slip| slip.words);
        assert_eq!(half(share.percent(true)), Some("a share of one is written with a percent sign"));
        assert_eq!(half(share.percent(false)), Some("the decimal point is two places too far left"));
    }

    #[test]
    fn what_is_right_or_far_beyond_has_no_explanation() {
        let mass = SlipKind::of(Dimension::Mass);
        assert!(into_range(0.07, (0.04, 0.1), mass).is_none());
        assert!(into_range(1e9, (0.04, 0.1), mass).is_none());
        assert!(into_range(f64::NAN, (0.04, 0.1), mass).is_none());
        assert!(between(0.42, 0.426, 0.05, mass).is_none() && between(0.3, 0.426, 0.05, mass).is_none());
        assert_relative_eq!(between(426.0, 0.426, 0.05, mass).unwrap().factor, 1e3);
    }
}
