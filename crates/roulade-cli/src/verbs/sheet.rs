//! A sheet to begin with.

use super::said::{named, written};
use crate::args::{FormArgs, SheetArgs};
use crate::report::{Delivery, Out, Sources, form};
use roulade::cell::draft::Draft;
use roulade::quantity::problem::{Problem, Problems};
use roulade::sheet::{Sheet, write};
use serde_json::json;

/// The sheet of a cell of which only size and active materials are known.
pub(super) fn sheet(asked: &SheetArgs) -> Delivery {
    let sheet =
        begun(asked).and_then(|sheet| written(write::text(&sheet), asked.write.as_deref(), asked.overwrite));
    match sheet {
        Ok(out) => Delivery { out: Out::Exact(out), err: String::new(), status: 0 },
        Err(problems) => {
            let begins = named("write", asked.write.as_deref()).into_iter().collect();
            form(&FormArgs::default()).problems(&problems, &Sources { file: "roulade".to_owned(), begins })
        }
    }
}

/// Read as any other sheet is, so that it is refused for the same reasons; places are those of the command line.
fn begun(SheetArgs { size, cathode, anode, .. }: &SheetArgs) -> Result<Sheet, Problems> {
    let text = json!({
        "roulade_sheet": 1,
        "cell": format!("{cathode} on {anode}, {size}"),
        "can": { "size": size },
        "cathode": { "mix": [{ "material": cathode }] },
        "anode": { "mix": [{ "material": anode }] },
    })
    .to_string();
    let at_argument = |problem: Problem| {
        let argument = match problem.place.split(['.', '[']).next() {
            Some("can") => "SIZE",
            Some("cathode") => "CATHODE",
            Some("anode") => "ANODE",
            _ => return problem,
        };
        Problem { place: argument.to_owned(), ..problem }
    };
    let sheet = Draft::parse(&text).and_then(|_| Sheet::parse(&text));
    sheet.map_err(|problems| Problems(problems.0.into_iter().map(at_argument).collect()))
}
