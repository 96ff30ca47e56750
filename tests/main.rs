//! One binary for every test that is not beside the code it checks.

mod published;
mod tidy;
