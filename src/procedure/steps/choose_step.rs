//! `choose`: one of several words.

use std::sync::Arc;

use super::{DraftAction, Verb};
use crate::document::Fields;
use crate::lang::{RawTemplate, Template};
use crate::procedure::checking::Checking;
use crate::quantity::Kind;
use crate::source::{Fault, Quoted};
use crate::words::{ORDERS, list};

/// A word to choose.
#[derive(Clone, Debug)]
pub struct Choose {
    /// The question.
    pub ask: Template,
    /// What there is to choose from.
    pub choices: Vec<Choice>,
}

/// One of the words.
#[derive(Clone, Debug)]
pub struct Choice {
    /// The word that expressions and the record know.
    pub value: Arc<str>,
    /// What the person sees, when it is more than the word.
    pub label: Option<Template>,
    /// What it means, at length.
    pub help: Option<Template>,
}

#[derive(Clone, Debug)]
pub(in crate::procedure) struct Draft {
    ask: Option<RawTemplate>,
    choices: Vec<Drafted>,
}

/// A word with its label and help.
type Drafted = (Quoted, Option<RawTemplate>, Option<RawTemplate>);

pub(super) const VERB: Verb = Verb {
    word: "choose",
    sentence: "one of several words, each with a label and help if it needs one",
    keys: &["ask"],
    draft: |fields, drafting, _| {
        if !fields.has("ask") {
            fields.missing("ask", "the question to put");
        }
        let choices: Vec<Drafted> = if fields.is_list_of_tables("choose") {
            let tables = fields.tables("choose");
            tables
                .iter()
                .filter_map(|table| {
                    table.only(&["value", "label", "help"]);
                    let value = table.needed_text("value", "the word")?;
                    Some((value, drafting.text(table, "label"), drafting.text(table, "help")))
                })
                .collect()
        } else {
            fields.texts("choose").into_iter().map(|word| (word, None, None)).collect()
        };
        distinct(fields, &choices);
        Some(DraftAction::Choose(Draft { ask: drafting.text(fields, "ask"), choices }))
    },
};

/// There must be at least two words, all different and fit to be typed.
fn distinct(fields: &Fields<'_>, choices: &[Drafted]) {
    let fault = |span, message: String, remedy: &str| {
        fields.walk().fault(Fault::new("choices", fields.source(), span, message).remedy(remedy));
    };
    if choices.len() < 2 {
        fault(
            fields.value_span("choose"),
            "there is nothing to choose between".into(),
            "give at least two words",
        );
    }
    for (at, (word, ..)) in choices.iter().enumerate() {
        if choices[..at].iter().any(|(other, ..)| other.text == word.text) {
            fault(word.span, format!("'{}' stands twice", word.text), "make the words different");
        }
        if ORDERS.contains(&word.text.trim().to_lowercase().as_str()) {
            let message = format!("'{}' is an order and can never be chosen", word.text.escape_debug());
            fields.walk().fault(
                Fault::new("choices", fields.source(), word.span, message)
                    .why(format!("At any question {} mean something else.", list(ORDERS, "and")))
                    .remedy("use another word"),
            );
        }
        if word.text.trim().is_empty() || word.text.contains('\'') || word.text.len() > 40 {
            fault(word.span, "this cannot be a word to choose".into(), "use one short word without quotes");
        }
    }
}

impl Draft {
    pub(super) fn check(&self, checking: &mut Checking<'_>) -> Option<Choose> {
        let ask = self.ask.as_ref().and_then(|ask| checking.text(ask));
        let choices: Vec<Choice> = self
            .choices
            .iter()
            .map(|(value, label, help)| Choice {
                value: Arc::from(value.text.as_str()),
                label: checking.optional_text(label),
                help: checking.optional_text(help),
            })
            .collect();
        let words: Vec<&str> = choices.iter().map(|choice| choice.value.as_ref()).collect();
        checking.define_step(&Kind::one_of(&words), 1);
        Some(Choose { ask: ask?, choices })
    }
}
