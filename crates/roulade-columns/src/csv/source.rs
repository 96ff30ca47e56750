//! Takes a table apart, some thousand rows at a time.

use csv_core::{ReadRecordResult, Reader, ReaderBuilder};
use roulade::quantity::problem::{Problem, Problems};
use std::io::{self, Read};

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

/// Rows as they were read: all bytes, and where each value ends.
#[derive(Debug, Default)]
pub(super) struct Block {
    bytes: Vec<u8>,
    ends: Vec<usize>,
    pub(super) rows: Vec<Row>,
}

#[derive(Debug)]
pub(super) struct Row {
    pub(super) line: u64,
    /// Its first value among all.
    from: usize,
    pub(super) fields: usize,
    /// Where its first value begins.
    begin: usize,
}

impl Block {
    pub(super) fn field(&self, row: usize, field: usize) -> &[u8] {
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
pub(super) struct Source<R> {
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
    pub(super) mark: u8,
}

impl<R: Read> Source<R> {
    pub(super) fn of(from: R) -> Self {
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
        self.end = read.map_err(|error| Problem::new("", error.to_string(), "a file that can be read"))?;
        self.at = 0;
        self.ended = self.end == 0;
        Ok(())
    }

    /// The heads of all columns.
    pub(super) fn head(&mut self) -> Result<Vec<String>, Problems> {
        self.fill()?;
        if self.buffer.starts_with("\u{feff}".as_bytes()) && self.end >= 3 {
            // Some editors begin a file with a byte order mark.
            self.at = 3;
        }
        let first = self.buffer.get(self.at..self.end).unwrap_or_default();
        let line = first.split(|byte| *byte == b'\n').next().unwrap_or_default();
        let many = |mark: &u8| line.split(|byte| byte == mark).count();
        let mark = [b',', b';', b'\t'].into_iter().rev().max_by_key(|mark| many(mark)).unwrap_or(b',');
        self.mark = mark;
        self.reader = ReaderBuilder::new().delimiter(mark).build();
        let mut block = Block::default();
        if !self.record(&mut block)? {
            let expected = "a table with a head: the keys that vary, each with its unit, for example \
                            \"cathode.loading (mg/cm²)\"";
            return Err(Problem::new("", "nothing", expected).into());
        }
        let fields = block.rows.first().map_or(0, |row| row.fields);
        let read = |field| match std::str::from_utf8(block.field(0, field)) {
            Ok(text) => Ok(text.trim().to_owned()),
            Err(_) => Err(Problem::new(
                format!("column {}", field + 1),
                "a head that is not UTF-8",
                "a text file in UTF-8",
            )),
        };
        Ok((0..fields).map(read).collect::<Result<_, Problem>>()?)
    }

    /// The next rows; none at the end.
    pub(super) fn block(&mut self) -> Result<Block, Problems> {
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
                    "a row that ends with its line; perhaps a quotation mark is not closed",
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
    bytes.split(|byte| *byte == b'\n').count() as u64 - 1
}
