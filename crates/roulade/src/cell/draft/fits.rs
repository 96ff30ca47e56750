//! What must fit into what: a part into its height, all heights into the can. Trials are drawn within that.

use super::hardware::Bulk;
use super::{Draft, FitSlots};
use crate::cell::design::Feed;
use crate::sheet::defaults::field;
use roulade_stats::propagation::deviate::{normal_probability, normal_quantile};
use roulade_stats::uncertain::{Spread, Uncertain};
use std::f64::consts::PI;

/// Everything that must fit in a cell, and which input gives way where a trial does not.
///
/// # Formula
/// Each is a room `g(x) ≥ 0` that is linear in the input k that gives way, the one that moves it most, `max |∂g/∂xₖ|·uₖ`:
/// so `xₖ` is bound, given all others, by `xₖ − g/(∂g/∂xₖ)`. Its distribution ends there: a trial past that bound is put among
/// those within it by its rank, `F(x′) = F(b)·(F(x) − F(b))/(1 − F(b))` past an upper bound b, which leaves the distribution
/// of x cut off at b and every trial within it as it was drawn. An input that moves together with others does not give way: to
/// bend it alone would take apart what readings hold together.
#[derive(Clone, Debug, Default)]
pub(crate) struct Fits {
    fits: Vec<Fit>,
    /// The radial clearance over the highest tab, where the sheet has one.
    clearance: Option<(usize, Uncertain)>,
}

#[derive(Clone, Debug)]
struct Fit {
    room: Room,
    gives_way: usize,
    uncertain: Uncertain,
    /// What it may be at all.
    ends: (f64, f64),
}

#[derive(Clone, Debug)]
enum Room {
    /// Volume that a part's height offers less that of the part; inputs by number: outer diameter and wall of the can, height and
    /// axial clearance of the part, mass or volume, and the density that goes with a mass.
    Part { can: [usize; 2], height: [usize; 2], bulk: usize, density: Option<usize> },
    /// Height of the can less all that stands in it, each with its sign.
    Stack(Vec<(usize, f64)>),
}

impl Room {
    fn left(&self, v: &[f64]) -> f64 {
        let at = |i: usize| v.get(i).copied().unwrap_or(f64::NAN);
        match self {
            Self::Part { can: [diameter, wall], height: [height, clearance], bulk, density } => {
                let bore = at(*diameter) - 2.0 * at(*wall);
                let volume = at(*bulk) / density.map_or(1.0, at);
                // A hair of room, so that rounding does not put a part out again.
                0.25 * PI * bore * bore * (at(*height) + at(*clearance)) * (1.0 - 1e-9) - volume
            }
            Self::Stack(terms) => terms.iter().map(|(i, sign)| sign * at(*i)).sum::<f64>() - 1e-9,
        }
    }

    /// Inputs that may give way: those in which it is linear.
    fn linear(&self) -> Vec<usize> {
        match self {
            Self::Part { height: [height, clearance], bulk, .. } => vec![*bulk, *height, *clearance],
            Self::Stack(terms) => terms.iter().map(|(i, _)| *i).collect(),
        }
    }

    /// How much room a unit of an input makes, around some values.
    fn slope(&self, v: &[f64], input: usize, step: f64) -> f64 {
        let mut moved = v.to_vec();
        if let Some(slot) = moved.get_mut(input) {
            *slot += step;
        }
        (self.left(&moved) - self.left(v)) / step
    }
}

impl Fits {
    /// A trial's values with what does not fit put where it does. `highest_tab` says what the highest tab with its tape stands
    /// out by at some values, m.
    pub(crate) fn fitted(&self, mut values: Vec<f64>, highest_tab: impl FnOnce(&[f64]) -> f64) -> Vec<f64> {
        // Heights that give way to the can may be those of parts: twice is enough but for the rarest.
        for _ in 0..2 {
            let mut moved = false;
            for fit in &self.fits {
                moved |= fit.put(&mut values);
            }
            if !moved {
                break;
            }
        }
        self.over_tabs(highest_tab, &mut values);
        values
    }

    /// A clearance that the highest tab with its tape stands out beyond is put past it.
    fn over_tabs(&self, highest_tab: impl FnOnce(&[f64]) -> f64, values: &mut [f64]) {
        let Some((input, uncertain)) = self.clearance else { return };
        let bulge = highest_tab(values) * (1.0 + 1e-9);
        let Some(slot) = values.get_mut(input).filter(|gap| **gap < bulge) else { return };
        if let Some(put) = between(&uncertain, *slot, bulge, f64::INFINITY) {
            *slot = put;
        }
    }
}

impl Fit {
    fn put(&self, values: &mut [f64]) -> bool {
        let left = self.room.left(values);
        if left >= 0.0 || left.is_nan() {
            return false;
        }
        let slope = self.room.slope(values, self.gives_way, self.uncertain.u());
        let Some(slot) = values.get_mut(self.gives_way) else { return false };
        let bound = *slot - left / slope;
        let (low, high) = if slope < 0.0 { (self.ends.0, bound) } else { (bound, self.ends.1) };
        let Some(put) = between(&self.uncertain, *slot, low, high) else { return false };
        *slot = put;
        true
    }
}

/// Where a value past one of two ends comes to lie between them, by its rank among those past it; nothing where hardly any
/// of the distribution lies between.
fn between(uncertain: &Uncertain, value: f64, low: f64, high: f64) -> Option<f64> {
    const HARDLY: f64 = 1e-6;
    type Map = Box<dyn Fn(f64) -> f64>;
    let (rank, at): (Map, Map) = match uncertain.spread {
        Spread::Exact => return None,
        Spread::Standard(u) => {
            let middle = uncertain.value;
            (
                Box::new(move |x| normal_probability((x - middle) / u)),
                Box::new(move |p| middle + u * normal_quantile(p)),
            )
        }
        Spread::Range { low, high } => (
            Box::new(move |x| ((x - low) / (high - low)).clamp(0.0, 1.0)),
            Box::new(move |p| low + (high - low) * p),
        ),
    };
    let (from, to, own) = (rank(low), rank(high), rank(value));
    let past = if value > high { (own - to) / (1.0 - to) } else { own / from };
    let put = at(from + (to - from) * past.clamp(0.0, 1.0));
    (to - from > HARDLY && put.is_finite()).then(|| put.clamp(low, high))
}

impl Draft {
    /// Everything that must fit in this cell.
    pub(crate) fn fits(&self) -> Fits {
        let best = self.values();
        let mut rooms: Vec<Room> = self
            .hardware
            .axial()
            .filter_map(|(height, bulk)| {
                let (bulk, density) = match bulk {
                    Bulk::Both(_, volume) | Bulk::Volume(volume, _) => (volume.number(), None),
                    Bulk::Mass(mass, density) => (mass.number(), Some(density.number())),
                    // A share of the room fits anyhow.
                    Bulk::Filling(..) => return None,
                };
                let can = [self.can.diameter.number(), self.can.wall.number()];
                Some(Room::Part { can, height: height.map(super::read::Slot::number), bulk, density })
            })
            .collect();
        let closes = match self.fit {
            FitSlots::Width(width) => width,
            FitSlots::VoidHeight(space) => space,
        };
        let mut terms = vec![
            (self.can.height.number(), 1.0),
            (self.can.bottom.number(), -1.0),
            (closes.number(), -1.0),
            (self.overhang.number(), -2.0),
            (self.separator.margin.number(), -2.0),
            (self.cathode.fold_height().number(), -1.0),
            (self.anode.fold_height().number(), -1.0),
        ];
        terms.extend(self.hardware.heights().map(|slot| (slot.number(), -1.0)));
        rooms.push(Room::Stack(terms));
        let tabs = self.blueprint_at(&best).path;
        let tabbed = [&tabs.cathode, &tabs.anode].iter().any(|side| matches!(side.feed, Feed::Tabs(_)));
        let clearance = self.inputs.iter().enumerate().find(|(i, input)| {
            let alone = input.uncertain.u() > 0.0 && !self.correlation.inputs().contains(i);
            tabbed && alone && input.path == "winding.radial_clearance"
        });
        Fits {
            fits: rooms.into_iter().filter_map(|room| self.fit_of(room, &best)).collect(),
            clearance: clearance.map(|(i, input)| (i, input.uncertain)),
        }
    }

    fn fit_of(&self, room: Room, best: &[f64]) -> Option<Fit> {
        let moves = |i: &usize| {
            let input = self.inputs.get(*i)?;
            let u = input.uncertain.u();
            let alone = u > 0.0 && !self.correlation.inputs().contains(i);
            alone.then(|| (*i, (room.slope(best, *i, u) * u).abs()))
        };
        let (gives_way, _) = room
            .linear()
            .iter()
            .filter_map(moves)
            .max_by(|a, b| a.1.total_cmp(&b.1))
            .filter(|(_, by)| *by > 0.0)?;
        let input = self.inputs.get(gives_way)?;
        let ends = field(&input.path)?.bound.ends();
        Some(Fit { room, gives_way, uncertain: input.uncertain, ends })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::test_support::draft;
    use approx::assert_relative_eq;
    use roulade_stats::propagation::deviate::Stream;
    use serde_json::json;

    /// A rectangle from 0 to 1 cut off at 0.6, and a normal law cut off at its middle: means of what is left by hand.
    #[test]
    fn a_law_cut_off_is_what_is_left_of_it() {
        let mut stream = Stream::of(3, 0);
        let mean = |uncertain: Uncertain, low: f64, high: f64, drawn: &mut dyn FnMut() -> f64| {
            let n = 20_000;
            let sum: f64 = (0..n)
                .map(|_| {
                    let x = drawn();
                    let put = if (low..=high).contains(&x) {
                        x
                    } else {
                        between(&uncertain, x, low, high).unwrap()
                    };
                    assert!((low..=high).contains(&put));
                    put
                })
                .sum();
            sum / f64::from(n)
        };
        let even = Uncertain::range(0.0, 1.0);
        assert_relative_eq!(mean(even, f64::NEG_INFINITY, 0.6, &mut || stream.even()), 0.3, epsilon = 0.005);
        // −√(2/π) standard deviations below the middle.
        let normal = Uncertain::standard(2.0, 0.5);
        let below = 2.0 - 0.5 * (2.0 / PI).sqrt();
        let mut drawn = || 2.0 + 0.5 * stream.normal();
        assert_relative_eq!(mean(normal, f64::NEG_INFINITY, 2.0, &mut drawn), below, epsilon = 0.01);
        assert_relative_eq!(mean(normal, 2.0, f64::INFINITY, &mut drawn), 4.0 - below, epsilon = 0.01);
        assert!(between(&normal, 3.0, f64::NEG_INFINITY, -2.0).is_none());
    }

    #[test]
    fn parts_fit_their_heights_and_heights_the_can() {
        let tight = draft(&[
            ("parts/1/mass", json!("15 ± 5 g")),
            ("cathode/width", json!("83.9 ± 0.3 mm")),
            ("parts/2/height", json!("4 ± 0.1 mm")),
        ]);
        let fits = tight.fits();
        let mut stream = Stream::of(1, 0);
        let (mut apart, mut moved) = (0, 0);
        for _ in 0..2000 {
            let values: Vec<f64> = tight
                .inputs()
                .iter()
                .map(|input| {
                    let drawn = input.uncertain.value + input.uncertain.u() * stream.normal();
                    // As trials do: a weld at a radius of less than nothing is none.
                    if input.path.ends_with("weld_radius") { drawn.max(1e-4) } else { drawn }
                })
                .collect();
            apart += usize::from(tight.design_at(&values).is_err());
            let fitted = fits.fitted(values.clone(), |_| 0.0);
            moved += usize::from(fitted != values);
            assert!(tight.design_at(&fitted).is_ok(), "{:?}", tight.design_at(&fitted).err());
        }
        // A sixth does not fit by its width, and of the plate hardly any.
        assert!(apart > 600 && moved == apart, "{apart} {moved}");
    }
}
