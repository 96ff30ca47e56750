//! Checking a declared figure: the chance that it holds given what is known, whether rounding decides it, what each
//! quantity alone would have to be, and the reading that would settle it soonest.
//!
//! A claim is a [`Claim`]; [`Check::of`] works it out over one draft, or two where it compares.

mod basis;
mod case;
mod chance;
mod check;
mod declared;
mod information;
mod reach;
mod required;
mod rounding;
mod said;
mod whole;
mod words;

pub use basis::{Basis, On};
pub use chance::Strip;
pub use check::{Check, OnBasis, ReadAs};
pub use declared::{Change, Claim, Relation, SUPPORTED, Verdict};
pub use information::Reading;
pub use reach::Reach;
pub use required::{Required, Where};
pub use rounding::Rounding;
pub use said::{Claimed, Said};
pub use words::Parts;

/// Draws where none are asked for.
pub const DRAWS: u32 = 10_000;
/// Most draws that may be asked for.
pub const MOST_DRAWS: u32 = 2_000_000;

#[cfg(test)]
mod tests;
