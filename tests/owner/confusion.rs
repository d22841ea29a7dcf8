//! Truth against last word: what simulated owners were told at installations with every fault.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::sync::Arc;
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};

use tankhand::app::Library;
use tankhand::owner::{DEFECTS, Danger, Mistakes, Owner};
use tankhand::procedure::Procedure;
use tankhand::quantity::PSI;
use tankhand::record::Grade;

use crate::golden::in_project;
use crate::played::{Case, load_all};

/// Procedures that read tank, switch and line, and the faults among which they are to choose.
const MEASURING: &[&str] =
    &["flush", "yearly", "short-cycling", "set-switch", "commission", "add-tank", "re-open"];
const TANK: &[&str] = &[
    "precharge-low",
    "precharge-high",
    "waterlogged",
    "torn",
    "torn-dry",
    "torn-sealing",
    "stuck",
    "outlet-blocked",
    "valve-shut",
    "water-trapped",
    "plate-wrong",
];
const PRECHARGE: &[&str] =
    &["precharge-low", "precharge-high", "waterlogged", "torn", "torn-dry", "torn-sealing", "air-leak"];
const LINE: &[&str] = &[
    "cut-in-drifted",
    "nipple-plugged",
    "differential-small",
    "cut-out-unreachable",
    "contacts-welded",
    "pump-dead",
    "check-valve",
    "relief-weeps",
    "line-gauge-off",
    "line-gauge-stuck",
];

/// Whether a procedure claims to test for a fault, so that a good last word is dangerous.
pub fn claims(procedure: &str, fault: &str) -> bool {
    let among = |names: &[&str], name: &str| names.contains(&name);
    match procedure {
        "used-tank" => among(&["torn", "torn-dry", "torn-sealing", "water-trapped", "air-leak"], fault),
        "precharge" => among(PRECHARGE, fault),
        "leak" => among(&["house-leak", "check-valve", "relief-weeps"], fault),
        "trouble" => among(
            &["torn", "valve-shut", "contacts-welded", "check-valve", "house-leak", "relief-weeps"],
            fault,
        ),
        "short-cycling" if among(&["house-leak", "switch-far", "tank-small"], fault) => true,
        _ => among(MEASURING, procedure) && (among(TANK, fault) || among(LINE, fault)),
    }
}

/// What became of one case.
#[derive(Clone, Debug)]
pub struct Word {
    pub case: (String, &'static str, u64),
    pub grade: Result<Option<Grade>, String>,
    pub found: Vec<String>,
    pub dangers: Vec<Danger>,
    /// Whether the fault was one of the precharge, and the work set it right.
    pub mended: bool,
}

impl Word {
    /// The last word, as a row counts it.
    fn grade_word(&self) -> &'static str {
        match &self.grade {
            Err(_) => "standstill",
            Ok(None) => "nothing",
            Ok(Some(Grade::Good)) => "good",
            Ok(Some(Grade::Note)) => "note",
            Ok(Some(Grade::Attention)) => "attention",
            Ok(Some(Grade::Act)) => "act",
            Ok(Some(Grade::Stop)) => "stop",
        }
    }

    /// Good, or without a word against anything, though a fault is still there that the procedure claims to
    /// test for.
    pub fn is_dangerous(&self) -> bool {
        let (procedure, fault, _) = &self.case;
        ["good", "nothing"].contains(&self.grade_word()) && claims(procedure, fault) && !self.mended
    }
}

/// Every fault in every shipped procedure, for each of these seeds; all processors share the work.
pub fn words(seeds: std::ops::Range<u64>, mistakes: fn(u64) -> Mistakes) -> Vec<Word> {
    let procedures = load_all(&Library::default());
    let faults = || std::iter::once(None).chain(DEFECTS.iter().map(Some));
    let cases: Vec<Case<'_>> = procedures
        .iter()
        .flat_map(|(name, procedure)| faults().map(move |fault| (name, procedure, fault)))
        .flat_map(|(name, procedure, fault): (&String, &Arc<Procedure>, _)| {
            seeds.clone().map(move |seed| Case { name, procedure, fault, seed, mistakes: mistakes(seed) })
        })
        .collect();
    let (next, words) = (AtomicUsize::new(0), Mutex::new(Vec::new()));
    std::thread::scope(|scope| {
        for _ in 0..std::thread::available_parallelism().map_or(1, usize::from) {
            scope.spawn(|| {
                while let Some(case) = cases.get(next.fetch_add(1, Ordering::Relaxed)) {
                    let word = word(case);
                    words.lock().unwrap().push(word);
                }
            });
        }
    });
    let mut words = words.into_inner().unwrap();
    words.sort_by(|a: &Word, b: &Word| a.case.cmp(&b.case));
    words
}

fn word(case: &Case<'_>) -> Word {
    let (done, owner) = case.perform();
    let fault = case.fault.map_or("none", |fault| fault.name);
    Word {
        case: (case.name.to_string(), fault, case.seed),
        grade: done.as_ref().map(|done| done.run.grade()).map_err(ToString::to_string),
        found: done.map(|done| done.run.worst_names()).unwrap_or_default(),
        dangers: owner.dangers().to_vec(),
        mended: ["precharge-low", "precharge-high", "waterlogged"].contains(&fault) && is_charged(&owner),
    }
}

/// Whether the tank's precharge is now a little below cut-in.
fn is_charged(owner: &Owner) -> bool {
    let plant = owner.plant();
    let gap = (plant.site().switch.cut_in - plant.precharge(0)) / PSI;
    (0.0..6.0).contains(&gap)
}

/// How many owners of each procedure and fault were told what, as TOML: a table a procedure, a line a fault.
fn table(who: &str, words: &[Word]) -> String {
    let mut rows: BTreeMap<(&str, &str), Vec<&Word>> = BTreeMap::new();
    for word in words {
        rows.entry((&word.case.0, word.case.1)).or_default().push(word);
    }
    let (mut text, mut last) = (String::new(), "");
    for ((procedure, fault), of) in rows {
        if procedure != last {
            writeln!(text, "\n[{who}.{procedure}]").unwrap();
            last = procedure;
        }
        let told = counted(of.iter().map(|word| word.grade_word().to_string()));
        let found = counted(of.iter().flat_map(|word| word.found.clone()));
        let dangerous = of.iter().filter(|word| word.is_dangerous()).count();
        let claimed = claims(procedure, fault);
        let counts = format!("claimed = {claimed}, dangerous = {dangerous}, told = {told}, found = {found}");
        writeln!(text, "{fault} = {{ {counts} }}").unwrap();
    }
    text
}

/// How often each name comes, as an inline table.
fn counted(names: impl Iterator<Item = String>) -> String {
    let mut counts: BTreeMap<String, usize> = BTreeMap::new();
    names.for_each(|name| *counts.entry(name).or_default() += 1);
    let pairs: Vec<String> = counts.iter().map(|(name, n)| format!("'{name}' = {n}")).collect();
    format!("{{ {} }}", pairs.join(", "))
}

#[test]
#[ignore = "writes tests/owner/confusion.toml: TANKHAND_OWNERS (8) owners of every fault in every procedure, twice"]
fn confusion_table() {
    let owners = std::env::var("TANKHAND_OWNERS").map_or(8, |owners| owners.parse().unwrap());
    let mut text = format!(
        "# What {owners} simulated owners of each fault were told in each procedure. Made by\n\
         #     cargo test --locked --test owner confusion_table -- --ignored\n\
         # `told` counts the grades of last words, `found` the names of what weighed worst. A good word is dangerous\n\
         # where the procedure claims to test for the fault, and left it.\n\n"
    );
    let without: fn(u64) -> Mistakes = |_| Mistakes::default();
    for (who, mistakes) in [("without_mistakes", without), ("with_everyday_mistakes", Mistakes::everyday)] {
        let words = words(100..100 + owners, mistakes);
        let counted = |which: &dyn Fn(&Word) -> bool| words.iter().filter(|word| which(word)).count();
        let claimed = counted(&|word| claims(&word.case.0, word.case.1));
        let (dangerous, stood) = (counted(&Word::is_dangerous), counted(&|word| word.grade.is_err()));
        let all = words.len();
        writeln!(
            text,
            "# {who}: {all} runs, {claimed} with a fault that was claimed; {dangerous} good words on it; {stood} came to no \
             end."
        )
        .unwrap();
        text += &table(who, &words);
    }
    std::fs::write(in_project("tests/owner/confusion.toml"), text).unwrap();
}
