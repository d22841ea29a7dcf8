//! A whole flush typed at the real binary's real prompts, by the answers of a demonstration.

use std::fs;

use crate::golden::{self, in_project};
use crate::pty::Pty;
use crate::whole::{answer, tankhand_on};

/// So many that an answer stands there still when the next question comes.
const ROWS: u16 = 150;
/// The rows that a person has, where the program's terminal has more.
const SCREEN: usize = 24;
/// What stands where more than 20 lines would come at once.
const PAUSE: &str = "  Enter goes on >";
const DEMO: &str = "transcripts-demo/gritty-tank";
/// How what is no answer begins.
const COMMANDS: [&str; 8] = ["?", "more", "list", "amend", "back", "note", "pause", "skip"];
/// How a line begins that is no step's own: of hazards, results, places, and what was taken amiss.
const NO_STEP: [&str; 11] =
    ["/!\\", "|", "NOTICE", "=", "PASS", "FAIL", "NOTE", "ATTENTION", "ACT", "CAN'T TELL", "Not taken"];

/// The prompts of a transcript with what was typed at each, in order.
fn typed(transcript: &str) -> Vec<(String, String)> {
    let prompts = transcript.lines().filter(|line| line.starts_with("  ") && !line.starts_with("   "));
    let typed = prompts.filter_map(|line| {
        let (prompt, typed) = line.split_once(" > ").or_else(|| Some((line.strip_suffix(" >")?, "")))?;
        Some((format!("{prompt} >"), typed.to_string()))
    });
    typed.collect()
}

/// Waits for a prompt, after the answer before it is on the screen. On the way waits are cut short, and at
/// pauses Enter is pressed: gives how many of each.
fn come_to(pty: &mut Pty, prompt: &str, before: &str) -> [usize; 2] {
    let last = |screen: &str| screen.lines().last().unwrap_or_default().trim_end().to_string();
    let [mut waits, mut pauses] = [0, 0];
    loop {
        pty.wait_until(&format!("`{prompt}` after `{before}`, or a wait"), |screen| {
            let awaited = [prompt, PAUSE].contains(&last(screen).as_str());
            screen.contains(before) && (awaited || last(screen).contains("to go ["))
        });
        if last(&pty.screen()) == prompt {
            return [waits, pauses];
        }
        pty.wait_idle();
        if last(&pty.screen()) == PAUSE {
            let before = pty.screen();
            pty.send("\r");
            pty.wait_until("more", |screen| screen != before);
            pauses += 1;
            continue;
        }
        // A pause's line is drawn anew while it is passed: what stands there now is looked at again.
        if !last(&pty.screen()).contains("to go [") {
            continue;
        }
        pty.send("end\r");
        pty.wait_until("the end of the wait", |screen| !last(screen).contains("to go ["));
        waits += 1;
    }
}

/// What one flush asked of a person at a terminal.
#[derive(Default)]
struct Asked {
    answers: usize,
    commands: usize,
    pauses: usize,
    typed: usize,
    /// Before each answer: characters and lines to read.
    blocks: Vec<(usize, usize)>,
    /// Of these the characters of the step itself: what to do, what to look for, and the choices; not the prompt.
    steps: Vec<usize>,
}

impl Asked {
    /// Counts what stands on the screen since the answer before.
    fn count(&mut self, screen: &str, before: &str, typed: &str) {
        let lines: Vec<&str> = screen.lines().map(str::trim).collect();
        let answered = lines.iter().rposition(|line| !before.is_empty() && line.starts_with(before.trim()));
        let block = &lines[answered.map_or(0, |at| at + 1)..];
        let characters = |lines: &[&str]| lines.iter().map(|line| line.chars().count()).sum::<usize>();
        self.blocks.push((characters(block), block.iter().filter(|line| !line.is_empty()).count()));
        let other = block.iter().rposition(|line| NO_STEP.iter().any(|start| line.starts_with(start)));
        // What stands with such a line, down to the next empty one, is not the step's either.
        let begin = other.map_or(0, |at| block[at..].iter().take_while(|line| !line.is_empty()).count() + at);
        self.steps.push(characters(block.get(begin..block.len().saturating_sub(1)).unwrap_or_default()));
        match COMMANDS.contains(&typed.split(' ').next().unwrap_or_default()) {
            true => self.commands += 1,
            false => self.answers += 1,
        }
        self.typed += typed.chars().count() + 1;
    }

    fn row(&mut self, columns: u16) -> String {
        self.blocks.sort_unstable();
        self.steps.sort_unstable();
        let longest = self.blocks.iter().map(|(_, lines)| lines).max().unwrap();
        let [step, median] = [self.steps[self.steps.len() / 2], self.blocks[self.blocks.len() / 2].0];
        let screens: usize = self.blocks.iter().map(|(_, lines)| lines.div_ceil(SCREEN)).sum();
        format!(
            "{columns:>7}{:>9}{:>10}{:>8}{:>9}{:>7}{step:>6}{median:>7}{longest:>9}\n",
            self.answers, self.commands, self.pauses, screens, self.typed
        )
    }
}

#[test]
fn a_whole_flush_is_typed_at_a_terminal() {
    let mut measured =
        "columns  answers  commands  pauses  screens  typed  step  block  longest\n".to_string();
    let transcript = fs::read_to_string(in_project(&format!("{DEMO}/transcript.txt"))).unwrap();
    for columns in [80, 40] {
        // A record of the run before would offer its precharge.
        let home = tempfile::tempdir().unwrap();
        fs::copy(in_project(&format!("{DEMO}/system.toml")), home.path().join("system.toml")).unwrap();
        let mut pty = tankhand_on((ROWS, columns), home.path(), &["run", "flush"]);
        let (mut waits, mut asked) = (0, Asked::default());
        let mut before = String::new();
        for (prompt, typed) in typed(&transcript) {
            let [waited, went_on] = come_to(&mut pty, &prompt, &before);
            waits += waited;
            asked.pauses += went_on;
            pty.wait_idle();
            asked.count(&pty.screen(), &before, &typed);
            pty.send(&format!("{typed}\r"));
            let shown: String = typed.chars().take(8).collect();
            before = format!("{prompt} {shown}").trim_end().to_string();
        }
        answer(&mut pty, "yes or no [yes] >", "no\r");
        let code = pty.wait_exit().code();
        assert_eq!(code, Some(1), "a hold test cut short does not pass:\n{}", pty.screen());
        assert!(pty.is_sane() && !pty.cursor_hidden());
        assert_eq!(waits, 3);
        measured.push_str(&asked.row(columns));
    }
    measured.push_str(
        "\nA flush of six rounds as its demonstration is typed, with the words for warnings and one precharge set twice.\n\
         typed: characters with each Enter; screens: of 24 rows; step: median of the characters that say what to do,\n\
         what to look for, and the choices; block, longest: median characters and most lines before an answer, all among them.\n",
    );
    golden::holds("tests/terminal/measured.txt", &measured);
}
