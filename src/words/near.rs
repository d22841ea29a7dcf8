//! Near misses: which known word did a person mean?

/// The known word nearest to `word`, if one is near enough to suggest.
///
/// ```
/// use tankhand::words::near;
/// assert_eq!(near("durration", ["duration", "drain"]), Some("duration"));
/// assert_eq!(near("zebra", ["duration", "drain"]), None);
/// ```
pub fn near<'a>(word: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let word = word.to_lowercase();
    known
        .into_iter()
        .map(|k| (strsim::jaro_winkler(&word, &k.to_lowercase()), k))
        .filter(|(score, _)| *score >= 0.8)
        .max_by(|a, b| a.0.total_cmp(&b.0).then_with(|| b.1.cmp(a.1)))
        .map(|(_, k)| k)
}

/// The most words that are listed where none is near.
const MOST_WORDS_LISTED: usize = 24;

/// A ready remedy: "did you mean …?" when a word is near, else the list of what there is.
///
/// ```
/// use tankhand::words::did_you_mean;
/// assert_eq!(did_you_mean("claer", &["clear", "dirty"]), "did you mean `clear`?");
/// assert_eq!(did_you_mean("zzz", &["clear", "dirty"]), "there is: clear, dirty");
/// ```
pub fn did_you_mean<S: AsRef<str>>(word: &str, known: impl IntoIterator<Item = S>) -> String {
    let known: Vec<S> = known.into_iter().collect();
    match near(word, known.iter().map(AsRef::as_ref)) {
        Some(k) => format!("did you mean `{k}`?"),
        None if known.is_empty() => "there is none to choose from here".to_string(),
        None => {
            let some: Vec<&str> = known.iter().take(MOST_WORDS_LISTED).map(AsRef::as_ref).collect();
            let more = known.len() - some.len();
            let more = if more > 0 { format!(" and {more} more") } else { String::new() };
            format!("there is: {}{more}", some.join(", "))
        }
    }
}
