//! What is shown above a question, and what `?` tells: why, how, and how results came about.

use super::{Conversation, prompt};
use crate::app::Result;
use crate::console::{Block, Command, Face};
use crate::engine::{AnswerKind, Ask};
use crate::report::{COVERAGE, check_lines, explanation_lines, interval_words, reason_lines};
use crate::words::{counted, wrap};

/// A page of help is at most so many lines, with the one that says that more comes.
const LONGEST_PAGE: usize = 11;
/// How far help is indented.
const HELP_INDENT: usize = 2;
/// So many results are all explained in full.
const MOST_IN_FULL: usize = 3;
/// More than so many are not told.
const MOST_RESULTS: usize = 12;

impl Conversation<'_, '_> {
    pub(super) fn show_ask(&mut self, ask: &Ask) -> Result<()> {
        let see = ask.see.as_deref().unwrap_or_default();
        let is_new = self.shown.insert(ask.place.step.clone());
        let text = ask.repeated.as_ref().filter(|_| !is_new).unwrap_or(&ask.text);
        self.introduce(&format!("{text} {see}"))?;
        let face = &mut self.stage.face;
        for warning in &ask.warned {
            face.show(&Block::Warning(warning.signal, warning.text.clone()))?;
        }
        let mut lines = vec![text.clone()];
        lines.extend(ask.see.as_ref().map(|see| format!("Check: {see}")));
        // From the second round on the word is known; `?` tells it again.
        let first = !ask.place.is_repeated();
        if let Some((word, Some(means))) = ask.otherwise.as_ref().filter(|_| first) {
            lines.push(format!("Type {word} when {means}."));
        }
        if !text.is_empty() {
            let (below, commands) = match &ask.expects {
                AnswerKind::OneOf(choices) => (choices.len(), prompt::commands(ask)),
                // A wait has words of its own.
                AnswerKind::WaitBegins(_) | AnswerKind::WaitOver { .. } => (1, Vec::new()),
                AnswerKind::Done(_)
                | AnswerKind::Understood
                | AnswerKind::Number(..)
                | AnswerKind::YesNo
                | AnswerKind::Text(_) => (1, prompt::commands(ask)),
            };
            face.show(&Block::Task { lines, below, commands })?;
        }
        Ok(())
    }

    /// Why a step is done, how, and what may be typed: safety first, and no more at once than can be read
    /// standing. Asked again it goes on.
    pub(super) fn explain(&mut self, ask: &Ask) -> Result<()> {
        let width = self.stage.width;
        let mut pages: Vec<Vec<String>> = vec![Vec::new()];
        let mut lines = 0;
        for text in self.help(ask) {
            let more = wrap(&text, width, HELP_INDENT).len();
            if lines > 0 && lines + more > LONGEST_PAGE {
                pages.push(Vec::new());
                lines = 0;
            }
            lines += more;
            if let Some(page) = pages.last_mut() {
                page.push(text);
            }
        }
        let seen = self.helped.take().filter(|(place, _)| *place == ask.place).map_or(0, |(_, seen)| seen);
        let at = seen % pages.len();
        for text in &pages[at] {
            self.stage.show(Block::Help, text.clone())?;
        }
        if at + 1 < pages.len() {
            self.stage.show(Block::Help, "`?` again tells more.")?;
        }
        self.helped = Some((ask.place.clone(), at + 1));
        Ok(())
    }

    /// What there is to say about a question, the most important first.
    fn help(&self, ask: &Ask) -> Vec<String> {
        let mut all: Vec<String> = self.run.hazard_lines().iter().map(ToString::to_string).collect();
        let stands = self.run.stands();
        if !stands.is_empty() {
            all.push(format!("Now: {}.", stands.join(" · ")));
        }
        if ask.expects == AnswerKind::Understood {
            let read = "Read what can hurt in the work that comes next. Typing the word says that you have.";
            let then = "Nothing is done yet. The record keeps the message and the word.";
            all.extend([read, then].map(str::to_string));
        }
        all.extend(ask.repeated.as_ref().map(|_| ask.text.clone()));
        let led = |lead: &str, text: &Option<String>| text.as_ref().map(|text| format!("{lead}: {text}"));
        all.extend(
            [led("Check", &ask.see), led("How", &ask.how), led("Why", &ask.why)].into_iter().flatten(),
        );
        let helped = ask.expects.choices().iter();
        all.extend(helped.filter_map(|choice| Some(format!("{}: {}", choice.value, choice.help.as_ref()?))));
        if let Some((word, means)) = &ask.otherwise {
            all.push(format!("{word}: {}.", means.as_deref().unwrap_or("it is not so")));
        }
        let commands: Vec<&str> = prompt::commands(ask).into_iter().map(Command::word).collect();
        all.push(format!("You can type: {}.", commands.join(", ")));
        all
    }

    /// How each result told last was worked out, and how each check came to
    /// its verdict: the first result in full, the others in a line each.
    pub(super) fn explain_results(&mut self) -> Result<()> {
        let setting = self.run.setting();
        let derived = !self.run.derivation().is_empty() || !self.run.check_derivation().is_empty();
        if !derived && !self.run.has_reasons() {
            return self.stage.show(Block::Aside, "Nothing was worked out yet.");
        }
        let mut uncertain = false;
        let all = self.run.derivation();
        let in_full = if all.len() <= MOST_IN_FULL { MOST_IN_FULL } else { 1 };
        for (place, derivation) in all.iter().take(MOST_RESULTS).enumerate() {
            let label = setting.procedure.label(derivation.step);
            let plain = label == derivation.step.replace('_', " ");
            let lead = if plain { String::new() } else { format!("{label}, ") };
            let same_as = derivation.same_as.map_or(String::new(), |step| format!(" = {step}"));
            let what = format!("{lead}{}{same_as}", derivation.step);
            let shares = self.run.shares(derivation.how);
            uncertain |= !shares.is_empty();
            let mut lines = explanation_lines(&what, derivation.how, &shares, setting.units);
            if place >= in_full {
                lines.truncate(1);
            } else {
                let interval = self.run.coverage_interval(derivation);
                lines.extend(interval.map(|interval| interval_words(&interval, setting.units)));
            }
            show(self.stage.face, lines)?;
        }
        if all.len() > MOST_RESULTS {
            let left = counted(all.len() - MOST_RESULTS, "result");
            show(self.stage.face, vec![format!("{left} more stand in the record.")])?;
        }
        for check_derivation in self.run.check_derivation() {
            let shares = self.run.shares_of_margin(check_derivation);
            uncertain |= !shares.is_empty();
            let label = setting.procedure.label(&check_derivation.step);
            show(self.stage.face, check_lines(&label, check_derivation, &shares, setting.units))?;
        }
        for reasons in self.run.reasons() {
            show(self.stage.face, reason_lines(&reasons))?;
        }
        if uncertain {
            self.stage.show(Block::Aside, COVERAGE)?;
        }
        Ok(())
    }
}

/// Shows an explanation, its first line as a text.
fn show(face: &mut dyn Face, lines: Vec<String>) -> Result<()> {
    for (at, line) in lines.into_iter().enumerate() {
        face.show(&if at == 0 { Block::Text(line) } else { Block::Aside(line) })?;
    }
    Ok(())
}
