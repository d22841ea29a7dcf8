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

#[macro_use]
mod formula;

mod air;
mod atmosphere;
mod band_exit;
mod common_slope;
mod confidence;
#[cfg(test)]
mod derivatives;
mod diagnose;
mod disinfect;
#[cfg(test)]
mod documented;
mod drain;
mod fast;
mod fit;
mod flush;
mod gauge_error;
mod hold;
mod implied;
mod inflate;
mod joint_uncertainty;
mod line;
mod metals;
mod out_of_range;
mod pressure_limits;
mod pump;
#[cfg(test)]
mod refusals;
mod switch;
mod tanks;
mod target;
mod temperature;
mod trend;
mod water;
mod weight;

pub use air::{DEAD_GAP, DRAWDOWN, WATER_HELD, dead_gap, drawdown, water_held};
pub use atmosphere::{ABSOLUTE, ATMOSPHERE, absolute, atmosphere, gauge};
pub use band_exit::{BandExit, band_exit, look_again};
pub use common_slope::common_slope_trend;
pub use confidence::{one_sided, one_sided_of_few};
pub use diagnose::{DIAGNOSIS, Diagnosis, Finding, diagnose};
pub use disinfect::{BLEACH, DOSE_OF_BLEACH, GRANULES, bleach, dose_of_bleach, granules};
pub use drain::{DRAIN_TIME, ORIFICE_FLOW, drain_time, orifice_flow};
pub use fast::{FAST_DRAW, FAST_FILL, fast_draw, fast_fill};
pub use fit::{FlushesToGo, flushes_to_go, flushes_to_go_as_read};
pub use flush::{Stabilization, has_stabilized, stabilization};
pub use gauge_error::{from_limit_of_error, from_resolution};
pub use hold::{
    AIR_LEAK, CORRECTED_LOSS, HOLD_NEEDED, Held, SMALLEST_LEAK, WATER_LOST, air_leak, amount_leak,
    corrected_loss, hold_needed, smallest_leak, water_lost,
};
pub use implied::{
    CHARGE_FROM_DRAWDOWN, OVERCHARGE_FROM_DRAWDOWN, high_precharge_from_drawdown, precharge_from_drawdown,
};
pub use inflate::{COMPRESSOR_TIME, FREE_AIR, STROKES, compressor_time, free_air, strokes};
pub use joint_uncertainty::Evidence;
pub use metals::{JOINT, Joint, Metal, joint};
pub use out_of_range::{FormulaResult, MessagePart, OutOfRange};
pub use pressure_limits::{
    ALLOWED_CHARGE, ALLOWED_CUT_OUT, CUT_OUT_CEILING, PressureLimits, allowed_cut_out, allowed_precharge,
    cut_out_limit,
};
pub use pump::{
    BUCKET_FLOW, DRAWDOWN_FOR_STARTS, RUN_TIME, STARTS_PER_HOUR, VOLUME_NEEDED, WATER_FOR_RUN, bucket_flow,
    drawdown_for_starts, run_time, starts_per_hour, volume_needed, water_for_run,
};
pub use switch::{Adjusters, Adjustment, NextTurns, Rate, SwitchPoints, learn_adjusters, next_turns};
pub use tanks::{Shares, TankAtHeight, several_tanks};
pub use target::{
    CHARGE_TARGET, COST_OF_GAP, Demands, Governs, PrechargeTarget, cost_of_gap, precharge_target,
    precharge_target_explained,
};
pub use temperature::{AIR_TEMPERATURE_AFTER, CHARGE_AT, air_temperature_after, precharge_at};
pub use trend::{Drift, MONTH, Reading, Trend, trend};
pub use water::{
    HEAD, LOWEST_PRESSURE, PRESSURE_AT, WATER_IN_PIPE, head, lowest_pressure, pressure_at, water_in_pipe,
};
pub use weight::{TRAPPED_WATER, trapped_water};
