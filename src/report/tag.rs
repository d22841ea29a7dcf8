//! The tag to hang on a tank: what the next person needs at a glance, the limit first. Nothing on it is
//! ever cut: what people wrote is shortened to what a card of 5 by 3 inches holds.

use std::time::Duration;

use thiserror::Error;

use super::answers::{answer, plainly};
use super::run_view::{RunView, is_about};
use super::{Page, PageBlock, Row};
use crate::clock::Moment;
use crate::physics::precharge_at;
use crate::quantity::{DAY, Measure, Unit, Units, show_number, unit};
use crate::record::{Entry, EntryKind, Grade, Outcome, Phase, observed, si_of, temperature_at};
use crate::words::counted;

/// After how many days to look again where no finding says sooner.
const LOOK_AGAIN_DAYS: u64 = 365;
/// What a tag is hung up for.
const PRECHARGE: &str = "precharge";
/// How much room there is on a card, in widths of an em: a line of the name, which may take two; the place; a
/// line of what is to be done, which may take as many as are free.
const NAME_LINE: f64 = 25.0;
const PLACE_LINE: f64 = 36.0;
const TASK_LINE: f64 = 33.0;
/// How many lines of small print a card with a name of one line holds beside the code.
const SMALL_LINES: usize = 8;

/// Why a record makes no tag: a tag hangs on a tank in service whose air was set and proven.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
pub enum NoTag {
    /// No tank's air is told as it was left.
    #[error("it does not tell which precharge a tank was left with")]
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
    let card = |tank| Card { run, tank, entries: run.entries_about(tank) }.page();
    let pages: Vec<Page> = run.tanks_in_turn().into_iter().filter_map(card).collect();
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
        let limit = self.observable("plate_limit").map(|limit| format!("{}, plate limit", answer(limit)));
        let rows = Row::led_by([
            ("never above", Some(limit.unwrap_or_else(|| "what the tank's plate says".to_string()))),
            ("precharge", Some(self.precharge(set))),
            ("at other temperatures", self.at_other_temperatures(set)),
            ("cut-in, cut-out", self.switch()),
            ("drawdown, run time", self.also()),
            ("look again by", Some(self.look_again())),
        ]);
        let rows: Vec<Row> = rows.collect();
        let name = self.run.tank_called(self.tank).unwrap_or_else(|| "Pressure tank".to_string());
        let name = fitting(&name, NAME_LINE, 2);
        let mut page = Page::titled(&name);
        page.blocks.push(PageBlock::Lead(self.which()));
        page.table(&[], rows.clone());
        let below = [self.differs(), self.small_print()];
        let used_lines: usize = below.iter().map(|text| lines(text, TASK_LINE)).sum();
        let used_lines = used_lines + 2 * (lines(&name, NAME_LINE) - 1);
        if let Some(tasks) = self.tasks() {
            page.text(fitting(&tasks, TASK_LINE, SMALL_LINES.saturating_sub(used_lines).max(1)));
        }
        page.texts(below);
        let lines_of = rows[..2].iter().chain(rows.last()).map(|row| row.cells.join(": "));
        let set_on = format!("set: {}", self.set_on());
        let code = [name].into_iter().chain(lines_of).chain([set_on, header.id.clone()]);
        page.blocks.push(PageBlock::Code(code.collect::<Vec<_>>().join("\n")));
        Some(page)
    }

    /// The tank by volume, and its place.
    fn which(&self) -> String {
        let volume = self.observable("plate_volume").map(answer);
        let site = self.run.contents.header.site.as_ref().map(|site| fitting(site, PLACE_LINE - 5.0, 1));
        volume.into_iter().chain(site).collect::<Vec<_>>().join(" · ")
    }

    /// The precharge, the temperature it was set at, and how it is read.
    fn precharge(&self, set: &Entry) -> String {
        let at =
            temperature_at(&self.entries, set).map(|at| format!(" at {}", plainly(at))).unwrap_or_default();
        format!("{}{at}, tank EMPTY, drain open", plainly(set))
    }

    /// What the same air shows when it is colder or warmer.
    fn at_other_temperatures(&self, set: &Entry) -> Option<String> {
        let at = temperature_at(&self.entries, set)?;
        let (own_unit, degrees) = (unit_of(set)?, unit_of(at)?);
        let elevation =
            self.observable("elevation").and_then(|entry| si_of(entry, Measure::Length)).unwrap_or(0.0);
        let from = si_of(at, Measure::Temperature)?;
        let precharge = si_of(set, Measure::Pressure)?;
        let others =
            if self.run.contents.header.units == Units::Us { [40.0, 60.0, 80.0] } else { [5.0, 15.0, 25.0] };
        let other = others.map(|number| {
            let to = degrees.to_si(Measure::Temperature, number);
            let there =
                own_unit.number_of(Measure::Pressure, precharge_at(precharge, from, to, elevation).ok()?);
            let shown = show_number(there, set.uncertainty.unwrap_or(0.0));
            Some(format!("{number} {} {shown}", degrees.symbol))
        });
        let other: Vec<String> = other.into_iter().flatten().collect();
        (!other.is_empty()).then(|| format!("{} {}", other.join(" · "), own_unit.symbol))
    }

    fn switch(&self) -> Option<String> {
        Some(format!("{}, {}", plainly(self.left("cut_in")?), plainly(self.left("cut_out")?)))
    }

    fn also(&self) -> Option<String> {
        let drawdown = self.left("drawdown").map(|left| {
            let of_all = self.tank.is_some() && left.tank.is_none();
            format!("{}{}", plainly(left), if of_all { ", all tanks" } else { "" })
        });
        let both: Vec<String> = drawdown.into_iter().chain(self.left("run_time").map(plainly)).collect();
        (!both.is_empty()).then(|| both.join(", "))
    }

    /// As it was left; where nobody looked again, as it was found.
    fn left(&self, name: &str) -> Option<&'a Entry> {
        let phase = |phase| observed(&self.entries, name, Some(phase)).filter(|entry| entry.value.is_some());
        phase(Phase::Left).or_else(|| phase(Phase::Found))
    }

    fn observable(&self, name: &str) -> Option<&'a Entry> {
        let entries =
            self.run.of_kind(EntryKind::Fact).filter(|entry| entry.observes.as_deref() == Some(name));
        let all: Vec<&Entry> = entries.collect();
        let own = all.iter().rev().find(|entry| self.tank.is_some() && entry.tank.as_deref() == self.tank);
        // The first tank's were asked before the tanks were taken one by one.
        let first = self.run.contents.header.tanks.first().map(String::as_str);
        let is_first = self.tank == first || name == "elevation";
        let entry_of =
            own.or_else(|| all.iter().rev().find(|entry| entry.tank.is_none() && is_first)).copied();
        entry_of.filter(|entry| entry.value.is_some())
    }

    /// What is to be done by the day above; before it what was found that is worse.
    fn tasks(&self) -> Option<String> {
        let worst = self.findings().find(|entry| entry.grade > Some(Grade::Note));
        let soonest = self.soonest();
        let is_other = |entry: &&Entry| soonest.is_none_or(|soonest| soonest.n != entry.n);
        let both = worst.filter(is_other).into_iter().chain(soonest).map(task);
        let tasks: Vec<String> = both.filter(|task| !task.is_empty()).collect();
        (!tasks.is_empty()).then(|| tasks.join(" "))
    }

    /// The finding that asks for the first day.
    fn soonest(&self) -> Option<&'a Entry> {
        let due = self.findings().filter(|entry| entry.due.is_some());
        due.min_by_key(|entry| entry.due.map(Moment::unix_seconds))
    }

    fn findings(&self) -> impl Iterator<Item = &'a Entry> {
        self.run.findings().into_iter().filter(|entry| is_about(self.tank, entry))
    }

    /// What to do when a later reading differs; common practice.
    fn differs(&self) -> String {
        let far = if self.run.contents.header.units == Units::Us { "3 psi" } else { "0.2 bar" };
        format!(
            "{far} lower at the same temperature? Soap the air valve. If it is tight, the bladder may be failing: call a pump installer."
        )
    }

    fn small_print(&self) -> String {
        let header = &self.run.contents.header;
        let failed = self.run.checks_failed();
        let parts = [
            Some(format!("Set {}. Record {}.", self.set_on(), header.id)),
            (failed > 0).then(|| format!("{} failed: see the record.", counted(failed, "check"))),
            header.transcribed.map(|_| "Typed in from a sheet.".to_string()),
            Some("Owner's gauges; certifies nothing.".to_string()),
            header.demo.then(|| "INVENTED.".to_string()),
        ];
        parts.into_iter().flatten().collect::<Vec<_>>().join(" ")
    }

    /// The day the work ended.
    fn set_on(&self) -> String {
        let ended = self.run.contents.summary.as_ref().map(|end| end.at);
        ended.unwrap_or(self.run.contents.header.started).date()
    }

    /// The first day that a finding asks for; in a year where none does.
    fn look_again(&self) -> String {
        let usual = Duration::from_secs(LOOK_AGAIN_DAYS * DAY as u64);
        let due = self.soonest().and_then(|entry| entry.due);
        due.unwrap_or_else(|| self.run.contents.header.started.plus(usual)).date()
    }
}

/// A finding with what to do, in which its day stands.
fn task(entry: &Entry) -> String {
    let grade = entry.grade.filter(|grade| *grade > Grade::Note).map(|grade| grade.word().to_uppercase());
    let name = grade.map(|grade| format!("{grade}: {}.", entry.given.as_deref().unwrap_or("see the record")));
    let next = match (entry.to_do(), entry.due.map(Moment::date)) {
        (Some(next), Some(day)) if next.contains("he day below") => Some(next.replace("the day below", &day)),
        (Some(next), Some(day)) => Some(format!("By {day}: {next}")),
        (next, _) => next,
    };
    [name, next].into_iter().flatten().collect::<Vec<_>>().join(" ")
}

/// About how wide a text is, in widths of an em: capitals are wide, and so are m and w.
fn ems(text: &str) -> f64 {
    let em = |c: char| match c {
        'W' | 'M' | '@' | '%' => 0.95,
        'm' | 'w' => 0.8,
        'i' | 'j' | 'l' | 't' | 'f' | 'r' | 'I' | ' ' | '.' | ',' | ':' | ';' | '\'' | '-' => 0.35,
        c if c.is_uppercase() => 0.75,
        c if c.is_ascii() => 0.52,
        c if c.len_utf8() > 2 => 1.0,
        _ => 0.6,
    };
    text.chars().map(em).sum()
}

/// How many lines of a width a text takes, broken at words where it can be.
fn lines(text: &str, width: f64) -> usize {
    let (mut lines, mut used) = (1, 0.0);
    for word in text.split(' ') {
        let wide = ems(word);
        if used > 0.0 && used + 0.35 + wide > width {
            (lines, used) = (lines + 1, 0.0);
        }
        used += if used > 0.0 { 0.35 + wide } else { wide };
        while used > width {
            (lines, used) = (lines + 1, used - width);
        }
    }
    lines
}

/// A text in no more than so many lines of a width: what is too long ends at a word, or within one that is wider
/// than half of what there is.
fn fitting(text: &str, width: f64, most: usize) -> String {
    if lines(text, width) <= most {
        return text.to_string();
    }
    let mut kept = text.to_string();
    while !kept.is_empty() && lines(&format!("{kept} …"), width) > most {
        kept.pop();
    }
    let at_word = kept.rfind(' ').filter(|at| 2 * at > kept.len()).unwrap_or(kept.len());
    format!("{} …", kept[..at_word].trim_end_matches([',', ';', ':', '.', ' ']))
}

fn unit_of(entry: &Entry) -> Option<&'static Unit> {
    unit(entry.unit.as_deref()?)
}
