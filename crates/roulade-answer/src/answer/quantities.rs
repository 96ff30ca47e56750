//! Every quantity of a design sheet, as it is shown.

use roulade::cell::population;
use roulade::sheet::defaults::FIELDS;
use roulade::sheet::plausible;
use serde::Serialize;
use std::borrow::Cow;

/// A quantity of the sheet.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct QuantityRow {
    /// Its path, list indices left out: `parts[].height`.
    pub path: &'static str,
    /// Heading.
    pub section: &'static str,
    /// What it is called.
    pub label: &'static str,
    /// Unit of the trade.
    pub unit: &'static str,
    /// What it may be, in words that follow "is".
    pub bound: &'static str,
    /// What stands in for it where it is left out.
    pub default: Option<Cow<'static, str>>,
    /// Why that.
    pub source: Option<&'static str>,
    /// Where it lies in wound cells at large, where that is more than the default says.
    pub plausible: Option<&'static str>,
    /// Where that comes from.
    pub plausible_source: Option<&'static str>,
}

/// Every quantity, in the order of the sheet.
pub fn quantities() -> Vec<QuantityRow> {
    let of_population = |path: &str| population::shown(path);
    let rows = FIELDS.iter().map(|field| QuantityRow {
        path: field.path,
        section: field.section,
        label: field.label,
        unit: field.unit.symbol(),
        bound: field.bound.words(),
        default: field
            .default
            .map(|default| default.text.into())
            .or_else(|| Some(of_population(field.path)?.0.into())),
        source: field.default.map(|default| default.source).or_else(|| Some(of_population(field.path)?.1)),
        plausible: plausible::stated(field.path).map(|range| range.text),
        plausible_source: plausible::stated(field.path).map(|range| range.source),
    });
    rows.collect()
}
