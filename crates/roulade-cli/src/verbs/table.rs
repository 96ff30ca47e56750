//! Tables to look things up in.

use super::said::said;
use crate::args::{FormArgs, MaterialsArgs};
use crate::page;
use crate::report::{Delivery, Report, Sources};
use roulade::material;
use roulade::quantity::problem::{Problem, Problems, hint, shortened};
use roulade_answer::answer::{self, MaterialRow};
use roulade_answer::cautions::CAUTIONS;

/// The table of materials, or one of them in full.
pub(super) fn materials(asked: &MaterialsArgs) -> Delivery {
    said(&asked.form, found(asked.name.as_deref()), &Sources::one("roulade materials".to_owned()))
}

fn found(name: Option<&str>) -> Result<Report, Problems> {
    let all = answer::materials();
    let Some(name) = name else {
        let (page, rows) = page::materials(&all);
        return Ok(Report::of(page, &all, rows));
    };
    let found = material::find(name);
    match found.and_then(|found| all.iter().find(|row| row.name == found.name)) {
        Some(row) => {
            let (page, rows) = page::material(row);
            Ok(Report::of(page, row, rows))
        }
        None => Err(unknown(name, &all).into()),
    }
}

fn unknown(name: &str, all: &[MaterialRow]) -> Problem {
    let hint = hint(material::nearest(name));
    let names: Vec<&str> = all.iter().map(|row| row.name).collect();
    let found = format!("\"{}\", a material that is not known", shortened(name));
    Problem::new("", found, format!("a material of the table, one of: {}{hint}", names.join(", ")))
}

/// Every quantity of a design sheet.
pub(super) fn quantities(form: &FormArgs) -> Delivery {
    let (page, rows) = page::quantities(&answer::quantities());
    said(form, Ok(Report::of(page, &answer::quantities(), rows)), &Sources::one(String::new()))
}

/// Hazards of opening cells.
pub(super) fn cautions(form: &FormArgs) -> Delivery {
    let (page, rows) = page::cautions(CAUTIONS);
    said(form, Ok(Report::of(page, CAUTIONS, rows)), &Sources::one(String::new()))
}
