//! What to keep in mind where readings come from an opened cell. Cautions, never a procedure.

use roulade::material::Ion;
use serde::Serialize;

/// A caution with its source.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Caution {
    /// The caution.
    pub text: &'static str,
    /// Where it comes from.
    pub source: &'static str,
}

const OPENING: Caution = Caution {
    text: "Opening a cell is hazardous and is work for trained people with a written risk assessment. Local codes and \
           licensed practice decide, not a computed answer. What follows are cautions, not a procedure.",
    source: "common practice, no source",
};

const RUNAWAY: Caution = Caution {
    text: "A charged cell can go into thermal runaway while it is taken apart, and a vent throws parts. Cells are fully \
           discharged, and the voltage is verified, before anything else.",
    source: "Waldmann et al., J. Electrochem. Soc. 163 (2016) A2149, doi 10.1149/2.1211609jes; Williard et al., J. Mater. \
             Sci.: Mater. Electron. 22 (2011) 1616; full discharge: from memory",
};

const SALT: Caution = Caution {
    text: "The electrolyte is flammable, toxic and corrosive, and its salt gives hydrofluoric acid with water, within \
           seconds: 0.66 g per gram of LiPF6. Immediately dangerous concentration 30 ppm; 15-minute ceiling 6 ppm.",
    source: "REACH dossier, CAS 21324-40-3; OSHA chemical sampling sheet for hydrogen fluoride, 2009; NIOSH",
};

const SKIN: Caution = Caution {
    text: "Acid on the skin needs calcium gluconate gel at hand and medical help at once.",
    source: "from memory",
};

const FIRE: Caution = Caution {
    text: "A burning cell gives off 20 to 200 mg of hydrofluoric acid per Wh.",
    source: "Larsson et al., Sci. Rep. 7 (2017) 10018, doi 10.1038/s41598-017-09784-z",
};

const DUST: Caution = Caution {
    text: "Coating dust holds nickel and cobalt oxides: limits are 0.015 mg/m³ for nickel, a potential occupational \
           carcinogen, and 0.02 to 0.1 mg/m³ for cobalt. No dry scraping in the open.",
    source: "NIOSH IDLH documentation for nickel, 1994; OSHA sampling sheet for cobalt; scraping: from memory",
};

const METAL: Caution = Caution {
    text: "Charged graphite and plated lithium react with air and moisture, and a tool that bridges can and lid shorts the \
           cell.",
    source: "from memory",
};

const TRANSPORT: Caution = Caution {
    text: "Damaged cells do not fly: cells above 20 Wh are fully regulated in transport, damaged ones fall under special \
           provision 376. Wet electrodes stay reactive and are hazardous waste.",
    source: "UN 3480, special provision 376; waste: from memory",
};

const PRESSURE: Caution = Caution {
    text: "A computed fit is not a safety margin: rolls swell, and an overfilled can builds up pressure.",
    source: "common practice, no source",
};

const SODIUM_SALT: Caution = Caution {
    text: "The electrolyte is flammable, toxic and corrosive, and its salt gives hydrofluoric acid with water, within \
           seconds: 0.60 g per gram of NaPF6. Immediately dangerous concentration 30 ppm; 15-minute ceiling 6 ppm.",
    source: "five of HF for one of NaPF6, arithmetic, as of the salt of the usual cells; OSHA chemical sampling sheet for \
             hydrogen fluoride, 2009; NIOSH",
};

const SODIUM_METAL: Caution = Caution {
    text: "Charged carbon and plated sodium react with air and moisture, and a tool that bridges can and lid shorts the cell.",
    source: "from memory",
};

const SODIUM_DUST: Caution = Caution {
    text: "Coating dust may hold nickel oxides: the limit is 0.015 mg/m³ for nickel, a potential occupational carcinogen. No \
           dry scraping in the open.",
    source: "NIOSH IDLH documentation for nickel, 1994; scraping: from memory",
};

const SODIUM_TRANSPORT: Caution = Caution {
    text: "Damaged cells do not fly: sodium-ion cells travel by the rules of their kind, damaged ones under special provision \
           376. Wet electrodes stay reactive and are hazardous waste.",
    source: "UN 3551: from memory; waste: from memory",
};

/// Shown wherever a reading needs an opened cell.
pub static CAUTIONS: &[Caution] = &[OPENING, RUNAWAY, SALT, SKIN, FIRE, DUST, METAL, TRANSPORT, PRESSURE];

static SODIUM_CAUTIONS: &[Caution] =
    &[OPENING, RUNAWAY, SODIUM_SALT, SKIN, FIRE, SODIUM_DUST, SODIUM_METAL, SODIUM_TRANSPORT, PRESSURE];

/// The cautions for a cell that stores this ion.
pub fn cautions(ion: Ion) -> &'static [Caution] {
    match ion {
        Ion::Lithium => CAUTIONS,
        Ion::Sodium => SODIUM_CAUTIONS,
    }
}
