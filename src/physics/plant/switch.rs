//! The pressure switch: what it feels through its nipple, and when it acts.

use super::site::SwitchSite;
use crate::quantity::Random;

/// A switch under way.
#[derive(Clone, Debug)]
pub(super) struct Switch {
    pub site: SwitchSite,
    pub closed: bool,
    /// The low-pressure lever has opened the circuit.
    pub tripped: bool,
    /// What it feels, Pa.
    pub felt: f64,
    /// Where it acts next, Pa: start and stop.
    points: (f64, f64),
}

impl Switch {
    pub(super) fn new(site: &SwitchSite, line: f64) -> Switch {
        let points = (site.cut_in, site.cut_out);
        Switch { site: *site, closed: site.welded || line < site.cut_in, tripped: false, felt: line, points }
    }

    /// What it feels after `dt` at a line pressure, the pump at a share of its free flow.
    pub(super) fn feels(&self, line: f64, dt: f64, flow_share: f64) -> f64 {
        let outside = line + self.site.surge * flow_share * flow_share;
        if self.site.lag <= 0.0 {
            return outside;
        }
        outside + (self.felt - outside) * (-dt / self.site.lag).exp()
    }

    /// Whether it would act on what it would feel.
    pub(super) fn would_act(&self, felt: f64) -> bool {
        let (start, stop) = self.points;
        let trips = self.site.lever.is_some_and(|below| !self.tripped && felt < self.site.cut_in - below);
        let acts = if self.closed { felt >= stop && !self.site.welded } else { felt <= start };
        trips || acts
    }

    /// Feels and acts.
    pub(super) fn act(&mut self, felt: f64, random: &mut Random) {
        self.felt = felt;
        if self.site.lever.is_some_and(|below| felt < self.site.cut_in - below) {
            self.tripped = true;
        }
        let (start, stop) = self.points;
        if self.closed && felt >= stop && !self.site.welded {
            self.closed = false;
            self.points.0 = self.site.cut_in + self.site.scatter * random.near_normal();
        } else if !self.closed && felt <= start {
            self.closed = true;
            self.points.1 = self.site.cut_out + self.site.scatter * random.near_normal();
        }
    }

    /// New points, after its nuts were turned.
    pub(super) fn set_points(&mut self, cut_in: f64, cut_out: f64) {
        (self.site.cut_in, self.site.cut_out) = (cut_in, cut_out);
        self.points = (cut_in, cut_out);
    }

    /// Whether it lets the pump run.
    pub(super) fn calls(&self) -> bool {
        self.closed && !self.tripped
    }
}
