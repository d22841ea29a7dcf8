//! The pump: its curve, and how it comes up to speed.

use super::site::{PressureValve, PumpSite};
use crate::quantity::PSI;

/// Seconds until a pump that starts brings all its water: judgement.
const START_UP: f64 = 0.5;

/// A pump under way.
#[derive(Clone, Debug)]
pub(super) struct Pump {
    pub site: PumpSite,
    pub runs: bool,
    /// Seconds since it last started.
    pub running_for: f64,
}

/// Over how many pascals a constant-pressure valve closes: judgement.
const CLOSES_OVER: f64 = 2.0 * PSI;

impl PressureValve {
    /// What it lets through of what the pump brings, at a pressure behind it.
    fn passes(&self, brings: f64, line: f64) -> f64 {
        let open = ((self.holds + CLOSES_OVER - line) / CLOSES_OVER).clamp(0.0, 1.0);
        (open * brings).max(self.least.min(brings))
    }
}

impl Pump {
    pub(super) fn new(site: &PumpSite) -> Pump {
        Pump { site: *site, runs: false, running_for: 0.0 }
    }

    /// Its flow against a pressure at the switch, m³/s, after `dt` more: a parabola through free flow
    /// and shutoff.
    pub(super) fn flow(&self, line: f64, dt: f64) -> f64 {
        if !self.runs || !self.site.primed || line >= self.site.shutoff {
            return 0.0;
        }
        let speed = ((self.running_for + dt) / START_UP).min(1.0);
        let brings = self.site.free_flow * (1.0 - line.max(0.0) / self.site.shutoff).sqrt();
        speed * self.site.valve.map_or(brings, |valve| valve.passes(brings, line))
    }

    /// The longest step that still sees it come up to speed.
    pub(super) fn longest_step(&self) -> f64 {
        if self.runs && self.running_for < START_UP { 0.25 * START_UP } else { f64::INFINITY }
    }
}
