//! How far figures spread: drawn, to first order, and what they lean on.

use super::{Page, Table, number, words};
use roulade_answer::answer::{SampledAnswer, SensitivityAnswer, WhichCell};
use roulade_stats::propagation::interval::IntervalVerdict;

/// The page, and the figures as rows.
pub(crate) fn spread(answer: &SampledAnswer) -> (Page, Vec<Vec<String>>) {
    let mut page = Page::default();
    page.lead(&answer.answer);
    page.heading("Uncertainty propagation: Monte Carlo, and first order");
    page.table(figures(answer));
    page.aside(
        "Drawn: mean and standard uncertainty; as many draws lie below the 95 % interval as above it. To first order: 1.96 \
         standard uncertainties either way of the best value. Alike: both ends within half of the last place shown.",
    );
    if let Some(sensitivity) = &answer.sensitivity {
        variance_shares(&mut page, sensitivity);
    }
    let mut remarks = answer.remarks.clone();
    let of_sensitivity = answer.sensitivity.iter().flat_map(|sensitivity| &sensitivity.remarks);
    remarks.extend(of_sensitivity.filter(|remark| !answer.remarks.contains(remark)).cloned());
    if !remarks.is_empty() {
        page.heading("Remarks");
        page.list(remarks);
    }
    (page, rows(answer))
}

fn figures(answer: &SampledAnswer) -> Table {
    let mut table = Table::new([
        words(""),
        number("Monte Carlo"),
        words("95 %"),
        words("95 % to first order"),
        words("agree"),
    ]);
    for (of, heading) in headings(answer) {
        let mut own = answer.figures.iter().filter(|figure| figure.of == of).peekable();
        if let Some(heading) = heading.filter(|_| own.peek().is_some()) {
            table.group(heading);
        }
        for figure in own {
            let unit = figure.drawn.unit;
            let bare = |text: &str| text.strip_suffix(unit).unwrap_or(text).trim_end().to_owned();
            let label =
                if unit.is_empty() { figure.label.to_owned() } else { format!("{}, {unit}", figure.label) };
            let [drawn, interval, first_order] =
                [&figure.drawn.text, &figure.interval, &figure.first_order_interval].map(|text| bare(text));
            table.row([&label, &drawn, &interval, &first_order, alike(figure.verdict)]);
        }
    }
    table
}

/// The groups of figures; one cell's need no heading.
fn headings(answer: &SampledAnswer) -> Vec<(WhichCell, Option<String>)> {
    match answer.cells.as_slice() {
        [first, second] => vec![
            (WhichCell::First, Some(first.clone())),
            (WhichCell::Second, Some(second.clone())),
            (WhichCell::Hardware, Some("the hardware alone, as designed".to_owned())),
            (WhichCell::Change, Some("second less first".to_owned())),
        ],
        _ => vec![(WhichCell::First, None)],
    }
}

fn alike(verdict: IntervalVerdict) -> &'static str {
    match verdict {
        IntervalVerdict::Agrees => "yes",
        IntervalVerdict::Differs => "no",
        IntervalVerdict::Open => "open",
    }
}

fn variance_shares(page: &mut Page, sensitivity: &SensitivityAnswer) {
    page.heading(format!(
        "Sensitivity, contributions to variance: {}, {}",
        sensitivity.label, sensitivity.figure.text
    ));
    let percent = |share: f64| format!("{:.1} %", 100.0 * share);
    let of = |[share, error]: [f64; 2]| format!("{:.1} ± {:.1} %", 100.0 * share, 100.0 * error);
    let mut table = Table::new([
        words(""),
        words("as written"),
        number("linear"),
        number("Sobol, first order"),
        number("Sobol, total"),
    ]);
    // What is left out has less than a thousandth of the variance by either count.
    let counts = |share: f64| share.abs() >= 0.001;
    let found = |path: &str| {
        let rows = sensitivity.indices.iter().flat_map(|indices| &indices.rows);
        rows.into_iter().find(|row| row.paths.len() == 1 && row.paths.iter().any(|own| own == path))
    };
    for row in sensitivity.shares.iter().filter(|row| counts(row.share)) {
        let index = found(&row.path);
        let [alone, with] = [index.map(|row| of(row.first)), index.map(|row| of(row.total))];
        table.row([
            &row.label,
            &row.text,
            &percent(row.share),
            &alone.unwrap_or_default(),
            &with.unwrap_or_default(),
        ]);
    }
    for row in sensitivity.indices.iter().flat_map(|indices| &indices.rows).filter(|row| row.paths.len() > 1)
    {
        let together = format!("{} that move together", row.paths.len());
        table.row([&together, "", "", &of(row.first), &of(row.total)]);
    }
    page.table(table);
    if let Some(indices) = &sensitivity.indices {
        page.aside(format!(
            "Shares of the variance. Alone: what would go if it were known; with others: what would stay if all else were \
             (Sobol's first and total indices, from {} workings).",
            indices.asked
        ));
    }
}

fn rows(answer: &SampledAnswer) -> Vec<Vec<String>> {
    let head = [
        "figure",
        "of",
        "unit",
        "mean",
        "u",
        "low",
        "high",
        "mean_error",
        "u_error",
        "low_error",
        "high_error",
        "first_order",
        "first_order_u",
        "first_order_low",
        "first_order_high",
        "tolerance",
        "verdict",
    ];
    let mut rows = vec![head.map(str::to_owned).to_vec()];
    let number = |x: Option<f64>| x.map_or(String::new(), |x| x.to_string());
    for figure in &answer.figures {
        let of = match figure.of {
            WhichCell::First => "first",
            WhichCell::Second => "second",
            WhichCell::Change => "change",
            WhichCell::Hardware => "hardware",
        };
        let verdict = match figure.verdict {
            IntervalVerdict::Agrees => "agrees",
            IntervalVerdict::Differs => "differs",
            IntervalVerdict::Open => "open",
        };
        let mut row: Vec<String> = [figure.id, of, figure.drawn.unit].map(str::to_owned).to_vec();
        let drawn = &figure.drawn;
        row.extend([Some(drawn.value), drawn.u, drawn.low, drawn.high].map(number));
        row.extend(figure.errors.map(|error| error.to_string()));
        let first = &figure.first_order;
        row.extend([Some(first.value), first.u, first.low, first.high, Some(figure.tolerance)].map(number));
        row.push(verdict.to_owned());
        rows.push(row);
    }
    rows
}
