//! Cutting an expression into tokens.

use super::Problem;
use crate::quantity::{Unit, unit_at_start};
use crate::source::Span;

/// The words that cannot be names.
pub const KEYWORDS: &[&str] =
    &["and", "or", "not", "if", "then", "else", "otherwise", "in", "known", "yes", "no"];

/// One token.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Token<'t> {
    /// A number, with the unit written after it.
    Number(f64, Option<&'static Unit>),
    /// A name or keyword.
    Name(&'t str),
    /// A word in single quotes.
    Word(&'t str),
    /// An operator or bracket.
    Sign(&'static str),
    /// The end.
    End,
}

const SIGNS: &[&str] = &["+-", "<=", ">=", "==", "!=", "<", ">", "+", "-", "*", "/", "(", ")", ","];

/// Cuts `text` into tokens with their spans; the last is [`Token::End`].
pub(super) fn tokens(text: &str) -> Result<Vec<(Token<'_>, Span)>, Problem> {
    // Few expressions have more than one token in four bytes.
    let mut found = Vec::with_capacity(text.len() / 4 + 2);
    let mut at = 0;
    while let Some(c) = text[at..].chars().next() {
        if c.is_whitespace() {
            at += c.len_utf8();
            continue;
        }
        let (token, length) = token_at(text, at)?;
        found.push((token, Span::new(at, at + length)));
        at += length;
    }
    found.push((Token::End, Span::new(text.len(), text.len())));
    Ok(found)
}

fn token_at(text: &str, at: usize) -> Result<(Token<'_>, usize), Problem> {
    let rest = &text[at..];
    let first = rest.chars().next().unwrap_or(' ');
    if first.is_ascii_digit() || (first == '.' && rest[1..].starts_with(|c: char| c.is_ascii_digit())) {
        return number(rest, at);
    }
    if first.is_ascii_alphabetic() || first == '_' {
        let length = name_length(rest);
        return Ok((Token::Name(&rest[..length]), length));
    }
    if first == '\'' {
        return quoted(rest, at);
    }
    if let Some(sign) = SIGNS.iter().find(|sign| rest.starts_with(**sign)) {
        return Ok((Token::Sign(sign), sign.len()));
    }
    if first == '±' {
        return Ok((Token::Sign("+-"), first.len_utf8()));
    }
    Err(stray(first, at))
}

fn stray(c: char, at: usize) -> Problem {
    let span = Span::new(at, at + c.len_utf8());
    let remedy = match c {
        '=' => "to compare, write `==`",
        '"' => "put words in single quotes: 'clear'",
        '×' => "to multiply, write `*`",
        '≤' => "write `<=`",
        '≥' => "write `>=`",
        '&' => "write `and`",
        '|' => "write `or`",
        '!' => "write `not`, or `!=` for not equal",
        _ => "take it out",
    };
    Problem::new(
        "stray-sign",
        span,
        format!("`{}` has no meaning here", crate::words::harmless(&c.to_string())),
        remedy,
    )
}

fn name_length(rest: &str) -> usize {
    rest.find(|c: char| !(c.is_ascii_alphanumeric() || c == '_')).unwrap_or(rest.len())
}

fn quoted(rest: &str, at: usize) -> Result<(Token<'_>, usize), Problem> {
    match rest[1..].find('\'') {
        Some(end) => Ok((Token::Word(&rest[1..=end]), end + 2)),
        None => Err(Problem::new(
            "open-quote",
            Span::new(at, at + rest.len()),
            "this word in quotes does not end",
            "close it with another single quote",
        )),
    }
}

fn number(rest: &str, at: usize) -> Result<(Token<'_>, usize), Problem> {
    let length = rest.find(|c: char| !(c.is_ascii_digit() || c == '.')).unwrap_or(rest.len());
    let span = Span::new(at, at + length);
    let value: f64 = rest[..length].parse().map_err(|_| {
        Problem::new("bad-number", span, format!("`{}` is no number", &rest[..length]), "write it as in 2.5")
    })?;
    if value > 1e15 {
        return Err(Problem::new(
            "bad-number",
            span,
            "this number is too large to mean anything",
            "write a smaller one",
        ));
    }
    let gap = rest[length..].len() - rest[length..].trim_start_matches(' ').len();
    let after = &rest[length + gap..];
    match unit_at_start(after) {
        Some((unit, size)) if !(unit.symbol == "in" && size == 2 && names_unit(&after[size..])) => {
            Ok((Token::Number(value, Some(unit)), length + gap + size))
        }
        _ => unknown_unit(after, value, Span::new(at + length + gap, at + rest.len()), length),
    }
}

/// `2 in gal` asks for display in gallons, `2 in` is two inches.
fn names_unit(after_in: &str) -> bool {
    after_in.starts_with(' ') && unit_at_start(after_in.trim_start()).is_some()
}

/// A word straight after a number that is no keyword can only be a mistyped unit.
fn unknown_unit(after: &str, value: f64, rest: Span, length: usize) -> Result<(Token<'_>, usize), Problem> {
    let word = &after[..name_length(after)];
    if word.is_empty() || KEYWORDS.contains(&word) || word.starts_with(|c: char| c.is_ascii_digit()) {
        return Ok((Token::Number(value, None), length));
    }
    let symbols: Vec<&str> = crate::quantity::UNITS.iter().map(|u| u.symbol).collect();
    Err(Problem::new(
        "unknown-unit",
        Span::new(rest.start, rest.start + word.len()),
        format!("there is no unit `{word}`"),
        crate::words::did_you_mean(word, &symbols),
    ))
}
