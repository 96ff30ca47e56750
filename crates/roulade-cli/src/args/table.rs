//! Tables to look things up in.

use super::form::FormArgs;
use clap::Args;

/// A material.
#[derive(Debug, Args)]
pub(crate) struct MaterialsArgs {
    /// One material in full
    pub(crate) name: Option<String>,
    #[command(flatten)]
    pub(crate) form: FormArgs,
}

/// A schema.
#[derive(Debug, Args)]
pub(crate) struct SchemaArgs {
    /// Whose schema: that of the sheet, or of a question as it is asked in JSON
    #[arg(default_value = "sheet", value_parser = clap::builder::PossibleValuesParser::new(crate::schema::names()))]
    pub(crate) what: String,
}
