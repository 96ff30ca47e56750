//! A sheet put together in Rust: setters that take `"68 ± 1 µm"` or a quantity.

use super::{Anode, Can, Cathode, Edit, Entry, Mixed, Part, Place, Sheet, edit, write};
use crate::quantity::problem::Problems;
use crate::quantity::uncertain::UncertainQuantity;
use crate::quantity::units::{
    ArealMassDensity, ElectricPotential, Length, Mass, MassDensity, Ratio, Unit, Volume,
};
use roulade_stats::uncertain::Uncertain;

impl From<&str> for Entry {
    fn from(text: &str) -> Self {
        Self::Text(text.to_owned())
    }
}

impl From<String> for Entry {
    fn from(text: String) -> Self {
        Self::Text(text)
    }
}

/// Quantities as entries, each in the unit that the trade writes it in, to the last digit.
macro_rules! entries {
    ($($quantity:ident in $unit:ident),*) => {$(
        impl From<$quantity> for Entry {
            fn from(exact: $quantity) -> Self {
                Self::Text(write::number(&Uncertain::exact(exact.value), Unit::$unit))
            }
        }

        impl From<UncertainQuantity<$quantity>> for Entry {
            fn from(uncertain: UncertainQuantity<$quantity>) -> Self {
                Self::Text(write::number(&Uncertain::standard(uncertain.value.value, uncertain.u.value), Unit::$unit))
            }
        }
    )*};
}

entries!(
    Length in Millimetre, Mass in Gram, Volume in CubicCentimetre, MassDensity in GramPerCubicCentimetre,
    ArealMassDensity in MilligramPerSquareCentimetre, ElectricPotential in Volt, Ratio in Percent
);

/// Components of a dry coating: material and mass fraction, the fraction empty for the one that takes the rest.
fn mix(components: &[(&str, &str)]) -> Vec<Mixed> {
    let mixed = |(material, share): &(&str, &str)| Mixed {
        material: Some((*material).to_owned()),
        share: (!share.is_empty()).then(|| (*share).into()),
        ..Mixed::default()
    };
    components.iter().map(mixed).collect()
}

impl Sheet {
    /// A sheet with nothing but the name of its cell. What is left out has a stated default; only the size of the can and
    /// what the coatings are mixed from must be said.
    pub fn new(cell: &str) -> Self {
        Self { cell: Some(cell.to_owned()), ..Self::default() }
    }

    /// Outer diameter and height of the can.
    pub fn can(mut self, diameter: impl Into<Entry>, height: impl Into<Entry>) -> Self {
        let can = self.can.take().unwrap_or_default();
        self.can = Some(Can { diameter: Some(diameter.into()), height: Some(height.into()), ..can });
        self
    }

    /// What the cathode is mixed from, materials with their mass fractions (empty for the one that takes the rest), and its
    /// areal mass loading per side.
    pub fn cathode(mut self, components: &[(&str, &str)], loading: impl Into<Entry>) -> Self {
        let cathode = self.cathode.take().unwrap_or_default();
        self.cathode = Some(Cathode { mix: Some(mix(components)), loading: Some(loading.into()), ..cathode });
        self
    }

    /// What the anode is mixed from; its loading follows from the N/P ratio unless it is [set](Self::with).
    pub fn anode(mut self, components: &[(&str, &str)]) -> Self {
        let anode = self.anode.take().unwrap_or_default();
        self.anode = Some(Anode { mix: Some(mix(components)), ..anode });
        self
    }

    /// One more part of the hardware, above those that are there.
    pub fn part(mut self, part: Part) -> Self {
        self.parts.get_or_insert_default().push(part);
        self
    }

    /// Any entry by its key, `separator.thickness` or `parts[lid].mass`: a text with its unit, or a quantity.
    ///
    /// ```
    /// use roulade::Sheet;
    /// use roulade::quantity::units::Length;
    /// use uom::si::length::micrometer;
    ///
    /// let sheet = Sheet::new("a cell")
    ///     .can("21 mm", "70 mm")
    ///     .with("can.wall", "0.25 ± 0.01 mm")?
    ///     .with("separator.thickness", Length::new::<micrometer>(12.0))?;
    /// assert_eq!(sheet.separator.as_ref().unwrap().thickness.as_ref().unwrap().text(), "0.012 mm");
    /// assert!(sheet.with("separator.thicknes", "12 µm").is_err());
    /// # Ok::<(), roulade::Problems>(())
    /// ```
    ///
    /// # Errors
    /// Where sheets have no such key, with the nearest. Whether the quantity can be read says [`Draft::read`](crate::Draft::read).
    pub fn with(self, key: &str, entry: impl Into<Entry>) -> Result<Self, Problems> {
        let to = match entry.into() {
            Entry::Text(text) => text.into(),
            // Plain data always becomes a value.
            Entry::Noted(noted) => serde_json::to_value(noted).unwrap_or_default(),
        };
        Ok(edit(&self, &[Edit::Set { key: key.to_owned(), to }])?.sheet)
    }
}

impl Part {
    /// A piece of hardware by its name and place. Its mass and volume follow from its material where both are not given.
    pub fn new(name: &str, place: Place) -> Self {
        Self { name: Some(name.to_owned()), place: Some(place), ..Self::default() }
    }

    /// Its axial height.
    pub fn height(mut self, height: impl Into<Entry>) -> Self {
        self.height = Some(height.into());
        self
    }

    /// Its material, by the name in the table or the sheet.
    pub fn material(mut self, material: &str) -> Self {
        self.material = Some(material.to_owned());
        self
    }

    /// Its mass.
    pub fn mass(mut self, mass: impl Into<Entry>) -> Self {
        self.mass = Some(mass.into());
        self
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cell::draft::Draft;
    use uom::si::length::{micrometer, millimeter};

    #[test]
    fn a_quantity_is_the_same_as_its_text() {
        let of = |height: Entry| {
            let sheet = Sheet::new("a cell")
                .can("21 mm", height)
                .cathode(&[("NMC811", ""), ("PVDF", "2 %")], "20 mg/cm²")
                .anode(&[("graphite", "")]);
            let draft = Draft::read(&sheet).unwrap();
            draft.inputs().iter().find(|input| input.path == "can.height").unwrap().uncertain
        };
        let (value, u) = (Length::new::<millimeter>(70.0), Length::new::<micrometer>(50.0));
        assert_eq!(of(value.into()), of("70 mm".into()));
        let (by_quantity, by_text) =
            (of(UncertainQuantity { value, u }.into()), of("70.00 ± 0.05 mm".into()));
        assert!(
            (by_quantity.u() / by_text.u() - 1.0).abs() < 1e-12
                && by_quantity.value.to_bits() == by_text.value.to_bits()
        );
    }

    #[test]
    fn what_is_missing_is_reported_when_the_sheet_is_read() {
        let diagnostic = Draft::read(&Sheet::new("nothing")).unwrap_err();
        assert!(diagnostic.0.iter().any(|problem| problem.place == "can.diameter"), "{diagnostic}");
    }
}
