//! Slips in what a line is: a heading in brackets, a key with its value, a comment.

use super::line::{Slip, SlipLine};

/// What begins a comment elsewhere.
const OTHER_COMMENTS: &[&str] = &["//", "--", "/*", ";", "%"];

/// What is wrong with a line as a whole.
pub(super) fn slip(line: &SlipLine<'_>) -> Option<Slip> {
    let text = line.text.trim();
    twice(line, text)
        .or_else(|| comment(text))
        .or_else(|| open_list(line, text))
        .or_else(|| heading(text))
        .or_else(|| look_alike(line, text))
        .or_else(|| other_equals(line, text))
        .or_else(|| key(line, text))
}

/// A key or a heading that stands there already.
fn twice(line: &SlipLine<'_>, text: &str) -> Option<Slip> {
    if !line.said.contains("duplicate key") {
        return None;
    }
    if let Some(name) = text.strip_prefix('[').and_then(|rest| rest.strip_suffix(']')) {
        let several = matches!(name, "step" | "fact" | "state" | "tank" | "gauge");
        let remedy = match several {
            true => format!("there may be several: write each with two brackets, `[[{name}]]`"),
            false => format!("put the keys below the first `[{name}]`, and take this line out"),
        };
        let slip = Slip::new(format!("`[{name}]` stands twice"), text, remedy);
        return Some(Slip { runs_on: several, ..slip });
    }
    let message = format!("`{}` stands twice here", line.key);
    Some(Slip::new(message, line.key, "keep the one that is meant, or begin another table above this line"))
}

fn comment(text: &str) -> Option<Slip> {
    let sign = OTHER_COMMENTS.iter().find(|sign| text.starts_with(**sign))?;
    let words = text.trim_start_matches(|c: char| c.is_ascii_punctuation()).trim();
    let words = words.trim_end_matches("*/").trim();
    Some(Slip::new(format!("a comment does not begin with `{sign}`"), sign, format!("write `# {words}`")))
}

/// `[[step]`, `[step]]`, `((step))`, and a key on the same line.
fn heading(text: &str) -> Option<Slip> {
    let bracket = |c: char| matches!(c, '[' | ']' | '(' | ')');
    if !text.starts_with(['[', '(']) {
        return None;
    }
    let name: String = text
        .trim_start_matches(bracket)
        .chars()
        .take_while(|c| c.is_ascii_alphanumeric() || matches!(c, '_' | '-' | '.'))
        .collect();
    let rest = text.split_once(&name).map_or("", |(_, rest)| rest).trim_start_matches(bracket).trim();
    if name.is_empty() {
        return None;
    }
    let twice = !matches!(name.as_str(), "switch" | "pump" | "relief" | "house" | "takes" | "gives");
    let whole = if twice { format!("[[{name}]]") } else { format!("[{name}]") };
    if !rest.is_empty() && !rest.starts_with('#') {
        let message = format!("`{whole}` stands on a line of its own");
        return Some(Slip::new(message, rest, format!("write `{rest}` on the next line")));
    }
    Some(Slip::new("the brackets do not match", text, format!("write `{whole}`")))
}

/// A list that was not closed, or lacks a comma: the parser stops where the next thing begins.
fn open_list(line: &SlipLine<'_>, text: &str) -> Option<Slip> {
    let list = line.said.contains("array") && !line.said.contains("table");
    if !list || line.value.is_some_and(|value| value.starts_with('[')) {
        return None;
    }
    let above = line.above;
    if text.starts_with(['"', '\'']) {
        let remedy =
            format!("write a comma at the end of the line above: `{},`", above.trim_end_matches(','));
        return Some(Slip::new("a comma is missing before this", text, remedy));
    }
    let remedy = format!("write `]` behind it: `{above}]`");
    Some(Slip::new("the list above is not closed", text, remedy).running_on())
}

/// Signs that only look like a space or an equals sign.
fn look_alike(line: &SlipLine<'_>, text: &str) -> Option<Slip> {
    if let Some(at) = text.find('＝') {
        let (key, value) = (text[..at].trim(), text[at + '＝'.len_utf8()..].trim());
        let message = "this only looks like an equals sign";
        return Some(Slip::new(message, "＝", format!("write `{key} = {value}` with the keyboard's `=`")));
    }
    let odd = line.text.chars().find(|c| c.is_whitespace() && !matches!(c, ' ' | '\t'))?;
    let before_value = line.text.find(odd).is_some_and(|at| !line.text[..at].contains(['"', '\'']));
    let written: String = text.chars().map(|c| if c.is_whitespace() { ' ' } else { c }).collect();
    before_value.then(|| {
        let words: Vec<&str> = written.split_whitespace().collect();
        let remedy = format!("type the line again: `{}`", words.join(" "));
        Slip::new("this only looks like a space", &odd.to_string(), remedy)
    })
}

const EQUALS: &str = "`=` stands between a key and its value";

/// `:`, `:=`, `=>` and `==` for `=`.
fn other_equals(line: &SlipLine<'_>, text: &str) -> Option<Slip> {
    if line.said.contains("string") && line.value.is_some_and(|value| !value.starts_with(['>', '='])) {
        return None;
    }
    let (key, value, sign) = match line.value {
        Some(value) if value.starts_with('>') => (line.key, value[1..].trim(), "=>"),
        Some(value) if value.starts_with('=') => (line.key, value[1..].trim(), "=="),
        Some(value) if line.key.ends_with(':') => (line.key.trim_end_matches(':').trim(), value, ":="),
        _ => {
            if text.starts_with(['{', '}']) || text.starts_with('"') && line.value.is_none() {
                let remedy = "write `format = 1` on the first line, and each key with its value on a line: \
                              `title = \"…\"`";
                return Some(Slip::new("this is written in another format", "", remedy).running_on());
            }
            let inner = text.find(": ").or_else(|| text.ends_with(':').then(|| text.len() - 1))?;
            let (key, value) = (text[..inner].trim(), text[inner + 1..].trim());
            if key.contains('{') {
                let remedy = format!("write `{}`", text.replacen(": ", " = ", 1));
                return Some(Slip::new(EQUALS, ":", remedy));
            }
            (key, value, ":")
        }
    };
    let key = key.trim_start_matches("- ").trim();
    if key.is_empty() || key.contains(['"', '\'']) {
        return None;
    }
    let remedy = match (key.trim_end_matches('s'), value) {
        (single @ ("step" | "fact" | "state" | "tank" | "gauge"), "") => {
            format!("write each of them with a heading of its own: `[[{single}]]`")
        }
        (_, "") => format!("write `{key} = …`"),
        _ if text.starts_with("- ") => format!("write `[[step]]` above it, and `{key} = {value}`"),
        _ => format!("write `{key} = {value}`"),
    };
    Some(Slip::new(EQUALS, sign, remedy))
}

/// A key with a space in it, or without a value.
fn key(line: &SlipLine<'_>, text: &str) -> Option<Slip> {
    let plain = |word: &str| word.chars().all(|c| c.is_ascii_alphanumeric() || matches!(c, '_' | '-'));
    let words: Vec<&str> = line.key.split_whitespace().collect();
    match (line.value, words.as_slice()) {
        (Some(value), [_, _, ..]) if words.iter().all(|word| plain(word)) => {
            let key = words.join("_");
            Some(Slip::new("a key is one word", line.key, format!("write `{key} = {value}`")))
        }
        (None, [key]) if plain(key) => {
            let remedy = format!("write `{key} = …`, or take the line out");
            Some(Slip::new(format!("`{key}` has no value"), key, remedy))
        }
        (None, [key, rest @ ..]) if plain(key) && rest[0].starts_with(['"', '\'', '[', '{']) => {
            let value = text[key.len()..].trim();
            Some(Slip::new("`=` is missing behind the key", key, format!("write `{key} = {value}`")))
        }
        _ => None,
    }
}

/// A line that is like nothing known.
pub(super) fn of_no_sort(line: &SlipLine<'_>) -> Slip {
    let remedy =
        "a line is a key with its value (`title = \"…\"`), a heading (`[[step]]`) or a comment (`# …`)";
    let message = match line.value {
        Some(_) => format!("what stands behind `{} =` is no value", line.key),
        None => "this line is none that such a file has".to_string(),
    };
    Slip::new(message, line.text.trim(), remedy)
}
