//! What a run asks of a person: answers, typed characters, screens; by its transcript.

use std::fs;

use tankhand::app::DEMOS;

use crate::golden;

/// The rows of the screen that screens are counted for.
const ROWS: usize = 24;

/// What stands between two answers, and what was typed then.
struct Asked {
    lines: usize,
    characters: usize,
    step: usize,
    prompt: String,
    typed: String,
    round: bool,
}

/// The answers of a transcript, each with what was read before it.
fn asked(transcript: &str) -> Vec<Asked> {
    let (mut all, mut lines, mut characters, mut step) = (Vec::new(), 0, 0, 0);
    for line in transcript.lines() {
        lines += 1;
        let count = line.trim().chars().count();
        characters += count;
        // What a question itself says stands below the last empty line.
        step = if count == 0 { 0 } else { step + count };
        let prompt = line.starts_with("  ") && !line.starts_with("   ");
        let typed = line.split_once(" > ").map(|(_, typed)| typed).or(line.ends_with(" >").then_some(""));
        if let Some(typed) = typed.filter(|_| prompt) {
            let asked = line.strip_suffix(typed).unwrap_or(line).trim().to_string();
            all.push(Asked {
                prompt: asked,
                lines,
                characters,
                step,
                typed: typed.to_string(),
                round: line.contains("round "),
            });
            (lines, characters, step) = (0, 0, 0);
        }
    }
    all
}

fn median(all: &[Asked], of: fn(&Asked) -> usize) -> usize {
    let mut counts: Vec<usize> = all.iter().map(of).collect();
    counts.sort_unstable();
    counts.get(counts.len() / 2).copied().unwrap_or_default()
}

fn row(name: &str, transcript: &str) -> String {
    let all = asked(transcript);
    let typed: usize = all.iter().map(|one| one.typed.chars().count() + 1).sum();
    let screens: usize = all.iter().map(|one| one.lines.div_ceil(ROWS)).sum();
    let words = all.iter().filter(|one| one.typed == "understood").count();
    let [read, step] = [|one: &Asked| one.characters, |one: &Asked| one.step].map(|of| median(&all, of));
    let longest = all.iter().map(|one| one.lines).max().unwrap_or_default();
    // Slips and commands are asked again under the same words.
    let mut needed: Vec<&str> = all.iter().map(|one| one.prompt.as_str()).collect();
    needed.sort_unstable();
    needed.dedup();
    let needed = needed.len() + words.saturating_sub(1);
    let rounds = all.iter().filter(|one| one.round).count();
    format!(
        "{name:32} {:>7} {needed:>6} {words:>10} {rounds:>9} {typed:>6} {screens:>7} {read:>6} {step:>5} {longest:>8}\n",
        all.len()
    )
}

/// The table is made by `TANKHAND_BLESS=1 cargo test --test transcripts effort`.
#[test]
fn what_each_demonstration_asks_of_a_person_is_known() {
    let mut table = format!(
        "{:32} {:>7} {:>6} {:>10} {:>9} {:>6} {:>7} {:>6} {:>5} {:>8}\n",
        "demonstration",
        "answers",
        "needed",
        "understood",
        "in rounds",
        "typed",
        "screens",
        "read",
        "step",
        "longest"
    );
    for demo in DEMOS {
        let path = format!("transcripts-demo/{}/transcript.txt", demo.name);
        let transcript = fs::read_to_string(golden::in_project(&path)).unwrap();
        table.push_str(&row(&format!("{} ({})", demo.name, demo.procedure), &transcript));
    }
    table.push_str(
        "\nanswers: Enter and commands among them; needed: without commands and slips; typed: characters with each Enter; screens: of 24 rows, 80 columns;\n\
         read: characters before an answer, in the median; step: those of them that are the question's own, without results\n\
         before it, what can hurt and headings; longest: lines before one.\n",
    );
    golden::holds("tests/transcripts/effort.txt", &table);
}
