//! Texts that go through a spreadsheet and come back.

use roulade_stats::decimal;
use std::borrow::Cow;

/// What a spreadsheet takes for the beginning of a formula.
const FORMULA: [char; 4] = ['=', '+', '-', '@'];

/// A text that a spreadsheet would take for a formula is given an apostrophe in front, which spreadsheets take for text; a
/// number stays one.
///
/// ```
/// use roulade::quantity::spreadsheet::{disarmed, undisarmed};
/// assert_eq!(disarmed("=1+1"), "'=1+1");
/// assert_eq!(disarmed("-3.2"), "-3.2");
/// assert_eq!(undisarmed("'=1+1"), "=1+1");
/// ```
pub fn disarmed(text: &str) -> Cow<'_, str> {
    let number = || decimal::number(text.trim()).is_some_and(f64::is_finite);
    if begins_formula(text) && !number() { Cow::Owned(format!("'{text}")) } else { Cow::Borrowed(text) }
}

/// A text without the apostrophe that kept a spreadsheet from taking it for a formula.
pub fn undisarmed(text: &str) -> &str {
    text.strip_prefix('\'').filter(|rest| begins_formula(rest)).unwrap_or(text)
}

fn begins_formula(text: &str) -> bool {
    text.trim_start().starts_with(FORMULA)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn formulas_become_text_and_numbers_stay() {
        for armed in
            ["=1+1", "+A1", "-A1", "@SUM(A1)", "-2+3", "+", "-", "-3.2 mm", "-inf", " =1", "\t=1", "\r@a"]
        {
            assert_eq!(disarmed(armed), format!("'{armed}"));
            assert_eq!(undisarmed(&disarmed(armed)), armed);
        }
        for plain in ["-3.2", "+1e-5", "-0", " -1", "1+1", "lid", "", "a=b", "'quoted'", "\u{2212}3.2 mm"] {
            assert_eq!(disarmed(plain), plain);
            assert_eq!(undisarmed(plain), plain);
        }
    }
}
