//! Runs that were left and wait: which there are, which of them a word means, where one stands.

use std::sync::Arc;

use super::kept_setting::setting;
use super::{Home, Result};
use crate::clock::Moment;
use crate::engine::Run;
use crate::record::{Glance, list, read};
use crate::words::{all_begin, list as listed};

/// Every run that waits, the newest first.
pub(super) fn open_runs(home: &Home) -> Result<Vec<Glance>> {
    let all = list(&home.records())?.records.into_iter();
    Ok(all.filter(|glance| glance.outcome.is_none()).collect())
}

/// Those that a word means: the run's name or its beginning, its procedure, its tank, words of its title.
pub(super) fn meant<'g>(word: &str, open: &'g [Glance]) -> Vec<&'g Glance> {
    let exact: Vec<&Glance> = open.iter().filter(|glance| glance.procedure == word).collect();
    if !exact.is_empty() {
        return exact;
    }
    open.iter()
        .filter(|glance| all_begin(word, &description(glance)) || glance.id.starts_with(word))
        .collect()
}

/// What a word is looked for in.
fn description(glance: &Glance) -> String {
    format!("{} {} {} {}", glance.procedure, glance.title, glance.tanks.join(" "), glance.id)
}

/// A run that waits.
pub(super) struct UnfinishedRun {
    /// Its record at a glance.
    pub glance: Glance,
    /// The number of the answer it waits at, and about how many there are; `None` when all is answered or
    /// its procedure is no longer understood.
    pub answer: Option<(usize, usize)>,
    /// When it was left.
    pub left: Moment,
    /// How breaker and valves stand since.
    pub stands: Vec<Arc<str>>,
    /// What the owner calls its tanks.
    tanks: Vec<String>,
}

impl UnfinishedRun {
    /// Looks where the run stands.
    pub(super) fn of(glance: Glance) -> UnfinishedRun {
        let unknown = |glance: Glance| UnfinishedRun {
            left: glance.started,
            answer: None,
            stands: Vec::new(),
            tanks: glance.tanks.iter().map(|id| format!("tank {id}")).collect(),
            glance,
        };
        let Ok(contents) = read(&glance.path) else { return unknown(glance) };
        let left = contents.entries.last().map_or(glance.started, |entry| entry.at);
        let replayed =
            setting(&contents).ok().and_then(|setting| Run::replay(setting, &contents.entries, left).ok());
        let Some((run, _)) = replayed else { return UnfinishedRun { left, ..unknown(glance) } };
        let answer = run.ask().map(|ask| (ask.number, ask.number.max(run.questions_left() + ask.number - 1)));
        let stands = run.stands().into_iter().map(Arc::from).collect();
        let system = &run.setting().system;
        let place = |id: &String| system.tanks.iter().position(|tank| *tank.id == **id);
        let called = |id: &String| {
            place(id).and_then(|at| system.tank_called(at)).unwrap_or_else(|| format!("tank {id}"))
        };
        let tanks = glance.tanks.iter().map(called).collect();
        UnfinishedRun { glance, answer, left, stands, tanks }
    }

    /// What it is: its procedure, its tank.
    pub(super) fn title(&self) -> String {
        match listed(&self.tanks, "and") {
            none if none.is_empty() => self.glance.procedure.clone(),
            tanks => format!("{}, {tanks}", self.glance.procedure),
        }
    }

    /// Where it stopped, and how long ago.
    pub(super) fn place(&self, now: Moment) -> String {
        let ago = ago(now.since(self.left).as_secs());
        match self.answer {
            Some((number, whole)) => format!("stopped at answer {number} of about {whole}, {ago}"),
            None => format!("left {ago}"),
        }
    }
}

/// How long ago, in words.
fn ago(seconds: u64) -> String {
    match (seconds / 60, seconds / 3600) {
        (0..=1, _) => "just now".to_string(),
        (minutes @ 2..=119, _) => format!("{minutes} minutes ago"),
        (_, hours @ 2..=47) => format!("{hours} hours ago"),
        (_, hours) => format!("{} days ago", hours / 24),
    }
}
