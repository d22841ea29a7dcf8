//! Puts small faults into a copy of the program, one at a time, and tells which no test notices.
//!
//! All faults are compiled in at once, each behind a switch that one environment variable turns; so
//! the program is built once, however many there are. What does not compile is taken out by the
//! compiler's own errors. Each test is run alone to see which faults it comes by, and each fault is
//! tried with those tests only. The table beside this crate says what was found.
//!
//!     cargo run --release --manifest-path tests/mutants/Cargo.toml -- [--again] [FOLDER…]
//!
//! `--again` tries only what the table has as unnoticed, and believes it about the rest.

mod bodies;
mod plant;
mod sites;
mod table;
mod tree;
mod trials;

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::{Duration, Instant};

use table::Table;
use tree::Tree;
use trials::{Trials, parallel};

/// What is tried when no folder is named.
const FOLDERS: &[&str] = &["physics", "quantity", "lang", "record", "engine", "procedure/prove"];
/// No more tests than this are run for one fault; the slow ones come last.
const LIMIT: Duration = Duration::from_secs(60);
/// The share that must be noticed: of all, and of each folder; percent.
const LEAST: (f64, f64) = (90.0, 85.0);

fn main() -> ExitCode {
    let begun = Instant::now();
    let (options, mut folders): (Vec<String>, Vec<String>) =
        std::env::args().skip(1).partition(|argument| argument.starts_with("--"));
    let again = options.iter().any(|option| option == "--again");
    let whole = folders.is_empty();
    if whole {
        folders = FOLDERS.iter().map(|folder| folder.to_string()).collect();
    }
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    let project = here.ancestors().nth(2).expect("this crate stands in tests/mutants");
    let path = if whole { here.join("survivors.toml") } else { project.join("target/mutants/some.toml") };
    let old = Table::read(&path);

    let mut tree = Tree::copy(project, &folders);
    number_twins(&mut tree);
    eprintln!("{} faults", tree.mutants.len() - 1);
    tree.settle();
    eprintln!("{} compile; building the tests ({} s)", viable(&tree).len(), begun.elapsed().as_secs());
    let trials = Trials::measure(&tree.root, tree.build());
    eprintln!("trying ({} s)", begun.elapsed().as_secs());

    let viable = viable(&tree);
    let tried: Vec<usize> =
        viable.iter().copied().filter(|&number| !again || old.has(&tree.mutants[number])).collect();
    let log = try_all(&tree, &trials, &tried);
    let survived: Vec<_> =
        tried.iter().zip(&log).filter(|(_, by)| by.is_none()).map(|(n, _)| &tree.mutants[*n]).collect();
    let all: Vec<_> = viable.iter().map(|&number| &tree.mutants[number]).collect();
    let table = old.renewed(&folders, &all, &survived);
    table.write(&path);
    println!("{}{} s; the rest is in {}", table.counts(), begun.elapsed().as_secs(), path.display());
    verdict(&table)
}

/// The numbers of the faults that compile.
fn viable(tree: &Tree) -> Vec<usize> {
    (1..tree.mutants.len()).filter(|&number| !tree.dropped[number]).collect()
}

/// Gives each of several equal faults of a function its number.
fn number_twins(tree: &mut Tree) {
    let mut seen: BTreeMap<(String, String, String), usize> = BTreeMap::new();
    for mutant in tree.mutants.iter_mut().skip(1) {
        let key = (mutant.file.clone(), mutant.function.clone(), mutant.mutation.clone());
        let times = seen.entry(key).or_default();
        *times += 1;
        if *times > 1 {
            mutant.mutation = format!("{} #{times}", mutant.mutation);
        }
    }
}

/// What notices each fault.
fn try_all(tree: &Tree, trials: &Trials, tried: &[usize]) -> Vec<Option<String>> {
    let done = AtomicUsize::new(0);
    parallel(tried, |_, &number| {
        let mutant = &tree.mutants[number];
        let by = trials.noticed(number, &module_of(&mutant.file), LIMIT);
        let done = done.fetch_add(1, Ordering::Relaxed) + 1;
        if done.is_multiple_of(200) {
            eprintln!("  {done} of {}", tried.len());
        }
        if by.is_none() {
            eprintln!("unnoticed: {} {}: {}", mutant.file, mutant.function, mutant.mutation);
        }
        by
    })
}

/// How the tests beside a file begin: `physics::drain` for `src/physics/drain.rs`.
fn module_of(file: &str) -> String {
    let path = PathBuf::from(file.trim_start_matches("src/")).with_extension("");
    path.to_string_lossy().trim_end_matches("/mod").replace('/', "::")
}

/// Whether enough is noticed and every survivor has its reason.
fn verdict(table: &Table) -> ExitCode {
    let unlooked = table.survivor.iter().filter(|survivor| survivor.reason.is_empty()).count();
    if unlooked > 0 {
        println!("{unlooked} have no reason yet");
    }
    let least = |name: &str| if name == "all" { LEAST.0 } else { LEAST.1 };
    let enough = table.folder.iter().all(|folder| folder.percent >= least(&folder.name));
    if enough && unlooked == 0 { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}
