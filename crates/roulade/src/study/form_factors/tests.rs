use super::*;
use crate::cell::draft::Draft;
use crate::cell::figures::{Worked, definition};
use crate::quantity::units::Length;
use crate::test_support::{demo, draft};
use approx::assert_relative_eq;
use roulade_stats::executor::alone;
use serde_json::json;

fn mm(value: f64) -> Length {
    Length::new::<uom::si::length::millimeter>(value)
}

/// All hardware as it is.
const STAYS: Hold = Hold {
    hardware: Hardware::Stays,
    wall: Wall::AsHardware,
    wall_thickness: None,
    bottom: None,
    core_diameter: None,
    radial_clearance: None,
    void_height: None,
    parts: Parts::WithTheDiameter,
};

/// By hand, from the population's laws: in twice the diameter the wall of 0.5 mm at 46 mm has 0.99/0.53 of it, parts above and
/// below the roll 6.12/4.74 of their height; what is asked for stays.
#[test]
fn hardware_grows_unless_asked_otherwise() {
    let draft = draft(&[]);
    let own = draft.design().unwrap();
    let own = own.blueprint();
    let sized = |hold| recipe(&draft, hold).sized(mm(92.0), mm(95.0)).unwrap();
    let grown = sized(Hold::default());
    let b = grown.design.blueprint();
    assert_relative_eq!((b.can.wall / own.can.wall).value, 0.99 / 0.53, max_relative = 1e-9);
    let heights = || b.parts.iter().zip(own.parts.iter());
    assert!(heights().all(|(is, was)| ((is.height / was.height).value - 6.12 / 4.74).abs() < 1e-9));
    let held = sized(Hold { wall_thickness: Some(own.can.wall), ..Hold::default() });
    assert_relative_eq!(held.design.blueprint().can.wall.value, own.can.wall.value);
    assert!(figure(&grown, "volumetric") < figure(&sized(STAYS), "volumetric"));
}

fn recipe(draft: &Draft, hold: Hold) -> Recipe<'_> {
    Recipe::of(draft, &draft.values(), hold).unwrap()
}

fn figure(worked: &Worked, id: &str) -> f64 {
    (definition(id).unwrap().of)(worked).unwrap()
}

/// In its own can a recipe is the cell itself, however the sheet gives roll and width.
#[test]
fn a_recipe_in_its_own_can_is_the_cell() {
    let weighed = [
        ("cathode/width", json!("80 mm")),
        ("winding/radial_clearance", json!(null)),
        ("winding/anode_overhang_end", json!(null)),
        ("winding/cathode_length", json!("4 m")),
        ("winding/anode_length", json!("4.2 m")),
        ("can/mass", json!("70 g")),
        ("electrolyte/excess", json!(null)),
        ("electrolyte/mass", json!("40 g")),
    ];
    for draft in [draft(&[]), draft(&weighed), demo("marram a"), demo("marram b"), demo("small")] {
        let best = Worked::of(draft.design().unwrap()).unwrap();
        let b = best.design.blueprint();
        let same = recipe(&draft, Hold::default()).sized(b.can.diameter, b.can.height).unwrap();
        for definition in crate::cell::figures::FIGURES {
            let (a, b) = ((definition.of)(&best), (definition.of)(&same));
            assert_eq!(a.is_some(), b.is_some(), "{}", definition.id);
            let (Some(a), Some(b)) = (a, b) else { continue };
            assert!((a - b).abs() <= 1e-9 * a.abs().max(1e-9), "{} {}: {a} {b}", draft.name(), definition.id);
        }
    }
}

/// By hand: stack-up of 11 mm and 4 mm of void height beside 80 mm of coating in 95 mm; bore 45 mm, core 4 mm.
#[test]
fn what_is_held_is_held() {
    let draft = draft(&[]);
    let recipe = recipe(&draft, STAYS);
    let tall = recipe.sized(mm(46.0), mm(120.0)).unwrap();
    assert_relative_eq!(figure(&tall, "stack.cathode_width"), 0.105, max_relative = 1e-12);
    assert_relative_eq!(figure(&tall, "stack.void_height"), 0.004, max_relative = 1e-9);
    assert_relative_eq!(figure(&tall, "heat.axial"), 0.0525, max_relative = 1e-12);
    // The same turns, only longer: capacity goes with the coated width.
    let own = recipe.sized(mm(46.0), mm(95.0)).unwrap();
    assert_relative_eq!(
        figure(&tall, "capacity") / figure(&own, "capacity"),
        105.0 / 80.0,
        max_relative = 1e-9
    );
    let wide = recipe.sized(mm(56.0), mm(95.0)).unwrap();
    assert_relative_eq!(figure(&wide, "roll.diameter"), 0.0545, max_relative = 1e-12);
    assert_relative_eq!(figure(&wide, "heat.radial"), 0.02525, max_relative = 1e-12);
    // Mean outer radius is linear in the turns.
    let more = figure(&wide, "roll.cathode_turns") - figure(&own, "roll.cathode_turns");
    assert_relative_eq!(more, 0.005 / figure(&own, "roll.pitch"), max_relative = 1e-9);
}

#[test]
fn parts_go_with_the_bore_or_stay() {
    let draft = draft(&[]);
    let masses = |hold, diameter| {
        let worked = recipe(&draft, hold).sized(mm(diameter), mm(95.0)).unwrap();
        worked.design.blueprint().parts.iter().map(|part| 1e3 * part.mass.value).collect::<Vec<_>>()
    };
    // Insulator 0.2 g, plate 4 g, and a lid of a quarter of π/4·45²·4 mm³ of metal: 12.7234502 g.
    let own = [0.2, 4.0, 12.723_450_247];
    let as_they_are = Hold { parts: Parts::AsTheyAre, ..STAYS };
    for (hold, factor) in [(STAYS, 4.0), (as_they_are, 1.0)] {
        for (mass, own) in masses(hold, 46.0).iter().zip(own) {
            assert_relative_eq!(*mass, own, max_relative = 1e-8);
        }
        // A bore of 90 mm.
        for (mass, own) in masses(hold, 91.0).iter().zip(own) {
            assert_relative_eq!(*mass, factor * own, max_relative = 1e-8);
        }
    }
}

#[test]
fn what_is_asked_for_is_held_instead() {
    let draft = draft(&[
        ("winding/radial_clearance", json!(null)),
        ("winding/anode_overhang_end", json!(null)),
        ("winding/cathode_length", json!("4 m")),
    ]);
    let hold = Hold {
        wall: Wall::WithTheDiameter,
        bottom: Some(mm(0.8)),
        core_diameter: Some(mm(6.0)),
        radial_clearance: Some(mm(0.1)),
        void_height: Some(mm(1.0)),
        ..STAYS
    };
    let recipe = recipe(&draft, hold);
    let worked = recipe.sized(mm(23.0), mm(70.0)).unwrap();
    let b = worked.design.blueprint();
    assert_relative_eq!(b.can.wall.value, 0.25e-3, max_relative = 1e-12);
    assert_relative_eq!(b.can.bottom.value, 0.8e-3, max_relative = 1e-12);
    assert_relative_eq!(figure(&worked, "roll.diameter"), 0.0223, max_relative = 1e-12);
    assert_relative_eq!(figure(&worked, "heat.radial"), 0.00815, max_relative = 1e-12);
    // 70 less 11.2 of hardware and 1 of void height.
    assert_relative_eq!(figure(&worked, "stack.cathode_width"), 0.0578, max_relative = 1e-12);
    let held = recipe.held();
    let asked: Vec<&str> = held.iter().filter(|held| held.asked).map(|held| held.what).collect();
    assert_eq!(asked.len(), 7, "{asked:?}");
    assert_eq!(held[1].text, "goes with the diameter: 0.5000 mm at 46.00 mm");
}

#[test]
fn a_grid_has_every_cell_in_its_place() {
    let draft = draft(&[]);
    let recipe = recipe(&draft, STAYS);
    let input = |key: &str| draft.inputs().iter().position(|input| input.key == key).unwrap();
    let axes = [
        Axis { input: input("can.diameter"), from: 0.003, to: 0.046, steps: 86 },
        Axis { input: input("can.height"), from: 0.014, to: 0.095, steps: 3 },
    ];
    let figures = ["volumetric", "mass"].map(|id| definition(id).unwrap());
    let grid = Grid::of(&axes, recipe.values(), &figures, |v| recipe.at(v), &alone());
    assert_eq!(grid.axes[0].len(), 87);
    assert_eq!(grid.axes[1].last(), Some(&0.095));
    let mut blank = 0;
    for (number, value) in grid.figures[1].iter().enumerate() {
        let (d, h) = (grid.axes[0][number % 87], grid.axes[1][number / 87]);
        let metres = Length::new::<uom::si::length::meter>;
        if let Ok(worked) = recipe.sized(metres(d), metres(h)) {
            assert_eq!(value.to_bits(), figure(&worked, "mass").to_bits());
        } else {
            blank += 1;
            assert!(value.is_nan());
        }
    }
    // The lowest can has no room for any coating, the narrowest none for its core and then for any turn.
    assert_eq!(grid.blank.iter().map(|blank| blank.cells).sum::<usize>(), blank);
    let places: Vec<&str> = grid.blank.iter().map(|blank| blank.reason.place.as_str()).collect();
    assert!(places.contains(&"can.height") && places.contains(&"winding"), "{places:?}");
}

#[test]
fn a_line_of_cells_is_the_same_in_stretches() {
    let draft = draft(&[]);
    let input = draft.inputs().iter().position(|input| input.key == "cathode.loading").unwrap();
    let axes = [Axis { input, from: 0.15, to: 0.21, steps: 200 }];
    let figures = [definition("volumetric").unwrap()];
    let grid = Grid::of(&axes, &draft.values(), &figures, |v| Worked::at(&draft, v), &alone());
    assert_eq!(grid.figures[0].len(), 201);
    let mut values = draft.values();
    for (loading, volumetric) in grid.axes[0].iter().zip(&grid.figures[0]) {
        values[input] = *loading;
        let worked = Worked::at(&draft, &values).unwrap();
        assert_eq!(volumetric.to_bits(), figure(&worked, "volumetric").to_bits());
    }
}

#[test]
fn designations() {
    assert_eq!(common::designation(Some('N'), 18.0, 65.0), "INR18/65");
    assert_eq!(common::designation(None, 46.01, 119.999), "IR47/120");
    assert_eq!(common::letter(draft(&[]).design().unwrap().blueprint()), None);
    assert_eq!(common::letter(demo("small").design().unwrap().blueprint()), Some('N'));
    for (d, h) in common::COMMON {
        assert!(d < h && common::label(d, h).contains(" × "));
    }
}
