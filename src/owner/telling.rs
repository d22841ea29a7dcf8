//! What an owner sees at a question, told to somebody who is not there.

use super::attempts::{Attempt, attempts};
use super::person::{Owner, Sighting};
use crate::engine::{AnswerKind, Ask, Run};
use crate::procedure::Observable;
use crate::quantity::PSI;
use crate::record::Entry;

/// What gauges are called, by the names that procedures call.
const GAUGES: &[(&str, &str)] = &[
    ("line", "The line gauge shows about"),
    ("air", "The air gauge shows about"),
    ("bucket", "The bucket held, in all, about"),
    ("watch", "The watch shows"),
    ("thermometer", "The thermometer shows"),
    ("cone", "The marks on the jar show"),
];

const SAYS_NOTHING: &str = "The installation says nothing of this: answer as you like.";

impl Owner {
    /// Does what a question asks for, and tells what there is to see; nothing where there is nothing
    /// to do.
    pub fn practices(&mut self, run: &Run, ask: &Ask) -> Option<String> {
        let situation = run.situation();
        match &ask.expects {
            AnswerKind::Understood | AnswerKind::WaitBegins(_) | AnswerKind::WaitOver { .. } => None,
            AnswerKind::Done(status) => {
                let moves = status.is_some() || !situation.brings.is_empty() || !situation.undoes.is_empty();
                let well = self.does(&situation, status.as_deref());
                if !moves {
                    return None;
                }
                let went = if well { "You do it." } else { "You do it, and it does not go as it should." };
                Some(format!("{went} {}", self.stands()))
            }
            AnswerKind::Number(..) | AnswerKind::YesNo | AnswerKind::OneOf(_) | AnswerKind::Text(_) => {
                let seen = self.looks(run, ask);
                Some(sight(&seen, ask, situation.observes))
            }
        }
    }

    /// Does what a question needs, and what its step brings about, and looks: what there is to be typed then, the
    /// truest first.
    pub fn answers(&mut self, run: &Run, ask: &Ask) -> Vec<Attempt> {
        attempts(&self.looks(run, ask), ask)
    }

    fn looks(&mut self, run: &Run, ask: &Ask) -> Sighting {
        let situation = run.situation();
        self.memory.filling = ["stopped", "builds"].iter().any(|word| ask.expects.choice(word).is_some());
        let seen = self.sees(&situation);
        if seen != Sighting::Never {
            self.does(&situation, None);
        }
        seen
    }

    /// Remembers what came about in a run.
    pub fn learns<'e>(&mut self, entries: impl IntoIterator<Item = &'e Entry>) {
        self.memory.learn(entries);
    }

    /// Lets time go by.
    pub fn waits(&mut self, seconds: f64) {
        self.plant.advance(seconds);
    }

    /// How the installation stands, as one glance shows it.
    fn stands(&mut self) -> String {
        let gauge = self.household.instruments.line;
        let shown = (gauge.shows(self.plant.line_pressure(), 0.0).max(0.0) / PSI).round();
        let pump = if self.plant.pump_runs() { "runs" } else { "is silent" };
        format!("The line gauge shows about {shown} psi; the pump {pump}.")
    }
}

/// What was seen, in a sentence.
fn sight(seen: &Sighting, ask: &Ask, of: Option<&Observable>) -> String {
    let typed = attempts(seen, ask).into_iter().find_map(|attempt| match attempt {
        Attempt::Type(text) => Some(text),
        Attempt::Skip => None,
    });
    let found = match seen {
        Sighting::Never => Some("You wait, and it does not happen.".to_string()),
        Sighting::Unknown => Some("That cannot be found out now.".to_string()),
        Sighting::Number(..) | Sighting::Plain(_) => typed.map(|number| {
            let gauge = of.and_then(|of| of.gauge);
            let lead = GAUGES.iter().find(|(name, _)| Some(*name) == gauge);
            format!("{} {number}.", lead.map_or("You find", |(_, lead)| *lead))
        }),
        Sighting::Words(_) => typed.map(|word| {
            let label = ask.expects.choice(&word).map(|choice| choice.label.clone());
            format!("You find: {}.", label.filter(|label| !label.is_empty()).unwrap_or(word))
        }),
        Sighting::Text(_) | Sighting::Usual => None,
    };
    found.unwrap_or_else(|| SAYS_NOTHING.to_string())
}
