//! With a sleeve and without.

use crate::study::claim::{Basis, Check, Claim, Said};
use crate::test_support::draft;
use approx::assert_relative_eq;
use roulade_stats::executor::alone;
use serde_json::json;
use std::f64::consts::PI;

/// A sleeve of 80 µm counts or not as the sheet says; a claim with it, and one without, mean the same of both.
#[test]
fn a_sleeve_is_in_or_out_of_mass_and_volume() {
    let weighed = |text: &str, counts: &str| {
        let sheet = draft(&[("sleeve", json!({ "thickness": "80 µm", "counts": counts }))]);
        let claim = Claim::read(&Said::Words(text.to_owned())).unwrap();
        Check::of(claim, sheet, None, (50, 1), &alone()).unwrap()
    };
    let on = |text: &str, counts: &str, basis: Basis| {
        let check = weighed(text, counts);
        check.bases.iter().find(|on| on.on.basis == basis).map(|on| on.best)
    };
    let film = 1.365e-3 * PI * 0.08 * (46.08 * 95.16 + 2.0 * 43.5 * 2.5);
    let wider = 46.16 * 46.16 * 95.16 / (46.0 * 46.0 * 95.0);
    let mass = |counts, basis| 1e3 * on("at most 1 kg", counts, basis).unwrap();
    let bare = mass("no", Basis::Cell);
    for (text, with) in [
        ("at most 1 kg", 1.0 + film / bare),
        ("at least 1 Wh/kg", bare / (bare + film)),
        ("at least 1 Wh/L", 1.0 / wider),
    ] {
        let (out, within) = (on(text, "no", Basis::Cell).unwrap(), on(text, "yes", Basis::Cell).unwrap());
        assert_relative_eq!(within, with * out, max_relative = 1e-9);
        for counts in ["no", "yes"] {
            assert_relative_eq!(on(text, counts, Basis::Sleeved).unwrap(), within, max_relative = 1e-9);
        }
        assert_relative_eq!(on(text, "yes", Basis::Bare).unwrap(), out, max_relative = 1e-9);
        assert!(on(text, "no", Basis::Bare).is_none());
    }
    // Said in the claim, it is what the claim is weighed on.
    let said = |text: &str| weighed(text, "yes").best;
    assert_relative_eq!(1e3 * said("at most 1 kg without sleeve"), bare, max_relative = 1e-9);
    assert_relative_eq!(1e3 * said("at most 1 kg with sleeve"), bare + film, max_relative = 1e-9);
}
