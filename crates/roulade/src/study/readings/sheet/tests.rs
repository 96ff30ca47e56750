use super::*;
use proptest::prelude::*;

fn bench(text: &str) -> Bench {
    Bench::read(text).unwrap_or_else(|problems| panic!("{text}\n{problems}"))
}

fn refusals(text: &str) -> Vec<String> {
    let problems = Bench::read(text).map_or_else(|problems| problems, |bench| bench.problems);
    problems.0.iter().map(ToString::to_string).collect()
}

#[track_caller]
fn only(text: &str, value: f64, u: f64) {
    let bench = bench(text);
    assert!(bench.problems.0.is_empty(), "{text}: {}", bench.problems);
    let reading = bench.readings.first().unwrap();
    assert!((reading.value - value).abs() < 1e-12 * value.abs(), "{text}: {}", reading.value);
    assert!((reading.u.unwrap_or(0.0) - u).abs() <= 1e-12 * u, "{text}: {:?}", reading.u);
}

#[test]
fn one_reading_in_every_way_of_writing_it() {
    for text in [
        "quantity,value,unit,uncertainty\ncathode width,80.8,mm,0.1",
        "quantity,value,unit,uncertainty\ncathode width,\"80,8\",mm,\"0,1\"",
        "uncertainty;unit;value;quantity\n0,1;mm;80,8;cathode width",
        "\u{feff}Quantity;VALUE;Unit;Uncertainty\r\nCathode Width;80,8;mm;±0,1\r\n",
        "quantity,value\ncathode width,80.8 ± 0.1 mm",
        "quantity,value\ncathode width,80.8(1) mm",
        "quantity,value,unit\ncathode width,80.8 ± 0.1,mm",
        "quantity,value,uncertainty\ncathode width,80.8 mm,0.1",
        "quantity,value,uncertainty\ncathode width,80.8 mm,0.1 mm",
        "quantity,value,unit,uncertainty\ncathode width,80.8,mm,100 µm",
        "quantity,value,unit,uncertainty\ncathode width,8.08e1,mm,1e-1",
        "quantity,value,unit,uncertainty\ncathode.width,80.8 mm,mm,+- 0.1",
        "quantity,value,unit,uncertainty\ncathode width,80.8 ,mm,± 0.1 mm",
        "quantity\tvalue\tunit\tuncertainty\ncathode_width\t80,8\tmm\t0,1",
    ] {
        only(text, 0.0808, 1e-4);
    }
    only("quantity,value,unit,uncertainty\ncathode width,50,mm,0.2 %", 0.05, 1e-4);
    only("quantity,value,unit,uncertainty\ncathode porosity,25,%,1.5", 0.25, 0.015);
    only("quantity,value,unit,uncertainty\ncathode porosity,25,%,1.5 %", 0.25, 0.015);
    only("quantity,value,unit,uncertainty\ncathode loading,22.5,mg/cm2,0.3", 0.225, 0.003);
    only("quantity,value,uncertainty\nturns of cathode,23.5,0.25", 23.5, 0.25);
    only("quantity,value,unit\ncan wall,0.5,mm", 5e-4, 0.0);
    only("quantity,value,unit\ncan wall,\"0,125\",mm", 1.25e-4, 0.0);
}

/// The state is one of the reading; other words for it are refused where they stand.
#[test]
fn the_state_of_a_reading() {
    let bench = bench(
        "quantity;value;unit;state\ncathode loading;22,5;mg/cm2;discharged, washed\ncathode loading;22,5;mg/cm2;as built\n",
    );
    let [opened, built] = [0, 1].map(|i| &bench.readings.get(i).unwrap().asked);
    assert!(opened != built && opened.alike(built) && built.state.as_built());
    assert_eq!(opened.label(), "cathode areal mass loading (after formation, discharged, washed)");
    assert_eq!(refusals("quantity,value,unit,state\ncan wall,0.5,mm,old").len(), 2);
}

#[test]
fn a_row_in_full() {
    let text = "date,remark,fit,population,instrument,cell,specimen,quantity,part,value,unit,uncertainty,colour\n\
                2026-03-02,twice,unfit: dented,new,caliper 2,marram a,A,height,lid,4.2,mm,0.03,red\n";
    let bench = bench(text);
    let reading = bench.readings.first().unwrap();
    assert_eq!((reading.line, reading.asked.key().as_str()), (2, "parts[lid].height"));
    assert_eq!(reading.unfit.as_deref(), Some("dented"));
    let texts = [&reading.cell, &reading.instrument, &reading.population, &reading.remark, &reading.date];
    assert_eq!(
        texts.map(|text| text.as_deref().unwrap_or_default()),
        ["marram a", "caliper 2", "new", "twice", "2026-03-02"]
    );
    assert_eq!((reading.specimen.as_str(), reading.text.as_str()), ("A", "4.2 ± 0.03 mm"));
    assert_eq!(bench.cells(), ["marram a"]);
    assert_eq!(bench.problems.0.len(), 1);
    assert!(
        bench.problems.to_string().starts_with("line 1: found a column \"colour\""),
        "{}",
        bench.problems
    );
}

#[test]
fn good_rows_survive_and_every_bad_one_is_reported() {
    let text = "quantity,value,unit,uncertainty,fit\n\
        cathode width,80.8,mm,0.1,fit\n\
        cathode widht,80.8,mm,,\n\
        can wall,thick,mm,,\n\
        can wall,0.5,g,,\n\
        can wall,0.5,,,\n\
        can wall,0.5 mm,cm,,\n\
        can wall,-0.5,mm,,\n\
        can wall,0.5,mm,-0.1,\n\
        can wall,0.5 ± 0.1,mm,0.1,\n\
        can wall,0.5,mm,0,\n\
        can wall,0.5,mm,,maybe\n\
        can wall,\"1,234\",mm,,\n\
        cathode porosity,25,,,\n\
        can wall,0,5,mm,0.1,fit\n\
        lid,,,,perhaps\n";
    let bench = bench(text);
    assert_eq!(bench.readings.len(), 1);
    let listed: Vec<(String, String)> =
        bench.problems.0.iter().map(|p| (p.place.clone(), p.to_string())).collect();
    let places: Vec<&str> = listed.iter().map(|(place, _)| place.as_str()).collect();
    let wanted = [
        "line 3, quantity",
        "line 4, value",
        "line 5, unit",
        "line 6, value",
        "line 7, unit",
        "line 8, value",
        "line 9, uncertainty",
        "line 10, uncertainty",
        "line 11, uncertainty",
        "line 12, fit",
        "line 13, value",
        "line 14, value",
        "line 15",
        "line 16, quantity",
        "line 16, fit",
    ];
    assert_eq!(places, wanted, "{}", bench.problems);
}

#[test]
fn what_is_no_bench_sheet() {
    for (text, words) in [
        ("", "an empty text"),
        ("\n\n", "an empty text"),
        ("{\"can\": 1}", "no column \"quantity\" and no column \"value\""),
        ("quantity,unit\na,b", "no column \"value\""),
        ("quantity,value\n", "no reading that can be used"),
    ] {
        assert!(refusals(text).iter().any(|line| line.contains(words)), "{text}: {:?}", refusals(text));
    }
    let open = refusals("quantity,value\ncan wall,0.5 mm\ncan wall,\"0.5 mm\n");
    assert!(open.iter().any(|line| line.starts_with("line 3: found a quotation mark")), "{open:?}");
    let twice = refusals("quantity,value,value\ncan wall,0.5 mm,0.6 mm\n");
    assert!(twice.iter().any(|line| line.contains("a second column \"value\"")), "{twice:?}");
}

proptest! {
    #[test]
    fn any_text_is_answered(text in any::<String>()) {
        let _ = Bench::read(&text);
    }

    #[test]
    fn any_cells_are_answered(cells in prop::collection::vec("[-0-9.,e±() µm%a-z\"]{0,9}", 4..8)) {
        let _ = Bench::read(&format!("quantity;value;unit;uncertainty\ncan wall;{}\n", cells.join(";")));
    }
}

#[test]
fn thousands_are_refused_with_the_reading_both_ways() {
    for (value, both) in [
        ("\"4,425\"", "4.425 or 4425"),
        ("1 234", "1234, or two numbers"),
        ("1\u{202f}234", "1234, or two numbers"),
        ("1'234", "1234, or two numbers"),
        ("\"1.234,5\"", "1234.5 or 1.2345"),
        ("\"1,234.5\"", "1234.5 or 1.2345"),
    ] {
        let diagnostic =
            Bench::read(&format!("quantity,value,unit\ncathode length,{value},mm\n")).unwrap_err();
        assert!(diagnostic.to_string().contains(both), "{value}: {diagnostic}");
    }
    // In a sheet of decimal commas a point before three digits is as doubtful; in one of points it is none.
    let of = |rows: &str| Bench::read(&format!("quantity;value;unit\n{rows}"));
    let mixed = of("cell mass;321,5;g\ncathode length;3.765;mm\n").unwrap();
    assert_eq!(mixed.problems.0.len(), 1, "{}", mixed.problems);
    assert!(mixed.problems.to_string().contains("3.765 or 3765"), "{}", mixed.problems);
    let points = of("cell mass;321.5;g\ncathode length;3.765;m\ncan wall;0.420;mm\n").unwrap();
    assert_eq!((points.readings.len(), points.problems.0.len()), (3, 0), "{}", points.problems);
    // One fault is told once.
    assert_eq!(of("cell mass;1.321,5;g\ncan wall;0,42;mm\n").unwrap().problems.0.len(), 1);
}

/// Signs as keyboards and office programs write them.
#[test]
fn signs_of_every_keyboard_are_read() {
    let rows = ["25 °C", "25 ºC", "25 ℃", "25 ˚C", "-10 °C", "−10 °C", "–10 °C"];
    let rows = rows.map(|at| format!("pulse resistance\t10 s, 50 %, {at}\t2,1\tmΩ\n"));
    let bench = bench(&format!("quantity\tat\tvalue\tunit\n{}can wall\t\t0,42\tmm\n", rows.concat()));
    assert_eq!((bench.readings.len(), bench.problems.0.len()), (8, 0), "{}", bench.problems);
    let asked = |i: usize| &bench.readings[i].asked;
    assert!((0..4).all(|i| asked(i) == asked(0)) && (4..7).all(|i| asked(i) == asked(4)));
    assert!(asked(0) != asked(4) && asked(6).label().contains("-10 °C"), "{}", asked(6).label());
    for micro in ["µm", "μm"] {
        only(&format!("quantity,value,unit\ncathode foil,15.1,{micro}\n"), 15.1e-6, 0.0);
    }
    // Negative, and told as such.
    for minus in ["-", "−", "–"] {
        let found = refusals(&format!("quantity,value,unit\ncan wall,{minus}0.5,mm\n"));
        assert!(found[0].contains("expected a reading that is zero or more"), "{found:?}");
    }
}
