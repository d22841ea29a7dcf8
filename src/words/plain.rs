//! Text made fit to show: wrapped to a width, and harmless to a terminal.

/// Characters that could command a terminal, hide text or turn its direction.
fn is_harmful(c: char) -> bool {
    (c.is_control() && c != '\n' && c != '\t')
        || matches!(c,
            '\u{061C}' | '\u{200B}'..='\u{200F}' | '\u{2028}'..='\u{202E}' | '\u{2060}'..='\u{206F}' | '\u{FEFF}')
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
    text.chars().map(|c| if is_harmful(c) { '\u{FFFD}' } else { c }).collect()
}

/// Breaks a text into lines of at most `width` columns, each led by `indent` spaces; line ends
/// in the text stay.
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
        .word_splitter(textwrap::WordSplitter::NoHyphenation)
        .wrap_algorithm(textwrap::WrapAlgorithm::FirstFit);
    let mut lines = Vec::new();
    for line in text.trim_end().split('\n') {
        lines.extend(textwrap::wrap(line, &options).into_iter().map(|l| l.trim_end().to_string()));
    }
    lines
}
