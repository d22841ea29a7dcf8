//! The trade's classic mistakes, made on purpose: what the program says to each.
//!
//! Every folder of `mistakes/` holds the answers of somebody who makes one (`answers.toml`) and
//! what is seen from there on (`transcript.txt`). The answers before are those of a
//! demonstration, up to the step the mistake begins with, unless the script has a beginning of its
//! own; so is the system file, unless there is another. The demonstration is the gritty tank, or
//! the one that stands in a line `# At NAME.` at the head of the script.

use tankhand::app::{DEMOS, Demo, Failure};

use crate::golden::{folders, holds, in_project};
use crate::stage::{Work, play, script};

const FOLDER: &str = "tests/transcripts/mistakes";
const USUAL: &str = "gritty-tank";

fn read(path: &str) -> Option<String> {
    std::fs::read_to_string(in_project(path)).ok()
}

/// The demonstration that a script departs from.
fn demo(script: &str) -> &'static Demo {
    let named = script.lines().find_map(|line| line.strip_prefix("# At ")?.strip_suffix('.'));
    DEMOS.iter().find(|demo| demo.name == named.unwrap_or(USUAL)).unwrap()
}

/// The answers up to the first one for the step that `mistake` begins with.
fn before(mistake: &str) -> String {
    let first = mistake.lines().find_map(|line| line.strip_prefix("step = ")).unwrap();
    let usual = read(&format!("transcripts-demo/{}/answers.toml", demo(mistake).name)).unwrap();
    let for_it = |block: &&str| block.lines().any(|line| line.replace(' ', "") == format!("step={first}"));
    let blocks = usual.split_inclusive("[[answer]]\n").collect::<Vec<_>>();
    let at = blocks.iter().position(for_it).unwrap();
    let text = blocks[..at].concat();
    text.strip_suffix("[[answer]]\n").unwrap().to_string()
}

/// What is seen when a script is played, up to where the person leaves or closes the record.
fn seen(folder: &str, (name, demo): (&str, &Demo), text: &str) -> String {
    let own = format!("{folder}/{name}/system.toml");
    let usual = format!("transcripts-demo/{}/system.toml", demo.name);
    let system = in_project(if in_project(&own).exists() { &own } else { &usual });
    let home = tempfile::tempdir().unwrap();
    let played = play(Work::At(demo.procedure, &system), script(name, text), home.path());
    match played.ended {
        Ok(_) => {}
        Err(Failure::Faults(faults)) if faults.iter().all(|fault| fault.code == "no-answer") => {}
        Err(failure) => panic!("{name}: {failure}"),
    }
    let transcript = played.transcript;
    for last in [" > pause\n", "  seal the record >\n"] {
        if let Some(at) = transcript.rfind(last) {
            return transcript[..at + last.len()].to_string();
        }
    }
    transcript
}

/// What is seen from the first question of the mistake on.
fn from_the_mistake_on(folder: &str, name: &str, mistake: &str) -> String {
    let demo = demo(mistake);
    if mistake.contains("\nformat = 1\n") {
        return seen(folder, (name, demo), mistake);
    }
    let before = before(mistake);
    let all = seen(folder, (name, demo), &format!("{before}{mistake}"));
    let usual = seen(folder, (name, demo), &before);
    let usual = usual.trim_end_matches('\n');
    assert!(all.starts_with(usual), "{name}: the beginning is the usual one");
    let question = usual.rfind("\n\n").map_or(0, |at| at + 2);
    all[question..].to_string()
}

/// Plays every script of a folder and compares what is seen.
pub fn each_holds(folder: &str) {
    let one = |name: &str| {
        let answers = read(&format!("{folder}/{name}/answers.toml")).unwrap();
        let shown = from_the_mistake_on(folder, name, &answers);
        holds(&format!("{folder}/{name}/transcript.txt"), &shown);
    };
    std::thread::scope(|scope| {
        for name in folders(folder) {
            scope.spawn(move || one(&name));
        }
    });
}

#[test]
fn each_is_caught() {
    each_holds(FOLDER);
}

/// Every folder stands in the index, and nothing else does.
#[test]
fn the_index_lists_each() {
    let index = read(&format!("{FOLDER}/README.md")).unwrap();
    let linked = index.split("](").skip(1).filter_map(|link| link.split_once("/transcript.txt)"));
    let mut listed: Vec<String> = linked.map(|(name, _)| name.to_string()).collect();
    listed.sort();
    listed.dedup();
    assert_eq!(listed, folders(FOLDER));
}
