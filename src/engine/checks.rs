//! What a check comes to, and what follows.

use super::judgement::{CheckDerivation, Judgement, JudgementKey};
use super::run::{Derived, Run};
use crate::lang::Value;
use crate::procedure::{Check, Step};
use crate::quantity::Verdict;
use crate::record::{EntryKind, Outcome};

impl Run {
    pub(super) fn check(&mut self, step: &Step, check: &Check, out: &mut Derived) {
        let mut entry = self.entry(EntryKind::Checked, out.now);
        entry.asked = Some(check.expr.expr().to_string());
        let Judgement { truth, verdict, reason, advice } = self.judgement(check);
        entry.verdict = Some(verdict);
        self.checked(step, verdict);
        entry.truth = truth.as_ref().ok().copied();
        entry.reason.clone_from(&reason);
        match &truth {
            Ok(truth) => self.define(&step.id, Value::Truth(*truth)),
            Err(_) => self.state.names.unknown(&step.id, reason.clone().unwrap_or_default()),
        }
        let text = match verdict {
            Verdict::Pass => &check.pass,
            Verdict::Fail => &check.fail,
            Verdict::Unsure => &check.unsure,
        };
        entry.said = match &truth {
            Ok(_) => self.message(text.as_ref()).or_else(|| self.cannot_tell(step, check, verdict)),
            Err(_) => reason.as_deref().map(|reason| format!("This cannot be told: {reason}")),
        };
        entry.advice.clone_from(&advice);
        if entry.message().is_some() {
            self.weigh(step, check, Judgement { truth, verdict, reason, advice });
        }
        let words = entry.said.clone();
        // What must hold has to hold by best estimate at least; what cannot be worked out does not.
        let holds = entry.truth.is_some_and(|truth| truth.best);
        out.events.push(self.numbered(entry));
        match verdict {
            Verdict::Fail | Verdict::Unsure if check.must && !holds => {
                let words = words.unwrap_or_else(|| format!("`{}` does not hold.", check.expr.expr()));
                self.stop(step, (Outcome::Unfinished, words), out);
            }
            Verdict::Fail => self.next_step(),
            Verdict::Pass | Verdict::Unsure => self.done(step),
        }
    }

    /// What is said where the gauges cannot tell, and the file has no words of its own for it.
    fn cannot_tell(&self, step: &Step, check: &Check, verdict: Verdict) -> Option<String> {
        let has_message = check.pass.is_some() || check.fail.is_some();
        let label = step.label.as_ref().filter(|_| has_message && verdict == Verdict::Unsure)?;
        Some(format!("These gauges cannot tell: {label}."))
    }

    /// Notes how a check came to its verdict, for a person who asks.
    fn weigh(&mut self, step: &Step, check: &Check, judgement: Judgement) {
        let result = judgement.truth.clone().map(Value::Truth);
        let how = check.expr.explained_as(result, &self.state.names);
        let margin = check.expr.margin(&self.state.names);
        let (step, confidence) = (step.id.clone(), self.setting.confidence());
        self.state.tells_anew();
        self.state.check_derivation.push(CheckDerivation { step, how, margin, judgement, confidence });
    }

    /// Where the run stands, for what is judged there.
    pub(super) fn judgement_key(&self) -> JudgementKey {
        (self.place(), self.answers.last().map_or(0, |answer| answer.entry.n))
    }

    /// What the check at which the run stands comes to.
    pub(super) fn judgement(&mut self, check: &Check) -> Judgement {
        let key = self.judgement_key();
        if let Some(judgement) = self.judgements.checks.get(&key) {
            return judgement.clone();
        }
        let judgement = self.judge(check);
        self.judgements.checks.insert(key, judgement.clone());
        judgement
    }

    fn judge(&self, check: &Check) -> Judgement {
        match check.expr.judged(&self.state.names) {
            Ok(judged) => {
                let verdict = judged.truth.verdict(self.setting.confidence());
                let hangs_on = (verdict != Verdict::Unsure).then(|| self.hangs_on(check, verdict)).flatten();
                if hangs_on.is_some() {
                    let verdict = Verdict::Unsure;
                    return Judgement { truth: Ok(judged.truth), verdict, reason: None, advice: hangs_on };
                }
                // Where the uncertainty is asymmetric the record says so.
                let reason = judged.asymmetry.map(|asymmetry| asymmetry.said());
                let advice = (verdict == Verdict::Unsure).then(|| self.advice(check)).flatten();
                Judgement { truth: Ok(judged.truth), verdict, reason, advice }
            }
            Err(unknown) => {
                let reason = Some(unknown.reason(self.setting.units).to_string());
                Judgement { truth: Err(unknown), verdict: Verdict::Unsure, reason, advice: None }
            }
        }
    }
}
