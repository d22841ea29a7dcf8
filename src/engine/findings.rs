//! What a run found, and its last word, which no file writes: it is never better than the worst finding, or
//! the worst check that failed or could not tell.

use std::sync::Arc;

use crate::quantity::Verdict;
use crate::record::{Grade, Phase};
use crate::words::list;

/// What the run said last where nothing was concluded and no check stands against it.
const WALKED: &str = "Every step was done.";

/// Findings and verdicts so far, each with the step and the tank it is of; a later round's stands
/// in place of an earlier one's.
#[derive(Clone, Debug, Default)]
pub(super) struct Findings {
    pub concluded: Vec<(Of, Weighed, String)>,
    pub checks: Vec<(Of, Verdict, String)>,
    /// Checks that a finding speaks for, so that the last word need not name them.
    pub spoken_for: Vec<Arc<str>>,
    /// Checks that could not tell by one reading what a diagnosis told by all of them.
    pub vouched: Vec<Arc<str>>,
    /// What to do for now about the tank, where its diagnosis stays open.
    pub for_now: Option<String>,
}

/// How a finding weighs, and what it is called; a stop may have no name.
#[derive(Clone, Debug)]
pub(super) struct Weighed {
    pub grade: Grade,
    pub name: Option<String>,
    /// Of what a diagnosis was made: how things were found, or how they are left.
    pub diagnosed: Option<Phase>,
}

/// A step, and the tank where tanks are taken one by one.
pub(super) type Of = (Arc<str>, Option<usize>);

pub(super) fn put<T>(known: &mut Vec<(Of, T, String)>, of: Of, what: T, words: String) {
    known.retain(|(other, ..)| *other != of);
    known.push((of, what, words));
}

/// Puts all findings of one step in place of its earlier ones.
pub(super) fn put_all<T>(known: &mut Vec<(Of, T, String)>, of: Of, all: Vec<(T, String)>) {
    known.retain(|(other, ..)| *other != of);
    known.extend(all.into_iter().map(|(what, words)| (of.clone(), what, words)));
}

impl Findings {
    pub(super) fn worst(&self) -> Option<Grade> {
        self.concluded.iter().map(|(_, weighed, _)| weighed.grade).max()
    }

    /// What a check came to; where it was made of each tank, the worst.
    pub(super) fn verdict_of(&self, step: &str) -> Option<Verdict> {
        let came = |this| self.checks.iter().any(|((of, _), verdict, _)| **of == *step && *verdict == this);
        [Verdict::Fail, Verdict::Unsure, Verdict::Pass].into_iter().find(|verdict| came(*verdict))
    }

    /// Checks that count by themselves: what one could not tell alone does not, where all readings together
    /// told it.
    fn counting(&self) -> impl Iterator<Item = &(Of, Verdict, String)> {
        let is_vouched =
            |step: &Arc<str>, verdict: Verdict| verdict == Verdict::Unsure && self.vouched.contains(step);
        self.checks.iter().filter(move |((step, _), verdict, _)| !is_vouched(step, *verdict))
    }

    fn labels(&self, verdict: Verdict) -> Vec<&str> {
        let of = self
            .counting()
            .filter(|((step, _), known, _)| *known == verdict && !self.spoken_for.contains(step));
        of.map(|(_, _, label)| label.as_str()).collect()
    }

    /// What a grade's findings say, in their order.
    fn said(&self, which: impl Fn(Grade) -> bool) -> Vec<&str> {
        let of = self.concluded.iter().filter(|(_, weighed, _)| which(weighed.grade));
        of.map(|(_, _, said)| said.as_str()).collect()
    }

    /// The last word of a run that came to its end.
    pub(super) fn last_word(&self) -> String {
        let mut words: Vec<String> = Vec::new();
        for grade in [Grade::Stop, Grade::Act, Grade::Attention] {
            words.extend(self.said(|it| it == grade).into_iter().map(ToString::to_string));
        }
        for (verdict, lead) in [(Verdict::Fail, "Failed"), (Verdict::Unsure, "Not decided")] {
            let labels = self.labels(verdict);
            if !labels.is_empty() {
                words.push(format!("{lead}: {}.", list(&labels, "and")));
            }
        }
        let open = self.grade().is_some_and(|grade| grade <= Grade::Note);
        let for_now = self.for_now.as_deref().filter(|_| open);
        if words.is_empty() {
            words.extend(self.said(|it| it <= Grade::Note).into_iter().map(ToString::to_string));
        }
        words.extend(for_now.map(ToString::to_string));
        if words.is_empty() { WALKED.to_string() } else { words.join(" ") }
    }

    /// How the whole weighs: the worst finding, a failed check as attention, one that could not
    /// tell as a note; `None` where nothing was concluded and every check passed.
    pub(super) fn grade(&self) -> Option<Grade> {
        let checks = self.counting().filter_map(|(_, verdict, _)| Grade::of(*verdict)).max();
        self.worst().max(checks)
    }

    /// What weighs worst, by its name; nothing where nothing is worse than good.
    pub(super) fn names(&self) -> Vec<String> {
        let Some(worst) = self.grade().filter(|worst| *worst > Grade::Good) else { return Vec::new() };
        let concluded = self.concluded.iter().filter(|(_, weighed, _)| weighed.grade == worst);
        let checks = self.counting().filter(|((step, _), verdict, _)| {
            Grade::of(*verdict) == Some(worst) && !self.spoken_for.contains(step)
        });
        let checks = checks.map(|(_, verdict, label)| match verdict {
            Verdict::Unsure => format!("\"{label}\" not decided"),
            Verdict::Pass | Verdict::Fail => format!("\"{label}\" failed"),
        });
        let all = concluded.filter_map(|(_, weighed, _)| weighed.name.clone());
        let mut names: Vec<String> = Vec::new();
        for name in all.chain(checks) {
            if !names.contains(&name) {
                names.push(name);
            }
        }
        names
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(step: &str) -> Of {
        (Arc::from(step), None)
    }

    fn weighed(grade: Grade, name: &str) -> Weighed {
        Weighed { grade, name: Some(name.to_string()), diagnosed: None }
    }

    #[test]
    fn the_last_word_is_that_of_the_worst() {
        let mut findings = Findings::default();
        assert_eq!((findings.last_word(), findings.grade()), (WALKED.to_string(), None));
        put(&mut findings.checks, of("a"), Verdict::Pass, "a".into());
        put(&mut findings.concluded, of("fine"), weighed(Grade::Good, "fine"), "It is fine.".into());
        assert_eq!((findings.last_word().as_str(), findings.grade()), ("It is fine.", Some(Grade::Good)));
        assert_eq!(findings.names(), Vec::<String>::new());
        put(&mut findings.checks, of("b"), Verdict::Unsure, "the gap".into());
        assert_eq!(
            (findings.last_word().as_str(), findings.grade()),
            ("Not decided: the gap.", Some(Grade::Note))
        );
        assert_eq!(findings.names(), ["\"the gap\" not decided"]);
        put(&mut findings.checks, of("a"), Verdict::Fail, "the joint".into());
        put(&mut findings.concluded, of("low"), weighed(Grade::Attention, "low"), "It is low.".into());
        assert_eq!(
            (findings.last_word().as_str(), findings.grade()),
            ("It is low. Failed: the joint. Not decided: the gap.", Some(Grade::Attention))
        );
        findings.spoken_for.push(Arc::from("a"));
        assert_eq!(findings.last_word(), "It is low. Not decided: the gap.");
        findings.spoken_for.clear();
        assert_eq!(findings.names(), ["low", "\"the joint\" failed"]);
        put(&mut findings.concluded, of("torn"), weighed(Grade::Act, "torn"), "It is torn.".into());
        put(&mut findings.concluded, of("low"), weighed(Grade::Note, "low"), "It was low.".into());
        assert_eq!(
            (findings.last_word().as_str(), findings.grade()),
            ("It is torn. Failed: the joint. Not decided: the gap.", Some(Grade::Act))
        );
        assert_eq!(findings.names(), ["torn"]);
    }

    /// What all readings together told need not be named as not decided; a check that failed is.
    #[test]
    fn a_check_that_a_diagnosis_vouches_for_is_not_named() {
        let mut findings = Findings::default();
        put(&mut findings.checks, of("a"), Verdict::Unsure, "the gap".into());
        put(&mut findings.checks, of("b"), Verdict::Fail, "the joint".into());
        findings.vouched.extend([Arc::from("a"), Arc::from("b")]);
        assert_eq!(
            (findings.last_word().as_str(), findings.grade()),
            ("Failed: the joint.", Some(Grade::Attention))
        );
        put(&mut findings.checks, of("b"), Verdict::Pass, "the joint".into());
        assert_eq!((findings.last_word().as_str(), findings.grade()), (WALKED, None));
    }

    /// What to do for now is said where nothing is worse than a note.
    #[test]
    fn what_to_do_for_now_is_said_where_nothing_weighs_more() {
        for (grade, expected) in
            [(Grade::Good, "Found. Set it."), (Grade::Note, "Found. Set it."), (Grade::Attention, "Found.")]
        {
            let mut findings = Findings { for_now: Some("Set it.".to_string()), ..Findings::default() };
            put(&mut findings.concluded, of("it"), weighed(grade, "it"), "Found.".into());
            assert_eq!(findings.last_word(), expected, "{grade:?}");
        }
    }
}
