//! The question a run waits on.

use super::place::AnswerPlace;
use super::run::{Run, Waiting};
use crate::lang::Template;
use crate::procedure::{AnswerKind, Fact, Question, Step, Warning};

/// A question.
#[derive(Clone, Debug, PartialEq)]
pub struct Ask {
    /// Where the answer belongs.
    pub place: AnswerPlace,
    /// The number a person will know the answer by, from 1.
    pub number: usize,
    /// Which round of each loop around it, in words: `round 3`, `tank cellar`.
    pub rounds: Vec<String>,
    /// Of how many readings this is one.
    pub takes: u32,
    /// The heading of the part of the work it belongs to.
    pub section: Option<String>,
    /// The question or the instruction.
    pub text: String,
    /// What may be put in its place where it was shown before, at an earlier reading or round.
    pub repeated: Option<String>,
    /// What shows that it went right.
    pub see: Option<String>,
    /// What the person is warned of before it.
    pub warned: Vec<Warning>,
    /// Why it is asked or done.
    pub why: Option<String>,
    /// How it is done.
    pub how: Option<String>,
    /// What is wanted.
    pub expects: AnswerKind,
    /// What an empty answer means.
    pub usual: Option<String>,
    /// The answer given before it was taken back.
    pub earlier: Option<String>,
    /// The word that says it is not so, and what it means.
    pub otherwise: Option<(&'static str, Option<String>)>,
    /// It may be skipped.
    pub can_skip: bool,
    /// There is an answer before it to go back to.
    pub can_back: bool,
    /// There is an answer, or what the system file told, to be changed.
    pub can_amend: bool,
}

impl Run {
    /// The question the run waits on; `None` when it has ended.
    pub fn ask(&self) -> Option<Ask> {
        let mut ask = match self.waiting()? {
            Waiting::Fact(fact) => self.ask_fact(fact),
            Waiting::Warning(step) => self.ask_warning(step),
            Waiting::Step(step, asks) => self.ask_step(step, asks.question(self)),
        };
        let earlier = self.withdrawn.earlier.get(&ask.place).map(|(_, given)| given.clone());
        // That it was not so is no answer to keep.
        let not_so = ask.otherwise.as_ref().map(|(word, _)| *word);
        ask.earlier = earlier
            .filter(|given| !given.is_empty() && ask.expects.is_kept() && Some(given.as_str()) != not_so);
        ask.can_back = self.can_go_back();
        ask.can_amend = ask.can_back || !self.file_facts.is_empty();
        Some(ask)
    }

    fn put(&self, question: Question) -> Ask {
        let Question { text, see, expects, usual, otherwise } = question;
        Ask {
            place: self.place(),
            number: self.next_number(),
            rounds: self.state.frames.rounds_in_words(&self.setting.system),
            takes: 1,
            section: self.state.section.clone(),
            text,
            repeated: None,
            see,
            warned: Vec::new(),
            why: None,
            how: None,
            expects,
            usual,
            earlier: None,
            otherwise,
            can_skip: false,
            can_back: false,
            can_amend: false,
        }
    }

    fn ask_fact(&self, fact: &Fact) -> Ask {
        let mut ask = self.put(fact.question(self));
        if let Some(refused) = self.refused_of_file(fact) {
            ask.text = format!("{} {refused}", ask.text);
        }
        Ask { why: fact.why.clone(), ..ask }
    }

    /// Why the system file's answer to a fact is not taken, when it has one.
    fn refused_of_file(&self, fact: &Fact) -> Option<String> {
        let value = self.setting.system.value(fact.from.as_deref()?, self.tank())?;
        let (low, high) = fact.outside_what_can_be(value, self)?;
        let shown = value.shown(self.setting.units);
        Some(format!("(Your system file says {shown}, which is outside what can be: {low} to {high}.)"))
    }

    /// What can hurt at a step; the word that it was read is waited for.
    fn ask_warning(&self, step: &Step) -> Ask {
        let question = Question::new(String::new(), AnswerKind::Understood);
        Ask { warned: self.messages(step), ..self.put(question) }
    }

    fn ask_step(&self, step: &Step, question: Question) -> Ask {
        let fill = |text: &Template| text.filled(&self.state.names, self.setting.units);
        let is_repeated = self.place().is_repeated();
        Ask {
            repeated: step.repeated.as_ref().filter(|_| is_repeated).map(fill),
            takes: step.course().gives().map_or(1, |gives| gives.times),
            why: step.why.as_ref().map(fill),
            how: step.how.as_ref().map(fill),
            can_skip: step.skip,
            warned: self.reminders(step),
            ..self.put(question)
        }
    }
}
