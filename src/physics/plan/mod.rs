//! What an installation would do that is not built yet, or not set so: forecasts of tanks, switch
//! and pump together, and the search for those that reach a goal.
//!
//! Everything here is made of the formulas of this folder. Pressures are gauge pressures at the
//! switch in Pa, and all else is in SI units.

mod forecast;
mod goals;
mod search;

pub use forecast::{AssumedFlow, Forecast, OutletPressures, Pumping};
pub use goals::{Goal, GoalOf};
pub use search::{Choice, Search, SoldTank};

use super::constants::SEA_LEVEL_TEMPERATURE;
use super::{
    Demands, FormulaResult, PlainPipe, PumpDuty, lowest_start, one_sided_limit, precharge_target_explained,
    pressure_at,
};
use crate::quantity::{PSI, SourceId, Uncertain};

/// Pumps hardly bring water near their highest pressure: so far above the cut-out it should lie (10
/// to 12 psi, common practice); Pa.
pub const SHUTOFF_MARGIN: f64 = 10.0 * PSI;
/// So far below plate limit and relief setting the cut-out should lie, lest the valve drips (common
/// practice); Pa.
pub const LIMIT_MARGIN: f64 = 5.0 * PSI;
/// The most a house should have without a pressure reducer: UPC 608.2, IRC P2903.3.1; Pa.
pub const HOUSE_LIMIT: f64 = 80.0 * PSI;

/// How many starts of the switch a run watches; a plan takes them to be alike.
const STARTS_WATCHED: usize = 3;

/// A tank of a plan.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanTank {
    /// What it is called, or how large it is.
    pub name: String,
    /// Its whole volume; m³.
    pub volume: Uncertain,
    /// How high above the switch it stands; m.
    pub above: Uncertain,
    /// The highest pressure its plate allows, where that is known; Pa.
    pub limit: Option<f64>,
    /// The precharge it has; `None` where it is not known, or is to be the target; Pa.
    pub precharge: Option<f64>,
}

/// Tanks, and where the switch is set.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Design {
    /// The tanks.
    pub tanks: Vec<PlanTank>,
    /// Where the pump starts; Pa.
    pub cut_in: f64,
    /// Where the pump stops; Pa.
    pub cut_out: f64,
}

/// What a gauge leaves open, as standard uncertainties; Pa.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct GaugeUncertainty {
    /// Its own error, the same in all its readings.
    pub accuracy: f64,
    /// What each reading is rounded to.
    pub resolution: f64,
}

/// Where water is wanted.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanOutlet {
    /// What it is called.
    pub name: String,
    /// How high above the switch it is; m.
    pub above: Uncertain,
    /// The pipe to it and the flow there, when told.
    pub pipe: Option<(PlainPipe<Uncertain>, Uncertain)>,
    /// The least pressure that is asked for there; Pa.
    pub least: Option<f64>,
}

/// What is known of the pump.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PlanPump {
    /// What it brings, and at which pressure.
    pub duty: Option<PumpDuty<Uncertain>>,
    /// The highest pressure it can make at the switch; Pa.
    pub shutoff: Option<Uncertain>,
    /// The highest pressure it was seen to stop at; Pa.
    pub reached: Option<f64>,
}

/// What stays the same whatever is planned.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Site {
    /// Height above the sea; m.
    pub elevation: f64,
    /// The temperature of the tanks while the precharge is set, where that is known; K.
    pub set_at: Option<f64>,
    /// The warmest the tanks get, where that is known; K.
    pub warmest: Option<f64>,
    /// How far the precharge is to lie below the cut-in; Pa.
    pub gap: f64,
    /// The pressure gauge of the line.
    pub line: GaugeUncertainty,
    /// The tire gauge.
    pub air: GaugeUncertainty,
    /// The probability at which a check says pass or fail.
    pub confidence: f64,
    /// Where the relief valve opens, where that is known; Pa.
    pub relief: Option<f64>,
    /// The pump.
    pub pump: PlanPump,
    /// Where water is wanted.
    pub outlets: Vec<PlanOutlet>,
    /// A steady draw to be told of; m³/s.
    pub demand: Option<Uncertain>,
}

impl GaugeUncertainty {
    /// A value read on the gauge, or set by it: `gauge` tells gauges apart, `reading` readings.
    fn read(self, value: f64, gauge: u16, reading: u64) -> Uncertain {
        Uncertain::exact(value)
            .with_component(SourceId::Gauge(gauge), self.accuracy)
            .with_component(SourceId::Reading(reading), self.resolution)
    }
}

/// The line gauge and the tire gauge, as sources of uncertainty.
const LINE: u16 = 0;
const AIR: u16 = 1;

impl Site {
    /// A pressure read on the line gauge, or set by it; `reading` tells readings apart.
    pub fn on_line(&self, pressure: f64, reading: u64) -> Uncertain {
        self.line.read(pressure, LINE, reading)
    }

    /// A precharge read on the tire gauge, or set by it; `reading` tells readings apart.
    pub fn on_air(&self, precharge: f64, reading: u64) -> Uncertain {
        self.air.read(precharge, AIR, reading)
    }

    /// The room that a precharge needs under a cut-in, one-sided at the confidence asked for: what the two
    /// gauges may differ by, and how far below it the lowest of the next 30 starts may lie; Pa.
    ///
    /// It is what a run comes to that watches so many starts, all alike ([`lowest_start`]). Starts that
    /// differ ask for more room.
    ///
    /// # Errors
    /// As [`one_sided_limit`].
    pub fn start_uncertainty(&self, cut_in: f64) -> FormulaResult<f64> {
        let lowest = lowest_start(&[cut_in; STARTS_WATCHED], self.line.resolution)?;
        let source = SourceId::few(("lowest_start", cut_in.to_bits()), lowest.degrees);
        let below = Uncertain::exact(lowest.below).with_component(source, lowest.u);
        let apart = self.on_air(cut_in, 1) - (self.on_line(cut_in, 0) - below);
        Ok(lowest.below + one_sided_limit(&apart, self.confidence)?)
    }

    /// The precharge that a tank needs for a cut-in, both as gauges show them.
    ///
    /// Where the temperatures are not known it holds at the temperature at which it is set.
    ///
    /// # Errors
    /// As [`precharge_target_explained`].
    pub fn target(&self, cut_in: f64, above: f64) -> FormulaResult<f64> {
        let same = (SEA_LEVEL_TEMPERATURE.value, SEA_LEVEL_TEMPERATURE.value);
        let (set_at, warmest) = self.set_at.zip(self.warmest).unwrap_or(same);
        let demands = Demands {
            cut_in: pressure_at(cut_in, above)?,
            set_at,
            warmest: warmest.max(set_at),
            gap: self.gap,
            uncertainty: self.start_uncertainty(cut_in)?,
        };
        precharge_target_explained(demands, self.elevation).map(|target| target.precharge)
    }

    /// The highest cut-out that plates, relief valve, the limit of a house and the pump leave room
    /// for, of those that are known; Pa.
    pub fn highest_cut_out(&self, tanks: &[PlanTank]) -> f64 {
        let plates = tanks.iter().filter_map(|tank| tank.limit);
        let marked = plates.chain(self.relief).map(|limit| limit - LIMIT_MARGIN);
        let pump = self.pump.shutoff.as_ref().map(|most| most.value() - SHUTOFF_MARGIN);
        marked.chain(pump).fold(HOUSE_LIMIT, f64::min)
    }
}
