//! Where am I: what was answered, what comes, how the plant stands; and what a changed answer leads to.

use std::time::Duration;

use super::{Agreement, Conversation, Interruption, Occasion};
use crate::app::Result;
use crate::console::{Block, Prompt};
use crate::engine::{Ask, Event, NumberedAnswer, RunInput};
use crate::quantity::show_number;
use crate::record::Entry;
use crate::words::{counted, wrap};

/// More of a question or an answer than this is not shown in a list.
const LONGEST_IN_LIST: usize = 44;
/// So many questions that are asked again are named.
const MOST_AGAIN: usize = 6;
/// Columns of a number and the signs beside a label.
const NUMBER: usize = 8;
/// What stands where a text was shortened.
const MORE: &str = " ...";

impl Conversation<'_, '_> {
    /// The answers so far under their headings, the place in the work, how the plant stands.
    pub(super) fn tell_place(&mut self) -> Result<()> {
        let mut lines = Vec::new();
        let mut section = None;
        let labels: Vec<String> = self.run.facts_from_file().into_iter().map(|(label, _)| label).collect();
        if !labels.is_empty() {
            lines.extend(wrap(&format!("From the system file: {}.", labels.join(", ")), self.stage.width, 0));
        }
        for answer in self.run.answered_so_far() {
            if answer.section != section {
                section = answer.section;
                lines.extend(section.map(ToString::to_string));
            }
            lines.push(line_of(&answer, self.stage.width));
        }
        let ask = self.run.ask();
        if let Some(ask) = &ask {
            let new = ask.section.as_deref().filter(|new| Some(*new) != section);
            lines.extend(new.map(ToString::to_string));
            lines.push(format!("{:>4}  you are here", ask.number));
        }
        self.stage.show(Block::Lines, lines)?;
        if ask.is_some() {
            let left = self.run.time_left(self.stage.clock.now());
            let left = left.map_or(String::new(), |left| format!(" About {} left.", roughly(left)));
            let progress = self.progress().unwrap_or_default();
            self.stage.show(Block::Text, format!("Answer {progress}.{left}"))?;
        }
        let stands = self.run.stands();
        if !stands.is_empty() {
            self.stage.show(Block::Text, format!("As the steps left it: {}.", stands.join(", ")))?;
        }
        self.stage.show(Block::Aside, "`amend` and a number or a name changes that.")
    }

    /// How far the work is, and when it will be done: by the clock at the tank, not that of a sheet.
    pub(super) fn progress(&self) -> Option<String> {
        let ask = self.run.ask()?;
        let now = self.stage.clock.now();
        let whole = ask.number.max(self.run.questions_left() + ask.number - 1);
        let position = format!("{} of about {whole}", ask.number);
        let left = self.run.time_left(now).filter(|_| self.stage.occasion != Occasion::Paper);
        let Some(left) = left else { return Some(position) };
        let done = now.plus(left);
        let day = if done.date() == now.date() { String::new() } else { format!("on {} ", done.date()) };
        Some(format!("{position}, done {day}at about {}", done.time_of_day()))
    }

    /// Whether an answer that reopens later ones is meant. It is tried on a copy of the run first.
    pub(super) fn is_agreed(&mut self, prompt: &Prompt, text: &str) -> Result<Agreement, Interruption> {
        let before = self.run.left_to_carry();
        let mut changed = self.run.clone();
        let tried = changed.take(RunInput::Answer(text), self.stage.clock.now());
        let left = changed.left_to_carry();
        if tried.is_err() || left == before {
            return Ok(Agreement::Yes);
        }
        let is_answer = |event: &&Event| event.entry.moves_on() && !event.entry.kind.leads_in();
        // The first is the answer itself.
        let kept = tried.iter().flatten().skip(1).filter(is_answer).count();
        let keeps =
            if kept == 0 { String::new() } else { format!("This keeps {}. ", counted(kept, "later answer")) };
        let again = if left > 0 { changed.asked_again(self.stage.clock.now()) } else { Vec::new() };
        if again.is_empty() {
            if kept > 0 {
                self.stage.show(Block::Aside, format!("{} kept.", counted(kept, "later answer")))?;
            }
            return Ok(Agreement::Yes);
        }
        self.stage.show(Block::Text, format!("{keeps}Asked again, with what follows from it:"))?;
        let room = self.stage.width.saturating_sub(NUMBER);
        let line = |ask: &Ask| {
            let asked = if ask.text.is_empty() { "what can hurt" } else { &ask.text };
            format!("{:>4}  {}", ask.number, cut(asked, room))
        };
        let mut lines: Vec<String> = again.iter().take(MOST_AGAIN).map(line).collect();
        if again.len() > MOST_AGAIN {
            lines.push(format!("      and {} more", again.len() - MOST_AGAIN));
        }
        self.stage.show(Block::Lines, lines)?;
        let choices = [("yes", "change it"), ("no", "ask this again")];
        self.sure(prompt, "change it", choices)
    }
}

/// An answer in a line of so many columns: number, what it answers, what was answered.
fn line_of(answer: &NumberedAnswer<'_>, width: usize) -> String {
    let entry = answer.entry;
    let take = entry.take.map(|take| format!(", {take}"));
    let round = entry.round.last().map(|round| format!(", round {round}"));
    let which = format!("{}{}", round.unwrap_or_default(), take.unwrap_or_default());
    let room = width.saturating_sub(NUMBER + which.len());
    let given = cut(&given(entry), room / 2);
    let label = cut(&answer.label, LONGEST_IN_LIST.min(room.saturating_sub(given.chars().count())));
    format!("{:>4}  {label}{which}: {given}", answer.number)
}

/// The answer as it was given, a number with its unit.
fn given(entry: &Entry) -> String {
    match (entry.value, entry.unit.as_deref(), entry.given.as_deref()) {
        (Some(value), Some(unit), _) => format!("{} {unit}", show_number(value, 0.0)),
        (_, _, Some(given)) if !given.is_empty() => given.to_string(),
        (_, _, Some(_)) => "done".to_string(),
        (_, _, None) => entry.kind.word().to_string(),
    }
}

/// The text, shortened at a word's end where it is too long.
fn cut(text: &str, longest: usize) -> String {
    if text.chars().count() <= longest {
        return text.to_string();
    }
    let end = text.char_indices().nth(longest.saturating_sub(MORE.len())).map_or(0, |(end, _)| end);
    let kept = text[..end].rsplit_once(' ').map_or(&text[..end], |(kept, _)| kept);
    format!("{kept}{MORE}")
}

/// A time in the steps in which one plans: five minutes.
fn roughly(span: Duration) -> String {
    let minutes = (span.as_secs() + 150) / 300 * 5;
    match (minutes / 60, minutes % 60) {
        (0, 0) => "a few minutes".to_string(),
        (0, minutes) => format!("{minutes} min"),
        (hours, 0) => format!("{hours} h"),
        (hours, minutes) => format!("{hours} h {minutes} min"),
    }
}
