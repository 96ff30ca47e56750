//! The answer in words, and which inputs differ.

use super::block::{AS_DESIGNED, Differing, share_in_words};
use super::pair::Pair;
use super::written::WrittenPair;
use crate::answer::change::FigureChange;
use crate::answer::sentence::{Sentence, Words, assumed, gives, listed};
use roulade::cell::draft::{Draft, Input};
use roulade::study::compare::HardwareChange;
use std::borrow::Cow;

/// Inputs that differ, in the order of the second sheet, then what only the first has.
pub(super) fn differing(first: &Draft, second: &Draft) -> Vec<Differing> {
    let mut rows = Vec::new();
    for b in second.inputs() {
        let a = first.inputs().iter().find(|a| a.key == b.key);
        let before = a.map_or(Cow::Borrowed(""), Input::text);
        if before != b.text() {
            rows.push(Differing {
                path: b.path.to_string(),
                section: b.section,
                label: b.label.to_string(),
                first: before.into_owned(),
                second: b.text().into_owned(),
            });
        }
    }
    for a in first.inputs().iter().filter(|a| !second.inputs().iter().any(|b| b.key == a.key)) {
        rows.push(Differing {
            path: a.path.to_string(),
            section: a.section,
            label: a.label.to_string(),
            first: a.text().into_owned(),
            second: String::new(),
        });
    }
    rows
}

pub(super) fn sentence(
    first: &Draft,
    second: &Draft,
    best: &Pair,
    written: &WrittenPair,
    sensitivity: Vec<crate::answer::sentence::VarianceShare>,
) -> Sentence {
    let mut words = Words::default();
    if first.same(second) {
        words = words.say(format!("The two sheets are the same: {}. Nothing differs.", first.name()));
        return words.done(sensitivity, assumed(&[first, second]));
    }
    let designed = written.reclaim.iter().find(|reclaim| reclaim.label == AS_DESIGNED);
    let stated = best.hardware.as_ref().filter(|hardware| hardware.is_stated());
    if let (Some(hardware), Some([height, volume, solid, _]), Some(designed)) =
        (stated, &written.freed, designed)
    {
        let frees = if hardware.height.value < 0.0 { " changes the free height by " } else { " frees " };
        words = words.say(opening(hardware)).say(frees).number(height);
        words = words.say(if hardware.height.value < 0.0 { " (" } else { " of height (" }).number(volume);
        words = words.say("; part volume saved ").number(solid).say(")");
        if hardware.height.value > 0.0 {
            words = words.say(format!(", of which {} becomes electrode", share_in_words(designed.share)));
        }
        words = words.say(": ");
        words = bought(words, &designed.rows).say(".");
    }
    // One input differs with the hardware alone; more than that, and the whole is another question.
    let whole = stated.is_none() || !only_hardware(first, second);
    if whole {
        let lead = if stated.is_some() {
            format!(
                " With all other changes, {} {}: ",
                second.name(),
                gives(second.inputs().iter()).trim_end_matches(',')
            )
        } else {
            format!(
                "Compared with {}, {} {}: ",
                first.name(),
                second.name(),
                gives(second.inputs().iter()).trim_end_matches(',')
            )
        };
        words = bought(words.say(lead), &written.figures).say(".");
    }
    words.done(sensitivity, assumed(&[first, second]))
}

fn opening(hardware: &HardwareChange) -> String {
    let the = |names: &[String]| listed(&names.iter().map(|name| format!("the {name}")).collect::<Vec<_>>());
    match (hardware.left.as_slice(), hardware.came.as_slice()) {
        ([], []) if hardware.changed.is_empty() => "Changing the folded foil edges".to_owned(),
        ([], []) => format!("Changing {}", the(&hardware.changed)),
        ([], came) => format!("Adding {}", the(came)),
        (left, []) => format!("Removing {}", the(left)),
        (left, came) => format!("Replacing {} with {}", the(left), the(came)),
    }
}

/// "volumetric energy density +11.1 ± 0.3 Wh/L (+1.9 %), gravimetric energy density +3.5 ± 0.3 Wh/kg (+1.6 %), …".
fn bought(mut words: Words, rows: &[FigureChange]) -> Words {
    let order = [
        ("volumetric", "volumetric energy density "),
        ("gravimetric", "gravimetric energy density "),
        ("energy", "energy "),
        ("capacity", "capacity "),
    ];
    for (i, (id, name)) in order.into_iter().enumerate() {
        let Some(row) = rows.iter().find(|row| row.id == id) else { continue };
        words = words.say(match i {
            0 => "",
            3 => " and ",
            _ => ", ",
        });
        words = words.say(name).number(&row.change);
        if let Some(percent) = row.percent.as_ref().filter(|_| i < 2) {
            words = words.say(format!(" ({})", percent.without_u()));
        }
    }
    words
}

/// Whether an entry says how an edge is joined to a plate or to the can.
fn is_a_weld(path: &str) -> bool {
    path.starts_with("current_path.")
        && ["joint", "spots", "spot_radius", "ring_radius", "ring", "centre_weld_radius"]
            .iter()
            .any(|end| path.rsplit('.').next() == Some(end))
}

/// Whether the two sheets differ in nothing but parts, folds and what closes the stack-up.
pub(in crate::answer) fn only_hardware(first: &Draft, second: &Draft) -> bool {
    differing(first, second).iter().all(|row| {
        // The density of a metal comes or goes with the only part made of it.
        let of_a_part = row.section == "Materials" && (row.first.is_empty() || row.second.is_empty());
        row.section == "Parts"
            || of_a_part
            || is_a_weld(&row.path)
            || ["fold_height", "uncoated_margin", "cathode.width", "can.bottom"]
                .iter()
                .any(|end| row.path.ends_with(end))
    })
}
