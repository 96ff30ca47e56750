//! JSON values to the types of the sheet, with every fault of shape and its place.

use super::former;
pub use super::json::Json;
use super::json::by_key;
use crate::quantity::problem::{Problem, Problems, hint, nearest, perhaps, shortened};
use roulade_stats::decimal;
use serde_json::{Map, Value};
use std::borrow::Cow;
use std::fmt;

/// A type of the sheet that is read from a JSON value.
pub trait Shape: Sized {
    /// Most of them that a list may hold: whatever is done with a list is then done in bounded time.
    const MOST_LISTED: usize = 100_000;

    /// Reads it; `None` where its shape is wrong, with the problem told.
    fn read(value: Json<'_>, place: Trail<'_>, problems: &mut Problems) -> Option<Self>;

    /// Reads it from a whole text's value, or one that was put together.
    fn whole<'a>(value: impl Into<Json<'a>>, problems: &mut Problems) -> Option<Self> {
        Self::read(value.into(), Trail::Start, problems)
    }
}

/// The way to a value, put into words only where something is wrong there: `cathode.mix[0].share`.
#[derive(Clone, Copy, Debug)]
pub enum Trail<'a> {
    /// The whole.
    Start,
    /// Under a key.
    Key(&'a Trail<'a>, &'a str),
    /// In a list.
    Item(&'a Trail<'a>, usize),
}

impl fmt::Display for Trail<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Start => Ok(()),
            Self::Key(Self::Start, key) => f.write_str(key),
            Self::Key(above, key) => write!(f, "{above}.{key}"),
            Self::Item(above, i) => write!(f, "{above}[{i}]"),
        }
    }
}

/// Keys of an object that this version does not know.
pub type Unknown = Map<String, Value>;

/// Keys of a first sheet that are looked for one step off, and how they stand.
const ELSEWHERE: [(&str, &str); 8] = [
    ("size", "\"can\": {\"size\": \"18 × 65\"}"),
    ("diameter", "\"can\": {\"diameter\": \"18.2 ± 0.1 mm\"}"),
    ("height", "\"can\": {\"height\": \"65.1 ± 0.1 mm\"}"),
    ("wall", "\"can\": {\"wall\": \"0.25 ± 0.02 mm\"}"),
    ("material", "\"mix\": [{\"material\": \"NMC811\"}], in the cathode or the anode"),
    ("mass", "\"cell_mass\": \"48.5 ± 0.1 g\", or in a part of \"parts\""),
    ("n_to_p", "\"anode\": {\"n_to_p\": \"1.08 ± 0.03\"}"),
    ("c_rate", "\"current_path\": {\"c_rate\": \"1 C\"}"),
];

/// Complains of keys nobody knows.
pub fn unknown_keys(problems: &mut Problems, place: &str, unknown: &Unknown, keys: &[&str]) {
    for (key, value) in unknown {
        if let Some(today) = former::name_today(key).filter(|today| keys.contains(today)) {
            if !value.is_null() {
                let path = if place.is_empty() { key.clone() } else { format!("{place}.{key}") };
                let found = format!("the former name of \"{today}\", which stands beside it");
                problems.push(Problem::new(path, found, "one of the two names"));
            }
            continue;
        }
        let elsewhere = ELSEWHERE.iter().find(|(listed, _)| listed == key);
        let expected = match (nearest(key, keys.iter().copied()), elsewhere) {
            (Some(near), _) => format!("one of the keys known here; {}", perhaps(near)),
            (None, Some((_, example))) => format!("it to stand as {example}"),
            (None, None) => format!("one of the keys known here: {}", keys.join(", ")),
        };
        let name = if key.trim().is_empty() { format!("\"{key}\"") } else { shortened(key) };
        let path = if place.is_empty() { name } else { format!("{place}.{name}") };
        problems.push(Problem::new(path, "a key that is not known here", expected));
    }
}

/// The entries of an object.
pub type Entries<'a> = Vec<(Cow<'a, str>, Json<'a>)>;

/// An object's own entries.
pub fn object<'a>(
    value: Json<'a>,
    place: Trail<'_>,
    keys: &[&str],
    problems: &mut Problems,
) -> Option<Entries<'a>> {
    match value {
        Json::Object(entries) => Some(entries),
        other => wrong(other, place, &format!("an object, {{…}}, with {}", keys.join(", ")), problems),
    }
}

/// A key of an object, taken out of it, or its former name, of which `null` stays. `null` counts as left out.
pub fn take<T: Shape>(
    entries: &mut Entries<'_>,
    key: &str,
    place: Trail<'_>,
    problems: &mut Problems,
) -> Option<T> {
    let (written, value) = taken(entries, key)?;
    T::read(value, Trail::Key(&place, written), problems)
}

/// What is taken out of an object, and the name it stood under; one copy for all types of what is taken.
#[inline(never)]
fn taken<'a, 'k>(entries: &mut Entries<'a>, key: &'k str) -> Option<(&'k str, Json<'a>)> {
    let under = |name: &str| entries.iter().position(|(there, _)| there == name);
    let (at, written) = match under(key) {
        Some(at) => (at, key),
        None => former::names_before(key).find_map(|before| Some((under(before)?, before)))?,
    };
    let (there, value) = entries.swap_remove(at);
    if written != key {
        entries.push((there, Json::Null));
    }
    (value != Json::Null).then_some((written, value))
}

/// What was not taken out of an object.
pub fn left(entries: Entries<'_>) -> Unknown {
    by_key(entries)
}

/// Complains of a value of the wrong shape.
pub fn wrong<T>(found: Json<'_>, place: Trail<'_>, expected: &str, problems: &mut Problems) -> Option<T> {
    let found = match found {
        Json::List(_) => "a list".to_owned(),
        Json::Object(_) => "an object".to_owned(),
        other => shortened(&Value::from(other).to_string()),
    };
    problems.push(Problem::new(place.to_string(), found, expected));
    None
}

/// Any JSON, to be read once it is known what it must be.
impl Shape for Value {
    fn read(value: Json<'_>, _: Trail<'_>, _: &mut Problems) -> Option<Self> {
        Some(value.into())
    }
}

impl Shape for String {
    fn read(value: Json<'_>, place: Trail<'_>, problems: &mut Problems) -> Option<Self> {
        match value {
            Json::Text(text) => Some(text.into_owned()),
            other => wrong(other, place, "a text in quotes", problems),
        }
    }
}

impl Shape for bool {
    fn read(value: Json<'_>, place: Trail<'_>, problems: &mut Problems) -> Option<Self> {
        match value {
            Json::Truth(yes) => Some(yes),
            other => wrong(other, place, "true or false, not in quotes", problems),
        }
    }
}

impl Shape for u32 {
    fn read(value: Json<'_>, place: Trail<'_>, problems: &mut Problems) -> Option<Self> {
        match &value {
            Json::Number(n) => n.as_u64().and_then(|n| u32::try_from(n).ok()),
            _ => None,
        }
        .or_else(|| wrong(value, place, "a whole number, not in quotes", problems))
    }
}

impl Shape for f64 {
    fn read(value: Json<'_>, place: Trail<'_>, problems: &mut Problems) -> Option<Self> {
        number(&value).or_else(|| wrong(value, place, "a number, not in quotes", problems))
    }
}

impl<T: Shape> Shape for Vec<T> {
    fn read(value: Json<'_>, place: Trail<'_>, problems: &mut Problems) -> Option<Self> {
        let list = listed(value, place, T::MOST_LISTED, problems)?;
        let mut read = Vec::with_capacity(list.len());
        for (i, value) in list.into_iter().enumerate() {
            read.extend(T::read(value, Trail::Item(&place, i), problems));
        }
        Some(read)
    }
}

/// A list of no more than so many; one copy for all types of what is listed.
#[inline(never)]
fn listed<'a>(
    value: Json<'a>,
    place: Trail<'_>,
    most: usize,
    problems: &mut Problems,
) -> Option<Vec<Json<'a>>> {
    match value {
        Json::List(list) if list.len() > most => {
            let found = format!("a list of {}", list.len());
            problems.push(Problem::new(place.to_string(), found, format!("at most {most} items")));
            None
        }
        Json::List(list) => Some(list),
        other => wrong(other, place, "a list, […]", problems),
    }
}

/// A plain number of a sheet to fifteen significant digits, which decimal text carries there and back unchanged.
pub(crate) fn digits(number: f64) -> f64 {
    decimal::number(&format!("{number:.14e}")).unwrap_or(number)
}

fn number(value: &Json<'_>) -> Option<f64> {
    match value {
        Json::Number(number) => number.as_f64().map(digits),
        _ => None,
    }
}

/// A point of a half-cell curve.
impl Shape for (f64, f64) {
    fn read(value: Json<'_>, place: Trail<'_>, problems: &mut Problems) -> Option<Self> {
        let pair = match &value {
            Json::List(list) => match list.as_slice() {
                [x, u] => number(x).zip(number(u)),
                _ => None,
            },
            _ => None,
        };
        match pair {
            Some(pair) => Some(pair),
            None => wrong(value, place, "a pair of numbers: stoichiometry and volts, [0.5, 3.8]", problems),
        }
    }
}

/// One of a few words.
pub fn word<T: Copy>(
    value: Json<'_>,
    place: Trail<'_>,
    words: &[(&str, T)],
    problems: &mut Problems,
) -> Option<T> {
    let all: Vec<&str> = words.iter().map(|(word, _)| *word).collect();
    words.get(one_of(value, place, &all, problems)?).map(|(_, meaning)| *meaning)
}

/// Which of a few words it is; one copy for all that words may mean.
#[inline(never)]
fn one_of(value: Json<'_>, place: Trail<'_>, words: &[&str], problems: &mut Problems) -> Option<usize> {
    let written = if let Json::Text(text) = &value { text } else { "" };
    if let Some(at) = words.iter().position(|word| *word == written) {
        return Some(at);
    }
    let near = nearest(written, words.iter().copied());
    wrong(value, place, &format!("one of: {}{}", words.join(", "), hint(near)), problems)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::material::Role;
    use crate::sheet::{Entry, Noted, Place};
    use roulade_stats::uncertain::Origin;
    use serde_json::json;

    fn read<T: Shape>(value: Value) -> Result<T, String> {
        let mut problems = Problems::default();
        let read = T::read(value.into(), Trail::Key(&Trail::Start, "here"), &mut problems);
        read.filter(|_| problems.0.is_empty()).ok_or_else(|| problems.to_string())
    }

    #[test]
    fn a_key_one_step_off_is_reported_where_it_stands() {
        let mut problems = Problems::default();
        let unknown: Unknown = [("size".to_owned(), "18 × 65".into())].into_iter().collect();
        unknown_keys(&mut problems, "", &unknown, &["can", "cathode", "anode"]);
        assert_eq!(
            problems.to_string().trim_end(),
            "size: found a key that is not known here; expected it to stand as \"can\": {\"size\": \"18 × 65\"}"
        );
    }

    #[test]
    fn values_of_the_right_shape() {
        assert_eq!(read(json!("a")), Ok("a".to_owned()));
        assert_eq!(read(json!(7)), Ok(7_u32));
        assert_eq!(read(json!(0.5)), Ok(0.5_f64));
        assert_eq!(read(json!([[0, 1.5], [1, 0]])), Ok(vec![(0.0, 1.5), (1.0, 0.0)]));
        assert_eq!(read(json!("in core")), Ok(Place::InCore));
        assert_eq!(read(json!("conductive")), Ok(Role::Conductive));
        assert_eq!(read(json!("stated")), Ok(Origin::Stated));
        assert_eq!(read(json!("1 mm")), Ok(Entry::Text("1 mm".to_owned())));
        let noted = Noted { value: "1 mm".to_owned(), from: Some(Origin::Measured), remark: None };
        assert_eq!(
            read(json!({ "value": "1 mm", "from": "measured", "remark": null })),
            Ok(Entry::Noted(noted))
        );
    }

    #[test]
    fn values_of_the_wrong_shape_are_reported_with_their_place() {
        let text = |diagnostics: Result<String, String>| diagnostics.unwrap_err();
        assert_eq!(text(read(json!([1]))), "here: found a list; expected a text in quotes");
        assert_eq!(text(read(json!({}))), "here: found an object; expected a text in quotes");
        assert_eq!(text(read(json!(true))), "here: found true; expected a text in quotes");
        for value in [json!(-1), json!(1.5), json!(4_294_967_296_u64), json!("1")] {
            assert!(read::<u32>(value).unwrap_err().contains("a whole number, not in quotes"));
        }
        assert!(read::<f64>(json!("1")).unwrap_err().contains("a number, not in quotes"));
        for value in [json!([0.1]), json!([0.1, 0.2, 0.3]), json!([0.1, "a"]), json!(["a", 0.1]), json!(2)] {
            assert!(read::<(f64, f64)>(value).unwrap_err().contains("a pair of numbers"));
        }
        let many = |n: usize| read::<Vec<crate::sheet::Mixed>>(json!(vec![json!({ "material": "PVDF" }); n]));
        assert!(many(200).is_ok());
        assert_eq!(many(201).unwrap_err(), "here: found a list of 201; expected at most 200 items");
        let diagnostics = read::<Vec<String>>(json!(["a", 3, "b", 4])).unwrap_err();
        assert_eq!(diagnostics.lines().map(|line| &line[..7]).collect::<Vec<_>>(), ["here[1]", "here[3]"]);
        assert!(
            read::<Place>(json!("in cor"))
                .unwrap_err()
                .ends_with("beside roll, in core; perhaps \"in core\" was meant")
        );
        assert!(!read::<Role>(json!(3)).unwrap_err().contains("perhaps"));
        let diagnostics = read::<Entry>(json!({ "from": "measured", "unit": "mm" })).unwrap_err();
        assert!(diagnostics.contains("here.unit: found a key that is not known here"), "{diagnostics}");
        assert!(diagnostics.contains("here: found an entry without its \"value\""), "{diagnostics}");
        assert!(
            read::<Entry>(json!({ "value": "1 mm", "from": "guess" })).unwrap_err().contains("here.from")
        );
        assert!(read::<Entry>(json!(12)).unwrap_err().contains("for example \"12 µm\""));
    }
}
