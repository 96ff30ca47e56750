//! Several declared figures of one cell, as a data sheet lists them.

use super::declared::Claim;
use super::said::Said;
use super::words::Parts;
use crate::cell::draft::Draft;
use crate::cell::population::Size;
use crate::quantity::problem::{Problem, Problems};

/// Most figures in one list.
pub(crate) const MOST_CLAIMS: usize = 12;

/// Declared figures of one cell.
#[derive(Clone, Debug)]
pub struct List {
    /// Each figure once under the same conditions.
    pub claims: Vec<Claim>,
    /// The size by its name, diameter and height in whole millimetres, where it is listed.
    pub size: Option<(u32, u32)>,
}

impl List {
    /// Reads declared figures: each a text or its parts, and a text may hold several, between commas, semicolons or line
    /// breaks. A size, "46 × 80" or "4680", may stand among them.
    ///
    /// ```
    /// use roulade::study::claim::{List, Said};
    /// let list = List::read(&[Said::Words("46 × 80, 26 Ah at 0.2 C, minimum, 355 g; 300 Wh/kg".to_owned())])?;
    /// assert_eq!((list.claims.len(), list.size), (3, Some((46, 80))));
    /// # Ok::<(), roulade::quantity::problem::Problems>(())
    /// ```
    ///
    /// # Errors
    /// Everything wrong with each; places begin with `claim`, or with `claims[0]` where there are several.
    pub fn read(said: &[Said]) -> Result<Self, Problems> {
        let mut problems = Problems::default();
        let mut list = Self { claims: Vec::new(), size: None };
        for (i, said_one) in said.iter().enumerate() {
            let place = if said.len() == 1 { "claim".to_owned() } else { format!("claims[{i}]") };
            let pieces = match said_one {
                Said::Words(text) => pieces(text).into_iter().map(Said::Words).collect(),
                Said::Parts(_) => vec![said_one.clone()],
            };
            for piece in pieces {
                if let Err(more) = list.add(&piece, &place) {
                    problems.0.extend(more.0);
                }
            }
        }
        let changes = list.claims.iter().any(|claim| claim.over.is_some());
        if problems.0.is_empty() && list.claims.len() > 1 && changes {
            problems.push(Problem::new(
                "claim",
                "a change over another cell among several figures",
                "a change over another cell to be claimed by itself",
            ));
        }
        if problems.0.is_empty() && list.claims.is_empty() {
            let found = if list.size.is_some() { "a size and no figure" } else { "nothing" };
            problems.push(Problem::new("claim", found, "a figure with its unit, for example \"26 Ah\""));
        }
        if list.claims.len() > MOST_CLAIMS {
            let found = format!("{} figures", list.claims.len());
            problems.push(Problem::new("claim", found, format!("at most {MOST_CLAIMS} figures")));
        }
        problems.or_else_ok(list)
    }

    fn add(&mut self, said: &Said, place: &str) -> Result<(), Problems> {
        if let Said::Words(text) = said
            && let Ok(size) = Size::read(text, "")
        {
            let size = (size.diameter, size.height);
            return match self.size.replace(size) {
                Some(before) if before != size => {
                    let found = format!("{} × {} and {} × {}", before.0, before.1, size.0, size.1);
                    Err(Problem::new(place, found, "one size of the can").into())
                }
                _ => Ok(()),
            };
        }
        let claim = Claim::read(said).map_err(|problems| at_place(problems, place))?;
        match self.claims.iter().find(|before| before.alike(&claim)) {
            Some(before) if before.says_the_same(&claim) => Ok(()),
            Some(before) => {
                let found = format!(
                    "\"{}\" beside \"{}\", two values of one figure under the same conditions",
                    claim.text(),
                    before.text()
                );
                let expected =
                    "one of the two, or something that distinguishes them: a rate, \"minimum\", a basis";
                Err(Problem::new(place, found, expected).into())
            }
            None => {
                self.claims.push(claim);
                Ok(())
            }
        }
    }

    /// What is wrong where the size that is declared is not that of the sheet's can: off by more than 0.9 mm, when the
    /// outside of cans exceeds the name of their size by some tenths of a millimetre.
    pub fn other_size(&self, cell: &Draft) -> Option<Problem> {
        let (diameter, height) = self.size?;
        let can = cell.blueprint_at(&cell.values()).can;
        let sides = [(can.diameter.value, diameter), (can.height.value, height)];
        let other = sides.iter().any(|(own, named)| (1e3 * own - f64::from(*named)).abs() > 0.9);
        other.then(|| {
            let found = format!(
                "a size of {diameter} × {height} where the sheet's can measures {:.1} mm × {:.1} mm",
                1e3 * can.diameter.value,
                1e3 * can.height.value
            );
            Problem::new("claim", found, "the size that the sheet's can has")
        })
    }

    /// The claims with a figure.
    pub(super) fn of<'a>(&'a self, ids: &'a [&str]) -> impl Iterator<Item = (usize, &'a Claim)> {
        self.claims.iter().enumerate().filter(|(_, claim)| ids.contains(&claim.figure.id))
    }
}

impl Claim {
    /// Whether another is of the same figure under the same conditions, and bounds it from the same side.
    fn alike(&self, other: &Self) -> bool {
        let of = |claim: &Self| {
            let ends = claim.holds(0.0);
            (
                (claim.figure.id, claim.over.is_some(), claim.basis),
                (claim.window, claim.rate, claim.temperature, claim.standing),
                (ends.0.is_finite(), ends.1.is_finite()),
            )
        };
        of(self) == of(other)
    }

    fn says_the_same(&self, other: &Self) -> bool {
        (self.value - other.value).abs() <= 1e-9 * self.value.abs()
    }
}

/// Problems of one claim at its place among several.
fn at_place(problems: Problems, place: &str) -> Problems {
    let placed = problems.0.into_iter().map(|problem| match problem.place.strip_prefix("claim") {
        Some(rest) => Problem { place: format!("{place}{rest}"), ..problem },
        None => problem,
    });
    Problems(placed.collect())
}

/// The figures of a text, each with what belongs to it. What holds no value of its own goes with the one before, "26 Ah, at
/// 0.2 C", and at the beginning with the one after, "per mass, 290 Wh/kg".
fn pieces(text: &str) -> Vec<String> {
    let mut pieces: Vec<String> = Vec::new();
    let mut before: Option<String> = None;
    for part in cut(text) {
        let own = Size::read(&part, "").is_ok()
            // What is wrong with a part is told of it alone.
            || Parts::of_text(&part).map_or(true, |parts| parts.value.is_some());
        match (own, pieces.last_mut()) {
            (true, _) => pieces.push(match before.take() {
                Some(before) => format!("{before}, {part}"),
                None => part,
            }),
            // A size says nothing more.
            (false, Some(last)) if Size::read(last, "").is_err() => *last = format!("{last}, {part}"),
            (false, _) => before = Some(before.map_or(part.clone(), |before| format!("{before}, {part}"))),
        }
    }
    pieces.extend(before);
    if pieces.is_empty() { vec![String::new()] } else { pieces }
}

/// A text at its commas, semicolons and line breaks. A comma between two digits is a decimal mark, except behind a size;
/// before three digits it may group thousands and stays, to be asked about.
fn cut(text: &str) -> Vec<String> {
    let mut parts = vec![String::new()];
    let mut left = text.chars().peekable();
    while let Some(c) = left.next() {
        let Some(part) = parts.last_mut() else { break };
        let decimal = c == ','
            && part.ends_with(|c: char| c.is_ascii_digit())
            && left.peek().is_some_and(char::is_ascii_digit)
            && Size::read(part, "").is_err();
        let digits = left.clone().take_while(char::is_ascii_digit).count();
        if decimal {
            part.push(if digits == 3 { ',' } else { '.' });
        } else if matches!(c, ';' | '\n' | '\r' | ',') {
            parts.push(String::new());
        } else {
            part.push(c);
        }
    }
    parts.into_iter().map(|part| part.trim().to_owned()).filter(|part| !part.is_empty()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> Result<List, String> {
        List::read(&[Said::Words(text.to_owned())]).map_err(|problems| problems.to_string())
    }

    #[test]
    fn a_data_sheet_is_cut_into_its_figures() {
        for (text, expected) in [
            (
                "46 × 80, 26 Ah, 355 g, 300 Wh/kg, 750 Wh/L",
                &["about 26 Ah", "about 355 g, cell", "about 300 Wh/kg, cell", "about 750 Wh/L, cell"][..],
            ),
            ("26,5 Ah;355 g", &["about 26.5 Ah", "about 355 g, cell"]),
            ("46x80,26 Ah", &["about 26 Ah"]),
            (
                "Nominal capacity: 26 Ah (minimum, 0.2 It, 25 °C)\nNominal voltage: 3.7 V",
                &["about 26 Ah capacity under load, at 0.2 C, at 25 °C, minimum", "about 3.7 V"],
            ),
            ("per mass, at least 290 Wh/kg", &["at least 290 Wh/kg, cell"]),
            (
                "at least 12% more than the other cell, volumetric",
                &["at least 12 % over the other cell, volumetric energy density, cell"],
            ),
            (
                "about 610 Wh/L, roll, between 2.7 and 4.15 V",
                &["about 610 Wh/L, roll, between 2.7 and 4.15 V"],
            ),
            ("5 Ah, charged to 4.1 V, down to 3 V", &["about 5 Ah, between 3 and 4.1 V"]),
            (
                "5 Ah down to 3 V, with sleeve 70 g",
                &["about 5 Ah, down to 3 V", "about 70 g, cell with sleeve"],
            ),
            ("26 Ah, 26.0 Ah", &["about 26 Ah"]),
            ("26 Ah, at least 25 Ah, 25 mΩ", &["about 26 Ah", "at least 25 Ah", "about 25 mΩ"]),
        ] {
            let list = read(text);
            let texts = list.map(|list| list.claims.iter().map(Claim::text).collect::<Vec<_>>());
            assert_eq!(
                texts.as_deref(),
                Ok(&expected.iter().map(|t| (*t).to_owned()).collect::<Vec<_>>()[..]),
                "{text}"
            );
        }
    }

    #[test]
    fn what_a_list_cannot_hold_is_refused_in_place() {
        for (text, expected) in [
            ("", "claim: found nothing"),
            ("46 × 80", "claim: found a size and no figure"),
            ("46 × 80, 21 × 70, 5 Ah", "claim: found 46 × 80 and 21 × 70; expected one size of the can"),
            ("26 Ah, 27 Ah", "two values of one figure"),
            ("5 Ah, 12 % over the other cell per volume", "by itself"),
            ("5 Ah, 300 parsec", "a unit that is not known"),
            ("3,500 mAh", "with a comma"),
            ("5 Ah, capacity 300 g", "\"300 g\"; expected the figure “capacity” to be given in Ah"),
            ("5 Ah charged to high", "\"high\" as a voltage limit"),
            ("5 Ah down to 4 V, charged to 3 V", "a charge limit that is above the discharge limit"),
            ("5 Ah minimum typical", "two of minimum and typical"),
        ] {
            let said = read(text).map(|list| list.claims.len()).unwrap_err();
            assert!(said.contains(expected), "{text}: {said}");
        }
        let several = ["5 Ah", "6 Ah", "7 Wh/kg 3 g"].map(|text| Said::Words(text.to_owned()));
        let said = List::read(&several).unwrap_err().to_string();
        assert!(said.contains("claims[1]: found") && said.contains("claims[2]: found two values"), "{said}");
    }
}
