//! The types of the page's JSON, written in TypeScript from the schemas of all questions and answers.

use serde_json::{Map, Value};
use std::collections::BTreeMap;
use std::fmt::Write as _;

/// All definitions, each once; the roots of the schemas among them.
#[derive(Default)]
pub(crate) struct Types(BTreeMap<String, Value>);

impl Types {
    /// Takes the definitions of a schema, and its root by the title of its type where it has one of its own.
    pub(crate) fn take(&mut self, name: &str, schema: &Value) {
        let mut root = schema.clone();
        let Some(keys) = root.as_object_mut() else { panic!("{name}: a schema is an object") };
        // One of several answers, beside the type of one of them.
        let own = camel(name);
        let several = schema["anyOf"].is_array() && schema["$defs"].get(&own).is_some();
        let called = if several { format!("Any{own}") } else { own };
        for (definition, of) in
            keys.remove("$defs").and_then(|defs| defs.as_object().cloned()).unwrap_or_default()
        {
            self.one(&definition, of);
        }
        for key in ["$schema", "title"] {
            keys.remove(key);
        }
        self.one(&called, root);
    }

    fn one(&mut self, name: &str, mut of: Value) {
        // Whether further keys are borne is no matter of types.
        if let Some(keys) =
            of.as_object_mut().filter(|keys| keys.get("additionalProperties") == Some(&false.into()))
        {
            keys.remove("additionalProperties");
        }
        if let Some(there) = self.0.get(name) {
            assert!(*there == of, "two types are called {name}:\n{there}\n{of}");
        }
        self.0.insert(name.to_owned(), of);
    }

    /// The file.
    pub(crate) fn text(&self) -> String {
        let mut text =
            "/** Types of the JSON of all questions and answers. Written from the types of the model by \
                        `UPDATE=1 cargo test -p roulade-cli contract`; a test holds it current. */\n"
                .to_owned();
        for (name, of) in &self.0 {
            text.push('\n');
            described(&mut text, of, "");
            let properties = of.get("properties").and_then(Value::as_object);
            match properties.filter(|_| of.get("anyOf").is_none() && of.get("oneOf").is_none()) {
                Some(properties) => {
                    let _ = writeln!(text, "export interface {name} {}", object(of, properties, ""));
                }
                None => {
                    let _ = writeln!(text, "export type {name} = {};", kind(of, ""));
                }
            }
        }
        text
    }
}

/// "claim-answer" → "`ClaimAnswer`", "claim" → "`ClaimQuestion`".
fn camel(name: &str) -> String {
    let whole = name.ends_with("-answer") || ["sheet", "problems"].contains(&name);
    let upper = |word: &str| {
        let mut letters = word.chars();
        letters
            .next()
            .map(|first| first.to_ascii_uppercase().to_string() + letters.as_str())
            .unwrap_or_default()
    };
    let joined: String = name.split('-').map(upper).collect();
    if whole { joined } else { joined + "Question" }
}

fn described(text: &mut String, of: &Value, indent: &str) {
    if let Some(words) = of.get("description").and_then(Value::as_str) {
        let words = words.split_whitespace().collect::<Vec<_>>().join(" ").replace("*/", "* /");
        let _ = writeln!(text, "{indent}/** {words} */");
    }
}

fn object(of: &Value, properties: &Map<String, Value>, indent: &str) -> String {
    let required = of.get("required").and_then(Value::as_array);
    let needed = |key: &str| required.is_some_and(|keys| keys.iter().any(|other| other == key));
    let deeper = format!("{indent}  ");
    let mut text = "{\n".to_owned();
    for (key, property) in properties {
        described(&mut text, property, &deeper);
        let mark = if needed(key) { "" } else { "?" };
        let _ = writeln!(text, "{deeper}{key}{mark}: {};", kind(property, &deeper));
    }
    text + indent + "}"
}

/// A schema as a type.
fn kind(of: &Value, indent: &str) -> String {
    if let Some(name) = of.get("$ref").and_then(Value::as_str) {
        return name.trim_start_matches("#/$defs/").to_owned();
    }
    if let Some(one) = of.get("const") {
        return one.to_string();
    }
    let several = |choices: &[Value]| {
        let mut kinds: Vec<String> = choices.iter().map(|choice| kind(choice, indent)).collect();
        kinds.dedup();
        kinds.join(" | ")
    };
    if let Some(choices) = of.get("enum").and_then(Value::as_array) {
        return choices.iter().map(Value::to_string).collect::<Vec<_>>().join(" | ");
    }
    for key in ["oneOf", "anyOf"] {
        if let Some(choices) = of.get(key).and_then(Value::as_array) {
            return several(choices);
        }
    }
    if let Some(all) = of.get("allOf").and_then(Value::as_array) {
        return all.iter().map(|part| kind(part, indent)).collect::<Vec<_>>().join(" & ");
    }
    match of.get("type") {
        Some(Value::Array(kinds)) => {
            let alone = |kind: &Value| {
                let mut plain = of.clone();
                plain["type"] = kind.clone();
                plain
            };
            several(&kinds.iter().map(alone).collect::<Vec<_>>())
        }
        Some(Value::String(plain)) => match plain.as_str() {
            "number" | "integer" => "number".to_owned(),
            "array" => array(of, indent),
            "object" => {
                match (of.get("properties").and_then(Value::as_object), of.get("additionalProperties")) {
                    (Some(properties), _) => object(of, properties, indent),
                    (None, Some(values)) if values.is_object() => {
                        format!("Record<string, {}>", kind(values, indent))
                    }
                    _ => "Record<string, unknown>".to_owned(),
                }
            }
            other => other.to_owned(),
        },
        _ => "unknown".to_owned(),
    }
}

fn array(of: &Value, indent: &str) -> String {
    if let Some(items) = of.get("prefixItems").and_then(Value::as_array) {
        return format!("[{}]", items.iter().map(|item| kind(item, indent)).collect::<Vec<_>>().join(", "));
    }
    let Some(item) = of.get("items") else { return "unknown[]".to_owned() };
    let item = kind(item, indent);
    let counts = [of.get("minItems"), of.get("maxItems")].map(|count| count.and_then(Value::as_u64));
    match counts {
        [Some(least), Some(most)] if least == most && most <= 8 => {
            let count = usize::try_from(most).unwrap_or_default();
            format!("[{}]", vec![item; count].join(", "))
        }
        _ if item.contains([' ', '|']) && !item.starts_with('{') => format!("({item})[]"),
        _ => format!("{item}[]"),
    }
}
