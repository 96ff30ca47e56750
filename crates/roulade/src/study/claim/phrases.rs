//! The phrases of a claim and what each means.

use super::basis::Basis;
use super::declared::{Relation, Standing};
use crate::cell::figures::{Definition, FIGURES};
use Meaning::{Between, ChargedTo, DownTo, Figure, Load, Nothing, Over};

/// What a phrase means.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Meaning {
    Relation(Relation),
    Figure(&'static str),
    Over(f64),
    Basis(Basis),
    /// Under load, or at open circuit.
    Load(bool),
    /// Limits of the voltage follow.
    Between,
    /// The limit of charge follows.
    ChargedTo,
    /// The limit of discharge follows.
    DownTo,
    Standing(Standing),
    /// Says nothing that is not said elsewhere.
    Nothing,
}

pub(super) const PHRASES: &[(&str, Meaning)] = &[
    ("at least", Meaning::Relation(Relation::AtLeast)),
    ("no less than", Meaning::Relation(Relation::AtLeast)),
    ("not less than", Meaning::Relation(Relation::AtLeast)),
    ("more than", Meaning::Relation(Relation::AtLeast)),
    (">=", Meaning::Relation(Relation::AtLeast)),
    ("≥", Meaning::Relation(Relation::AtLeast)),
    ("at most", Meaning::Relation(Relation::AtMost)),
    ("no more than", Meaning::Relation(Relation::AtMost)),
    ("not more than", Meaning::Relation(Relation::AtMost)),
    ("less than", Meaning::Relation(Relation::AtMost)),
    ("<=", Meaning::Relation(Relation::AtMost)),
    ("≤", Meaning::Relation(Relation::AtMost)),
    ("about", Meaning::Relation(Relation::About)),
    ("approximately", Meaning::Relation(Relation::About)),
    ("roughly", Meaning::Relation(Relation::About)),
    ("~", Meaning::Relation(Relation::About)),
    ("≈", Meaning::Relation(Relation::About)),
    ("=", Meaning::Relation(Relation::About)),
    ("per volume", Figure("volumetric")),
    ("volumetric", Figure("volumetric")),
    ("per litre", Figure("volumetric")),
    ("per liter", Figure("volumetric")),
    ("per mass", Figure("gravimetric")),
    ("gravimetric", Figure("gravimetric")),
    ("per kilogram", Figure("gravimetric")),
    ("specific energy", Figure("gravimetric")),
    ("gravimetric energy density", Figure("gravimetric")),
    ("volumetric energy density", Figure("volumetric")),
    ("energy", Figure("energy")),
    ("energy at open circuit", Figure("energy")),
    ("resistance", Figure("resistance")),
    ("internal resistance", Figure("resistance")),
    ("mass", Figure("mass")),
    ("weight", Figure("mass")),
    ("nominal capacity", Figure("capacity")),
    ("rated capacity", Figure("capacity")),
    ("nominal energy", Figure("energy")),
    ("rated energy", Figure("energy")),
    ("voltage", Figure("mean_voltage")),
    ("nominal voltage", Figure("mean_voltage")),
    ("continuous current", Figure("continuous_current")),
    ("cycle current", Figure("continuous_current")),
    ("maximum continuous current", Figure("continuous_current")),
    ("maximum continuous discharge current", Figure("continuous_current")),
    ("max. continuous discharge current", Figure("continuous_current")),
    ("max. continuous current", Figure("continuous_current")),
    ("continuous discharge", Figure("continuous_current")),
    ("continuous", Figure("continuous_current")),
    ("minimum", Meaning::Standing(Standing::Minimum)),
    ("min.", Meaning::Standing(Standing::Minimum)),
    ("typical", Meaning::Standing(Standing::Typical)),
    ("typ.", Meaning::Standing(Standing::Typical)),
    ("maximum", Meaning::Relation(Relation::AtMost)),
    ("max.", Meaning::Relation(Relation::AtMost)),
    ("charged to", ChargedTo),
    ("charge to", ChargedTo),
    ("down to", DownTo),
    ("discharged to", DownTo),
    ("with sleeve", Meaning::Basis(Basis::Sleeved)),
    ("with its sleeve", Meaning::Basis(Basis::Sleeved)),
    ("cell with sleeve", Meaning::Basis(Basis::Sleeved)),
    ("without sleeve", Meaning::Basis(Basis::Bare)),
    ("cell without sleeve", Meaning::Basis(Basis::Bare)),
    ("over the other cell", Over(1.0)),
    ("over the other", Over(1.0)),
    ("above the other cell", Over(1.0)),
    ("more than the other cell", Over(1.0)),
    ("higher than the other cell", Over(1.0)),
    ("below the other cell", Over(-1.0)),
    ("less than the other cell", Over(-1.0)),
    ("lower than the other cell", Over(-1.0)),
    ("cell", Meaning::Basis(Basis::Cell)),
    ("cell level", Meaning::Basis(Basis::Cell)),
    ("nominal size", Meaning::Basis(Basis::Nominal)),
    ("inside of the can", Meaning::Basis(Basis::Inside)),
    ("roll", Meaning::Basis(Basis::Roll)),
    ("jelly roll", Meaning::Basis(Basis::Roll)),
    ("jelly roll only", Meaning::Basis(Basis::Roll)),
    ("roll only", Meaning::Basis(Basis::Roll)),
    ("roll alone", Meaning::Basis(Basis::Roll)),
    ("between", Between),
    ("from", Between),
    ("energy density", Nothing),
    ("open circuit", Load(false)),
    ("at open circuit", Load(false)),
    ("under load", Load(true)),
    ("loaded", Load(true)),
    ("at", Nothing),
    ("and", Nothing),
    ("the", Nothing),
    ("of", Nothing),
    ("of the", Nothing),
    ("for the", Nothing),
    ("over the", Nothing),
    ("in the", Nothing),
    ("is", Nothing),
    ("a", Nothing),
];

/// Longest phrase, words.
pub(super) const LONGEST: usize = 8;

pub(super) fn meaning(phrase: &str) -> Option<Meaning> {
    let listed = PHRASES.iter().find(|(words, _)| *words == phrase).map(|(_, meaning)| *meaning);
    listed.or_else(|| {
        let named = |figure: &&Definition| {
            figure.id == phrase || figure.name().to_lowercase().replace(',', "") == phrase
        };
        FIGURES.iter().find(named).map(|figure| Figure(figure.id))
    })
}

/// Whether a phrase begins with this word; one that follows a number and begins none is meant as its unit.
pub(super) fn begins_phrase(word: &str) -> bool {
    let word = word.to_lowercase();
    let begins = |phrase: &str| phrase.split([' ', ',']).next() == Some(&word);
    PHRASES.iter().any(|(phrase, _)| begins(phrase))
        || FIGURES.iter().any(|figure| begins(figure.id) || begins(&figure.label.to_lowercase()))
}
