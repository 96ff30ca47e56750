//! The worst input of each verb, none above 1 MB: each is answered or refused within 10 s and 500 MB on one core.
//!
//! ```text
//! cargo bench --package roulade-tests --bench worst [-- NAME …]
//! ```
//!
//! Each runs in a process of its own, whose time on the processor and peak of memory are told; the status is 1 where one exceeds
//! what is allowed. Time on the processor, since a machine that does other things besides makes every clock run on.
#![allow(clippy::print_stdout, clippy::print_stderr, reason = "a terminal tool")]

use roulade_answer::ask;
use roulade_stats::executor::alone;
use serde_json::{Value, json};
use std::fmt::Write as _;
use std::process::{Command, ExitCode};
use std::time::Instant;

const SECONDS: f64 = 10.0;
const MEGABYTES: f64 = 500.0;

/// A case: its name, what is asked, and by whom it is answered.
struct Case {
    name: &'static str,
    question: fn() -> String,
    answer: fn(&str) -> String,
}

/// What is refused, and how soon; all else is answered, or measures nothing.
const REFUSED: [&str; 2] = ["estimate, 60,000 unknown keys", "estimate, brackets alone"];

const CASES: &[Case] = &[
    Case { name: "estimate, 200 parts", question: || parts(200, 0).to_string(), answer: ask::estimate },
    Case {
        name: "estimate, 398 entries that move together",
        question: || together().to_string(),
        answer: ask::estimate,
    },
    Case { name: "estimate, 60,000 unknown keys", question: unknown, answer: ask::estimate },
    Case { name: "estimate, brackets alone", question: || "[".repeat(999_999), answer: ask::estimate },
    Case { name: "estimate, a name of a megabyte", question: long_name, answer: ask::estimate },
    Case { name: "compare, 200 parts each", question: two, answer: compare },
    Case {
        name: "remove, 200 parts",
        question: || json!({ "sheet": parts(200, 0), "part": "p7" }).to_string(),
        answer: ask::without,
    },
    Case {
        name: "edit, 1,000 edits",
        question: || {
            let edits: Vec<Value> = (0..1000)
                .map(|i| json!({ "set": "can.wall", "to": format!("0.{} mm", 30 + i % 10) }))
                .collect();
            json!({ "sheet": parts(200, 0), "edits": edits }).to_string()
        },
        answer: ask::edit,
    },
    Case {
        name: "map, as many sizes as are allowed, 200 parts",
        question: || {
            let side = |from: &str, to: &str| json!({ "from": from, "to": to, "steps": 386 });
            json!({ "sheet": parts(200, 0), "diameter": side("18 mm", "60 mm"), "height": side("60 mm", "120 mm") }).to_string()
        },
        answer: |question| ask::map(question, &alone()),
    },
    Case {
        name: "sampled, two cells of 200 parts",
        question: || json!({ "sheet": parts(200, 0), "second": parts(200, 199) }).to_string(),
        answer: |question| ask::sampled(question, &alone()),
    },
    Case {
        name: "sampled, 398 entries that move together",
        question: || json!({ "sheet": together() }).to_string(),
        answer: |question| ask::sampled(question, &alone()),
    },
    Case {
        name: "sensitivity, 398 entries that move together, indices too",
        question: || json!({ "sheet": together(), "draws": 20_000 }).to_string(),
        answer: |question| ask::sensitivity(question, &alone()),
    },
    Case {
        name: "worth, 12 changes",
        question: || json!({ "first": parts(200, 0), "second": parts(200, 12) }).to_string(),
        answer: |question| ask::attribute(question, &alone()),
    },
    Case {
        name: "worth, 60 changes",
        question: || json!({ "first": parts(200, 0), "second": parts(200, 60) }).to_string(),
        answer: |question| ask::attribute(question, &alone()),
    },
    Case {
        name: "claim, one, 398 entries that move together",
        question: || json!({ "claim": "at least 600 Wh/L", "sheet": together() }).to_string(),
        answer: |question| ask::claim(question, &alone()),
    },
    Case {
        name: "claim, ten of a cell of 200 parts",
        question: || json!({ "claims": CLAIMS, "sheet": parts(200, 0) }).to_string(),
        answer: |question| ask::claim(question, &alone()),
    },
    Case {
        name: "claim, twelve at rates of their own, as many trials as may be asked for",
        question: || {
            let claims: Vec<String> =
                (1..13).map(|i| format!("at least {} Ah at 0.{i:02} It", 12 + i)).collect();
            json!({ "claims": claims, "sheet": parts(200, 0), "draws": 500_000 }).to_string()
        },
        answer: |question| ask::claim(question, &alone()),
    },
    Case {
        name: "claim, one over another cell, as many trials as may be asked for",
        question: || {
            let claim = "at least 5 % above the other cell per volume";
            json!({ "claim": claim, "sheet": parts(200, 60), "other": parts(200, 0), "draws": 500_000 })
                .to_string()
        },
        answer: |question| ask::claim(question, &alone()),
    },
    Case {
        name: "resize, 200 parts",
        question: || json!({ "sheet": parts(200, 0), "diameter": "46 mm", "height": "95 mm" }).to_string(),
        answer: ask::resize,
    },
    Case {
        name: "sweep, as many cells as are allowed, 200 parts",
        question: || {
            let side =
                |key: &str, from: &str, to: &str| json!({ "key": key, "from": from, "to": to, "steps": 386 });
            json!({ "sheet": parts(200, 0), "along": [
                side("separator.thickness", "8 µm", "20 µm"),
                side("cathode.loading", "15 mg/cm²", "24 mg/cm²"),
            ] })
            .to_string()
        },
        answer: |question| ask::sweep(question, &alone()),
    },
    Case {
        name: "worth, 60 changes, first order",
        question: || json!({ "first": parts(200, 0), "second": parts(200, 60), "draws": 0 }).to_string(),
        answer: |question| ask::attribute(question, &alone()),
    },
    Case {
        name: "batch, one sheet of 200 parts, with uncertainties",
        question: || parts(200, 0).to_string(),
        answer: batch,
    },
    Case {
        name: "batch of rows around one sheet of 200 parts, with uncertainties, a kilobyte",
        question: || "row\n".repeat(250),
        answer: |rows| vary(rows, &parts(200, 0), true),
    },
    Case {
        name: "batch of rows around one sheet, a megabyte",
        question: || "18.1\n".repeat(199_990),
        answer: |rows| vary(rows, &parts(1, 0), false),
    },
    Case {
        name: "parameters out, 200 parts",
        question: || parts(200, 0).to_string(),
        answer: |text| {
            let set =
                roulade::sheet::Sheet::parse(text).and_then(|sheet| roulade_exchange::to_parameters(&sheet));
            ask::answer(set)
        },
    },
    Case {
        name: "parameters in, a megabyte of potentials",
        question: parameters,
        answer: |text| {
            let beside = roulade_exchange::Beside { base: None, can: Some(["21 mm".into(), "70 mm".into()]) };
            ask::answer(roulade_exchange::from_parameters(text, &beside).map(|imported| imported.sheet))
        },
    },
    Case { name: "work of a page, a megabyte", question: work, answer: ask::work },
    Case { name: "readings, a megabyte", question: || bench(990_000), answer: ask::readings },
    Case {
        name: "reconcile, a megabyte of readings",
        question: || json!({ "sheet": parts(1, 0), "readings": bench(900_000) }).to_string(),
        answer: ask::reconcile,
    },
    Case {
        name: "next, a megabyte of readings",
        question: || {
            json!({ "sheet": parts(1, 0), "readings": bench(900_000), "figure": "volumetric" }).to_string()
        },
        answer: ask::next,
    },
    Case {
        name: "report, two cells of 200 parts",
        question: || {
            json!({ "first": parts(200, 0), "second": parts(200, 60), "date": "2026-01-01" }).to_string()
        },
        answer: |question| roulade_report::report(question, &alone()),
    },
    Case {
        name: "report, two cells of 200 parts, ten claims, bench sheets",
        question: || {
            json!({
                "first": parts(200, 0), "second": parts(200, 60), "date": "2026-01-01", "claim": CLAIMS.join("; "),
                "draws": 500_000, "readings": bench(800_000),
            })
            .to_string()
        },
        answer: |question| roulade_report::report(question, &alone()),
    },
    Case {
        name: "search, the usual trials, 200 parts",
        question: || {
            json!({ "sheet": parts(200, 0), "best": "volumetric", "against": "gravimetric", "free": [
                { "key": "cathode.loading", "from": "15 mg/cm²", "to": "24 mg/cm²" },
                { "key": "cathode.thickness", "from": "60 µm", "to": "95 µm" },
            ] })
            .to_string()
        },
        answer: |question| {
            let question = roulade_search::SearchQuestion::parse(question);
            ask::answer(question.and_then(roulade_search::search))
        },
    },
];

const CLAIMS: [&str; 10] = [
    "210 Wh/kg",
    "600 Wh/L",
    "18 Ah",
    "326 g",
    "3.8 V",
    "70 Wh",
    "at least 17 Ah at 0.2 It",
    "at most 400 g",
    "at least 16 Ah at 1 It",
    "at least 500 Wh/L at 0.5 It",
];

/// A cell with so many parts, some of them of another mass.
fn parts(count: usize, others: usize) -> Value {
    let mut sheet: Value = serde_json::from_str(include_str!("../../demo/marram-a.json")).expect("JSON");
    let listed: Vec<Value> = (0..count)
        .map(|i| {
            let mass = if i < others { "0.0021 ± 0.0001 g" } else { "0.001 ± 0.0001 g" };
            json!({ "name": format!("p{i}"), "place": "below roll", "height": "0.001 ± 0.0002 mm", "mass": mass, "material": "steel", "axial_clearance": "0.0001 ± 0.00001 mm" })
        })
        .collect();
    sheet["parts"] = listed.into();
    if let Some(path) = sheet["current_path"].as_object_mut() {
        for side in ["cathode", "anode"] {
            path[side]["plate"].take();
        }
    }
    if others > 0 {
        sheet["cell"] = "another".into();
    }
    sheet
}

fn together() -> Value {
    let mut sheet = parts(200, 0);
    let of = |key: &'static str| (1..200).map(move |i| format!("parts[{i}].{key}"));
    let paths: Vec<String> = of("mass").chain(of("height")).collect();
    let rows: Vec<Vec<f64>> = (1..paths.len()).map(|i| vec![0.1; i]).collect();
    sheet["correlated"] = json!({ "paths": paths, "coefficients": rows });
    sheet
}

fn two() -> String {
    json!([parts(200, 0), parts(200, 199)]).to_string()
}

fn compare(both: &str) -> String {
    let both: Value = serde_json::from_str(both).expect("JSON");
    ask::compare(&both[0].to_string(), &both[1].to_string())
}

/// A sheet as a line of a batch, with uncertainties.
fn batch(text: &str) -> String {
    let figures = roulade::cell::figures::wanted(&[], "figures").expect("the usual figures");
    let remarks = roulade::cell::draft::Draft::parse(text)
        .and_then(|draft| roulade_answer::answer::plain(&draft, &figures, true));
    ask::answer(remarks.map(|remarks| remarks.len()))
}

/// Rows of a loading around one sheet.
fn vary(rows: &str, base: &Value, spread: bool) -> String {
    let sheet = roulade::sheet::Sheet::parse(&base.to_string()).expect("a sheet");
    let table = format!("cathode.loading (mg/cm²)\n{}", rows.replace("row", "18.2"));
    let asked = roulade_columns::csv::Asked { spread, ..Default::default() };
    let done = roulade_columns::csv::run(sheet, table.as_bytes(), std::io::sink(), &asked, |_| ());
    ask::answer(done.map(|count| count.answered))
}

fn parameters() -> String {
    let mut set: Value =
        serde_json::from_str(include_str!("../../demo/marram-parameters.json")).expect("JSON");
    for (electrode, full, falls) in [("Positive electrode", 4.3, 1.3), ("Negative electrode", 1.0, 0.95)] {
        let x: Vec<f64> =
            (0..20_000).map(|i| f64::from(i) / 20_000.0).map(|x| (x * 1e6).round() / 1e6).collect();
        let y: Vec<f64> = x.iter().map(|x| ((full - falls * x) * 1e6).round() / 1e6).collect();
        set["Parameterisation"][electrode]["OCP [V]"] = json!({ "x": x, "y": y });
    }
    set.to_string()
}

/// The work of a page with as many readings as it holds.
fn work() -> String {
    json!({ "version": 1, "first": parts(200, 0), "second": parts(200, 60), "bench": { "readings": bench(900_000) } }).to_string()
}

fn unknown() -> String {
    let mut sheet = parts(1, 0);
    for i in 0..60_000 {
        sheet[format!("kk{i}")] = json!(1);
    }
    sheet.to_string()
}

fn long_name() -> String {
    let mut sheet = parts(1, 0);
    sheet["cell"] = "\u{7}\u{202e}".repeat(100_000).into();
    sheet.to_string()
}

/// Readings of five quantities, specimen after specimen, each a little off.
fn bench(bytes: usize) -> String {
    const READ: [(&str, f64, &str); 5] = [
        ("can diameter", 40.0, "mm"),
        ("can height", 92.0, "mm"),
        ("cell mass", 326.0, "g"),
        ("cathode width", 77.9, "mm"),
        ("capacity", 18.0, "Ah"),
    ];
    let mut text = "specimen;quantity;value;unit;uncertainty".to_owned();
    for i in 0_u32.. {
        let (quantity, value, unit) = READ[(i % 5) as usize];
        let off = 1.0 + 0.001 * f64::from(i.wrapping_mul(2_654_435_761) % 1000) / 1000.0;
        // Writing to a string does not fail.
        let _ = write!(text, "\nS{};{quantity};{:.4};{unit};{:.3}", i / 5, value * off, 0.001 * value);
        if text.len() > bytes {
            break;
        }
    }
    text
}

/// Time that this thread, which does all of it, has been on a processor, seconds; `None` where the system does not say.
fn on_processor() -> Option<f64> {
    let text = std::fs::read_to_string("/proc/thread-self/schedstat").ok()?;
    Some(text.split_whitespace().next()?.parse::<f64>().ok()? * 1e-9)
}

/// Most memory that this process ever held, MB.
fn peak() -> f64 {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:")).unwrap_or_default();
    line.trim().trim_end_matches(" kB").parse().unwrap_or(f64::NAN) / 1000.0
}

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).filter(|word| !word.starts_with("--")).collect();
    if let [only, name] = words.as_slice()
        && only == "only"
    {
        let Some(case) = CASES.iter().find(|case| case.name == *name) else { return ExitCode::from(2) };
        let question = (case.question)();
        let (start, before) = (Instant::now(), on_processor());
        let answer = (case.answer)(&question);
        let took = match (before, on_processor()) {
            (Some(before), Some(after)) => after - before,
            _ => start.elapsed().as_secs_f64(),
        };
        let answered = answer.starts_with("{\"ok\"");
        let became = if answered { "answered" } else { "refused" };
        let within = took <= SECONDS
            && (peak().is_nan() || peak() <= MEGABYTES)
            && question.len() <= 1_000_000
            && answered != REFUSED.contains(&case.name);
        println!(
            "{took:6.2} s {:5.0} MB  {:7} bytes {became}{}  {name}",
            peak(),
            question.len(),
            if within { "" } else { ", NOT AS IT SHOULD BE" }
        );
        return ExitCode::from(u8::from(!within));
    }
    let program = std::env::current_exe().expect("this program");
    let mut too_much = 0;
    for case in CASES
        .iter()
        .filter(|case| words.is_empty() || words.iter().any(|word| case.name.contains(word.as_str())))
    {
        let status = Command::new(&program).args(["only", case.name]).status().expect("it starts");
        too_much += u8::from(!status.success());
    }
    ExitCode::from(u8::from(too_much > 0))
}
