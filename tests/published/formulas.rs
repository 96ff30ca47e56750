//! The half-cell potentials typed in again from their papers, with the standard library's mathematics: the other side
//! of every comparison. All coefficients are from memory, as they are in the model; what is compared here is the
//! table, the antiderivative and the balance, and a slip of the pen on either side.
//!
//! - NMC811 and graphite with silicon oxide: Chen, Brosa Planella, O'Regan, Gastol, Widanage, Kendrick, J.
//!   Electrochem. Soc. 167 (2020) 080534, doi 10.1149/1945-7111/ab9050.
//! - NMC532 and graphite: Mohtat, Lee, Sulzer, Siegel, Stefanopoulou, J. Electrochem. Soc. 167 (2020) 110561, doi
//!   10.1149/1945-7111/aba5d1.
//! - NCA: Kim, Smith, Lee, Santhanagopalan, Pesaran, J. Electrochem. Soc. 158 (2011) A955, doi 10.1149/1.3597614.
//! - LFP: Afshar, Morris, Khajepour, arXiv:1709.03970.
//! - LCO: Ramadass, Haran, Gomadam, White, Popov, J. Electrochem. Soc. 151 (2004) A196, doi 10.1149/1.1634273.
//! - Silicon, delithiation: attributed to Verbrugge, Baker, Xiao, J. Electrochem. Soc. 163 (2016) A262; attribution
//!   uncertain.

/// A published half-cell.
#[derive(Clone, Copy, Debug)]
pub(super) struct Half {
    /// Name in the table of materials.
    pub(super) name: &'static str,
    /// U(x), V.
    pub(super) potential: fn(f64) -> f64,
    /// Where it is valid.
    pub(super) window: (f64, f64),
}

/// All of them.
pub(super) const HALVES: [Half; 8] = [
    Half { name: "NMC811", potential: nmc811, window: (0.2661, 0.9084) },
    Half { name: "NMC532", potential: nmc532, window: (0.0335, 0.8907) },
    Half { name: "NCA", potential: nca, window: (0.36, 0.97) },
    Half { name: "LFP", potential: lfp, window: (0.005, 0.98) },
    Half { name: "LCO", potential: lco, window: (0.465, 0.98) },
    Half { name: "graphite", potential: graphite, window: (0.0017, 0.95) },
    Half { name: "graphite with silicon oxide", potential: graphite_siox, window: (0.0279, 0.9014) },
    Half { name: "silicon", potential: silicon, window: (0.0, 1.0) },
];

/// The half-cell of that name.
pub(super) fn half(name: &str) -> Half {
    HALVES.into_iter().find(|half| half.name == name).unwrap_or_else(|| panic!("no formula for {name}"))
}

impl Half {
    /// U(x), with x taken to the nearer end outside the window.
    pub(super) fn at(&self, x: f64) -> f64 {
        (self.potential)(x.clamp(self.window.0, self.window.1))
    }

    /// x(U) by bisection; the nearer end where U is outside.
    pub(super) fn stoichiometry(&self, u: f64) -> f64 {
        bisect(self.window.0, self.window.1, |x| u - (self.potential)(x))
    }

    /// Width of the window.
    pub(super) fn span(&self) -> f64 {
        self.window.1 - self.window.0
    }
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

fn graphite(x: f64) -> f64 {
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

fn lfp(y: f64) -> f64 {
    3.4077 - 0.020_269 * y + 0.5 * (-150.0 * y).exp() - 0.9 * (-30.0 * (1.0 - y)).exp()
}

fn lco(y: f64) -> f64 {
    (-4.656 + 88.669 * y.powi(2) - 401.119 * y.powi(4) + 342.909 * y.powi(6) - 462.471 * y.powi(8)
        + 433.434 * y.powi(10))
        / (-1.0 + 18.933 * y.powi(2) - 79.532 * y.powi(4) + 37.311 * y.powi(6) - 73.083 * y.powi(8)
            + 95.96 * y.powi(10))
}

fn silicon(x: f64) -> f64 {
    -51.02 * x.powi(7) + 161.3 * x.powi(6) - 205.7 * x.powi(5) + 140.2 * x.powi(4) - 58.76 * x.powi(3)
        + 16.87 * x.powi(2)
        - 3.792 * x
        + 0.9937
}
