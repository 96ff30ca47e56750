//! What comes of a sheet whose part is taken out: two millimetres of it, by hand.
#![allow(clippy::float_cmp, reason = "where nothing is left, nothing is left to the last bit")]

use super::*;
use crate::sheet::Part;
use crate::sheet::Sheet;
use crate::test_support::{sheet, with};
use serde_json::{Value, json};

fn taken(sheet: &Value, part: &str, instead: Option<&Value>, reclaim: f64) -> Result<Sheet, Problems> {
    let instead = instead.map(|instead| Part::parse(&instead.to_string()).unwrap());
    without(Sheet::parse(&sheet.to_string()).unwrap(), &[part], instead, reclaim)
}

/// Coated width and void height, mm.
fn closes(sheet: &Sheet) -> [f64; 2] {
    let design = Draft::read(sheet).unwrap().design().unwrap();
    [design.stack().cathode_width, design.stack().void_height].map(|x| (1e9 * x.value).round() / 1e6)
}

fn by_head_space() -> Value {
    with(&[("cathode/width", json!(null)), ("void_height", json!("4 mm"))])
}

fn ring() -> Value {
    json!({ "name": "ring", "place": "below roll", "height": "0.25 mm", "mass": "0.5 g", "material": "metal" })
}

#[test]
fn freed_height_becomes_width_or_head_space() {
    for (reclaim, closed) in [(0.0, [80.0, 6.0]), (0.5, [81.0, 5.0]), (1.0, [82.0, 4.0])] {
        for before in [sheet(), by_head_space()] {
            let after = taken(&before, "plate", None, reclaim).unwrap();
            assert_eq!(closes(&after), closed, "{reclaim}");
            assert_eq!(after.cell.as_deref(), Some("by hand without the plate"));
            assert_eq!(after.made_from.as_deref(), Some("by hand"));
            assert_eq!(after.parts.as_ref().unwrap().len(), 2);
            // The sheet stays of its kind.
            assert_eq!(after.void_height.is_some(), before.get("void_height").is_some());
        }
    }
}

#[test]
fn what_comes_takes_its_own_height() {
    for (reclaim, closed) in [(0.0, [80.0, 5.75]), (0.4, [80.7, 5.05]), (1.0, [81.75, 4.0])] {
        for before in [sheet(), by_head_space()] {
            let after = taken(&before, " plate ", Some(&ring()), reclaim).unwrap();
            assert_eq!(closes(&after), closed, "{reclaim}");
            assert_eq!(after.cell.as_deref(), Some("by hand with ring for the plate"));
            let names: Vec<_> = after.parts.iter().flatten().filter_map(|p| p.name.as_deref()).collect();
            assert_eq!(names, ["insulator", "ring", "lid"]);
        }
    }
}

#[test]
fn the_width_keeps_its_uncertainty() {
    let u = |width: Value| {
        let after = taken(&with(&[("cathode/width", width)]), "plate", None, 1.0).unwrap();
        let draft = Draft::read(&after).unwrap();
        let input = draft.inputs().iter().find(|i| i.path == "cathode.width").unwrap();
        (1e9 * input.uncertain.u()).round() / 1e6
    };
    assert_eq!(u(json!("80 mm")), 0.0);
    assert_eq!(u(json!("80 ± 0.1 mm")), 0.1);
    assert_eq!(u(json!({ "value": "80 ± 0.1 mm", "from": "measured" })), 0.1);
    // 0.6/√12.
    assert!((u(json!("79.7 .. 80.3 mm")) - 0.173).abs() < 0.002);
}

#[test]
fn a_question_that_cannot_be_answered() {
    for reclaim in [-0.01, 1.01, f64::NAN] {
        assert_eq!(taken(&sheet(), "plate", None, reclaim).unwrap_err().0[0].place, "reclaim");
    }
    let diagnostic = taken(&sheet(), "plat", None, 1.0).unwrap_err().to_string();
    assert!(diagnostic.contains("a part that by hand does not have"), "{diagnostic}");
    assert!(
        diagnostic.contains("one of: \"insulator\", \"plate\", \"lid\"; perhaps \"plate\" was meant"),
        "{diagnostic}"
    );
    let diagnostic = taken(&sheet(), "xyzxyz", None, 1.0).unwrap_err().to_string();
    assert!(
        !diagnostic.contains("perhaps") && diagnostic.contains("one of: \"insulator\", \"plate\", \"lid\""),
        "{diagnostic}"
    );
    let long = with(&[("parts/0/name", json!("a".repeat(3000)))]);
    let diagnostic = taken(&long, "plat", None, 1.0).unwrap_err().to_string();
    assert!(diagnostic.contains("aaa…\", \"plate\", \"lid\""), "{diagnostic}");
    let diagnostic = taken(&with(&[("parts", json!([]))]), "plate", None, 1.0).unwrap_err().to_string();
    assert!(diagnostic.contains("a part of the sheet, but the sheet has none"), "{diagnostic}");
    let bad = json!({ "name": "ring", "place": "below roll", "height": "0.25 mm" });
    let diagnostic = taken(&sheet(), "plate", Some(&bad), 1.0).unwrap_err();
    assert_eq!(diagnostic.0[0].place, "instead");
    let bad = json!({ "name": "ring", "place": "below roll", "height": "0.25 g", "mass": "1 g", "material": "metal" });
    assert_eq!(taken(&sheet(), "plate", Some(&bad), 1.0).unwrap_err().0[0].place, "instead.height");
}

#[test]
fn what_moves_together_still_does() {
    let correlated = json!({
        "paths": ["cathode.loading", "parts[1].mass", "parts[2].height", "cathode.width"],
        "coefficients": [[0.5], [0.4, 0.3], [0.2, 0.1, -0.1]]
    });
    let before = with(&[
        ("cathode/loading", json!("20 ± 0.1 mg/cm2")),
        ("cathode/width", json!("80 ± 0.1 mm")),
        ("parts/1/mass", json!("4 ± 0.1 g")),
        ("parts/2/height", json!("4 ± 0.1 mm")),
        ("correlated", correlated),
    ]);
    // The plate takes its mass along, and the lid keeps its height, wherever it stands then.
    for (instead, lid) in [(None, "parts[lid].height"), (Some(ring()), "parts[lid].height")] {
        let after = taken(&before, "plate", instead.as_ref(), 1.0).unwrap().correlated.unwrap();
        assert_eq!(after.paths.unwrap(), ["cathode.loading", lid, "cathode.width"]);
        assert_eq!(after.coefficients.unwrap(), [vec![0.4], vec![0.2, -0.1]]);
    }
    // A width that closes the stack-up for the first time is exact.
    let by_head_space = with(&[
        ("cathode/width", json!(null)),
        ("void_height", json!("4 ± 0.1 mm")),
        ("cathode/loading", json!("20 ± 0.1 mg/cm2")),
        ("correlated", json!({ "paths": ["cathode.loading", "void_height"], "coefficients": [[0.5]] })),
    ]);
    let after = taken(&by_head_space, "plate", None, 0.5).unwrap();
    assert_eq!(after.correlated.unwrap().paths.unwrap(), ["cathode.loading", "void_height"]);
    let exact = with(&[
        ("cathode/width", json!(null)),
        ("cathode/loading", json!("20 ± 0.1 mg/cm2")),
        ("correlated", json!({ "paths": ["cathode.loading", "void_height"], "coefficients": [[0.5]] })),
    ]);
    assert!(taken(&exact, "plate", None, 0.5).unwrap().correlated.is_none());
}

#[test]
fn several_parts_go_at_once() {
    let sheet = || Sheet::parse(&sheet().to_string()).unwrap();
    let both = without(sheet(), &["plate", "insulator"], None, 1.0).unwrap();
    // 0.5 + 1.5 + 0.4 mm.
    assert_eq!(closes(&both), [82.4, 4.0]);
    assert_eq!(both.cell.as_deref(), Some("by hand without the plate and the insulator"));
    let one = without(sheet(), &["plate"], None, 1.0).unwrap();
    let other = without(one, &["insulator"], None, 1.0).unwrap();
    assert_eq!((closes(&other), other.made_from.as_deref()), ([82.4, 4.0], Some("by hand")));
    let ring = Part::parse(&ring().to_string()).unwrap();
    let ring = without(sheet(), &["plate", "insulator"], Some(ring), 1.0).unwrap();
    assert_eq!(closes(&ring), [82.15, 4.0]);
    let diagnostic = without(sheet(), &["plate", "plate", "lod"], None, 1.0).unwrap_err().to_string();
    assert!(
        diagnostic.contains("\"plate\" a second time") && diagnostic.contains("perhaps \"lid\" was meant"),
        "{diagnostic}"
    );
    assert_eq!(without(sheet(), &[], None, 1.0).unwrap_err().0[0].place, "part");
}
