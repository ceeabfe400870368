//! The command line: the same use cases as the pages.

mod args;
pub(crate) mod check;
pub(crate) mod fix;
mod forecast;
mod handover;
pub(crate) mod heat;
mod household;
mod progress;
pub(crate) mod ready;
mod run;
pub(crate) mod season;
mod show;
mod simulate;
mod tend;

pub(crate) use args::Args;
pub(crate) use run::run;
