//! Printing a tree: the same expression in one canonical spelling, with only the brackets it needs.

use std::fmt;

use super::tree::{MINUS_STRENGTH, NOT_STRENGTH};
use super::{Expr, Node};

impl fmt::Display for Expr {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match &self.node {
            Node::Number(number, None) => write!(f, "{number}"),
            Node::Number(number, Some(unit)) => write!(f, "{number} {}", unit.symbol),
            Node::Word(word) => write!(f, "'{word}'"),
            Node::YesNo(yes) => f.write_str(if *yes { "yes" } else { "no" }),
            Node::Name(name) => f.write_str(name),
            Node::Known(name, _) => write!(f, "known({name})"),
            Node::Minus(x) => bracketed(f, "-", x, strength(x) < MINUS_STRENGTH),
            Node::Not(x) => bracketed(f, "not ", x, strength(x) < NOT_STRENGTH),
            Node::Binary(operator, _, left, right) => {
                let own = operator.strength();
                let compares = matches!(operator, super::Binary::Compare(_));
                bracketed(f, "", left, strength(left) < own || (compares && strength(left) == own))?;
                bracketed(f, &format!(" {} ", operator.sign()), right, strength(right) <= own)
            }
            Node::If(condition, yes, no) => write!(f, "if {condition} then {yes} else {no}"),
            Node::Call(name, _, arguments) => {
                let arguments: Vec<String> = arguments.iter().map(ToString::to_string).collect();
                write!(f, "{name}({})", arguments.join(", "))
            }
        }
    }
}

/// How tightly the outermost part of an expression holds together.
fn strength(expr: &Expr) -> u8 {
    match &expr.node {
        Node::Binary(operator, ..) => operator.strength(),
        Node::Not(_) => NOT_STRENGTH,
        Node::Minus(_) => MINUS_STRENGTH,
        Node::If(..) => 0,
        _ => u8::MAX,
    }
}

fn bracketed(f: &mut fmt::Formatter<'_>, before: &str, expr: &Expr, brackets: bool) -> fmt::Result {
    if brackets { write!(f, "{before}({expr})") } else { write!(f, "{before}{expr}") }
}
