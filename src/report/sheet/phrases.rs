//! What the work will tell, in words: conditions and amounts that rest on lines of the sheet.

use std::collections::HashMap;

use super::known::Known;
use crate::lang::{Binary, Comparison, Expr, Node, Value, Values};
use crate::quantity::{Measure, Operator, Uncertain, Unit, Units, show_roundly};

/// Where a line is filled in, and what a name stands for that has no line of its own.
#[derive(Debug, Default)]
pub(super) struct Lines {
    /// By the name of a step or fact: the number of its line.
    pub numbers: HashMap<String, String>,
    /// By the name of a value worked out, or a check.
    pub formulas: HashMap<String, PaperFormula>,
    /// What stands in a table, by the name of the value.
    pub in_tables: HashMap<String, String>,
    /// What stands for a fact that is otherwise from tank to tank.
    pub of_each: HashMap<String, String>,
}

/// A value worked out, or a check: what it is called, and what it is made from.
#[derive(Debug)]
pub(super) struct PaperFormula {
    pub label: Option<String>,
    pub expr: Expr,
}

/// What a person can follow with a pencil: lines, values that are known, and units.
pub(super) struct Phrases<'s> {
    pub lines: &'s Lines,
    pub known: &'s Known,
    pub units: Units,
}

/// What a condition comes to on paper.
#[derive(Debug, PartialEq)]
pub(super) enum Phrase {
    /// It goes without saying.
    Nothing,
    /// It is so, or is not, whatever the work tells.
    Decided(bool),
    /// In words.
    Words(String),
    /// There are no words for it that a person could follow.
    TooMuch,
}

impl Phrases<'_> {
    /// A condition in words.
    pub(super) fn condition(&self, expr: &Expr) -> Phrase {
        match &expr.node {
            Node::Known(..) => Phrase::Nothing,
            Node::Binary(joint @ (Binary::And | Binary::Or), _, a, b) => {
                both(self.condition(a), self.condition(b), *joint == Binary::And)
            }
            Node::Name(name) => self.truth(name, true),
            Node::Not(inner) => {
                if let Node::Name(name) = &inner.node {
                    self.truth(name, false)
                } else if let Node::Known(name, _) = &inner.node
                    && let Some(line) = self.line(name)
                {
                    Phrase::Words(format!("{line} is not filled in"))
                } else {
                    Phrase::TooMuch
                }
            }
            Node::Binary(Binary::Compare(comparison), _, a, b) => self.comparison(*comparison, a, b),
            // A line that is not filled in speaks against it by itself.
            Node::Binary(Binary::Otherwise, _, a, b) if matches!(b.node, Node::YesNo(false)) => {
                self.condition(a)
            }
            Node::Number(..)
            | Node::Word(_)
            | Node::YesNo(_)
            | Node::Minus(_)
            | Node::Binary(..)
            | Node::If(..)
            | Node::Call(..) => Phrase::TooMuch,
        }
    }

    /// That a yes or no is so, or is not.
    fn truth(&self, name: &str, so: bool) -> Phrase {
        if let Some(line) = self.line(name) {
            return Phrase::Words(format!("{} ({line})", if so { "yes" } else { "no" }));
        }
        match self.lines.formulas.get(name) {
            Some(formula) if so => self.condition(&formula.expr),
            Some(formula) => self.not(&formula.expr),
            None => Phrase::TooMuch,
        }
    }

    /// That a condition does not hold.
    fn not(&self, expr: &Expr) -> Phrase {
        let Node::Binary(Binary::Compare(comparison), _, a, b) = &expr.node else { return Phrase::TooMuch };
        self.comparison(opposite(*comparison), a, b)
    }

    fn comparison(&self, comparison: Comparison, a: &Expr, b: &Expr) -> Phrase {
        if let Some(phrase) = self.is_word(comparison, a, b) {
            return phrase;
        }
        if let Some(words) = self.apart(comparison, a, b) {
            return Phrase::Words(words);
        }
        let word = match comparison {
            Comparison::Less => "under",
            Comparison::AtMost => "at most",
            Comparison::More => "over",
            Comparison::AtLeast => "at least",
            Comparison::Equal => "",
            Comparison::Unequal => "not",
        };
        match (self.amount(a), self.amount(b)) {
            (Some(a), Some(b)) => Phrase::Words(format!("{a} is {word} {b}").replace("  ", " ")),
            _ => Phrase::TooMuch,
        }
    }

    /// That what is known is a word, or another; where the work tells it, that its line was answered so.
    fn is_word(&self, comparison: Comparison, a: &Expr, b: &Expr) -> Option<Phrase> {
        let (Node::Name(name), Node::Word(word)) = (&a.node, &b.node) else { return None };
        let not = match comparison {
            Comparison::Equal => "",
            Comparison::Unequal => "not ",
            Comparison::Less | Comparison::AtMost | Comparison::More | Comparison::AtLeast => return None,
        };
        if let Ok(value) = self.known.value(name) {
            let same = matches!(value, Value::Text(own) if *own == **word);
            return Some(Phrase::Decided(same == not.is_empty()));
        }
        Some(Phrase::Words(format!("{not}{word} ({})", self.line(name)?)))
    }

    /// How far two things, or several readings, are apart.
    fn apart(&self, comparison: Comparison, a: &Expr, b: &Expr) -> Option<String> {
        let Node::Call(function, _, arguments) = &a.node else { return None };
        let limit = self.amount(b)?;
        let far = match comparison {
            Comparison::More | Comparison::AtLeast => true,
            Comparison::Less | Comparison::AtMost => false,
            Comparison::Equal | Comparison::Unequal => return None,
        };
        match (function.as_str(), arguments.as_slice()) {
            ("abs", [difference]) => {
                let Node::Binary(Binary::Arithmetic(Operator::Subtract), _, x, y) = &difference.node else {
                    return None;
                };
                let (x, y) = (self.amount(x)?, self.amount(y)?);
                Some(if far {
                    format!("{x} is more than {limit} off {y}")
                } else {
                    format!("{x} is within {limit} of {y}")
                })
            }
            ("spread", [readings]) => {
                let readings = self.amount(readings)?;
                Some(if far {
                    format!("the readings of {readings} are more than {limit} apart")
                } else {
                    format!("the readings of {readings} are within {limit}")
                })
            }
            _ => None,
        }
    }

    /// An amount, a word or a name in words; `None` where it takes a formula.
    pub(super) fn amount(&self, expr: &Expr) -> Option<String> {
        match &expr.node {
            Node::Number(number, unit) => Some(shown(*number, *unit, self.units)),
            Node::Word(word) => Some(format!("\"{word}\"")),
            Node::YesNo(yes) => Some(if *yes { "yes" } else { "no" }.to_string()),
            Node::Name(name) => self.value(name),
            Node::Call(function, _, arguments) => {
                let [Expr { node: Node::Name(name), .. }] = arguments.as_slice() else { return None };
                let which = match function.as_str() {
                    "min" => "the lowest of ",
                    "max" => "the highest of ",
                    "mean" => "the mean of ",
                    "last" | "first" => "",
                    _ => return None,
                };
                Some(format!("{which}{}", self.value(name)?))
            }
            Node::Binary(Binary::Arithmetic(operator @ (Operator::Add | Operator::Subtract)), _, a, b) => {
                let Node::Number(..) = b.node else { return None };
                let word = if *operator == Operator::Add { "above" } else { "below" };
                Some(format!("{} {word} {}", self.amount(b)?, self.amount(a)?))
            }
            Node::Binary(Binary::Otherwise, _, a, _) => self.amount(a),
            Node::Known(..) | Node::Minus(_) | Node::Not(_) | Node::Binary(..) | Node::If(..) => None,
        }
    }

    fn value(&self, name: &str) -> Option<String> {
        if let Ok(value) = self.known.value(name) {
            return Some(value.shown(self.units));
        }
        if let Some(words) = self.line(name).or_else(|| self.lines.of_each.get(name).cloned()) {
            return Some(words);
        }
        let PaperFormula { label, expr } = self.lines.formulas.get(name)?;
        match self.lines.in_tables.get(name) {
            Some(table) => Some(format!("{} ({table})", label.as_deref().unwrap_or("the target"))),
            None => self.amount(expr).or_else(|| label.clone()),
        }
    }

    /// The line on which something is filled in.
    fn line(&self, name: &str) -> Option<String> {
        self.lines.numbers.get(name).map(|number| format!("line {number}"))
    }
}

fn opposite(comparison: Comparison) -> Comparison {
    match comparison {
        Comparison::Less => Comparison::AtLeast,
        Comparison::AtMost => Comparison::More,
        Comparison::More => Comparison::AtMost,
        Comparison::AtLeast => Comparison::Less,
        Comparison::Equal => Comparison::Unequal,
        Comparison::Unequal => Comparison::Equal,
    }
}

/// Two conditions, of which both must hold, or one.
fn both(a: Phrase, b: Phrase, and: bool) -> Phrase {
    match (a, b) {
        (Phrase::Decided(so), other) | (other, Phrase::Decided(so)) if so == and => other,
        (Phrase::Decided(so), _) | (_, Phrase::Decided(so)) => Phrase::Decided(so),
        (Phrase::TooMuch, _) | (_, Phrase::TooMuch) => Phrase::TooMuch,
        (Phrase::Nothing, other) | (other, Phrase::Nothing) => other,
        (Phrase::Words(a), Phrase::Words(b)) => {
            Phrase::Words(format!("{a}{}{b}", if and { " and " } else { ", or " }))
        }
    }
}

/// A number of a file in the household's unit; temperatures may be points or differences, and stay.
fn shown(number: f64, unit: Option<&'static Unit>, units: Units) -> String {
    let Some(unit) = unit else { return number.to_string() };
    let measures = [Measure::PressureChange, Measure::Volume, Measure::Length];
    match measures.into_iter().find(|measure| measure.family() == unit.family) {
        Some(measure) => show_roundly(measure, &Uncertain::exact(unit.to_si(measure, number)), units),
        None => format!("{number} {}", unit.symbol),
    }
}
