//! Puts small faults into a copy of the program, one at a time, and tells which no test notices.
//!
//! All faults are compiled in at once, each behind a switch that one environment variable turns; so
//! the program is built once, however many there are. What does not compile is taken out by the
//! compiler's own errors. Each test is run alone to see which faults it comes by, and each fault is
//! tried with those tests only. The table beside this crate says what was found.
//!
//!     cargo run --manifest-path tests/mutants/Cargo.toml -- [--again] [--minutes=N] [FOLDER…]
//!
//! Faults are tried in an order drawn by chance, once and for all; with `--minutes` the trials end
//! after so long, and what was tried by then is a fair sample. `--again` believes what an earlier run
//! here found to be noticed (or, where there was none, what the table leaves out) and tries the rest.

mod bodies;
mod examples;
mod notes;
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

use notes::Notes;
use sites::Mutant;
use table::Table;
use tree::Tree;
use trials::{Trials, parallel};

/// What is tried when no folder is named.
const FOLDERS: &[&str] = &["physics", "quantity", "lang", "record", "engine", "procedure/prove"];
/// No more tests than this are run for one fault: with each of them those of a few seconds, then, with what
/// these have not noticed, the slow ones.
const LIMITS: [Duration; 2] = [Duration::from_secs(3), Duration::from_secs(9)];
/// The share that must be noticed: of all, and of each folder; percent.
const LEAST: (f64, f64) = (90.0, 85.0);

fn main() -> ExitCode {
    let begun = Instant::now();
    let call = Call::read();
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    let project = here.ancestors().nth(2).expect("this crate stands in tests/mutants");
    let path =
        if call.whole { here.join("survivors.toml") } else { project.join("target/mutants/some.toml") };
    let old = Table::read(&path);

    let mut tree = Tree::copy(project, &call.folders);
    number_twins(&mut tree);
    eprintln!("{} faults", tree.mutants.len() - 1);
    tree.advice();
    eprintln!("{} compile; building the tests ({} s)", viable(&tree).len(), begun.elapsed().as_secs());
    let trials = Trials::measure(&tree.root, tree.build());
    let notes = Notes::open(&project.join("target/mutants/noticed.txt"), call.again);
    let left = Notes::open(&project.join("target/mutants/left_for_slow_tests.txt"), call.again);
    eprintln!("trying ({} s)", begun.elapsed().as_secs());

    let results = try_all(
        &tree,
        &trials,
        call.limit,
        |mutant| notes.has(mutant) || call.again && notes.is_empty() && !old.has(mutant),
        &notes,
        &left,
    );
    let all: Vec<_> = viable(&tree).into_iter().map(|number| &tree.mutants[number]).collect();
    let tried: Vec<(&Mutant, bool)> =
        results.iter().map(|(n, noticed)| (&tree.mutants[*n], *noticed)).collect();
    let table = old.renewed(&call.folders, &all, &tried);
    table.write(&path);
    println!("{}{} s; the rest is in {}", table.counts(), begun.elapsed().as_secs(), path.display());
    verdict(&table)
}

/// What was asked for.
struct Call {
    again: bool,
    whole: bool,
    limit: Duration,
    folders: Vec<String>,
}

impl Call {
    fn read() -> Call {
        let (options, mut folders): (Vec<String>, Vec<String>) =
            std::env::args().skip(1).partition(|argument| argument.starts_with("--"));
        let minutes = options.iter().find_map(|option| option.strip_prefix("--minutes="));
        let minutes = minutes.map_or(100_000, |text| text.parse().expect("minutes are a number"));
        let whole = folders.is_empty();
        if whole {
            folders = FOLDERS.iter().map(|folder| folder.to_string()).collect();
        }
        let again = options.iter().any(|option| option == "--again");
        Call { again, whole, limit: Duration::from_secs(60 * minutes), folders }
    }
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

/// Tries the faults that compile, and tells which are noticed; those `known` to be are not tried.
fn try_all(
    tree: &Tree,
    trials: &Trials,
    limit: Duration,
    known: impl Fn(&Mutant) -> bool + Sync,
    notes: &Notes,
    left: &Notes,
) -> Vec<(usize, bool)> {
    let begun = Instant::now();
    let mut order = viable(tree);
    // Fibonacci hashing: an order without rhyme, and always the same.
    order.sort_by_key(|&number| (number as u32).wrapping_mul(2_654_435_769));
    let mut tried = BTreeMap::new();
    for tests in LIMITS {
        let brief = tests == LIMITS[0];
        let done = AtomicUsize::new(0);
        let results = parallel(&order, |_, &number| {
            let mutant = &tree.mutants[number];
            if begun.elapsed() > limit {
                return None;
            }
            if known(mutant) {
                return Some((number, true));
            }
            if brief && left.has(mutant) {
                return Some((number, false));
            }
            let noticed = trials.notices(number, &module_of(&mutant.file), tests);
            let done = done.fetch_add(1, Ordering::Relaxed) + 1;
            if done.is_multiple_of(100) {
                eprintln!("  {done} tried ({} s)", begun.elapsed().as_secs());
            }
            if noticed {
                notes.add(mutant);
            } else if brief {
                left.add(mutant);
            } else {
                eprintln!("unnoticed: {} {}: {}", mutant.file, mutant.function, mutant.mutation);
            }
            Some((number, noticed))
        });
        tried.extend(results.into_iter().flatten());
        order.retain(|number| tried.get(number) == Some(&false));
    }
    tried.into_iter().collect()
}

/// How the tests beside a file begin: `physics::drain` for `src/physics/drain.rs`.
fn module_of(file: &str) -> String {
    let path = PathBuf::from(file.trim_start_matches("src/")).with_extension("");
    path.to_string_lossy().trim_end_matches("/mod").replace('/', "::")
}

/// Whether enough is noticed and every survivor has its reason.
fn verdict(table: &Table) -> ExitCode {
    let whole = table.folder.iter().all(|folder| folder.tried == folder.viable);
    let unlooked = table.survivor.iter().filter(|survivor| survivor.reason.is_empty()).count();
    if unlooked > 0 {
        println!("{unlooked} have no reason yet");
    }
    let least = |name: &str| if name == "all" { LEAST.0 } else { LEAST.1 };
    let enough = table.folder.iter().all(|folder| folder.percent >= least(&folder.name));
    if enough && whole && unlooked == 0 { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}
