//! Foils and plates that carry the current: closed forms, and networks of resistors in two dimensions.
//!
//! - Means over a foil with tabs, in units of ρL/(wt), current entering evenly: 1/3 for one at an end, 1/12 in the
//!   middle or for one at each end, 7/48 at a quarter, 1/48 at a quarter and three quarters, 1/108 at a sixth, a half and
//!   five sixths. Computed by hand and by a ladder of 20,000 resistors apart from this crate.
//! - One round spot, (ρ₁ + ρ₂)/(4a): Holm, Electric Contacts, 4th ed., Springer 1967 (from memory); 1/4 confirmed by
//!   quadrature apart from this crate.
//! - The networks here are cells of one square each, solved directly: they know nothing of the formulas. Their margin of
//!   one per cent is what is left of the squares' size.

use super::say::{metres, relative};
use roulade::cell::current_path::{Contact, Disc, Grip, Spots, Strip, edge, spots};
use roulade::quantity::units::{ElectricalResistance, ElectricalResistivity};
use std::f64::consts::PI;

fn rho(x: f64) -> ElectricalResistivity {
    ElectricalResistivity::new::<uom::si::electrical_resistivity::ohm_meter>(x)
}

fn ohms(x: f64) -> ElectricalResistance {
    ElectricalResistance::new::<uom::si::electrical_resistance::ohm>(x)
}

/// A metre of aluminium, 60 mm wide and 12 µm thick.
fn metre() -> Strip {
    Strip {
        resistivity: rho(2.65e-8),
        thickness: metres(12e-6),
        width: metres(0.06),
        length: metres(1.0),
        paired: (metres(0.0), metres(1.0)),
    }
}

/// Without resistance of its own.
fn grip(at: f64, width: f64, at_edge: bool) -> Grip {
    let contact = if at_edge { Contact::Edge } else { Contact::Across(ohms(0.0)) };
    Grip { at: metres(at), width: metres(width), own: ohms(0.0), contact }
}

#[test]
fn means_over_a_foil_with_narrow_tabs() {
    let strip = metre();
    let sheet = 2.65e-8 / (0.06 * 12e-6);
    for (what, tabs, coefficient) in [
        ("one at an end", &[0.0][..], 1.0 / 3.0),
        ("one at the other end", &[1.0], 1.0 / 3.0),
        ("one in the middle", &[0.5], 1.0 / 12.0),
        ("one at a quarter", &[0.25], 7.0 / 48.0),
        ("one at each end", &[0.0, 1.0], 1.0 / 12.0),
        ("two at the quarters", &[0.25, 0.75], 1.0 / 48.0),
        ("three", &[1.0 / 6.0, 0.5, 5.0 / 6.0], 1.0 / 108.0),
    ] {
        let grips: Vec<Grip> = tabs.iter().map(|at| grip(*at, 0.0, false)).collect();
        relative(what, coefficient * sheet, strip.tabs(&grips).foil.value, 1e-12);
    }
    // Figures of one example, computed apart from this crate.
    let one = strip.tabs(&[grip(0.0, 0.0, false)]).foil;
    relative("one at an end, Ω", 0.012_268_518_518_518_519, one.value, 1e-12);
    let whole = edge(strip.resistivity, strip.width, strip.thickness, strip.length);
    relative("whole edge, Ω", 4.416_666_666_666_666_6e-5, whole.value, 1e-12);
    relative("their ratio, (L/w)²", 277.777_777_777_777_8, (one / whole).value, 1e-12);
}

#[test]
fn spots_and_plates() {
    let a = metres(0.5e-3);
    relative("copper on copper", 1.68e-5, spots((rho(1.68e-8), rho(1.68e-8)), a, 1.0).value, 1e-12);
    relative("copper on nickel", 4.335e-5, spots((rho(1.68e-8), rho(6.99e-8)), a, 1.0).value, 1e-12);
    let disc = Disc { resistivity: rho(1.68e-8), thickness: metres(3e-4), rim: metres(0.022) };
    relative("rim to hub", 2.137_166_559_822_278e-5, disc.from_middle(metres(0.002)).value, 1e-12);
}

/// A rectangle of square cells, each joined to its neighbours by one unit of conductance, some of them to ground.
struct Network {
    columns: usize,
    rows: usize,
    /// Conductance of the square of each cell.
    square: Vec<f64>,
    /// Conductance to ground of each cell.
    ground: Vec<f64>,
    /// Whether a cell is there, at ground itself.
    grounded: Vec<bool>,
}

impl Network {
    fn new(columns: usize, rows: usize) -> Self {
        let cells = columns * rows;
        Self {
            columns,
            rows,
            square: vec![1.0; cells],
            ground: vec![0.0; cells],
            grounded: vec![false; cells],
        }
    }

    /// Potentials for a current into each cell, by Cholesky's method on the band of the matrix.
    fn solve(&self, current: impl Fn(usize) -> f64) -> Vec<f64> {
        let (n, band) = (self.columns * self.rows, self.rows);
        let width = band + 1;
        let mut lower = vec![0.0; n * width];
        let mut x: Vec<f64> = (0..n).map(|i| if self.grounded[i] { 0.0 } else { current(i) }).collect();
        let joins = |i: usize| {
            let (column, row) = (i / self.rows, i % self.rows);
            [
                (row > 0).then(|| i - 1),
                (row + 1 < self.rows).then(|| i + 1),
                (column > 0).then(|| i - self.rows),
                (column + 1 < self.columns).then(|| i + self.rows),
            ]
        };
        for i in 0..n {
            if self.grounded[i] {
                lower[i * width + band] = 1.0;
                continue;
            }
            let mut diagonal = self.ground[i];
            for j in joins(i).into_iter().flatten() {
                // The contact's rim lies half a cell nearer than the middle of the cell behind it.
                let (own, other) = (self.square[i], self.square[j]);
                let conductance =
                    if self.grounded[j] { 2.0 * own } else { 2.0 * own * other / (own + other) };
                diagonal += conductance;
                if j < i && !self.grounded[j] {
                    lower[i * width + band + j - i] = -conductance;
                }
            }
            lower[i * width + band] = diagonal;
        }
        for i in 0..n {
            let first = i.saturating_sub(band);
            for j in first..=i {
                let from = first.max(j.saturating_sub(band));
                let (own, other) = (i * width + band - i, j * width + band - j);
                let sum: f64 = (from..j).map(|k| lower[own + k] * lower[other + k]).sum();
                let value = lower[own + j] - sum;
                lower[own + j] = if i == j { value.sqrt() } else { value / lower[other + j] };
            }
        }
        for i in 0..n {
            let own = i * width + band - i;
            let sum: f64 = (i.saturating_sub(band)..i).map(|k| lower[own + k] * x[k]).sum();
            x[i] = (x[i] - sum) / lower[own + i];
        }
        for i in (0..n).rev() {
            x[i] /= lower[i * width + band];
            let own = i * width + band - i;
            for k in i.saturating_sub(band)..i {
                x[k] -= lower[own + k] * x[i];
            }
        }
        x
    }
}

/// A foil that current enters evenly: the mean potential over the whole current.
fn squares(network: &Network) -> f64 {
    let cells = (network.columns * network.rows) as f64;
    network.solve(|_| 1.0 / cells).iter().sum::<f64>() / cells
}

const LENGTH: usize = 600;
const WIDTH: usize = 40;

/// 600 mm × 40 mm, a square millimetre to each cell, in squares: ρ/t = 1.
fn strip() -> Strip {
    let mm = |x: usize| metres(x as f64 * 1e-3);
    Strip {
        resistivity: rho(1.0),
        thickness: metres(1.0),
        width: mm(WIDTH),
        length: mm(LENGTH),
        paired: (mm(0), mm(LENGTH)),
    }
}

/// The same as a network of cells of so many millimetres: tabs of so many millimetres at these middles, across the foil
/// or at its edge.
fn network(tabs: &[(usize, usize)], at_edge: bool, cell: usize) -> f64 {
    let rows = WIDTH / cell;
    let mut network = Network::new(LENGTH / cell, rows);
    for (middle, width) in tabs {
        for column in (middle - width / 2) / cell..(middle + width / 2) / cell {
            if at_edge {
                // Half a cell from its middle to the edge.
                network.ground[column * rows] = 2.0;
            } else {
                (0..rows).for_each(|row| network.grounded[column * rows + row] = true);
            }
        }
    }
    squares(&network)
}

#[test]
fn a_foil_in_two_dimensions() {
    let strip = strip();
    let mut whole = Network::new(LENGTH, WIDTH);
    (0..LENGTH).for_each(|column| whole.ground[column * WIDTH] = 2.0);
    let whole = squares(&whole);
    let formula = edge(strip.resistivity, strip.width, strip.thickness, strip.length).value;
    relative("whole edge", whole, formula, 0.01);
    for (what, tabs, at_edge) in [
        ("across, at an end", &[(2, 4)][..], false),
        ("across, in the middle", &[(300, 4)], false),
        ("across, two at odd places", &[(90, 4), (420, 8)], false),
        ("across, three", &[(60, 4), (250, 4), (560, 4)], false),
        ("at the edge, at an end", &[(4, 8)], true),
        ("at the edge, near an end", &[(20, 8)], true),
        ("at the edge, in the middle", &[(300, 8)], true),
        ("at the edge, at a quarter", &[(150, 16)], true),
        ("at the edge, two", &[(150, 8), (450, 8)], true),
        ("at the edge, four at odd places", &[(60, 8), (200, 8), (340, 8), (590, 8)], true),
    ] {
        // Where a contact ends at an edge the current crowds, and the error goes with the size of a cell: what is left
        // at none follows from two sizes.
        let seen = 2.0 * network(tabs, at_edge, 1) - network(tabs, at_edge, 2);
        let grips: Vec<Grip> =
            tabs.iter().map(|(at, width)| grip(*at as f64 * 1e-3, *width as f64 * 1e-3, at_edge)).collect();
        let computed = strip.tabs(&grips).foil.value;
        relative(what, seen, computed, 0.01);
        relative("its ratio to the whole edge", seen / whole, computed / formula, 0.01);
    }
}

/// Tabs of their own resistance across the foil: middle and width in millimetres, the foil in squares of one, and the
/// conductance of a tab's square over the foil's. The current leaves through what stands past the edge, a width long.
fn network_across(tabs: &[(usize, usize)], ratio: f64, cell: usize) -> f64 {
    let rows = WIDTH / cell;
    let mut network = Network::new(LENGTH / cell, rows);
    for (middle, width) in tabs {
        for column in (middle - width / 2) / cell..(middle + width / 2) / cell {
            (0..rows).for_each(|row| network.square[column * rows + row] += ratio);
            // Half a cell of foil and tab, then the tab alone.
            let past = *width as f64 / cell as f64 / ratio;
            network.ground[column * rows] = 1.0 / (0.5 / (1.0 + ratio) + past);
        }
    }
    squares(&network)
}

/// A tab welded across carries its current along itself, and the foil beside it helps. What is left of the formula's
/// error is that tabs side by side see one another's currents, and that the foil past a tab's end is not like that
/// before it.
#[test]
fn tabs_across_in_two_dimensions() {
    let strip = strip();
    for (what, tabs) in [
        ("in the middle", &[(300, 4)][..]),
        ("in the middle, wide", &[(300, 16)]),
        ("at a quarter", &[(150, 8)]),
        ("near an end", &[(590, 4)]),
        ("at an end", &[(598, 4)]),
        ("at an end, wide", &[(592, 16)]),
        ("two", &[(150, 4), (450, 4)]),
        ("two at odd places", &[(60, 4), (420, 8)]),
        ("two side by side", &[(280, 4), (320, 4)]),
        ("four", &[(60, 4), (200, 4), (340, 8), (590, 4)]),
    ] {
        for ratio in [0.5, 2.0, 10.0] {
            let seen = 2.0 * network_across(tabs, ratio, 1) - network_across(tabs, ratio, 2);
            let grips: Vec<Grip> = tabs
                .iter()
                .map(|(at, width)| Grip {
                    own: ohms(1.0 / ratio),
                    contact: Contact::Across(ohms(1.0 / ratio)),
                    ..grip(*at as f64 * 1e-3, *width as f64 * 1e-3, false)
                })
                .collect();
            let gathered = strip.tabs(&grips);
            let computed = (gathered.foil + gathered.tabs).value;
            relative(&format!("across, {what}, tab {ratio} to 1"), seen, computed, 0.03);
        }
    }
}

/// Half of the sector that one of n spots feeds, unrolled: with the logarithm of the radius along and the angle across,
/// squares stay squares. The spot is a round hole on the border.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a few hundred columns")]
fn sector(n: usize, ring: f64, spot: f64, (from, to): (f64, f64), ends: (bool, bool)) -> f64 {
    const ROWS: usize = 72;
    let cell = PI / (n as f64 * ROWS as f64);
    let columns = ((to / from).ln() / cell).round() as usize;
    let mut network = Network::new(columns, ROWS);
    let at = (ring / from).ln() / cell;
    let mut inside = Vec::new();
    for column in 0..columns {
        for row in 0..ROWS {
            let (along, across) = (column as f64 + 0.5 - at, row as f64 + 0.5);
            if (along * along + across * across).sqrt() * cell * ring < spot {
                network.grounded[column * ROWS + row] = true;
                inside.push((column, row));
            }
        }
    }
    // The current comes evenly along the ends that are open, in turn.
    let (first, last) = ends;
    let fed = |i: usize| {
        let column = i / ROWS;
        if first && column == 0 || last && column + 1 == columns { 1.0 / ROWS as f64 } else { 0.0 }
    };
    let potentials = network.solve(fed);
    let end = if first { 0 } else { columns - 1 };
    let mean = (0..ROWS).map(|row| potentials[end * ROWS + row]).sum::<f64>() / ROWS as f64;
    // Half a cell to the end itself; 2n such halves side by side.
    (mean + 0.5 / ROWS as f64) / (2.0 * n as f64)
}

/// Spots on a ring to a weld in the middle, and to the rim. The round spot is made of squares, which is good for some
/// per cent of its own part.
#[test]
fn a_plate_in_two_dimensions() {
    for (n, ring, spot, rim) in [(6, 13.0, 0.8, 22.0), (12, 13.0, 0.6, 22.0), (8, 18.0, 0.8, 22.0)] {
        let disc = Disc { resistivity: rho(1.0), thickness: metres(1.0), rim: metres(rim) };
        let spots = Spots { count: n as f64, radius: metres(spot), ring: metres(ring) };
        let inward = sector(n, ring, spot, (3.0, rim), (true, false));
        relative(
            &format!("{n} spots to the middle"),
            inward,
            disc.to_middle(&spots, metres(3.0)).value,
            0.02,
        );
    }
    for (n, ring, spot, rim) in [(6, 13.0, 0.8, 22.0), (12, 13.0, 0.6, 22.0), (8, 9.0, 0.8, 22.0)] {
        let disc = Disc { resistivity: rho(1.0), thickness: metres(1.0), rim: metres(rim) };
        let spots = Spots { count: n as f64, radius: metres(spot), ring: metres(ring) };
        let outward = sector(n, ring, spot, (0.5, rim), (false, true));
        relative(&format!("{n} spots to the rim"), outward, disc.to_rim(&spots).value, 0.02);
    }
}

/// A foil in squares of one: its length and width in millimetres, and between which millimetres current enters.
#[derive(Clone, Copy)]
struct Foil {
    length: usize,
    width: usize,
    paired: (usize, usize),
}

/// How a foil is fed.
#[derive(Clone, Copy, Debug)]
enum Fed<'a> {
    Edge,
    /// Middles and widths, at the edge; their own resistance past the foil in squares of the foil for a square of the tab.
    AtEdge(&'a [(usize, usize)], f64),
    /// The same across the foil: with the conductance of a tab's square over the foil's.
    Across(&'a [(usize, usize)], f64),
}

/// Tabs stand so many of their widths past the foil.
const PAST: f64 = 2.5;

impl Foil {
    /// Mean potential where current enters over the whole current, by a network of cells of so many millimetres.
    fn seen(self, fed: Fed<'_>, cell: usize) -> f64 {
        let (columns, rows) = (self.length / cell, self.width / cell);
        let mut network = Network::new(columns, rows);
        match fed {
            Fed::Edge => (0..columns).for_each(|column| network.ground[column * rows] = 2.0),
            Fed::AtEdge(tabs, square) => {
                for (at, width) in tabs {
                    // Each column of the tab leads on by itself: half a cell of foil, then its share of what stands past it.
                    let past = PAST * square * *width as f64 / cell as f64;
                    for column in (at - width / 2) / cell..(at + width / 2) / cell {
                        network.ground[column * rows] = 1.0 / (0.5 + past);
                    }
                }
            }
            Fed::Across(tabs, ratio) => {
                for (at, width) in tabs {
                    let past = PAST / ratio * *width as f64 / cell as f64;
                    for column in (at - width / 2) / cell..(at + width / 2) / cell {
                        (0..rows).for_each(|row| network.square[column * rows + row] += ratio);
                        network.ground[column * rows] = 1.0 / (0.5 / (1.0 + ratio) + past);
                    }
                }
            }
        }
        let entered = |i: usize| (self.paired.0 / cell..self.paired.1 / cell).contains(&(i / rows));
        let cells = (0..columns * rows).filter(|i| entered(*i)).count() as f64;
        let potentials = network.solve(|i| if entered(i) { 1.0 / cells } else { 0.0 });
        potentials.iter().enumerate().filter(|(i, _)| entered(*i)).map(|(_, u)| u).sum::<f64>() / cells
    }

    /// The same by the formulas.
    fn computed(self, fed: Fed<'_>) -> f64 {
        let mm = |x: usize| metres(x as f64 * 1e-3);
        let strip = Strip {
            resistivity: rho(1.0),
            thickness: metres(1.0),
            width: mm(self.width),
            length: mm(self.length),
            paired: (mm(self.paired.0), mm(self.paired.1)),
        };
        let (tabs, square, contact) = match fed {
            Fed::Edge => {
                return edge(strip.resistivity, strip.width, strip.thickness, strip.length).value;
            }
            Fed::AtEdge(tabs, square) => (tabs, square, Contact::Edge),
            Fed::Across(tabs, ratio) => (tabs, 1.0 / ratio, Contact::Across(ohms(1.0 / ratio))),
        };
        let own = ohms(PAST * square);
        let grips: Vec<Grip> =
            tabs.iter().map(|(at, width)| Grip { at: mm(*at), width: mm(*width), own, contact }).collect();
        let gathered = strip.tabs(&grips);
        (gathered.foil + gathered.tabs).value
    }
}

/// Every feed, on foils as long as those of a wound cell of 24 mm × 58 mm: aluminium of 13 µm with tabs of 0.1 mm aluminium,
/// copper of 8 µm with tabs of 0.1 mm nickel and an end without cathode opposite: the foils of `demo/marram-small.json`. A tab across
/// the foil takes less than one at its edge, by the formulas as by the network: foil and tab carry the current side by side.
///
/// In squares of foil, network and formula, one tab on each: cathode across 2.764 and 2.765, at the edge 3.359 and 3.364; anode at
/// its outer end across 10.029 and 10.027, at the edge 10.496 and 10.498. A square of the cathode's foil is 2.15 mΩ, of the
/// anode's 2.18 mΩ. The least near is a tab of foil, 5.13 and 5.09.
#[test]
fn every_feed_of_a_wound_cell_in_two_dimensions() {
    let cathode = Foil { length: 1256, width: 50, paired: (0, 1256) };
    let anode = Foil { length: 1316, width: 50, paired: (28, 1284) };
    // Tab over foil: (0.1 mm / 27.9 nΩ·m)/(13 µm / 27.9 nΩ·m), (0.1 mm / 71.7 nΩ·m)/(8 µm / 17.4 nΩ·m).
    let (aluminium, nickel) = (0.1 / 0.013, (0.1 / 71.7) / (0.008 / 17.4));
    let two = [(314, 4), (942, 4)];
    let five = [(126, 4), (376, 4), (628, 4), (880, 4), (1130, 4)];
    for (what, foil, fed) in [
        ("cathode, whole edge", cathode, Fed::Edge),
        ("cathode, one at the edge", cathode, Fed::AtEdge(&[(564, 4)], 1.0 / aluminium)),
        ("cathode, one across", cathode, Fed::Across(&[(564, 4)], aluminium)),
        ("cathode, two at the edge", cathode, Fed::AtEdge(&two, 1.0 / aluminium)),
        ("cathode, two across", cathode, Fed::Across(&two, aluminium)),
        ("cathode, five across", cathode, Fed::Across(&five, aluminium)),
        ("cathode, five at the edge", cathode, Fed::AtEdge(&five, 1.0 / aluminium)),
        ("cathode, one of foil at the edge", cathode, Fed::AtEdge(&[(564, 16)], 1.0)),
        ("anode, one at its outer end, at the edge", anode, Fed::AtEdge(&[(1302, 4)], 1.0 / nickel)),
        ("anode, one at its outer end, across", anode, Fed::Across(&[(1302, 4)], nickel)),
        ("anode, one at each end, across", anode, Fed::Across(&[(14, 4), (1302, 4)], nickel)),
        ("anode, three across", anode, Fed::Across(&[(14, 4), (658, 4), (1302, 4)], nickel)),
    ] {
        // What is left of the cells' size follows from two sizes.
        let seen = 2.0 * foil.seen(fed, 1) - foil.seen(fed, 2);
        relative(what, seen, foil.computed(fed), 0.03);
    }
    let across = cathode.seen(Fed::Across(&[(564, 4)], aluminium), 1);
    let at_edge = cathode.seen(Fed::AtEdge(&[(564, 4)], 1.0 / aluminium), 1);
    assert!(across < at_edge, "{across} {at_edge}");
}
