//! A difference of two cells in a figure of any unit, rounded by its uncertainty.

use super::change::above_roundings;
use roulade::quantity::notation;
use roulade::study::attribute::Difference;
use serde::Serialize;

/// A figure that may be of any unit, a currency too.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Amount {
    /// In `unit`, unrounded.
    pub value: f64,
    /// Standard uncertainty in `unit`; absent where nothing uncertain reaches it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub u: Option<f64>,
    /// Interval that holds it with a probability of 95 %, in `unit`; absent together with `u`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub interval: Option<[f64; 2]>,
    /// Unit of the trade, or a currency.
    pub unit: String,
    /// Rounded by its uncertainty, with its unit.
    pub text: String,
}

impl Amount {
    /// A difference, SI, in a unit of that size; below the rounding of numbers of that scale, which it is taken from, it is
    /// none.
    pub(super) fn of(difference: &Difference, scale: f64, unit: &str, size: f64) -> Self {
        let (value, u) =
            (above_roundings(difference.value, scale) / size, above_roundings(difference.u, scale) / size);
        Self {
            value,
            u: (u > 0.0).then_some(u),
            interval: (u > 0.0).then_some(difference.interval.map(|end| end / size)),
            text: written(value, u, unit, true),
            unit: unit.to_owned(),
        }
    }

    /// A figure itself, in its unit.
    pub(super) fn bare(value: f64, unit: &str) -> Self {
        let text = written(value, 0.0, unit, false);
        Self { value, u: None, interval: None, text, unit: unit.to_owned() }
    }

    /// Whether it is no difference, and known to be none.
    pub(super) fn is_nothing(&self) -> bool {
        self.value == 0.0 && self.u.is_none()
    }
}

/// "+10.9 ± 1.1 Wh/L"; a count without decimals.
fn written(value: f64, u: f64, unit: &str, signed: bool) -> String {
    let (shown, spread) = notation::rounded(value, u);
    let shown = match shown.strip_suffix(".000") {
        Some(count) if unit.is_empty() && spread.is_none() => count.to_owned(),
        _ => shown,
    };
    let nothing = shown.chars().all(|c| matches!(c, '0' | '.'));
    let plus = if signed && value > 0.0 && !nothing { "+" } else { "" };
    let spread = spread.map(|u| format!(" ± {u}")).unwrap_or_default();
    format!("{plus}{shown}{spread} {unit}").trim_end().to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What is left of two energies that are alike is nothing, in words and as a number.
    #[test]
    fn below_the_rounding_of_two_figures_their_difference_is_none() {
        let written = |value: f64, u: f64| {
            let written = Difference { value, u, interval: [value - 2.0 * u, value + 2.0 * u] };
            Amount::of(&written, 250_000.0, "Wh", 3600.0)
        };
        let noise = written(8.6e-7, 9.7e-7);
        assert_eq!((noise.text.as_str(), noise.value, noise.u, noise.interval), ("0 Wh", 0.0, None, None));
        assert!(noise.is_nothing());
        let uncertain = written(8.6e-7, 36.0);
        assert_eq!((uncertain.text.as_str(), uncertain.value), ("0.000 ± 0.010 Wh", 0.0));
        assert_eq!(written(36.0, 0.0).text, "+0.01000 Wh");
    }
}
