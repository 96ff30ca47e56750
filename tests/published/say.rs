//! Prints a comparison, and fails where it is off by more than its margin.

use roulade::quantity::units::Length;
use serde_json::Value;

/// Prints published, computed and their difference; the difference in SI or trade units as they were given.
pub(super) fn say(what: &str, published: f64, computed: f64) -> f64 {
    let difference = computed - published;
    let relative =
        if published == 0.0 { String::new() } else { format!(" ({:+.2e})", difference / published) };
    println!(
        "{what}: published {published:.12}, computed {computed:.12}, difference {difference:+.3e}{relative}"
    );
    difference
}

/// Within `margin`, relative.
#[track_caller]
pub(super) fn relative(what: &str, published: f64, computed: f64, margin: f64) {
    let difference = say(what, published, computed) / published;
    assert!(difference.abs() <= margin, "{what}: {difference:e} is more than {margin:e}");
}

/// Within `margin`, in the unit of the figures.
#[track_caller]
pub(super) fn within(what: &str, published: f64, computed: f64, margin: f64) {
    let difference = say(what, published, computed);
    assert!(difference.abs() <= margin, "{what}: {difference:e} is more than {margin:e}");
}

/// A number of a data file, written as a number or, for more digits, as text.
#[track_caller]
pub(super) fn number(data: &Value, pointer: &str) -> f64 {
    let value = data.pointer(pointer).unwrap_or_else(|| panic!("nothing at {pointer}"));
    match value {
        Value::String(text) if text == "2*pi" => std::f64::consts::TAU,
        Value::String(text) => text.parse().unwrap_or_else(|_| panic!("no number at {pointer}: {text}")),
        other => other.as_f64().unwrap_or_else(|| panic!("no number at {pointer}: {other}")),
    }
}

/// A text of a data file.
#[track_caller]
pub(super) fn text<'a>(data: &'a Value, pointer: &str) -> &'a str {
    data.pointer(pointer).and_then(Value::as_str).unwrap_or_else(|| panic!("no text at {pointer}"))
}

/// The rows of a list in a data file; an empty one would check nothing.
#[track_caller]
pub(super) fn list<'a>(data: &'a Value, pointer: &str) -> &'a [Value] {
    let rows =
        data.pointer(pointer).and_then(Value::as_array).unwrap_or_else(|| panic!("no list at {pointer}"));
    assert!(!rows.is_empty(), "an empty list at {pointer}");
    rows
}

/// A length of so many metres. Where a case has its own unit, or none, a metre stands for it.
pub(super) fn metres(x: f64) -> Length {
    Length::new::<uom::si::length::meter>(x)
}
