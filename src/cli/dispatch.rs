//! From arguments to a use case, and from its end to an exit code.

use std::io::{self, Write};
use std::path::Path;
use std::process::ExitCode;

use super::about_itself::{completions, manual};
use super::args::{Args, CliCommand, ProceduresCommand, RecordsCommand};
use super::stages::{live, scripted, scripted_demo};
use crate::app::{self, Demo, Done, Failure, Home, ReportTo, Result, RunOrder};
use crate::console::{ColourWish, Outlet, Style, Surroundings};
use crate::report::{HtmlForm, Places, faults_text};

/// Carries out what the arguments ask for.
pub(super) fn run(args: &Args) -> ExitCode {
    match carry_out(args) {
        Ok(Done::Well) => ExitCode::SUCCESS,
        Ok(Done::Short) => ExitCode::from(1),
        Err(failure) => {
            // When not even the error can be written there is nobody left to tell.
            let _ = report_failure(&failure, Surroundings::look(args.plain).style(args.color));
            ExitCode::from(failure.code())
        }
    }
}

/// Writes a failure for a person.
fn report_failure(failure: &Failure, style: Style) -> io::Result<()> {
    let mut out = Outlet::errors(style.colour);
    match failure {
        Failure::Faults(faults) => write!(out, "{}", faults_text(faults, style.width, style.colour)),
        Failure::NobodyReads | Failure::Reported => Ok(()),
        Failure::Call(message) | Failure::Machine(message) => {
            for line in crate::words::wrap(&format!("tankhand: {message}"), style.width, 0) {
                writeln!(out, "{line}")?;
            }
            Ok(())
        }
    }
}

/// Writes what is wrong with a call, or the help that was asked for; gives the exit code.
pub(super) fn tell(error: &clap::Error) -> u8 {
    let text = error.render();
    let style = Surroundings::look(false).style(ColourWish::Auto);
    // Nobody is left to tell when this cannot be written.
    let _ = match (error.use_stderr(), style.colour) {
        (true, true) => write!(Outlet::errors(true), "{}", text.ansi()),
        (true, false) => write!(Outlet::errors(false), "{text}"),
        (false, true) => write!(Outlet::output(true), "{}", text.ansi()),
        (false, false) => write!(Outlet::output(false), "{text}"),
    };
    u8::try_from(error.exit_code()).unwrap_or(2)
}

fn carry_out(args: &Args) -> Result<Done> {
    let home = || Home::find(args.home.as_deref());
    let style = Surroundings::look(args.plain).style(args.color);
    let (width, mut out) = (style.width, Outlet::output(style.colour));
    match &args.command {
        None => live(args, |stage| app::menu(&home()?, stage)),
        Some(CliCommand::Run(order)) => run_procedure(args, order),
        Some(CliCommand::Practice(order)) => {
            on_stage(args, order.answers.as_deref(), |stage| app::practice(order, &home()?, stage))
        }
        Some(CliCommand::Resume { id, answers }) => {
            on_stage(args, answers.as_deref(), |stage| app::resume(id.as_deref(), &home()?, stage))
        }
        Some(CliCommand::Procedures { what }) => on_procedures(what.as_ref(), &home()?, width, &mut out),
        Some(CliCommand::Sheet(order)) => app::sheet(order, &home()?, width, &mut out),
        Some(CliCommand::Check { files, format }) => app::check(files, (*format, width), &home()?, &mut out),
        Some(CliCommand::Guide { topic }) => app::guide(topic.as_deref(), width, &mut out),
        Some(CliCommand::Schema { of }) => app::schema(*of, &mut out),
        Some(CliCommand::Calc(calculation)) => app::calc(calculation, width, &mut out),
        Some(CliCommand::Completions { shell }) => completions(*shell, &mut out),
        Some(CliCommand::Man { to }) => manual(to.as_deref(), &mut out),
        Some(CliCommand::Plan(order)) => app::plan(order, &home()?, width, &mut out),
        Some(CliCommand::Trend(call)) => app::trend(call, &home()?, width, &mut out),
        Some(CliCommand::System { system, what }) => {
            live(args, |stage| app::installation(what.as_ref(), system.as_deref(), &home()?, stage))
        }
        Some(CliCommand::Logbook(to)) => app::logbook(to, &home()?, width, &mut out),
        Some(CliCommand::Records { filter, what: None }) => {
            app::list_records(filter, &home()?, width, &mut out)
        }
        Some(CliCommand::Records { what: Some(what), .. }) => on_records(what, &home()?, width, &mut out),
    }
}

fn on_procedures(
    what: Option<&ProceduresCommand>,
    home: &Home,
    width: usize,
    out: &mut dyn Write,
) -> Result<Done> {
    match what {
        None => app::list(home, out),
        Some(ProceduresCommand::Show { name, places }) => {
            let places = if *places { Places::Named } else { Places::Left };
            app::show(name, places, home, width, out)
        }
        Some(ProceduresCommand::Copy { name, to }) => app::copy(name, to.as_deref(), home, out),
    }
}

fn on_records(what: &RecordsCommand, home: &Home, width: usize, out: &mut dyn Write) -> Result<Done> {
    match what {
        RecordsCommand::Show { id } => app::show_record(id, home, width, out),
        RecordsCommand::Report { id, html, text, brief, without_identity } => {
            let own = match (*brief, *text) {
                (true, _) => ReportTo::Brief,
                (false, true) => ReportTo::Text,
                (false, false) => ReportTo::OwnFile,
            };
            let report = if *without_identity { app::anonymous_report } else { app::report };
            report(id, &html.clone().map_or(own, ReportTo::Html), home, out)
        }
        RecordsCommand::Tag { id, html, a6 } => {
            let to = html.clone().map_or(ReportTo::Text, ReportTo::Html);
            let form = if *a6 { HtmlForm::TagA6 } else { HtmlForm::Tag };
            app::tag(id, &to, form, home, out)
        }
        RecordsCommand::Compare { first, second, html } => {
            app::compare([first, second], html.as_deref(), home, (width, out))
        }
        RecordsCommand::Mend { id } => app::mend_record(id, home, width, out),
        RecordsCommand::Verify { id } => app::verify_records(id.as_deref(), home, out),
        RecordsCommand::Export(order) if order.columns => app::export_columns(width, out),
        RecordsCommand::Export(order) => app::export(order, home, out, &mut Outlet::errors(false)),
    }
}

fn run_procedure(args: &Args, order: &RunOrder) -> Result<Done> {
    if let Some(name) = &order.demo {
        return scripted_demo(args, Demo::find(&order.work.procedure, Some(name))?);
    }
    let home = Home::find(args.home.as_deref())?;
    on_stage(args, order.answers.as_deref(), |stage| app::run(order, &home, stage))
}

/// Sets a stage with a person, or with a script when one is named.
fn on_stage(
    args: &Args,
    answers: Option<&Path>,
    act: impl FnOnce(&mut app::Stage<'_>) -> Result<Done>,
) -> Result<Done> {
    match answers {
        Some(file) => scripted(args, file, act),
        None => live(args, act),
    }
}
