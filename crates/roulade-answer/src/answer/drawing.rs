//! What the drawings need, in millimetres: no scale, no colours, no pixels.

use roulade::cell::balance::{ChargeEnd, Continued, DischargeEnd, Side};
use roulade::cell::design::BandKind;
use roulade::cell::figures::Worked;
use roulade::cell::winding::PlyName;
use roulade::quantity::units::Length;
use roulade::sheet::Place;
use serde::Serialize;

/// What a thing looks like.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "lowercase")]
#[allow(missing_docs, reason = "the names are the documentation")]
pub enum Look {
    Steel,
    Copper,
    Aluminium,
    Nickel,
    Anode,
    Cathode,
    Roll,
    Separator,
    Polymer,
    Space,
}

impl Look {
    fn of(material: Option<&str>) -> Self {
        let name = material.and_then(roulade::material::find).map_or("", |m| m.name);
        match name {
            "copper" => Self::Copper,
            "aluminium" | "aluminium 3003" => Self::Aluminium,
            "nickel" => Self::Nickel,
            "polypropylene" | "polyethylene" => Self::Polymer,
            _ => Self::Steel,
        }
    }
}

/// A rectangle of the half section.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Block {
    /// What it is.
    pub what: String,
    /// Its look.
    pub look: Look,
    /// From and to, mm from the axis.
    pub r: [f64; 2],
    /// From and to, mm from the outside of the bottom.
    pub z: [f64; 2],
}

/// The axial half section.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Section {
    /// Outer diameter, mm.
    pub diameter: f64,
    /// Outer height, mm.
    pub height: f64,
    /// Its blocks, in drawing order.
    pub blocks: Vec<Block>,
}

fn mm(length: Length) -> f64 {
    length.value * 1e3
}

impl Section {
    pub(super) fn of(worked: &Worked) -> Self {
        let b = worked.design.blueprint();
        let (outer, bore) = (0.5 * mm(b.can.diameter), 0.5 * mm(b.can.bore()));
        let height = mm(b.can.height);
        let (core, edge) = (0.5 * mm(b.winding.core_diameter), mm(worked.design.outer_radius()).min(bore));
        let mut blocks = vec![Block {
            what: "can wall".to_owned(),
            look: Look::Steel,
            r: [bore, outer],
            z: [0.0, height],
        }];
        let mut block = |what: &str, look, r, z| blocks.push(Block { what: what.to_owned(), look, r, z });
        for band in worked.design.stack().bands(b) {
            let z = [mm(band.from), mm(band.to)];
            let whole = [0.0, bore];
            let wound = [core, edge];
            let part = |i: usize| b.parts.get(i);
            match band.kind {
                BandKind::Bottom => block("can bottom", Look::Steel, whole, z),
                BandKind::Part(i) => {
                    if let Some(part) = part(i) {
                        block(&part.label.name, Look::of(part.label.material.as_deref()), whole, z);
                    }
                }
                BandKind::StandOff(i) => {
                    let name = part(i).map_or("part", |part| &*part.label.name);
                    block(&format!("axial clearance of the {name}"), Look::Space, whole, z);
                }
                BandKind::AnodeEdge => {
                    block("anode foil edge", Look::of(Some(&b.anode.foil_material)), wound, z);
                }
                BandKind::CathodeEdge => {
                    block("cathode foil edge", Look::of(Some(&b.cathode.foil_material)), wound, z);
                }
                BandKind::Margin => block("separator overhang", Look::Separator, wound, z),
                BandKind::Overhang => block("anode overhang", Look::Anode, wound, z),
                BandKind::Coated => block("jelly roll", Look::Roll, wound, z),
                BandKind::VoidHeight => block("void height", Look::Space, whole, z),
            }
        }
        for part in b.parts.iter().filter(|part| part.place == Place::InCore) {
            let roll: Vec<[f64; 2]> = worked
                .design
                .stack()
                .bands(b)
                .iter()
                .filter(|band| band.kind == BandKind::Coated)
                .map(|band| [mm(band.from), mm(band.to)])
                .collect();
            for z in roll {
                block(&part.label.name, Look::of(part.label.material.as_deref()), [0.0, core], z);
            }
        }
        Self { diameter: mm(b.can.diameter), height, blocks }
    }
}

/// A ply of the roll's cross-section.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct PlyLook {
    /// What it is called.
    pub name: &'static str,
    /// Its look.
    pub look: Look,
    /// Thickness, mm.
    pub thickness: f64,
    /// The foil in the middle of an electrode.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub foil: Option<FoilLook>,
}

/// The foil in the middle of an electrode.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct FoilLook {
    /// Its look.
    pub look: Look,
    /// Thickness, mm.
    pub thickness: f64,
}

/// The roll across the axis.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct RollDrawing {
    /// Inner radius of the can, mm.
    pub bore: f64,
    /// Radius of the core hole, mm.
    pub core: f64,
    /// Mean outer radius, mm.
    pub outer: f64,
    /// The plies, inside out within a turn.
    pub plies: Vec<PlyLook>,
    /// Ply, mid-line radius in mm, from and to in turns.
    pub arcs: Vec<(usize, f64, f64, f64)>,
    /// Turns of cathode.
    pub turns: f64,
}

impl RollDrawing {
    pub(super) fn of(worked: &Worked) -> Self {
        let (b, roll) = (worked.design.blueprint(), worked.design.roll());
        let foil = |ply| {
            let electrode = match ply {
                PlyName::Anode => &b.anode,
                PlyName::Cathode => &b.cathode,
                _ => return None,
            };
            Some(FoilLook { look: Look::of(Some(&electrode.foil_material)), thickness: mm(electrode.foil) })
        };
        let look = |ply| match ply {
            PlyName::InnerSeparator => ("separator under the anode", Look::Separator),
            PlyName::Anode => ("anode", Look::Anode),
            PlyName::OuterSeparator => ("separator under the cathode", Look::Separator),
            PlyName::Cathode => ("cathode", Look::Cathode),
            PlyName::Tape => ("tape", Look::Polymer),
        };
        let plies = PlyName::ALL.iter().map(|ply| {
            let (name, look) = look(*ply);
            PlyLook { name, look, thickness: mm(roll.layer(*ply, 0.0).0), foil: foil(*ply) }
        });
        let number = |ply| PlyName::ALL.iter().position(|p| *p == ply).unwrap_or(0);
        Self {
            bore: 0.5 * mm(b.can.bore()),
            core: 0.5 * mm(b.winding.core_diameter),
            outer: mm(worked.design.outer_radius()),
            plies: plies.collect(),
            arcs: roll.arcs().iter().map(|a| (number(a.ply), mm(a.radius), a.from, a.to)).collect(),
            turns: roll.cathode_turns(),
        }
    }
}

/// Discharge, at open circuit and under load.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct CurveDrawing {
    /// Ah since full charge.
    pub capacity: Vec<f64>,
    /// Cell, V.
    pub voltage: Vec<f64>,
    /// Cathode against lithium, V.
    pub cathode: Vec<f64>,
    /// Anode against lithium, V.
    pub anode: Vec<f64>,
    /// Ah since full charge, under load; none where the load is too heavy for a full cell.
    pub loaded_capacity: Vec<f64>,
    /// Cell under load, V.
    pub loaded_voltage: Vec<f64>,
    /// Where charge and discharge ended, in words.
    pub ends: Vec<String>,
}

/// Points of a drawn discharge.
const POINTS: u32 = 240;

impl CurveDrawing {
    pub(super) fn of(worked: &Worked) -> Option<Self> {
        let b = worked.design.blueprint();
        let windows = worked.estimate.balance.windows?;
        let (cathode, anode) = (b.cathode.potential.as_ref()?, b.anode.potential.as_ref()?);
        let mut curve = Self {
            capacity: vec![],
            voltage: vec![],
            cathode: vec![],
            anode: vec![],
            loaded_capacity: vec![],
            loaded_voltage: vec![],
            ends: ends(worked),
        };
        let load = worked.loaded().1;
        // Where the load ends the discharge, as a share of what the cell gives at open circuit.
        let loaded = load.drawn.map(|drawn| (drawn.capacity / worked.estimate.balance.capacity).value);
        for i in 0..=POINTS {
            let part = f64::from(i) / f64::from(POINTS);
            let at = |part: f64| {
                let between = |from: f64, to: f64| from + part * (to - from);
                let y = between(windows.cathode_charged, windows.cathode_discharged);
                let x = between(windows.anode_charged, windows.anode_discharged);
                let ah = part * worked.estimate.balance.capacity.value / 3600.0;
                (ah, cathode.at(y), anode.at(x))
            };
            let (ah, uc, ua) = at(part);
            curve.capacity.push(ah);
            curve.voltage.push(uc - ua);
            curve.cathode.push(uc);
            curve.anode.push(ua);
            if let Some(loaded) = loaded {
                let (ah, uc, ua) = at(part * loaded);
                curve.loaded_capacity.push(ah);
                curve.loaded_voltage.push(uc - ua - load.drop.value);
            }
        }
        Some(curve)
    }
}

/// Where charge and discharge ended, in words; the limit itself goes without saying for neither.
pub(super) fn ends(worked: &Worked) -> Vec<String> {
    let window = &worked.design.blueprint().window;
    let Some(windows) = worked.estimate.balance.windows else {
        return vec![
            "Energy is capacity times the nominal voltage: no half-cell curves were used.".to_owned(),
        ];
    };
    let side = |side| if side == Side::Cathode { "cathode" } else { "anode" };
    let (upper, lower) = (window.upper.value, window.lower.value);
    let charge = match windows.charge_end {
        ChargeEnd::Limit => format!("Charge ends at the charge cut-off voltage, {upper:.3} V."),
        ChargeEnd::Curve { side: s, at } => format!(
            "Charge ends where the {}'s curve ends, at {:.3} V, {:.0} mV below the limit of {upper:.3} V.",
            side(s),
            at.value,
            1e3 * (upper - at.value)
        ),
    };
    let short =
        |at: f64| format!("at {at:.3} V, {:.0} mV above the limit of {lower:.3} V", 1e3 * (at - lower));
    let discharge = match windows.discharge_end {
        DischargeEnd::Limit => format!("Discharge ends at the discharge cut-off voltage, {lower:.3} V."),
        DischargeEnd::Curve { side: s, at } => {
            format!("Discharge ends where the {}'s curve ends, {}.", side(s), short(at.value))
        }
    };
    let mut ends = vec![charge, discharge];
    ends.extend(continued(&windows.continued));
    ends
}

/// Smallest share of the capacity past a curve's window that is worth a sentence.
const WORTH_SAYING: f64 = 0.003;

/// Where a curve was used past its window, in words.
fn continued(c: &Continued) -> impl Iterator<Item = String> {
    [
        ("cathode", "charge", c.cathode_charged),
        ("cathode", "discharge", c.cathode_discharged),
        ("anode", "charge", c.anode_charged),
        ("anode", "discharge", c.anode_discharged),
    ]
    .into_iter()
    .filter(|(.., share)| *share > WORTH_SAYING)
    .map(|(side, end, share)| {
        format!(
            "At the end of {end} {:.1} % of the capacity lies past the window of the {side}'s half-cell curve, on its \
             continuation: less certain than the rest.",
            100.0 * share
        )
    })
}
