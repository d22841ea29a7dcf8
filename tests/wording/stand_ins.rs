//! The words that no text says, each with what to say.

use std::collections::HashSet;

use tankhand::words::{GLOSSARY, has_word};

/// What no text says in place of a term of the trade, and that term.
const IN_PLACE_OF_TERMS: &[(&str, &str)] = &[
    ("the pin", "air valve"),
    ("pin test", "air valve"),
    ("the rubber", "bladder"),
    ("sweat water", "condensation"),
    ("the pump's start", "cut-in"),
    ("pump starts at", "cut-in"),
    ("starting pressure", "cut-in"),
    ("the pump's stop", "cut-out"),
    ("stopping pressure", "cut-out"),
    ("drain stands open", "drain valve"),
    ("drain stands shut", "drain valve"),
    ("water the tank gives", "drawdown"),
    ("gulp", "partial fill"),
    ("full dump", "full fill"),
    ("air charge", "precharge"),
    ("air wanted", "precharge"),
    ("the charge", "precharge"),
    ("charge of the tank", "precharge"),
    ("all but gone", "waterlogged"),
];

/// What no text says, whatever it is about.
const PLAINER: &[(&str, &str)] = &[
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

/// What a text says in place of a term, with what to say.
pub fn stand_in(text: &str) -> Option<(&'static str, &'static str)> {
    let text = text.to_lowercase();
    IN_PLACE_OF_TERMS.iter().chain(PLAINER).copied().find(|(not, _)| has_word(&text, not))
}

#[test]
fn no_word_stands_in_for_two_terms_or_in_the_meaning_of_another() {
    let mut seen: HashSet<&str> = GLOSSARY.iter().map(|term| term.term).collect();
    for (word, term) in IN_PLACE_OF_TERMS {
        assert!(GLOSSARY.iter().any(|known| known.term == *term), "{term}");
        assert!(seen.insert(word), "{word} stands twice");
    }
    for term in GLOSSARY {
        let other = stand_in(term.meaning).filter(|(_, say)| *say != term.term);
        assert_eq!(other, None, "{}", term.term);
    }
    assert_eq!(stand_in("Air wanted: 33 psi"), Some(("air wanted", "precharge")));
    assert_eq!(stand_in("Let the air out."), None);
}
