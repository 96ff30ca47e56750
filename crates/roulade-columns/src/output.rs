//! Where rows of figures go: as comma-separated values, or wherever else they are put in their order.

use roulade::quantity::problem::{Problem, Problems};
use roulade::quantity::spreadsheet::disarmed;
use std::borrow::Cow;
use std::io::{self, Write};

/// One row as it leaves.
#[derive(Debug)]
pub struct Row<'a> {
    /// Its number, counted from 1, the head left out.
    pub number: u64,
    /// What is handed on, as it stands in the table.
    pub kept: &'a [Cow<'a, str>],
    /// The figures, in the units of their names; NaN where there is none.
    pub figures: &'a [f64],
}

/// Takes rows in their order.
pub trait Output {
    /// Some rows, made by whichever core worked them out.
    type Piece: Default + Send;

    /// The names of all columns: the row's number, what is handed on, the figures. False where nobody listens any more.
    ///
    /// # Errors
    /// Where they cannot be written.
    fn head(&mut self, names: &[String]) -> Result<bool, Problems>;

    /// Adds a row to a piece.
    fn add(row: &Row<'_>, piece: &mut Self::Piece);

    /// Puts a piece after those before it. False where nobody listens any more.
    ///
    /// # Errors
    /// Where it cannot be written.
    fn put(&mut self, piece: Self::Piece) -> Result<bool, Problems>;

    /// What is left to do after the last piece.
    ///
    /// # Errors
    /// Where that cannot be done.
    fn end(&mut self) -> Result<(), Problems> {
        Ok(())
    }
}

/// Comma-separated values (RFC 4180, plain line ends), texts that no spreadsheet takes for formulas.
pub(crate) struct Text<W>(pub(crate) W);

impl<W: Write> Output for Text<W> {
    type Piece = Vec<u8>;

    fn head(&mut self, names: &[String]) -> Result<bool, Problems> {
        let mut text = Vec::new();
        for (i, name) in names.iter().enumerate() {
            quoted(disarmed(name).as_bytes(), i > 0, &mut text);
        }
        text.push(b'\n');
        self.put(text)
    }

    fn add(row: &Row<'_>, piece: &mut Vec<u8>) {
        let mut number = zmij::Buffer::new();
        // Writing to memory does not fail.
        let _ = write!(piece, "{}", row.number);
        for text in row.kept {
            quoted(disarmed(text).as_bytes(), true, piece);
        }
        for value in row.figures {
            piece.push(b',');
            if value.is_finite() {
                let text = number.format_finite(*value);
                piece.extend_from_slice(text.strip_suffix(".0").unwrap_or(text).as_bytes());
            }
        }
        piece.push(b'\n');
    }

    fn put(&mut self, piece: Vec<u8>) -> Result<bool, Problems> {
        written(self.0.write_all(&piece))
    }

    fn end(&mut self) -> Result<(), Problems> {
        written(self.0.flush()).map(|_| ())
    }
}

/// Whether anybody listens still.
fn written(done: io::Result<()>) -> Result<bool, Problems> {
    match done {
        Ok(()) => Ok(true),
        // Whoever was listening has heard enough.
        Err(error) if error.kind() == io::ErrorKind::BrokenPipe => Ok(false),
        Err(error) => Err(Problem::new(
            "",
            format!("an output that could not be written: {error}"),
            "an output that can be written",
        )
        .into()),
    }
}

fn quoted(cell: &[u8], after: bool, out: &mut Vec<u8>) {
    if after {
        out.push(b',');
    }
    if cell.iter().any(|byte| matches!(byte, b',' | b'"' | b'\n' | b'\r')) {
        out.push(b'"');
        for byte in cell {
            if *byte == b'"' {
                out.push(b'"');
            }
            out.push(*byte);
        }
        out.push(b'"');
    } else {
        out.extend_from_slice(cell);
    }
}
