//! Slips in values that are no texts in quotes: yes and no, numbers, units, lists.

use super::line::{Slip, SlipLine};

/// Words that stand for a yes elsewhere.
const YES: &[&str] = &["yes", "y", "on", "true"];
/// Words that stand for a no elsewhere.
const NO: &[&str] = &["no", "n", "off", "false", "none", "null", "nil"];

/// Numbers written as words.
const NUMBERS: &[&str] =
    &["zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"];

/// What is wrong with a value that does not begin with a quote.
pub(super) fn slip(line: &SlipLine<'_>) -> Option<Slip> {
    let value = line.value?;
    if value.starts_with(['"', '\'']) {
        return None;
    }
    let bare = value.trim_end_matches([',', ';', '.']);
    empty(line, value)
        .or_else(|| truth(line, bare))
        .or_else(|| other_brackets(line, value))
        .or_else(|| list(line, value))
        .or_else(|| table(line, value))
        .or_else(|| number(line, bare))
}

fn empty(line: &SlipLine<'_>, value: &str) -> Option<Slip> {
    let message = || format!("nothing stands behind `{} =`", line.key);
    let remedy = || format!("{}, or take the line out", line.write("\"…\""));
    value.is_empty().then(|| Slip::new(message(), line.text.trim(), remedy()))
}

fn truth(line: &SlipLine<'_>, bare: &str) -> Option<Slip> {
    let is = |words: &[&str]| words.iter().any(|word| bare.eq_ignore_ascii_case(word));
    let yes = is(YES);
    if !yes && !is(NO) {
        return None;
    }
    let word = matches!(bare, "on" | "off" | "none" | "null" | "nil");
    let mut remedy = line.write(yes);
    if word {
        remedy += &format!("; where the word is meant, `{} = \"{bare}\"`", line.key);
    }
    Some(Slip::new(format!("`{bare}` is no value here: yes and no are written true and false"), bare, remedy))
}

/// Round brackets or braces around a list.
fn other_brackets(line: &SlipLine<'_>, value: &str) -> Option<Slip> {
    let open = value.chars().next().filter(|c| matches!(c, '(' | '{'))?;
    if open == '{' && value.contains('=') {
        return None;
    }
    let inside = value.trim_matches(['(', ')', '{', '}']);
    let remedy = line.write(format_args!("[{}]", inside.trim()));
    Some(Slip::new("a list stands in square brackets", value, remedy))
}

/// A list with its items not quoted or without commas between them.
fn list(line: &SlipLine<'_>, value: &str) -> Option<Slip> {
    let inside = value.strip_prefix('[')?;
    let Some(inside) = inside.strip_suffix(']') else {
        let remedy = line.write(format_args!("{value}]"));
        return Some(Slip::new("the list is not closed", value, remedy).running_on());
    };
    if !inside.contains(['"', '\'']) {
        let items: Vec<String> = inside.split(',').map(|item| format!("\"{}\"", item.trim())).collect();
        let remedy = line.write(format_args!("[{}]", items.join(", ")));
        return Some(Slip::new("each text of a list stands in quotes", inside, remedy));
    }
    let items = inside.split('"').map(str::trim).filter(|item| !matches!(*item, "" | ","));
    let items: Vec<String> = items.map(|item| format!("\"{item}\"")).collect();
    let remedy = line.write(format_args!("[{}]", items.join(", ")));
    Some(Slip::new("a comma is missing between two items", inside, remedy))
}

/// A table on one line that is not closed.
fn table(line: &SlipLine<'_>, value: &str) -> Option<Slip> {
    let open = value.starts_with('{') && !value.ends_with('}');
    let remedy = || line.write(format_args!("{} }}", value.trim_end_matches(',')));
    open.then(|| Slip::new("the braces are not closed on this line", value, remedy()).running_on())
}

/// Numbers with units, commas, leading zeros; numbers as words.
fn number(line: &SlipLine<'_>, bare: &str) -> Option<Slip> {
    if let Some(number) = NUMBERS.iter().position(|word| bare.eq_ignore_ascii_case(word)) {
        return Some(Slip::new("a number is written in figures", bare, line.write(number)));
    }
    let signed = bare.trim_start_matches(['+', '-']);
    if !signed.starts_with(|c: char| c.is_ascii_digit() || c == '.') {
        return None;
    }
    let end = bare.find(|c: char| c.is_alphabetic() || c == '°' || c == '%').unwrap_or(bare.len());
    let (figures, unit) = (bare[..end].trim(), bare[end..].trim());
    if let Some((whole, part)) = figures.split_once(',') {
        return Some(comma(line, (whole, part), unit, bare));
    }
    if unit.is_empty() && figures.chars().all(|c| c.is_ascii_digit() || c == '.') {
        let plain = figures.trim_start_matches('0');
        let plain =
            if plain.is_empty() || plain.starts_with('.') { format!("0{plain}") } else { plain.to_string() };
        return Some(Slip::new("a number begins with its first figure", bare, line.write(plain)));
    }
    let written = if bare.starts_with('.') { format!("0{bare}") } else { bare.to_string() };
    let message = match unit {
        "" => "what is more than a number stands in quotes",
        _ => "a number with its unit stands in quotes",
    };
    Some(Slip::new(message, bare, line.write(format_args!("\"{written}\""))))
}

/// A comma in a number: for the point, or between thousands.
fn comma(line: &SlipLine<'_>, (whole, part): (&str, &str), unit: &str, bare: &str) -> Slip {
    let thousands = part.len() == 3 && part.chars().all(|c| c.is_ascii_digit()) && whole != "0";
    let number = if thousands { format!("{whole}{part}") } else { format!("{whole}.{part}") };
    let value = if unit.is_empty() { number } else { format!("\"{number} {unit}\"") };
    let message = match thousands {
        true => "thousands are written without a comma",
        false => "a point stands before decimals, not a comma",
    };
    Slip::new(message, bare, line.write(value))
}
