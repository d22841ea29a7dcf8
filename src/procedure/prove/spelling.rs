//! One spelling for a condition: short, and made without printing, since every `when` of every
//! step is spelled each time a procedure is loaded.
//!
//! A sign goes before its operands, a name carries its version, and a number stands as its bits,
//! so that two expressions are spelled alike only when they are written alike.

use crate::lang::{Binary, Comparison, Expr, Node};

/// A spelled condition.
pub(super) type Spelled = Vec<u8>;

/// Spells an expression, or its opposite when that is the one to be spelled; tells which.
#[expect(clippy::wildcard_enum_match_arm, reason = "it looks for one shape of expression")]
pub(super) fn canonical(expr: &Expr, version: &dyn Fn(&str) -> u32) -> (Spelled, bool) {
    match &expr.node {
        Node::Binary(Binary::Compare(comparison), _, a, b) => {
            let (comparison, opposite) = match comparison {
                Comparison::Unequal => (Comparison::Equal, true),
                Comparison::AtLeast => (Comparison::Less, true),
                Comparison::More => (Comparison::AtMost, true),
                other => (*other, false),
            };
            let mut spelling = Spelling::new(version);
            spelling.text(comparison.sign());
            spelling.expr(a);
            spelling.expr(b);
            (spelling.spelled, opposite)
        }
        _ => {
            let mut spelling = Spelling::new(version);
            spelling.expr(expr);
            (spelling.spelled, false)
        }
    }
}

/// Spells `name == 'word'`, the name at this version.
pub(super) fn is_word(name: &str, word: &str, version: u32) -> Spelled {
    let version = |_: &str| version;
    let mut spelling = Spelling::new(&version);
    spelling.text(Comparison::Equal.sign());
    spelling.name(name);
    spelling.word(word);
    spelling.spelled
}

struct Spelling<'a> {
    version: &'a dyn Fn(&str) -> u32,
    spelled: Spelled,
}

impl<'a> Spelling<'a> {
    fn new(version: &'a dyn Fn(&str) -> u32) -> Spelling<'a> {
        Spelling { version, spelled: Spelled::with_capacity(64) }
    }

    fn expr(&mut self, expr: &Expr) {
        match &expr.node {
            Node::Number(number, unit) => {
                self.text("number");
                self.spelled.extend_from_slice(&number.to_bits().to_le_bytes());
                self.text(unit.map_or("", |unit| unit.symbol));
            }
            Node::Word(word) => self.word(word),
            Node::YesNo(yes) => self.text(if *yes { "yes" } else { "no" }),
            Node::Name(name) => self.name(name),
            Node::Known(name, _) => {
                self.text("known");
                self.name(name);
            }
            Node::Minus(x) => self.signed("minus", [&**x]),
            Node::Not(x) => self.signed("not", [&**x]),
            Node::Binary(operator, _, a, b) => self.signed(operator.sign(), [&**a, b]),
            Node::If(a, b, c) => self.signed("if", [&**a, b, c]),
            Node::Call(function, _, arguments) => {
                self.text("call");
                self.signed(function, arguments);
                self.text("end");
            }
        }
    }

    fn signed<'e>(&mut self, sign: &str, operands: impl IntoIterator<Item = &'e Expr>) {
        self.text(sign);
        operands.into_iter().for_each(|operand| self.expr(operand));
    }

    fn name(&mut self, name: &str) {
        self.text("name");
        self.text(name);
        self.spelled.extend_from_slice(&(self.version)(name).to_le_bytes());
    }

    fn word(&mut self, word: &str) {
        self.text("word");
        self.text(word);
    }

    /// A text of any length; no text of the language holds a zero byte.
    fn text(&mut self, text: &str) {
        self.spelled.extend_from_slice(text.as_bytes());
        self.spelled.push(0);
    }
}
