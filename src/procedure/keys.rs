//! What every key of a procedure file takes and means: the table that the guide, the reference
//! chapter and the editors' schema are made from.

/// What a key takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Takes {
    /// A text.
    Text,
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
    /// `[[step]]` tables.
    Steps,
    /// A table of names, each with its kind.
    Terms,
    /// A table of names, each with an expression.
    Given,
}

/// One key.
#[derive(Clone, Copy, Debug)]
pub struct Key {
    /// Its name.
    pub name: &'static str,
    /// What it takes.
    pub takes: Takes,
    /// What it means, in a sentence without a capital or a full stop.
    pub means: &'static str,
}

const fn key(name: &'static str, takes: Takes, means: &'static str) -> Key {
    Key { name, takes, means }
}

/// The verbs, as keys.
pub static VERB_KEYS: &[Key] = &[
    key("do", Takes::Template, "what to do; Enter says it is done"),
    key("read", Takes::Measure, "the kind of reading to take"),
    key("choose", Takes::Choices, "the words to choose from"),
    key("write", Takes::OneOf(&["text", "date", "file"]), "what is to be written"),
    key("compute", Takes::Expression, "what is to be worked out"),
    key("check", Takes::Expression, "what should hold: a yes or no"),
    key("wait", Takes::Expression, "how long to wait, such as \"15 min\""),
    key("repeat", Takes::Bounds, "until what holds the steps come round, and how often at most"),
    key("each", Takes::OneOf(&["tank"]), "for what the steps are done, one after the other"),
    key("use", Takes::Text, "the part whose steps stand here, such as \"parts/drain\""),
    key("stop", Takes::Template, "the verdict with which the work ends"),
];

/// Keys of steps, whatever their verb.
pub static STEP_KEYS: &[Key] = &[
    key("id", Takes::Text, "the name of the step and of its answer: lower-case letters, digits and _"),
    key("label", Takes::Text, "what reports call the answer"),
    key("tells", Takes::OneOf(&["found", "done", "left"]), "under which heading of the summary it stands"),
    key("title", Takes::Template, "a heading, where a new part of the work begins"),
    key("when", Takes::Expression, "the step is left out when this does not hold"),
    key("why", Takes::Template, "why it is done; shown for ?"),
    key("how", Takes::Template, "how it is done; shown for ?"),
    key("needs", Takes::Texts, "states that must hold before it, proven along every path"),
    key("brings", Takes::Texts, "states that hold after it"),
    key("undoes", Takes::Texts, "states that hold no longer after it"),
    key("skip", Takes::Flag, "whether it may be skipped, with a reason"),
];

/// Keys that only some verbs have.
pub static OWN_KEYS: &[Key] = &[
    key("see", Takes::Template, "what shows that it went right"),
    key("danger", Takes::Template, "the danger, which must be acknowledged with a typed word"),
    key("minutes", Takes::Whole(1, 1_440), "about how long it takes"),
    key("ask", Takes::Template, "the question, or what to do meanwhile"),
    key("unit", Takes::Text, "the unit a bare number is taken in; else the household's"),
    key("gauge", Takes::Text, "what it is read from, as the system file names it"),
    key("between", Takes::Limits, "outside these an answer is refused"),
    key("expect", Takes::Limits, "outside these an answer is questioned, not refused"),
    key(
        "times",
        Takes::Whole(1, super::limits::MOST_TAKES),
        "how many readings are taken; their mean stands",
    ),
    key("at_from_clock", Takes::Flag, "whether the time of the reading is kept as ID_at"),
    key("recall", Takes::Text, "a step: an empty answer means what the tank's newest record has under it"),
    key("longest", Takes::Whole(1, 4_000), "the most characters"),
    key("say", Takes::Template, "what is told when it is worked out, or after each round"),
    key("unsure", Takes::Template, "what is told when the numbers do not tell"),
    key(
        "over",
        Takes::Expression,
        "the time over which that came about which is compared, in proportion to it: a longer one would tell more",
    ),
    key("must", Takes::Flag, "whether the work stops when it fails"),
    key("pass", Takes::Template, "what is told when it holds"),
    key("fail", Takes::Template, "what is told when it does not"),
    key("early", Takes::Flag, "whether the wait may be ended early"),
    key("step", Takes::Steps, "the steps inside, as [[step.step]]"),
    key(
        "as",
        Takes::Text,
        "what the part's ids are led by, when it is used twice; what begins with _ follows them",
    ),
    key("with", Takes::Given, "what the part is given, each under the name it takes it by"),
    key("outcome", Takes::OneOf(&["failed", "unfinished"]), "what the stop means for the run"),
];

/// Keys at the top of a file.
pub static FILE_KEYS: &[Key] = &[
    key("format", Takes::Whole(1, 1), "the format of the file: 1"),
    key("title", Takes::Text, "what the procedure does, as a heading"),
    key("purpose", Takes::Text, "what it is for, in a sentence or two"),
    key("time", Takes::Text, "about how long it takes, in words"),
    key("bring", Takes::Texts, "what to bring"),
    key(
        "confidence",
        Takes::Confidence,
        "the probability from which a check says pass or fail; of this and the system file's the greater counts, 95 % when neither asks",
    ),
];

/// Keys at the top of a part: what the procedures that use it look at.
pub static PART_KEYS: &[Key] = &[
    key("states", Takes::Text, "the file whose states count here, such as \"parts/states\""),
    key(
        "takes",
        Takes::Terms,
        "the names it takes from its user, with their kinds; { kind = …, usual = … } where the user need not give one",
    ),
    key("gives", Takes::Terms, "the names of its steps that its user may speak of, with their kinds"),
    key(
        "needs",
        Takes::Texts,
        "states that must hold before it, such as \"drained\" or \"drained if lever\"",
    ),
    key("brings", Takes::Texts, "states that hold after it"),
    key("undoes", Takes::Texts, "states that hold no longer after it"),
];

/// Keys of a `[[fact]]`.
pub static FACT_KEYS: &[Key] = &[
    key("id", Takes::Text, "its name in expressions"),
    key("kind", Takes::Kind, "what it is"),
    key("ask", Takes::Text, "the question, when it is not in the system file"),
    key("from", Takes::Text, "where the system file may have it, such as \"switch.cut_in\""),
    key("between", Takes::Limits, "outside these an answer is refused"),
    key("usual", Takes::Text, "what an empty answer means"),
    key(
        "when",
        Takes::Expression,
        "it is only asked for when this holds of the facts before it; else the usual answer stands",
    ),
    key("why", Takes::Text, "why it is asked; shown for ?"),
];

/// Keys of a `[[state]]`.
pub static STATE_KEYS: &[Key] = &[
    key("id", Takes::Text, "its name in needs, brings and undoes"),
    key("means", Takes::Text, "what it means, for a person"),
    key(
        "hazard",
        Takes::Flag,
        "whether work that needs it can hurt, so that a danger must be acknowledged before",
    ),
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::procedure::VERBS;

    #[test]
    fn every_key_that_is_read_stands_in_the_table() {
        let names = |keys: &[Key]| keys.iter().map(|key| key.name).collect::<Vec<_>>();
        assert_eq!(names(VERB_KEYS), VERBS.iter().map(|verb| verb.word).collect::<Vec<_>>());
        assert_eq!(names(STEP_KEYS), super::super::steps::COMMON_KEYS);
        let own = names(OWN_KEYS);
        for verb in VERBS {
            assert!(verb.keys.iter().all(|key| own.contains(key)), "{}", verb.word);
        }
        assert!(own.iter().all(|key| VERBS.iter().any(|verb| verb.keys.contains(key))));
        let tables = ["fact", "state", "step"];
        let file = [FILE_KEYS, PART_KEYS].concat();
        let file: Vec<&str> = names(&file).into_iter().chain(tables).collect();
        assert_eq!(file, super::super::draft::FILE_KEYS);
        assert_eq!(names(FACT_KEYS), super::super::facts::KEYS);
    }
}
