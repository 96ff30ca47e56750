//! What a cell costs, as far as prices were given: masses of the ledger by material, and parts by the piece.

use super::asked::Prices;
use crate::cell::figures::Worked;
use crate::cell::ledger::{self, Group};
use crate::material;
use crate::sheet::Sheet;

/// One line of the ledger as it is billed.
#[derive(Clone, Debug)]
struct Item {
    line: String,
    /// What the price is looked up by.
    material: String,
    per_kilogram: Option<f64>,
    each: Option<f64>,
}

/// The prices of one cell's ledger, line by line.
#[derive(Clone, Debug)]
pub struct Bill(Vec<Item>);

impl Bill {
    /// Looks up what each line of a cell's ledger costs.
    pub fn of(prices: &Prices, sheet: &Sheet, cell: &Worked) -> Self {
        let named = |name: Option<&String>, ordinary: &str| name.map_or(ordinary, String::as_str).to_owned();
        let design = &cell.design;
        let blueprint = design.blueprint();
        let mut items = Vec::new();
        ledger::lines(design, |line| {
            if line.group == Group::Space {
                return;
            }
            let part = blueprint
                .parts
                .iter()
                .find(|part| line.group == Group::Enclosure && &*part.label.name == line.what);
            let material = match (line.group, line.what) {
                (Group::Electrolyte, _) => "electrolyte".to_owned(),
                (Group::Cathode, "cathode current collector foil") => {
                    blueprint.cathode.foil_material.to_string()
                }
                (Group::Anode, "anode current collector foil") => blueprint.anode.foil_material.to_string(),
                (Group::Separator, "ceramic layer") => {
                    named(sheet.separator.as_ref().and_then(|s| s.ceramic.as_ref()), "alumina")
                }
                (Group::Separator, _) => {
                    named(sheet.separator.as_ref().and_then(|s| s.material.as_ref()), "polyethylene")
                }
                (Group::Enclosure, _) if part.is_some() => {
                    part.and_then(|part| part.label.material.as_deref()).unwrap_or(line.what).to_owned()
                }
                (Group::Enclosure, "tape around the roll" | "tape over the tabs") => {
                    "polypropylene".to_owned()
                }
                (Group::Enclosure, "sleeve") => {
                    named(sheet.sleeve.as_ref().and_then(|sleeve| sleeve.material.as_ref()), "PET")
                }
                (Group::Enclosure, "anode tabs" | "cathode tabs") => {
                    let anode = line.what == "anode tabs";
                    let path = sheet.current_path.as_ref();
                    let side =
                        path.and_then(|path| if anode { path.anode.as_ref() } else { path.cathode.as_ref() });
                    let tab = side.and_then(|side| side.tabs.as_ref()?.first());
                    let usual = if anode { "nickel" } else { "aluminium" };
                    named(tab.and_then(|tab| tab.material.as_ref()), usual)
                }
                (Group::Enclosure, _) => {
                    named(sheet.can.as_ref().and_then(|can| can.material.as_ref()), "steel")
                }
                (_, component) => component.to_owned(),
            };
            let each = part.and_then(|part| price(prices.per_part.as_ref(), &part.label.name));
            let per_kilogram = price(prices.per_kg.as_ref(), &material).filter(|_| each.is_none());
            items.push(Item { line: line.what.to_owned(), material, per_kilogram, each });
        });
        Self(items)
    }

    /// What a cell costs. Lines without a price cost nothing; they are named by [`Bill::unpriced`].
    pub fn cost(&self, cell: &Worked) -> f64 {
        let mut items = self.0.iter();
        let mut cost = 0.0;
        ledger::lines(&cell.design, |line| {
            // Lines come in the same order; a layer that has vanished is passed over.
            if line.group != Group::Space
                && let Some(item) = items.find(|item| item.line == line.what)
            {
                cost += item.per_kilogram.unwrap_or(0.0) * line.mass.value + item.each.unwrap_or(0.0);
            }
        });
        cost
    }

    /// What has no price, by material, or by part where it has no material.
    pub fn unpriced(&self) -> impl Iterator<Item = &str> {
        let open = self.0.iter().filter(|item| item.per_kilogram.is_none() && item.each.is_none());
        open.map(|item| item.material.as_str())
    }
}

/// The price under a name; materials of the table under any of their spellings.
fn price(list: Option<&super::asked::PriceList>, name: &str) -> Option<f64> {
    let canonical = |name: &str| material::find(name).map_or(name.trim().to_owned(), |m| m.name.to_owned());
    list?.0.iter().find(|(priced, _)| canonical(priced) == canonical(name)).map(|(_, price)| *price)
}

/// Prices that neither cell has a use for.
pub fn unused<'a>(prices: &'a Prices, bills: &[&Bill]) -> Vec<&'a str> {
    let canonical = |name: &str| material::find(name).map_or(name.trim().to_owned(), |m| m.name.to_owned());
    let all = || bills.iter().flat_map(|bill| &bill.0);
    let used = |name: &str| {
        let name = canonical(name);
        all().any(|item| canonical(&item.material) == name || canonical(&item.line) == name)
    };
    let lists = [&prices.per_kg, &prices.per_part].into_iter().flatten().flat_map(|list| &list.0);
    lists.map(|(name, _)| name.as_str()).filter(|name| !used(name)).collect()
}
