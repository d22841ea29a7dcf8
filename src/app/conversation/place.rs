//! Where am I: what was answered, what comes, how the plant stands; and what a changed answer leads to.

use super::{Conversation, Interruption};
use crate::app::failure::Failure;
use crate::console::{Block, Prompt, Reply};
use crate::engine::{NumberedAnswer, RunInput};
use crate::words::counted;

/// More of an answer than this is not shown in a list.
const LONGEST: usize = 40;

impl Conversation<'_, '_> {
    /// The answers so far under their headings, the place in the work, how the plant stands.
    pub(super) fn tell_place(&mut self) -> Result<(), Failure> {
        let mut lines = Vec::new();
        let mut section = None;
        for answer in self.run.answered_so_far() {
            if answer.section != section {
                section = answer.section;
                lines.extend(section.map(ToString::to_string));
            }
            lines.push(line_of(&answer));
        }
        let ask = self.run.ask();
        if let Some(ask) = &ask {
            let new = ask.section.as_deref().filter(|new| Some(*new) != section);
            lines.extend(new.map(ToString::to_string));
            lines.push(format!("{:>4}  you are here", ask.number));
        }
        let face = &mut self.stage.face;
        face.show(&Block::Lines(lines))?;
        if let Some(ask) = &ask {
            let whole = ask.number.max(self.run.questions_left() + ask.number - 1);
            face.show(&Block::Text(format!("Answer {} of about {whole}.", ask.number)))?;
        }
        let stands = self.run.stands();
        if !stands.is_empty() {
            face.show(&Block::Text(format!("As the steps left it: {}.", stands.join(", "))))?;
        }
        face.show(&Block::Aside("`amend` and a number changes that answer.".to_string()))?;
        Ok(())
    }

    /// Whether an answer that reopens later ones is meant. It is tried on a copy of the run first.
    pub(super) fn is_agreed(&mut self, prompt: &Prompt, text: &str) -> Result<bool, Interruption> {
        let before = self.run.left_to_carry();
        let mut trial = self.run.clone();
        let tried = trial.take(RunInput::Answer(text, false), self.stage.clock.now());
        let left = trial.left_to_carry();
        if tried.is_err() || left == before {
            return Ok(true);
        }
        let kept = counted(before - left - 1, "later answer");
        let Some(ask) = trial.ask().filter(|_| left > 0) else {
            let told = format!("{kept} kept.");
            self.stage.face.show(&Block::Aside(told)).map_err(Failure::from)?;
            return Ok(true);
        };
        let asked = if ask.text.is_empty() { "what can hurt".to_string() } else { ask.text };
        let told = format!(
            "This keeps {kept}. Number {} is asked again: {asked} From there on, what is the same is kept.",
            ask.number
        );
        self.stage.face.show(&Block::Text(told)).map_err(Failure::from)?;
        let choices = [("yes", "change it"), ("no", "ask this again")];
        Ok(match self.sure(prompt, "change it", choices)? {
            Reply::Text(text) => text == "yes",
            Reply::Command(command, words) => {
                self.command(command, &words)?;
                false
            }
        })
    }
}

/// An answer in a line: number, what it answers, what was answered.
fn line_of(answer: &NumberedAnswer<'_>) -> String {
    let entry = answer.entry;
    let take = entry.take.map(|take| format!(", {take}"));
    let round = entry.round.last().map(|round| format!(", round {round}"));
    let label = format!("{}{}{}", answer.label, round.unwrap_or_default(), take.unwrap_or_default());
    let given = entry.given.as_deref().unwrap_or_else(|| entry.kind.word());
    let given = if given.is_empty() { "done" } else { given };
    let given: String = given.chars().take(LONGEST).collect();
    format!("{:>4}  {label}: {given}", answer.number)
}
