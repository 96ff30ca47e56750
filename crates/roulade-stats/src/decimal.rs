//! Decimal text to the nearest number, as the standard library reads it.
//!
//! The standard library does so with a table of powers of five that is 10 kB of the page and cannot be compressed. Numbers that
//! people write are found here without one, all others by whole numbers of any length.

use std::cmp::Ordering;

/// More digits than lie between a number and the middle to the next: what follows can only break a tie.
const MOST_DIGITS: usize = 800;
/// Digits, and the power of ten behind them, of numbers that 128 bits are enough for.
const MOST_SHORT: usize = 19;
const MOST_POWER: u32 = 27;
/// Place of the last bit of the smallest number above zero.
const LOWEST: i64 = -1074;

/// The number nearest to a decimal text, ties to even; `None` where `text.parse::<f64>()` fails.
///
/// ```
/// use roulade_stats::decimal::number;
/// assert_eq!(number("-1.25e-3"), Some(-0.001_25));
/// assert_eq!(number("1e999"), Some(f64::INFINITY));
/// assert_eq!(number("1,5"), None);
/// ```
pub fn number(text: &str) -> Option<f64> {
    let unsigned = text.strip_prefix(['-', '+']).unwrap_or(text);
    let is = |word: &str| unsigned.eq_ignore_ascii_case(word);
    let size = if is("inf") || is("infinity") {
        f64::INFINITY
    } else if is("nan") {
        f64::NAN
    } else {
        size(unsigned)?
    };
    Some(if text.starts_with('-') { -size } else { size })
}

fn size(text: &str) -> Option<f64> {
    let (mantissa, power) = match text.split_once(['e', 'E']) {
        Some((mantissa, power)) => (mantissa, exponent(power)?),
        None => (text, 0),
    };
    let (whole, decimals) = mantissa.split_once('.').unwrap_or((mantissa, ""));
    let written = || whole.bytes().chain(decimals.bytes());
    if written().next().is_none() || !written().all(|c| c.is_ascii_digit()) {
        return None;
    }
    let digits = || written().map(|c| c - b'0').skip_while(|digit| *digit == 0);
    let count = digits().count();
    // The power of ten of the last digit.
    let last = power.saturating_sub_unsigned(decimals.len() as u64);
    let point = last.saturating_add_unsigned(count as u64);
    if count == 0 || point < -330 {
        return Some(0.0);
    }
    if count <= MOST_SHORT {
        let short = near(digits().fold(0, |all, digit| 10 * all + u64::from(digit)), last);
        if short.is_some() {
            return short;
        }
    }
    if point > 310 {
        return Some(f64::INFINITY);
    }
    let mut above = Whole::default();
    digits().take(MOST_DIGITS).for_each(|digit| above.times_and(10, digit.into()));
    let mut last = point.saturating_sub_unsigned(count.min(MOST_DIGITS) as u64);
    if digits().skip(MOST_DIGITS).any(|digit| digit > 0) {
        above.times_and(10, 1);
        last -= 1;
    }
    let mut below = Whole(vec![1]);
    let scaled = if last < 0 { &mut below } else { &mut above };
    (0..last.unsigned_abs()).for_each(|_| scaled.times_and(10, 0));
    Some(quotient(above, below))
}

/// Digits above zero times a power of ten, where 128 bits are enough to find the nearest.
fn near(digits: u64, power: i64) -> Option<f64> {
    let ten = u32::try_from(power.unsigned_abs()).ok().filter(|power| *power <= MOST_POWER)?;
    // Ten is five times two, and twos only move the point.
    let five = 5_u64.pow(ten);
    let twos = |power: u32| f64::from_bits(u64::from(1023 - power) << 52);
    if power >= 0 {
        return Some((u128::from(digits) * u128::from(five)) as f64 / twos(ten));
    }
    // At least 60 bits, the last of which tells whether more would follow: rounded once, to the nearest.
    let scale = (60 + digits.leading_zeros()).saturating_sub(five.leading_zeros());
    let above = u128::from(digits) << scale;
    let whole = above / u128::from(five);
    let bits = whole | u128::from(whole * u128::from(five) != above);
    Some(bits as f64 * twos(scale + ten))
}

/// The whole number behind "e", with or without a sign; what is beyond all numbers stays beyond them.
fn exponent(text: &str) -> Option<i64> {
    let digits = text.strip_prefix(['-', '+']).unwrap_or(text);
    if digits.is_empty() || !digits.bytes().all(|c| c.is_ascii_digit()) {
        return None;
    }
    let size =
        digits.bytes().fold(0_i64, |all, c| all.saturating_mul(10).saturating_add(i64::from(c - b'0')));
    Some(if text.starts_with('-') { -size } else { size })
}

/// The number nearest to the quotient of two numbers above zero.
fn quotient(mut above: Whole, mut below: Whole) -> f64 {
    // Places of the first bit and of the last that is kept.
    let mut first = 0_i64.saturating_add_unsigned(above.bits()).saturating_sub_unsigned(below.bits());
    let scaled = if first < 0 { &mut above } else { &mut below };
    scaled.shift(first.unsigned_abs());
    if above.cmp(&below) == Ordering::Less {
        first -= 1;
        above.shift(1);
    }
    let last = (first - 52).max(LOWEST);
    if first < last {
        // Half of the smallest number or less, to which it rounds only from beyond the half.
        let more = first == last - 1 && above.cmp(&below) == Ordering::Greater;
        return f64::from_bits(u64::from(more));
    }
    let mut bits = 0_u64;
    for _ in last..=first {
        bits <<= 1;
        if above.cmp(&below) != Ordering::Less {
            above.subtract(&below);
            bits |= 1;
        }
        above.shift(1);
    }
    // What is left has been doubled: against the divisor it is what a half is to one.
    match above.cmp(&below) {
        Ordering::Greater => bits += 1,
        Ordering::Equal => bits += bits & 1,
        Ordering::Less => {}
    }
    // A carry runs on into the exponent, and from the largest number into infinity.
    let all = ((last - LOWEST).unsigned_abs() << 52) + bits;
    f64::from_bits(all.min(f64::INFINITY.to_bits()))
}

/// A whole number of any length: its digits to the base 2³², the lowest first, none of the highest being zero.
#[derive(Default)]
struct Whole(Vec<u32>);

impl Whole {
    fn bits(&self) -> u64 {
        self.0.last().map_or(0, |top| 32 * self.0.len() as u64 - u64::from(top.leading_zeros()))
    }

    fn times_and(&mut self, factor: u32, more: u32) {
        let mut carry = u64::from(more);
        for digit in &mut self.0 {
            carry += u64::from(*digit) * u64::from(factor);
            (*digit, carry) = (low(carry), carry >> 32);
        }
        if carry > 0 {
            self.0.push(low(carry));
        }
    }

    /// Times two to the power of `by`.
    fn shift(&mut self, by: u64) {
        self.times_and(1 << (by % 32), 0);
        if by >= 32 {
            self.0.splice(0..0, (0..by / 32).map(|_| 0));
        }
    }

    fn cmp(&self, other: &Self) -> Ordering {
        let lengths = self.0.len().cmp(&other.0.len());
        lengths.then_with(|| self.0.iter().rev().cmp(other.0.iter().rev()))
    }

    /// Takes away what is no larger.
    fn subtract(&mut self, other: &Self) {
        let mut borrowed = 0_u64;
        for (i, digit) in self.0.iter_mut().enumerate() {
            let less = u64::from(other.0.get(i).copied().unwrap_or(0)) + borrowed;
            borrowed = u64::from(u64::from(*digit) < less);
            *digit = low((u64::from(*digit) + (borrowed << 32)) - less);
        }
        while self.0.pop_if(|top| *top == 0).is_some() {}
    }
}

#[allow(clippy::cast_possible_truncation, reason = "the lower half is what is wanted")]
const fn low(both: u64) -> u32 {
    both as u32
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn same(text: &str) {
        let theirs = text.parse::<f64>().ok();
        let mine = number(text);
        assert_eq!(mine.map(f64::to_bits), theirs.map(f64::to_bits), "{text:?}: {mine:?}, {theirs:?}");
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(2000))]

        #[test]
        fn any_number_is_read_back(bits in any::<u64>(), digits in 0..40_usize) {
            let any = f64::from_bits(bits);
            prop_assume!(!any.is_nan());
            same(&format!("{any:?}"));
            same(&format!("{any:.digits$e}"));
        }

        #[test]
        fn digits_and_powers(whole in "[0-9]{0,40}", decimals in "(\\.[0-9]{0,40})?", power in "([eE][-+]?[0-9]{1,3})?", sign in "[-+]?") {
            same(&format!("{sign}{whole}{decimals}{power}"));
        }

        #[test]
        fn short_ones(digits in 0..u64::MAX, dropped in 0..18_u32, power in -30..30) {
            same(&format!("{}e{power}", digits / 10_u64.pow(dropped)));
        }

        #[test]
        fn any_text(text in "[-+.eE0-9infaty ]{0,8}") {
            same(&text);
        }

        /// The middle between a number and the next, written out, and what lies just beside it.
        #[test]
        fn ties(bits in 0..f64::MAX.to_bits()) {
            let (low, high) = (f64::from_bits(bits), f64::from_bits(bits + 1));
            let middle = middle(low, high);
            same(&middle);
            same(&format!("{middle}0000000000001"));
            same(&middle.replacen("5e", "4999999e", 1));
        }
    }

    /// The decimals of (low + high) / 2, all of them, by the digits of both at the place where both end.
    fn middle(low: f64, high: f64) -> String {
        let [low, high] = [low, high].map(|x| format!("{x:.1075}").replace('.', ""));
        let mut sum: Vec<u8> = Vec::new();
        let mut carry = 0;
        let width = low.len().max(high.len());
        let [low, high] = [low, high].map(|x| format!("{x:0>width$}").into_bytes());
        for (a, b) in low.iter().rev().zip(high.iter().rev()) {
            let both = (a - b'0') * 5 + (b - b'0') * 5 + carry;
            sum.push(both % 10 + b'0');
            carry = both / 10;
        }
        sum.push(carry % 10 + b'0');
        sum.reverse();
        format!("{}e-1076", String::from_utf8(sum).unwrap())
    }

    #[test]
    fn the_ends() {
        let long = "1".repeat(5000);
        let ends = [
            "0",
            "-0",
            "-0.0e9",
            "5e-324",
            "4.9e-324",
            "2.47e-324",
            "2.4703282292062327e-324",
            "2.4703282292062328e-324",
            "2.5e-324",
            "2.2250738585072011e-308",
            "2.2250738585072014e-308",
            "1.7976931348623157e308",
            "1.7976931348623158e308",
            "1.7976931348623159e308",
            "1e308",
            "1e309",
            "1e-400",
            "1e99999999999999999999",
            "1e-99999999999999999999",
            "0e99999999999999999999",
            "9007199254740993",
            "9007199254740992.9999999999999",
            "",
            ".",
            "e5",
            "1e",
            "1e+",
            "5.",
            ".5",
            "+.5E+1",
            "--1",
            "+-1",
            "inf",
            "-Infinity",
            "NaN",
            "-nan",
            "infin",
            " 1",
            "1 ",
            "1_0",
            "0x1",
            "１",
        ];
        for text in ends.into_iter().chain([&*long]) {
            same(text);
        }
        same(&format!("0.{}1", "0".repeat(5000)));
        same(&format!("0.{}1e5000", "0".repeat(5000)));
        same(&format!("9007199254740993.{}1", "0".repeat(2000)));
    }
}
