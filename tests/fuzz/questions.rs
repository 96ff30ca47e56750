//! Questions for every verb, as JSON text, and the small languages beside them: bench sheets, claims, formulas.

use super::benches::{READ, readings_near};
use super::luck::Luck;
use super::sheets::{Bases, odd};
use super::words::{self, havoc};
use serde_json::{Map, Value, json};

pub(crate) use super::benches::{bench, instruments};

const FIGURES: &[&str] = &[
    "volumetric",
    "gravimetric",
    "capacity",
    "energy",
    "mass",
    "resistance",
    "parts",
    "balance.n_to_p",
    "cathode.porosity",
    "roll.cathode_length",
    "specific_energy",
    "volumetrc",
    "",
    "energy_loaded",
];
/// A question with some of these keys left out, of another shape, or with one too many.
fn question(luck: &mut Luck, entries: Vec<(&str, Value)>) -> String {
    let mut object = Map::new();
    for (key, value) in entries {
        match luck.below(40) {
            0 => {}
            1 => drop(object.insert(key.to_owned(), odd(luck))),
            2 => drop(object.insert(words::name(luck), value)),
            _ => drop(object.insert(key.to_owned(), value)),
        }
    }
    let text = Value::Object(object).to_string();
    if luck.once_in(60) { havoc(luck, &text) } else { text }
}

fn figure(luck: &mut Luck) -> Value {
    luck.pick(FIGURES).into()
}

/// Once in a while there is none.
fn maybe<'a>(luck: &mut Luck, key: &'a str, value: Value) -> Option<(&'a str, Value)> {
    (!luck.once_in(3)).then_some((key, value))
}

fn seed(luck: &mut Luck) -> Value {
    json!(luck.below(5))
}

fn stretch(luck: &mut Luck, from: &str, to: &str) -> Value {
    let mut end =
        |usual: &str| if luck.once_in(6) { words::quantity(luck, Some("mm")) } else { usual.to_owned() };
    let (from, to) = (end(from), end(to));
    json!({ "from": from, "to": to, "steps": luck.below(4) })
}

fn hold(luck: &mut Luck) -> Value {
    let mut object = Map::new();
    for key in ["hardware", "wall", "bottom", "core_diameter", "radial_clearance", "void_height", "parts"] {
        if luck.once_in(4) {
            let value = match luck.below(3) {
                0 => luck
                    .pick(&["stays", "grows", "with the diameter", "with the inner diameter", "as they are"])
                    .to_owned(),
                _ => words::quantity(luck, Some("mm")),
            };
            object.insert(key.to_owned(), value.into());
        }
    }
    object.into()
}

pub(crate) fn two_sheets(luck: &mut Luck, bases: &Bases) -> (Value, Value) {
    let first = bases.sheet(luck);
    let second = if luck.once_in(4) { first.clone() } else { bases.sheet(luck) };
    (first, second)
}

pub(crate) fn without(luck: &mut Luck, bases: &Bases) -> String {
    let sheet = bases.sheet(luck);
    let names: Vec<String> = sheet["parts"]
        .as_array()
        .map(|parts| parts.iter().filter_map(|part| part["name"].as_str().map(str::to_owned)).collect())
        .unwrap_or_default();
    let part = if names.is_empty() || luck.once_in(5) { words::name(luck) } else { luck.any(&names).clone() };
    let reclaim = match luck.below(4) {
        0 => json!(luck.part() * 1.2 - 0.1),
        1 => words::quantity(luck, Some("%")).into(),
        _ => json!(1),
    };
    let instead = json!({ "name": words::name(luck), "place": "below roll", "height": words::quantity(luck, Some("mm")), "mass": words::quantity(luck, Some("g")), "material": "steel" });
    let mut entries = vec![("sheet", sheet), ("part", part.into())];
    entries.extend(maybe(luck, "reclaim", reclaim));
    if luck.once_in(4) {
        entries.push(("instead", instead));
    }
    question(luck, entries)
}

pub(crate) fn edit(luck: &mut Luck, bases: &Bases) -> String {
    let sheet = bases.sheet(luck);
    let edits: Vec<Value> = (0..luck.below(4)).map(|_| one_edit(luck, bases)).collect();
    question(luck, vec![("sheet", sheet), ("edits", edits.into())])
}

fn one_edit(luck: &mut Luck, bases: &Bases) -> Value {
    let key = bases.key(luck);
    match luck.below(12) {
        0..=3 => json!({ "set": key, "to": words::quantity(luck, None) }),
        4 => json!({ "set": key, "to": odd(luck) }),
        5 => json!({ "clear": key }),
        6 => json!({ "remove": format!("parts[{}]", words::name(luck)) }),
        7 => {
            json!({ "add": "parts", "item": { "name": words::name(luck), "place": "in core" }, "at": luck.below(4) })
        }
        8 => {
            json!({ "rename": format!("parts[{}]", luck.pick(&["lid", "gasket", "crimp", "0"])), "to": words::name(luck) })
        }
        9 => json!({ "fix": key }),
        10 => json!({ "scale": key, "by": luck.part() * 3.0 - 0.5 }),
        _ => {
            json!({ "resize": { "diameter": words::quantity(luck, Some("mm")), "height": words::quantity(luck, Some("mm")) } })
        }
    }
}

pub(crate) fn drawn(luck: &mut Luck, bases: &Bases) -> String {
    let (first, second) = two_sheets(luck, bases);
    let mut entries =
        vec![("sheet", first), ("draws", json!(luck.pick(&[&1000, &1000, &1001, &0]))), ("seed", seed(luck))];
    if luck.once_in(3) {
        entries.push(("second", second));
    }
    let figures = json!([figure(luck)]);
    entries.extend(maybe(luck, "figures", figures));
    question(luck, entries)
}

pub(crate) fn sensitivity(luck: &mut Luck, bases: &Bases) -> String {
    let (first, second) = two_sheets(luck, bases);
    let mut entries = vec![("sheet", first), ("seed", seed(luck))];
    let figure = figure(luck);
    entries.extend(maybe(luck, "figure", figure));
    if luck.once_in(3) {
        entries.push(("second", second));
    }
    if luck.once_in(30) {
        entries.push(("draws", json!(1000)));
    }
    question(luck, entries)
}

/// A declared figure in words.
pub(crate) fn declared(luck: &mut Luck) -> String {
    let relation = luck.pick(&["at least ", "at most ", "about ", "", "more than ", "≥ ", "~"]);
    let unit = luck.pick(&["Wh/kg", "Wh/L", "Ah", "g", "Wh", "V", "mΩ", "%", "mm", "mg/cm²", ""]);
    let value = if luck.once_in(4) {
        words::quantity(luck, Some(unit))
    } else {
        format!("{} {unit}", 1 + luck.below(700))
    };
    let after = luck.pick(&[
        "",
        "",
        "",
        " over the other cell",
        " per volume",
        " with sleeve",
        " between 2.5 and 4.2 V",
        " at 0.2 It",
        " at 25 °C",
        " minimum",
        ", typical",
        " roll",
        " charged to 4.2 V",
        ", 46 × 80",
        "\n3.6 V",
        "; 5 Ah",
        " capacity",
    ]);
    let text = format!("{relation}{value}{after}");
    if luck.once_in(8) { havoc(luck, &text) } else { text }
}

pub(crate) fn claim(luck: &mut Luck, bases: &Bases) -> String {
    let (first, second) = two_sheets(luck, bases);
    let claims: Vec<Value> = (0..=luck.below(3)).map(|_| declared(luck).into()).collect();
    let parts = json!({ "value": words::quantity(luck, Some("Wh/kg")), "relation": luck.pick(&["at least", "at most", "about", "x"]), "window": "2.5 .. 4.2 V" });
    let said = match luck.below(4) {
        0 => ("claims", claims.into()),
        1 => ("claim", parts),
        _ => ("claim", claims[0].clone()),
    };
    let mut entries =
        vec![said, ("sheet", first), ("draws", json!(luck.pick(&[&1000, &1000, &1]))), ("seed", seed(luck))];
    if luck.once_in(4) {
        entries.push(("other", second));
    }
    question(luck, entries)
}

pub(crate) fn attribute(luck: &mut Luck, bases: &Bases) -> String {
    let first = bases.sheet(luck);
    // A few changes mostly: two cells of the demo lie a dozen apart.
    let second = if luck.once_in(12) { bases.sheet(luck) } else { bases.changed(luck, &first) };
    let draws = *luck.any(&[0, 0, 2, 5, 1]);
    let mut entries =
        vec![("first", first), ("second", second), ("draws", json!(draws)), ("seed", seed(luck))];
    if luck.once_in(3) {
        let keys: Vec<Value> = (0..luck.below(4)).map(|_| bases.key(luck).into()).collect();
        entries.push(("changes", json!({ "changes": [{ "name": words::name(luck), "keys": keys }] })));
    }
    if luck.once_in(3) {
        entries.push(("prices", prices(luck)));
    }
    question(luck, entries)
}

fn prices(luck: &mut Luck) -> Value {
    let mut price = || match luck.below(5) {
        0 => odd(luck),
        _ => json!(luck.part() * 50.0),
    };
    let (copper, steel, lid) = (price(), price(), price());
    json!({ "per_kg": { "copper": copper, "steel": steel, words::name(luck): 3 }, "per_part": { "lid": lid }, "currency": words::name(luck) })
}

pub(crate) fn map(luck: &mut Luck, bases: &Bases) -> String {
    let mut entries = vec![
        ("sheet", bases.sheet(luck)),
        ("diameter", stretch(luck, "18 mm", "46 mm")),
        ("height", stretch(luck, "50 mm", "130 mm")),
    ];
    let (hold, figures) = (hold(luck), json!([figure(luck)]));
    entries.extend(maybe(luck, "hold", hold));
    entries.extend(maybe(luck, "figures", figures));
    question(luck, entries)
}

pub(crate) fn sweep(luck: &mut Luck, bases: &Bases) -> String {
    let along: Vec<Value> = (0..=luck.below(2))
        .map(|_| {
            let (key, unit, from, to) = *luck.any(&[
                ("separator.thickness", "µm", "8 µm", "20 µm"),
                ("can.wall", "mm", "0.2 mm", "0.5 mm"),
                ("can.diameter", "mm", "18 mm", "50 mm"),
                ("cathode.loading", "mg/cm²", "15 mg/cm²", "25 mg/cm²"),
            ]);
            let key = if luck.once_in(3) { bases.key(luck) } else { key.to_owned() };
            let mut end = |usual: &str| {
                if luck.once_in(4) { words::quantity(luck, Some(unit)) } else { usual.to_owned() }
            };
            let (from, to) = (end(from), end(to));
            json!({ "key": key, "from": from, "to": to, "steps": luck.below(4) })
        })
        .collect();
    let mut entries = vec![("sheet", bases.sheet(luck)), ("along", along.into())];
    let hold = hold(luck);
    if luck.once_in(3) {
        entries.push(("hold", hold));
    }
    question(luck, entries)
}

pub(crate) fn resize(luck: &mut Luck, bases: &Bases) -> String {
    let mut side = || match luck.below(3) {
        0 => words::quantity(luck, Some("mm")),
        _ => format!("{} mm", 14 + luck.below(100)),
    };
    let (diameter, height) = (side(), side());
    let mut entries =
        vec![("sheet", bases.sheet(luck)), ("diameter", diameter.into()), ("height", height.into())];
    let hold = hold(luck);
    entries.extend(maybe(luck, "hold", hold));
    question(luck, entries)
}

pub(crate) fn search(luck: &mut Luck, bases: &Bases) -> String {
    let free: Vec<Value> = (0..=luck.below(3))
        .map(|_| {
            let (key, unit, from, to) = *luck.any(&[
                ("cathode.loading", "mg/cm²", "15 mg/cm²", "30 mg/cm²"),
                ("cathode.thickness", "µm", "45 µm", "95 µm"),
                ("can.height", "mm", "60 mm", "100 mm"),
            ]);
            let key = if luck.once_in(4) { bases.key(luck) } else { key.to_owned() };
            let from = if luck.once_in(4) { words::quantity(luck, Some(unit)) } else { from.to_owned() };
            json!({ "key": key, "from": from, "to": to })
        })
        .collect();
    let keep = json!([{ "figure": figure(luck), "at_least": words::quantity(luck, Some("")) }]);
    let best = format!("{}{}", luck.pick(&["", "least ", "greatest "]), luck.pick(FIGURES));
    let mut entries = vec![
        ("sheet", bases.sheet(luck)),
        ("free", free.into()),
        ("best", best.into()),
        ("trials", json!(1 + luck.below(60))),
        ("seed", seed(luck)),
    ];
    if luck.once_in(3) {
        entries.push(("keep", keep));
    }
    if luck.once_in(3) {
        entries.push(("against", figure(luck)));
    }
    question(luck, entries)
}

pub(crate) fn reconcile(luck: &mut Luck, bases: &Bases) -> String {
    let readings = if luck.once_in(3) { readings_near(luck) } else { bench(luck) };
    let mut entries = vec![("sheet", bases.sheet(luck)), ("readings", readings.into())];
    if luck.once_in(3) {
        entries.push(("instruments", instruments(luck).into()));
    }
    if luck.once_in(4) {
        entries.push(("loss", luck.pick(&["normal", "huber", "student", "x"]).into()));
    }
    if luck.once_in(6) {
        entries.push(("populations", json!([luck.pick(READ)])));
    }
    if luck.once_in(6) {
        entries.push(("cell", words::name(luck).into()));
    }
    question(luck, entries)
}

pub(crate) fn next(luck: &mut Luck, bases: &Bases) -> String {
    let (first, second) = two_sheets(luck, bases);
    let mut entries = vec![("sheet", first), ("figure", figure(luck))];
    if luck.once_in(4) {
        entries.push(("second", second));
    }
    if luck.once_in(3) {
        entries.push(("readings", bench(luck).into()));
    }
    question(luck, entries)
}

/// The work that a link or a browser keeps.
pub(crate) fn work(luck: &mut Luck, bases: &Bases) -> String {
    let (first, second) = two_sheets(luck, bases);
    let version = if luck.once_in(20) { odd(luck) } else { json!(1) };
    let keys: Vec<Value> = (0..luck.below(3)).map(|_| bases.key(luck).into()).collect();
    let changes = json!({ "changes": [{ "name": words::name(luck), "keys": keys }] });
    let (readings, instruments) = (bench(luck), instruments(luck));
    let side = *luck.any(&["first", "second", "first", "third"]);
    let loss = *luck.any(&["normal", "huber", "student", "x"]);
    let bench = json!({ "readings": readings, "instruments": instruments, "side": side, "loss": loss, "between": luck.once_in(2) });
    let mut along = stretch(luck, "18 mm", "46 mm");
    along["key"] = bases.key(luck).into();
    let sizes = json!({ "along": [along], "figure": figure(luck), "hold": hold(luck) });
    let others = [
        ("second", second),
        ("changes", changes),
        ("prices", prices(luck)),
        ("claim", declared(luck).into()),
        ("bench", bench),
        ("discharge", words::name(luck).into()),
        ("sizes", sizes),
    ];
    let mut entries = vec![("version", version), ("first", first)];
    for (key, value) in others {
        entries.extend(maybe(luck, key, value));
    }
    question(luck, entries)
}

pub(crate) fn report(luck: &mut Luck, bases: &Bases) -> String {
    let first = bases.sheet(luck);
    let second = bases.changed(luck, &first);
    let mut entries = vec![("first", first), ("date", words::name(luck).into()), ("draws", json!(1000))];
    if luck.once_in(3) {
        entries.push(("second", second));
    }
    if luck.once_in(4) {
        entries.push(("claim", declared(luck).into()));
    }
    if luck.once_in(4) {
        entries.push(("readings", bench(luck).into()));
    }
    question(luck, entries)
}

/// A chemical formula, right and wrong.
pub(crate) fn formula(luck: &mut Luck) -> String {
    let mut text = String::new();
    for _ in 0..luck.below(7) {
        text +=
            luck.pick(&["Li", "Ni", "Co", "Mn", "Al", "O", "Fe", "P", "C", "Na", "Xx", "(", ")", "l", "F6"]);
        if luck.once_in(2) {
            text += &words::number(luck);
        }
    }
    text
}
