//! The closed sums against a roll built turn by turn, and the two directions against each other.

use super::lengths::PER_TURN;
use super::*;
use crate::quantity::units::Length;
use approx::assert_relative_eq;
use proptest::prelude::*;
use std::f64::consts::PI;

fn mm(x: f64) -> Length {
    Length::new::<uom::si::length::millimeter>(x)
}

fn lay_up() -> LayUp {
    LayUp {
        core_radius: mm(2.0),
        separator: mm(0.012),
        anode: mm(0.18),
        cathode: mm(0.16),
        slack: mm(0.0),
        tape: mm(0.03),
        core_turns: 1.5,
        anode_overhang_start: 0.3,
        anode_overhang_end: 1.1,
        outer_turns: 0.8,
        tape_turns: 1.0,
    }
}

/// The recursion itself, stepped in small angles: thickness laid down at `x` raises the web at `x + 1`.
struct Stepped {
    lengths: [f64; 5],
    enclosed: f64,
}

fn stepped(roll: &Roll, steps_per_turn: usize) -> Stepped {
    let n = steps_per_turn;
    let mut under = vec![roll.lay_up.core_radius.value; n];
    let mut lengths = [0.0; 5];
    let end = roll.tape.end;
    for i in 0.. {
        let x = (i as f64 + 0.5) / n as f64;
        if x > end {
            break;
        }
        let r = &mut under[i % n];
        for (k, ply) in PlyName::ALL.into_iter().enumerate() {
            let (t, on) = roll.layer(ply, x);
            if on {
                lengths[k] += (*r + 0.5 * t.value) * PER_TURN / n as f64;
                *r += t.value;
            }
        }
        if x < roll.separators.end {
            *r += roll.lay_up.slack.value;
        }
    }
    Stepped { lengths, enclosed: under.iter().map(|r| PI * r * r / n as f64).sum() }
}

#[test]
fn closed_sums_equal_the_roll_built_step_by_step() {
    let mut l = lay_up();
    l.slack = mm(0.004);
    let roll = Roll::wind(l, Reach::Radius(mm(10.0))).unwrap();
    let brute = stepped(&roll, 20_000);
    let closed = [
        roll.lengths().inner_separator,
        roll.lengths().anode,
        roll.lengths().outer_separator,
        roll.lengths().cathode,
        roll.lengths().tape,
    ];
    for (c, b) in closed.iter().zip(brute.lengths) {
        assert_relative_eq!(c.value, b, max_relative = 3e-5);
    }
    assert_relative_eq!(roll.enclosed().value, brute.enclosed, max_relative = 3e-5);
}

#[test]
fn a_short_anode_leaves_the_last_outer_face_idle() {
    let mut l = lay_up();
    let full = Roll::with_turns(l, 20.0, 1.0);
    assert_relative_eq!(full.facing().outer.value, full.lengths().cathode.value, max_relative = 1e-14);
    l.anode_overhang_end = 0.25;
    let short = Roll::with_turns(l, 20.0, 0.25);
    let idle = short.lengths().cathode - short.facing().outer;
    // Three quarters of the last turn, whose radius is close to the outer one.
    let last = short.radius_under(short.cathode.end - 0.4) + l.anode + 2.0 * l.separator + 0.5 * l.cathode;
    assert_relative_eq!(idle.value, (last * PER_TURN * 0.75).value, max_relative = 0.02);
    assert_eq!(short.facing().inner, short.lengths().cathode);
}

#[test]
fn what_a_ply_shares_with_a_stretch() {
    let ply = |start, end| Ply { start, end, thickness: mm(0.1) };
    let four = ply(1.0, 5.0);
    for ((from, to), between, turns) in [
        ((2.0, 4.0), ply(2.0, 4.0), 2.0),
        ((0.0, 2.5), ply(1.0, 2.5), 1.5),
        ((4.0, 9.0), ply(4.0, 5.0), 1.0),
        ((6.0, 7.0), ply(6.0, 6.0), 0.0),
    ] {
        assert_eq!(four.between(from, to), between);
        assert_relative_eq!(four.between(from, to).turns(), turns);
        assert_relative_eq!(four.shared(&ply(from, to)), turns);
    }
}

/// A cathode that begins half a turn before its anode: its first inner half turn, at the core, is idle.
#[test]
fn a_late_anode_leaves_the_first_inner_face_idle() {
    let mut l = lay_up();
    l.anode_overhang_start = -0.5;
    let roll = Roll::with_turns(l, 20.0, 1.1);
    let idle = roll.lengths().cathode - roll.facing().inner;
    // On the core, a turn and a bit of separators, and half its own thickness.
    let radius = l.core_radius + 2.0 * l.separator + 0.5 * l.cathode;
    assert_relative_eq!(idle.value, (radius * PER_TURN * 0.5).value, max_relative = 0.02);
    assert_eq!(roll.facing().outer, roll.lengths().cathode);
}

#[test]
fn arcs_add_up_to_the_lengths() {
    let roll = Roll::wind(lay_up(), Reach::Radius(mm(10.0))).unwrap();
    let sum = |name| -> f64 {
        roll.arcs()
            .iter()
            .filter(|a| a.ply == name)
            .map(|a| a.radius.value * (a.to - a.from) * PER_TURN)
            .sum()
    };
    assert_relative_eq!(sum(PlyName::Cathode), roll.lengths().cathode.value, max_relative = 1e-9);
    assert_relative_eq!(sum(PlyName::Anode), roll.lengths().anode.value, max_relative = 1e-9);
    assert_relative_eq!(
        sum(PlyName::OuterSeparator),
        roll.lengths().outer_separator.value,
        max_relative = 1e-9
    );
}

#[test]
fn no_room_and_no_length_are_said_in_words() {
    let full = Roll::wind(lay_up(), Reach::Radius(mm(2.1))).unwrap_err();
    assert!(full.found.contains("need 2.37 mm"), "{full}");
    let none = Reach::Lengths { cathode: mm(0.0), anode: None };
    assert_eq!(Roll::wind(lay_up(), none).unwrap_err().place, "winding.cathode_length");
}

fn lay_ups() -> impl Strategy<Value = (LayUp, f64)> {
    (
        (0.5..5.0, 0.005..0.03, 0.05..0.4, 0.05..0.4, 0.0..0.01, 0.0..0.1),
        (0.0..4.0, 0.0..2.0, 0.0..2.5, 0.0..3.0, 0.0..2.0),
        6.0..25.0,
    )
        .prop_map(
            |(
                (r, s, a, c, g, t),
                (core_turns, anode_overhang_start, anode_overhang_end, outer_turns, tape_turns),
                outer,
            )| {
                let lay_up = LayUp {
                    core_radius: mm(r),
                    separator: mm(s),
                    anode: mm(a),
                    cathode: mm(c),
                    slack: mm(g),
                    tape: mm(t),
                    core_turns,
                    anode_overhang_start,
                    anode_overhang_end,
                    outer_turns,
                    tape_turns,
                };
                (lay_up, outer + r)
            },
        )
}

proptest! {
    #[test]
    fn cross_section_is_conserved((l, outer) in lay_ups()) {
        if let Ok(roll) = Roll::wind(l, Reach::Radius(mm(outer))) {
            let laid = roll.lengths().anode * l.anode
                + roll.lengths().cathode * l.cathode
                + (roll.lengths().inner_separator + roll.lengths().outer_separator) * l.separator
                + roll.lengths().tape * l.tape
                + roll.lengths().slack * l.slack;
            let ring = roll.enclosed() - l.core_radius * l.core_radius * PI;
            prop_assert!(((laid / ring).value - 1.0).abs() < 1e-11, "{laid:?} {ring:?}");
        }
    }

    #[test]
    fn lengths_lead_back_to_the_radius((l, outer) in lay_ups()) {
        if let Ok(roll) = Roll::wind(l, Reach::Radius(mm(outer))) {
            prop_assert!(((roll.outer_radius() / mm(outer)).value - 1.0).abs() < 1e-12);
            if roll.cathode_turns() > 0.1 {
                let reach = Reach::Lengths { cathode: roll.lengths().cathode, anode: Some(roll.lengths().anode) };
                let back = Roll::wind(l, reach).unwrap();
                prop_assert!(((back.outer_radius() / mm(outer)).value - 1.0).abs() < 1e-9,
                    "{} {}", back.outer_radius().value, outer);
            }
        }
    }

    #[test]
    fn thicker_plies_wind_shorter((l, outer) in lay_ups(), which in 0usize..4) {
        let mut thick = l;
        let ply = [&mut thick.separator, &mut thick.anode, &mut thick.cathode, &mut thick.slack];
        *ply.into_iter().nth(which).unwrap() += mm(0.005);
        let (a, b) = (Roll::wind(l, Reach::Radius(mm(outer))), Roll::wind(thick, Reach::Radius(mm(outer))));
        if let (Ok(a), Ok(b)) = (a, b) {
            prop_assert!(b.cathode_turns() < a.cathode_turns());
        }
    }
}
