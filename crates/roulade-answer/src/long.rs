//! Every figure of an answer as one line of a table: whatever the question, the columns are the same.
//!
//! The answer's JSON is read, not its types: what looks like a figure there is one, and stands under the names on the way
//! to it.

use roulade::quantity::ucum;
use roulade::sheet::{Json, parse};

/// A figure of an answer.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Line {
    /// Where it stands in the answer: "first.ledger.lines".
    pub part: String,
    /// Its stable name within that part: "capacity", "cathode coating.mass".
    pub id: String,
    /// What it is.
    pub label: String,
    /// Its value, unrounded, in `unit`.
    pub value: Option<f64>,
    /// Its standard uncertainty; absent where nothing uncertain reaches it.
    pub u: Option<f64>,
    /// Lower end of its 95 % interval.
    pub low: Option<f64>,
    /// Upper end.
    pub high: Option<f64>,
    /// Unit of the trade.
    pub unit: String,
    /// The same as a code of UCUM; empty where there is none, as for money.
    pub ucum: &'static str,
    /// What is meant, on which basis.
    pub basis: String,
}

/// The columns of a table of lines: name, what it holds, and whether that is a number.
pub const COLUMNS: [(&str, &str, bool); 10] = [
    ("part", "Where the figure stands in the answer", false),
    ("id", "Stable name of the figure within that part", false),
    ("label", "What the figure is", false),
    ("value", "Value, unrounded", true),
    ("u", "Standard uncertainty (k = 1); empty where nothing uncertain reaches the figure", true),
    ("low", "Lower end of the 95 % interval", true),
    ("high", "Upper end of the 95 % interval", true),
    ("unit", "Unit of value, u, low and high, as the trade writes it", false),
    ("ucum", "The same unit as a code of The Unified Code for Units of Measure", false),
    ("basis", "What is meant, on which basis", false),
];

/// A cell of a line.
#[derive(Clone, Debug, PartialEq)]
pub enum Cell {
    /// A text.
    Text(String),
    /// A number, where there is one.
    Number(Option<f64>),
}

impl Line {
    /// Its cells, in the order of [`COLUMNS`].
    pub fn cells(&self) -> [Cell; 10] {
        let text = |text: &str| Cell::Text(text.to_owned());
        [
            text(&self.part),
            text(&self.id),
            text(&self.label),
            Cell::Number(self.value),
            Cell::Number(self.u),
            Cell::Number(self.low),
            Cell::Number(self.high),
            text(&self.unit),
            text(self.ucum),
            text(&self.basis),
        ]
    }
}

/// Every figure of an answer's JSON, in its order, each under a name of its own; none of a text that is no answer.
///
/// ```
/// let answer = roulade_answer::ask::estimate(r#"{
///     "can": { "diameter": "21 mm", "height": "70 mm" },
///     "cathode": { "mix": [{ "material": "NMC811" }], "loading": "22 mg/cm²" },
///     "anode": { "mix": [{ "material": "graphite" }] }
/// }"#);
/// let lines = roulade_answer::long::lines(&answer);
/// let energy = lines.iter().find(|line| line.id == "volumetric").unwrap();
/// assert_eq!((energy.part.as_str(), energy.unit.as_str(), energy.ucum), ("headline", "Wh/L", "W.h/L"));
/// assert!(energy.low < energy.value && energy.value < energy.high);
/// ```
pub fn lines(answer: &str) -> Vec<Line> {
    let Ok(Json::Object(entries)) = parse(answer, "an answer") else { return Vec::new() };
    let Some((_, ok)) = entries.iter().find(|(key, _)| key == "ok") else { return Vec::new() };
    let mut found = Found { lines: Vec::new(), defined: Vec::new() };
    found.defined = definitions(ok);
    found.walk(ok, &Trail::default());
    distinct(found.lines)
}

/// Names on the way to a place.
#[derive(Clone, Debug, Default)]
struct Trail {
    part: Vec<String>,
    id: String,
    label: String,
    basis: String,
    unit: String,
}

struct Found {
    lines: Vec<Line>,
    /// Names of figures that stand in lists without their own.
    defined: Vec<[String; 2]>,
}

/// Keys whose text names the object it stands in, the stablest first.
const NAMES: [&str; 12] = [
    "id",
    "path",
    "key",
    "line",
    "group",
    "designation",
    "specimen",
    "instrument",
    "change",
    "basis",
    "name",
    "label",
];
/// Keys whose text says what the object is, the fullest first.
const LABELS: [&str; 8] = ["label", "line", "title", "name", "change", "basis", "instrument", "group"];

fn text<'a>(entries: &'a [(std::borrow::Cow<'_, str>, Json<'_>)], key: &str) -> Option<&'a str> {
    entries.iter().find(|(at, _)| at == key).and_then(|(_, value)| match value {
        Json::Text(text) if !text.is_empty() => Some(text.as_ref()),
        _ => None,
    })
}

fn number(entries: &[(std::borrow::Cow<'_, str>, Json<'_>)], key: &str) -> Option<f64> {
    entries.iter().find(|(at, _)| at == key).and_then(|(_, value)| match value {
        Json::Number(number) => number.as_f64(),
        _ => None,
    })
}

/// Ids and labels that an answer over many cells lists once for all of them.
fn definitions(answer: &Json<'_>) -> Vec<[String; 2]> {
    let Json::Object(entries) = answer else { return Vec::new() };
    let Some((_, Json::List(list))) = entries.iter().find(|(key, _)| key == "figures") else {
        return Vec::new();
    };
    let both = list.iter().filter_map(|item| match item {
        Json::Object(item) => Some([text(item, "id")?.to_owned(), text(item, "label")?.to_owned()]),
        _ => None,
    });
    both.collect()
}

impl Found {
    fn walk(&mut self, at: &Json<'_>, trail: &Trail) {
        match at {
            Json::Object(entries) => self.object(entries, trail),
            Json::List(items) => {
                for (i, item) in items.iter().enumerate() {
                    self.item(item, i, trail);
                }
            }
            _ => {}
        }
    }

    /// An item of a list: named by itself, by the answer's definitions, or by its place.
    fn item(&mut self, item: &Json<'_>, i: usize, trail: &Trail) {
        let Json::Object(entries) = item else { return };
        let mut inner = trail.clone();
        let named = NAMES.iter().find_map(|key| text(entries, key));
        let defined = self
            .defined
            .get(i)
            .filter(|_| named.is_none() && trail.part.last().is_some_and(|p| p == "figures"));
        match (named, defined) {
            (Some(name), _) => inner.id = join(&trail.id, name),
            (None, Some([id, label])) => {
                inner.id = join(&trail.id, id);
                inner.label = said(&trail.label, label);
            }
            (None, None) => inner.id = join(&trail.id, &(i + 1).to_string()),
        }
        self.object(entries, &inner);
    }

    fn object(&mut self, entries: &[(std::borrow::Cow<'_, str>, Json<'_>)], trail: &Trail) {
        let mut inner = trail.clone();
        if let Some(label) = LABELS.iter().find_map(|key| text(entries, key)) {
            inner.label = said(&trail.label, label);
        }
        if let Some(basis) = ["note", "basis", "how"].iter().find_map(|key| text(entries, key)) {
            basis.clone_into(&mut inner.basis);
        }
        let has = |key: &str| entries.iter().any(|(at, _)| at == key);
        if has("value") && has("unit") && has("text") {
            self.lines.push(Line {
                part: if inner.part.is_empty() { "answer".to_owned() } else { inner.part.join(".") },
                id: inner.id,
                label: inner.label,
                value: number(entries, "value"),
                u: number(entries, "u"),
                low: number(entries, "low"),
                high: number(entries, "high"),
                ucum: text(entries, "unit")
                    .map_or_else(|| ucum::of_symbol(""), ucum::of_symbol)
                    .unwrap_or_default(),
                unit: text(entries, "unit").unwrap_or_default().to_owned(),
                basis: inner.basis,
            });
            return;
        }
        if let (Some((_, Json::List(axes))), Some((_, Json::List(figures)))) =
            (entries.iter().find(|(key, _)| key == "axes"), entries.iter().find(|(key, _)| key == "figures"))
        {
            self.grid(axes, figures);
        }
        for (key, value) in entries {
            if let Some(name) = text(entries, "unit") {
                name.clone_into(&mut inner.unit);
            }
            let mut deeper = inner.clone();
            match value {
                Json::List(_) => deeper.part.push(whole(&inner.id, key)),
                // A figure of an item that has one alone is the item's own.
                Json::Object(_) if key == "figure" && !inner.id.is_empty() => {}
                Json::Object(_) if inner.id.is_empty() => {
                    if is_figure(value) {
                        deeper.id = key.to_string();
                    } else {
                        deeper.part.push(key.to_string());
                    }
                    deeper.label = said(&inner.label, &words(key));
                }
                Json::Object(_) => {
                    deeper.id = join(&inner.id, key);
                    deeper.label = said(&inner.label, &words(key));
                }
                _ => continue,
            }
            if matches!(value, Json::List(_)) {
                deeper.id = String::new();
            }
            self.walk(value, &deeper);
        }
    }

    /// Figures over one axis or two: a line for each of them in each cell that holds together.
    fn grid(&mut self, axes: &[Json<'_>], figures: &[Json<'_>]) {
        struct Axis {
            key: String,
            unit: String,
            values: Vec<f64>,
        }
        let values = |entries: &[(std::borrow::Cow<'_, str>, Json<'_>)]| -> Vec<f64> {
            let list = entries.iter().find(|(key, _)| key == "values");
            let Some((_, Json::List(list))) = list else { return Vec::new() };
            let number = |value: &Json<'_>| match value {
                Json::Number(number) => number.as_f64().unwrap_or(f64::NAN),
                _ => f64::NAN,
            };
            list.iter().map(number).collect()
        };
        let axes: Vec<Axis> = axes
            .iter()
            .filter_map(|axis| match axis {
                Json::Object(entries) => Some(Axis {
                    key: text(entries, "key")?.to_owned(),
                    unit: text(entries, "unit").unwrap_or_default().to_owned(),
                    values: values(entries),
                }),
                _ => None,
            })
            .collect();
        for figure in figures {
            let Json::Object(entries) = figure else { continue };
            let (Some(id), Some(label)) = (text(entries, "id"), text(entries, "label")) else { continue };
            let unit = text(entries, "unit").unwrap_or_default();
            for (cell, value) in values(entries).into_iter().enumerate() {
                if value.is_nan() {
                    continue;
                }
                let mut left = cell;
                let mut place = Vec::new();
                for Axis { key, unit, values } in &axes {
                    let width = values.len().max(1);
                    if let Some(at) = values.get(left % width) {
                        place.push(format!("{key} = {at} {unit}").trim_end().to_owned());
                    }
                    left /= width;
                }
                let place = place.join(", ");
                self.lines.push(Line {
                    part: "cells".to_owned(),
                    id: format!("{id} at {place}"),
                    label: format!("{label}, {place}"),
                    value: Some(value),
                    unit: unit.to_owned(),
                    ucum: ucum::of_symbol(unit).unwrap_or_default(),
                    basis: text(entries, "note").unwrap_or_default().to_owned(),
                    ..Line::default()
                });
            }
        }
    }
}

fn is_figure(value: &Json<'_>) -> bool {
    let Json::Object(entries) = value else { return false };
    ["value", "unit", "text"].iter().all(|key| entries.iter().any(|(at, _)| at == key))
}

fn join(before: &str, name: &str) -> String {
    if before.is_empty() { name.to_owned() } else { format!("{before}.{name}") }
}

fn whole(id: &str, key: &str) -> String {
    join(id, key)
}

fn said(before: &str, label: &str) -> String {
    if before.is_empty() || before == label { label.to_owned() } else { format!("{before}: {label}") }
}

/// A key as words.
fn words(key: &str) -> String {
    key.replace('_', " ")
}

/// Each line under a name of its own: what is alike is counted.
fn distinct(mut lines: Vec<Line>) -> Vec<Line> {
    let mut met: std::collections::BTreeMap<(String, String), usize> = std::collections::BTreeMap::new();
    for line in &mut lines {
        let count = met.entry((line.part.clone(), line.id.clone())).or_default();
        *count += 1;
        if *count > 1 {
            line.id = format!("{} #{count}", line.id);
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ask;
    use std::collections::BTreeSet;

    const A: &str = include_str!("../../../demo/marram-a.json");
    const B: &str = include_str!("../../../demo/marram-b.json");

    /// How many figures stand in a text: every one has its rounded text beside its value.
    fn figures(answer: &str) -> usize {
        fn count(value: &serde_json::Value) -> usize {
            match value {
                serde_json::Value::Object(map) => {
                    let own = ["value", "unit", "text"].iter().all(|key| map.contains_key(*key));
                    usize::from(own) + map.values().map(count).sum::<usize>()
                }
                serde_json::Value::Array(list) => list.iter().map(count).sum(),
                _ => 0,
            }
        }
        count(&serde_json::from_str(answer).unwrap())
    }

    #[test]
    fn every_figure_has_a_line_of_its_own() {
        for answer in [ask::estimate(A), ask::compare(A, B)] {
            let lines = lines(&answer);
            assert_eq!(lines.len(), figures(&answer));
            assert!(lines.len() > 150);
            let names: BTreeSet<_> = lines.iter().map(|line| (&line.part, &line.id)).collect();
            assert_eq!(names.len(), lines.len());
            for line in &lines {
                assert!(!line.label.is_empty() && line.value.is_some(), "{line:?}");
                assert_eq!(Some(line.ucum), ucum::of_symbol(&line.unit), "{line:?}");
                if let (Some(low), Some(value), Some(high)) = (line.low, line.value, line.high) {
                    assert!(low <= value && value <= high, "{line:?}");
                }
            }
        }
    }

    #[test]
    fn names_are_those_of_the_answer() {
        let all = lines(&ask::compare(A, B));
        let find = |part: &str, id: &str| {
            all.iter()
                .find(|line| line.part == part && line.id == id)
                .unwrap_or_else(|| panic!("{part} {id}: {all:#?}"))
        };
        let energy = find("first.headline", "volumetric");
        assert_eq!(energy.label, "first: volumetric energy density");
        assert!(energy.basis.contains("envelope"), "{energy:?}");
        assert_eq!(find("figures", "capacity.change").unit, "Ah");
        assert_eq!(find("freed", "height").unit, "mm");
        assert!(lines("{\"problems\":[]}").is_empty() && lines("no JSON").is_empty());
    }

    #[test]
    fn cells_of_a_sweep_are_lines() {
        let question = format!(
            r#"{{"sheet":{A},"along":[{{"key":"separator.thickness","from":"8 µm","to":"20 µm","steps":3}}],"figures":["mass"]}}"#
        );
        let answer = ask::sweep(&question, &roulade_stats::executor::OneByOne(|_, _| ()));
        let lines = lines(&answer);
        assert_eq!(lines.iter().filter(|line| line.part == "cells").count(), 4, "{answer}");
        assert_eq!(lines[0].id, "mass at separator.thickness = 8 µm");
    }
}
