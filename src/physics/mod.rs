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

pub use adjusters::{Turns, WORTH_OF_TURNS, learn_adjusters};
pub use air::{DEAD_GAP, DRAWDOWN, WATER_HELD, dead_gap, drawdown, water_held};
pub use atmosphere::{ABSOLUTE, ATMOSPHERE, absolute, atmosphere, gauge};
pub use band_exit::{BandExit, band_exit, look_again};
pub use common_slope::common_slope_trend;
pub use confidence::{
    ONE_SIDED_LIMIT, UNCERTAINTY_BETWEEN, one_sided, one_sided_at, one_sided_limit, one_sided_of_few,
    uncertainty_between,
};
pub use demand::{STARTS_AT_DEMAND, starts_at_demand};
pub use disinfect::{BLEACH, DOSE_OF_BLEACH, GRANULES, bleach, dose_of_bleach, granules};
pub use drain::{DRAIN_TIME, ORIFICE_FLOW, drain_time, orifice_flow};
pub use fast::{FAST_DRAW, FAST_FILL, fast_draw, fast_fill};
pub use fit::{FLUSHES_TO_GO, flushes_to_go, flushes_to_go_as_read};
pub use flush::{STABILIZATION, Stabilization, stabilization};
pub use friction::{FRICTION_LOSS, PlainPipe, SMOOTH_WALL, friction_loss};
pub use hold::{
    AIR_LEAK, CORRECTED_LOSS, HOLD_NEEDED, Held, SMALLEST_LEAK, WATER_LOST, air_leak, amount_leak,
    corrected_loss, hold_needed, smallest_leak, water_lost,
};
pub use implied::{
    HIGH_PRECHARGE_FROM_DRAWDOWN, PRECHARGE_FROM_DRAWDOWN, high_precharge_from_drawdown,
    precharge_from_drawdown,
};
pub use inflate::{COMPRESSOR_TIME, FREE_AIR, STROKES, compressor_time, free_air, strokes};
pub use metals::{JOINT, Joint, Metal, joint};
pub(crate) use out_of_range::MessagePart;
pub use out_of_range::{FormulaResult, OutOfRange};
pub use pressure_limits::{CUT_OUT_LIMIT, PressureLimits, cut_out_limit};
pub use pump::{
    DRAWDOWN_FOR_STARTS, LEAST_RUN_TIME, RUN_TIME, RUN_TIMES, STARTS_PER_HOUR, VOLUME_NEEDED, WATER_FOR_RUN,
    drawdown_for_starts, least_run_time, run_time, starts_per_hour, volume_needed, water_for_run,
};
pub use reach::{
    FLOW_AT, PumpDuty, SHUTOFF_FROM_TWO_FLOWS, SHUTOFF_PRESSURE, flow_at, shutoff_from_two_flows,
    shutoff_pressure,
};
pub use scatter::{LOWEST_START, LowestStart, lowest_start};
pub(crate) use switch::NextTurns;
pub use switch::{ActsAt, Adjusters, NEXT_TURNS, Rate, SwitchPoints, next_turns};
pub(crate) use tanks::Shares;
pub use tanks::{DEAD_GAP_OF_ALL, DRAWDOWN_OF_ALL, TankAtHeight, several_tanks};
pub(crate) use target::PrechargeTarget;
pub use target::{
    COST_OF_GAP, Demands, Governs, PRECHARGE_TARGET, cost_of_gap, precharge_target,
    precharge_target_explained,
};
pub use temperature::{AIR_TEMPERATURE_AFTER, PRECHARGE_AT, air_temperature_after, precharge_at};
pub(crate) use trend::{Drift, Trend};
pub use trend::{MONTH, Reading, trend};
pub use water::{
    HEAD, LOWEST_PRESSURE, PRESSURE_AT, WATER_IN_PIPE, head, lowest_pressure, pressure_at, water_in_pipe,
};
pub use weight::{TRAPPED_WATER, trapped_water};
