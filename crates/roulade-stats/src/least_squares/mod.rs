//! Parameters from readings that contradict one another a little: what they say together, which are suspect, what to read
//! next.
//!
//! Numbers only: parameters with a prior, observations with an uncertainty, and a function that predicts the second from
//! the first. What they mean stands above.

pub mod distribution;
pub mod fit;
mod given;
mod householder;
mod linear;
mod loss;
pub mod next;
pub mod outlier;
pub mod pooled;
mod posterior;
pub mod scatter;
mod slope;
pub mod split;
mod step;
mod svd;

pub use fit::fit;
pub use given::{Observation, Prior};
pub use loss::Loss;
pub use posterior::{Ending, Outcome};
