//! From the parts of a claim to a claim that holds together, or what is wrong with it.

use super::basis::{Basis, On};
use super::basis::{loaded, under};
use super::declared::{Claim, ComparedAs, Limits, Relation, figure_of};
use super::rounding::Rounding;
use super::words::{EXAMPLE, Parts, split};
use crate::cell::figures::{Definition, definition};
use crate::quantity::notation;
use crate::quantity::problem::{Problem, Problems, shortened};
use crate::quantity::units::{Dimension, Unit};
use roulade_stats::uncertain::Spread;

/// Names the place of each part.
type At<'a> = &'a dyn Fn(&str) -> String;

impl Claim {
    /// Puts a claim together.
    pub(super) fn of(parts: &Parts, at: At<'_>) -> Result<Self, Problems> {
        let mut taken = Vec::new();
        let needed = || format!("a number with its unit, {EXAMPLE}");
        let value = parts.value.as_deref().ok_or_else(|| Problem::new(at("value"), "no value", needed()))?;
        let (number, tolerance, symbol) = split(value);
        let unit = notation::unit(&symbol);
        if unit.is_none() && !symbol.is_empty() {
            let found = format!("\"{}\", a unit that is not known", shortened(&symbol));
            return Err(Problem::new(at("value"), found, needed()).into());
        }
        let rate = parts.rate.as_deref().map(|text| rate(text, &at("rate"))).transpose()?;
        let figure = under_load(figure(parts, unit, at)?, parts, rate, &mut taken, at)?;
        let over = parts.over.map(|_| match unit {
            Some(Unit::Percent) => ComparedAs::Share,
            _ => ComparedAs::Difference,
        });
        let dimension = dimension(figure, over, unit, value, at)?;
        let read =
            |text: &str| notation::read(text, dimension).map_err(|complaint| complaint.at(at("value")));
        let uncertain = read(&format!("{number} {symbol}"))?;
        let unit = unit.unwrap_or(Unit::One);
        let relation = parts.relation.unwrap_or_else(|| {
            taken.push("No relation is stated: it is taken as “about”.");
            Relation::About
        });
        let rounding = match &tolerance {
            Some(half) => {
                Rounding::stated(&number, read(&format!("{half} {symbol}"))?.value.abs() / unit.in_si())
            }
            None => Rounding::of(&number, relation == Relation::About),
        };
        let claim = Self {
            figure,
            relation,
            over,
            value: uncertain.value,
            unit,
            rounding,
            basis: basis(figure, parts.basis, &mut taken, at)?,
            window: limits(parts, at)?,
            rate,
            temperature: parts
                .temperature
                .as_deref()
                .map(|text| one(text, Dimension::Temperature, &at("temperature")))
                .transpose()?,
            standing: parts.standing,
            taken,
        };
        Ok(if parts.over.is_some_and(|sign| sign < 0.0) { claim.below() } else { claim })
    }

    /// The same for a change downwards: "at least 5 % below" is at most −5 %.
    fn below(self) -> Self {
        Self {
            relation: match self.relation {
                Relation::AtLeast => Relation::AtMost,
                Relation::AtMost => Relation::AtLeast,
                Relation::About => Relation::About,
            },
            value: -self.value,
            rounding: Rounding { written: format!("−{}", self.rounding.written), ..self.rounding },
            ..self
        }
    }
}

/// The figure that is named, or the one that the unit stands for.
fn figure(parts: &Parts, unit: Option<Unit>, at: At<'_>) -> Result<&'static Definition, Problem> {
    let share = unit == Some(Unit::Percent);
    let said = parts.figure.and_then(definition);
    said.or_else(|| figure_of(unit.filter(|_| !share)?.dimension())).ok_or_else(|| {
        if share {
            let expected = "\"per volume\", \"per mass\", or the name of another figure";
            return Problem::new(at("figure"), "a percentage of an unknown figure", expected);
        }
        let value = shortened(parts.value.as_deref().unwrap_or_default());
        let found = format!("\"{value}\", which does not say what it is a figure of");
        Problem::new(at("figure"), found, format!("a unit, or the name of the figure, {EXAMPLE}"))
    })
}

/// The same figure under load, where the claim is meant so.
fn under_load(
    figure: &'static Definition,
    parts: &Parts,
    rate: Option<f64>,
    taken: &mut Vec<&'static str>,
    at: At<'_>,
) -> Result<&'static Definition, Problem> {
    if parts.load == Some(false) && rate.is_some() {
        return Err(Problem::new(
            at("rate"),
            "a rate at open circuit",
            "one of the two, a rate or open circuit",
        ));
    }
    match (parts.load.or(rate.map(|_| true)), loaded(figure)) {
        (Some(load), Some(_)) => Ok(under(figure, load).unwrap_or(figure)),
        (Some(_), None) => {
            let found = format!("a load beside {}, which does not depend on one", figure.label);
            Err(Problem::new(at("rate"), found, "the figure without a load"))
        }
        (None, loaded) => {
            if loaded == Some(false) {
                taken.push("No rate is stated: it is taken at open circuit.");
            }
            Ok(figure)
        }
    }
}

/// What the value measures, where its unit does.
fn dimension(
    figure: &Definition,
    over: Option<ComparedAs>,
    unit: Option<Unit>,
    value: &str,
    at: At<'_>,
) -> Result<Dimension, Problem> {
    let share = unit == Some(Unit::Percent);
    let own = figure.unit.dimension();
    if share && over.is_none() && own != Dimension::Fraction {
        let expected = "\"over the other cell\" after it, or a value with its unit";
        return Err(Problem::new(at("over"), "a percentage without the other cell", expected));
    }
    let dimension = if over == Some(ComparedAs::Share) { Dimension::Fraction } else { own };
    if unit.is_some_and(|unit| unit.dimension() != dimension) {
        let expected = format!("the figure “{}” to be given in {}", figure.label, figure.unit.symbol());
        return Err(Problem::new(at("value"), format!("\"{}\"", shortened(value)), expected));
    }
    Ok(dimension)
}

/// The basis that is stated, or the cell.
fn basis(
    figure: &'static Definition,
    stated: Option<Basis>,
    taken: &mut Vec<&'static str>,
    at: At<'_>,
) -> Result<Basis, Problem> {
    let bases: Vec<Basis> =
        On::all(figure).iter().filter(|on| on.figure.id == figure.id).map(|on| on.basis).collect();
    match stated {
        Some(basis) if bases.contains(&basis) => Ok(basis),
        Some(basis) => {
            let found = format!("\"{}\" as the basis of {}", basis.name(), figure.label);
            let names: Vec<&str> = bases.iter().map(|basis| basis.name()).collect();
            Err(Problem::new(
                at("basis"),
                found,
                format!("a basis of this figure, one of: {}", names.join(", ")),
            ))
        }
        None => {
            if bases.len() > 1 {
                taken.push("No basis is stated: it is taken of the whole cell.");
            }
            Ok(Basis::Cell)
        }
    }
}

/// The voltage limits that are stated, together or one by one.
fn limits(parts: &Parts, at: At<'_>) -> Result<Limits, Problem> {
    if let Some(text) = parts.window.as_deref() {
        return window(text, &at("window"));
    }
    let limit = |text: &Option<String>, place: &str| {
        text.as_deref().map(|text| one(text, Dimension::Voltage, &at(place))).transpose()
    };
    let limits =
        Limits { lower: limit(&parts.discharged, "down_to")?, upper: limit(&parts.charged, "charged_to")? };
    match (limits.lower, limits.upper) {
        (Some(low), Some(high)) if low >= high => Err(Problem::new(
            at("window"),
            format!("a charge to {high} V and a discharge down to {low} V"),
            "a charge limit that is above the discharge limit",
        )),
        _ => Ok(limits),
    }
}

/// One number, SI.
fn one(text: &str, dimension: Dimension, place: &str) -> Result<f64, Problem> {
    notation::read(text, dimension).map(|uncertain| uncertain.value).map_err(|complaint| complaint.at(place))
}

/// Lower and upper limit, V.
fn window(text: &str, place: &str) -> Result<Limits, Problem> {
    let uncertain = notation::read(text, Dimension::Voltage).map_err(|complaint| complaint.at(place))?;
    match uncertain.spread {
        Spread::Range { low, high } if low > 0.0 => Ok(Limits { lower: Some(low), upper: Some(high) }),
        _ => Err(Problem::new(
            place,
            format!("\"{}\"", shortened(text)),
            "the lower and the upper limit, for example \"2.5 .. 4.2 V\"",
        )),
    }
}

/// A rate, 1/s.
fn rate(text: &str, place: &str) -> Result<f64, Problem> {
    let uncertain = notation::read(text, Dimension::Rate).map_err(|complaint| complaint.at(place))?;
    if uncertain.value > 0.0 {
        Ok(uncertain.value)
    } else {
        Err(Problem::new(place, format!("\"{}\"", shortened(text)), "a rate that is greater than zero"))
    }
}
