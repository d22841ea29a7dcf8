//! Drawing conclusions. A good one is only drawn where every check it rests on passed and nothing
//! worse than a note was found before it.

use std::time::Duration;

use super::findings::{Of, Weighed, put};
use super::run::{Derived, Run};
use crate::clock::Moment;
use crate::procedure::{Conclude, Step};
use crate::quantity::{Uncertain, Verdict};
use crate::record::{EntryKind, Grade};

impl Run {
    /// How what was found so far weighs; `None` where nothing was concluded or checked.
    pub fn grade(&self) -> Option<Grade> {
        self.state.findings.grade()
    }

    /// The names of what weighs worst; none where nothing is worse than good.
    pub fn worst_names(&self) -> Vec<String> {
        self.state.findings.names()
    }

    fn of(&self, step: &Step) -> Of {
        (step.id.clone(), self.state.frames.tank())
    }

    /// A check came to a verdict.
    pub(super) fn checked(&mut self, step: &Step, verdict: Verdict) {
        let of = self.of(step);
        put(&mut self.state.findings.checks, of, verdict, step.name());
    }

    /// A finding stands from here on.
    pub(super) fn found(&mut self, step: &Step, weighed: Weighed, said: String) {
        let of = self.of(step);
        put(&mut self.state.findings.concluded, of, weighed, said);
    }

    pub(super) fn conclude(&mut self, step: &Step, conclude: &Conclude, out: &mut Derived) {
        if let Some(reason) = self.not_good(conclude) {
            let mut entry = self.entry(EntryKind::Skipped, out.now);
            entry.reason = Some(reason);
            out.events.push(self.numbered(entry));
            self.next_step();
            return;
        }
        let mut entry = self.entry(EntryKind::Finding, out.now);
        entry.given = Some(conclude.name.to_string());
        entry.grade = Some(conclude.grade);
        entry.said = self.message(Some(&conclude.says));
        entry.next = self.message(conclude.next.as_ref());
        entry.due = self.due(conclude, out.now);
        entry.rests_on = conclude.rests_on.iter().map(|(step, _)| step.to_string()).collect();
        if conclude.grade >= Grade::Attention {
            let rests_on = conclude.rests_on.iter().map(|(step, _)| step.clone());
            self.state.findings.spoken_for.extend(rests_on);
        }
        let weighed = Weighed { grade: conclude.grade, name: entry.given.clone(), diagnosed: None };
        self.found(step, weighed, entry.said.clone().unwrap_or_default());
        out.events.push(self.numbered(entry));
        self.done(step);
    }

    /// When it should be looked at again.
    fn due(&self, conclude: &Conclude, now: Moment) -> Option<Moment> {
        let value = conclude.again.as_ref()?.value(&self.state.names).ok()?;
        let seconds = value.amount().map(Uncertain::value)?;
        Some(now.plus(Duration::try_from_secs_f64(seconds).ok()?))
    }

    /// Why a good finding is not concluded, if it is not.
    fn not_good(&self, conclude: &Conclude) -> Option<String> {
        if conclude.grade != Grade::Good {
            return None;
        }
        if self.state.findings.worst().is_some_and(|worst| worst > Grade::Note) {
            return Some("something was found against it".to_string());
        }
        let label = |step: &str| self.setting.procedure.label(step);
        conclude.rests_on.iter().find_map(|(step, _)| match self.state.findings.verdict_of(step) {
            Some(Verdict::Fail) => Some(format!("{} is not as it should be", label(step))),
            Some(Verdict::Unsure) => Some(format!("{} could not be told", label(step))),
            Some(Verdict::Pass) => None,
            None => self.value(step).is_none().then(|| format!("{} is not known", label(step))),
        })
    }
}
