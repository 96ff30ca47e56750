//! Bench sheets as spreadsheet programs save them: workbooks, and texts in other encodings than UTF-8.

use calamine::{Data, Reader, open_workbook_auto_from_rs};
use roulade::quantity::problem::Problem;
use std::io::Cursor;

/// Workbooks are archives; these two letters begin one.
const ARCHIVE: &[u8] = b"PK";

/// The text of a file: a workbook's first sheet that holds anything, as CSV; or what [`decoded`] makes of it.
///
/// # Errors
/// Where a workbook cannot be read or holds nothing, or UTF-16 breaks off.
pub(crate) fn text(bytes: Vec<u8>) -> Result<String, Problem> {
    if bytes.starts_with(ARCHIVE) { workbook(bytes) } else { decoded(bytes) }
}

/// A text in UTF-8, with a byte order mark or without; in UTF-16 with its mark; or in Windows-1252, which is what a text
/// is that is none of these.
///
/// # Errors
/// Where UTF-16 breaks off.
pub(crate) fn decoded(bytes: Vec<u8>) -> Result<String, Problem> {
    match bytes.as_slice() {
        [0xFF, 0xFE, rest @ ..] => return utf16(rest, u16::from_le_bytes),
        [0xFE, 0xFF, rest @ ..] => return utf16(rest, u16::from_be_bytes),
        _ => {}
    }
    match String::from_utf8(bytes) {
        Ok(text) => Ok(text.strip_prefix('\u{feff}').map_or(text.clone(), str::to_owned)),
        Err(error) => Ok(error.into_bytes().into_iter().map(windows).collect()),
    }
}

/// Windows-1252 from 0x80 to 0x9F, as the Encoding Standard (WHATWG) has it; all else is Latin-1.
const WINDOWS: [char; 32] = [
    '€', '\u{81}', '‚', 'ƒ', '„', '…', '†', '‡', 'ˆ', '‰', 'Š', '‹', 'Œ', '\u{8d}', 'Ž', '\u{8f}', '\u{90}',
    '‘', '’', '“', '”', '•', '–', '—', '˜', '™', 'š', '›', 'œ', '\u{9d}', 'ž', 'Ÿ',
];

fn windows(byte: u8) -> char {
    WINDOWS.get(usize::from(byte).wrapping_sub(0x80)).copied().unwrap_or(char::from(byte))
}

fn utf16(bytes: &[u8], unit: fn([u8; 2]) -> u16) -> Result<String, Problem> {
    let units = bytes.chunks(2).map(|pair| match pair {
        &[a, b] => unit([a, b]),
        // Half a character at the end.
        _ => 0xD800,
    });
    char::decode_utf16(units).collect::<Result<String, _>>().map_err(|error| {
        Problem::new(
            "",
            format!("UTF-16 with half a character, 0x{:04X}", error.unpaired_surrogate()),
            "a whole text file",
        )
    })
}

fn workbook(bytes: Vec<u8>) -> Result<String, Problem> {
    let unreadable = |error: &dyn std::fmt::Display| {
        Problem::new("", format!("a workbook that cannot be read: {error}"), "an XLSX or ODS file")
    };
    let mut book = open_workbook_auto_from_rs(Cursor::new(bytes)).map_err(|error| unreadable(&error))?;
    for name in book.sheet_names() {
        let range = book.worksheet_range(&name).map_err(|error| unreadable(&error))?;
        if range.is_empty() {
            continue;
        }
        // Semicolons, so that a decimal comma that was typed as text stays one.
        let mut rows = csv::WriterBuilder::new().delimiter(b';').flexible(true).from_writer(Vec::new());
        // Rows above the first cell count, so that lines are those of the sheet.
        let above = range.start().map_or(0, |(row, _)| row);
        let mut text = "\n".repeat(usize::try_from(above).unwrap_or(0)).into_bytes();
        // Numbers are written as the texts beside them are: with decimal commas, where one of them has such.
        let comma = range.rows().flatten().any(|data| matches!(data, Data::String(text) if has_comma(text)));
        for row in range.rows() {
            let cells: Vec<String> = row.iter().map(|data| cell(data, comma)).collect();
            rows.write_record(&cells).map_err(|error| unreadable(&error))?;
        }
        text.extend(rows.into_inner().map_err(|error| unreadable(&error.to_string()))?);
        return String::from_utf8(text).map_err(|error| unreadable(&error));
    }
    Err(Problem::new("", "a workbook without a filled cell", "a sheet with a line of column names"))
}

/// Whether a text has a comma between digits.
fn has_comma(text: &str) -> bool {
    let digit = |byte: Option<&u8>| byte.is_some_and(u8::is_ascii_digit);
    text.as_bytes()
        .windows(3)
        .any(|three| three.get(1) == Some(&b',') && digit(three.first()) && digit(three.last()))
}

fn cell(data: &Data, comma: bool) -> String {
    match data {
        Data::Float(number) if comma => number.to_string().replace('.', ","),
        Data::Empty => String::new(),
        Data::Error(error) => format!("{error:?}"),
        // A text, a number with the shortest digits that give it back, a date as the program shows it.
        other => other.to_string(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn encodings_of_one_text() {
        let wanted = "quantity;value\ncathode foil;15,1 µm\n";
        let little: Vec<u8> =
            [0xFF, 0xFE].into_iter().chain(wanted.encode_utf16().flat_map(u16::to_le_bytes)).collect();
        let big: Vec<u8> =
            [0xFE, 0xFF].into_iter().chain(wanted.encode_utf16().flat_map(u16::to_be_bytes)).collect();
        let latin: Vec<u8> = wanted.chars().map(|c| u8::try_from(u32::from(c)).unwrap()).collect();
        for bytes in
            [wanted.as_bytes().to_vec(), format!("\u{feff}{wanted}").into_bytes(), little, big, latin]
        {
            assert_eq!(text(bytes).unwrap(), wanted);
        }
        assert_eq!(
            text(b"5 \xb5m \x96 6 \xb5m, \x931\x94, 20 \x80".to_vec()).unwrap(),
            "5 µm – 6 µm, “1”, 20 €"
        );
        assert!(text(vec![0xFF, 0xFE, 0x41]).is_err());
        assert!(text(b"PK\x03\x04 not an archive".to_vec()).unwrap_err().to_string().contains("workbook"));
    }
}
