//! What expressions evaluate to.

use std::sync::Arc;

use thiserror::Error;

use super::Collapse;
use crate::quantity::{Measure, Scalar, SourceId, Truth, Uncertain, Units, show_briefly, show_with_limits};

/// A value.
#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    /// A number of some measure, SI.
    Amount(Measure, Uncertain),
    /// A yes or no.
    Truth(Truth),
    /// A text or a word.
    Text(Arc<str>),
    /// Several answers, in their order.
    Series(Vec<Value>),
}

/// Why a value cannot be told: something was left out, or a formula does not reach so far.
#[derive(Clone, Debug, Error, PartialEq, Eq)]
#[error("{us}")]
pub struct Unknown {
    us: String,
    metric: String,
    unanswered: bool,
}

impl Unknown {
    /// An unknown with its reason, a sentence without units.
    pub fn because(reason: impl Into<String>) -> Unknown {
        let reason = reason.into();
        Unknown { us: reason.clone(), metric: reason, unanswered: false }
    }

    /// What nobody answered: it was not asked for, or skipped.
    pub fn unanswered(reason: impl Into<String>) -> Unknown {
        Unknown { unanswered: true, ..Unknown::because(reason) }
    }

    /// Whether it is unknown because nobody answered, and not because no value follows from what was.
    pub fn is_unanswered(&self) -> bool {
        self.unanswered
    }

    /// An unknown whose reason shows values in the household's units.
    pub fn in_units(reason: impl Fn(Units) -> String) -> Unknown {
        Unknown { us: reason(Units::Us), metric: reason(Units::Metric), unanswered: false }
    }

    /// The reason.
    pub fn reason(&self, units: Units) -> &str {
        match units {
            Units::Us => &self.us,
            Units::Metric => &self.metric,
        }
    }
}

impl Value {
    /// An exact amount.
    pub fn exact(measure: Measure, si: f64) -> Value {
        Value::Amount(measure, Uncertain::exact(si))
    }

    /// A word or text.
    pub fn text(text: &str) -> Value {
        Value::Text(Arc::from(text))
    }

    /// The amount, when it is one.
    pub fn amount(&self) -> Option<&Uncertain> {
        match self {
            Value::Amount(_, amount) => Some(amount),
            _ => None,
        }
    }

    /// The amounts of a series.
    pub fn amounts(&self) -> Vec<Uncertain> {
        match self {
            Value::Series(items) => items.iter().filter_map(Value::amount).cloned().collect(),
            one => one.amount().cloned().into_iter().collect(),
        }
    }

    /// The sources of uncertainty that come about in the mean of these readings: their spread, and what they
    /// were rounded to in common; none for fewer than two.
    pub fn sources_of_mean(&self) -> Option<[SourceId; 2]> {
        let amounts = self.amounts();
        (amounts.len() >= 2).then(|| [identity(&amounts), SourceId::rounding_of(made_from(&amounts))])
    }

    /// The same value with what each source of uncertainty contributes multiplied by a factor.
    pub fn rescaled(self, factor: &dyn Fn(SourceId) -> f64) -> Value {
        match self {
            Value::Amount(measure, amount) => Value::Amount(measure, amount.rescaled(factor)),
            Value::Series(items) => {
                Value::Series(items.into_iter().map(|item| item.rescaled(factor)).collect())
            }
            other => other,
        }
    }

    /// One value in place of a series.
    ///
    /// # Errors
    /// When the series is empty.
    pub fn collapsed(self, how: Collapse) -> Result<Value, Unknown> {
        let Value::Series(items) = self else { return Ok(self) };
        let last = items.last().cloned();
        match (how, &last) {
            (Collapse::Mean, Some(Value::Amount(measure, _))) => {
                let amounts: Vec<Uncertain> = items.iter().filter_map(Value::amount).cloned().collect();
                Ok(Value::Amount(*measure, mean(&amounts)))
            }
            _ => last.ok_or_else(|| Unknown::because("No answer was given.")),
        }
    }

    /// The value as a person at the tank reads it, in the household's units: an exact one with
    /// three significant digits, so that 2 psi is 0.14 bar.
    pub fn shown(&self, units: Units) -> String {
        self.shown_with(&|measure, amount| show_briefly(measure, amount, units))
    }

    /// The value with its limits at about 95 %; an exact one with every digit
    /// worth having.
    ///
    /// ```
    /// use tankhand::lang::Value;
    /// use tankhand::quantity::{Measure, SourceId, Uncertain, Units};
    /// let read = Uncertain::exact(262_000.8).with_component(SourceId::Reading(1), 3_980.7);
    /// let value = Value::Amount(Measure::Pressure, read);
    /// assert_eq!(value.shown_with_limits(Units::Us), "38.0 ± 1.2 psi");
    /// ```
    pub fn shown_with_limits(&self, units: Units) -> String {
        match self {
            Value::Truth(truth) if truth.least == truth.most && truth.least > 0.0 && truth.least < 1.0 => {
                format!("{}, probability of yes {:.0} %", self.shown(units), truth.least * 100.0)
            }
            _ => self.shown_with(&|measure, amount| show_with_limits(measure, amount, units)),
        }
    }

    fn shown_with(&self, show: &dyn Fn(Measure, &Uncertain) -> String) -> String {
        match self {
            Value::Amount(measure, amount) => show(*measure, amount),
            Value::Truth(truth) => (if truth.best { "yes" } else { "no" }).to_string(),
            Value::Text(text) => text.to_string(),
            Value::Series(items) => {
                let items: Vec<String> = items.iter().map(|item| item.shown_with(show)).collect();
                items.join(", ")
            }
        }
    }
}

formula!(MEAN:
    "The mean of a series, uncertain by its spread.",
    "sum / n; uncertain by s / √n, s the standard deviation of the readings, and by what they share",
    source "JCGM 100:2008, 4.2.3"
);

#[doc = MEAN!()]
///
/// What the readings share, such as the gauge, stays shared.
///
/// Readings that all lie within one step were most likely rounded alike, so their mean is no better
/// than one of them: the step d gives d/√12, once (JCGM 100:2008, F.2.2.1). Readings that lie further
/// apart are rounded each on its own, and their spread tells that too. To either comes the standard
/// deviation of the mean, with one degree of freedom less than readings (JCGM 101:2008, 6.4.9.4).
///
/// Both get identities made from the readings themselves, so that the same mean taken twice is the
/// same value.
pub(super) fn mean(readings: &[Uncertain]) -> Uncertain {
    let n = readings.len() as f64;
    let sum = readings.iter().cloned().fold(Uncertain::exact(0.0), |a, b| a + b);
    let mean = sum / Uncertain::exact(n);
    if readings.len() < 2 {
        return mean;
    }
    let squares: f64 = readings.iter().map(|r| (r.value() - mean.value()).powi(2)).sum();
    let of_mean = (squares / (n - 1.0) / n).sqrt();
    let rounded = rounded_by(readings);
    let rounding = |source: SourceId| matches!(source, SourceId::Reading(_)) && is_own(readings, source);
    let shared = mean.rescaled(&|source| if rounding(source) { 0.0 } else { 1.0 });
    let values = || readings.iter().map(Uncertain::value);
    let apart = values().fold(f64::NEG_INFINITY, f64::max) - values().fold(f64::INFINITY, f64::min);
    let alike = apart <= rounded * 12f64.sqrt() * 1.000_001;
    shared
        .with_component(SourceId::rounding_of(made_from(readings)), if alike { rounded } else { 0.0 })
        .with_component(identity(readings), of_mean)
}

/// The greatest standard uncertainty that one of the readings has of its own: that of its rounding.
fn rounded_by(readings: &[Uncertain]) -> f64 {
    let parts = readings.iter().flat_map(Uncertain::components);
    let own = parts.filter(|(source, _)| matches!(source, SourceId::Reading(_)) && is_own(readings, *source));
    own.map(|(_, part)| part.abs()).fold(0.0, f64::max)
}

/// Whether a source is one reading's alone.
fn is_own(readings: &[Uncertain], source: SourceId) -> bool {
    let has = |reading: &&Uncertain| reading.components().iter().any(|part| part.0 == source);
    readings.iter().filter(has).count() == 1
}

/// The spread of readings as a source of uncertainty.
fn identity(readings: &[Uncertain]) -> SourceId {
    SourceId::few(made_from(readings), readings.len() - 1)
}

/// The readings and what makes them uncertain, not how much, so that the same readings with a finer gauge keep
/// their spread.
fn made_from(readings: &[Uncertain]) -> Vec<(u64, Vec<SourceId>)> {
    let sources = |reading: &Uncertain| reading.components().iter().map(|part| part.0).collect::<Vec<_>>();
    readings.iter().map(|reading| (Scalar::value(reading).to_bits(), sources(reading))).collect()
}
