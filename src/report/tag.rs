//! The tag to hang on a tank: what the next person needs at a glance.

use std::time::Duration;

use thiserror::Error;

use super::answers::{amount, answer};
use super::run_view::RunView;
use super::{Page, PageBlock, Row};
use crate::clock::Moment;
use crate::procedure::{OBSERVABLES, Observable, Observed};
use crate::quantity::{DAY, Measure};
use crate::record::{Entry, Grade, Outcome, Phase, observed, temperature_at};
use crate::words::counted;

/// After how many days to look again where no finding says sooner.
const LOOK_AGAIN_DAYS: u64 = 365;
/// What a tag is hung up for.
const PRECHARGE: &str = "precharge";

/// Why a record makes no tag: a tag hangs on a tank in service whose air was set and proven.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum NoTag {
    /// No tank's air is told as it was left.
    #[error("it does not tell how the air of a tank was left")]
    NoPrecharge,
    /// A check failed that must hold.
    #[error("the tank or the installation failed")]
    Failed,
    /// The work was left or stopped.
    #[error("the work stopped before its end")]
    Unfinished,
    /// The run, by its name, goes on.
    #[error("it has not ended yet: `tankhand resume {0}` goes on with it")]
    NotEnded(String),
}

/// The tags, one for each tank: what was left of what was also found, at which temperature, when,
/// and when to look again.
///
/// # Errors
/// [`NoTag`], which says why there is none.
pub fn tag_pages(run: &RunView<'_>) -> Result<Vec<Page>, NoTag> {
    let header = &run.contents.header;
    match run.contents.summary.as_ref().map(|end| end.outcome) {
        Some(Outcome::Completed) => {}
        Some(Outcome::Failed) => return Err(NoTag::Failed),
        Some(Outcome::Unfinished) => return Err(NoTag::Unfinished),
        None => return Err(NoTag::NotEnded(header.id.clone())),
    }
    let tanks: Vec<Option<&str>> = match header.tanks.as_slice() {
        [] => vec![None],
        several => several.iter().map(|tank| Some(tank.as_str())).collect(),
    };
    let card = |tank: Option<&str>| {
        let entries = run.entries.iter().copied().filter(|entry| is_about(tank, entry)).collect();
        Card { run, tank, entries }.page()
    };
    let pages: Vec<Page> = tanks.into_iter().filter_map(card).collect();
    if pages.is_empty() { Err(NoTag::NoPrecharge) } else { Ok(pages) }
}

/// A tag being made.
struct Card<'a> {
    run: &'a RunView<'a>,
    /// The tank, where several were taken one by one.
    tank: Option<&'a str>,
    /// The entries in effect that are about it, or about all.
    entries: Vec<&'a Entry>,
}

impl<'a> Card<'a> {
    fn page(&self) -> Option<Page> {
        let header = &self.run.contents.header;
        let set = observed(&self.entries, PRECHARGE, Some(Phase::Left)).filter(|set| set.value.is_some())?;
        let mut rows = self.left();
        rows.splice(1..1, self.temperature(set));
        let ended = self.run.contents.summary.as_ref().map_or(header.started, |end| end.at);
        rows.push(Row::new(["measured".to_string(), ended.date()]));
        rows.push(Row::new(["look again".to_string(), self.look_again()]));
        rows.extend(
            self.run
                .fact_from("tank.limit", self.tank)
                .map(|limit| Row::new(["never above".to_string(), limit])),
        );
        let id = self.tank.map(ToString::to_string).or_else(|| header.tank.clone());
        let name = self.run.fact_from("tank.name", self.tank).or(id);
        let mut page = Page::titled(name.unwrap_or_else(|| "Pressure tank".to_string()));
        let site = header.site.clone().map(|site| format!("{site}. ")).unwrap_or_default();
        page.blocks
            .push(PageBlock::Lead(format!("{site}Air is read with the pump off and the tank drained.")));
        self.worst().into_iter().for_each(|found| page.text(found));
        page.table(&[], rows);
        page.text(self.small_print());
        Some(page)
    }

    /// What was found that is worse than a note, in a line each.
    fn worst(&self) -> Vec<String> {
        let worse = self.findings().filter(|entry| entry.grade > Some(Grade::Note));
        let line = |entry: &Entry| {
            let grade = entry.grade.map_or("", Grade::word).to_uppercase();
            let name = entry.given.iter().map(|name| format!("{name}."));
            let next = entry.next.clone();
            format!("{grade}: {}", name.chain(next).collect::<Vec<_>>().join(" "))
        };
        worse.map(line).collect()
    }

    fn findings(&self) -> impl Iterator<Item = &'a Entry> {
        self.run.findings().into_iter().filter(|entry| is_about(self.tank, entry))
    }

    fn small_print(&self) -> String {
        let header = &self.run.contents.header;
        let failed = self.run.checks_failed();
        let parts = [
            Some(format!("Record {}.", header.id)),
            (failed > 0).then(|| format!("{} failed: see the record.", counted(failed, "check"))),
            header.transcribed.map(|_| "Typed in from a sheet.".to_string()),
            Some("Measured with the owner's gauges; certifies nothing.".to_string()),
            header.demo.then(|| "Invented, a demonstration.".to_string()),
        ];
        parts.into_iter().flatten().collect::<Vec<_>>().join(" ")
    }

    /// What the work may have changed and was measured before and after, as left; the precharge first,
    /// for it is what one looks for.
    fn left(&self) -> Vec<Row> {
        let told = |name: &str, phase| observed(&self.entries, name, Some(phase));
        let row = |known: &Observable| {
            let left = told(known.name, Phase::Left)?;
            let paired = known.name == PRECHARGE || told(known.name, Phase::Found).is_some();
            let value = amount(left).filter(|_| paired)?;
            let of_all = left.tank.is_none() && known.observed == Observed::Number(Measure::Volume);
            let all = if of_all && self.tank.is_some() { ", all tanks" } else { "" };
            Some(Row::new([format!("{}{all}", known.term), value]))
        };
        OBSERVABLES.iter().filter(|known| known.lasting).filter_map(row).collect()
    }

    /// The temperature at which the precharge was set.
    fn temperature(&self, set: &Entry) -> Option<Row> {
        let last = temperature_at(&self.entries, set)?;
        Some(Row::new(["tank at".to_string(), answer(last)]))
    }

    /// The month of the first day that a finding asks for; in a year where none does.
    fn look_again(&self) -> String {
        let month = |at: Moment| at.date().get(..7).unwrap_or_default().to_string();
        let soonest = self
            .findings()
            .filter(|entry| entry.due.is_some())
            .min_by_key(|entry| entry.due.map(Moment::unix_seconds));
        let usual = Duration::from_secs(LOOK_AGAIN_DAYS * DAY as u64);
        match soonest.and_then(|entry| Some((entry.due?, entry))) {
            Some((due, Entry { given: Some(name), grade, .. })) if *grade > Some(Grade::Good) => {
                format!("{}, {name}", month(due))
            }
            Some((due, _)) => month(due),
            None => month(self.run.contents.header.started.plus(usual)),
        }
    }
}

/// Whether an entry is about a tank, or about all of them.
pub(super) fn is_about(tank: Option<&str>, entry: &Entry) -> bool {
    tank.is_none_or(|tank| entry.tank.as_deref().is_none_or(|own| own == tank))
}
