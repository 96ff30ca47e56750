//! Two cells: which inputs they share, and what their hardware alone changes.

use crate::cell::design::{BandKind, Bounds, Design, Fit, Part};
use crate::cell::draft::Draft;
use crate::cell::draft::Input;
use crate::quantity::problem::Problems;
use crate::quantity::units::{Length, Mass, Volume};
use crate::sheet::Place;
use roulade_stats::uncertain::{Correlation, Origin, Uncertain};
use std::sync::Arc;

/// The inputs of two drafts as one list.
///
/// A supposition that stands in both sheets in the same words is one quantity: its error moves both cells alike, and
/// mostly leaves their difference. What stands in from the population of cells is one supposition too, though cells of two
/// sizes have it at two values: it moves both by as many of their own standard deviations. Readings are independent of one another, as are different suppositions, unless a
/// sheet says that they are correlated.
#[derive(Clone, Debug)]
pub struct Joint {
    uncertain: Vec<Uncertain>,
    correlation: Correlation,
    at: Vec<(Option<usize>, Option<usize>)>,
    /// By how much the second draft's value moves where the first's moves by one.
    ratio: Vec<f64>,
    values: (Vec<f64>, Vec<f64>),
}

impl Joint {
    /// Joins the inputs of two drafts.
    pub fn of(first: &Draft, second: &Draft, kinship: Kinship) -> Self {
        let mut uncertain = Vec::new();
        let mut at: Vec<(Option<usize>, Option<usize>)> = Vec::new();
        let mut taken = vec![false; second.inputs().len()];
        let twins: Vec<Option<usize>> = first
            .inputs()
            .iter()
            .map(|a| second.inputs().iter().position(|b| kinship.shared(a, b)))
            .collect();
        for (i, a) in first.inputs().iter().enumerate() {
            let twin = twins.get(i).copied().flatten().filter(|_| together_alike(first, second, &twins, i));
            if let Some(flag) = twin.and_then(|j| taken.get_mut(j)) {
                *flag = true;
            }
            uncertain.push(a.uncertain);
            at.push((Some(i), twin));
        }
        for (j, b) in second.inputs().iter().enumerate() {
            if !taken.get(j).copied().unwrap_or(false) {
                uncertain.push(b.uncertain);
                at.push((None, Some(j)));
            }
        }
        let of_first = first.correlation().mapped(|i| at.iter().position(|(a, _)| *a == Some(i)));
        let of_second = second.correlation().mapped(|j| at.iter().position(|(_, b)| *b == Some(j)));
        let correlation = of_first.joined(&of_second);
        let ratio = at.iter().map(|(a, b)| {
            let (a, b) = (first.inputs().get((*a)?)?, second.inputs().get((*b)?)?);
            (a.uncertain.u() > 0.0).then(|| b.uncertain.u() / a.uncertain.u())
        });
        let ratio = ratio.map(|ratio| ratio.unwrap_or(1.0)).collect();
        Self { uncertain, correlation, at, ratio, values: (first.values(), second.values()) }
    }

    /// All inputs, the shared ones once.
    pub fn uncertain(&self) -> &[Uncertain] {
        &self.uncertain
    }

    /// Which of them move together.
    pub fn correlation(&self) -> &Correlation {
        &self.correlation
    }

    /// The values of each draft.
    pub fn split(&self, values: &[f64]) -> (Vec<f64>, Vec<f64>) {
        let (mut first, mut second) = self.values.clone();
        for ((((a, b), ratio), uncertain), value) in
            self.at.iter().zip(&self.ratio).zip(&self.uncertain).zip(values)
        {
            // A shared quantity may stand at another value in a sheet made from the first, and be known better or worse
            // there: it is moved by as many of its own standard uncertainties.
            for (slot, draft, ratio) in [(a, &mut first, 1.0), (b, &mut second, *ratio)] {
                if let Some(slot) = slot.and_then(|i| draft.get_mut(i)) {
                    *slot += ratio * (value - uncertain.value);
                }
            }
        }
        (first, second)
    }

    /// The input behind a joint one, and whether both drafts share it.
    pub fn input<'a>(&self, first: &'a Draft, second: &'a Draft, i: usize) -> Option<(&'a Input, bool)> {
        let (a, b) = *self.at.get(i)?;
        let input = a.and_then(|a| first.inputs().get(a)).or_else(|| second.inputs().get(b?))?;
        Some((input, a.is_some() && b.is_some()))
    }

    /// What the inputs may be where a draw can move them beyond it.
    pub fn bounds(&self, first: &Draft, second: &Draft) -> Bounds {
        Bounds::of(self.uncertain.iter().enumerate().map(|(i, uncertain)| {
            let input = self.input(first, second, i).map(|(input, _)| input);
            (input.map_or("", |input| &*input.path), *uncertain, input.is_some_and(Input::of_population))
        }))
    }

    /// Where an input of the first draft (0) or of the second stands among all.
    pub fn place(&self, draft: usize, input: usize) -> Option<usize> {
        self.at.iter().position(|(a, b)| (if draft == 0 { a } else { b }) == &Some(input))
    }

    /// Whether a joint input is one of the first draft.
    pub fn is_of_first(&self, i: usize) -> bool {
        self.at.get(i).is_some_and(|(a, _)| a.is_some())
    }
}

/// Whether an input of the first draft moves with its shared neighbours as its twin does with theirs. Where the two
/// sheets say otherwise of it, it is two quantities.
fn together_alike(first: &Draft, second: &Draft, twins: &[Option<usize>], i: usize) -> bool {
    let Some(twin) = twins.get(i).copied().flatten() else { return false };
    let moves = |draft: &Draft, i: usize| draft.correlation().inputs().contains(&i);
    if !moves(first, i) && !moves(second, twin) {
        return true;
    }
    let mut pairs = twins.iter().enumerate().filter_map(|(j, other)| Some((j, (*other)?)));
    pairs.all(|(j, other)| {
        let apart = first.correlation().between(i, j) - second.correlation().between(twin, other);
        // A coefficient that was written and read again may have moved by its last bit.
        apart.abs() < 1e-9
    })
}

/// Fewest readings alike that are worth a word.
const FEWEST_ALIKE: usize = 8;

fn is_reading(input: &Input) -> bool {
    input.uncertain.u() > 0.0 && !matches!(input.origin, Origin::Assumed | Origin::Default)
}

/// How two sheets came about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kinship {
    /// Two cells, each with readings of its own.
    Separate,
    /// One sheet was made from the other, or both from a third: what they have in common is one quantity. The same sheet
    /// twice is one cell.
    Derived,
}

impl Kinship {
    /// What the sheets say of themselves.
    pub fn of(first: &Draft, second: &Draft) -> Self {
        let made = |from: &Draft, to: &Draft| to.made_from() == Some(from.name());
        let ancestor = || first.made_from().is_some() && first.made_from() == second.made_from();
        if made(first, second) || made(second, first) || ancestor() || first.same(second) {
            Self::Derived
        } else {
            Self::Separate
        }
    }

    /// Readings that stand alike in two sheets of separate cells, where these are nearly all that was read: two cells that
    /// were read apart hardly have them, so one sheet was likely made from the other and does not say so. None otherwise.
    pub fn unsaid(self, first: &Draft, second: &Draft) -> usize {
        let read = |draft: &Draft| draft.inputs().iter().filter(|input| is_reading(input)).count();
        let alike = |a: &&Input| {
            second.inputs().iter().any(|b| b.key == a.key && b.uncertain == a.uncertain && is_reading(b))
        };
        let count = first.inputs().iter().filter(|input| is_reading(input)).filter(alike).count();
        let most = 10 * count >= 9 * read(first).max(read(second));
        if self == Self::Separate && most && count >= FEWEST_ALIKE { count } else { 0 }
    }

    fn shared(self, a: &Input, b: &Input) -> bool {
        let supposed = |input: &Input| matches!(input.origin, Origin::Assumed | Origin::Default);
        let alike = || a.uncertain == b.uncertain && a.text() == b.text() && supposed(a) && supposed(b);
        let stand_in = || a.of_population() && b.of_population();
        // What one sheet has as exact does not move with what the other leaves open.
        let both_open = (a.uncertain.u() > 0.0) == (b.uncertain.u() > 0.0);
        a.key == b.key && both_open && (self == Kinship::Derived || alike() || stand_in())
    }
}

/// What lies between the hardware of two cells in the same can.
#[derive(Clone, Debug)]
pub struct HardwareChange {
    /// Parts that left.
    pub left: Vec<String>,
    /// Parts that came.
    pub came: Vec<String>,
    /// Parts that stayed, but not alike.
    pub changed: Vec<String>,
    /// Height freed along the axis.
    pub height: Length,
    /// That height times the inner cross-section.
    pub volume: Volume,
    /// Solid volume that left less that which came.
    pub solid: Volume,
    /// Mass that left less that which came.
    pub mass: Mass,
    /// Share of the freed height that the second cell turns into coated width.
    pub share: f64,
    /// Where the first part that left stood, with its axial clearance.
    pub place: Option<(Length, Length)>,
    to: Design,
}

impl HardwareChange {
    /// What lies between the hardware of two designs; `None` where it is alike, or the cans are not.
    pub fn between(first: &Design, second: &Design) -> Option<Self> {
        let (a, b) = (first.blueprint(), second.blueprint());
        // Parts are cut for one can. Two readings of one can may differ by a few hundredths of a millimetre.
        let unlike = |x: Length, y: Length| (x - y).value.abs() > 1e-4;
        if unlike(a.can.diameter, b.can.diameter) || unlike(a.can.height, b.can.height) {
            return None;
        }
        Self::of(first, second)
    }

    /// The same whatever the cans; `None` where the hardware is alike.
    pub fn of(first: &Design, second: &Design) -> Option<Self> {
        let (a, b) = (first.blueprint(), second.blueprint());
        let named = |parts: &[Part], name: &str| parts.iter().any(|part| part.label.name == name);
        let left: Vec<&Part> = a.parts.iter().filter(|part| !named(&b.parts, &part.label.name)).collect();
        let came: Vec<&Part> = b.parts.iter().filter(|part| !named(&a.parts, &part.label.name)).collect();
        let changed: Vec<String> = a
            .parts
            .iter()
            .filter(|p| b.parts.iter().any(|q| q.label.name == p.label.name && !alike(p, q)))
            .map(|p| p.label.name.clone())
            .collect();
        let height = first.stack().hardware(a) - second.stack().hardware(b);
        if left.is_empty() && came.is_empty() && changed.is_empty() && height.value.abs() < 1e-9 {
            return None;
        }
        let solid = |parts: &[Part]| parts.iter().fold(Volume::default(), |sum, part| sum + part.volume);
        let mass = |parts: &[Part]| parts.iter().fold(Mass::default(), |sum, part| sum + part.mass);
        let wider = second.stack().cathode_width - first.stack().cathode_width;
        let share = if height.value.abs() < 1e-9 { 0.0 } else { (wider / height).value };
        let names = |parts: &[&Part]| parts.iter().map(|part| part.label.name.clone()).collect();
        Some(Self {
            left: names(&left),
            came: names(&came),
            changed,
            height,
            volume: height * a.can.bore_area(),
            solid: solid(&a.parts) - solid(&b.parts),
            mass: mass(&a.parts) - mass(&b.parts),
            share,
            place: left.first().and_then(|part| place(first, &part.label.name)),
            to: second.clone(),
        })
    }

    /// Whether there is anything to say of it by itself: a part left or came, or height was freed. A part that only
    /// weighs otherwise is one change among others.
    pub fn is_stated(&self) -> bool {
        !(self.left.is_empty() && self.came.is_empty()) || self.height.value.abs() >= 1e-9
    }

    /// The first cell with the second's hardware and folds, `share` of the freed height coated; the rest is
    /// void height. Nothing else of the first cell changes.
    ///
    /// # Errors
    /// Where that cell does not hold together.
    pub fn apply(&self, first: &Design, share: f64) -> Result<Design, Problems> {
        let mut b = first.blueprint().clone();
        let from = self.to.blueprint();
        b.parts = from.parts.clone();
        b.can.bottom = from.can.bottom;
        // Plates are parts, and what welds an edge to them or to the can is hardware too.
        let path = Arc::make_mut(&mut b.path);
        path.cathode.join = from.path.cathode.join;
        path.anode.join = from.path.anode.join;
        for (own, other) in [(&mut b.cathode, &from.cathode), (&mut b.anode, &from.anode)] {
            // A fold that is higher by so much has so much more foil in it.
            own.uncoated_margin =
                (own.uncoated_margin + other.fold_height - own.fold_height).max(Length::default());
            own.fold_height = other.fold_height;
        }
        b.fit = Fit::Width(first.stack().cathode_width + self.height * share);
        Design::new(b)
    }
}

/// Two readings of one part agree to a nanometre and a microgram only if they are the same reading.
fn alike(p: &Part, q: &Part) -> bool {
    let near = |x: f64, y: f64, within: f64| (x - y).abs() <= within;
    p.place == q.place
        && near(p.height.value, q.height.value, 1e-9)
        && near(p.axial_clearance.value, q.axial_clearance.value, 1e-9)
        && near(p.mass.value, q.mass.value, 1e-9)
        && near(p.volume.value, q.volume.value, 1e-15)
}

fn place(design: &Design, name: &str) -> Option<(Length, Length)> {
    let b = design.blueprint();
    let i = b.parts.iter().position(|part| part.label.name == name)?;
    if !matches!(b.parts.get(i)?.place, Place::BelowRoll | Place::AboveRoll) {
        return None;
    }
    let bands = design.stack().bands(b);
    let mut own =
        bands.iter().filter(|band| band.kind == BandKind::Part(i) || band.kind == BandKind::StandOff(i));
    let first = own.next()?;
    Some(own.fold((first.from, first.to), |(from, to), band| (from.min(band.from), to.max(band.to))))
}

#[cfg(test)]
mod tests;
