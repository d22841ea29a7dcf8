//! `read`: a number a person takes from a gauge, a bucket or a clock.

use super::{DraftAction, Verb};
use crate::document::Fields;
use crate::lang::{RawTemplate, Template};
use crate::procedure::checking::Checking;
use crate::procedure::draft::{Id, check_id};
use crate::procedure::facts::{self, DraftLimits};
use crate::procedure::limits::MOST_TAKES;
use crate::procedure::model::Limits;
use crate::quantity::{Kind, Measure, Unit, unit};
use crate::source::{Fault, Quoted};
use crate::words::did_you_mean;

/// A reading to take.
#[derive(Clone, Debug)]
pub struct Read {
    /// What is read.
    pub measure: Measure,
    /// The question.
    pub ask: Template,
    /// The unit a bare number is taken in; else the household's.
    pub unit: Option<&'static Unit>,
    /// The gauge it is read from.
    pub gauge: Option<String>,
    /// Outside this an answer is refused.
    pub between: Option<Limits>,
    /// Outside this an answer is questioned.
    pub expect: Option<Limits>,
    /// How many readings are taken.
    pub times: u32,
    /// Whether the time of the reading is a value too, named `ID_at`.
    pub at_from_clock: bool,
    /// The step under which the tank's newest record has what an empty answer means.
    pub recall: Option<String>,
}

#[derive(Clone, Debug)]
pub(in crate::procedure) struct Draft {
    kind: Option<(Kind, crate::source::Span)>,
    ask: Option<RawTemplate>,
    unit: Option<Quoted>,
    gauge: Option<Quoted>,
    between: Option<DraftLimits>,
    expect: Option<DraftLimits>,
    times: u32,
    at_from_clock: bool,
    recall: Option<Quoted>,
    fields_span: crate::source::Span,
    source: crate::source::SourceText,
}

pub(super) const VERB: Verb = Verb {
    word: "read",
    sentence: "a reading to take, of the kind it names",
    keys: &["ask", "unit", "gauge", "between", "expect", "times", "at_from_clock", "recall"],
    draft: |fields, drafting, _| {
        if !fields.has("ask") {
            fields.missing("ask", "the question to put");
        }
        Some(DraftAction::Read(Box::new(Draft {
            kind: facts::kind(fields, "read").map(|kind| (kind, fields.value_span("read"))),
            ask: drafting.text(fields, "ask"),
            unit: fields.text("unit"),
            gauge: gauge(fields),
            between: facts::limits(fields, drafting, "between"),
            expect: facts::limits(fields, drafting, "expect"),
            times: fields.whole("times", 1..=MOST_TAKES).unwrap_or(1),
            at_from_clock: fields.flag("at_from_clock"),
            recall: fields.text("recall").filter(|recall| check_id(recall, fields.walk())),
            fields_span: fields.span,
            source: fields.source().clone(),
        })))
    },
};

fn gauge(fields: &Fields<'_>) -> Option<Quoted> {
    let gauge = fields.text("gauge")?;
    if gauge.text.is_empty() || gauge.text.len() > 60 {
        fields.walk().fault(
            Fault::new("bad-id", &gauge.source, gauge.span, "a gauge needs a short name")
                .remedy("name it as the system file does, such as \"line\" or \"air\""),
        );
        return None;
    }
    Some(gauge)
}

impl Draft {
    pub(super) fn check(&self, checking: &mut Checking<'_>) -> Option<Read> {
        let (kind, span) = self.kind.as_ref()?;
        let Kind::Measure(measure) = kind else {
            checking.fault(
                Fault::new("wrong-kind", &self.source, *span, format!("{kind} is not read from anything"))
                    .remedy("use `choose` for words and yes or no, `write` for text"),
            );
            return None;
        };
        let unit = self.check_unit(*measure, checking);
        let between = self.between.as_ref().and_then(|limits| facts::check_limits(limits, kind, checking));
        let expect = self.expect.as_ref().and_then(|limits| facts::check_limits(limits, kind, checking));
        let ask = checking.text(self.ask.as_ref()?)?;
        self.define(kind, checking);
        Some(Read {
            measure: *measure,
            ask,
            unit,
            gauge: self.gauge.as_ref().map(|gauge| gauge.text.clone()),
            between,
            expect,
            times: self.times,
            at_from_clock: self.at_from_clock,
            recall: self.recall.as_ref().map(|recall| recall.text.clone()),
        })
    }

    fn define(&self, kind: &Kind, checking: &mut Checking<'_>) {
        match checking.id.clone() {
            Some(id) => {
                checking.define(&id, kind, self.times);
                if self.at_from_clock {
                    let at = Id { name: format!("{}_at", id.name).into(), ..id };
                    checking.define(&at, &Kind::Measure(Measure::Instant), self.times);
                }
            }
            None => checking.fault(
                Fault::new("missing-key", &self.source, self.fields_span, "a reading needs an `id`")
                    .why("Without a name nothing can use the reading, and the record could not say what it is.")
                    .remedy("add `id = \"…\"`"),
            ),
        }
    }

    fn check_unit(&self, measure: Measure, checking: &mut Checking<'_>) -> Option<&'static Unit> {
        let quoted = self.unit.as_ref()?;
        let family = measure.family();
        let found = unit(&quoted.text).filter(|unit| unit.family == family);
        if found.is_none() {
            let known: Vec<&str> =
                crate::quantity::UNITS.iter().filter(|u| u.family == family).map(|u| u.symbol).collect();
            checking.fault(
                Fault::new(
                    "wrong-unit",
                    &quoted.source,
                    quoted.span,
                    format!("`{}` is no unit for {}", quoted.text.escape_debug(), measure.phrase()),
                )
                .remedy(did_you_mean(&quoted.text, &known)),
            );
        }
        found
    }
}
