//! `choose`: one of several words.

use crate::document::Fields;
use crate::lang::{RawTemplate, Template};
use crate::procedure::answers::chosen;
use crate::procedure::draft_otherwise;
use crate::procedure::drafting::Drafting;
use crate::procedure::keys::{ASK, CHOICE_KEYS, CHOICES, NOT_SO, SEE, key, names};
use crate::procedure::otherwise::Otherwise;
use crate::procedure::paper::{Paper, PaperLine, Said, Slot, may_say, said};
use crate::procedure::question::{Accepted, Answer, AnswerKind, AskedChoice, AtHand, Refusal};
use crate::procedure::shown::Shown;
use crate::procedure::step::{Action, Asks, Course, Gives, Step};
use crate::procedure::verb::{DraftAction, Verb};
use crate::quantity::Kind;
use crate::record::Entry;
use crate::source::Quoted;
use crate::words::{ORDERS, list};

/// A word to choose.
#[derive(Debug)]
struct Choose {
    /// The question.
    ask: Template,
    /// What there is to choose from.
    words: Vec<Word>,
    /// The same, as the kind of the answer.
    kind: Kind,
    /// What shows that what was done before went right.
    see: Option<Template>,
    /// What follows when it is not so.
    otherwise: Option<Otherwise>,
}

/// One of the words.
#[derive(Debug)]
struct Word {
    /// What expressions and the record know.
    value: String,
    /// What the person sees, when it is more than the word.
    label: Option<Template>,
    /// What it means, at length.
    help: Option<Template>,
}

/// A word with its label and help, unchecked.
type DraftWord = (Quoted, Option<RawTemplate>, Option<RawTemplate>);

pub(super) const VERB: Verb = Verb {
    key: key("choose", CHOICES, "the words to choose from"),
    sentence: "one of several words, each with a label and help if it needs one",
    keys: &[ASK, SEE, NOT_SO],
    answered: true,
    draft: |fields, drafting| {
        let ask = drafting.needed_text(fields, "ask", "the question to put");
        let words = words(fields, drafting);
        distinct(fields, &words);
        let see = drafting.text(fields, "see");
        let not_so = draft_otherwise::draft(fields, drafting, ("not_so", "no"));
        DraftAction::checked_by(move |step, checking| {
            let ask = checking.optional_text(&ask);
            let word = |(value, label, help): &DraftWord| Word {
                value: value.text.clone(),
                label: checking.optional_text(label),
                help: checking.optional_text(help),
            };
            let checked = words.iter().map(word).collect();
            let values: Vec<&str> = words.iter().map(|(value, ..)| value.text.as_str()).collect();
            let kind = Kind::one_of(&values);
            step.define(checking, &kind);
            let see = checking.optional_text(&see);
            let otherwise = not_so.as_ref().and_then(|not_so| not_so(checking));
            Some(Choose { ask: ask?, words: checked, kind, see, otherwise })
        })
    },
};

fn words(fields: &Fields<'_>, drafting: &Drafting<'_>) -> Vec<DraftWord> {
    if !fields.is_list_of_tables("choose") {
        return fields.texts("choose").into_iter().map(|word| (word, None, None)).collect();
    }
    let word = |table: &Fields<'_>| {
        table.only(&names(CHOICE_KEYS));
        let value = table.needed_text("value", "the word")?;
        Some((value, drafting.text(table, "label"), drafting.text(table, "help")))
    };
    fields.tables("choose").iter().filter_map(word).collect()
}

/// There must be at least two words, all different and fit to be typed.
fn distinct(fields: &Fields<'_>, choices: &[DraftWord]) {
    let fault = |span, message: &str, remedy: &str| {
        fields.walk().fault(fields.fault("choices", span, message).remedy(remedy));
    };
    if choices.len() < 2 {
        let span = fields.value_span("choose");
        fault(span, "there is nothing to choose between", "give at least two words");
    }
    for (at, (word, ..)) in choices.iter().enumerate() {
        if choices[..at].iter().any(|(other, ..)| other.text == word.text) {
            fault(word.span, &format!("'{}' stands twice", word.text), "make the words different");
        }
        if word.text == "no" && fields.has("not_so") {
            let message = "`no` says that it is not so, and cannot be chosen too";
            fault(word.span, message, "use another word, or leave out `not_so`");
        }
        if ORDERS.contains(&word.text.trim().to_lowercase().as_str()) {
            let message = format!("'{}' is an order and can never be chosen", word.text.escape_debug());
            let why = format!("At any question {} mean something else.", list(ORDERS, "and"));
            let fault = fields.fault("choices", word.span, message).why(why);
            fields.walk().fault(fault.remedy("use another word"));
        }
        if word.text.trim().is_empty() || word.text.contains('\'') || word.text.len() > 40 {
            fault(word.span, "this cannot be a word to choose", "use one short word without quotes");
        }
    }
}

impl Asks for Choose {
    fn shows(&self) -> Shown<'_> {
        let words = self.words.iter().flat_map(|word| word.label.iter().chain(&word.help)).collect();
        Shown {
            words,
            see: self.see.as_ref(),
            otherwise: self.otherwise.as_ref(),
            ..Shown::asking(&self.ask)
        }
    }

    fn expects(&self, at_hand: &dyn AtHand) -> AnswerKind {
        let fill = |text: &Template| at_hand.filled(text);
        let choices = self.words.iter().map(|word| AskedChoice {
            value: word.value.clone(),
            label: word.label.as_ref().map_or_else(|| word.value.clone(), fill),
            help: word.help.as_ref().map(fill),
        });
        AnswerKind::OneOf(choices.collect())
    }

    fn take(&self, answer: &Answer<'_>, _: &dyn AtHand) -> Result<Accepted, Refusal> {
        let words: Vec<&str> = self.words.iter().map(|word| word.value.as_str()).collect();
        chosen(answer.typed, &words)
    }

    fn gives(&self) -> Option<Gives> {
        Some(Gives::one(self.kind.clone()))
    }

    /// The label of the word, where it needs no run to be read.
    fn message(&self, answer: &Entry) -> Option<String> {
        let word = self.words.iter().find(|word| Some(word.value.as_str()) == answer.given.as_deref())?;
        let label = word.label.as_ref().filter(|label| label.holes().next().is_none())?;
        Some(label.unfilled())
    }
}

impl Action for Choose {
    fn course(&self) -> Course<'_> {
        Course::Ask(self)
    }

    /// The words, with what they mean where more is said than the word; what is to be seen first.
    fn outline(&self, _: &Step) -> Vec<Said> {
        let word = |word: &Word| {
            let label = word.label.as_ref().map(Template::unfilled).filter(|label| *label != word.value);
            let help = word.help.as_ref().map(Template::unfilled);
            let more = [label, help].into_iter().flatten().collect::<Vec<_>>().join(". ");
            let more = if more.is_empty() { more } else { format!(": {more}") };
            ("", Some(format!("- {}{more}", word.value)))
        };
        let after = [
            may_say("See", &self.see),
            may_say("If not so", &self.otherwise.as_ref().map(|it| it.says.clone())),
        ];
        std::iter::once(said("Choose", &self.ask)).chain(self.words.iter().map(word)).chain(after).collect()
    }

    fn on_paper(&self, step: &Step, paper: &mut dyn Paper) -> Option<PaperLine> {
        let word = |word: &Word| match paper.may(&word.label) {
            Some(label) if label != word.value && step.paper.is_none() => format!("{} ({label})", word.value),
            Some(_) | None => word.value.clone(),
        };
        let words = self.words.iter().map(word).collect();
        Some(self.shows().on_paper(Slot::Words(words), paper))
    }
}
