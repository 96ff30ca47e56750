//! Writes figures down, in the same order whether their uncertainties are being found or shown.

use roulade::quantity::notation;
use roulade::quantity::units::Unit;
use roulade_stats::propagation::interval::Interval;
use serde::Serialize;

/// What some steps of rounding add up to, in parts of the numbers that are rounded.
pub(super) const ROUNDINGS: f64 = 1e-11;

/// One number as people read it and as programs do.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Figure {
    /// In `unit`, unrounded.
    pub value: f64,
    /// Standard uncertainty in `unit`; absent where nothing uncertain reaches it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub u: Option<f64>,
    /// Lower end of the 95 % interval in `unit`: 1.96 standard uncertainties below the value, or as drawn.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub low: Option<f64>,
    /// Upper end.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub high: Option<f64>,
    /// Unit of the trade.
    pub unit: &'static str,
    /// Rounded by its uncertainty, with its unit.
    pub text: String,
}

impl Figure {
    /// From SI values, `print` putting them in words.
    pub(super) fn of(
        si: f64,
        u: f64,
        interval: Interval,
        unit: Unit,
        print: impl Fn(f64, f64, Unit) -> String,
    ) -> Self {
        let size = unit.in_si();
        // Below the rounding of the differences it is taken from, an uncertainty is none.
        // Nothing has no sign: −0 + 0 is 0.
        let shown = |x: f64| x / size + 0.0;
        let if_uncertain = |x: f64| (u > 1e-12 * si.abs()).then(|| shown(x));
        Self {
            value: shown(si),
            u: if_uncertain(u),
            low: if_uncertain(interval.low),
            high: if_uncertain(interval.high),
            unit: unit.symbol(),
            text: whole(print(si, u, unit), unit),
        }
    }

    /// Its 95 % interval as it is read, "561.2 .. 583.0 Wh/L", each end to the place that the uncertainty sets; empty
    /// where nothing uncertain reaches it.
    pub fn interval(&self) -> String {
        match (self.u, self.low, self.high) {
            (Some(u), Some(low), Some(high)) => {
                let end = |x: f64| notation::rounded(x, u).0;
                format!("{} .. {} {}", end(low), end(high), self.unit).trim_end().to_owned()
            }
            _ => String::new(),
        }
    }

    /// Its text, rounded as before, without the uncertainty.
    pub(super) fn without_u(&self) -> String {
        match (self.text.split_once(" ± "), self.text.rsplit_once(' ')) {
            (Some((value, _)), Some((_, unit))) => format!("{value} {unit}"),
            _ => self.text.clone(),
        }
    }
}

/// Every figure of an answer passes through one writer. First it only notes the values, once for each moved input; then,
/// with the uncertainties known, the same code writes the answer itself.
#[derive(Debug)]
pub(super) enum FigureWriter<'a> {
    /// Notes the values.
    Noting(Vec<f64>),
    /// Writes the figures, each with the next uncertainty.
    Writing {
        /// Uncertainties in the order of the values, SI.
        u: &'a [f64],
        /// How many were written.
        next: usize,
    },
}

impl FigureWriter<'_> {
    pub(super) fn noting() -> Self {
        Self::Noting(Vec::with_capacity(256))
    }

    /// The values noted.
    pub(super) fn noted(self) -> Vec<f64> {
        match self {
            Self::Noting(values) => values,
            Self::Writing { .. } => Vec::new(),
        }
    }

    /// How many figures have passed.
    pub(super) fn count(&self) -> usize {
        match self {
            Self::Noting(values) => values.len(),
            Self::Writing { next, .. } => *next,
        }
    }

    /// Words beside a figure; none while values are only noted.
    pub(super) fn words(&self, text: &str) -> String {
        match self {
            Self::Noting(_) => String::new(),
            Self::Writing { .. } => text.to_owned(),
        }
    }

    /// A figure.
    pub(super) fn figure(&mut self, si: f64, unit: Unit) -> Figure {
        self.write(si, unit, notation::print)
    }

    /// A figure that is never below zero: nor is its interval, though to first order it would reach there.
    pub(super) fn amount(&mut self, si: f64, unit: Unit) -> Figure {
        let figure = self.figure(si, unit);
        Figure { low: figure.low.map(|low| low.max(0.0)), ..figure }
    }

    /// What rounding leaves: a figure whose own uncertainty says nothing.
    pub(super) fn rounding(&mut self, si: f64, unit: Unit) -> Figure {
        let figure = self.figure(si, unit);
        Figure { u: None, low: None, high: None, text: notation::print(si, 0.0, unit), ..figure }
    }

    /// A difference, with its sign.
    pub(super) fn difference(&mut self, si: f64, unit: Unit) -> Figure {
        self.difference_of(si, 0.0, unit)
    }

    /// A difference of numbers of that scale: an uncertainty below their rounding, some steps of which add up, is none.
    pub(super) fn difference_of(&mut self, si: f64, scale: f64, unit: Unit) -> Figure {
        self.write_above(ROUNDINGS * scale, si, unit, notation::print_signed)
    }

    fn write(&mut self, si: f64, unit: Unit, print: impl Fn(f64, f64, Unit) -> String) -> Figure {
        self.write_above(0.0, si, unit, print)
    }

    fn write_above(
        &mut self,
        rounding: f64,
        si: f64,
        unit: Unit,
        print: impl Fn(f64, f64, Unit) -> String,
    ) -> Figure {
        match self {
            Self::Noting(values) => {
                values.push(si);
                Figure { value: si, u: None, low: None, high: None, unit: "", text: String::new() }
            }
            Self::Writing { u, next } => {
                let u = u.get(*next).copied().filter(|u| *u > rounding).unwrap_or(0.0);
                *next += 1;
                Figure::of(si, u, Interval::about(si, u), unit, print)
            }
        }
    }
}

/// A count is written without decimals: "5", not "5.000".
fn whole(text: String, unit: Unit) -> String {
    if unit != Unit::One || text.contains('±') {
        return text;
    }
    match text.strip_suffix(".000") {
        Some(count) => count.to_owned(),
        None => text,
    }
}
