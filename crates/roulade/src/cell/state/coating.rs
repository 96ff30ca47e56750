//! A coating after formation: thicker, and heavier or lighter by its lithium.

use super::cause::{Cause, StateChange};
use super::contents::Contents;
use super::film;
use super::pores;
use super::{Pores, per_mole};
use crate::cell::balance::Side;
use crate::cell::design::{Design, Electrode};
use crate::material::{FARADAY, Ion};
use roulade_stats::uncertain::Uncertain;

/// Growth of a full host over the coating's thickness where the design says nothing of it, no more than its order.
const UNSAID: f64 = 0.1;

pub(super) fn of(design: &Design, side: Side) -> &Electrode {
    match side {
        Side::Cathode => &design.blueprint().cathode,
        Side::Anode => &design.blueprint().anode,
    }
}

/// What a coating gains in thickness, m.
///
/// # Formula
/// `t·(s + g·ε·x)`: t as built, s what stays of spring-back and formation, ε the strain of a full host, x how far it is filled,
/// g how far it swells so ([`Opened`](crate::cell::design::Opened)); a cathode is taken not to swell.
pub(super) fn thickness(design: &Design, contents: &Contents, side: Side) -> StateChange {
    let t = of(design, side).thickness.value;
    let opened = &design.blueprint().opened;
    if side == Side::Cathode {
        let back = opened.cathode_spring_back;
        return StateChange::of(back.value * t, Cause::CathodeSpringBack, back.u() * t);
    }
    let metal = of(design, side).is_metal();
    // A metal is plated and stripped: nothing was pressed.
    let stays = if metal { Uncertain::exact(0.0) } else { opened.anode_spring_back };
    let (grown, unsure) = match design.blueprint().swelling {
        Some(swelling) => {
            let strain = swelling.strain * contents.filled;
            (opened.swelling.value * strain, opened.swelling.u() * strain)
        }
        None => (0.0, UNSAID * contents.filled),
    };
    let u = (stays.u() * stays.u() + unsure * unsure).sqrt();
    StateChange::of((stays.value + grown) * t, Cause::AnodeSpringBack, u * t)
}

/// What a unit of coated area gains in mass, kg/m².
///
/// # Formula
/// Anode: `(q·M + l·m)/(F·A)`, q the charge in its host and M the molar mass of lithium, l the charge in the film and m the film's
/// mass for a mole ([`per_mole`]), A the facing area. Cathode: `−q·M/(F·A)` of what it has given. Besides, what the
/// source of a prelithiation left there, and what its pores hold.
pub(super) fn loading(
    design: &Design,
    contents: &Contents,
    side: Side,
    ion: Ion,
    in_pores: Option<Pores>,
) -> StateChange {
    let lithium = |charge: f64| charge * film::metal(ion) / (FARADAY * contents.area);
    let grown = match side {
        Side::Anode => {
            let film = per_mole(&design.blueprint().opened, ion);
            let of_film = |mass: f64| contents.film * mass / (FARADAY * contents.area);
            StateChange::of(lithium(contents.anode) + of_film(film.value), Cause::Film, of_film(film.u()))
        }
        Side::Cathode => StateChange::of(-lithium(contents.cathode), Cause::Film, 0.0),
    };
    let left = match &design.blueprint().prelithiation {
        Some(p) if p.source.in_cathode == (side == Side::Cathode) => {
            (p.mass.value - p.areal.value * film::metal(ion) / FARADAY).max(0.0)
        }
        _ => 0.0,
    };
    let held = pores::held(design, open(design, contents, side, ion), in_pores);
    grown.and(held).and(StateChange::exact(left))
}

/// Pores of a unit of coated area, m: the room of the thicker coating less its solid and its film.
fn open(design: &Design, contents: &Contents, side: Side, ion: Ion) -> f64 {
    let electrode = of(design, side);
    let t = electrode.thickness.value;
    let solid = (1.0 - electrode.porosity().value) * t;
    let swollen = match (side, design.blueprint().swelling) {
        (Side::Anode, Some(swelling)) => swelling.strain * contents.filled * t,
        _ => 0.0,
    };
    t + thickness(design, contents, side).by - swollen - solid - film_depth(design, contents, side, ion)
}

/// Volume of film on a unit of coated area, m.
fn film_depth(design: &Design, contents: &Contents, side: Side, ion: Ion) -> f64 {
    match side {
        Side::Anode => {
            contents.film * per_mole(&design.blueprint().opened, ion).value
                / (FARADAY * contents.area * film::DENSITY)
        }
        Side::Cathode => 0.0,
    }
}

/// What porosity gains.
///
/// # Formula
/// Pores `p = t′ − s` over thickness t′, less what they were over what it was; s is the solid with what lithium and film
/// add to it. What is not known of t′ moves it by `s/t′²`.
pub(super) fn porosity(design: &Design, contents: &Contents, side: Side, ion: Ion) -> StateChange {
    let electrode = of(design, side);
    let grown = thickness(design, contents, side);
    let thick = electrode.thickness.value + grown.by;
    let pores = open(design, contents, side, ion);
    let by = pores / thick - electrode.porosity().value;
    let mut change = grown.times((thick - pores) / (thick * thick));
    change.by = by;
    let film = film_depth(design, contents, side, ion) / thick;
    let mass = per_mole(&design.blueprint().opened, ion);
    change.and(StateChange::of(0.0, Cause::Film, film * mass.u() / mass.value))
}
