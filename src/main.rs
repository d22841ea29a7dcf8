//! The command-line program: hands its arguments to [`tankhand::cli`] and exits with its code.

fn main() {}
