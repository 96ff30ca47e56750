//! JSON Schemas of the design sheet and of every question, from the types that read them.

use roulade::sheet::Sheet;
use roulade_answer::question::{
    ClaimAsked, Drawn, EditQuestion, Leaning, MapQuestion, Next, Reconcile, ResizeQuestion, SweepQuestion,
    Without, WorthQuestion,
};
use roulade_report::ReportQuestion;
use roulade_search::SearchQuestion;
use schemars::JsonSchema;
use schemars::generate::SchemaSettings;
use serde_json::Value;

type Row = (&'static str, &'static str, fn() -> Value);

/// What has a schema: its name, its title, and the type that reads it.
const ALL: &[Row] = &[
    ("sheet", "Design sheet of a wound cylindrical cell", of::<Sheet>),
    ("without", "Question: what a part costs", of::<Without>),
    ("edit", "Question: a sheet with entries changed", of::<EditQuestion>),
    ("claim", "Question: whether a declared figure can be true", of::<ClaimAsked>),
    ("worth", "Question: the contribution of each change between two cells", of::<WorthQuestion>),
    ("map", "Question: the same electrodes in cans of other sizes", of::<MapQuestion>),
    ("resize", "Question: a sheet in a can of another size", of::<ResizeQuestion>),
    ("sweep", "Question: a cell along one of its inputs or two", of::<SweepQuestion>),
    ("search", "Question: the best design within ranges and constraints", of::<SearchQuestion>),
    ("sampled", "Question: uncertainty by Monte Carlo", of::<Drawn>),
    ("leaning", "Question: contributions to the variance of a figure", of::<Leaning>),
    ("reconcile", "Question: a bench sheet held against a design sheet", of::<Reconcile>),
    ("next", "Question: the most informative next reading", of::<Next>),
    ("report", "Question: a report", of::<ReportQuestion>),
];

/// The names of all that has a schema.
pub(crate) fn names() -> impl Iterator<Item = &'static str> {
    ALL.iter().map(|(name, ..)| *name)
}

fn of<T: JsonSchema>() -> Value {
    SchemaSettings::draft2020_12().into_generator().into_root_schema_for::<T>().to_value()
}

/// The schema of that name, draft 2020-12; that of a sheet where there is none such.
pub(crate) fn text(wanted: &str) -> String {
    let found = ALL.iter().find(|(name, ..)| *name == wanted);
    let (_, title, schema) = found.copied().unwrap_or(("", "", of::<Sheet>));
    let mut schema = schema();
    without_null(&mut schema);
    if let Some(root) = schema.as_object_mut() {
        root.insert("title".to_owned(), title.into());
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
