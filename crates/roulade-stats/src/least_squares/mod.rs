//! Parameters from readings that contradict one another a little: what they say together, which to doubt, what to read
//! next.
//!
//! Numbers only: parameters with a prior, observations with an uncertainty, and a function that predicts the second from
//! the first. What they mean stands above.

pub mod borrowed;
pub mod distribution;
pub mod doubt;
pub mod fit;
mod loss;
pub mod next;
mod parts;
mod posterior;
pub mod scatter;
mod slope;
mod step;
mod triangle;

pub use fit::fit;
pub use loss::Loss;
pub use posterior::{Ending, Outcome};
