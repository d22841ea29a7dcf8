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
        Some(Truth::of_margin(margin + 1e-9 * self.bound.abs(), reached.standard_uncertainty()))
    }
}

impl Site {
    /// The verdict on a goal at the confidence asked for.
    pub fn verdict(&self, goal: &Goal, forecast: &Forecast) -> Verdict {
        goal.holds(forecast).map_or(Verdict::Unsure, |truth| truth.verdict(self.confidence))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::physics::PumpDuty;
    use crate::physics::plan::{Design, PlanOutlet, PlanPump, PlanTank};
    use crate::quantity::{GALLON, GPM, PSI};

    /// What is exactly as it is asked for is reached, whichever way it counts; what is a ten-millionth short is not.
    #[test]
    fn a_goal_that_is_met_exactly_holds() {
        let exact = Uncertain::exact;
        let tank = PlanTank {
            name: "44 gal".to_string(),
            volume: exact(44.0 * GALLON),
            above: exact(0.0),
            limit: None,
            precharge: Some(37.0 * PSI),
        };
        let duty = PumpDuty { pressure: exact(50.0 * PSI), flow: exact(7.3 * GPM) };
        let bath = PlanOutlet { name: "bath".to_string(), above: exact(4.27), pipe: None, least: None };
        let site = Site {
            gap: 2.0 * PSI,
            confidence: 0.95,
            pump: PlanPump { duty: Some(duty), ..PlanPump::default() },
            outlets: vec![bath],
            ..Site::default()
        };
        let design = Design { tanks: vec![tank], cut_in: 40.0 * PSI, cut_out: 60.0 * PSI };
        let forecast = site.forecast(&design).unwrap();
        let all = [GoalOf::Lowest(0), GoalOf::RunTime, GoalOf::Drawdown, GoalOf::Reserve, GoalOf::Starts];
        for of in all {
            let reached = Goal { of, bound: 0.0 }.reached(&forecast).unwrap().value();
            let (easier, harder) = if of == GoalOf::Starts { (1.0, -1.0) } else { (-1.0, 1.0) };
            for (share, expected) in [(easier, Verdict::Pass), (0.0, Verdict::Pass), (harder, Verdict::Fail)]
            {
                let goal = Goal { of, bound: reached * (1.0 + 1e-7 * share) };
                assert_eq!(site.verdict(&goal, &forecast), expected, "{of:?} {share}");
            }
        }
    }
}
