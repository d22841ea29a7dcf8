//! The formulas of the trade, each generic over plain and uncertain numbers, SI units inside.
//!
//! One file a subject. A formula takes gauge pressures (above the local air) in Pa, temperatures
//! in K, volumes in m³, flows in m³/s, lengths in m, masses in kg and times in s, unless it says
//! otherwise. What lies outside the range a formula is good for is an [`OutOfRange`], never a
//! silent figure, and no formula yields NaN or infinity.
//!
//! Every formula stands with its sentence, its range, its source and an example; the
//! constants and limits stand as data with their provenance in [`constants`] and [`limits`].

pub mod constants;
pub mod limits;
pub mod plant;

mod adjusters;
mod air;
mod atmosphere;
mod band_exit;
mod common_slope;
mod confidence;
mod demand;
#[cfg(test)]
mod derivatives;
pub mod diagnosis;
mod disinfect;
#[cfg(test)]
mod documented;
mod drain;
mod fast;
mod fit;
mod flush;
mod friction;
mod hold;
mod implied;
mod inflate;
mod line;
mod metals;
mod out_of_range;
pub mod plan;
mod pressure_limits;
mod pump;
mod reach;
#[cfg(test)]
mod refusals;
mod scatter;
mod switch;
mod tanks;
mod target;
mod temperature;
mod trend;
mod water;
mod weight;

pub(crate) use adjusters::WORTH_OF_TURNS;
pub use adjusters::{Turns, learn_adjusters};
pub(crate) use air::{DEAD_GAP, WATER_HELD};
pub use air::{DRAWDOWN, dead_gap, drawdown, water_held};
pub(crate) use atmosphere::{ABSOLUTE, ATMOSPHERE};
pub use atmosphere::{absolute, atmosphere, gauge};
pub use band_exit::{BandExit, band_exit, look_again};
pub use common_slope::common_slope_trend;
pub(crate) use confidence::{ONE_SIDED_LIMIT, UNCERTAINTY_BETWEEN};
pub use confidence::{one_sided, one_sided_at, one_sided_limit, one_sided_of_few, uncertainty_between};
pub(crate) use demand::STARTS_AT_DEMAND;
pub use demand::starts_at_demand;
pub(crate) use disinfect::{BLEACH, DOSE_OF_BLEACH, GRANULES};
pub use disinfect::{bleach, dose_of_bleach, granules};
pub(crate) use drain::{DRAIN_TIME, ORIFICE_FLOW};
pub use drain::{drain_time, orifice_flow};
pub(crate) use fast::{FAST_DRAW, FAST_FILL};
pub use fast::{fast_draw, fast_fill};
pub(crate) use fit::FLUSHES_TO_GO;
pub use fit::{flushes_to_go, flushes_to_go_as_read};
pub(crate) use flush::STABILIZATION;
pub use flush::{Stabilization, stabilization};
pub(crate) use friction::FRICTION_LOSS;
pub use friction::{PlainPipe, SMOOTH_WALL, friction_loss};
pub(crate) use hold::{AIR_LEAK, CORRECTED_LOSS, HOLD_NEEDED, SMALLEST_LEAK, WATER_LOST};
pub use hold::{Held, air_leak, amount_leak, corrected_loss, hold_needed, smallest_leak, water_lost};
pub(crate) use implied::{HIGH_PRECHARGE_FROM_DRAWDOWN, PRECHARGE_FROM_DRAWDOWN};
pub use implied::{high_precharge_from_drawdown, precharge_from_drawdown};
pub(crate) use inflate::{COMPRESSOR_TIME, FREE_AIR, STROKES};
pub use inflate::{compressor_time, free_air, strokes};
pub(crate) use metals::JOINT;
pub use metals::{Joint, Metal, joint};
pub(crate) use out_of_range::MessagePart;
pub use out_of_range::{FormulaResult, OutOfRange};
pub(crate) use pressure_limits::CUT_OUT_LIMIT;
pub use pressure_limits::{PressureLimits, cut_out_limit};
pub(crate) use pump::{
    DRAWDOWN_FOR_STARTS, LEAST_RUN_TIME, RUN_TIME, STARTS_PER_HOUR, VOLUME_NEEDED, WATER_FOR_RUN,
};
pub use pump::{
    RUN_TIMES, drawdown_for_starts, least_run_time, run_time, starts_per_hour, volume_needed, water_for_run,
};
pub(crate) use reach::{FLOW_AT, SHUTOFF_FROM_TWO_FLOWS, SHUTOFF_PRESSURE};
pub use reach::{PumpDuty, flow_at, shutoff_from_two_flows, shutoff_pressure};
pub(crate) use scatter::LOWEST_START;
pub use scatter::{LowestStart, lowest_start};
pub use switch::{ActsAt, Adjusters, Rate, SwitchPoints, next_turns};
pub(crate) use switch::{NEXT_TURNS, NextTurns};
pub(crate) use tanks::{DEAD_GAP_OF_ALL, DRAWDOWN_OF_ALL, Shares};
pub use tanks::{TankAtHeight, several_tanks};
pub(crate) use target::{COST_OF_GAP, PRECHARGE_TARGET, PrechargeTarget};
pub use target::{Demands, Governs, cost_of_gap, precharge_target, precharge_target_explained};
pub(crate) use temperature::{AIR_TEMPERATURE_AFTER, PRECHARGE_AT};
pub use temperature::{air_temperature_after, precharge_at};
pub(crate) use trend::{Drift, Trend};
pub use trend::{MONTH, Reading, trend};
pub use water::{HEAD, head, lowest_pressure, pressure_at, water_in_pipe};
pub(crate) use water::{LOWEST_PRESSURE, PRESSURE_AT, WATER_IN_PIPE};
pub(crate) use weight::TRAPPED_WATER;
pub use weight::trapped_water;
