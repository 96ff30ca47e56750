//! The text of a parameter set, and the sheet that grows out of it.

use super::block::Block;
use roulade::quantity::problem::{Problem, Problems, shortened};
use roulade::sheet::defaults::field;
use roulade::sheet::read::{LARGEST, too_large};
use roulade::sheet::{self, Sheet, write};
use roulade_stats::uncertain::Uncertain;
use serde_json::{Map, Value, json};

const EXPECTED: &str = "a parameter set: a JSON object with \"Header\" and \"Parameterisation\"";

/// A parameter set as it was read.
pub(super) struct Document(Map<String, Value>);

impl Document {
    /// Reads JSON text; a key that stands twice is refused.
    pub(super) fn read(text: &str) -> Result<Self, Problems> {
        if text.len() > LARGEST {
            return Err(too_large(text.len() as u64).into());
        }
        let value: Value = sheet::parse(text, EXPECTED)?.into();
        let Value::Object(map) = value else {
            return Err(Problem::new("", "JSON that is no object", EXPECTED).into());
        };
        let mut problems = Problems::default();
        for key in ["Header", "Parameterisation"] {
            if !map.get(key).is_some_and(Value::is_object) {
                problems.push(Problem::new(key, "nothing, or no object", EXPECTED));
            }
        }
        let document = Self(map);
        if let Some(model) = document.0.get("Header").and_then(|header| header.get("Model")) {
            let models = ["SPM", "SPMe", "DFN", "Partial"];
            if !model.as_str().is_some_and(|model| models.contains(&model)) {
                let found = shortened(&model.to_string());
                problems.push(Problem::new("Header.Model", found, "SPM, SPMe, DFN or Partial"));
            }
        }
        problems.or_else_ok(document)
    }

    /// What it is called.
    pub(super) fn title(&self) -> String {
        let title = self.0.get("Header").and_then(|header| header.get("Title")).and_then(Value::as_str);
        title.map(str::trim).filter(|title| !title.is_empty()).unwrap_or("a parameter set").to_owned()
    }

    /// One block of it.
    pub(super) fn block(&self, path: &[&str], problems: &mut Problems) -> Block<'_> {
        path.iter().fold(Block::new(String::new(), Some(&self.0)), |block, key| block.inner(key, problems))
    }

    /// Blocks that no sheet has a place for.
    pub(super) fn others(&self) -> Vec<String> {
        let mut others: Vec<String> = self
            .0
            .keys()
            .filter(|key| !["Header", "Parameterisation"].contains(&key.as_str()))
            .cloned()
            .collect();
        if let Some(Value::Object(parameters)) = self.0.get("Parameterisation") {
            let groups = ["Cell", "Separator", "Positive electrode", "Negative electrode", "User-defined"];
            let more = parameters.keys().filter(|key| !groups.contains(&key.as_str()));
            others.extend(more.map(|key| format!("Parameterisation.{key}")));
        }
        others
    }
}

/// A sheet as JSON, entry by entry.
pub(super) struct Written {
    sheet: Value,
    source: String,
    /// What to know of it.
    pub(super) remarks: Vec<String>,
    /// Parameters without a place.
    pub(super) left: Vec<String>,
    /// Whether the parameter set was written by this crate.
    pub(super) of_this_model: bool,
}

impl Written {
    /// Over a base sheet, or over nothing. What moved together in the base does so no more.
    pub(super) fn over(base: Option<&Sheet>, title: &str) -> Self {
        let mut sheet = base
            .map(|base| serde_json::to_value(base).unwrap_or_default())
            .filter(Value::is_object)
            .unwrap_or_else(|| json!({ "roulade_sheet": 1 }));
        if let Some(map) = sheet.as_object_mut() {
            map.remove("correlated");
            map.insert("cell".to_owned(), json!(title));
        }
        let source = format!("parameter set “{title}”");
        Self { sheet, source, remarks: Vec::new(), left: Vec::new(), of_this_model: false }
    }

    /// The sheet.
    pub(super) fn sheet(self) -> Result<Sheet, Problems> {
        Sheet::parse(&self.sheet.to_string())
    }

    fn at(&mut self, key: &str) -> &mut Value {
        key.split('.').fold(&mut self.sheet, |at, step| {
            if !at.is_object() {
                *at = json!({});
            }
            // Just made an object, which makes the entry it is asked for.
            &mut at[step]
        })
    }

    /// Whether the sheet says anything under a key.
    pub(super) fn has(&self, key: &str) -> bool {
        let at = key.split('.').try_fold(&self.sheet, |at, step| at.get(step));
        at.is_some_and(|at| !at.is_null())
    }

    /// Leaves an entry out.
    pub(super) fn drop(&mut self, key: &str) {
        let (path, last) = key.rsplit_once('.').map_or((None, key), |(path, last)| (Some(path), last));
        let holder = match path {
            Some(path) if self.has(path) => self.at(path),
            Some(_) => return,
            None => &mut self.sheet,
        };
        if let Some(map) = holder.as_object_mut() {
            map.remove(last);
        }
    }

    /// An entry, SI, in the unit of its key, with where it comes from.
    pub(super) fn number(&mut self, key: &str, uncertain: &Uncertain) {
        // Every key that is written has a row among the quantities.
        let Some(unit) = field(key).map(|field| field.unit) else { return };
        let text = write::number(uncertain, unit);
        let source = self.source.clone();
        self.text(key, &text, &source);
    }

    /// An entry as a text.
    pub(super) fn text(&mut self, key: &str, text: &str, source: &str) {
        *self.at(key) = json!({ "value": text, "from": "stated", "remark": source });
    }

    /// Anything else.
    pub(super) fn set(&mut self, key: &str, value: Value) {
        *self.at(key) = value;
    }

    /// A number, SI, as an entry of a list.
    pub(super) fn entry(&self, uncertain: &Uncertain, unit: roulade::quantity::units::Unit) -> Value {
        json!({ "value": write::number(uncertain, unit), "from": "stated", "remark": self.source })
    }

    /// One more material of the sheet's own, in the place of one of that name.
    pub(super) fn material(&mut self, material: Value) {
        let mut all = self.at("materials").as_array().cloned().unwrap_or_default();
        all.retain(|other| other.get("name") != material.get("name"));
        all.push(material);
        *self.at("materials") = Value::Array(all);
    }
}
