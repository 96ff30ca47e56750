//! One 21 mm × 70 mm cell of which much is published, twice: with all that its paper gives, and with little.
//!
//! Source, with the figures and their standing in `data/cells.json`: Chen, Brosa Planella, O'Regan, Gastol, Widanage,
//! Kendrick, J. Electrochem. Soc. 167 (2020) 080534, doi 10.1149/1945-7111/ab9050; size and chemistry read, all else
//! from memory.

use super::accuracy::{Expect::Agreement, Expect::Miss, Published, Row};
use super::cells::{Answered, cell, derived, given, litres, practice_in, published, with};
use super::reconciled::Reading;
use super::say::number;
use roulade_answer::answer::Figure;
use serde_json::{Value, json};

/// Faraday's constant, C/mol (CODATA 2018).
const FARADAY: f64 = 96_485.332_12;

const CHEN: &str = "wound-21x70-nmc811-graphite-siox";

/// Chen 2020 with all it gives.
///
/// - Capacity per gram of a host over its window: `c_max·F·Δwindow/ρ`, in C/kg, over 3600 for Ah/kg = mAh/g. The
///   coating then holds (1 − ε)·t·ρ of it, so the density cancels in the capacity and stays in the mass alone.
/// - Active volume fraction and porosity add to one: the paper's coatings have no binder, so each mix is one material.
/// - One web width, 65 mm, for every ply: read as the coated width of the cathode, as in the paper's own area, with no
///   overhang and no separator margin. With the defaults of both (3.5 mm together) it would not fit under the default
///   lid in a 70 mm can.
pub(super) fn full_sheet(data: &Value) -> Value {
    let cell = cell(data, CHEN);
    let at = |what: &str| number(cell, &format!("/given/{what}"));
    let host = |side: &str, name: &str, density: f64| {
        let window = (at(&format!("stoichiometry_charged_discharged/{side}/0"))
            - at(&format!("stoichiometry_charged_discharged/{side}/1")))
        .abs();
        let charge = at(&format!("maximum_concentration_mol_m3/{side}")) * FARADAY * window / density;
        json!({
            "name": name,
            "density": format!("{} g/cm³", 1e-3 * density),
            "capacity": format!("{:.9} mAh/g", charge / 3600.0),
        })
    };
    for side in ["cathode", "anode"] {
        let whole = at(&format!("porosity/{side}")) + at(&format!("active_volume_fraction/{side}"));
        assert!((whole - 1.0).abs() < 1e-12, "{side}: {whole}");
    }
    with(
        given(cell),
        &json!({
            // Densities: the middles of the table's ranges.
            "materials": [
                host("cathode", "NMC811", 4714.0),
                host("anode", "graphite with silicon oxide", 2230.0),
            ],
            "cathode": {
                "mix": [{ "material": "NMC811", "share": "100 %" }],
                "porosity": format!("{}", at("porosity/cathode")),
                "width": format!("{} mm", at("web_width_mm/value")),
            },
            "anode": {
                "mix": [{ "material": "graphite with silicon oxide", "share": "100 %" }],
                "porosity": format!("{}", at("porosity/anode")),
                "overhang": "0 mm",
            },
            "separator": {
                "thickness": format!("{} µm", at("separator/thickness_um")),
                "porosity": format!("{}", at("separator/porosity")),
                "margin": "0 mm",
            },
            "voltage": {
                "discharge_cut_off": format!("{} V", at("voltage_window_V/value/0")),
                "charge_cut_off": format!("{} V", at("voltage_window_V/value/1")),
            },
        }),
    )
}

/// What Chen 2020 says of the whole cell, and what follows from it.
pub(super) struct Says<'a> {
    cell: &'a Value,
}

/// The same.
pub(super) fn says(data: &Value) -> Says<'_> {
    Says { cell: cell(data, CHEN) }
}

impl Says<'_> {
    pub(super) fn plain(&self, what: &str, decimals: usize) -> (Published, &'static str) {
        published(self.cell, what, decimals)
    }

    /// The web is half of the length that counts both faces end to end.
    fn web(&self) -> (Published, &'static str) {
        let (both, attested) = self.plain("coated_length_counting_one_face_m", 2);
        let value = 0.5 * both.value;
        (Published { value, reading: 0.5 * both.reading, text: format!("{value:.3}") }, attested)
    }

    /// Both ends of the range, and each to half a gram.
    pub(super) fn mass(&self) -> (Published, &'static str) {
        let [light, heavy] = ["0", "1"].map(|i| number(self.cell, &format!("/to_predict/mass_g/value/{i}")));
        let reading = 0.5 * (heavy - light) + 0.5;
        let text = format!("{light} to {heavy}");
        (Published { value: 0.5 * (light + heavy), reading, text }, "from memory")
    }

    fn volumetric(&self) -> (Published, &'static str) {
        derived(&self.plain("nominal_energy_Wh", 2).0, litres(self.cell), 0.0)
    }

    pub(super) fn gravimetric(&self) -> (Published, &'static str) {
        let (mass, _) = self.mass();
        derived(&self.plain("nominal_energy_Wh", 2).0, 1e-3 * mass.value, 1e-3 * mass.reading)
    }
}

const LITRES: &str = "Wh/L of the nominal size";
const HEAD: &str = "lid, can wall, tape and electrolyte are defaults; none is given";

fn in_full(data: &Value) -> Vec<Row> {
    let says = says(data);
    let full = Answered::of(&full_sheet(data));
    let what = "21 × 70 (Chen 2020), all that is given";
    let ends = "open circuit, not a loaded nominal value; the anode's curve ends the charge 0.1 V below the limit, \
                since the paper's hosts differ by 10 %";
    let row = |quantity, published, figure: &Figure, expect, why| {
        Row::of(what, quantity, published, figure, (expect, why))
    };
    let id = |id: &str| full.figure(id);
    vec![
        row(
            "electrode length, m",
            says.web(),
            id("roll.cathode_length"),
            Agreement,
            "core, wall and clearance are not given",
        ),
        row(
            "area, both faces, m²",
            says.plain("area_one_face_m2", 4),
            &full.area(),
            Agreement,
            "half a per cent of length, and 1 % that the cathode's tab takes from the coating",
        ),
        row("capacity, Ah", says.plain("nominal_capacity_Ah", 1), id("capacity"), Agreement, ends),
        row("mean voltage, V", says.plain("nominal_voltage_V", 2), id("mean_voltage"), Agreement, ends),
        row("energy, Wh", says.plain("nominal_energy_Wh", 2), id("energy"), Agreement, ends),
        row("mass, g", says.mass(), id("mass"), Agreement, HEAD),
        row(LITRES, says.volumetric(), &full.times("energy", 1.0 / litres(says.cell)), Agreement, ends),
        row("Wh/kg", says.gravimetric(), id("gravimetric"), Agreement, ends),
    ]
}

/// The same cell from can, foils and coating thicknesses; all else is default.
fn in_short(data: &Value) -> Vec<Row> {
    let says = says(data);
    let bare = Answered::of(&with(practice_in(&json!({ "size": "21 × 70" })), &given(says.cell)));
    let what = "21 × 70 (Chen 2020), can, foils and thicknesses alone";
    let width =
        "the paper has one width for all plies; the defaults spend 2.6 mm of it on overhang and margins";
    let area =
        "width 4 % and length 1 % below the paper's, and 1 % that the cathode's tab takes from the coating";
    let thin = "width below the paper's, porosities and mix of common practice; open circuit";
    let web = "core, wall, gap and separator are not given";
    let wide =
        || (Published::printed(&number(says.cell, "/given/web_width_mm/value").to_string()), "from memory");
    let row = |quantity, published, figure: &Figure, expect, why| {
        Row::of(what, quantity, published, figure, (expect, why))
    };
    let id = |id: &str| bare.figure(id);
    let volts = "open circuit, not a loaded nominal value";
    vec![
        row("electrode length, m", says.web(), id("roll.cathode_length"), Agreement, web),
        row("coated width, mm", wide(), id("stack.cathode_width"), Miss(-5.5, -3.5), width),
        row("widest ply, mm", wide(), id("stack.separator_width"), Agreement, width),
        row("area, both faces, m²", says.plain("area_one_face_m2", 4), &bare.area(), Agreement, area),
        row("capacity, Ah", says.plain("nominal_capacity_Ah", 1), id("capacity"), Agreement, thin),
        row("mean voltage, V", says.plain("nominal_voltage_V", 2), id("mean_voltage"), Agreement, volts),
        row("energy, Wh", says.plain("nominal_energy_Wh", 2), id("energy"), Agreement, thin),
        row("mass, g", says.mass(), id("mass"), Agreement, HEAD),
        row(LITRES, says.volumetric(), &bare.times("energy", 1.0 / litres(says.cell)), Agreement, thin),
        row("Wh/kg", says.gravimetric(), id("gravimetric"), Agreement, thin),
    ]
}

/// Rows of both.
fn in_mm((length, attested): (Published, &'static str)) -> (Published, &'static str) {
    let (value, reading) = (1e3 * length.value, 1e3 * length.reading);
    (Published { value, reading, text: format!("{value:.0}") }, attested)
}

/// The sheet with all that is given, and what the paper says of the cell as readings.
pub(super) fn readings(data: &Value) -> (Value, Vec<Reading>) {
    let says = says(data);
    let readings = vec![
        ("electrode length, mm", "cathode length", "mm", in_mm(says.web())),
        ("capacity, Ah", "capacity", "Ah", says.plain("nominal_capacity_Ah", 1)),
        ("mean voltage, V", "mean voltage", "V", says.plain("nominal_voltage_V", 2)),
        ("mass, g", "cell mass", "g", says.mass()),
    ];
    (full_sheet(data), readings)
}

pub(super) fn rows(data: &Value) -> Vec<Row> {
    [in_full(data), in_short(data)].concat()
}

mod tests {
    use super::super::cells::data;
    use super::super::say::within;
    use super::*;

    /// The paper's hosts over its own windows and area: 5.61 Ah of cathode against 5.09 Ah of anode (derived). A model
    /// that hid this would be wrong; margin: half a unit of the last digit.
    #[test]
    fn hosts_of_chen_disagree_as_they_must() {
        let data = data();
        let answered = Answered::of(&full_sheet(&data));
        let area = 1e4 * number(cell(&data, CHEN), "/to_predict/area_one_face_m2/value");
        for (side, published) in [("balance.cathode_areal", 5.61), ("balance.anode_areal", 5.09)] {
            within(side, published, 1e-3 * area * answered.figure(side).value, 0.005);
        }
        within("N/P", 5.09 / 5.61, answered.figure("balance.n_to_p").value, 1e-3);
    }

    /// The density that stands in the sheet cancels in the capacity: 10 % of it move nothing but the mass. The clearance is
    /// said: the one that stands in grows with the share of silicon that the anode's capacity per gram tells.
    #[test]
    fn density_cancels_in_the_capacity_of_chen() {
        let sheet = with(full_sheet(&data()), &json!({ "winding": { "radial_clearance": "0.2 mm" } }));
        let mut other = sheet.clone();
        for material in other["materials"].as_array_mut().unwrap() {
            let read =
                |text: &Value| text.as_str().unwrap().split_once(' ').unwrap().0.parse::<f64>().unwrap();
            let (density, capacity) = (read(&material["density"]), read(&material["capacity"]));
            material["density"] = json!(format!("{} g/cm³", 1.1 * density));
            material["capacity"] = json!(format!("{:.9} mAh/g", capacity / 1.1));
        }
        let [one, other] = [sheet, other].map(|sheet| Answered::of(&sheet));
        let ratio = |id: &str| other.figure(id).value / one.figure(id).value;
        within("capacity, ratio", 1.0, ratio("capacity"), 1e-9);
        within("energy, ratio", 1.0, ratio("energy"), 1e-9);
        assert!(ratio("mass") > 1.04);
    }

    /// Read as the length of the web, 1.58 m would need a can of about 28 mm (derived): so it counts both faces. The larger
    /// can is as tall as its own header asks for; the roll's diameter does not depend on that. Of the margin 1 mm is the core,
    /// the slack and the tabs that stand in at 40 mm, which the 28 mm know nothing of.
    #[test]
    fn both_faces_are_counted_in_the_length_of_chen() {
        let data = data();
        let mut long = with(full_sheet(&data), &json!({ "winding": { "cathode_length": "1580 mm" } }));
        long["can"] = json!({ "diameter": "40 mm", "height": "90 mm" });
        let answered = Answered::of(&long);
        let can = answered.figure("roll.diameter").value + 2.0 * (0.2 + 0.25);
        within("can for 1.58 m of web, mm", 28.0, can, 1.5);
    }
}
