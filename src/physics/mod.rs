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

mod air;
mod atmosphere;
#[cfg(test)]
mod derivatives;
mod fit;
mod flush;
mod implied;
mod inflate;
mod out_of_range;
mod pump;
mod target;
mod temperature;
mod water;

pub use air::{dead_gap, drawdown, water_held};
pub use atmosphere::{absolute, atmosphere, gauge};
pub use fit::{DumpsToGo, dumps_to_go};
pub use flush::{Settling, settled, settling};
pub use implied::{charge_from_drawdown, overcharge_from_drawdown};
pub use inflate::{compressor_time, free_air, strokes};
pub use out_of_range::{Checked, OutOfRange, Slot};
pub use pump::{bucket_flow, drawdown_for_starts, run_time, starts_per_hour, volume_needed, water_for_run};
pub use target::{ChargeTarget, Governs, charge_target, charge_target_explained};
pub use temperature::{air_temperature_after, charge_at};
pub use water::{head, lowest_pressure, pressure_at};
