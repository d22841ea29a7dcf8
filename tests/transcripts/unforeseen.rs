//! A script and a run that do not fit each other: each a fault that says where.
//!
//! Every folder of `unforeseen/` holds what is changed in the script of the gritty tank
//! (`change.toml`) and the fault that must come of it (`fault.txt`).

use tankhand::app::{DEMOS, Failure};
use tankhand::source::Fault;

use crate::golden::{folders, holds, in_project};
use crate::stage::{Work, play, script};

const FOLDER: &str = "tests/transcripts/unforeseen";

/// A change: what stands in the script, and what is put in its place.
struct Change {
    find: String,
    put: String,
}

fn change(name: &str) -> Change {
    let text = std::fs::read_to_string(in_project(FOLDER).join(name).join("change.toml")).unwrap();
    let table: toml::Table = text.parse().unwrap();
    let part = |key: &str| table[key].as_str().unwrap().to_string();
    Change { find: part("find"), put: part("put") }
}

/// All that a fault says, and what it marks.
fn described(fault: &Fault) -> String {
    let marked = fault.source.slice(fault.span);
    let part = |name: &str, text: &str| format!("{name}: {text}\n");
    let mut lines = format!("{}\n", fault.heading());
    lines.push_str(&part("code", fault.code));
    lines.push_str(&part("marked", &format!("{marked:?}")));
    lines.push_str(&part("here", &fault.label));
    lines.push_str(&part("why", fault.why.as_deref().unwrap_or("")));
    lines.push_str(&part("remedy", fault.remedy.as_deref().unwrap_or("")));
    lines.lines().map(|line| format!("{}\n", line.trim_end())).collect()
}

#[test]
fn what_was_not_foreseen_is_told_with_its_place() {
    let demo = DEMOS.iter().find(|demo| demo.name == "gritty-tank").unwrap();
    let text = std::fs::read_to_string(in_project("transcripts-demo/gritty-tank/answers.toml")).unwrap();
    for name in folders(FOLDER) {
        let Change { find, put } = change(&name);
        assert_eq!(text.matches(&find).count(), 1, "{name}: `{find}` stands once in the script");
        let changed = text.replacen(&find, &put, 1);
        let folder = tempfile::tempdir().unwrap();
        let played = play(Work::Demo(demo), script("answers.toml", &changed), folder.path());
        let Err(Failure::Faults(faults)) = played.ended else { panic!("{name}: {:?}", played.ended) };
        let output: String = faults.iter().map(described).collect();
        holds(&format!("{FOLDER}/{name}/fault.txt"), &output);
    }
}
