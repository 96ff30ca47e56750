//! What an opened cell shows otherwise than the cell as built, beside what follows from its design.

use roulade_stats::uncertain::Uncertain;

/// How coatings, film and electrolyte of an opened cell differ from the cell as built; see [`crate::cell::state`] for what
/// each does to a reading. The uncertainty of one that an input of the sheet stands for is that input's, and none here.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Opened {
    /// By how much of its thickness a cathode's coating springs back from the press as it is wetted and cycled first.
    pub cathode_spring_back: Uncertain,
    /// The same of an anode's coating, without its lithium: film, particles that rearranged, and what the press left in it.
    pub anode_spring_back: Uncertain,
    /// Growth of an anode's coating by its lithium over that which is computed: it does not quite go with the lithium.
    pub swelling: Uncertain,
    /// Mass of the film on the anode, besides the ions in it, for the charge that was lost in it, kg/C.
    pub film: Uncertain,
    /// Residue of unwashed pores over the salt that was in them: cyclic carbonate that stays adds to it, salt that
    /// decomposes to fluoride takes away from it.
    pub residue: Uncertain,
    /// Share of the electrolyte that evaporates from an open cell before it is weighed.
    pub evaporated: Uncertain,
}

impl Opened {
    /// The defaults of the sheet (`sheet/defaults.rs` has them as texts, with what stands behind each).
    pub const USUAL: Self = Self {
        cathode_spring_back: Uncertain::standard(0.02, 0.015),
        anode_spring_back: Uncertain::standard(0.06, 0.03),
        swelling: Uncertain::standard(1.0, 0.25),
        film: Uncertain::range(1.1195e-3 / 3600.0, 2.7624e-3 / 3600.0),
        residue: Uncertain::standard(1.0, 0.5),
        evaporated: Uncertain::standard(0.05, 0.03),
    };
}
