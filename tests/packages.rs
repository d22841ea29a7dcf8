//! What the program is built from: licences it may carry, no crate twice without a reason, and a
//! `rust-version` that all of it agrees to.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::process::Command;

use serde_json::Value;

/// The licences that ask for no more than their notice.
const ALLOWED: &[&str] = &[
    "MIT",
    "MIT-0",
    "Apache-2.0",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "ISC",
    "Unicode-3.0",
    "Unlicense",
    "Zlib",
];

/// Crates that are there in more than one version, with the reason.
const TWICE: &[(&str, &str)] = &[
    ("bit-set", "tests only: jsonschema's regular expressions want 0.8, proptest 0.11"),
    ("bit-vec", "tests only: comes with the two of bit-set"),
    ("getrandom", "tests only: jsonschema's hash map wants 0.3, proptest and tempfile 0.4"),
    ("r-efi", "tests only, on no machine this runs on: comes with the two of getrandom"),
    ("syn", "while building only: maud's macros want 2, those of clap, serde and thiserror 3"),
];

fn output(command: &mut Command) -> String {
    let output = command.output().unwrap();
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8(output.stdout).unwrap()
}

/// Every package that goes into the program or its tests on this machine, as cargo tells it.
fn packages() -> Vec<Value> {
    let about = output(Command::new("rustc").arg("-vV"));
    let host = about.lines().find_map(|line| line.strip_prefix("host: ")).unwrap();
    let told = output(Command::new(env!("CARGO")).current_dir(env!("CARGO_MANIFEST_DIR")).args([
        "metadata",
        "--offline",
        "--locked",
        "--format-version",
        "1",
        "--filter-platform",
        host,
    ]));
    let told: Value = serde_json::from_str(&told).unwrap();
    let packages = told["packages"].as_array().unwrap().clone();
    assert!(packages.len() > 50, "cargo tells of {} packages only", packages.len());
    packages
}

fn name(package: &Value) -> &str {
    package["name"].as_str().unwrap()
}

/// Whether an expression such as `(MIT OR Apache-2.0) AND Unicode-3.0` can be met: of each part
/// that must hold, one choice is allowed. `/` is how `OR` was once written.
fn is_allowed(licence: &str) -> bool {
    let plain = licence.replace('/', " OR ").replace(['(', ')'], "");
    plain.split(" AND ").all(|part| part.split(" OR ").any(|one| ALLOWED.contains(&one.trim())))
}

#[test]
fn licences_ask_for_no_more_than_their_notice() {
    let odd: Vec<String> = packages()
        .iter()
        .map(|package| (name(package), package["license"].as_str().unwrap_or("none told")))
        .filter(|(_, licence)| !is_allowed(licence))
        .map(|(name, licence)| format!("{name}: {licence}"))
        .collect();
    assert_eq!(odd, Vec::<String>::new());
}

#[test]
fn what_a_licence_expression_means() {
    let allowed = ["MIT", "MIT/Apache-2.0", "GPL-3.0 OR MIT", "(MIT OR Apache-2.0) AND Unicode-3.0"];
    let refused = ["GPL-3.0", "MIT AND GPL-3.0", "(MIT OR Zlib) AND GPL-3.0", "none told", ""];
    assert_eq!(allowed.map(is_allowed), [true; 4]);
    assert_eq!(refused.map(is_allowed), [false; 5]);
}

/// Cargo.lock has the crates of every platform, so this holds wherever it runs.
#[test]
fn no_crate_is_there_twice_without_a_reason() {
    let lock = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("Cargo.lock")).unwrap();
    let lock: toml::Table = lock.parse().unwrap();
    let mut times: BTreeMap<&str, usize> = BTreeMap::new();
    for package in lock["package"].as_array().unwrap() {
        *times.entry(package["name"].as_str().unwrap()).or_default() += 1;
    }
    let twice: Vec<&str> = times.into_iter().filter(|(_, times)| *times > 1).map(|(name, _)| name).collect();
    let with_reason: Vec<&str> = TWICE.iter().map(|(name, _)| *name).collect();
    assert_eq!(twice, with_reason);
}

/// `1.88` as something that compares; nothing told is nothing asked.
fn release(package: &Value) -> Vec<u32> {
    let text = package["rust_version"].as_str().unwrap_or_default();
    let mut numbers: Vec<u32> = text.split('.').filter_map(|number| number.parse().ok()).collect();
    numbers.resize(3, 0);
    numbers
}

#[test]
fn the_rust_version_suffices_for_every_dependency() {
    let packages = packages();
    let own = packages.iter().find(|package| name(package) == "tankhand").map(release).unwrap();
    assert!(own > vec![1, 0, 0], "Cargo.toml has no rust-version");
    let newer: Vec<&str> = packages.iter().filter(|package| release(package) > own).map(name).collect();
    assert_eq!(newer, Vec::<&str>::new());
}
