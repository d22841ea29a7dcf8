//! What a record holds: its header, its entries, its result.

use super::for_now::ForNow;
use super::kept_text::KeptText;
use super::kind::{EntryKind, EntryRole};
use super::mended::Mended;
use super::practiced::Practiced;
use crate::clock::{BootTime, Moment};
use crate::quantity::{Truth, Units, Verdict};

/// What stands at the head of a record.
#[derive(Clone, Debug, PartialEq)]
pub struct Header {
    /// The run's name, such as `20310405-0901-flush`; also the stem of the file's name.
    pub id: String,
    /// The program that wrote it, with its version.
    pub program: String,
    /// The procedure's name.
    pub procedure: String,
    /// The procedure's title.
    pub title: String,
    /// When the run began.
    pub started: Moment,
    /// The units the household reads.
    pub units: Units,
    /// The installation's name, when there is a system file.
    pub site: Option<String>,
    /// The tank worked on, when one was named.
    pub tank: Option<String>,
    /// The tanks that are taken one by one, in their order; none where the run is about one tank.
    pub tanks: Vec<String>,
    /// An invented installation played for show.
    pub demo: bool,
    /// A practice at a simulated installation: no record of a real one.
    pub practice: Option<Practiced>,
    /// When the run was typed in from a sheet filled in by hand; `None` when it was recorded as
    /// the work went on.
    pub transcribed: Option<Moment>,
    /// The needs of shipped steps that the owner's files leave out, each with its reason.
    pub without: Vec<String>,
    /// What is missing, when it was made of the whole parts of a damaged record.
    pub mended: Option<Mended>,
    /// The texts the run was made with.
    pub texts: Vec<KeptText>,
}

/// Of which phase of the work an answer tells.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Phase {
    /// How things were at an earlier visit.
    Before,
    /// How things were found.
    Found,
    /// What was done.
    Done,
    /// How things were left.
    Left,
}

/// How a finding weighs. In their order, the worst last.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Grade {
    /// Nothing was found against it.
    Good,
    /// Worth knowing.
    Note,
    /// To be looked at again, on a date.
    Attention,
    /// Something must be done before it goes on as it should.
    Act,
    /// It must not go on.
    Stop,
}

impl Grade {
    /// How a check weighs that no finding speaks for; one that passed says nothing.
    ///
    /// ```
    /// use tankhand::quantity::Verdict;
    /// use tankhand::record::Grade;
    /// assert_eq!(Grade::of(Verdict::Unsure), Some(Grade::Note));
    /// ```
    pub fn of(verdict: Verdict) -> Option<Grade> {
        match verdict {
            Verdict::Pass => None,
            Verdict::Unsure => Some(Grade::Note),
            Verdict::Fail => Some(Grade::Attention),
        }
    }
}

/// Where a value comes from, the most trusted first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Provenance {
    /// Read from a gauge, a bucket or a clock in this run.
    Measured,
    /// Answered in this run.
    Chosen,
    /// From the system file.
    SystemFile,
    /// From the tank's newest record.
    Recalled,
    /// A usual answer that nobody confirmed.
    Assumed,
}

/// One thing that happened in a run.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    /// Its number, from 1.
    pub n: u64,
    /// What it tells of.
    pub kind: EntryKind,
    /// The step (or fact) it belongs to.
    pub step: String,
    /// In which round of each loop around the step, outermost first, from 1; empty outside loops.
    pub round: Vec<u32>,
    /// Which of several readings at one step, from 1.
    pub take: Option<u32>,
    /// The tank it is about, by its id in the system file, where tanks are taken one by one.
    pub tank: Option<String>,
    /// When.
    pub at: Moment,
    /// When, by the clock that counts from the machine's start: of a wait's beginning.
    pub boot: Option<BootTime>,
    /// What it is of, as the table of observables calls it.
    pub observes: Option<String>,
    /// Of which phase of the work it tells.
    pub phase: Option<Phase>,
    /// Where the value comes from; of a value that was worked out, the least trusted of what went in.
    pub provenance: Option<Provenance>,
    /// What the person was warned of before it, word for word.
    pub warned: Vec<String>,
    /// The question as it was put.
    pub asked: Option<String>,
    /// The answer as it was given.
    pub given: Option<String>,
    /// The number, in `unit`.
    pub value: Option<f64>,
    /// The unit's symbol.
    pub unit: Option<String>,
    /// Standard uncertainty of `value`, in `unit` (a difference); wider where few readings tell it, so that
    /// twice it holds 95 %.
    pub uncertainty: Option<f64>,
    /// The gauge it was read from.
    pub gauge: Option<String>,
    /// A check's verdict.
    pub verdict: Option<Verdict>,
    /// A check's best estimate and the bounds of its probability.
    pub truth: Option<Truth>,
    /// What would decide a check that can't tell.
    pub advice: Option<String>,
    /// Why a step was skipped, or a remark.
    pub reason: Option<String>,
    /// The number of the entry this one replaces or takes back.
    pub replaces: Option<u64>,
    /// What the program told the person.
    pub said: Option<String>,
    /// How a finding weighs.
    pub grade: Option<Grade>,
    /// What to do next about a finding.
    pub next: Option<String>,
    /// What to do for now about the tank, where that stays open.
    pub for_now: Option<ForNow>,
    /// By when.
    pub due: Option<Moment>,
    /// The steps a finding rests on.
    pub rests_on: Vec<String>,
    /// Fields a later version wrote; kept as they are.
    pub more: toml::Table,
}

impl Entry {
    /// Whether it is a finding of a diagnosis, which makes several at one place.
    pub fn is_of_diagnosis(&self) -> bool {
        self.kind == EntryKind::Finding && self.take.is_some()
    }

    /// An entry with only its place and time; fill in the rest.
    pub fn new(kind: EntryKind, step: impl Into<String>, at: Moment) -> Entry {
        Entry {
            n: 0,
            kind,
            step: step.into(),
            round: Vec::new(),
            take: None,
            tank: None,
            at,
            boot: None,
            observes: None,
            phase: None,
            provenance: None,
            warned: Vec::new(),
            asked: None,
            given: None,
            value: None,
            unit: None,
            uncertainty: None,
            gauge: None,
            verdict: None,
            truth: None,
            advice: None,
            reason: None,
            replaces: None,
            said: None,
            grade: None,
            next: None,
            for_now: None,
            due: None,
            rests_on: Vec::new(),
            more: toml::Table::new(),
        }
    }

    /// Whether it follows from other entries rather than from a person.
    pub fn is_derived(&self) -> bool {
        match self.kind.role() {
            EntryRole::Result | EntryRole::Message => true,
            // A fact or a step left out may be one that nobody was asked about.
            EntryRole::Answer => self.kind == EntryKind::Fact && self.asked.is_none(),
            EntryRole::Gap => self.asked.is_none(),
            EntryRole::Denial | EntryRole::Beginning | EntryRole::Withdrawal | EntryRole::Aside => false,
        }
    }

    /// Whether a person did it and the run goes on by it: an answer, what leads in to one, a step skipped.
    pub(crate) fn moves_on(&self) -> bool {
        let moves = match self.kind.role() {
            EntryRole::Answer | EntryRole::Denial | EntryRole::Beginning | EntryRole::Gap => true,
            EntryRole::Result | EntryRole::Message | EntryRole::Withdrawal | EntryRole::Aside => false,
        };
        moves && !self.is_derived()
    }

    /// The number of the earlier entry that it takes back; `None` when it takes nothing back.
    pub(crate) fn takes_back(&self) -> Option<u64> {
        self.replaces.filter(|old| *old < self.n && self.kind.role() == EntryRole::Withdrawal)
    }

    /// What to do about a finding: what comes next, and what to do for now.
    pub fn to_do(&self) -> Option<String> {
        let for_now = self.for_now.map(|answer| answer.says().to_string());
        let all: Vec<String> = self.next.iter().cloned().chain(for_now).collect();
        (!all.is_empty()).then(|| all.join(" "))
    }

    /// What the program told the person, with what would decide it.
    pub fn message(&self) -> Option<String> {
        match (&self.said, &self.advice) {
            (Some(said), Some(advice)) => Some(format!("{said} {advice}")),
            (said, advice) => said.clone().or_else(|| advice.clone()),
        }
    }
}

/// An entry of a kind this version does not know.
#[derive(Clone, Debug, PartialEq)]
pub struct ForeignEntry {
    /// Its number.
    pub n: u64,
    /// The word for its kind.
    pub kind: String,
    /// Its other fields.
    pub fields: toml::Table,
}
