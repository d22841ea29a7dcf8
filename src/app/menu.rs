//! No command: a short menu.

use super::conversation::Stage;
use super::failure::{Done, Failure};
use super::home::Home;
use super::library::Library;
use super::resume::resume;
use super::run::{RunOrder, run};
use crate::console::{Block, Ended, Prompt, Reply, ReplyKind};
use crate::record::list;

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
    for name in library.procedures() {
        choices.push((format!("run {name}"), library.load(&name)?.title));
    }
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
        None => Ok(Done::Well),
    }
}
