//! Python as a stranger to this program, where there is one.

use std::ffi::OsStr;
use std::io::Write;
use std::path::Path;
use std::process::{Command, Output};
use std::sync::LazyLock;

/// Whether there is a Python that can run the scripts.
static IS_THERE: LazyLock<bool> = LazyLock::new(|| {
    let known = Command::new("python3").args(["-c", "import hashlib, sqlite3, tomllib"]).output();
    known.is_ok_and(|output| output.status.success())
});

/// Runs a script of this folder; `None`, told loudly, where no Python can run it.
pub fn python<A: AsRef<OsStr>>(script: &str, arguments: &[A]) -> Option<Output> {
    if !*IS_THERE {
        // Past the capture of what tests print, so that it is seen though the test passes.
        let told = format!("SKIPPED: {script} needs python3, 3.11 or later, with sqlite3\n");
        std::io::stderr().write_all(told.as_bytes()).unwrap();
        return None;
    }
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/record").join(script);
    Some(Command::new("python3").arg(script).args(arguments).output().unwrap())
}
