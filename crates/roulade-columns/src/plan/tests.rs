use super::*;
use proptest::prelude::*;
use roulade::cell::figures::definition;
use roulade_stats::uncertain::Origin;

/// Rows of numbers.
struct Numbers(Vec<Vec<f64>>);

impl Rows for Numbers {
    fn count(&self) -> usize {
        self.0.len()
    }

    fn cell(&self, row: usize, column: usize) -> Cell<'_> {
        Cell::Number(self.0[row][column])
    }
}

/// Rows of texts.
struct Texts(Vec<Vec<&'static str>>);

impl Rows for Texts {
    fn count(&self) -> usize {
        self.0.len()
    }

    fn cell(&self, row: usize, column: usize) -> Cell<'_> {
        match self.0[row][column] {
            "" => Cell::Nothing,
            text => Cell::Text(text),
        }
    }
}

const SHEETS: [&str; 3] = ["marram a", "marram b", "small"];
const FIGURES: [&str; 5] =
    ["volumetric", "mass", "resistance", "swelling.thickness_increase", "loaded_energy"];

fn base(name: &str) -> Sheet {
    Sheet::parse(match name {
        "marram a" => include_str!("../../../../demo/marram-a.json"),
        "marram b" => include_str!("../../../../demo/marram-b.json"),
        _ => include_str!("../../../../demo/marram-small.json"),
    })
    .unwrap()
}

fn heads(texts: &[String]) -> Vec<Head> {
    texts.iter().map(|text| Head::read(text).unwrap()).collect()
}

fn figures() -> Vec<String> {
    FIGURES.iter().map(|id| (*id).to_owned()).collect()
}

/// What the sheet with the entries of a row gives by itself.
fn alone(sheet: &Sheet, heads: &[Head], row: &[f64]) -> Result<Vec<f64>, Problems> {
    let set = |(head, value): (&Head, &f64)| Edit::Set {
        key: head.key.clone(),
        to: format!("{value} {}", head.unit.unwrap().symbol()).into(),
    };
    let edits: Vec<Edit> = heads.iter().zip(row).map(set).collect();
    let edited = all_applied(sheet, &edits)?;
    let draft = Draft::read(&Draft::settled(sheet, edited))?;
    let worked = Worked::at(&draft, &draft.values())?;
    let figure = |id: &&str| {
        let figure = definition(id).unwrap();
        (figure.of)(&worked).map_or(f64::NAN, |value| value / figure.unit.in_si())
    };
    Ok(FIGURES.iter().map(figure).collect())
}

fn bits(figures: &[f64]) -> Vec<u64> {
    figures.iter().map(|value| value.to_bits()).collect()
}

/// Every quantity of a sheet that is a number there, with its best value in its unit.
fn quantities(sheet: &Sheet) -> Vec<(String, f64)> {
    let draft = Draft::read(sheet).unwrap();
    let written = |input: &&roulade::cell::draft::Input| {
        roulade::sheet::defaults::field(&input.path).is_some() && input.origin != Origin::Default
    };
    draft
        .inputs()
        .iter()
        .filter(written)
        .map(|input| {
            (format!("{} ({})", input.key, input.unit.symbol()), input.uncertain.value / input.unit.in_si())
        })
        .collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// The one promise: a row gives what its sheet gives, to the bit, whatever varies.
    #[test]
    fn a_row_gives_what_its_sheet_gives(
        name in prop::sample::select(SHEETS.to_vec()),
        picks in prop::collection::vec((any::<prop::sample::Index>(), -0.03..0.03_f64, -0.03..0.03_f64), 1..5),
    ) {
        let sheet = base(name);
        let all = quantities(&sheet);
        let mut picked: Vec<(String, [f64; 2])> = Vec::new();
        for (index, first, second) in picks {
            let (head, best) = &all[index.index(all.len())];
            if !picked.iter().any(|(chosen, _)| chosen == head) {
                picked.push((head.clone(), [best * (1.0 + first), best * (1.0 + second)]));
            }
        }
        let heads = heads(&picked.iter().map(|(head, _)| head.clone()).collect::<Vec<_>>());
        let rows = Numbers([0, 1, 0].map(|i| picked.iter().map(|(_, values)| values[i]).collect()).to_vec());
        let plan = Plan::new(sheet.clone(), heads.clone(), &figures(), false).unwrap();
        let mut scratch = Scratch::default();
        for (i, row) in rows.0.iter().enumerate() {
            let mut out = Vec::new();
            let given = plan.row(&rows, i, &mut scratch, &mut out).map(|()| bits(&out));
            let wanted = alone(&sheet, &heads, row).map(|figures| bits(&figures));
            prop_assert_eq!(given.is_ok(), wanted.is_ok(), "{:?} {:?}", given, wanted);
            if let (Ok(given), Ok(wanted)) = (given, wanted) {
                prop_assert_eq!(given, wanted, "{:?}", picked);
            }
        }
    }
}

/// What a bench varies most is read once and for all.
#[test]
fn most_numbers_decide_nothing_but_themselves() {
    let sheet = base("marram a");
    let draft = Draft::read(&sheet).unwrap();
    let keys = [
        "cathode.loading",
        "can.wall",
        "cathode.foil.thickness",
        "anode.foil.thickness",
        "separator.thickness",
    ];
    for key in keys {
        assert!(draft.alone(key).is_some(), "{key}");
    }
    let (quantities, lonely) =
        (quantities(&sheet), |head: &str| draft.alone(head.split(" (").next().unwrap()).is_some());
    let share = quantities.iter().filter(|(head, _)| lonely(head)).count() as f64 / quantities.len() as f64;
    assert!(share > 0.6, "{share}");
}

#[test]
fn words_vary_too_and_each_is_read_once() {
    let heads = vec![
        Head::read("can.material").unwrap(),
        Head::read("can.diameter (mm)").unwrap(),
        Head::read("cathode.loading").unwrap(),
    ];
    let rows = Texts(vec![
        vec!["steel", "46", "22.5 ± 0.3 mg/cm²"],
        vec!["aluminium", "46", "22.5 mg/cm²"],
        vec!["steel", "46", "21 mg/cm²"],
        vec!["steel", "46", "21 mm"],
        vec!["cheese", "46", "21 mg/cm²"],
        vec!["steel", "wide", ""],
    ]);
    let plan = Plan::new(base("marram a"), heads, &["mass".to_owned()], false).unwrap();
    let mut scratch = Scratch::default();
    let mut row = |i| {
        let mut out = Vec::new();
        plan.row(&rows, i, &mut scratch, &mut out).map(|()| out[0]).map_err(|problems| problems.to_string())
    };
    let [steel, aluminium, thin] = [0, 1, 2].map(|i| row(i).unwrap());
    assert!(aluminium < steel && thin < steel, "{aluminium} {thin} {steel}");
    assert!(row(3).unwrap_err().starts_with("cathode.loading: found \"21 mm\""), "{:?}", row(3));
    assert!(row(4).unwrap_err().contains("cheese"), "{:?}", row(4));
    let both = row(5).unwrap_err();
    assert!(both.contains("can.diameter: found \"wide\"; expected a number in mm"), "{both}");
    assert!(both.contains("cathode.loading: found nothing"), "{both}");
}

#[test]
fn uncertainties_are_those_of_the_sheet() {
    let sheet = base("small");
    let heads = heads(&["cathode.loading (mg/cm²)".to_owned(), "can.wall (mm)".to_owned()]);
    let rows = Numbers(vec![vec![20.0, 0.25], vec![21.0, 0.22]]);
    let plan = Plan::new(sheet.clone(), heads, &["volumetric".to_owned()], true).unwrap();
    assert_eq!(plan.names(), ["volumetric_energy_density_Wh_per_L", "u_volumetric_energy_density_Wh_per_L"]);
    let mut scratch = Scratch::default();
    for (i, (loading, wall)) in [("20 mg/cm²", "0.25 mm"), ("21 mg/cm²", "0.22 mm")].into_iter().enumerate()
    {
        let mut out = Vec::new();
        plan.row(&rows, i, &mut scratch, &mut out).unwrap();
        let set = |key: &str, to: &str| Edit::Set { key: key.to_owned(), to: to.into() };
        let edited = all_applied(&sheet, &[set("cathode.loading", loading), set("can.wall", wall)]).unwrap();
        let draft = Draft::read(&Draft::settled(&sheet, edited)).unwrap();
        let figure = definition("volumetric").unwrap();
        let plain = &roulade_answer::answer::plain(&draft, &[figure], true).unwrap()[0];
        assert_eq!([Some(out[0]), Some(out[1])], [plain.value, plain.u]);
    }
}

#[test]
fn what_no_sheet_has_is_reported_before_the_first_row() {
    let plan = |texts: &[&str], figures: &[&str]| {
        let heads = texts.iter().map(|text| Head::read(text).unwrap()).collect();
        let figures: Vec<String> = figures.iter().map(|id| (*id).to_owned()).collect();
        Plan::new(base("small"), heads, &figures, false).unwrap_err().to_string()
    };
    assert!(
        plan(&["cathode.loadin"], &[]).contains("perhaps \"loading\" was meant"),
        "{}",
        plan(&["cathode.loadin"], &[])
    );
    assert!(plan(&["parts[no such part].mass (g)"], &[]).contains("no such part"));
    assert!(plan(&["can.wall (mm)", "can.wall (µm)"], &[]).contains("a second time"));
    assert!(plan(&["can.wall (mm)"], &["mas"]).contains("perhaps \"mass\""));
}
