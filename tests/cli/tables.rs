//! Tables for spreadsheets: figures as CSV with metadata after the W3C's Metadata Vocabulary for Tabular Data (Recommendation
//! of 17 December 2015, <https://www.w3.org/TR/tabular-metadata/>, and the Model for Tabular Data and Metadata on the Web,
//! <https://www.w3.org/TR/tabular-data-model/>), and as workbooks.

use crate::{call, folder};
use calamine::{Data, Reader, Xlsx, open_workbook};
use serde_json::{Value, json};
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

/// Runs a verb with a table beside its answer; the table's path.
fn table(name: &str, words: &[&str]) -> PathBuf {
    let path = folder(&format!("tables-{}", name.replace('.', "-"))).join(name);
    let mut words = words.to_vec();
    words.extend(["--table", path.to_str().expect("a name")]);
    let said = call(&words);
    assert!(said.status < 2, "{words:?}: {}", said.err);
    path
}

fn rows(path: &Path) -> Vec<Vec<String>> {
    let mut reader = csv::ReaderBuilder::new().has_headers(false).from_path(path).expect("a table");
    reader.records().map(|row| row.expect("a row").iter().map(str::to_owned).collect()).collect()
}

/// The rules of the standard that can be broken here, each with its section.
fn holds_to_the_rules(csv: &Path) {
    let beside = PathBuf::from(format!("{}-metadata.json", csv.display()));
    // Model, 5.3: the default location of metadata is the address of the table with "-metadata.json" appended.
    let metadata: Value =
        serde_json::from_str(&std::fs::read_to_string(beside).expect("metadata")).expect("JSON");
    // Vocabulary, 5.1.1 and 5.2: the context is the standard's, alone or with a language in an array of two.
    assert_eq!(metadata["@context"], json!(["http://www.w3.org/ns/csvw", { "@language": "en" }]));
    // 5.4.1: "url" is required, and is resolved against the metadata's own.
    assert_eq!(metadata["url"], csv.file_name().expect("a name").to_str().expect("UTF-8"));
    let allowed = ["@context", "url", "dialect", "tableSchema"];
    for key in metadata.as_object().expect("an object").keys() {
        // 5.8: other properties are common properties, with a prefix.
        assert!(allowed.contains(&key.as_str()) || key.starts_with("dc:"), "{key}");
    }
    let rows = rows(csv);
    let columns = metadata["tableSchema"]["columns"].as_array().expect("columns");
    let mut names = BTreeSet::new();
    assert_eq!(columns.len(), rows[0].len());
    for (i, column) in columns.iter().enumerate() {
        let name = column["name"].as_str().expect("a name");
        // 5.6: a name is a variable name of RFC 6570, does not begin with "_", and is unique.
        assert!(
            name.chars().all(|c| c.is_ascii_alphanumeric() || c == '_') && !name.starts_with('_'),
            "{name}"
        );
        assert!(names.insert(name), "{name} stands twice");
        // Model, 8: the titles match the row of titles.
        assert_eq!(column["titles"], rows[0][i].as_str());
        // 5.11.1: built-in datatypes.
        let datatype = column["datatype"].as_str().expect("a datatype");
        assert!(["number", "string"].contains(&datatype), "{datatype}");
        for row in &rows[1..] {
            // 6.4.2: an empty cell is null, which a required column does not allow.
            assert!(column["required"] == json!(false) || !row[i].is_empty(), "{row:?}");
            // 6.4.2 and XML Schema Part 2, 3.3.5: a number is a double.
            if datatype == "number" && !row[i].is_empty() {
                assert!(row[i].parse::<f64>().is_ok_and(f64::is_finite), "{row:?}");
            }
        }
    }
    // 5.5.2: the primary key names columns, and no two rows have the same.
    let key: Vec<usize> = metadata["tableSchema"]["primaryKey"]
        .as_array()
        .expect("a key")
        .iter()
        .map(|name| names_at(columns, name.as_str().expect("a name")))
        .collect();
    let keys: BTreeSet<Vec<&str>> =
        rows[1..].iter().map(|row| key.iter().map(|i| row[*i].as_str()).collect()).collect();
    assert_eq!(keys.len(), rows.len() - 1, "a key stands twice in {}", csv.display());
    assert!(rows.len() > 4, "{} has {} rows", csv.display(), rows.len());
}

fn names_at(columns: &[Value], name: &str) -> usize {
    columns.iter().position(|column| column["name"] == name).expect("a column of that name")
}

const VERBS: [&[&str]; 10] = [
    &["estimate", "demo/marram-small.json"],
    &["compare", "demo/marram-a.json", "demo/marram-b.json"],
    &["remove", "demo/marram-a.json", "lower collector plate"],
    &["attribute", "demo/marram-a.json", "demo/marram-b.json", "--trials", "0"],
    &["sweep", "demo/marram-small.json", "separator.thickness", "8 µm", "20 µm", "--steps", "3"],
    &["form-factors", "demo/marram-a.json", "--steps", "3"],
    &["uncertainty", "demo/marram-small.json", "--trials", "1000"],
    &["claim", "at least 195 Wh/kg", "demo/marram-small.json", "--trials", "1000"],
    &["reconcile", "demo/marram-a.json", "demo/bench.csv", "--instruments", "demo/instruments.csv"],
    &["next", "demo/marram-a.json", "--for", "volumetric"],
];

#[test]
fn figures_of_every_answer_hold_to_the_standard() {
    for words in VERBS {
        holds_to_the_rules(&table(&format!("{}.csv", words[0]), words));
    }
}

#[test]
fn a_workbook_holds_the_same_numbers() {
    let words = ["reconcile", "demo/marram-a.json", "demo/bench.csv"];
    let csv = rows(&table("both.csv", &words));
    let mut book: Xlsx<_> = open_workbook(table("both.xlsx", &words)).expect("a workbook");
    assert_eq!(book.sheet_names(), ["figures", "table"]);
    let sheet = book.worksheet_range("figures").expect("a sheet");
    assert_eq!(sheet.height(), csv.len());
    for (row, wanted) in sheet.rows().zip(&csv) {
        for (cell, wanted) in row.iter().zip(wanted) {
            match cell {
                Data::Float(number) => assert_eq!(Ok(*number), wanted.parse()),
                Data::Empty => assert_eq!(wanted, ""),
                other => assert_eq!(other.to_string(), wanted.trim_start_matches('\'')),
            }
        }
    }
    let table = book.worksheet_range("table").expect("a sheet");
    assert!(table.height() > 80, "{}", table.height());
}

/// What an attacker writes into a sheet stays a text in whoever's spreadsheet.
#[test]
fn formulas_become_text() {
    let bad = std::fs::read_to_string(crate::top().join("demo/marram-small.json"))
        .expect("a sheet")
        .replace("upper insulator", "=HYPERLINK(A1)");
    let folder = folder("tables-formulas");
    let sheet = folder.join("sheet.json");
    std::fs::write(&sheet, bad).expect("it can be written");
    let path = |name: &str| folder.join(name).to_str().expect("a name").to_owned();
    for file in ["armed.csv", "armed.xlsx"] {
        let said = call(&["estimate", &path("sheet.json"), "--table", &path(file)]);
        assert_eq!(said.status, 0, "{}", said.err);
    }
    let cells: Vec<String> = rows(&folder.join("armed.csv")).concat();
    assert!(cells.iter().any(|cell| cell.contains("HYPERLINK")));
    for cell in &cells {
        let armed = cell.starts_with(['=', '+', '-', '@']) && cell.parse::<f64>().is_err();
        assert!(!armed, "{cell}");
    }
    let mut book: Xlsx<_> = open_workbook(folder.join("armed.xlsx")).expect("a workbook");
    let formulas = book.worksheet_formula("figures").expect("a sheet");
    assert!(formulas.rows().flatten().all(String::is_empty), "{formulas:?}");
}

#[test]
fn files_that_are_there_stay() {
    let path = table("stays.csv", &["estimate", "demo/marram-small.json"]);
    let path = path.to_str().expect("a name");
    let again = call(&["estimate", "demo/marram-small.json", "--table", path]);
    assert_eq!((again.status, again.out.as_str()), (2, ""));
    assert!(again.err.contains("there already") && again.err.contains("--replace-table"), "{}", again.err);
    assert_eq!(call(&["estimate", "demo/marram-small.json", "--table", path, "--replace-table"]).status, 0);
    let other = call(&["estimate", "demo/marram-small.json", "--table", "figures.doc"]);
    assert!(other.err.contains("ends in .csv or .xlsx"), "{}", other.err);
    let nowhere = call(&["estimate", "demo/marram-small.json", "--table", "no/such/folder/figures.xlsx"]);
    assert!(nowhere.err.contains("folder"), "{}", nowhere.err);
}

/// Both ways of asking for many cells fill a workbook with what they print.
#[test]
fn many_cells_become_a_workbook() {
    let folder = folder("tables-batch");
    let lines: &[&str] = &["batch", "demo/cells.jsonl", "--figures", "capacity,volumetric", "--spread"];
    let varied: &[&str] =
        &["batch", "--base", "demo/marram-a.json", "--vary", "demo/loadings.csv", "--keep", "remark"];
    for (name, words, csv) in [("lines.xlsx", lines, &["--csv"][..]), ("varied.xlsx", varied, &[])] {
        let path = folder.join(name);
        let with = |more: &[&str]| call(&[words, more].concat());
        let table = ["--table", path.to_str().expect("a name")];
        let (printed, said) = (with(csv), with(&table));
        assert_eq!((said.status, said.out.as_str(), &said.err), (printed.status, "", &printed.err), "{name}");
        let mut book: Xlsx<_> = open_workbook(&path).expect("a workbook");
        assert_eq!(book.sheet_names(), ["figures"]);
        let sheet = book.worksheet_range("figures").expect("a sheet");
        let mut reader = csv::ReaderBuilder::new().has_headers(false).from_reader(printed.out.as_bytes());
        let printed: Vec<csv::StringRecord> = reader.records().map(|row| row.expect("a row")).collect();
        assert_eq!(sheet.height(), printed.len(), "{name}");
        for (row, wanted) in sheet.rows().zip(&printed) {
            assert_eq!(row.len(), wanted.len(), "{name}");
            for (cell, wanted) in row.iter().zip(wanted) {
                match cell {
                    Data::Float(number) => assert_eq!(Ok(*number), wanted.parse(), "{name}"),
                    Data::Empty => assert_eq!(wanted, "", "{name}"),
                    Data::String(text) => assert_eq!(text, wanted, "{name}"),
                    other => panic!("{name}: {other:?}"),
                }
            }
        }
        let again = with(&table);
        assert_eq!(again.status, 2, "{again:?}");
        assert!(
            again.err.contains("there already") && again.err.contains("--replace-table"),
            "{}",
            again.err
        );
        assert_eq!(with(&[&table[..], &["--replace-table"]].concat()).status, said.status, "{name}");
    }
    let refused = |table: &str, input: &[u8]| {
        let path = folder.join(table);
        let words = ["batch", "--table", path.to_str().expect("a name")];
        let said = crate::call_with(&words, input);
        assert_eq!((said.status, path.exists()), (2, false), "{said:?}");
        said.err
    };
    assert!(refused("figures.csv", b"").contains("expected a name that ends in .xlsx"));
    assert!(refused("none.xlsx", b"{}\n").contains("1 line refused"));
}
