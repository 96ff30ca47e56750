//! The figures of a pair, written.

use super::block::{AS_DESIGNED, Freed, LedgerChange, Reclaim};
use super::pair::Pair;
use crate::answer::change::FigureChange;
use crate::answer::elements::{ElementChange, write_element_changes};
use crate::answer::estimate::{Written, write};
use crate::answer::figure_writer::{Figure, FigureWriter};
use crate::answer::path;
use crate::answer::path::PathChange;
use roulade::cell::figures::{FIGURES, Worked};
use roulade::cell::ledger::{Group, Line};
use roulade::quantity::units::Unit;
use roulade::study::compare::HardwareChange;

/// Figures that say what a change buys.
const BOUGHT: [&str; 5] = ["capacity", "energy", "volumetric", "gravimetric", "resistance.metal"];

/// All that the writer writes about a pair.
pub(super) struct WrittenPair<F = Figure> {
    pub(super) freed: Option<[F; 4]>,
    pub(super) reclaim: Vec<Reclaim<F>>,
    pub(super) figures: Vec<FigureChange<F>>,
    pub(super) ledger: Vec<LedgerChange<F>>,
    pub(super) elements: Vec<ElementChange<F>>,
    pub(super) path: Vec<PathChange<F>>,
    pub(super) first: Written<F>,
    pub(super) second: Written<F>,
    /// Where the figure is whose inputs the answer names.
    pub(super) main: usize,
}

pub(super) fn write_pair<W: FigureWriter>(writer: &mut W, pair: &Pair<'_>) -> WrittenPair<W::Figure> {
    let (at_first, at_second) = (pair.at_first(), pair.at_second());
    let first = write(writer, &at_first);
    let second = write(writer, &at_second);
    let freed = pair.hardware.as_ref().map(|h| {
        [
            writer.figure(h.height.value, Unit::Millimetre),
            writer.figure(h.volume.value, Unit::CubicCentimetre),
            writer.figure(h.solid.value, Unit::CubicCentimetre),
            writer.figure(h.mass.value, Unit::Gram),
        ]
    });
    let stated = pair.hardware.as_ref().is_some_and(HardwareChange::is_stated);
    let mut main = None;
    let mut reclaim = Vec::new();
    for (label, share, worked) in &pair.reclaimed {
        let rows = changes(
            writer,
            &pair.first,
            worked,
            |id| BOUGHT.contains(&id),
            |id, at| {
                if *label == AS_DESIGNED && id == "volumetric" && stated {
                    main = Some(at);
                }
            },
        );
        reclaim.push(Reclaim { label, share: *share, rows });
    }
    let figures = changes(
        writer,
        &pair.first,
        &pair.second,
        |_| true,
        |id, at| {
            if id == "volumetric" {
                main.get_or_insert(at);
            }
        },
    );
    let ledger = ledger(writer, pair);
    let elements = write_element_changes(writer, &at_first, &at_second);
    let path = path::write_change(writer, &pair.first, &pair.second);
    WrittenPair { freed, reclaim, figures, ledger, elements, path, first, second, main: main.unwrap_or(0) }
}

/// Changes of the figures both have. `at` is told where each change stands among all figures written.
fn changes<W: FigureWriter>(
    writer: &mut W,
    first: &Worked,
    second: &Worked,
    wanted: impl Fn(&str) -> bool,
    mut at: impl FnMut(&str, usize),
) -> Vec<FigureChange<W::Figure>> {
    let mut changes = Vec::new();
    for shown in FIGURES.iter().filter(|shown| wanted(shown.id)) {
        if let (Some(a), Some(b)) = ((shown.of)(first), (shown.of)(second)) {
            // First, second, then the change.
            at(shown.id, writer.count() + 2);
            changes.push(FigureChange::write(writer, (shown.id, shown.label), shown.unit, a, b));
        }
    }
    changes
}

/// Both ledgers, line by line in the order of the first; lines that only the second has stand after their group.
pub(super) fn ledger<W: FigureWriter>(writer: &mut W, pair: &Pair) -> Vec<LedgerChange<W::Figure>> {
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
            let mass = FigureChange::write(writer, ("mass", "mass"), Unit::Gram, m1, m2);
            let volume = FigureChange::write(writer, ("volume", "volume"), Unit::CubicCentimetre, v1, v2);
            LedgerChange {
                group: key.0,
                line: writer.words(key.1),
                mass: (key.0 != Group::Space).then_some(mass),
                volume,
            }
        })
        .collect()
}

pub(super) fn freed(hardware: &HardwareChange, [height, volume, solid_volume, mass]: [Figure; 4]) -> Freed {
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
