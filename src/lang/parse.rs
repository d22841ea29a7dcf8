//! From tokens to a tree: an operator-precedence parser with places, bounded in depth.

use super::token::{KEYWORDS, Token, tokens};
use super::tree::{MINUS_STRENGTH, NOT_STRENGTH};
use super::{Binary, Comparison, Expr, Node, Problem};
use crate::quantity::Operator;
use crate::source::Span;

/// The longest expression, in bytes.
pub const LONGEST_EXPRESSION: usize = 2_000;
/// The deepest nesting.
const DEEPEST: usize = 64;
/// What to do about one that is more than that.
const CUT_IT: &str = "cut it into several `compute` steps";

/// Reads an expression.
///
/// # Errors
/// The first problem, with its place in `text`.
///
/// ```
/// use tankhand::lang::parse;
/// assert_eq!(parse("a+2 psi*3").unwrap().to_string(), "a + 2 psi * 3");
/// assert_eq!(parse("(a + b").unwrap_err().message, "this bracket is not closed");
/// ```
pub fn parse(text: &str) -> Result<Expr, Problem> {
    if text.len() > LONGEST_EXPRESSION {
        let message =
            format!("this expression is {} bytes long; {LONGEST_EXPRESSION} is the most", text.len());
        return Err(Problem::new("too-long", Span::new(0, LONGEST_EXPRESSION), message, CUT_IT));
    }
    let mut parser = Parser { tokens: tokens(text)?, at: 0, depth: 0 };
    let expr = parser.expression(0)?;
    match parser.peek() {
        Token::End => Ok(expr),
        _ => Err(parser.unexpected("the expression should end here")),
    }
}

struct Parser<'t> {
    tokens: Vec<(Token<'t>, Span)>,
    at: usize,
    depth: usize,
}

impl<'t> Parser<'t> {
    fn peek(&self) -> Token<'t> {
        self.tokens[self.at.min(self.tokens.len() - 1)].0
    }

    fn span(&self) -> Span {
        self.tokens[self.at.min(self.tokens.len() - 1)].1
    }

    fn next(&mut self) -> (Token<'t>, Span) {
        let found = (self.peek(), self.span());
        self.at += 1;
        found
    }

    fn takes(&mut self, sign: &str) -> bool {
        let matches = match self.peek() {
            Token::Sign(s) => s == sign,
            Token::Name(name) => name == sign,
            _ => false,
        };
        if matches {
            self.at += 1;
        }
        matches
    }

    fn unexpected(&self, why: &str) -> Problem {
        let (code, message) = match self.peek() {
            Token::End => ("ends-early", "the expression ends too early".to_string()),
            Token::Sign(sign) => ("unexpected", format!("`{sign}` does not fit here")),
            Token::Name(name) => ("unexpected", format!("`{name}` does not fit here")),
            Token::Word(word) => ("unexpected", format!("'{word}' does not fit here")),
            Token::Number(..) => ("unexpected", "this number does not fit here".to_string()),
        };
        Problem::new(code, self.span(), message, why)
    }

    fn expression(&mut self, least: u8) -> Result<Expr, Problem> {
        self.depth += 1;
        if self.depth > DEEPEST {
            let message = format!("brackets and operators are nested more than {DEEPEST} deep");
            return Err(Problem::new("too-deep", self.span(), message, CUT_IT));
        }
        let mut left = self.operand()?;
        while let Some(operator) = self.operator() {
            if operator.strength() <= least {
                break;
            }
            let (_, sign) = self.next();
            self.no_chain(operator, &left, sign)?;
            let right = self.expression(operator.strength())?;
            let span = left.span.to(right.span);
            left = Expr { node: Node::Binary(operator, sign, Box::new(left), Box::new(right)), span };
        }
        self.depth -= 1;
        Ok(left)
    }

    fn no_chain(&self, operator: Binary, left: &Expr, sign: Span) -> Result<(), Problem> {
        let (Binary::Compare(_), Node::Binary(Binary::Compare(_), first, ..)) = (operator, &left.node) else {
            return Ok(());
        };
        // In brackets the comparison is a yes or no of its own.
        if left.span.end < first.end || self.tokens[self.at.saturating_sub(2)].0 == Token::Sign(")") {
            return Ok(());
        }
        Err(Problem::new("chained", sign, "comparisons cannot be chained", "write `a <= b and b <= c`")
            .note(*first, "the first comparison"))
    }

    fn operator(&self) -> Option<Binary> {
        Some(match self.peek() {
            Token::Name("or") => Binary::Or,
            Token::Name("and") => Binary::And,
            Token::Name("otherwise") => Binary::Otherwise,
            Token::Sign("<") => Binary::Compare(Comparison::Less),
            Token::Sign("<=") => Binary::Compare(Comparison::AtMost),
            Token::Sign(">") => Binary::Compare(Comparison::More),
            Token::Sign(">=") => Binary::Compare(Comparison::AtLeast),
            Token::Sign("==") => Binary::Compare(Comparison::Equal),
            Token::Sign("!=") => Binary::Compare(Comparison::Unequal),
            Token::Sign("+-") => Binary::Within,
            Token::Sign("+") => Binary::Arithmetic(Operator::Add),
            Token::Sign("-") => Binary::Arithmetic(Operator::Subtract),
            Token::Sign("*") => Binary::Arithmetic(Operator::Multiply),
            Token::Sign("/") => Binary::Arithmetic(Operator::Divide),
            _ => return None,
        })
    }

    fn operand(&mut self) -> Result<Expr, Problem> {
        let start = self.span();
        if self.takes("-") {
            let inner = self.expression(MINUS_STRENGTH)?;
            let span = start.to(inner.span);
            return Ok(Expr { node: Node::Minus(Box::new(inner)), span });
        }
        if self.takes("not") {
            let inner = self.expression(NOT_STRENGTH)?;
            let span = start.to(inner.span);
            return Ok(Expr { node: Node::Not(Box::new(inner)), span });
        }
        if self.takes("(") {
            let mut inner = self.expression(0)?;
            inner.span = start.to(self.close(start)?);
            return Ok(inner);
        }
        if self.takes("if") {
            return self.conditional(start);
        }
        match self.peek() {
            Token::Number(number, unit) => Ok(self.leaf(Node::Number(number, unit))),
            Token::Word(word) => Ok(self.leaf(Node::Word(word.to_string()))),
            Token::Name(name) => self.named(name, start),
            _ => Err(self.unexpected("a number, a name or `(` should stand here")),
        }
    }

    fn leaf(&mut self, node: Node) -> Expr {
        let (_, span) = self.next();
        Expr { node, span }
    }

    fn close(&mut self, open: Span) -> Result<Span, Problem> {
        let span = self.span();
        if self.takes(")") {
            return Ok(span);
        }
        Err(match self.peek() {
            Token::End => Problem::new("open-bracket", open, "this bracket is not closed", "add a `)`"),
            _ => self.unexpected("a `)` should stand here").note(open, "to close this bracket"),
        })
    }

    fn conditional(&mut self, start: Span) -> Result<Expr, Problem> {
        let condition = self.expression(0)?;
        if !self.takes("then") {
            return Err(self.unexpected("`then` should stand here").note(start, "for this `if`"));
        }
        let yes = self.expression(0)?;
        if !self.takes("else") {
            return Err(self.unexpected("`else` should stand here").note(start, "for this `if`"));
        }
        let no = self.expression(0)?;
        let span = start.to(no.span);
        Ok(Expr { node: Node::If(Box::new(condition), Box::new(yes), Box::new(no)), span })
    }

    fn named(&mut self, name: &str, start: Span) -> Result<Expr, Problem> {
        match name {
            "yes" => return Ok(self.leaf(Node::YesNo(true))),
            "no" => return Ok(self.leaf(Node::YesNo(false))),
            "known" => return self.known(start),
            keyword if KEYWORDS.contains(&keyword) => {
                return Err(self.unexpected("a number, a name or `(` should stand here"));
            }
            _ => {}
        }
        let (_, place) = self.next();
        let open = self.span();
        if !self.takes("(") {
            return Ok(Expr { node: Node::Name(name.to_string()), span: place });
        }
        let mut arguments = Vec::new();
        while self.peek() != Token::Sign(")") {
            arguments.push(self.expression(0)?);
            if !self.takes(",") {
                break;
            }
        }
        let end = self.close(open)?;
        Ok(Expr { node: Node::Call(name.to_string(), place, arguments), span: start.to(end) })
    }

    fn known(&mut self, start: Span) -> Result<Expr, Problem> {
        self.next();
        let open = self.span();
        if !self.takes("(") {
            return Err(self.unexpected("write known(name)"));
        }
        let (Token::Name(name), place) = self.next() else {
            self.at -= 1;
            return Err(self.unexpected("the name of a fact or step should stand here"));
        };
        let end = self.close(open)?;
        Ok(Expr { node: Node::Known(name.to_string(), place), span: start.to(end) })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shown(text: &str) -> String {
        match parse(text) {
            Ok(expr) => expr.to_string(),
            Err(p) => format!("{} at {}..{}; {}", p.message, p.span.start, p.span.end, p.remedy),
        }
    }

    #[test]
    fn expressions_are_read() {
        let table = [
            ("1+2*3", "1 + 2 * 3"),
            ("(1+2)*3", "(1 + 2) * 3"),
            ("1-(2-3)", "1 - (2 - 3)"),
            ("1-2-3", "1 - 2 - 3"),
            ("- x * 2", "-x * 2"),
            ("-(x * 2)", "-(x * 2)"),
            ("not a and b or c", "not a and b or c"),
            ("a and not b", "a and not b"),
            ("a or (b and c)", "a or b and c"),
            ("(a or b) and c", "(a or b) and c"),
            ("not (a or b)", "not (a or b)"),
            ("5 gal / 2 min", "5 gal / 2 min"),
            ("5 gal/min", "5 gal/min"),
            ("68 deg F", "68 °F"),
            ("2 in + 1 m", "2 in + 1 m"),
            ("if a then 1 else if b then 2 else 3", "if a then 1 else if b then 2 else 3"),
            ("(if a then 1 else 2) + 1", "(if a then 1 else 2) + 1"),
            ("(if a then b else c) or d", "(if a then b else c) or d"),
            ("d or if a then b else c", "d or (if a then b else c)"),
            ("(if a then b else c) otherwise d", "(if a then b else c) otherwise d"),
            ("not (if a then b else c)", "not (if a then b else c)"),
            ("-(if a then b else c)", "-(if a then b else c)"),
            ("f(if a then b else c)", "f(if a then b else c)"),
            ("(a < b) < c", "(a < b) < c"),
            ("a < (b < c)", "a < (b < c)"),
            ("(not a) == b", "(not a) == b"),
            ("not (not a)", "not not a"),
            ("-(-a)", "--a"),
            ("x == 'clear' and known(y)", "x == 'clear' and known(y)"),
            ("(a <= b) == yes", "(a <= b) == yes"),
            ("a otherwise 0 psi < b", "a otherwise 0 psi < b"),
            ("(a otherwise b) + c", "(a otherwise b) + c"),
            ("38psi+-1psi", "38 psi +- 1 psi"),
            ("38 psi ± 1 psi", "38 psi +- 1 psi"),
            ("2*a+-b*3", "2 * a +- b * 3"),
            ("(a+b)+-c", "(a + b) +- c"),
            ("a+-(b+-c)+-d", "a +- (b +- c) +- d"),
            ("-a+-b", "-a +- b"),
            ("-(a+-b)", "-(a +- b)"),
            ("a+ -b", "a + -b"),
            ("−5 psi", "-5 psi"),
            ("1/2 hp", "0.5 hp"),
            ("3 1/2 in", "3.5 in"),
            ("3½ in", "3.5 in"),
            ("x/1/2 hp", "x / 1 / 2 hp"),
            ("1/2", "1 / 2"),
            ("6 ft 2 in", "6.166666666666667 ft"),
            ("f(6 ft 2 in)", "f(6.166666666666667 ft)"),
            ("1:26", "86 s"),
            ("2,6 bar", "2.6 bar"),
            ("f(2,6)", "f(2, 6)"),
            ("f(2) + 2,6 bar", "f(2) + 2.6 bar"),
            ("1,234,567 L", "1234567 L"),
            ("38\u{a0}psi", "38 psi"),
            ("f()", "f()"),
            ("f(1, g(2))", "f(1, g(2))"),
        ];
        for (text, expected) in table {
            assert_eq!(shown(text), expected, "for `{text}`");
        }
    }

    #[test]
    fn problems_have_places_and_remedies() {
        let table = [
            ("", "the expression ends too early at 0..0; a number, a name or `(` should stand here"),
            ("1 +", "the expression ends too early at 3..3; a number, a name or `(` should stand here"),
            ("(a + b", "this bracket is not closed at 0..1; add a `)`"),
            ("a <= b <= c", "comparisons cannot be chained at 7..9; write `a <= b and b <= c`"),
            ("a = b", "`=` has no meaning here at 2..3; to compare, write `==`"),
            ("38 psj", "there is no unit `psj` at 3..6; did you mean `psi`?"),
            ("f(1 2)", "this number does not fit here at 4..5; a `)` should stand here"),
            ("'clear", "this word in quotes does not end at 0..6; close it with another single quote"),
            ("1.2.3", "`1.2.3` is no number at 0..5; write it as in 2.5"),
            ("1,800 L", "the comma can mean two things here at 0..5; write 1.800 or 1800"),
            (
                "38 psia",
                "`psia` counts from vacuum, and pressures here are as on a gauge at 3..7; at sea level write 23.3 psi",
            ),
            ("6 ft 12 in", "this number does not fit here at 5..10; the expression should end here"),
            ("6 ft 2 gal", "this number does not fit here at 5..10; the expression should end here"),
            ("6 ft.5 in", "this number does not fit here at 4..9; the expression should end here"),
            ("2 in 6 ft", "this number does not fit here at 5..9; the expression should end here"),
            ("6 ft in m", "`in` does not fit here at 5..7; the expression should end here"),
            ("a b", "`b` does not fit here at 2..3; the expression should end here"),
            (
                "known(3)",
                "this number does not fit here at 6..7; the name of a fact or step should stand here",
            ),
        ];
        for (text, expected) in table {
            assert_eq!(shown(text), expected, "for `{text}`");
        }
        assert_eq!(parse(&"(".repeat(1_000)).unwrap_err().code, "too-deep");
        assert_eq!(parse(&"-".repeat(1_000)).unwrap_err().code, "too-deep");
        assert_eq!(parse(&"1+".repeat(5_000)).unwrap_err().code, "too-long");
    }

    proptest::proptest! {
        #[test]
        fn any_text_is_read_or_refused_without_panic(text in "\\PC{0,60}") {
            let _ = parse(&text);
        }

        #[test]
        fn what_is_printed_reads_back_the_same(
            text in "[-()a-c1-3 ,]{0,14}(and|or|not|if|then|else|otherwise|<=|==|\\*|/|\\+|\\+-|±)?[-()a-c1-3 +*±]{0,14}"
        ) {
            if let Ok(expr) = parse(&text) {
                let again = parse(&expr.to_string()).unwrap();
                proptest::prop_assert_eq!(again, expr);
            }
        }
    }
}
