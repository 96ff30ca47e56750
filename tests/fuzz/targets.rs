//! What is fuzzed: for each target how an input is made, and what is held of the answer.

use super::luck::Luck;
use super::oracle::{self, Verdict, sound};
use super::questions as ask_for;
use super::sheets::Bases;
use super::words;
use roulade::cell::draft::Draft;
use roulade::cell::figures::wanted;
use roulade::material::{CurveCache, Formula};
use roulade::quantity::notation;
use roulade::quantity::problem::{Problem, Problems};
use roulade::sheet::Sheet;
use roulade::sheet::defaults::FIELDS;
use roulade::study::claim::{List, Said};
use roulade::study::readings::instrument;
use roulade_answer::answer::{EstimateAnswer, plain};
use roulade_answer::ask;
use roulade_stats::executor::alone;
use roulade_stats::uncertain::Spread;
use serde_json::{Value, json};

/// One thing that is fuzzed.
pub(crate) struct Target {
    pub(crate) name: &'static str,
    pub(crate) make: fn(&mut Luck, &Bases) -> String,
    pub(crate) check: fn(&str) -> Verdict,
    /// Executions in the suite.
    #[allow(dead_code, reason = "the long run goes by the clock")]
    pub(crate) few: u64,
}

const fn target(
    name: &'static str,
    make: fn(&mut Luck, &Bases) -> String,
    check: fn(&str) -> Verdict,
    few: u64,
) -> Target {
    Target { name, make, check, few }
}

/// Every question, and the small languages that questions are written in.
pub(crate) const TARGETS: &[Target] = &[
    target("quantity", |luck, _| a_quantity(luck), quantity, 20_000),
    target("formula", |luck, _| ask_for::formula(luck), formula, 5_000),
    target("readings", |luck, _| ask_for::bench(luck), readings, 3_000),
    target("instruments", |luck, _| ask_for::instruments(luck), instruments, 3_000),
    target("declared", |luck, _| ask_for::declared(luck), declared, 3_000),
    target("sheet", |luck, bases| bases.sheet(luck).to_string(), sheet, 1_000),
    target("text", a_text, sheet, 300),
    target("estimate", |luck, bases| bases.sheet(luck).to_string(), estimate, 60),
    target("batch", |luck, bases| bases.sheet(luck).to_string(), batch, 40),
    target("compare", |luck, bases| two(luck, bases).to_string(), compare, 30),
    target("same", |luck, bases| bases.sheet(luck).to_string(), same, 20),
    target("remove", ask_for::without, |text| verdict(&ask::without(text)), 40),
    target("edit", ask_for::edit, |text| verdict(&ask::edit(text)), 300),
    target("resize", ask_for::resize, |text| verdict(&ask::resize(text)), 100),
    target("map", ask_for::map, |text| verdict(&ask::map(text, &alone())), 100),
    target("sweep", ask_for::sweep, |text| verdict(&ask::sweep(text, &alone())), 100),
    target("search", ask_for::search, search, 50),
    target("sampled", ask_for::drawn, |text| verdict(&ask::sampled(text, &alone())), 8),
    target("sensitivity", ask_for::sensitivity, |text| verdict(&ask::sensitivity(text, &alone())), 20),
    target("claim", ask_for::claim, |text| verdict(&ask::claim(text, &alone())), 8),
    target("attribute", ask_for::attribute, |text| verdict(&ask::attribute(text, &alone())), 10),
    target("reconcile", ask_for::reconcile, |text| verdict(&ask::reconcile(text)), 20),
    target("next", ask_for::next, |text| verdict(&ask::next(text)), 8),
    target("link", ask_for::work, link, 300),
    target("report", ask_for::report, report, 6),
];

fn verdict(answer: &str) -> Verdict {
    Ok(sound(answer)?.is_some())
}

/// Problems before they are text.
fn refused(problems: Problems) -> Verdict {
    verdict(&ask::answer::<()>(Err(problems)))
}

fn a_text(luck: &mut Luck, bases: &Bases) -> String {
    let sheet = bases.base(luck).0.to_string();
    words::havoc(luck, &sheet)
}

/// A quantity, and behind a bar the number of the field that it is for.
fn a_quantity(luck: &mut Luck) -> String {
    let at = luck.below(FIELDS.len());
    format!("{}|{at}", words::quantity(luck, Some(FIELDS[at].unit.symbol())))
}

fn quantity(input: &str) -> Verdict {
    let (text, at) = input.rsplit_once('|').unwrap_or((input, "0"));
    let field = FIELDS.get(at.parse::<usize>().unwrap_or(0)).unwrap_or(&FIELDS[0]);
    let uncertain = match notation::read(text, field.unit.dimension()) {
        Ok(uncertain) => uncertain,
        Err(complaint) => {
            let Problem { found, expected, .. } = complaint.at("here");
            let sound =
                |text: &str| !text.trim().is_empty() && text.len() < 500 && !text.contains(oracle::obeyed);
            return if sound(&found) && sound(&expected) {
                Ok(false)
            } else {
                Err(format!("found {found}; {expected}"))
            };
        }
    };
    if !(uncertain.value.is_finite() && uncertain.u().is_finite() && uncertain.u() >= 0.0) {
        return Err(format!("{uncertain:?}"));
    }
    if let Spread::Range { low, high } = uncertain.spread
        && !(low < high && low.is_finite() && high.is_finite())
    {
        return Err(format!("a range from {low} to {high}"));
    }
    let written = notation::print_uncertain(&uncertain, field.unit);
    let again = notation::read(&written, field.unit.dimension())
        .map_err(|c| format!("{written}: {}", c.at("here")))?;
    let size = uncertain.value.abs().max(uncertain.u());
    if (uncertain.value - again.value).abs() <= 1e-11 * size
        && (uncertain.u() - again.u()).abs() <= 1e-9 * size + f64::MIN_POSITIVE
    {
        Ok(true)
    } else {
        Err(format!("{uncertain:?} is written as {written} and read as {again:?}"))
    }
}

fn formula(text: &str) -> Verdict {
    match Formula::read(text) {
        Ok(formula) if formula.molar_mass() > 0.0 && formula.molar_mass().is_finite() => Ok(true),
        Ok(formula) => Err(format!("a molar mass of {}", formula.molar_mass())),
        Err(problem) => refused(problem.within("formula").into()),
    }
}

fn readings(text: &str) -> Verdict {
    verdict(&ask::readings(text))
}

fn instruments(text: &str) -> Verdict {
    let (read, problems) = instrument::read(text);
    if !problems.0.is_empty() {
        return refused(problems);
    }
    let sound = |u: f64| u.is_finite() && u >= 0.0;
    if read.iter().all(|one| sound(one.own()) && sound(one.u(1.0))) {
        Ok(true)
    } else {
        Err(format!("{read:?}"))
    }
}

fn declared(text: &str) -> Verdict {
    match Said::parse(text).and_then(|said| List::read(&[said])) {
        Ok(_) => Ok(true),
        Err(problems) => refused(problems),
    }
}

/// A sheet as a cell: what is read is written and read again as the same.
fn sheet(text: &str) -> Verdict {
    let cell = Sheet::parse(text).and_then(|sheet| Ok((Draft::read(&sheet)?.design()?, sheet)));
    let (design, sheet) = match cell {
        Ok(both) => both,
        Err(problems) => return refused(problems),
    };
    let bore = design.blueprint().can.bore().value;
    if 2.0 * design.outer_radius().value > bore * (1.0 + 1e-9) {
        return Err("a roll wider than its can".to_owned());
    }
    if design.room().spaces.iter().any(|space| !(space.value >= 0.0)) {
        return Err(format!("spaces {:?}", design.room().spaces));
    }
    let written = |sheet: &Sheet| serde_json::to_string(sheet).ok();
    let text = written(&sheet);
    // Compared as they are written: a key that stood under a former name is remembered, and written under that of today.
    let again = text.as_deref().and_then(|text| Sheet::parse(text).ok()).as_ref().and_then(written);
    if text.is_some() && again == text {
        Ok(true)
    } else {
        Err("a sheet that is not what it was written as".to_owned())
    }
}

fn estimate(text: &str) -> Verdict {
    let Some(answer) = sound(&ask::estimate(text))? else { return Ok(false) };
    oracle::estimate(&answer)?;
    Ok(true)
}

/// One cell by itself and as a line of a batch: the same bits, or both refused in the same words.
fn batch(text: &str) -> Verdict {
    let figures = wanted(&[], "figures").map_err(|p| p.to_string())?;
    let in_batch =
        Draft::parse_with(text, &CurveCache::full()).and_then(|draft| plain(&draft, &figures, true));
    let single = Draft::parse(text).and_then(|draft| EstimateAnswer::of(&draft));
    match (in_batch, single) {
        (Ok(rows), Ok(answer)) => {
            for (figure, row) in figures.iter().zip(rows) {
                let own = answer.headline.iter().find(|own| own.id == figure.id);
                let own =
                    own.map(|own| (Some(own.figure.value.to_bits()), own.figure.u.unwrap_or(0.0).to_bits()));
                let row = row.value.map(|value| (Some(value.to_bits()), row.u.unwrap_or(0.0).to_bits()));
                if own.is_some() && own != row {
                    return Err(format!("{}: {own:?} by itself, {row:?} in a batch", figure.id));
                }
            }
            Ok(true)
        }
        (Err(a), Err(b)) if a == b => refused(a),
        (Err(a), Err(b)) => Err(format!("by itself {b}, in a batch {a}")),
        (Ok(_), Err(problems)) => Err(format!("answered in a batch only: {problems}")),
        (Err(problems), Ok(_)) => Err(format!("answered by itself only: {problems}")),
    }
}

fn two(luck: &mut Luck, bases: &Bases) -> Value {
    let (first, second) = ask_for::two_sheets(luck, bases);
    json!([first, second])
}

fn compare(text: &str) -> Verdict {
    let both: Value = serde_json::from_str(text).map_err(|error| error.to_string())?;
    let Some(answer) = sound(&ask::compare(&both[0].to_string(), &both[1].to_string()))? else {
        return Ok(false);
    };
    oracle::estimate(&answer["first"])?;
    oracle::estimate(&answer["second"])?;
    Ok(true)
}

/// A sheet beside itself: nothing differs, and the answer says so.
fn same(text: &str) -> Verdict {
    let Some(answer) = sound(&ask::compare(text, text))? else { return Ok(false) };
    for row in answer["figures"].as_array().ok_or("no figures")? {
        if row["change"]["value"].as_f64() != Some(0.0)
            || row["change"]["u"].as_f64().is_some_and(|u| u != 0.0)
        {
            return Err(format!("a sheet differs from itself: {row}"));
        }
    }
    let said = answer["answer"]["text"].as_str().unwrap_or_default();
    if said.contains("the same") { Ok(true) } else { Err(format!("a sheet beside itself: {said}")) }
}

fn search(text: &str) -> Verdict {
    let question = roulade_search::SearchQuestion::parse(text);
    verdict(&ask::answer(question.and_then(roulade_search::search)))
}

/// Work that a link or a browser keeps, once read, reads again as the same.
fn link(text: &str) -> Verdict {
    let Some(work) = sound(&ask::work(text))? else { return Ok(false) };
    match sound(&ask::work(&work.to_string()))? {
        Some(again) if again == work => Ok(true),
        Some(again) => Err(format!("{work} comes back as {again}")),
        None => Err(format!("{work} is refused")),
    }
}

/// A report holds nothing that a reader's screen would obey.
fn report(text: &str) -> Verdict {
    let Some(answer) = sound(&roulade_report::report(text, &alone()))? else { return Ok(false) };
    let html = answer["html"].as_str().ok_or("no page")?;
    if let Some(c) = html.chars().find(|c| oracle::obeyed(*c) && !matches!(c, '\n' | '\t')) {
        return Err(format!("U+{:04X} in a report", u32::from(c)));
    }
    if html.contains("not a number") || html.contains("beyond range") {
        return Err("a report with no figure where one belongs".to_owned());
    }
    if html.contains("<script") { Err("a script in a report".to_owned()) } else { Ok(true) }
}

/// What a question that another build of the model knows too is answered with.
#[allow(dead_code, reason = "the suite asks this build alone")]
pub(crate) fn answer(name: &str, input: &str) -> Option<String> {
    let executor = alone();
    Some(match name {
        "estimate" => ask::estimate(input),
        "remove" => ask::without(input),
        "link" => ask::work(input),
        "edit" => ask::edit(input),
        "resize" => ask::resize(input),
        "map" => ask::map(input, &executor),
        "sweep" => ask::sweep(input, &executor),
        "sampled" => ask::sampled(input, &executor),
        "sensitivity" => ask::sensitivity(input, &executor),
        "claim" => ask::claim(input, &executor),
        "attribute" => ask::attribute(input, &executor),
        "reconcile" => ask::reconcile(input),
        "next" => ask::next(input),
        "report" => roulade_report::report(input, &executor),
        _ => return None,
    })
}
