//! A conversation at a simulated installation: what would be seen is told before each answer.

use std::time::Duration;

use super::{Conversation, Interruption, Next};
use crate::app::{Done, Result};
use crate::console::Block;
use crate::engine::{Ask, Event, RunInput};
use crate::owner::Owner;

impl<'a> Conversation<'a, '_> {
    /// Walks the procedure with an owner who sees for the person, who gets it back.
    pub(crate) fn practice(mut self, owner: &'a mut Owner, first: Vec<Event>) -> Result<(Done, Self)> {
        self.owner = Some(owner);
        let done = self.go(first)?;
        Ok((done, self))
    }

    pub(super) fn learn(&mut self, events: &[Event]) {
        if let Some(owner) = &mut self.owner {
            owner.learns(events.iter().map(|event| &event.entry));
        }
    }

    /// What there is to see at a question.
    pub(super) fn show_sight(&mut self, ask: &Ask) -> Result<()> {
        let sight = self.owner.as_mut().and_then(|owner| owner.practices(&self.run, ask));
        if let Some(sight) = sight {
            self.stage.show(Block::Aside, sight)?;
        }
        Ok(())
    }

    /// In a practice nobody waits.
    pub(super) fn pass_the_wait(&mut self, whole: Duration) -> Result<Option<Next>, Interruption> {
        if let Some(owner) = &mut self.owner {
            owner.waits(whole.as_secs_f64());
        }
        self.stage.show(Block::Aside, "This is a practice, so the wait is over at once.")?;
        let now = self.stage.clock.now();
        self.take(RunInput::WaitOver(whole), now)?;
        Ok(Some(Next::GoOn))
    }
}
