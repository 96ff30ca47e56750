//! The table of what a bench can read.

use super::{Of, Quantity, Typical};
use crate::cell::balance::Side::{Anode, Cathode};
use crate::cell::balance::disc;
use crate::cell::current_path::Pulse;
use crate::cell::figures::Worked;
use crate::cell::ledger::Group;
use crate::cell::state::Changes::{
    Cell, Diameter, DryCell, DryRoll, Electrolyte, Loading, Porosity, Thickness, WetRoll,
};
use crate::cell::state::{Cause, Changes, StateChange};
use crate::cell::{current_path, ledger};
use crate::quantity::units::{ElectricCharge, Unit};
use crate::study::readings::conditions::Condition;

/// Mass of the roll: plies and tape, with the electrolyte in the pores or without any.
fn roll_mass(w: &Worked, wet: bool) -> f64 {
    let mut mass = 0.0;
    ledger::lines(&w.design, |line| {
        let plies = matches!(line.group, Group::Anode | Group::Cathode | Group::Separator);
        let soaked = wet && line.what == "electrolyte in the pores";
        if plies || soaked || line.what == "tape around the roll" {
            mass += line.mass.value;
        }
    });
    mass
}

/// Mass of one group of the ledger.
fn electrolyte(w: &Worked) -> f64 {
    let mut mass = 0.0;
    ledger::lines(&w.design, |line| {
        if line.group == Group::Electrolyte {
            mass += line.mass.value;
        }
    });
    mass
}

macro_rules! quantities {
    ($($group:literal { $($key:literal $unit:ident $input:literal,
        $absolute:literal $relative:literal $instrument:literal, $of:expr $(=> $changes:expr)? $(, $note:literal)?;)* })*) => {
        &[$($(Quantity {
            key: $key, group: $group, unit: Unit::$unit, of: $of, changes: changes!($($changes)?), input: $input,
            typical: Typical { absolute: $absolute, relative: $relative, instrument: $instrument },
            note: concat!($($note)?),
        }),*),*]
    };
}

macro_rules! changes {
    () => {
        Changes::Nothing
    };
    ($changes:expr) => {
        $changes
    };
}

macro_rules! read {
    (|$w:ident| $of:expr) => {
        Of::Worked(|$w| Some($of))
    };
}

/// Every quantity, in the order it is listed.
pub(crate) static QUANTITIES: &[Quantity] = quantities! {
    "Can" {
        "can diameter" Millimetre "can.diameter", 0.03 0.0 "caliper", read!(|w| w.design.blueprint().can.diameter.value),
            "largest outer diameter, no sleeve";
        "can height" Millimetre "can.height", 0.03 0.0 "caliper", read!(|w| w.design.blueprint().can.height.value),
            "largest outer height, cap and terminals included";
        "can wall" Millimetre "can.wall", 0.01 0.0 "micrometer", read!(|w| w.design.blueprint().can.wall.value);
        "can bottom" Millimetre "can.bottom", 0.01 0.0 "micrometer", read!(|w| w.design.blueprint().can.bottom.value);
        "can mass" Gram "can.mass", 0.01 0.0 "balance", read!(|w| {
            let can = &w.design.blueprint().can;
            can.weighed.map_or((can.shell() * can.density).value, |mass| mass.value)
        }), "the empty can: wall and bottom";
    }
    "Parts" {
        "parts[].height" Millimetre "parts[].height", 0.03 0.0 "caliper", Of::Part(|part| part.height.value),
            "\"height of NAME\": axial height of the part itself";
        "parts[].axial_clearance" Millimetre "parts[].axial_clearance", 0.1 0.0 "depth gauge", Of::Part(|part| part.axial_clearance.value),
            "\"axial clearance of NAME\": height lost to it besides its own";
        "parts[].mass" Gram "parts[].mass", 0.01 0.0 "balance", Of::Part(|part| part.mass.value), "\"mass of NAME\"";
        "parts[].volume" CubicCentimetre "parts[].volume", 0.02 0.0 "balance, in water", Of::Part(|part| part.volume.value),
            "\"volume of NAME\": its solid";
        "void height" Millimetre "void_height", 0.2 0.0 "depth gauge", read!(|w| w.design.stack().void_height.value),
            "empty height (headspace) between the jelly roll and the parts above it";
    }
    "Jelly roll" {
        "core diameter" Millimetre "winding.core_diameter", 0.1 0.0 "pin gauge", read!(|w| w.design.blueprint().winding.core_diameter.value),
            "of the hole the mandrel left";
        "jelly roll diameter" Millimetre "", 0.05 0.0 "caliper", read!(|w| 2.0 * w.design.outer_radius().value) => Diameter(1.0),
            "mean over the angle, tape included";
        "jelly roll diameter, widest" Millimetre "", 0.05 0.0 "caliper", read!(|w| 2.0 * w.design.widest().value) => Diameter(1.0);
        "radial clearance" Millimetre "winding.radial_clearance", 0.05 0.0 "feeler gauge", read!(|w| w.design.radial_clearance().value) => Diameter(-0.5),
            "mean distance from the jelly roll to the wall of the can";
        "turns of cathode" Turn "", 0.25 0.0 "counted", read!(|w| w.design.roll().cathode_turns());
        "turns of the jelly roll" Turn "", 0.25 0.0 "counted", read!(|w| w.design.roll().web_turns()),
            "from the first turn of separator to the last, tape not counted";
        "separator turns at the core" Turn "winding.core_turns", 0.1 0.0 "counted", read!(|w| w.design.blueprint().winding.core_turns),
            "separator-only turns at the core";
        "anode overhang at the start" Turn "winding.anode_overhang_start", 0.1 0.0 "counted", read!(|w| w.design.blueprint().winding.anode_overhang_start),
            "turns of anode before the cathode begins";
        "separator turns outside" Turn "winding.outer_turns", 0.1 0.0 "counted", read!(|w| w.design.blueprint().winding.outer_turns),
            "separator-only turns outside";
        "tape turns" Turn "winding.tape_turns", 0.1 0.0 "counted", read!(|w| w.design.blueprint().winding.tape_turns);
        "tape thickness" Micrometre "winding.tape_thickness", 2.0 0.0 "micrometer", read!(|w| w.design.blueprint().winding.tape_thickness.value);
    }
    "Lengths and widths" {
        "cathode length" Millimetre "winding.cathode_length", 1.0 0.001 "steel tape", read!(|w| w.design.roll().lengths().cathode.value),
            "coated length, unrolled";
        "anode length" Millimetre "winding.anode_length", 1.0 0.001 "steel tape", read!(|w| w.design.roll().lengths().anode.value),
            "coated length, unrolled";
        "inner separator length" Millimetre "", 2.0 0.002 "steel tape", read!(|w| w.design.roll().lengths().inner_separator.value),
            "the one under the anode";
        "outer separator length" Millimetre "", 2.0 0.002 "steel tape", read!(|w| w.design.roll().lengths().outer_separator.value),
            "the one under the cathode";
        "cathode width" Millimetre "cathode.width", 0.1 0.0 "caliper", read!(|w| w.design.stack().cathode_width.value), "coated";
        "anode width" Millimetre "", 0.1 0.0 "caliper", read!(|w| w.design.anode_width().value), "coated";
        "separator width" Millimetre "", 0.2 0.0 "caliper", read!(|w| w.design.separator_width().value);
        "anode overhang" Millimetre "anode.overhang", 0.1 0.0 "caliper", read!(|w| w.design.blueprint().overhang.value),
            "past the cathode's coating, at each edge";
        "separator overhang" Millimetre "separator.margin", 0.1 0.0 "caliper", read!(|w| w.design.blueprint().separator.margin.value),
            "past the anode's coating, at each edge";
        "cathode uncoated foil margin" Millimetre "cathode.uncoated_margin", 0.1 0.0 "caliper", read!(|w| w.design.blueprint().cathode.uncoated_margin.value),
            "foil beyond the coating at the connected edge, as cut";
        "anode uncoated foil margin" Millimetre "anode.uncoated_margin", 0.1 0.0 "caliper", read!(|w| w.design.blueprint().anode.uncoated_margin.value),
            "foil beyond the coating at the connected edge, as cut";
        "cathode folded edge height" Millimetre "cathode.fold_height", 0.1 0.0 "depth gauge", read!(|w| w.design.blueprint().cathode.fold_height.value);
        "anode folded edge height" Millimetre "anode.fold_height", 0.1 0.0 "depth gauge", read!(|w| w.design.blueprint().anode.fold_height.value);
    }
    "Thicknesses" {
        "cathode coated both sides" Micrometre "", 1.0 0.0 "micrometer", read!(|w| w.design.blueprint().cathode.thickness_both().value) => Thickness(Cathode, 2.0),
            "foil and both coatings";
        "anode coated both sides" Micrometre "", 1.0 0.0 "micrometer", read!(|w| w.design.blueprint().anode.thickness_both().value) => Thickness(Anode, 2.0),
            "foil and both coatings";
        "cathode coated one side" Micrometre "", 1.0 0.0 "micrometer", read!(|w| {
            let cathode = &w.design.blueprint().cathode;
            (cathode.thickness + cathode.foil).value
        }) => Thickness(Cathode, 1.0), "foil and one coating";
        "anode coated one side" Micrometre "", 1.0 0.0 "micrometer", read!(|w| {
            let anode = &w.design.blueprint().anode;
            (anode.thickness + anode.foil).value
        }) => Thickness(Anode, 1.0), "foil and one coating";
        "cathode coating thickness" Micrometre "cathode.thickness", 1.5 0.0 "micrometer", read!(|w| w.design.blueprint().cathode.thickness.value) => Thickness(Cathode, 1.0),
            "per side, without foil";
        "anode coating thickness" Micrometre "anode.thickness", 1.5 0.0 "micrometer", read!(|w| w.design.blueprint().anode.thickness.value) => Thickness(Anode, 1.0),
            "per side, without foil";
        "cathode foil thickness" Micrometre "cathode.foil.thickness", 0.5 0.0 "micrometer", read!(|w| w.design.blueprint().cathode.foil.value);
        "anode foil thickness" Micrometre "anode.foil.thickness", 0.5 0.0 "micrometer", read!(|w| w.design.blueprint().anode.foil.value);
        "separator thickness" Micrometre "", 0.5 0.0 "micrometer", read!(|w| w.design.blueprint().separator.thickness().value),
            "film and ceramic layer";
    }
    "Coatings" {
        "cathode areal mass loading" MilligramPerSquareCentimetre "cathode.loading", 0.0 0.01 "balance, on discs", read!(|w| w.design.blueprint().cathode.loading.value) => Loading(Cathode),
            "per side, dry, without foil";
        "anode areal mass loading" MilligramPerSquareCentimetre "anode.loading", 0.0 0.01 "balance, on discs", read!(|w| w.design.blueprint().anode.loading.value) => Loading(Anode),
            "per side, dry, without foil; lithium of the first charge is part of it where the state says that there was one";
        "cathode porosity" Percent "cathode.porosity", 1.5 0.0 "intrusion or sections", read!(|w| w.design.blueprint().cathode.porosity().value) => Porosity(Cathode);
        "anode porosity" Percent "anode.porosity", 1.5 0.0 "intrusion or sections", read!(|w| w.design.blueprint().anode.porosity().value) => Porosity(Anode);
        "separator porosity" Percent "separator.porosity", 2.0 0.0 "intrusion or sections", read!(|w| w.design.blueprint().separator.porosity.value), "of the film";
    }
    "Composition" {
        "materials[].metals.nickel" One "materials[].metals.nickel", 0.005 0.0 "element analysis", Of::Input,
            "\"nickel of NAME\": mole fraction of the metals of a cathode material, where the sheet has it as an entry";
        "materials[].metals.cobalt" One "materials[].metals.cobalt", 0.005 0.0 "element analysis", Of::Input;
        "materials[].metals.manganese" One "materials[].metals.manganese", 0.005 0.0 "element analysis", Of::Input;
        "materials[].metals.aluminium" One "materials[].metals.aluminium", 0.005 0.0 "element analysis", Of::Input;
        "silicon mass fraction" Percent "anode.silicon", 0.3 0.02 "element analysis", Of::Input,
            "mass share of the anode's active part, where the sheet has it as an entry";
        "silicon oxide mass fraction" Percent "anode.silicon_oxide", 0.3 0.02 "element analysis", Of::Input,
            "the same of silicon monoxide";
    }
    "Masses" {
        "cell mass" Gram "", 0.02 0.0 "balance", read!(|w| w.estimate.mass.value) => Cell, "the whole cell, before it is opened";
        "dry cell mass" Gram "", 0.05 0.0 "balance", read!(|w| w.estimate.mass.value - electrolyte(w)) => DryCell, "without any electrolyte";
        "dry jelly roll mass" Gram "", 0.1 0.0 "balance", read!(|w| roll_mass(w, false)) => DryRoll,
            "electrodes, separators and tape, washed and dried where the state says nothing else";
        "wet jelly roll mass" Gram "", 0.0 0.01 "balance", read!(|w| roll_mass(w, true)) => WetRoll,
            "the same with the electrolyte in its pores; what has dried away by then is missing";
        "electrolyte mass" Gram "electrolyte.mass", 0.0 0.03 "balance, as a difference", read!(|w| electrolyte(w)) => Electrolyte, "all of it";
    }
    "Electrical" {
        "capacity" AmpereHour "", 0.0 0.005 "cycler", read!(|w| w.estimate.balance.capacity.value),
            "between the sheet's cut-off voltages, so slowly that losses do not count; nothing is taken off for a rate";
        "energy" WattHour "", 0.0 0.005 "cycler", read!(|w| w.estimate.balance.energy.value), "as the capacity";
        "mean voltage" Volt "", 0.003 0.0 "cycler", read!(|w| w.estimate.balance.mean_voltage().value), "as the capacity";
        "capacity under load" AmpereHour "", 0.0 0.005 "cycler", Of::Figure("loaded_capacity"), "at the current of the sheet's load";
        "energy under load" WattHour "", 0.0 0.005 "cycler", Of::Figure("loaded_energy"), "at the current of the sheet's load";
        "d.c. internal resistance" Milliohm "", 0.0 0.02 "four-wire meter", Of::Figure("resistance"), "by the step of the voltage on a step of the current, fresh cell";
        "pulse resistance" Milliohm "", 0.0 0.02 "cycler", Of::Under(
            &[Condition::Length, Condition::Share, Condition::Temperature], None, |w, under| {
                let pulse = Pulse { seconds: under.length, share: under.share, celsius: under.celsius };
                let found = current_path::by_pulse(&w.design, &w.estimate.balance, &pulse)?;
                Some(StateChange::of(found.value, Cause::Pulse, found.u()))
            }),
            "by the step of the voltage so long into a discharge pulse; at: length, state of charge, temperature (10 s, 50 % and that of the design where left out)";
        "resistance at 1 kHz" Milliohm "", 0.0 0.02 "four-wire meter", Of::Under(&[Condition::Temperature], None, |w, under| {
            let found = current_path::at_one_kilohertz(&w.design, under.celsius)?;
            Some(StateChange::of(found.value, Cause::HighFrequency, found.u()))
        }), "real part; metals, electrolyte and separator, no charge transfer; at: temperature";
        "cell voltage" Volt "", 0.01 0.0 "cycler", Of::Under(&[Condition::Drawn, Condition::Current], Some(Condition::Drawn), |w, under| {
            let drawn = ElectricCharge::new::<uom::si::electric_charge::coulomb>(under.drawn?);
            let open = w.estimate.balance.voltage_after(&w.design, drawn)?.value;
            let drop = under.current.map_or(0.0, |current| current * w.loaded().0.total().value);
            Some(StateChange::exact(open - drop))
        }), "on a slow discharge from full; at: the capacity drawn so far, and the current where its I·R counts; hysteresis and the shape of half-cell curves are most of its uncertainty";
        "cathode disc areal capacity" MilliampereHourPerSquareCentimetre "", 0.0 0.015 "cycler, on discs", Of::Under(&[Condition::Window], None, |w, under| {
            Some(StateChange::exact(disc(&w.design.blueprint().cathode, under.window)?.value))
        }), "reversible, per side, against lithium, of discs out of the cell; over the practical window of the material, or at: the two cut-off voltages";
        "anode disc areal capacity" MilliampereHourPerSquareCentimetre "", 0.0 0.015 "cycler, on discs", Of::Under(&[Condition::Window], None, |w, under| {
            Some(StateChange::exact(disc(&w.design.blueprint().anode, under.window)?.value))
        }), "as that of the cathode's";
    }
};
