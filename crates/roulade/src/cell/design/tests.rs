//! A can, a stack-up and parts by hand, and what does not fit.
#![allow(clippy::float_cmp, reason = "where nothing is left, nothing is left to the last bit")]

use super::*;
use crate::cell::vary::varied;
use crate::quantity::units::{Length, Volume};
use crate::test_support::{demo, design, draft, refused};
use approx::assert_relative_eq;
use serde_json::{Value, json};
use std::f64::consts::PI;

fn mm(length: Length) -> f64 {
    1e3 * length.value
}

fn close(a: f64, b: f64) {
    assert_relative_eq!(a, b, max_relative = 1e-12, epsilon = 1e-12);
}

#[test]
fn can_of_46_by_95() {
    let can = design(&[]).blueprint().can;
    close(mm(can.bore()), 45.0);
    // 22.5² = 506.25; 23²·95 = 50 255; 506.25·94.4 = 47 790, and the shell is what lies between.
    close(1e6 * can.bore_area().value, 506.25 * PI);
    close(1e9 * can.envelope().value, 50_255.0 * PI);
    close(1e9 * can.shell().value, 2_465.0 * PI);
}

#[test]
fn width_and_void_height_follow_from_each_other() {
    let by_width = design(&[]);
    let stack = by_width.stack();
    close(mm(stack.below), 2.4);
    close(mm(stack.above), 4.0);
    close(mm(stack.cathode_width), 80.0);
    close(mm(stack.void_height), 4.0);
    close(mm(stack.hardware(by_width.blueprint())), 9.0);
    close(mm(by_width.anode_width()), 81.0);
    close(mm(by_width.separator_width()), 82.0);
    let by_space = design(&[("cathode/width", json!(null)), ("void_height", json!("4 mm"))]);
    close(mm(by_space.stack().cathode_width), 80.0);
    close(mm(by_space.stack().void_height), 4.0);
}

#[test]
fn bands_follow_one_another_from_bottom_to_top() {
    let design = design(&[]);
    let bands = design.stack().bands(design.blueprint());
    let heights: Vec<(BandKind, f64)> =
        bands.iter().map(|band| (band.kind, (1e9 * (band.to - band.from).value).round() / 1e6)).collect();
    assert_eq!(
        heights,
        [
            (BandKind::Bottom, 0.6),
            (BandKind::Part(0), 0.4),
            (BandKind::Part(1), 0.5),
            (BandKind::StandOff(1), 1.5),
            (BandKind::AnodeEdge, 1.0),
            (BandKind::Margin, 0.5),
            (BandKind::Overhang, 0.5),
            (BandKind::Coated, 80.0),
            (BandKind::Overhang, 0.5),
            (BandKind::Margin, 0.5),
            (BandKind::CathodeEdge, 1.0),
            (BandKind::VoidHeight, 4.0),
            (BandKind::Part(2), 4.0),
        ]
    );
    assert_eq!(bands[0].from.value, 0.0);
    assert!(bands.windows(2).all(|pair| pair[0].to == pair[1].from));
    close(mm(bands.last().unwrap().to), 95.0);
}

/// Above the roll an axial clearance lies between the roll and its part.
#[test]
fn a_stand_off_faces_the_roll() {
    let design = design(&[("parts/2/axial_clearance", json!("1 mm"))]);
    let kinds: Vec<BandKind> =
        design.stack().bands(design.blueprint()).iter().rev().take(3).map(|band| band.kind).collect();
    assert_eq!(kinds, [BandKind::Part(2), BandKind::StandOff(2), BandKind::VoidHeight]);
}

#[test]
fn heights_add_up_whatever_the_values() {
    for name in ["marram a", "marram b", "small"] {
        let draft = demo(name);
        let mut held = 0;
        varied(&draft, 40, 7, |values| {
            let Ok(design) = draft.design_at(values) else { return };
            held += 1;
            let (stack, b) = (design.stack(), design.blueprint());
            let bands = stack.bands(b);
            assert_relative_eq!(bands.last().unwrap().to.value, b.can.height.value, max_relative = 1e-14);
            assert!(bands.windows(2).all(|pair| pair[0].to == pair[1].from && pair[0].from < pair[0].to));
            let sum = stack.hardware(b) + design.separator_width() + stack.void_height;
            assert_relative_eq!(sum.value, b.can.height.value, max_relative = 1e-14);
        });
        assert!(held > 10, "{held} of {name}");
    }
}

#[test]
fn a_nanometre_of_void_height_is_rounding() {
    let with_width = |width: &str| draft(&[("cathode/width", json!(width))]).design();
    let head = |width| with_width(width).unwrap().stack().void_height.value;
    assert_eq!(head("84 mm"), 0.0);
    assert_eq!(head("84.0000005 mm"), 0.0);
    assert_eq!(with_width("84.00001 mm").unwrap_err().0[0].place, "cathode.width");
    let with_space =
        |space: &str| draft(&[("cathode/width", json!(null)), ("void_height", json!(space))]).design();
    close(mm(with_space("83.9 mm").unwrap().stack().cathode_width), 0.1);
    let diagnostic = with_space("84 mm").unwrap_err().to_string();
    assert!(
        diagnostic.contains("void height of 84.000 mm and parts, folds and margins of 11.000 mm"),
        "{diagnostic}"
    );
    assert!(diagnostic.contains("95.000 mm"), "{diagnostic}");
}

#[test]
fn parts_of_known_mass_volume_or_filling() {
    let design = design(&[(
        "parts/3",
        json!({ "name": "pin", "place": "in core", "mass": "3 g", "volume": "0.5 cm3" }),
    )]);
    let parts = &design.blueprint().parts;
    let (grams, volumes): (Vec<f64>, Vec<f64>) =
        parts.iter().map(|p| (1e3 * p.mass.value, 1e6 * p.volume.value)).unzip();
    // 0.1 cm³ at 2 g/cm³; 4 g at 8 g/cm³; a quarter of 4 mm of bore, 0.50625π cm³, at 8 g/cm³; both as given.
    for (found, hand) in grams.iter().zip([0.2, 4.0, 4.05 * PI, 3.0]) {
        close(*found, hand);
    }
    for (found, hand) in volumes.iter().zip([0.1, 0.5, 0.50625 * PI, 0.5]) {
        close(*found, hand);
    }
    assert_eq!(parts.iter().map(|p| p.weighed).collect::<Vec<_>>(), [false, true, false, true]);
}

#[test]
fn roll_leaves_the_gap_it_was_given() {
    let design = design(&[]);
    close(mm(design.radial_clearance()), 0.25);
    let lay_up = design.roll().lay_up();
    close(mm(lay_up.core_radius), 2.0);
    // 2·50 + 12 and 2·100 + 8 µm.
    close(1e6 * lay_up.cathode.value, 112.0);
    close(1e6 * lay_up.anode.value, 208.0);
    close(1e6 * lay_up.separator.value, 20.0);
    close(1e6 * design.roll().pitch().value, 360.0);
    // 22.25 − 2 − 0.05 mm are left for 2 + 1 + 1.75 turns of pairs of separators (0.04), 1.75 of anode, and the
    // pitch: (20.2 − 0.04·3.75 − 0.208·1.75)/0.36.
    close(design.roll().cathode_turns(), (20.2 - 0.15 - 0.364) / 0.36);
}

#[test]
fn measured_lengths_leave_the_gap_they_leave() {
    let length = |gap: &str| {
        let d = design(&[("winding/radial_clearance", json!(gap))]);
        (d.roll().lengths().cathode.value, d.roll().lengths().anode.value)
    };
    let (cathode, anode) = length("0.25 mm");
    let wound = |cathode: f64, anode: Option<f64>| {
        draft(&[
            ("winding/radial_clearance", json!(null)),
            ("winding/anode_overhang_end", if anode.is_some() { json!(null) } else { json!("1.25") }),
            ("winding/cathode_length", json!(format!("{} mm", 1e3 * cathode))),
            ("winding/anode_length", anode.map_or(json!(null), |a| json!(format!("{} mm", 1e3 * a)))),
        ])
        .design()
    };
    assert!((mm(wound(cathode, Some(anode)).unwrap().radial_clearance()) - 0.25).abs() < 1e-9);
    let longer = wound(cathode + 1.0, None).unwrap_err().to_string();
    assert!(longer.contains("overfilled can") && longer.contains("45.00 mm inner diameter"), "{longer}");
    // With little of a gap on the mean, measured lengths stand out where plies end.
    let (exact, _) = length("0.06 mm");
    let diagnostic = wound(exact - 1e-4, None).unwrap_err().to_string();
    assert!(
        diagnostic.contains("a jelly roll of 44.88 mm diameter, 45.") && diagnostic.contains("at its widest"),
        "{diagnostic}"
    );
}

#[test]
fn a_turn_thicker_than_its_room_is_refused() {
    // 4 g/cm³ in 15 mm on both sides, where core and can leave 20.5 mm.
    let diagnostics =
        refused(&[("cathode/thickness", json!("15 mm")), ("cathode/loading", json!("6000 mg/cm2"))]);
    assert!(
        diagnostics[0].starts_with("winding: found one turn of both electrodes and separators of 30.26 mm"),
        "{diagnostics:?}"
    );
}

#[test]
fn electrolyte_that_does_not_fit_is_refused() {
    let diagnostics = refused(&[("electrolyte/excess", json!(null)), ("electrolyte/mass", json!("200 g"))]);
    assert!(
        diagnostics[0].starts_with("electrolyte.mass: found 160.00 cm³ of electrolyte (200.00 g)"),
        "{diagnostics:?}"
    );
    let most: f64 =
        diagnostics[0].split("at most ").nth(1).unwrap().split(' ').next().unwrap().parse().unwrap();
    let fits = |mass: f64| {
        let mass = format!("{mass} g");
        draft(&[("electrolyte/excess", json!(null)), ("electrolyte/mass", json!(mass))]).design()
    };
    assert!(fits(most - 0.01).unwrap().room().void().value < 1e-7 && fits(most + 0.01).is_err());
}

#[test]
fn electrolyte_by_capacity() {
    let drafted =
        draft(&[("electrolyte/excess", json!(null)), ("electrolyte/per_capacity", json!("2 g/Ah"))]);
    let worked = crate::cell::figures::Worked::at(&drafted, &drafted.values()).unwrap();
    let grams = 1e3 * worked.design.room().electrolyte().value;
    close(grams, 2.0 * worked.estimate.balance.capacity.value / 3600.0);
    let both = refused(&[("electrolyte/per_capacity", json!("2 g/Ah"))]);
    assert!(both[0].starts_with("electrolyte.per_capacity: found a mass per capacity beside"), "{both:?}");
}

/// One tab of 0.2 mm by 4 mm across the cathode, taped with 50 µm on both sides, on 10 mm of bare foil half-way along it.
fn tabbed(more: &[(&str, Value)]) -> Design {
    let tab = json!({ "at": "50 %", "width": "4 mm", "thickness": "0.2 mm", "length": "10 mm", "material": "metal",
        "uncoated": "10 mm", "tape": "50 µm" });
    let path = json!({ "cathode": { "feed": "tabs", "tabs": [tab] } });
    design(&[&[("current_path", path)], more].concat())
}

#[test]
fn a_tab_takes_coating_and_room() {
    let plain = design(&[]);
    let tabbed = tabbed(&[]);
    let length = tabbed.roll().lengths().cathode;
    let [_, cathode] = tabbed.sides();
    close(mm(2.0 * length - cathode.coated), 20.0);
    close(mm(length - tabbed.facing().inner), 10.0);
    close(mm(length - tabbed.facing().outer), 10.0);
    // 0.3 mm of tab and tape where two coatings leave 0.1 mm: a bulge of 0.2 mm on 4 mm, half of it below the foil.
    let area = |radius: Length| PI * mm(radius) * mm(radius);
    let outer = area(tabbed.outer_radius()) - area(tabbed.roll().outer_radius());
    assert!((outer - 0.4).abs() < 1e-9, "{outer}");
    assert!((area(tabbed.roll().lay_up().core_radius) - 4.0 * PI - 0.4).abs() < 1e-9);
    assert!((mm(tabbed.radial_clearance()) - 0.25).abs() < 1e-9);
    assert!(tabbed.roll().cathode_turns() < plain.roll().cathode_turns());
    assert!(mm(tabbed.widest()) > mm(tabbed.roll().widest()) + 0.2);
    // 80 mm on the foil and 10 mm past it; tape over 10 mm on both sides.
    close(1e9 * (cathode.tabs_on_foil() + cathode.tabs_past_foil()).value, 90.0 * 0.8);
    close(1e9 * cathode.tape().value, 2.0 * 10.0 * 0.05 * 80.0);
    // More tabs are less capacity.
    let capacity = |d: &Design| crate::cell::balance::Balance::of(d).unwrap().capacity;
    assert!(capacity(&tabbed) < capacity(&plain));
}

#[test]
fn a_tab_that_is_listed_as_a_part_weighs_once() {
    let part = json!({ "name": "cathode tab", "place": "above roll", "mass": "1 g", "material": "metal", "height": "0.2 mm" });
    let listed = tabbed(&[("parts/3", part)]);
    let [_, cathode] = listed.sides();
    assert_eq!(cathode.tabs_on_foil() + cathode.tabs_past_foil(), Volume::default());
    close(mm(2.0 * listed.roll().lengths().cathode - cathode.coated), 20.0);
}

#[test]
fn bare_and_one_sided_ends_are_not_coated() {
    let plain = design(&[]);
    let ends = design(&[
        ("cathode/uncoated_start", json!("5 mm")),
        ("cathode/one_sided_end", json!("100 mm")),
        ("anode/uncoated_end", json!("20 mm")),
        ("anode/one_sided_start", json!("6 mm")),
    ]);
    let lengths = ends.roll().lengths();
    let [anode, cathode] = ends.sides();
    close(mm(2.0 * lengths.cathode - cathode.coated), 110.0);
    close(mm(2.0 * lengths.anode - anode.coated), 46.0);
    // The cathode's last outer side is bare; the anode's ends face nothing.
    close(mm(lengths.cathode - ends.facing().outer), 105.0);
    close(mm(lengths.cathode - ends.facing().inner), 5.0);
    // Thinner at its ends, the same can holds more of it.
    assert!(lengths.cathode > plain.roll().lengths().cathode);
    assert!((mm(ends.radial_clearance()) - 0.25).abs() < 1e-9);
    let diagnostics = refused(&[("cathode/one_sided_start", json!("2000 mm"))]);
    assert!(diagnostics[0].starts_with("winding.core_diameter"), "{diagnostics:?}");
}

#[test]
fn a_sleeve_counts_into_both_or_neither() {
    let sleeve = |counts: &str| design(&[("sleeve", json!({ "thickness": "80 µm", "counts": counts }))]);
    let (bare, inside, outside) = (design(&[]), sleeve("no"), sleeve("yes"));
    assert_eq!(bare.blueprint().envelope(), inside.blueprint().envelope());
    assert_eq!(crate::cell::ledger::mass(&bare), crate::cell::ledger::mass(&inside));
    close(1e9 * outside.blueprint().envelope().value, PI * 23.08 * 23.08 * 95.16);
    // A tube of 80 µm around 46.08 × 95.16 mm, two rings of 2.5 mm; 1.33 .. 1.40 g/cm³.
    let film = PI * 0.08 * (46.08 * 95.16 + 2.0 * 43.5 * 2.5);
    let more = crate::cell::ledger::mass(&outside) - crate::cell::ledger::mass(&bare);
    close(1e6 * more.value, film * 1.365);
}

#[test]
fn more_turns_than_any_cell_are_refused() {
    let thin = refused(&[("winding/core_turns", json!("1990")), ("separator/thickness", json!("1 µm"))]);
    assert!(thin[0].contains("expected at most 2000 turns"), "{thin:?}");
}

#[test]
fn bare_foil_within_and_beyond_the_separator() {
    let design =
        design(&[("cathode/uncoated_margin", json!("0.75 mm")), ("anode/uncoated_margin", json!("1.5 mm"))]);
    let [anode, cathode] = design.sides();
    assert_eq!((anode.name, cathode.name), ("anode", "cathode"));
    for (side, width, beyond, inside, folded) in
        [(anode, 81.0, 0.5, 0.5, 1.0), (cathode, 80.0, 1.0, 0.75, 0.0)]
    {
        close(mm(side.width), width);
        close(mm(side.beyond), beyond);
        close(mm(side.bare_inside()), inside);
        close(1e9 * side.folded_foil().value, mm(side.length) * mm(side.electrode.foil) * folded);
    }
    // Left out, it reaches from the coating to the top of its fold; without a fold the foil ends with its coating.
    let straight = self::design(&[("anode/fold_height", json!("0 mm"))]);
    close(mm(straight.sides()[0].electrode.uncoated_margin), 0.0);
    close(mm(straight.sides()[1].electrode.uncoated_margin), 2.0);
}

#[test]
fn active_area_is_length_times_width() {
    let design = design(&[]);
    let length = design.roll().lengths().cathode;
    let (inner, outer) = design.active_area();
    close(inner.value, length.value * 0.08);
    close(outer.value, length.value * 0.08);
}

#[test]
fn what_does_not_fit_is_refused_and_what_just_fits_is_not() {
    let full = |volume: &str, place: &str| json!({ "name": "block", "place": place, "height": "1 mm", "axial_clearance": "1 mm", "volume": volume, "material": "plastic" });
    let found =
        |changes: &[(&str, serde_json::Value)]| draft(changes).design().map(drop).map_err(|p| p.to_string());
    // Two millimetres of bore: 1.0125π = 3.1809 cm³.
    for place in ["below roll", "above roll"] {
        assert_eq!(found(&[("parts/3", full("3.18 cm3", place))]), Ok(()));
        let diagnostic = found(&[("parts/3", full("3.19 cm3", place))]).unwrap_err();
        assert!(
            diagnostic.contains("\"block\" of 3.190 cm³ in a height that offers 3.181 cm³"),
            "{diagnostic}"
        );
    }
    // The hole of the core: π·2²·82 mm³ = 1.03044 cm³.
    assert_eq!(found(&[("parts/3", full("1.03 cm3", "in core"))]), Ok(()));
    let diagnostic = found(&[("parts/3", full("1.04 cm3", "in core"))]).unwrap_err();
    assert!(
        diagnostic.contains("in the core of 1.040 cm³ together, where there is room for 1.030 cm³"),
        "{diagnostic}"
    );
    // The gap: close to π·(22.5² − 22.25²)·82 mm³ = 2.88 cm³.
    assert_eq!(found(&[("parts/3", full("2.85 cm3", "beside roll"))]), Ok(()));
    let diagnostic = found(&[("parts/3", full("2.92 cm3", "beside roll"))]).unwrap_err();
    assert!(diagnostic.contains("parts beside the roll of 2.920 cm³"), "{diagnostic}");
    let both = found(&[
        ("parts/3", full("1.5 cm3", "beside roll")),
        ("parts/4", {
            let mut p = full("1.5 cm3", "beside roll");
            p["name"] = json!("other");
            p
        }),
    ]);
    assert!(both.unwrap_err().contains("of 3.000 cm³ together"));
}

#[test]
fn more_foil_than_its_fold_holds_is_refused() {
    let design = design(&[("anode/uncoated_margin", json!("1.5 mm"))]);
    let [anode, cathode] = design.sides();
    // A millimetre of foil stands out, in a fold of a millimetre: it would fill 8/360 of the bore or so.
    let share =
        (anode.folded_foil() / (design.blueprint().can.bore_area() * anode.electrode.fold_height)).value;
    assert!((0.018..0.023).contains(&share), "{share}");
    close(mm(cathode.bare_inside()), 1.0);
    let diagnostics = refused(&[("anode/uncoated_margin", json!("60 mm"))]);
    assert!(
        diagnostics[0].starts_with("anode.uncoated_margin")
            && diagnostics[0].contains("in a fold that offers 1.590 cm³"),
        "{diagnostics:?}"
    );
}

#[test]
fn numbers_that_no_cell_has_are_refused_in_their_place() {
    let wall = refused(&[("can/wall", json!("23 mm"))]);
    assert_eq!(
        wall,
        [
            "can.wall: found two walls of 23.000 mm in a can of 46.000 mm; expected a wall that is thinner than the can's radius; can.wall: 23 mm is outside what wound cells have (0.1893 mm .. 1.893 mm). Perhaps millimetres are written as inches: 0.9055 mm would then be meant"
        ]
    );
    let core = refused(&[("winding/core_diameter", json!("45 mm"))]);
    assert!(core[0].contains("a core of 45.00 mm in a can of 45.00 mm inner diameter"), "{core:?}");
    // 26 mg/cm² in 50 µm are 5.2 g/cm³; the mix without pores has 1/(0.9/5 + 0.1/2) = 4.35.
    let dense = refused(&[("cathode/loading", json!("26 mg/cm2"))]);
    assert!(
        dense[0].contains("26.00 mg/cm² in a coating of 50.0 µm, a density of 5.20 g/cm³ where the mix without pores has 4.35"),
        "{dense:?}"
    );
    let window = refused(&[("voltage/discharge_cut_off", json!("4.1 V"))]);
    assert!(
        window[0].contains("a discharge cut-off voltage of 4.100 V and a charge cut-off voltage of 4.100 V"),
        "{window:?}"
    );
}

#[test]
fn a_film_without_pores_makes_no_cell() {
    let diagnostics = refused(&[("separator/porosity", json!("0 %"))]);
    assert!(diagnostics[0].starts_with("separator.porosity: found a film without pores"), "{diagnostics:?}");
}

/// What stands in by the purpose of a cell is held against what it may be like anything else.
#[test]
fn a_purpose_beyond_reason_makes_no_cell() {
    let diagnostics = refused(&[("purpose", json!("3e6")), ("electrolyte/excess", json!(null))]);
    assert!(
        diagnostics[0].starts_with("electrolyte.excess: found −")
            && diagnostics[0].contains("of electrolyte"),
        "{diagnostics:?}"
    );
}

/// A number that the sheet's reader never lets through, met when an uncertain input is moved.
#[test]
fn moved_values_are_checked_again() {
    let draft = draft(&[]);
    let moved = |path: &str, to: f64| {
        let mut values = draft.values();
        values[draft.inputs().iter().position(|input| input.path == path).unwrap()] = to;
        draft.design_at(&values).map(drop).map_err(|problems| problems.0[0].place.clone())
    };
    for path in
        ["can.diameter", "can.height", "can.wall", "can.bottom", "separator.thickness", "cathode.loading"]
    {
        for to in [0.0, -1e-6, f64::NAN, f64::INFINITY] {
            assert_eq!(moved(path, to), Err(path.to_owned()), "{path} {to}");
        }
    }
    assert_eq!(moved("can.height", 0.1), Ok(()));
}
