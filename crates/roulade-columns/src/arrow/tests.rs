use super::*;
use arrow_array::{BooleanArray, Int32Array};
use roulade::sheet::Sheet;

fn base() -> Sheet {
    Sheet::new("a 21 mm cell")
        .can("21 mm", "70 mm")
        .cathode(&[("NMC811", "")], "22 mg/cm²")
        .anode(&[("graphite", "")])
}

fn batch(columns: Vec<(&str, ArrayRef)>) -> RecordBatch {
    RecordBatch::try_from_iter_with_nullable(columns.into_iter().map(|(name, array)| (name, array, true)))
        .unwrap()
}

fn masses(columns: Vec<(&str, ArrayRef)>) -> Vec<Option<f64>> {
    let batch = batch(columns);
    let plan = Plan::new(base(), heads(&batch.schema()).unwrap(), &["mass".to_owned()], false).unwrap();
    let figures = figures(&plan, &batch, 0).unwrap();
    figures.batch.column(0).as_primitive::<Float64Type>().iter().collect()
}

/// The same numbers give the same figures, whatever they are kept as.
#[test]
fn numbers_of_every_kind() {
    let loading = "cathode.loading (mg/cm²)";
    let doubles = masses(vec![(loading, Arc::new(Float64Array::from(vec![20.0, 21.0])))]);
    let arrays: Vec<ArrayRef> = vec![
        Arc::new(Int32Array::from(vec![20, 21])),
        Arc::new(PrimitiveArray::<Int64Type>::from(vec![20, 21])),
        Arc::new(PrimitiveArray::<UInt64Type>::from(vec![20, 21])),
        Arc::new(PrimitiveArray::<UInt8Type>::from(vec![20, 21])),
        Arc::new(PrimitiveArray::<Float32Type>::from(vec![20.0, 21.0])),
        Arc::new(StringArray::from(vec!["20", "21"])),
        Arc::new(LargeStringArray::from(vec!["20", "21"])),
        Arc::new(StringViewArray::from(vec!["20", "21"])),
    ];
    for array in arrays {
        assert_eq!(masses(vec![(loading, array)]), doubles);
    }
    // A single 0.3 stands for 0.3, not for 0.300000012.
    let wall = |array: ArrayRef| masses(vec![("can.wall (mm)", array)]);
    let single = wall(Arc::new(PrimitiveArray::<Float32Type>::from(vec![0.3])));
    assert_eq!(single, wall(Arc::new(Float64Array::from(vec![0.3]))));
}

#[test]
fn columns_that_are_neither_numbers_nor_texts() {
    let batch = batch(vec![
        ("can.wall (mm)", Arc::new(BooleanArray::from(vec![true]))),
        ("can.wal (mm)", Arc::new(Float64Array::from(vec![0.3]))),
    ]);
    let diagnostic = heads(&batch.schema()).unwrap_err().to_string();
    assert!(
        diagnostic.contains("can.wall (mm): found a column of Boolean; expected numbers or texts"),
        "{diagnostic}"
    );
    assert!(
        diagnostic.contains("can.wal (mm): found a unit, \"mm\", at a key that is no quantity"),
        "{diagnostic}"
    );
}
