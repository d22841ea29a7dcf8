//! How long `tankhand procedures`, which lists every procedure, takes from start to end, beside the
//! smallest program that prints a line, built with the same profile and flags, and beside its own `--version`.
//! The bound is three times as long as the smallest.
#![allow(clippy::print_stdout, clippy::unwrap_used)]

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

mod ratios;

use ratios::Ratios;

const RUNS: usize = 500;
const BOUND: f64 = 3.0;

fn main() {
    let folder = std::env::temp_dir().join(format!("tankhand-startup-{}", std::process::id()));
    fs::create_dir_all(&folder).unwrap();
    let smallest = smallest_program(&folder);
    let tankhand = Path::new(env!("CARGO_BIN_EXE_tankhand"));
    let run_smallest = || time_of(Command::new(&smallest));
    let run_tankhand = |argument: &str| {
        let mut command = Command::new(tankhand);
        command.arg(argument).env("TANKHAND_HOME", &folder);
        time_of(command)
    };
    let (mut all_smallest, mut all_version, mut all_procedures) = (Vec::new(), Vec::new(), Vec::new());
    // Alternately, so that whatever else the machine does slows all alike.
    for _ in 0..RUNS {
        all_smallest.push(run_smallest());
        all_version.push(run_tankhand("--version"));
        all_procedures.push(run_tankhand("procedures"));
    }
    let [smallest, version, tankhand] = [all_smallest, all_version, all_procedures].map(median);
    let to = |other: Duration| tankhand.as_secs_f64() / other.as_secs_f64();
    println!("medians of {RUNS} runs each, taken in turn");
    println!("smallest printing program  {:7.0} µs", smallest.as_secs_f64() * 1e6);
    println!("tankhand --version         {:7.0} µs", version.as_secs_f64() * 1e6);
    println!("tankhand procedures        {:7.0} µs", tankhand.as_secs_f64() * 1e6);
    println!("ratio to the smallest      {:7.2}   (bound: {BOUND})", to(smallest));
    println!("ratio to --version         {:7.2}", to(version));
    let mut ratios = Ratios::of("startup");
    ratios.note("procedures, beside the smallest program", to(smallest), Some(BOUND));
    ratios.note("procedures, beside --version", to(version), None);
    ratios.keep();
    fs::remove_dir_all(&folder).unwrap();
}

/// Builds the yardstick by cargo as this program is built: with its release profile, and whatever
/// flags the environment gives to both.
fn smallest_program(folder: &Path) -> PathBuf {
    let manifest = fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/Cargo.toml")).unwrap();
    let (_, rest) = manifest.split_once("[profile.release]").unwrap();
    let profile = rest.split("\n[").next().unwrap();
    let head = "[package]\nname = \"smallest\"\nversion = \"0.0.0\"\nedition = \"2024\"\n";
    let target = "[[bin]]\nname = \"smallest\"\npath = \"smallest.rs\"\n";
    let own = format!("{head}{target}[workspace]\n[profile.release]{profile}\n");
    fs::write(folder.join("Cargo.toml"), own).unwrap();
    fs::write(folder.join("smallest.rs"), "fn main() {\n    println!(\"one line\");\n}\n").unwrap();
    let cargo = std::env::var_os("CARGO").unwrap_or("cargo".into());
    let built = Command::new(cargo)
        .args(["build", "--release", "--offline", "--quiet", "--target-dir"])
        .arg(folder.join("target"))
        .arg("--manifest-path")
        .arg(folder.join("Cargo.toml"))
        .status()
        .unwrap();
    assert!(built.success(), "the yardstick did not compile");
    folder.join("target/release/smallest")
}

/// From start to end, as whoever starts it waits for it.
fn time_of(mut command: Command) -> Duration {
    command.stdin(Stdio::null()).stdout(Stdio::null());
    let start = Instant::now();
    assert!(command.status().unwrap().success());
    start.elapsed()
}

fn median(mut times: Vec<Duration>) -> Duration {
    times.sort();
    times[times.len() / 2]
}
