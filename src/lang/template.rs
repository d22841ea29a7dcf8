//! Text with holes: `Set the air to {target} ({target in bar}).`

use std::sync::Arc;

use super::{Checked, Expr, Problem, Scope, Type, Values, check, parse};
use crate::quantity::{Kind, Unit, Units, show_in, show_roundly, unit_at_start};
use crate::source::{Quoted, Span};

/// A piece of a text.
#[derive(Clone, Debug)]
pub enum Piece<E> {
    /// Shown as it is.
    Text(String),
    /// An expression's value, in the household's unit or the named one.
    Hole(E, Option<&'static Unit>),
}

/// A text with holes, as written.
#[derive(Clone, Debug, Default)]
pub struct RawTemplate {
    pieces: Vec<Piece<Expr>>,
}

/// A text whose holes are checked.
#[derive(Clone, Debug, Default)]
pub struct Template {
    pieces: Vec<Piece<Checked>>,
    origin: Option<Arc<Quoted>>,
}

impl RawTemplate {
    /// Reads a text; `{{` and `}}` stand for single braces.
    ///
    /// # Errors
    /// Every problem, placed in `text`.
    pub fn parse(text: &str) -> Result<RawTemplate, Vec<Problem>> {
        let (mut pieces, mut problems) = (Vec::new(), Vec::new());
        let (mut plain, mut at) = (String::new(), 0);
        while let Some(length) = text[at..].find(['{', '}']) {
            plain.push_str(&text[at..at + length]);
            at += length;
            let brace = &text[at..at + 1];
            if text[at + 1..].starts_with(brace) || brace == "}" {
                plain.push_str(brace);
                at += if text[at + 1..].starts_with(brace) { 2 } else { 1 };
                continue;
            }
            let Some(end) = text[at..].find('}').map(|length| at + length) else {
                problems.push(open_hole(at));
                at = text.len();
                break;
            };
            pieces.push(Piece::Text(std::mem::take(&mut plain)));
            match hole(text, at + 1, end) {
                Ok(piece) => pieces.push(piece),
                Err(problem) => problems.push(problem),
            }
            at = end + 1;
        }
        plain.push_str(&text[at..]);
        pieces.push(Piece::Text(plain));
        if problems.is_empty() { Ok(RawTemplate { pieces }) } else { Err(problems) }
    }

    /// Gives every hole its kind.
    ///
    /// # Errors
    /// Every problem, placed in the text.
    pub fn check(&self, scope: &dyn Scope) -> Result<Template, Vec<Problem>> {
        let (mut pieces, mut problems) = (Vec::new(), Vec::new());
        for piece in &self.pieces {
            match piece {
                Piece::Text(text) => pieces.push(Piece::Text(text.clone())),
                Piece::Hole(expr, unit) => match check_hole(expr, *unit, scope) {
                    Ok(checked) => pieces.push(Piece::Hole(checked, *unit)),
                    Err(found) => problems.extend(found),
                },
            }
        }
        if problems.is_empty() { Ok(Template { pieces, origin: None }) } else { Err(problems) }
    }

    /// The expressions in its holes, to be changed.
    pub fn holes_mut(&mut self) -> impl Iterator<Item = &mut Expr> {
        self.pieces.iter_mut().filter_map(|piece| match piece {
            Piece::Hole(expr, _) => Some(expr),
            Piece::Text(_) => None,
        })
    }
}

impl Template {
    /// A text without holes.
    pub fn plain(text: &str) -> Template {
        Template { pieces: vec![Piece::Text(text.to_string())], origin: None }
    }

    /// The same, knowing the string it stands in; its holes know it too.
    pub fn standing_in(self, origin: &Arc<Quoted>) -> Template {
        let placed = |piece| match piece {
            Piece::Hole(checked, unit) => Piece::Hole(Checked::standing_in(checked, origin), unit),
            text => text,
        };
        Template { pieces: self.pieces.into_iter().map(placed).collect(), origin: Some(origin.clone()) }
    }

    /// The string it stands in, when it came from a file.
    pub fn origin(&self) -> Option<&Quoted> {
        self.origin.as_deref()
    }

    /// The text with its holes filled; what cannot be told is shown as `(not known)`.
    pub fn filled(&self, values: &dyn Values, units: Units) -> String {
        self.pieces.iter().map(|piece| piece.filled(values, units)).collect()
    }

    /// The text with its holes shown as they are written, for reading a procedure without a run.
    pub fn unfilled(&self) -> String {
        self.pieces
            .iter()
            .map(|piece| match piece {
                Piece::Text(text) => text.clone(),
                Piece::Hole(checked, None) => format!("{{{}}}", checked.expr()),
                Piece::Hole(checked, Some(unit)) => format!("{{{} in {}}}", checked.expr(), unit.symbol),
            })
            .collect()
    }

    /// The checked expressions in its holes.
    pub fn holes(&self) -> impl Iterator<Item = &Checked> {
        self.pieces.iter().filter_map(|piece| match piece {
            Piece::Hole(checked, _) => Some(checked),
            Piece::Text(_) => None,
        })
    }
}

impl Piece<Checked> {
    fn filled(&self, values: &dyn Values, units: Units) -> String {
        match self {
            Piece::Text(text) => text.clone(),
            Piece::Hole(checked, unit) => match (checked.value(values), unit) {
                (Ok(super::Value::Amount(measure, amount)), Some(unit)) => show_in(measure, &amount, unit),
                (Ok(super::Value::Amount(measure, amount)), None) if is_literal(checked.expr()) => {
                    show_roundly(measure, &amount, units)
                }
                (Ok(value), _) => value.shown(units),
                (Err(_), _) => "(not known)".to_string(),
            },
        }
    }
}

/// A number written in the text itself is a round one, and stays round in other units.
fn is_literal(expr: &Expr) -> bool {
    matches!(expr.node, super::Node::Number(..))
}

fn open_hole(at: usize) -> Problem {
    Problem::new(
        "open-hole",
        Span::new(at, at + 1),
        "this brace opens a hole that does not end",
        "close it with `}`, or write `{{` for a brace",
    )
}

/// Reads what stands between two braces: an expression, and `in UNIT` at its end.
fn hole(text: &str, start: usize, end: usize) -> Result<Piece<Expr>, Problem> {
    let inner = &text[start..end];
    let (expression, unit) = match inner.rfind(" in ") {
        Some(at) => {
            let name = inner[at + 4..].trim();
            match unit_at_start(name) {
                Some((unit, length)) if length == name.len() => (&inner[..at], Some(unit)),
                _ => (inner, None),
            }
        }
        None => (inner, None),
    };
    let moved = |span: Span| Span::new(span.start + start, span.end + start);
    match parse(expression) {
        Ok(expr) => Ok(Piece::Hole(moved_expr(expr, start), unit)),
        Err(mut problem) => {
            problem.span = moved(problem.span);
            problem.notes.iter_mut().for_each(|note| note.span = moved(note.span));
            Err(problem)
        }
    }
}

/// Moves every span of an expression by `by` bytes.
fn moved_expr(mut expr: Expr, by: usize) -> Expr {
    use super::Node;
    expr.span = Span::new(expr.span.start + by, expr.span.end + by);
    let shift = |span: Span| Span::new(span.start + by, span.end + by);
    let boxed = |x: Box<Expr>| Box::new(moved_expr(*x, by));
    expr.node = match expr.node {
        Node::Known(name, span) => Node::Known(name, shift(span)),
        Node::Minus(x) => Node::Minus(boxed(x)),
        Node::Not(x) => Node::Not(boxed(x)),
        Node::Binary(operator, span, a, b) => Node::Binary(operator, shift(span), boxed(a), boxed(b)),
        Node::If(a, b, c) => Node::If(boxed(a), boxed(b), boxed(c)),
        Node::Call(name, span, arguments) => {
            Node::Call(name, shift(span), arguments.into_iter().map(|x| moved_expr(x, by)).collect())
        }
        leaf => leaf,
    };
    expr
}

fn check_hole(expr: &Expr, unit: Option<&'static Unit>, scope: &dyn Scope) -> Result<Checked, Vec<Problem>> {
    let checked = check(expr, scope, None)?.as_one();
    let Some(unit) = unit else { return Ok(checked) };
    match checked.ty() {
        Type::One(Kind::Measure(measure)) | Type::Series(Kind::Measure(measure), _)
            if measure.family() == unit.family =>
        {
            Ok(checked)
        }
        ty => Err(vec![Problem::new(
            "wrong-unit",
            expr.span,
            format!("{} cannot show {ty}", unit.symbol),
            "take a unit of the right kind, or leave `in …` out",
        )]),
    }
}
