//! What every key of a procedure file takes and means: the table that the guide, the reference
//! chapter and the editors' schema are made from.

use crate::record::PHASE_WORDS;

use Takes::{
    Confidence, Expression, Flag, Hazards, Kind, Limits, Observable, OneOf, Otherwise, Steps, Template,
    Terms, Text, Texts, Waiver, Whole,
};

/// What a key takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Takes {
    /// A text.
    Text,
    /// The name of a part.
    Part,
    /// A text with `{expressions}`.
    Template,
    /// An expression, in quotes.
    Expression,
    /// `true` or `false`.
    Flag,
    /// A whole number between two bounds.
    Whole(u32, u32),
    /// A probability, `"95 %"` or `0.95`.
    Confidence,
    /// A list of texts.
    Texts,
    /// Two expressions: the lowest and the highest.
    Limits,
    /// A measure's name.
    Measure,
    /// A kind's name, or a list of words.
    Kind,
    /// A list of words, or of tables with `value`, `label`, `help`.
    Choices,
    /// One of these words.
    OneOf(&'static [&'static str]),
    /// `{ until = …, at_most = …, at_least = … }`
    Bounds,
    /// A text, or a table with `again` or `stop`, and `label` and `finding` if wanted.
    Otherwise,
    /// `[[step]]` tables.
    Steps,
    /// A table of names, each with its kind.
    Terms,
    /// A table of names, each with an expression.
    Given,
    /// `{ need = …, because = … }`, or a list of such.
    Waiver,
    /// The name of a gauge.
    Gauge,
    /// The name of an observable.
    Observable,
    /// Names of hazards.
    Hazards,
}

/// One key.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Key {
    /// Its name.
    pub name: &'static str,
    /// What it takes.
    pub takes: Takes,
    /// What it means, in a sentence without a capital or a full stop.
    pub means: &'static str,
    /// Whether it only says something to a person.
    pub wording: bool,
}

pub(super) const fn key(name: &'static str, takes: Takes, means: &'static str) -> Key {
    Key { name, takes, means, wording: matches!(takes, Template | Otherwise) }
}

/// A key whose texts only say something to a person.
pub(super) const fn words(name: &'static str, takes: Takes, means: &'static str) -> Key {
    Key { wording: true, ..key(name, takes, means) }
}

/// The names of keys.
pub(super) fn names<'k>(keys: impl IntoIterator<Item = &'k Key>) -> Vec<&'static str> {
    keys.into_iter().map(|key| key.name).collect()
}

/// Keys of steps, whatever their verb.
pub static STEP_KEYS: &[Key] = &[
    key("id", Text, "the name of the step and of its answer: lower-case letters, digits and _"),
    words("label", Text, "what reports call the answer"),
    key("observes", Observable, "what the answer is of: a name of the table of observables"),
    key(
        "tells",
        OneOf(&PHASE_WORDS),
        "under which heading of the summary it stands; before: at an earlier visit",
    ),
    key("title", Template, "a heading, where a new part of the work begins"),
    key("when", Expression, "the step is left out when this does not hold, or asks of what nobody answered"),
    key("why", Template, "why it is done; shown for ?"),
    key("how", Template, "how it is done; shown for ?"),
    key(
        "repeated",
        Template,
        "what is put from the second reading or round on, once the whole was shown; `?` shows that again",
    ),
    key("paper", Template, "what a worksheet says in its place, in a line or two"),
    key("needs", Texts, "states that must hold before it, proven along every path"),
    key("brings", Texts, "states that hold after it"),
    key("undoes", Texts, "states that hold no longer after it"),
    key(
        "hazards",
        Hazards,
        "what can hurt there: names of the table that `guide hazards` shows; the message stands before the step",
    ),
    key("skip", Flag, "whether it may be skipped, with a reason"),
    key(
        "without",
        Waiver,
        "a need of the shipped step that this one leaves out, and why; the run, the record and the report say so",
    ),
];

/// The question of a step that asks.
pub(super) const ASK: Key = key("ask", Template, "the question, or what to do meanwhile");
/// What shows that something done went right.
pub(super) const SEE: Key = key("see", Template, "what shows that it went right");
/// What follows when it is not so.
pub(super) const NOT_SO: Key =
    key("not_so", Otherwise, "what is told, or where the work ends, when `no` is typed");
/// What is told of what was worked out.
pub(super) const SAY: Key = key("say", Template, "what is told when it is worked out, or after each round");
/// What is told where it could not be.
pub(super) const UNSURE: Key = key("unsure", Template, "what is told when the numbers do not tell");
/// The steps of a loop.
pub(super) const STEPS: Key = key("step", Steps, "the steps inside, as [[step.step]]");

/// Keys at the top of a file.
pub static FILE_KEYS: &[Key] = &[
    key("format", Whole(1, 1), "the format of the file: 1"),
    words("title", Text, "what the procedure does, as a heading"),
    words("report", Text, "what a report of it is headed, as a noun; without it the title"),
    words("purpose", Text, "what it is for, in a sentence or two"),
    words("time", Text, "about how long it takes, in words"),
    words("bring", Texts, "what to bring"),
    key(
        "confidence",
        Confidence,
        "the probability from which a check says pass or fail; of this and the system file's the greater counts, 95 % when neither asks",
    ),
    key(
        "leave_out",
        Texts,
        "parts that are left out wherever they are used, such as \"drawdown-test\"; what rests on them is not known",
    ),
];

/// Keys at the top of a part: what the procedures that use it look at.
pub static PART_KEYS: &[Key] = &[
    key("states", Text, "the file whose states count here, such as \"parts/states\""),
    key(
        "takes",
        Terms,
        "the names it takes from its user, with their kinds; { kind = …, usual = …, when = … } where the user need not give one, or where it is taken only with some words",
    ),
    key("gives", Terms, "the names of its steps that its user may speak of, with their kinds"),
    key("needs", Texts, "states that must hold before it, such as \"drained\" or \"drained if lever\""),
    key("brings", Texts, "states that hold after it"),
    key("undoes", Texts, "states that hold no longer after it"),
];

/// Keys of a `[[fact]]`.
pub static FACT_KEYS: &[Key] = &[
    key("id", Text, "its name in expressions"),
    key("kind", Kind, "what it is"),
    words("label", Text, "what a person calls it; else its name"),
    key("observes", Observable, "what the answer is of: a name of the table of observables"),
    words("ask", Text, "the question, when it is not in the system file"),
    key("from", Text, "where the system file may have it, such as \"switch.cut_in\""),
    key("between", Limits, "outside these an answer is refused"),
    key("usual", Text, "what an empty answer means"),
    key("unknown", Flag, "whether `not known` is an answer; what rests on it then can't be told"),
    key(
        "when",
        Expression,
        "it is only asked for when this holds of the facts before it; else the usual answer stands",
    ),
    words("why", Text, "why it is asked; shown for ?"),
];

/// Keys of a `[[state]]`.
pub static STATE_KEYS: &[Key] = &[
    key("id", Text, "its name in needs, brings and undoes"),
    words("means", Text, "what it means, for a person"),
    words("stands", Text, "how things stand while it holds, in a few words; said where the work ends early"),
    words("undone", Text, "the same once a step has undone it; of what no step has touched nothing is said"),
    key(
        "hazards",
        Hazards,
        "what can hurt in work that needs it: its message must have been shown before, on every path",
    ),
];
