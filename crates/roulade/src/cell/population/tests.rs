//! The population as cells: what stands in for everything but the can holds together and carries its own current.

use crate::cell::draft::Draft;
use crate::cell::figures::{Worked, definition};
use crate::test_support::read;
use roulade_stats::uncertain::Uncertain;
use serde_json::{Value, json};

fn cell(size: &str, cathode: &str, anode: &str, more: &[(&str, &str)]) -> Draft {
    let mut sheet = json!({ "can": { "size": size },
        "cathode": { "mix": [{ "material": cathode }] }, "anode": { "mix": [{ "material": anode }] } });
    for (key, value) in more {
        sheet[*key] = Value::from(*value);
    }
    read(&sheet).unwrap_or_else(|problems| panic!("{size} {cathode}: {problems}"))
}

#[test]
fn every_default_cell_holds_its_charged_roll_and_carries_its_own_current() {
    for size in ["14 × 50", "18 × 65", "21 × 70", "26 × 65", "32 × 70", "46 × 80", "46 × 120", "60 × 140"]
    {
        for (cathode, anode) in [
            ("NMC811", "graphite"),
            ("NMC811", "graphite with silicon oxide"),
            ("NCA", "graphite"),
            ("LFP", "graphite"),
        ] {
            for purpose in ["energy", "middle", "power"] {
                for collection in ["tabs", "edges"] {
                    let draft =
                        cell(size, cathode, anode, &[("purpose", purpose), ("collection", collection)])
                            .known_as(|input| {
                                (&*input.path == "current_path.c_rate")
                                    .then_some(Uncertain::exact(1.0 / 3600.0))
                            });
                    let worked = Worked::at(&draft, &draft.values()).unwrap_or_else(|problems| {
                        panic!("{size} {cathode} {purpose} {collection}: {problems}")
                    });
                    let of = |id: &str| (definition(id).unwrap().of)(&worked).unwrap();
                    let what = format!("{size} {cathode} {purpose} {collection}");
                    assert!(of("swelling.gap_charged") > 0.0, "{what}: {}", of("swelling.gap_charged"));
                    let kept = of("loaded_energy") / of("energy");
                    let limit = of("limiting_rate") * 3600.0;
                    assert!(
                        kept > 0.8,
                        "{what}: {kept:.3} of its energy at 1C, all reached up to {limit:.2} C"
                    );
                    // What the metals take of the voltage at 1 C: of that tabs are as many as they are.
                    let fall = of("current") * of("resistance.metal");
                    assert!(fall < 0.2, "{what}: {fall:.3} V");
                }
            }
        }
    }
}
