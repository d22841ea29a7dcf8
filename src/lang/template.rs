//! Text with holes: `Set the air to {target} ({target in bar}).`

use std::sync::Arc;

use super::{CheckedExpr, Expr, Problem, Scope, Type, Values, check, parse};
use crate::quantity::{Kind, Unit, Units, show_in, show_roundly, unit_at_start};
use crate::source::{Quoted, Span};

/// A hole in a text.
#[derive(Clone, Debug)]
struct Hole<E> {
    /// What it shows the value of.
    expr: E,
    /// The unit it is shown in; else the household's.
    unit: Option<&'static Unit>,
    /// Where it stands in the text, braces included.
    span: Span,
}

/// A text with holes, as written.
#[derive(Clone, Debug)]
pub(crate) struct RawTemplate {
    origin: Arc<Quoted>,
    holes: Vec<Hole<Arc<Expr>>>,
}

/// A text whose holes are checked.
#[derive(Clone, Debug)]
pub struct Template {
    origin: Arc<Quoted>,
    holes: Vec<Hole<CheckedExpr>>,
}

impl RawTemplate {
    /// Reads a text; `{{` and `}}` stand for single braces.
    ///
    /// # Errors
    /// Every problem, placed in the text.
    pub(crate) fn parse(origin: &Arc<Quoted>) -> Result<RawTemplate, Vec<Problem>> {
        let text = origin.text.as_str();
        let (mut holes, mut problems, mut at) = (Vec::new(), Vec::new(), 0);
        while let Some(length) = brace_in(&text[at..]) {
            at += length;
            if let Some(length) = plain_brace(&text[at..]) {
                at += length;
                continue;
            }
            let Some(end) = text[at..].find('}').map(|length| at + length) else {
                problems.push(open_hole(at));
                break;
            };
            match hole(text, Span::new(at, end + 1)) {
                Ok(hole) => holes.push(hole),
                Err(problem) => problems.push(problem),
            }
            at = end + 1;
        }
        if problems.is_empty() { Ok(RawTemplate { origin: origin.clone(), holes }) } else { Err(problems) }
    }

    /// Gives every hole its kind.
    ///
    /// # Errors
    /// Every problem, placed in the text.
    pub(crate) fn check(&self, scope: &dyn Scope) -> Result<Template, Vec<Problem>> {
        let (mut holes, mut problems) = (Vec::with_capacity(self.holes.len()), Vec::new());
        for hole in &self.holes {
            match check_hole(hole, scope, &self.origin) {
                Ok(expr) => holes.push(Hole { expr, unit: hole.unit, span: hole.span }),
                Err(found) => problems.extend(found),
            }
        }
        if problems.is_empty() { Ok(Template { origin: self.origin.clone(), holes }) } else { Err(problems) }
    }

    /// The string it stands in.
    pub(crate) fn origin(&self) -> &Arc<Quoted> {
        &self.origin
    }

    /// The expressions in its holes, to be changed.
    pub(crate) fn holes_mut(&mut self) -> impl Iterator<Item = &mut Expr> {
        self.holes.iter_mut().map(|hole| Arc::make_mut(&mut hole.expr))
    }
}

impl Template {
    /// The text with its holes filled; what cannot be told is shown as `(not known)`.
    pub fn filled(&self, values: &dyn Values, units: Units) -> String {
        self.filled_by(|hole| hole.filled(values, units))
    }

    /// The text with its holes filled; what cannot be told is shown as `otherwise` puts it.
    pub fn filled_or(
        &self,
        values: &dyn Values,
        units: Units,
        otherwise: &dyn Fn(&Expr) -> String,
    ) -> String {
        self.filled_by(|hole| match hole.expr.value(values) {
            Ok(_) => hole.filled(values, units),
            Err(_) => otherwise(hole.expr.expr()),
        })
    }

    /// The text with its holes shown as they are written, for reading a procedure without a run; a word
    /// that is decided stands in the text.
    pub fn unfilled(&self) -> String {
        self.filled_by(|hole| match (&hole.expr.expr().node, hole.unit) {
            (super::Node::Word(word), None) => word.clone(),
            (_, None) => format!("{{{}}}", hole.expr.expr()),
            (_, Some(unit)) => format!("{{{} in {}}}", hole.expr.expr(), unit.symbol),
        })
    }

    fn filled_by(&self, show: impl Fn(&Hole<CheckedExpr>) -> String) -> String {
        let text = &self.origin.text;
        let (mut filled, mut at) = (String::with_capacity(text.len()), 0);
        for hole in &self.holes {
            push_plain(&mut filled, &text[at..hole.span.start]);
            filled.push_str(&show(hole));
            at = hole.span.end;
        }
        push_plain(&mut filled, &text[at..]);
        filled
    }

    /// The checked expressions in its holes.
    pub fn holes(&self) -> impl Iterator<Item = &CheckedExpr> {
        self.holes.iter().map(|hole| &hole.expr)
    }
}

impl Hole<CheckedExpr> {
    fn filled(&self, values: &dyn Values, units: Units) -> String {
        match (self.expr.value(values), self.unit) {
            (Ok(super::Value::Amount(measure, amount)), Some(unit)) => show_in(measure, &amount, unit),
            (Ok(super::Value::Amount(measure, amount)), None) if is_literal(self.expr.expr()) => {
                show_roundly(measure, &amount, units)
            }
            (Ok(value), _) => value.shown(units),
            (Err(_), _) => "(not known)".to_string(),
        }
    }
}

/// A number written in the text itself is a round one, and stays round in other units.
fn is_literal(expr: &Expr) -> bool {
    matches!(expr.node, super::Node::Number(..))
}

/// Where the first brace stands; found among bytes, which is quicker than among characters.
fn brace_in(text: &str) -> Option<usize> {
    text.bytes().position(|byte| matches!(byte, b'{' | b'}'))
}

/// The length of the brace at the start of `text`, when it stands for itself.
fn plain_brace(text: &str) -> Option<usize> {
    match text.as_bytes() {
        [b'{', b'{', ..] | [b'}', b'}', ..] => Some(2),
        [b'}', ..] => Some(1),
        _ => None,
    }
}

/// Adds text between holes, with single braces for double ones.
fn push_plain(filled: &mut String, mut text: &str) {
    while let Some(at) = brace_in(text) {
        filled.push_str(&text[..=at]);
        text = &text[at + plain_brace(&text[at..]).unwrap_or(1)..];
    }
    filled.push_str(text);
}

fn open_hole(at: usize) -> Problem {
    let remedy = "close it with `}`, or write `{{` for a brace";
    Problem::new("open-hole", Span::new(at, at + 1), "this brace opens a hole that does not end", remedy)
}

/// What stands behind `in` is no unit.
fn no_unit(name: &str, at: usize) -> Problem {
    let symbols: Vec<&str> = crate::quantity::UNITS.iter().map(|unit| unit.symbol).collect();
    let span = Span::new(at, at + name.len());
    let message = format!("there is no unit `{}`", name.escape_debug());
    Problem::new("unknown-unit", span, message, crate::words::did_you_mean(name, &symbols))
}

/// Reads what stands between two braces: an expression, and `in UNIT` at its end.
fn hole(text: &str, span: Span) -> Result<Hole<Arc<Expr>>, Problem> {
    let start = span.start + 1;
    let inner = &text[start..span.end - 1];
    let (expression, unit) = match inner.rfind(" in ") {
        Some(at) => {
            let name = inner[at + 4..].trim();
            match unit_at_start(name) {
                Some((unit, length)) if length == name.len() => (&inner[..at], Some(unit)),
                _ => return Err(no_unit(name, start + at + 4)),
            }
        }
        None => (inner, None),
    };
    let moved = |span: Span| Span::new(span.start + start, span.end + start);
    match parse(expression) {
        Ok(mut expr) => {
            shift(&mut expr, start);
            Ok(Hole { expr: Arc::new(expr), unit, span })
        }
        Err(mut problem) => {
            problem.span = moved(problem.span);
            problem.notes.iter_mut().for_each(|note| note.span = moved(note.span));
            Err(problem)
        }
    }
}

/// Moves every span of an expression by `by` bytes.
fn shift(expr: &mut Expr, by: usize) {
    use super::Node::{Binary, Call, Known};
    let moved = |span: &mut Span| *span = Span::new(span.start + by, span.end + by);
    moved(&mut expr.span);
    if let Known(_, place) | Binary(_, place, ..) | Call(_, place, _) = &mut expr.node {
        moved(place);
    }
    expr.each_operand_mut(&mut |operand| shift(operand, by));
}

fn check_hole(
    hole: &Hole<Arc<Expr>>,
    scope: &dyn Scope,
    origin: &Arc<Quoted>,
) -> Result<CheckedExpr, Vec<Problem>> {
    let checked = check(&hole.expr, scope, None, Some(origin))?.as_one();
    let Some(unit) = hole.unit else { return Ok(checked) };
    match checked.ty() {
        Type::One(Kind::Measure(measure)) | Type::Series(Kind::Measure(measure), _)
            if measure.family() == unit.family =>
        {
            Ok(checked)
        }
        ty => {
            let message = format!("{} cannot show {ty}", unit.symbol);
            let remedy = "take a unit of the right kind, or leave `in …` out";
            Err(vec![Problem::new("wrong-unit", hole.expr.span, message, remedy)])
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lang::Function;
    use crate::source::SourceText;

    /// Where the number `p` is known, and nothing else.
    struct OnlyP;

    impl Scope for OnlyP {
        fn find(&self, name: &str) -> Option<(Arc<str>, Type)> {
            (name == "p").then(|| (Arc::from(name), Type::measure(crate::quantity::Measure::Pressure)))
        }

        fn names(&self) -> Vec<String> {
            vec!["p".to_string()]
        }

        fn function(&self, _: &str) -> Option<&'static Function> {
            None
        }

        fn function_names(&self) -> Vec<&'static str> {
            Vec::new()
        }
    }

    fn unfilled(text: &str) -> Result<String, Vec<Problem>> {
        let source = SourceText::new("x.toml", text);
        let quoted = Quoted { source, text: text.to_string(), span: Span::new(0, text.len()) };
        Ok(RawTemplate::parse(&Arc::new(quoted))?.check(&OnlyP)?.unfilled())
    }

    #[test]
    fn texts_are_told_with_their_holes_and_single_braces() {
        let table = [
            ("", ""),
            ("plain", "plain"),
            ("{p}", "{p}"),
            ("Set { p+1 psi }, then {p in bar}.", "Set {p + 1 psi}, then {p in bar}."),
            ("{{p}}", "{p}"),
            ("{{{p}}}", "{{p}}"),
            ("a } b }} c", "a } b } c"),
            ("{p}}}{{{p}", "{p}}{{p}"),
            ("é{p}é", "é{p}é"),
        ];
        for (text, filled) in table {
            assert_eq!(unfilled(text), Ok(filled.to_string()), "for `{text}`");
        }
    }

    #[test]
    fn a_fault_stands_where_it_is_in_the_text() {
        let fault_of = |text: &str| {
            let problems = unfilled(text).unwrap_err();
            problems.into_iter().map(|problem| (problem.code, problem.span)).collect::<Vec<_>>()
        };
        let at = |code, start, end| vec![(code, Span::new(start, end))];
        assert_eq!(fault_of("é{1 $ 2}"), at("stray-sign", 5, 6));
        assert_eq!(fault_of("{p} and {p in furlong}"), at("unknown-unit", 14, 21));
    }

    /// Nothing is known but what is written.
    #[test]
    fn what_cannot_be_filled_is_put_as_is_asked_for() {
        struct Nothing;
        impl Values for Nothing {
            fn value(&self, _: &str) -> Result<crate::lang::Value, crate::lang::Unknown> {
                Err(crate::lang::Unknown::because("nobody asked"))
            }
        }
        let text = "Set {2 psi}, then {p + 1 psi}.";
        let quoted = Quoted {
            source: SourceText::new("x.toml", text),
            text: text.into(),
            span: Span::new(0, text.len()),
        };
        let template = RawTemplate::parse(&Arc::new(quoted)).unwrap().check(&OnlyP).unwrap();
        let filled = template.filled_or(&Nothing, Units::Us, &|expr| format!("<{expr}>"));
        assert_eq!(filled, "Set 2 psi, then <p + 1 psi>.");
        assert_eq!(template.filled(&Nothing, Units::Us), "Set 2 psi, then (not known).");
    }

    #[test]
    fn a_number_in_the_text_stays_round_in_other_units() {
        struct P;
        impl Values for P {
            fn value(&self, _: &str) -> Result<crate::lang::Value, crate::lang::Unknown> {
                Ok(crate::lang::Value::exact(crate::quantity::Measure::Pressure, 2.0 * crate::quantity::PSI))
            }
        }
        let text = "{2 psi}, {p}, {p in bar}, {p in psi}, {1 psi < p}";
        let source = SourceText::new("x.toml", text);
        let quoted = Quoted { source, text: text.to_string(), span: Span::new(0, text.len()) };
        let template = RawTemplate::parse(&Arc::new(quoted)).unwrap().check(&OnlyP).unwrap();
        let filled = [Units::Us, Units::Metric].map(|units| template.filled(&P, units));
        let us = "2 psi, 2 psi, 0.1379 bar, 2 psi, yes";
        assert_eq!(filled, [us, "0.15 bar, 0.14 bar, 0.1379 bar, 2 psi, yes"]);
    }

    proptest::proptest! {
        #[test]
        fn text_with_doubled_braces_is_told_as_it_was(text in "\\PC{0,40}") {
            let doubled = text.replace('{', "{{").replace('}', "}}");
            proptest::prop_assert_eq!(unfilled(&doubled), Ok(text));
        }

        #[test]
        fn any_text_is_read_or_refused_without_panic(text in "[{}p +é]{0,20}") {
            let _ = unfilled(&text);
        }
    }
}
