//! How a step reads on paper: in a procedure read out, and on a worksheet to be filled in.

use super::question::Limits;
use crate::lang::{CheckedExpr, Template, Value};
use crate::quantity::{Kind, Units};

/// A text with what it is; nothing is said of what there is not.
pub(super) type Said = (&'static str, Option<String>);

/// A text as it is written: `{target}` stands where a value will.
pub(super) fn said(word: &'static str, text: &Template) -> Said {
    (word, Some(text.unfilled()))
}

/// The same, when there is one.
pub(super) fn may_say(word: &'static str, text: &Option<Template>) -> Said {
    (word, text.as_ref().map(Template::unfilled))
}

/// An expression as it is written.
pub(super) fn written(checked: &CheckedExpr) -> String {
    checked.expr().to_string()
}

impl Limits {
    /// Both limits as they are written.
    pub fn written(&self) -> String {
        format!("{} to {}", written(&self.low), written(&self.high))
    }
}

/// What is filled in by hand.
#[derive(Clone, Debug, Default, PartialEq)]
pub enum Slot {
    /// Nothing.
    #[default]
    Nothing,
    /// A box to tick.
    Tick,
    /// Numbers in a unit, so many.
    Numbers(Option<&'static str>, u32),
    /// One of several words.
    Words(Vec<String>),
    /// A line of text.
    Line,
    /// How long was waited.
    Waited,
}

/// What a line of a worksheet holds.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PaperLine {
    /// What to do, read, choose or judge.
    pub text: String,
    /// What shows that it went right; what a verdict means.
    pub notes: Vec<String>,
    /// What is filled in.
    pub slot: Slot,
}

impl PaperLine {
    /// A text and what is filled in.
    pub fn new(text: String, slot: Slot) -> PaperLine {
        PaperLine { text, slot, ..PaperLine::default() }
    }
}

/// The sheet a line is written for: made before the work, for one installation.
pub trait Paper {
    /// A text with what is known put in, and names in words where it is not.
    fn text(&self, template: &Template) -> String;
    /// A condition in words that speak of lines of the sheet, where there are any.
    fn condition(&self, expr: &CheckedExpr) -> Option<String>;
    /// An amount in such words, or as it is known.
    fn amount(&self, expr: &CheckedExpr) -> Option<String>;
    /// From here on a name has the value of an expression, where that rests on nothing the work must tell; whether
    /// it does.
    fn determines(&mut self, name: &str, expr: &CheckedExpr) -> bool;
    /// Whether a condition holds, when that is settled.
    fn holds(&self, condition: &CheckedExpr) -> Option<bool>;
    /// The household's units.
    fn units(&self) -> Units;
    /// Whether the step may turn out not to be called for.
    fn may_be_left_out(&self) -> bool;
    /// What is worked out stands in a table of the sheet, where there is one for it.
    fn in_table(&mut self, name: &str, expr: &CheckedExpr);
    /// From here on a name has a value that is settled.
    fn determine(&mut self, name: &str, value: Value);

    /// A text that may be absent.
    fn may(&self, template: &Option<Template>) -> Option<String> {
        template.as_ref().map(|template| self.text(template))
    }

    /// What a value of a kind is written in.
    fn slot(&self, kind: &Kind) -> Slot {
        match kind {
            Kind::Measure(measure) => {
                Slot::Numbers(self.units().unit_for(*measure).map(|unit| unit.symbol), 1)
            }
            Kind::YesNo => Slot::Words(vec!["yes".to_string(), "no".to_string()]),
            Kind::OneOf(words) => Slot::Words(words.iter().map(ToString::to_string).collect()),
            Kind::Text => Slot::Line,
        }
    }
}
