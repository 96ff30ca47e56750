//! What an ordinary mix holds besides its active material, where the sheet leaves it out.

use super::entries::Common;
use crate::cell::draft::materials::Materials;
use crate::cell::draft::materials::used::Used;
use crate::cell::draft::read::{Name, Reader, Slot};
use crate::cell::population;
use crate::material::{self, Role};

impl Common<'_> {
    /// Fills in a binder, and on the cathode what conducts, where the sheet has none and lets its active material take the rest.
    pub(super) fn besides(
        &self,
        r: &mut Reader,
        materials: &mut Materials<'_>,
        open: &[usize],
        mix: &mut Vec<(Used, Slot<f64>)>,
    ) {
        let [rest] = open else { return };
        let Some((host, _)) = mix.get(*rest) else { return };
        // A material of the sheet's own may stand for a whole coating; a metal that is plated needs no binder.
        if host.host.is_none() || host.plates() || material::find(&host.name).is_none() {
            return;
        }
        let missing = self.missing(mix);
        let field = [self.side, ".mix[].share"].concat();
        for row in population::BESIDES.iter().filter(|row| row.side == self.side) {
            if !material::find(row.material).is_some_and(|material| missing.contains(&material.role)) {
                continue;
            }
            let used = materials.component(r, format!("{}.mix", self.side), row.material);
            let uncertain = row.share.uncertain(r.setting());
            let share = r.of_population(&Name::item(&field, None, row.material), uncertain, row.share.source);
            mix.push((used, share));
        }
    }

    /// Roles that an ordinary mix has and this one has not.
    fn missing(&self, mix: &[(Used, Slot<f64>)]) -> Vec<Role> {
        let has = |role: Role| mix.iter().any(|(used, _)| used.role == role);
        // What the sheet itself describes may be anything.
        let own = |used: &Used| used.host.is_none() && material::find(&used.name).is_none();
        if mix.iter().any(|(used, _)| own(used)) {
            return Vec::new();
        }
        let wanted: &[Role] = match self.role {
            Role::Cathode => &[Role::Binder, Role::Conductive],
            _ => &[Role::Binder],
        };
        wanted.iter().copied().filter(|role| !has(*role)).collect()
    }

    /// The same in words, of the mix as it is taken.
    pub(super) fn without(&self, mix: &[(Used, Slot<f64>)]) -> Option<&'static str> {
        if mix.iter().any(|(used, _)| used.plates()) {
            return None;
        }
        match self.missing(mix).as_slice() {
            [] => None,
            [Role::Binder] => Some("a binder"),
            [Role::Conductive] => Some("a conductive additive"),
            _ => Some("a binder or a conductive additive"),
        }
    }
}
