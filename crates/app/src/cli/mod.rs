//! The command line: the same use cases as the pages.

mod args;
mod forecast;
mod run;
mod show;
mod simulate;

pub(crate) use args::Args;
pub(crate) use run::run;
