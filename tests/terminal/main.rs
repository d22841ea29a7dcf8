//! The rich face on a real (pseudo) terminal: this test runs itself as the program there; `whole` runs the
//! true one.

#![allow(clippy::unwrap_used)]

#[path = "../support/child.rs"]
mod child;
mod flush;
#[path = "../support/golden.rs"]
mod golden;
mod kills;
#[path = "../support/pty.rs"]
mod pty;
#[path = "../support/walk.rs"]
mod walk;
mod whole;

use std::process::Command;

use child::ROLE;
use golden::holds;
use pty::{Pty, spawn, spawn_with_keys};
use rustix::process::Signal;

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
    pty.wait_for("  water >");
    pty.send("2\r");
    pty.wait_for("water > cloudy: a haze");
    pty.wait_for("to go [");
    pty.send("end\r");
    pty.wait_for("Enter when done >");
    pty.send("\r");
    assert!(pty.wait_exit().success());
    assert_left_in_order(&pty);
    holds("tests/terminal/rich_80.txt", &(without_waited_time(&pty.screen()) + "\n"));
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
        [("Waited ", ".\n", "TIME"), ("hold = ", " s", "SECONDS"), ("Waiting until ", " to go", "TIME")]
    {
        if let Some(found) = seconds(&text, lead, end) {
            text = text.replacen(&format!("{lead}{found}{end}"), &format!("{lead}{instead}{end}"), 1);
        }
    }
    text
}

#[test]
fn a_choice_is_typed_and_what_fits_none_is_refused_without_the_list_again() {
    let mut pty = start("rich", 60, 80);
    to_the_choice(&mut pty);
    pty.send("\r");
    pty.wait_for("one of them (1 to 3).\n  water >");
    pty.send("4\r");
    pty.wait_for("water > 4\n  Not taken: `4` is none of these: clear, cloudy or dirty.\n  water >");
    pty.send("c\t");
    pty.wait_for("  water > cl");
    pty.send("\r");
    pty.wait_for("`cl` could mean `clear` or `cloudy`: type more of it.\n  water >");
    pty.send("jk l\r");
    pty.wait_for("water > jk l\n  Not taken:");
    pty.wait_for("dirty.\n  water >");
    pty.send("clo\t");
    pty.wait_for("  water > cloudy");
    pty.send("\r");
    pty.wait_for("water > cloudy: a haze that stays for more than a minute\n");
    assert_eq!(pty.screen().matches("1  clear").count(), 1, "{}", pty.screen());
    pty.wait_for("to go [");
}

#[test]
fn back_is_typed_at_a_choice_and_a_number_is_typed_anew() {
    let mut pty = start("rich", 60, 80);
    to_the_choice(&mut pty);
    pty.send("ba\t\r");
    pty.wait_for("water > back");
    pty.wait_for("2nd of 2; the earlier answer was 38.5\n  pressure, psi >");
    pty.send("10\r");
    pty.wait_for("pressure, psi > 10\n");
    pty.wait_for("3  dirty: grit on the bottom\n  water >");
    pty.wait_until("the list again", |screen| screen.matches("1  clear").count() == 2);
    pty.send("DIRTY\r");
    pty.wait_for("water > dirty: grit on the bottom\n");
}

#[test]
fn free_text_is_there_to_edit_and_yes_or_no_is_one_line() {
    let mut pty = start("amend", 30, 40);
    pty.wait_for("  name > M. Exampel, of the house by the well");
    pty.send(&"\x7f".repeat("el, of the house by the well".len()));
    pty.send("le\r");
    pty.wait_for("name = M. Example\n");
    pty.wait_for("  yes or no [no] >");
    pty.send("2\r");
    pty.wait_for("`2` is neither yes nor\n    no.\n  yes or no [no] >");
    pty.send("Y\r");
    pty.wait_for("sure = yes\n");
    pty.send("\r");
    assert!(pty.wait_exit().success());
    holds("tests/terminal/rich_amend.txt", &(pty.screen() + "\n"));
}

#[test]
fn commands_are_typed_at_a_choice_as_everywhere() {
    let mut pty = start("rich", 60, 80);
    to_the_choice(&mut pty);
    pty.send("note\r");
    pty.wait_for("Not taken: Type the remark on the same line");
    pty.send("no\tgrit in the jar\r");
    pty.wait_for("water > note grit in the jar\n  water >");
    pty.send("?\r");
    pty.wait_for("charge.\n  1  clear");
    pty.wait_for("bottom\n  water >");
    pty.send("pause\r");
    assert!(pty.wait_exit().success());
    assert!(pty.screen().ends_with("air_found = 38.5\nnote: grit in the jar"), "{}", pty.screen());
    assert_left_in_order(&pty);
}

#[test]
fn ctrl_c_and_requests_to_end_leave_the_terminal_in_order() {
    type End = fn(&mut Pty);
    let ends: [End; 4] = [
        |pty| {
            // Between two keys the terminal is set back and forth; a person presses once it waits.
            pty.wait_idle();
            pty.send("\x03");
        },
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

        let mut half_typed = start("rich", 40, 80);
        to_the_choice(&mut half_typed);
        half_typed.send("clo");
        half_typed.wait_for("water > clo");
        end(&mut half_typed);
        assert_eq!(half_typed.wait_exit().code(), Some(130));
        assert_left_in_order(&half_typed);

        let mut in_wait = start("rich", 40, 80);
        to_the_choice(&mut in_wait);
        in_wait.send("1\r");
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

/// Waits until the bar shows this time or less, below ten minutes.
fn wait_until_left(pty: &mut Pty, time: &str) {
    pty.wait_until(&format!("{time} to go"), |screen| {
        let left = screen.split_once(" to go [").and_then(|(before, _)| before.rsplit(' ').next());
        left.is_some_and(|left| !left.starts_with("10:") && left < format!("{time}~").as_str())
    });
}

#[test]
fn a_wait_can_be_left_by_its_word_but_not_by_words_typed_ahead() {
    let mut pty = start("rich", 50, 80);
    to_the_choice(&mut pty);
    pty.send("1\r");
    pty.wait_for("to go [");
    pty.send("pressure 38\r");
    pty.wait_for("Not taken: During the wait you may type");
    wait_until_left(&mut pty, "9:58");
    pty.send("\x1b[A");
    wait_until_left(&mut pty, "9:56");
    pty.send("pause\r");
    pty.wait_for("Enter when done >");
    pty.send("\r");
    assert!(pty.wait_exit().success());
    assert!(pty.screen().contains("hold paused"), "{}", pty.screen());
}

#[test]
fn a_paste_of_several_lines_is_refused_whole() {
    let mut pty = start("rich", 40, 80);
    pty.wait_for("type understood >");
    pty.send("understood\r");
    pty.wait_for("1st of 2 >");
    pty.send("38\r38.5\rclear\r");
    pty.wait_for("paste one line.\n  pressure, psi, 1st of 2 >");
    pty.send("38\r");
    pty.wait_for("2nd of 2 >");
}

#[test]
fn ctrl_d_ends_it_and_ctrl_z_stops_it_until_it_is_called_back() {
    type Place = fn(&mut Pty);
    let places: [(Place, &str); 2] = [
        (|pty| pty.wait_for("type understood >"), "type understood >"),
        (
            |pty| {
                to_the_choice(pty);
                pty.send("1\r");
                pty.wait_for("to go [");
            },
            " to go [",
        ),
    ];
    for (go, place) in places {
        let mut pty = start("rich", 40, 80);
        go(&mut pty);
        pty.send("\x1a");
        pty.wait_stopped();
        assert_left_in_order(&pty);
        pty.forget_screen();
        pty.go_on();
        pty.wait_for(place);
        assert!(!pty.is_sane());
        pty.send("\x04");
        assert_eq!(pty.wait_exit().code(), Some(3));
        assert_left_in_order(&pty);
    }
}

#[test]
fn keys_typed_before_a_warning_do_not_answer_it() {
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
    pty.wait_for("water >");
    pty.send("clou\r");
    pty.wait_for("water > cloudy: a haze that stays for…\n");
    pty.wait_for("to go [");
    pty.send("end\r");
    pty.wait_for("Enter when done >");
    pty.send("\r");
    assert!(pty.wait_exit().success());
    holds("tests/terminal/rich_40.txt", &(without_waited_time(&pty.screen()) + "\n"));
}

#[test]
fn the_plain_face_on_a_terminal_can_be_interrupted_while_it_waits() {
    for end in [Signal::INT, Signal::TERM] {
        let mut pty = start("plain", 30, 80);
        pty.wait_for("type understood:");
        pty.signal(end);
        assert_eq!(pty.wait_exit().code(), Some(130));
        assert_left_in_order(&pty);
    }
}

#[test]
fn the_plain_face_on_a_terminal() {
    let mut pty = start("plain", 60, 80);
    pty.wait_for("type understood:");
    pty.send("understood\r");
    pty.wait_for("1st of 2:");
    pty.send("38\x1b[D\r");
    pty.wait_for("Type it again.\n  pressure, psi, 1st of 2:");
    pty.send("38\r");
    pty.wait_for("2nd of 2:");
    pty.send("38.5\r");
    pty.wait_for("  water:");
    pty.send("2\r");
    pty.wait_for("`end` to end it early");
    pty.send("what\r");
    pty.wait_for("Not taken: During the wait");
    pty.send("end\r");
    pty.wait_for("Enter when done:");
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
fn a_screen_of_few_rows_scrolls_the_list() {
    let mut pty = start("rich", 4, 80);
    to_the_choice(&mut pty);
    pty.wait_for("3  dirty: grit on the bottom\n  water >");
    pty.send("3\r");
    pty.wait_for("to go [");
    pty.send("end\r");
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
