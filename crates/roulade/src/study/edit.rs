//! Changes to a sheet, those among them that need the cell: another can.

use crate::cell::draft::{Draft, stand_in, stand_in_tabs};
use crate::quantity::problem::Problems;
use crate::sheet::shape::{Json, Shape, Trail};
use crate::sheet::{Edit, Edited, Sheet, diff, edit};
use crate::study::form_factors::asked::ResizeEntries;

/// One change.
///
/// As JSON, an [`Edit`], or `{"resize": {"diameter": "21 mm", "height": "70 mm"}}`.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(untagged)]
pub enum SheetChange {
    /// Of entries, one by one.
    Edit(#[cfg_attr(feature = "schema", schemars(with = "crate::sheet::EditEntries"))] Edit),
    /// The same electrodes in another can.
    Resize {
        /// The other can.
        resize: ResizeEntries,
    },
}

impl Shape for SheetChange {
    const MOST_LISTED: usize = 1_000;

    fn read(value: Json<'_>, place: Trail<'_>, problems: &mut Problems) -> Option<Self> {
        match value {
            Json::Object(mut entries) if matches!(entries.as_slice(), [(key, _)] if key == "resize") => {
                let (_, resize) = entries.remove(0);
                let resize = ResizeEntries::read(resize, Trail::Key(&place, "resize"), problems)?;
                Some(Self::Resize { resize })
            }
            other => Edit::read(other, place, problems).map(Self::Edit),
        }
    }
}

/// Makes changes to a sheet, one after the other; entries that take no part in the new cell leave its correlations.
///
/// # Errors
/// What is wrong with the changes, places beginning with `edits[0].`; for another can also what is wrong with the sheet.
///
/// # Examples
/// ```
/// use roulade::sheet::{Edit, Sheet};
/// use roulade::study::edit::{SheetChange, edited};
///
/// let sheet = Sheet::parse(r#"{
///     "can": {"diameter": "21.0 ± 0.1 mm", "height": "70.0 ± 0.1 mm"},
///     "correlated": {"paths": ["can.diameter", "can.height"], "coefficients": [[0.5]]}
/// }"#)?;
/// let exact = SheetChange::Edit(Edit::Set { key: "can.diameter".to_owned(), to: "22 mm".into() });
/// assert_eq!(edited(&sheet, &[exact])?.sheet.correlated, None);
/// # Ok::<(), roulade::quantity::problem::Problems>(())
/// ```
pub fn edited(sheet: &Sheet, changes: &[SheetChange]) -> Result<Edited, Problems> {
    let mut now = sheet.clone();
    for (i, change) in changes.iter().enumerate() {
        let within = |problems: Problems| problems.within(&format!("edits[{i}]"));
        now = match change {
            SheetChange::Edit(one) => {
                write_out(&mut now, one);
                let after = edit(&now, std::slice::from_ref(one))
                    .map_err(|problems| within(Problems(problems.0.into_iter().map(of_one).collect())))?
                    .sheet;
                // What is said of correlations is meant.
                if one.key().starts_with("correlated") || one.key().is_empty() {
                    after
                } else {
                    Draft::settled(&now, after)
                }
            }
            SheetChange::Resize { resize } => {
                resize.clone().resized(now).map_err(|problems| within(problems.within("resize")))?
            }
        };
    }
    let inverse = diff(&now, sheet);
    Ok(Edited { sheet: now, inverse })
}

/// What stands in for a list that the sheet leaves out is written out where one of its items is meant.
fn write_out(sheet: &mut Sheet, edit: &Edit) {
    let whole = matches!(edit, Edit::Set { .. } | Edit::Clear { .. });
    let meant = |list: &str| match edit.key().strip_prefix(list) {
        Some("") => !whole,
        Some(rest) => rest.starts_with('['),
        None => false,
    };
    if sheet.parts.is_none() && meant("parts") {
        sheet.parts = Some(stand_in(sheet));
    }
    for (list, anode) in [("current_path.cathode.tabs", false), ("current_path.anode.tabs", true)] {
        if meant(list) {
            let tabs = stand_in_tabs(sheet, anode);
            let path = sheet.current_path.get_or_insert_default();
            let side = if anode { &mut path.anode } else { &mut path.cathode };
            side.get_or_insert_default().tabs.get_or_insert(tabs);
        }
    }
}

/// The place of a problem without the number of the only edit.
fn of_one(mut problem: crate::quantity::problem::Problem) -> crate::quantity::problem::Problem {
    if let Some(place) = problem.place.strip_prefix("edits[0]") {
        problem.place = place.trim_start_matches('.').to_owned();
    }
    problem
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::test_support::with;
    use roulade_stats::uncertain::Origin;
    use serde_json::json;

    /// Whatever a list of assumptions shows can be written into the sheet as it is shown.
    #[test]
    fn every_default_that_is_listed_can_be_written() {
        let tabs = json!({ "cathode": { "feed": "tabs" }, "anode": { "feed": "tabs" } });
        let folds = [("cathode/fold_height", json!(null)), ("anode/fold_height", json!(null))];
        for changes in
            [vec![], [folds.to_vec(), vec![("current_path", tabs), ("parts", json!(null))]].concat()]
        {
            let sheet = Sheet::parse(&with(&changes).to_string()).unwrap();
            let draft = Draft::read(&sheet).unwrap();
            // A share that takes what the others leave is no default.
            let listed = draft.inputs().iter().enumerate().filter(|(i, _)| !draft.gives_way(*i));
            let defaults = listed.map(|(_, input)| input).filter(|input| input.origin == Origin::Default);
            let mut written = 0;
            for input in defaults {
                let to = input.text().into_owned().into();
                let one = SheetChange::Edit(Edit::Set { key: input.key.to_string(), to });
                let made =
                    edited(&sheet, &[one]).unwrap_or_else(|problems| panic!("{}: {problems}", input.key));
                let read =
                    Draft::read(&made.sheet).unwrap_or_else(|problems| panic!("{}: {problems}", input.key));
                let keys =
                    |of: &Draft| of.inputs().iter().map(|input| input.key.to_string()).collect::<Vec<_>>();
                assert_eq!(keys(&read), keys(&draft), "{}: what stands in stays", input.key);
                assert_eq!(edit(&made.sheet, &made.inverse).unwrap().sheet, sheet, "{}", input.key);
                written += 1;
            }
            assert!(written > 10, "{written}");
        }
    }
}
