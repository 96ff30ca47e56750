use super::*;
use std::io;

fn base() -> Sheet {
    Sheet::new("a 21 mm cell")
        .can("21 mm", "70 mm")
        .cathode(&[("NMC811", "")], "22 mg/cm²")
        .anode(&[("graphite", "")])
}

fn asked(figures: &[&str], kept: &[&str]) -> Asked {
    let owned = |texts: &[&str]| texts.iter().map(|text| (*text).to_owned()).collect();
    Asked { figures: owned(figures), spread: false, kept: owned(kept) }
}

/// What is written, and what is told.
fn run_on(table: &[u8], asked: &Asked) -> Result<(String, Vec<String>, Count), Problems> {
    let (mut out, mut diagnostics) = (Vec::new(), Vec::new());
    let count = run(base(), table, &mut out, asked, |refused| diagnostics.push(refused.to_string()))?;
    Ok((String::from_utf8(out).unwrap(), diagnostics, count))
}

fn values(text: &str) -> Vec<Vec<String>> {
    text.lines().skip(1).map(|line| line.split(',').map(str::to_owned).collect()).collect()
}

#[test]
fn bad_rows_are_reported_with_row_line_and_column_and_stay_empty() {
    let table = b"\xef\xbb\xbfcathode.loading (mg/cm2),can.wall (mm)\r\n20,0.25\r\n\r\nx,0.25\r\n20\r\n20,-1\r\n20,9\r\n21,0.25\r\n";
    let (text, diagnostics, count) = run_on(table, &asked(&["mass"], &[])).unwrap();
    let rows = values(&text);
    assert_eq!(rows.len(), 6, "{text}");
    assert_eq!((count.answered, count.refused), (2, 4));
    for (i, row) in rows.iter().enumerate() {
        assert_eq!(row[0], (i + 1).to_string());
        assert_eq!(row[1].is_empty(), (1..5).contains(&i), "{text}");
    }
    assert!(
        diagnostics[0]
            .starts_with("row 2 (line 4): cathode.loading: found \"x\"; expected a number in mg/cm²"),
        "{diagnostics:?}"
    );
    assert!(
        diagnostics[1].starts_with("row 3 (line 5): found 1 value; expected 2, as the head has"),
        "{diagnostics:?}"
    );
    assert!(
        diagnostics[2]
            .starts_with("row 4 (line 6): can.wall: found \"-1\"; expected a value that is greater than zero for wall thickness"),
        "{diagnostics:?}"
    );
    // A wall that leaves no room: the cell does not hold together.
    assert!(diagnostics[3].starts_with("row 5 (line 7): "), "{diagnostics:?}");
}

#[test]
fn other_marks_between_values_and_decimal_commas() {
    let figure = |table: &str| values(&run_on(table.as_bytes(), &asked(&["volumetric"], &[])).unwrap().0);
    let plain = figure("cathode.loading (mg/cm²),can.wall (mm)\n20.5,0.25\n");
    for table in [
        "cathode.loading (mg/cm²);can.wall (mm)\n20,5;0,25\n",
        "cathode.loading [mg/cm2]\tcan.wall [mm]\n20.5\t0.25",
        "\"cathode.loading (mg/cm²)\",\"can.wall (mm)\"\n\"20.5\",0.25\n",
        "cathode.loading,can.wall\n20.5 mg/cm²,250 µm\n",
    ] {
        assert_eq!(figure(table), plain, "{table}");
    }
    // Elsewhere a comma may group thousands.
    let (_, diagnostics, _) = run_on(b"can.wall (um)\n\"1,234\"\n", &asked(&[], &[])).unwrap();
    assert!(diagnostics[0].contains("found \"1,234\"; expected a number in"), "{diagnostics:?}");
}

#[test]
fn columns_that_are_kept_are_handed_on_and_disarmed() {
    let table = "name,cathode.loading (mg/cm²)\n=SUM(A1),20\n\"a, b\",21\n-3.5,22\n+1+2,bad\n";
    let (text, _, _) =
        run_on(table.as_bytes(), &asked(&["mass"], &["name", "cathode.loading (mg/cm²)"])).unwrap();
    let lines: Vec<&str> = text.lines().collect();
    assert_eq!(lines[0], "row,name,cathode.loading (mg/cm²),mass_of_the_cell_g");
    assert!(lines[1].starts_with("1,'=SUM(A1),20,"), "{text}");
    assert!(lines[2].starts_with("2,\"a, b\",21,"), "{text}");
    assert!(lines[3].starts_with("3,-3.5,22,"), "{text}");
    assert_eq!(lines[4], "4,'+1+2,bad,");
}

#[test]
fn tables_that_are_none() {
    let diagnostic = |table: &[u8], kept: &[&str]| run_on(table, &asked(&[], kept)).unwrap_err().to_string();
    assert!(diagnostic(b"", &[]).contains("found nothing"));
    assert!(diagnostic(b"\n\n", &[]).contains("found nothing"));
    assert!(diagnostic(b"a,b\n", &[]).contains("a key that is not known"), "{}", diagnostic(b"a,b\n", &[]));
    assert!(diagnostic(b"can.wall (mm),\n", &[]).contains("column 2: found no head"));
    assert!(diagnostic(b"can.wall (mm)\n", &["nam"]).contains("keep: found \"nam\""));
    assert!(diagnostic(b"\xff\xfe", &[]).contains("not UTF-8"));
    let endless = [b"can.wall (mm)\n\"".as_slice(), &vec![b'x'; 3_000_000]].concat();
    assert!(
        diagnostic(&endless, &[]).contains("line 2: found a row of more than 1 MB"),
        "{}",
        diagnostic(&endless, &[])
    );
}

/// A head alone is a table without rows; a number that is not UTF-8 is a bad row.
#[test]
fn tables_without_rows_and_bytes_that_are_no_text() {
    let (text, diagnostics, count) = run_on(b"can.wall (mm)", &asked(&["mass"], &[])).unwrap();
    assert_eq!((text.as_str(), diagnostics.len(), count), ("row,mass_of_the_cell_g\n", 0, Count::default()));
    let (_, diagnostics, count) = run_on(b"can.wall (mm)\n\xff\n", &asked(&["mass"], &[])).unwrap();
    assert_eq!(count.refused, 1);
    assert!(diagnostics[0].contains("can.wall"), "{diagnostics:?}");
}

/// Many blocks, on all cores: the order is kept, whatever each row takes.
#[test]
fn a_long_table_keeps_its_order() {
    let cell = |i: u32| if i % 1000 == 7 { "bad".to_owned() } else { format!("0.{}", 20 + i % 10) };
    let cells: Vec<String> = (0..20_000).map(cell).collect();
    let table = format!("can.wall (mm)\n{}\n", cells.join("\n"));
    let (text, diagnostics, count) = run_on(table.as_bytes(), &asked(&["mass"], &[])).unwrap();
    let rows = values(&text);
    assert_eq!((rows.len(), diagnostics.len(), count.refused), (20_000, 20, 20));
    assert!(
        diagnostics
            .iter()
            .enumerate()
            .all(|(i, diagnostics)| diagnostics.starts_with(&format!("row {} ", 1000 * i + 8))),
        "{diagnostics:?}"
    );
    for (i, row) in rows.iter().enumerate() {
        assert_eq!(row[0], (i + 1).to_string());
        let like = &rows[i % 10 + 10][1];
        assert!(i % 1000 == 7 || *like == row[1], "row {i}: {row:?} is not {like}");
    }
}

/// Whoever closed the output has heard enough.
#[test]
fn a_closed_output_is_no_fault() {
    struct Closed;
    impl Write for Closed {
        fn write(&mut self, _: &[u8]) -> io::Result<usize> {
            Err(io::ErrorKind::BrokenPipe.into())
        }
        fn flush(&mut self) -> io::Result<()> {
            Ok(())
        }
    }
    assert!(run(base(), b"can.wall (mm)\n0.2\n".as_slice(), Closed, &Asked::default(), |_| {}).is_ok());
}
