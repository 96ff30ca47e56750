//! A verb in, all that is to be said out.

mod bench;
mod cell;
mod claim;
mod edit;
mod parameters;
mod report;
mod said;
mod sheet;
mod sizes;
mod study;
mod table;

use crate::args::Verb;
use crate::report::{Delivery, Out};
use crate::schema;

/// Answers.
pub(crate) fn answer(verb: Verb) -> Delivery {
    match verb {
        Verb::Estimate(asked) => cell::estimate(&asked),
        Verb::Compare(asked) => cell::compare(&asked),
        Verb::Without(asked) => cell::without(&asked),
        Verb::Sheet(asked) => sheet::sheet(&asked),
        Verb::Edit(asked) => edit::edit(&asked),
        Verb::Export(asked) => parameters::export(&asked),
        Verb::Import(asked) => parameters::import(&asked),
        Verb::Claim(asked) => claim::claim(asked),
        Verb::Report(asked) => report::report(asked),
        Verb::Map(asked) => sizes::map(asked),
        Verb::Sweep(asked) => sizes::sweep(asked),
        Verb::Search(asked) => study::search(&asked),
        Verb::Batch(asked) => study::batch(&asked),
        Verb::Attribute(asked) => study::attribute(&asked),
        Verb::Spread(asked) => study::spread(&asked),
        Verb::Materials(asked) => table::materials(&asked),
        Verb::Quantities { form } => table::quantities(&form),
        Verb::Readings(asked) => bench::readings(&asked),
        Verb::Reconcile(asked) => bench::reconcile(&asked),
        Verb::Next(asked) => bench::next(&asked),
        Verb::Schema(asked) => {
            Delivery { out: Out::Exact(schema::text(&asked.what)), err: String::new(), status: 0 }
        }
        Verb::Cautions { form } => table::cautions(&form),
    }
}
