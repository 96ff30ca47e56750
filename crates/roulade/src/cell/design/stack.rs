//! The axial stack-up: heights along the axis, from the outside of the bottom to the outside of the top.

use super::blueprint::{Blueprint, Fit};
use crate::quantity::problem::{Problem, Problems};
use crate::quantity::units::Length;
use crate::sheet::Place;

/// The stack-up of one cell. Its heights add to the outer height exactly.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stack {
    /// Parts below the roll, with their axial clearances.
    pub below: Length,
    /// Parts above the roll, with their axial clearances, lid included.
    pub above: Length,
    /// Coated width of the cathode.
    pub cathode_width: Length,
    /// What is left empty between the roll and the parts above it.
    pub void_height: Length,
}

/// What one height of the stack-up is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BandKind {
    /// The can's bottom.
    Bottom,
    /// A part, by its number in the blueprint.
    Part(usize),
    /// The axial clearance of a part.
    StandOff(usize),
    /// The anode foil's edge, folded or straight, outside the separator.
    AnodeEdge,
    /// The separator beyond the anode's coating.
    Margin,
    /// The anode's coating beyond the cathode's.
    Overhang,
    /// Where both electrodes are coated.
    Coated,
    /// The cathode foil's edge.
    CathodeEdge,
    /// Nothing.
    VoidHeight,
}

/// One height of the stack-up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Band {
    /// What it is.
    pub kind: BandKind,
    /// Lower end, from the outside of the bottom.
    pub from: Length,
    /// Upper end.
    pub to: Length,
}

impl Stack {
    /// Stacks the parts of a blueprint and closes the height by its [`Fit`].
    ///
    /// # Errors
    /// Where the parts alone, or the parts with the coated width, are taller than the can.
    pub(super) fn new(b: &Blueprint) -> Result<Self, Problems> {
        let height_of = |place| {
            b.parts
                .iter()
                .filter(|part| part.place == place)
                .fold(Length::default(), |sum, part| sum + part.height + part.axial_clearance)
        };
        let (below, above) = (height_of(Place::BelowRoll), height_of(Place::AboveRoll));
        let edges = 2.0 * (b.overhang + b.separator.margin);
        let taken = b.can.bottom + below + b.anode.fold_height + edges + b.cathode.fold_height + above;
        let left = b.can.height - taken;
        let (cathode_width, void_height) = match b.fit {
            Fit::Width(width) => (width, left - width),
            Fit::VoidHeight(space) => (left - space, space),
        };
        // A nanometre is rounding, not a fault.
        let rounding = Length::new::<uom::si::length::nanometer>(1.0);
        if cathode_width <= rounding || void_height < -rounding {
            let (place, asked) = match b.fit {
                Fit::Width(width) => {
                    ("cathode.width", format!("a coated width of {:.3} mm", 1e3 * width.value))
                }
                Fit::VoidHeight(space) => {
                    ("can.height", format!("a void height of {:.3} mm", 1e3 * space.value))
                }
            };
            return Err(Problem::new(
                place,
                format!(
                    "{asked} and parts, folds and margins of {:.3} mm in a can of {:.3} mm",
                    1e3 * taken.value,
                    1e3 * b.can.height.value
                ),
                "heights of the stack-up that add to the outer height and leave some coated width",
            )
            .into());
        }
        Ok(Self { below, above, cathode_width, void_height: void_height.max(Length::default()) })
    }

    /// The heights one by one, from the outside of the bottom to the outside of the top; empty ones are left out.
    pub fn bands(&self, b: &Blueprint) -> Vec<Band> {
        let mut heights = vec![(BandKind::Bottom, b.can.bottom)];
        let parts = |place: Place| b.parts.iter().enumerate().filter(move |(_, part)| part.place == place);
        for (i, part) in parts(Place::BelowRoll) {
            heights.push((BandKind::Part(i), part.height));
            heights.push((BandKind::StandOff(i), part.axial_clearance));
        }
        heights.extend([
            (BandKind::AnodeEdge, b.anode.fold_height),
            (BandKind::Margin, b.separator.margin),
            (BandKind::Overhang, b.overhang),
            (BandKind::Coated, self.cathode_width),
            (BandKind::Overhang, b.overhang),
            (BandKind::Margin, b.separator.margin),
            (BandKind::CathodeEdge, b.cathode.fold_height),
            (BandKind::VoidHeight, self.void_height),
        ]);
        for (i, part) in parts(Place::AboveRoll) {
            heights.push((BandKind::StandOff(i), part.axial_clearance));
            heights.push((BandKind::Part(i), part.height));
        }
        let mut from = Length::default();
        heights
            .into_iter()
            .filter(|(_, height)| height.value > 0.0)
            .map(|(kind, height)| {
                let band = Band { kind, from, to: from + height };
                from = band.to;
                band
            })
            .collect()
    }

    /// Height that hardware takes: everything along the axis but the roll between its separators and the void height.
    pub fn hardware(&self, b: &Blueprint) -> Length {
        b.can.bottom + self.below + b.anode.fold_height + b.cathode.fold_height + self.above
    }
}
