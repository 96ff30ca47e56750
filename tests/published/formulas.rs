//! The half-cell potentials once more, with the standard library's mathematics: the other side of every comparison.
//! What is compared here is the table, the antiderivative and the balance, and a slip of the pen on either side.
//!
//! In closed form, all coefficients from memory, as they are in the model:
//!
//! - NMC811 and graphite with silicon oxide: Chen, Brosa Planella, O'Regan, Gastol, Widanage, Kendrick, J.
//!   Electrochem. Soc. 167 (2020) 080534, doi 10.1149/1945-7111/ab9050.
//! - NMC532 and its paper's graphite: Mohtat, Lee, Sulzer, Siegel, Stefanopoulou, J. Electrochem. Soc. 167 (2020) 110561,
//!   doi 10.1149/1945-7111/aba5d1.
//! - NCA: Kim, Smith, Lee, Santhanagopalan, Pesaran, J. Electrochem. Soc. 158 (2011) A955, doi 10.1149/1.3597614.
//!
//! By points of `data/curves.json`, read there and joined by a falling cubic that is written here anew:
//!
//! - LFP and graphite of an opened cell, silicon digitised.

use super::say::list;
use serde_json::Value;
use std::sync::OnceLock;

/// A published half-cell.
#[derive(Clone, Copy, Debug)]
pub(super) struct Half {
    /// Name in the table of materials.
    pub(super) name: &'static str,
    /// U(x), V.
    pub(super) potential: fn(f64) -> f64,
    /// Stoichiometries that the practical capacity stands for.
    pub(super) window: (f64, f64),
    /// Where the potential is followed.
    pub(super) domain: (f64, f64),
    /// Whether it is a closed form.
    pub(super) formula: bool,
}

const fn form(name: &'static str, potential: fn(f64) -> f64, window: (f64, f64), domain: (f64, f64)) -> Half {
    Half { name, potential, window, domain, formula: true }
}

const fn points(
    name: &'static str,
    potential: fn(f64) -> f64,
    window: (f64, f64),
    domain: (f64, f64),
) -> Half {
    Half { name, potential, window, domain, formula: false }
}

/// All of them.
pub(super) const HALVES: [Half; 7] = [
    form("NMC811", nmc811, (0.2661, 0.9084), (0.2, 0.9084)),
    form("NMC532", nmc532, (0.0335, 0.8907), (-0.1, 0.8907)),
    form("NCA", nca, (0.317, 0.97), (0.3, 0.98)),
    form("graphite with silicon oxide", graphite_siox, (0.0279, 0.9014), (0.0, 0.9014)),
    points("LFP", lfp, (0.0875, 0.99), (0.083, 1.0)),
    points("graphite", graphite, (0.001_626_1, 0.95), (0.0, 1.0)),
    points("silicon", silicon, (0.0, 1.0), (0.0, 1.0)),
];

/// The half-cell of that name.
pub(super) fn half(name: &str) -> Half {
    HALVES.into_iter().find(|half| half.name == name).unwrap_or_else(|| panic!("no formula for {name}"))
}

impl Half {
    /// U(x), with x taken to the nearer end outside the domain.
    pub(super) fn at(&self, x: f64) -> f64 {
        (self.potential)(x.clamp(self.domain.0, self.domain.1))
    }

    /// x(U) by bisection; the nearer end where U is outside.
    pub(super) fn stoichiometry(&self, u: f64) -> f64 {
        bisect(self.domain.0, self.domain.1, |x| u - (self.potential)(x))
    }

    /// Width of the window.
    pub(super) fn span(&self) -> f64 {
        self.window.1 - self.window.0
    }
}

/// The data file.
pub(super) fn data() -> &'static Value {
    static DATA: OnceLock<Value> = OnceLock::new();
    DATA.get_or_init(|| serde_json::from_str(include_str!("data/curves.json")).unwrap())
}

/// Points (x, U) of a record, rising; of a column of potentials where it has several.
pub(super) fn record(name: &str, column: usize) -> Vec<(f64, f64)> {
    let found = list(data(), "/records").iter().find(|record| record["name"] == name);
    let record = found.unwrap_or_else(|| panic!("no record {name}"));
    let mut points: Vec<(f64, f64)> = list(record, "/points")
        .iter()
        .map(|point| (point[0].as_f64().unwrap(), point[column].as_f64().unwrap()))
        .collect();
    points.sort_by(|a, b| a.0.total_cmp(&b.0));
    points
}

/// A falling cubic through points (Fritsch, Carlson, SIAM J. Numer. Anal. 17 (1980) 238, from memory): at each point the
/// slope of the parabola through it and its neighbours, both slopes of a piece shrunk to α² + β² = 9 where they lie
/// beyond, from the low end up.
pub(super) struct Cubic {
    x: Vec<f64>,
    u: Vec<f64>,
    m: Vec<f64>,
}

impl Cubic {
    pub(super) fn new(points: &[(f64, f64)]) -> Self {
        let (x, u): (Vec<f64>, Vec<f64>) = points.iter().copied().unzip();
        let n = x.len();
        // Lagrange's parabola through points i, j, k, its slope at the first.
        let slope = |i: usize, j: usize, k: usize| {
            u[i] * (1.0 / (x[i] - x[j]) + 1.0 / (x[i] - x[k]))
                + u[j] * (x[i] - x[k]) / ((x[j] - x[i]) * (x[j] - x[k]))
                + u[k] * (x[i] - x[j]) / ((x[k] - x[i]) * (x[k] - x[j]))
        };
        let mut m: Vec<f64> = (0..n)
            .map(|i| match i {
                0 => slope(0, 1, 2),
                _ if i == n - 1 => slope(n - 1, n - 2, n - 3),
                _ => slope(i, i - 1, i + 1),
            })
            .collect();
        for i in 0..n - 1 {
            let secant = (u[i + 1] - u[i]) / (x[i + 1] - x[i]);
            let (a, b) = ((m[i] / secant).max(0.0), (m[i + 1] / secant).max(0.0));
            let shrink = (3.0 / a.hypot(b)).min(1.0);
            (m[i], m[i + 1]) = (shrink * a * secant, shrink * b * secant);
        }
        Self { x, u, m }
    }

    pub(super) fn at(&self, x: f64) -> f64 {
        let i = self.x.partition_point(|knot| *knot <= x).clamp(1, self.x.len() - 1) - 1;
        let h = self.x[i + 1] - self.x[i];
        let s = (x - self.x[i]) / h;
        // Hermite's four.
        let (s2, s3) = (s * s, s * s * s);
        (2.0 * s3 - 3.0 * s2 + 1.0) * self.u[i]
            + (s3 - 2.0 * s2 + s) * h * self.m[i]
            + (3.0 * s2 - 2.0 * s3) * self.u[i + 1]
            + (s3 - s2) * h * self.m[i + 1]
    }
}

/// The points of a record with what the table adds to both sides of them.
fn cubic(
    curve: &'static OnceLock<Cubic>,
    name: &str,
    below: &[(f64, f64)],
    above: &[(f64, f64)],
) -> &'static Cubic {
    curve.get_or_init(|| Cubic::new(&[below, &record(name, 1)[..], above].concat()))
}

fn lfp(y: f64) -> f64 {
    static CURVE: OnceLock<Cubic> = OnceLock::new();
    let above = [
        (0.96, 3.3806),
        (0.97, 3.3447),
        (0.98, 3.2368),
        (0.985, 3.1182),
        (0.99, 2.9126),
        (0.995, 2.5561),
        (1.0, 1.9379),
    ];
    cubic(&CURVE, "LFP, opened 18 x 65 cell", &[(0.083, 4.6), (0.085, 4.15)], &above).at(y)
}

fn graphite(x: f64) -> f64 {
    static CURVE: OnceLock<Cubic> = OnceLock::new();
    let above = [(0.9, 0.0865), (0.93, 0.084), (0.95, 0.08), (0.98, 0.06), (1.0, 0.002)];
    cubic(&CURVE, "graphite, opened 18 x 65 cell", &[(0.0, 3.0)], &above).at(x)
}

fn silicon(x: f64) -> f64 {
    static CURVE: OnceLock<Cubic> = OnceLock::new();
    let above = [(0.98, 0.085), (1.0, 0.03)];
    cubic(&CURVE, "silicon, delithiation, digitised", &[(0.0, 1.55)], &above).at(x)
}

/// Where a rising function changes sign between two ends; the end nearest to it where it does not.
pub(super) fn bisect(mut low: f64, mut high: f64, f: impl Fn(f64) -> f64) -> f64 {
    if f(low) >= 0.0 {
        return low;
    }
    if f(high) <= 0.0 {
        return high;
    }
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if f(middle) < 0.0 { low = middle } else { high = middle }
    }
    0.5 * (low + high)
}

fn nmc811(y: f64) -> f64 {
    4.4875 - 0.8090 * y - 0.0428 * (18.5138 * (y - 0.5542)).tanh() - 17.7326 * (15.7890 * (y - 0.3117)).tanh()
        + 17.5842 * (15.9308 * (y - 0.3120)).tanh()
}

fn graphite_siox(x: f64) -> f64 {
    1.9793 * (-39.3631 * x).exp() + 0.2482
        - 0.0909 * (29.8538 * (x - 0.1234)).tanh()
        - 0.044_78 * (14.9159 * (x - 0.2769)).tanh()
        - 0.0205 * (30.4444 * (x - 0.6103)).tanh()
}

fn nmc532(y: f64) -> f64 {
    4.3452 - 1.6518 * y + 1.6225 * y.powi(2) - 2.0843 * y.powi(3) + 3.5146 * y.powi(4)
        - 2.2166 * y.powi(5)
        - 0.5623e-4 * (109.451 * y - 100.006).exp()
}

/// The graphite of the paper that NMC532 is from: no curve of the table.
pub(super) fn graphite_mohtat(x: f64) -> f64 {
    0.063 + 0.8 * (-75.0 * (x + 0.007)).exp()
        - 0.0120 * ((x - 0.127) / 0.016).tanh()
        - 0.0118 * ((x - 0.155) / 0.016).tanh()
        - 0.0035 * ((x - 0.220) / 0.020).tanh()
        - 0.0095 * ((x - 0.190) / 0.013).tanh()
        - 0.0145 * ((x - 0.490) / 0.020).tanh()
        - 0.0800 * ((x - 1.030) / 0.055).tanh()
}

fn nca(y: f64) -> f64 {
    1.638 * y.powi(10) - 2.222 * y.powi(9) + 15.056 * y.powi(8) - 23.488 * y.powi(7) + 81.246 * y.powi(6)
        - 344.566 * y.powi(5)
        + 621.3475 * y.powi(4)
        - 554.774 * y.powi(3)
        + 264.427 * y.powi(2)
        - 66.3691 * y
        + 11.8058
        - 0.613_86 * (5.8201 * y.powf(136.4)).exp()
}
