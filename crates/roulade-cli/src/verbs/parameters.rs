//! Design sheets to and from parameter sets of the open exchange standard.

use super::said::{plausibility, written};
use crate::args::{ExportArgs, FormArgs, ImportArgs};
use crate::files;
use crate::report::{Delivery, Form, Out, Sources, form, visible};
use roulade::quantity::problem::Problems;
use roulade::sheet::{Sheet, write};
use roulade_exchange::{Beside, Imported, from_parameters, to_parameters};
use std::path::Path;

/// The parameter set of a sheet.
pub(super) fn export(asked: &ExportArgs) -> Delivery {
    let mut begins = Vec::new();
    begins.extend(asked.write.as_deref().map(|path| ("write", files::name(path))));
    let sources = Sources { file: files::name(&asked.sheet), begins };
    let both = sheet(&asked.sheet).and_then(|sheet| Ok((to_parameters(&sheet)?, sheet)));
    let out = both.and_then(|(text, sheet)| {
        Ok((written(text, asked.write.as_deref(), asked.overwrite)?, plausibility(&sources.file, &sheet)))
    });
    match out {
        Ok((out, err)) => Delivery { out: Out::Exact(out), err, status: 0 },
        Err(problems) => of_text().problems(&problems, &sources),
    }
}

/// The sheet of a parameter set; what to know of it goes to standard error, unless it is asked for.
pub(super) fn import(asked: &ImportArgs) -> Delivery {
    let mut begins = Vec::new();
    begins.extend(asked.write.as_deref().map(|path| ("write", files::name(path))));
    begins.extend(asked.into.as_deref().map(|path| ("into", files::name(path))));
    let sources = Sources { file: files::name(&asked.parameters), begins };
    let Imported { sheet, remarks, left_out, problems } = match imported(asked) {
        Ok(imported) => imported,
        Err(problems) => return of_text().problems(&problems, &sources),
    };
    let mut notes = String::new();
    for remark in &remarks {
        notes.extend([&*visible(remark), "\n"]);
    }
    notes += &plausibility(&sources.file, &sheet);
    if !left_out.is_empty() {
        notes += "Parameters that a design sheet has no place for:\n";
        for name in &left_out {
            notes.extend(["  ", &*visible(name), "\n"]);
        }
    }
    let out = match written(write::text(&sheet), asked.write.as_deref(), asked.overwrite) {
        Ok(out) => out,
        Err(problems) => return of_text().problems(&problems, &sources),
    };
    let (out, mut err) = if asked.remarks { (notes, String::new()) } else { (out, notes) };
    let status = u8::from(!problems.0.is_empty());
    if status > 0 {
        let sources = Sources::one("the sheet of these parameters".to_owned());
        err += &of_text().problems(&problems, &sources).err;
    }
    Delivery { out: Out::Exact(out), err, status }
}

fn of_text() -> Box<dyn Form> {
    form(&FormArgs::default())
}

fn sheet(path: &Path) -> Result<Sheet, Problems> {
    Sheet::parse(&files::read(path)?)
}

fn imported(asked: &ImportArgs) -> Result<Imported, Problems> {
    let base = asked.into.as_deref().map(|path| sheet(path).map_err(|problems| problems.within("into")));
    let can = asked.can.as_deref().and_then(|both| <[String; 2]>::try_from(both.to_vec()).ok());
    let beside = Beside { base: base.transpose()?, can };
    from_parameters(&files::read(&asked.parameters)?, &beside)
}
