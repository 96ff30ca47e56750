//! One cell: from the entries of its sheet to a design that holds together, and what that design is predicted to give.

pub mod balance;
pub mod current_path;
pub mod design;
pub mod draft;
pub mod elements;
pub mod estimate;
pub mod evaluator;
pub mod figures;
pub mod hazard;
pub mod held;
pub mod ledger;
pub mod population;
pub mod state;
pub mod swelling;
pub mod vary;
pub mod winding;
