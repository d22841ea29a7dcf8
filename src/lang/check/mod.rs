//! Giving every part of an expression its kind, or saying where kinds do not go together.

mod calls;
mod operators;
mod within;

use std::fmt;
use std::sync::Arc;

use super::part::TypedNode;
use super::{Collapse, Expr, Function, Node, Problem, Type};
use crate::quantity::{Kind, Measure, Unit};
use crate::source::{Quoted, SourceText, Span};

/// What names and functions an expression may use.
pub trait Scope {
    /// A name to share and its type, when there is such a name here.
    fn find(&self, name: &str) -> Option<(Arc<str>, Type)>;
    /// Every name there is, for suggestions.
    fn names(&self) -> Vec<String>;
    /// Where a name was given, such as `flush.toml:12`, when that is known.
    fn origin(&self, _name: &str) -> Option<String> {
        None
    }
    /// The function of that name.
    fn function(&self, name: &str) -> Option<&'static Function>;
    /// Every function there is, for suggestions.
    fn function_names(&self) -> Vec<&'static str>;
}

/// An expression whose every part has its kind.
#[derive(Clone, Debug)]
pub struct CheckedExpr {
    pub(super) part: Arc<TypedNode>,
    ty: Type,
    expr: Arc<Expr>,
    origin: Option<Arc<Quoted>>,
}

impl CheckedExpr {
    /// Where a span of the expression stands in a file, when it came from one.
    pub fn place(&self, inner: Span) -> Option<(&SourceText, Span)> {
        self.origin.as_ref().map(|quoted| (&quoted.source, quoted.place(inner)))
    }

    /// The type of its value.
    pub fn ty(&self) -> &Type {
        &self.ty
    }

    /// The expression as written.
    pub fn expr(&self) -> &Expr {
        &self.expr
    }

    /// Calls `visit` for every name it reads (names inside `known` apart), and whether only for the newest of a
    /// series.
    pub fn names(&self, visit: &mut dyn FnMut(&str, bool)) {
        self.part.names(&mut |name, newest| visit(name, newest));
    }

    /// One value in place of a series, where the series has one that stands for it.
    pub fn as_one(mut self) -> CheckedExpr {
        if let Type::Series(kind, how @ (Collapse::Last | Collapse::Mean)) = self.ty.clone() {
            self.part = Arc::new(TypedNode::One(Box::new(Arc::unwrap_or_clone(self.part)), how));
            self.ty = Type::One(kind);
        }
        self
    }
}

/// A part with its type while checking goes on.
struct Found {
    part: TypedNode,
    ty: Type,
    /// A literal that may still take another measure of its family: number, unit.
    loose: Option<(f64, &'static Unit)>,
    span: Span,
}

impl Found {
    fn of(part: TypedNode, ty: Type, span: Span) -> Found {
        Found { part, ty, loose: None, span }
    }

    fn measure(&self) -> Option<Measure> {
        match self.ty {
            Type::One(Kind::Measure(measure)) => Some(measure),
            _ => None,
        }
    }

    /// A loose literal takes `measure` when its unit can measure that.
    fn fitted(mut self, measure: Measure) -> Found {
        if let Some((number, unit)) = self.loose.filter(|(_, unit)| unit.family == measure.family()) {
            self.part = self.part.with_number(TypedNode::Amount(measure, unit.to_si(measure, number)));
            self.ty = Type::measure(measure);
        } else if let (TypedNode::Amount(Measure::Number, x), Measure::Count) = (&self.part, measure) {
            self.part = TypedNode::Amount(Measure::Count, *x);
            self.ty = Type::measure(measure);
        }
        self
    }
}

/// Checks `expr`; with `expected`, also that its value is of that kind. `origin` is the string it stands in, if any.
///
/// # Errors
/// Every problem found.
pub fn check(
    expr: &Arc<Expr>,
    scope: &dyn Scope,
    expected: Option<&Kind>,
    origin: Option<&Arc<Quoted>>,
) -> Result<CheckedExpr, Vec<Problem>> {
    let mut checker = Checker { scope, problems: Vec::new(), origin };
    let measure = expected.and_then(Kind::measure);
    let found = match expected {
        Some(kind) => {
            let one = checker.one(expr, measure);
            one.and_then(|found| checker.must_be(found, kind, &"the value that belongs here"))
        }
        None => checker.infer(expr, measure),
    };
    match found {
        Some(found) if checker.problems.is_empty() => Ok(CheckedExpr {
            part: Arc::new(found.part),
            ty: found.ty,
            expr: expr.clone(),
            origin: origin.cloned(),
        }),
        _ => Err(checker.problems),
    }
}

struct Checker<'a> {
    scope: &'a dyn Scope,
    problems: Vec<Problem>,
    origin: Option<&'a Arc<Quoted>>,
}

impl Checker<'_> {
    /// What a part is and, when it is a name, where that was given.
    fn described(&self, found: &Found) -> String {
        let mut part = &found.part;
        while let TypedNode::One(inner, _) = part {
            part = inner;
        }
        let origin = match part {
            TypedNode::Name(name) => self.scope.origin(name),
            _ => None,
        };
        let origin = origin.map_or(String::new(), |origin| format!(", from {origin}"));
        format!("this is {}{origin}", found.ty)
    }

    fn fault<T>(&mut self, problem: Problem) -> Option<T> {
        self.problems.push(problem);
        None
    }

    /// The type of a part; `wanted` only helps literals to choose between point and difference.
    fn infer(&mut self, expr: &Expr, expected: Option<Measure>) -> Option<Found> {
        let span = expr.span;
        let found = |part, ty| Some(Found::of(part, ty, span));
        match &expr.node {
            Node::Number(number, unit) => {
                let literal = literal(*number, *unit, span);
                Some(match expected {
                    Some(measure) => literal.fitted(measure),
                    None => literal,
                })
            }
            Node::Word(word) => {
                let word: Arc<str> = Arc::from(word.as_str());
                found(TypedNode::Word(word.clone()), Type::One(Kind::OneOf([word].into())))
            }
            Node::YesNo(yes) => found(TypedNode::YesNo(*yes), Type::One(Kind::YesNo)),
            Node::Name(name) => self.name(name, span),
            Node::Known(name, place) => {
                let (name, _) = self.must_exist(name, *place)?;
                found(TypedNode::Known(name), Type::One(Kind::YesNo))
            }
            Node::Minus(inner) => self.minus(inner, expected, span),
            Node::Not(inner) => {
                let part = self.yes_no(inner)?;
                found(TypedNode::Not(Box::new(part)), Type::One(Kind::YesNo))
            }
            Node::Binary(operator, sign, a, b) => self.binary(*operator, *sign, [a, b], expected, span),
            Node::If(condition, yes, no) => self.conditional(condition, yes, no, expected, span),
            Node::Call(name, place, arguments) => self.call(name, *place, arguments, span),
        }
    }

    /// A part that must be one value, not a series.
    fn one(&mut self, expr: &Expr, expected: Option<Measure>) -> Option<Found> {
        let mut found = self.infer(expr, expected)?;
        let Type::Series(kind, how) = &found.ty else { return Some(found) };
        if *how == Collapse::No {
            let message = "this is one answer for each tank, and one value is wanted here";
            let remedy = "say which is meant: last(…), min(…), max(…), mean(…) or sum(…)";
            return self.fault(Problem::new("series", expr.span, message, remedy));
        }
        found.part = TypedNode::One(Box::new(found.part), *how);
        found.ty = Type::One(kind.clone());
        Some(found)
    }

    fn yes_no(&mut self, expr: &Expr) -> Option<TypedNode> {
        let found = self.one(expr, None)?;
        Some(self.must_be(found, &Kind::YesNo, &"a yes or no")?.part)
    }

    fn must_exist(&mut self, name: &str, span: Span) -> Option<(Arc<str>, Type)> {
        if let Some(found) = self.scope.find(name) {
            return Some(found);
        }
        let names = self.scope.names();
        let remedy = if self.scope.function(name).is_some() {
            format!("`{name}` is a function: call it as {name}(…)")
        } else {
            crate::words::did_you_mean(name, &names)
        };
        let message = format!("nothing named `{name}` stands before this place");
        self.fault(Problem::new("unknown-name", span, message, remedy))
    }

    fn name(&mut self, name: &str, span: Span) -> Option<Found> {
        let (name, ty) = self.must_exist(name, span)?;
        Some(Found::of(TypedNode::Name(name), ty, span))
    }

    /// Fits `found` to a kind, or says that it is another.
    fn must_be(&mut self, found: Found, kind: &Kind, place: &dyn fmt::Display) -> Option<Found> {
        let found = match kind {
            Kind::Measure(measure) => found.fitted(*measure),
            _ => found,
        };
        if fits(&found.ty, kind) {
            return Some(found);
        }
        let remedy = match (found.measure(), kind) {
            (Some(Measure::Number), Kind::Measure(m)) if *m != Measure::Number => {
                "write the unit behind the number".to_string()
            }
            (Some(m), Kind::Measure(needed)) if needed.change() == Some(m) => {
                format!("add it to {} to get one", needed.phrase())
            }
            (Some(m), Kind::Measure(needed)) if m.change() == Some(*needed) => {
                format!("subtract another {} to get one", m.name())
            }
            _ => format!("give {kind}"),
        };
        let message = format!("{} is wanted as {place}, and this is {}", kind, found.ty);
        let label = self.described(&found);
        self.fault(Problem::new("wrong-kind", found.span, message, remedy).label(label))
    }
}

/// Whether a value of type `ty` may stand where `kind` is wanted.
fn fits(ty: &Type, kind: &Kind) -> bool {
    let Type::One(found) = ty else { return false };
    match (found, kind) {
        (Kind::Measure(Measure::Count), Kind::Measure(Measure::Number)) => true,
        (Kind::OneOf(_), Kind::Text) => true,
        (Kind::OneOf(some), Kind::OneOf(all)) => some.iter().all(|word| all.contains(word)),
        (a, b) => a == b,
    }
}

fn literal(number: f64, unit: Option<&'static Unit>, span: Span) -> Found {
    let measure = unit.map_or(Measure::Number, |unit| unit.family.usual());
    let si = unit.map_or(number, |unit| unit.to_si(measure, number));
    Found {
        part: TypedNode::Amount(measure, si),
        ty: Type::measure(measure),
        loose: unit.map(|unit| (number, unit)),
        span,
    }
}
