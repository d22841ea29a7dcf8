//! Operators: which kinds go together, and what to say when they do not.

use super::{Checker, Found, fits};
use crate::lang::part::TypedNode;
use crate::lang::{Binary, Comparison, Expr, Problem, Type};
use crate::quantity::{Kind, Measure, Operator, result_of};
use crate::source::Span;

/// Whether what was found is a measured value that may be off; counts and plain numbers are not.
fn may_be_off(found: &Found) -> bool {
    let measured = found.measure().is_some_and(|it| !matches!(it, Measure::Count | Measure::Number));
    measured && found.part.may_be_uncertain()
}

impl Checker<'_> {
    pub(super) fn minus(&mut self, inner: &Expr, expected: Option<Measure>, span: Span) -> Option<Found> {
        let found = self.one(inner, expected)?;
        if let Some((number, unit)) = found.loose {
            let negative = super::literal(-number, Some(unit), span);
            let mut negative = Found { part: found.part.with_number(negative.part), ..negative };
            if let Some(measure) = expected {
                negative = negative.fitted(measure);
            }
            return Some(negative);
        }
        match found.measure() {
            Some(measure) if measure.change().is_none() => {
                Some(Found::of(TypedNode::Minus(Box::new(found.part)), found.ty, span))
            }
            _ => {
                let message = format!("{} cannot be turned negative", found.ty);
                let remedy = "subtract two of them, or change the sign of a difference";
                self.fault(Problem::new("wrong-kind", span, message, remedy))
            }
        }
    }

    pub(super) fn binary(
        &mut self,
        operator: Binary,
        sign: Span,
        [a, b]: [&Expr; 2],
        expected: Option<Measure>,
        span: Span,
    ) -> Option<Found> {
        let yes_no = |part| Some(Found::of(part, Type::One(Kind::YesNo), span));
        match operator {
            Binary::And | Binary::Or => {
                let (a, b) = (self.yes_no(a), self.yes_no(b));
                let (a, b) = (Box::new(a?), Box::new(b?));
                yes_no(if operator == Binary::And { TypedNode::And(a, b) } else { TypedNode::Or(a, b) })
            }
            Binary::Compare(comparison) => {
                let (a, b) = (self.one(a, None), self.one(b, None));
                let part = self.compare(comparison, sign, a?, b?)?;
                yes_no(part)
            }
            Binary::Otherwise => {
                let (a, b) = (self.one(a, expected), self.one(b, expected));
                self.otherwise(a?, b?, span)
            }
            Binary::Within => self.within(sign, a, b, expected, span),
            Binary::Arithmetic(operator) => {
                let help = expected.filter(|_| matches!(operator, Operator::Add | Operator::Subtract));
                let (a, b) = (self.one(a, help), self.one(b, None));
                let (part, measure) = self.arithmetic(operator, sign, a?, b?, expected)?;
                Some(Found::of(part, Type::measure(measure), span))
            }
        }
    }

    fn arithmetic(
        &mut self,
        operator: Operator,
        sign: Span,
        a: Found,
        b: Found,
        expected: Option<Measure>,
    ) -> Option<(TypedNode, Measure)> {
        let (a, b) = beside(operator, a, b, expected);
        let result = match (a.measure(), b.measure()) {
            (Some(x), Some(y)) => result_of(x, operator, y),
            _ => None,
        };
        let Some(measure) = result else {
            let problem = self.sides(do_not_go_together(operator, sign, &a, &b), &a, &b);
            return self.fault(problem);
        };
        Some((TypedNode::Arithmetic(operator, measure, Box::new(a.part), Box::new(b.part)), measure))
    }

    fn compare(&mut self, comparison: Comparison, sign: Span, a: Found, b: Found) -> Option<TypedNode> {
        let (a, b) = match (a.measure(), b.measure()) {
            (Some(x), Some(_)) if b.loose.is_some() => (a, b.fitted(x)),
            (Some(_), Some(y)) if a.loose.is_some() => (a.fitted(y), b),
            _ => (a, b),
        };
        self.known_words(&a, &b)?;
        let both_fit = fits(&a.ty, b.ty.kind()) || fits(&b.ty, a.ty.kind());
        let ordered = a.measure().is_some() || matches!(comparison, Comparison::Equal | Comparison::Unequal);
        if both_fit && !comparison.orders() && (may_be_off(&a) || may_be_off(&b)) {
            let message = format!(
                "`{}` of measured values holds by chance alone: each of them may be off",
                comparison.sign()
            );
            let remedy = "say how far apart they may lie: `abs(a - b) <= …`";
            let problem = self.sides(Problem::new("never-equal", sign, message, remedy), &a, &b);
            return self.fault(problem);
        }
        if both_fit && ordered {
            return Some(TypedNode::Compare(comparison, Box::new(a.part), Box::new(b.part)));
        }
        let sign_text = comparison.sign();
        let (message, remedy) = if both_fit {
            (
                format!("{} has no order: `{sign_text}` cannot compare it", a.ty),
                "compare with == or !=".to_string(),
            )
        } else {
            (format!("`{sign_text}` cannot compare {} with {}", a.ty, b.ty), remedy_for_sides(&a, &b))
        };
        let problem = self.sides(Problem::new("kinds-differ", sign, message, remedy), &a, &b);
        self.fault(problem)
    }

    /// Marks both sides with what they are.
    fn sides(&self, problem: Problem, a: &Found, b: &Found) -> Problem {
        problem.note(a.span, self.described(a)).note(b.span, self.described(b))
    }

    /// A word compared with a one-of must be one of its words.
    fn known_words(&mut self, a: &Found, b: &Found) -> Option<()> {
        let (Type::One(Kind::OneOf(some)), Type::One(Kind::OneOf(others))) = (&a.ty, &b.ty) else {
            return Some(());
        };
        if some.iter().any(|word| others.contains(word)) {
            return Some(());
        }
        let (literal, known) = if matches!(a.part, TypedNode::Word(_)) { (a, others) } else { (b, some) };
        let word = literal.ty.kind().to_string().trim_start_matches("one of ").replace('\'', "");
        let message = format!("'{word}' is never the answer here");
        let remedy = crate::words::did_you_mean(&word, known.iter());
        let problem = Problem::new("unknown-word", literal.span, message, remedy);
        self.fault(problem.label("not one of the words"))
    }

    pub(super) fn conditional(
        &mut self,
        condition: &Expr,
        yes: &Expr,
        no: &Expr,
        expected: Option<Measure>,
        span: Span,
    ) -> Option<Found> {
        let condition = self.yes_no(condition);
        let (yes, no) = (self.one(yes, expected), self.one(no, expected));
        let (condition, yes, no) = (condition?, yes?, no?);
        let (yes, no, ty) = self.joined(yes, no, ["one branch gives", "the other"], span)?;
        let part = TypedNode::If(Box::new(condition), Box::new(yes.part), Box::new(no.part));
        Some(Found::of(part, ty, span))
    }

    /// `a otherwise b`: both of one kind.
    fn otherwise(&mut self, a: Found, b: Found, span: Span) -> Option<Found> {
        let (a, b, ty) = self.joined(a, b, ["what may not be known is", "what stands in for it is"], span)?;
        Some(Found::of(TypedNode::Otherwise(Box::new(a.part), Box::new(b.part)), ty, span))
    }

    /// Two values of which one will stand: made one kind, or told apart with the words given.
    fn joined(
        &mut self,
        yes: Found,
        no: Found,
        [first, second]: [&str; 2],
        span: Span,
    ) -> Option<(Found, Found, Type)> {
        let (yes, no) = match (yes.measure(), no.measure()) {
            (Some(x), Some(_)) if no.loose.is_some() => (yes, no.fitted(x)),
            (Some(_), Some(y)) if yes.loose.is_some() => (yes.fitted(y), no),
            _ => (yes, no),
        };
        let ty = match (&yes.ty, &no.ty) {
            (Type::One(Kind::OneOf(a)), Type::One(Kind::OneOf(b))) => {
                let mut words: Vec<_> = a.to_vec();
                words.extend(b.iter().filter(|word| !a.contains(word)).cloned());
                Type::One(Kind::OneOf(words.into()))
            }
            (a, b) if fits(a, b.kind()) => b.clone(),
            (a, b) if fits(b, a.kind()) => a.clone(),
            (a, b) => {
                let message = format!("{first} {a}, {second} {b}");
                let problem = Problem::new("kinds-differ", span, message, remedy_for_sides(&yes, &no));
                let problem = self.sides(problem, &yes, &no);
                return self.fault(problem);
            }
        };
        Some((yes, no, ty))
    }
}

/// Lets literals beside a known value take the measure that makes sense there.
fn beside(operator: Operator, a: Found, b: Found, expected: Option<Measure>) -> (Found, Found) {
    if !matches!(operator, Operator::Add | Operator::Subtract) {
        return (a, b);
    }
    let point_expected = expected.is_some_and(|measure| measure.change().is_some());
    match (a.measure(), b.measure()) {
        (Some(x), Some(_)) if b.loose.is_some() && (a.loose.is_none() || point_expected) => {
            (a, b.fitted(x.difference()))
        }
        (Some(_), Some(y)) if a.loose.is_some() && b.loose.is_none() && operator == Operator::Add => {
            (a.fitted(y.difference()), b)
        }
        (Some(_), Some(y)) if a.loose.is_some() && b.loose.is_none() && y.change().is_some() => {
            (a.fitted(y), b)
        }
        _ => (a, b),
    }
}

fn remedy_for_sides(a: &Found, b: &Found) -> String {
    match (a.measure(), b.measure()) {
        (Some(x), Some(Measure::Number)) | (Some(Measure::Number), Some(x)) if x != Measure::Number => {
            format!("write the unit behind the number, to make it {}", x.phrase())
        }
        (Some(x), Some(y)) if x.family() == y.family() => {
            format!("make both {} or both {}", x.phrase(), y.phrase())
        }
        _ => "use two of the same kind".to_string(),
    }
}

fn do_not_go_together(operator: Operator, sign: Span, a: &Found, b: &Found) -> Problem {
    let word = match operator {
        Operator::Add => "added",
        Operator::Subtract => "subtracted",
        Operator::Multiply => "multiplied",
        Operator::Divide => "divided",
    };
    let same_point = a.measure().and_then(Measure::change).filter(|_| a.measure() == b.measure());
    let (message, remedy) = match same_point {
        Some(change) => (
            format!("two of a kind, each {}, cannot be {word}", a.ty),
            format!("did you mean {}? A name or literal for the difference fits here", change.phrase()),
        ),
        None => (format!("{} and {} cannot be {word}", a.ty, b.ty), remedy_for_sides(a, b)),
    };
    Problem::new("kinds-differ", sign, message, remedy)
}
