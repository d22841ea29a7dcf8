//! The tree of an expression, as written, before its kinds are known.

use crate::quantity::{Operator, Unit};
use crate::source::Span;

/// A comparison.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Comparison {
    /// `<`
    Less,
    /// `<=`
    AtMost,
    /// `>`
    More,
    /// `>=`
    AtLeast,
    /// `==`
    Equal,
    /// `!=`
    Unequal,
}

impl Comparison {
    /// Whether it holds, given the right side less the left.
    pub fn holds(self, margin: f64) -> bool {
        match self {
            Comparison::Less => margin > 0.0,
            Comparison::AtMost => margin >= 0.0,
            Comparison::More => margin < 0.0,
            Comparison::AtLeast => margin <= 0.0,
            Comparison::Equal => margin == 0.0,
            Comparison::Unequal => margin != 0.0,
        }
    }

    /// The sign as written.
    pub fn sign(self) -> &'static str {
        match self {
            Comparison::Less => "<",
            Comparison::AtMost => "<=",
            Comparison::More => ">",
            Comparison::AtLeast => ">=",
            Comparison::Equal => "==",
            Comparison::Unequal => "!=",
        }
    }

    /// Whether it asks which of two is the larger.
    pub(super) fn orders(self) -> bool {
        !matches!(self, Comparison::Equal | Comparison::Unequal)
    }
}

/// What joins two operands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Binary {
    /// `or`
    Or,
    /// `and`
    And,
    /// A comparison.
    Compare(Comparison),
    /// `otherwise`: the right side stands in where the left is not known.
    Otherwise,
    /// `+-`: the right side is how far the left may be off, either way.
    Within,
    /// `+ - * /`
    Arithmetic(Operator),
}

impl Binary {
    /// The sign or word as written.
    pub fn sign(self) -> &'static str {
        match self {
            Binary::Or => "or",
            Binary::And => "and",
            Binary::Compare(comparison) => comparison.sign(),
            Binary::Otherwise => "otherwise",
            Binary::Within => "+-",
            Binary::Arithmetic(operator) => operator.sign(),
        }
    }

    /// How tightly it binds; higher binds tighter.
    pub(super) fn strength(self) -> u8 {
        match self {
            Binary::Or => 1,
            Binary::And => 2,
            Binary::Compare(_) => 4,
            Binary::Otherwise => 5,
            Binary::Arithmetic(Operator::Add | Operator::Subtract) => 6,
            Binary::Arithmetic(Operator::Multiply | Operator::Divide) => 7,
            Binary::Within => 8,
        }
    }
}

/// How tightly `not` binds its operand.
pub(super) const NOT_STRENGTH: u8 = 3;
/// How tightly a minus sign binds its operand.
pub(super) const MINUS_STRENGTH: u8 = 9;

/// A part of an expression, and where it stands.
#[derive(Clone, Debug)]
pub struct Expr {
    /// What it is.
    pub node: Node,
    /// Where it stands in the expression's text.
    pub span: Span,
}

/// The sorts of parts.
#[derive(Clone, Debug)]
pub enum Node {
    /// `38 psi`, `2.5`
    Number(f64, Option<&'static Unit>),
    /// `'clear'`
    Word(String),
    /// `yes`, `no`
    YesNo(bool),
    /// A fact's or step's name.
    Name(String),
    /// `known(name)`, with the name's place.
    Known(String, Span),
    /// `-x`
    Minus(Box<Expr>),
    /// `not x`
    Not(Box<Expr>),
    /// `x op y`, with the operator's place.
    Binary(Binary, Span, Box<Expr>, Box<Expr>),
    /// `if a then b else c`
    If(Box<Expr>, Box<Expr>, Box<Expr>),
    /// `f(x, y)`, with the place of the function's name.
    Call(String, Span, Vec<Expr>),
}

impl PartialEq for Expr {
    /// Equal as written, wherever it stands.
    fn eq(&self, other: &Expr) -> bool {
        match (&self.node, &other.node) {
            (Node::Number(a, u), Node::Number(b, v)) => a == b && u == v,
            (Node::Word(a), Node::Word(b)) => a == b,
            (Node::Name(a), Node::Name(b)) => a == b,
            (Node::YesNo(a), Node::YesNo(b)) => a == b,
            (Node::Known(a, _), Node::Known(b, _)) => a == b,
            (Node::Minus(a), Node::Minus(b)) | (Node::Not(a), Node::Not(b)) => a == b,
            (Node::Binary(o, _, a, b), Node::Binary(p, _, c, d)) => o == p && a == c && b == d,
            (Node::If(a, b, c), Node::If(d, e, f)) => a == d && b == e && c == f,
            (Node::Call(a, _, x), Node::Call(b, _, y)) => a == b && x == y,
            _ => false,
        }
    }
}

impl Expr {
    /// Calls `visit` for every name the expression reads (names inside `known` apart).
    pub fn names(&self, visit: &mut dyn FnMut(&str, Span)) {
        if let Node::Name(name) = &self.node {
            visit(name, self.span);
        }
        self.each_operand(&mut |x| x.names(visit));
    }

    /// Does something with each operand, in their order.
    pub fn each_operand<'e>(&'e self, act: &mut dyn FnMut(&'e Expr)) {
        match &self.node {
            Node::Number(..) | Node::Word(_) | Node::YesNo(_) | Node::Name(_) | Node::Known(..) => {}
            Node::Minus(x) | Node::Not(x) => act(x),
            Node::Binary(_, _, a, b) => [a, b].into_iter().for_each(|x| act(x)),
            Node::If(a, b, c) => [a, b, c].into_iter().for_each(|x| act(x)),
            Node::Call(_, _, arguments) => arguments.iter().for_each(act),
        }
    }

    /// The same, with operands to be changed.
    pub fn each_operand_mut(&mut self, act: &mut dyn FnMut(&mut Expr)) {
        match &mut self.node {
            Node::Number(..) | Node::Word(_) | Node::YesNo(_) | Node::Name(_) | Node::Known(..) => {}
            Node::Minus(x) | Node::Not(x) => act(x),
            Node::Binary(_, _, a, b) => [a, b].into_iter().for_each(|x| act(x)),
            Node::If(a, b, c) => [a, b, c].into_iter().for_each(|x| act(x)),
            Node::Call(_, _, arguments) => arguments.iter_mut().for_each(act),
        }
    }
}
