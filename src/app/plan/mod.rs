//! `plan`: what would be with another switch setting or other tanks, and what to buy for a goal.

mod amounts;
mod facts;
mod goals;
mod outlets;
mod pump;
mod recalled;

use std::io::Write;
use std::path::{Path, PathBuf};

use self::amounts::OptionReader;
use self::facts::Facts;
use super::failure::{Done, Failure};
use super::files::{put_page, write_page};
use super::home::Home;
use super::library::{read_source, read_system};
use crate::physics::FormulaResult;
use crate::physics::plan::{Choice, Design, GoalOf, PlanTank, Search, SoldTank};
use crate::quantity::{Measure, PSI, Uncertain, Units, show_briefly};
use crate::report::{HtmlForm, PlanView, plan_json, plan_page, to_html};
use crate::source::SourceText;
use crate::system::{System, TANK_SIZES, load_sizes};
use crate::words::did_you_mean;

/// What is asked for, as it was typed.
#[derive(Clone, Debug, Default)]
pub struct PlanCall {
    /// The system file, when another than the owner's is meant.
    pub system: Option<PathBuf>,
    /// Where the pump is to start.
    pub cut_in: Option<String>,
    /// Where the pump is to stop.
    pub cut_out: Option<String>,
    /// Tanks to add: `20 gal`, `20 gal @ 6 ft`.
    pub add_tank: Vec<String>,
    /// Ids of tanks to take away.
    pub remove: Vec<String>,
    /// A steady draw to be told of.
    pub demand: Option<String>,
    /// Where water is wanted: `shower +14 ft by 60 ft of 0.75 in at 3 gal/min >= 40 psi`.
    pub serve: Vec<String>,
    /// What is to be reached: `run time 60 s`.
    pub goals: Vec<String>,
    /// What the pump brings.
    pub flow: Option<String>,
    /// Timed fills: `40 psi to 45 psi in 21 s`.
    pub fill: Vec<String>,
    /// The pump's shutoff head.
    pub shutoff: Option<String>,
    /// How far below the switch the water stands while the pump runs.
    pub water_level: Option<String>,
    /// How far below cut-in the precharge is to lie.
    pub gap: Option<String>,
    /// The temperature at the tanks.
    pub temperature: Option<String>,
    /// The least run time that will do.
    pub run_time: Option<String>,
    /// Tell what an outage leaves.
    pub outage: bool,
    /// The table of sizes, when another than the owner's is meant.
    pub sizes: Option<PathBuf>,
    /// The units to show.
    pub units: Option<Units>,
}

/// What a plan becomes.
#[derive(Clone, Copy, Debug)]
pub struct PlanForm<'a> {
    /// One line of JSON in place of a page.
    pub json: bool,
    /// The file for HTML, where `-` is the output.
    pub html: Option<&'a Path>,
    /// The columns of text.
    pub width: usize,
}

/// The gap below cut-in where nobody asks for another (Water Systems Council, *Pressure Tanks*, 2007).
const USUAL_GAP: f64 = 2.0 * PSI;

/// Tells what a plan comes to.
///
/// # Errors
/// Faults of the system file, the table of sizes and the options; facts that nothing can do without.
pub fn plan(call: &PlanCall, form: &PlanForm<'_>, home: &Home, out: &mut dyn Write) -> Result<Done, Failure> {
    let usual = home.system_file();
    let system = read_system(call.system.as_deref(), &usual)?;
    let units = call.units.or(system.units).unwrap_or_default();
    let beside = call.system.as_deref().unwrap_or(&usual);
    let sizes = tank_sizes(call.sizes.as_deref(), beside, units)?;
    let view = view(call, &system, &sizes, home)?;
    let say =
        |why: crate::physics::OutOfRange| Failure::Call(format!("It cannot be planned: {}.", why.say(units)));
    if form.json {
        write!(out, "{}", plan_json(&view).map_err(say)?)?;
        return Ok(Done::Well);
    }
    let page = plan_page(&view).map_err(say)?;
    match form.html {
        None => put_page(&page, form.width, out)?,
        Some(path) if path == Path::new("-") => {
            write!(out, "{}", to_html(&page, HtmlForm::Report, "Plan"))?;
        }
        Some(path) => write_page(path, &to_html(&page, HtmlForm::Report, "Plan"), out)?,
    }
    Ok(Done::Well)
}

/// Writes the table of sizes that comes with the program.
///
/// # Errors
/// When it cannot be written.
pub fn list_sizes(out: &mut dyn Write) -> Result<Done, Failure> {
    write!(out, "{TANK_SIZES}")?;
    Ok(Done::Well)
}

/// The sizes to choose from: those of the file named, else of the one beside the system file, else
/// those that come with the program.
fn tank_sizes(named: Option<&Path>, beside: &Path, units: Units) -> Result<Vec<SoldTank>, Failure> {
    let own = beside.with_file_name("tank-sizes.toml");
    let source = match named {
        Some(path) => read_source(path)?,
        None if own.is_file() => read_source(&own)?,
        None => SourceText::compiled_in("tank-sizes.toml", TANK_SIZES),
    };
    Ok(load_sizes(&source, units)?)
}

fn view(call: &PlanCall, system: &System, sizes: &[SoldTank], home: &Home) -> Result<PlanView, Failure> {
    let units = call.units.or(system.units).unwrap_or_default();
    let mut reader = OptionReader::new(units);
    let facts = Facts::gather(call, system, home, &mut reader)?;
    let tanks = planned_tanks(call, system, &facts, &mut reader);
    let cut_in = reader.number("--cut-in", call.cut_in.as_deref(), Measure::Pressure);
    let cut_out = reader.number("--cut-out", call.cut_out.as_deref(), Measure::Pressure);
    let goals = reader.goals(&call.goals, &facts.site.outlets);
    reader.finish()?;
    let planned = Design { tanks, ..switch([cut_in, cut_out], facts.now.as_ref())? };
    let mut view = PlanView {
        place: system.name.clone(),
        units,
        coldest: facts.coldest,
        added: call.add_tank.len(),
        run_time: goals
            .iter()
            .filter(|goal| goal.of == GoalOf::RunTime)
            .map(|goal| goal.bound)
            .fold(facts.run_time, f64::max),
        outage: call.outage,
        basis: facts.basis,
        no_relief_valve: facts.no_relief_valve,
        choices: None,
        site: facts.site,
        now: facts.now,
        planned,
        goals,
    };
    if !call.goals.is_empty() {
        search(&mut view, sizes, cut_in.is_some());
    }
    if view.planned.tanks.is_empty() {
        return Err(Failure::Call(
            "There is no tank to plan with: the system file names none. Name one with --add-tank '44 gal', or describe \
             yours in the system file."
                .to_string(),
        ));
    }
    Ok(view)
}

/// Searches for what reaches the goals, and plans the first of it.
fn search(view: &mut PlanView, sizes: &[SoldTank], cut_in_fixed: bool) {
    let step = view.units.pressure_step();
    let first = view.planned.cut_in;
    // Above that no switch of a house is set; the limits stop it well before.
    let last = if cut_in_fixed { first } else { first + 60.0 * step };
    let own = view.planned.cut_out - view.planned.cut_in;
    let differentials = [own, own + 5.0 * step, own + 10.0 * step];
    let search = Search {
        site: &view.site,
        start: &view.planned,
        sold: sizes,
        goals: &view.goals,
        cut_ins: [first, last, step],
        differentials: &differentials,
    };
    let choices = search.choices();
    if let Some(Choice { design, bought, .. }) = choices.first() {
        view.planned = design.clone();
        view.added += bought.len();
    }
    view.choices = Some(choices);
}

/// Cut-in and cut-out: as typed, else as they are; a cut-out that is not typed keeps the differential.
fn switch([cut_in, cut_out]: [Option<f64>; 2], now: Option<&Design>) -> Result<Design, Failure> {
    let not_known = |what: &str, option: &str| {
        Failure::Call(format!(
            "The {what} is not known: the system file has none under [switch], and no record has one. Watch the gauge \
             while the pump runs, and give it with {option}."
        ))
    };
    let now = now.map(|now| (now.cut_in, now.cut_out));
    let cut_in = cut_in.or(now.map(|now| now.0)).ok_or_else(|| not_known("cut-in", "--cut-in"))?;
    let kept = now.map(|(low, high)| cut_in + (high - low));
    let cut_out = cut_out.or(kept).ok_or_else(|| not_known("cut-out", "--cut-out"))?;
    Ok(Design { tanks: Vec::new(), cut_in, cut_out })
}

/// The tanks that stay, and those added; all are set to their targets.
fn planned_tanks(
    call: &PlanCall,
    system: &System,
    facts: &Facts,
    reader: &mut OptionReader,
) -> Vec<PlanTank> {
    let ids: Vec<&str> = system.tanks.iter().map(|tank| tank.id.as_ref()).collect();
    for id in call.remove.iter().filter(|id| !ids.contains(&id.as_str())) {
        reader.fault("--remove", id, "the system file has no such tank", &did_you_mean(id, &ids));
    }
    let stays = |(id, _): &(&&str, &PlanTank)| !call.remove.iter().any(|removed| removed == **id);
    let mut tanks: Vec<PlanTank> = ids
        .iter()
        .zip(&facts.tanks)
        .filter(stays)
        .map(|(_, tank)| PlanTank { precharge: None, ..tank.clone() })
        .collect();
    tanks.extend(call.add_tank.iter().enumerate().filter_map(|(at, text)| reader.tank(at, text)));
    tanks
}

/// A value with its unit, exact, for a sentence.
fn shown(measure: Measure, si: f64, units: Units) -> String {
    show_briefly(measure, &Uncertain::exact(si), units)
}

/// What a formula says, as the end of a command.
fn computed<T>(result: FormulaResult<T>, units: Units) -> Result<T, Failure> {
    result.map_err(|why| Failure::Call(format!("It cannot be planned: {}.", why.say(units))))
}
