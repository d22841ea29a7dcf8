//! What a value's uncertainty comes from, in a person's words.
//!
//! Values carry their sources of uncertainty by number. Here a number is traced to what it stands for:
//! a gauge's accuracy, the division of one reading, the spread of several.

use super::run::Run;
use crate::quantity::SourceId;
use crate::record::Entry;
use crate::system::{COMMON_GAUGES, Reads};

/// One independent source of uncertainty.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum UncertaintySource {
    /// How well a gauge reads, by its id; all its readings share this.
    Accuracy(String),
    /// What one reading was rounded to, by the number of its entry.
    Division(u64),
    /// What the repeated readings of a step, by its id, were rounded to in common.
    Rounding(String),
    /// How far a value may be off by the words of who gave it, by the number of its entry.
    Stated(u64),
    /// How far the repeated readings of a step lie apart, by its id.
    Spread(String),
    /// A fit, a mean over rounds.
    Other,
}

impl Run {
    /// What a source of uncertainty is; `None` for one that nothing in this run has.
    pub fn uncertainty_source(&self, source: SourceId) -> Option<UncertaintySource> {
        if let Some(step) = self.state.spreads.get(&source).map(ToString::to_string) {
            let alike = matches!(source, SourceId::Rounding(_));
            return Some(if alike {
                UncertaintySource::Rounding(step)
            } else {
                UncertaintySource::Spread(step)
            });
        }
        match source {
            SourceId::Gauge(place) => COMMON_GAUGES
                .get(usize::from(place))
                .map(|gauge| UncertaintySource::Accuracy(gauge.id.to_string())),
            SourceId::Reading(_) => self.reading(source).map(|entry| match entry.gauge {
                Some(_) => UncertaintySource::Division(entry.n),
                None => UncertaintySource::Stated(entry.n),
            }),
            SourceId::Rounding(_) | SourceId::Spread(_) | SourceId::Few(..) | SourceId::Limit(_) => {
                Some(UncertaintySource::Other)
            }
        }
    }

    /// The name of a source of uncertainty, such as `accuracy of the line gauge`; `None` for one that
    /// nothing in this run has.
    pub fn source_name(&self, source: SourceId) -> Option<String> {
        let label = |id: &str| self.setting.procedure.label(id);
        Some(match self.uncertainty_source(source)? {
            UncertaintySource::Accuracy(gauge) => format!("accuracy of the {}", self.called(&gauge)),
            UncertaintySource::Division(_) => {
                self.division(self.reading(source)?)? + &which(self.reading(source)?)
            }
            UncertaintySource::Rounding(step) => {
                self.division(self.repeated(&step).next()?)? + ", all readings alike"
            }
            UncertaintySource::Stated(_) => format!("limits of {}", label(&self.reading(source)?.step)),
            UncertaintySource::Spread(step) => format!("spread of the readings of {}", label(&step)),
            UncertaintySource::Other => match self.state.limits.get(&source) {
                Some(written) => written.clone(),
                None => "spread of several answers".to_string(),
            },
        })
    }

    /// What a reading was rounded to, in words.
    fn division(&self, entry: &Entry) -> Option<String> {
        let gauge = self.setting.system.gauge(entry.gauge.as_deref()?)?;
        let rounded = if gauge.reads == Reads::Digital { "last step" } else { "division" };
        Some(format!("{rounded} of the {}, {}", gauge.called(), self.setting.procedure.label(&entry.step)))
    }

    /// The repeated readings of a step.
    pub(super) fn repeated(&self, step: &str) -> impl Iterator<Item = &Entry> {
        let entries = self.answers.iter().map(|answer| &answer.entry);
        entries.filter(move |entry| entry.step == step && entry.take.is_some())
    }

    /// What a sentence calls a gauge.
    pub(super) fn called(&self, gauge: &str) -> String {
        self.setting.system.gauge(gauge).map_or(gauge, |gauge| gauge.called()).to_string()
    }

    /// The reading whose own uncertainty a source is.
    pub(super) fn reading(&self, source: SourceId) -> Option<&Entry> {
        let mut entries = self.answers.iter().map(|answer| &answer.entry);
        entries.find(|entry| SourceId::Reading(entry.n) == source && entry.uncertainty.is_some())
    }
}

/// Which of several readings of a step an entry is.
fn which(entry: &Entry) -> String {
    let round = entry.round.last().map(|round| format!(", round {round}"));
    let take = entry.take.map(|take| format!(", reading {take}"));
    format!("{}{}", round.unwrap_or_default(), take.unwrap_or_default())
}
