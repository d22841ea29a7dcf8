//! What is decided once a part is given a word, a yes or a no: steps that are never called for
//! fall away, and conditions that always hold are asked no more.

use crate::lang::{Binary, Comparison, Expr, Node};

/// Works out what words and yes or no in an expression decide.
pub(super) fn fold(expr: &mut Expr) {
    expr.each_operand_mut(&mut fold);
    if let Some(node) = decided(&expr.node) {
        expr.node = node;
    }
}

/// What a node comes to whose operands are decided.
fn decided(node: &Node) -> Option<Node> {
    match node {
        Node::Not(x) => yes_no(x).map(|yes| Node::YesNo(!yes)),
        Node::Binary(Binary::And, _, a, b) => either(a, b, false),
        Node::Binary(Binary::Or, _, a, b) => either(a, b, true),
        Node::Binary(Binary::Compare(comparison), _, a, b) => match (&a.node, &b.node, comparison) {
            (Node::Word(a), Node::Word(b), Comparison::Equal) => Some(Node::YesNo(a == b)),
            (Node::Word(a), Node::Word(b), Comparison::Unequal) => Some(Node::YesNo(a != b)),
            _ => None,
        },
        Node::If(a, b, c) => yes_no(a).map(|yes| if yes { b.node.clone() } else { c.node.clone() }),
        Node::Number(..) | Node::Word(_) | Node::YesNo(_) | Node::Name(_) | Node::Known(..) => None,
        Node::Minus(_) | Node::Binary(..) | Node::Call(..) => None,
    }
}

/// What two operands come to when one of them is decided; `strong` decides alone.
fn either(a: &Expr, b: &Expr, strong: bool) -> Option<Node> {
    match (yes_no(a), yes_no(b)) {
        (Some(x), _) if x == strong => Some(Node::YesNo(strong)),
        (_, Some(x)) if x == strong => Some(Node::YesNo(strong)),
        (Some(_), _) => Some(b.node.clone()),
        (_, Some(_)) => Some(a.node.clone()),
        (None, None) => None,
    }
}

/// The yes or no that an expression is.
pub(super) fn yes_no(expr: &Expr) -> Option<bool> {
    let Node::YesNo(yes) = expr.node else { return None };
    Some(yes)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lang::parse;

    #[test]
    fn what_is_decided_falls_away() {
        let folded = |text: &str| {
            let mut expr = parse(text).unwrap();
            fold(&mut expr);
            expr.to_string()
        };
        assert_eq!(folded("lever and no"), "no");
        assert_eq!(folded("not no and lever"), "lever");
        assert_eq!(folded("lever or 'left' == 'left'"), "yes");
        assert_eq!(folded("if 'left' != 'left' then 1 psi else gap"), "gap");
        assert_eq!(folded("lever and gap > 1 psi"), "lever and gap > 1 psi");
    }
}
