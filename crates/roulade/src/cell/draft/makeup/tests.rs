use crate::cell::figures::{FIGURES, Worked};
use crate::test_support::{draft, refused};
use approx::assert_relative_eq;
use roulade_stats::uncertain::Origin;
use serde_json::{Value, json};

fn input(draft: &crate::cell::draft::Draft, path: &str) -> crate::cell::draft::Input {
    let found = draft.inputs().iter().find(|input| input.path == path);
    found.unwrap_or_else(|| panic!("{path}")).clone()
}

fn ours(extra: &Value) -> Vec<(&'static str, Value)> {
    let mut own = json!({ "name": "C", "metals": { "nickel": "0.83 ± 0.01", "cobalt": "0.11 ± 0.01",
        "manganese": "0.06 ± 0.01" } });
    for (key, value) in extra.as_object().unwrap() {
        own[key] = value.clone();
    }
    vec![("materials/3", own)]
}

#[test]
fn a_composition_borrows_what_the_sheet_does_not_say() {
    let draft = draft(&ours(&json!({})));
    let capacity = input(&draft, "materials[C].capacity");
    // √((9/√12)² + (86·0.04)²) is 4.3, printed to the digits it deserves.
    assert_eq!((capacity.origin, &*capacity.text()), (Origin::Default, "202 ± 4 mAh/g"));
    let source = capacity.source().unwrap();
    assert!(source.starts_with("that of NMC811, and what 4.0 % of other metals add: Laine"), "{source}");
    let density = input(&draft, "materials[C].density");
    // NMC811 4.714 and NCA 4.747 g/cm³ are the nearest, 4 and 5 % away.
    assert!((4714.0..4747.0).contains(&density.uncertain.value), "{}", density.text());
    assert!((10.0..60.0).contains(&density.uncertain.u()), "{}", density.text());
    assert!(density.text().contains(" ± "));
    let remark = draft.remarks().iter().find(|remark| remark.starts_with("C is nearest")).unwrap();
    assert_eq!(
        remark,
        "C is nearest to NMC811 of the table: 4.0 % of its metal sites hold another metal. Its half-cell curve, \
         practical capacity and initial coulombic efficiency are that material's for want of its own."
    );
}

#[test]
fn figures_of_the_sheet_win() {
    let own = json!({ "density": "4.9 g/cm3", "capacity": "210 mAh/g", "initial_coulombic_efficiency": "91 %",
        "curve": [[0, 4.4], [0.3, 4.1], [0.7, 3.7], [1, 3.4]] });
    let draft = draft(&ours(&own));
    for (path, value) in [
        ("materials[3].density", 4900.0),
        ("materials[3].capacity", 210.0 * 3600.0),
        ("materials[3].initial_coulombic_efficiency", 0.91),
    ] {
        assert_relative_eq!(input(&draft, path).uncertain.value, value, max_relative = 1e-12);
    }
    assert!(draft.remarks().iter().any(|remark| remark.ends_with("hold another metal.")));
}

/// A borrowed curve is known the less the further it is borrowed: `√(20² + (90·0.04)²)` mV for 4 % of other metals.
#[test]
fn the_error_of_a_borrowed_curve_grows_with_the_distance() {
    let near = input(&draft(&ours(&json!({}))), "materials[C].potential");
    assert_relative_eq!(near.uncertain.u(), 1e-3 * (400.0f64 + 3.6 * 3.6).sqrt(), max_relative = 1e-9);
    assert!(near.source().unwrap().contains("that of NMC811 and what 4.0 % of other metals add"));
    let metals = json!({ "metals": { "nickel": "0.7", "cobalt": "0.2", "manganese": "0.1" } });
    let far = input(&draft(&ours(&metals)), "materials[C].potential");
    assert_relative_eq!(far.uncertain.u(), 1e-3 * (400.0f64 + 81.0).sqrt(), max_relative = 1e-9);
    // The sheet's own word on it counts, and a curve taken as exact moves nothing.
    let exact = input(&draft(&ours(&json!({ "potential": "0 mV" }))), "materials[3].potential");
    assert!(exact.uncertain.u() == 0.0 && exact.label == "C: potential, error of its curve");
}

#[test]
fn fractions_are_brought_to_one_within_their_uncertainties() {
    let metals = |nickel: &str| json!({ "metals": { "nickel": nickel, "cobalt": "0.11 ± 0.01", "manganese": "0.06 ± 0.01" } });
    let cell = draft(&ours(&metals("0.85 ± 0.01")));
    assert!(
        cell.remarks().iter().any(|said| said == "The metals of C add to 1.0200; each was divided by that.")
    );
    assert_relative_eq!(cell.compositions()[0].at(&cell.values()).metals[0], 0.85 / 1.02);
    // 3·√3·0.01 = 0.052.
    assert!(
        refused(&ours(&metals("0.89 ± 0.01")))[0]
            .contains("add to 1.060, where their uncertainties allow 0.052")
    );
    // Without uncertainties the second decimal counts: 3·√(2/3·0.01² + 0.0029²).
    assert!(refused(&ours(&metals("0.88")))[0].contains("allow 0.043"));
    assert!(draft(&ours(&metals("0.83"))).remarks().iter().all(|said| !said.contains("divided")));
}

#[test]
fn what_follows_from_refused_metals_is_not_missed_again() {
    let metals = json!({ "metals": { "nickel": "0.5", "cobalt": "0.2" } });
    assert_eq!(refused(&ours(&metals)).len(), 1);
}

/// A share of the active part is the same cell as the mix written out.
#[test]
fn silicon_by_its_share_is_silicon_in_the_mix() {
    let cell = |anode: Value| {
        let mut changes =
            vec![("voltage/discharge_cut_off", json!("2.5 V")), ("anode/loading", json!("6 mg/cm2"))];
        let Value::Object(anode) = anode else { panic!("an object") };
        let keys =
            [("mix", "anode/mix"), ("silicon", "anode/silicon"), ("silicon_oxide", "anode/silicon_oxide")];
        changes.extend(keys.iter().filter_map(|(key, path)| Some((*path, anode.get(*key)?.clone()))));
        let draft = draft(&changes);
        Worked::at(&draft, &draft.values()).unwrap()
    };
    let by_share =
        cell(json!({ "mix": [{ "material": "graphite" }, { "material": "plastic", "share": "10 %" }],
        "silicon": "5 ± 1 %", "silicon_oxide": "10 %" }));
    let by_mix = cell(json!({ "mix": [{ "material": "graphite", "share": "76.5 %" },
        { "material": "plastic", "share": "10 %" }, { "material": "silicon", "share": "4.5 %" },
        { "material": "silicon oxide", "share": "9 %" }] }));
    let mut figures = 0;
    for figure in FIGURES {
        let (Some(share), Some(mix)) = ((figure.of)(&by_share), (figure.of)(&by_mix)) else { continue };
        assert!((share - mix).abs() <= 1e-9 * mix.abs() + 1e-15, "{}: {share} {mix}", figure.id);
        figures += 1;
    }
    assert!(figures > 40, "{figures}");
    let design = by_share.design;
    let shares: Vec<f64> = design.blueprint().anode.mix.iter().map(|component| component.share).collect();
    assert_relative_eq!(shares.iter().sum::<f64>(), 1.0, max_relative = 1e-12);
    assert_relative_eq!(shares[2], 0.045, max_relative = 1e-12);
}
