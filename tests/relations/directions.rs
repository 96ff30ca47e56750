//! One number of a cell moved and all others left: which way its figures go.
//!
//! Each relation is argued from the model: what takes room from the roll leaves shorter electrodes, what is heavier and holds no
//! lithium gives less energy for its mass, what stands in the way of the current adds to its resistance.

use super::{cell, figure};
use proptest::prelude::*;
use roulade::cell::draft::Draft;
use roulade::cell::figures::Worked;

#[derive(Clone, Copy, Debug, PartialEq)]
enum Way {
    /// Not up.
    Down,
    /// Not down.
    Up,
    /// As it was.
    Stays,
}
use Way::{Down, Stays, Up};

/// What is moved, by which factor, and where figures go.
type Relation = (&'static str, f64, &'static [(&'static str, Way)]);

/// What is moved, its path; by which factor; and where figures go. `*` stands for any number of a list.
const RELATIONS: &[Relation] = &[
    // A thicker wall leaves a narrower bore: fewer turns.
    (
        "can.wall",
        1.05,
        &[("capacity", Down), ("roll.cathode_length", Down), ("roll.turns", Down), ("envelope", Stays)],
    ),
    // A wider can has room for more.
    ("can.diameter", 1.02, &[("capacity", Up), ("roll.cathode_length", Up), ("envelope", Up), ("mass", Up)]),
    // A wider core, or more room around the roll, takes turns away.
    ("winding.core_diameter", 1.1, &[("capacity", Down), ("roll.cathode_length", Down), ("envelope", Stays)]),
    ("winding.radial_clearance", 1.2, &[("capacity", Down), ("roll.turns", Down), ("roll.diameter", Down)]),
    // What is thicker and stores nothing shortens the electrodes.
    ("separator.thickness", 1.1, &[("capacity", Down), ("roll.cathode_length", Down), ("roll.pitch", Up)]),
    (
        "cathode.foil.thickness",
        1.1,
        &[("capacity", Down), ("roll.cathode_length", Down), ("volumetric", Down)],
    ),
    ("anode.foil.thickness", 1.1, &[("capacity", Down), ("roll.cathode_length", Down), ("volumetric", Down)]),
    ("winding.slack", 2.0, &[("capacity", Down), ("roll.turns", Down)]),
    // A coating of the same loading that is thicker is more porous, no richer.
    (
        "cathode.thickness",
        1.02,
        &[("cathode.porosity", Up), ("roll.cathode_length", Down), ("balance.cathode_areal", Stays)],
    ),
    (
        "anode.thickness",
        1.02,
        &[("anode.porosity", Up), ("roll.cathode_length", Down), ("balance.anode_areal", Stays)],
    ),
    // More cathode over the same anode.
    (
        "cathode.loading",
        1.01,
        &[("balance.cathode_areal", Up), ("balance.n_to_p", Down), ("cathode.porosity", Down)],
    ),
    ("anode.loading", 1.01, &[("balance.anode_areal", Up), ("balance.n_to_p", Up), ("anode.porosity", Down)]),
    // A part that is heavier holds no more energy.
    ("parts[*].mass", 1.1, &[("gravimetric", Down), ("mass", Up), ("envelope", Stays)]),
    // The sleeve and the steel besides.
    ("can.bottom", 1.05, &[("envelope", Stays)]),
    // More electrolyte than the pores hold.
    (
        "electrolyte.excess",
        1.1,
        &[("electrolyte.mass", Up), ("gravimetric", Down), ("capacity", Stays), ("envelope", Stays)],
    ),
    // The window opened at the lower end gives more of the same electrodes.
    ("voltage.discharge_cut_off", 0.98, &[("capacity", Up), ("energy", Up), ("envelope", Stays)]),
    // What the current passes: ohmic elements stand one after another.
    (
        "current_path.cap_assembly",
        1.5,
        &[("resistance", Up), ("resistance.metal", Up), ("capacity", Stays), ("energy", Stays)],
    ),
    ("current_path.cathode.joint", 1.5, &[("resistance", Up), ("energy", Stays)]),
    ("current_path.anode.joint", 1.5, &[("resistance", Up), ("energy", Stays)]),
    ("current_path.cathode.spots", 1.5, &[("resistance.metal", Down), ("mass", Stays)]),
    ("current_path.anode.spots", 1.5, &[("resistance.metal", Down), ("mass", Stays)]),
    // Metals conduct less where they are hotter; coatings and electrolyte more.
    (
        "current_path.temperature",
        1.2,
        &[("resistance.metal", Up), ("resistance.electrochemical", Down), ("capacity", Stays)],
    ),
    // A higher rate draws a greater current and leaves less of the same charge's energy.
    (
        "current_path.c_rate",
        1.2,
        &[("current", Up), ("heat", Up), ("loaded_energy", Down), ("energy", Stays)],
    ),
    // Better cooled it is colder, and gives what it gives at rest.
    (
        "current_path.heat_transfer",
        1.5,
        &[
            ("warming", Down),
            ("warming.end", Down),
            ("continuous_current", Up),
            ("energy", Stays),
            ("resistance", Stays),
        ],
    ),
    // A continuous discharge may warm it more.
    (
        "current_path.allowed_rise",
        1.5,
        &[("continuous_current", Up), ("warming", Stays), ("resistance", Stays)],
    ),
    // A surface that lets fewer ions through.
    ("current_path.charge_transfer", 1.3, &[("resistance", Up), ("energy", Stays)]),
    // The denser of two equal films is the heavier.
    ("separator.porosity", 0.95, &[("capacity", Stays), ("roll.turns", Stays)]),
];

/// Inputs of that path, by their numbers.
fn inputs(draft: &Draft, path: &str) -> Vec<usize> {
    let (before, after) = path.split_once('*').unwrap_or((path, ""));
    let named = |of: &str| {
        if path.contains('*') { of.starts_with(before) && of.ends_with(after) } else { of == path }
    };
    draft.inputs().iter().enumerate().filter(|(_, input)| named(&input.path)).map(|(i, _)| i).collect()
}

/// Against which way a figure went, if against any.
fn against(way: Way, before: f64, after: f64) -> bool {
    let rounding = 1e-9 * before.abs().max(after.abs());
    match way {
        Down => after > before + rounding,
        Up => after < before - rounding,
        Stays => (after - before).abs() > rounding,
    }
}

/// Whether a relation could be tried on the cell.
fn tried(number: u64, (path, by, figures): &Relation) -> Result<bool, TestCaseError> {
    let Some((sheet, draft, worked)) = cell(number) else { return Ok(false) };
    let mut any = false;
    for i in inputs(&draft, path) {
        let mut values = draft.values();
        let before = values[i];
        values[i] *= by;
        // A loading that was not written follows from the thickness.
        if let Some(side) = path.strip_suffix(".thickness")
            && ["cathode", "anode"].contains(&side)
            && inputs(&draft, &format!("{side}.loading")).is_empty()
        {
            continue;
        }
        if values[i].total_cmp(&before).is_eq() {
            continue;
        }
        let Ok(other) = Worked::at(&draft, &values) else { continue };
        any = true;
        for (id, way) in *figures {
            let (a, b) = (figure(&worked, id), figure(&other, id));
            prop_assert!(
                !against(*way, a, b),
                "{path} from {before} to {}: {id} goes from {a} to {b}, not {way:?}\n{sheet}",
                values[i]
            );
        }
    }
    Ok(any)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 150, ..ProptestConfig::default() })]

    #[test]
    fn figures_go_the_way_the_model_argues(number: u64) {
        for relation in RELATIONS {
            tried(number, relation)?;
        }
    }

    /// What is added to a part or to the way of the current is added to the whole, to the last digits.
    #[test]
    fn what_is_added_adds(number: u64, more in 1e-3..2.0_f64) {
        let Some((sheet, draft, worked)) = cell(number) else { return Ok(()) };
        for (path, si, whole) in [("parts[*].mass", 1e-3, "mass"), ("current_path.cap_assembly", 1e-3, "resistance")] {
            for i in inputs(&draft, path) {
                let mut values = draft.values();
                values[i] += more * si;
                let Ok(other) = Worked::at(&draft, &values) else { continue };
                let (own, sum) = (figure(&worked, whole), figure(&other, whole) - figure(&worked, whole));
                // A part of more mass has more volume, and leaves less room to an electrolyte that fills what is free.
                if whole == "mass" && (figure(&other, "electrolyte.mass") - figure(&worked, "electrolyte.mass")).abs() > 1e-12 {
                    continue;
                }
                prop_assert!((sum - more * si).abs() <= 1e-9 * own.abs(), "{path}: {more} more adds {sum}\n{sheet}");
            }
        }
    }

    /// A capacity, a voltage, a mass and a volume make the figures that are made of them.
    #[test]
    fn figures_are_those_they_are_made_of(number: u64) {
        let Some((sheet, _, worked)) = cell(number) else { return Ok(()) };
        let of = |id: &str| figure(&worked, id);
        for (id, made) in [
            ("energy", of("capacity") * of("mean_voltage")),
            ("volumetric", of("energy") / of("envelope")),
            ("gravimetric", of("energy") / of("mass")),
            ("resistance", of("resistance.metal") + of("resistance.electrochemical")),
            ("heat", of("current") * of("current") * of("resistance")),
            ("loaded_volumetric", of("loaded_energy") / of("envelope")),
            ("loaded_gravimetric", of("loaded_energy") / of("mass")),
            ("balance.n_to_p", of("balance.anode_areal") / of("balance.cathode_areal")),
        ] {
            let own = of(id);
            prop_assert!(own.is_nan() || (own - made).abs() <= 1e-9 * own.abs(), "{id}: {own}, made {made}\n{sheet}");
        }
    }
}

/// None of the relations is there for show: each was tried on some cells.
#[test]
fn every_relation_is_tried() {
    let mut refused_all = Vec::new();
    for relation in RELATIONS {
        let mut times = 0;
        for number in 0..60 {
            match tried(number, relation) {
                Ok(any) => times += usize::from(any),
                Err(why) => {
                    refused_all.push(why.to_string());
                    break;
                }
            }
        }
        // Slack is nothing in most cells.
        if times == 0 && relation.0 != "winding.slack" {
            refused_all.push(format!("{} was never tried", relation.0));
        }
    }
    assert!(refused_all.is_empty(), "{}", refused_all.join("\n"));
}
