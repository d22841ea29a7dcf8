//! `read`: a number a person takes from a gauge, a bucket or a clock.

use crate::document::unknown_fault;
use crate::lang::{CheckedExpr, Template, Value};
use crate::procedure::answers::{self, Asked};
use crate::procedure::checking::Checking;
use crate::procedure::draft_otherwise;
use crate::procedure::drafting::Id;
use crate::procedure::facts;
use crate::procedure::keys::{ASK, OTHERWISE, Takes, key};
use crate::procedure::limits::MOST_TAKES;
use crate::procedure::observables::{Observable, gauges, observable};
use crate::procedure::otherwise::Otherwise;
use crate::procedure::paper::{Paper, PaperLine, Said, Slot, may_say, said};
use crate::procedure::question::{Accepted, Answer, AnswerKind, AtHand, Limits, Refusal};
use crate::procedure::shipped_states::bringers;
use crate::procedure::shown::{Shown, Use};
use crate::procedure::step::{Action, Asks, Course, Gives, Step, time_of};
use crate::procedure::verb::{DraftAction, DraftStep, Verb};
use crate::quantity::{Kind, Measure, UNITS, Uncertain, Unit, Units, unit};
use crate::record::Entry;
use crate::source::{Fault, Quoted};
use crate::words::{list, near};

/// A reading to take.
#[derive(Debug)]
struct Read {
    /// What is read.
    measure: Measure,
    /// The question.
    ask: Template,
    /// The unit a bare number is taken in; else the household's.
    unit: Option<&'static Unit>,
    /// The gauge it is read from.
    gauge: Option<String>,
    /// Outside this an answer is refused.
    between: Option<Limits>,
    /// Outside this an answer is questioned.
    expect: Option<Limits>,
    /// How far the readings may lie apart without being questioned.
    agree: Option<CheckedExpr>,
    /// How many readings are taken.
    times: u32,
    /// Whether the time of the reading is a value too.
    at_from_clock: bool,
    /// What the tank's newest record tells of this is what an empty answer means.
    recall: Option<&'static Observable>,
    /// Where this holds it is asked only if a record tells of it.
    if_recorded: Option<CheckedExpr>,
    /// What follows when there is nothing to be read.
    otherwise: Option<Otherwise>,
}

pub(super) const VERB: Verb = Verb {
    key: key("read", Takes::Measure, "the kind of reading to take"),
    sentence: "a reading to take, of the kind it names",
    keys: &[
        ASK,
        key("unit", Takes::Text, "the unit a bare number is taken in; else the household's"),
        key("gauge", Takes::Gauge, "what it is read from; how accurate yours is stands in the system file"),
        key("between", Takes::Limits, "outside these an answer is refused"),
        key("expect", Takes::Limits, "outside these an answer is questioned, not refused"),
        key("times", Takes::Whole(1, MOST_TAKES), "how many readings are taken; their mean stands"),
        key(
            "agree",
            Takes::Expression,
            "readings further apart than this are questioned at the last of them",
        ),
        key("at_from_clock", Takes::Flag, "whether the time of the reading is kept as ID_at"),
        key(
            "never",
            OTHERWISE,
            "what is told, or where the work ends, when `never` is typed: it does not happen",
        ),
        key(
            "recall",
            Takes::Observable,
            "an observable: an empty answer means what the tank's newest record tells of it, as left if it does; of a precharge, else what the system file keeps",
        ),
        key(
            "if_recorded",
            Takes::Expression,
            "where this holds it is asked only if there is such a record, or the system file keeps it; \"yes\" for always",
        ),
    ],
    answered: true,
    draft: |fields, drafting| {
        let kind = facts::kind(fields, "read");
        let span = fields.value_span("read");
        let ask = drafting.needed_text(fields, "ask", "the question to put");
        let read_in = fields.text("unit");
        let gauge = fields.text("gauge");
        let [between, expect] = ["between", "expect"].map(|key| facts::limits(fields, drafting, key));
        let times = fields.whole("times", 1..=MOST_TAKES).unwrap_or(1);
        let agree = drafting.expr(fields, "agree");
        let at_from_clock = fields.flag("at_from_clock");
        let recall = fields.text("recall");
        let if_recorded = drafting.expr(fields, "if_recorded");
        let never = draft_otherwise::draft(fields, drafting, ("never", "never"));
        DraftAction::checked_by(move |step, checking| {
            let otherwise = never.as_ref().and_then(|never| never(checking));
            let kind = kind.as_ref()?;
            let Some(measure) = kind.measure() else {
                let message = format!("{kind} is not read from anything");
                let fault = Fault::new("wrong-kind", &step.source, span, message);
                return checking.none(fault.remedy("use `choose` for words and yes or no, `write` for text"));
            };
            let unit = read_in.as_ref().and_then(|unit| check_unit(unit, measure, checking));
            let known = step.keys.observes.as_ref().and_then(|name| observable(&name.text));
            let known = known.filter(|known| known.observed.fits(kind));
            let between = facts::check_limits(&between, known.and_then(|it| it.possible), kind, checking);
            let expect = facts::check_limits(&expect, known.and_then(|it| it.usual), kind, checking);
            let apart = Kind::Measure(measure.difference());
            let agree = agree.as_ref().and_then(|agree| checking.expr(agree, Some(&apart)));
            let ask = checking.text(ask.as_ref()?)?;
            define(step, kind, times, at_from_clock, checking);
            if if_recorded.is_some() && (recall.is_none() || !step.keys.skip) {
                asked_for_nothing(step, checking);
            }
            let if_recorded = if_recorded.as_ref().and_then(|only| checking.yes_no(only));
            let recall = recall.as_ref().and_then(|recall| checking.observed(recall, kind));
            if let (Some(known), Some(gauge)) = (known, &gauge) {
                needed_for(step, known, gauge, checking);
            }
            let gauge = match &gauge {
                Some(gauge) => check_gauge(gauge, measure, checking),
                // What is usually read from a gauge is not exact because a file names none.
                // An earlier visit's may have been another.
                None if step.keys.tells.as_ref().is_some_and(|tells| tells.text == "before") => None,
                None => known.and_then(|known| known.gauge).map(ToString::to_string),
            };
            checking.gauges.extend(gauge.clone());
            Some(Read {
                measure,
                ask,
                unit,
                gauge,
                between,
                expect,
                agree,
                times,
                at_from_clock,
                recall,
                if_recorded,
                otherwise,
            })
        })
    },
};

/// Notes that a reading may be left unasked, and the step does not say so.
fn asked_for_nothing(step: &DraftStep, checking: &mut Checking<'_>) {
    let fault = step.fault("missing-key", "`if_recorded` needs `recall` and `skip = true` beside it");
    let why = "Where no record tells of it the step is left out, as if the person had skipped it.";
    checking.fault(fault.why(why).remedy("add the key that lacks, or take `if_recorded` out"));
}

/// Notes that a reading needs a state without which its gauge shows something else.
fn needed_for(step: &DraftStep, known: &Observable, gauge: &Quoted, checking: &mut Checking<'_>) {
    let Some((state, otherwise)) = known.needs.filter(|_| known.gauge == Some(&gauge.text)) else { return };
    let needs = step.keys.needs.iter().chain(step.keys.without.iter().map(|waived| &waived.need));
    if needs.into_iter().any(|need| need.text == state) {
        return;
    }
    let place = step.keys.needs.first().map_or(step.span, |need| need.span);
    let message = format!("the {} could be read while `{state}` does not hold", known.term);
    let part = bringers(state).into_iter().next();
    let part = part.map(|part| format!(" `use = \"{part}\"` brings it about; put that before"));
    let part = part.unwrap_or_default();
    let why = format!("This step observes `{}`: {otherwise}.", known.name);
    let fault = Fault::new("needs-missing", &step.source, place, message).why(why);
    checking.fault(fault.remedy(format!("write \"{state}\" into its `needs`.{part}")));
}

/// The gauge that a reading names, which must be one that measures such a thing.
fn check_gauge(quoted: &Quoted, measure: Measure, checking: &mut Checking<'_>) -> Option<String> {
    let of_family = gauges().into_iter().filter(|(_, of)| of.family() == measure.family());
    let fit: Vec<&str> = of_family.map(|(name, _)| name).collect();
    if fit.contains(&quoted.text.as_str()) {
        return Some(quoted.text.clone());
    }
    let known = gauges().iter().any(|(name, _)| *name == quoted.text);
    let message = match known {
        true => format!("`{}` does not read {}", quoted.text, measure.phrase()),
        false => format!("there is no gauge `{}`", quoted.text.escape_debug()),
    };
    let remedy = match near(&quoted.text, fit.iter().copied()).filter(|_| !known) {
        _ if fit.is_empty() => format!("take `gauge` out: no gauge of the table reads {}.", measure.phrase()),
        Some(near) => format!("did you mean `{near}`?"),
        None => format!("write {}.", list(&fit, "or")),
    };
    checking.none(
        quoted.fault("unknown-gauge", message)
            .why("A gauge that nothing is known of would count as exact, and checks would pass that cannot be told.")
            .remedy(format!("{remedy} How accurate yours is stands in the system file, under [[gauge]]")),
    )
}

/// Makes the reading known, and its time.
fn define(step: &DraftStep, kind: &Kind, times: u32, timed: bool, checking: &mut Checking<'_>) {
    let Some(id) = step.known_as(checking) else {
        let why = "Without a name nothing can use the reading, and the record could not say what it is.";
        let fault = step.fault("missing-key", "a reading needs an `id`").why(why);
        return checking.fault(fault.remedy("add `id = \"…\"`"));
    };
    checking.define(&id, kind, times);
    if timed {
        let at = Id { name: time_of(&id.name).into(), ..id };
        checking.define(&at, &Kind::Measure(Measure::Instant), times);
    }
}

fn check_unit(quoted: &Quoted, measure: Measure, checking: &mut Checking<'_>) -> Option<&'static Unit> {
    let family = measure.family();
    unit(&quoted.text).filter(|unit| unit.family == family).or_else(|| {
        let known = UNITS.iter().filter(|u| u.family == family).map(|u| u.symbol);
        let message = format!("`{}` is no unit for {}", quoted.text.escape_debug(), measure.phrase());
        checking.none(unknown_fault("wrong-unit", quoted, message, known))
    })
}

impl Read {
    /// The unit a bare number is taken in.
    fn entry_unit(&self, units: Units) -> Option<&'static Unit> {
        self.unit.or(units.unit_for(self.measure))
    }

    /// Questions the last of several readings when they lie too far apart.
    fn agrees(&self, accepted: &Accepted, answer: &Answer<'_>, at_hand: &dyn AtHand) -> Result<(), Refusal> {
        let before: Vec<f64> =
            at_hand.takes().iter().filter_map(|take| take.amount().map(Uncertain::value)).collect();
        let (Some(agree), Some(number)) = (&self.agree, &accepted.number) else { return Ok(()) };
        let agree = agree.value(at_hand.values()).ok().and_then(|agree| agree.amount().map(Uncertain::value));
        let (Some(agree), true) = (agree, before.len() + 1 == self.times as usize && !answer.sure) else {
            return Ok(());
        };
        let si = number.unit.map_or(number.value, |unit| unit.to_si(self.measure, number.value));
        let lowest = before.iter().copied().fold(si, f64::min);
        let apart = before.iter().copied().fold(si, f64::max) - lowest;
        if apart <= agree * (1.0 + 1e-9) {
            return Ok(());
        }
        let shown = |si: f64| Value::exact(self.measure.difference(), si).shown(at_hand.units());
        Err(Refusal::Unusual(format!(
            "The {} readings lie {} apart; more than {} is unusual. Most likely one was misread. Answer no to read \
             this one again, back to read the one before it again.",
            self.times,
            shown(apart),
            shown(agree)
        )))
    }
}

impl Asks for Read {
    fn shows(&self) -> Shown<'_> {
        let limits = self.between.iter().chain(&self.expect).flat_map(|both| [&both.low, &both.high]);
        let if_recorded = self.if_recorded.as_ref();
        let looks_at = limits.chain(&self.agree).chain(if_recorded).map(|expr| (expr, Use::Value)).collect();
        Shown { looks_at, if_recorded, otherwise: self.otherwise.as_ref(), ..Shown::asking(&self.ask) }
    }

    fn expects(&self, at_hand: &dyn AtHand) -> AnswerKind {
        AnswerKind::Number(self.measure, self.entry_unit(at_hand.units()))
    }

    fn take(&self, answer: &Answer<'_>, at_hand: &dyn AtHand) -> Result<Accepted, Refusal> {
        let asked = Asked {
            measure: self.measure,
            unit: self.entry_unit(at_hand.units()),
            between: self.between.as_ref(),
            expect: self.expect.as_ref(),
            gauge: self.gauge.as_deref(),
        };
        let accepted = answers::number(&asked, answer, at_hand)?;
        self.agrees(&accepted, answer, at_hand)?;
        Ok(accepted)
    }

    fn gives(&self) -> Option<Gives> {
        let (times, timed, recall) = (self.times, self.at_from_clock, self.recall.map(|it| it.name));
        Some(Gives { kind: Kind::Measure(self.measure), times, timed, recall })
    }

    fn message(&self, _: &Entry) -> Option<String> {
        None
    }
}

impl Action for Read {
    fn course(&self) -> Course<'_> {
        Course::Ask(self)
    }

    fn outline(&self, _: &Step) -> Vec<Said> {
        vec![
            said("Read", &self.ask),
            ("Gauge", self.gauge.clone()),
            ("Can be", self.between.as_ref().map(Limits::written)),
            ("Usually", self.expect.as_ref().map(Limits::written)),
            may_say("If never", &self.otherwise.as_ref().map(|it| it.says.clone())),
            ("Times", (self.times > 1).then(|| self.times.to_string())),
        ]
    }

    fn on_paper(&self, _: &Step, paper: &mut dyn Paper) -> Option<PaperLine> {
        let unit = self.entry_unit(paper.units()).map(|unit| unit.symbol);
        Some(self.shows().on_paper(Slot::Numbers(unit, self.times), paper))
    }
}
