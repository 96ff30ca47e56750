//! Former keys of the sheet, which are still read, with a remark, and written under their names of today.

use std::borrow::Cow;

/// A key as it once was, and as it is called now.
const FORMER: &[(&str, &str)] = &[
    ("head_space", "void_height"),
    ("stand_off", "axial_clearance"),
    ("filling", "solid_fraction"),
    ("radial_gap", "radial_clearance"),
    ("anode_lead", "anode_overhang_start"),
    ("anode_tail", "anode_overhang_end"),
    ("bare_edge", "uncoated_margin"),
    ("first_cycle_efficiency", "initial_coulombic_efficiency"),
    ("into_pores", "expansion_into_pores"),
    ("upper", "charge_cut_off"),
    ("lower", "discharge_cut_off"),
    ("rate", "c_rate"),
    ("lid", "cap_assembly"),
    ("pick_up_radius", "centre_weld_radius"),
];

/// What a former key is called today; `None` for any other key.
///
/// ```
/// assert_eq!(roulade::sheet::former::name_today("radial_gap"), Some("radial_clearance"));
/// ```
pub fn name_today(key: &str) -> Option<&'static str> {
    FORMER.iter().find(|(before, _)| *before == key).map(|(_, today)| *today)
}

/// What a key was called before.
pub(super) fn names_before(key: &str) -> impl Iterator<Item = &'static str> {
    FORMER.iter().filter(move |(_, today)| *today == key).map(|(before, _)| *before)
}

/// A path with the names of today; what stands in brackets is a user's name, and stays.
///
/// ```
/// let path = roulade::sheet::former::path_today("parts[lid].stand_off");
/// assert_eq!(path, "parts[lid].axial_clearance");
/// ```
pub fn path_today(path: &str) -> Cow<'_, str> {
    let mut depth = 0_usize;
    let between = |c: char| {
        depth = match c {
            '[' => depth + 1,
            ']' => depth.saturating_sub(1),
            _ => depth,
        };
        c == '.' && depth == 0
    };
    let keys: Vec<&str> = path.split(between).collect();
    if keys.iter().all(|key| name_today(key).is_none()) {
        return path.into();
    }
    keys.iter().map(|key| name_today(key).unwrap_or(key)).collect::<Vec<_>>().join(".").into()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet::Sheet;
    use crate::test_support::{draft, read, sheet, with};
    use serde_json::{Value, json};

    /// The sheet of the tests with every former key in the place of today's.
    fn former_sheet() -> Value {
        fn renamed(value: Value) -> Value {
            match value {
                Value::Object(map) => Value::Object(
                    map.into_iter()
                        .map(|(key, value)| {
                            (names_before(&key).next().unwrap_or(&key).to_owned(), renamed(value))
                        })
                        .collect(),
                ),
                Value::Array(list) => Value::Array(list.into_iter().map(renamed).collect()),
                other => other,
            }
        }
        renamed(sheet())
    }

    #[test]
    fn former_names_are_read_remarked_and_written_as_todays() {
        let of_former = read(&former_sheet()).unwrap();
        assert_eq!(of_former.values(), read(&sheet()).unwrap().values());
        let remarks = of_former.remarks().join("\n");
        for key in ["radial_gap", "stand_off", "anode_lead", "anode_tail", "upper", "lower", "filling"] {
            assert!(remarks.contains(&format!("{key} is the former name of")), "{key}\n{remarks}");
        }
        assert!(!draft(&[]).remarks().join("").contains("former name"));
        let written = serde_json::to_value(Sheet::parse(&former_sheet().to_string()).unwrap()).unwrap();
        let today = Sheet::parse(&sheet().to_string()).unwrap();
        assert_eq!(written, serde_json::to_value(today).unwrap());
    }

    #[test]
    fn a_former_name_beside_todays_is_refused() {
        let refused = read(&with(&[("winding/radial_gap", json!("0.2 mm"))])).unwrap_err().to_string();
        assert_eq!(
            refused,
            "winding.radial_gap: found the former name of \"radial_clearance\", which stands beside it; expected one of the two names"
        );
    }

    #[test]
    fn a_path_keeps_what_users_named() {
        assert_eq!(path_today("winding.radial_gap"), "winding.radial_clearance");
        assert_eq!(path_today("parts[upper.lid].stand_off"), "parts[upper.lid].axial_clearance");
        assert_eq!(path_today("cathode.mix[lower]"), "cathode.mix[lower]");
    }
}
