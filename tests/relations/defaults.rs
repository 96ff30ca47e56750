//! What a sheet leaves out and an answer lists can be written into the sheet, as it is listed.

use super::{apart, cell};
use proptest::prelude::*;
use roulade::cell::draft::Draft;
use roulade::cell::figures::Worked;
use roulade::quantity::notation;
use roulade::sheet::{Edit, Sheet};
use roulade::study::edit::{SheetChange, edited};
use roulade_stats::uncertain::Origin;
use serde_json::{Value, json};

/// Writes every default, one at a time; what cannot be written, or makes another cell.
fn unwritable(sheet: &Value, draft: &Draft, worked: &Worked) -> Vec<String> {
    let sheet = Sheet::parse(&sheet.to_string()).expect("it was read");
    let mut unwritten = Vec::new();
    // What stands in for a list is written as a list: tabs, and what a coating is usually mixed with.
    let mixed: Vec<&str> = [
        sheet.cathode.as_ref().and_then(|c| c.mix.as_deref()),
        sheet.anode.as_ref().and_then(|a| a.mix.as_deref()),
    ]
    .into_iter()
    .flatten()
    .flatten()
    .filter_map(|mixed| mixed.material.as_deref())
    .collect();
    let an_item = |key: &str| {
        let name = key.split_once("mix[").and_then(|(_, rest)| rest.split_once(']')).map(|(name, _)| name);
        key.contains(".tabs[")
            || name.is_some_and(|name| !mixed.contains(&name) && name.parse::<usize>().is_err())
    };
    for input in draft.inputs().iter().filter(|input| input.origin == Origin::Default && !an_item(&input.key))
    {
        let text = input.text().into_owned();
        let one = Edit::Set { key: input.key.to_string(), to: text.clone().into() };
        let change = SheetChange::Edit(one);
        let read = edited(&sheet, &[change]).and_then(|edited| Draft::read(&edited.sheet));
        let other = match read.and_then(|draft| Worked::at(&draft, &draft.values())) {
            Ok(other) => other,
            Err(problems) => {
                unwritten.push(format!("{} as {text}: {problems}", input.path));
                continue;
            }
        };
        // What was worked out is listed rounded by its uncertainty, to an eighth of it at worst; parts that stand in are all written out then.
        let written = notation::read(&text, input.unit.dimension());
        let rounded = written
            .is_ok_and(|uncertain| (uncertain.value - input.uncertain.value).abs() > 1e-9 * uncertain.u());
        let apart = apart(worked, &other, if rounded || sheet.parts.is_none() { 0.03 } else { 1e-9 });
        if !apart.is_empty() {
            unwritten.push(format!("{} as {text}: {apart:?}", input.path));
        }
    }
    unwritten
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 12, ..ProptestConfig::default() })]

    #[test]
    fn every_default_that_is_listed_can_be_written(number: u64) {
        let Some((sheet, draft, worked)) = cell(number) else { return Ok(()) };
        let unwritten = unwritable(&sheet, &draft, &worked);
        prop_assert!(unwritten.is_empty(), "{}\n{sheet}", unwritten.join("\n"));
    }
}

/// The same of the cells of the demo as they are, and of the least sheet.
#[test]
fn every_default_of_the_demo_can_be_written() {
    for sheet in &crate::fuzz::sheets::Bases::new().sheets {
        let draft = Draft::parse(&sheet.to_string()).expect("it is a cell");
        let worked = Worked::at(&draft, &draft.values()).expect("it is a cell");
        let unwritten = unwritable(sheet, &draft, &worked);
        assert!(unwritten.is_empty(), "{}", unwritten.join("\n"));
    }
}

/// No cell that stands in is one that cannot carry what its name says: sizes and purposes, cold or warm, still or moving air.
#[test]
#[allow(clippy::print_stdout, reason = "a reader wants to see the table, not only that it passes")]
fn a_default_cell_gives_nearly_all_at_1_c() {
    for size in ["18 × 65", "21 × 70", "46 × 80"] {
        for purpose in ["energy", "middle", "power"] {
            for (temperature, air) in [("20 °C", "30 W/m²/K"), ("25 °C", "19 W/m²/K"), ("30 °C", "8 W/m²/K")]
            {
                let at = |rate: &str| {
                    let sheet = json!({
                        "can": { "size": size }, "purpose": purpose,
                        "cathode": { "mix": [{ "material": "NMC811" }] }, "anode": { "mix": [{ "material": "graphite" }] },
                        "current_path": { "c_rate": rate, "temperature": temperature, "heat_transfer": air },
                    });
                    let worked = super::worked(&sheet).expect("it is a cell");
                    let figure = |id: &str| super::figure(&worked, id);
                    (figure("loaded_capacity") / figure("capacity"), figure("warming"))
                };
                let all = ["0.2 C", "1 C", "2 C", "3 C"].map(at);
                println!("{size} {purpose}, {temperature}, {air}: {all:.3?}");
                assert!(all[0].0 > 0.98 && all[1].0 > 0.9, "{size} {purpose} {temperature} {air}: {all:?}");
                assert!(all[1].1 > all[0].1, "{all:?}");
            }
        }
    }
}
