//! Texts as users, slips and attackers write them: numbers, quantities, names.

use super::luck::Luck;

const NUMBERS: &[&str] = &[
    "0",
    "-0",
    "1",
    "1e308",
    "1e-308",
    "1e-320",
    "1e16",
    "1e400",
    "-1",
    "inf",
    "NaN",
    "∞",
    "68,5",
    "1.000.000",
    "1 000",
    "0.1",
    "100",
    "5000",
    "1e-9",
    "+3",
    ".5",
    "5.",
    "1_000",
    "٤",
    "½",
    "0x10",
    "1e",
    "--1",
    "1.2.3",
    "68.0(10)",
    "1(1)",
    "99999999999999999999",
    "",
];

const UNITS: &[&str] = &[
    "mm",
    "µm",
    "um",
    "nm",
    "cm",
    "m",
    "km",
    "in",
    "mm²",
    "cm2",
    "cm3",
    "mm³",
    "L",
    "g",
    "mg",
    "kg",
    "t",
    "g/cm³",
    "g/cm3",
    "kg/m3",
    "mg/cm²",
    "mg/cm2",
    "g/m²",
    "mAh/g",
    "Ah",
    "mAh",
    "mAh/cm²",
    "V",
    "mV",
    "Wh",
    "Wh/L",
    "Wh/kg",
    "mΩ",
    "Ω",
    "mohm",
    "%",
    "‰",
    "ppm",
    "°C",
    "K",
    "C",
    "It",
    "g/Ah",
    "mS/cm",
    "Ω·cm²",
    "nΩ·m",
    "A",
    "W",
    "g/mol",
    "turns",
    "°",
    "furlong",
    "",
    "/",
    "²",
    "mm mm",
    "\u{202e}mm",
];

const LINKS: &[&str] = &[" ± ", "±", " +/- ", "+-", " .. ", "..", " - ", " to ", "±±", " (", ") ", " ", ", "];

const NAMES: &[&str] = &[
    "lid",
    "cap assembly",
    "lower collector plate",
    "gasket",
    "crimp",
    "ring",
    "upper insulator",
    "anode tab",
    "terminal",
    "\u{1b}[31mred\u{1b}[0m",
    "\u{1b}]0;title\u{7}",
    "a\u{202e}b",
    "\u{2067}lid\u{2069}",
    "\u{200f}lid",
    "lid\nlid",
    "lid\tlid",
    "\0",
    "=1+1",
    "+A1",
    "@SUM(A1)",
    "-2+3",
    "<script>alert(1)</script>",
    "<b>&amp;\"'",
    "parts[lid]",
    "lid]",
    "a.b",
    "[",
    "",
    " ",
    "  lid ",
    "Größe",
    "電池",
    "🔋",
    "null",
    "0",
    "1",
    "lid,lid",
    "lid;lid",
    "\"lid\"",
    "'lid",
    "\\",
    "\u{feff}lid",
    "name",
    "can",
    "{}",
    "%s",
    "../lid",
    "\u{85}",
    "\u{2028}",
];

/// Words with which something that is no figure could stand where one belongs; they are looked for, so no name has them.
pub(crate) fn name(luck: &mut Luck) -> String {
    match luck.below(12) {
        0 => "lid ".repeat(1 + luck.below(300)),
        1 => (0..luck.below(40)).filter_map(|_| char::from_u32(luck.below(0x3000) as u32)).collect(),
        _ => luck.pick(NAMES).to_owned(),
    }
}

pub(crate) fn unit(luck: &mut Luck) -> &'static str {
    luck.pick(UNITS)
}

/// A number as text, from ordinary to absurd.
pub(crate) fn number(luck: &mut Luck) -> String {
    match luck.below(10) {
        0..=1 => luck.pick(NUMBERS).to_owned(),
        2 => format!("{:e}", (luck.part() - 0.3) * 10_f64.powi(luck.below(40) as i32 - 20)),
        3..=5 => format!("{:.*}", luck.below(4), luck.part() * 10_f64.powi(luck.below(5) as i32)),
        6 => format!("-{:.2}", luck.part() * 10.0),
        _ => {
            let size = 1 + luck.below(12);
            luck.below(1 << size).to_string()
        }
    }
}

/// What looks like a quantity, right and wrong; in this unit mostly, where there is one.
pub(crate) fn quantity(luck: &mut Luck, usual: Option<&str>) -> String {
    let unit = match usual {
        Some(unit) if !luck.once_in(6) => unit,
        _ => unit(luck),
    };
    let first = number(luck);
    match luck.below(8) {
        0..=3 => format!("{first} {unit}"),
        4 => format!("{first}{}{} {unit}", luck.pick(LINKS), number(luck)),
        5 => format!("{first} {unit} ± {} %", number(luck)),
        6 => format!("({first} ± {}) {unit}", number(luck)),
        _ => format!("{first}{unit}{}{}{}", luck.pick(LINKS), number(luck), self::unit(luck)),
    }
}

/// A number from an ordinary one, changed by a factor, in the text of a quantity; the rest of the text stays.
pub(crate) fn scaled(text: &str, by: f64) -> Option<String> {
    let end = text.find(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | '-'))).unwrap_or(text.len());
    let (head, rest) = text.split_at(end);
    let value: f64 = head.parse().ok()?;
    Some(format!("{}{rest}", value * by))
}

/// A text with bytes changed, put in, taken out, doubled.
pub(crate) fn havoc(luck: &mut Luck, text: &str) -> String {
    let mut chars: Vec<char> = text.chars().collect();
    for _ in 0..=luck.below(4) {
        let at = luck.below(chars.len() + 1);
        match luck.below(6) {
            0 if at < chars.len() => drop(chars.remove(at)),
            1 if at < chars.len() => chars[at] = char::from(b' ' + luck.below(95) as u8),
            2 if at < chars.len() => {
                let end = (at + luck.below(20)).min(chars.len());
                chars.drain(at..end);
            }
            3 if at < chars.len() => {
                let end = (at + luck.below(20)).min(chars.len());
                let twice = chars[at..end].to_vec();
                chars.splice(at..at, twice);
            }
            4 => chars.insert(
                at,
                luck.pick(&["\"", "{", "}", "[", "]", ",", ":", "\u{1b}", "\u{202e}", "±", "\n"])
                    .chars()
                    .next()
                    .unwrap_or(' '),
            ),
            _ => chars.insert(at, char::from(b' ' + luck.below(95) as u8)),
        }
    }
    chars.into_iter().collect()
}
