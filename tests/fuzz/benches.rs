//! Bench sheets and instruments, as text.

use super::luck::Luck;
use super::words::{self, havoc};
use serde_json::json;

pub(super) const READ: &[&str] = &[
    "can diameter",
    "can height",
    "cell mass",
    "cathode foil",
    "cathode width",
    "capacity",
    "mass of lid",
    "mass of cap assembly",
    "cathode length",
    "cathode loading, both sides",
    "resistance",
    "cathod width",
    "",
    "voltage",
    "density of electrolyte",
];

/// A bench sheet: some lines, in one of the dialects.
pub(crate) fn bench(luck: &mut Luck) -> String {
    const BENCH: &str = include_str!("../../demo/bench.csv");
    if luck.once_in(20) {
        let lines: Vec<&str> = BENCH.lines().collect();
        let some = lines.iter().enumerate().filter(|(i, _)| *i == 0 || luck.once_in(8));
        let text: Vec<&str> = some.map(|(_, line)| *line).collect();
        return text.join("\n");
    }
    let separator = luck.pick(&[";", ",", "\t"]);
    let mut head =
        vec!["specimen", "quantity", "value", "unit", "uncertainty", "instrument", "fit", "state", "cell"];
    if luck.once_in(6) {
        head.remove(luck.below(head.len()));
    }
    let mut text = luck.pick(&["", "", "", "\u{feff}", "sep=;\n"]).to_owned() + &head.join(separator);
    for _ in 0..luck.below(5) {
        let unit = words::unit(luck);
        let cells: Vec<String> = head
            .iter()
            .map(|column| match *column {
                "specimen" => luck.pick(&["A", "B", "", "C"]).to_owned(),
                "quantity" => luck.pick(READ).to_owned(),
                "value" => words::number(luck),
                "unit" => {
                    if luck.once_in(3) {
                        unit.to_owned()
                    } else {
                        "mm".to_owned()
                    }
                }
                "uncertainty" => {
                    if luck.once_in(2) {
                        String::new()
                    } else {
                        words::number(luck)
                    }
                }
                "fit" => luck.pick(&["fit", "unfit", "", "maybe"]).to_owned(),
                "state" => luck.pick(&["", "as built", "charged", "washed, dried", "x"]).to_owned(),
                "cell" => luck.pick(&["", "Marram A", "Marram B"]).to_owned(),
                _ => {
                    if luck.once_in(4) {
                        words::name(luck)
                    } else {
                        "caliper".to_owned()
                    }
                }
            })
            .collect();
        text.push('\n');
        text += &cells.join(separator);
    }
    if luck.once_in(8) { havoc(luck, &text) } else { text }
}

pub(crate) fn instruments(luck: &mut Luck) -> String {
    let mut text = "instrument,resolution,repeatability,calibration,relative,remark".to_owned();
    for _ in 0..luck.below(4) {
        let name = if luck.once_in(4) {
            words::name(luck)
        } else {
            luck.pick(&["caliper 2", "balance", "cycler"]).to_owned()
        };
        let mut cell =
            |unit: &str| if luck.once_in(2) { String::new() } else { words::quantity(luck, Some(unit)) };
        text += &format!("\n{name},{},{},{},{},", cell("mm"), cell("mm"), cell("mm"), cell("%"));
    }
    match luck.below(10) {
        0 => json!([{ "instrument": words::name(luck), "resolution": words::quantity(luck, Some("mm")) }])
            .to_string(),
        1 => havoc(luck, &text),
        _ => text,
    }
}

/// Readings that a cell could have.
pub(super) fn readings_near(luck: &mut Luck) -> String {
    let mut text = "specimen,quantity,value,unit,uncertainty".to_owned();
    for _ in 0..=luck.below(5) {
        let (quantity, value, unit) = *luck.any(&[
            ("can diameter", 40.0, "mm"),
            ("can height", 92.0, "mm"),
            ("cell mass", 326.0, "g"),
            ("cathode width", 80.0, "mm"),
            ("capacity", 21.0, "Ah"),
            ("can diameter", 24.0, "mm"),
        ]);
        let slip = luck.any(&[1.0, 1.0, 1.0, 1.01, 10.0, 0.5, 0.0]);
        let specimen = luck.pick(&["A", "B", "C", "D"]);
        text += &format!(
            "\n{specimen},{quantity},{:.3},{unit},{}",
            value * slip,
            luck.pick(&["", "0.1", "0", "1e-9"])
        );
    }
    text
}
