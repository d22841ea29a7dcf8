//! A diagnosis as a step: findings for what is sure, and one for what is not, with the working
//! answer beside what to do next.

use std::sync::Arc;
use std::time::Duration;

use super::diagnosis_words::{self as words, FindingWords};
use super::evidence::RunEvidence;
use super::findings::{Weighed, put_all};
use super::observations::Diagnosed;
use super::run::{Derived, Run};
use crate::clock::Moment;
use crate::physics::diagnosis::{CauseId, Diagnosis, Item, Speaks, diagnose, speaks};
use crate::procedure::{Diagnose, Step};
use crate::quantity::DAY;
use crate::record::{Entry, EntryKind, Grade, Phase};

/// What speaks for one cause that was named, and what against it.
#[derive(Clone, Debug)]
pub struct Reasons {
    /// What the cause is called.
    pub name: &'static str,
    /// What speaks, the strongest first.
    pub speaks: Vec<Speaks>,
}

impl Run {
    /// What speaks for and against the causes named last.
    pub fn reasons(&self) -> Vec<Reasons> {
        let of = |diagnosed: &Diagnosed| {
            let found = diagnose(&diagnosed.evidence, &diagnosed.claims);
            let named = found.found.iter().map(|found| found.cause);
            let causes: Vec<CauseId> = named.chain(found.likeliest.iter().map(|(cause, _)| *cause)).collect();
            let reasons = speaks(&diagnosed.evidence, &causes);
            let named = causes.iter().zip(reasons);
            named.map(|(cause, speaks)| Reasons { name: cause.cause().name, speaks }).collect::<Vec<_>>()
        };
        let earlier = self.state.diagnosed.iter().filter(|_| !self.explains_the_question());
        earlier.flat_map(of).collect()
    }

    /// Whether what was told last was a diagnosis.
    pub fn has_reasons(&self) -> bool {
        !self.state.diagnosed.is_empty() && !self.explains_the_question()
    }

    pub(super) fn diagnose(&mut self, step: &Step, diagnose: &Diagnose, out: &mut Derived) {
        let gathered = self.gathered(step, diagnose.phase, out.now);
        let tank = self.state.frames.tank();
        if diagnose.phase == Phase::Left {
            // What was diagnosed of how things were found no longer weighs.
            // A label that is off stays so while nobody turns the nuts.
            let label = (!self.was_turned()).then(|| CauseId::Drifted.cause().name);
            self.state.findings.concluded.retain(|((_, of), weighed, _)| {
                *of != tank || weighed.diagnosed != Some(Phase::Found) || weighed.name.as_deref() == label
            });
        }
        let entries = self.diagnosed_once(&gathered, out.now);
        let RunEvidence { evidence, claims, .. } = gathered;
        self.state.tells_anew();
        self.state.diagnosed.push(Diagnosed { evidence, claims });
        let weighed = entries.iter().map(|entry| {
            let (grade, name) = (entry.grade.unwrap_or(Grade::Note), entry.given.clone());
            let weighed = Weighed { grade, name, diagnosed: Some(diagnose.phase) };
            (weighed, entry.said.clone().unwrap_or_default())
        });
        let of = (step.id.clone(), tank);
        put_all(&mut self.state.findings.concluded, of, weighed.collect());
        let spoken_for = self.checks_behind(&entries, |grade| grade >= Grade::Attention);
        self.state.findings.spoken_for.extend(spoken_for);
        let vouched = self.checks_behind(&entries, |grade| grade == Grade::Good);
        self.state.findings.vouched.extend(vouched);
        self.state.findings.for_now = entries.iter().find_map(words::for_now_by);
        for entry in entries {
            out.events.push(self.numbered(entry));
        }
        self.done(step);
    }

    /// The checks on what findings of these grades rest on, so that the last word need not name them beside.
    fn checks_behind(&self, entries: &[Entry], which: fn(Grade) -> bool) -> Vec<Arc<str>> {
        let weighty = entries.iter().filter(|entry| entry.grade.is_some_and(which));
        let steps: Vec<&String> = weighty.flat_map(|entry| &entry.rests_on).collect();
        let rests = |step: &&Step| {
            let behind = step.course().checks().map(|check| self.behind(check.expr.expr()));
            behind.is_some_and(|names| steps.iter().any(|step| names.contains(step.as_str())))
        };
        self.setting.procedure.all_steps().filter(rests).map(|step| step.id.clone()).collect()
    }

    /// The entries of the diagnosis at which the run stands; made once, and believed ever after.
    fn diagnosed_once(&mut self, gathered: &RunEvidence, now: Moment) -> Vec<Entry> {
        let key = self.judgement_key();
        if let Some(entries) = self.judgements.diagnosed.get(&key) {
            return entries.clone();
        }
        let diagnosis = diagnose(&gathered.evidence, &gathered.claims);
        let entries = self.entries_of(&diagnosis, gathered, now);
        self.judgements.diagnosed.insert(key, entries.clone());
        entries
    }

    fn entries_of(&self, diagnosis: &Diagnosis, gathered: &RunEvidence, now: Moment) -> Vec<Entry> {
        let mut all: Vec<FindingWords> = Vec::new();
        let read = |cause: CauseId| words::read(cause.cause().group, &gathered.evidence, self.setting.units);
        all.extend(diagnosis.found.iter().map(|found| words::found(found, diagnosis, read(found.cause))));
        all.extend(diagnosis.course.and_then(words::course));
        let fine = !all.iter().any(|it| it.grade > Grade::Note);
        if diagnosis.is_good && fine {
            let worst = self.state.findings.worst().unwrap_or(Grade::Good);
            all.push(words::good(diagnosis, &gathered.claims, worst));
        } else {
            all.extend(words::open(diagnosis, &gathered.evidence, &gathered.claims));
        }
        let mut entries: Vec<Entry> =
            all.into_iter().map(|it| self.finding(it, (diagnosis, gathered), now)).collect();
        for (take, entry) in (1..).zip(&mut entries) {
            entry.take = Some(take);
        }
        if let Some(last) = entries.last_mut() {
            last.for_now = words::for_now(diagnosis, &gathered.claims);
        }
        entries
    }

    fn finding(
        &self,
        finding_words: FindingWords,
        (diagnosis, gathered): (&Diagnosis, &RunEvidence),
        now: Moment,
    ) -> Entry {
        let mut entry = self.entry(EntryKind::Finding, now);
        let days = finding_words.again.map(|days| Duration::from_secs_f64(f64::from(days) * DAY));
        entry.phase = Some(gathered.phase);
        entry.given = Some(finding_words.name);
        entry.grade = Some(finding_words.grade);
        entry.said = Some(finding_words.said);
        entry.next = finding_words.next;
        entry.due = days.map(|days| now.plus(days));
        entry.rests_on = rests_on(finding_words.cause, diagnosis, gathered);
        entry
    }
}

/// The steps that told of what a cause is told by; of a finding on no cause, all that were used.
fn rests_on(cause: Option<CauseId>, diagnosis: &Diagnosis, gathered: &RunEvidence) -> Vec<String> {
    let odd = diagnosis.odd.is_some();
    let needed = |item: Item| match cause {
        Some(cause) => {
            let row = cause.cause();
            row.tested_by.iter().any(|all| all.contains(&item)) || row.shown_by == Some(item)
        }
        None => !odd || item < Item::Pin,
    };
    let mut steps: Vec<String> = Vec::new();
    for (_, step) in gathered.steps.iter().filter(|(item, _)| needed(*item)) {
        let step: &Arc<str> = step;
        if !steps.iter().any(|known| **known == **step) {
            steps.push(step.to_string());
        }
    }
    steps
}
