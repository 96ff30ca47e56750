//! Columns of what varies as comma-separated values in, columns of figures out.
//!
//! RFC 4180 with a head, in UTF-8. A semicolon or a tab between values is seen from the head; with semicolons decimals may
//! follow a comma, as they do where spreadsheets write them. Memory stays as it is however many rows there are.

use crate::head::Head;
use crate::pieces::{self, Piece};
use crate::plan::{Cell, Plan, Refused, Rows};
use csv_core::{ReadRecordResult, Reader, ReaderBuilder};
use roulade::quantity::problem::{Problem, Problems, nearest, shortened};
use roulade::sheet::Sheet;
use std::io::{self, Read, Write};
use std::sync::mpsc::sync_channel;
use std::thread;

/// Rows that are held at a time.
const MOST_ROWS: usize = 8192;
/// Bytes of rows that are held at a time, and a row besides.
const MOST_BYTES: usize = 4_000_000;
/// Bytes that one row may have: a quotation mark that nobody closed would take the rest of the file.
const LONGEST: usize = 1_000_000;
/// Columns that a table may have.
const MOST_COLUMNS: usize = 10_000;
/// Bytes read at a time.
const AT_ONCE: usize = 1 << 18;

/// What is asked of a table.
#[derive(Clone, Debug, Default)]
pub struct Asked {
    /// Ids of figures; those that come first where there are none.
    pub figures: Vec<String>,
    /// Standard uncertainties too, to first order.
    pub spread: bool,
    /// Heads of columns that are handed on as they are, before the figures.
    pub kept: Vec<String>,
}

/// How many rows were answered, and how many not.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Count {
    /// With figures.
    pub answered: u64,
    /// Without, and told.
    pub refused: u64,
}

/// Works out a table. Rows that cannot be answered are told in their order, and stay empty.
///
/// # Errors
/// What is wrong with the head, with what was asked, or with reading and writing; rows before that were written.
pub fn run(
    sheet: Sheet,
    from: impl Read + Send,
    mut to: impl Write,
    asked: &Asked,
    mut tell: impl FnMut(&Refused),
) -> Result<Count, Problems> {
    let mut source = Source::of(from);
    let head = source.head()?;
    let decimal_comma = source.mark == b';';
    let columns = Columns::of(&head, &asked.kept)?;
    let plan = Plan::new(sheet, columns.heads.clone(), &asked.figures, asked.spread)?;
    let mut names = vec!["row".to_owned()];
    names.extend(asked.kept.iter().map(|kept| disarmed(kept.trim())));
    names.extend(plan.names());
    let mut text = Vec::new();
    let cells: Vec<&[u8]> = names.iter().map(String::as_bytes).collect();
    for (i, cell) in cells.iter().enumerate() {
        quoted(cell, i > 0, &mut text);
    }
    text.push(b'\n');
    let mut count = Count::default();
    if !written(to.write_all(&text))? {
        return Ok(count);
    }
    thread::scope(|scope| {
        let (send, receive) = sync_channel(1);
        scope.spawn(move || {
            loop {
                let block = source.block();
                let last = block.as_ref().map_or(true, |block| block.rows.is_empty());
                // Nobody listens any more where the output was closed.
                if send.send(block).is_err() || last {
                    break;
                }
            }
        });
        let mut before = 0;
        for block in receive {
            let table = Table { block: block?, decimal_comma, columns: &columns };
            let done = pieces::each(&plan, &table, before, |piece| {
                let mut text = Vec::with_capacity(20 * (plan.width() + 1) * piece.rows);
                table.write(&piece, plan.width(), before, &mut text);
                (text, piece.refused)
            });
            for (text, refused) in done {
                refused.iter().for_each(&mut tell);
                count.refused += refused.len() as u64;
                if !written(to.write_all(&text))? {
                    return Ok(count);
                }
            }
            before += table.block.rows.len() as u64;
            count.answered = before - count.refused;
        }
        written(to.flush())?;
        Ok(count)
    })
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
            "expected an output that can be written",
        )
        .into()),
    }
}

/// Which columns vary, and which are handed on.
struct Columns {
    heads: Vec<Head>,
    /// Their places in the table.
    places: Vec<usize>,
    kept: Vec<usize>,
    /// How many there are in all.
    all: usize,
}

impl Columns {
    fn of(head: &[String], kept: &[String]) -> Result<Self, Problems> {
        let mut problems = Problems::default();
        let mut columns = Self { heads: Vec::new(), places: Vec::new(), kept: Vec::new(), all: head.len() };
        for wanted in kept {
            match head.iter().position(|text| text.trim() == wanted.trim()) {
                Some(at) => columns.kept.push(at),
                None => {
                    let near = nearest(wanted, head.iter().map(String::as_str));
                    let expected = near.map_or_else(
                        || "expected the head of a column of the table".to_owned(),
                        |near| format!("perhaps \"{}\" was meant", shortened(near)),
                    );
                    let found = format!("\"{}\", which heads no column", shortened(wanted));
                    problems.push(Problem::new("keep", found, expected));
                }
            }
        }
        for (at, text) in head.iter().enumerate() {
            match Head::read(text) {
                // What is handed on may vary too, where it is a key.
                Ok(read) if columns.kept.contains(&at) && read.field.is_none() => {}
                Err(_) if columns.kept.contains(&at) => {}
                Ok(_) if text.trim().is_empty() => problems.push(Problem::new(
                    format!("column {}", at + 1),
                    "no head",
                    "expected the key of an entry with its unit, for example \"cathode.loading (mg/cm²)\"",
                )),
                Ok(read) => {
                    columns.heads.push(read);
                    columns.places.push(at);
                }
                Err(problem) => problems.push(problem),
            }
        }
        problems.or_else_ok(columns)
    }
}

/// Some rows of a table.
struct Table<'a> {
    block: Block,
    /// Whether decimals may follow a comma.
    decimal_comma: bool,
    columns: &'a Columns,
}

impl Rows for Table<'_> {
    fn count(&self) -> usize {
        self.block.rows.len()
    }

    fn cell(&self, row: usize, column: usize) -> Cell<'_> {
        let Some(at) = self.columns.places.get(column) else { return Cell::Nothing };
        match std::str::from_utf8(self.block.field(row, *at)) {
            Ok(text) if text.trim().is_empty() => Cell::Nothing,
            Ok(text) if self.decimal_comma && text.contains(',') && !text.contains('.') => {
                text.trim().replace(',', ".").parse().map_or(Cell::Text(text), Cell::Number)
            }
            Ok(text) => Cell::Text(text),
            // Told as a fault of the row before it comes to this.
            Err(_) => Cell::Text("\u{fffd}"),
        }
    }

    fn fault(&self, row: usize) -> Option<Problem> {
        let row = self.block.rows.get(row)?;
        (row.fields != self.columns.all).then(|| {
            let values = |n: usize| if n == 1 { "1 value".to_owned() } else { format!("{n} values") };
            Problem::new("", values(row.fields), format!("expected {}, as the head has", self.columns.all))
        })
    }

    fn line(&self, row: usize) -> Option<u64> {
        self.block.rows.get(row).map(|row| row.line)
    }
}

impl Table<'_> {
    /// Some rows of figures as they are written; those without an answer end after what is handed on.
    fn write(&self, piece: &Piece, width: usize, before: u64, out: &mut Vec<u8>) {
        let mut number = zmij::Buffer::new();
        for i in 0..piece.rows {
            let row = piece.from + i;
            let _ = write!(out, "{}", before + row as u64 + 1);
            for at in &self.columns.kept {
                let text = String::from_utf8_lossy(self.block.field(row, *at));
                quoted(disarmed(&text).as_bytes(), true, out);
            }
            for value in piece.figures.iter().skip(i * width).take(width) {
                out.push(b',');
                if value.is_finite() {
                    let text = number.format_finite(*value);
                    out.extend_from_slice(text.strip_suffix(".0").unwrap_or(text).as_bytes());
                }
            }
            out.push(b'\n');
        }
    }
}

/// A text that a spreadsheet would take for a formula with an apostrophe in front, which spreadsheets take for text; numbers stay.
fn disarmed(text: &str) -> String {
    let armed = text.trim_start().starts_with(['=', '+', '-', '@', '\t', '\r'])
        && text.trim().parse::<f64>().is_err();
    if armed { format!("'{text}") } else { text.to_owned() }
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

/// Rows as they were read: all bytes, and where each value ends.
#[derive(Debug, Default)]
struct Block {
    bytes: Vec<u8>,
    ends: Vec<usize>,
    rows: Vec<Row>,
}

#[derive(Debug)]
struct Row {
    line: u64,
    /// Its first value among all.
    from: usize,
    fields: usize,
    /// Where its first value begins.
    begin: usize,
}

impl Block {
    fn field(&self, row: usize, field: usize) -> &[u8] {
        let within = || {
            let row = self.rows.get(row).filter(|row| field < row.fields)?;
            let end = *self.ends.get(row.from + field)?;
            let begin = if field == 0 { row.begin } else { *self.ends.get(row.from + field - 1)? };
            self.bytes.get(begin..end)
        };
        within().unwrap_or_default()
    }
}

/// Takes a table apart.
struct Source<R> {
    from: R,
    reader: Reader,
    buffer: Vec<u8>,
    /// What of the buffer is still to be read.
    at: usize,
    end: usize,
    ended: bool,
    /// Lines that have ended before that.
    lines: u64,
    /// What stands between values.
    mark: u8,
}

impl<R: Read> Source<R> {
    fn of(from: R) -> Self {
        Self {
            from,
            reader: Reader::new(),
            buffer: vec![0; AT_ONCE],
            at: 0,
            end: 0,
            ended: false,
            lines: 0,
            mark: b',',
        }
    }

    fn fill(&mut self) -> Result<(), Problem> {
        if self.at < self.end || self.ended {
            return Ok(());
        }
        let read = loop {
            match self.from.read(&mut self.buffer) {
                Err(error) if error.kind() == io::ErrorKind::Interrupted => {}
                other => break other,
            }
        };
        self.end =
            read.map_err(|error| Problem::new("", error.to_string(), "expected a file that can be read"))?;
        self.at = 0;
        self.ended = self.end == 0;
        Ok(())
    }

    /// The heads of all columns.
    fn head(&mut self) -> Result<Vec<String>, Problems> {
        self.fill()?;
        if self.buffer.starts_with("\u{feff}".as_bytes()) && self.end >= 3 {
            // Some editors begin a file with a byte order mark.
            self.at = 3;
        }
        let first = self.buffer.get(self.at..self.end).unwrap_or_default();
        let line = first.split(|byte| *byte == b'\n').next().unwrap_or_default();
        let many = |mark: &u8| line.iter().filter(|byte| *byte == mark).count();
        let mark = [b',', b';', b'\t'].into_iter().rev().max_by_key(|mark| many(mark)).unwrap_or(b',');
        self.mark = mark;
        self.reader = ReaderBuilder::new().delimiter(mark).build();
        let mut block = Block::default();
        if !self.record(&mut block)? {
            let expected = "expected a table with a head: the keys that vary, each with its unit, for example \
                            \"cathode.loading (mg/cm²)\"";
            return Err(Problem::new("", "nothing", expected).into());
        }
        let fields = block.rows.first().map_or(0, |row| row.fields);
        let read = |field| match std::str::from_utf8(block.field(0, field)) {
            Ok(text) => Ok(text.trim().to_owned()),
            Err(_) => Err(Problem::new(
                format!("column {}", field + 1),
                "a head that is not UTF-8",
                "expected a text file in UTF-8",
            )),
        };
        Ok((0..fields).map(read).collect::<Result<_, Problem>>()?)
    }

    /// The next rows; none at the end.
    fn block(&mut self) -> Result<Block, Problems> {
        let mut block = Block::default();
        while block.rows.len() < MOST_ROWS && block.bytes.len() < MOST_BYTES {
            if !self.record(&mut block)? {
                break;
            }
        }
        Ok(block)
    }

    /// Passes over empty lines; how many lines have ended before the next row.
    fn past_empty_lines(&mut self) -> Result<u64, Problem> {
        loop {
            self.fill()?;
            let rest = self.buffer.get(self.at..self.end).unwrap_or_default();
            let empty = rest.iter().take_while(|byte| matches!(byte, b'\n' | b'\r')).count();
            self.lines += ended_lines(rest.get(..empty).unwrap_or_default());
            self.at += empty;
            if self.at < self.end || self.ended {
                return Ok(self.lines);
            }
        }
    }

    /// Reads one row into a block; none is left where this is not true. Empty lines are passed over.
    fn record(&mut self, block: &mut Block) -> Result<bool, Problem> {
        let (begin, from) = (block.bytes.len(), block.ends.len());
        let line = self.past_empty_lines()? + 1;
        let (mut bytes, mut ends) = (begin, from);
        block.bytes.resize(begin + 256, 0);
        block.ends.resize(from + 32, 0);
        loop {
            self.fill()?;
            let input = self.buffer.get(self.at..self.end).unwrap_or_default();
            let (Some(room), Some(places)) = (block.bytes.get_mut(bytes..), block.ends.get_mut(ends..))
            else {
                return Ok(false);
            };
            let (result, read, wrote, ended) = self.reader.read_record(input, room, places);
            // The reader counts from the beginning of its record.
            for place in places.iter_mut().take(ended) {
                *place += begin;
            }
            self.lines += ended_lines(input.get(..read).unwrap_or_default());
            self.at += read;
            bytes += wrote;
            ends += ended;
            if bytes - begin > LONGEST || ends - from > MOST_COLUMNS {
                return Err(Problem::new(
                    format!("line {line}"),
                    format!("a row of more than {} MB or {MOST_COLUMNS} values", LONGEST / 1_000_000),
                    "expected a row that ends with its line: perhaps a quotation mark is not closed",
                ));
            }
            match result {
                ReadRecordResult::InputEmpty => {}
                ReadRecordResult::OutputFull => block.bytes.resize(2 * block.bytes.len(), 0),
                ReadRecordResult::OutputEndsFull => block.ends.resize(2 * block.ends.len(), 0),
                ReadRecordResult::Record => break,
                ReadRecordResult::End => {
                    block.bytes.truncate(begin);
                    block.ends.truncate(from);
                    return Ok(false);
                }
            }
        }
        block.bytes.truncate(bytes);
        block.ends.truncate(ends);
        block.rows.push(Row { line, from, fields: ends - from, begin });
        Ok(true)
    }
}

fn ended_lines(bytes: &[u8]) -> u64 {
    bytes.iter().filter(|byte| **byte == b'\n').count() as u64
}

#[cfg(test)]
mod tests;
