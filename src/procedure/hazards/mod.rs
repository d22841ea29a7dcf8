//! What can hurt in this work, and what must be said before the act it belongs to: a table that comes
//! with the program. Files name its entries and cannot change them.

mod table;

use std::fmt;

use crate::document::Fields;
use crate::lang::Value;
use crate::quantity::Units;
use crate::source::Fault;
use crate::words::did_you_mean;

pub use table::HAZARDS;

/// How much is at stake, with the meanings of ANSI Z535.6; the worst first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Signal {
    /// It will kill or seriously injure.
    Danger,
    /// It could kill or seriously injure.
    Warning,
    /// It could injure.
    Caution,
    /// It is about property.
    Notice,
}

/// Something that can hurt.
#[derive(Clone, Copy, Debug)]
pub struct Hazard {
    /// Its name in files and records.
    pub id: &'static str,
    /// How much is at stake.
    pub signal: Signal,
    /// What it is called.
    pub name: &'static str,
    /// What there is, as the end of a sentence.
    pub is: &'static str,
    /// What it does to a person, or to property.
    pub does: &'static str,
    /// What to do, and what not.
    pub avoid: &'static str,
    /// Figures that belong to it, shown where they are known.
    pub figures: &'static [HazardFigure],
    /// When to stop, and whom to call.
    pub stop: &'static str,
    /// The line for later rounds, at most 76 characters.
    pub short: &'static str,
}

/// A line of a hazard's message with a figure of the installation.
#[derive(Clone, Copy, Debug)]
pub struct HazardFigure {
    /// What it is made from, by the name the table of observables gives it.
    pub of: &'static str,
    /// The line; the figure stands in place of `{}`.
    pub line: &'static str,
    /// What is shown, made from that.
    pub shows: fn(Value) -> Option<Value>,
}

/// Something a person is warned of, as it is shown.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Warning {
    /// How much is at stake.
    pub signal: Signal,
    /// The words, a line for each thing that is said.
    pub text: String,
}

impl Signal {
    /// The signal word.
    pub fn word(self) -> &'static str {
        match self {
            Signal::Danger => "DANGER",
            Signal::Warning => "WARNING",
            Signal::Caution => "CAUTION",
            Signal::Notice => "NOTICE",
        }
    }

    /// What the word means.
    pub fn means(self) -> &'static str {
        match self {
            Signal::Danger => "it will kill or seriously injure",
            Signal::Warning => "it could kill or seriously injure",
            Signal::Caution => "it could injure",
            Signal::Notice => "it is about property",
        }
    }

    /// Every signal, the worst first.
    pub fn all() -> [Signal; 4] {
        [Signal::Danger, Signal::Warning, Signal::Caution, Signal::Notice]
    }
}

impl Hazard {
    /// The whole message. `known` tells the value of an observable where there is one; a figure that
    /// is not known is left out with its line.
    ///
    /// ```
    /// use tankhand::procedure::hazard;
    /// use tankhand::quantity::Units;
    /// let message = hazard("cords").unwrap().message(&|_| None, Units::Us);
    /// assert_eq!(
    ///     message.to_string().lines().next(),
    ///     Some("WARNING  SHOCK FROM CORDS IN A WET PLACE: a compressor or lamp stands where it is wet.")
    /// );
    /// ```
    pub fn message(&self, known: &dyn Fn(&str) -> Option<Value>, units: Units) -> Warning {
        let figure = |figure: &HazardFigure| {
            let value = (figure.shows)(known(figure.of)?)?;
            Some(figure.line.replace("{}", &value.shown(units)))
        };
        let mut lines = vec![format!("{}: {}", self.name.to_uppercase(), self.is)];
        lines.extend([self.does, self.avoid].map(str::to_string));
        lines.extend(self.figures.iter().filter_map(figure));
        lines.push(self.stop.to_string());
        Warning { signal: self.signal, text: lines.join("\n") }
    }

    /// The line for later rounds.
    pub fn briefly(&self) -> Warning {
        Warning { signal: self.signal, text: self.short.to_string() }
    }
}

/// As a record keeps it: the signal word before the words.
impl fmt::Display for Warning {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}  {}", self.signal.word(), self.text)
    }
}

impl PartialEq for Hazard {
    fn eq(&self, other: &Hazard) -> bool {
        self.id == other.id
    }
}

/// The hazard of that name.
pub fn hazard(id: &str) -> Option<&'static Hazard> {
    HAZARDS.iter().find(|known| known.id == id)
}

/// The hazards that a step or a state names.
pub(super) fn draft(fields: &Fields<'_>) -> Vec<&'static Hazard> {
    let named = fields.texts("hazards").into_iter().filter_map(|name| {
        let known = hazard(&name.text);
        if known.is_none() {
            let ids: Vec<&str> = HAZARDS.iter().map(|hazard| hazard.id).collect();
            let message = format!("there is no hazard `{}`", name.text.escape_debug());
            fields.walk().fault(
                Fault::new("unknown-hazard", &name.source, name.span, message)
                    .remedy(did_you_mean(&name.text, &ids)),
            );
        }
        known
    });
    named.collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::procedure::observable;

    /// What nobody says of property.
    const OF_PEOPLE: [&str; 6] = ["you", "people", "kill", "injure", "burn", "blind"];

    #[test]
    fn every_hazard_is_one_thing_with_every_field() {
        for (at, known) in HAZARDS.iter().enumerate() {
            let id = known.id;
            assert!(HAZARDS[..at].iter().all(|other| other.id != id), "{id}");
            assert!(id.chars().all(|c| c.is_ascii_lowercase() || c == '_'), "{id}");
            let sentences = [known.is, known.does, known.avoid, known.stop, known.short];
            assert!(sentences.iter().all(|text| text.ends_with('.')) && !known.name.is_empty(), "{id}");
            assert!(known.short.chars().count() <= 76, "{id}");
            for figure in known.figures {
                assert!(observable(figure.of).is_some() && figure.line.matches("{}").count() == 1, "{id}");
            }
        }
    }

    #[test]
    fn signal_words_have_their_meanings() {
        for known in HAZARDS {
            let has = |words: &[&str]| words.iter().any(|word| known.does.contains(word));
            assert_eq!(known.signal == Signal::Danger, has(&["will"]), "{}", known.id);
            let of_people = OF_PEOPLE.iter().any(|word| known.does.contains(word));
            assert_eq!(known.signal == Signal::Notice, !of_people, "{}", known.id);
            let seriously = has(&["kill", "serious"]);
            let at_most = matches!(known.signal, Signal::Caution | Signal::Notice);
            assert_eq!(at_most, !seriously, "{}", known.id);
        }
    }

    #[test]
    fn figures_stand_in_the_message_where_they_are_known() {
        let known = |name: &str| {
            (name == "plate_volume")
                .then(|| Value::exact(crate::quantity::Measure::Volume, 44.0 * 3.785_411_784e-3))
        };
        let weight = hazard("weight").unwrap();
        // 44 gal at 8.34 lb each: see the references of safety figures in the handbook of units.
        let lines = weight.message(&known, Units::Us).text;
        assert_eq!(lines.lines().nth(3), Some("Full of water it weighs about 367 lb more than empty."));
        assert_eq!(weight.message(&|_| None, Units::Us).text.lines().count(), 4);
    }
}
