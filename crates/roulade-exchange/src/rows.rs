//! What both a sheet and a parameter set can say: each quantity with its group and name there, and its key in the sheet.

use roulade::cell::design::Design;

/// Version of the standard that is written: its patch number says nothing about the fields.
pub(crate) const VERSION: &str = "1.1.0";

/// A quantity that a sheet has under a key.
pub(crate) struct Row {
    /// Group among the user-defined parameters.
    pub(crate) group: &'static str,
    /// Its name there, with the standard's way of writing units.
    pub(crate) name: &'static str,
    /// Its key in the sheet.
    pub(crate) key: &'static str,
    /// Its value in the design, SI; none where the design has none.
    pub(crate) of: fn(&Design) -> Option<f64>,
}

macro_rules! rows {
    ($($group:literal { $($name:literal $key:literal $of:expr;)* })*) => {
        &[$($(Row { group: $group, name: $name, key: $key, of: $of },)*)*]
    };
}

pub(crate) const CAN: &str = "Can";
pub(crate) const ROLL: &str = "Jelly roll";
pub(crate) const POSITIVE: &str = "Positive electrode";
pub(crate) const NEGATIVE: &str = "Negative electrode";
pub(crate) const SEPARATOR: &str = "Separator";
pub(crate) const PARTS: &str = "Parts";
pub(crate) const MATERIALS: &str = "Materials";
pub(crate) const FIGURES: &str = "Figures";
/// Mass fractions of a dry coating by material.
pub(crate) const MIX: &str = "Dry mass fractions";
/// Mass fractions by material of what is of one.
pub(crate) const MADE_OF: &str = "Made of";
/// Open-circuit potential, as the standard calls it.
pub(crate) const POTENTIAL: &str = "OCP [V]";

/// Groups in which a material stands by itself, with its key in the sheet.
pub(crate) const SINGLE: [(&str, &str, &str); 4] = [
    (CAN, MADE_OF, "can.material"),
    (POSITIVE, "Current collector foil made of", "cathode.foil.material"),
    (NEGATIVE, "Current collector foil made of", "anode.foil.material"),
    (SEPARATOR, MADE_OF, "separator.material"),
];

/// Everything that both can say, but for lists: mixes, parts, materials.
pub(crate) const ROWS: &[Row] = rows! {
    "Can" {
        "Outer diameter [m]" "can.diameter" |d| Some(d.blueprint().can.diameter.value);
        "Outer height [m]" "can.height" |d| Some(d.blueprint().can.height.value);
        "Wall thickness [m]" "can.wall" |d| Some(d.blueprint().can.wall.value);
        "Bottom thickness [m]" "can.bottom" |d| Some(d.blueprint().can.bottom.value);
    }
    "Jelly roll" {
        "Core diameter [m]" "winding.core_diameter" |d| Some(d.blueprint().winding.core_diameter.value);
        "Radial clearance [m]" "winding.radial_clearance" |d| Some(d.radial_clearance().value);
        "Slack, per turn [m]" "winding.slack" |d| Some(d.blueprint().winding.slack.value);
        "Separator turns at the core" "winding.core_turns" |d| Some(d.blueprint().winding.core_turns);
        "Anode overhang at the start of winding, turns" "winding.anode_overhang_start"
            |d| Some(d.blueprint().winding.anode_overhang_start);
        "Anode overhang at the end of winding, turns" "winding.anode_overhang_end" |d| Some(d.roll().anode_overhang_end());
        "Separator turns outside" "winding.outer_turns" |d| Some(d.blueprint().winding.outer_turns);
        "Tape thickness [m]" "winding.tape_thickness" |d| Some(d.blueprint().winding.tape_thickness.value);
        "Tape turns" "winding.tape_turns" |d| Some(d.blueprint().winding.tape_turns);
    }
    "Positive electrode" {
        "Current collector foil thickness [m]" "cathode.foil.thickness" |d| Some(d.blueprint().cathode.foil.value);
        "Areal mass loading, per side [kg.m-2]" "cathode.loading" |d| Some(d.blueprint().cathode.loading.value);
        "Coating thickness, per side [m]" "cathode.thickness" |d| Some(d.blueprint().cathode.thickness.value);
        "Coated width [m]" "cathode.width" |d| Some(d.stack().cathode_width.value);
        "Uncoated foil margin [m]" "cathode.uncoated_margin" |d| Some(d.blueprint().cathode.uncoated_margin.value);
        "Folded foil edge, height [m]" "cathode.fold_height" |d| Some(d.blueprint().cathode.fold_height.value);
        "Uncoated at the start [m]" "cathode.uncoated_start" |d| some(d.blueprint().cathode.bare_ends.start.value);
        "Uncoated at the end [m]" "cathode.uncoated_end" |d| some(d.blueprint().cathode.bare_ends.end.value);
        "Coated on one side, at the start [m]" "cathode.one_sided_start"
            |d| some(d.blueprint().cathode.bare_ends.one_sided_start.value);
        "Coated on one side, at the end [m]" "cathode.one_sided_end"
            |d| some(d.blueprint().cathode.bare_ends.one_sided_end.value);
        "Initial coulombic efficiency" "cathode.initial_coulombic_efficiency"
            |d| Some(d.blueprint().cathode.initial_coulombic_efficiency.value);
        "Tortuosity of the pores" "cathode.tortuosity" |d| d.blueprint().cathode.tortuosity;
    }
    "Negative electrode" {
        "Current collector foil thickness [m]" "anode.foil.thickness" |d| Some(d.blueprint().anode.foil.value);
        "Areal mass loading, per side [kg.m-2]" "anode.loading" |d| Some(d.blueprint().anode.loading.value);
        "Coating thickness, per side [m]" "anode.thickness" |d| Some(d.blueprint().anode.thickness.value);
        "Overhang at each edge [m]" "anode.overhang" |d| Some(d.blueprint().overhang.value);
        "Uncoated foil margin [m]" "anode.uncoated_margin" |d| Some(d.blueprint().anode.uncoated_margin.value);
        "Folded foil edge, height [m]" "anode.fold_height" |d| Some(d.blueprint().anode.fold_height.value);
        "Uncoated at the start [m]" "anode.uncoated_start" |d| some(d.blueprint().anode.bare_ends.start.value);
        "Uncoated at the end [m]" "anode.uncoated_end" |d| some(d.blueprint().anode.bare_ends.end.value);
        "Coated on one side, at the start [m]" "anode.one_sided_start"
            |d| some(d.blueprint().anode.bare_ends.one_sided_start.value);
        "Coated on one side, at the end [m]" "anode.one_sided_end"
            |d| some(d.blueprint().anode.bare_ends.one_sided_end.value);
        "Initial coulombic efficiency" "anode.initial_coulombic_efficiency"
            |d| Some(d.blueprint().anode.initial_coulombic_efficiency.value);
        "Tortuosity of the pores" "anode.tortuosity" |d| d.blueprint().anode.tortuosity;
    }
    "Separator" {
        "Film thickness [m]" "separator.thickness" |d| Some(d.blueprint().separator.film.value);
        "Film porosity" "separator.porosity" |d| Some(d.blueprint().separator.porosity.value);
        "Overhang at each edge [m]" "separator.margin" |d| Some(d.blueprint().separator.margin.value);
        "Ceramic layer thickness [m]" "separator.ceramic_thickness" |d| Some(d.blueprint().separator.ceramic.value);
        "Ceramic layer porosity" "separator.ceramic_porosity" |d| Some(d.blueprint().separator.ceramic_porosity.value);
    }
};

/// A stretch that is there.
fn some(value: f64) -> Option<f64> {
    (value > 0.0).then_some(value)
}

/// A name with words put between it and its unit: "Outer diameter, standard uncertainty [m]".
pub(crate) fn beside(name: &str, words: &str) -> String {
    match name.split_once(" [") {
        Some((name, unit)) => format!("{name}, {words} [{unit}"),
        None => format!("{name}, {words}"),
    }
}

/// What stands beside a number that is uncertain.
pub(crate) const U: &str = "standard uncertainty";

#[cfg(test)]
mod tests {
    use super::*;
    use roulade::sheet::defaults::field;

    #[test]
    fn every_row_is_a_key_of_the_sheet_in_its_unit() {
        for row in ROWS {
            let field = field(row.key).unwrap_or_else(|| panic!("{}", row.key));
            let unit = row.name.split_once(" [").map_or("", |(_, unit)| unit.trim_end_matches(']'));
            let si = match field.unit.symbol() {
                "mm" | "µm" => "m",
                "mg/cm²" => "kg.m-2",
                "" | "%" | "turns" => "",
                other => panic!("{other}"),
            };
            assert_eq!(unit, si, "{}", row.name);
        }
        let mut names: Vec<(&str, &str)> = ROWS.iter().map(|row| (row.group, row.name)).collect();
        names.sort_unstable();
        names.dedup();
        assert_eq!(names.len(), ROWS.len());
    }

    #[test]
    fn words_go_before_the_unit() {
        assert_eq!(beside("Outer height [m]", U), "Outer height, standard uncertainty [m]");
        assert_eq!(beside("Film porosity", U), "Film porosity, standard uncertainty");
    }
}
