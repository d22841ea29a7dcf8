//! The terms of the trade, each with its plain meaning, and the words that do not stand in for it.
//!
//! One table: a run tells a term's meaning the first time it uses it, `guide words` shows them all,
//! and a test holds that no text says it otherwise.

/// A term of the trade.
#[derive(Debug)]
pub struct GlossaryTerm {
    /// The term, in lower case as in the middle of a sentence.
    pub term: &'static str,
    /// Other forms of it that count as its use.
    pub forms: &'static [&'static str],
    /// What it means, without a full stop.
    pub meaning: &'static str,
    /// What no text says in its place.
    pub not: &'static [&'static str],
}

const fn term(term: &'static str, meaning: &'static str, not: &'static [&'static str]) -> GlossaryTerm {
    GlossaryTerm { term, forms: &[], meaning, not }
}

impl GlossaryTerm {
    const fn also(self, forms: &'static [&'static str]) -> GlossaryTerm {
        GlossaryTerm { forms, ..self }
    }
}

/// The terms, in the order of the alphabet.
pub static GLOSSARY: &[GlossaryTerm] = &[
    term("air valve", "the tire-type valve of the tank, usually on top", &["the pin", "pin test"]),
    term("bladder", "a rubber bag that keeps air and water apart", &["the rubber"]).also(&["bladders"]),
    term("check valve", "a valve that lets water flow one way only, away from the pump", &[]),
    term("chlorine", "what disinfects in bleach", &[]).also(&["chlorinated"]),
    term("condensation", "water from the air, on cold metal", &["sweat water"]),
    term(
        "cut-in",
        "the pressure at which the pump starts",
        &["the pump's start", "pump starts at", "starting pressure"],
    ),
    term("cut-out", "the pressure at which the pump stops", &["the pump's stop", "stopping pressure"]),
    term("diaphragm", "a rubber sheet that keeps air and water apart", &[]),
    term("differential", "cut-out minus cut-in", &[]),
    term(
        "drain valve",
        "the faucet at the tank's inlet that empties it",
        &["drain stands open", "drain stands shut"],
    ),
    term("drawdown", "the water you get between cut-out and cut-in", &["water the tank gives"]),
    term("isolation valve", "the shutoff valve between one tank and the line", &[]),
    term("nipple", "the short pipe under the pressure switch", &[]),
    term("partial fill", "a little water let into the empty tank, and out again", &["gulp"])
        .also(&["partial fills"]),
    term("full fill", "the tank filled to cut-out, then drained", &["full dump"]).also(&["full fills"]),
    term(
        "precharge",
        "the air pressure in the tank when it is empty of water",
        &["air charge", "air wanted", "the charge", "charge of the tank"],
    ),
    term("pressure switch", "the switch that starts and stops the pump by the line's pressure", &[]),
    term("relief valve", "a valve that opens by itself when the pressure gets too high", &[]),
    term("run time", "how long the pump runs each time", &[]),
    term("sediment", "sand, silt and rust that settle in water", &[]).also(&["settled solids"]),
    term("short cycling", "the pump starts and stops too often", &[])
        .also(&["short-cycling", "short cycles"]),
    term("submersible", "a pump down in the well", &[]),
    term("jet pump", "a pump above ground that draws the water up", &[]),
    term("tank tee", "the fitting that joins tank, pump pipe, pressure switch and gauge", &[]),
    term("waterlogged", "full of water, with no cushion of air left", &["all but gone"]),
];

/// What no text says, whatever it is about, each with what to say.
pub const PLAINER: &[(&str, &str)] = &[
    ("in a hundred", "%"),
    ("times in a hundred", "%"),
    ("utilize", "use"),
    ("prior to", "before"),
    ("ensure", "make sure"),
    ("commence", "start"),
    ("pre-charge", "precharge"),
    ("psig", "psi"),
    ("potable", "drinking water"),
    ("gauge tells the truth", "the gauge reads zero"),
    ("at your word", "as you asked"),
];

/// The terms that a text uses, in the order of the table.
///
/// ```
/// use tankhand::words::terms_in;
/// let used: Vec<&str> = terms_in("Set the Precharge 2 psi below cut-in.").map(|term| term.term).collect();
/// assert_eq!(used, ["cut-in", "precharge"]);
/// assert_eq!(terms_in("The bladdery thing").count(), 0);
/// ```
pub fn terms_in(text: &str) -> impl Iterator<Item = &'static GlossaryTerm> {
    let text = text.to_lowercase();
    GLOSSARY
        .iter()
        .filter(move |term| std::iter::once(&term.term).chain(term.forms).any(|form| has_word(&text, form)))
}

/// What a text says in place of a term, with what to say.
///
/// ```
/// use tankhand::words::stand_in;
/// assert_eq!(stand_in("Air wanted: 33 psi"), Some(("air wanted", "precharge")));
/// assert_eq!(stand_in("Let the air out."), None);
/// ```
pub fn stand_in(text: &str) -> Option<(&'static str, &'static str)> {
    let text = text.to_lowercase();
    let of_terms = GLOSSARY.iter().flat_map(|term| term.not.iter().map(|not| (*not, term.term)));
    of_terms.chain(PLAINER.iter().copied()).find(|(not, _)| has_word(&text, not))
}

/// Whether words stand in a text, not as a part of longer ones. Both in lower case.
fn has_word(text: &str, words: &str) -> bool {
    let is_letter = |letter: char| letter.is_alphanumeric() || letter == '-';
    text.match_indices(words).any(|(at, found)| {
        let (before, after) = (&text[..at], &text[at + found.len()..]);
        !before.ends_with(is_letter) && !after.starts_with(is_letter)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_term_has_a_meaning_and_no_word_stands_in_for_two() {
        let mut seen = std::collections::HashSet::new();
        for term in GLOSSARY {
            assert!(!term.meaning.is_empty() && !term.meaning.ends_with('.'), "{}", term.term);
            assert!(term.term == term.term.to_lowercase(), "{}", term.term);
            for word in term.not.iter().chain([&term.term]) {
                assert!(seen.insert(*word), "{word} stands twice");
            }
            let other = stand_in(term.meaning).filter(|(_, say)| *say != term.term);
            assert_eq!(other, None, "{}", term.term);
        }
    }
}
