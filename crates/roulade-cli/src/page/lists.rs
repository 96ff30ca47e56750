//! What a sheet may name: materials and quantities; and the cautions.

use super::{Block, Page, Table, note, number, words};
use roulade::material::Grade;
use roulade::quantity::notation;
use roulade::quantity::units::Unit;
use roulade_answer::answer::{HalfRow, MaterialRow, QuantityRow, Sourced};
use roulade_answer::cautions::Caution;

/// Every material, its sources numbered.
pub(crate) fn materials(materials: &[MaterialRow]) -> (Page, Vec<Vec<String>>) {
    let mut sources: Vec<String> = Vec::new();
    let mut cited = |text: &str, source: &str| {
        let at = sources.iter().position(|listed| listed == source).unwrap_or_else(|| {
            sources.push(source.to_owned());
            sources.len() - 1
        });
        format!("{text} [{}]", at + 1)
    };
    let mut table = Table::new([
        words("material"),
        number("true density"),
        number("capacity"),
        number("initial coulombic efficiency"),
        words("half-cell curve"),
    ]);
    let mut group = "";
    for material in materials {
        if material.role.word() != group {
            group = material.role.word();
            table.group(group);
        }
        let mut figure =
            |figure: Option<&Sourced>| figure.map_or(String::new(), |f| cited(&f.text, &f.source));
        let [density, capacity, efficiency] = [
            figure(Some(&material.density)),
            figure(material.capacity.as_ref()),
            figure(material.initial_coulombic_efficiency.as_ref()),
        ];
        let half = material.half.as_ref().map_or(String::new(), |half| {
            let shape = half.shape_of.map_or(String::new(), |lender| format!(", as {lender}"));
            cited(
                &format!("{}, {}{shape}", grade(half.grade), half.error.text.replace("0 ± ", "± ")),
                &half.source,
            )
        });
        table.row([material.name, &density, &capacity, &efficiency, &half]);
    }
    let mut page = Page::default();
    page.table(table);
    page.aside(GRADES);
    page.heading("Sources");
    page.0.push(Block::Numbered(sources));
    (page, rows(materials))
}

const GRADES: &str = "Curves: A is measured, or with its partner gives its paper's voltage limits of the full cell; B is plausible: \
                      a neighbour's shape close by, a form from memory; C is uncertain: a neighbour's shape from further off, \
                      points from memory. ± is the standard uncertainty of the curve's potential.";

/// One material in full.
pub(crate) fn material(material: &MaterialRow) -> (Page, Vec<Vec<String>>) {
    let mut page = Page::default();
    page.heading(material.name);
    let mut table = Table::new([words(""), words(""), note("")]);
    table.row(["what it does", material.role.word(), ""]);
    if !material.aliases.is_empty() {
        table.row(["also written", &material.aliases.join(", "), ""]);
    }
    let figures = [
        ("formula", material.formula.as_ref()),
        ("true density", Some(&material.density)),
        ("practical reversible capacity", material.capacity.as_ref()),
        ("initial coulombic efficiency", material.initial_coulombic_efficiency.as_ref()),
        ("resistivity at 20 °C", material.resistivity.as_ref()),
        ("its temperature coefficient", material.per_kelvin.as_ref()),
        ("volume gained, full of lithium", material.expansion.as_ref()),
    ];
    for (label, figure) in figures {
        if let Some(figure) = figure {
            table.row([label, &figure.text, &figure.source]);
        }
    }
    if let Some(half) = &material.half {
        curve(&mut table, half);
    }
    page.table(table);
    if material.half.is_some() {
        page.aside(GRADES);
    }
    (page, rows(std::slice::from_ref(material)))
}

fn curve(table: &mut Table, half: &HalfRow) {
    table.row(["half-cell curve", grade(half.grade), &half.source]);
    if let Some(lender) = half.shape_of {
        let raised = notation::print(half.raised, 0.0, Unit::Millivolt);
        table.row(["  its shape", &format!("that of {lender}"), &format!("its mean {raised} from there")]);
    }
    table.row(["  stoichiometry", &format!("{} to {}", half.window.0, half.window.1), half.scale]);
    let [low, high] = [half.ends.0, half.ends.1].map(|volts| notation::print(volts, 0.0, Unit::Volt));
    let against = format!("against {}", half.against);
    table.row(["  potential at these ends", &format!("{low} to {high}"), &against]);
    table.row(["  error", &half.error.text, &half.error.source]);
    table.row(["  past these ends", "continued", half.continued]);
    table.row(["  checked against", half.check, ""]);
}

fn rows(materials: &[MaterialRow]) -> Vec<Vec<String>> {
    let head = [
        "material",
        "role",
        "formula",
        "density",
        "density_source",
        "capacity",
        "capacity_source",
        "initial_coulombic_efficiency",
        "first_cycle_efficiency_source",
        "resistivity",
        "resistivity_source",
        "expansion",
        "expansion_source",
        "curve_grade",
        "curve_source",
        "curve_error",
        "curve_shape_of",
    ];
    let mut rows = vec![head.map(str::to_owned).to_vec()];
    for m in materials {
        let formula = m.formula.as_ref().map_or(String::new(), |formula| formula.text.clone());
        let mut row = vec![m.name.to_owned(), m.role.word().to_owned(), formula];
        for figure in [
            Some(&m.density),
            m.capacity.as_ref(),
            m.initial_coulombic_efficiency.as_ref(),
            m.resistivity.as_ref(),
            m.expansion.as_ref(),
        ] {
            row.extend(figure.map_or_else(Default::default, |f| [f.text.clone(), f.source.clone()]));
        }
        row.extend(m.half.as_ref().map_or_else(Default::default, |half| {
            let [grade, shape] = [grade(half.grade), half.shape_of.unwrap_or_default()].map(str::to_owned);
            [grade, half.source.clone(), half.error.text.clone(), shape]
        }));
        rows.push(row);
    }
    rows
}

fn grade(grade: Grade) -> &'static str {
    match grade {
        Grade::A => "A",
        Grade::B => "B",
        Grade::C => "C",
    }
}

/// Every quantity of the sheet.
pub(crate) fn quantities(quantities: &[QuantityRow]) -> (Page, Vec<Vec<String>>) {
    let head = [
        "path",
        "section",
        "what it is",
        "unit",
        "bound",
        "default",
        "source of the default",
        "plausible",
        "source of the plausible range",
    ];
    let mut rows = vec![head.map(str::to_owned).to_vec()];
    let mut table = Table::new([words("path"), words("unit"), words("where left out")]);
    let mut section = "";
    for quantity in quantities {
        if quantity.section != section {
            section = quantity.section;
            table.group(section);
        }
        let default = quantity.default.as_deref().unwrap_or_default();
        let source = quantity.source.unwrap_or_default();
        table.row([quantity.path, quantity.unit, default]);
        let because = if source.is_empty() { String::new() } else { format!("; default: {source}") };
        let [range, its_source] =
            [quantity.plausible, quantity.plausible_source].map(Option::unwrap_or_default);
        let plausible =
            if range.is_empty() { String::new() } else { format!("; plausible: {range}: {its_source}") };
        table.under(format!("{}, {}{because}{plausible}", quantity.label, quantity.bound));
        let row = [
            quantity.path,
            quantity.section,
            quantity.label,
            quantity.unit,
            quantity.bound,
            default,
            source,
            range,
            its_source,
        ];
        rows.push(row.map(str::to_owned).to_vec());
    }
    let mut page = Page::default();
    page.table(table);
    page.aside(
        "Any unit of the same kind will do. parts[] means each part of the list. A quantity is written as a text, or as \
         {\"value\": …, \"from\": \"measured\", \"stated\" or \"assumed\", \"remark\": …}. One that is left out is taken as it \
         says here, follows from others, or is not needed.",
    );
    (page, rows)
}

/// All cautions with their sources.
pub(crate) fn cautions(cautions: &[Caution]) -> (Page, Vec<Vec<String>>) {
    let mut page = Page::default();
    let mut rows = vec![vec!["caution".to_owned(), "source".to_owned()]];
    page.heading("Where readings come from an opened cell");
    for caution in cautions {
        page.text(caution.text);
        page.aside(caution.source);
        rows.push(vec![caution.text.to_owned(), caution.source.to_owned()]);
    }
    (page, rows)
}
