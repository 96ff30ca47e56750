//! Two cells side by side: what left, what that buys, and everything else that differs.

use super::change::Change;
use super::elements::{At, ElementChange, write_element_changes};
use super::estimate::{EstimateAnswer, Written, leans, unmoved, write};
use super::figure_writer::{Figure, FigureWriter};
use super::path::{self, PathChange};
use super::sentence::{Sentence, Words, assumed, gives, listed};
use roulade::cell::draft::Draft;
use roulade::cell::draft::Input;
use roulade::cell::figures::{FIGURES, Worked};
use roulade::cell::ledger::{Group, Line};
use roulade::quantity::problem::Problems;
use roulade::quantity::units::Unit;
use roulade::sheet::Sheet;
use roulade::study::compare::{HardwareChange, Joint, Kinship};
use roulade_stats::propagation::FirstOrder;
use serde::Serialize;
use std::borrow::Cow;

/// What left and what came in its place.
#[derive(Clone, Debug, Serialize)]
pub struct Freed {
    /// Parts of the first cell that the second does not have.
    pub left: Vec<String>,
    /// Parts of the second cell that the first does not have.
    pub came: Vec<String>,
    /// Parts that both have but not alike.
    pub changed: Vec<String>,
    /// Height freed: what left less what came.
    pub height: Figure,
    /// That height times the inner cross-section.
    pub volume: Figure,
    /// Solid volume of the hardware that left less that which came: smaller.
    pub solid_volume: Figure,
    /// Mass of it.
    pub mass: Figure,
    /// Axial place of what left, in the first cell, mm.
    pub z: Option<[f64; 2]>,
}

/// What the hardware alone buys, for one share of the freed height that becomes coated width.
#[derive(Clone, Debug, Serialize)]
pub struct Reclaim {
    /// In words.
    pub label: &'static str,
    /// Share of the freed height.
    pub share: f64,
    /// The first cell against the first cell with the second's hardware.
    pub rows: Vec<Change>,
}

impl Reclaim {
    /// The label, and the share where the label does not say it: "as designed: 85 % of it".
    pub fn heading(&self) -> String {
        if self.label == AS_DESIGNED {
            format!("{AS_DESIGNED}: {} of it", share_in_words(self.share))
        } else {
            self.label.to_owned()
        }
    }
}

/// An input that differs.
#[derive(Clone, Debug, Serialize)]
pub struct Differing {
    /// Its path in the second sheet, or in the first where only that has it.
    pub path: String,
    /// Heading.
    pub section: &'static str,
    /// What it is called.
    pub label: String,
    /// In the first sheet; empty where it has none.
    pub first: String,
    /// In the second.
    pub second: String,
}

/// A ledger line of both cells.
#[derive(Clone, Debug, Serialize)]
pub struct LedgerChange {
    /// Its group.
    pub group: Group,
    /// What it is.
    pub line: String,
    /// Mass; absent for spaces.
    pub mass: Option<Change>,
    /// Volume.
    pub volume: Change,
}

/// Answer about two cells.
#[derive(Clone, Debug, Serialize)]
pub struct Comparison {
    /// Version of this crate.
    pub roulade: &'static str,
    /// In a sentence or two.
    pub answer: Sentence,
    /// What left; absent where the hardware is alike or the cans are not.
    pub freed: Option<Freed>,
    /// What the hardware alone buys: none of the height reclaimed, as designed, all of it.
    pub reclaim: Vec<Reclaim>,
    /// The whole difference.
    pub figures: Vec<Change>,
    /// Inputs that differ.
    pub inputs: Vec<Differing>,
    /// Both ledgers.
    pub ledger: Vec<LedgerChange>,
    /// The same by elements.
    pub elements: Vec<ElementChange>,
    /// Both ways of the current.
    pub path: Vec<PathChange>,
    /// The first cell by itself.
    pub first: EstimateAnswer,
    /// The second.
    pub second: EstimateAnswer,
    /// The second sheet, where it was made for this answer.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sheet: Option<Sheet>,
}

/// The share of the freed height that the second cell turns into coated width.
const AS_DESIGNED: &str = "as designed";
/// Figures that say what a change buys.
const BOUGHT: [&str; 5] = ["capacity", "energy", "volumetric", "gravimetric", "resistance.metal"];

/// Both cells, and the first with the second's hardware at each share of the freed height.
struct Pair<'a> {
    drafts: [&'a Draft; 2],
    values: [Vec<f64>; 2],
    first: Worked,
    second: Worked,
    hardware: Option<HardwareChange>,
    reclaimed: Vec<(&'static str, f64, Worked)>,
}

/// All that the pen writes about a pair.
struct WrittenPair {
    freed: Option<[Figure; 4]>,
    reclaim: Vec<Reclaim>,
    figures: Vec<Change>,
    ledger: Vec<LedgerChange>,
    elements: Vec<ElementChange>,
    path: Vec<PathChange>,
    first: Written,
    second: Written,
    /// Where the figure is whose inputs the answer names.
    main: usize,
}

impl Comparison {
    /// Compares two drafts.
    ///
    /// # Errors
    /// Where either cell does not hold together; places begin with `first.` or `second.`.
    pub fn of(first: &Draft, second: &Draft) -> Result<Self, Problems> {
        let kinship = Kinship::of(first, second);
        let joint = Joint::of(first, second, kinship);
        let (best_a, best_b) = (first.values(), second.values());
        let drafts = [first, second];
        let mut best = pair(drafts, [best_a.clone(), best_b.clone()])?;
        let unreclaimed = best.second.clone();
        let held = best.hold(kinship == Kinship::Derived && only_hardware(first, second));
        let shown = best.hardware.is_some();
        let note = |pair: &Pair| {
            let mut pen = FigureWriter::noting();
            write_pair(&mut pen, pair);
            pen.noted()
        };
        let at_best = note(&best);
        let spread = FirstOrder::of(joint.known(), joint.correlation(), &at_best, |values| {
            let (a, b) = joint.split(values);
            // Most inputs move one cell only; the other stays as it was worked out.
            let kept = |best: &Worked, draft, values: &Vec<f64>, at_best| {
                if values == at_best { Some(best.clone()) } else { Worked::at(draft, values).ok() }
            };
            let worked = (kept(&best.first, first, &a, &best_a)?, kept(&unreclaimed, second, &b, &best_b)?);
            let mut moved = Pair::new(drafts, [a, b], worked);
            moved.reclaim(held);
            (moved.hardware.is_some() == shown).then(|| note(&moved))
        });
        let u: Vec<f64> = (0..at_best.len()).map(|i| spread.u(i)).collect();
        let written = write_pair(&mut FigureWriter::Writing { u: &u, next: 0 }, &best);
        let of_either = |i| {
            let (input, shared) = joint.input(first, second, i)?;
            let whose = if joint.is_of_first(i) { first } else { second };
            Some((input, (!shared && kinship == Kinship::Separate).then(|| whose.name())))
        };
        let leaning = leans(&spread, written.main, of_either);
        let own = |draft: &Draft, w: &Worked, written: Written, offset: usize| {
            let main = FIGURES.iter().filter(|s| (s.of)(w).is_some()).position(|s| s.id == "volumetric");
            let leaning = main.map_or_else(Vec::new, |at| {
                leans(&spread, offset + at, |i| Some((joint.input(first, second, i)?.0, None)))
            });
            EstimateAnswer::finish(draft, w, written, (leaning, None))
        };
        let answer = sentence(first, second, &best, &written, leaning);
        let first_at = 0;
        let second_at = count(|pen| drop(write(pen, &best.at_first())));
        let mut cells = [
            own(first, &best.first, written.first, first_at),
            own(second, &best.second, written.second, second_at),
        ];
        for i in spread.unmoved() {
            let [of_first, of_second] = &mut cells;
            let whose = if joint.is_of_first(*i) { of_first } else { of_second };
            whose.remarks.extend(joint.input(first, second, *i).map(|(input, _)| unmoved(input)));
        }
        let [of_first, of_second] = cells;
        let designed =
            written.reclaim.iter().find(|reclaim| reclaim.label == AS_DESIGNED).map(|own| own.share);
        let once = |reclaim: &Reclaim| shown_once(designed, reclaim);
        Ok(Self {
            roulade: env!("CARGO_PKG_VERSION"),
            answer,
            freed: best
                .hardware
                .as_ref()
                .zip(written.freed)
                .map(|(hardware, figures)| freed(hardware, figures)),
            reclaim: written.reclaim.into_iter().filter(once).collect(),
            figures: written.figures,
            inputs: differing(first, second),
            ledger: written.ledger,
            elements: written.elements,
            path: written.path,
            first: of_first,
            second: of_second,
            sheet: None,
        })
    }
}

/// Whether a share is shown: none and all of the height are left out where they are what was designed.
fn shown_once(designed: Option<f64>, reclaim: &Reclaim) -> bool {
    reclaim.label == AS_DESIGNED || designed.is_none_or(|share| (share - reclaim.share).abs() > 5e-4)
}

fn count(write: impl Fn(&mut FigureWriter<'_>)) -> usize {
    let mut pen = FigureWriter::noting();
    write(&mut pen);
    pen.count()
}

fn pair(drafts: [&Draft; 2], values: [Vec<f64>; 2]) -> Result<Pair<'_>, Problems> {
    let ([first, second], [a, b]) = (drafts, &values);
    let first = Worked::at(first, a).map_err(|problems| problems.within("first"))?;
    let second = Worked::at(second, b).map_err(|problems| problems.within("second"))?;
    Ok(Pair::new(drafts, values, (first, second)))
}

impl<'a> Pair<'a> {
    fn new(drafts: [&'a Draft; 2], values: [Vec<f64>; 2], (first, second): (Worked, Worked)) -> Self {
        let hardware = HardwareChange::between(&first.design, &second.design);
        Self { drafts, values, first, second, hardware, reclaimed: Vec::new() }
    }

    fn at_first(&self) -> At<'_> {
        let ([draft, _], [values, _]) = (&self.drafts, &self.values);
        At::new(draft, values, &self.first)
    }

    fn at_second(&self) -> At<'_> {
        let ([_, draft], [_, values]) = (&self.drafts, &self.values);
        At::new(draft, values, &self.second)
    }

    /// Works out the shares of the freed height. Where the second cell is the first with other hardware and nothing
    /// else, its share was chosen and stays as it is when inputs move; any other has its share from its readings.
    fn hold(&mut self, chosen: bool) -> Option<f64> {
        let held = self.hardware.as_ref().filter(|_| chosen).map(|hardware| hardware.share);
        self.reclaim(held);
        held
    }

    fn reclaim(&mut self, held: Option<f64>) {
        let Some(hardware) = &self.hardware else { return };
        for (label, share) in
            [("none of it", 0.0), (AS_DESIGNED, held.unwrap_or(hardware.share)), ("all of it", 1.0)]
        {
            // A share that cannot be built, or whose electrodes do not reach the window, is left out.
            if let Ok(design) = hardware.apply(&self.first.design, share)
                && let Ok(worked) = Worked::of(design)
            {
                if held.is_some() && label == AS_DESIGNED {
                    self.second = worked.clone();
                }
                self.reclaimed.push((label, share, worked));
            }
        }
    }
}

fn write_pair(pen: &mut FigureWriter<'_>, pair: &Pair<'_>) -> WrittenPair {
    let (at_first, at_second) = (pair.at_first(), pair.at_second());
    let first = write(pen, &at_first);
    let second = write(pen, &at_second);
    let freed = pair.hardware.as_ref().map(|h| {
        [
            pen.figure(h.height.value, Unit::Millimetre),
            pen.figure(h.volume.value, Unit::CubicCentimetre),
            pen.figure(h.solid.value, Unit::CubicCentimetre),
            pen.figure(h.mass.value, Unit::Gram),
        ]
    });
    let told = pair.hardware.as_ref().is_some_and(HardwareChange::is_told);
    let mut main = None;
    let mut reclaim = Vec::new();
    for (label, share, worked) in &pair.reclaimed {
        let rows = changes(
            pen,
            &pair.first,
            worked,
            |id| BOUGHT.contains(&id),
            |id, at| {
                if *label == AS_DESIGNED && id == "volumetric" && told {
                    main = Some(at);
                }
            },
        );
        reclaim.push(Reclaim { label, share: *share, rows });
    }
    let figures = changes(
        pen,
        &pair.first,
        &pair.second,
        |_| true,
        |id, at| {
            if id == "volumetric" {
                main.get_or_insert(at);
            }
        },
    );
    let ledger = ledger(pen, pair);
    let elements = write_element_changes(pen, &at_first, &at_second);
    let path = path::write_change(pen, &pair.first, &pair.second);
    WrittenPair { freed, reclaim, figures, ledger, elements, path, first, second, main: main.unwrap_or(0) }
}

/// Changes of the figures both have. `at` is told where each change stands among all figures written.
fn changes(
    pen: &mut FigureWriter<'_>,
    first: &Worked,
    second: &Worked,
    wanted: impl Fn(&str) -> bool,
    mut at: impl FnMut(&str, usize),
) -> Vec<Change> {
    let mut changes = Vec::new();
    for shown in FIGURES.iter().filter(|shown| wanted(shown.id)) {
        if let (Some(a), Some(b)) = ((shown.of)(first), (shown.of)(second)) {
            // First, second, then the change.
            at(shown.id, pen.count() + 2);
            changes.push(Change::write(pen, (shown.id, shown.label), shown.unit, a, b));
        }
    }
    changes
}

/// Both ledgers, line by line in the order of the first; lines that only the second has stand after their group.
fn ledger(pen: &mut FigureWriter<'_>, pair: &Pair) -> Vec<LedgerChange> {
    let collect = |w| {
        let mut lines = Vec::with_capacity(32);
        roulade::cell::ledger::lines(w, |line| lines.push(line));
        lines
    };
    let (a, b) = (collect(&pair.first.design), collect(&pair.second.design));
    let mut keys: Vec<(Group, &str)> = a.iter().map(|line| (line.group, line.what)).collect();
    for line in &b {
        if !keys.contains(&(line.group, line.what)) {
            let after = keys.iter().rposition(|(group, _)| *group <= line.group).map_or(0, |i| i + 1);
            keys.insert(after, (line.group, line.what));
        }
    }
    let find = |lines: &[Line<'_>], key: &(Group, &str)| {
        let line = lines.iter().find(|line| (line.group, line.what) == *key);
        line.map_or((0.0, 0.0), |line| (line.mass.value, line.volume.value))
    };
    keys.iter()
        .map(|key| {
            let ((m1, v1), (m2, v2)) = (find(&a, key), find(&b, key));
            let mass = Change::write(pen, ("mass", "mass"), Unit::Gram, m1, m2);
            let volume = Change::write(pen, ("volume", "volume"), Unit::CubicCentimetre, v1, v2);
            LedgerChange {
                group: key.0,
                line: pen.words(key.1),
                mass: (key.0 != Group::Space).then_some(mass),
                volume,
            }
        })
        .collect()
}

fn freed(hardware: &HardwareChange, [height, volume, solid_volume, mass]: [Figure; 4]) -> Freed {
    Freed {
        left: hardware.left.clone(),
        came: hardware.came.clone(),
        changed: hardware.changed.clone(),
        height,
        volume,
        solid_volume,
        mass,
        z: hardware.place.map(|(from, to)| [from.value * 1e3, to.value * 1e3]),
    }
}

/// Inputs that differ, in the order of the second sheet, then what only the first has.
fn differing(first: &Draft, second: &Draft) -> Vec<Differing> {
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

fn sentence(
    first: &Draft,
    second: &Draft,
    best: &Pair,
    written: &WrittenPair,
    leaning: Vec<super::sentence::Lean>,
) -> Sentence {
    let mut words = Words::default();
    if first.same(second) {
        words = words.say(format!("The two sheets are the same: {}. Nothing differs.", first.name()));
        return words.done(leaning, assumed(first.inputs().iter().chain(second.inputs())));
    }
    let designed = written.reclaim.iter().find(|reclaim| reclaim.label == AS_DESIGNED);
    let told = best.hardware.as_ref().filter(|hardware| hardware.is_told());
    if let (Some(hardware), Some([height, volume, solid, _]), Some(designed)) =
        (told, &written.freed, designed)
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
    let whole = told.is_none() || !only_hardware(first, second);
    if whole {
        let lead = if told.is_some() {
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
    words.done(leaning, assumed(first.inputs().iter().chain(second.inputs())))
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

fn share_in_words(share: f64) -> String {
    if share > 0.995 && share < 1.005 {
        "all".to_owned()
    } else if share.abs() < 0.005 {
        "nothing".to_owned()
    } else {
        format!("{:.0} %", 100.0 * share)
    }
}

/// "volumetric energy density +11.1 ± 0.3 Wh/L (+1.9 %), gravimetric energy density +3.5 ± 0.3 Wh/kg (+1.6 %), …".
fn bought(mut words: Words, rows: &[Change]) -> Words {
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
pub(super) fn only_hardware(first: &Draft, second: &Draft) -> bool {
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
