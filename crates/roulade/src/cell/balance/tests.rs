//! Straight half-cell curves: every end of charge and discharge by hand.

use super::lithium::Pair;
use super::*;
use crate::material::Curve;
use crate::test_support::design;
use approx::assert_relative_eq;
use serde_json::json;

fn straight(high: f64) -> Curve {
    let at = |share: f64| (share * high, 4.4 - share * high);
    Curve::from_points(&[at(0.0), at(0.25), at(0.75), at(1.0)]).unwrap()
}

fn anode() -> Curve {
    Curve::from_points(&[(0.0, 0.5), (0.25, 0.4), (0.75, 0.2), (1.0, 0.1)]).unwrap()
}

struct Case {
    high: f64,
    anode_host: f64,
    assembled: f64,
    eta_a: f64,
    beforehand: f64,
}

const PLAIN: Case = Case { high: 1.0, anode_host: 125.0, assembled: 1.0, eta_a: 1.0, beforehand: 0.0 };

/// `U_c = 4.4 − y` against `U_a = 0.5 − 0.4·x`, 100 C of cathode host: after a charge q of the first cycle without
/// loss the cell is at `2.9 + q/100 + 0.4·q/125`.
fn cycle(case: &Case, upper: f64, lower: f64) -> Result<Balance, Problem> {
    let volts = ElectricPotential::new::<uom::si::electric_potential::volt>;
    let coulombs = ElectricCharge::new::<uom::si::electric_charge::coulomb>;
    Pair {
        cathode: &straight(case.high).into(),
        anode: &anode().into(),
        cathode_host: coulombs(100.0),
        anode_host: coulombs(case.anode_host),
        as_assembled: case.assembled,
        anode_assembled: 0.0,
        anode_efficiency: case.eta_a,
        beforehand: coulombs(case.beforehand),
        offset: 0.0,
    }
    .cycle(volts(upper), volts(lower))
}

fn close(a: f64, b: f64) {
    assert_relative_eq!(a, b, max_relative = 1e-9, epsilon = 1e-9);
}

fn stoichiometries(b: &Balance) -> [f64; 4] {
    let w = b.windows.unwrap();
    [w.cathode_charged, w.cathode_discharged, w.anode_charged, w.anode_discharged]
}

#[test]
fn between_two_limits() {
    // 2.9 + 0.0132·q is 4.088 V at 90 C and 3.032 V at 10 C.
    let b = cycle(&PLAIN, 4.088, 3.032).unwrap();
    close(b.capacity.value, 80.0);
    close(b.energy.value, 80.0 * 0.5 * (4.088 + 3.032));
    close(b.mean_voltage().value, 3.56);
    close(b.lost.value, 0.0);
    for (found, hand) in stoichiometries(&b).into_iter().zip([0.1, 0.9, 0.72, 0.08]) {
        close(found, hand);
    }
    let w = b.windows.unwrap();
    assert_eq!((w.charge_end, w.discharge_end), (ChargeEnd::Limit, DischargeEnd::Limit));
}

fn at(end: DischargeEnd) -> (&'static str, f64) {
    match end {
        DischargeEnd::Limit => ("limit", 0.0),
        DischargeEnd::Curve { side: Side::Anode, at } => ("anode", at.value),
        DischargeEnd::Curve { side: Side::Cathode, at } => ("cathode", at.value),
    }
}

#[test]
fn an_empty_anode_ends_the_discharge() {
    // A tenth is lost: 2.9 + 0.01·q + 0.4·0.9·q/125 is 4.0592 V at 90 C, 9 C are lost, 81 C flow back.
    let b = cycle(&Case { eta_a: 0.9, ..PLAIN }, 4.0592, 2.5).unwrap();
    close(b.lost.value, 9.0);
    close(b.capacity.value, 81.0);
    for (found, hand) in stoichiometries(&b).into_iter().zip([0.1, 0.91, 0.648, 0.0]) {
        close(found, hand);
    }
    let (what, volts) = at(b.windows.unwrap().discharge_end);
    assert_eq!(what, "anode");
    close(volts, 4.4 - 0.91 - 0.5);
    close(b.energy.value, 81.0 * 0.5 * (4.0592 + 2.99));
}

/// A cathode of 80 % holds 1/0.8 of its window as assembled: 115 C leave it down to y = 0.1, at 4.3 − 0.132 V; it takes
/// 90 C back, its whole window less that, and 25 C stay in the anode, at 3.4 − 0.42 V.
#[test]
fn a_cathode_that_takes_no_more_ends_the_discharge() {
    let b = cycle(&Case { assembled: 1.0 / 0.8, ..PLAIN }, 4.168, 2.5).unwrap();
    close(b.capacity.value, 90.0);
    let (what, volts) = at(b.windows.unwrap().discharge_end);
    assert_eq!(what, "cathode");
    close(volts, 2.98);
}

/// Both lose: the cathode cannot take back 25 C, the anode keeps a tenth of 115 C, and that comes out of the 25 first. With
/// 30 % the anode is empty after 0.7·115 C, where the cathode would take 90.
#[test]
fn losses_compete_for_the_same_lithium() {
    // Until y = 0.1: x = η·0.92, at 4.3 − 0.5 + 0.368·η V.
    let lossy =
        |eta_a: f64| cycle(&Case { assembled: 1.25, eta_a, ..PLAIN }, 3.8 + 0.368 * eta_a, 2.5).unwrap();
    close(lossy(0.9).capacity.value, 90.0);
    close(lossy(0.9).lost.value, 11.5);
    close(lossy(0.7).capacity.value, 0.7 * 115.0);
}

/// With 10 C put in beforehand the anode keeps a tenth of 110 instead of 100 C: 11 are lost, and all that the cathode gave
/// can come back but for 1 C. At y = 0: 4.4 − (0.5 − 0.4·99/125) V.
#[test]
fn prelithiation_makes_up_for_losses() {
    let without = cycle(&Case { eta_a: 0.9, ..PLAIN }, 4.4 - 0.5 + 0.4 * 90.0 / 125.0, 2.5).unwrap();
    close(without.capacity.value, 90.0);
    let with =
        cycle(&Case { eta_a: 0.9, beforehand: 10.0, ..PLAIN }, 4.4 - 0.5 + 0.4 * 99.0 / 125.0, 2.5).unwrap();
    close(with.lost.value, 11.0);
    close(with.capacity.value, 99.0);
}

/// A shift of the cathode's curve less one of the anode's moves every voltage and the energy by as much per charge.
#[test]
fn an_offset_moves_every_voltage() {
    let plain = cycle(&PLAIN, 4.088, 3.032).unwrap();
    let volts = ElectricPotential::new::<uom::si::electric_potential::volt>;
    let coulombs = ElectricCharge::new::<uom::si::electric_charge::coulomb>;
    let shifted = Pair {
        cathode: &straight(1.0).into(),
        anode: &anode().into(),
        cathode_host: coulombs(100.0),
        anode_host: coulombs(125.0),
        as_assembled: 1.0,
        anode_assembled: 0.0,
        anode_efficiency: 1.0,
        beforehand: ElectricCharge::default(),
        offset: 0.02,
    }
    .cycle(volts(4.108), volts(3.052))
    .unwrap();
    close(shifted.capacity.value, plain.capacity.value);
    close(shifted.energy.value, plain.energy.value + 0.02 * 80.0);
}

#[test]
fn the_cathodes_curve_ends_the_discharge() {
    let b = cycle(&Case { high: 0.9, ..PLAIN }, 4.088, 2.5).unwrap();
    close(b.capacity.value, 80.0);
    let (what, volts) = at(b.windows.unwrap().discharge_end);
    assert_eq!(what, "cathode");
    close(volts, 3.032);
}

#[test]
fn a_curve_that_ends_below_the_upper_limit_ends_the_charge() {
    // All 100 C of cathode: 2.9 + 1.32 V. Less than 0.2 V below the limit it stands, further it is refused.
    let b = cycle(&PLAIN, 4.4, 3.032).unwrap();
    let ChargeEnd::Curve { side, at } = b.windows.unwrap().charge_end else { panic!("{b:?}") };
    assert_eq!(side, Side::Cathode);
    close(at.value, 4.22);
    close(b.capacity.value, 90.0);
    // A limit that the curve's end just reaches is reached.
    assert_eq!(cycle(&PLAIN, at.value, 3.032).unwrap().windows.unwrap().charge_end, ChargeEnd::Limit);
    let refused = cycle(&PLAIN, 4.43, 3.0).unwrap_err();
    assert_eq!(refused.place, "voltage.charge_cut_off");
    assert!(refused.found.contains("4.43 V, where the cathode's curve ends at 4.22 V"), "{refused}");

    // An anode of 50 C is full at 3.4 + 0.5 − 0.1 V.
    let small = Case { anode_host: 50.0, ..PLAIN };
    let b = cycle(&small, 3.9, 3.0).unwrap();
    let ChargeEnd::Curve { side, at } = b.windows.unwrap().charge_end else { panic!("{b:?}") };
    assert_eq!(side, Side::Anode);
    close(at.value, 3.8);
    let refused = cycle(&small, 4.2, 3.0).unwrap_err();
    assert_eq!(refused.place, "anode.loading");
    assert!(refused.found.contains("full at 3.80 V of 4.20 V"), "{refused}");
    assert!(refused.expected.contains("up to 2.00 times"), "{refused}");
    // With a loss of half, 50 of 100 C arrive, twice what an anode of 25 C holds.
    let lossy = cycle(&Case { anode_host: 25.0, eta_a: 0.5, ..PLAIN }, 4.2, 3.0).unwrap_err();
    assert!(lossy.expected.contains("up to 2.00 times"), "{lossy}");
    assert!(lossy.found.contains("full at 3.80 V"), "{lossy}");
}

#[test]
fn a_window_above_the_charged_cell_is_refused() {
    let refused = cycle(&PLAIN, 4.4, 4.3).unwrap_err();
    assert_eq!(refused.place, "voltage");
    assert!(refused.found.contains("4.30 to 4.40 V for a pair that is at 4.22 V"), "{refused}");
}

/// 0.9·200 mAh/g and 0.9·500 mAh/g on 20 and 10 mg/cm²: 3.6 and 4.5 mAh/cm², of 36 kC/m² each.
#[test]
fn areal_capacities_by_hand() {
    let design = design(&[]);
    let b = Balance::of(&design).unwrap();
    close(b.cathode_areal.value, 36_000.0 * 3.6);
    close(b.anode_areal.value, 36_000.0 * 4.5);
    close(b.n_to_p().value, 1.25);
    let w = b.windows.unwrap();
    let faces = 2.0 * design.roll().lengths().cathode.value * 0.08;
    close(w.cathode_host.value, 129_600.0 * faces);
    close(w.anode_host.value, 162_000.0 * faces);
    // Lithium is conserved: what left the cathode is in the anode or lost.
    let [y1, y2, x1, x2] = stoichiometries(&b);
    for (y, x) in [(y1, x1), (y2, x2)] {
        let out = (1.0 - y) * w.cathode_host.value;
        close(x * w.anode_host.value + b.lost.value, out);
    }
    close(b.lost.value, 0.1 * (1.0 - y1) * w.cathode_host.value);
    close(b.capacity.value, (y2 - y1) * w.cathode_host.value);
}

#[test]
fn a_nominal_voltage_takes_the_least_of_three() {
    // First charge = cathode/η_c; what is lost of it is (1 − η_a); 3.6 mAh/cm² of cathode, 4.5 of anode at first.
    let faces = |d: &Design| 2.0 * d.roll().lengths().cathode.value * 0.08;
    for (eta_c, eta_a, n_to_p, areal) in
        [("100 %", "90 %", "1.25", 3.24), ("80 %", "90 %", "1.25", 3.6), ("80 %", "90 %", "0.5", 1.8)]
    {
        let d = design(&[
            ("voltage/nominal", json!("3.5 V")),
            ("cathode/initial_coulombic_efficiency", json!(eta_c)),
            ("anode/initial_coulombic_efficiency", json!(eta_a)),
            ("anode/loading", json!(null)),
            ("anode/n_to_p", json!(n_to_p)),
        ]);
        let b = Balance::of(&d).unwrap();
        close(b.capacity.value, 36_000.0 * areal * faces(&d));
        close(b.energy.value, 3.5 * b.capacity.value);
        let first = 3.6 / if eta_c == "80 %" { 0.8 } else { 1.0 };
        close(b.lost.value, 36_000.0 * 0.1 * first * faces(&d));
        assert!(b.windows.is_none());
    }
}
