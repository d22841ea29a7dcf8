//! Cutting an expression into tokens.

use super::Problem;
use crate::quantity::{
    NumberPlace, Unit, Unreadable, clock_at_start, fraction_at_start, from_vacuum, number_at_start,
    on_a_gauge, unit, unit_at_start,
};
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

/// Signs that mean another: the true minus and the dash that stands in for it, the plus-minus.
const SAME_SIGNS: &[(char, &str)] = &[('±', "+-"), ('−', "-"), ('–', "-")];

/// Cuts `text` into tokens with their spans; the last is [`Token::End`].
pub(super) fn tokens(text: &str) -> Result<Vec<(Token<'_>, Span)>, Problem> {
    // Few expressions have more than one token in four bytes.
    let mut found = Vec::with_capacity(text.len() / 4 + 2);
    let (mut at, mut open) = (0, 0_usize);
    while let Some(c) = text[at..].chars().next() {
        if c.is_whitespace() {
            at += c.len_utf8();
            continue;
        }
        let standing = if open == 0 { NumberPlace::Open } else { NumberPlace::Listed };
        let (token, length) = token_at(text, at, standing)?;
        match token {
            Token::Sign("(") => open += 1,
            Token::Sign(")") => open = open.saturating_sub(1),
            _ => {}
        }
        found.push((token, Span::new(at, at + length)));
        at += length;
    }
    found.push((Token::End, Span::new(text.len(), text.len())));
    Ok(found)
}

fn token_at(text: &str, at: usize, standing: NumberPlace) -> Result<(Token<'_>, usize), Problem> {
    let rest = &text[at..];
    let first = rest.chars().next().unwrap_or(' ');
    if first.is_ascii_alphabetic() || first == '_' {
        let length = name_length(rest);
        return Ok((Token::Name(&rest[..length]), length));
    }
    if first == '\'' {
        return quoted(rest, at);
    }
    if let Some(found) = number(text, at, standing)? {
        return Ok(found);
    }
    if let Some(sign) = SIGNS.iter().find(|sign| rest.starts_with(**sign)) {
        return Ok((Token::Sign(sign), sign.len()));
    }
    if let Some((_, sign)) = SAME_SIGNS.iter().find(|(c, _)| *c == first) {
        return Ok((Token::Sign(sign), first.len_utf8()));
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
    let message = format!("`{}` has no meaning here", crate::words::harmless(&c.to_string()));
    Problem::new("stray-sign", span, message, remedy)
}

fn name_length(rest: &str) -> usize {
    rest.find(|c: char| !(c.is_ascii_alphanumeric() || c == '_')).unwrap_or(rest.len())
}

fn quoted(rest: &str, at: usize) -> Result<(Token<'_>, usize), Problem> {
    match rest[1..].find('\'') {
        Some(end) => Ok((Token::Word(&rest[1..=end]), end + 2)),
        None => {
            let (span, remedy) = (Span::new(at, at + rest.len()), "close it with another single quote");
            Err(Problem::new("open-quote", span, "this word in quotes does not end", remedy))
        }
    }
}

/// The number that begins at `at`, with its unit and what of the next smaller unit follows it.
fn number(text: &str, at: usize, standing: NumberPlace) -> Result<Option<(Token<'_>, usize)>, Problem> {
    let rest = &text[at..];
    if let Some((seconds, length)) = clock_at_start(rest) {
        return Ok(Some((Token::Number(seconds, unit("s")), length)));
    }
    let divides = text[..at].trim_end().ends_with(['*', '/']);
    let fraction =
        fraction_at_start(rest).filter(|(_, length)| !divides && unit_after(&rest[*length..]).is_some());
    let found = match fraction {
        Some(fraction) => Some(fraction),
        None => number_at_start(rest, standing).map_err(|problem| unreadable(problem, rest, at))?,
    };
    let Some((value, length)) = found else {
        let begins = rest.starts_with(|c: char| c.is_ascii_digit());
        return if begins { Err(unreadable(Unreadable::Empty, rest, at)) } else { Ok(None) };
    };
    let Some((unit, more)) = unit_after(&rest[length..]) else {
        let gap = gap(&rest[length..]);
        no_unit(&rest[length + gap..], value, at + length + gap)?;
        return Ok(Some((Token::Number(value, None), length)));
    };
    let length = length + more;
    let (part, more) = smaller_part(&rest[length..], unit).unwrap_or_default();
    Ok(Some((Token::Number(value + part, Some(unit)), length + more)))
}

/// The unit behind a number, and its length with the space before it.
fn unit_after(rest: &str) -> Option<(&'static Unit, usize)> {
    let gap = gap(rest);
    let after = &rest[gap..];
    let (unit, size) = unit_at_start(after)?;
    let asks_for_display = unit.symbol == "in" && size == 2 && names_unit(&after[size..]);
    (!asks_for_display).then_some((unit, gap + size))
}

/// How much space of any sort a text begins with.
fn gap(text: &str) -> usize {
    text.len() - text.trim_start().len()
}

/// The `2 in` of `6 ft 2 in`, in the first one's unit.
fn smaller_part(rest: &str, first: &Unit) -> Option<(f64, usize)> {
    let gap = gap(rest);
    let (value, length) = number_at_start(&rest[gap..], NumberPlace::Listed).ok().flatten()?;
    let (unit, more) = unit_after(&rest[gap + length..])?;
    let fits = gap > 0 && unit.divides(first, value);
    fits.then_some((value * unit.size / first.size, gap + length + more))
}

/// What a number is that cannot be read, with the digits it is about.
fn unreadable(problem: Unreadable, rest: &str, at: usize) -> Problem {
    let length = rest.find(|c: char| !(c.is_ascii_digit() || c == '.' || c == ',')).unwrap_or(rest.len());
    let (message, remedy) = match problem {
        Unreadable::TooLarge(_) => {
            ("this number is too large to mean anything".into(), "write a smaller one".into())
        }
        Unreadable::Comma(one, other) => {
            ("the comma can mean two things here".to_string(), format!("write {one} or {other}"))
        }
        _ => (format!("`{}` is no number", &rest[..length]), "write it as in 2.5".to_string()),
    };
    Problem::new("bad-number", Span::new(at, at + length), message, remedy)
}

/// `2 in gal` asks for display in gallons, `2 in` is two inches.
fn names_unit(after_in: &str) -> bool {
    after_in.starts_with(' ') && unit_at_start(after_in.trim_start()).is_some()
}

/// A word straight after a number that is no keyword can only be a mistyped unit.
fn no_unit(after: &str, value: f64, at: usize) -> Result<(), Problem> {
    let word = &after[..name_length(after)];
    if word.is_empty() || KEYWORDS.contains(&word) || word.starts_with(|c: char| c.is_ascii_digit()) {
        return Ok(());
    }
    let span = Span::new(at, at + word.len());
    if let Some(unit) = from_vacuum(word) {
        let message = format!("`{word}` counts from vacuum, and pressures here are as on a gauge");
        let remedy = format!("at sea level write {}", on_a_gauge(value, unit));
        return Err(Problem::new("unknown-unit", span, message, remedy));
    }
    let symbols: Vec<&str> = crate::quantity::UNITS.iter().map(|u| u.symbol).collect();
    let remedy = crate::words::did_you_mean(word, &symbols);
    Err(Problem::new("unknown-unit", span, format!("there is no unit `{word}`"), remedy))
}
