//! The command-line program: hands its arguments to [`tankhand::cli`] and exits with its code.

use std::process::ExitCode;

/// Musl's own allocator gives small blocks back to the system and fetches them again all the time.
#[cfg(target_env = "musl")]
#[global_allocator]
static ALLOCATOR: dlmalloc::GlobalDlmalloc = dlmalloc::GlobalDlmalloc;

fn main() -> ExitCode {
    tankhand::cli::main()
}
