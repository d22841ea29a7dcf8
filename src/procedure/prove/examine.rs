//! Looking through an expression for names that may not be known where they stand.
//!
//! What `known(x)` asks for holds in the right operand of `known(x) and …`, of
//! `not known(x) or …`, and in the branches of `if known(x) then … else …`. An expression that
//! was worked out also proves that every name it certainly looked at has a value.

use smallvec::{SmallVec, smallvec};

use super::context::Context;
use super::names::NamesMet;
use crate::lang::{Binary, Expr, Node};
use crate::procedure::functions::function;
use crate::procedure::no_value::NoValue;
use crate::quantity::Operator;
use crate::source::Span;

/// A name that may not have been answered where it stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Missing {
    pub name: String,
    pub span: Span,
}

/// A part that may have no value although all is answered.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct MaybeUndefined {
    pub span: Span,
    /// The name, when it is one.
    pub name: Option<String>,
    /// Why, as a clause.
    pub limit: NoValue,
}

/// Names in an expression: mostly one or two.
pub(super) type InIt<'e> = SmallVec<[&'e str; 2]>;

/// The names that certainly have a value when an expression holds, and when it does not.
#[derive(Clone, Debug, Default)]
pub(super) struct Proves<'e> {
    pub if_true: InIt<'e>,
    pub if_false: InIt<'e>,
}

impl<'e> Proves<'e> {
    fn either_way(names: InIt<'e>) -> Proves<'e> {
        Proves { if_false: names.clone(), if_true: names }
    }
}

/// What an expression was found to hold.
#[derive(Debug, Default)]
pub(super) struct Examined<'e> {
    pub missing: Vec<Missing>,
    pub maybe_undefined: Vec<MaybeUndefined>,
    pub proves: Proves<'e>,
}

impl<'e> Examined<'e> {
    /// Whether all that it looks at has a value.
    pub(super) fn is_certain(&self) -> bool {
        self.missing.is_empty() && self.maybe_undefined.is_empty()
    }

    /// Where it may lack a value.
    pub(super) fn lacking(&self) -> impl Iterator<Item = Span> {
        let undefined = self.maybe_undefined.iter().map(|undefined| undefined.span);
        self.missing.iter().map(|missing| missing.span).chain(undefined)
    }

    /// Keeps of what it may lack only what is lacking at these places.
    pub(super) fn keep(&mut self, lacking: &[Span]) {
        self.missing.retain(|missing| lacking.contains(&missing.span));
        self.maybe_undefined.retain(|undefined| lacking.contains(&undefined.span));
    }

    /// What may not have been answered, and was when there is a value, whichever.
    pub(super) fn certainly_needed(&self) -> Vec<Missing> {
        let either_way = common(&self.proves.if_true, &self.proves.if_false);
        self.missing.iter().filter(|missing| either_way.contains(&missing.name.as_str())).cloned().collect()
    }

    /// The names that may have no value, and have one when it holds.
    pub(super) fn unanswered(&self) -> impl Iterator<Item = &'e str> {
        let lacks = |name: &str| {
            self.missing.iter().any(|missing| missing.name == name)
                || self.maybe_undefined.iter().any(|undefined| {
                    // Of what the part itself is given its user knows whether it has a value.
                    let is_given = undefined.limit.names().iter().any(|given| given.as_ref() == name);
                    undefined.name.as_deref() == Some(name) && !is_given
                })
        };
        self.proves.if_true.iter().copied().filter(move |name| lacks(name))
    }
}

/// Examines an expression. `holds` tells whether a name is known from what is around it.
pub(super) fn examine<'e>(
    expr: &'e Expr,
    names: &NamesMet,
    context: &Context,
    known: &dyn Fn(&str) -> bool,
) -> Examined<'e> {
    let mut examiner = Examiner { names, context, known, local: Vec::new(), found: Examined::default() };
    let proves = examiner.walk(expr);
    Examined { proves, ..examiner.found }
}

struct Examiner<'a, 'e> {
    names: &'a NamesMet,
    context: &'a Context,
    known: &'a dyn Fn(&str) -> bool,
    /// Names known in this part of the expression.
    local: Vec<&'e str>,
    found: Examined<'e>,
}

impl<'e> Examiner<'_, 'e> {
    fn walk(&mut self, expr: &'e Expr) -> Proves<'e> {
        match &expr.node {
            Node::Number(..) | Node::Word(_) | Node::YesNo(_) => Proves::default(),
            Node::Known(name, _) => Proves { if_true: smallvec![name.as_str()], if_false: InIt::new() },
            Node::Name(name) => {
                self.name(name, expr.span);
                Proves::either_way(smallvec![name.as_str()])
            }
            Node::Minus(inner) => self.walk(inner),
            Node::Not(inner) => {
                let inner = self.walk(inner);
                Proves { if_true: inner.if_false, if_false: inner.if_true }
            }
            Node::Binary(operator, sign, a, b) => self.binary(*operator, *sign, a, b),
            Node::If(condition, yes, no) => self.conditional(condition, yes, no),
            Node::Call(name, _, arguments) => self.call(name, arguments, expr.span),
        }
    }

    /// Walks a part where more names are known.
    fn walk_knowing(&mut self, names: &[&'e str], expr: &'e Expr) -> Proves<'e> {
        let before = self.local.len();
        self.local.extend_from_slice(names);
        let proves = self.walk(expr);
        self.local.truncate(before);
        proves
    }

    fn binary(&mut self, operator: Binary, sign: Span, a: &'e Expr, b: &'e Expr) -> Proves<'e> {
        if operator == Binary::Otherwise {
            return self.otherwise(a, b);
        }
        let left = self.walk(a);
        match operator {
            Binary::And => {
                let right = self.walk_knowing(&left.if_true, b);
                Proves {
                    if_true: joined(left.if_true, &right.if_true),
                    if_false: common(&left.if_false, &right.if_false),
                }
            }
            Binary::Or => {
                let right = self.walk_knowing(&left.if_false, b);
                Proves {
                    if_true: common(&left.if_true, &right.if_true),
                    if_false: joined(left.if_false, &right.if_false),
                }
            }
            Binary::Compare(_) | Binary::Arithmetic(_) | Binary::Within | Binary::Otherwise => {
                let right = self.walk(b);
                if operator == Binary::Arithmetic(Operator::Divide) && !is_divisor(b) {
                    self.note_undefined(sign, "A division by zero has no result");
                }
                Proves::either_way(joined(
                    common(&left.if_true, &left.if_false),
                    &common(&right.if_true, &right.if_false),
                ))
            }
        }
    }

    /// What may not be known on the left does no harm; nothing is proven of it either.
    fn otherwise(&mut self, a: &'e Expr, b: &'e Expr) -> Proves<'e> {
        let (missing, maybe_undefined) = (self.found.missing.len(), self.found.maybe_undefined.len());
        self.walk(a);
        self.found.missing.truncate(missing);
        self.found.maybe_undefined.truncate(maybe_undefined);
        self.walk(b);
        Proves::default()
    }

    fn conditional(&mut self, condition: &'e Expr, yes: &'e Expr, no: &'e Expr) -> Proves<'e> {
        let asked = self.walk(condition);
        let yes = self.walk_knowing(&asked.if_true, yes);
        let no = self.walk_knowing(&asked.if_false, no);
        let either = |yes: &InIt<'e>, no: &InIt<'e>| {
            common(&joined(asked.if_true.clone(), yes), &joined(asked.if_false.clone(), no))
        };
        Proves { if_true: either(&yes.if_true, &no.if_true), if_false: either(&yes.if_false, &no.if_false) }
    }

    fn call(&mut self, name: &str, arguments: &'e [Expr], span: Span) -> Proves<'e> {
        let mut certain = InIt::new();
        for argument in arguments {
            let proves = self.walk(argument);
            certain.extend(common(&proves.if_true, &proves.if_false));
        }
        if function(name).is_some_and(|function| function.partial) {
            self.note_undefined(span, &format!("`{name}` gives no result outside its range"));
        }
        Proves::either_way(certain)
    }

    fn name(&mut self, name: &str, span: Span) {
        if self.local.contains(&name) || (self.known)(name) {
            return;
        }
        let Some(named) = self.names.get(name) else { return };
        let answered =
            matches!(&named.answered, super::names::Answered::When(guard) if self.context.has(guard));
        if !answered {
            self.found.missing.push(Missing { name: name.to_string(), span });
        } else if let Some(limit) = &named.limit {
            let limit = limit.clone();
            self.found.maybe_undefined.push(MaybeUndefined { span, name: Some(name.to_string()), limit });
        }
    }

    fn note_undefined(&mut self, span: Span, limit: &str) {
        self.found.maybe_undefined.push(MaybeUndefined {
            span,
            name: None,
            limit: NoValue::Because(limit.into()),
        });
    }
}

/// Whether a division by this can always be done.
fn is_divisor(expr: &Expr) -> bool {
    matches!(expr.node, Node::Number(number, _) if number != 0.0)
}

fn joined<'e>(mut a: InIt<'e>, b: &[&'e str]) -> InIt<'e> {
    a.extend_from_slice(b);
    a
}

fn common<'e>(a: &[&'e str], b: &[&'e str]) -> InIt<'e> {
    a.iter().filter(|name| b.contains(name)).copied().collect()
}
