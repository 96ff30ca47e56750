//! One binary for the tests that need no more than the model; those of the command line are in `cli`, beside them.

mod fuzz;
mod published;
mod relations;
mod tidy;
