//! The ends of a conversation: closed, left, broken off.

use super::{Conversation, Interruption, Next, Occasion};
use crate::app::{Done, Failure, Result};
use crate::console::{Block, Command, Ended, Prompt, Reply, ReplyKind};
use crate::engine::RunInput;
use crate::record::{Grade, Outcome, Summary};
use crate::report::{RunView, closing_lines, outcome_word, review, summary_page, to_text};
use crate::words::path_shown;

/// The word that closes the record for good.
const SEAL: &str = "seal";
/// Why a record is sealed.
const WHY_SEAL: &str = "Sealed, the record can be shown, reported and compared next year, and a change in it is seen. \
                        Read what it came to first. `pause` leaves it open; `amend` changes an answer.";
/// What may be done with a record.
const AFTERWARDS: [(&str, &str); 3] =
    [("Summary", "show"), ("Report, to print", "report"), ("Tag for the tank", "tag")];

impl Conversation<'_, '_> {
    /// The run has ended; the person may still amend before the record is closed for good.
    pub(super) fn close(&mut self) -> Result<Option<Next>, Interruption> {
        let mut prompt = Prompt::new("close", "seal the record", ReplyKind::Word(SEAL.to_string()));
        prompt.commands = Command::ALL.into_iter().filter(|command| *command != Command::Skip).collect();
        self.review()?;
        loop {
            match self.stage.face.ask(&prompt)? {
                Reply::Text(_) => return Ok(None),
                Reply::Command(Command::Pause, _) => {
                    return Ok(Some(Next::Leave("Left before the record was closed.")));
                }
                Reply::Command(Command::Why, _) => self.stage.show(Block::Help, WHY_SEAL)?,
                Reply::Command(command, words) => {
                    if self.command(command, &words)? {
                        return Ok(Some(Next::GoOn));
                    }
                }
            }
        }
    }

    /// What the run came to, before it is closed for good.
    fn review(&mut self) -> Result<()> {
        let contents = crate::record::read(self.recorder.path())?;
        let stands: Vec<String> = self.run.stands().into_iter().map(ToString::to_string).collect();
        let view = RunView::new(&contents, Some(&self.run.setting().procedure)).standing(stands.clone());
        self.stage.show(Block::Text, "Before the record is sealed:")?;
        for (grade, text) in review(&view) {
            self.stage.face.show(&Block::Finding(grade, text))?;
        }
        if !stands.is_empty() {
            self.stage.show(Block::Aside, format!("Left like this: {}.", stands.join(" · ")))?;
        }
        let text = "After it is sealed nothing in it can be changed. `list` shows the answers, `amend` and a number \
                    changes one.";
        self.stage.show(Block::Aside, text)
    }

    /// Closes the record and shows the summary.
    pub(super) fn finished(&mut self) -> Result<Done> {
        let at = self.stage.clock.now();
        let (outcome, words) =
            self.run.ended().cloned().unwrap_or((Outcome::Unfinished, "It was not ended.".to_string()));
        let grade = self.run.grade();
        let found = self.run.worst_names();
        self.recorder.finish(&Summary { outcome, at, words, grade, found })?;
        let path = self.recorder.path().to_path_buf();
        let contents = crate::record::read(&path)?;
        let view = RunView::new(&contents, Some(&self.run.setting().procedure));
        if self.stage.occasion == Occasion::Demo {
            self.stage.show(Block::Lines, to_text(&summary_page(&view), self.stage.width))?;
            let text = "This was a demonstration on an invented installation; its record is not kept.";
            self.stage.show(Block::Aside, text)?;
        } else if self.owner.is_none() {
            self.stage.show(Block::Text, self.sealed(outcome))?;
            let numbers = closing_lines(&view, self.stage.width);
            if !numbers.is_empty() {
                self.stage.show(Block::Lines, numbers)?;
            }
            self.stage.show(Block::Aside, format!("The record:\n{}", path_shown(path)))?;
            for (what, command) in AFTERWARDS {
                self.stage.show(Block::Aside, format!("{what}: tankhand records {command} {}", self.id))?;
            }
        }
        let well = outcome == Outcome::Completed
            && view.checks_failed() == 0
            && grade.is_none_or(|grade| grade < Grade::Act);
        Ok(if well { Done::Well } else { Done::Short })
    }

    /// The outcome, and how things stand, once the record is closed.
    fn sealed(&self, outcome: Outcome) -> String {
        let left = match self.run.stands().join(" · ") {
            stands if stands.is_empty() => String::new(),
            stands => format!(" Left like this: {stands}."),
        };
        format!("Sealed: {}.{left}", outcome_word(Some(outcome)))
    }

    /// The person leaves; the run can be gone on with.
    pub(super) fn leave(&mut self, why: &str) -> Result<Done> {
        let now = self.stage.clock.now();
        if let Ok(events) = self.run.take(RunInput::Pause, now) {
            self.keep(events)?;
        }
        self.explain_resuming(why)?;
        Ok(Done::Short)
    }

    fn explain_resuming(&mut self, why: &str) -> Result<()> {
        let waiting = match self.run.ask() {
            Some(ask) if ask.text.is_empty() => {
                format!("{why} It waits at what can hurt, before answer {}.", ask.number)
            }
            Some(ask) => format!("{why} It waits at answer {}: {}", ask.number, ask.text),
            None => format!("{why} All is answered, and the record waits to be closed."),
        };
        let stands = self.run.stands().join(" · ");
        self.stage.show(Block::Text, waiting)?;
        if !stands.is_empty() && self.owner.is_none() {
            self.stage.show(Block::Text, format!("Left like this: {stands}."))?;
        }
        // Whole on its line, so that it can be copied.
        let kept = format!("Everything is kept in\n{}", path_shown(self.recorder.path()));
        self.stage.show(Block::Aside, kept)?;
        self.stage.show(Block::Aside, format!("Go on with: tankhand resume {}", self.id))
    }

    pub(super) fn broken_off(&mut self, ended: Ended) -> Result<Done> {
        match ended {
            Ended::NoMoreInput => self.explain_resuming("The input is at its end.")?,
            Ended::Interrupted => self.explain_resuming("Broken off.")?,
            Ended::Script(fault) => return Err(Failure::Faults(vec![*fault])),
            Ended::Io(error) => return Err(Failure::from(error)),
        }
        Ok(Done::Short)
    }
}
