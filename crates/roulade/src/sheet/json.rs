//! JSON text to JSON values, refusing what would lose something a user typed.

use crate::quantity::problem::{Problem, shortened};
use serde::de::{Deserialize, Deserializer, Error, MapAccess, SeqAccess, Visitor};
use serde_json::error::Category;
use serde_json::{Map, Number, Value};
use std::borrow::Cow;
use std::collections::BTreeSet;
use std::fmt;

/// Keys that are compared one by one.
const FEW: usize = 32;

/// A JSON value. What needs no unescaping stays in the text it was read from.
#[derive(Clone, Debug, PartialEq)]
pub enum Json<'a> {
    /// `null`.
    Null,
    /// `true` or `false`.
    Truth(bool),
    /// A number.
    Number(Number),
    /// A string.
    Text(Cow<'a, str>),
    /// An array.
    List(Vec<Json<'a>>),
    /// An object, in its order, each key once.
    Object(Vec<(Cow<'a, str>, Json<'a>)>),
}

/// Parses JSON text. A key that stands twice in one object is refused, since only one of the two could be kept.
///
/// # Errors
/// Where the text is no JSON, with line and column; `expected` says what would be right.
pub fn parse<'a>(text: &'a str, expected: &str) -> Result<Json<'a>, Problem> {
    serde_json::from_str(text).map_err(|e| {
        Problem::new(format!("line {}, column {}", e.line(), e.column().max(1)), unreadable(&e), expected)
    })
}

/// What is wrong with a text that is no JSON.
fn unreadable(error: &serde_json::Error) -> String {
    let said = error.to_string();
    let said = said.rsplit_once(" at line ").map_or(said.as_str(), |(said, _)| said);
    match error.classify() {
        Category::Eof => "a text that breaks off".to_owned(),
        Category::Syntax | Category::Io => format!("text that is not JSON ({said})"),
        Category::Data => said.to_owned(),
    }
}

impl From<Value> for Json<'_> {
    fn from(value: Value) -> Self {
        match value {
            Value::Null => Self::Null,
            Value::Bool(truth) => Self::Truth(truth),
            Value::Number(number) => Self::Number(number),
            Value::String(text) => Self::Text(text.into()),
            Value::Array(list) => Self::List(list.into_iter().map(Self::from).collect()),
            Value::Object(map) => {
                Self::Object(map.into_iter().map(|(key, value)| (key.into(), value.into())).collect())
            }
        }
    }
}

impl From<Json<'_>> for Value {
    fn from(json: Json<'_>) -> Self {
        match json {
            Json::Null => Self::Null,
            Json::Truth(truth) => Self::Bool(truth),
            Json::Number(number) => Self::Number(number),
            Json::Text(text) => Self::String(text.into_owned()),
            Json::List(list) => Self::Array(list.into_iter().map(Self::from).collect()),
            Json::Object(entries) => Self::Object(by_key(entries)),
        }
    }
}

/// The entries of an object by their keys; put in one by one, for to collect a tree brings a sort along, 1 kB of the page.
pub(super) fn by_key(entries: Vec<(Cow<'_, str>, Json<'_>)>) -> Map<String, Value> {
    let mut map = Map::new();
    for (key, value) in entries {
        map.insert(key.into_owned(), value.into());
    }
    map
}

impl<'de> Deserialize<'de> for Json<'de> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(Any)
    }
}

struct Any;

impl<'de> Visitor<'de> for Any {
    type Value = Json<'de>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("JSON")
    }

    fn visit_bool<E: Error>(self, value: bool) -> Result<Json<'de>, E> {
        Ok(Json::Truth(value))
    }

    fn visit_i64<E: Error>(self, value: i64) -> Result<Json<'de>, E> {
        Ok(Json::Number(value.into()))
    }

    fn visit_u64<E: Error>(self, value: u64) -> Result<Json<'de>, E> {
        Ok(Json::Number(value.into()))
    }

    fn visit_f64<E: Error>(self, value: f64) -> Result<Json<'de>, E> {
        Ok(Number::from_f64(value).map_or(Json::Null, Json::Number))
    }

    fn visit_borrowed_str<E: Error>(self, value: &'de str) -> Result<Json<'de>, E> {
        Ok(Json::Text(value.into()))
    }

    fn visit_str<E: Error>(self, value: &str) -> Result<Json<'de>, E> {
        Ok(Json::Text(value.to_owned().into()))
    }

    fn visit_unit<E: Error>(self) -> Result<Json<'de>, E> {
        Ok(Json::Null)
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut seq: A) -> Result<Json<'de>, A::Error> {
        let mut list = Vec::new();
        while let Some(value) = seq.next_element()? {
            list.push(value);
        }
        Ok(Json::List(list))
    }

    fn visit_map<A: MapAccess<'de>>(self, mut access: A) -> Result<Json<'de>, A::Error> {
        let mut entries: Vec<(Cow<'de, str>, Json<'de>)> = Vec::new();
        // Looking through more entries than a section has would take the square of their number.
        let mut many = BTreeSet::new();
        while let Some(Json::Text(key)) = access.next_key()? {
            let twice = if entries.len() < FEW {
                entries.iter().any(|(other, _)| *other == key)
            } else {
                if many.is_empty() {
                    many.extend(entries.iter().map(|(other, _)| other.clone()));
                }
                !many.insert(key.clone())
            };
            if twice {
                return Err(A::Error::custom(format_args!("the key \"{}\" a second time", shortened(&key))));
            }
            entries.push((key, access.next_value()?));
        }
        Ok(Json::Object(entries))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn plain_json_is_read_as_it_is() {
        let text = r#"{"a": [1, -2, 0.5, true, null, "x"], "b": {"c": {}}}"#;
        let value = serde_json::from_str::<Value>(text).unwrap();
        assert_eq!(Value::from(parse(text, "").unwrap()), value);
        assert_eq!(Value::from(Json::from(value.clone())), value);
    }

    #[test]
    fn text_is_copied_only_where_it_is_escaped() {
        let Json::List(list) = parse(r#"["68 µm", "68 \u00b5m"]"#, "").unwrap() else { panic!("a list") };
        assert!(
            matches!(list.as_slice(), [Json::Text(Cow::Borrowed(a)), Json::Text(Cow::Owned(b))] if a == b)
        );
    }

    #[test]
    fn a_key_that_stands_twice_among_many_is_refused() {
        let keys =
            |last: usize| (0..100).chain([last]).map(|i| format!("\"{i}\": 0")).collect::<Vec<_>>().join(",");
        assert!(parse(&format!("{{{}}}", keys(100)), "").is_ok());
        for last in [0, 31, 32, 99] {
            let problem = parse(&format!("{{{}}}", keys(last)), "").unwrap_err();
            assert!(problem.found.contains(&format!("the key \"{last}\" a second time")), "{problem}");
        }
    }

    #[test]
    fn a_key_that_stands_twice_is_refused_where_it_stands() {
        let problem = parse("{\n  \"can\": {\"wall\": 1, \"wall\": 2}}", "a sheet").unwrap_err();
        assert_eq!(
            problem.to_string(),
            "line 2, column 27: found the key \"wall\" a second time; expected a sheet"
        );
    }

    #[test]
    fn broken_text_says_where() {
        let problem = parse("{\"can\": ", "a sheet").unwrap_err();
        assert_eq!(problem.to_string(), "line 1, column 8: found a text that breaks off; expected a sheet");
    }
}
