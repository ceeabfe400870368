//! Loamwright: how much of which browns goes with tonight's caddy, remembered, undone, traced.

mod api;
mod beside;
mod cli;
mod json;
mod pages;
mod serve;
mod words;

use std::io::Write as _;
use std::process::ExitCode;

use clap::Parser as _;

fn main() -> ExitCode {
    match cli::Args::try_parse() {
        Ok(args) => cli::run(args),
        Err(e) => {
            // With --json the answer is JSON in every case, wrong usage too.
            if e.use_stderr() && std::env::args_os().any(|a| a == "--json") {
                let said = e.to_string();
                let said = said.lines().next().unwrap_or_default();
                let said = said.trim_start_matches("error: ");
                _ = writeln!(std::io::stdout().lock(), "{}", json::failure("usage", said));
                return ExitCode::from(2);
            }
            _ = e.print();
            ExitCode::from(u8::try_from(e.exit_code()).unwrap_or(2))
        }
    }
}
