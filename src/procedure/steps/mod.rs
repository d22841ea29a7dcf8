//! The verbs, one file each, and the table in which they stand: all that knows them by name.

mod check_step;
mod choose_step;
mod compute_step;
mod conclude_step;
mod diagnose_step;
mod do_step;
mod each_step;
mod read_step;
mod repeat_step;
mod stop_step;
#[cfg(test)]
mod tally_step;
mod tell_step;
mod use_step;
mod wait_step;
mod write_step;

pub(super) use compute_step::{VERB as COMPUTE, computed};

use super::keys::{FACT_KEYS, FILE_KEYS, Key, PART_KEYS, STATE_KEYS, STEP_KEYS};
use super::verb::Verb;

/// Every verb.
pub static VERBS: &[Verb] = &[
    do_step::VERB,
    read_step::VERB,
    choose_step::VERB,
    write_step::VERB,
    compute_step::VERB,
    tell_step::VERB,
    check_step::VERB,
    conclude_step::VERB,
    diagnose_step::VERB,
    wait_step::VERB,
    repeat_step::VERB,
    each_step::VERB,
    use_step::VERB,
    stop_step::VERB,
    #[cfg(test)]
    tally_step::VERB,
];

/// The verb of that word.
pub(super) fn verb(word: &str) -> Option<&'static Verb> {
    VERBS.iter().find(|verb| verb.word() == word)
}

/// Every key of that name: of a file, a part, a fact, a state, a step of any verb.
pub(super) fn declared(name: &str) -> impl Iterator<Item = &'static Key> {
    let tables = [FILE_KEYS, PART_KEYS, FACT_KEYS, STATE_KEYS, STEP_KEYS].into_iter().flatten();
    let of_verbs = VERBS.iter().flat_map(|verb| std::iter::once(&verb.key).chain(verb.keys));
    tables.chain(of_verbs).filter(move |key| key.name == name)
}

/// The keys that only some verbs have, each once.
pub(crate) fn own_keys() -> Vec<Key> {
    let mut keys: Vec<Key> = Vec::new();
    for key in VERBS.iter().flat_map(|verb| verb.keys) {
        if keys.iter().all(|known| known.name != key.name) {
            keys.push(*key);
        }
    }
    keys
}

#[cfg(test)]
mod tests {
    use super::{VERBS, own_keys};

    #[test]
    fn a_key_means_the_same_with_every_verb() {
        for verb in VERBS {
            assert!(verb.keys.iter().all(|key| own_keys().contains(key)), "{}", verb.word());
        }
    }
}
