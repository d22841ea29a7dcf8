//! One grammar for answers in a word: done, yes or no, one of several.

/// Whether a text says that a thing is done: nothing typed, `done`, `ok`, `y` or `yes`.
///
/// ```
/// use tankhand::words::is_done;
/// assert!(is_done("") && is_done("Done") && !is_done("38"));
/// ```
pub fn is_done(text: &str) -> bool {
    ["", "done", "ok", "y", "yes"].contains(&text.to_lowercase().as_str())
}

/// The yes or no that a text means.
///
/// ```
/// use tankhand::words::yes_or_no;
/// assert_eq!(["Y", "no", "on"].map(yes_or_no), [Some(true), Some(false), None]);
/// ```
pub fn yes_or_no(text: &str) -> Option<bool> {
    chosen(text, &[("yes", "yes"), ("no", "no")]).map(|at| at == 0)
}

/// Whether the choices, each a value and its words, are a bare yes and no, which need no list: the
/// words say it all.
pub(crate) fn is_yes_or_no<S: AsRef<str>>(options: &[(S, S)]) -> bool {
    let bare = |(value, words): &(S, S)| words.as_ref().is_empty() || words.as_ref() == value.as_ref();
    let both = ["yes", "no"].iter().all(|word| options.iter().any(|(value, _)| value.as_ref() == *word));
    options.len() == 2 && options.iter().all(bare) && both
}

/// The signs before the choices: numbers, or letters when a choice itself is a number.
pub(crate) fn choice_signs<S: AsRef<str>>(options: &[(S, S)]) -> Vec<String> {
    let numeric = options.iter().any(|(value, _)| value.as_ref().starts_with(|c: char| c.is_ascii_digit()));
    (0..options.len())
        .map(|at| match u8::try_from(at) {
            Ok(small) if numeric && small < 26 => char::from(b'a' + small).to_string(),
            _ if numeric => format!("#{}", at + 1),
            _ => (at + 1).to_string(),
        })
        .collect()
}

/// The signs that a person sees, and so may type.
fn signs_shown<S: AsRef<str>>(options: &[(S, S)]) -> Vec<String> {
    if is_yes_or_no(options) { Vec::new() } else { choice_signs(options) }
}

/// Which choice a text means: its value or words in full, its sign, or the only one that begins so.
///
/// ```
/// use tankhand::words::chosen;
/// let water = [("clear", "no grit"), ("cloudy", "a haze")];
/// assert_eq!(["2", "CLO", "no", "cl"].map(|typed| chosen(typed, &water)), [Some(1), Some(1), Some(0), None]);
/// ```
pub fn chosen<S: AsRef<str>>(text: &str, options: &[(S, S)]) -> Option<usize> {
    let typed = text.to_lowercase();
    if typed.is_empty() {
        return None;
    }
    let lower = |text: &S| text.as_ref().to_lowercase();
    let lower: Vec<(String, String)> =
        options.iter().map(|(value, words)| (lower(value), lower(words))).collect();
    lower
        .iter()
        .position(|(value, _)| *value == typed)
        .or_else(|| lower.iter().position(|(_, words)| *words == typed))
        .or_else(|| signs_shown(options).iter().position(|sign| *sign == typed))
        .or_else(|| only(lower.iter().map(|(value, _)| value.starts_with(&typed))))
        .or_else(|| only(lower.iter().map(|(_, words)| words.starts_with(&typed))))
}

/// Whether each typed word begins a word of a text.
///
/// ```
/// use tankhand::words::all_begin;
/// assert!(all_begin("pump sta", "pump starts too often"));
/// assert!(!all_begin("art", "pump starts too often") && !all_begin(" ", "anything"));
/// ```
pub fn all_begin(typed: &str, text: &str) -> bool {
    let words_of = |text: &str| -> Vec<String> {
        let words = text.to_lowercase();
        words
            .split(|c: char| !c.is_alphanumeric())
            .filter(|word| !word.is_empty())
            .map(ToString::to_string)
            .collect()
    };
    let (typed, words) = (words_of(typed), words_of(text));
    !typed.is_empty() && typed.iter().all(|typed| words.iter().any(|word| word.starts_with(typed.as_str())))
}

/// The place of the only `true`.
fn only(fits: impl Iterator<Item = bool>) -> Option<usize> {
    let mut places = fits.enumerate().filter_map(|(at, fit)| fit.then_some(at));
    places.next().filter(|_| places.next().is_none())
}
