//! A record as every page about it sees it: its entries, which of them are in effect, and what the
//! procedure says of them. It is made once from a record; the pages are made from it.

mod findings;
mod gaps;
mod pairs;
mod telling;

pub(super) use pairs::Unpaired;

use std::collections::HashMap;

use super::Row;
use super::answers::answer;
use super::steps::Steps;
use super::wording::when;
use crate::lang::Values;
use crate::procedure::{LoopKind, Procedure};
use crate::quantity::Verdict;
use crate::record::{Contents, Entry, EntryKind, TextRole, are_effective, struck};
use crate::source::SourceText;
use crate::system::{System, load};
use crate::words::{list, non_empty};

/// A record, with what the procedure says of its entries.
pub struct RunView<'a> {
    pub(super) contents: &'a Contents,
    pub(super) steps: Steps<'a>,
    pub(super) system: Option<&'a System>,
    pub(super) values: Option<&'a dyn Values>,
    /// How breaker, drain and valves stand at the end, in a few words each.
    pub(super) stands: Vec<String>,
    /// Every entry, in order.
    pub(super) all: Vec<EntryView<'a>>,
    /// The entries in effect.
    pub(super) entries: Vec<&'a Entry>,
    /// The checks that count: of those in a loop the last round's.
    pub(super) checks: Vec<&'a Entry>,
}

/// An entry, and whether it still counts.
#[derive(Clone, Copy)]
pub(super) struct EntryView<'a> {
    pub entry: &'a Entry,
    pub counts: bool,
    /// The entry that replaced it or took it back.
    pub struck_by: Option<u64>,
}

impl<'a> RunView<'a> {
    /// A record with the procedure it was made with, where that can still be read. Labels and
    /// headings come from the procedure; without it every answer goes by its id.
    pub fn new(contents: &'a Contents, procedure: Option<&'a Procedure>) -> RunView<'a> {
        let struck = struck(&contents.entries);
        let effective = are_effective(&contents.entries);
        let seen = |(entry, counts): (&'a Entry, bool)| EntryView {
            entry,
            counts,
            struck_by: struck.get(&entry.n).copied(),
        };
        let all: Vec<EntryView<'_>> = contents.entries.iter().zip(effective).map(seen).collect();
        let entries = all.iter().filter(|seen| seen.counts).map(|seen| seen.entry).collect();
        let steps = Steps::of(procedure);
        let mut view = RunView {
            contents,
            steps,
            system: None,
            values: None,
            stands: Vec::new(),
            all,
            entries,
            checks: Vec::new(),
        };
        view.checks = view.last_checks();
        view.steps.names = view.tank_names();
        view
    }

    /// What the owner calls each tank.
    fn tank_names(&self) -> HashMap<String, String> {
        let header = &self.contents.header;
        let one = header.tank.as_ref().map(|id| (id, self.tank_name(None)));
        let several = header.tanks.iter().map(|id| (id, self.tank_name(Some(id))));
        let named = one.into_iter().chain(several).filter_map(|(id, name)| Some((id.clone(), name?)));
        let named: Vec<(String, String)> = named.collect();
        // A name that two tanks share tells none of them.
        let own = |name: &String| named.iter().filter(|(_, other)| other == name).count() == 1;
        named.iter().filter(|(_, name)| own(name)).cloned().collect()
    }

    /// The same where the word tank stands before it: a name, else the bare id.
    pub(super) fn tank_named(&self, tank: Option<&str>) -> Option<String> {
        let id = tank.or(self.contents.header.tank.as_deref());
        id.map(|id| self.steps.names.get(id).map_or(id, String::as_str).to_string())
            .or_else(|| self.tank_name(tank))
    }

    /// The name that the system file or a person gave.
    fn tank_name(&self, tank: Option<&str>) -> Option<String> {
        self.fact_from("tank.name", tank).or_else(|| self.name_on_file(tank))
    }

    /// The system file that the record keeps.
    pub(super) fn kept_system(&self) -> Option<System> {
        let texts = &self.contents.header.texts;
        let file = texts.iter().find(|text| text.role == TextRole::System)?;
        load(&SourceText::new(&*file.name, &*file.text)).ok()
    }

    /// The name in that file.
    fn name_on_file(&self, tank: Option<&str>) -> Option<String> {
        let (header, system) = (&self.contents.header, self.kept_system()?);
        let id = tank.or(header.tank.as_deref())?;
        let at = system.tanks.iter().position(|tank| *tank.id == *id)?;
        Some(system.value("tank.name", at)?.shown(header.units))
    }

    /// What the tank is called that a record is about: one of several, or its only one.
    pub fn tank_called(&self, tank: Option<&str>) -> Option<String> {
        let id = tank.or(self.contents.header.tank.as_deref());
        id.map(|id| self.steps.called(id)).or_else(|| self.tank_name(tank))
    }

    /// The same, with the installation the run was made on and the values it ended with: for
    /// gauges, margins and figures.
    pub fn on(self, system: Option<&'a System>, values: Option<&'a dyn Values>) -> RunView<'a> {
        RunView { system, values, ..self }
    }

    /// The same, with how breaker, drain and valves stand at the end.
    pub fn standing(self, stands: Vec<String>) -> RunView<'a> {
        RunView { stands, ..self }
    }

    /// How many of the checks that count failed.
    pub fn checks_failed(&self) -> usize {
        self.checks_that(Verdict::Fail).count()
    }

    pub(super) fn checks_that(&self, verdict: Verdict) -> impl Iterator<Item = &'a Entry> {
        self.checks.iter().copied().filter(move |check| check.verdict == Some(verdict))
    }

    fn last_checks(&self) -> Vec<&'a Entry> {
        let mut last: Vec<&Entry> = Vec::new();
        for entry in self.of_kind(EntryKind::Checked) {
            let repeats = self.steps.get(&entry.step).is_some_and(|p| p.around.contains(&LoopKind::Repeat));
            let same = |other: &&mut &Entry| {
                other.step == entry.step && self.steps.tank(other) == self.steps.tank(entry)
            };
            match last.iter_mut().find(same) {
                Some(other) if repeats => *other = entry,
                _ => last.push(entry),
            }
        }
        last
    }

    /// The entries in effect that are about a tank, or about no single one.
    pub(super) fn entries_about(&self, tank: Option<&str>) -> Vec<&'a Entry> {
        self.entries.iter().copied().filter(|entry| is_about(tank, entry)).collect()
    }

    pub(super) fn of_kind(&self, kind: EntryKind) -> impl Iterator<Item = &'a Entry> {
        self.entries.iter().copied().filter(move |entry| entry.kind == kind)
    }

    /// Every answer by its id, when there is no procedure.
    pub(super) fn answers(&self) -> Vec<Row> {
        let tells = |entry: &&&Entry| entry.kind.is_answer() || entry.kind == EntryKind::Computed;
        let answers = self.entries.iter().filter(tells);
        answers.map(|entry| Row::new([self.steps.label_of(entry), answer(entry)])).collect()
    }

    /// Where and when the run was made, each with its word.
    pub(super) fn occasion(&self) -> [(&'static str, Option<String>); 4] {
        let header = &self.contents.header;
        let named = |tank: &String| self.steps.names.get(tank).unwrap_or(tank).clone();
        [
            ("Site", header.site.clone()),
            ("Tank", header.tank.as_ref().map(named)),
            ("Tanks", non_empty(list(header.tanks.iter().map(named), "and"))),
            ("Begun", Some(when(header.started))),
        ]
    }

    /// What the tanks are called that were taken one by one.
    pub(super) fn tanks_called(&self) -> Option<String> {
        let tanks = self.contents.header.tanks.iter();
        non_empty(list(tanks.map(|tank| self.steps.called(tank)), "and"))
    }

    /// The answer to the fact that comes from that place of the system file.
    fn fact_from(&self, path: &str, tank: Option<&str>) -> Option<String> {
        let facts = &self.steps.procedure?.facts;
        let fact = facts.iter().find(|fact| fact.from.as_deref() == Some(path))?;
        let answers = || self.of_kind(EntryKind::Fact).filter(|entry| *entry.step == *fact.id);
        let own = answers().find(|entry| tank.is_some() && entry.tank.as_deref() == tank);
        // The first tank's were asked before the tanks were taken one by one.
        let is_first = tank == self.contents.header.tanks.first().map(String::as_str);
        own.or_else(|| answers().find(|entry| entry.tank.is_none() && is_first)).map(answer)
    }
}

/// Whether an entry is about a tank, or about no single one.
pub(super) fn is_about(tank: Option<&str>, entry: &Entry) -> bool {
    tank.is_none_or(|tank| entry.tank.as_deref().is_none_or(|own| own == tank))
}
