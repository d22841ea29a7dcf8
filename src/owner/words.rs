//! Words an owner chooses: what is done to see it, and which words fit, the best first.

use super::person::{Owner, Sighting};
use crate::engine::Situation;
use crate::physics::plant::{Bladder, PinResult, Until};
use crate::quantity::{GALLON, PSI};

/// Seconds that anybody waits for the gauge to fall.
const FALL_PATIENCE: f64 = 1_800.0;
/// A needle that falls faster drops, Pa/s: judgement.
const DROPPING: f64 = 0.5 * PSI;
/// How far the drain is opened to draw water, down to where, and by how much a needle climbs, Pa.
const OPENED: f64 = 0.3;
const ABOVE_CUT_IN: f64 = 3.0 * PSI;
const CLIMBED: f64 = 2.0 * PSI;
/// Settled solids in a jar that still looks clear, and in one that is only cloudy.
const CLEAR: f64 = 1e-4;
const CLOUDY: f64 = 1e-3;
/// Conductance of a leak that is heard or seen, m³/s for √Pa: judgement.
const NOTICED: f64 = 2e-10;

impl Owner {
    pub(super) fn pin_test(&mut self, situation: &Situation) -> Sighting {
        let water = self.plant.water(situation.tank);
        let seen: &[&str] = match self.plant.press_pin(situation.tank) {
            PinResult::Water => return Sighting::Words(&["water"]),
            PinResult::Air => &["air", "still", "nothing"],
            PinResult::Nothing if water > GALLON => &["runs", "nothing"],
            PinResult::Nothing => &["nothing", "still"],
        };
        self.plant.run_until(Until::RunsDry, FALL_PATIENCE);
        Sighting::Words(seen)
    }

    pub(super) fn added_air(&mut self, situation: &Situation) -> Sighting {
        self.add_test_air(situation.tank);
        let stays = self.plant.tank_pressure(situation.tank) > 8.0 * PSI;
        Sighting::Words(match (stays, self.plant.press_pin(situation.tank)) {
            (_, PinResult::Water) => &["water"],
            (true, _) => &["stays"],
            (false, _) => &["leaves"],
        })
    }

    pub(super) fn tank_sound(&mut self, situation: &Situation) -> Sighting {
        if !self.mistakes.read_over_water {
            self.plant.run_until(Until::RunsDry, FALL_PATIENCE);
        }
        let share = self.plant.water(situation.tank) / self.household.site.tanks[situation.tank].volume;
        Sighting::Words(if share > 0.1 && !self.mistakes.read_over_water { &["dull"] } else { &["hollow"] })
    }

    pub(super) fn gauge_moves(&mut self, _: &Situation) -> Sighting {
        let at_zero = self.plant.line_pressure() < 2.0 * PSI;
        Sighting::Words(if at_zero { &["yes", "zero"] } else { &["no", "zero"] })
    }

    pub(super) fn jar(&mut self, _: &Situation) -> Sighting {
        Sighting::Words(match self.plant.jar() {
            solids if solids < CLEAR => &["clear"],
            solids if solids < CLOUDY => &["cloudy", "rusty", "clear"],
            _ => &["dirty", "rusty"],
        })
    }

    pub(super) fn needle_fall(&mut self, _: &Situation) -> Sighting {
        Sighting::Words(if self.memory.last_fall > DROPPING { &["dropped"] } else { &["evenly"] })
    }

    /// Water is drawn down to a little above cut-in, and the gauge watched for ten minutes.
    pub(super) fn needle_back(&mut self, _: &Situation) -> Sighting {
        self.wait_for_stop();
        let cut_in = self.memory.newest("cut_in").unwrap_or(self.household.label_cut_in);
        self.plant.advance(600.0);
        self.plant.set_drain(OPENED);
        self.plant.run_until(Until::Falls(cut_in + ABOVE_CUT_IN), FALL_PATIENCE);
        self.plant.set_drain(0.0);
        self.plant.advance(60.0);
        let before = self.plant.line_pressure();
        let started = self.plant.run_until(Until::PumpStarts, 540.0).is_some();
        let climbed = self.plant.line_pressure() - before;
        Sighting::Words(match started || climbed < -CLIMBED {
            true => &["falls"],
            false if climbed >= CLIMBED => &["climbs"],
            false => &["stays"],
        })
    }

    /// How the pump answers: whether it starts as the pressure falls, or how it fills the tank.
    pub(super) fn pump_response(&mut self, _: &Situation) -> Sighting {
        if self.memory.filling {
            return self.filling();
        }
        let before = self.plant.drain_opening();
        self.plant.set_drain(0.3);
        let begin = self.plant.seconds();
        while self.plant.seconds() - begin < FALL_PATIENCE
            && self.plant.line_pressure() > 10.0 * PSI
            && !self.plant.pump_runs()
        {
            self.plant.run_until(Until::Falls(self.plant.line_pressure() - PSI), 60.0);
        }
        self.plant.advance(20.0);
        self.plant.set_drain(before);
        if self.plant.pump_runs() {
            self.memory.pump_was_live = true;
            let dry = self.plant.line_pressure() < 5.0 * PSI;
            return Sighting::Words(if dry {
                &["dry", "starts", "runs"]
            } else {
                &["starts", "runs", "yes"]
            });
        }
        Sighting::Words(&["silent", "yes"])
    }

    fn filling(&mut self) -> Sighting {
        let starts = self.starts_in(60.0);
        if starts > 3 {
            return Sighting::Words(&["turns", "falls"]);
        }
        let stopped = self.wait_for_stop();
        let line = self.plant.line_pressure();
        Sighting::Words(match stopped && line >= self.household.site.switch.cut_in {
            true => &["stopped", "builds", "yes"],
            false if line < 5.0 * PSI => &["weak", "zero", "no"],
            false => &["weak", "falls", "no"],
        })
    }

    /// How often the pump starts in so many seconds.
    pub(super) fn starts_in(&mut self, seconds: f64) -> usize {
        let end = self.plant.seconds() + seconds;
        let mut starts = 0;
        while self.plant.seconds() < end {
            let rest = end - self.plant.seconds();
            if self.plant.run_until(Until::PumpStops, rest).is_none() {
                break;
            }
            if self.plant.run_until(Until::PumpStarts, (end - self.plant.seconds()).max(0.0)).is_some() {
                starts += 1;
            }
        }
        starts
    }

    pub(super) fn pump_stop(&mut self, _: &Situation) -> Sighting {
        Sighting::Words(if self.wait_for_stop() { &["stops"] } else { &["runs"] })
    }

    pub(super) fn switch_sound(&mut self, _: &Situation) -> Sighting {
        let switch = &self.household.site.switch;
        let chatters = switch.surge > 10.0 * PSI || switch.scatter > 2.5 * PSI;
        Sighting::Words(if chatters { &["chatter"] } else { &["once"] })
    }

    pub(super) fn bubbles(&mut self, situation: &Situation) -> Sighting {
        let tank = &self.household.site.tanks[situation.tank];
        let torn = matches!(tank.bladder, Bladder::Torn { seals: false, .. });
        Sighting::Words(match (tank.air_leak > 0.0, torn) {
            (true, _) => &["valve"],
            (false, true) => &["port"],
            (false, false) => &["none"],
        })
    }

    pub(super) fn part_order(&mut self, situation: &Situation) -> Sighting {
        let between = self.plant.is_joined(situation.tank) && self.household.parts_between;
        Sighting::Words(if between { &["between"] } else { &["right"] })
    }

    pub(super) fn layout(&mut self, situation: &Situation) -> Sighting {
        Sighting::Words(match (self.plant.is_joined(situation.tank), self.household.tank_valves) {
            (true, true) => &["joined", "tee", "tank", "none", "yes"],
            (true, false) => &["joined", "tee", "tank", "none", "no"],
            (false, true) => &["new", "tee", "tank", "none", "yes"],
            (false, false) => &["new", "tee", "tank", "none", "no"],
        })
    }

    pub(super) fn valve_position(&mut self, situation: &Situation) -> Sighting {
        let open = self.plant.tank_valve_open(situation.tank);
        Sighting::Words(if open { &["open", "on"] } else { &["shut", "on"] })
    }

    pub(super) fn relief_valve(&mut self, _: &Situation) -> Sighting {
        let weeps = self.household.site.leaks.relief > NOTICED;
        let fitted = self.household.site.relief.is_some();
        Sighting::Words(match (fitted, weeps) {
            (false, _) => &["no"],
            (true, true) => &["drips", "look", "yes"],
            (true, false) => &["good", "look", "yes"],
        })
    }

    pub(super) fn house_draw(&mut self, _: &Situation) -> Sighting {
        let leaks = &self.household.site.leaks;
        if leaks.relief > NOTICED {
            return Sighting::Words(&["drips", "alone"]);
        }
        if leaks.check_valve > NOTICED {
            return Sighting::Words(&["trickles", "alone"]);
        }
        Sighting::Words(if leaks.house > NOTICED { &["neither", "alone"] } else { &["neither", "use"] })
    }

    /// What an owner would complain of first.
    pub(super) fn symptom(&mut self, _: &Situation) -> Sighting {
        let site = &self.household.site;
        let first = site.tanks.first();
        let torn = first.is_some_and(|tank| matches!(tank.bladder, Bladder::Torn { wet_valve: true, .. }));
        let high = first.is_some_and(|tank| tank.precharge > site.switch.cut_in);
        Sighting::Words(match () {
            () if !site.pump.works || !site.pump.primed => &["no_start"],
            () if site.switch.welded || site.pump.shutoff < site.switch.cut_out => &["never_stops"],
            () if site.leaks.relief > NOTICED => &["relief"],
            () if torn => &["air_valve"],
            () if high => &["surges", "short"],
            () => &["often", "stop", "once"],
        })
    }

    pub(super) fn tank_rocks(&mut self, situation: &Situation) -> Sighting {
        Sighting::Words(if self.plant.water(situation.tank) > 2.0 * GALLON { &["heavy"] } else { &["light"] })
    }

    pub(super) fn other_tanks(&mut self, _: &Situation) -> Sighting {
        Sighting::Words(if self.plant.tank_count() > 1 { &["yes"] } else { &["no"] })
    }
}
