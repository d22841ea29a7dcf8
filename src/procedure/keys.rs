//! What every key of a procedure file takes and means: the table that the guide, the reference
//! chapter and the editors' schema are made from.

use crate::record::PHASE_WORDS;

use Takes::{
    Confidence, Expression, Flag, Limits, Observable, OneOf, PassedKind, Steps, Template, Text, Whole,
};

/// What a key takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Takes {
    /// A text.
    Text,
    /// The name of a part.
    Part,
    /// A word.
    Word,
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
    /// Two expressions: the lowest and the highest.
    Limits,
    /// A measure's name.
    Measure,
    /// A kind's name.
    Kind,
    /// A kind as the head of a part writes it: `"maybe pressure"`, `"pressure of each tank"`.
    PassedKind,
    /// One of these words.
    OneOf(&'static [&'static str]),
    /// The name of a gauge.
    Gauge,
    /// The name of an observable.
    Observable,
    /// The name of a hazard.
    Hazard,
    /// `[[step]]` tables.
    Steps,
    /// A list of at least so many.
    List(&'static Takes, u32),
    /// Names, each with what it takes.
    Names(&'static Takes),
    /// A table of these keys.
    Table(&'static [Key]),
    /// One of these, told apart by their types.
    Either(&'static [Takes]),
}

impl Takes {
    /// Whether it only says something to a person.
    const fn is_wording(self) -> bool {
        match self {
            Takes::Template => true,
            Takes::Either(each) => matches!(each, [Takes::Template, ..]),
            Takes::Text
            | Takes::Part
            | Takes::Word
            | Takes::Expression
            | Takes::Flag
            | Takes::Whole(..)
            | Takes::Confidence
            | Takes::Limits
            | Takes::Measure
            | Takes::Kind
            | Takes::PassedKind
            | Takes::OneOf(_)
            | Takes::Gauge
            | Takes::Observable
            | Takes::Hazard
            | Takes::Steps
            | Takes::List(..)
            | Takes::Names(_)
            | Takes::Table(_) => false,
        }
    }
}

/// A list of texts.
pub(super) const TEXTS: Takes = Takes::List(&Text, 0);
/// A list of words.
const WORDS: Takes = Takes::List(&Takes::Word, 0);
/// A kind's name, or a list of words.
const KIND: Takes = Takes::Either(&[Takes::Kind, WORDS]);
/// Names of hazards.
const HAZARDS: Takes = Takes::List(&Takes::Hazard, 0);
/// A list of words to choose from, or of tables.
pub(super) const CHOICES: Takes = Takes::List(&Takes::Either(&[Takes::Word, Takes::Table(CHOICE_KEYS)]), 2);
/// One need that is left out, or several.
pub(super) const WAIVERS: Takes =
    Takes::Either(&[Takes::Table(WAIVER_KEYS), Takes::List(&Takes::Table(WAIVER_KEYS), 0)]);
/// What follows when something is not as a step says: a text, or a table.
pub(super) const OTHERWISE: Takes =
    Takes::Either(&[Template, Takes::Table(AGAIN_KEYS), Takes::Table(STOP_KEYS)]);
/// Names with their kinds, or with a table that says more.
const TERMS: Takes = Takes::Names(&Takes::Either(&[PassedKind, WORDS, Takes::Table(TERM_KEYS)]));

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
    /// Whether it must be there.
    pub needed: bool,
}

impl Key {
    /// The same key, which must be there.
    pub(super) const fn needed(self) -> Key {
        Key { needed: true, ..self }
    }
}

pub(super) const fn key(name: &'static str, takes: Takes, means: &'static str) -> Key {
    Key { name, takes, means, wording: takes.is_wording(), needed: false }
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
pub(crate) static STEP_KEYS: &[Key] = &[
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
    key("needs", TEXTS, "states that must hold before it, proven along every path"),
    key("brings", TEXTS, "states that hold after it"),
    key("undoes", TEXTS, "states that hold no longer after it"),
    key(
        "hazards",
        HAZARDS,
        "what can hurt there: names of the table that `guide hazards` shows; the message stands before the step",
    ),
    key("skip", Flag, "whether it may be skipped, with a reason"),
    key(
        "without",
        WAIVERS,
        "a need of the shipped step that this one leaves out, and why; the run, the record and the report say so",
    ),
];

/// The question of a step that asks.
pub(super) const ASK: Key = key("ask", Template, "the question, or what to do meanwhile");
/// What shows that something done went right.
pub(super) const SEE: Key = key("see", Template, "what shows that it went right");
/// What follows when it is not so.
pub(super) const NOT_SO: Key =
    key("not_so", OTHERWISE, "what is told, or where the work ends, when `no` is typed");
/// What is told of what was worked out.
pub(super) const SAY: Key = key("say", Template, "what is told when it is worked out, or after each round");
/// What is told where it could not be.
pub(super) const UNSURE: Key = key("unsure", Template, "what is told when the numbers do not tell");
/// The steps of a loop.
pub(super) const STEPS: Key = key("step", Steps, "the steps inside, as [[step.step]]");

/// Keys at the top of a file.
pub(crate) static FILE_KEYS: &[Key] = &[
    key("format", Whole(1, 1), "the format of the file: 1").needed(),
    words("title", Text, "what the procedure does, as a heading").needed(),
    words("report", Text, "what a report of it is headed, as a noun; without it the title"),
    words("purpose", Text, "what it is for, in a sentence or two").needed(),
    words("time", Text, "about how long it takes, in words"),
    words("bring", TEXTS, "what to bring"),
    key(
        "confidence",
        Confidence,
        "the probability from which a check says pass or fail; of this and the system file's the greater counts, 95 % when neither asks",
    ),
    key(
        "leave_out",
        TEXTS,
        "parts that are left out wherever they are used, such as \"drawdown-test\"; what rests on them is not known",
    ),
];

/// Keys at the top of a part: what the procedures that use it look at.
pub(crate) static PART_KEYS: &[Key] = &[
    key("states", Text, "the file whose states count here, such as \"parts/states\""),
    key(
        "takes",
        TERMS,
        "the names it takes from its user, with their kinds; { kind = …, usual = …, when = … } where the user need not give one, or where it is taken only with some words",
    ),
    key("gives", TERMS, "the names of its steps that its user may speak of, with their kinds"),
    key("needs", TEXTS, "states that must hold before it, such as \"drained\" or \"drained if lever\""),
    key("brings", TEXTS, "states that hold after it"),
    key("undoes", TEXTS, "states that hold no longer after it"),
];

/// Keys of a `[[fact]]`.
pub(crate) static FACT_KEYS: &[Key] = &[
    key("id", Text, "its name in expressions").needed(),
    key("kind", KIND, "what it is").needed(),
    words("label", Text, "what a person calls it; else its name"),
    key("observes", Observable, "what the answer is of: a name of the table of observables"),
    words("ask", Text, "the question, when it is not in the system file").needed(),
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
pub(crate) static STATE_KEYS: &[Key] = &[
    key("id", Text, "its name in needs, brings and undoes").needed(),
    words("means", Text, "what it means, for a person").needed(),
    words("stands", Text, "how things stand while it holds, in a few words; said where the work ends early"),
    words("undone", Text, "the same once a step has undone it; of what no step has touched nothing is said"),
    key(
        "hazards",
        HAZARDS,
        "what can hurt in work that needs it: its message must have been shown before, on every path",
    ),
];

/// Keys of a word to choose.
pub(super) const CHOICE_KEYS: &[Key] = &[
    key("value", Text, "the word, as expressions and the record know it").needed(),
    key("label", Template, "what the person reads"),
    key("help", Template, "what it means, at length"),
];

/// Keys of a need that is left out.
pub(super) const WAIVER_KEYS: &[Key] = &[
    key("need", Text, "the state that is not needed here").needed(),
    words("because", Text, "why not, in a sentence; every run and report says it").needed(),
];

/// Keys of what a part takes or gives.
pub(super) const TERM_KEYS: &[Key] = &[
    key("kind", Takes::Either(&[PassedKind, WORDS]), "what it is").needed(),
    key("maybe", Flag, "whether it may have no value"),
    key("usual", Expression, "what stands for it when the user gives nothing"),
    key("when", Expression, "with which words, yes or no given to the part it is taken or given"),
];

/// Keys of what follows when something is not as a step says, and it is asked again.
pub(super) const AGAIN_KEYS: &[Key] =
    &[key("again", Template, "what is told before it is asked again").needed(), NOT_SO_LABEL, NOT_SO_FINDING];

/// The same where the work ends.
pub(super) const STOP_KEYS: &[Key] = &[
    key("stop", Template, "what is told where the work ends").needed(),
    NOT_SO_LABEL,
    NOT_SO_FINDING,
    key("brings", TEXTS, "states that hold after it"),
    key("undoes", TEXTS, "states that hold no longer after it"),
];

const NOT_SO_LABEL: Key = words("label", Text, "what a choice of it is called");
const NOT_SO_FINDING: Key = words("finding", Text, "what was found, in a few words");
