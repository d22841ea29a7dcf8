//! The command-line program: hands its arguments to [`tankhand::cli`] and exits with its code.

use std::process::ExitCode;

fn main() -> ExitCode {
    tankhand::cli::main()
}
