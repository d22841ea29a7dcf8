//! No command: a short menu.

use super::conversation::Stage;
use super::failure::{Done, Failure};
use super::home::Home;
use super::library::Library;
use super::plan::{PlanCall, PlanForm, plan};
use super::resume::resume;
use super::run::{RunOrder, run};
use crate::console::{Block, Ended, Prompt, Reply, ReplyKind};
use crate::record::list;

/// The shipped procedures in the order in which they are looked for: what somebody sees, what somebody wants
/// to do, the seasons.
const BY_SITUATION: &[&str] = &[
    "trouble",
    "leak",
    "short-cycling",
    "failed-tank",
    "prime",
    "precharge",
    "flush",
    "yearly",
    "plain-tank",
    "used-tank",
    "new-tank",
    "add-tank",
    "set-switch",
    "commission",
    "disinfect",
    "lay-up",
    "re-open",
];

/// Offers what can be done here and does it.
///
/// # Errors
/// As the chosen command.
pub fn menu(home: &Home, stage: &mut Stage<'_>) -> Result<Done, Failure> {
    let mut choices = Vec::new();
    for glance in list(&home.records())?.into_iter().flatten().filter(|glance| glance.outcome.is_none()) {
        choices.push((format!("resume {}", glance.id), format!("go on: {} ({})", glance.title, glance.id)));
    }
    let library = Library::beside(&home.system_file());
    let mut names = library.procedures();
    // One of the owner's own stands before the shipped ones.
    names.sort_by_key(|name| BY_SITUATION.iter().position(|known| known == name));
    for name in names {
        choices.push((format!("run {name}"), library.load(&name)?.title));
    }
    choices.push(("plan".to_string(), "what another tank or pressure would change".to_string()));
    choices.push(("leave".to_string(), "leave".to_string()));
    let prompt = Prompt::new("menu", "which", ReplyKind::OneOf(choices));
    stage.face.show(&Block::Text(
        "What would you like to do? `tankhand --help` shows every command.".to_string(),
    ))?;
    let choice = match stage.face.ask(&prompt) {
        Ok(Reply::Text(choice)) => choice,
        Ok(Reply::Command(..)) | Err(Ended::Interrupted | Ended::NoMoreInput) => return Ok(Done::Well),
        Err(Ended::Script(fault)) => return Err(Failure::Faults(vec![*fault])),
        Err(Ended::Io(error)) => return Err(error.into()),
    };
    match choice.split_once(' ') {
        Some(("resume", id)) => resume(Some(id), home, stage),
        Some((_, name)) => run(&RunOrder { procedure: name, ..RunOrder::default() }, home, stage),
        None if choice == "plan" => show_plan(home, stage),
        None => Ok(Done::Well),
    }
}

/// The plan of the installation as it stands.
fn show_plan(home: &Home, stage: &mut Stage<'_>) -> Result<Done, Failure> {
    let mut page = Vec::new();
    let done = plan(
        &PlanCall::default(),
        &PlanForm { json: false, html: None, width: stage.width },
        home,
        &mut page,
    )?;
    let lines = String::from_utf8_lossy(&page).lines().map(str::to_string).collect();
    stage.face.show(&Block::Lines(lines))?;
    stage.face.show(&Block::Text(
        "`tankhand plan --help` shows what can be tried: `--cut-in`, `--cut-out`, `--add-tank`, `--want`."
            .to_string(),
    ))?;
    Ok(done)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::procedure::SHIPPED;

    #[test]
    fn every_shipped_procedure_has_its_place() {
        let mut known: Vec<&str> =
            SHIPPED.iter().map(|file| file.name).filter(|name| !name.contains('/')).collect();
        let mut placed = BY_SITUATION.to_vec();
        known.sort_unstable();
        placed.sort_unstable();
        assert_eq!(placed, known);
    }
}
