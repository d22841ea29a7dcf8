//! From arguments to a use case, and from its end to an exit code.

use std::io::{self, Write};
use std::path::Path;
use std::process::ExitCode;

use super::args::{Args, Command, ProceduresCommand, RecordsCommand, RunArgs};
use super::stages::{live, scripted, scripted_demo};
use crate::app::{self, Demo, Done, Failure, Home, RunOrder};
use crate::console::{ColourWish, Surroundings};
use crate::report::faults_text;

/// Carries out what the arguments ask for.
pub(super) fn run(args: &Args) -> ExitCode {
    let wish = args.color.wish();
    match carry_out(args) {
        Ok(Done::Well) => ExitCode::SUCCESS,
        Ok(Done::Short) => ExitCode::from(1),
        Err(failure) => {
            // When not even the error can be written there is nobody left to tell.
            let _ = tell(&failure, args.plain, wish);
            ExitCode::from(failure.code())
        }
    }
}

/// Writes a failure for a person.
fn tell(failure: &Failure, plain: bool, wish: ColourWish) -> io::Result<()> {
    let style = Surroundings::look(plain).style(wish);
    let mut out = io::stderr().lock();
    match failure {
        Failure::Faults(faults) => write!(out, "{}", faults_text(faults, style.width, style.colour)),
        Failure::NobodyReads | Failure::Told => Ok(()),
        Failure::Call(message) | Failure::Machine(message) => {
            for line in crate::words::wrap(&format!("tankhand: {message}"), style.width, 0) {
                writeln!(out, "{line}")?;
            }
            Ok(())
        }
    }
}

fn carry_out(args: &Args) -> Result<Done, Failure> {
    let home = || Home::find(args.home.as_deref());
    let width = || Surroundings::look(args.plain).style(args.color.wish()).width;
    let mut out = io::stdout().lock();
    match &args.command {
        None => {
            drop(out);
            let home = home()?;
            live(args, |stage| app::menu(&home, stage))
        }
        Some(Command::Run(order)) => {
            drop(out);
            run_procedure(args, order)
        }
        Some(Command::Resume { id, answers }) => {
            drop(out);
            let home = home()?;
            on_stage(args, answers.as_deref(), |stage| app::resume(id.as_deref(), &home, stage))
        }
        Some(Command::Procedures { what: None }) => app::list(&home()?, &mut out),
        Some(Command::Procedures { what: Some(ProceduresCommand::Show { name }) }) => {
            app::show(name, &home()?, width(), &mut out)
        }
        Some(Command::Procedures { what: Some(ProceduresCommand::Copy { name, to }) }) => {
            app::copy(name, to.as_deref(), &home()?, &mut out)
        }
        Some(Command::Sheet(order)) => {
            let run_order = RunOrder {
                procedure: &order.procedure,
                system: order.system.as_deref(),
                tank: order.tank.as_deref(),
                units: order.units.map(Into::into),
                from_paper: false,
            };
            app::sheet(&run_order, order.html.as_deref(), (&home()?, width()), &mut out)
        }
        Some(Command::Check { files, format }) => app::check(files, (*format).into(), &home()?, &mut out),
        Some(Command::Guide { topic }) => app::guide(topic.as_deref(), width(), &mut out),
        Some(Command::Schema { of }) => app::schema((*of).into(), &mut out),
        Some(Command::Calc { expression, units }) => app::calc(expression, (*units).into(), &mut out),
        Some(Command::Records { what: None }) => app::list_records(&home()?, width(), &mut out),
        Some(Command::Records { what: Some(RecordsCommand::Show { id }) }) => {
            app::show_record(id, &home()?, width(), &mut out)
        }
        Some(Command::Records { what: Some(RecordsCommand::Verify { id }) }) => {
            app::verify_records(id.as_deref(), &home()?, &mut out)
        }
    }
}

fn run_procedure(args: &Args, order: &RunArgs) -> Result<Done, Failure> {
    if let Some(name) = &order.demo {
        return scripted_demo(args, Demo::find(&order.procedure, Some(name))?);
    }
    let home = Home::find(args.home.as_deref())?;
    let run_order = RunOrder {
        procedure: &order.procedure,
        system: order.system.as_deref(),
        tank: order.tank.as_deref(),
        units: order.units.map(Into::into),
        from_paper: order.from_paper,
    };
    on_stage(args, order.answers.as_deref(), |stage| app::run(&run_order, &home, stage))
}

/// Sets a stage with a person, or with a script when one is named.
fn on_stage(
    args: &Args,
    answers: Option<&Path>,
    act: impl FnOnce(&mut app::Stage<'_>) -> Result<Done, Failure>,
) -> Result<Done, Failure> {
    match answers {
        Some(file) => scripted(args, file, act),
        None => live(args, act),
    }
}
