//! The lithium balance against an independent solution, and against limiting cases worked by hand.
//!
//! Independent: bisection on the papers' closed forms ([`super::formulas`]) with the standard library's mathematics,
//! energies by Gauss and Legendre's rule. Only the sheet's own numbers and the paired area are shared. Margin: the
//! model's tables are within 10 µV of each form, so an end of charge or discharge may lie off by 20 µV over the
//! slope there, and the energy by 20 µV times the capacity and the shift of the ends.

use super::formulas::{Half, bisect, half};
use super::quadrature::legendre;
use super::say::{relative, within};
use roulade::cell::balance::{Balance, ChargeEnd, DischargeEnd, Side, Windows};
use roulade::cell::design::Design;
use roulade::cell::draft::Draft;
use roulade::quantity::units::Unit;
use serde_json::{Value, json};

fn balanced(sheet: &Value) -> (Design, Balance) {
    let design = Draft::parse(&sheet.to_string()).unwrap().design().unwrap();
    let balance = Balance::of(&design).unwrap();
    (design, balance)
}

/// A host in a coating: its half-cell and its practical capacity times its share of the mix, mAh/g.
type Host = (Half, f64);

/// One design in numbers of the trade.
struct Case {
    cathode: (&'static str, f64),
    anode: Vec<(&'static str, f64, f64)>,
    loadings: (f64, f64),
    efficiencies: (f64, f64),
    limits: (f64, f64),
}

impl Case {
    fn sheet(&self) -> Value {
        let mut materials =
            vec![json!({ "name": self.cathode.0, "capacity": format!("{} mAh/g", self.cathode.1) })];
        let mut mix = Vec::new();
        for (name, capacity, share) in &self.anode {
            materials.push(json!({ "name": name, "capacity": format!("{capacity} mAh/g") }));
            mix.push(json!({ "material": name, "share": format!("{share}") }));
        }
        mix.push(json!({ "material": "CMC" }));
        json!({
            "can": { "diameter": "21.1 mm", "height": "70.1 mm" },
            "materials": materials,
            "cathode": {
                "mix": [{ "material": self.cathode.0, "share": "0.96" }, { "material": "PVDF" }],
                "loading": format!("{} mg/cm²", self.loadings.0),
                "porosity": "25 %",
                "initial_coulombic_efficiency": format!("{}", self.efficiencies.0),
            },
            "anode": {
                "mix": mix,
                "loading": format!("{} mg/cm²", self.loadings.1),
                "porosity": "28 %",
                "initial_coulombic_efficiency": format!("{}", self.efficiencies.1),
            },
            "voltage": { "charge_cut_off": format!("{} V", self.limits.0), "discharge_cut_off": format!("{} V", self.limits.1) },
        })
    }
}

/// Several hosts at one potential: x over the whole host capacity, as U.
struct Anode {
    hosts: Vec<Host>,
}

impl Anode {
    /// Host capacity per gram of coating for 0 → 1, mAh/g.
    fn capacity(&self) -> f64 {
        self.hosts.iter().map(|(half, q)| q / half.span()).sum()
    }

    fn stoichiometry(&self, u: f64) -> f64 {
        self.hosts.iter().map(|(half, q)| q / half.span() * half.stoichiometry(u)).sum::<f64>()
            / self.capacity()
    }

    fn window(&self) -> (f64, f64) {
        let share = |end: fn(&Half) -> f64| {
            self.hosts.iter().map(|(half, q)| q / half.span() * end(half)).sum::<f64>() / self.capacity()
        };
        (share(|half| half.domain.0), share(|half| half.domain.1))
    }

    fn potential(&self, x: f64) -> f64 {
        if let [(only, _)] = self.hosts.as_slice() {
            return only.at(x);
        }
        let top = self.hosts.iter().map(|(h, _)| h.at(h.domain.0)).fold(f64::MIN, f64::max);
        let bottom = self.hosts.iter().map(|(h, _)| h.at(h.domain.1)).fold(f64::MAX, f64::min);
        // x falls with U.
        -bisect(-top, -bottom, |minus_u| self.stoichiometry(-minus_u) - x)
    }
}

/// What the independent solution finds; charges in Ah, energy in Wh.
struct Solved {
    capacity: f64,
    energy: f64,
    lost: f64,
    ends: [f64; 4],
    capacity_margin: f64,
    energy_margin: f64,
    end_margins: [f64; 4],
}

fn solve(case: &Case, area_cm2: f64, error: f64) -> Solved {
    let cathode = half(case.cathode.0);
    let anode = Anode { hosts: case.anode.iter().map(|(name, q, share)| (half(name), q * share)).collect() };
    let cc = 1e-6 * area_cm2 * case.loadings.0 * 0.96 * case.cathode.1 / cathode.span();
    let ca = 1e-6 * area_cm2 * case.loadings.1 * anode.capacity();
    let (eta_c, eta_a) = case.efficiencies;
    // What the window gives back, over the share of the first charge that this is.
    let y0 = cathode.window.0 + cathode.span() / eta_c;
    let (x_low, x_high) = anode.window();
    // First charge.
    let most = ((y0 - cathode.domain.0) * cc).min(x_high * ca / eta_a);
    let charging = |q: f64| cathode.at(y0 - q / cc) - anode.potential(eta_a * q / ca);
    let charged = bisect(0.0, most, |q| charging(q) - case.limits.0);
    let (y1, x1) = (y0 - charged / cc, eta_a * charged / ca);
    // Discharge.
    let most_back = ((cathode.domain.1 - y1) * cc).min((x1 - x_low) * ca);
    let discharging = |d: f64| cathode.at(y1 + d / cc) - anode.potential(x1 - d / ca);
    let drawn = bisect(0.0, most_back, |d| case.limits.1 - discharging(d));
    // A shift of a bound's place for an error in volts; none where a curve's end, not a voltage, is the bound.
    let shift = |at: f64, most: f64, volts: &dyn Fn(f64) -> f64| {
        let h = 1e-4 * most;
        if at >= most { 1e-12 * most } else { error * h / (volts(at) - volts(at - h)).abs() + 1e-11 * most }
    };
    let (off_charge, off_back) = (shift(charged, most, &charging), shift(drawn, most_back, &discharging));
    let off = off_charge + off_back;
    Solved {
        capacity: drawn,
        energy: legendre(&discharging, 0.0, drawn, if case.anode.len() > 1 { 150 } else { 2000 }),
        lost: (1.0 - eta_a) * charged,
        ends: [y1, y1 + drawn / cc, x1, x1 - drawn / ca],
        capacity_margin: off,
        energy_margin: error * drawn + 5.0 * off + 1e-8,
        end_margins: [off_charge / cc, off / cc, off_charge / ca, off / ca],
    }
}

fn agree(name: &str, case: &Case, error: f64) -> Windows {
    let (design, balance) = balanced(&case.sheet());
    let (inner, outer) = design.active_area();
    let area = (inner + outer).value / Unit::SquareCentimetre.in_si();
    let solved = solve(case, area, error);
    let hours = |q: roulade::quantity::units::ElectricCharge| q.value / Unit::AmpereHour.in_si();
    within(
        &format!("{name}, capacity, Ah"),
        solved.capacity,
        hours(balance.capacity),
        solved.capacity_margin,
    );
    let energy = balance.energy.value / Unit::WattHour.in_si();
    within(&format!("{name}, energy, Wh"), solved.energy, energy, solved.energy_margin);
    within(&format!("{name}, lost, Ah"), solved.lost, hours(balance.lost), solved.capacity_margin);
    let windows = balance.windows.unwrap();
    let ends = [
        windows.cathode_charged,
        windows.cathode_discharged,
        windows.anode_charged,
        windows.anode_discharged,
    ];
    for ((end, found), (what, margin)) in solved.ends.iter().zip(ends).zip(
        ["cathode charged", "cathode discharged", "anode charged", "anode discharged"]
            .iter()
            .zip(solved.end_margins),
    ) {
        within(&format!("{name}, {what}"), *end, found, margin + 1e-10);
    }
    windows
}

#[test]
fn nmc811_against_graphite_with_silicon_oxide() {
    let case = Case {
        cathode: ("NMC811", 201.0),
        anode: vec![("graphite with silicon oxide", 348.0, 0.97)],
        loadings: (23.0, 15.0),
        efficiencies: (0.88, 0.84),
        limits: (4.15, 2.8),
    };
    let windows = agree("NMC811/graphite-SiOx", &case, 20e-6);
    assert_eq!((windows.charge_end, windows.discharge_end), (ChargeEnd::Limit, DischargeEnd::Limit));
}

/// Past the window at the end of charge, on the paper's own form.
#[test]
fn nmc811_charged_beyond_its_window() {
    let case = Case {
        cathode: ("NMC811", 201.0),
        anode: vec![("graphite with silicon oxide", 348.0, 0.97)],
        loadings: (23.0, 16.5),
        efficiencies: (0.88, 0.84),
        limits: (4.3, 2.8),
    };
    let windows = agree("NMC811 to 4.3 V", &case, 20e-6);
    assert!(windows.continued.cathode_charged > 0.02 && windows.cathode_charged < 0.2661, "{windows:?}");
}

#[test]
fn nmc532_against_graphite() {
    let case = Case {
        cathode: ("NMC532", 171.4),
        anode: vec![("graphite", 353.0, 0.96)],
        loadings: (20.0, 11.0),
        efficiencies: (0.885, 0.86),
        limits: (4.2, 3.2),
    };
    agree("NMC532/graphite", &case, 20e-6);
}

/// The plateau of LFP hides the place of an end; the ends lie on the slopes beside it.
#[test]
fn lfp_against_graphite() {
    let case = Case {
        cathode: ("LFP", 158.0),
        anode: vec![("graphite", 353.0, 0.96)],
        loadings: (16.0, 8.5),
        efficiencies: (0.975, 0.93),
        limits: (3.6, 2.5),
    };
    agree("LFP/graphite", &case, 20e-6);
}

#[test]
fn nca_against_graphite_with_silicon() {
    let case = Case {
        cathode: ("NCA", 190.0),
        anode: vec![("graphite", 353.0, 0.93), ("silicon", 2000.0, 0.035)],
        loadings: (22.0, 12.5),
        efficiencies: (0.88, 0.85),
        limits: (4.1, 2.7),
    };
    agree("NCA/graphite with silicon", &case, 20e-6);
}

/// Straight lines: 4.4 − 0.8·y for the cathode, 0.4 − 0.3·x for the anode, both over 0 to 1, so that everything can be worked by hand.
/// Cathode 200 mAh/g at 20 mg/cm², anode 400 mAh/g at `anode` mg/cm²: host capacities per area 4 and 0.4·anode.
fn straight(anode: f64, eta_c: f64, eta_a: f64, limits: (f64, f64)) -> (f64, f64, Balance) {
    let points = |u: fn(f64) -> f64| json!([0.0, 0.25, 0.5, 0.75, 1.0].map(|x| (x, u(x))));
    let sheet = json!({
        "can": { "diameter": "21 mm", "height": "70 mm" },
        "materials": [
            { "name": "line c", "role": "cathode", "density": "4.7 g/cm3", "capacity": "200 mAh/g",
              "initial_coulombic_efficiency": "1", "curve": points(|y| 4.4 - 0.8 * y) },
            { "name": "line a", "role": "anode", "density": "2.2 g/cm3", "capacity": "400 mAh/g",
              "initial_coulombic_efficiency": "1", "curve": points(|x| 0.4 - 0.3 * x) },
        ],
        "cathode": { "mix": [{ "material": "line c" }], "loading": "20 mg/cm²", "porosity": "25 %",
                     "initial_coulombic_efficiency": format!("{eta_c}") },
        "anode": { "mix": [{ "material": "line a" }], "loading": format!("{anode} mg/cm²"), "porosity": "25 %",
                   "initial_coulombic_efficiency": format!("{eta_a}") },
        "voltage": { "charge_cut_off": format!("{} V", limits.0), "discharge_cut_off": format!("{} V", limits.1) },
    });
    let (design, balance) = balanced(&sheet);
    let (inner, outer) = design.active_area();
    let area = (inner + outer).value / Unit::SquareCentimetre.in_si();
    (4e-3 * area, 0.4e-3 * anode * area, balance)
}

/// Checks capacity and energy where the discharge runs from `u1` down to `u2` on a straight line.
fn test_support(name: &str, balance: &Balance, capacity: f64, u1: f64, u2: f64) {
    relative(&format!("{name}, Ah"), capacity, balance.capacity.value / Unit::AmpereHour.in_si(), 1e-11);
    let energy = 0.5 * (u1 + u2) * capacity;
    relative(&format!("{name}, Wh"), energy, balance.energy.value / Unit::WattHour.in_si(), 1e-11);
}

/// Nothing lost: `U = 3.2 + q·(0.8/C_c + 0.3/C_a)` both ways, so between two limits `Q = (U₁ − U₂)/(0.8/C_c + 0.3/C_a)`.
#[test]
fn no_loss_by_hand() {
    let (cc, ca, balance) = straight(12.0, 1.0, 1.0, (4.0, 3.4));
    test_support("no loss", &balance, 0.6 / (0.8 / cc + 0.3 / ca), 4.0, 3.4);
    assert!(balance.lost.value.abs() < f64::MIN_POSITIVE);
    assert!((balance.n_to_p().value - 1.2).abs() < 1e-12, "areal 4.8 over 4");
    // Down to 3.0 V the cathode is full first, at 3.2 V where it began.
    let (cc, ca, balance) = straight(12.0, 1.0, 1.0, (4.0, 3.0));
    test_support("no loss, all the way", &balance, 0.8 / (0.8 / cc + 0.3 / ca), 4.0, 4.4 - 0.8 - 0.4);
}

/// The anode takes 80 %: with the cathode free to take all of it back, discharge ends with an empty anode after 0.8·q.
#[test]
fn anode_limited_by_hand() {
    let (cc, ca, balance) = straight(12.0, 1.0, 0.8, (3.9, 2.5));
    let q = 0.7 / (0.8 / cc + 0.8 * 0.3 / ca);
    let y = 1.0 - q / cc + 0.8 * q / cc;
    test_support("anode-limited", &balance, 0.8 * q, 3.9, 4.4 - 0.8 * y - 0.4);
    relative("anode-limited, lost", 0.2 * q, balance.lost.value / Unit::AmpereHour.in_si(), 1e-11);
    let end = balance.windows.unwrap().discharge_end;
    assert!(matches!(end, DischargeEnd::Curve { side: Side::Anode, .. }), "{end:?}");
}

/// A cathode that takes back 75 % holds 4/3 of its window as assembled: the discharge ends where that window is full, with
/// lithium left in the anode. To y = 0.2 it gives `(4/3 − 0.2)·C_c`, of which 0.9 arrive.
#[test]
fn cathode_limited_by_hand() {
    let (cc, ca) = (4.0, 0.4 * 16.0);
    let x1 = 0.9 * (4.0 / 3.0 - 0.2) * cc / ca;
    let (cc, ca, balance) = straight(16.0, 0.75, 0.9, (4.4 - 0.16 - (0.4 - 0.3 * x1), 2.5));
    let x2 = x1 - 0.8 * cc / ca;
    test_support(
        "cathode-limited",
        &balance,
        0.8 * cc,
        4.4 - 0.16 - (0.4 - 0.3 * x1),
        3.6 - (0.4 - 0.3 * x2),
    );
    let end = balance.windows.unwrap().discharge_end;
    assert!(matches!(end, DischargeEnd::Curve { side: Side::Cathode, .. }), "{end:?}");
}

/// More than 100 %: an anode that was given lithium beforehand gives back 5 % more than it takes. The cathode was full
/// as assembled, and is full again with lithium left in the anode: 0.05·q of it, and none of it the cathode's.
#[test]
fn more_than_all_comes_back_by_hand() {
    let (cc, ca, balance) = straight(12.0, 1.0, 1.05, (3.9, 2.5));
    let q = 0.7 / (0.8 / cc + 1.05 * 0.3 / ca);
    test_support("prelithiated", &balance, q, 3.9, 4.4 - 0.8 - (0.4 - 0.3 * 0.05 * q / ca));
    relative("prelithiated, lost", -0.05 * q, balance.lost.value / Unit::AmpereHour.in_si(), 1e-11);
}

/// Almost everything is lost: 2 % of the charge remains.
#[test]
fn almost_all_lost_by_hand() {
    let (cc, ca, balance) = straight(12.0, 1.0, 0.02, (3.9, 2.5));
    let q = 0.7 / (0.8 / cc + 0.02 * 0.3 / ca);
    let y = 1.0 - 0.98 * q / cc;
    test_support("almost all lost", &balance, 0.02 * q, 3.9, 4.4 - 0.8 * y - 0.4);
    relative("almost all lost, lost", 0.98 * q, balance.lost.value / Unit::AmpereHour.in_si(), 1e-11);
}

/// An anode of 0.9 of what the cathode gives: full first, at 4.4 − 0.8·(1 − 0.9) − 0.1 = 4.22 V, less than 0.2 V below
/// the limit.
#[test]
fn small_anode_ends_the_charge_by_hand() {
    let (cc, ca, balance) = straight(9.0, 1.0, 1.0, (4.3, 2.5));
    relative("small anode, ratio", 0.9, ca / cc, 1e-12);
    test_support("small anode", &balance, ca, 4.22, 4.4 - 0.8 - 0.4);
    match balance.windows.unwrap().charge_end {
        ChargeEnd::Curve { side: Side::Anode, at } => relative("small anode, V", 4.22, at.value, 1e-12),
        other => panic!("{other:?}"),
    }
}

/// With a nominal voltage in the place of curves: the least of the cathode's reversible capacity, of what the anode's
/// first cycle leaves, and of the anode's reversible capacity, times that voltage.
#[test]
fn nominal_voltage_by_hand() {
    for (loading, eta_c, eta_a, per_cathode) in [
        // Cathode 4 mAh/cm² at 88 %: first charge 4.545, of which 92 % is 4.18: the cathode limits.
        (12.0, 0.88, 0.92, 1.0),
        // 85 % of 4.545 is 3.864: the loss limits.
        (12.0, 0.88, 0.85, 0.85 / 0.88),
        // An anode of 0.4·9 = 3.6 mAh/cm².
        (9.0, 0.88, 0.92, 0.9),
    ] {
        let sheet = json!({
            "can": { "diameter": "21 mm", "height": "70 mm" },
            "materials": [{ "name": "NMC622", "capacity": "200 mAh/g" }, { "name": "graphite", "capacity": "400 mAh/g" }],
            "cathode": { "mix": [{ "material": "NMC622", "share": "100 %" }], "loading": "20 mg/cm²", "initial_coulombic_efficiency": format!("{eta_c}") },
            "anode": { "mix": [{ "material": "graphite", "share": "100 %" }], "loading": format!("{loading} mg/cm²"), "initial_coulombic_efficiency": format!("{eta_a}") },
            "voltage": { "nominal": "3.65 V" },
        });
        let (design, balance) = balanced(&sheet);
        // What faces an anode, its tab's stretch left out: worked by hand in `definitions`.
        let (inner, outer) = design.active_area();
        let cathode = 4e-3 * (inner + outer).value / Unit::SquareCentimetre.in_si();
        test_support("nominal voltage", &balance, per_cathode * cathode, 3.65, 3.65);
        relative("nominal, mean voltage", 3.65, balance.mean_voltage().value, 1e-12);
        let lost = cathode / eta_c * (1.0 - eta_a);
        relative("nominal, lost", lost, balance.lost.value / Unit::AmpereHour.in_si(), 1e-11);
    }
}
