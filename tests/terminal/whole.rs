//! The real binary in a real pseudo-terminal: its true prompts, through a whole short run.

use std::path::Path;
use std::process::Command;
use std::time::{SystemTime, UNIX_EPOCH};

use crate::pty::{Pty, spawn};

const CTRL_C: &str = "\x03";

fn tankhand(home: &Path, arguments: &[&str], columns: u16) -> Pty {
    tankhand_on((40, columns), home, arguments)
}

/// Starts the program on a terminal of so many rows and columns.
pub fn tankhand_on((rows, columns): (u16, u16), home: &Path, arguments: &[&str]) -> Pty {
    let mut command = Command::new(env!("CARGO_BIN_EXE_tankhand"));
    command
        .args(arguments)
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .env_clear()
        .env("TANKHAND_HOME", home)
        .env("TERM", "xterm-256color")
        .env("LANG", "C.UTF-8")
        .env("TZ", in_the_morning());
    spawn(command, rows, columns)
}

/// A time zone in which it is between six and seven now: late in the day a whole flush would end on the next, which
/// is told with its date, and takes another line.
fn in_the_morning() -> String {
    let now = SystemTime::now().duration_since(UNIX_EPOCH).unwrap().as_secs();
    let east = 6 - i64::try_from(now / 3600 % 24).unwrap();
    format!("MORN{}", -if east < -11 { east + 24 } else { east })
}

/// Whether a screen waits until what stands there was read.
fn pauses(screen: &str) -> bool {
    screen.trim_end().ends_with("Enter goes on >")
}

/// Waits for a prompt, going on at pauses, then types.
pub fn answer(pty: &mut Pty, prompt: &str, keys: &str) {
    loop {
        pty.wait_until(&format!("`{prompt}`"), |screen| screen.contains(prompt) || pauses(screen));
        pty.wait_idle();
        if !pauses(&pty.screen()) {
            break;
        }
        let before = pty.screen();
        pty.send("\r");
        pty.wait_until("what comes after a pause", |screen| screen != before);
    }
    pty.send(keys);
}

fn run_through(columns: u16) -> String {
    let home = tempfile::tempdir().unwrap();
    let mut pty = tankhand(home.path(), &["run", "tests/support/short.toml"], columns);
    answer(&mut pty, "[40 psi] >", "5\r");
    answer(&mut pty, "outside what can", "38 gal\r");
    answer(&mut pty, "gal measures", "\r");
    answer(&mut pty, "to go on >", "yes\r");
    answer(&mut pty, "to go on >", "understood\r");
    answer(&mut pty, "done >", "\r");
    answer(&mut pty, "pressure, psi >", "?\r");
    answer(&mut pty, "Why: With water", "2 psi\r");
    answer(&mut pty, "would be unusual", "2\r");
    answer(&mut pty, "pressure, psi >", "28 psi\r");
    answer(&mut pty, "which >", "dirty\r");
    pty.wait_for("which > dirty");
    pty.wait_for("Waited 0:02.");
    answer(&mut pty, "text >", "back\r");
    answer(&mut pty, "[dirty", "1\r");
    pty.wait_for("which [dirty, as before] > clear");
    pty.wait_until("the question for the second time", |screen| screen.matches("Who did it?").count() == 2);
    pty.wait_idle();
    pty.send("skip nobody signs\r");
    answer(&mut pty, "seal the record", "seal\r");
    let status = pty.wait_exit();
    assert_eq!(status.code(), Some(0), "{}", pty.screen());
    assert!(pty.is_sane() && !pty.cursor_hidden());
    let record = std::fs::read_dir(home.path().join("records")).unwrap().next().unwrap().unwrap();
    let contents = tankhand::record::read(&record.path()).unwrap();
    let given: Vec<String> = contents
        .entries
        .iter()
        .map(|e| {
            let what = e.given.as_ref().or(e.reason.as_ref()).map_or(String::new(), |w| format!(" {w}"));
            format!("{} {}{what}", e.kind.word(), e.step)
        })
        .collect();
    given.join("\n")
}

#[test]
fn a_whole_run_through_the_true_prompts() {
    let expected = "fact cut_in 40 psi
understood drain understood
done drain 
reading air 28 psi
choice jar dirty
wait-begun hold
waited hold
computed target 38 psi
checked right
withdrawn hold
withdrawn hold
withdrawn jar
choice jar clear
wait-begun hold
waited hold
computed target 38 psi
checked right
skipped remark nobody signs";
    let (narrow, wide) = std::thread::scope(|scope| {
        let wide = scope.spawn(|| run_through(80));
        (run_through(40), wide.join().unwrap())
    });
    assert_eq!(wide, expected);
    assert_eq!(narrow, expected, "and on a narrow screen");
}

/// Below a question that fills the screen too.
#[test]
fn nobody_who_breaks_off_is_held_up() {
    let home = tempfile::tempdir().unwrap();
    let mut pty = tankhand_on((24, 80), home.path(), &["run", "tests/support/short.toml"]);
    answer(&mut pty, "[40 psi] >", "?\r");
    answer(&mut pty, "You can type", "?\r");
    pty.wait_until("the help a second time", |screen| screen.matches("You can type").count() == 2);
    pty.wait_idle();
    pty.send("38\r");
    answer(&mut pty, "to go on >", CTRL_C);
    pty.wait_exit();
    let screen = pty.screen();
    assert!(screen.contains("Go on with: tankhand resume") && !screen.contains("Enter goes on"), "{screen}");
}

#[test]
fn ctrl_c_loses_nothing_and_leaves_the_terminal_in_order() {
    let home = tempfile::tempdir().unwrap();
    let mut pty = tankhand(home.path(), &["run", "tests/support/short.toml"], 80);
    answer(&mut pty, "[40 psi] >", "38\r");
    answer(&mut pty, "to go on >", "understood\r");
    answer(&mut pty, "done >", "\r");
    answer(&mut pty, "pressure, psi >", "28 psi\r");
    answer(&mut pty, "which >", CTRL_C);
    assert_eq!(pty.wait_exit().code(), Some(1), "{}", pty.screen());
    assert!(pty.is_sane() && !pty.cursor_hidden(), "{}", pty.screen());
    assert!(pty.screen().contains("Go on with: tankhand resume"), "{}", pty.screen());
    let mut pty = tankhand(home.path(), &["resume"], 80);
    answer(&mut pty, "which >", "cle\r");
    pty.wait_for("to go [");
    pty.wait_idle();
    pty.send(CTRL_C);
    assert_eq!(pty.wait_exit().code(), Some(1), "{}", pty.screen());
    assert!(pty.is_sane() && !pty.cursor_hidden(), "{}", pty.screen());
    let mut pty = tankhand(home.path(), &["resume"], 80);
    answer(&mut pty, "text >", "M. Example\r");
    answer(&mut pty, "seal the record", "seal\r");
    assert_eq!(pty.wait_exit().code(), Some(0), "{}", pty.screen());
}
