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

/// Every figure of an answer passes through a writer. First one only notes the values, once for each moved input; then,
/// with the uncertainties known, the same code writes the answer itself with another.
pub(super) trait FigureWriter {
    /// What becomes of a figure. Of values that are only noted nothing is kept beside them: a hundred moved inputs would fill
    /// as many answers, which takes longer than the cells.
    type Figure;

    /// A value in SI, of which an uncertainty below that much rounding is none, put in words by `print`.
    fn write(
        &mut self,
        si: f64,
        unit: Unit,
        rounding: f64,
        print: impl Fn(f64, f64, Unit) -> String,
    ) -> Self::Figure;

    /// A figure that is never below zero: nor is its interval, though to first order it would reach there.
    fn amount(&mut self, si: f64, unit: Unit) -> Self::Figure;

    /// What rounding leaves: a figure whose own uncertainty says nothing.
    fn rounding(&mut self, si: f64, unit: Unit) -> Self::Figure;

    /// How many figures have passed.
    fn count(&self) -> usize;

    /// Words beside a figure; none while values are only noted.
    fn words(&self, text: &str) -> String;

    /// A figure.
    fn figure(&mut self, si: f64, unit: Unit) -> Self::Figure {
        self.write(si, unit, 0.0, notation::print)
    }

    /// A difference, with its sign.
    fn difference(&mut self, si: f64, unit: Unit) -> Self::Figure {
        self.difference_of(si, 0.0, unit)
    }

    /// A difference of numbers of that scale: an uncertainty below their rounding, some steps of which add up, is none.
    fn difference_of(&mut self, si: f64, scale: f64, unit: Unit) -> Self::Figure {
        self.write(si, unit, ROUNDINGS * scale, notation::print_signed)
    }
}

/// Notes the values.
#[derive(Debug)]
pub(super) struct Noting(Vec<f64>);

impl Noting {
    pub(super) fn new() -> Self {
        Self(Vec::with_capacity(256))
    }

    /// The values noted.
    pub(super) fn noted(self) -> Vec<f64> {
        self.0
    }
}

impl FigureWriter for Noting {
    type Figure = ();

    fn write(&mut self, si: f64, _: Unit, _: f64, _: impl Fn(f64, f64, Unit) -> String) {
        self.0.push(si);
    }

    fn amount(&mut self, si: f64, _: Unit) {
        self.0.push(si);
    }

    fn rounding(&mut self, si: f64, _: Unit) {
        self.0.push(si);
    }

    fn count(&self) -> usize {
        self.0.len()
    }

    fn words(&self, _: &str) -> String {
        String::new()
    }
}

/// Writes the figures, each with the next uncertainty.
#[derive(Debug)]
pub(super) struct Writing<'a> {
    /// Uncertainties in the order of the values, SI.
    u: &'a [f64],
    /// How many were written.
    next: usize,
}

impl<'a> Writing<'a> {
    /// Figures with these uncertainties in their order, SI.
    pub(super) fn with(u: &'a [f64]) -> Self {
        Self { u, next: 0 }
    }
}

impl FigureWriter for Writing<'_> {
    type Figure = Figure;

    fn write(
        &mut self,
        si: f64,
        unit: Unit,
        rounding: f64,
        print: impl Fn(f64, f64, Unit) -> String,
    ) -> Figure {
        let u = self.u.get(self.next).copied().filter(|u| *u > rounding).unwrap_or(0.0);
        self.next += 1;
        Figure::of(si, u, Interval::about(si, u), unit, print)
    }

    fn amount(&mut self, si: f64, unit: Unit) -> Figure {
        let figure = self.figure(si, unit);
        Figure { low: figure.low.map(|low| low.max(0.0)), ..figure }
    }

    fn rounding(&mut self, si: f64, unit: Unit) -> Figure {
        let figure = self.figure(si, unit);
        Figure { u: None, low: None, high: None, text: notation::print(si, 0.0, unit), ..figure }
    }

    fn count(&self) -> usize {
        self.next
    }

    fn words(&self, text: &str) -> String {
        text.to_owned()
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
