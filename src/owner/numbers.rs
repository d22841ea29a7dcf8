//! Numbers an owner reads: what must be done for each, and what the gauge shows.

use super::person::{Owner, Sighting};
use crate::engine::Situation;
use crate::physics::plant::{Instrument, Until};
use crate::quantity::{GALLON, HOUR, PSI};
use crate::record::Phase;

/// How far the drain is opened so that the gauge falls slowly, and to draw a bucketful.
const CRACKED: f64 = 0.12;
const DRAWING: f64 = 0.3;
/// The longest that anybody waits for a pump to start, s.
const START_PATIENCE: f64 = 1.5 * HOUR;
/// How long anybody listens for a pump that starts by itself, s.
const NIGHT: f64 = 8.0 * HOUR;
/// How well a person repeats a reading, as standard deviations: of a pressure, Pa; of a watch, s.
const REPEAT: f64 = 0.25 * PSI;
const REACTION: f64 = 0.5;
/// A line with more is not empty, Pa.
const UNDER_PRESSURE: f64 = 5.0 * PSI;
/// How far a needle that drops is read too low at the most, Pa.
const MOST_LATE: f64 = 6.0 * PSI;
/// How often water is drawn until the needle stays, how long it is watched, s, and by how much it must
/// have climbed, Pa.
const MOST_DRAWS: usize = 4;
const CLIMBS: f64 = 60.0;
const NEEDLE_BACK: f64 = 0.5 * PSI;
/// What comes out when nothing comes, m³.
const NOTHING: f64 = 0.05 * GALLON;
/// Air put in to see whether it stays, where less than the first is found: up to the second, Pa; in a
/// tank on its line, and in a loose one.
const TEST_AIR: [(f64, f64); 2] = [(8.0 * PSI, 10.0 * PSI), (15.0 * PSI, 30.0 * PSI)];

impl Owner {
    fn line_reading(&mut self) -> Sighting {
        let mut truth = self.plant.line_pressure();
        if self.mistakes.misread_line && !std::mem::replace(&mut self.memory.misread_line, true) {
            truth += 10.0 * PSI;
        }
        self.pressure_on(self.household.instruments.line, truth)
    }

    fn pressure_on(&mut self, gauge: Instrument, truth: f64) -> Sighting {
        let lag = self.random.between(-1.0, 1.0);
        let shown = gauge.shows(truth, lag);
        let repeated = if gauge.stuck.is_some() { shown } else { shown + REPEAT * self.random.near_normal() };
        Sighting::Number(if truth < PSI { shown.max(0.0) } else { repeated.max(0.0) }, gauge.mark)
    }

    /// The pump is seen to start as the gauge falls.
    pub(super) fn cut_in(&mut self, situation: &Situation) -> Sighting {
        let unwatched = self.memory.breaker_off || situation.phase == Some(Phase::Before);
        if unwatched || self.mistakes.label_for_cut_in {
            return Sighting::Number(self.household.label_cut_in, PSI);
        }
        if !self.sees_a_start() {
            return Sighting::Never;
        }
        let fall = self.memory.last_fall;
        // Eyes come late: a needle that drops is read too low.
        let late = (fall * REACTION).min(MOST_LATE);
        let truth = (self.plant.line_pressure() - late).max(0.0);
        self.pressure_on(self.household.instruments.line, truth)
    }

    fn sees_a_start(&mut self) -> bool {
        if !self.wait_for_stop() {
            return false;
        }
        self.plant.set_drain(CRACKED);
        let started = self.plant.run_until(Until::PumpStarts, START_PATIENCE).is_some();
        self.memory.last_fall = self.plant.fall_rate();
        started
    }

    pub(super) fn cut_out(&mut self, situation: &Situation) -> Sighting {
        if self.memory.breaker_off || situation.phase == Some(Phase::Before) {
            return Sighting::Number(self.household.label_cut_in + 20.0 * PSI, PSI);
        }
        if !self.wait_for_stop() {
            return if self.mistakes.no_stop_unreported { self.line_reading() } else { Sighting::Never };
        }
        self.plant.set_drain(0.0);
        self.line_reading()
    }

    pub(super) fn run_time(&mut self, _: &Situation) -> Sighting {
        if self.memory.breaker_off {
            return Sighting::Unknown;
        }
        if !self.sees_a_start() {
            return Sighting::Never;
        }
        self.plant.set_drain(0.0);
        let begin = self.plant.seconds();
        match self.wait_for_stop() {
            true => {
                let (seconds, watch) = (self.plant.seconds() - begin, self.household.instruments.watch);
                let read = watch.shows(seconds, 0.0) + REACTION * self.random.near_normal();
                Sighting::Number(read.max(1.0), watch.mark)
            }
            false if self.mistakes.no_stop_unreported => Sighting::Unknown,
            false => Sighting::Never,
        }
    }

    /// How long the pump rests with nobody drawing water.
    pub(super) fn start_interval(&mut self, _: &Situation) -> Sighting {
        if !self.wait_for_stop() {
            return Sighting::Never;
        }
        self.plant.set_drain(0.0);
        let begin = self.plant.seconds();
        match self.plant.run_until(Until::PumpStarts, NIGHT) {
            Some(_) => Sighting::Number(self.plant.seconds() - begin, 60.0),
            None => Sighting::Never,
        }
    }

    /// Water is caught until the gauge shows the cut-in as it was read.
    pub(super) fn drawdown(&mut self, _: &Situation) -> Sighting {
        let (Some(cut_in), true) = (self.memory.newest("cut_in"), self.memory.breaker_off) else {
            return Sighting::Unknown;
        };
        let gauge = self.household.instruments.line;
        let stop_at = (cut_in - gauge.bias) / gauge.gain + 2.0 * REPEAT * self.random.near_normal();
        let before = self.plant.totals().drained;
        // Where the needle climbs back after the drain is shut, a little more is let out.
        for _ in 0..MOST_DRAWS {
            self.plant.set_drain(DRAWING);
            self.plant.run_until(Until::Falls(stop_at), START_PATIENCE);
            self.plant.set_drain(0.0);
            self.plant.advance(CLIMBS);
            if self.plant.line_pressure() < stop_at + NEEDLE_BACK {
                break;
            }
        }
        let caught = self.plant.totals().drained - before;
        if caught < NOTHING {
            return Sighting::Never;
        }
        let bucket = self.household.instruments.bucket;
        let mut shown = bucket.shows(caught, 0.0);
        if self.mistakes.miscounted_bucket && !std::mem::replace(&mut self.memory.miscounted, true) {
            let one = 3.0 * GALLON;
            shown += if shown > 1.5 * one && self.random.happens(0.5) { -one } else { one };
        }
        Sighting::Number(shown, bucket.mark)
    }

    pub(super) fn line_pressure(&mut self, _: &Situation) -> Sighting {
        if self.plant.spigot_runs() {
            self.steady_spigot();
        }
        self.plant.advance(5.0);
        self.line_reading()
    }

    /// Closes the spigot until the pump runs on, half way between its two pressures.
    fn steady_spigot(&mut self) {
        let switch = &self.household.site.switch;
        let middle = 0.5 * (switch.cut_in + switch.cut_out);
        for hundredth in (5..=100).rev() {
            self.set_spigot(f64::from(hundredth) / 100.0);
            self.plant.advance(3.0);
            if self.plant.pump_runs() && self.plant.line_pressure() >= middle {
                break;
            }
        }
    }

    pub(super) fn resting_gauge(&mut self, _: &Situation) -> Sighting {
        if self.household.instruments.line.stuck.is_some() {
            return Sighting::Never;
        }
        self.plant.advance(30.0);
        self.line_reading()
    }

    pub(super) fn second_gauge(&mut self, _: &Situation) -> Sighting {
        let truth = self.plant.line_pressure();
        self.pressure_on(self.household.instruments.second, truth)
    }

    /// Of a finding the air is only read; while work goes on it is brought to the target first.
    pub(super) fn precharge(&mut self, situation: &Situation) -> Sighting {
        match situation.phase {
            Some(Phase::Before) => return Sighting::Unknown,
            Some(Phase::Found | Phase::Left) => {}
            Some(Phase::Done) | None => self.bring_air_to_target(situation.tank),
        }
        if self.plant.is_joined(situation.tank) && self.plant.line_pressure() > UNDER_PRESSURE {
            // Nobody reads it now, and what stands in notes is not at hand.
            return Sighting::Unknown;
        }
        self.air_reading(situation.tank)
    }

    fn bring_air_to_target(&mut self, tank: usize) {
        let Some(target) = self.memory.newest("target_precharge") else { return };
        let gauge = self.household.instruments.air;
        let truth = (target - gauge.bias) / gauge.gain + 0.8 * REPEAT * self.random.near_normal();
        self.plant.set_air(tank, truth.max(0.0));
    }

    fn air_reading(&mut self, tank: usize) -> Sighting {
        let mut truth = self.plant.tank_pressure(tank);
        if self.mistakes.misread_air && !std::mem::replace(&mut self.memory.misread_air, true) {
            truth += 10.0 * PSI;
        }
        self.pressure_on(self.household.instruments.air, truth)
    }

    /// The first time, air is put in.
    pub(super) fn test_air(&mut self, situation: &Situation) -> Sighting {
        self.add_test_air(situation.tank);
        self.air_reading(situation.tank)
    }

    pub(super) fn add_test_air(&mut self, tank: usize) {
        let (least, enough) = TEST_AIR[usize::from(!self.plant.is_joined(tank))];
        if !std::mem::replace(&mut self.memory.air_added, true) && self.plant.tank_pressure(tank) < least {
            self.plant.set_air(tank, enough);
            self.plant.advance(300.0);
        }
    }

    pub(super) fn temperature(&mut self, situation: &Situation) -> Sighting {
        let truth = self.plant.ambient();
        let thermometer = self.household.instruments.thermometer;
        match situation.phase {
            Some(Phase::Before) => Sighting::Unknown,
            Some(Phase::Found | Phase::Done | Phase::Left) | None => {
                Sighting::Number(thermometer.shows(truth, 0.0), thermometer.mark)
            }
        }
    }

    pub(super) fn turns(&mut self, situation: &Situation) -> Sighting {
        let made = situation.observes.and_then(|nut| self.memory.newest(nut.name)).unwrap_or(0.0);
        Sighting::Plain((made * 4.0).round().clamp(-8.0, 8.0) / 4.0)
    }
}
