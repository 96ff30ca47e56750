//! A sheet with some entries changed.

use super::said::plausibility;
use crate::args::{EditArgs, FormArgs};
use crate::files;
use crate::report::{Delivery, Out, Sources, form};
use roulade::quantity::problem::{Problem, Problems, json_visible, shortened};
use roulade::sheet::{Edit, Sheet, read, write};
use roulade::study::edit::SheetChange;
use roulade::study::form_factors::asked::ResizeEntries;
use roulade_answer::answer::EditAnswer;
use roulade_answer::ask;
use serde_json::Value;

/// Changes the sheet, and says what is wrong with it then.
pub(super) fn edit(asked: &EditArgs) -> Delivery {
    let mut begins = Vec::new();
    begins.extend(asked.edits.as_deref().map(|path| ("list", files::name(path))));
    begins.extend(asked.write.as_deref().map(|path| ("write", files::name(path))));
    begins.extend(asked.inverse.as_deref().map(|path| ("inverse", files::name(path))));
    let sources = Sources { file: files::name(&asked.sheet), begins };
    let form = form(&FormArgs { json: asked.json, ..FormArgs::default() });
    let answer = match changed(asked) {
        Ok(answer) => answer,
        Err(problems) => return form.problems(&problems, &sources),
    };
    let text = write::text(&answer.sheet);
    let files = [
        asked.inverse.as_deref().map(|path| (path, to_text(&answer.inverse), "inverse")),
        asked.write.as_deref().map(|path| (path, text.clone(), "write")),
    ];
    let mut instead = String::new();
    for (path, text, place) in files.into_iter().flatten() {
        match files::write(path, text, asked.overwrite) {
            Ok(left) => instead += &left.unwrap_or_default(),
            Err(problem) => return form.problems(&problem.within(place).into(), &sources),
        }
    }
    let diagnostic = answer
        .problems
        .iter()
        .map(|diagnostic| Problem::new(&diagnostic.place, &diagnostic.found, &diagnostic.expected));
    let problems = Problems(diagnostic.collect());
    let out = match asked {
        _ if !instead.is_empty() => instead,
        EditArgs { json: true, .. } => ask::answer(Ok(&answer)) + "\n",
        EditArgs { write: Some(_), .. } => String::new(),
        _ => text,
    };
    if problems.0.is_empty() {
        let written = asked.write.as_deref().map_or(sources.file, files::name);
        let err = plausibility(&written, &answer.sheet);
        return Delivery { out: Out::Exact(out), err, status: 0 };
    }
    let complaints = form_of_text().problems(&problems, &sources);
    Delivery { out: Out::Exact(out), err: complaints.err, status: 1 }
}

fn form_of_text() -> Box<dyn crate::report::Form> {
    form(&FormArgs::default())
}

fn to_text(edits: &[SheetChange]) -> String {
    // Plain data always becomes text.
    json_visible(serde_json::to_string_pretty(edits).unwrap_or_default()) + "\n"
}

fn changed(asked: &EditArgs) -> Result<EditAnswer, Problems> {
    let sheet = files::read(&asked.sheet).map_err(Problems::from).and_then(|text| Sheet::parse(&text));
    let mut problems = Problems::default();
    let mut kept = |more: Problems| problems.0.extend(more.0);
    let sheet = sheet.map_err(&mut kept).ok();
    let mut changes = Vec::new();
    if let Some(path) = &asked.edits {
        let list = files::read(path).map_err(Problems::from).and_then(|text| {
            read::text::<Vec<SheetChange>>(&text, "a list of changes: [{\"set\": KEY, \"to\": VALUE}, …]")
        });
        changes.extend(list.map_err(|problems| kept(problems.within("list"))).unwrap_or_default());
    }
    let edits = asked.set.iter().map(|text| set(text));
    let edits = edits.chain(asked.remove.iter().map(|key| Ok(Edit::Remove { key: key.clone() })));
    let edits = edits.chain(asked.rename.iter().map(|text| {
        let (key, to) = halves(text).ok_or_else(|| unsplit("--rename", text, "parts[lid]=cap"))?;
        Ok(Edit::Rename { key, to })
    }));
    let edits = edits.chain(asked.fix.iter().map(|text| {
        Ok(match halves(text) {
            Some((key, at)) => Edit::Fix { key, at: Some(at) },
            None => Edit::Fix { key: text.clone(), at: None },
        })
    }));
    let edits = edits.chain(asked.scale.iter().map(|text| {
        let unsplit = || unsplit("--scale", text, "parts[lid].mass=1.2");
        let (key, by) = halves(text).ok_or_else(unsplit)?;
        Ok(Edit::Scale { key, by: by.trim().parse().map_err(|_| unsplit())? })
    }));
    for edit in edits {
        match edit {
            Ok(edit) => changes.push(SheetChange::Edit(edit)),
            Err(problem) => kept(Problem::into(problem)),
        }
    }
    if let Some([diameter, height]) = asked.resize.as_deref() {
        let (diameter, height) = (Some(diameter.clone()), Some(height.clone()));
        changes.push(SheetChange::Resize {
            resize: ResizeEntries { diameter, height, ..ResizeEntries::default() },
        });
    }
    if changes.is_empty() && problems.0.is_empty() {
        problems.push(Problem::new(
            "KEY=VALUE",
            "no change",
            "at least one change, such as \"can.wall=0.3 mm\"",
        ));
    }
    match sheet {
        Some(sheet) if problems.0.is_empty() => ask::edited(&sheet, &changes),
        _ => Err(problems),
    }
}

/// What is written under a key: JSON where it looks like that, a text otherwise.
fn set(text: &str) -> Result<Edit, Problem> {
    let (key, value) = halves(text).ok_or_else(|| unsplit("KEY=VALUE", text, "can.wall=0.3 mm"))?;
    if value.trim().is_empty() {
        return Ok(Edit::Clear { key });
    }
    let to = if value.trim_start().starts_with(['{', '[', '"']) {
        let problem = |problem: Problem| problem.within(&shortened(&key));
        roulade::sheet::parse(&value, "JSON, or a text that does not begin like it")
            .map(Value::from)
            .map_err(problem)?
    } else {
        Value::String(value)
    };
    Ok(Edit::Set { key, to })
}

/// What stands before and after the first "=" that is not within brackets: names of parts may have one.
fn halves(text: &str) -> Option<(String, String)> {
    let mut open = 0_usize;
    let at = text.char_indices().find_map(|(at, c)| {
        match c {
            '[' => open += 1,
            ']' => open = open.saturating_sub(1),
            _ => {}
        }
        (c == '=' && open == 0).then_some(at)
    })?;
    let (key, value) = text.split_at(at);
    Some((key.trim().to_owned(), value.strip_prefix('=')?.to_owned()))
}

fn unsplit(place: &str, text: &str, example: &str) -> Problem {
    Problem::new(
        place,
        format!("\"{}\"", shortened(text)),
        format!("a key, \"=\" and a value, for example \"{example}\""),
    )
}
