//! What is seen of each observable: one table.

use super::person::{Owner, Sighting};
use crate::engine::Situation;
use crate::physics::constants::WATER_DENSITY;
use crate::quantity::{GPM, PSI};

/// How heavy an empty tank is for its volume, kg/m³, and to what it is read, kg. Judgement.
const EMPTY: f64 = 230.0;
const SCALE: f64 = 0.5;

/// To what a flow is reckoned, m³/s.
const FLOW_MARK: f64 = 0.1 * GPM;

/// How something is seen.
type Eye = fn(&mut Owner, &Situation) -> Sighting;

/// Every observable, and how it is seen. What an installation says nothing of is answered as usual.
const EYES: &[(&str, Eye)] = &[
    ("precharge", Owner::precharge),
    ("target_precharge", |_, _| Sighting::Usual),
    ("cut_in", Owner::cut_in),
    ("cut_out", Owner::cut_out),
    ("line_pressure", Owner::line_pressure),
    ("rested_pressure", Owner::line_pressure),
    ("resting_gauge", Owner::resting_gauge),
    ("pressure_limit", |_, _| Sighting::Usual),
    ("plate_limit", |owner, at| Sighting::Number(owner.household.site.tanks[at.tank].limit, PSI)),
    ("old_plate_limit", |owner, at| Sighting::Number(owner.household.site.tanks[at.tank].limit, PSI)),
    ("relief_setting", |owner, _| {
        owner.household.site.relief.map_or(Sighting::Unknown, |opens| Sighting::Number(opens, PSI))
    }),
    ("pump_shutoff", |_, _| Sighting::Unknown),
    ("pressure_wanted", |owner, _| owner.wish()),
    ("pressure_lost", |_, _| Sighting::Unknown),
    ("way_loss", |_, _| Sighting::Number(5.0 * PSI, PSI)),
    ("test_air", Owner::test_air),
    ("second_gauge", Owner::second_gauge),
    ("line_mark", |owner, _| Sighting::Number(owner.household.instruments.line.mark, 0.0)),
    ("air_mark", |owner, _| Sighting::Number(owner.household.instruments.air.mark, 0.0)),
    ("dead_gap", |_, _| Sighting::Usual),
    ("tank_temperature", Owner::temperature),
    ("drawdown", Owner::drawdown),
    ("drawdown_expected", |_, _| Sighting::Unknown),
    ("plate_volume", |owner, at| Sighting::Number(owner.household.plates[at.tank], 1e-6)),
    ("water_held", |_, _| Sighting::Unknown),
    ("water_poured", |_, _| Sighting::Unknown),
    ("run_time", Owner::run_time),
    // What an earlier record tells: the flow half way between the two pressures.
    ("pump_flow", |owner, _| Sighting::Number(owner.household.usual_flow(), FLOW_MARK)),
    ("run_time_wanted", |_, _| Sighting::Unknown),
    ("start_interval", Owner::start_interval),
    ("rest_time", |_, _| Sighting::Unknown),
    ("time_of", |_, _| Sighting::Unknown),
    ("weight", Owner::weight),
    ("plate_weight", |owner, at| Sighting::Number(owner.empty_weight(at.tank), SCALE)),
    ("settled_solids", |owner, _| Sighting::Number(owner.plant.jar(), 1e-4)),
    ("chlorine", |_, _| Sighting::Number(0.0, 1e-3)),
    ("bleach_strength", |_, _| Sighting::Number(0.06, 0.01)),
    ("elevation", |owner, _| Sighting::Number(owner.household.site.elevation, 1.0)),
    ("length", |_, _| Sighting::Unknown),
    ("motor_power", |_, _| Sighting::Usual),
    ("range_turns", Owner::turns),
    ("differential_turns", Owner::turns),
    ("tank_height", |_, _| Sighting::Usual),
    ("months_since", |_, _| Sighting::Usual),
    ("number", |_, _| Sighting::Usual),
    ("count", |_, _| Sighting::Unknown),
    ("pin_test", Owner::pin_test),
    ("added_air", Owner::added_air),
    ("tank_sound", Owner::tank_sound),
    ("jar", Owner::jar),
    ("symptom", Owner::symptom),
    ("water_look", |_, _| Sighting::Words(&["cold", "sand"])),
    ("needle_fall", Owner::needle_fall),
    ("needle_back", Owner::needle_back),
    ("pump_response", Owner::pump_response),
    ("pump_stop", Owner::pump_stop),
    ("breaker", |_, _| Sighting::Usual),
    ("joints", |_, _| Sighting::Words(&["dry"])),
    ("bubbles", Owner::bubbles),
    ("tank_kind", |owner, _| owner.kind_of_tank()),
    ("pump_kind", |owner, _| owner.kind_of_pump()),
    ("shell", |_, _| Sighting::Words(&["whole", "none"])),
    ("valve_position", Owner::valve_position),
    ("relief_valve", Owner::relief_valve),
    ("gauge_moves", Owner::gauge_moves),
    ("switch_sound", Owner::switch_sound),
    ("part_order", Owner::part_order),
    ("layout", Owner::layout),
    ("chlorine_smell", |_, _| Sighting::Words(&["all"])),
    ("lab_result", |_, _| Sighting::Words(&["good"])),
    ("house_draw", Owner::house_draw),
    ("tank_rocks", Owner::tank_rocks),
    ("other_tanks", Owner::other_tanks),
    ("house_valve", |_, _| Sighting::Usual),
    ("others_air", |_, _| Sighting::Words(&["later"])),
    ("material", |_, _| Sighting::Usual),
    ("water_side", |_, _| Sighting::Words(&["no"])),
    ("presence", |_, _| Sighting::Usual),
    ("decision", |_, _| Sighting::Usual),
    ("tank_replaced", |_, _| Sighting::Usual),
    ("marking", |_, _| Sighting::Text("none")),
    ("remark", |_, _| Sighting::Text("a simulated owner")),
    ("date", |_, _| Sighting::Text("2031-04-05")),
];

impl Owner {
    /// Does what is needed to see it, and sees.
    pub(super) fn sees(&mut self, situation: &Situation) -> Sighting {
        let of = situation.observes.map_or("", |observable| observable.name);
        let eye = EYES.iter().find(|(name, _)| *name == of).map(|(_, eye)| *eye);
        eye.map_or(Sighting::Usual, |eye| eye(self, situation))
    }

    /// What a tank weighs by its plate, kg.
    fn empty_weight(&self, tank: usize) -> f64 {
        EMPTY * self.household.plates[tank]
    }

    fn weight(&mut self, situation: &Situation) -> Sighting {
        let water = self.plant.water(situation.tank);
        Sighting::Number(self.empty_weight(situation.tank) + WATER_DENSITY.value * water, SCALE)
    }

    fn kind_of_pump(&self) -> Sighting {
        let lever = self.household.site.switch.lever.is_some();
        Sighting::Words(match (self.household.jet, lever) {
            (true, true) => &["jet", "lever", "switch", "two", "yes"],
            (true, false) => &["jet", "switch", "two", "no"],
            (false, true) => &["submersible", "switch", "two", "yes"],
            (false, false) => &["submersible", "switch", "two", "no"],
        })
    }

    fn kind_of_tank(&self) -> Sighting {
        Sighting::Words(if self.household.plain { &["plain", "steel"] } else { &["rubber", "bladder"] })
    }

    /// The pressure an owner asks for: what an appliance needs, then start and stop, a little more than there
    /// is.
    fn wish(&mut self) -> Sighting {
        let cut_in = self.memory.newest("cut_in").unwrap_or(self.household.label_cut_in);
        let wishes = [cut_in - 5.0 * PSI, cut_in + 4.0 * PSI, cut_in + 24.0 * PSI];
        let wish = wishes[self.memory.wishes.min(2)];
        self.memory.wishes += 1;
        Sighting::Number(wish, PSI)
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
