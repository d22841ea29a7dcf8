//! The terms of the trade, each with its plain meaning.
//!
//! One table: a run tells a term's meaning the first time it uses it, and `guide words` shows them all.
//! `tests/wording/stand_ins.rs` has what no text says in their place.

/// A term of the trade.
#[derive(Debug)]
pub struct GlossaryTerm {
    /// The term, in lower case as in the middle of a sentence.
    pub term: &'static str,
    /// Other forms of it that count as its use.
    pub forms: &'static [&'static str],
    /// What it means, without a full stop.
    pub meaning: &'static str,
}

const fn term(term: &'static str, meaning: &'static str) -> GlossaryTerm {
    GlossaryTerm { term, forms: &[], meaning }
}

impl GlossaryTerm {
    const fn also(self, forms: &'static [&'static str]) -> GlossaryTerm {
        GlossaryTerm { forms, ..self }
    }
}

/// The terms, in the order of the alphabet.
pub static GLOSSARY: &[GlossaryTerm] = &[
    term("air valve", "the tire-type valve of the tank, usually on top"),
    term("bladder", "a rubber bag that keeps air and water apart").also(&["bladders"]),
    term("check valve", "a valve that lets water flow one way only, away from the pump"),
    term("chlorine", "what disinfects in bleach").also(&["chlorinated"]),
    term("condensation", "water from the air, on cold metal"),
    term("cut-in", "the pressure at which the pump starts"),
    term("cut-out", "the pressure at which the pump stops"),
    term("diaphragm", "a rubber sheet that keeps air and water apart"),
    term("differential", "cut-out minus cut-in"),
    term("drain valve", "the faucet at the tank's inlet that empties it"),
    term("drawdown", "the water you get between cut-out and cut-in"),
    term("isolation valve", "the shutoff valve between one tank and the line"),
    term("nipple", "the short pipe under the pressure switch"),
    term("partial fill", "a little water let into the empty tank, and out again").also(&["partial fills"]),
    term("full fill", "the tank filled to cut-out, then drained").also(&["full fills"]),
    term("precharge", "the air pressure in the tank when it is empty of water"),
    term("pressure switch", "the switch that starts and stops the pump by the line's pressure"),
    term("relief valve", "a valve that opens by itself when the pressure gets too high"),
    term("run time", "how long the pump runs each time"),
    term("sediment", "sand, silt and rust that settle in water").also(&["settled solids"]),
    term("short cycling", "the pump starts and stops too often").also(&["short-cycling", "short cycles"]),
    term("submersible", "a pump down in the well"),
    term("jet pump", "a pump above ground that draws the water up"),
    term("tank tee", "the fitting that joins tank, pump pipe, pressure switch and gauge"),
    term("waterlogged", "full of water, with no cushion of air left"),
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

/// Whether words stand in a text, not as a part of longer ones. Both in lower case.
///
/// ```
/// use tankhand::words::has_word;
/// assert!(has_word("air wanted: 33 psi", "air wanted"));
/// assert!(!has_word("let the airs out", "air"));
/// ```
pub fn has_word(text: &str, words: &str) -> bool {
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
    fn every_term_has_a_meaning() {
        for term in GLOSSARY {
            assert!(!term.meaning.is_empty() && !term.meaning.ends_with('.'), "{}", term.term);
            assert!(term.term == term.term.to_lowercase(), "{}", term.term);
        }
    }
}
