//! A parameter set as a sheet.

mod block;
mod document;
mod electrode;
mod own;

use crate::rows::CAN;
use block::Block;
use document::{Document, Written};
use roulade::cell::draft::Draft;
use roulade::cell::figures::Worked;
use roulade::quantity::problem::{Problem, Problems};
use roulade::quantity::units::{Area, Length, Unit};
use roulade::sheet::Sheet;
use roulade_stats::uncertain::Uncertain;

/// What stands beside a parameter set: it has no place for the size of a can, for hardware or for foils.
#[derive(Clone, Debug, Default)]
pub struct Beside {
    /// A sheet whose entries stay wherever the parameter set says nothing.
    pub base: Option<Sheet>,
    /// Outer diameter and height of the can, each a text with its unit.
    pub can: Option<[String; 2]>,
}

/// A sheet that was made from a parameter set.
#[derive(Clone, Debug)]
pub struct Imported {
    /// The sheet.
    pub sheet: Sheet,
    /// What to know of it.
    pub remarks: Vec<String>,
    /// Parameters that a sheet has no place for, by their names.
    pub left_out: Vec<String>,
    /// What is wrong with the sheet as a cell: parameters that do not fit into the can, say.
    pub problems: Problems,
}

/// Makes a sheet of the JSON text of a parameter set.
///
/// # Errors
/// Where the text is no parameter set, with everything in it that cannot be read; or where the size of the can is not said.
pub fn from_parameters(text: &str, beside: &Beside) -> Result<Imported, Problems> {
    let document = Document::read(text)?;
    let mut problems = Problems::default();
    let title = document.title();
    let mut written = Written::over(beside.base.as_ref(), &title);
    let parameters = document.block(&["Parameterisation"], &mut problems);
    let own = parameters.inner("User-defined", &mut problems);
    own::take(&own, &mut written, &mut problems);
    if let Some([diameter, height]) = &beside.can {
        written.text("can.diameter", diameter, "beside the parameter set");
        written.text("can.height", height, "beside the parameter set");
    }
    let cell = parameters.inner("Cell", &mut problems);
    let area = general(&cell, &mut written, &mut problems);
    separator(&parameters.inner("Separator", &mut problems), &own, &mut written, &mut problems);
    for side in electrode::SIDES {
        let block = parameters.inner(side.block, &mut problems);
        side.take(&block, &mut written, &mut problems);
    }
    for side in electrode::SIDES {
        if !written.has(&format!("{}.mix", side.key)) {
            problems.push(Problem::new(
                format!("Parameterisation.{}", side.block),
                "no coating: neither a block for this electrode, nor dry mass fractions among the user-defined parameters",
                "one of the two, or a base sheet that says what the coating is mixed from",
            ));
        }
    }
    if !(written.has("can.size") || written.has("can.diameter") && written.has("can.height")) {
        problems.push(Problem::new(
            format!("Parameterisation.User-defined.{CAN}"),
            "no size of the can, for which the standard has no place",
            "the outer diameter and height beside the parameter set, or a base sheet that has them",
        ));
    }
    let mut left_out = own.untaken();
    left_out.extend(cell.untaken());
    left_out.extend(document.others());
    left_out.extend(written.left.iter().cloned());
    problems.or_else_ok(())?;
    let mut remarks = std::mem::take(&mut written.remarks);
    let mut sheet = written.sheet()?;
    // Lengths that were read, or a clearance, say more than an area.
    let lengths_said =
        own.inner(crate::rows::ROLL, &mut Problems::default()).number("Radial clearance [m]").is_some();
    if let Some(area) = area {
        let asked = Area { value: area, ..Area::default() };
        if lengths_said {
            remarks.extend(other_area(&sheet, asked));
        } else {
            match wound(&sheet, asked, &title) {
                Ok(longer) => {
                    sheet = longer;
                    remarks.push(format!(
                        "The cathode is so long that {:.1} cm² face the anode, electrode area times number of pairs.",
                        1e4 * area
                    ));
                }
                Err(more) => {
                    return Ok(Imported { sheet, remarks, left_out, problems: more });
                }
            }
        }
    }
    let problems = match worked(&sheet) {
        Ok(worked) => {
            remarks.extend(other_capacity(&worked, cell.number(block::CAPACITY)));
            Problems::default()
        }
        Err(problems) => problems,
    };
    Ok(Imported { sheet, remarks, left_out, problems })
}

fn worked(sheet: &Sheet) -> Result<Worked, Problems> {
    let draft = Draft::read(sheet)?;
    Worked::at(&draft, &draft.values())
}

/// The block of the cell; the whole facing area where it says one.
fn general(cell: &Block<'_>, written: &mut Written, problems: &mut Problems) -> Option<f64> {
    for (name, key) in [
        ("Upper voltage cut-off [V]", "voltage.charge_cut_off"),
        ("Lower voltage cut-off [V]", "voltage.discharge_cut_off"),
    ] {
        if let Some(volts) = cell.positive(name, problems) {
            written.number(key, &Uncertain::exact(volts));
        }
    }
    let area = cell.positive("Electrode area [m2]", problems);
    let pairs = cell.positive("Number of electrode pairs connected in parallel to make a cell", problems);
    let _ = cell.positive(block::CAPACITY, problems);
    if written.of_this_model {
        // It was worked out from the size of the can.
        let _ = cell.positive("External surface area [m2]", problems);
    }
    let volume = cell.positive("Volume [m3]", problems);
    let density = cell.positive("Density [kg.m-3]", problems);
    // An estimate of this model's own is no reading of the cell's mass.
    if let (Some(volume), Some(density), false) = (volume, density, written.of_this_model) {
        written.number("cell_mass", &Uncertain::exact(volume * density));
    }
    Some(area? * pairs.unwrap_or(1.0))
}

/// The block of the separator, where the user-defined parameters do not say more.
fn separator(block: &Block<'_>, own: &Block<'_>, written: &mut Written, problems: &mut Problems) {
    if own.has(crate::rows::SEPARATOR) {
        return;
    }
    for (name, key) in [("Thickness [m]", "separator.thickness"), ("Porosity", "separator.porosity")] {
        if let Some(value) = block.positive(name, problems) {
            written.number(key, &Uncertain::exact(value));
        }
    }
    if block.number("Thickness [m]").is_some() {
        written.drop("separator.ceramic_thickness");
        written.drop("separator.ceramic");
    }
    written.left.extend(block.untaken());
}

/// The sheet with a cathode so long that the facing area is that.
///
/// # Formula
/// `L ← L + (A − A(L))/(2·w)` with the coated width w: one more length of cathode brings both its faces. What ends, tabs
/// and turns without an anode opposite take is in A(L), and changes little with L: a few rounds suffice.
fn wound(sheet: &Sheet, area: Area, title: &str) -> Result<Sheet, Problems> {
    let mut sheet = sheet.clone();
    let mut length = None;
    for _ in 0..12 {
        let worked = worked(&sheet)?;
        let design = &worked.design;
        let (inner, outer) = design.active_area();
        let missing = area - (inner + outer);
        if length.is_some() && missing.value.abs() <= 1e-9 * area.value {
            break;
        }
        let now = length.unwrap_or(design.roll().lengths().cathode);
        let next: Length = now + missing / (2.0 * design.stack().cathode_width);
        if next.value <= 0.0 {
            return Err(Problem::new(
                "Parameterisation.Cell",
                format!("a facing area of {:.3} cm²", 1e4 * area.value),
                "an area that a wound electrode of this width can have",
            )
            .into());
        }
        let mut written = Written::over(Some(&sheet), title);
        written.drop("winding.radial_clearance");
        written.drop("winding.anode_length");
        written.number("winding.cathode_length", &Uncertain::exact(next.value));
        sheet = written.sheet()?;
        length = Some(next);
    }
    Ok(sheet)
}

/// Where the facing area of a sheet is another than that of the parameter set.
fn other_area(sheet: &Sheet, area: Area) -> Option<String> {
    let worked = worked(sheet).ok()?;
    let (inner, outer) = worked.design.active_area();
    let own = (inner + outer).value;
    let off = own / area.value - 1.0;
    (off.abs() > 1e-6).then(|| {
        format!(
            "The sheet's facing area is {:.1} cm², {} from that of the parameter set: stretches under tabs are not in it.",
            1e4 * own,
            percent(off)
        )
    })
}

/// How the sheet's capacity compares with the nominal one.
fn other_capacity(worked: &Worked, nominal: Option<f64>) -> Option<String> {
    let nominal = nominal?;
    let figure = roulade::cell::figures::definition("capacity")?;
    let own = (figure.of)(worked)? / Unit::AmpereHour.in_si();
    Some(format!(
        "The sheet gives {own:.3} Ah at open circuit; the parameter set states {nominal:.3} Ah ({}).",
        percent(own / nominal - 1.0)
    ))
}

/// A difference as people read it, with its sign: "−4.8 %".
fn percent(off: f64) -> String {
    let text = format!("{:+.1} %", 1e2 * off).replace('-', "\u{2212}");
    if text.trim_start_matches(['+', '\u{2212}']) == "0.0 %" { "0.0 %".to_owned() } else { text }
}
