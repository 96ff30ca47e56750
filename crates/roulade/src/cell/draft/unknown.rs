//! Keys of the sheet that this version does not know.

use crate::cell::draft::read::Reader;
use crate::sheet;
use crate::sheet::Sheet;

pub(super) fn unknown_keys(r: &mut Reader, s: &Sheet) {
    r.unknown("", &s.unknown, Sheet::KEYS);
    macro_rules! section {
        ($place:literal, $section:expr, $kind:ty) => {
            if let Some(section) = $section {
                r.unknown($place, &section.unknown, <$kind>::KEYS);
            }
        };
    }
    section!("model", &s.model, sheet::Model);
    section!("can", &s.can, sheet::Can);
    section!("sleeve", &s.sleeve, sheet::Sleeve);
    section!("winding", &s.winding, sheet::Winding);
    section!("cathode", &s.cathode, sheet::Cathode);
    section!("anode", &s.anode, sheet::Anode);
    section!("cathode.foil", s.cathode.as_ref().and_then(|c| c.foil.as_ref()), sheet::Foil);
    section!("anode.foil", s.anode.as_ref().and_then(|a| a.foil.as_ref()), sheet::Foil);
    section!("prelithiation", &s.prelithiation, sheet::Prelithiation);
    section!("opened", &s.opened, sheet::Opened);
    section!("separator", &s.separator, sheet::Separator);
    section!("electrolyte", &s.electrolyte, sheet::Electrolyte);
    section!("voltage", &s.voltage, sheet::Voltage);
    section!("correlated", &s.correlated, sheet::Correlated);
    super::path::unknown_keys(r, s);
    for (i, part) in s.parts.iter().flatten().enumerate() {
        r.unknown(format_args!("parts[{i}]"), &part.unknown, sheet::Part::KEYS);
    }
    for (i, material) in s.materials.iter().flatten().enumerate() {
        r.unknown(format_args!("materials[{i}]"), &material.unknown, sheet::Material::KEYS);
        if let Some(metals) = &material.metals {
            r.unknown(format_args!("materials[{i}].metals"), &metals.unknown, sheet::Metals::KEYS);
        }
    }
    let mixes = [
        ("cathode", s.cathode.as_ref().and_then(|c| c.mix.as_ref())),
        ("anode", s.anode.as_ref().and_then(|a| a.mix.as_ref())),
    ];
    for (side, mix) in mixes {
        for (i, mixed) in mix.into_iter().flatten().enumerate() {
            r.unknown(format_args!("{side}.mix[{i}]"), &mixed.unknown, sheet::Mixed::KEYS);
        }
    }
}
