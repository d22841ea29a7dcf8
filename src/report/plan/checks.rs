//! Whether a plan can be done: each question with its verdict and what stands behind it.

use super::basis::BasisOf;
use super::view::Forecasts;
use crate::physics::RUN_TIMES;
use crate::physics::plan::{AssumedFlow, Goal, GoalOf, HOUSE_LIMIT, LIMIT_MARGIN, SHUTOFF_MARGIN};
use crate::physics::{FormulaResult, head, precharge_at};
use crate::quantity::{Measure, Truth, Uncertain, Verdict};
use crate::report::Row;
use crate::words::capitalized;

/// One question about a plan, answered.
pub(super) struct PlanCheck {
    /// Its name: as it stands for programs, with spaces for people.
    pub key: &'static str,
    pub verdict: Verdict,
    pub says: String,
}

impl PlanCheck {
    pub(super) fn row(&self) -> Row {
        let word = capitalized(&self.key.replace('_', " "));
        let cells = [self.verdict.word().to_string(), word, self.says.clone()];
        Row { verdict: Some(self.verdict), ..Row::new(cells) }
    }
}

impl Forecasts<'_> {
    /// Every question: what fails first, then what cannot be told.
    pub(super) fn checks(&self) -> FormulaResult<Vec<PlanCheck>> {
        let mut checks = self.limits();
        checks.push(self.warm_day()?);
        checks.push(self.pump()?);
        checks.push(self.run_time());
        // A run time that is asked for is the one that is checked above.
        let others = self.view.goals.iter().filter(|goal| goal.of != GoalOf::RunTime);
        checks.extend(others.map(|goal| self.goal(goal)));
        checks.sort_by_key(|check| match check.verdict {
            Verdict::Fail => 0,
            Verdict::Unsure => 1,
            Verdict::Pass => 2,
        });
        Ok(checks)
    }

    /// Whether a value is at least so much, at the confidence asked for.
    fn at_least(&self, value: &Uncertain, least: f64) -> Verdict {
        let margin = value.value() - least + 1e-9 * least.abs();
        Truth::of_margin(margin, value.standard_uncertainty()).verdict(self.view.site.confidence)
    }

    /// The cut-out under plates, relief valve and the limit of a house.
    fn limits(&self) -> Vec<PlanCheck> {
        let view = self.view;
        let relief =
            view.site.relief.map(|pa| ("relief_valve", "the relief valve's setting", pa, LIMIT_MARGIN));
        let plates = view.planned.tanks.iter().filter_map(|tank| tank.limit);
        let plate = plates.reduce(f64::min).map(|pa| ("plate_limit", "the plate limit", pa, LIMIT_MARGIN));
        let house =
            ("house_limit", "what codes allow in a house without a pressure reducer", HOUSE_LIMIT, 0.0);
        let known = [relief, plate, Some(house)].into_iter().flatten();
        let mut checks: Vec<PlanCheck> =
            known.map(|(key, word, limit, margin)| self.limit(key, word, limit - margin, margin)).collect();
        if view.no_relief_valve {
            let says = "There is no relief valve. Have one fitted before anything else: a pump that does not stop bursts \
                        the weakest part.";
            checks.push(PlanCheck { key: "relief_valve", verdict: Verdict::Fail, says: says.to_string() });
        } else if relief.is_none() {
            let [out, least] = [0.0, LIMIT_MARGIN].map(|more| view.pressure(view.planned.cut_out + more));
            let says = format!(
                "Does the relief valve open above {out}? Its setting is not known. Read its tag: {least} or more is wanted."
            );
            checks.push(PlanCheck { key: "relief_valve", verdict: Verdict::Unsure, says });
        }
        checks
    }

    fn limit(&self, key: &'static str, word: &str, highest: f64, margin: f64) -> PlanCheck {
        let view = self.view;
        let room = Uncertain::exact(highest) - self.planned.cut_out.clone();
        let verdict = self.at_least(&room, 0.0);
        let (cut_out, limit) = (view.planned.cut_out, highest + margin);
        let far = view.brief(Measure::PressureChange, (limit - cut_out).abs());
        let side = if cut_out <= limit { "under" } else { "above" };
        let (out, limit) = (view.pressure(cut_out), view.pressure(limit));
        let least = match (verdict, margin > 0.0) {
            (Verdict::Pass, _) | (_, false) => String::new(),
            (_, true) => {
                format!(" At least {} under is wanted.", view.brief(Measure::PressureChange, margin))
            }
        };
        PlanCheck { key, verdict, says: format!("Cut-out {out} is {far} {side} {word}, {limit}.{least}") }
    }

    /// The precharge on the warmest day.
    fn warm_day(&self) -> FormulaResult<PlanCheck> {
        let (view, key) = (self.view, "warm_day");
        let (Some(target), Some(tank)) = (self.planned.targets.first(), view.planned.tanks.first()) else {
            return Ok(PlanCheck { key, verdict: Verdict::Unsure, says: "There is no tank.".to_string() });
        };
        let Some((set_at, warmest)) = view.site.set_at.zip(view.site.warmest) else {
            let says = "Does the precharge stay below cut-in in summer? How warm the tanks are now and get at most is \
                        not known: see below.";
            return Ok(PlanCheck { key, verdict: Verdict::Unsure, says: says.to_string() });
        };
        let there = precharge_at(*target, set_at, warmest.max(set_at), view.site.elevation)?;
        let cut_in = view.planned.cut_in - head(tank.above.value())?;
        let differ = view.site.start_uncertainty(view.planned.cut_in)?;
        let fits = there + differ <= cut_in * (1.0 + 1e-9);
        let (verdict, unsure) = match (fits, view.assumes(BasisOf::Height)) {
            (false, _) => (Verdict::Fail, ""),
            (true, true) => (Verdict::Unsure, " How high a tank stands is assumed: see below."),
            (true, false) => (Verdict::Pass, ""),
        };
        let temperature = |kelvin| view.brief(Measure::Temperature, kelvin);
        let says = format!(
            "Precharge {}, set at {}, reads {} at {}; with {} for the gauges and the scatter of cut-in that is {}. Cut-in at the tank is {}.{unsure}",
            view.pressure(*target),
            temperature(set_at),
            view.pressure(there),
            temperature(warmest.max(set_at)),
            view.brief(Measure::PressureChange, differ),
            view.pressure(there + differ),
            view.pressure(cut_in)
        );
        Ok(PlanCheck { key, verdict, says })
    }

    /// Whether the pump reaches the cut-out, with room to spare.
    fn pump(&self) -> FormulaResult<PlanCheck> {
        let (view, key) = (self.view, "pump");
        let pump = &view.site.pump;
        let cut_out = view.planned.cut_out;
        let out = view.pressure(cut_out);
        let range = [1.0, 1.2].map(|share| view.pressure(cut_out + share * SHUTOFF_MARGIN));
        let range = view.joined(&range, " to ");
        let beyond = [1.0, 1.2].map(|share| view.brief(Measure::PressureChange, share * SHUTOFF_MARGIN));
        if let Some(most) = &pump.shutoff {
            let room = most.clone() - self.planned.cut_out.clone();
            let says = format!(
                "The pump makes {} at most. A cut-out of {out} needs {range} ({} more, common practice).",
                view.limits(Measure::Pressure, most),
                view.joined(&beyond, " to "),
            );
            return Ok(PlanCheck { key, verdict: self.at_least(&room, SHUTOFF_MARGIN), says });
        }
        if let Some(reached) = pump.reached.filter(|reached| cut_out <= *reached * (1.0 + 1e-9)) {
            let says = format!("The pump stops at {} today, so it reaches {out}.", view.pressure(reached));
            return Ok(PlanCheck { key, verdict: Verdict::Pass, says });
        }
        let more = match pump.reached {
            Some(reached) => {
                let feet = (cut_out - reached) / head(1.0)?;
                format!("{} more head than today, and ", view.brief(Measure::Length, feet))
            }
            None => String::new(),
        };
        let says = format!(
            "Does the pump reach {out}? It needs {more}a shutoff pressure of {range}. What tells: its shutoff head \
             and the depth to the water (--shutoff, --water-level), or two timed fills (--fill, twice)."
        );
        Ok(PlanCheck { key, verdict: Verdict::Unsure, says })
    }

    fn run_time(&self) -> PlanCheck {
        let (view, key) = (self.view, "run_time");
        let least = view.brief(Measure::Duration, view.run_time);
        let Some(pumping) = &self.planned.pumping else {
            let says = format!(
                "Does the pump run for {least} at least? What it brings is not known: give --flow, or a drawdown and its \
                 run time from a record."
            );
            return PlanCheck { key, verdict: Verdict::Unsure, says };
        };
        let found = view.limits(Measure::Duration, &pumping.run_time);
        let [_, large] = RUN_TIMES;
        let power = view.assumes(BasisOf::Power) && view.run_time < large;
        let unsure = match power {
            true => format!(" A motor above 3/4 hp needs {}.", view.brief(Measure::Duration, large)),
            false => String::new(),
        };
        let verdict = pumping.run_time_verdict(self.at_least(&pumping.run_time, view.run_time));
        let short_for_large = power && self.at_least(&pumping.run_time, large) != Verdict::Pass;
        let verdict = if verdict == Verdict::Pass && short_for_large { Verdict::Unsure } else { verdict };
        let but = match pumping.assumed {
            None => ";",
            Some(AssumedFlow::High) => ", or longer: at this pressure it brings less than was timed.",
            Some(AssumedFlow::Low) => ", or shorter: at this pressure it brings more than was timed.",
        };
        let says = format!("The pump runs for {found}{but} {least} at least is wanted.{unsure}");
        PlanCheck { key, verdict, says }
    }

    fn goal(&self, goal: &Goal) -> PlanCheck {
        let view = self.view;
        let (what, measure) = match goal.of {
            GoalOf::Lowest(at) => {
                (format!("lowest pressure at {}", view.site.outlets[at].name), Measure::Pressure)
            }
            GoalOf::RunTime => ("run time".to_string(), Measure::Duration),
            GoalOf::Drawdown => ("drawdown".to_string(), Measure::Volume),
            GoalOf::Reserve => ("water left in an outage, at least".to_string(), Measure::Volume),
            GoalOf::Starts => ("starts an hour at worst".to_string(), Measure::Number),
        };
        let bound = view.brief(measure, goal.bound);
        let side = if goal.of == GoalOf::Starts { "at most" } else { "at least" };
        let reached = goal.reached(&self.planned).map(|reached| view.limits(measure, &reached));
        let says = match reached {
            Some(reached) => format!("Asked for: {what} {bound} {side}. It is {reached}."),
            None => format!("Asked for: {what} {bound} {side}. What it will be is not known."),
        };
        PlanCheck { key: "goal", verdict: view.site.verdict(goal, &self.planned), says }
    }
}
