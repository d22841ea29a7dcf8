//! The tag to hang on a tank: what the next person needs at a glance.

use thiserror::Error;

use super::answers::{amount, answer};
use super::run_view::RunView;
use super::{Page, PageBlock, Row};
use crate::quantity::{DAY, Measure};
use crate::record::Phase;
use crate::record::{Entry, EntryKind, Outcome};
use crate::words::counted;

/// Steps of the procedures that come with the program whose being told says when to look again,
/// in days; without any of them it is a year.
const LOOK_AGAIN: &[(&str, u64)] = &[("come_back", 30), ("come_back_in_a_year", 365)];
/// The step that tells the precharge as it was left, in every procedure.
const PRECHARGE: &str = "charge_left";
/// The step that tells how warm the tank was then.
const TEMPERATURE: &str = "air_temp";

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
    let pages: Vec<Page> = tanks.into_iter().filter_map(|tank| Card { run, tank }.page()).collect();
    if pages.is_empty() { Err(NoTag::NoPrecharge) } else { Ok(pages) }
}

/// A tag being made.
struct Card<'a> {
    run: &'a RunView<'a>,
    /// The tank, where several were taken one by one.
    tank: Option<&'a str>,
}

impl Card<'_> {
    fn page(&self) -> Option<Page> {
        let header = &self.run.contents.header;
        let (mut rows, set) = self.left()?;
        rows.extend(self.temperature(set));
        let ended = self.run.contents.summary.as_ref().map_or(header.started, |end| end.at);
        rows.push(Row::new(["measured".to_string(), ended.date()]));
        rows.push(Row::new(["look again".to_string(), look_again(self.run)]));
        rows.extend(self.fact("tank.limit").map(|limit| Row::new(["never above".to_string(), limit])));
        let id = self.tank.map(ToString::to_string).or_else(|| header.tank.clone());
        let name = self.fact("tank.name").or(id);
        let mut page = Page::titled(name.unwrap_or_else(|| "Pressure tank".to_string()));
        let site = header.site.clone().map(|site| format!("{site}. ")).unwrap_or_default();
        page.blocks
            .push(PageBlock::Lead(format!("{site}Air is read with the pump off and the tank drained.")));
        page.table(&[], rows);
        page.text(self.small_print());
        Some(page)
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

    /// Whether an entry is about this tank, or about all of them.
    fn is_about(&self, entry: &Entry) -> bool {
        self.tank.is_none_or(|tank| entry.tank.as_deref().is_none_or(|own| own == tank))
    }

    /// Amounts that were measured before and after, as left, and the precharge; that one first, for
    /// it is what one looks for. With the number of its entry; `None` without it.
    fn left(&self) -> Option<(Vec<Row>, u64)> {
        let paired: Vec<String> = self.run.pairs().both.into_iter().map(|row| row.cells[0].clone()).collect();
        let (mut rows, mut set) = (Vec::new(), None);
        for placed in self.run.steps.telling(Phase::Left) {
            let single = placed.step.course().gives().is_some_and(|gives| gives.times == 1);
            let mine = |entry: &&&Entry| entry.step == *placed.step.id && self.is_about(entry);
            let Some(last) = self.run.entries.iter().rev().find(mine).filter(|_| single) else {
                continue;
            };
            let (label, Some(value)) = (placed.step.name(), amount(last)) else { continue };
            let is_precharge = *placed.step.id == *PRECHARGE;
            let of_all = self.run.steps.measure(&last.step) == Some(Measure::Volume);
            let word = match (&last.tank, self.tank) {
                (None, Some(_)) if of_all => format!("{label}, all tanks"),
                _ => label.clone(),
            };
            if is_precharge {
                set = Some(last.n);
                rows.insert(0, Row::new([word, value]));
            } else if paired.contains(&label) {
                rows.push(Row::new([word, value]));
            }
        }
        Some((rows, set?))
    }

    /// The temperature at which the precharge was set.
    fn temperature(&self, set: u64) -> Option<Row> {
        let before = |entry: &&Entry| entry.n < set && TEMPERATURE == entry.step && self.is_about(entry);
        let last = self.run.of_kind(EntryKind::Reading).filter(before).last()?;
        Some(Row::new([self.run.steps.label(&last.step), answer(last)]))
    }

    /// The answer to the fact that comes from that place of the system file.
    fn fact(&self, path: &str) -> Option<String> {
        let facts = &self.run.steps.procedure?.facts;
        let fact = facts.iter().find(|fact| fact.from.as_deref() == Some(path))?;
        let answers = || self.run.of_kind(EntryKind::Fact).filter(|entry| *entry.step == *fact.id);
        let own = answers().find(|entry| self.tank.is_some() && entry.tank.as_deref() == self.tank);
        // The first tank's were asked before the tanks were taken one by one.
        let is_first = self.tank == self.run.contents.header.tanks.first().map(String::as_str);
        own.or_else(|| answers().find(|entry| entry.tank.is_none() && is_first)).map(answer)
    }
}

fn look_again(run: &RunView<'_>) -> String {
    let known = |entry: &&Entry| LOOK_AGAIN.iter().find(|(id, _)| *id == entry.step);
    let days = run.entries.iter().find_map(known).map_or(365, |(_, days)| *days);
    let begun = run.contents.header.started;
    let date = begun.plus(std::time::Duration::from_secs(days * DAY as u64)).date();
    let month = date.get(..7).unwrap_or(&date).to_string();
    if days < 100 { format!("{month}, as air was lost") } else { month }
}
