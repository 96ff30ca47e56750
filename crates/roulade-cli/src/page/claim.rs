//! A declared figure weighed: the verdict, how sure it is, and what would change it.

use super::{Page, Table, note, number, words};
use roulade::study::claim::{Verdict, Where};
use roulade_answer::answer::{ClaimAnswer, NearestAnswer, RequiredRow};

/// Inputs that are shown; all of them stand in the JSON and among the rows.
const SHOWN: usize = 10;

/// The page, and what each input alone would have to be as rows.
pub(crate) fn claim(answer: &ClaimAnswer) -> (Page, Vec<Vec<String>>) {
    let mut page = Page::default();
    page.lead_on(&answer.answer, &of_figure(answer.claim.label));
    page.heading("The claim");
    let mut table = Table::new([words(""), words(""), note("")]);
    table.row(["as it was understood", &answer.claim.text, answer.claim.basis_text]);
    table.row(["the figure", &answer.figure.text, answer.claim.label]);
    table.row(["chance that it holds", &answer.chance.text, "by Monte Carlo trials over all inputs"]);
    table.row(["", &answer.normal.text, "by a normal distribution of the first-order uncertainty"]);
    page.table(table);

    page.heading("Effect of the claim's rounding");
    let mut table = Table::new([words("read as"), words("holds"), number("chance"), words("verdict")]);
    for row in &answer.rounding.readings {
        let (holds, chance) = (range(row.low, row.high, answer.claim.unit), &row.chance.text);
        table.row([&row.text, &holds, chance, row.verdict.word()]);
    }
    page.table(table);
    page.aside(answer.rounding.text.clone());

    if answer.bases.len() > 1 {
        page.heading("The same claim on other bases");
        let mut table =
            Table::new([words("basis"), number("figure"), number("chance"), words("verdict"), note("")]);
        for row in &answer.bases {
            table.row([&row.basis, &row.figure.text, &row.chance.text, row.verdict.word(), row.text]);
        }
        page.table(table);
    }
    if !answer.conventions.is_empty() {
        page.heading("The same claim under other conventions");
        let mut table = Table::new([
            words("declared as"),
            number("figure"),
            number("chance"),
            words("verdict"),
            note(""),
        ]);
        for row in &answer.conventions {
            table.row([&row.name, &row.figure.text, &row.chance.text, row.verdict.word(), row.text]);
        }
        page.table(table);
    }
    page.aside(answer.conventions_text.clone());
    nearest(&mut page, answer.nearest.as_ref());
    alone(&mut page, answer);
    information(&mut page, answer);
    page.heading("Remarks");
    page.list(answer.remarks.clone());
    page.caution();
    (page, rows(answer))
}

/// What would have to be true: the most probable cell at the edge of the claim.
pub(super) fn nearest(page: &mut Page, nearest: Option<&NearestAnswer>) {
    let Some(nearest) = nearest else { return };
    page.heading("What would have to be true");
    page.text(nearest.text.clone());
    if nearest.rows.is_empty() {
        return;
    }
    let mut table = Table::new([words(""), number("prior"), number("needed"), number("standard deviations")]);
    for row in &nearest.rows {
        table.row([
            &row.label,
            &row.prior,
            &row.needed,
            &format!("{:+.1}", row.deviations).replace('-', "−"),
        ]);
    }
    page.table(table);
}

/// "in the capacity": what an uncertainty is one of.
fn of_figure(label: &str) -> String {
    format!("in the {label}")
}

fn range(low: Option<f64>, high: Option<f64>, unit: &str) -> String {
    match (low, high) {
        (Some(low), Some(high)) => format!("{low} to {high} {unit}"),
        (Some(low), None) => format!("from {low} {unit}"),
        (None, Some(high)) => format!("up to {high} {unit}"),
        (None, None) => String::new(),
    }
}

fn alone(page: &mut Page, answer: &ClaimAnswer) {
    let reach: Vec<&RequiredRow> = answer.required.iter().filter(|row| row.place != Where::Never).collect();
    page.heading(if answer.alone_to == "fail" {
        "What would have to be true of one quantity alone for it to fail"
    } else {
        "What would have to be true of one quantity alone for it to hold"
    });
    if reach.is_empty() {
        page.text("No single quantity makes it so.");
    } else {
        let mut table =
            Table::new([words(""), number("needed"), number("now"), number("plausible"), note("")]);
        for row in reach.iter().take(SHOWN) {
            let needed = row.needed.as_ref().map_or("", |needed| needed.text.as_str());
            let plausible = row.plausible.as_deref().unwrap_or_default();
            let place = match &row.implies {
                Some(implied) => format!("would take {implied}"),
                None => row.place_text.to_owned(),
            };
            table.row([&row.label, needed, &row.prior, plausible, &place]);
        }
        page.table(table);
    }
    let more = reach.len().saturating_sub(SHOWN);
    let never = answer.required.len() - reach.len();
    let mut said = Vec::new();
    if more > 0 {
        said.push(format!("{more} more, further off, are left out here."));
    }
    if never > 0 {
        said.push(format!("{never} others that move the figure cannot reach it alone."));
    }
    if !said.is_empty() {
        page.aside(said.join(" "));
    }
}

fn information(page: &mut Page, answer: &ClaimAnswer) {
    if answer.information.is_empty() || answer.verdict != Verdict::Open {
        return;
    }
    page.heading("Most informative next measurements");
    let mut table = Table::new([
        words(""),
        number("now"),
        number("reading"),
        number("figure after it"),
        number("settled"),
        number("with all above"),
        note("how"),
    ]);
    for row in answer.information.iter().take(6) {
        let cells = [
            row.label.as_str(),
            &row.now,
            &row.reading,
            &row.leaves,
            &row.settles.text,
            &row.together.text,
            row.how,
        ];
        table.row(cells);
    }
    page.table(table);
    page.aside("Uncertainties of readings: common practice, no source.");
}

fn rows(answer: &ClaimAnswer) -> Vec<Vec<String>> {
    let head = ["input", "label", "known", "plausible", "needed", "unit", "place"];
    let mut rows = vec![head.map(str::to_owned).to_vec()];
    for row in &answer.required {
        let needed = row.needed.as_ref();
        rows.push(vec![
            row.path.clone(),
            row.label.clone(),
            row.prior.clone(),
            row.plausible.clone().unwrap_or_default(),
            needed.map_or(String::new(), |needed| needed.value.to_string()),
            needed.map_or(String::new(), |needed| needed.unit.to_owned()),
            row.place_text.to_owned(),
        ]);
    }
    rows
}
