//! How an answer is given.

use super::exchange::TableArgs;
use clap::Args;
use std::path::PathBuf;

/// The form of an answer; a text for people where none is named.
#[derive(Clone, Debug, Default, Args)]
#[group(skip)]
pub(crate) struct FormArgs {
    /// Answer as JSON, problems too
    #[arg(long, conflicts_with_all = ["csv", "markdown"])]
    pub(crate) json: bool,
    /// Answer as comma-separated values, unrounded: the ledger, or the table
    #[arg(long, conflicts_with = "markdown")]
    pub(crate) csv: bool,
    /// Answer as Markdown
    #[arg(long)]
    pub(crate) markdown: bool,
    #[command(flatten)]
    pub(crate) table: TableArgs,
}

/// A picture beside the answer.
#[derive(Clone, Debug, Args)]
pub(crate) struct PictureArgs {
    /// Draw the first figure over the two axes to this file
    #[arg(long, value_name = "FILE.svg")]
    pub(crate) picture: Option<PathBuf>,
    /// Let --picture replace a file that is there
    #[arg(long, requires = "picture")]
    pub(crate) overwrite: bool,
}
