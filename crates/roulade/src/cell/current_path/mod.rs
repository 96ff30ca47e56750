//! The way of the current through the cell's metals, element by element, and what it costs under load.
//!
//! Current leaves evenly over the area that faces the other electrode. Elements stand one after another, so their
//! resistances add.

mod areal;
mod foil;
mod joint;
mod load;
mod plate;
mod pulse;
mod salt;
#[cfg(test)]
mod stepped;
mod warming;

pub use areal::Areal;
pub use foil::{Contact, Gathered, Grip, Strip, edge};
pub use joint::spots;
pub use load::Load;
pub use plate::{Disc, Spots, tube};
pub use pulse::Pulse;
pub(crate) use pulse::{at_one_kilohertz, by_pulse};
pub use warming::Warming;
pub(crate) use warming::outside;

use crate::cell::design::CurrentCollection;
use crate::cell::design::Design;
use crate::cell::design::Electrochemical;
use crate::cell::design::Feed;
use crate::cell::design::Metal;
use crate::cell::design::Side;
use crate::quantity::units::{ElectricalResistance, ElectricalResistivity, Length};
use crate::sheet::{NegativeAt, Welded};

/// One element of the way.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[allow(missing_docs, reason = "the names are the documentation")]
pub enum Element {
    CathodeFoil,
    CathodeUncoatedMargin,
    CathodeTabs,
    CathodeJoint,
    CathodeSpots,
    CathodePlate,
    CapAssembly,
    AnodeFoil,
    AnodeUncoatedMargin,
    AnodeTabs,
    AnodeJoint,
    AnodeSpots,
    AnodePlate,
    CanBottom,
    CanWall,
    Electrochemical,
}

impl Element {
    /// All, from the positive terminal's side to the negative's, then what is not metal.
    pub const ALL: [Element; 16] = [
        Element::CathodeFoil,
        Element::CathodeUncoatedMargin,
        Element::CathodeTabs,
        Element::CathodeJoint,
        Element::CathodeSpots,
        Element::CathodePlate,
        Element::CapAssembly,
        Element::AnodeFoil,
        Element::AnodeUncoatedMargin,
        Element::AnodeTabs,
        Element::AnodeJoint,
        Element::AnodeSpots,
        Element::AnodePlate,
        Element::CanBottom,
        Element::CanWall,
        Element::Electrochemical,
    ];

    /// As it is shown.
    pub fn name(self) -> &'static str {
        match self {
            Element::CathodeFoil => "cathode current collector foil",
            Element::CathodeUncoatedMargin => "cathode foil, uncoated margin",
            Element::CathodeTabs => "cathode tabs",
            Element::CathodeJoint => "cathode joint",
            Element::CathodeSpots => "cathode weld spots",
            Element::CathodePlate => "cathode collector plate",
            Element::CapAssembly => "cap assembly",
            Element::AnodeFoil => "anode current collector foil",
            Element::AnodeUncoatedMargin => "anode foil, uncoated margin",
            Element::AnodeTabs => "anode tabs",
            Element::AnodeJoint => "anode joint",
            Element::AnodeSpots => "anode weld spots",
            Element::AnodePlate => "anode collector plate",
            Element::CanBottom => "can bottom",
            Element::CanWall => "can wall",
            Element::Electrochemical => "coatings and electrolyte",
        }
    }
}

/// The way of the current: a pure function of a design.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Path {
    elements: [Option<ElectricalResistance>; Element::ALL.len()],
    areal: Option<Areal>,
}

impl Path {
    /// Works out every element. Allocates nothing.
    pub fn of(design: &Design) -> Self {
        Self::with_spots(design, 1.0)
    }

    /// The same at another temperature, °C.
    pub fn at(design: &Design, celsius: f64) -> Self {
        Self::with(design, 1.0, celsius)
    }

    /// The same with `times` as many weld spots on both sides.
    pub(crate) fn with_spots(design: &Design, times: f64) -> Self {
        Self::with(design, times, design.blueprint().path.temperature)
    }

    fn with(design: &Design, times: f64, celsius: f64) -> Self {
        let mut path = Self::default();
        let b = design.blueprint();
        let [anode, cathode] = design.sides();
        path.put(Element::CapAssembly, b.path.lid);
        let upper = Connection::of(design, &b.path.cathode, times);
        path.foil(design, (&b.path.cathode, &cathode), CATHODE, celsius);
        path.put(Element::CathodeJoint, b.path.cathode.join.joint);
        // Without a plate the spots are on the lid, which is taken to be of the can's metal.
        let onto = upper.plate.map_or(b.path.can, |(metal, _)| metal);
        path.put(Element::CathodeSpots, upper.constriction(onto, celsius));
        if let Some((metal, thickness)) = upper.plate {
            let disc = Disc { resistivity: metal.at(celsius), thickness, rim: upper.rim };
            path.put(Element::CathodePlate, disc.to_middle(&upper.spots, upper.weld));
        }

        let lower = Connection::of(design, &b.path.anode, times);
        path.foil(design, (&b.path.anode, &anode), ANODE, celsius);
        path.put(Element::AnodeJoint, b.path.anode.join.joint);
        let onto = lower.plate.map_or(b.path.can, |(metal, _)| metal);
        path.put(Element::AnodeSpots, lower.constriction(onto, celsius));
        let can = b.path.can.at(celsius);
        let bottom = Disc { resistivity: can, thickness: b.can.bottom, rim: lower.rim };
        let by_edge = matches!(b.path.anode.feed, Feed::Edge);
        if let Some((metal, thickness)) = lower.plate {
            let disc = Disc { resistivity: metal.at(celsius), thickness, rim: lower.rim };
            path.put(Element::AnodePlate, disc.to_middle(&lower.spots, lower.weld));
        }
        let direct = by_edge && lower.plate.is_none();
        match (b.path.negative_at, direct) {
            (NegativeAt::Top, true) => path.put(Element::CanBottom, bottom.to_rim(&lower.spots)),
            (NegativeAt::Top, false) => path.put(Element::CanBottom, bottom.from_middle(lower.weld)),
            (NegativeAt::Bottom, true) => {
                path.put(Element::CanBottom, bottom.to_middle(&lower.spots, lower.weld));
            }
            // Taken off where plate or tabs are welded: through the bottom, not along it.
            (NegativeAt::Bottom, false) => {}
        }
        if b.path.negative_at == NegativeAt::Top {
            path.put(Element::CanWall, tube(can, b.can.diameter, b.can.wall, b.can.height));
        }

        let coatings = Self::coatings(design, celsius);
        path.areal = coatings.areal;
        let electrochemical = coatings.electrochemical();
        path.put(Element::Electrochemical, electrochemical);
        path
    }

    /// Coatings and electrolyte alone.
    fn coatings(design: &Design, celsius: f64) -> Self {
        let (mut path, path_of) = (Self::default(), &design.blueprint().path);
        let (inner, outer) = design.active_area();
        let electrochemical = match path_of.electrochemical {
            Electrochemical::Whole(whole) => whole,
            Electrochemical::Areal(areal) => areal / (inner + outer),
            Electrochemical::Computed(kinetics) => {
                let areal = Areal::of(design, &kinetics, celsius);
                path.areal = Some(areal);
                areal.total() / (inner + outer)
            }
        };
        path.put(Element::Electrochemical, electrochemical);
        path
    }

    fn put(&mut self, element: Element, resistance: ElectricalResistance) {
        if let Some(slot) = self.elements.get_mut(element as usize) {
            *slot = Some(resistance);
        }
    }

    /// The foil with its uncoated foil margin or its tabs.
    fn foil(
        &mut self,
        design: &Design,
        (collection, side): (&CurrentCollection, &Side<'_>),
        [foil, uncoated_margin, tabs]: [Element; 3],
        celsius: f64,
    ) {
        let rho = collection.foil.at(celsius);
        let facing = design.facing();
        let thickness = side.electrode.foil;
        match &collection.feed {
            Feed::Edge => {
                let length = 0.5 * (facing.inner + facing.outer);
                let width = design.stack().cathode_width;
                self.put(foil, edge(rho, width, thickness, length));
                // All of the current passes the coating beyond the other electrode's, and the bare foil.
                let beyond = 0.5 * (side.width - width) + side.electrode.uncoated_margin;
                self.put(uncoated_margin, rho * beyond / (thickness * length));
            }
            Feed::Tabs(listed) => {
                let paired = if foil == Element::AnodeFoil {
                    design.roll().anode_paired()
                } else {
                    (Length::default(), side.length)
                };
                let strip =
                    Strip { resistivity: rho, thickness, width: side.width, length: side.length, paired };
                let mut grips = [Grip {
                    at: Length::default(),
                    width: Length::default(),
                    own: ElectricalResistance::default(),
                    contact: Contact::Edge,
                }; 16];
                for (grip, tab) in grips.iter_mut().zip(listed.iter()) {
                    let square = tab.metal.at(celsius) / tab.thickness;
                    *grip = Grip {
                        at: side.length * tab.at,
                        width: tab.width,
                        own: square * tab.length / tab.width,
                        contact: match tab.welded {
                            Welded::Edge => Contact::Edge,
                            Welded::Across => Contact::Across(square),
                        },
                    };
                }
                let gathered = strip.tabs(grips.get(..listed.len()).unwrap_or(&grips));
                self.put(foil, gathered.foil);
                self.put(tabs, gathered.tabs);
            }
        }
    }

    /// Resistivity of the metal that an element is made of; absent where it is none, or more than one.
    pub fn resistivity(design: &Design, element: Element) -> Option<ElectricalResistivity> {
        let path = &design.blueprint().path;
        let tabs = |collection: &CurrentCollection| match &collection.feed {
            Feed::Tabs(tabs) => tabs.first().map(|tab| tab.metal),
            Feed::Edge => None,
        };
        let plate = |collection: &CurrentCollection| collection.join.plate.map(|plate| plate.metal);
        let metal = match element {
            Element::CathodeFoil | Element::CathodeUncoatedMargin => path.cathode.foil,
            Element::CathodeTabs => tabs(&path.cathode)?,
            Element::CathodePlate => plate(&path.cathode)?,
            Element::AnodeFoil | Element::AnodeUncoatedMargin => path.anode.foil,
            Element::AnodeTabs => tabs(&path.anode)?,
            Element::AnodePlate => plate(&path.anode)?,
            Element::CanBottom | Element::CanWall => path.can,
            Element::CathodeJoint
            | Element::CathodeSpots
            | Element::CapAssembly
            | Element::AnodeJoint
            | Element::AnodeSpots
            | Element::Electrochemical => return None,
        };
        Some(metal.at(path.temperature))
    }

    /// Elements that this cell has, in order.
    pub fn elements(&self) -> impl Iterator<Item = (Element, ElectricalResistance)> {
        Element::ALL.into_iter().zip(self.elements).filter_map(|(element, of)| Some((element, of?)))
    }

    /// Resistance of one element; none where the cell does not have it.
    pub fn of_element(&self, element: Element) -> ElectricalResistance {
        self.elements.get(element as usize).copied().flatten().unwrap_or_default()
    }

    /// What the resistance of coatings and electrolyte consists of, where it was worked out from them.
    pub fn areal(&self) -> Option<&Areal> {
        self.areal.as_ref()
    }

    /// All metal.
    pub fn metal(&self) -> ElectricalResistance {
        self.total() - self.electrochemical()
    }

    /// Coatings and electrolyte.
    pub fn electrochemical(&self) -> ElectricalResistance {
        self.of_element(Element::Electrochemical)
    }

    /// The whole cell.
    pub fn total(&self) -> ElectricalResistance {
        self.elements().fold(ElectricalResistance::default(), |sum, (_, of)| sum + of)
    }
}

const CATHODE: [Element; 3] = [Element::CathodeFoil, Element::CathodeUncoatedMargin, Element::CathodeTabs];
const ANODE: [Element; 3] = [Element::AnodeFoil, Element::AnodeUncoatedMargin, Element::AnodeTabs];

/// What a foil's current goes through next.
struct Connection {
    foil: Metal,
    spots: Spots,
    /// Radius of the weld in the middle.
    weld: Length,
    /// Radius of the bore.
    rim: Length,
    /// Metal and thickness of the plate.
    plate: Option<(Metal, Length)>,
}

impl Connection {
    fn of(design: &Design, collection: &CurrentCollection, times: f64) -> Self {
        let b = design.blueprint();
        let bore = b.can.bore();
        let join = &collection.join;
        let plate = join.plate.and_then(|plate| Some((plate.metal, b.parts.get(plate.part)?.height)));
        // Tabs are what the spots hold on to.
        let foil = match &collection.feed {
            Feed::Tabs(tabs) => tabs.first().map_or(collection.foil, |tab| tab.metal),
            Feed::Edge => collection.foil,
        };
        Self {
            foil,
            spots: Spots {
                count: join.spots * times,
                radius: join.spot_radius,
                ring: join.ring.radius(bore),
            },
            weld: join.centre_weld_radius,
            rim: 0.5 * bore,
            plate,
        }
    }

    fn constriction(&self, onto: Metal, celsius: f64) -> ElectricalResistance {
        spots((self.foil.at(celsius), onto.at(celsius)), self.spots.radius, self.spots.count)
    }
}

#[cfg(test)]
mod tests;
