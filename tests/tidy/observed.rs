//! A name that the program looks an answer up by is one that there is: with a slip in it the answer would never
//! be found, and nothing would say so.

use std::collections::BTreeSet;

use tankhand::procedure::{HAZARDS, OBSERVABLES, function, shipped_states};

use crate::{Source, sources};

/// Where answers, states and hazards are looked up by their names.
const LOOKING: &[&str] = &[
    "engine/",
    "owner/",
    "report/account/",
    "report/figure/",
    "report/finding/",
    "report/run_view/",
    "report/tag.rs",
];

/// Words of shipped choices, by which the simulated owner answers.
const WORDS: &[&str] = &["air_valve", "never_stops", "no_start"];

/// Names of two or more words in quotes.
fn names(source: &Source) -> BTreeSet<String> {
    let code = source.code.iter().filter(|line| !line.trim_start().starts_with("//"));
    let quoted = code.flat_map(|line| line.split('"').skip(1).step_by(2));
    let name = |text: &&str| {
        text.contains('_') && text.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '_')
    };
    quoted.filter(name).map(str::to_string).collect()
}

fn unknown(sources: &[Source]) -> Vec<String> {
    let known = |name: &str| {
        OBSERVABLES.iter().any(|it| it.name == name)
            || HAZARDS.iter().any(|it| it.id == name)
            || shipped_states().contains(&name)
            || function(name).is_some()
            || WORDS.contains(&name)
    };
    let looking = sources.iter().filter(|source| LOOKING.iter().any(|from| source.name.starts_with(from)));
    let each = looking.flat_map(|source| {
        names(source)
            .into_iter()
            .filter(|name| !known(name))
            .map(|name| format!("src/{}: {name}", source.name))
    });
    each.collect()
}

#[test]
fn answers_are_looked_up_by_names_that_there_are() {
    assert_eq!(unknown(&sources()), Vec::<String>::new());
}

#[test]
fn a_slip_in_a_name_is_found() {
    let code =
        ["// \"cut_ni\" is told", "let cut_in = newest(\"cut_in\");", "let limit = newest(\"plate_limti\");"];
    let source = Source {
        name: "engine/slip.rs".to_string(),
        layer_folder: "engine".to_string(),
        code: code.map(str::to_string).to_vec(),
    };
    assert_eq!(unknown(&[source]), ["src/engine/slip.rs: plate_limti"]);
}
