//! The JSON Schema of a design sheet, from the type that reads it.

use roulade::sheet::Sheet;
use schemars::generate::SchemaSettings;
use serde_json::Value;

/// The schema, draft 2020-12.
pub(crate) fn text() -> String {
    let mut schema =
        SchemaSettings::draft2020_12().into_generator().into_root_schema_for::<Sheet>().to_value();
    without_null(&mut schema);
    if let Some(root) = schema.as_object_mut() {
        root.insert("title".to_owned(), "Design sheet of a wound cylindrical cell".into());
    }
    // Plain data always becomes text.
    serde_json::to_string_pretty(&schema).unwrap_or_default() + "\n"
}

/// What may be left out is left out, not null: the reader bears a null, but nobody needs to be offered one.
fn without_null(schema: &mut Value) {
    match schema {
        Value::Array(items) => items.iter_mut().for_each(without_null),
        Value::Object(keys) => {
            keys.values_mut().for_each(without_null);
            if let Some(Value::Array(types)) = keys.get_mut("type") {
                types.retain(|kind| kind != "null");
                if let [only] = types.as_slice() {
                    let only = only.clone();
                    keys.insert("type".to_owned(), only);
                }
            }
            if let Some(Value::Array(choices)) = keys.get_mut("anyOf") {
                choices.retain(|choice| choice.get("type").is_none_or(|kind| kind != "null"));
                if let [Value::Object(only)] = choices.as_mut_slice() {
                    let only = std::mem::take(only);
                    keys.remove("anyOf");
                    keys.extend(only);
                }
            }
        }
        _ => {}
    }
}
