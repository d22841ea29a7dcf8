//! Slips in texts and their quotes.

use super::line::{Slip, SlipLine};

/// Quotes of word processors.
const CURLY: &[char] = &['“', '”', '„', '‟', '«', '»', '‘', '’', '‚'];

/// What is wrong with a value that is a text, or should be one.
pub(super) fn slip(line: &SlipLine<'_>) -> Option<Slip> {
    let value = line.value?;
    curly(line, value)
        .or_else(|| backslash(line, value))
        .or_else(|| quoted(line, value))
        .or_else(|| without_quotes(line, value))
}

fn curly(line: &SlipLine<'_>, value: &str) -> Option<Slip> {
    let first = value.chars().next().filter(|c| CURLY.contains(c))?;
    let inside = value.trim_matches(|c: char| CURLY.contains(&c) || c == '"');
    let write = line.write(format_args!("\"{inside}\""));
    let remedy = format!("{write}, with the straight quotes of the keyboard");
    Some(Slip::new("these are the curly quotes of a word processor", &first.to_string(), remedy))
}

fn backslash(line: &SlipLine<'_>, value: &str) -> Option<Slip> {
    if !line.said.contains("escape") {
        return None;
    }
    let mended = match value.strip_suffix("\\\"") {
        Some(before) => format!("{}\"", before.trim_end()),
        None => value.replace('\\', "/"),
    };
    let remedy = format!("{}; a backslash itself is written twice, `\\\\`", line.write(mended));
    Some(Slip::new("a backslash changes what the next letter means", "\\", remedy))
}

/// A text in straight quotes, and what stands behind it.
fn quoted(line: &SlipLine<'_>, value: &str) -> Option<Slip> {
    let quote = value.chars().next().filter(|c| matches!(c, '"' | '\''))?;
    if value.starts_with("\"\"\"") || value.starts_with("'''") {
        let remedy = format!("write {} on a line of its own where the text ends", &value[..3]);
        return Some(Slip::new("the text is not closed", &value[..3], remedy).running_on());
    }
    let Some(close) = value[1..].find(quote).map(|at| at + 1) else {
        return Some(not_closed(line, value, quote));
    };
    let (text, rest) = (&value[..=close], value[close + 1..].trim());
    if let Some(words) = rest.strip_prefix("//") {
        return Some(Slip::new("a comment begins with `#`", rest, format!("write `# {}`", words.trim())));
    }
    if matches!(rest, "," | ";" | ".") {
        let message = format!("`{rest}` does not belong at the end of the line");
        return Some(Slip::new(message, rest, line.write(text)));
    }
    if rest.starts_with(',') && rest[1..].trim_start().starts_with(quote) {
        let remedy = line.write(format_args!("[{value}]"));
        return Some(Slip::new("several texts stand in square brackets", value, remedy));
    }
    inside(line, (value, rest), quote)
}

/// A text whose line ends before it does.
fn not_closed(line: &SlipLine<'_>, value: &str, quote: char) -> Slip {
    if let Some(last) = value.chars().next_back().filter(|c| CURLY.contains(c)) {
        let remedy = line.write(format_args!("{}{quote}", value.trim_end_matches(last)));
        return Slip::new("this is a curly quote of a word processor", &last.to_string(), remedy);
    }
    let goes_on = line.below.ends_with(quote) && line.below.matches(quote).count() == 1;
    if goes_on {
        let write = line.write(format_args!("{value} {}", line.below));
        let remedy = format!("{write}, or put three quotes, `\"\"\"`, around a text of several lines");
        return Slip::new("a text in plain quotes stands on one line", value, remedy).running_on();
    }
    Slip::new("the text is not closed", value, line.write(format_args!("{value}{quote}"))).running_on()
}

/// Quotes inside a text end it.
fn inside(line: &SlipLine<'_>, (value, rest): (&str, &str), quote: char) -> Option<Slip> {
    if rest.is_empty() {
        return None;
    }
    let words = value.strip_prefix(quote)?;
    let words = words.strip_suffix(quote).unwrap_or(words);
    if quote == '\'' {
        let remedy = line.write(format_args!("\"{}\"", words.replace('"', "'")));
        return Some(Slip::new("the apostrophe ends the text", rest, remedy));
    }
    let remedy = line.write(format_args!("\"{}\"", without_inches(words).replace('"', "'")));
    Some(Slip::new("the quotes inside end the text", rest, remedy))
}

/// Quotes behind figures are inches.
fn without_inches(words: &str) -> String {
    let mut written = String::new();
    for c in words.chars() {
        match c {
            '"' if written.ends_with(|before: char| before.is_ascii_digit()) => written.push_str(" in"),
            other => written.push(other),
        }
    }
    written
}

/// A text without its quotes, or with only one of them.
fn without_quotes(line: &SlipLine<'_>, value: &str) -> Option<Slip> {
    if !value.starts_with(|c: char| c.is_alphabetic()) {
        return None;
    }
    let inner = value.strip_suffix(['"', '\'']).filter(|inner| !inner.contains(['"', '\'']));
    let message = match inner {
        Some(_) => "the first quote is missing",
        None => "a text stands in quotes",
    };
    let words = inner.unwrap_or(value).replace('"', "'");
    Some(Slip::new(message, value, line.write(format_args!("\"{words}\""))))
}
