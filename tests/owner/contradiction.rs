//! What a run says last, held against the state line it shows and against the installation: an owner who
//! does exactly what each step says must find all three alike.

use tankhand::owner::Owner;
use tankhand::record::EntryKind;

use crate::performance::Performance;

/// What somebody is told to do as the work ends, and how the state line must stand then.
const INSTRUCTED: &[(&[&str], &str)] = &[
    (&["turn the breaker off", "turn its breaker off", "turn the pump's breaker off"], "breaker OFF"),
    (&["open the drain valve", "open the drain. "], "drain OPEN"),
    (&["close the drain valve"], "drain SHUT"),
];
/// What somebody is told to leave as it is, and what the state line must not say then.
const LEFT: &[(&[&str], &str)] = &[
    (&["leave the breaker off", "keep the breaker off", "and the breaker off"], "breaker ON"),
    (&["leave the drain open", "and the drain open"], "drain SHUT"),
    (&["the drain valve is shut"], "drain OPEN"),
    (&["house is still shut off", "house is shut off"], "house OPEN"),
];
/// Pairs of words of which one contradicts the other.
const EITHER: [[&str; 2]; 3] =
    [["breaker ON", "breaker OFF"], ["drain OPEN", "drain SHUT"], ["house OPEN", "house OFF"]];

/// Everything that contradicts something else, in sentences; nothing where all is well.
pub fn contradictions(done: &Performance, owner: &Owner) -> Vec<String> {
    let stands = done.run.stands();
    let both = EITHER.iter().filter(|pair| pair.iter().all(|word| stands.contains(word)));
    let mut told: Vec<String> = both.map(|[a, b]| format!("{a} and {b}")).collect();
    let stopped = done.entries.iter().rev().find(|entry| entry.kind == EntryKind::Stopped);
    match stopped.and_then(|entry| entry.said.as_deref()) {
        Some(said) => told.extend(against_words(said, &stands)),
        None => told.extend(against_plant(&stands, owner)),
    }
    told
}

fn against_words(said: &str, stands: &[&str]) -> Vec<String> {
    let said_small = said.to_lowercase();
    let asks = |words: &[&str]| words.iter().any(|word| said_small.contains(word));
    let broken = INSTRUCTED.iter().filter(|(words, state)| asks(words) && !stands.contains(state));
    // One drain is opened and shut in one breath: the last of it counts, and the file says which.
    let last = broken.filter(|(_, state)| {
        !(state.starts_with("drain") && stands.iter().any(|it| it.starts_with("drain")))
    });
    let lacks = last.map(|(_, state)| format!("told {said:?}, and {state} does not stand: {stands:?}"));
    let left = LEFT.iter().filter(|(words, state)| asks(words) && stands.contains(state));
    lacks.chain(left.map(|(_, state)| format!("told {said:?}, and {state} stands"))).collect()
}

fn against_plant(stands: &[&str], owner: &Owner) -> Vec<String> {
    let plant = owner.plant();
    let is = [
        ("breaker ON", plant.has_power()),
        ("breaker OFF", !plant.has_power()),
        ("drain OPEN", plant.drain_opening() > 0.0),
        ("drain SHUT", plant.drain_opening() == 0.0),
        ("house OPEN", plant.house_open()),
        ("house OFF", !plant.house_open() || !owner.household().house_valve),
    ];
    let wrong = is.iter().filter(|(state, holds)| stands.contains(state) && !holds);
    wrong.map(|(state, _)| format!("{state} stands, and it is not so")).collect()
}
