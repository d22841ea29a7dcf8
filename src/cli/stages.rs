//! Stages: who answers, and what clock runs.

use std::io;
use std::path::Path;

use super::args::Args;
use crate::app::{self, Demo, Done, Failure, Occasion, PassingHome, Stage};
use crate::clock::{SetClock, SystemClock};
use crate::console::{Ended, Outlet, Paced, Script, ScriptFace, Signals, Style, Surroundings};

/// A person at the keyboard, or lines from a pipe.
pub(super) fn live(
    args: &Args,
    act: impl FnOnce(&mut Stage<'_>) -> Result<Done, Failure>,
) -> Result<Done, Failure> {
    let surroundings = Surroundings::look(args.plain);
    let signals = Signals::install()?;
    let mut face = surroundings.open(args.color.wish(), &signals)?;
    let width = surroundings.style(args.color.wish()).width;
    act(&mut Stage { face: face.as_mut(), clock: &SystemClock, width, occasion: Occasion::Work })
}

/// A script of answers.
pub(super) fn scripted(
    args: &Args,
    file: &Path,
    act: impl FnOnce(&mut Stage<'_>) -> Result<Done, Failure>,
) -> Result<Done, Failure> {
    let script = Script::load(&app::read_source(file)?)?;
    let style = Surroundings::look(args.plain).style(args.color.wish());
    play(script, Played { style, output: Outlet::output(style.colour), occasion: Occasion::Script }, act)
}

/// A demonstration: its own script, at a readable pace on a terminal, its record not kept.
pub(super) fn scripted_demo(args: &Args, demo: &Demo) -> Result<Done, Failure> {
    let surroundings = Surroundings::look(args.plain);
    let passing = PassingHome::make()?;
    let home = passing.home()?;
    let signals = Signals::install()?;
    let style = surroundings.style(args.color.wish());
    let output =
        Paced::new(Outlet::output(style.colour), &SystemClock, signals, surroundings.output_terminal);
    let played = Played { style, output, occasion: Occasion::Demo };
    play(demo.script()?, played, |stage| demo.perform(&home, stage)).map(|_| Done::Well)
}

/// Where a script is played, and on what occasion.
struct Played<W> {
    style: Style,
    output: W,
    occasion: Occasion,
}

fn play<W: io::Write>(
    script: Script,
    Played { style, output, occasion }: Played<W>,
    act: impl FnOnce(&mut Stage<'_>) -> Result<Done, Failure>,
) -> Result<Done, Failure> {
    let clock = SetClock::at(script.start());
    let mut face = ScriptFace::new(script, &clock, output, style);
    let done = act(&mut Stage { face: &mut face, clock: &clock, width: style.width, occasion })?;
    match face.finish() {
        Ok(_) | Err(Ended::Interrupted | Ended::NoMoreInput) => Ok(done),
        Err(Ended::Script(fault)) => Err(Failure::Faults(vec![*fault])),
        Err(Ended::Io(error)) => Err(error.into()),
    }
}
