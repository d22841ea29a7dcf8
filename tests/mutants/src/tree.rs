//! The copied tree, its faults, and the compiler's word on them.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::ops::Range;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use serde_json::Value;

use crate::examples;
use crate::plant::plant;
use crate::sites::{Mutant, Site, sites, test_modules};

/// What is not copied, and left alone where it is in the copy.
const LEFT_OUT: &[&str] = &["target", ".git", "mutants", "mutant.rs", "examples_of_docs.rs"];

/// The test programs beside the unit tests; those that draw reports or start the program itself are
/// left out, for they are slow and notice little that these do not.
const PROGRAMS: &[&str] = &[
    "published",
    "language",
    "quantities",
    "engine",
    "answering",
    "errors",
    "uncertainty",
    "kinds",
    "advice",
    "rounds",
    "explain",
    "record",
    "reordered",
    "from_paper",
    "diagnosis",
    "owner",
    "oracles",
    "plan",
    "shipped",
    "transcripts",
];

/// By file: its text, and which of its faults do not compile.
type Known = BTreeMap<String, (String, Vec<usize>)>;

/// A source file with its sites.
struct Source {
    name: String,
    text: String,
    sites: Vec<Site>,
    /// The number of its first mutant.
    first: usize,
    /// Where its faults came to stand: number, own bytes, bytes of the site.
    places: Vec<(usize, Range<usize>, Range<usize>)>,
}

/// The project, copied, with faults in it.
pub struct Tree {
    /// Where the copy is.
    pub root: PathBuf,
    /// Where it is built.
    pub target: PathBuf,
    sources: Vec<Source>,
    /// All faults; number 0 is none.
    pub mutants: Vec<Mutant>,
    /// Which are no Rust that compiles.
    pub dropped: Vec<bool>,
}

impl Tree {
    /// Copies the project and finds the sites in `folders` below its `src`.
    pub fn copy(project: &Path, folders: &[String]) -> Tree {
        let root = project.join("target/mutants/tree");
        let target = project.join("target/mutants/build");
        let mut tree =
            Tree { root, target, sources: Vec::new(), mutants: vec![none()], dropped: vec![false] };
        for folder in folders {
            tree.read(project, Path::new("src").join(folder));
        }
        let planted: BTreeSet<PathBuf> =
            tree.sources.iter().map(|source| tree.root.join(&source.name)).collect();
        mirror(project, &tree.root, &planted);
        let lib = fs::read_to_string(project.join("src/lib.rs")).expect("src/lib.rs is there");
        write(&tree.root.join("src/lib.rs"), format!("{lib}\n#[doc(hidden)]\npub mod mutant;\n").as_bytes());
        write(&tree.root.join("src/mutant.rs"), include_bytes!("../switch.rs"));
        let sources = tree.sources.iter().map(|source| (source.name.as_str(), source.text.as_str()));
        let examples = examples::program(sources);
        write(&tree.root.join("tests").join(examples::NAME).with_extension("rs"), examples.as_bytes());
        tree.remember();
        tree
    }

    /// Finds the sites of a folder or file, what is only for tests left out.
    fn read(&mut self, project: &Path, below: PathBuf) {
        let path = project.join(&below);
        if path.is_file() {
            let text = fs::read_to_string(&path).expect("source is text");
            let name = below.to_string_lossy().into_owned();
            let sites = sites(&name, &text);
            let first = self.mutants.len();
            self.mutants.extend(sites.iter().flat_map(|site| site.mutants.clone()));
            self.dropped.resize(self.mutants.len(), false);
            self.sources.push(Source { name, text, sites, first, places: Vec::new() });
            return;
        }
        let mut own = fs::read_to_string(path.join("mod.rs")).unwrap_or_default();
        if let Ok(text) = fs::read_to_string(path.with_extension("rs")) {
            self.read(project, below.with_extension("rs"));
            own = text;
        }
        let left_out = test_modules(&own);
        for entry in names(&path) {
            let stem = Path::new(&entry).file_stem().unwrap_or_default().to_string_lossy().into_owned();
            let has_folder = entry.ends_with(".rs") && path.join(&stem).is_dir();
            if !left_out.contains(&stem) && !has_folder {
                self.read(project, below.join(entry));
            }
        }
    }

    /// Takes over what did not compile the last time, for files that have not changed since.
    fn remember(&mut self) {
        let text = fs::read_to_string(self.target.with_file_name("dropped.json")).unwrap_or_default();
        let known: Known = serde_json::from_str(&text).unwrap_or_default();
        for source in &self.sources {
            let Some((text, dropped)) = known.get(&source.name) else { continue };
            if *text == source.text {
                dropped.iter().for_each(|at| self.dropped[source.first + at] = true);
            }
        }
    }

    /// Notes what does not compile.
    fn note(&self) {
        let known = self.sources.iter().map(|source| {
            let count: usize = source.sites.iter().map(|site| site.mutants.len()).sum();
            let dropped = (0..count).filter(|at| self.dropped[source.first + at]).collect();
            (source.name.clone(), (source.text.clone(), dropped))
        });
        let text = serde_json::to_string(&known.collect::<Known>()).expect("a map is JSON");
        write(&self.target.with_file_name("dropped.json"), text.as_bytes());
    }

    /// Writes all files with the faults that are still in.
    fn write(&mut self) {
        for source in &mut self.sources {
            let planted = plant(&source.text, &source.sites, source.first, &self.dropped);
            write(&self.root.join(&source.name), planted.text.as_bytes());
            source.places = planted.places;
        }
    }

    /// Drops what does not compile until the rest does.
    pub fn advice(&mut self) {
        loop {
            self.write();
            let output = self.cargo(&["check", "--lib"]);
            let mut new = BTreeSet::new();
            for error in errors(&output) {
                let found = self.blamed(&error);
                assert!(!found.is_empty(), "no fault stands where the compiler found one: {error:#}");
                new.extend(found);
            }
            if new.is_empty() {
                return self.note();
            }
            eprintln!("  {} do not compile", new.len());
            new.iter().for_each(|number| self.dropped[*number] = true);
        }
    }

    /// The faults that an error lies in, else those of the site around it.
    fn blamed(&self, error: &Value) -> Vec<usize> {
        let mut spans = Vec::new();
        spans_of(error, &mut spans);
        for own in [true, false] {
            for (file, at) in &spans {
                let Some(source) = self.sources.iter().find(|source| source.name == *file) else { continue };
                let around = source.places.iter().filter_map(|(number, bytes, whole)| {
                    let range = if own { bytes } else { whole };
                    let within = range.start <= at.start && at.end <= range.end;
                    within.then_some((range.len(), *number))
                });
                let around: Vec<(usize, usize)> = around.collect();
                let least = around.iter().map(|(length, _)| *length).min();
                let least = around.into_iter().filter(|(length, _)| Some(*length) == least);
                let least: Vec<usize> = least.map(|(_, number)| number).collect();
                if !least.is_empty() {
                    return least;
                }
            }
        }
        Vec::new()
    }

    /// Runs cargo on the copy; what it says in JSON.
    fn cargo(&self, arguments: &[&str]) -> Vec<Value> {
        let mut command = Command::new("cargo");
        command.args(arguments).args(["--offline", "--message-format=json"]);
        command.arg("--target-dir").arg(&self.target).current_dir(&self.root);
        // What a little care in building takes, it gives back in the trials.
        command.env("CARGO_TERM_COLOR", "never").env("CARGO_INCREMENTAL", "0");
        command.env("CARGO_PROFILE_TEST_DEBUG", "0").env("CARGO_PROFILE_TEST_OPT_LEVEL", "2");
        command.stderr(Stdio::inherit());
        let output = command.output().expect("cargo runs");
        let text = String::from_utf8_lossy(&output.stdout).into_owned();
        text.lines().filter_map(|line| serde_json::from_str(line).ok()).collect()
    }

    /// Builds the test programs: name and path of each.
    pub fn build(&self) -> Vec<(String, PathBuf)> {
        let named = PROGRAMS.iter().chain([&examples::NAME]).flat_map(|name| ["--test", *name]);
        let arguments: Vec<&str> = ["test", "--no-run", "--lib"].into_iter().chain(named).collect();
        let messages = self.cargo(&arguments);
        let found: Vec<Value> = errors(&messages);
        assert!(found.is_empty(), "the copy does not build: {found:#?}");
        let programs = messages.iter().filter(|message| message["profile"]["test"] == true);
        let programs = programs.filter_map(|message| {
            let name = message["target"]["name"].as_str()?.to_string();
            Some((name, PathBuf::from(message["executable"].as_str()?)))
        });
        let programs: Vec<(String, PathBuf)> = programs.collect();
        assert!(programs.len() > PROGRAMS.len(), "the tests of the copy do not build: {programs:?}");
        programs
    }
}

fn none() -> Mutant {
    let empty = String::new;
    Mutant { file: empty(), function: empty(), mutation: empty(), text: empty() }
}

fn errors(messages: &[Value]) -> Vec<Value> {
    let errors = messages.iter().map(|message| &message["message"]);
    let errors = errors.filter(|error| error["level"] == "error");
    errors.filter(|error| error["spans"].as_array().is_some_and(|spans| !spans.is_empty())).cloned().collect()
}

/// File and bytes of all spans of an error, those it is about first.
fn spans_of(error: &Value, into: &mut Vec<(String, Range<usize>)>) {
    let none = Vec::new();
    let mut spans: Vec<&Value> = error["spans"].as_array().unwrap_or(&none).iter().collect();
    spans.sort_by_key(|span| span["is_primary"] != true);
    for span in spans {
        let byte = |key: &str| usize::try_from(span[key].as_u64().unwrap_or(0)).unwrap_or(0);
        let file = span["file_name"].as_str().unwrap_or_default().to_string();
        into.push((file, byte("byte_start")..byte("byte_end")));
    }
    for child in error["children"].as_array().unwrap_or(&none) {
        spans_of(child, into);
    }
}

/// Writes a file unless it is so already, which would have it compiled anew.
fn write(path: &Path, bytes: &[u8]) {
    if fs::read(path).ok().as_deref() != Some(bytes) {
        let told = |error| panic!("{}: {error}", path.display());
        path.parent().map_or(Ok(()), fs::create_dir_all).unwrap_or_else(told);
        fs::write(path, bytes).unwrap_or_else(told);
    }
}

/// The names in a folder, in order.
fn names(folder: &Path) -> BTreeSet<String> {
    let entries = fs::read_dir(folder).into_iter().flatten();
    entries.filter_map(|entry| Some(entry.ok()?.file_name().to_string_lossy().into_owned())).collect()
}

/// Makes a folder the same as another, but for what is left out and what is written otherwise.
fn mirror(from: &Path, to: &Path, otherwise: &BTreeSet<PathBuf>) {
    let ours = |names: BTreeSet<String>| names.into_iter().filter(|name| !LEFT_OUT.contains(&name.as_str()));
    let wanted: BTreeSet<String> = ours(names(from)).collect();
    for gone in ours(names(to)).filter(|name| !wanted.contains(name)) {
        let gone = to.join(gone);
        let _ = if gone.is_dir() { fs::remove_dir_all(&gone) } else { fs::remove_file(&gone) };
    }
    for name in wanted {
        let (from, to) = (from.join(&name), to.join(&name));
        if from.is_dir() {
            mirror(&from, &to, otherwise);
        } else if !otherwise.contains(&to) && name != "lib.rs" {
            write(&to, &fs::read(&from).expect("a file is readable"));
        }
    }
}
