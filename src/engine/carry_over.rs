//! Answers that are carried over when one before them was changed, where the same is asked and they still fit.

use super::ask::Ask;
use super::run::{Event, Run};
use crate::clock::Moment;
use crate::procedure::{Answer, Warning};
use crate::record::{Entry, EntryKind, EntryRole};

/// What the record says of an answer that was carried over.
const CARRIED: &str = "carried over";

impl Run {
    /// The questions that are asked again now that an answer was changed, as far as can be foreseen: each is taken
    /// to be answered as it was. Where that does not fit, or something new is asked, nothing after it is known.
    pub fn asked_again(&self, now: Moment) -> Vec<Ask> {
        let mut changed = self.clone();
        let mut again = Vec::new();
        while let Some(ask) = changed.ask().filter(|_| changed.withdrawn.answers_kept().next().is_some()) {
            let kept = changed.withdrawn.kept(&ask.place).cloned();
            if !ask.expects.begins_wait() {
                again.push(ask);
            }
            let Some(entry) = kept.and_then(|kept| changed.given_again(&kept)) else { break };
            changed.accept(entry, now);
            changed.carry_over(now);
        }
        again
    }

    /// Gives the answers that are to be carried over as long as the same is asked and they still fit.
    pub(super) fn carry_over(&mut self, now: Moment) -> Vec<Event> {
        let mut events = Vec::new();
        while let Some(ask) = self.ask() {
            let kept = self.withdrawn.kept(&ask.place);
            let Some(kept) = kept.filter(|kept| is_asked_alike(kept, &ask)).cloned() else { break };
            let Some(entry) = self.given_again(&kept) else { break };
            events.extend(self.accept(entry, now));
        }
        events
    }

    /// An answer given again, with its own time; `None` when it does not fit any more.
    fn given_again(&self, kept: &Entry) -> Option<Entry> {
        let entry = match kept.kind.role() {
            EntryRole::Gap => return Some(kept.clone()),
            EntryRole::Answer | EntryRole::Beginning if kept.kind.is_wait() => kept.clone(),
            EntryRole::Answer | EntryRole::Denial | EntryRole::Beginning => {
                let typed = kept.given.as_deref().unwrap_or_default();
                let mut entry = match self.answered(&Answer { typed, sure: false }, kept.at) {
                    Ok(entry) => entry,
                    // What was meant although it was unlikely is meant still, if for the same reason.
                    Err(_) => self.answered(&Answer { typed, sure: true }, kept.at).ok().filter(|again| {
                        again.reason.is_some() && again.reason == without_mark(kept.reason.as_deref())
                    })?,
                };
                entry.provenance = kept.provenance;
                entry
            }
            EntryRole::Result | EntryRole::Message | EntryRole::Withdrawal | EntryRole::Aside => return None,
        };
        if entry.kind != kept.kind {
            return None;
        }
        let reason = match without_mark(entry.reason.as_deref()) {
            Some(reason) => format!("{CARRIED}. {reason}"),
            None => CARRIED.to_string(),
        };
        Some(Entry { reason: Some(reason), ..entry })
    }
}

/// Whether an answer was carried over when one before it was changed.
pub fn is_carried_over(entry: &Entry) -> bool {
    entry.reason.as_deref().is_some_and(|reason| reason.starts_with(CARRIED))
}

/// A reason without the mark that its answer was carried over.
fn without_mark(reason: Option<&str>) -> Option<String> {
    let rest = reason?;
    let rest = rest.strip_prefix(CARRIED).map_or(rest, |rest| rest.trim_start_matches(". "));
    (!rest.is_empty()).then(|| rest.to_string())
}

/// Whether the same is asked that an answer was given to: the same words, the same warnings.
fn is_asked_alike(kept: &Entry, ask: &Ask) -> bool {
    let warned = || ask.warned.iter().map(Warning::to_string).collect::<Vec<_>>();
    if kept.kind == EntryKind::Understood {
        kept.warned == warned()
    } else {
        kept.asked.as_deref() == Some(&ask.text)
    }
}
