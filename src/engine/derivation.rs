//! How results were worked out, for a person who asks.
//!
//! A result counts as told when a text that was shown since the last answer has it, or when the
//! question does. What was worked out without a word on the way to it is told beside it.

use std::sync::Arc;

use super::judgement::CheckDerivation;
use super::run::Run;
use crate::lang::{Ancestry, CoverageInterval, Explanation, Share, Template, Value};
use crate::procedure::Step;

/// How one result came about.
#[derive(Clone, Copy, Debug)]
pub struct Derivation<'r> {
    /// The step that worked it out.
    pub step: &'r str,
    /// The step whose result that is, when it only gave it another name.
    pub same_as: Option<&'r str>,
    /// How.
    pub how: &'r Explanation,
}

impl Run {
    /// How each check came to its verdict that was told last.
    pub fn check_derivation(&self) -> &[CheckDerivation] {
        if self.explains_the_question() { &[] } else { &self.state.check_derivation }
    }

    /// Whether what the question shows is the newest result there is.
    pub(super) fn explains_the_question(&self) -> bool {
        self.state.shown_before && self.in_question().iter().any(|id| self.state.explained.contains_key(id))
    }

    /// The names in the texts of the question.
    fn in_question(&self) -> Vec<Arc<str>> {
        let asked = self.state.facts.is_empty().then(|| self.state.frames.step(&self.setting.procedure));
        let mut ids = Vec::new();
        for text in asked.flatten().map(texts_of).unwrap_or_default() {
            names_in(text, &mut |name| ids.push(Arc::from(name)));
        }
        ids
    }

    /// Where the uncertainty of a check's margin comes from.
    pub fn shares_of_margin(&self, check_derivation: &CheckDerivation) -> Vec<Share> {
        let name = |source| self.source_name(source);
        check_derivation
            .margin
            .as_ref()
            .map_or(Vec::new(), |(_, margin)| check_derivation.how.shares_of(margin, &name))
    }

    /// The interval a result lies in, where its limits do not tell it.
    pub fn coverage_interval(&self, derivation: &Derivation<'_>) -> Option<CoverageInterval> {
        let step = derivation.same_as.unwrap_or(derivation.step);
        self.state.names.formula(step)?.coverage_interval(&self.state.names)
    }

    /// How each result was worked out that was told last or that the question shows, in their order.
    pub fn derivation(&self) -> Vec<Derivation<'_>> {
        let results = if self.explains_the_question() { &[][..] } else { &self.state.shown_results };
        let ids: Vec<Arc<str>> = results.iter().cloned().chain(self.in_question()).collect();
        let mut seen = Vec::new();
        let mut found = Vec::new();
        ids.iter().for_each(|id| self.add_provenance(id, &mut seen, &mut found));
        found
    }

    /// Where the uncertainty of a result comes from, its sources called as a person calls them.
    pub fn shares(&self, how: &Explanation) -> Vec<Share> {
        how.shares(&|source| self.source_name(source))
    }

    /// Adds a result, and those it rests on that were worked out without a word.
    fn add_provenance<'r>(&'r self, id: &str, seen: &mut Vec<&'r str>, found: &mut Vec<Derivation<'r>>) {
        let explained = |id: &str| self.state.explained.get_key_value(id);
        let Some((step, mut how)) = explained(id) else { return };
        let mut last: &str = step;
        loop {
            if seen.contains(&last) {
                return;
            }
            seen.push(last);
            // Another name for a result is explained by what that is.
            match how.renames.as_deref().and_then(explained) {
                Some((name, other)) => (last, how) = (name, other),
                None => break,
            }
        }
        let uncertain =
            how.result.as_ref().ok().and_then(Value::amount).is_some_and(|a| !a.components().is_empty());
        if how.renames.is_none() || uncertain {
            let same_as = (*last != **step).then_some(last);
            found.push(Derivation { step, same_as, how });
        }
        for name in how.names.iter().filter(|name| !self.state.spoken.contains(&*name.name)) {
            self.add_provenance(&name.name, seen, found);
        }
    }

    /// A text that is shown now, filled; the results in it count as told.
    pub(super) fn message(&mut self, text: Option<&Template>) -> Option<String> {
        let text = text?;
        names_in(text, &mut |name| {
            if let Some((id, _)) = self.state.explained.get_key_value(name) {
                let id = id.clone();
                self.state.tells_anew();
                self.state.shown_results.push(id);
            }
        });
        Some(text.filled(&self.state.names, self.setting.units))
    }
}

fn names_in(text: &Template, visit: &mut dyn FnMut(&str)) {
    text.holes().for_each(|hole| hole.expr().names(&mut |name, _| visit(name)));
}

/// What a person reads at a step that asks.
fn texts_of(step: &Step) -> Vec<&Template> {
    let own = step.course().asks().map_or(Vec::new(), |asks| asks.shows().texts().collect());
    own.into_iter().chain(&step.repeated).chain(&step.why).chain(&step.how).collect()
}
