//! JSON text to JSON values, refusing what would lose something a user typed.

use crate::problem::{Problem, shortened};
use serde::de::{Deserialize, Deserializer, Error, MapAccess, SeqAccess, Visitor};
use serde_json::error::Category;
use serde_json::{Map, Value};
use std::fmt;

/// Parses JSON text. A key that stands twice in one object is refused, since only one of the two could be kept.
///
/// # Errors
/// Where the text is no JSON, with line and column; `expected` says what would be right.
pub fn parse(text: &str, expected: &str) -> Result<Value, Problem> {
    serde_json::from_str::<Strict>(text)
        .map(|strict| strict.0)
        .map_err(|e| Problem::new("", unreadable(&e), expected))
}

/// What is wrong with a text that is no JSON, and where.
fn unreadable(error: &serde_json::Error) -> String {
    let place = format!("line {}, column {}", error.line(), error.column().max(1));
    let said = error.to_string();
    let said = said.rsplit_once(" at line ").map_or(said.as_str(), |(said, _)| said);
    match error.classify() {
        Category::Eof => format!("a text that breaks off at {place}"),
        Category::Syntax | Category::Io => format!("text that is not JSON at {place} ({said})"),
        Category::Data => format!("{said}, at {place}"),
    }
}

/// A value whose objects have each key once.
struct Strict(Value);

impl<'de> Deserialize<'de> for Strict {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(Strictly).map(Strict)
    }
}

struct Strictly;

impl<'de> Visitor<'de> for Strictly {
    type Value = Value;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("JSON")
    }

    fn visit_bool<E: Error>(self, value: bool) -> Result<Value, E> {
        Ok(value.into())
    }

    fn visit_i64<E: Error>(self, value: i64) -> Result<Value, E> {
        Ok(value.into())
    }

    fn visit_u64<E: Error>(self, value: u64) -> Result<Value, E> {
        Ok(value.into())
    }

    fn visit_f64<E: Error>(self, value: f64) -> Result<Value, E> {
        Ok(value.into())
    }

    fn visit_str<E: Error>(self, value: &str) -> Result<Value, E> {
        Ok(value.into())
    }

    fn visit_unit<E: Error>(self) -> Result<Value, E> {
        Ok(Value::Null)
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut seq: A) -> Result<Value, A::Error> {
        let mut list = Vec::new();
        while let Some(Strict(value)) = seq.next_element()? {
            list.push(value);
        }
        Ok(Value::Array(list))
    }

    fn visit_map<A: MapAccess<'de>>(self, mut access: A) -> Result<Value, A::Error> {
        let mut map = Map::new();
        while let Some(key) = access.next_key::<String>()? {
            if map.contains_key(&key) {
                return Err(A::Error::custom(format_args!("the key \"{}\" a second time", shortened(&key))));
            }
            let Strict(value) = access.next_value()?;
            map.insert(key, value);
        }
        Ok(Value::Object(map))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn plain_json_is_read_as_it_is() {
        let text = r#"{"a": [1, -2, 0.5, true, null, "x"], "b": {"c": {}}}"#;
        assert_eq!(parse(text, "").unwrap(), serde_json::from_str::<Value>(text).unwrap());
    }

    #[test]
    fn a_key_that_stands_twice_is_refused_where_it_stands() {
        let problem = parse("{\n  \"can\": {\"wall\": 1, \"wall\": 2}}", "a sheet").unwrap_err();
        assert_eq!(
            problem.to_string(),
            "found the key \"wall\" a second time, at line 2, column 27; a sheet"
        );
    }

    #[test]
    fn broken_text_says_where() {
        assert!(parse("{\"can\": ", "a sheet").unwrap_err().found.contains("breaks off at line 1, column 8"));
    }
}
