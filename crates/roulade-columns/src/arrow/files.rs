//! Record batches from files and into files: Arrow IPC, as a file or as a stream, and Parquet.
//!
//! What a file is, its first bytes say: an Arrow IPC file begins with `ARROW1`, Parquet with `PAR1` (their specifications).

use super::{Figures, figures, heads, schema};
use crate::csv::{Asked, Columns, Count};
use crate::pieces::Plausibility;
use crate::plan::{Plan, Refused};
use arrow_array::{RecordBatch, RecordBatchReader};
use arrow_ipc::reader::{FileReader, StreamReader};
use arrow_ipc::writer::FileWriter;
use arrow_schema::{ArrowError, Schema, SchemaRef};
use parquet::arrow::ArrowWriter;
use parquet::arrow::arrow_reader::ParquetRecordBatchReaderBuilder;
use parquet::basic::Compression;
use parquet::file::properties::WriterProperties;
use roulade::quantity::problem::{Problem, Problems};
use roulade::sheet::Sheet;
use std::fs::File;
use std::io::{self, Read, Seek, SeekFrom, Write};
use std::sync::Arc;

/// Rows that are held at a time.
const MOST_ROWS: usize = 65_536;

/// In what form figures are written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// An Arrow IPC file.
    Ipc,
    /// Parquet.
    Parquet,
}

impl Form {
    /// By the first bytes of a file; none where it is neither.
    ///
    /// # Errors
    /// Where it cannot be read.
    pub fn of_file(file: &mut File) -> io::Result<Option<Self>> {
        Ok(match first(file)? {
            [b'P', b'A', b'R', b'1'] => Some(Self::Parquet),
            [b'A', b'R', b'R', b'O'] | STREAM => Some(Self::Ipc),
            _ => None,
        })
    }
}

/// How a stream of record batches begins.
const STREAM: [u8; 4] = [0xFF; 4];

/// The first bytes of a file, which is left at its beginning.
fn first(file: &mut File) -> io::Result<[u8; 4]> {
    let mut first = [0; 4];
    let read = file.read(&mut first);
    file.seek(SeekFrom::Start(0))?;
    read.map(|_| first)
}

/// Works out a file. Rows that cannot be answered are told in their order, and are null. Columns that are handed on stand before
/// the figures.
///
/// # Errors
/// What is wrong with the file, with its columns or with what was asked; batches before that were written.
pub fn run(
    sheet: Sheet,
    from: File,
    to: impl Write + Send,
    form: Form,
    asked: &Asked,
    mut tell: impl FnMut(&Refused),
) -> Result<Count, Problems> {
    let batches = reader(from)?;
    let table = batches.schema();
    let names: Vec<String> = table.fields().iter().map(|field| field.name().clone()).collect();
    let columns = Columns::of(&names, &asked.kept)?;
    let part = |places: &[usize]| table.project(places).map_err(|error| unreadable(&error));
    let plan = Plan::new(sheet, heads(&part(&columns.places)?)?, &asked.figures, asked.spread)?;
    let fields =
        part(&columns.kept)?.fields().iter().chain(schema(&plan).fields()).cloned().collect::<Vec<_>>();
    let out: SchemaRef = Arc::new(Schema::new(fields));
    let mut writer = Writer::new(to, form, &out)?;
    let (mut count, mut plausible) = (Count::default(), Plausibility::default());
    for batch in batches {
        let batch = batch.map_err(|error| unreadable(&error))?;
        let part = |places: &[usize]| batch.project(places).map_err(|error| unreadable(&error));
        let Figures { batch: made, refused, plausibility } =
            figures(&plan, &part(&columns.places)?, count.answered + count.refused)?;
        plausible.join(plausibility);
        refused.iter().for_each(&mut tell);
        count.refused += refused.len() as u64;
        count.answered += (batch.num_rows() - refused.len()) as u64;
        let all = part(&columns.kept)?.columns().iter().chain(made.columns()).cloned().collect();
        writer.write(&RecordBatch::try_new(out.clone(), all).map_err(|error| unwritten(&error))?)?;
    }
    writer.end()?;
    count.plausibility = [plan.plausibility_of_base(), plausible.remarks()].concat();
    Ok(count)
}

fn reader(mut from: File) -> Result<Box<dyn RecordBatchReader>, Problems> {
    let first = first(&mut from).map_err(|error| unreadable(&ArrowError::from(error)))?;
    if first == *b"PAR1" {
        let parquet = |error: parquet::errors::ParquetError| unreadable(&ArrowError::from(error));
        let builder = ParquetRecordBatchReaderBuilder::try_new(from).map_err(parquet)?;
        return Ok(Box::new(builder.with_batch_size(MOST_ROWS).build().map_err(parquet)?));
    }
    if first == STREAM {
        return Ok(Box::new(StreamReader::try_new_buffered(from, None).map_err(|error| unreadable(&error))?));
    }
    Ok(Box::new(FileReader::try_new_buffered(from, None).map_err(|error| unreadable(&error))?))
}

enum Writer<W: Write + Send> {
    Ipc(FileWriter<W>),
    Parquet(ArrowWriter<W>),
}

impl<W: Write + Send> Writer<W> {
    fn new(to: W, form: Form, schema: &SchemaRef) -> Result<Self, Problem> {
        Ok(match form {
            Form::Ipc => Self::Ipc(FileWriter::try_new(to, schema).map_err(|error| unwritten(&error))?),
            Form::Parquet => {
                let properties = WriterProperties::builder().set_compression(Compression::SNAPPY).build();
                let writer = ArrowWriter::try_new(to, schema.clone(), Some(properties));
                Self::Parquet(writer.map_err(|error| unwritten(&error.into()))?)
            }
        })
    }

    fn write(&mut self, batch: &RecordBatch) -> Result<(), Problem> {
        match self {
            Self::Ipc(writer) => writer.write(batch).map_err(|error| unwritten(&error)),
            Self::Parquet(writer) => writer.write(batch).map_err(|error| unwritten(&error.into())),
        }
    }

    fn end(self) -> Result<(), Problem> {
        match self {
            Self::Ipc(mut writer) => writer.finish().map_err(|error| unwritten(&error)),
            Self::Parquet(writer) => writer.close().map(|_| ()).map_err(|error| unwritten(&error.into())),
        }
    }
}

fn unreadable(error: &ArrowError) -> Problem {
    Problem::new("", format!("record batches that cannot be read: {error}"), "an Arrow IPC file or Parquet")
}

fn unwritten(error: &ArrowError) -> Problem {
    Problem::new("", format!("an output that could not be written: {error}"), "an output that can be written")
}

#[cfg(test)]
mod tests {
    use super::*;
    use arrow_array::cast::AsArray;
    use arrow_array::types::Float64Type;
    use arrow_array::{Array, ArrayRef, Float64Array, StringArray};

    fn base() -> Sheet {
        Sheet::new("a 21 mm cell")
            .can("21 mm", "70 mm")
            .cathode(&[("NMC811", "")], "22 mg/cm²")
            .anode(&[("graphite", "")])
    }

    fn table() -> RecordBatch {
        let loading: ArrayRef = Arc::new(Float64Array::from(vec![Some(20.0), None, Some(21.0), Some(-1.0)]));
        let wall: ArrayRef = Arc::new(StringArray::from(vec!["0.2 mm", "0.2 mm", "250 µm", "0.2 mm"]));
        let coil: ArrayRef = Arc::new(StringArray::from(vec!["A7", "A8", "B1", "B2"]));
        RecordBatch::try_from_iter_with_nullable([
            ("coil", coil, true),
            ("cathode.loading (mg/cm²)", loading, true),
            ("can.wall", wall, true),
        ])
        .unwrap()
    }

    /// A file that nobody else writes.
    fn file(name: &str) -> std::path::PathBuf {
        std::env::temp_dir().join(format!("roulade-columns-{}-{name}", std::process::id()))
    }

    #[test]
    fn batches_go_through_files_of_either_form() {
        let mut seen = Vec::new();
        let asked =
            Asked { figures: vec!["mass".to_owned()], kept: vec!["coil".to_owned()], ..Asked::default() };
        for (name, form) in [("in.arrow", Form::Ipc), ("in.parquet", Form::Parquet)] {
            let path = file(name);
            let to = File::create(&path).unwrap();
            if form == Form::Ipc {
                let mut writer = FileWriter::try_new(to, &table().schema()).unwrap();
                writer.write(&table()).unwrap();
                writer.finish().unwrap();
            } else {
                let mut writer = ArrowWriter::try_new(to, table().schema(), None).unwrap();
                writer.write(&table()).unwrap();
                writer.close().unwrap();
            }
            assert_eq!(Form::of_file(&mut File::open(&path).unwrap()).unwrap(), Some(form));
            let out = file(&format!("out-{name}"));
            let mut diagnostics = Vec::new();
            let to = File::create(&out).unwrap();
            let count = run(base(), File::open(&path).unwrap(), to, form, &asked, |refused| {
                diagnostics.push(refused.to_string());
            });
            assert_eq!(count, Ok(Count { answered: 2, refused: 2, plausibility: Vec::new() }));
            assert!(diagnostics[0].starts_with("row 2: cathode.loading: found nothing"), "{diagnostics:?}");
            assert!(diagnostics[1].starts_with("row 4: cathode.loading: found -1"), "{diagnostics:?}");
            let mut back = reader(File::open(&out).unwrap()).unwrap();
            let batch = back.next().unwrap().unwrap();
            let names: Vec<String> =
                batch.schema().fields().iter().map(|field| field.name().clone()).collect();
            assert_eq!(names, ["coil", "mass_of_the_cell_g"]);
            assert_eq!(batch.column(0).as_ref(), table().column(0).as_ref());
            let masses = batch.column(1).as_primitive::<Float64Type>();
            assert_eq!([masses.is_null(1), masses.is_null(3)], [true, true]);
            seen.push([masses.value(0), masses.value(2)].map(f64::to_bits));
            for path in [path, out] {
                std::fs::remove_file(path).unwrap();
            }
        }
        assert_eq!(seen[0], seen[1]);
    }

    #[test]
    fn files_that_are_none() {
        let path = file("none");
        for bytes in [b"PAR1 and no more".as_slice(), b"ARROW1", b"\xff\xff\xff\xff", b"a,b\n1,2\n"] {
            std::fs::write(&path, bytes).unwrap();
            let done =
                run(base(), File::open(&path).unwrap(), Vec::new(), Form::Ipc, &Asked::default(), |_| {});
            assert!(done.unwrap_err().to_string().contains("cannot be read"), "{bytes:?}");
        }
        std::fs::remove_file(path).unwrap();
    }
}
