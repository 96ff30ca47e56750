//! The work of a page as a link or a browser keeps it, and a sheet as a file holds it: read by the one reader there is, so
//! that nothing is taken in one place that is refused in another.

use roulade::quantity::problem::{Problem, Problems, shortened};
use roulade::section;
use roulade::sheet::{Sheet, read, unknown_keys};
use roulade::study::attribute::{Changes, NamedChange, Prices};
use roulade::study::form_factors::asked::{Along, HoldEntries};

section! {
    /// All of the work on one cell or two that is worth keeping.
    Work {
        /// Version of this form: 1.
        version: u32,
        /// The first cell.
        first: Sheet,
        /// The second.
        second: Sheet,
        /// How the changes between them are grouped.
        changes: Changes,
        /// What things cost.
        prices: Prices,
        /// Declared figures, as they were said.
        claim: String,
        /// Readings from a bench, and what is asked of them.
        bench: BenchWork,
        /// A measured discharge, CSV text.
        discharge: String,
        /// What the map of sizes is drawn over.
        sizes: SizesWork,
    }
}

section! {
    /// Readings from a bench, and what is asked of them.
    BenchWork {
        /// CSV text.
        readings: String,
        /// CSV or JSON text.
        instruments: String,
        /// The cell whose sheet they are held against: "first" or "second".
        side: String,
        /// "normal", "huber" or "student".
        loss: String,
        /// Names of quantities in which specimens may be of two kinds, with commas.
        populations: String,
        /// Id of the figure that more readings are to settle.
        target: String,
        /// Whether it is the difference between the cells.
        between: bool,
    }
}

section! {
    /// What the map of sizes is drawn over.
    SizesWork {
        /// One input or two, each with the stretch of it.
        along: Vec<Along>,
        /// Id of the figure.
        figure: String,
        /// What is held otherwise than the sheet has it.
        hold: HoldEntries,
    }
}

const EXPECTED: &str = "the work on a cell: a JSON object with \"version\" and \"first\", a sheet";

/// A sheet from its text, whatever its entries say: one with an entry that is wrong is still the sheet to mend.
///
/// # Errors
/// Where the text is no JSON, with line and column; where a key stands twice; or every place where its shape is not that of a
/// sheet.
pub fn sheet(text: &str) -> Result<Sheet, Problems> {
    let sheet = Sheet::parse(text)?;
    let mut problems = Problems::default();
    whole(&sheet, "", &mut problems);
    problems.or_else_ok(sheet)
}

impl Work {
    /// Reads it from its text; entries of its sheets may be wrong, as in [`sheet`].
    ///
    /// # Errors
    /// Where the text is no JSON, with line and column; where a key stands twice; or every place where it is not what it must
    /// be.
    pub fn read(text: &str) -> Result<Self, Problems> {
        let work: Self = read::text(text, EXPECTED)?;
        let mut problems = Problems::default();
        unknown_keys(&mut problems, "", &work.unknown, Self::KEYS);
        if work.version != Some(1) {
            let found = work.version.map_or("nothing".to_owned(), |version| format!("version {version}"));
            problems.push(Problem::new("version", found, "version 1, which this program reads"));
        }
        match &work.first {
            Some(first) => whole(first, "first", &mut problems),
            None => problems.push(Problem::new("first", "nothing", "a design sheet")),
        }
        work.second.iter().for_each(|second| whole(second, "second", &mut problems));
        work.changes.iter().for_each(|changes| grouped(changes, &mut problems));
        work.prices.iter().for_each(|prices| {
            unknown_keys(&mut problems, "prices", &prices.unknown, Prices::KEYS);
        });
        work.bench.iter().for_each(|bench| bench.check(&mut problems));
        work.sizes.iter().for_each(|sizes| sizes.check(&mut problems));
        problems.or_else_ok(work)
    }
}

/// What everything that is done with a sheet goes by: its electrodes, its can, and names.
fn whole(sheet: &Sheet, place: &str, problems: &mut Problems) {
    let at = |key: &str| if place.is_empty() { key.to_owned() } else { format!("{place}.{key}") };
    match sheet.roulade_sheet {
        None | Some(1) => {}
        Some(other) => {
            let expected = "version 1, which this program reads";
            problems.push(Problem::new(at("roulade_sheet"), format!("version {other}"), expected));
        }
    }
    for (key, there) in
        [("can", sheet.can.is_some()), ("cathode", sheet.cathode.is_some()), ("anode", sheet.anode.is_some())]
    {
        if !there {
            let expected = "the design sheet to have \"can\", \"cathode\" and \"anode\"";
            problems.push(Problem::new(at(key), "nothing", expected));
        }
    }
    let mut nameless = |list: &str, key: &str, i: usize| {
        problems.push(Problem::new(
            at(&format!("{list}[{i}].{key}")),
            "nothing",
            "each item of the list to have a name",
        ));
    };
    for (i, part) in sheet.parts.iter().flatten().enumerate() {
        if part.name.is_none() {
            nameless("parts", "name", i);
        }
    }
    for (i, material) in sheet.materials.iter().flatten().enumerate() {
        if material.name.is_none() {
            nameless("materials", "name", i);
        }
    }
    let cathode = sheet.cathode.as_ref().and_then(|cathode| cathode.mix.as_ref());
    let anode = sheet.anode.as_ref().and_then(|anode| anode.mix.as_ref());
    for (list, mix) in [("cathode.mix", cathode), ("anode.mix", anode)] {
        for (i, component) in mix.into_iter().flatten().enumerate() {
            if component.material.is_none() {
                nameless(list, "material", i);
            }
        }
    }
}

fn grouped(changes: &Changes, problems: &mut Problems) {
    unknown_keys(problems, "changes", &changes.unknown, Changes::KEYS);
    for (i, change) in changes.changes.iter().flatten().enumerate() {
        let place = format!("changes.changes[{i}]");
        unknown_keys(problems, &place, &change.unknown, NamedChange::KEYS);
        for (key, there) in [("name", change.name.is_some()), ("keys", change.keys.is_some())] {
            if !there {
                problems.push(Problem::new(
                    format!("{place}.{key}"),
                    "nothing",
                    "each change to have a name and keys",
                ));
            }
        }
    }
}

/// One of a few words, where anything is said.
fn one_of(said: Option<&String>, words: &[&str], place: &str, problems: &mut Problems) {
    if let Some(said) = said.filter(|said| !words.contains(&said.as_str())) {
        let found = format!("\"{}\"", shortened(said));
        problems.push(Problem::new(place, found, format!("one of: {}", words.join(", "))));
    }
}

impl BenchWork {
    fn check(&self, problems: &mut Problems) {
        unknown_keys(problems, "bench", &self.unknown, Self::KEYS);
        one_of(self.side.as_ref(), &["first", "second"], "bench.side", problems);
        one_of(self.loss.as_ref(), &["normal", "huber", "student"], "bench.loss", problems);
    }
}

impl SizesWork {
    fn check(&self, problems: &mut Problems) {
        unknown_keys(problems, "sizes", &self.unknown, Self::KEYS);
        let along = self.along.as_deref().unwrap_or_default();
        if !(1..=2).contains(&along.len()) {
            let found = format!("{} inputs", along.len());
            problems.push(Problem::new("sizes.along", found, "one input or two"));
        }
        for (i, axis) in along.iter().enumerate() {
            let place = format!("sizes.along[{i}]");
            unknown_keys(problems, &place, &axis.unknown, Along::KEYS);
            if axis.key.is_none() || axis.from.is_none() || axis.to.is_none() {
                let expected = "the input to have key, from and to";
                problems.push(Problem::new(place, "an input without one of its three texts", expected));
            }
        }
        if self.figure.is_none() {
            problems.push(Problem::new("sizes.figure", "nothing", "the id of a figure"));
        }
        if let Some(hold) = &self.hold {
            unknown_keys(problems, "sizes.hold", &hold.unknown, HoldEntries::KEYS);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::test_support::sheet as sheet_of_tests;
    use serde_json::{Value, json};

    fn refusal(work: &Value) -> String {
        Work::read(&work.to_string()).map_or_else(|problems| problems.to_string(), |_| "read".to_owned())
    }

    #[test]
    fn work_is_written_as_it_was_read() {
        let first = sheet_of_tests();
        let mut wrong = first.clone();
        wrong["can"]["wall"] = "twenty grams".into();
        let work = json!({
            "version": 1,
            "first": first,
            "second": wrong,
            "changes": { "changes": [{ "name": "can", "keys": ["can.wall"] }] },
            "prices": { "currency": "€", "per_kg": { "copper": 9.0 } },
            "claim": "at least 190 Wh/kg",
            "bench": { "readings": "quantity;value\n", "side": "second", "loss": "huber", "between": true },
            "sizes": { "along": [{ "key": "can.wall", "from": "", "to": "1 mm" }], "figure": "mass", "hold": { "wall": "" } },
        });
        let read = Work::read(&work.to_string()).unwrap();
        let written = serde_json::to_value(&read).unwrap();
        assert_eq!(Work::read(&written.to_string()).unwrap(), read);
        for key in ["changes", "prices", "claim", "bench", "sizes"] {
            assert_eq!(written[key], work[key]);
        }
        assert_eq!(written["second"]["can"], work["second"]["can"]);
    }

    #[test]
    fn what_is_not_work_is_refused_with_its_place() {
        let first = sheet_of_tests();
        let with = |key: &str, value: Value| {
            let mut work = json!({ "version": 1, "first": first });
            work[key] = value;
            refusal(&work)
        };
        assert_eq!(with("claim", json!("5 Ah")), "read");
        for (key, value, place) in [
            ("version", json!(2), "version: found version 2"),
            ("version", Value::Null, "version: found nothing"),
            ("first", Value::Null, "first: found nothing"),
            ("first", json!({ "can": {}, "anode": {} }), "first.cathode: found nothing"),
            (
                "second",
                json!({ "can": {}, "anode": {}, "cathode": {}, "parts": [{}] }),
                "second.parts[0].name",
            ),
            (
                "second",
                json!({ "can": {}, "anode": {}, "cathode": { "mix": [{}] } }),
                "second.cathode.mix[0].material",
            ),
            ("claim", json!({ "value": 1 }), "claim: found an object"),
            (
                "claims",
                json!(1),
                "claims: found a key that is not known here; expected one of the keys known here; perhaps \"claim\"",
            ),
            ("bench", json!({ "readings": 7 }), "bench.readings: found 7"),
            ("bench", json!({ "between": "yes" }), "bench.between: found \"yes\"; expected true or false"),
            ("bench", json!({ "loss": "x" }), "bench.loss: found \"x\""),
            ("bench", json!({ "side": "third" }), "bench.side: found \"third\""),
            ("changes", json!({ "changes": [{ "name": "x" }] }), "changes.changes[0].keys"),
            ("prices", json!({ "per_kg": { "copper": "9" } }), "prices.per_kg.copper"),
            ("sizes", json!({ "figure": "mass" }), "sizes.along: found 0 inputs"),
            ("sizes", json!({ "along": [{ "key": "a" }], "figure": "mass" }), "sizes.along[0]"),
            ("sizes", json!({ "along": [{ "key": "a", "from": "", "to": "" }] }), "sizes.figure"),
        ] {
            let refusal = with(key, value);
            assert!(refusal.contains(place), "{key}: {refusal}");
        }
        let twice = format!("{{\"version\": 1, \"first\": {first}, \"claim\": \"a\", \"claim\": \"b\"}}");
        assert!(Work::read(&twice).unwrap_err().to_string().contains("second time"));
        let inside =
            first.to_string().replacen("\"can\":{", "\"can\":{\"wall\":\"1 mm\",\"wall\":\"2 mm\",", 1);
        assert!(sheet(&inside).unwrap_err().to_string().contains("second time"), "{inside}");
        assert!(sheet("loading 22.5").is_err() && sheet("[1, 2]").is_err() && sheet("{}").is_err());
    }
}
