//! Which inputs of a sheet move together.

use crate::cell::draft::read::Reader;
use crate::quantity::problem::{Problem, hint, nearest, shortened};
use crate::sheet::{Sheet, former};
use roulade_stats::uncertain::Correlation;

/// Reads the section, once all inputs are there.
pub(super) fn read(r: &mut Reader, sheet: &Sheet) -> Correlation {
    let Some(section) = &sheet.correlated else { return Correlation::none() };
    let paths = section.paths.as_deref().unwrap_or(&[]);
    let below = section.coefficients.as_deref().unwrap_or(&[]);
    let before = r.problems.0.len();
    let mut inputs = Vec::with_capacity(paths.len());
    for (i, path) in paths.iter().enumerate() {
        match input(r, path) {
            Ok(at) if inputs.contains(&Some(at)) => r.problems.push(Problem::new(
                place(i),
                format!("\"{}\" a second time", shortened(path)),
                "each quantity to be listed once",
            )),
            Ok(at) => inputs.push(Some(at)),
            Err(problem) => r.problems.push(problem.within(&place(i))),
        }
    }
    coefficients(r, paths.len(), below);
    if r.problems.0.len() > before {
        return Correlation::none();
    }
    Correlation::new(inputs.into_iter().flatten().collect(), below).unwrap_or_else(|| {
        r.problems.push(Problem::new(
            "correlated.coefficients",
            "coefficients that no quantities can have together (their matrix is not positive semidefinite)",
            "coefficients that agree with one another, such as those of one covariance matrix to six digits or more",
        ));
        Correlation::none()
    })
}

/// What was read and made them move together; whether there are such figures is seen where they are worked out.
pub(super) fn held(r: &mut Reader, sheet: &Sheet) -> Vec<(String, f64)> {
    let Some(section) = &sheet.correlated else { return Vec::new() };
    let (figures, u) = (section.held.as_deref().unwrap_or(&[]), section.held_u.as_deref().unwrap_or(&[]));
    if figures.len() != u.len() {
        let (found, expected) = (
            format!("{} uncertainties", u.len()),
            format!("{}, which is one for each figure of held", figures.len()),
        );
        r.problems.push(Problem::new("correlated.held_u", found, expected));
    }
    for (i, u) in u.iter().enumerate().filter(|(_, u)| !(**u > 0.0 && u.is_finite())) {
        let place = format!("correlated.held_u[{i}]");
        r.problems.push(Problem::new(
            place,
            u.to_string(),
            "a standard uncertainty that is greater than zero",
        ));
    }
    figures.iter().cloned().zip(u.iter().copied()).collect()
}

fn place(i: usize) -> String {
    format!("correlated.paths[{i}]")
}

/// The input of a path, or of its name in two sheets.
fn input(r: &Reader, path: &str) -> Result<usize, Problem> {
    let wanted = former::path_today(path.trim());
    let found = r.inputs.iter().enumerate().find(|(_, input)| input.path == wanted || input.key == wanted);
    let wanted = &*wanted;
    let refuse = |found: String, expected: String| Err(Problem::new("", found, expected));
    match found {
        Some((_, input)) if input.uncertain.u() == 0.0 && input.uncertain.value.is_finite() => refuse(
            format!("\"{wanted}\", which is exact ({})", shortened(&input.text())),
            "a quantity that has an uncertainty, as \"68 ± 1 µm\" or \"60 .. 75 µm\" has".to_owned(),
        ),
        Some((at, _)) => Ok(at),
        None => {
            let near = nearest(wanted, r.inputs.iter().map(|input| &*input.path));
            let hint = hint(near);
            refuse(
                format!("\"{}\", a path this sheet does not use", shortened(path)),
                format!("the path of a quantity of the sheet, for example \"cathode.loading\"{hint}"),
            )
        }
    }
}

/// Row by row: as many as there are paths before it, each from -1 to 1.
fn coefficients(r: &mut Reader, paths: usize, below: &[Vec<f64>]) {
    let expected = paths.saturating_sub(1);
    if below.len() != expected {
        let rows = |n: usize| if n == 1 { "1 row".to_owned() } else { format!("{n} rows") };
        r.problems.push(Problem::new(
            "correlated.coefficients",
            rows(below.len()),
            format!("{} for {paths} paths, one for each path after the first", rows(expected)),
        ));
    }
    for (i, row) in below.iter().enumerate() {
        if row.len() != i + 1 {
            r.problems.push(Problem::new(
                format!("correlated.coefficients[{i}]"),
                format!("a row of {}", row.len()),
                format!("a row of {}, one for each path before it", i + 1),
            ));
        }
        for (j, value) in row.iter().enumerate().filter(|(_, value)| !(-1.0..=1.0).contains(*value)) {
            r.problems.push(Problem::new(
                format!("correlated.coefficients[{i}][{j}]"),
                format!("{value}"),
                "a correlation coefficient that lies between -1 and 1",
            ));
        }
    }
}
