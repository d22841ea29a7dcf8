//! What a design does: water, run time, starts, pressures.

use super::{Design, PlanOutlet, Site};
use crate::physics::{
    FormulaResult, TankAtHeight, flow_at, friction_loss, lowest_pressure, pressure_at, run_time,
    several_tanks, starts_at_demand, starts_per_hour, water_held,
};
use crate::quantity::{PSI, Uncertain, Verdict};

/// Within this a pump brings the same; Pa.
const SAME_PRESSURE: f64 = PSI;

/// What a design does.
#[derive(Clone, Debug, PartialEq)]
pub struct Forecast {
    /// Where the pump starts; Pa.
    pub cut_in: Uncertain,
    /// Where the pump stops; Pa.
    pub cut_out: Uncertain,
    /// The precharge that each tank needs; Pa.
    pub targets: Vec<f64>,
    /// The precharge of each tank that is computed with: the one it has, else its target; Pa.
    pub precharges: Vec<Uncertain>,
    /// The drawdown of all; m³.
    pub drawdown: Uncertain,
    /// The drawdown of each; m³.
    pub shares: Vec<Uncertain>,
    /// The water in all tanks when the pump starts; m³.
    pub held_at_cut_in: Uncertain,
    /// The water in all tanks when the pump stops; m³.
    pub held_at_cut_out: Uncertain,
    /// How far the pressure collapses before the pump starts; Pa.
    pub dead_gap: Uncertain,
    /// What the pump does, where its flow is known.
    pub pumping: Option<Pumping>,
    /// The pressures at each outlet, in their order.
    pub outlets: Vec<FormulaResult<OutletPressures>>,
}

/// What the pump does.
#[derive(Clone, Debug, PartialEq)]
pub struct Pumping {
    /// What it brings half-way between cut-in and cut-out; m³/s.
    pub flow: Uncertain,
    /// Where that flow is the one at another pressure, for lack of the pump's highest pressure: how
    /// it lies to the true one.
    pub assumed: Option<AssumedFlow>,
    /// How long it runs with every faucet shut; s.
    pub run_time: Uncertain,
    /// Starts in an hour at the worst draw.
    pub starts: Uncertain,
    /// Starts in an hour at the demand, when one is told; none where the pump then never stops.
    pub starts_at_demand: Option<FormulaResult<Uncertain>>,
}

/// How a flow that was timed at another pressure lies to the true one: a pump brings less the higher
/// the pressure.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AssumedFlow {
    /// It is at least the true one, for it was timed at a lower pressure.
    High,
    /// It is at most the true one, for it was timed at a higher pressure.
    Low,
}

impl Pumping {
    /// The verdict on a least run time, left open where the true flow could turn it.
    pub fn run_time_verdict(&self, verdict: Verdict) -> Verdict {
        match (self.assumed, verdict) {
            (Some(AssumedFlow::High), Verdict::Fail) | (Some(AssumedFlow::Low), Verdict::Pass) => {
                Verdict::Unsure
            }
            _ => verdict,
        }
    }
}

/// The pressures at an outlet.
#[derive(Clone, Debug, PartialEq)]
pub struct OutletPressures {
    /// The lowest, while water runs there just before the pump starts; Pa.
    pub lowest: Uncertain,
    /// The highest, with no water running; Pa.
    pub highest: Uncertain,
    /// What the pipe takes of the lowest; none where no pipe is told; Pa.
    pub friction: Option<Uncertain>,
}

impl Site {
    /// What a design does here. Tanks whose precharge is not told have their target.
    ///
    /// ```
    /// use tankhand::physics::plan::{Design, PlanTank, Site};
    /// use tankhand::quantity::Uncertain;
    /// let (psi, gal) = (6894.757, 3.785412e-3);
    /// let tank = |gallons: f64| PlanTank {
    ///     name: format!("{gallons} gal"),
    ///     volume: Uncertain::exact(gallons * gal),
    ///     above: Uncertain::exact(0.0),
    ///     limit: None,
    ///     precharge: None,
    /// };
    /// let site = Site { gap: 2.0 * psi, confidence: 0.95, ..Site::default() };
    /// let design = Design { tanks: vec![tank(44.0), tank(20.0)], cut_in: 40.0 * psi, cut_out: 60.0 * psi };
    /// let forecast = site.forecast(&design).unwrap();
    /// assert!((forecast.drawdown.value() / gal - 16.51).abs() < 0.002);
    /// assert!((forecast.targets[0] / psi - 38.0).abs() < 1e-9);
    /// ```
    ///
    /// # Errors
    /// When a formula is outside its range: a cut-in at or above the cut-out, no tank.
    pub fn forecast(&self, design: &Design) -> FormulaResult<Forecast> {
        let (cut_in, cut_out) = (self.on_line(design.cut_in, 0), self.on_line(design.cut_out, 1));
        let target = |above: &Uncertain| self.target(design.cut_in, above.value());
        let targets =
            design.tanks.iter().map(|tank| target(&tank.above)).collect::<FormulaResult<Vec<f64>>>()?;
        let tanks = self.charged(design, &targets);
        let elevation = Uncertain::exact(self.elevation);
        let shares = several_tanks(&tanks, cut_in.clone(), cut_out.clone(), elevation)?;
        let pumping = self.pumping(design, &shares.total)?;
        Ok(Forecast {
            precharges: tanks.iter().map(|tank| tank.precharge.clone()).collect(),
            held_at_cut_in: self.held(&tanks, &cut_in)?,
            held_at_cut_out: self.held(&tanks, &cut_out)?,
            outlets: self.outlets.iter().map(|outlet| pressures(outlet, &cut_in, &cut_out)).collect(),
            targets,
            drawdown: shares.total,
            shares: shares.each,
            dead_gap: shares.dead_gap,
            pumping,
            cut_in,
            cut_out,
        })
    }

    /// The tanks as the formulas take them.
    fn charged(&self, design: &Design, targets: &[f64]) -> Vec<TankAtHeight<Uncertain>> {
        let tanks = (2..).zip(&design.tanks).zip(targets);
        let at_height = tanks.map(|((reading, tank), target)| TankAtHeight {
            volume: tank.volume.clone(),
            precharge: self.on_air(tank.precharge.unwrap_or(*target), reading),
            above: tank.above.clone(),
        });
        at_height.collect()
    }

    fn held(&self, tanks: &[TankAtHeight<Uncertain>], line: &Uncertain) -> FormulaResult<Uncertain> {
        tanks.iter().try_fold(Uncertain::exact(0.0), |sum, tank| {
            let there = pressure_at(line.clone(), tank.above.clone())?;
            let elevation = Uncertain::exact(self.elevation);
            Ok(sum + water_held(tank.volume.clone(), tank.precharge.clone(), there, elevation)?)
        })
    }

    fn pumping(&self, design: &Design, drawdown: &Uncertain) -> FormulaResult<Option<Pumping>> {
        let Some(duty) = &self.pump.duty else { return Ok(None) };
        let middle = f64::midpoint(design.cut_in, design.cut_out);
        let curve = |most: &Uncertain| flow_at(most.clone(), duty, Uncertain::exact(middle)).ok();
        let on_curve = self.pump.shutoff.as_ref().and_then(curve);
        let apart = middle - duty.pressure.value();
        let assumed = match apart > 0.0 {
            true => AssumedFlow::High,
            false => AssumedFlow::Low,
        };
        let assumed = (on_curve.is_none() && apart.abs() > SAME_PRESSURE).then_some(assumed);
        let flow = on_curve.unwrap_or_else(|| duty.flow.clone());
        if drawdown.value() <= 0.0 {
            return Ok(None);
        }
        let at_demand = |demand| starts_at_demand(drawdown.clone(), flow.clone(), demand);
        Ok(Some(Pumping {
            run_time: run_time(drawdown.clone(), flow.clone())?,
            starts: starts_per_hour(drawdown.clone(), flow.clone())?,
            starts_at_demand: self.demand.clone().map(at_demand),
            assumed,
            flow,
        }))
    }
}

fn pressures(outlet: &PlanOutlet, cut_in: &Uncertain, cut_out: &Uncertain) -> FormulaResult<OutletPressures> {
    let friction = match &outlet.pipe {
        Some((pipe, flow)) => Some(friction_loss(flow.clone(), pipe)?),
        None => None,
    };
    let loss = friction.clone().unwrap_or_else(|| Uncertain::exact(0.0));
    Ok(OutletPressures {
        lowest: lowest_pressure(cut_in.clone(), outlet.above.clone(), loss)?,
        highest: pressure_at(cut_out.clone(), outlet.above.clone())?,
        friction,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::physics::plan::{GaugeUncertainty, Goal, GoalOf, PlanPump, PlanTank};
    use crate::physics::{PumpDuty, drawdown};
    use crate::quantity::{GALLON, GPM};

    /// One tank of 44 gal at 40/60 with 38 psi, which gives 11.35 gal.
    fn design() -> Design {
        let tank = PlanTank {
            name: "44 gal".to_string(),
            volume: Uncertain::exact(44.0 * GALLON),
            above: Uncertain::exact(0.0),
            limit: None,
            precharge: Some(38.0 * PSI),
        };
        Design { tanks: vec![tank], cut_in: 40.0 * PSI, cut_out: 60.0 * PSI }
    }

    fn site(pressure: f64, flow: Uncertain) -> Site {
        let duty = Some(PumpDuty { pressure: Uncertain::exact(pressure * PSI), flow });
        let pump = PlanPump { duty, ..PlanPump::default() };
        Site { gap: 2.0 * PSI, confidence: 0.95, pump, ..Site::default() }
    }

    /// Half-way between 40 and 60 psi a pump brings more than what was timed above, and so runs for less; of a run time
    /// by such a flow a pass says nothing, and of one timed below a fail does not.
    #[test]
    fn a_flow_timed_at_another_pressure_leaves_open_what_it_could_turn() {
        use Verdict::{Fail, Pass, Unsure};
        let gallon_a_minute = GPM;
        // 11.35 gal in 85.1 s and in 97.3 s.
        for (pressure, assumed, short, long) in [
            (60.0, Some(AssumedFlow::Low), Fail, Unsure),
            (50.9, None, Fail, Pass),
            (50.0, None, Fail, Pass),
            (49.1, None, Fail, Pass),
            (40.0, Some(AssumedFlow::High), Unsure, Pass),
        ] {
            for (flow, seconds, expected) in [(8.0, 85.1, short), (7.0, 97.3, long)] {
                let site = site(pressure, Uncertain::exact(flow * gallon_a_minute));
                let forecast = site.forecast(&design()).unwrap();
                let pumping = forecast.pumping.as_ref().unwrap();
                assert!((pumping.run_time.value() - seconds).abs() < 0.1, "{:?}", pumping.run_time);
                assert_eq!(pumping.assumed, assumed, "{pressure} psi");
                let goal = Goal { of: GoalOf::RunTime, bound: 90.0 };
                let verdict = pumping.run_time_verdict(site.verdict(&goal, &forecast));
                assert_eq!(verdict, expected, "{pressure} psi, {flow} gal/min");
            }
        }
        let site = site(60.0, Uncertain::exact(8.0 * gallon_a_minute));
        let pumping = site.forecast(&design()).unwrap().pumping.unwrap();
        assert_eq!(pumping.run_time_verdict(Unsure), Unsure);
    }

    /// The flow was timed while this tank was filled, from cut-in to cut-out in 95 s: its run lasts 95 s, whatever the
    /// gauges are off, for they are off by the same in both.
    #[test]
    fn a_reading_that_flow_and_drawdown_share_is_off_once() {
        let gauge = GaugeUncertainty { accuracy: 2.0 * PSI, resolution: PSI };
        let mut site = Site { line: gauge, air: gauge, ..site(50.0, Uncertain::exact(1e-3)) };
        let water = drawdown(
            Uncertain::exact(44.0 * GALLON),
            site.on_air(38.0 * PSI, 2),
            site.on_line(40.0 * PSI, 0),
            site.on_line(60.0 * PSI, 1),
            Uncertain::exact(0.0),
        );
        let flow = water.unwrap() / Uncertain::exact(95.0);
        site.pump.duty = Some(PumpDuty { pressure: Uncertain::exact(50.0 * PSI), flow });
        let forecast = site.forecast(&design()).unwrap();
        assert!(forecast.drawdown.standard_uncertainty() > 0.2 * GALLON, "{:?}", forecast.drawdown);
        let run_time = forecast.pumping.unwrap().run_time;
        assert!((run_time.value() - 95.0).abs() < 1e-9, "{run_time:?}");
        assert!(run_time.standard_uncertainty() < 1e-9, "{run_time:?}");
    }
}
