//! What a plan is to reach, and whether a forecast reaches it.

use super::{Forecast, Site};
use crate::quantity::{Truth, Uncertain, Verdict};

/// What a goal is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GoalOf {
    /// The lowest pressure at an outlet, by its place among them.
    Lowest(usize),
    /// The run time.
    RunTime,
    /// The drawdown.
    Drawdown,
    /// The water that is left when the power fails just before the pump starts.
    Reserve,
    /// The starts in an hour at the worst draw, at most.
    Starts,
}

/// Something to be reached.
#[derive(Clone, Debug, PartialEq)]
pub struct Goal {
    /// What it is about.
    pub of: GoalOf,
    /// The least that will do, for starts the most; SI.
    pub bound: f64,
}

impl Goal {
    /// What a forecast has for it; `None` where that is not known.
    pub fn reached(&self, forecast: &Forecast) -> Option<Uncertain> {
        let pumping = forecast.pumping.as_ref();
        match self.of {
            GoalOf::Lowest(outlet) => {
                forecast.outlets.get(outlet)?.as_ref().ok().map(|found| found.lowest.clone())
            }
            GoalOf::RunTime => pumping.map(|pumping| pumping.run_time.clone()),
            GoalOf::Drawdown => Some(forecast.drawdown.clone()),
            GoalOf::Reserve => Some(forecast.held_at_cut_in.clone()),
            GoalOf::Starts => pumping.map(|pumping| pumping.starts.clone()),
        }
    }

    /// Whether a forecast reaches it; `None` where what it is about is not known.
    pub fn holds(&self, forecast: &Forecast) -> Option<Truth> {
        let reached = self.reached(forecast)?;
        let over = reached.value() - self.bound;
        let margin = if self.of == GoalOf::Starts { -over } else { over };
        // A number as it is asked for is reached, but for rounding.
        Some(Truth::of_margin(margin + 1e-9 * self.bound.abs(), reached.standard_uncertainty(), false))
    }
}

impl Site {
    /// The verdict on a goal at the confidence asked for.
    pub fn verdict(&self, goal: &Goal, forecast: &Forecast) -> Verdict {
        goal.holds(forecast).map_or(Verdict::Unsure, |truth| truth.verdict(self.confidence))
    }
}
