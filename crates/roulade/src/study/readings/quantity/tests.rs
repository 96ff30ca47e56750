use super::name::folded;
use super::*;
use crate::sheet::defaults::field;
use crate::test_support::draft;

#[test]
fn names_are_unique_and_found_however_they_are_written() {
    for (i, quantity) in QUANTITIES.iter().enumerate() {
        assert!(
            QUANTITIES.iter().skip(i + 1).all(|other| folded(other.key) != folded(quantity.key)),
            "{}",
            quantity.key
        );
        if !quantity.key.contains("[]") {
            assert_eq!(
                find(&quantity.key.to_uppercase().replace(' ', "_"), None).unwrap().quantity.key,
                quantity.key
            );
        }
        assert!(quantity.typical.absolute + quantity.typical.relative > 0.0, "{}", quantity.key);
        if !quantity.input.is_empty() {
            let field = field(quantity.input).expect(quantity.key);
            assert_eq!(field.unit.dimension(), quantity.unit.dimension(), "{}", quantity.key);
            let label = format!("{}: {}", field.section, field.label);
            if !quantity.key.contains("[]") {
                assert_eq!(find(&label, None).unwrap().quantity.key, quantity.key, "{label}");
            }
        }
    }
    for name in ["height of lid", "parts[lid].height", "Height of lid"] {
        let asked = find(name, None).unwrap();
        assert_eq!((asked.key().as_str(), asked.label().as_str()), ("parts[lid].height", "height of lid"));
    }
    assert_eq!(find("nickel of NMC811", None).unwrap().key(), "materials[NMC811].metals.nickel");
    assert_eq!(find("axial clearance", Some("plate")).unwrap().key(), "parts[plate].axial_clearance");
    assert_eq!(find("winding.cathode_length", None).unwrap().key(), "cathode length");
    for (name, key) in [
        ("outer diameter", "can diameter"),
        ("Can: outer height", "can height"),
        ("can outer diameter", "can diameter"),
        ("Cathode: areal mass loading, per side", "cathode areal mass loading"),
        ("mass of the cell", "cell mass"),
        ("energy at open circuit", "energy"),
    ] {
        assert_eq!(find(name, None).unwrap().quantity.key, key, "{name}");
    }
    // Both electrodes have one.
    assert!(find("areal mass loading, per side", None).is_err());
    // Of the part that the row names.
    assert_eq!(find("mass", Some("lid")).unwrap().key(), "parts[lid].mass");
    let diagnostic = find("cathod lenght", None).unwrap_err().to_string();
    assert!(diagnostic.contains("perhaps \"cathode length\" was meant"), "{diagnostic}");
    assert!(find("", None).unwrap_err().found == "nothing");
}

/// The cell of round numbers: widths 80, + 2 · 0.5, + 2 · 0.5 mm; foils and coatings 12 + 2 · 50, 8 + 2 · 100 µm.
#[test]
fn a_design_predicts_what_a_bench_would_read() {
    let draft = draft(&[]);
    let values = draft.values();
    let worked = Worked::at(&draft, &values).unwrap();
    let read = |name: &str| {
        let asked =
            Asked::proposed(find(name, None).unwrap().quantity, find(name, None).unwrap().part, &worked);
        asked.predict(&draft, &values, &worked).map(|value| value / asked.quantity.unit.in_si())
    };
    for (name, value) in [
        ("anode width", 81.0),
        ("separator width", 82.0),
        ("cathode coated both faces", 112.0),
        ("anode coated both faces", 208.0),
        ("cathode coated one face", 62.0),
        ("anode coated one face", 108.0),
        ("separator thickness", 20.0),
        ("roll diameter", 44.5),
        ("axial clearance of plate", 1.5),
        ("mass of plate", 4.0),
        ("cathode disc areal capacity", 3.6),
        ("anode areal capacity", 4.5),
    ] {
        let predicted = read(name).expect(name);
        assert!((predicted - value).abs() < 1e-9, "{name}: {predicted}");
    }
    assert_eq!(read("height of spring"), None);
    let [dry, wet, cell, dry_cell, liquid] =
        ["dry roll mass", "wet roll mass", "cell mass", "dry cell mass", "electrolyte mass"]
            .map(|n| read(n).unwrap());
    // A tenth of the electrolyte in the pores stands free: of 1.1 shares, one is in the roll.
    assert!((wet - dry - liquid / 1.1).abs() < 1e-9 && (cell - dry_cell - liquid).abs() < 1e-9);
    // Every quantity but a part's and those that are entries of their own has a prediction.
    let plain = |q: &&Quantity| !q.key.contains("[]") && !q.key.starts_with("silicon");
    for quantity in QUANTITIES.iter().filter(plain) {
        assert!(read(quantity.key).is_some(), "{}", quantity.key);
    }
}

/// Straight curves: 4.4 V less y on 4 mAh/cm² a volt, 0.9 of 20 mg/cm² with 200 mAh/g of host from 0 to 1.
#[test]
fn conditions_are_taken() {
    let draft = draft(&[]);
    let values = draft.values();
    let worked = Worked::at(&draft, &values).unwrap();
    let read = |name: &str, under: &str| {
        let asked = find(name, None).unwrap();
        let Of::Under(takes, needs, _) = asked.quantity.of else { panic!("{name}") };
        let under = Conditions::read(under, takes, needs).unwrap();
        let asked = Asked { under, ..asked };
        asked.predict(&draft, &values, &worked).unwrap() / asked.quantity.unit.in_si()
    };
    // From y = 0.9 to y = 0.4, half of 3.6 mAh/cm².
    assert!((read("cathode disc areal capacity", "3.5 .. 4.0 V") - 1.8).abs() < 1e-6);
    // From 0.42 to 0.18 V: 0.6 of 4.5 mAh/cm².
    assert!((read("anode disc areal capacity", "0.18 .. 0.42 V") - 2.7).abs() < 1e-6);
    let balance = &worked.estimate.balance;
    let capacity = balance.capacity.value / 3600.0;
    assert!((read("cell voltage", "0 Ah") - 4.1).abs() < 1e-6);
    let windows = balance.windows.unwrap();
    let end = 4.4 - windows.cathode_discharged - (0.5 - 0.4 * windows.anode_discharged);
    assert!((read("cell voltage", &format!("{capacity:.12} Ah")) - end).abs() < 1e-6);
    let drop = read("cell voltage", "1 Ah") - read("cell voltage", "1 Ah, 2 A");
    assert!((drop - 2.0 * worked.loaded().0.total().value).abs() < 1e-9);
    assert!(read("pulse resistance", "30 s, 60 %") > read("pulse resistance", "1 s, 60 %"));
    let unsure = Asked::proposed(find("pulse resistance", None).unwrap().quantity, None, &worked);
    assert!(unsure.unsure(&draft, &worked).iter().sum::<f64>() > 0.0);
}
