//! What is still to come: about how many questions, how much waiting, and how long that takes this person.

use std::time::Duration;

use super::frames::Frames;
use super::run::{Run, Waiting};
use crate::clock::Moment;
use crate::procedure::{LoopKind, Step, Use, Warning};
use crate::quantity::Uncertain;
use crate::record::EntryKind;

/// What an answer takes where nothing was learned yet: a walk, a turn of a valve, a look. From a flush
/// of three hours with some hundred answers, its waits taken off.
const USUAL_PACE: Duration = Duration::from_secs(75);
/// So often a loop comes round, as a rule: some end in their first round, a flush goes on for five.
const USUAL_ROUNDS: usize = 2;
/// Answers further apart than this tell of a pause, not of a pace.
const PAUSE: Duration = Duration::from_secs(15 * 60);
/// From so many answers on a person's own pace is known.
const PACE_KNOWN_FROM: usize = 10;

/// How often a step comes of which cannot be told yet whether it is called for: most of these mend something.
const MAYBE: f64 = 1.0 / 3.0;

/// What is still to come.
#[derive(Clone, Copy, Debug, PartialEq)]
struct ToCome {
    /// Questions; one that may not be called for counts in part.
    questions: f64,
    /// Waits, in seconds; `None` where the length of one cannot be told yet.
    waits: Option<f64>,
}

impl ToCome {
    const NOTHING: ToCome = ToCome { questions: 0.0, waits: Some(0.0) };

    fn and(self, other: ToCome) -> ToCome {
        let waits = self.waits.zip(other.waits).map(|(one, other)| one + other);
        ToCome { questions: self.questions + other.questions, waits }
    }

    /// This, so many times.
    fn so_often(self, times: f64) -> ToCome {
        ToCome { questions: self.questions * times, waits: self.waits.map(|waits| waits * times) }
    }
}

impl Run {
    /// About how many questions are still to come, this one among them: a loop twice, and what may not be
    /// called for by a third.
    pub fn questions_left(&self) -> usize {
        (self.to_come().questions - self.state.takes.len() as f64).ceil().max(0.0) as usize
    }

    /// About how long the rest takes: its questions at this person's own pace, and its waits; `None` where
    /// the length of a wait cannot be told yet.
    pub fn time_left(&self, now: Moment) -> Option<Duration> {
        let waits = Duration::try_from_secs_f64(self.to_come().waits?).unwrap_or_default();
        let begun = self.state.wait_begun.map_or(Duration::ZERO, |begun| now.since(begun));
        let questions = u32::try_from(self.questions_left()).unwrap_or(u32::MAX);
        Some(self.pace().saturating_mul(questions) + waits.saturating_sub(begun))
    }

    /// What hurts at the step the run waits on, in a line each.
    pub fn hazard_lines(&self) -> Vec<Warning> {
        match self.waiting() {
            Some(Waiting::Step(step, _)) => step.hazards.iter().map(|hazard| self.briefly(hazard)).collect(),
            Some(Waiting::Fact(_) | Waiting::Warning(_)) | None => Vec::new(),
        }
    }

    /// How long an answer takes this person: the mean of those so far, waits and pauses left out.
    fn pace(&self) -> Duration {
        let gaps = self.answers.windows(2).filter(|two| two[1].entry.kind != EntryKind::Waited);
        let gaps = gaps.map(|two| two[1].entry.at.since(two[0].entry.at)).filter(|gap| *gap < PAUSE);
        let gaps: Vec<Duration> = gaps.collect();
        match u32::try_from(gaps.len()) {
            Ok(count) if gaps.len() >= PACE_KNOWN_FROM => gaps.iter().sum::<Duration>() / count,
            Ok(_) | Err(_) => USUAL_PACE,
        }
    }

    fn to_come(&self) -> ToCome {
        let procedure = &self.setting.procedure;
        let facts = ToCome { questions: self.state.facts.len() as f64, ..ToCome::NOTHING };
        (1..=self.state.frames.0.len()).fold(facts, |sum, depth| {
            let frames = Frames(self.state.frames.0[..depth].to_vec());
            // A loop is gone on with in its body.
            let from = frames.0[depth - 1].at + usize::from(depth < self.state.frames.0.len());
            let rest = frames.block(procedure).iter().skip(from);
            rest.fold(sum, |sum, step| sum.and(self.of_step(step)))
        })
    }

    /// What a step asks for, and those within it.
    fn of_step(&self, step: &Step) -> ToCome {
        let surely = match step.when.as_ref().map(|when| when.truth(&self.state.names)) {
            Some(Ok(truth)) if !truth.best => return ToCome::NOTHING,
            Some(Err(_)) => MAYBE,
            Some(Ok(_)) | None => 1.0,
        };
        let times = step.course().gives().map_or(1.0, |gives| f64::from(gives.times));
        let questions = if step.course().asks().is_some() { times } else { 0.0 };
        let own = ToCome { questions, waits: self.wait_of(step) };
        let Some((kind, body)) = step.course().comes_round() else { return own.so_often(surely) };
        let rounds = match kind {
            LoopKind::Repeat => USUAL_ROUNDS,
            LoopKind::Each => self.setting.system.tanks.len().max(1),
        };
        let inside = body.iter().fold(ToCome::NOTHING, |sum, step| sum.and(self.of_step(step)));
        inside.so_often(rounds as f64 * surely)
    }

    /// How long a step waits, in seconds; `None` where that cannot be told yet.
    fn wait_of(&self, step: &Step) -> Option<f64> {
        let Some(asks) = step.course().asks() else { return Some(0.0) };
        let shows = asks.shows();
        let Some((length, _)) = shows.looks_at.iter().find(|(_, to)| *to == Use::Wait) else {
            return Some(0.0);
        };
        length.value(&self.state.names).ok()?.amount().map(Uncertain::value)
    }
}
