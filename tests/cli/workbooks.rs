//! Bench sheets as spreadsheet programs keep them: XLSX and ODS.

use crate::{call, call_with, folder};
use rust_xlsxwriter::Workbook;
use serde_json::Value;

/// What a cell of a table holds.
enum Cell {
    Text(&'static str),
    Number(f64),
}
use Cell::{Number, Text};

const ROWS: &[&[Cell]] = &[
    &[Text("quantity"), Text("value"), Text("unit"), Text("date")],
    &[Text("cathode foil"), Text("15,1 µm"), Text(""), Text("2031-05-06")],
    &[Text("cell mass"), Number(321.5), Text("g"), Text("2031-05-07")],
    // Three decimals beside a decimal comma are no thousands: the workbook knows its numbers.
    &[Text("cathode length"), Number(3.765), Text("m"), Text("")],
    &[Text("can wall"), Number(-1.0), Text("mm"), Text("")],
];

fn xlsx() -> Vec<u8> {
    let mut book = Workbook::new();
    // The first sheet is empty, and the table does not begin in its corner.
    book.add_worksheet();
    let sheet = book.add_worksheet();
    for (row, cells) in (2..).zip(ROWS) {
        for (column, cell) in (1..).zip(*cells) {
            match cell {
                Text(text) => sheet.write(row, column, *text),
                Number(number) => sheet.write(row, column, *number),
            }
            .expect("a cell can be written");
        }
    }
    book.save_to_buffer().expect("a workbook")
}

fn ods() -> Vec<u8> {
    let cell = |cell: &Cell| match cell {
        Text("") => "<table:table-cell/>".to_owned(),
        Text(text) => {
            format!(
                "<table:table-cell office:value-type=\"string\"><text:p>{text}</text:p></table:table-cell>"
            )
        }
        Number(number) => {
            let shown = number.to_string().replace('.', ",");
            format!(
                "<table:table-cell office:value-type=\"float\" office:value=\"{number}\"><text:p>{shown}</text:p></table:table-cell>"
            )
        }
    };
    let row = |cells: &&[Cell]| {
        format!("<table:table-row>{}</table:table-row>", cells.iter().map(cell).collect::<String>())
    };
    let content = format!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?><office:document-content \
         xmlns:office=\"urn:oasis:names:tc:opendocument:xmlns:office:1.0\" \
         xmlns:table=\"urn:oasis:names:tc:opendocument:xmlns:table:1.0\" \
         xmlns:text=\"urn:oasis:names:tc:opendocument:xmlns:text:1.0\" office:version=\"1.2\"><office:body><office:spreadsheet>\
         <table:table table:name=\"bench\">{}</table:table></office:spreadsheet></office:body></office:document-content>",
        ROWS.iter().map(row).collect::<String>()
    );
    let mime = "application/vnd.oasis.opendocument.spreadsheet";
    let manifest = format!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?><manifest:manifest \
         xmlns:manifest=\"urn:oasis:names:tc:opendocument:xmlns:manifest:1.0\"><manifest:file-entry manifest:full-path=\"/\" \
         manifest:media-type=\"{mime}\"/></manifest:manifest>"
    );
    stored(&[("mimetype", mime), ("META-INF/manifest.xml", &manifest), ("content.xml", &content)])
}

/// A ZIP archive of texts that are stored as they are (PKWARE's APPNOTE.TXT 6.3).
fn stored(files: &[(&str, &str)]) -> Vec<u8> {
    let (mut all, mut directory) = (Vec::new(), Vec::new());
    let size = |n: usize| u32::try_from(n).expect("a short text").to_le_bytes();
    for (name, text) in files {
        let at = size(all.len());
        let length = size(text.len());
        // Version 2.0, no flags, stored, no time; check sum, length twice, length of the name, nothing more.
        let head = [
            &[20, 0, 0, 0, 0, 0, 0, 0, 0, 0][..],
            &checksum(text.as_bytes()).to_le_bytes(),
            &length,
            &length,
            &size(name.len())[..2],
            &[0, 0],
        ]
        .concat();
        all.extend([b"PK\x03\x04", &head[..], name.as_bytes(), text.as_bytes()].concat());
        directory.extend([b"PK\x01\x02\x14\x00", &head[..], &[0; 10], &at, name.as_bytes()].concat());
    }
    let count = &size(files.len())[..2];
    let end =
        [b"PK\x05\x06\0\0\0\0", count, count, &size(directory.len()), &size(all.len()), &[0, 0]].concat();
    [all, directory, end].concat()
}

/// CRC-32 of ISO 3309.
fn checksum(bytes: &[u8]) -> u32 {
    !bytes.iter().fold(!0, |sum, byte| {
        (0..8).fold(sum ^ u32::from(*byte), |sum, _| (sum >> 1) ^ (0xEDB8_8320 * (sum & 1)))
    })
}

#[test]
fn workbooks_are_read_by_their_names_and_from_standard_input() {
    let folder = folder("workbooks");
    for (name, bytes) in [("bench.xlsx", xlsx()), ("bench.ods", ods())] {
        let path = folder.join(name);
        std::fs::write(&path, &bytes).expect("it can be written");
        let said = call(&["readings", path.to_str().expect("a plain path"), "--json"]);
        assert_eq!((said.status, said.err.as_str()), (1, ""), "{name}: {}", said.out);
        let answer: Value = serde_json::from_str(&said.out).expect("an answer is JSON");
        let rows = answer["ok"]["readings"].as_array().expect("readings");
        let values: Vec<f64> =
            rows.iter().map(|row| row["reading"]["value"].as_f64().expect("a number")).collect();
        assert_eq!(values, [15.1, 321.5, 3765.0], "{name}");
        // Rows are those that the program shows.
        let above = if name.ends_with("xlsx") { 2 } else { 0 };
        assert_eq!(rows[0]["line"].as_u64(), Some(2 + above), "{name}");
        let problems = answer["ok"]["problems"].to_string();
        assert!(problems.contains(&format!("line {}, value", 5 + above)), "{name}: {problems}");
        assert_eq!(call_with(&["readings", "-", "--json"], &bytes).out, said.out, "{name}");
        let half = call_with(&["readings", "-"], &bytes[..bytes.len() / 2]);
        assert!(
            half.status == 2 && half.err.contains("expected an XLSX or ODS file"),
            "{name}: {}",
            half.err
        );
    }
}
