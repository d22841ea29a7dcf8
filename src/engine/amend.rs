//! Changing an answer: what comes after it is taken back, and carried over where it still fits.

use super::place::AnswerPlace;
use super::run::{Event, Run};
use super::state::RunState;
use super::withdrawal::{TO_BE_ASKED, TO_BE_CARRIED};
use crate::clock::Moment;
use crate::procedure::Refusal;
use crate::record::{Entry, EntryKind, Provenance};
use crate::words::list;

/// An answer in effect, by the number a person knows it by.
#[derive(Clone, Debug, PartialEq)]
pub struct NumberedAnswer<'r> {
    /// Its number, from 1.
    pub number: usize,
    /// The heading it stands under.
    pub section: Option<&'r str>,
    /// What it answers, in few words.
    pub label: String,
    /// The answer itself.
    pub entry: &'r Entry,
}

/// What a person means by a name.
#[derive(Clone)]
enum Amendable {
    /// What the system file told at a place.
    Fact(AnswerPlace),
    /// An answer, by its number.
    Answer(usize),
}

impl Run {
    /// The answers in effect, without the waits and warnings that lead in to them.
    fn numbered_answers(&self) -> impl Iterator<Item = &Event> {
        self.answers.iter().filter(|answer| !answer.entry.kind.leads_in())
    }

    /// The number of the next answer, from 1.
    pub(super) fn next_number(&self) -> usize {
        self.state.answered + 1
    }

    /// The answers in effect, in their order.
    pub fn answered_so_far(&self) -> impl Iterator<Item = NumberedAnswer<'_>> {
        self.numbered_answers().enumerate().map(|(at, answer)| NumberedAnswer {
            number: at + 1,
            section: answer.section.as_deref(),
            label: self.label_of_answer(&answer.entry),
            entry: &answer.entry,
        })
    }

    /// What an answer is called in a list: its step's label, else what was asked, but a fact by its name.
    fn label_of_answer(&self, entry: &Entry) -> String {
        let procedure = &self.setting.procedure;
        let labelled = procedure.step(&entry.step).is_some_and(|step| step.label.is_some());
        match entry.asked.as_deref().filter(|asked| !asked.is_empty()) {
            Some(asked) if !labelled && entry.kind != EntryKind::Fact => asked.to_string(),
            Some(_) | None => procedure.label(&entry.step),
        }
    }

    /// How many answers wait to be carried over, the one to be changed among them.
    pub fn left_to_carry(&self) -> usize {
        self.withdrawn.answers_kept().count()
    }

    /// Takes back the last answer, and what came between it and the question: a wait, a warning read.
    pub(super) fn go_back(&mut self, now: Moment) -> Result<Vec<Event>, Refusal> {
        let Some(last) = self.numbered_answers().last().map(|answer| answer.entry.n) else {
            return Refusal::again("There is no answer before this one.");
        };
        Ok(self.take_back(last, None, now))
    }

    /// Takes back the answer of that number, to be given anew, and all after it, to be carried over
    /// where they still fit.
    pub(super) fn amend(&mut self, number: usize, now: Moment) -> Result<Vec<Event>, Refusal> {
        let chosen = number.checked_sub(1).and_then(|before| self.numbered_answers().nth(before));
        let Some(n) = chosen.map(|answer| answer.entry.n) else {
            let last = self.next_number() - 1;
            let none = format!("There is no answer {number}: they are numbered from 1 to {last}.");
            return Refusal::again(match (last, self.withdrawn.to_carry.is_empty()) {
                (_, false) => {
                    "Answer this first, Enter keeps it: those after it wait to be carried over.".to_string()
                }
                (0, true) => "Nothing is answered yet.".to_string(),
                (_, true) => none,
            });
        };
        Ok(self.take_back(n, Some(TO_BE_CARRIED), now))
    }

    /// The facts that the system file told and that hold, each with its label and what was told.
    pub fn facts_from_file(&self) -> Vec<(String, String)> {
        let procedure = &self.setting.procedure;
        let mut facts: Vec<&Entry> = self.file_facts.values().collect();
        facts.sort_unstable_by_key(|fact| fact.n);
        let shown = |fact: &Entry| (procedure.label(&fact.step), fact.given.clone().unwrap_or_default());
        facts.into_iter().map(shown).collect()
    }

    /// Takes a fact that the system file told back, to be told by the person, and all answers after it, to be
    /// carried over where they still fit.
    pub(super) fn amend_named(&mut self, words: &str, now: Moment) -> Result<Vec<Event>, Refusal> {
        let place = match self.by_words(words)? {
            Amendable::Answer(number) => return self.amend(number, now),
            Amendable::Fact(place) => place,
        };
        let Some(fact) = self.file_facts.remove(&place) else {
            return Refusal::again("The system file told nothing of that name.");
        };
        self.withdrawn.take(&fact, Some(TO_BE_ASKED));
        let mut events = self.take_back(fact.n, Some(TO_BE_CARRIED), now);
        events.push(self.withdrawal(fact, Some(TO_BE_ASKED), now));
        Ok(events)
    }

    /// What is meant by these words: the one fact that the system file told, of several tanks' the last, or else
    /// the one answer of that label.
    fn by_words(&self, words: &str) -> Result<Amendable, Refusal> {
        let words = words.trim().to_lowercase();
        let procedure = &self.setting.procedure;
        let facts = self.file_facts.keys();
        let facts = facts.map(|place| (procedure.label(&place.step), Amendable::Fact(place.clone())));
        let answers = self.answered_so_far().map(|answer| (answer.label, Amendable::Answer(answer.number)));
        let all: Vec<(String, Amendable)> =
            facts.chain(answers).map(|(label, named)| (label.to_lowercase(), named)).collect();
        if let Some((_, named)) = all.iter().rfind(|(label, _)| *label == words) {
            return Ok(named.clone());
        }
        // Of several readings of one thing the last.
        let near = all.iter().rev().filter(|(label, _)| label.contains(&words));
        let mut near: Vec<&(String, Amendable)> = near.collect();
        near.dedup_by(|one, other| one.0 == other.0);
        near.reverse();
        match near.as_slice() {
            [(_, named)] => Ok(named.clone()),
            [] => Refusal::again(format!(
                "Nothing here is called `{words}`. `list` shows the numbers of answers, and what the system file told."
            )),
            several => {
                let labels: Vec<&str> = several.iter().map(|(label, _)| label.as_str()).collect();
                Refusal::again(format!("`{words}` could mean {}.", list(&labels, "or")))
            }
        }
    }

    /// Keeps what the system file told.
    pub(super) fn remember_fact(&mut self, entry: &Entry) {
        if entry.kind == EntryKind::Fact && entry.provenance == Some(Provenance::SystemFile) {
            self.file_facts.insert(AnswerPlace::of(entry), entry.clone());
        }
    }

    /// Takes all answers back from a number on, and folds those before it anew: what followed from them goes with
    /// them. The events are what the record says of that, the last answer first.
    fn take_back(&mut self, from: u64, why: Option<&str>, now: Moment) -> Vec<Event> {
        self.file_facts.retain(|_, fact| fact.n < from);
        let mut kept = std::mem::take(&mut self.answers);
        let withdrawn = kept.split_off(kept.partition_point(|answer| answer.entry.n < from));
        let next = self.next;
        self.state = RunState::new(&self.setting);
        self.advance(now);
        for Event { entry, .. } in kept {
            let at = entry.at;
            self.apply(entry, at);
        }
        // What was derived again stands in the record already.
        self.next = next;
        let mut events = Vec::new();
        for Event { entry, .. } in withdrawn.into_iter().rev() {
            self.withdrawn.take(&entry, why);
            events.push(self.withdrawal(entry, why, now));
        }
        events
    }

    /// What the record says of an entry taken back, and why it was.
    fn withdrawal(&mut self, old: Entry, why: Option<&str>, now: Moment) -> Event {
        let mut entry = Entry::new(EntryKind::Withdrawn, old.step, now);
        (entry.round, entry.take, entry.tank) = (old.round, old.take, old.tank);
        (entry.phase, entry.observes) = (old.phase, old.observes);
        entry.replaces = Some(old.n);
        entry.reason = why.map(ToString::to_string);
        Event { section: None, ..self.numbered(entry) }
    }
}
