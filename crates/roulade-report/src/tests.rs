use super::*;
use serde_json::{Value, json};

fn demo(name: &str) -> Value {
    let text = match name {
        "marram a" => include_str!("../../../demo/marram-a.json"),
        "marram b" => include_str!("../../../demo/marram-b.json"),
        _ => include_str!("../../../demo/marram-small.json"),
    };
    serde_json::from_str(text).unwrap()
}

fn html(question: &Value) -> String {
    let answer: Value =
        serde_json::from_str(&report(&question.to_string(), &roulade_stats::executor::alone())).unwrap();
    answer["ok"]["html"].as_str().unwrap_or_else(|| panic!("{answer}")).to_owned()
}

#[test]
fn a_list_of_declared_figures_is_weighed() {
    let page = html(
        &json!({ "first": demo("small"), "claim": "4.6 Ah, 72 g, 16.6 Wh, continuous 10 A", "draws": 300 }),
    );
    for said in [
        "Can all of it be true of Marram small",
        "agree with one another",
        "given the others",
        "What they imply together",
        "about 10 A",
    ] {
        assert!(page.contains(said), "{said}");
    }
    assert!(!page.contains("rounding’s"));
}

#[test]
fn one_cell_two_cells_and_a_claim() {
    let one = html(&json!({ "first": demo("small") }));
    assert!(one.contains("What is Marram small predicted to give?") && !one.contains("class=\"claim\""));
    let two =
        html(&json!({ "first": demo("marram a"), "second": demo("marram b"), "date": "25 November 2026" }));
    assert!(two.contains("What is the difference between Marram A and Marram B?"));
    assert!(two.contains("25 November 2026") && two.contains("Contribution of each change"));
    let claim = json!({ "first": demo("small"), "claim": "at least 195 Wh/kg", "draws": 200 });
    let weighed = html(&claim);
    assert!(weighed.contains("<b>Supported.</b>") && weighed.contains("class=\"draws\""));
}

#[test]
fn a_bench_sheet_has_its_section() {
    let bench = include_str!("../../../demo/bench.csv");
    let page = html(&json!({ "first": demo("marram a"), "readings": bench }));
    assert!(page.contains("Readings of Marram A") && page.contains("Most informative next measurement"));
    assert!(!html(&json!({ "first": demo("marram a") })).contains("Readings of "));
}

#[test]
fn it_stands_by_itself() {
    let page = html(
        &json!({ "first": demo("marram a"), "second": demo("marram b"), "claim": "5 % over the other cell per volume", "draws": 200 }),
    );
    for foreign in ["<script", "http://", "https://", "src=", "@import", "<link", "href="] {
        assert!(!page.contains(foreign), "{foreign}");
    }
    assert!(page.contains("default-src 'none'"));
    // Every element that is opened is closed.
    for tag in
        ["table", "section", "tbody", "thead", "tr", "td", "svg", "figure", "div", "ul", "li", "p", "main"]
    {
        let opened = page.matches(&format!("<{tag}>")).count() + page.matches(&format!("<{tag} ")).count();
        assert_eq!(opened, page.matches(&format!("</{tag}>")).count(), "{tag}");
    }
}

#[test]
fn markup_in_a_sheet_is_shown_and_not_obeyed() {
    let evil = "<script>alert(1)</script><img src=x onerror='a'>\"&";
    let mut sheet = demo("small");
    sheet["cell"] = json!(evil);
    sheet["parts"][0]["name"] = json!(evil);
    sheet["can"]["wall"]["remark"] = json!(evil);
    let page = html(&json!({ "first": sheet, "claim": "at least 195 Wh/kg", "draws": 200, "date": evil }));
    assert!(!page.contains("<script") && !page.contains("<img"), "{page}");
    assert!(page.contains("&#60;script&#62;") || page.contains("&lt;script&gt;"));
    let two = html(&json!({ "first": sheet, "second": demo("marram b") }));
    assert!(!two.contains("<script") && !two.contains("<img"));
}

#[test]
fn what_cannot_be_reported_is_reported() {
    let places = |question: Value| {
        let answer: Value =
            serde_json::from_str(&report(&question.to_string(), &roulade_stats::executor::alone())).unwrap();
        let problems = answer["problems"].as_array().unwrap_or_else(|| panic!("{answer}")).clone();
        problems.iter().map(|problem| problem["place"].as_str().unwrap().to_owned()).collect::<Vec<_>>()
    };
    assert_eq!(places(json!({})), ["first"]);
    assert_eq!(
        places(json!({ "first": demo("small"), "claim": "5 % over the other cell per mass" })),
        ["second"]
    );
    assert_eq!(places(json!({ "first": demo("small"), "claim": "5 parsec" })), ["claim"]);
    let mut bad = demo("small");
    bad["can"]["wall"] = json!("5 g");
    assert_eq!(places(json!({ "first": bad, "second": bad })), ["first.can.wall", "second.can.wall"]);
}
