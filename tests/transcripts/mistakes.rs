//! The trade's classic mistakes, made on purpose: what the program says to each.
//!
//! Every folder of `mistakes/` holds the answers of somebody who makes one (`answers.toml`) and
//! what is seen from there on (`transcript.txt`). The answers before are those of the gritty
//! tank, up to the step the mistake begins with, unless the script has a beginning of its own;
//! so is the system file, unless there is another.

use tankhand::app::Failure;

use crate::golden::{folders, holds, in_project};
use crate::stage::{Work, play, script};

const FOLDER: &str = "tests/transcripts/mistakes";
const USUAL: &str = "transcripts-demo/gritty-tank";

fn read(path: &str) -> Option<String> {
    std::fs::read_to_string(in_project(path)).ok()
}

/// The answers up to the first one for the step that `mistake` begins with.
fn before(mistake: &str) -> String {
    let first = mistake.lines().find_map(|line| line.strip_prefix("step = ")).unwrap();
    let usual = read(&format!("{USUAL}/answers.toml")).unwrap();
    let for_it = |block: &&str| block.lines().any(|line| line.replace(' ', "") == format!("step={first}"));
    let blocks = usual.split_inclusive("[[answer]]\n").collect::<Vec<_>>();
    let at = blocks.iter().position(for_it).unwrap();
    let text = blocks[..at].concat();
    text.strip_suffix("[[answer]]\n").unwrap().to_string()
}

/// What is seen when a script is played, up to where the person leaves or closes the record.
fn seen(folder: &str, name: &str, text: &str) -> String {
    let own = format!("{folder}/{name}/system.toml");
    let system = if in_project(&own).exists() { own } else { format!("{USUAL}/system.toml") };
    let folder = tempfile::tempdir().unwrap();
    let played = play(Work::Flush(&in_project(&system)), script(name, text), folder.path());
    match played.ended {
        Ok(_) => {}
        Err(Failure::Faults(faults)) if faults.iter().all(|fault| fault.code == "no-answer") => {}
        Err(failure) => panic!("{name}: {failure}"),
    }
    let transcript = played.transcript;
    for last in [" > pause\n", "  close the record >\n"] {
        if let Some(at) = transcript.rfind(last) {
            return transcript[..at + last.len()].to_string();
        }
    }
    transcript
}

/// What is seen from the first question of the mistake on.
fn from_the_mistake_on(folder: &str, name: &str, mistake: &str) -> String {
    if mistake.contains("\nformat = 1\n") {
        return seen(folder, name, mistake);
    }
    let before = before(mistake);
    let all = seen(folder, name, &format!("{before}{mistake}"));
    let usual = seen(folder, name, &before);
    let usual = usual.trim_end_matches('\n');
    assert!(all.starts_with(usual), "{name}: the beginning is the usual one");
    let question = usual.rfind("\n\n").map_or(0, |at| at + 2);
    all[question..].to_string()
}

/// Plays every script of a folder and compares what is seen.
pub fn each_holds(folder: &str) {
    for name in folders(folder) {
        let answers = read(&format!("{folder}/{name}/answers.toml")).unwrap();
        let shown = from_the_mistake_on(folder, &name, &answers);
        holds(&format!("{folder}/{name}/transcript.txt"), &shown);
    }
}

#[test]
fn each_is_caught() {
    each_holds(FOLDER);
}
