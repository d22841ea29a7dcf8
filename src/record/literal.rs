//! TOML values as text: one way to write each, in TOML 1.0, safe to show in any editor.
//!
//! Only the two string writers know of the reserved beginning of a line (see
//! [`RESERVED`]): because of them a line that begins so is always a seal.

use toml::Value;

use crate::words::is_harmless;

/// How a seal's line begins; no other line of a record does.
pub(super) const RESERVED: &str = "seal = ";

/// Writes a key, in quotes when it needs them.
pub(super) fn key(out: &mut String, name: &str) {
    let bare = |c: char| c.is_ascii_alphanumeric() || c == '_' || c == '-';
    if !name.is_empty() && name.chars().all(bare) {
        out.push_str(name);
    } else {
        string(out, name);
    }
}

/// Writes a text as a basic string on one line.
pub(super) fn string(out: &mut String, text: &str) {
    out.push('"');
    for c in text.chars() {
        match c {
            '"' => out.push_str("\\\""),
            '\n' => out.push_str("\\n"),
            '\t' => out.push_str("\\t"),
            _ => character(out, c),
        }
    }
    out.push('"');
}

/// Writes a text of many lines so that it can be read as it was: between `'''` when the text
/// allows it, else between `"""` with what is needed escaped.
pub(super) fn long_string(out: &mut String, text: &str) {
    if !text.contains('\n') {
        return string(out, text);
    }
    let plain = is_harmless(text) && !text.contains("'''") && !text.ends_with('\'');
    if plain && !text.lines().any(|line| line.starts_with(RESERVED)) {
        out.push_str("'''\n");
        out.push_str(text);
        out.push_str("'''");
    } else {
        escaped_lines(out, text);
    }
}

/// Writes a text between `"""`; a quote after a quote is escaped, and one at the end.
fn escaped_lines(out: &mut String, text: &str) {
    out.push_str("\"\"\"\n");
    let (mut left, mut after_quote) = (text.len(), false);
    for line in text.split_inclusive('\n') {
        let disguised = line.starts_with(RESERVED);
        for (i, c) in line.char_indices() {
            left -= c.len_utf8();
            match c {
                's' if disguised && i == 0 => out.push_str("\\u0073"),
                '"' if after_quote || left == 0 => out.push_str("\\\""),
                _ => character(out, c),
            }
            after_quote = c == '"' && !after_quote;
        }
    }
    out.push_str("\"\"\"");
}

/// Writes one character of a basic string; quotes, line ends and tabs as they are.
fn character(out: &mut String, c: char) {
    match c {
        '\\' => out.push_str("\\\\"),
        '\r' => out.push_str("\\r"),
        c if is_harmless(c.encode_utf8(&mut [0; 4])) => out.push(c),
        c if u32::from(c) <= 0xFFFF => out.push_str(&format!("\\u{:04X}", u32::from(c))),
        c => out.push_str(&format!("\\U{:08X}", u32::from(c))),
    }
}

/// Writes a number with the fewest digits that lead back to it. TOML has words for numbers that
/// are none, other readers choke on them; whoever calls has refused them.
pub(super) fn float(out: &mut String, number: f64) {
    out.push_str(&format!("{number:?}"));
}

/// Writes any value on one line.
pub(super) fn value(out: &mut String, value: &Value) {
    match value {
        Value::String(text) => string(out, text),
        Value::Integer(number) => out.push_str(&format!("{number}")),
        Value::Float(number) => float(out, *number),
        Value::Boolean(yes) => out.push_str(&format!("{yes}")),
        Value::Datetime(time) => {
            let mut time = *time;
            if let Some(time) = &mut time.time {
                time.second.get_or_insert(0);
            }
            out.push_str(&format!("{time}"));
        }
        Value::Array(items) => list(out, ['[', ']'], items.iter(), self::value),
        Value::Table(table) => list(out, ['{', '}'], table.iter(), |out, (name, item)| {
            key(out, name);
            out.push_str(" = ");
            self::value(out, item);
        }),
    }
}

/// Writes items between brackets, with commas.
fn list<T>(
    out: &mut String,
    [open, close]: [char; 2],
    items: impl Iterator<Item = T>,
    write: impl Fn(&mut String, T),
) {
    out.push(open);
    for (i, item) in items.enumerate() {
        out.push_str(if i == 0 { "" } else { ", " });
        write(out, item);
    }
    out.push(close);
}

/// Whether every number in a value is one.
pub(super) fn is_finite(value: &Value) -> bool {
    match value {
        Value::Float(number) => number.is_finite(),
        Value::Array(items) => items.iter().all(is_finite),
        Value::Table(table) => table.values().all(is_finite),
        _ => true,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn read(text: &str) -> Value {
        let table: toml::Table = text.parse().unwrap_or_else(|e| panic!("{text:?}: {e}"));
        table["it"].clone()
    }

    fn long(text: &str) -> String {
        let mut out = "it = ".to_string();
        long_string(&mut out, text);
        out
    }

    #[test]
    fn plain_lines_stay_plain() {
        assert_eq!(long("a = 1\nb = \"x\"\n"), "it = '''\na = 1\nb = \"x\"\n'''");
    }

    #[test]
    fn windows_line_ends_are_kept_in_sight() {
        assert_eq!(long("a = \"\"\"\r\nb\r\n"), "it = \"\"\"\na = \"\\\"\"\\r\nb\\r\n\"\"\"");
    }

    #[test]
    fn a_line_like_a_seal_is_disguised() {
        assert_eq!(long("x\nseal = \"0\"\n"), "it = \"\"\"\nx\n\\u0073eal = \"0\"\n\"\"\"");
    }

    /// Only the first letter of a line that would be taken for a seal.
    #[test]
    fn nothing_but_what_must_be_is_disguised() {
        assert_eq!(
            long("so is seals\nseal = \"sss\"\nsealed = 's'\n"),
            "it = \"\"\"\nso is seals\n\\u0073eal = \"sss\"\nsealed = 's'\n\"\"\""
        );
        assert_eq!(long("\"a\"\n'''\"\"\"\n\"\""), "it = \"\"\"\n\"a\"\n'''\"\\\"\"\n\"\\\"\"\"\"");
    }

    #[test]
    fn a_time_is_written_with_its_seconds() {
        for (text, expected) in [
            ("it = 07:32:00", "07:32:00"),
            ("it = 07:32:09.5", "07:32:09.5"),
            ("it = 07:32", "07:32:00"),
            ("it = 2031-04-05T09:01Z", "2031-04-05T09:01:00Z"),
            ("it = 2031-04-05", "2031-04-05"),
        ] {
            let mut out = String::new();
            value(&mut out, &read(text));
            assert_eq!(out, expected);
        }
    }

    #[test]
    fn one_character_at_a_time() {
        let mut out = String::new();
        "\\\ra\u{1b}\u{7f}\u{feff}\u{10ffff}".chars().for_each(|c| character(&mut out, c));
        assert_eq!(out, "\\\\\\ra\\u001B\\u007F\\uFEFF\u{10ffff}");
    }

    #[test]
    fn numbers_that_are_none_are_found_however_deep() {
        for (text, finite) in [
            ("it = 1.0", true),
            ("it = nan", false),
            ("it = [1.0, inf]", false),
            ("it = [1.0, 2]", true),
            ("it = { a = { b = -inf } }", false),
            ("it = { a = { b = \"inf\" } }", true),
        ] {
            assert_eq!(is_finite(&read(text)), finite, "{text}");
        }
    }

    #[test]
    fn odd_keys_are_quoted() {
        let mut out = String::new();
        value(&mut out, &read("it = { a-b = 1, \"é.\" = [true, 1e300] }"));
        assert_eq!(out, "{a-b = 1, \"é.\" = [true, 1e300]}");
    }

    /// Texts made of the characters and marks that make trouble in TOML.
    fn hostile() -> impl Strategy<Value = String> {
        let piece = prop_oneof![
            Just("'''".to_string()),
            Just("\"\"\"".to_string()),
            Just("\"".to_string()),
            Just("\\".to_string()),
            Just("\r\n".to_string()),
            Just("\n".to_string()),
            Just("\nseal = \"".to_string()),
            Just("seal = ".to_string()),
            Just("\n[[entry]]\n".to_string()),
            Just("\u{7f}\u{0}\u{1b}".to_string()),
            Just("\u{202e}\u{feff}\u{2028}\u{10ffff}".to_string()),
            any::<char>().prop_map(String::from),
            "[ -~]{0,8}",
        ];
        proptest::collection::vec(piece, 0..12).prop_map(|pieces| pieces.concat())
    }

    proptest! {
        #[test]
        fn any_text_leads_back(text in hostile()) {
            let mut short = "it = ".to_string();
            string(&mut short, &text);
            let long = long(&text);
            prop_assert_eq!(read(&short), Value::String(text.clone()));
            prop_assert_eq!(read(&long), Value::String(text.clone()));
            prop_assert!(!short.contains('\n'));
            prop_assert!(!long.split('\n').any(|line| line.starts_with(RESERVED)), "{}", long);
            prop_assert!(is_harmless(&short) && is_harmless(&long));
        }

        #[test]
        fn any_number_leads_back(bits in any::<u64>()) {
            let number = f64::from_bits(bits);
            prop_assume!(number.is_finite());
            let mut out = "it = ".to_string();
            float(&mut out, number);
            prop_assert_eq!(read(&out).as_float().map(f64::to_bits), Some(bits));
        }
    }
}
