//! The Flesch-Kincaid grade: J. P. Kincaid, R. P. Fishburne, R. L. Rogers and B. S. Chissom,
//! *Derivation of New Readability Formulas for Navy Enlisted Personnel*, Research Branch Report
//! 8-75, Naval Technical Training, 1975: 0.39 words a sentence + 11.8 syllables a word − 15.59
//! (the numbers from memory).

use std::iter::Sum;

/// What the grade is reckoned from.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Count {
    pub sentences: usize,
    pub words: usize,
    pub syllables: usize,
}

impl Count {
    /// Of a text. A sentence ends at `.`, `?` or `!`; a text without an end mark is one.
    pub fn of(text: &str) -> Count {
        let mut count = Count::default();
        let mut open = false;
        for token in text.split_whitespace() {
            let words = token.split(['-', '/', '–']).filter(|part| part.chars().any(char::is_alphanumeric));
            for word in words {
                count.words += 1;
                count.syllables += syllables(word);
                open = true;
            }
            let end = token.trim_end_matches(['"', ')', '`', '\'']);
            if open && end.ends_with(['.', '?', '!']) {
                count.sentences += 1;
                open = false;
            }
        }
        count.sentences += usize::from(open);
        count
    }
}

/// The most words between two ends of a sentence.
pub fn longest_sentence(text: &str) -> usize {
    let (mut longest, mut words) = (0, 0);
    for token in text.split_whitespace() {
        words += Count::of(token).words;
        longest = longest.max(words);
        if token.trim_end_matches(['"', ')', '`', '\'']).ends_with(['.', '?', '!', ':']) {
            words = 0;
        }
    }
    longest
}

impl Sum for Count {
    fn sum<I: Iterator<Item = Count>>(counts: I) -> Count {
        counts.fold(Count::default(), |a, b| Count {
            sentences: a.sentences + b.sentences,
            words: a.words + b.words,
            syllables: a.syllables + b.syllables,
        })
    }
}

/// The school grade at which a text is read with ease.
pub fn grade(count: &Count) -> f64 {
    let words = count.words as f64;
    0.39 * words / count.sentences as f64 + 11.8 * count.syllables as f64 / words - 15.59
}

/// Syllables by rule: groups of the vowels a e i o u y, less a silent e at the end (not after a
/// consonant and l, as in `handle`), less the e of `-ed` (not after t or d) and of `-es` (not after
/// s, x, z, c, g, ch or sh); `ia`, `io`, `eo` and `ua` between letters are two, but for `tion`,
/// `sion`, `cious`, `cial`, `cian`. A word has at least one; a number counts as one.
pub fn syllables(word: &str) -> usize {
    let word: String = word.to_lowercase().chars().filter(char::is_ascii_alphabetic).collect();
    let letters: Vec<char> = word.chars().collect();
    let vowel = |c: char| "aeiouy".contains(c);
    let mut count = 0;
    for (at, &letter) in letters.iter().enumerate() {
        let before = at.checked_sub(1).map(|at| letters[at]);
        let starts = vowel(letter) && !before.is_some_and(vowel);
        let apart = matches!((before, letter), (Some('i'), 'a' | 'o') | (Some('e'), 'o') | (Some('u'), 'a'))
            && !["tion", "sion", "cial", "cious", "cian", "qua", "gua", "people"]
                .iter()
                .any(|end| word.contains(end));
        count += usize::from(starts || apart);
    }
    count -= usize::from(count > 1 && silent_end(&word));
    count.max(1)
}

fn silent_end(word: &str) -> bool {
    let consonant = |at: usize| word.chars().rev().nth(at).is_some_and(|c| !"aeiouy".contains(c));
    if word.ends_with("le") || word.ends_with("les") || word.ends_with("led") {
        let past = if word.ends_with("le") { 2 } else { 3 };
        return !consonant(past);
    }
    if let Some(stem) = word.strip_suffix("ed") {
        return consonant(2) && !stem.ends_with(['t', 'd']);
    }
    if let Some(stem) = word.strip_suffix("es") {
        return consonant(2) && !["s", "x", "z", "c", "g", "ch", "sh"].iter().any(|end| stem.ends_with(end));
    }
    word.ends_with('e') && consonant(1)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Counted by ear.
    #[test]
    fn syllables_of_words_that_the_procedures_use() {
        let words = [
            "a tank pump charge gauge drain house valve hose shut breath",
            "pressure water switch:1 bladder breaker bucket needle handle little open bottle turned:1",
            "opened:2 waited:2 needed:2 changes:2 closes:2 pipes:1 gives:1 valves:1 tapped:1 settled:2",
            "procedure:3 installer:3 electric:3 radio:3 however:3 another:3 solution:3 pollution:3",
            "electrician:4 temperature:4 disinfection:4 material:4 action:2 people:2 special:2 actual:3",
        ];
        let usual = [1, 2, 1, 3, 4];
        for (line, usual) in words.iter().zip(usual) {
            for entry in line.split_whitespace() {
                let (word, wanted) = entry
                    .split_once(':')
                    .map_or((entry, usual), |(word, count)| (word, count.parse().unwrap()));
                assert_eq!(syllables(word), wanted, "{word}");
            }
        }
    }

    #[test]
    fn sentences_words_and_syllables_are_counted() {
        let count = Count::of("Shut the drain. Hang a tag on it: `Do not start`. What now?");
        assert_eq!(count, Count { sentences: 3, words: 13, syllables: 13 });
        assert_eq!(Count::of("a half-open drain"), Count { sentences: 1, words: 4, syllables: 5 });
        // 0.39 × 13/3 + 11.8 × 1 − 15.59
        assert!((grade(&count) + 2.1).abs() < 1e-9);
    }
}
