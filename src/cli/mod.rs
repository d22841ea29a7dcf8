//! Arguments in, exit code out.

mod about_itself;
mod args;
mod dispatch;
mod stages;

use std::process::ExitCode;

use clap::Parser;

use crate::machine::outlive_large_writes;

/// Runs the program with the arguments of the process.
pub fn main() -> ExitCode {
    // Best effort: without it such a write ends the program, and what was written before is safe.
    let _ = outlive_large_writes();
    match args::Args::try_parse() {
        Ok(args) => dispatch::run(&args),
        Err(error) => ExitCode::from(dispatch::tell(&error)),
    }
}
