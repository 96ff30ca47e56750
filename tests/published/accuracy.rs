//! One table of every published figure beside its prediction, and the same table in README.md.
//!
//! `UPDATE=1 cargo test -p roulade-tests accuracy` writes the table there anew.
//!
//! The u beside a prediction is the model's own, from the spread of its inputs, the errors of the half-cell curves among
//! them. It holds nothing of what the model leaves out: an open-circuit voltage is compared with a loaded one.

use super::{alone, cells, coatings, ratios, reconciled, tabs};
use roulade_answer::answer::Figure;
use std::fmt::Write;

/// Coverage factor: a figure that is not an expected miss lies within its reading and this many of the model's own
/// standard uncertainties.
const K: f64 = 2.0;

/// What was published.
#[derive(Clone, Debug)]
pub(super) struct Published {
    /// The figure, in the unit of the row.
    pub(super) value: f64,
    /// Half the interval it can be read as: half a unit of its last digit, or half the range printed.
    pub(super) reading: f64,
    /// As the source prints it.
    pub(super) text: String,
}

impl Published {
    /// A figure as printed, known to half a unit of its last digit.
    pub(super) fn printed(text: &str) -> Self {
        let decimals = text.split_once('.').map_or(0, |(_, d)| d.len());
        let digit = 0.1_f64.powi(i32::try_from(decimals).unwrap());
        Self { value: text.parse().unwrap(), reading: 0.5 * digit, text: text.to_owned() }
    }

    /// A figure with another reading than its last digit's.
    pub(super) fn read_to(self, reading: f64) -> Self {
        Self { reading, ..self }
    }
}

/// What is expected of a comparison.
#[derive(Clone, Copy, Debug)]
pub(super) enum Expect {
    /// Within the reading and [`K`] of the model's own uncertainties.
    Agreement,
    /// A known miss, in per cent of the published figure; it must go on missing, within this band.
    Miss(f64, f64),
}

/// One published figure beside its prediction.
#[derive(Clone, Debug)]
pub(super) struct Row {
    /// Which cell or coating, and whose.
    pub(super) what: &'static str,
    /// Which quantity, with its unit.
    pub(super) quantity: &'static str,
    /// What was published.
    pub(super) published: Published,
    /// Read in the source, from memory, or derived from such figures.
    pub(super) attested: &'static str,
    /// The prediction.
    pub(super) predicted: f64,
    /// Its standard uncertainty.
    pub(super) u: f64,
    /// What is expected.
    pub(super) expect: Expect,
    /// Why it differs, where it differs by more than the reading.
    pub(super) why: &'static str,
}

impl Row {
    /// A prediction of the model's with its own uncertainty.
    pub(super) fn of(
        what: &'static str,
        quantity: &'static str,
        (published, attested): (Published, &'static str),
        figure: &Figure,
        (expect, why): (Expect, &'static str),
    ) -> Self {
        let u = figure.u.unwrap_or(0.0);
        Self { what, quantity, published, attested, predicted: figure.value, u, expect, why }
    }

    fn difference(&self) -> f64 {
        self.predicted - self.published.value
    }

    fn percent(&self) -> f64 {
        100.0 * self.difference() / self.published.value
    }

    fn within_reading(&self) -> bool {
        self.difference().abs() <= self.published.reading
    }

    fn agrees(&self) -> bool {
        self.difference().abs() <= self.published.reading + K * self.u
    }

    /// What is wrong with it; nothing where it is as expected.
    fn fault(&self) -> Option<String> {
        if !(self.predicted.is_finite() && self.u.is_finite()) {
            return Some("no number".to_owned());
        }
        if !self.within_reading() && self.why.is_empty() {
            return Some("differs by more than its reading and gives no reason".to_owned());
        }
        match self.expect {
            Expect::Agreement if !self.agrees() => Some("outside its uncertainty".to_owned()),
            Expect::Miss(low, high) if self.agrees() || !(low..=high).contains(&self.percent()) => {
                Some(format!("an expected miss of {low} to {high} % that is now {:+.2} %", self.percent()))
            }
            _ => None,
        }
    }

    fn markdown(&self) -> String {
        let (value, u) = roulade::quantity::notation::rounded(self.predicted, self.u);
        let predicted = match u {
            Some(u) => format!("{value} ± {u}"),
            None => format!("{:.4}", self.predicted),
        };
        let verdict = match (self.within_reading(), self.agrees()) {
            (true, _) => "yes",
            (false, true) => "no, within 2 u",
            (false, false) => "**no**",
        };
        let why = if self.within_reading() { "" } else { self.why };
        format!(
            "| {} | {} | {} ({}) | {predicted} | {} % | {verdict} | {why} |",
            self.what,
            self.quantity,
            self.published.text,
            self.attested,
            format!("{:+.1}", self.percent()).replace('-', "−")
        )
    }
}

fn rows() -> Vec<Row> {
    [cells::rows(), alone::table(), ratios::rows(), tabs::rows(), coatings::rows(), reconciled::rows()]
        .concat()
}

/// The table.
fn table() -> String {
    let mut table = String::from(
        "| cell or coating | quantity | published | predicted, ± u | difference | within the reading? | why not |\n\
         | --- | --- | --- | --- | --- | --- | --- |\n",
    );
    for row in rows() {
        table.push_str(&row.markdown());
        table.push('\n');
    }
    table
}

/// The table in three lines: how many figures, how many inside, the worst and why.
fn summary(rows: &[Row]) -> String {
    let inside = rows.iter().filter(|row| row.within_reading()).count();
    let near = rows.iter().filter(|row| !row.within_reading() && row.agrees()).count();
    let outside = rows.len() - inside - near;
    let mut lines = format!(
        "- {} published figures: {inside} are predicted within their reading, {near} more within two standard uncertainties \
         of the prediction, {outside} are missed.\n",
        rows.len()
    );
    let missed = rows.iter().filter(|row| !row.agrees());
    if let Some(worst) = missed.max_by(|a, b| a.percent().abs().total_cmp(&b.percent().abs())) {
        let percent = format!("{:+.1} %", worst.percent()).replace('-', "−");
        let _ = writeln!(lines, "- Missed by most: {}, {}, by {percent}.", worst.what, worst.quantity);
        let _ = writeln!(lines, "- Why: {}.", worst.why);
    }
    lines
}

/// Every row as expected: within its margin, or an expected miss that goes on missing within its band, and a reason
/// wherever there is more than the reading between the two.
#[test]
fn accuracy_of_every_row_is_as_expected() {
    let mut faults = Vec::new();
    for row in rows() {
        println!("{}", row.markdown());
        if let Some(fault) = row.fault() {
            faults.push(format!("{}, {}: {fault}\n  {}", row.what, row.quantity, row.markdown()));
        }
    }
    assert!(faults.is_empty(), "\n{}", faults.join("\n"));
}

const MARK: &str = "<!-- accuracy -->";

/// The table in README.md is this one; `UPDATE=1` makes it so.
#[test]
fn accuracy_in_the_readme() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../README.md");
    let readme = std::fs::read_to_string(path).unwrap();
    let [before, block, after] =
        readme.split(MARK).collect::<Vec<_>>().try_into().unwrap_or_else(|parts: Vec<_>| {
            panic!(
                "README.md holds {} marks {MARK}, where one stands before and one after the table",
                parts.len() - 1
            )
        });
    let wanted = format!(
        "\n{}\n<details><summary>All of them</summary>\n\n{}\n</details>\n",
        summary(&rows()),
        table()
    );
    if std::env::var_os("UPDATE").is_some_and(|update| update == "1") {
        std::fs::write(path, format!("{before}{MARK}{wanted}{MARK}{after}")).unwrap();
        return;
    }
    assert_eq!(block, wanted, "UPDATE=1 cargo test -p roulade-tests accuracy writes it anew");
}

/// A row can fail, each way it may.
#[test]
fn rows_can_fail() {
    let row = |predicted, expect, why| Row {
        what: "a cell",
        quantity: "capacity, Ah",
        published: Published::printed("5.0"),
        attested: "read",
        predicted,
        u: 0.1,
        expect,
        why,
    };
    assert!((Published::printed("0.1027").reading - 5e-5).abs() < 1e-18);
    assert!(row(5.04, Expect::Agreement, "").fault().is_none());
    assert!(row(5.1, Expect::Agreement, "").fault().is_some_and(|f| f.contains("no reason")));
    assert!(row(5.1, Expect::Agreement, "because").fault().is_none());
    assert!(row(5.3, Expect::Agreement, "because").fault().is_some_and(|f| f.contains("outside")));
    assert!(row(5.5, Expect::Miss(8.0, 12.0), "because").fault().is_none());
    assert!(row(5.1, Expect::Miss(1.0, 12.0), "because").fault().is_some_and(|f| f.contains("miss")));
    assert!(row(5.9, Expect::Miss(8.0, 12.0), "because").fault().is_some_and(|f| f.contains("miss")));
    assert!(row(f64::NAN, Expect::Agreement, "because").fault().is_some());
}
