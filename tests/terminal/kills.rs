//! The real binary, killed at moments that chance picks: no answer that was followed by a question is lost, and the
//! run is gone on with at the question where it stood.

use std::path::Path;

use rand_core::{Rng, SeedableRng};
use rand_pcg::Pcg64Mcg;
use tankhand::record::{Contents, Entry, EntryKind, read};

use crate::whole::tankhand_on;

/// How each question ends, and what is typed there.
const TALK: [(&str, &str); 7] = [
    ("[40 psi]", "38 psi"),
    ("to go on", "understood"),
    ("done", ""),
    ("pressure, psi", "28 psi"),
    ("which", "clear"),
    ("text", "M. Example"),
    ("seal the record", "seal"),
];
/// The steps that are answered there, but for the last, which closes the record.
const STEPS: [&str; 6] = ["cut_in", "drain", "drain", "air", "jar", "remark"];
/// So long after an answer a run is killed at the latest: about twice what it takes to put the next question.
const MOMENTS: u64 = 30_000;

/// The only record of a home, when there is one.
fn record(home: &Path) -> Option<Contents> {
    let files = std::fs::read_dir(home.join("records")).ok()?.map(|file| file.unwrap().path());
    let named: Vec<_> = files.filter(|path| path.extension().is_some_and(|it| it == "toml")).collect();
    assert!(named.len() < 2, "{named:?}");
    named.first().map(|path| read(path).unwrap())
}

/// How many of the questions are answered in it; the answers are those that were typed.
fn answered(contents: &Contents) -> usize {
    let is_answer = |entry: &&Entry| entry.kind != EntryKind::Resumed && STEPS.contains(&entry.step.as_str());
    let entries = contents.entries.iter().filter(is_answer);
    let given = |entry: &Entry| (entry.step.clone(), entry.given.clone().unwrap_or_default());
    let given: Vec<(String, String)> = entries.map(given).collect();
    let typed = STEPS.iter().zip(TALK).map(|(step, (_, typed))| (step.to_string(), typed.to_string()));
    assert_eq!(given, typed.take(given.len()).collect::<Vec<_>>());
    given.len() + usize::from(contents.summary.is_some())
}

/// Whether the cursor stands at that question.
fn asks(screen: &str, question: &str) -> bool {
    let last = screen.lines().last().unwrap_or_default();
    last.strip_suffix(['>', ':']).is_some_and(|last| last.trim_end().ends_with(question))
}

/// Answers so many questions from one on, and is killed some microseconds after the last of them.
fn life(home: &Path, call: &[&str], (from, answers): (usize, usize), moment: u64) {
    let mut pty = tankhand_on((40, 80), home, call);
    for (question, typed) in &TALK[from..(from + answers).min(TALK.len())] {
        loop {
            pty.wait_until(&format!("`{question}`"), |screen| {
                asks(screen, question) || asks(screen, "Enter goes on")
            });
            // A pause's line is drawn anew while it is passed: what stands there once the program waits, counts.
            pty.wait_idle();
            if asks(&pty.screen(), question) {
                break;
            }
            if asks(&pty.screen(), "Enter goes on") {
                pty.forget_screen();
                pty.send("\r");
            }
        }
        pty.send(&format!("{typed}\r"));
    }
    pty.let_pass(std::time::Duration::from_micros(moment));
}

fn killed(face: &[&str], kills: usize, seed: u64) {
    let mut random = Pcg64Mcg::seed_from_u64(seed);
    let mut below = |most: u64| random.next_u64() % most;
    let mut home = tempfile::tempdir().unwrap();
    for kill in 0..kills {
        let before = record(home.path());
        let from = before.as_ref().map_or(0, answered);
        let call = before.map_or(&["run", "tests/support/short.toml"][..], |_| &["resume"]);
        let answers = usize::try_from(below(4)).unwrap();
        life(home.path(), &[call, face].concat(), (from, answers), below(MOMENTS));
        let after = record(home.path()).as_ref().map_or(0, answered);
        let sent = (from + answers).min(TALK.len());
        let (least, most) = (from.max(sent.saturating_sub(1)), sent);
        assert!(least <= after && after <= most, "kill {kill} of {seed}: {after} of {least} to {most}");
        if after == TALK.len() {
            home = tempfile::tempdir().unwrap();
        }
    }
}

#[test]
#[ignore = "hundreds of runs take minutes"]
fn killed_at_any_moment_a_run_goes_on_where_it_stood() {
    let number = |name: &str| std::env::var(name).ok().map(|text| text.parse::<u64>().unwrap());
    let seed = number("PROPTEST_RNG_SEED").unwrap();
    let kills = usize::try_from(number("TANKHAND_KILLS").unwrap_or(200)).unwrap();
    std::thread::scope(|scope| {
        scope.spawn(|| killed(&[], kills, seed));
        scope.spawn(|| killed(&["--plain"], kills, seed));
    });
}

/// Few, so that they run with the tests.
#[test]
fn killed_a_few_times_a_run_goes_on_where_it_stood() {
    killed(&[], 8, 1);
}
