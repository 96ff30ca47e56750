//! A table of what varies around one sheet, from end to end.

use super::{call, call_with, folder, text_of};
use serde_json::Value;

const BASE: &str = "demo/marram-a.json";
const TABLE: &str = "demo/loadings.csv";

#[test]
fn each_row_gives_what_its_sheet_gives() {
    let said =
        call(&["batch", "--base", BASE, "--vary", TABLE, "--keep", "remark", "--figures", "volumetric,mass"]);
    assert_eq!(said.status, 1, "{said:?}");
    let rows: Vec<Vec<&str>> = said.out.lines().map(|line| line.split(',').collect()).collect();
    assert_eq!(rows[0], ["row", "remark", "volumetric_energy_density_Wh_per_L", "mass_of_the_cell_g"]);
    assert_eq!(rows.len(), text_of(TABLE).lines().count());
    for (row, line) in rows.iter().zip(text_of(TABLE).lines()).skip(1).take(5) {
        let cells: Vec<&str> = line.split(',').collect();
        let sheet = roulade::sheet::Sheet::parse(&text_of(BASE)).expect("a sheet");
        let set =
            |key: &str, to: String| roulade::sheet::Edit::Set { key: key.to_owned(), to: Value::from(to) };
        let edits = [
            set("cathode.loading", format!("{} mg/cm²", cells[1])),
            set("cathode.foil.thickness", format!("{} µm", cells[2])),
            set("can.wall", format!("{} mm", cells[3])),
        ];
        let edited = roulade::sheet::all_applied(&sheet, &edits).expect("edits");
        let draft = roulade::Draft::read(&edited).expect("a draft");
        let figures = roulade::cell::figures::wanted(&["volumetric".to_owned(), "mass".to_owned()], "")
            .expect("figures");
        let plain = roulade_answer::answer::plain(&draft, &figures, false).expect("figures");
        let wanted: Vec<f64> = plain.iter().filter_map(|figure| figure.value).collect();
        let given: Vec<f64> = row[2..].iter().map(|text| text.parse().expect("a number")).collect();
        assert_eq!(given, wanted, "{line}");
    }
    assert_eq!(rows[6], ["6", "Invented data", "", ""]);
    assert!(
        said.err.starts_with("demo/loadings.csv: row 6 (line 7): cathode.loading: found \"too thick\"; expected a number in mg/cm²"),
        "{}",
        said.err
    );
    assert!(said.err.ends_with("5 rows answered, 1 row not\n"), "{}", said.err);
}

#[test]
fn a_table_from_standard_input() {
    let said =
        call_with(&["batch", "--base", BASE, "--vary", "-", "--figures", "mass"], b"can.wall (mm)\n0.5\n");
    assert_eq!((said.status, said.err.as_str()), (0, ""), "{said:?}");
    assert_eq!(said.out.lines().count(), 2);
    let with_u = call(&[
        "batch",
        "--base",
        BASE,
        "--vary",
        TABLE,
        "--keep",
        "remark",
        "--figures",
        "mass",
        "--spread",
    ]);
    assert!(with_u.out.starts_with("row,remark,mass_of_the_cell_g,u_mass_of_the_cell_g\n1,"), "{with_u:?}");
}

#[test]
fn tables_and_questions_that_are_none() {
    let refusal = |table: &str, more: &[&str]| {
        let mut words = vec!["batch", "--base", BASE, "--vary", "-"];
        words.extend(more);
        let said = call_with(&words, table.as_bytes());
        assert_eq!((said.status, said.out.as_str()), (2, ""), "{said:?}");
        said.err
    };
    assert!(
        refusal("can.wal (mm)\n", &[]).contains("a key that is no quantity"),
        "{}",
        refusal("can.wal (mm)\n", &[])
    );
    assert!(refusal("can.wall (mg)\n", &[]).contains("expected a unit of length"));
    assert!(refusal("can.wall (mm)\n", &["--figures", "mas"]).contains("--figures: found \"mas\""));
    assert!(refusal("can.wall (mm)\n", &["--keep", "name"]).contains("--keep: found \"name\""));
    assert!(refusal("", &[]).contains("expected a table with a head"));
    let nowhere = call(&["batch", "--base", "nowhere.json", "--vary", TABLE]);
    assert_eq!(nowhere.status, 2);
    assert!(nowhere.err.contains("nowhere.json") && nowhere.err.contains("no such file"), "{nowhere:?}");
    assert_eq!(call(&["batch", "--base", BASE]).status, 2);
    let bad = folder("vary").join("bad.json");
    std::fs::write(&bad, "{").expect("it can be written");
    assert_eq!(call(&["batch", "--base", &bad.to_string_lossy(), "--vary", TABLE]).status, 2);
}
