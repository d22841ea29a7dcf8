//! What came about: written, then told.

use super::{Conversation, prompt};
use crate::app::Result;
use crate::console::Block;
use crate::engine::{Event, is_carried_over};
use crate::quantity::Verdict;
use crate::record::{Entry, EntryKind, Grade};
use crate::report::finding_words;
use crate::words::{capitalized, terms_in};

/// How a fact of the system file is changed for this run.
const AMEND_FACT: &str = "Type amend and its name.";

impl Conversation<'_, '_> {
    /// Writes what came about, then shows it.
    pub(super) fn keep(&mut self, events: Vec<Event>) -> Result<()> {
        let entries: Vec<Entry> = events.iter().map(|event| event.entry.clone()).collect();
        if !entries.is_empty() {
            self.recorder.append(&entries)?;
        }
        self.learn(&events);
        let procedure = self.run.setting().procedure.clone();
        let known: Vec<String> =
            entries.iter().filter_map(|entry| prompt::known_fact(entry, &procedure)).collect();
        // What an amended fact leaves as it is was told before.
        let known: Vec<String> =
            known.into_iter().filter(|message| self.messages.insert(message.clone())).collect();
        if let (false, Some(first)) = (known.is_empty(), events.first()) {
            self.heading(&first.section)?;
            let message = format!("Taken from the system file: {}. Not so? {AMEND_FACT}", known.join("; "));
            self.stage.show(Block::Aside, message)?;
        }
        // What answers carried over lead to is only told where it is new; what is to be done was done before.
        self.carrying = entries.iter().any(is_carried_over);
        for event in &events {
            let said = event.entry.message();
            let is_new = said.is_some_and(|said| self.messages.insert(said));
            if is_new && event.entry.kind.is_result() || !self.carrying {
                self.show_event(event)?;
            }
        }
        self.carrying = false;
        Ok(())
    }

    pub(super) fn heading(&mut self, section: &Option<String>) -> Result<()> {
        if let Some(title) = section.as_ref().filter(|_| *section != self.section) {
            self.stage.show(Block::Heading, title.clone())?;
            if self.run.left_to_carry() == 0 && !self.carrying {
                let stands = self.run.stands();
                let progress = self.progress();
                let line = progress.iter().map(String::as_str).chain(stands).collect::<Vec<_>>().join(" · ");
                self.stage.show(Block::Aside, line)?;
            }
        }
        if section.is_some() {
            self.section = section.clone();
        }
        Ok(())
    }

    fn show_event(&mut self, event: &Event) -> Result<()> {
        let entry = &event.entry;
        let Some(said) = entry.message() else { return Ok(()) };
        let block = match entry.kind {
            EntryKind::Computed => Block::Result(said),
            EntryKind::Message => Block::Text(said),
            EntryKind::Finding => Block::Finding(entry.grade.unwrap_or(Grade::Note), finding_words(entry)),
            EntryKind::Checked => Block::Verdict(entry.verdict.unwrap_or(Verdict::Unsure), said),
            EntryKind::Stopped => {
                self.heading(&event.section)?;
                self.stage.show(Block::Heading, "The work stops here")?;
                // A check that had to hold has said why already.
                if self.said.as_deref() != Some(&said) {
                    self.stage.show(Block::Text, said)?;
                }
                match &entry.next {
                    Some(stands) => Block::Text(stands.clone()),
                    None => return Ok(()),
                }
            }
            EntryKind::NotSo => Block::Text(said),
            EntryKind::Fact
            | EntryKind::Understood
            | EntryKind::Done
            | EntryKind::Reading
            | EntryKind::Choice
            | EntryKind::Text
            | EntryKind::WaitBegun
            | EntryKind::Waited
            | EntryKind::Skipped
            | EntryKind::Withdrawn
            | EntryKind::Note
            | EntryKind::Paused
            | EntryKind::Resumed => return Ok(()),
        };
        self.said = entry.said.clone();
        self.heading(&event.section)?;
        self.introduce(&entry.message().unwrap_or_default())?;
        self.stage.face.show(&block)?;
        Ok(())
    }

    /// Tells what the terms of a text mean, each once in a run.
    pub(super) fn introduce(&mut self, text: &str) -> Result<()> {
        for term in terms_in(text) {
            if !self.introduced.contains(&term.term) {
                self.introduced.push(term.term);
                self.stage.show(Block::Aside, format!("{}: {}.", capitalized(term.term), term.meaning))?;
            }
        }
        Ok(())
    }
}
