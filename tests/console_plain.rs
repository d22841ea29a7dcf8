//! Whole transcripts of the plain face and of the script face, on the same small walk.

#![allow(clippy::unwrap_used)]

#[path = "support/golden.rs"]
mod golden;
#[path = "support/walk.rs"]
mod walk;

use std::io::Write;
use std::time::Duration;

use golden::holds;
use proptest::prelude::*;
use tankhand::clock::{Clock, Moment, SetClock};
use tankhand::console::{
    Block, Countdown, CountdownEnd, Ended, Face, PlainFace, Prompt, ReplyKind, Script, ScriptFace, Signals,
    StandardInput, Style,
};
use tankhand::source::SourceText;

const TEN_MINUTES: Duration = Duration::from_secs(600);

fn clock() -> SetClock {
    SetClock::at(Moment::parse("2031-04-05T09:00:00-05:00").unwrap())
}

/// An input of these bytes.
fn typed(bytes: &[u8]) -> StandardInput {
    let (reader, mut writer) = std::io::pipe().unwrap();
    let bytes = bytes.to_vec();
    // A pipe holds only so much, and not every test reads to the end.
    std::thread::spawn(move || drop(writer.write_all(&bytes)));
    StandardInput::piped(reader, Signals::none())
}

/// How the walk ended, and the transcript.
fn piped(input: &str, style: Style) -> (String, String) {
    let clock = clock();
    let mut output = Vec::new();
    let mut face = PlainFace::new(typed(input.as_bytes()), &mut output, style, Signals::none());
    let end = ended(walk::walk(&mut face, &clock, TEN_MINUTES));
    drop(face);
    (end, String::from_utf8(output).unwrap())
}

fn ended(result: Result<Vec<String>, Ended>) -> String {
    match result {
        Ok(_) => "done".to_string(),
        Err(Ended::NoMoreInput) => "no more input".to_string(),
        Err(Ended::Interrupted) => "interrupted".to_string(),
        Err(Ended::Io(error)) => format!("failed: {error}"),
        Err(Ended::Script(fault)) => described(&fault),
    }
}

fn described(fault: &tankhand::source::Fault) -> String {
    let why = fault.why.as_deref().map(|why| format!(" [{why}]")).unwrap_or_default();
    format!("{}{why} ({})", fault.heading(), fault.remedy.as_deref().unwrap_or("no remedy"))
}

const ANSWERS: &str =
    "understand\nunderstood\n999\n?\n38\nback\n37.5\nnote the cap was missing\n38.5 psi\nclo\nend\n\n";

#[test]
fn a_piped_walk_reads_complete() {
    let (end, transcript) = piped(ANSWERS, Style::plain(80));
    assert_eq!(end, "done");
    holds("tests/terminal/plain_80.txt", &transcript);
}

#[test]
fn a_piped_walk_fits_forty_columns() {
    let (end, transcript) = piped(ANSWERS, Style { unicode: true, ..Style::plain(40) });
    assert_eq!(end, "done");
    let wide: Vec<&str> = transcript.lines().filter(|line| line.chars().count() > 40).collect();
    assert_eq!(wide, ["  pressure, psi, 2nd of 2 > note the cap was missing"], "only an answer may be wider");
    holds("tests/terminal/plain_40.txt", &transcript);
}

#[test]
fn the_end_of_the_input_ends_the_walk() {
    let (end, transcript) = piped("understood\n38\n", Style::plain(80));
    assert_eq!(end, "no more input");
    holds("tests/terminal/plain_end.txt", &transcript);
}

#[test]
fn no_escape_and_no_foreign_character_reaches_a_plain_output() {
    let hostile = "understood\n\u{1b}[2J\n\u{202e}38\n38 °F\n38\n";
    let style = Style { colour: true, ..Style::plain(80) };
    let (_, transcript) = piped(hostile, style);
    let bad: Vec<char> = transcript.chars().filter(|c| *c != '\n' && !(' '..='~').contains(c)).collect();
    assert_eq!(bad, Vec::<char>::new());
}

#[test]
fn a_tab_between_harmful_characters_is_echoed_as_spaces() {
    let (_, transcript) = piped("\u{e}\t\u{e}\n", Style::plain(80));
    let echoed = transcript.lines().find(|line| line.contains('?') && line.contains('>'));
    assert_eq!(echoed, Some("  type understood > ?    ?"));
}

#[test]
fn a_pipe_that_never_fits_is_given_up() {
    let (end, _) = piped(&"y\n".repeat(5000), Style::plain(80));
    assert_eq!(end, "failed: 1000 answers in a row from the pipe did not fit one question");
}

proptest! {
    #[test]
    fn any_bytes_end_the_walk_without_panic(bytes in proptest::collection::vec(any::<u8>(), 0..400)) {
        let clock = clock();
        let mut output = Vec::new();
        let start: &[u8] = b"understood\n38\n38\n";
        for lead in [&b""[..], start] {
            let input = [lead, &bytes].concat();
            let mut face = PlainFace::new(typed(&input), &mut output, Style::plain(40), Signals::none());
            let end = ended(walk::walk(&mut face, &clock, TEN_MINUTES));
            prop_assert!(["done", "no more input"].contains(&end.as_str()), "{end}");
        }
        prop_assert!(output.iter().all(|byte| *byte == b'\n' || (b' '..=b'~').contains(byte)));
    }
}

fn hold(whole: u64, passed: u64, early: bool) -> Countdown {
    Countdown {
        step: "hold".into(),
        whole: Duration::from_secs(whole),
        passed: Duration::from_secs(passed),
        early,
    }
}

fn waited(input: &str, countdown: &Countdown) -> (CountdownEnd, String, Duration) {
    let clock = clock();
    let mut output = Vec::new();
    let mut face = PlainFace::new(typed(input.as_bytes()), &mut output, Style::plain(80), Signals::none());
    let end = face.count_down(countdown, &clock).unwrap();
    drop(face);
    (end, String::from_utf8(output).unwrap(), clock.running())
}

#[test]
fn a_wait_tells_each_minute_and_counts_what_had_passed() {
    let (end, transcript, passed) = waited("", &hold(300, 90, false));
    assert_eq!(end, CountdownEnd::Over(Duration::from_secs(300)));
    assert_eq!(passed, Duration::from_secs(210));
    let lines = [
        "Waiting until 09:03: 3:30 to go",
        "Waiting: 3:00 to go",
        "Waiting: 2:00 to go",
        "Waiting: 1:00 to go",
        "Waited 5:00. Ready since 09:03.",
    ];
    assert_eq!(transcript, lines.map(|line| format!("  {line}\n")).concat());
}

#[test]
fn a_long_wait_is_told_in_larger_steps() {
    let (_, transcript, _) = waited("", &hold(4 * 3600 + 60, 0, false));
    let lines: Vec<&str> = transcript.lines().take(5).collect();
    assert_eq!(
        lines,
        [
            "  Waiting until 13:01: 4:01:00 to go",
            "  Waiting: 4:00:00 to go",
            "  Waiting: 3:00:00 to go",
            "  Waiting: 2:50:00 to go",
            "  Waiting: 2:40:00 to go"
        ]
    );
    assert_eq!(transcript.lines().count(), 2 + 16 + 30);
}

#[test]
fn a_line_ends_a_wait_early_or_leaves_it() {
    let over = |seconds| CountdownEnd::Over(Duration::from_secs(seconds));
    assert_eq!(waited("end\n", &hold(300, 0, true)).0, over(0));
    assert_eq!(waited("end\n", &hold(300, 0, false)).0, over(300));
    assert_eq!(waited("Pause\n", &hold(300, 0, false)).0, CountdownEnd::Pause);
    assert_eq!(waited("", &hold(300, 400, false)).0, over(400));
}

#[test]
fn a_line_that_is_not_for_the_wait_answers_the_next_question() {
    let clock = clock();
    let mut face = PlainFace::new(typed(b"38\n"), Vec::new(), Style::plain(80), Signals::none());
    face.count_down(&hold(60, 0, true), &clock).unwrap();
    let reply = face.ask(&question("air", ReplyKind::Line)).unwrap();
    assert_eq!(reply, tankhand::console::Reply::Text("38".into()));
    assert_eq!(clock.running(), Duration::from_secs(60));
}

fn question(step: &str, expects: ReplyKind) -> Prompt {
    Prompt {
        number: None,
        step: step.into(),
        which: String::new(),
        label: "pressure, psi".into(),
        expects,
        usual: None,
        otherwise: None,
        earlier: None,
        commands: Vec::new(),
    }
}

const SCRIPT: &str = r#"format = 1
start  = 2031-04-05T09:00:00-05:00

[[answer]]
step = "breaker_off"
asks = "mains voltage until the breaker is off"
give = ["understand", "understood"]

[[answer]]
step  = "air_found"
asks  = "read it at eye level. Right when"
after = "5 min"
give  = ["999", "?", "38", "back", "37.5", "note the cap was missing", "38.5 psi"]

[[answer]]
step = "jar"
give = "clo"
"#;

/// How the walk ended, the transcript, and the time that passed.
fn played(script: &str) -> (String, String, Duration) {
    let script = Script::load(&SourceText::new("answers.toml", script)).unwrap();
    let clock = SetClock::at(script.start());
    let mut output = Vec::new();
    let mut face = ScriptFace::new(script, &clock, &mut output, Style::plain(80));
    let end = match walk::walk(&mut face, &clock, TEN_MINUTES) {
        Ok(log) => ended(face.finish().map(|_| log)),
        failed => ended(failed),
    };
    (end, String::from_utf8(output).unwrap(), clock.running())
}

fn with(more: &str) -> String {
    format!("{SCRIPT}{more}")
}

#[test]
fn a_script_plays_the_same_walk() {
    let (end, transcript, passed) = played(&with("[[answer]]\nstep = \"gauge_off\"\ngive = \"done\"\n"));
    assert_eq!(end, "done");
    assert_eq!(passed, Duration::from_secs(15 * 60));
    holds("tests/terminal/script_80.txt", &transcript);
}

#[test]
fn a_script_may_end_or_leave_a_wait() {
    let early = "[[answer]]\nstep = \"hold\"\ngive = \"early\"\nafter = \"3 min\"\n";
    let done = "[[answer]]\nstep = \"gauge_off\"\ngive = \"\"\n";
    let (end, transcript, passed) = played(&with(&format!("{early}{done}")));
    assert_eq!((end.as_str(), passed), ("done", Duration::from_secs(8 * 60)));
    assert!(transcript.ends_with("hold = 180 s\ngauge_off =\n"), "{transcript}");
    let pause = early.replace("early", "pause");
    let (end, transcript, _) = played(&with(&format!("{pause}{done}")));
    assert_eq!(end, "done");
    assert!(
        transcript.contains("  Waiting until 09:15: 10:00 to go\n  Waiting: 7:00 to go\n"),
        "{transcript}"
    );
}

#[test]
fn what_does_not_fit_is_told_with_its_place() {
    let table = [
        (
            with(""),
            "answers.toml:17:13: `gauge_off` (Enter when done) is asked, and the answers are at their end (add an \
             answer with `step = \"gauge_off\"`)",
        ),
        (
            with("[[answer]]\nstep = \"drain\"\ngive = \"done\"\n"),
            "answers.toml:19:8: `gauge_off` (Enter when done) is asked, but this answers `drain` (give the answers in \
             the order in which the run asks)",
        ),
        (
            with(
                "[[answer]]\nstep = \"gauge_off\"\ngive = [\"\", \"more\"]\n[[answer]]\nstep = \"x\"\ngive = \"1\"\n",
            ),
            "answers.toml:20:13: 2 answers were not asked for [The run came to its end without asking this; the \
             answers and the procedure do not fit.] (take the answer out, or look at why the step was not reached)",
        ),
        (
            with("[[answer]]\nstep = \"gauge_off\"\ngive = \"38\"\n"),
            "answers.toml:20:12: `gauge_off` (Enter when done) is asked, and the answers are at their end [The answer \
             before it was not taken: `38` is not expected here: press Enter when it is done.] (add an answer with \
             `step = \"gauge_off\"`)",
        ),
        (
            SCRIPT.replace("\"38.5 psi\"", "\"38.5 psi\", \"39\""),
            "answers.toml:13:84: `jar` (water) is asked before this is answered (give the answers in the order in \
             which the run asks)",
        ),
        (
            SCRIPT.replace("mains voltage", "line voltage"),
            "answers.toml:6:8: this was not in the question at `breaker_off` (the question was: Step 1 of 5: Take the \
             power away The switch terminals carry mains voltage until the breaker is off. If you are not sure which \
             breaker it is, stop and call an electrician. type understood)",
        ),
        (
            with("[[answer]]\nstep = \"hold\"\ngive = \"early\"\nafter = \"11 min\"\n"),
            "answers.toml:21:9: the wait is over before that (make the time shorter than what is left of the wait)",
        ),
    ];
    for (script, expected) in table {
        assert_eq!(played(&script).0, expected);
    }
}

#[test]
fn a_wait_that_may_not_end_early_is_not_ended_by_a_script() {
    let text = "format = 1\nstart = 2031-04-05T09:00:00Z\n[[answer]]\nstep = \"hold\"\ngive = \"early\"\n";
    let script = Script::load(&SourceText::new("answers.toml", text)).unwrap();
    let clock = clock();
    let mut face = ScriptFace::new(script, &clock, Vec::new(), Style::plain(80));
    let end = face.count_down(&hold(60, 0, false), &clock).map(|_| Vec::new());
    assert_eq!(
        ended(end),
        "answers.toml:5:8: this wait may not be ended early (take this answer out: the wait then runs out)"
    );
}

#[test]
fn colour_only_adds_to_the_words() {
    let script =
        Script::load(&SourceText::new("a.toml", "format = 1\nstart = 2031-04-05T09:00:00Z\n")).unwrap();
    let clock = clock();
    let style = Style { colour: true, ..Style::plain(80) };
    let mut face = ScriptFace::new(script, &clock, Vec::new(), style);
    let verdict = tankhand::quantity::Verdict::Fail;
    for block in [Block::Heading("Step 1".into()), Block::Verdict(verdict, "Air was lost.".into())] {
        face.show(&block).unwrap();
    }
    let Ok(output) = face.finish() else { panic!("nothing was left to answer") };
    let output = String::from_utf8(output).unwrap();
    assert_eq!(output, "\u{1b}[1mStep 1\u{1b}[0m\n\u{1b}[31m  FAIL  Air was lost.\u{1b}[0m\n");
}
