//! Tests over the text of this folder: every formula says its range and source, has an example
//! that runs, is held against another source and has its derivatives checked.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// What is held against no publication and no other means of working it out, and why.
const NOT_COMPARED: &[(&str, &str)] = &[
    ("flushes_to_go", "its line is the one checked against NIST StRD Norris; a true decay is found again"),
    ("flushes_to_go_as_read", "as flushes_to_go"),
    ("stabilization", "a comparison of readings, no figure"),
    ("common_slope_trend", "one stretch is a trend, which is compared; more are tried on true lines"),
    ("learn_adjusters", "a proposal of this project; true adjusters are found again"),
    ("one_sided_at", "as one_sided and one_sided_of_few"),
    ("uncertainty_between", "one_sided_limit of a difference"),
    ("lowest_start", "tests/calibration holds it against simulated switches"),
];

/// What `derivatives` does not take the sensitivities of, and why.
const NOT_DERIVED: &[(&str, &str)] = &[
    ("one_sided", "statistics: a quantile of plain numbers"),
    ("one_sided_at", "statistics: a quantile of plain numbers"),
    ("one_sided_of_few", "statistics: a quantile of plain numbers"),
    ("one_sided_limit", "statistics: gives how far a value may be off"),
    ("uncertainty_between", "statistics: gives how far values may be off"),
    ("flushes_to_go", "statistics: its own doubt is held against numerical derivatives beside it"),
    ("flushes_to_go_as_read", "statistics: its own doubt is held against numerical derivatives beside it"),
    ("stabilization", "a comparison of readings"),
    ("least_run_time", "a step: it has no slope"),
    ("trend", "statistics: readings bring their own doubt"),
    ("common_slope_trend", "statistics: readings bring their own doubt"),
    ("band_exit", "statistics: readings bring their own doubt"),
    ("joint", "a table of metals"),
    ("learn_adjusters", "statistics: gives worths with their own doubt"),
    ("lowest_start", "statistics: a prediction with its own doubt"),
    ("next_turns", "turns come in quarters: nothing to derive"),
    ("look_again", "a judgement of this project, no formula"),
];

/// What stands for sentence, formula, range and source where `formula!` gives them.
const BY_MACRO: &str = "Range. Source.";

/// The doc comment above each free public function of a source text, with its name.
fn documented_functions(text: &str) -> Vec<(String, String)> {
    let mut found = Vec::new();
    let mut comment = String::new();
    for line in text.lines() {
        if line.starts_with("#[doc = ") {
            comment += BY_MACRO;
        } else if let Some(rest) = line.strip_prefix("///") {
            comment += rest.trim();
            comment.push('\n');
        } else if let Some(rest) = line.strip_prefix("pub fn ") {
            let name = rest.chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect();
            found.push((name, std::mem::take(&mut comment)));
        } else {
            comment.clear();
        }
    }
    found
}

fn below_the_project(folder: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(folder)
}

/// The text of every Rust file in a folder, by file name.
fn texts(folder: &str) -> BTreeMap<String, String> {
    let entries = std::fs::read_dir(below_the_project(folder)).unwrap();
    let rust =
        entries.map(|entry| entry.unwrap().path()).filter(|path| path.extension() == Some("rs".as_ref()));
    rust.map(|path| {
        (path.file_name().unwrap().to_string_lossy().into_owned(), std::fs::read_to_string(&path).unwrap())
    })
    .collect()
}

/// Name and doc comment of each formula.
fn formulas() -> Vec<(String, String)> {
    let found: Vec<_> = texts("src/physics").values().flat_map(|text| documented_functions(text)).collect();
    assert!(found.len() >= 50, "only {} formulas found", found.len());
    found
}

/// The words that stand before an opening parenthesis: what a text calls.
fn calls(text: &str) -> Vec<&str> {
    let word = |c: char| c.is_alphanumeric() || c == '_';
    text.split('(').map(|before| &before[before.trim_end_matches(word).len()..]).collect()
}

/// The formulas whose sensitivities `derivatives` compares, by themselves or laid out anew.
fn derived(text: &str) -> Vec<&str> {
    let (_, block) = text.split_once("sensitivities! {\n").unwrap();
    let (block, _) = block.split_once("\n        }\n").unwrap();
    let mut found: Vec<&str> = block.lines().filter_map(|line| line.trim().split('(').next()).collect();
    for laid_out in text.split("\nfn ").skip(1) {
        let name = laid_out.split(['<', '(']).next().unwrap();
        let body = laid_out.split("\n}\n").next().unwrap();
        if found.contains(&name) {
            found.extend(calls(body));
        }
    }
    found
}

/// Every formula is either among those that are checked or excused with a reason, and none is both.
fn each_is_checked_or_excused(checked: &[&str], excused: &[(&str, &str)], what: &str) {
    let formulas = formulas();
    let is_excused = |name: &str| excused.iter().any(|(excused, _)| *excused == name);
    for (name, _) in &formulas {
        let checked = checked.contains(&name.as_str());
        assert!(checked != is_excused(name), "{name}: {what}: checked {checked}, excused {}", !checked);
    }
    for (name, reason) in excused {
        assert!(
            formulas.iter().any(|(formula, _)| formula == name) && !reason.is_empty(),
            "{name} is no formula"
        );
    }
}

#[test]
fn every_formula_is_held_against_another_source() {
    let others: Vec<String> = ["tests/published", "tests/oracles"]
        .into_iter()
        .flat_map(|folder| texts(folder).into_values())
        .collect();
    let called: Vec<&str> = others.iter().flat_map(|text| calls(text)).collect();
    each_is_checked_or_excused(&called, NOT_COMPARED, "in tests/published or tests/oracles");
}

#[test]
fn every_formula_has_its_derivatives_checked() {
    let text = &texts("src/physics")["derivatives.rs"];
    each_is_checked_or_excused(&derived(text), NOT_DERIVED, "in derivatives.rs");
}

#[test]
fn every_formula_says_its_range_its_source_and_an_example() {
    for (name, comment) in formulas() {
        assert!(comment.contains("```"), "{name} has no example");
        // One that only adds the reason to another points there.
        let points_elsewhere = comment.starts_with("[`");
        let sourced = comment.contains("ource") || comment.contains("A proposal, assembled from");
        assert!(points_elsewhere || (comment.contains("Range") && sourced), "{name}: {comment}");
    }
}

/// What a function of the language says of a formula of this folder it takes from there; a text of its own it
/// has only for plain arithmetic.
#[test]
fn what_is_said_of_a_formula_stands_once() {
    let lending = texts("src/procedure/functions");
    let lent: Vec<&str> = lending.values().flat_map(|text| calls(text)).collect();
    for (name, comment) in formulas() {
        let by_macro = comment.contains(BY_MACRO);
        let points_elsewhere = comment.starts_with("[`");
        assert!(!lent.contains(&name.as_str()) || by_macro || points_elsewhere, "{name} wants `formula!`");
        assert!(!by_macro || !comment.contains("Source:"), "{name} tells its source twice");
    }
    let own = lending.values().filter(|text| text.contains("source: ")).count();
    assert_eq!(own, 1, "texts of arithmetic and definitions are made in helpers.rs");
}
