//! What can hurt in this work, and what must be said before the act it belongs to: a table that comes
//! with the program. Files name its entries and cannot change them.

mod message;
mod table;

use crate::document::{Fields, unknown_fault};
use crate::source::Quoted;

pub use message::{FigureStands, Hazard, HazardFigure, Signal, Warning};
pub use table::HAZARDS;

/// The hazard of that name.
pub fn hazard(id: &str) -> Option<&'static Hazard> {
    HAZARDS.iter().find(|known| known.id == id)
}

/// The hazards that a step or a state names.
pub(super) fn draft(fields: &Fields<'_>) -> Vec<&'static Hazard> {
    let unknown = |name: &Quoted| {
        let message = format!("there is no hazard `{}`", name.text.escape_debug());
        let ids = HAZARDS.iter().map(|hazard| hazard.id);
        fields.walk().none(unknown_fault("unknown-hazard", name, message, ids))
    };
    let names = fields.texts("hazards");
    names.iter().filter_map(|name| hazard(&name.text).or_else(|| unknown(name))).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lang::Value;
    use crate::procedure::observable;
    use crate::quantity::Units;

    /// What nobody says of property.
    const OF_PEOPLE: [&str; 6] = ["you", "people", "kill", "injure", "burn", "blind"];

    #[test]
    fn every_hazard_is_one_thing_with_every_field() {
        for (at, known) in HAZARDS.iter().enumerate() {
            let id = known.id;
            assert!(HAZARDS[..at].iter().all(|other| other.id != id), "{id}");
            assert!(id.chars().all(|c| c.is_ascii_lowercase() || c == '_'), "{id}");
            let line = known.line();
            let sentences = [known.is, known.does, known.avoid, known.stop, &line];
            assert!(sentences.iter().all(|text| text.ends_with('.')) && !known.name.is_empty(), "{id}");
            assert!(line.chars().count() <= 76, "{id}");
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
