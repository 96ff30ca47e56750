//! A foil that gathers a current which enters it evenly over the paired area.
//!
//! Resistance here is the mean over the foil: the power lost over the square of the whole current, which is also the
//! mean fall of potential over the current.

use crate::quantity::units::{ElectricalResistance, ElectricalResistivity, Length};
use roulade_stats::maths;
use std::f64::consts::PI;

/// More tabs than that on one foil are an edge; the sheet is refused before.
const MOST_TABS: usize = 16;

/// A foil fed along one whole edge.
///
/// # Formula
/// `R = ρ·w/(3·t·L)`: resistivity ρ, coated width w that the current crosses, foil thickness t, length L. The current
/// grows evenly from nothing at the far edge, and `∫₀¹ s² ds = 1/3`.
///
/// # Example
/// Aluminium of 2.65·10⁻⁸ Ω·m, 1 m long, 60 mm wide and 12 µm thick: 44.17 µΩ.
/// ```
/// # use roulade::cell::current_path;
/// # use roulade::quantity::units::{ElectricalResistivity, Length};
/// let mm = Length::new::<uom::si::length::millimeter>;
/// let rho = ElectricalResistivity::new::<uom::si::electrical_resistivity::ohm_meter>(2.65e-8);
/// let edge = current_path::edge(rho, mm(60.0), mm(0.012), mm(1000.0));
/// assert!((edge.value - 44.1667e-6).abs() < 1e-10);
/// ```
pub fn edge(
    resistivity: ElectricalResistivity,
    width: Length,
    thickness: Length,
    length: Length,
) -> ElectricalResistance {
    resistivity * width / (3.0 * thickness * length)
}

/// An unrolled foil, as tabs see it.
#[derive(Clone, Copy, Debug)]
pub struct Strip {
    /// Resistivity.
    pub resistivity: ElectricalResistivity,
    /// Thickness.
    pub thickness: Length,
    /// Width across.
    pub width: Length,
    /// Length along.
    pub length: Length,
    /// Where the stretch begins and ends over which current enters.
    pub paired: (Length, Length),
}

/// A tab on an unrolled foil.
#[derive(Clone, Copy, Debug)]
pub struct Grip {
    /// Its middle, along the foil.
    pub at: Length,
    /// Its width along the foil.
    pub width: Length,
    /// Its own resistance, past the foil.
    pub own: ElectricalResistance,
    /// How far across the foil it is welded.
    pub contact: Contact,
}

/// How far across the foil a tab is welded.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Contact {
    /// At the edge alone.
    Edge,
    /// Across the whole width; with the resistance of a square of the tab, its resistivity over its thickness.
    Across(ElectricalResistance),
}

/// What gathering costs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gathered {
    /// In the foil, and in the tabs as far as they lie on it.
    pub foil: ElectricalResistance,
    /// In the tabs past the foil.
    pub tabs: ElectricalResistance,
}

impl Strip {
    /// A foil fed by tabs, in their order along it, all at one potential at their far ends.
    ///
    /// # Formula
    /// Let `q(x)` be the share of the current that enters before `x`, and `c` the share that the tabs before a stretch
    /// take. The foil carries `q − c`, so with `s = ρ/(w·t)` the whole loss is
    ///
    /// `R = Σ s·∫(q − cₖ)² dx + Σ rₖ·(cₖ₊₁ − cₖ)²`, `c₀ = 0`, `cₙ = 1`,
    ///
    /// over the stretches between the tabs' edges and over the tabs with their own resistances r. Of all ways to split
    /// the current, the one that flows loses least (Thomson's principle), so `∂R/∂cₖ = 0`:
    ///
    /// `s·(cₖ·ℓₖ − ∫q dx) + rₖ₋₁·(cₖ − cₖ₋₁) − rₖ·(cₖ₊₁ − cₖ) = 0`,
    ///
    /// one linear equation for each stretch between two tabs, each with its neighbours alone. Without r the point of
    /// no flow lies in the middle of every such stretch: one tab at an end gives `ρ·L/(3·w·t)`, one in the middle a
    /// quarter of that, n evenly spread a `4n²`-th.
    ///
    /// To r belongs what the current's way across the foil adds: it narrows to a tab at the edge, or runs along a tab
    /// welded across; see `narrowing` and `along`.
    #[allow(
        clippy::indexing_slicing,
        clippy::needless_range_loop,
        reason = "every index is below the number of tabs, which is at most MOST_TABS"
    )]
    pub fn tabs(&self, tabs: &[Grip]) -> Gathered {
        let tabs = tabs.get(..MOST_TABS).unwrap_or(tabs);
        let n = tabs.len();
        let per_length = (self.resistivity / (self.width * self.thickness)).value;
        let length = self.length.value;
        // Left and right edge of each tab's contact, its own resistance, and what spreading adds in the foil.
        let mut grips = [(0.0, 0.0, 0.0, 0.0); MOST_TABS];
        for (grip, tab) in grips.iter_mut().zip(tabs) {
            let half = (0.5 * tab.width.value).min(0.5 * length);
            let at = tab.at.value.max(half).min(length - half);
            *grip = match tab.contact {
                Contact::Edge => (at, at, tab.own.value, self.narrowing(at, tab.width.value)),
                Contact::Across(_) => (at - half, at + half, tab.own.value, 0.0),
            };
        }
        for (k, tab) in tabs.iter().enumerate() {
            if let Contact::Across(square) = tab.contact {
                let (from, to) = (grips[k].0, grips[k].1);
                // What lies beside it has no current across half-way to the next such tab, or at the foil's end.
                let across = |other: &Grip| other.contact != Contact::Edge;
                let left = tabs.iter().take(k).rposition(across).map_or(from, |j| 0.5 * (from - grips[j].1));
                let right = tabs.iter().skip(k + 1).position(across);
                let right = right.map_or(length - to, |j| 0.5 * (grips[k + 1 + j].0 - to));
                grips[k].3 = self.along(square.value, to - from, (left, right));
            }
        }
        // Share of the current taken before each stretch, by elimination from the left.
        let mut taken = [0.0; MOST_TABS + 1];
        let mut ratio = [0.0; MOST_TABS + 1];
        let r = |k: usize| grips[k].2 + grips[k].3;
        for k in 1..n {
            let (from, to) = (grips[k - 1].1, grips[k].0.max(grips[k - 1].1));
            let diagonal = per_length * (to - from) + r(k - 1) * (1.0 - ratio[k - 1]) + r(k);
            let entering = per_length * (self.entered(to) - self.entered(from)) + r(k - 1) * taken[k - 1];
            if diagonal > 0.0 {
                taken[k] = entering / diagonal;
                ratio[k] = r(k) / diagonal;
            } else {
                // Two tabs without resistance that touch.
                taken[k] = self.share(to);
            }
        }
        taken[n] = 1.0;
        for k in (1..n).rev() {
            taken[k] += ratio[k] * taken[k + 1];
        }
        let (mut foil, mut own) = (0.0, 0.0);
        let mut from = 0.0;
        for k in 0..=n {
            let to = if k < n { grips[k].0.max(from) } else { length.max(from) };
            foil += per_length * self.squared(from, to, taken[k]);
            if k < n {
                let share = taken[k + 1] - taken[k];
                own += grips[k].2 * share * share;
                foil += grips[k].3 * share * share;
                from = grips[k].1;
            }
        }
        Gathered { foil: ohms(foil), tabs: ohms(own) }
    }

    /// Share of the current that enters before `x`.
    fn share(&self, x: f64) -> f64 {
        let (from, to) = (self.paired.0.value, self.paired.1.value);
        ((x - from) / (to - from)).clamp(0.0, 1.0)
    }

    /// `∫₀ˣ q dx`.
    fn entered(&self, x: f64) -> f64 {
        let (from, to) = (self.paired.0.value, self.paired.1.value);
        let within = x.min(to).max(from) - from;
        0.5 * within * within / (to - from) + (x - to).max(0.0)
    }

    /// `∫₀ˣ q² dx`.
    fn entered_squared(&self, x: f64) -> f64 {
        let (from, to) = (self.paired.0.value, self.paired.1.value);
        let (within, whole) = (x.min(to).max(from) - from, to - from);
        within * within * within / (3.0 * whole * whole) + (x - to).max(0.0)
    }

    /// `∫(q − c)² dx` over a stretch.
    fn squared(&self, from: f64, to: f64, c: f64) -> f64 {
        let square = self.entered_squared(to) - self.entered_squared(from);
        let mixed = self.entered(to) - self.entered(from);
        (square - 2.0 * c * mixed + c * c * (to - from)).max(0.0)
    }

    /// What a tab at the edge adds to one of no resistance across the foil's whole width at its middle: the current
    /// narrows from the width w to the contact of width b.
    ///
    /// # Formula
    /// `−ρ/(π·t)·ln sinh(πb/4w)` for a tab that current reaches from both sides alike. Nearer than w to an end, at a
    /// distance d, it comes from one side: `ρ/(π·t)·[πd/w − ln(sinh(πd/w)·sinh(πb/2w))]`. Both by conformal mapping of
    /// the strip onto a half-plane, `u = cosh(πz/w)`, in which the contact is a segment of length 2h and the potential
    /// far away is `ρI/(π·t)·ln(2|u|/h)`. Checked against a network in two dimensions in `tests/published`.
    fn narrowing(&self, at: f64, width: f64) -> f64 {
        let w = self.width.value;
        let sheet = (self.resistivity / self.thickness).value;
        let to_end = at.min(self.length.value - at);
        let squares = if to_end < w {
            PI * to_end / w - maths::ln(maths::sinh(PI * to_end / w) * maths::sinh(0.5 * PI * width / w))
        } else {
            -maths::ln(maths::sinh(0.25 * PI * width / w))
        };
        sheet / PI * squares
    }

    /// What a tab welded across adds to one of no resistance, up to the foil's edge: the current runs along the tab, and
    /// the foil beside it helps to carry it.
    ///
    /// # Formula
    /// `R = Σₙ 2/(w·b·σ·k²)·[1 − T/(h·(1 + T·σ/σ′))]`, `k = nπ/w`, `h = kb/2`, `T = tanh h`: the n-th harmonic of the
    /// potential across the foil, with foil and tab together, σ = 1/□foil + 1/□tab in S, under the tab of width b, and
    /// the foil alone beside it, `σ′ = 1/□foil·½(tanh kd₁ + tanh kd₂)`, up to a distance d₁ and d₂ where nothing flows
    /// across; the current leaves evenly over b at one edge. By separation of variables: inside, `aₙ″ − k²·aₙ` balances
    /// the edge's flow; at the tab's sides the flow is `σ′·k·aₙ`. A tab far heavier than its foil has `w/(3bσ)`, as an
    /// edge has. Checked against a network in two dimensions in `tests/published`.
    fn along(&self, square: f64, width: f64, (left, right): (f64, f64)) -> f64 {
        /// Past that many harmonics the rest is summed as it goes to its limit.
        const MOST: u32 = 256;
        if !(square > 0.0 && width > 0.0) {
            return 0.0;
        }
        let w = self.width.value;
        let foil = (self.thickness / self.resistivity).value;
        let both = foil + 1.0 / square;
        let first = PI / w;
        // Powers of these give the hyperbolic tangents of every harmonic.
        let step = [width, 2.0 * left.max(0.0), 2.0 * right.max(0.0)].map(|x| maths::exp(-first * x));
        let (mut power, mut sum, mut n) = ([1.0; 3], 0.0, 0.0);
        for _ in 0..MOST {
            n += 1.0;
            power.iter_mut().zip(step).for_each(|(power, step)| *power *= step);
            let [inside, left, right] = power.map(|e| (1.0 - e) / (1.0 + e));
            let beside = 0.5 * foil * (left + right);
            let h = 0.5 * n * first * width;
            sum += (1.0 - inside * beside / (h * (beside + inside * both))) / (n * n);
            if power.iter().all(|e| *e < 1e-3) {
                break;
            }
        }
        let rest = n + 0.5;
        let limit = foil / (0.5 * first * width * (foil + both));
        sum += 1.0 / rest - 0.5 * limit / (rest * rest);
        2.0 * w / (PI * PI * width * both) * sum
    }
}

fn ohms(value: f64) -> ElectricalResistance {
    ElectricalResistance::new::<uom::si::electrical_resistance::ohm>(value)
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;
    use proptest::prelude::*;

    fn metres(x: f64) -> Length {
        Length::new::<uom::si::length::meter>(x)
    }

    fn strip(paired: (f64, f64)) -> Strip {
        Strip {
            resistivity: ElectricalResistivity::new::<uom::si::electrical_resistivity::ohm_meter>(2e-8),
            thickness: metres(1e-5),
            width: metres(0.05),
            length: metres(1.0),
            paired: (metres(paired.0), metres(paired.1)),
        }
    }

    fn grip(at: f64, own: f64) -> Grip {
        Grip { at: metres(at), width: metres(0.004), own: ohms(own), contact: Contact::Across(ohms(0.0)) }
    }

    /// s = 0.04 Ω/m.
    const PER_LENGTH: f64 = 0.04;

    #[test]
    fn a_tab_at_each_end_is_two_halves() {
        let both = strip((0.0, 1.0)).tabs(&[grip(0.0, 0.0), grip(1.0, 0.0)]);
        // Two stretches that meet in the middle, each half of the foil less the tab, with half of the current.
        let half = Strip { length: metres(0.5), paired: (metres(0.0), metres(0.5)), ..strip((0.0, 0.5)) };
        let one = half.tabs(&[grip(0.0, 0.0)]);
        assert_relative_eq!(both.foil.value, 0.5 * one.foil.value, max_relative = 1e-12);
    }

    #[test]
    fn a_bare_end_carries_all_of_it() {
        // Paired up to 0.8 m, the tab's near edge at 0.996 m.
        let bare = strip((0.0, 0.8)).tabs(&[grip(1.0, 0.0)]);
        assert_relative_eq!(bare.foil.value, PER_LENGTH * (0.8 / 3.0 + 0.196), max_relative = 1e-12);
    }

    #[test]
    fn unlike_tabs_share_the_current_as_the_equations_say() {
        // Far heavier than the foil, the tabs alone decide: 3 to 1.
        let gathered = strip((0.0, 1.0)).tabs(&[grip(0.2, 100.0), grip(0.8, 300.0)]);
        assert_relative_eq!(gathered.tabs.value, 75.0, max_relative = 1e-3);
        // Two that touch, without resistance, are one of twice the width.
        let wide = Grip { width: metres(0.008), ..grip(0.5, 0.0) };
        let two = [grip(0.498, 0.0), grip(0.502, 0.0)];
        let (one, two) = (strip((0.0, 1.0)).tabs(&[wide]), strip((0.0, 1.0)).tabs(&two));
        assert_relative_eq!(one.foil.value, two.foil.value, max_relative = 1e-9);
    }

    /// The loss for a given split of the current, summed step by step: nothing of the solution is in it.
    fn loss(strip: &Strip, tabs: &[Grip], shares: &[f64]) -> f64 {
        const STEPS: usize = 20_000;
        let (from, to) = (strip.paired.0.value, strip.paired.1.value);
        let mut sum = 0.0;
        for i in 0..STEPS {
            let x = (i as f64 + 0.5) / STEPS as f64;
            if tabs.iter().any(|tab| (x - tab.at.value).abs() < 0.5 * tab.width.value) {
                continue;
            }
            let taken: f64 =
                tabs.iter().zip(shares).filter(|(tab, _)| tab.at.value < x).map(|(_, share)| share).sum();
            let q = ((x - from) / (to - from)).clamp(0.0, 1.0) - taken;
            sum += PER_LENGTH * q * q / STEPS as f64;
        }
        sum + tabs.iter().zip(shares).map(|(tab, share)| tab.own.value * share * share).sum::<f64>()
    }

    proptest! {
        #[test]
        fn no_other_split_loses_less(
            at in (0.05..0.3_f64, 0.35..0.6_f64, 0.65..0.95_f64),
            own in (0.0..0.05_f64, 0.0..0.05_f64, 0.0..0.05_f64),
            other in (0.0..1.0_f64, 0.0..1.0_f64),
        ) {
            let strip = strip((0.1, 0.9));
            let tabs = [grip(at.0, own.0), grip(at.1, own.1), grip(at.2, own.2)];
            let gathered = strip.tabs(&tabs);
            let whole = (gathered.foil + gathered.tabs).value;
            let (a, b) = (other.0.min(other.1), other.0.max(other.1));
            prop_assert!(whole <= loss(&strip, &tabs, &[a, b - a, 1.0 - b]) + 1e-6);
        }

        #[test]
        fn one_more_tab_never_raises_it(at in 0.0..1.0_f64, more in 0.0..1.0_f64, own in 0.0..0.1_f64) {
            let strip = strip((0.0, 1.0));
            let one = strip.tabs(&[grip(at, own)]);
            let mut two = [grip(at, own), grip(more, own)];
            two.sort_by(|a, b| a.at.value.total_cmp(&b.at.value));
            prop_assume!((at - more).abs() > 0.01);
            let two = strip.tabs(&two);
            prop_assert!((two.foil + two.tabs).value <= (one.foil + one.tabs).value * (1.0 + 1e-12));
        }

        /// More metal on the foil never costs: a tab across it, of a metal as it is used, against the same at the edge.
        #[test]
        fn across_is_no_more_than_at_the_edge(at in 0.0..1.0_f64, more in 0.0..1.0_f64, square in 1e-4..4e-3_f64, own in 0.0..0.01_f64) {
            prop_assume!((at - more).abs() > 0.02);
            let whole = |contact| {
                let mut tabs = [Grip { contact, ..grip(at, own) }, Grip { contact, ..grip(more, own) }];
                tabs.sort_by(|a, b| a.at.value.total_cmp(&b.at.value));
                let gathered = strip((0.0, 1.0)).tabs(&tabs);
                (gathered.foil + gathered.tabs).value
            };
            prop_assert!(whole(Contact::Across(ohms(square))) <= whole(Contact::Edge));
        }

        #[test]
        fn a_mirrored_foil_is_the_same(at in 0.0..0.45_f64, more in 0.55..1.0_f64, own in 0.0..0.1_f64, at_edge: bool) {
            let contact = if at_edge { Contact::Edge } else { Contact::Across(ohms(0.001)) };
            let make = |at, own| Grip { contact, ..grip(at, own) };
            let one = strip((0.1, 0.7)).tabs(&[make(at, own), make(more, 0.01)]);
            let other = strip((0.3, 0.9)).tabs(&[make(1.0 - more, 0.01), make(1.0 - at, own)]);
            prop_assert!(((one.foil / other.foil).value - 1.0).abs() < 1e-9);
            prop_assert!((one.tabs - other.tabs).value.abs() < 1e-12);
        }
    }
}
