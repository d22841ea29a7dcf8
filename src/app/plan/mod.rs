//! `plan`: what would be with another switch setting or other tanks, and what to buy for a goal.

mod amounts;
mod call;
mod facts;
mod goals;
mod outlets;
mod pump;
mod recalled;

use std::io::Write;
use std::path::Path;

use self::amounts::{OptionReader, cannot_be, whole};
pub use self::call::PlanCall;
use self::call::{computed, shown};
use self::facts::Facts;
use super::files::{put_page, write_page};
use super::library::{read_source, read_system};
use super::unseen::unseen;
use super::{Done, Failure, Home, OutputForm, Result};
use crate::physics::plan::{Choice, Design, GoalOf, PlanTank, Search, SoldTank};
use crate::quantity::{Measure, Units};
use crate::report::{BasisKind, BasisOf, HtmlForm, PlanBasis, PlanView, plan_json, plan_page, to_html};
use crate::source::SourceText;
use crate::system::{System, TANK_SIZES, load_sizes};
use crate::words::did_you_mean;

/// Tells what a plan comes to.
///
/// # Errors
/// Faults of the system file, the table of sizes and the options; facts that nothing can do without.
pub fn plan(call: &PlanCall, home: &Home, width: usize, out: &mut dyn Write) -> Result<Done> {
    if call.list_sizes {
        write!(out, "{TANK_SIZES}")?;
        return Ok(Done::Well);
    }
    let usual = home.system_file();
    let system = read_system(call.system.as_deref(), &usual)?;
    let units = call.units.or(system.units).unwrap_or_default();
    let beside = call.system.as_deref().unwrap_or(&usual);
    let sizes = tank_sizes(call.sizes.as_deref(), beside, units)?;
    let (view, unseen) = view(call, (&system, units), &sizes, home)?;
    let done = if computed(view.fails(), units)? { Done::Short } else { Done::Well };
    if call.format == OutputForm::Json {
        write!(out, "{}", computed(plan_json(&view), units)?)?;
        return Ok(done);
    }
    let mut page = computed(plan_page(&view), units)?;
    if let Some(unseen) = unseen {
        page.note(format!("What was measured may be missing here. {unseen}"));
    }
    match &call.html {
        None => drop(put_page(&page, width, out)?),
        Some(path) if path == Path::new("-") => {
            write!(out, "{}", to_html(&page, HtmlForm::Report, "Plan"))?;
        }
        Some(path) => write_page(path, &to_html(&page, HtmlForm::Report, "Plan"), out)?,
    }
    Ok(done)
}

/// The sizes to choose from: those of the file named, else of the one beside the system file, else
/// those that come with the program.
fn tank_sizes(named: Option<&Path>, beside: &Path, units: Units) -> Result<Vec<SoldTank>> {
    let own = beside.with_file_name("tank-sizes.toml");
    let source = match named {
        Some(path) => read_source(path)?,
        None if own.symlink_metadata().is_ok() => read_source(&own)?,
        None => SourceText::compiled_in("tank-sizes.toml", TANK_SIZES),
    };
    Ok(load_sizes(&source, units)?)
}

/// What a plan comes to; and that there are records of which it is not known what they tell.
fn view(
    call: &PlanCall,
    (system, units): (&System, Units),
    sizes: &[SoldTank],
    home: &Home,
) -> Result<(PlanView, Option<String>)> {
    let Facts { mut view, mut reader, tanks, measured, .. } = Facts::gather(call, system, home, units)?;
    let tanks = planned_tanks(call, system, &tanks, &mut reader);
    let cut_in = reader.number("--cut-in", call.cut_in.as_deref(), Measure::Pressure);
    let cut_out = reader.number("--cut-out", call.cut_out.as_deref(), Measure::Pressure);
    view.goals = reader.goals(&call.goals, &view.site.outlets);
    let switch = switch([cut_in, cut_out], view.now.as_ref());
    if let Ok(design) = &switch {
        in_order(call, design, &mut reader);
    }
    reader.finish()?;
    view.planned = Design { tanks, ..switch? };
    view.added = call.add_tank.len();
    view.basis.extend(view.planned.tanks.iter().rev().take(view.added).map(|tank| PlanBasis {
        of: BasisOf::PlateLimit,
        tank: Some(tank.name.clone()),
        shown: None,
        kind: BasisKind::NotKnown,
    }));
    let run_times = view.goals.iter().filter(|goal| goal.of == GoalOf::RunTime);
    view.run_time = run_times.map(|goal| goal.bound).fold(view.run_time, f64::max);
    if !call.goals.is_empty() {
        search(&mut view, sizes, cut_in.is_some());
    }
    if view.planned.tanks.is_empty() {
        let why = if system.tanks.is_empty() { "the system file names none" } else { "all were taken away" };
        return Err(Failure::Call(format!(
            "There is no tank to plan with: {why}. Add one with --add-tank '44 gal', or describe yours in the system file."
        )));
    }
    Ok((view, unseen(&measured.account)))
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
fn switch([cut_in, cut_out]: [Option<f64>; 2], now: Option<&Design>) -> Result<Design> {
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

/// Notes it when the pump would start at no lower pressure than it stops at.
fn in_order(call: &PlanCall, design: &Design, reader: &mut OptionReader) {
    let typed = [("--cut-out", &call.cut_out), ("--cut-in", &call.cut_in)];
    let typed = typed.into_iter().find_map(|(option, text)| Some(whole(option, text.as_deref()?)));
    if let Some(option) = typed.filter(|_| design.cut_in >= design.cut_out) {
        let [low, high] =
            [design.cut_in, design.cut_out].map(|pa| shown(Measure::Pressure, pa, reader.units));
        let fault = cannot_be(&option, &format!("the cut-in, {low}, is not below the cut-out, {high}"));
        let fault = fault.why("A pump starts at the cut-in and stops at the higher cut-out.");
        reader.fault(fault.remedy("give both with --cut-in and --cut-out, usually 20 psi (1.4 bar) apart"));
    }
}

/// The tanks that stay, and those added; all are set to their targets.
fn planned_tanks(
    call: &PlanCall,
    system: &System,
    known: &[PlanTank],
    reader: &mut OptionReader,
) -> Vec<PlanTank> {
    let ids: Vec<&str> = system.tanks.iter().map(|tank| tank.id.as_ref()).collect();
    for id in call.remove.iter().filter(|id| !ids.contains(&id.as_str())) {
        let fault = cannot_be(&whole("--remove", id), "the system file has no tank of that id");
        let why = "Taking away another tank than the one meant would change every figure.";
        reader.fault(fault.why(why).remedy(did_you_mean(id, &ids)));
    }
    let stays = |(id, _): &(&&str, &PlanTank)| !call.remove.iter().any(|removed| removed == **id);
    let mut tanks: Vec<PlanTank> = ids
        .iter()
        .zip(known)
        .filter(stays)
        .map(|(_, tank)| PlanTank { precharge: None, ..tank.clone() })
        .collect();
    tanks.extend(call.add_tank.iter().enumerate().filter_map(|(at, text)| reader.tank(at, text)));
    tanks
}
