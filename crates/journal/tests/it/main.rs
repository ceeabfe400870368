//! The journal from outside.
#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::print_stdout,
    reason = "a test fails by panicking; shared parts stand outside test functions"
)]

mod append;
mod bulk;
mod common;
mod export;
mod files;
mod fills;
mod moved;
mod properties;
mod undo;
mod weather;
