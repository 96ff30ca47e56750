//! How the uncertainty of inputs reaches the outputs.
//!
//! To first order ([`FirstOrder`], JCGM 100:2008), which every answer carries; and by drawing inputs at random
//! ([`sample`], JCGM 101:2008), which sees every curve and edge of the model, and says whether first order was enough
//! ([`interval::Validation`]). Sensitivity of an output: shares of its variance to first order, or Sobol's indices
//! ([`sensitivity`]). What readings of the outputs say of the inputs: draws weighted by them ([`conditioned`]).

pub mod conditioned;
pub mod deviate;
mod gradient;
pub mod held;
pub mod interval;
pub mod quantile;
pub mod sample;
mod sampler;
pub mod sensitivity;

pub use gradient::FirstOrder;
