//! Stages: who answers, and what clock runs.

use std::io;
use std::path::Path;

use super::args::Args;
use crate::app::{self, Demo, Done, Failure, Occasion, PassingHome, Result, Stage};
use crate::clock::{SetClock, SystemClock};
use crate::console::{Outlet, Paced, Script, ScriptFace, Signals, Style, Surroundings};

/// A person at the keyboard, or lines from a pipe.
pub(super) fn live(args: &Args, act: impl FnOnce(&mut Stage<'_>) -> Result<Done>) -> Result<Done> {
    let surroundings = Surroundings::look(args.plain);
    let signals = Signals::install()?;
    let mut face = surroundings.open(args.color, &signals)?;
    let width = surroundings.style(args.color).width;
    act(&mut Stage { face: face.as_mut(), clock: &SystemClock, width, occasion: Occasion::Work })
}

/// A script of answers.
pub(super) fn scripted(
    args: &Args,
    file: &Path,
    act: impl FnOnce(&mut Stage<'_>) -> Result<Done>,
) -> Result<Done> {
    let script = Script::load(&app::read_source(file)?)?;
    let style = Surroundings::look(args.plain).style(args.color);
    play(script, (style, Outlet::output(style.colour)), Occasion::Script, act)
}

/// A demonstration: its own script, at a readable pace on a terminal, its record not kept.
pub(super) fn scripted_demo(args: &Args, demo: &Demo) -> Result<Done> {
    let surroundings = Surroundings::look(args.plain);
    let passing = PassingHome::make()?;
    let home = passing.home()?;
    let signals = Signals::install()?;
    let style = surroundings.style(args.color);
    let output =
        Paced::new(Outlet::output(style.colour), &SystemClock, signals, surroundings.output_terminal);
    play(demo.script()?, (style, output), Occasion::Demo, |stage| demo.perform(&home, stage))?;
    Ok(Done::Well)
}

fn play(
    script: Script,
    (style, output): (Style, impl io::Write),
    occasion: Occasion,
    act: impl FnOnce(&mut Stage<'_>) -> Result<Done>,
) -> Result<Done> {
    let clock = SetClock::at(script.start());
    let mut face = ScriptFace::new(script, &clock, output, style);
    let done = act(&mut Stage { face: &mut face, clock: &clock, width: style.width, occasion })?;
    match face.finish() {
        Ok(_) => Ok(done),
        Err(ended) => Failure::unless_left(ended).map(|()| done),
    }
}
