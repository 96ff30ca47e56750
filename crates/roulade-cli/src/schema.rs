//! JSON Schemas of the design sheet, of every question and of every answer, from the types that read and write them.

use roulade::sheet::Sheet;
use roulade::study::readings::quantity::Listed;
use roulade_answer::answer::{
    AttributionAnswer, Comparison, Diagnostic, EditAnswer, EstimateAnswer, GridAnswer, MaterialRow,
    NextAnswer, QuantityRow, Reconciliation, SampledAnswer, SensitivityAnswer,
};
use roulade_answer::ask::{BenchAnswer, Weighed};
use roulade_answer::cautions::Caution;
use roulade_answer::question::{
    AttributionQuestion, ClaimAsked, EditQuestion, MapQuestion, NextQuestion, ReconcileQuestion,
    ResizeQuestion, SampledQuestion, SensitivityQuestion, SweepQuestion, Without,
};
use roulade_report::ReportQuestion;
use roulade_search::{Found, SearchQuestion};
use schemars::JsonSchema;
use schemars::generate::SchemaSettings;
use serde_json::Value;

type Row = (&'static str, &'static str, fn() -> Value);

/// What has a schema: its name, its title, and the type that reads or writes it.
const ALL: &[Row] = &[
    ("sheet", "Design sheet of a wound cylindrical cell", asked::<Sheet>),
    ("without", "Question: what a part costs", asked::<Without>),
    ("edit", "Question: a sheet with entries changed", asked::<EditQuestion>),
    ("claim", "Question: whether a declared figure can be true", asked::<ClaimAsked>),
    (
        "attribute",
        "Question: the contribution of each change between two cells",
        asked::<AttributionQuestion>,
    ),
    ("map", "Question: the same electrodes in cans of other sizes", asked::<MapQuestion>),
    ("resize", "Question: a sheet in a can of another size", asked::<ResizeQuestion>),
    ("sweep", "Question: a cell along one of its inputs or two", asked::<SweepQuestion>),
    ("search", "Question: the best design within ranges and constraints", asked::<SearchQuestion>),
    ("sampled", "Question: uncertainty by Monte Carlo", asked::<SampledQuestion>),
    ("sensitivity", "Question: contributions to the variance of a figure", asked::<SensitivityQuestion>),
    ("reconcile", "Question: a bench sheet held against a design sheet", asked::<ReconcileQuestion>),
    ("next", "Question: the most informative next reading", asked::<NextQuestion>),
    ("report", "Question: a report", asked::<ReportQuestion>),
    ("estimate-answer", "Answer: one cell", answered::<EstimateAnswer>),
    ("compare-answer", "Answer: two cells side by side", answered::<Comparison>),
    ("without-answer", "Answer: a cell beside itself without a part", answered::<Comparison>),
    ("edit-answer", "Answer: the new sheet and the way back", answered::<EditAnswer>),
    ("claim-answer", "Answer: declared figures weighed", answered::<Weighed>),
    ("attribute-answer", "Answer: contributions of changes", answered::<AttributionAnswer>),
    ("map-answer", "Answer: figures over sizes of can", answered::<GridAnswer>),
    ("resize-answer", "Answer: a sheet in another can", asked::<Sheet>),
    ("sweep-answer", "Answer: figures over inputs", answered::<GridAnswer>),
    ("search-answer", "Answer: designs that were found", answered::<Found>),
    ("sampled-answer", "Answer: figures by Monte Carlo", answered::<SampledAnswer>),
    ("sensitivity-answer", "Answer: contributions to a variance", answered::<SensitivityAnswer>),
    ("reconcile-answer", "Answer: a fitted sheet and its readings", answered::<Reconciliation>),
    ("next-answer", "Answer: readings by what they would tell", answered::<NextAnswer>),
    ("readings-answer", "Answer: a bench sheet as it was read", answered::<BenchAnswer>),
    ("readable-answer", "Answer: quantities that a bench can read", answered::<Vec<Listed>>),
    ("materials-answer", "Answer: the table of materials", answered::<Vec<MaterialRow>>),
    ("quantities-answer", "Answer: quantities of a design sheet", answered::<Vec<QuantityRow>>),
    ("cautions-answer", "Answer: hazards of opening cells", answered::<Vec<Caution>>),
    ("problems", "Answer: everything wrong with a question", answered::<Vec<Diagnostic>>),
];

/// The names of all that has a schema.
pub(crate) fn names() -> impl Iterator<Item = &'static str> {
    ALL.iter().map(|(name, ..)| *name)
}

fn asked<T: JsonSchema>() -> Value {
    let generator = SchemaSettings::draft2020_12().into_generator();
    let mut schema = generator.into_root_schema_for::<T>().to_value();
    without_null(&mut schema, true);
    schema
}

fn answered<T: JsonSchema>() -> Value {
    let generator = SchemaSettings::draft2020_12().for_serialize().into_generator();
    let mut schema = generator.into_root_schema_for::<T>().to_value();
    without_null(&mut schema, false);
    // A sheet in an answer is a sheet as it is asked with: what its reader refuses is not written either.
    let mut sheet = asked::<Sheet>();
    let mut whole = sheet.as_object_mut().map(std::mem::take).unwrap_or_default();
    let parts = whole.remove("$defs").and_then(|parts| parts.as_object().cloned()).unwrap_or_default();
    whole.retain(|key, _| !["$schema", "title"].contains(&key.as_str()));
    if let Some(definitions) = schema.get_mut("$defs").and_then(Value::as_object_mut) {
        for (name, of) in parts.into_iter().chain([("Sheet".to_owned(), Value::Object(whole))]) {
            definitions.entry(name).and_modify(|there| *there = of);
        }
    }
    schema
}

/// The schema of that name, draft 2020-12; that of a sheet where there is none such.
pub(crate) fn text(wanted: &str) -> String {
    let found = ALL.iter().find(|(name, ..)| *name == wanted);
    let (_, title, schema) = found.copied().unwrap_or(("", "", asked::<Sheet>));
    let mut schema = schema();
    if let Some(root) = schema.as_object_mut() {
        root.insert("title".to_owned(), title.into());
    }
    // Plain data always becomes text.
    serde_json::to_string_pretty(&schema).unwrap_or_default() + "\n"
}

/// What may be left out is left out, not null: the reader bears a null, but nobody needs to be offered one. Nulls that are
/// in no key that may be left out are taken away `everywhere`, or stay: an answer has them.
fn without_null(schema: &mut Value, everywhere: bool) {
    match schema {
        Value::Array(items) => items.iter_mut().for_each(|item| without_null(item, everywhere)),
        Value::Object(keys) => {
            keys.values_mut().for_each(|value| without_null(value, everywhere));
            if everywhere {
                not_null(keys);
                return;
            }
            let required = keys.get("required").cloned().unwrap_or_default();
            let required: Vec<&str> =
                required.as_array().into_iter().flatten().filter_map(Value::as_str).collect();
            let Some(Value::Object(properties)) = keys.get_mut("properties") else { return };
            for (name, property) in properties {
                if let Value::Object(property) = property
                    && !required.contains(&name.as_str())
                {
                    not_null(property);
                }
            }
        }
        _ => {}
    }
}

fn not_null(keys: &mut serde_json::Map<String, Value>) {
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
