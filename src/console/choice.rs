//! Choices: what Tab makes of a beginning, and why a text means none of them.

use crate::words::{choice_signs, is_yes_or_no, list, near};

/// What Tab makes of what is typed so far: the words that begin so, as far as they agree;
/// `None` when that adds nothing.
pub(super) fn completed<'a>(typed: &str, words: impl Iterator<Item = &'a str>) -> Option<String> {
    if typed.is_empty() {
        return None;
    }
    let typed = typed.to_lowercase();
    let mut fitting = words.filter(|word| word.to_lowercase().starts_with(&typed));
    let first = fitting.next()?;
    let mut common = first.chars().count();
    for other in fitting {
        common = first.chars().zip(other.chars()).take(common).take_while(|(a, b)| a == b).count();
    }
    let found: String = first.chars().take(common).collect();
    (found.chars().count() > typed.chars().count()).then_some(found)
}

/// The most choices that are named again in a refusal.
const MOST_CHOICES_NAMED: usize = 6;

/// Why a text means none of the choices.
pub(super) fn no_such_choice(text: &str, options: &[(String, String)]) -> String {
    if is_yes_or_no(options) {
        return match text {
            "" => "Type yes or no.".to_string(),
            _ => format!("`{text}` is neither yes nor no."),
        };
    }
    let signs = choice_signs(options);
    let range = format!("{} to {}", signs.first().map_or("", |s| s), signs.last().map_or("", |s| s));
    if text.is_empty() {
        return format!("Type the number or the word of one of them ({range}).");
    }
    let typed = text.to_lowercase();
    let begin: Vec<String> = options
        .iter()
        .map(|(value, _)| value)
        .filter(|value| value.to_lowercase().starts_with(&typed))
        .map(|value| format!("`{value}`"))
        .collect();
    if begin.len() > 1 {
        return format!("`{text}` could mean {}: type more of it.", list(&begin, "or"));
    }
    let values: Vec<&str> = options.iter().map(|(value, _)| value.as_str()).collect();
    match near(&typed, values.iter().copied()) {
        Some(value) => format!("`{text}` is none of them: did you mean `{value}`?"),
        None if values.len() <= MOST_CHOICES_NAMED => {
            format!("`{text}` is none of these: {}.", list(&values, "or"))
        }
        None => format!("`{text}` is none of them. Type the number or the word of one ({range})."),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::words::chosen;

    fn options(pairs: &[(&str, &str)]) -> Vec<(String, String)> {
        pairs.iter().map(|(value, words)| (value.to_string(), words.to_string())).collect()
    }

    #[test]
    fn a_bare_yes_or_no_has_no_numbers() {
        let bare = options(&[("yes", "yes"), ("no", "")]);
        assert_eq!(
            ["y", "NO", "1", "2", ""].map(|typed| chosen(typed, &bare)),
            [Some(0), Some(1), None, None, None]
        );
        assert_eq!(no_such_choice("2", &bare), "`2` is neither yes nor no.");
        assert_eq!(no_such_choice("", &bare), "Type yes or no.");
        for listed in [
            options(&[("yes", "yes, that is what it shows"), ("no", "no")]),
            options(&[("yes", "yes"), ("no", "no"), ("unsure", "unsure")]),
            options(&[("yes", "yes"), ("never", "never")]),
        ] {
            assert!(!is_yes_or_no(&listed));
            assert_eq!(chosen("2", &listed), Some(1));
        }
    }

    #[test]
    fn tab_goes_as_far_as_the_words_agree() {
        let words = ["run flush", "run new-tank", "leave", "Größe", "pause"];
        let completed = ["r", "run ", "run f", "LE", "leave", "gr", "x", ""]
            .map(|typed| completed(typed, words.into_iter()).unwrap_or_default());
        assert_eq!(completed, ["run ", "", "run flush", "leave", "", "Größe", "", ""]);
    }
}
