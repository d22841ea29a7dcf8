//! The program that tests of the rich face start on a terminal: the test binary itself.

#![allow(unsafe_code, clippy::unwrap_used)]

use std::io::Write;
use std::time::Duration;

use tankhand::clock::SystemClock;
use tankhand::console::{
    Block, ColourWish, Ended, Face, KeyMode, Prompt, Reply, ReplyKind, Signals, Surroundings,
};

use crate::walk;

/// Names what the child does; unset in an ordinary test run.
pub const ROLE: &str = "TANKHAND_TEST_ROLE";

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
    assert_eq!(!around.is_rich(), role == "plain");
    let mut face = around.open(ColourWish::Auto, &signals).unwrap();
    if role == "panic" {
        let _keys = KeyMode::hold().unwrap();
        std::io::stdout().write_all(b"\x1b[?25lwaiting").unwrap();
        panic!("on purpose");
    }
    let end = match role {
        "amend" => amend(&mut *face),
        _ => walk::walk(&mut *face, &SystemClock, Duration::from_secs(600)).map(|_| ()),
    };
    match end {
        Ok(()) => 0,
        Err(Ended::Interrupted) => 130,
        Err(Ended::NoMoreInput) => 3,
        Err(_) => 4,
    }
}

/// Asks for free text that was given before, and for a yes or no.
fn amend(face: &mut dyn Face) -> Result<(), Ended> {
    let mut prompt = Prompt {
        step: "who".into(),
        which: String::new(),
        number: None,
        label: "name".into(),
        expects: ReplyKind::Line,
        usual: None,
        otherwise: None,
        earlier: Some("M. Exampel, of the house by the well".into()),
        commands: Vec::new(),
    };
    let Reply::Text(name) = face.ask(&prompt)? else { return Err(Ended::NoMoreInput) };
    face.show(&Block::Lines(vec![format!("name = {name}")]))?;
    prompt.step = "sure".into();
    prompt.earlier = None;
    prompt.usual = Some("no".into());
    prompt.expects = ReplyKind::OneOf(["yes", "no"].map(|word| (word.into(), word.into())).to_vec());
    for _ in 0..2 {
        let Reply::Text(sure) = face.ask(&prompt)? else { return Err(Ended::NoMoreInput) };
        face.show(&Block::Lines(vec![format!("sure = {sure}")]))?;
    }
    Ok(())
}
