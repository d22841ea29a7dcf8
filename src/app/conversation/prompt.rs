//! What the engine asks, in the console's words.

use crate::console::{Command, Prompt, ReplyKind};
use crate::engine::{ACKNOWLEDGE, AnswerKind, Ask};
use crate::procedure::Procedure;
use crate::quantity::Kind;
use crate::record::{Entry, EntryKind, Provenance};
use crate::words::ordinal;

/// A fact taken from the system file, in a few words.
pub(super) fn known_fact(entry: &Entry, procedure: &Procedure) -> Option<String> {
    let known = entry.kind == EntryKind::Fact && entry.provenance == Some(Provenance::SystemFile);
    known.then(|| format!("{}: {}", procedure.label(&entry.step), entry.given.as_deref().unwrap_or("?")))
}

pub(super) fn commands(ask: &Ask) -> Vec<Command> {
    let fits = |command: &Command| match command {
        Command::Back => ask.can_back,
        Command::Amend => ask.can_amend,
        Command::Skip => ask.can_skip,
        Command::Why | Command::More | Command::List | Command::Note | Command::Pause => true,
    };
    Command::ALL.into_iter().filter(fits).collect()
}

/// A question of the engine as a prompt of the console.
pub(super) fn prompt(ask: &Ask) -> Prompt {
    let mut which = ask.rounds.clone();
    which.extend(ask.place.take.map(|take| format!("{} of {}", ordinal(take as usize), ask.takes)));
    let (label, expects) = match &ask.expects {
        AnswerKind::Done(None) => ("done".to_string(), ReplyKind::Enter),
        AnswerKind::Done(Some(word)) => (word.clone(), ReplyKind::Word(word.clone())),
        AnswerKind::Understood => (String::new(), ReplyKind::Word(ACKNOWLEDGE.to_string())),
        AnswerKind::Number(measure, unit) => {
            let name = Kind::Measure(*measure).to_string();
            let name = name.trim_start_matches("a gauge ").trim_start_matches("an ").trim_start_matches("a ");
            let unit = unit.map_or(String::new(), |unit| format!(", {}", unit.symbol));
            (format!("{name}{unit}"), ReplyKind::Line)
        }
        AnswerKind::YesNo => ("yes or no".to_string(), ReplyKind::yes_or_no()),
        AnswerKind::OneOf(choices) => {
            let choices = choices.iter().map(|choice| (choice.value.clone(), choice.label.clone()));
            ("which".to_string(), ReplyKind::OneOf(choices.collect()))
        }
        AnswerKind::Text(_) => ("text".to_string(), ReplyKind::Line),
        AnswerKind::WaitBegins(_) | AnswerKind::WaitOver { .. } => ("wait".to_string(), ReplyKind::Enter),
    };
    let label = match &ask.otherwise {
        Some((word, _)) => format!("{label}, or {word}"),
        None => label,
    };
    Prompt {
        step: ask.place.step.to_string(),
        which: which.join(", "),
        number: (ask.expects != AnswerKind::Understood).then_some(ask.number),
        label,
        expects,
        // Amending is not beginning anew: Enter keeps what was said, never goes back to the usual.
        usual: ask.earlier.clone().or_else(|| ask.usual.clone()),
        otherwise: ask.otherwise.as_ref().map(|(word, _)| (*word).to_string()),
        earlier: ask.earlier.clone(),
        commands: commands(ask),
    }
}
