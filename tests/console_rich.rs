//! The rich face on a real (pseudo) terminal: this test runs itself as the program there.

#![allow(unsafe_code, clippy::unwrap_used)]

#[path = "support/golden.rs"]
mod golden;
#[path = "support/pty.rs"]
mod pty;
#[path = "support/walk.rs"]
mod walk;

use std::io::Write;
use std::process::Command;
use std::time::Duration;

use golden::assert_golden;
use pty::{Pty, spawn, spawn_with_keys};
use rustix::process::Signal;
use tankhand::clock::SystemClock;
use tankhand::console::{ColourWish, Ended, FaceKind, KeyMode, Signals, Surroundings};

/// Names what the child does; unset in an ordinary test run.
const ROLE: &str = "TANKHAND_TEST_ROLE";

/// Runs the child before the test runner's `main`: signals go to a process's first thread, and
/// it is there that the real program waits for keys.
#[used]
#[unsafe(link_section = ".init_array")]
static BEFORE_MAIN: extern "C" fn() = before_main;

extern "C" fn before_main() {
    if let Ok(role) = std::env::var(ROLE) {
        std::process::exit(the_child(&role));
    }
}

/// The program that the tests start on a terminal; gives its exit code.
fn the_child(role: &str) -> i32 {
    let signals = Signals::install().unwrap();
    let around = Surroundings::look(role == "plain");
    assert_eq!(around.face() == FaceKind::Plain, role == "plain");
    let mut face = around.open(ColourWish::Auto, &signals).unwrap();
    if role == "panic" {
        let _keys = KeyMode::hold().unwrap();
        std::io::stdout().write_all(b"\x1b[?25lwaiting").unwrap();
        panic!("on purpose");
    }
    match walk::walk(&mut *face, &SystemClock, Duration::from_secs(600)) {
        Ok(_) => 0,
        Err(Ended::Interrupted) => 130,
        Err(Ended::NoMoreInput) => 3,
        Err(_) => 4,
    }
}

fn child(role: &str) -> Command {
    let mut command = Command::new(std::env::current_exe().unwrap());
    command.env(ROLE, role);
    command
}

fn start(role: &str, rows: u16, columns: u16) -> Pty {
    spawn(child(role), rows, columns)
}

/// Walks up to the choice.
fn to_the_choice(pty: &mut Pty) {
    pty.wait_for("type understood >");
    pty.send("understood\r");
    pty.wait_for("1st of 2 >");
    pty.send("38\r");
    pty.wait_for("2nd of 2 >");
    pty.send("38.5\r");
    pty.wait_for("  water >");
    pty.wait_for("more:");
}

fn assert_left_in_order(pty: &Pty) {
    assert!(pty.is_sane(), "the terminal is left without echo:\n{}", pty.screen());
    assert!(!pty.cursor_hidden(), "the cursor is left hidden:\n{}", pty.screen());
}

#[test]
fn a_whole_walk() {
    let mut pty = start("rich", 60, 80);
    pty.wait_for("type understood >");
    pty.send("under\r");
    pty.wait_for("is typed.\n  type understood >");
    pty.send("Understood\r");
    pty.wait_for("1st of 2 >");
    pty.send("999\r");
    pty.wait_for("0 to 100 psi.\n  pressure, psi, 1st of 2 >");
    pty.send("?\r");
    pty.wait_for("charge.\n  pressure, psi, 1st of 2 >");
    pty.send("38\r");
    pty.wait_for("2nd of 2 >");
    pty.send("note the cap was missing\r");
    pty.wait_for("2nd of 2 > note the cap was missing\n  pressure, psi, 2nd of 2 >");
    pty.send("38.5\r");
    pty.wait_for("more:");
    pty.send("\x1b[B\x1b[B\r");
    pty.wait_for("water > cloudy");
    pty.wait_for("to go [");
    pty.send("e");
    pty.wait_for("Enter when done >");
    pty.send("\r");
    assert!(pty.wait_exit().success());
    assert_left_in_order(&pty);
    assert_golden("rich_80.txt", &without_waited_time(&pty.screen()));
}

/// How long the wait took depends on the machine.
fn without_waited_time(screen: &str) -> String {
    let seconds = |text: &str, lead: &str, end: &str| -> Option<String> {
        let at = text.find(lead)? + lead.len();
        let length = text[at..].find(end).unwrap_or(text.len() - at);
        Some(text[at..at + length].to_string())
    };
    let mut text = screen.to_string();
    for (lead, end, instead) in
        [("over after ", "\n", "TIME"), ("hold = ", " s", "SECONDS"), ("Hold: ", " to go", "TIME")]
    {
        if let Some(found) = seconds(&text, lead, end) {
            text = text.replacen(&format!("{lead}{found}{end}"), &format!("{lead}{instead}{end}"), 1);
        }
    }
    text
}

#[test]
fn escape_goes_back_and_the_earlier_answer_can_be_edited() {
    let mut pty = start("rich", 50, 80);
    to_the_choice(&mut pty);
    pty.send("\x1b");
    pty.wait_for("water > back");
    pty.wait_for("2nd of 2; the earlier answer was 38.5\n  pressure, psi > 38.5");
    pty.send("\x7f\x7f.25\r");
    pty.wait_for("pressure, psi > 38.25");
    pty.wait_for("more:");
    pty.send("\x1b[B\r");
    pty.wait_for("water > clear");
}

#[test]
fn the_last_item_opens_the_commands() {
    let mut pty = start("rich", 50, 80);
    to_the_choice(&mut pty);
    pty.send("\x1b[A\r");
    pty.wait_for("instead of an answer >");
    pty.wait_for("return to the question");
    pty.send("\x1b");
    pty.wait_for("more:");
    pty.send("\x1b[A\r");
    pty.wait_for("return to the question");
    pty.send("\x1b[B\x1b[B\x1b[B\r");
    pty.wait_for("remark >");
    pty.send("grit in the jar\r");
    pty.wait_for("remark > grit in the jar");
    pty.wait_for("more:");
    pty.send("\x1b[A\r");
    pty.wait_for("return to the question");
    pty.send("\x1b[A\x1b[A\r");
    assert!(pty.wait_exit().success());
    assert!(pty.screen().ends_with("air_found = 38.5\nnote: grit in the jar"), "{}", pty.screen());
    assert_left_in_order(&pty);
}

#[test]
fn ctrl_c_and_requests_to_end_leave_the_terminal_in_order() {
    type End = fn(&mut Pty);
    let ends: [End; 4] = [
        |pty| pty.send("\x03"),
        |pty| pty.signal(Signal::INT),
        |pty| pty.signal(Signal::TERM),
        |pty| pty.signal(Signal::HUP),
    ];
    for end in ends {
        let mut in_line = start("rich", 30, 80);
        in_line.wait_for("type understood >");
        end(&mut in_line);
        assert_eq!(in_line.wait_exit().code(), Some(130));
        assert_left_in_order(&in_line);

        let mut in_list = start("rich", 40, 80);
        to_the_choice(&mut in_list);
        assert!(in_list.cursor_hidden());
        end(&mut in_list);
        assert_eq!(in_list.wait_exit().code(), Some(130));
        assert_left_in_order(&in_list);

        let mut in_wait = start("rich", 40, 80);
        to_the_choice(&mut in_wait);
        in_wait.send("\x1b[B\r");
        in_wait.wait_for("to go [");
        end(&mut in_wait);
        assert_eq!(in_wait.wait_exit().code(), Some(130));
        assert_left_in_order(&in_wait);
    }
}

#[test]
fn a_panic_leaves_the_terminal_in_order() {
    let mut pty = start("panic", 30, 80);
    pty.wait_for("on purpose");
    assert!(!pty.wait_exit().success());
    assert_left_in_order(&pty);
}

#[test]
fn a_wait_can_be_left() {
    let mut pty = start("rich", 50, 80);
    to_the_choice(&mut pty);
    pty.send("\x1b[B\r");
    pty.wait_for("to go [");
    pty.send("xp");
    pty.wait_for("Enter when done >");
    pty.send("\r");
    assert!(pty.wait_exit().success());
    assert!(pty.screen().contains("hold paused"), "{}", pty.screen());
}

#[test]
fn keys_typed_before_a_danger_do_not_acknowledge_it() {
    let mut pty = spawn_with_keys(child("rich"), 30, 80, "understood\r");
    pty.wait_for("type understood >");
    pty.send("?\r");
    pty.wait_for("shows the water's pressure");
    pty.wait_for("type understood > ?");
    assert!(!pty.screen().contains("Step 2"), "{}", pty.screen());
}

#[test]
fn forty_columns() {
    let mut pty = start("rich", 70, 40);
    pty.wait_for("type understood >");
    pty.send("understood\r");
    pty.wait_for("1st of 2 >");
    pty.send("note a remark that is much longer than the screen is wide, twice over\r");
    pty.wait_for("twice over\n  pressure, psi, 1st of 2 >");
    pty.send("38\r");
    pty.wait_for("2nd of 2 >");
    pty.send("38.5\r");
    pty.wait_for("more:");
    pty.send("\x1b[B\x1b[B\x1b[A\r");
    pty.wait_for("water > clear");
    pty.wait_for("to go [");
    pty.send("\r");
    pty.wait_for("Enter when done >");
    pty.send("\r");
    assert!(pty.wait_exit().success());
    assert_golden("rich_40.txt", &without_waited_time(&pty.screen()));
}

#[test]
fn the_plain_face_on_a_terminal_can_be_interrupted_while_it_waits() {
    for end in [Signal::INT, Signal::TERM] {
        let mut pty = start("plain", 30, 80);
        pty.wait_for("type understood >");
        pty.signal(end);
        assert_eq!(pty.wait_exit().code(), Some(130));
        assert_left_in_order(&pty);
    }
}

#[test]
fn the_plain_face_on_a_terminal() {
    let mut pty = start("plain", 60, 80);
    pty.wait_for("type understood >");
    pty.send("understood\r");
    pty.wait_for("1st of 2 >");
    pty.send("38\x1b[D\r");
    pty.wait_for("Type it again.\n  pressure, psi, 1st of 2 >");
    pty.send("38\r");
    pty.wait_for("2nd of 2 >");
    pty.send("38.5\r");
    pty.wait_for("  water >");
    pty.send("2\r");
    pty.wait_for("Enter to end it early");
    pty.send("what\r");
    pty.wait_for("Not taken: During the wait");
    pty.send("\r");
    pty.wait_for("Enter when done >");
    assert!(!pty.has_colour() && !pty.cursor_hidden() && pty.is_sane());
    pty.send("\x04");
    assert_eq!(pty.wait_exit().code(), Some(3));
}

#[test]
fn without_colour_nothing_is_coloured() {
    let mut plain_colour = child("rich");
    plain_colour.env("NO_COLOR", "1");
    let mut pty = spawn(plain_colour, 40, 80);
    to_the_choice(&mut pty);
    assert!(!pty.has_colour());
    let mut pty = start("rich", 40, 80);
    to_the_choice(&mut pty);
    assert!(pty.has_colour());
}

#[test]
fn a_screen_of_few_rows_pages_the_list() {
    let mut pty = start("rich", 4, 80);
    pty.wait_for("type understood >");
    pty.send("understood\r");
    pty.wait_for("1st of 2 >");
    pty.send("38\r");
    pty.wait_for("2nd of 2 >");
    pty.send("38.5\r");
    pty.wait_for("[Page 1/2]");
    pty.send("\x1b[B\x1b[B\x1b[B");
    pty.wait_for("[Page 2/2]");
    pty.send("\r");
    pty.wait_for("to go [");
    pty.send("e");
    pty.wait_for("Enter when done >");
    pty.send("\r");
    pty.wait_exit();
    pty.wait_for("jar = dirty\nhold =");
}

#[test]
fn a_window_made_narrower_is_followed() {
    let mut pty = start("rich", 50, 80);
    pty.wait_for("type understood >");
    pty.wait_idle();
    pty.resize(50, 40);
    pty.send("understood\r");
    pty.wait_for("  tank's air valve and read it at eye\n  level.");
}
