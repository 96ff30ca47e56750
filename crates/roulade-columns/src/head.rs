//! Heads of the columns that vary: the key of an entry and its unit, `cathode.loading (mg/cm²)`.

use roulade::quantity::notation;
use roulade::quantity::problem::{Problem, shortened};
use roulade::quantity::units::Unit;
use roulade::sheet::defaults::{self, Field};
use roulade::sheet::former;

/// What a column holds.
#[derive(Clone, Debug)]
pub struct Head {
    /// As it is written.
    pub text: String,
    /// The key of the entry that varies, under its name of today.
    pub key: String,
    /// The quantity under that key; none for a word, such as a material.
    pub field: Option<&'static Field>,
    /// The unit of its numbers; none where every cell says its own.
    pub unit: Option<Unit>,
}

impl Head {
    /// Reads a head: a key, and in brackets a unit.
    ///
    /// # Errors
    /// Where the unit is unknown or measures something else.
    ///
    /// # Examples
    /// ```
    /// use roulade_columns::head::Head;
    /// for text in ["can.wall (mm)", "can.wall [mm]", " can.wall(mm) "] {
    ///     let head = Head::read(text).unwrap();
    ///     assert_eq!((&*head.key, head.unit.unwrap().symbol()), ("can.wall", "mm"));
    /// }
    /// let problem = Head::read("can.wall (mg)").unwrap_err();
    /// assert!(problem.to_string().contains("expected a unit of length"), "{problem}");
    /// ```
    pub fn read(text: &str) -> Result<Self, Problem> {
        let text = text.trim();
        let (key, unit) = split(text);
        let key = former::path_today(key).into_owned();
        let field = defaults::field(&without_items(&key));
        let unit = match (unit, field) {
            (None | Some(""), _) => None,
            (Some(name), Some(field)) => {
                let (words, example) = notation::dimension_words(field.unit.dimension());
                let expected = || format!("a unit of {words}, as in \"{example}\"");
                match notation::unit(name) {
                    Some(unit) if unit.dimension() == field.unit.dimension() => Some(unit),
                    Some(unit) => {
                        let other = notation::dimension_words(unit.dimension()).0;
                        return Err(Problem::new(text, format!("\"{name}\", a unit of {other}"), expected()));
                    }
                    // A plain number may be written out as such.
                    None if name == "1" && field.unit.dimension() == Unit::One.dimension() => Some(Unit::One),
                    None => {
                        let found = format!("\"{}\", a unit that is not known", shortened(name));
                        return Err(Problem::new(text, found, expected()));
                    }
                }
            }
            (Some(name), None) => {
                let found = format!("a unit, \"{}\", at a key that is no quantity", shortened(name));
                return Err(Problem::new(
                    text,
                    found,
                    "the key of a quantity of the sheet, which `roulade quantities` lists",
                ));
            }
        };
        // Fractions and counts go without a unit.
        let plain = |field: &Field| matches!(field.unit, Unit::One | Unit::Turn);
        let unit = unit.or_else(|| field.filter(|field| plain(field)).map(|field| field.unit));
        Ok(Self { text: text.to_owned(), key, field, unit })
    }

    /// The same, with numbers in the unit of the trade where no unit is said.
    #[must_use]
    pub fn in_unit_of_the_trade(mut self) -> Self {
        self.unit = self.unit.or(self.field.map(|field| field.unit));
        self
    }

    /// What would be right in its cells.
    pub fn expected(&self) -> String {
        match (self.unit, self.field) {
            (Some(unit), _) if unit.symbol().is_empty() => "a number".to_owned(),
            (Some(unit), _) => format!("a number in {}", unit.symbol()),
            (None, Some(field)) => format!(
                "a quantity with its unit, for example \"{}\", or the unit in the head, \"{} ({})\"",
                field.example(),
                self.key,
                field.unit.symbol()
            ),
            (None, None) => "a text".to_owned(),
        }
    }
}

/// Key, and what stands in the brackets at the end.
fn split(text: &str) -> (&str, Option<&str>) {
    let inside = |close, open| {
        let (key, unit) = text.strip_suffix(close)?.rsplit_once(open)?;
        Some((key.trim_end(), Some(unit.trim())))
    };
    // No key of an entry ends with a bracket: those of an item's name have a key behind them.
    inside(')', '(').or_else(|| inside(']', '[')).unwrap_or((text, None))
}

/// The path under which a quantity is listed: `parts[lid].mass` is `parts[].mass`.
fn without_items(key: &str) -> String {
    match (key.find('['), key.rfind(']')) {
        (Some(open), Some(close)) if open < close => {
            let (before, after) = (key.get(..=open), key.get(close..));
            [before.unwrap_or_default(), after.unwrap_or_default()].concat()
        }
        _ => key.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn heads_with_and_without_units() {
        let read = |text: &str| Head::read(text).unwrap();
        let head = read("parts[lid (upper)].mass [g]");
        assert_eq!((&*head.key, head.unit), ("parts[lid (upper)].mass", Some(Unit::Gram)));
        assert!(head.field.is_some());
        // A word, a quantity that each cell writes with its unit, and a count.
        assert!(read("cathode.mix[0].material").field.is_none());
        let open = read("cathode.loading");
        assert!(
            open.unit.is_none() && open.expected().contains("cathode.loading (mg/cm²)"),
            "{}",
            open.expected()
        );
        assert_eq!(open.in_unit_of_the_trade().unit, Some(Unit::MilligramPerSquareCentimetre));
        assert_eq!(read("winding.core_turns").unit, Some(Unit::Turn));
        assert_eq!(read("cathode.porosity (%)").unit, Some(Unit::Percent));
        assert_eq!(read("winding.radial_gap (mm)").key, "winding.radial_clearance");
    }

    #[test]
    fn heads_that_are_none() {
        let diagnostic = |text: &str| Head::read(text).unwrap_err().to_string();
        assert!(diagnostic("can.wall (furlong)").contains("a unit that is not known"));
        assert!(diagnostic("can.wal (mm)").contains("no quantity"));
        assert!(
            diagnostic("cathode.loading (mm)").contains("\"mm\", a unit of length"),
            "{}",
            diagnostic("cathode.loading (mm)")
        );
    }
}
