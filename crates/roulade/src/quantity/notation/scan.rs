//! The pieces of a typed quantity: numbers, marks and units, taken from the front of a text.

use super::complaint::Fault;
use super::spelling;
use crate::quantity::units::Unit;

/// What joins two numbers.
#[derive(Clone, Copy)]
pub(super) enum Link {
    None,
    PlusMinus,
    To,
}

/// A number as written, with the uncertainty in parentheses behind it.
pub(super) struct Number {
    pub(super) value: f64,
    pub(super) u: Option<f64>,
}

/// What is still to be read.
pub(super) struct Scanner<'a> {
    pub(super) rest: &'a str,
}

impl<'a> Scanner<'a> {
    /// Takes `mark` if it comes next, after any spaces.
    pub(super) fn eat(&mut self, mark: &str) -> bool {
        self.rest = self.rest.trim_start();
        self.eat_here(mark)
    }

    /// Takes `mark` if it comes next.
    fn eat_here(&mut self, mark: &str) -> bool {
        let stripped = self.rest.strip_prefix(mark);
        self.rest = stripped.unwrap_or(self.rest);
        stripped.is_some()
    }

    /// Takes everything up to `end`.
    fn take(&mut self, end: usize) -> &'a str {
        let (taken, rest) = self.rest.split_at_checked(end).unwrap_or((self.rest, ""));
        self.rest = rest;
        taken
    }

    fn digits(&mut self) -> &'a str {
        self.take(self.rest.bytes().take_while(u8::is_ascii_digit).count())
    }

    pub(super) fn link(&mut self) -> Link {
        if self.eat("±") {
            Link::PlusMinus
        } else if self.eat("..") {
            Link::To
        } else {
            Link::None
        }
    }

    /// A number, which follows `mark`.
    pub(super) fn number(&mut self, mark: &'static str) -> Result<Number, Fault<'a>> {
        // "60 ... 75" could be read as a bound of .75.
        if mark == ".." && self.rest.starts_with('.') {
            return Err(Fault::NoNumber(mark));
        }
        let sign = if self.eat("-") { "-" } else { "" };
        if sign.is_empty() {
            self.eat_here("+");
        }
        let begin = self.rest;
        let whole = self.digits();
        let point = !self.rest.starts_with("..") && self.eat_here(".");
        let decimals = if point { self.digits() } else { "" };
        if self.rest.strip_prefix(',').is_some_and(|after| after.starts_with(|c: char| c.is_ascii_digit())) {
            return Err(Fault::Comma);
        }
        if whole.is_empty() && decimals.is_empty() {
            let word: String =
                self.rest.chars().take_while(|c| c.is_ascii_alphabetic() || *c == '∞').collect();
            let endless = ["nan", "inf", "infinity", "∞"].contains(&word.to_ascii_lowercase().as_str());
            return Err(if endless { Fault::NotFinite } else { Fault::NoNumber(mark) });
        }
        let digits = before(begin, self.rest);
        let bracket = self.bracket();
        let exponent = self.exponent();
        let size = match bracket {
            // In one piece.
            None => decimal(before(begin, self.rest)),
            Some(_) => decimal(&format!("{digits}{exponent}")),
        };
        let u = bracket.map(|digits| {
            if digits.contains('.') {
                return decimal(&format!("{digits}{exponent}"));
            }
            // As many decimals as the value has.
            let padded = "0".repeat(decimals.len()) + digits;
            let (whole, decimals) = padded.split_at_checked(digits.len()).unwrap_or((&padded, ""));
            decimal(&format!("{whole}.{decimals}{exponent}"))
        });
        let value = if sign.is_empty() { size } else { -size };
        if !(value.is_finite() && u.unwrap_or(0.0).is_finite()) {
            return Err(Fault::Beyond);
        }
        Ok(Number { value, u })
    }

    /// The digits of "(10)", if they stand right behind a number.
    fn bracket(&mut self) -> Option<&'a str> {
        let (inside, rest) = self.rest.strip_prefix('(')?.split_once(')')?;
        let inside = inside.trim();
        let point_or_digit = |c: char| c.is_ascii_digit() || c == '.';
        let fits = inside.contains(|c: char| c.is_ascii_digit())
            && inside.chars().all(point_or_digit)
            && inside.matches('.').count() < 2;
        if fits {
            self.rest = rest;
        }
        fits.then_some(inside)
    }

    /// "e-3", or nothing.
    fn exponent(&mut self) -> &'a str {
        let Some(after) = self.rest.strip_prefix(['e', 'E']) else { return "" };
        let unsigned = after.strip_prefix(['-', '+']).unwrap_or(after);
        let digits = unsigned.find(|c: char| !c.is_ascii_digit()).unwrap_or(unsigned.len());
        if digits == 0 { "" } else { self.take(self.rest.len() - unsigned.len() + digits) }
    }

    /// A unit, which reaches to the next mark.
    pub(super) fn unit(&mut self) -> Result<Option<Unit>, Fault<'a>> {
        self.rest = self.rest.trim_start();
        let end = self.rest.find(['±', '(', ')']).unwrap_or(self.rest.len());
        let dots = self.rest.bytes().zip(self.rest.bytes().skip(1)).position(|pair| pair == (b'.', b'.'));
        let end = dots.unwrap_or(end).min(end);
        let text = self.rest.get(..end).unwrap_or_default().trim_end();
        if text.is_empty() {
            return Ok(None);
        }
        if let Some(unit) = spelling::find(text) {
            self.take(end);
            return Ok(Some(unit));
        }
        let dashed = |text: &str| text.starts_with(['-', '–', '—', '‒', '‐', '‑']);
        if dashed(text) {
            return Err(Fault::Dash);
        }
        if text.starts_with(|c: char| c.is_ascii_digit() || c == '.') {
            return Err(Fault::LeftOver(self.rest));
        }
        match text.split_once(|c: char| c.is_whitespace() || c == ',') {
            Some((word, more)) if spelling::find(word).is_some() => {
                Err(if dashed(more.trim_start()) { Fault::Dash } else { Fault::LeftOver(more.trim_start()) })
            }
            _ => Err(Fault::UnknownUnit(text)),
        }
    }
}

/// What stands before the `rest` of a text.
fn before<'a>(text: &'a str, rest: &str) -> &'a str {
    text.split_at_checked(text.len() - rest.len()).map_or("", |(before, _)| before)
}

/// Digits with a point among them, read to the nearest number; not finite where they overflow.
fn decimal(text: &str) -> f64 {
    roulade_stats::decimal::number(text).unwrap_or(f64::NAN)
}
