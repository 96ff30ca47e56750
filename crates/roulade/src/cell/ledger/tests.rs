//! Lines by hand, and closure on the envelope whatever the cell.

use super::*;
use crate::cell::estimate::Estimate;
use crate::cell::vary::varied;
use crate::test_support::{demo, design, draft};
use approx::assert_relative_eq;
use serde_json::json;
use std::f64::consts::PI;

fn book(design: &Design) -> Vec<(Group, String, How, f64, f64)> {
    let mut book = Vec::new();
    lines(design, |l| {
        book.push((l.group, l.what.to_owned(), l.how, 1e3 * l.mass.value, 1e9 * l.volume.value));
    });
    book
}

/// Grams and cubic millimetres of a line.
fn line(design: &Design, group: Group, what: &str) -> (f64, f64) {
    let book = book(design);
    let found: Vec<_> = book.iter().filter(|l| l.0 == group && l.1 == what).collect();
    assert_eq!(found.len(), 1, "{what} in {book:?}");
    (found[0].3, found[0].4)
}

#[track_caller]
fn close((g, v): (f64, f64), (grams, volume): (f64, f64)) {
    assert_relative_eq!(g, grams, max_relative = 1e-10, epsilon = 1e-10);
    assert_relative_eq!(v, volume, max_relative = 1e-10, epsilon = 1e-7);
}

#[test]
fn lines_by_hand() {
    let design = design(&[]);
    let mm = |length: crate::quantity::units::Length| 1e3 * length.value;
    let l = design.roll().lengths();
    let (a, c) = (mm(l.anode), mm(l.cathode));
    // Foil: coated width and uncoated foil margin, the 1.5 and 2 mm from the coating to the top of the fold.
    let (a_foil, c_foil) = (a * 82.5 * 0.008, c * 82.0 * 0.012);
    close(line(&design, Group::Anode, "anode current collector foil"), (a_foil * 8e-3, a_foil));
    close(line(&design, Group::Cathode, "cathode current collector foil"), (c_foil * 2.5e-3, c_foil));
    // Both faces at 0.1 and 0.2 mg/mm², nine tenths host.
    let (a_dry, c_dry) = (a * 81.0 * 0.2e-3, c * 80.0 * 0.4e-3);
    close(line(&design, Group::Anode, "A"), (0.9 * a_dry, 0.9 * a_dry / 2e-3));
    close(line(&design, Group::Anode, "plastic"), (0.1 * a_dry, 0.1 * a_dry / 2e-3));
    close(line(&design, Group::Cathode, "C"), (0.9 * c_dry, 0.9 * c_dry / 5e-3));
    close(line(&design, Group::Cathode, "plastic"), (0.1 * c_dry, 0.1 * c_dry / 2e-3));
    let film = (mm(l.inner_separator) + mm(l.outer_separator)) * 82.0 * 0.02;
    close(line(&design, Group::Separator, "separator film"), (0.5 * film * 2e-3, 0.5 * film));
    // Coatings with 50 and 8 % of pores, a film with 50 %; electrolyte of 1.25 mg/mm³, a tenth more of it free.
    let pores = a * 81.0 * 0.2 * 0.5 + c * 80.0 * 0.1 * 0.08 + 0.5 * film;
    close(line(&design, Group::Electrolyte, "electrolyte in the pores"), (pores * 1.25e-3, pores));
    close(
        line(&design, Group::Electrolyte, "free electrolyte, in the spaces"),
        (pores * 0.125e-3, 0.1 * pores),
    );
    close(line(&design, Group::Enclosure, "can, wall and bottom"), (2_465.0 * PI * 8e-3, 2_465.0 * PI));
    close(line(&design, Group::Enclosure, "insulator"), (0.2, 100.0));
    close(line(&design, Group::Enclosure, "plate"), (4.0, 500.0));
    close(line(&design, Group::Enclosure, "lid"), (4.05 * PI, 506.25 * PI));
    let tape = mm(l.tape) * 82.0 * 0.05;
    // Polypropylene, 0.895 .. 0.92 g/cm³.
    close(line(&design, Group::Enclosure, "tape around the roll"), (tape * 0.9075e-3, tape));

    let bore = 506.25 * PI;
    let space = |what| line(&design, Group::Space, what);
    close(space(DRY_PORES), (0.0, 0.0));
    let spaces = [
        ("core hole", 4.0 * PI * 82.0),
        ("slack between turns", 0.0),
        // A millimetre of anode and two of cathode are empty but for half a millimetre and one of bare foil.
        ("beside the coatings", a * (0.208 - 0.008 * 0.5) + c * (0.112 * 2.0 - 0.012)),
        ("radial clearance", (bore - 1e6 * design.roll().enclosed().value) * 82.0),
        ("around folded foil edges", 2.0 * bore - a * 0.008 - c * 0.012),
        ("around parts", 6.4 * bore - 600.0 - bore),
        ("void height (headspace)", 4.0 * bore),
    ];
    // A tenth of the pores' volume stands in the spaces, in each alike.
    let all: f64 = spaces.iter().map(|(_, volume)| volume).sum();
    for (what, volume) in spaces {
        close(space(what), (0.0, volume * (1.0 - 0.1 * pores / all)));
    }
    assert_relative_eq!(1e9 * design.room().void().value, all - 0.1 * pores, max_relative = 1e-10);
}

#[test]
fn weighed_or_computed() {
    let how = |design: &Design, what: &str| book(design).iter().find(|l| l.1 == what).map(|l| l.2);
    let plain = design(&[]);
    for (what, expected) in [
        ("can, wall and bottom", How::Computed),
        ("insulator", How::Computed),
        ("plate", How::Weighed),
        ("electrolyte in the pores", How::Computed),
    ] {
        assert_eq!(how(&plain, what), Some(expected), "{what}");
    }
    let weighed = design(&[
        ("can/mass", json!("60 g")),
        ("electrolyte/excess", json!(null)),
        ("electrolyte/mass", json!("30 g")),
    ]);
    assert_eq!(how(&weighed, "can, wall and bottom"), Some(How::Weighed));
    assert_eq!(how(&weighed, "electrolyte in the pores"), Some(How::Weighed));
    close(line(&weighed, Group::Enclosure, "can, wall and bottom"), (60.0, 2_465.0 * PI));
}

#[test]
fn electrolyte_weighed_too_little_and_too_much() {
    let filled =
        |mass: &str| design(&[("electrolyte/excess", json!(null)), ("electrolyte/mass", json!(mass))]);
    let (pores_mass, pores) = line(&design(&[]), Group::Electrolyte, "electrolyte in the pores");
    let little = filled("1 g");
    close(line(&little, Group::Electrolyte, "electrolyte in the pores"), (1.0, 800.0));
    close(line(&little, Group::Electrolyte, "free electrolyte, in the spaces"), (0.0, 0.0));
    close(line(&little, Group::Space, DRY_PORES), (0.0, pores - 800.0));
    let much = filled("60 g");
    close(line(&much, Group::Electrolyte, "electrolyte in the pores"), (pores_mass, pores));
    close(
        line(&much, Group::Electrolyte, "free electrolyte, in the spaces"),
        (60.0 - pores_mass, (60.0 - pores_mass) / 1.25e-3),
    );
    close(line(&much, Group::Space, DRY_PORES), (0.0, 0.0));
}

#[test]
fn ceramic_and_slack_by_hand() {
    let design = design(&[
        ("separator/ceramic_thickness", json!("4 µm")),
        ("separator/ceramic_porosity", json!("40 %")),
        ("separator/ceramic", json!("light metal")),
        ("winding/slack", json!("3 µm")),
    ]);
    let l = design.roll().lengths();
    let separators = 1e3 * (l.inner_separator + l.outer_separator).value;
    let layer = separators * 82.0 * 0.004;
    close(line(&design, Group::Separator, "ceramic layer"), (0.6 * layer * 2.5e-3, 0.6 * layer));
    close(
        line(&design, Group::Space, "slack between turns"),
        (0.0, 1e3 * l.slack.value * 0.003 * 82.0 * (1.0 - design.room().filled())),
    );
    let pores = 1e3 * (l.anode.value * 81.0 * 0.1 + l.cathode.value * 80.0 * 0.008)
        + 0.5 * separators * 82.0 * 0.02
        + 0.4 * layer;
    close(line(&design, Group::Electrolyte, "electrolyte in the pores"), (pores * 1.25e-3, pores));
}

#[test]
fn closes_on_the_envelope_whatever_the_cell() {
    let odd = draft(&[
        ("separator/ceramic_thickness", json!("2 .. 6 µm")),
        ("separator/porosity", json!("30 .. 60 %")),
        ("winding/slack", json!("2 .. 5 µm")),
        ("winding/anode_overhang_end", json!("0.3 .. 2")),
        ("winding/core_turns", json!("1 .. 3")),
        ("cathode/uncoated_margin", json!("1 .. 3 mm")),
        ("anode/uncoated_margin", json!("1 .. 3 mm")),
        (
            "parts/3",
            json!({ "name": "pin", "place": "in core", "volume": "0.1 .. 0.5 cm3", "material": "metal" }),
        ),
        (
            "parts/4",
            json!({ "name": "strip", "place": "beside roll", "volume": "0.1 .. 0.5 cm3", "material": "metal" }),
        ),
        (
            "parts/5",
            json!({ "name": "spring", "place": "above roll", "height": "0.2 mm", "axial_clearance": "0.1 .. 1 mm", "mass": "0.2 g", "material": "metal" }),
        ),
    ]);
    let filled = |mass: &str| {
        draft(&[
            ("electrolyte/excess", json!(null)),
            ("electrolyte/mass", json!(mass)),
            ("winding/slack", json!("2 .. 5 µm")),
        ])
    };
    let drafts =
        [odd, filled("1 .. 5 g"), filled("50 .. 60 g"), demo("marram a"), demo("marram b"), demo("small")];
    for draft in &drafts {
        let mut held = 0;
        varied(draft, 60, 11, |values| {
            let Ok(design) = draft.design_at(values) else { return };
            let totals = Totals::of(&design);
            let relative = totals.closure(&design) / design.blueprint().can.envelope();
            assert!(relative.value.abs() < 1e-9, "{}: {relative:?}", draft.name());
            let book = book(&design);
            assert!(book.iter().all(|l| l.3 >= 0.0 && (l.0 != Group::Space || l.3 == 0.0)));
            assert!(book.iter().all(|l| l.4 > -1e-3 || l.1 == "radial clearance"), "{book:?}");
            assert_relative_eq!(mass(&design).value, totals.mass().value, max_relative = 1e-12);
            assert_relative_eq!(
                1e3 * totals.mass().value,
                book.iter().map(|l| l.3).sum::<f64>(),
                max_relative = 1e-12
            );
            held += 1;
        });
        assert!(held > 40, "{} of {}", held, draft.name());
    }
}

#[test]
fn totals_are_of_their_groups() {
    let design = design(&[]);
    let (totals, book) = (Totals::of(&design), book(&design));
    for (i, group) in Group::ALL.into_iter().enumerate() {
        let own = || book.iter().filter(|l| l.0 == group);
        assert_relative_eq!(
            1e3 * totals.masses[i].value,
            own().map(|l| l.3).sum::<f64>(),
            max_relative = 1e-12
        );
        assert_relative_eq!(
            1e9 * totals.volumes[i].value,
            own().map(|l| l.4).sum::<f64>(),
            max_relative = 1e-12
        );
    }
    let names: Vec<&str> = Group::ALL.into_iter().map(Group::name).collect();
    assert_eq!(names, ["anode", "cathode", "separator", "electrolyte", "enclosure", "space"]);
}

#[test]
fn densities_are_energy_over_envelope_and_over_mass() {
    let design = design(&[]);
    let estimate = Estimate::of(&design).unwrap();
    let energy = estimate.balance.energy.value;
    assert_relative_eq!(estimate.mass.value, Totals::of(&design).mass().value, max_relative = 1e-12);
    assert_relative_eq!(estimate.volumetric(&design).value, energy / (50_255e-9 * PI), max_relative = 1e-12);
    assert_relative_eq!(estimate.gravimetric().value, energy / estimate.mass.value, max_relative = 1e-12);
}
