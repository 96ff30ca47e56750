//! Two cells side by side: what left, what that buys, and everything else that differs.

mod block;
mod pair;
pub(super) mod words;
mod written;

use super::change::FigureChange;
use super::elements::ElementChange;
use super::estimate::{EstimateAnswer, Written, unmoved, variance_shares, write};
use super::figure_writer::{FigureWriter, Noting, Writing};
use super::path::PathChange;
use super::sentence::Sentence;
use block::AS_DESIGNED;
use pair::{Pair, pair};
use roulade::cell::draft::Draft;
use roulade::cell::evaluator::Evaluator;
use roulade::cell::figures::{FIGURES, Worked};
use roulade::quantity::problem::Problems;
use roulade::sheet::Sheet;
use roulade::study::compare::{Joint, Kinship};
use roulade_stats::propagation::FirstOrder;
use serde::Serialize;
use std::borrow::Cow;
use words::{differing, only_hardware, sentence};
use written::{freed, write_pair};

pub use block::{Differing, Freed, LedgerChange, Reclaim};

/// Answer about two cells.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
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
    pub figures: Vec<FigureChange>,
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
            let mut writer = Noting::new();
            write_pair(&mut writer, pair);
            writer.noted()
        };
        let at_best = note(&best);
        let mut evaluators = (Evaluator::of(first), Evaluator::of(second));
        let spread = FirstOrder::of(joint.uncertain(), joint.correlation(), &at_best, |values| {
            let (a, b) = joint.split(values);
            // Most inputs move one cell only; the other stays as it was worked out.
            let of_first = if a == best_a { &*best.first } else { evaluators.0.at(&a).ok()? };
            let of_second = if b == best_b { &*unreclaimed } else { evaluators.1.at(&b).ok()? };
            let worked = (Cow::Borrowed(of_first), Cow::Borrowed(of_second));
            let mut moved = Pair::new(drafts, [a, b], worked);
            moved.reclaim(held);
            (moved.hardware.is_some() == shown).then(|| note(&moved))
        });
        let u: Vec<f64> = (0..at_best.len()).map(|i| spread.u(i)).collect();
        let written = write_pair(&mut Writing::with(&u), &best);
        let of_either = |i| {
            let (input, shared) = joint.input(first, second, i)?;
            let whose = if joint.is_of_first(i) { first } else { second };
            Some((input, (!shared && kinship == Kinship::Separate).then(|| whose.name())))
        };
        let sensitivity = variance_shares(&spread, written.main, of_either);
        let own = |draft: &Draft, w: &Worked, written: Written, offset: usize| {
            let main = FIGURES.iter().filter(|s| (s.of)(w).is_some()).position(|s| s.id == "volumetric");
            let sensitivity = main.map_or_else(Vec::new, |at| {
                variance_shares(&spread, offset + at, |i| Some((joint.input(first, second, i)?.0, None)))
            });
            EstimateAnswer::finish(draft, w, written, (sensitivity, None))
        };
        let answer = sentence(first, second, &best, &written, sensitivity);
        let first_at = 0;
        let second_at = count(|writer| drop(write(writer, &best.at_first())));
        let mut cells = [
            own(first, &best.first, written.first, first_at),
            own(second, &best.second, written.second, second_at),
        ];
        for i in spread.unmoved() {
            let [of_first, of_second] = &mut cells;
            let whose = if joint.is_of_first(*i) { of_first } else { of_second };
            whose.remarks.extend(joint.input(first, second, *i).map(|(input, _)| unmoved(input)));
        }
        let [of_first, mut of_second] = cells;
        let alike = kinship.unsaid(first, second);
        if alike > 0 {
            of_second.remarks.push(format!(
                "{alike} readings stand alike in both sheets and count as read twice, on two cells. Where one sheet was made from \
                 the other, give it a cell's name of its own and the other's name as \"made_from\": what was not changed then leaves \
                 the difference."
            ));
        }
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

fn count(write: impl Fn(&mut Noting)) -> usize {
    let mut writer = Noting::new();
    write(&mut writer);
    writer.count()
}
