//! What is seen of each observable: one table.

use super::person::{Owner, Seen};
use crate::engine::Situation;
use crate::quantity::PSI;

/// How something is seen.
type Eye = fn(&mut Owner, &Situation) -> Seen;

/// Every observable, and how it is seen. What an installation says nothing of is answered as usual.
const EYES: &[(&str, Eye)] = &[
    ("precharge", Owner::precharge),
    ("target_precharge", |_, _| Seen::Usual),
    ("cut_in", Owner::cut_in),
    ("cut_out", Owner::cut_out),
    ("line_pressure", Owner::line_pressure),
    ("resting_gauge", Owner::resting_gauge),
    ("plate_limit", |owner, at| Seen::Number(owner.household.site.tanks[at.tank].limit, PSI)),
    ("relief_setting", |owner, _| {
        owner.household.site.relief.map_or(Seen::Unknown, |opens| Seen::Number(opens, PSI))
    }),
    ("pump_shutoff", |_, _| Seen::Unknown),
    ("pressure_wanted", |owner, _| owner.wish()),
    ("pressure_lost", |_, _| Seen::Number(5.0 * PSI, PSI)),
    ("test_air", Owner::test_air),
    ("second_gauge", Owner::second_gauge),
    ("dead_gap", |_, _| Seen::Usual),
    ("tank_temperature", Owner::temperature),
    ("drawdown", Owner::drawdown),
    ("plate_volume", |owner, at| Seen::Number(owner.household.plates[at.tank], 1e-6)),
    ("water_held", |_, _| Seen::Unknown),
    ("water_poured", |_, _| Seen::Unknown),
    ("run_time", Owner::run_time),
    ("rest_time", |_, _| Seen::Unknown),
    ("time_of", |_, _| Seen::Unknown),
    ("weight", |_, _| Seen::Unknown),
    ("settled_solids", Owner::settled_solids),
    ("chlorine", |_, _| Seen::Number(0.0, 1e-3)),
    ("bleach_strength", |_, _| Seen::Number(0.06, 0.01)),
    ("elevation", |owner, _| Seen::Number(owner.household.site.elevation, 1.0)),
    ("length", |_, _| Seen::Unknown),
    ("motor_power", |_, _| Seen::Usual),
    ("range_turns", Owner::turns),
    ("differential_turns", Owner::turns),
    ("number", |_, _| Seen::Usual),
    ("count", |_, _| Seen::Unknown),
    ("pin_test", Owner::pin_test),
    ("added_air", Owner::added_air),
    ("tank_sound", Owner::tank_sound),
    ("jar", Owner::jar),
    ("needle_fall", Owner::needle_fall),
    ("pump_response", Owner::pump_response),
    ("pump_stop", Owner::pump_stop),
    ("breaker", |_, _| Seen::Usual),
    ("joints", |_, _| Seen::Words(&["dry"])),
    ("bubbles", Owner::bubbles),
    ("tank_kind", |_, _| Seen::Words(&["rubber", "bladder"])),
    ("pump_kind", |owner, _| owner.kind_of_pump()),
    ("shell", |_, _| Seen::Words(&["whole", "none"])),
    ("valve_position", Owner::valve_position),
    ("relief_valve", Owner::relief_valve),
    ("gauge_moves", Owner::gauge_moves),
    ("switch_sound", Owner::switch_sound),
    ("part_order", Owner::part_order),
    ("chlorine_smell", |_, _| Seen::Words(&["all"])),
    ("lab_result", |_, _| Seen::Words(&["good"])),
    ("house_draw", Owner::house_draw),
    ("tank_rocks", Owner::tank_rocks),
    ("other_tanks", Owner::other_tanks),
    ("others_air", |_, _| Seen::Words(&["later"])),
    ("material", |_, _| Seen::Usual),
    ("presence", |_, _| Seen::Usual),
    ("decision", |_, _| Seen::Usual),
    ("tank_replaced", |_, _| Seen::Usual),
    ("marking", |_, _| Seen::Text("none")),
    ("remark", |_, _| Seen::Text("a simulated owner")),
    ("date", |_, _| Seen::Text("2031-04-05")),
];

impl Owner {
    /// Does what is needed to see it, and sees.
    pub(super) fn sees(&mut self, situation: &Situation) -> Seen {
        let of = situation.observes.map_or("", |observable| observable.name);
        let eye = EYES.iter().find(|(name, _)| *name == of).map(|(_, eye)| *eye);
        eye.map_or(Seen::Usual, |eye| eye(self, situation))
    }

    fn kind_of_pump(&self) -> Seen {
        let lever = self.household.site.switch.lever.is_some();
        Seen::Words(if lever {
            &["submersible", "switch", "two", "yes"]
        } else {
            &["submersible", "switch", "two", "no"]
        })
    }

    /// The pressure an owner asks for: what an appliance needs, then start and stop, a little more than there
    /// is.
    fn wish(&mut self) -> Seen {
        let cut_in = self.memory.newest("cut_in").unwrap_or(self.household.label_cut_in);
        let wishes = [cut_in - 5.0 * PSI, cut_in + 4.0 * PSI, cut_in + 24.0 * PSI];
        let wish = wishes[self.memory.wishes.min(2)];
        self.memory.wishes += 1;
        Seen::Number(wish, PSI)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::procedure::OBSERVABLES;

    #[test]
    fn everything_that_can_be_observed_is_seen_and_nothing_else() {
        let known: Vec<&str> = OBSERVABLES.iter().map(|observable| observable.name).collect();
        let mut seen: Vec<&str> = EYES.iter().map(|(name, _)| *name).collect();
        assert!(known.iter().all(|name| seen.contains(name)), "{known:?}");
        seen.retain(|name| !known.contains(name));
        assert_eq!(seen, Vec::<&str>::new());
    }
}
