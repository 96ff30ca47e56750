//! The size of a can by its name, and what that name leaves open.

use crate::quantity::problem::{Problem, shortened};
use roulade_stats::uncertain::Uncertain;

/// Diameter and height by which a size is named, whole millimetres.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Size {
    /// Diameter, mm.
    pub(crate) diameter: u32,
    /// Height, mm.
    pub(crate) height: u32,
}

/// The outside of a can of which only the size's name is known, m.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct OuterSize {
    pub(crate) diameter: Uncertain,
    pub(crate) height: Uncertain,
}

/// Where the real sizes come from.
pub(crate) const SOURCE: &str = "cans are wider than their size's name by some tenths of a millimetre: 17.8 to 18.5 mm and 64.1 \
     to 65.5 mm for 18 × 65 (IEC 61960-3, from memory; suppliers' pages); up to 7 % of volume above the name at 18 mm, up to \
     10 % at 21 mm (web reference on cell hardware)";

impl Size {
    /// Reads "18 × 65" or "18x65", with or without "mm", and "18650" or "1865".
    ///
    /// # Errors
    /// Where it is neither, or no can has that size.
    pub(crate) fn read(text: &str, place: &str) -> Result<Self, Problem> {
        let expected = "a size as diameter × height in whole millimetres, for example \"18 × 65\", \"46x80\" or \"21700\"";
        let bare = text.trim().trim_end_matches("mm").trim();
        let sides = bare.split_once(['×', 'x', 'X']).and_then(|(diameter, height)| {
            let whole = |side: &str| side.trim().trim_end_matches("mm").trim().parse::<u32>().ok();
            Some(Self { diameter: whole(diameter)?, height: whole(height)? })
        });
        match sides.or_else(|| Self::run_together(bare)) {
            Some(size) if (5..=200).contains(&size.diameter) && (10..=500).contains(&size.height) => Ok(size),
            Some(_) => Err(Problem::new(
                place,
                format!("\"{}\", a size that no cell has", shortened(text)),
                "a diameter of 5 to 200 mm and a height of 10 to 500 mm",
            )),
            None => Err(Problem::new(
                place,
                format!("\"{}\", a size that is not understood", shortened(text)),
                expected,
            )),
        }
    }

    /// "18650", "2170" and "46120": two digits of diameter, then the height in tenths of a millimetre where five digits end in 0
    /// and that is taller than wide, or else in millimetres. No can is wider than it is tall. (common practice, no source)
    fn run_together(digits: &str) -> Option<Self> {
        if !matches!(digits.len(), 4 | 5) || !digits.bytes().all(|byte| byte.is_ascii_digit()) {
            return None;
        }
        let (diameter, height) = digits.split_at_checked(2)?;
        let (diameter, height) = (diameter.parse().ok()?, height.parse::<u32>().ok()?);
        let tenths = digits.len() == 5 && height % 10 == 0 && height / 10 > diameter;
        let height = if tenths { height / 10 } else { height };
        (height > diameter).then_some(Self { diameter, height })
    }

    /// What cans that are called so measure: wider by 0.2 mm and taller by 0.1 mm, with the scatter of what was read for
    /// 18 × 65, growing with the square root of the size.
    pub(crate) fn outer(self) -> OuterSize {
        let (diameter, height) = (f64::from(self.diameter), f64::from(self.height));
        let of = |side: f64, more: f64, u: f64| Uncertain::standard(1e-3 * (side + more), 1e-3 * u);
        OuterSize {
            diameter: of(diameter, 0.2, 0.15 * (diameter / 18.0).sqrt()),
            height: of(height, 0.1, 0.25 * (height / 65.0).sqrt()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sizes_are_read_as_the_trade_writes_them() {
        for text in ["18 × 65", "18x65", " 18 X 65 mm", "18 mm × 65 mm"] {
            assert_eq!(Size::read(text, "can.size"), Ok(Size { diameter: 18, height: 65 }), "{text}");
        }
        for (text, diameter, height) in [
            ("18650", 18, 65),
            ("21700 mm", 21, 70),
            ("4680", 46, 80),
            ("46120", 46, 120),
            ("40135", 40, 135),
            ("10440", 10, 44),
        ] {
            assert_eq!(Size::read(text, "can.size"), Ok(Size { diameter, height }), "{text}");
        }
        for (text, found) in [
            ("186500", "\"186500\", a size that is not understood"),
            ("4800", "\"4800\", a size that is not understood"),
            ("46,80", "not understood"),
            ("18.5 × 65", "not understood"),
            ("1 × 65", "a size that no cell has"),
            ("", "not understood"),
        ] {
            let problem = Size::read(text, "can.size").unwrap_err().to_string();
            assert!(problem.contains(found) && problem.starts_with("can.size: "), "{text}: {problem}");
        }
    }

    /// The ranges of the source within two standard deviations, and its volumes.
    #[test]
    fn real_sizes_hold_the_published_ranges() {
        let outer = Size { diameter: 18, height: 65 }.outer();
        let within =
            |uncertain: &Uncertain, mm: f64| (1e3 * uncertain.value - mm).abs() <= 2.7e3 * uncertain.u();
        assert!([17.8, 18.15, 18.5].iter().all(|mm| within(&outer.diameter, *mm)));
        assert!([64.5, 65.5].iter().all(|mm| within(&outer.height, *mm)));
    }
}
