//! Several declared figures: whether they agree with one another, each given the others, and what they imply.

use super::claim::nearest;
use super::{Page, Table, note, number, words};
use roulade_answer::answer::ClaimsAnswer;

/// The page, and each figure as rows.
pub(crate) fn claims(answer: &ClaimsAnswer) -> (Page, Vec<Vec<String>>) {
    let mut page = Page::default();
    page.lead_on(&answer.answer, &format!("of “{}”", answer.weakest));
    page.heading("The declared figures against one another");
    if answer.consistency.rows.is_empty() {
        page.text(answer.consistency.text.clone());
    } else {
        let mut table = Table::new([
            words("arithmetic"),
            number("gives"),
            number("declared"),
            number("apart"),
            number("standard deviations"),
        ]);
        for row in &answer.consistency.rows {
            let apart = format!("{:+.1} %", 100.0 * row.off).replace('-', "−");
            table.row([
                &row.text,
                &row.gives.text,
                &row.declared,
                &apart,
                &format!("{:+.1}", row.deviations).replace('-', "−"),
            ]);
        }
        page.table(table);
    }
    page.heading("Each figure alone, and given all the others");
    let mut table = Table::new([
        words("declared"),
        number("expected"),
        number("chance"),
        words("alone"),
        number("given the others"),
        number("chance"),
        words("then"),
        note(""),
    ]);
    for row in &answer.figures {
        table.row([
            &row.claim,
            &row.expected.text,
            &row.chance.text,
            row.verdict.word(),
            &row.given.text,
            &row.given_chance.text,
            row.given_verdict.word(),
            &row.how,
        ]);
    }
    page.table(table);
    page.heading("What they imply together");
    let mut table = Table::new([words(""), number("from the sheet"), number("with all declared figures")]);
    for row in &answer.implied {
        table.row([row.label, &row.before.text, &row.after.text]);
    }
    page.table(table);
    nearest(&mut page, answer.nearest.as_ref());
    page.heading("Remarks");
    page.list(answer.remarks.clone());
    page.caution();
    (page, rows(answer))
}

fn rows(answer: &ClaimsAnswer) -> Vec<Vec<String>> {
    let head = [
        "claim",
        "figure",
        "unit",
        "expected",
        "u",
        "chance",
        "verdict",
        "given",
        "given_u",
        "given_chance",
        "given_verdict",
    ];
    let mut rows = vec![head.map(str::to_owned).to_vec()];
    for row in &answer.figures {
        let u = |figure: &roulade_answer::answer::Figure| figure.u.map_or(String::new(), |u| u.to_string());
        rows.push(vec![
            row.claim.clone(),
            row.figure.to_owned(),
            row.expected.unit.to_owned(),
            row.expected.value.to_string(),
            u(&row.expected),
            row.chance.value.to_string(),
            row.verdict.word().to_owned(),
            row.given.value.to_string(),
            u(&row.given),
            row.given_chance.value.to_string(),
            row.given_verdict.word().to_owned(),
        ]);
    }
    rows
}
