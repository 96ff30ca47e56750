//! The spellings under which a unit is known.

use crate::quantity::units::{Dimension, Unit};

/// The unit `text` stands for, in the trade's symbols or in plain ASCII: `µm` or `um`, `cm²`, `cm2` or `cm^2`,
/// `mΩ` or `mOhm`, `L` or `l`, `mg/cm²` or `mg cm⁻²`.
pub(super) fn find(text: &str) -> Option<Unit> {
    let units = Unit::ALL.iter().copied().filter(|unit| *unit != Unit::One);
    if let Some(unit) = units.clone().find(|unit| unit.symbol() == text) {
        return Some(unit);
    }
    let folded = fold(text);
    let spelled = |word: &str| units.clone().find(|unit| spells(unit.symbol(), word));
    if folded == "turn" { Some(Unit::Turn) } else { spelled(&folded).or_else(|| spelled(&quotient(&folded))) }
}

/// The unit of `dimension` that was probably meant: written in other capitals, or with one slip of the keys.
pub(super) fn nearest(text: &str, dimension: Dimension) -> Option<Unit> {
    let word: Vec<char> = quotient(&fold(text)).to_ascii_lowercase().chars().collect();
    let slips_allowed = usize::from(word.len() > 1);
    Unit::ALL
        .iter()
        .copied()
        .filter(|unit| unit.dimension() == dimension && *unit != Unit::One && word.len() < 16)
        .map(|unit| {
            let symbol: Vec<char> = fold(unit.symbol()).to_ascii_lowercase().chars().collect();
            (slips(&word, &symbol), unit)
        })
        .filter(|(slips, _)| *slips <= slips_allowed)
        .min_by_key(|(slips, _)| *slips)
        .map(|(_, unit)| unit)
}

/// One ASCII form for every way of writing the same symbol.
fn fold(text: &str) -> String {
    let mut folded = String::with_capacity(text.len());
    for c in text.chars() {
        match plain(c) {
            Some(plain) => folded.push_str(plain),
            None => folded.push(c),
        }
    }
    if folded.contains('^') {
        folded = folded.replace("^2", "2").replace("^3", "3").replace("^-", "-");
    }
    if folded.contains("ohm") {
        folded = folded.replace("ohm", "Ohm");
    }
    if folded.ends_with('l') {
        folded.pop();
        folded.push('L');
    }
    folded
}

/// The ASCII form of a sign that has one.
fn plain(sign: char) -> Option<&'static str> {
    Some(match sign {
        'µ' | 'μ' => "u",
        '\u{3a9}' | '\u{2126}' => "Ohm",
        '¹' => "1",
        '²' => "2",
        '³' => "3",
        '⁻' => "-",
        '·' => " ",
        '℃' => "°C",
        // The ordinal and the ring that keyboards offer for a degree.
        'º' | '˚' => "°",
        _ => return None,
    })
}

/// Whether a symbol of the trade, folded, is this word; tried for every unit, and so without writing it down.
fn spells(symbol: &str, word: &str) -> bool {
    let (symbol, mut rest) = match (symbol.strip_suffix(['l', 'L']), word.strip_suffix('L')) {
        (Some(symbol), Some(word)) => (symbol, word),
        (None, None) => (symbol, word),
        _ => return false,
    };
    for sign in symbol.chars() {
        let after = plain(sign).map_or_else(|| rest.strip_prefix(sign), |plain| rest.strip_prefix(plain));
        let Some(after) = after else { return false };
        rest = after;
    }
    rest.is_empty()
}

/// `a / b` and `a b-2` as `a/b` and `a/b2`.
fn quotient(folded: &str) -> String {
    let parts: Vec<_> = folded.split('/').map(str::trim).collect();
    let joined = parts.join("/");
    let Some((above, below)) = joined.split_once(char::is_whitespace) else { return joined };
    match below.trim_start().split_once('-') {
        Some((unit, "1")) => fold(&format!("{above}/{unit}")),
        Some((unit, power @ ("2" | "3"))) => format!("{above}/{unit}{power}"),
        _ => joined,
    }
}

/// Fewest characters to put in, leave out or exchange to turn one word into the other (Levenshtein's distance).
fn slips(from: &[char], to: &[char]) -> usize {
    let mut above: Vec<usize> = (0..=to.len()).collect();
    for (i, a) in from.iter().enumerate() {
        let mut left = i + 1;
        let mut row = vec![left];
        for (b, pair) in to.iter().zip(above.windows(2)) {
            let &[diagonal, up] = pair else { continue };
            left = (left + 1).min(up + 1).min(diagonal + usize::from(a != b));
            row.push(left);
        }
        above = row;
    }
    above.last().copied().unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_symbol_is_its_own_spelling() {
        for unit in Unit::ALL.iter().copied() {
            assert_eq!(find(unit.symbol()), (unit != Unit::One).then_some(unit));
            assert!(spells(unit.symbol(), &fold(unit.symbol())), "{unit:?}");
        }
    }

    #[test]
    fn every_accepted_spelling() {
        use Unit::*;
        for (unit, spellings) in [
            (Micrometre, "um|\u{b5}m|\u{3bc}m"),
            (SquareMillimetre, "mm2|mm^2"),
            (SquareCentimetre, "cm2|cm^2"),
            (SquareMetre, "m2|m^2"),
            (CubicCentimetre, "cm3|cm^3"),
            (CubicMillimetre, "mm3|mm^3"),
            (Millilitre, "ml"),
            (Litre, "l"),
            (GramPerCubicCentimetre, "g/cm3|g/cm^3|g / cm³|g cm⁻³"),
            (KilogramPerCubicMetre, "kg/m3|kg m-3"),
            (MilligramPerSquareCentimetre, "mg/cm2|mg/cm^2|mg cm⁻²|mg cm-2|mg·cm^-2"),
            (GramPerSquareMetre, "g/m2|g m⁻²"),
            (MilliampereHourPerGram, "mAh g⁻¹|mAh g-1"),
            (MilliampereHourPerSquareCentimetre, "mAh/cm2|mAh cm⁻²"),
            (WattHourPerLitre, "Wh/l|Wh L⁻¹|Wh l⁻¹"),
            (WattHourPerKilogram, "Wh kg⁻¹"),
            (Milliohm, "mOhm|mohm|m\u{3a9}|m\u{2126}"),
            (Ohm, "Ohm|ohm|\u{3a9}|\u{2126}"),
            (Turn, "turn"),
        ] {
            for spelling in spellings.split('|') {
                assert_eq!(find(spelling), Some(unit), "{spelling}");
            }
        }
        for other in ["", "MM", "Mg", "mv", "m 2", "cm-2", "1", "g/", "mg cm-4", "mm mm"] {
            assert_eq!(find(other), None, "{other}");
        }
    }

    #[test]
    fn what_was_probably_meant() {
        assert_eq!(nearest("MM", Dimension::Length), Some(Unit::Millimetre));
        assert_eq!(nearest("µmm", Dimension::Length), Some(Unit::Millimetre));
        assert_eq!(nearest("mg/cm", Dimension::Loading), Some(Unit::MilligramPerSquareCentimetre));
        assert_eq!(nearest("mah/g", Dimension::SpecificCapacity), Some(Unit::MilliampereHourPerGram));
        assert_eq!(nearest("v", Dimension::Voltage), Some(Unit::Volt));
        assert_eq!(nearest("x", Dimension::Voltage), None);
        assert_eq!(nearest("parsec", Dimension::Length), None);
    }

    #[test]
    fn slips_are_counted() {
        // The textbook pair of words (from memory): three changes.
        let chars = |word: &str| word.chars().collect::<Vec<_>>();
        assert_eq!(slips(&chars("kitten"), &chars("sitting")), 3);
        assert_eq!(slips(&[], &chars("mm")), 2);
        assert_eq!(slips(&chars("mm"), &[]), 2);
    }
}
