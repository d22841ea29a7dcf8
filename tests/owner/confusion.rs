//! Truth against last word: what simulated owners were told at installations with every fault.

use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};

use tankhand::app::Library;
use tankhand::owner::{DEFECTS, Danger, Defect, Household, Mistakes, Owner, defect};
use tankhand::quantity::PSI;
use tankhand::record::{Entry, ForNow, Grade};

use crate::contradiction::contradictions;
use crate::named::Named;
use crate::performance::Performance;
use crate::played::{Case, load_all, names};

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

/// Whether a procedure claims to test for a fault, or for one of a pair, so that a good last word is dangerous.
pub fn claims(procedure: &str, faults: &str) -> bool {
    faults.split(" + ").any(|fault| claims_one(procedure, fault))
}

fn claims_one(procedure: &str, fault: &str) -> bool {
    let among = |names: &[&str], name: &str| names.contains(&name);
    match procedure {
        "used-tank" => among(&["torn", "torn-dry", "torn-sealing", "water-trapped", "air-leak"], fault),
        "precharge" => among(PRECHARGE, fault),
        "plain-tank" => among(&["pump-dead", "contacts-welded", "cut-out-unreachable"], fault),
        "prime" => fault == "prime-lost",
        "leak" => among(&["house-leak", "check-valve", "relief-weeps"], fault),
        "trouble" => among(
            &["torn", "valve-shut", "contacts-welded", "check-valve", "house-leak", "relief-weeps"],
            fault,
        ),
        // Nothing is caught in a bucket there.
        "re-open" if among(&["stuck", "outlet-blocked", "plate-wrong", "water-trapped"], fault) => false,
        "short-cycling" if among(&["house-leak", "switch-far", "tank-small"], fault) => true,
        _ => among(MEASURING, procedure) && (among(TANK, fault) || among(LINE, fault)),
    }
}

/// What a finding is called by which nothing more is wrong.
pub const GOOD_NAMES: [&str; 2] = ["no fault found", "no other fault found"];

/// What became of one case.
#[derive(Clone, Debug)]
pub struct Word {
    pub case: (String, String, u64),
    pub grade: Result<Option<Grade>, String>,
    pub found: Vec<String>,
    pub dangers: Vec<Danger>,
    pub contradictions: Vec<String>,
    /// What a diagnosis said of the causes, where one was made.
    pub diagnosed: Option<Named>,
    /// Whether the tank was to be left as it is, as a working answer or because all was good.
    pub accepted: bool,
    /// Faults that the work set right, whether they were there or not.
    pub mended: Vec<&'static str>,
}

impl Word {
    /// The last word, as a row counts it.
    pub fn grade_word(&self) -> &'static str {
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
        let (procedure, faults, _) = &self.case;
        let mended = |fault: &str| self.mended.contains(&fault);
        ["good", "nothing"].contains(&self.grade_word())
            && faults.split(" + ").any(|fault| claims_one(procedure, fault) && !mended(fault))
    }
}

/// Faults that occur together, and faults at installations of another kind. Judgement.
const PAIRS: &[[&str; 2]] = &[
    ["precharge-low", "cut-in-drifted"],
    ["precharge-high", "cut-in-drifted"],
    ["precharge-low", "house-leak"],
    ["waterlogged", "nipple-plugged"],
    ["torn", "check-valve"],
    ["air-leak", "tank-small"],
    ["plain-tank", "pump-dead"],
    ["plain-tank", "contacts-welded"],
    ["plain-tank", "cut-out-unreachable"],
    ["prime-lost", "prime-runs-back"],
];

/// What is wrong at the installations that are performed at: nothing, each fault, and pairs that occur together.
pub fn wrongs() -> Vec<Vec<&'static Defect>> {
    let single = DEFECTS.iter().map(|fault| vec![fault]);
    let pairs = PAIRS.iter().map(|pair| pair.iter().filter_map(|name| defect(name)).collect());
    std::iter::once(Vec::new()).chain(single).chain(pairs).collect()
}

/// How owners and installations are drawn.
#[derive(Clone, Copy)]
pub struct Law {
    pub mistakes: fn(u64) -> Mistakes,
    /// What is otherwise than the diagnosis takes it to be.
    pub otherwise: fn(&mut Household),
}

/// Owners who make no mistakes, at installations as they are drawn.
pub const PLAIN: Law = Law { mistakes: |_| Mistakes::default(), otherwise: |_| {} };

/// Every fault in every shipped procedure, and pairs where they are claimed, for each of these seeds.
pub fn words(seeds: std::ops::Range<u64>) -> Vec<Word> {
    played(&wrongs(), seeds, PLAIN, |procedure, faults| !faults.contains('+') || claims(procedure, faults))
}

/// Each of these kinds of installations in every shipped procedure that it is wanted in; all processors share
/// the work.
pub fn played(
    wrongs: &[Vec<&'static Defect>],
    seeds: std::ops::Range<u64>,
    law: Law,
    filter: fn(&str, &str) -> bool,
) -> Vec<Word> {
    let procedures = load_all(&Library::default());
    let mut cases: Vec<Case<'_>> = Vec::new();
    for (name, procedure) in &procedures {
        for faults in wrongs.iter().filter(|faults| filter(name, &names(faults))) {
            let (mistakes, otherwise) = (law.mistakes, law.otherwise);
            let case = |seed| Case { name, procedure, faults, seed, mistakes: mistakes(seed), otherwise };
            cases.extend(seeds.clone().map(case));
        }
    }
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
    let claimed: Vec<&'static Defect> =
        case.faults.iter().copied().filter(|fault| claims_one(case.name, fault.name)).collect();
    let contradictions = done.as_ref().map_or(Vec::new(), |done| contradictions(done, &owner));
    Word {
        contradictions,
        diagnosed: done
            .as_ref()
            .ok()
            .and_then(|done| Named::of(done, owner.household(), [case.faults, &claimed])),
        accepted: done.as_ref().is_ok_and(is_accepted),
        case: (case.name.to_string(), names(case.faults), case.seed),
        grade: done.as_ref().map(|done| done.run.grade()).map_err(ToString::to_string),
        found: done.map(|done| done.run.worst_names()).unwrap_or_default(),
        dangers: owner.dangers().to_vec(),
        mended: mended(&owner),
    }
}

/// Whether the newest diagnosis was good or said to accept the tank for now.
fn is_accepted(done: &Performance) -> bool {
    let diagnosed: Vec<&Entry> = done.entries.iter().filter(|entry| entry.take.is_some()).collect();
    let newest = diagnosed.last().map(|entry| &entry.step);
    let of = diagnosed.iter().filter(|entry| Some(&entry.step) == newest);
    let good = |entry: &Entry| entry.given.as_deref().is_some_and(|name| GOOD_NAMES.contains(&name));
    of.into_iter().any(|entry| good(entry) || entry.for_now == Some(ForNow::Accept))
}

/// Which faults are mended: those of the precharge once it is a little below cut-in, and with them a label that
/// is off, as the precharge no longer goes by it; those of the switch once it works as it should.
fn mended(owner: &Owner) -> Vec<&'static str> {
    let plant = owner.plant();
    let [cut_in, cut_out] = plant.switch_points();
    let gap = (cut_in - plant.precharge(0)) / PSI;
    let mut mended = Vec::new();
    if (0.0..8.0).contains(&gap) {
        mended.extend(["precharge-low", "precharge-high", "waterlogged", "cut-in-drifted"]);
    }
    if cut_out - cut_in >= 15.0 * PSI {
        mended.push("differential-small");
    }
    if plant.is_primed() {
        mended.push("prime-lost");
    }
    mended
}
