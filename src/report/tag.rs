//! The tag to hang on a tank: what the next person needs at a glance.

use super::account::{Account, pairs};
use super::answers::{amount, answer};
use super::summary::told::Told;
use super::{Page, PageBlock, Row};
use crate::procedure::{Action, Tells};
use crate::quantity::Measure;
use crate::record::{Entry, EntryKind};

/// Steps of the procedures that come with the program whose being told says when to look again,
/// in days; without any of them it is a year.
const LOOK_AGAIN: &[(&str, u64)] = &[("come_back", 30), ("come_back_in_a_year", 365)];
const DAY: u64 = 86_400;

/// The tag: what was left of what was also found, at which temperature, when, and when to look
/// again. `None` when the record does not tell how anything was left.
pub fn tag_page(account: &Account<'_>) -> Option<Page> {
    let told = Told::new(account.contents, account.procedure);
    let header = &account.contents.header;
    let mut rows = left(&told);
    if rows.is_empty() {
        return None;
    }
    rows.extend(temperatures(&told));
    let ended = account.contents.summary.as_ref().map_or(header.started, |end| end.at);
    rows.push(Row::new(["measured".to_string(), ended.date()]));
    rows.push(Row::new(["look again".to_string(), look_again(&told)]));
    rows.extend(fact(&told, "tank.limit").map(|limit| Row::new(["never above".to_string(), limit])));
    let name = fact(&told, "tank.name").or_else(|| header.tank.clone());
    let mut page = Page::titled(name.unwrap_or_else(|| "Pressure tank".to_string()));
    let site = header.site.clone().map(|site| format!("{site}. ")).unwrap_or_default();
    page.blocks.push(PageBlock::Lead(format!("{site}Air is read with the pump off and the tank drained.")));
    page.table(&[], rows);
    let invented = if header.demo { " Invented, a demonstration." } else { "" };
    page.text(format!(
        "Record {}. Measured with the owner's gauges; certifies nothing.{invented}",
        header.id
    ));
    Some(page)
}

/// Amounts that were measured before and after, as left; the air first, for it is what one looks
/// for.
fn left(told: &Told<'_>) -> Vec<Row> {
    let labels: Vec<String> = pairs(told).both.into_iter().map(|row| row.cells[0].clone()).collect();
    let mut rows = Vec::new();
    for placed in told.steps.placed.iter().filter(|placed| placed.step.tells == Some(Tells::Left)) {
        let single = match &placed.step.action {
            Action::Read(read) => read.times == 1,
            Action::Compute(_) => true,
            _ => false,
        };
        let last = told.entries.iter().rev().find(|entry| entry.step == *placed.step.id);
        let value = last.and_then(|entry| amount(entry)).filter(|_| single);
        if let (Some(value), true) = (value, labels.contains(&placed.step.name())) {
            rows.push(Row::new([placed.step.name(), value]));
        }
    }
    rows.sort_by_key(|row| !row.cells[0].starts_with("air"));
    rows
}

fn temperatures(told: &Told<'_>) -> Vec<Row> {
    let warm = |entry: &&Entry| match told.steps.get(&entry.step).map(|placed| &placed.step.action) {
        Some(Action::Read(read)) => read.measure == Measure::Temperature,
        _ => false,
    };
    let last = told.of_kind(EntryKind::Reading).filter(warm).last();
    last.map(|entry| Row::new([told.steps.label(&entry.step), answer(entry)])).into_iter().collect()
}

fn look_again(told: &Told<'_>) -> String {
    let known = |entry: &&Entry| LOOK_AGAIN.iter().find(|(id, _)| *id == entry.step);
    let days = told.entries.iter().find_map(known).map_or(365, |(_, days)| *days);
    let begun = told.contents.header.started;
    let date = begun.plus(std::time::Duration::from_secs(days * DAY)).date();
    let month = date.get(..7).unwrap_or(&date).to_string();
    if days < 100 { format!("{month}, as air was lost") } else { month }
}

/// The answer to the fact that comes from that place of the system file.
fn fact(told: &Told<'_>, path: &str) -> Option<String> {
    let facts = &told.steps.procedure?.facts;
    let fact = facts.iter().find(|fact| fact.from.as_deref() == Some(path))?;
    told.of_kind(EntryKind::Fact).find(|entry| *entry.step == *fact.id).map(answer)
}
