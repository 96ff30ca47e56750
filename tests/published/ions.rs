//! Cells that are not graphite against a layered oxide of lithium: sodium, lithium metal, no host at all, lithium put in
//! beforehand.

use super::cells::Answered;
use super::say::{relative, say};
use roulade::cell::draft::Draft;
use roulade_answer::answer::EstimateAnswer;
use serde_json::{Value, json};

fn with(mut sheet: Value, changes: &[(&str, Value)]) -> Value {
    for (path, value) in changes {
        let at = path.split('/').fold(&mut sheet, |at, key| match key.parse::<usize>() {
            Ok(i) => &mut at[i],
            Err(_) => &mut at[key],
        });
        *at = value.clone();
    }
    sheet
}

fn lithium() -> Value {
    json!({
        "can": { "diameter": "21.1 mm", "height": "70.1 mm" },
        "cathode": { "mix": [{ "material": "NMC811" }, { "material": "carbon black", "share": "2 %" },
                             { "material": "PVDF", "share": "2 %" }],
                     "loading": "20 mg/cm²", "porosity": "25 %" },
        "anode": { "mix": [{ "material": "graphite" }, { "material": "CMC", "share": "2 %" }, { "material": "SBR", "share": "2 %" }] },
    })
}

fn sodium() -> Value {
    with(
        lithium(),
        &[
            ("cathode/mix/0/material", json!("NFM111")),
            ("anode/mix/0/material", json!("hard carbon")),
            ("anode/foil", json!({ "material": "aluminium", "thickness": "12 µm" })),
            ("voltage", json!({ "charge_cut_off": "3.95 V", "discharge_cut_off": "1.5 V" })),
        ],
    )
}

fn problems(sheet: &Value) -> String {
    let draft = Draft::parse(&sheet.to_string());
    match draft.and_then(|draft| EstimateAnswer::of(&draft).map(|_| ())) {
        Ok(()) => panic!("it is answered"),
        Err(problems) => problems.to_string(),
    }
}

fn json_of(sheet: &Value) -> String {
    let draft = Draft::parse(&sheet.to_string()).unwrap_or_else(|problems| panic!("{problems}"));
    serde_json::to_string(&EstimateAnswer::of(&draft).unwrap_or_else(|problems| panic!("{problems}")))
        .unwrap()
}

/// A sodium cell is answered without a word of lithium. Published cells of this pair have a mean near 3.0 V and 120 to
/// 160 Wh/kg (common practice, no source): printed, and asked of within a wide band.
#[test]
fn a_sodium_cell_speaks_of_sodium() {
    let answer = json_of(&sodium());
    assert!(answer.contains("NaPF6"), "{answer}");
    for word in ["lithium", "Lithium", "LiPF6", "lithiation"] {
        let at = answer.find(word).map(|at| &answer[at.saturating_sub(80)..(at + 40).min(answer.len())]);
        assert!(at.is_none(), "{word}: …{}…", at.unwrap());
    }
    assert!(answer.contains("sodium"));
    let answered = Answered::of(&sodium());
    for id in ["mean_voltage", "gravimetric", "volumetric", "capacity"] {
        println!("sodium, {id}: {:?}", answered.figure(id).text);
    }
    assert!((2.7..3.3).contains(&answered.figure("mean_voltage").value));
    assert!((90.0..170.0).contains(&answered.figure("gravimetric").value));
    let mixed = with(sodium(), &[("anode/mix/0/material", json!("graphite"))]);
    assert!(
        problems(&mixed)
            .contains("graphite, which stores lithium, in a cell with NFM111, which stores sodium")
    );
}

/// 1 mAh of lithium on 1 cm² is 3.6 C · 6.94 g/mol / (96485 C/mol · 0.534 g/cm³) = 4.849 µm; a deposit of 1.0 to 1.3
/// times that volume, 1.15 in the middle, and a cathode of so many mAh/cm².
#[test]
fn plated_metal_is_as_thick_as_its_charge() {
    for foil in ["20 µm", "0 µm"] {
        let sheet = with(
            lithium(),
            &[("anode/mix", json!([{ "material": "lithium metal" }])), ("anode/thickness", json!(foil))],
        );
        let answered = Answered::of(&sheet);
        let value = |id: &str| answered.figure(id).value;
        // Of the first charge less what the anode's efficiency lost: it stands in the host capacities.
        let first = (value("balance.anode_charged") - 1.0) * value("balance.anode_active_material")
            / (value("area.inner") + value("area.outer"))
            * 1e3;
        let microns = 1e4 * 3.6 * 6.94 / (96_485.332 * 0.534) * 1.15;
        relative(
            &format!("plated on {foil}, µm per mAh/cm²"),
            microns,
            value("swelling.plated") / first,
            2e-3,
        );
        println!(
            "foil {foil}: {:?}, {:?}",
            answered.figure("gravimetric").text,
            answered.figure("volumetric").text
        );
        assert!((3.5..4.5).contains(&value("mean_voltage")));
    }
    // Metal in place of graphite is worth a good part of the anode.
    let of = |sheet: &Value| Answered::of(sheet).figure("gravimetric").value;
    let bare = with(
        lithium(),
        &[("anode/mix", json!([{ "material": "lithium metal" }])), ("anode/thickness", json!("0 µm"))],
    );
    let gain = of(&bare) / of(&lithium()) - 1.0;
    say("no host over graphite, Wh/kg", 0.35, gain);
    assert!((0.1..0.7).contains(&gain));
    let porous = with(bare, &[("anode/porosity", json!("30 %"))]);
    assert!(problems(&porous).contains("anode.porosity"));
    let unsaid = with(lithium(), &[("anode/mix", json!([{ "material": "lithium metal" }]))]);
    assert!(problems(&unsaid).contains("anode.thickness: found nothing"));
}

/// Lithium put in beforehand makes up for what the anode loses, weighs what it weighs, and cannot lift the capacity past
/// the cathode's window.
#[test]
fn prelithiation_counts_and_weighs() {
    let lossy = with(lithium(), &[("anode/initial_coulombic_efficiency", json!("80 %"))]);
    let given = |charge: &str, source: &str| {
        let p = json!({ "source": source, "areal_capacity": charge, "utilisation": "100 %" });
        Answered::of(&with(lossy.clone(), &[("prelithiation", p)]))
    };
    let none = Answered::of(&lossy);
    let value = |answered: &Answered, id: &str| answered.figure(id).value;
    let mut before = value(&none, "capacity");
    for charge in ["0.1 mAh/cm2", "0.2 mAh/cm2", "0.3 mAh/cm2"] {
        let capacity = value(&given(charge, "lithium metal"), "capacity");
        println!("{charge}: {capacity:.4} Ah");
        assert!(capacity > before * 1.005);
        before = capacity;
    }
    let area = value(&none, "area.inner") + value(&none, "area.outer");
    for (source, per_charge) in [("lithium metal", 1.0 / 3861.9), ("Li5FeO4", 0.7929 / 867.1)] {
        let heavier = value(&given("0.3 mAh/cm2", source), "mass") - value(&none, "mass");
        // The electrolyte and all else stay.
        relative(&format!("0.3 mAh/cm² of {source}, g"), 0.3 * area * per_charge, heavier, 1e-3);
    }
    assert!(
        problems(&with(
            lossy.clone(),
            &[("prelithiation", json!({ "source": "salt", "areal_capacity": "1 mAh/cm2" }))]
        ))
        .contains("prelithiation.source: found \"salt\"")
    );
    // An efficiency above 100 % is explained.
    let over = with(lithium(), &[("anode/initial_coulombic_efficiency", json!("103 %"))]);
    assert!(json_of(&over).contains("lithium was there beforehand"));
}
