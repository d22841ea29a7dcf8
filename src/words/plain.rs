//! Text made fit to show: wrapped to a width, and harmless to a terminal.

use std::path::Path;

/// Characters that could command a terminal, hide text or turn its direction.
fn is_harmful(c: char) -> bool {
    (c.is_control() && c != '\n' && c != '\t') || turns_direction(c) || is_unseen(c)
}

/// Marks that turn the direction of the text, and the two line ends that are none in most programs.
fn turns_direction(c: char) -> bool {
    matches!(c, '\u{061C}' | '\u{200E}' | '\u{200F}' | '\u{2028}'..='\u{202E}' | '\u{2066}'..='\u{2069}')
}

/// Characters that take no room, or look like a space and are none: soft hyphen, joiners, fillers, marks of
/// other scripts, notes between lines, tags. (Unicode, property `Default_Ignorable_Code_Point`; the selector
/// that only makes a sign an emoji may stand.)
fn is_unseen(c: char) -> bool {
    matches!(c,
        '\u{AD}' | '\u{34F}' | '\u{115F}' | '\u{1160}' | '\u{17B4}' | '\u{17B5}' | '\u{180B}'..='\u{180F}'
        | '\u{200B}'..='\u{200D}' | '\u{2060}'..='\u{206F}' | '\u{3164}' | '\u{FE00}'..='\u{FE0E}' | '\u{FEFF}'
        | '\u{2800}' | '\u{FFA0}' | '\u{FFF0}'..='\u{FFFB}' | '\u{1BCA0}'..='\u{1BCA3}' | '\u{1D173}'..='\u{1D17A}'
        | '\u{E0000}'..='\u{E0FFF}')
}

/// Whether a text may be shown as it is: no control characters (line ends and tabs apart), no
/// invisible characters, none that turn the direction of the text.
///
/// ```
/// use tankhand::words::is_harmless;
/// assert!(is_harmless("80 °F ± 1"));
/// assert!(!is_harmless("\u{1b}[2J"));
/// ```
pub fn is_harmless(text: &str) -> bool {
    let plain = |byte: u8| matches!(byte, b' '..=b'~' | b'\n' | b'\t');
    // Without a way out early the compiler looks at many bytes at once.
    text.bytes().fold(true, |all, byte| all & plain(byte)) || !text.chars().any(is_harmful)
}

/// The text with every harmful character replaced by a visible sign.
///
/// ```
/// use tankhand::words::harmless;
/// assert_eq!(harmless("a\u{1b}[2Jb"), "a\u{FFFD}[2Jb");
/// ```
pub fn harmless(text: &str) -> String {
    if is_harmless(text) {
        return text.to_string();
    }
    text.chars().map(|c| if is_harmful(c) { '\u{FFFD}' } else { c }).collect()
}

/// A text that has to stay on its line: harmless, and without line ends and tabs, which could make up lines of their own.
///
/// ```
/// use tankhand::words::on_one_line;
/// assert_eq!(on_one_line("a\nAll is well."), "a\u{FFFD}All is well.");
/// ```
pub fn on_one_line(text: &str) -> String {
    harmless(text).replace(['\n', '\t'], "\u{FFFD}")
}

/// A path as it stands in a sentence.
///
/// ```
/// use tankhand::words::path_shown;
/// assert_eq!(path_shown("records/a.toml"), "records/a.toml");
/// ```
pub fn path_shown(path: impl AsRef<Path>) -> String {
    on_one_line(&path.as_ref().display().to_string())
}

/// Breaks a text into lines of at most `width` columns, each led by `indent` spaces; line ends
/// in the text stay. It breaks at spaces only, so that a path or a call can be copied.
///
/// ```
/// use tankhand::words::wrap;
/// assert_eq!(wrap("one two three", 9, 2), ["  one two", "  three"]);
/// ```
pub fn wrap(text: &str, width: usize, indent: usize) -> Vec<String> {
    let lead = " ".repeat(indent);
    let options = textwrap::Options::new(width.max(indent + 1))
        .initial_indent(&lead)
        .subsequent_indent(&lead)
        .word_separator(textwrap::WordSeparator::AsciiSpace)
        .word_splitter(textwrap::WordSplitter::NoHyphenation)
        .wrap_algorithm(textwrap::WrapAlgorithm::FirstFit);
    let mut lines = Vec::new();
    for line in text.trim_end().split('\n') {
        lines.extend(textwrap::wrap(line, &options).into_iter().map(|l| l.trim_end().to_string()));
    }
    lines
}
