//! The arcs of a roll one by one: what a drawing needs.

use super::plies::{Arc, PlyName};
use super::roll::Roll;
use crate::quantity::units::Length;
use roulade_stats::order;

impl Roll {
    /// Every pass of every ply, in the order of the web: what a drawing needs.
    pub fn arcs(&self) -> Vec<Arc> {
        let mut cuts: Vec<f64> = Vec::new();
        for ply in self.builds() {
            // The radius under the web steps a whole number of turns after a ply begins or ends.
            for mark in [ply.start, ply.end] {
                let mut cut = mark;
                while cut <= self.tape.end {
                    cuts.push(cut);
                    cut += 1.0;
                }
            }
        }
        order::ascending(&mut cuts);
        cuts.dedup_by(|b, a| *b - *a < 1e-9);
        let mut arcs = Vec::new();
        for pair in cuts.windows(2) {
            let [from, to] = *pair else { continue };
            let middle = 0.5 * (from + to);
            let mut r = self.radius_under(middle);
            for ply in PlyName::ALL {
                let (thickness, on) = self.layer(ply, middle);
                if on {
                    arcs.push(Arc { ply, radius: r + 0.5 * thickness, from, to });
                    r += thickness;
                }
            }
        }
        arcs
    }

    /// Thickness of one ply, and whether it is there at position `x`.
    pub fn layer(&self, ply: PlyName, x: f64) -> (Length, bool) {
        let (thickness, extent) = match ply {
            PlyName::InnerSeparator | PlyName::OuterSeparator => (self.lay_up.separator, &self.separators),
            PlyName::Anode => (self.lay_up.anode, &self.anode),
            PlyName::Cathode => (self.lay_up.cathode, &self.cathode),
            PlyName::Tape => (self.lay_up.tape, &self.tape),
        };
        (thickness, extent.start <= x && x < extent.end)
    }
}
