//! The pump: its flow, its run time, how often it starts, and the tank it needs.

use super::limits::{DRAWDOWN, DURATION, FLOW, POWER, SOME_WATER, STARTS};
use super::{FormulaResult, OutOfRange, drawdown};
use crate::quantity::{HORSEPOWER, Scalar};

formula!(RUN_TIME:
    "How long the pump runs to make up a drawdown, with every tap shut.",
    "drawdown / flow",
    range "drawdown to 5,000 gal, flow above zero to 0.1 m³/s",
    source "definition of flow"
);

#[doc = RUN_TIME!()]
///
/// What it should be at least: [`least_run_time`].
///
/// Units: m³, m³/s to s.
///
/// ```
/// use tankhand::physics::run_time;
/// assert_eq!(run_time(0.040, 0.0005).unwrap(), 80.0);
/// ```
pub fn run_time<S: Scalar>(drawdown: S, flow: S) -> FormulaResult<S> {
    DRAWDOWN.check("the drawdown", &drawdown)?;
    FLOW.check("the pump's flow", &flow)?;
    Ok(drawdown / flow)
}

formula!(LEAST_RUN_TIME:
    "The least run time of a pump, by the power of its motor.",
    "1 min up to 3/4 hp, 2 min above",
    range "1 W to 100 hp",
    source "common practice, from memory (some draw the line at 1 hp); 15 and 7.5 starts an hour up to and above 3/4 hp: \
            Water Systems Council's standard for tanks"
);

#[doc = LEAST_RUN_TIME!()]
///
/// Units: W to s.
///
/// ```
/// use tankhand::{physics::least_run_time, quantity::HORSEPOWER};
/// assert_eq!(least_run_time(0.75 * HORSEPOWER).unwrap(), 60.0);
/// assert_eq!(least_run_time(HORSEPOWER).unwrap(), 120.0);
/// ```
pub fn least_run_time<S: Scalar>(power: S) -> FormulaResult<S> {
    POWER.check("the pump's power", &power)?;
    // 560 W on a metric plate are three quarters too.
    Ok(S::from(RUN_TIMES[usize::from(power.value() > 0.76 * HORSEPOWER)]))
}

/// The least run times of small and of larger motors; s.
pub const RUN_TIMES: [f64; 2] = [60.0, 120.0];

formula!(STARTS_PER_HOUR:
    "The starts in an hour at the worst draw, half of what the pump brings.",
    "flow in an hour / (4 drawdown)",
    range "drawdown at least 1 mL, flow above zero to 0.1 m³/s",
    source "derived; agrees with Water Systems Council's standard for tanks"
);

#[doc = STARTS_PER_HOUR!()]
///
/// With a use of half the flow the tank fills in `2 Vd / Q` and empties in as much; any other use
/// makes the cycle longer. It turns a run of 1 and 2 min into the 15 and 7.5 starts an hour of the
/// standard.
///
/// Units: m³, m³/s to a number in an hour.
///
/// ```
/// use tankhand::physics::starts_per_hour;
/// assert!((starts_per_hour(0.06, 0.001).unwrap() - 15.0).abs() < 1e-9);
/// ```
pub fn starts_per_hour<S: Scalar>(drawdown: S, flow: S) -> FormulaResult<S> {
    SOME_WATER.check("the drawdown", &drawdown)?;
    FLOW.check("the pump's flow", &flow)?;
    Ok(S::from(900.0) * flow / drawdown)
}

formula!(WATER_FOR_RUN:
    "The drawdown that makes a pump run for a time.",
    "flow × run_time",
    range "flow above zero to 0.1 m³/s, 0.1 s to a year",
    source "definition of flow"
);

#[doc = WATER_FOR_RUN!()]
///
/// Units: m³/s, s to m³.
///
/// ```
/// use tankhand::physics::water_for_run;
/// assert_eq!(water_for_run(0.0005, 60.0).unwrap(), 0.03);
/// ```
pub fn water_for_run<S: Scalar>(flow: S, run_time: S) -> FormulaResult<S> {
    FLOW.check("the pump's flow", &flow)?;
    DURATION.check("the run time", &run_time)?;
    Ok(flow * run_time)
}

formula!(DRAWDOWN_FOR_STARTS:
    "The drawdown that keeps a pump to so many starts in an hour at the worst draw.",
    "flow in an hour / (4 starts)",
    range "flow above zero to 0.1 m³/s, 0.01 to 3,600 starts an hour",
    source "derived; agrees with Water Systems Council's standard for tanks"
);

#[doc = DRAWDOWN_FOR_STARTS!()]
///
/// The inverse of [`starts_per_hour`].
///
/// Units: m³/s, a number in an hour to m³.
///
/// ```
/// use tankhand::physics::drawdown_for_starts;
/// assert_eq!(drawdown_for_starts(0.001, 6.0).unwrap(), 0.15);
/// ```
pub fn drawdown_for_starts<S: Scalar>(flow: S, starts: S) -> FormulaResult<S> {
    FLOW.check("the pump's flow", &flow)?;
    STARTS.check("the starts in an hour", &starts)?;
    Ok(S::from(900.0) * flow / starts)
}

formula!(VOLUME_NEEDED:
    "The volume of tank that gives a drawdown.",
    "needed / drawdown of one unit of volume",
    range "tanks of 0.1 L to 5,000 gal, pressures above vacuum to 150 psi, cut-in below cut-out; refused when the precharge lies at or above the cut-out",
    source "Boyle's law"
);

#[doc = VOLUME_NEEDED!()]
///
/// Several tanks with one precharge count together.
///
/// Units: m³, Pa, m to m³.
///
/// ```
/// use tankhand::physics::volume_needed;
/// let (psi, gal) = (6894.757, 3.785412e-3);
/// // 10 gal/min for a minute, 40/60 switch.
/// let v = volume_needed(10.0 * gal, 38.0 * psi, 40.0 * psi, 60.0 * psi, 0.0).unwrap();
/// assert!((v / gal - 38.8).abs() < 0.05);
/// ```
pub fn volume_needed<S: Scalar>(
    needed: S,
    precharge: S,
    cut_in: S,
    cut_out: S,
    elevation: S,
) -> FormulaResult<S> {
    SOME_WATER.check("the drawdown needed", &needed)?;
    let share = drawdown(S::from(1.0), precharge.clone(), cut_in, cut_out.clone(), elevation)?;
    if share.value() < 1e-4 {
        return Err(OutOfRange::new(
            "with a precharge of {} and a cut-out of {} a tank of any size gives next to no water",
            &[super::out_of_range::pressure(&precharge), super::out_of_range::pressure(&cut_out)],
            "Boyle's law",
        ));
    }
    Ok(needed / share)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn the_worst_draw_is_half_the_flow(vd in 0.01f64..0.2, q in 1e-4f64..2e-3, part in 0.01f64..0.99) {
            let use_flow = q * part;
            let period = vd / use_flow + vd / (q - use_flow);
            prop_assert!(3600.0 / period <= starts_per_hour(vd, q).unwrap() * (1.0 + 1e-12));
        }

        #[test]
        fn there_and_back(vd in 0.01f64..0.2, q in 1e-4f64..2e-3, precharge in 0.0f64..270e3) {
            let starts = starts_per_hour(vd, q).unwrap();
            prop_assert!((drawdown_for_starts(q, starts).unwrap() - vd).abs() < 1e-12);
            let time = run_time(vd, q).unwrap();
            prop_assert!((water_for_run(q, time).unwrap() - vd).abs() < 1e-12);
            let volume = volume_needed(vd, precharge, 276e3, 414e3, 0.0).unwrap();
            prop_assert!((drawdown(volume, precharge, 276e3, 414e3, 0.0).unwrap() - vd).abs() < 1e-12);
        }
    }

    #[test]
    fn a_tank_that_takes_no_water_has_no_size() {
        let fault = volume_needed(0.04, 414e3, 276e3, 414e3, 0.0).unwrap_err();
        assert_eq!(
            fault.to_string(),
            "with a precharge of 60.046 psi and a cut-out of 60.046 psi a tank of any size gives next to no water \
             (Boyle's law)"
        );
        assert_eq!(
            run_time(0.04, 0.0).unwrap_err().to_string(),
            "the pump's flow, 0 gal/min, is not between 0.0001585 gal/min and 1585 gal/min \
             (a guard against a slip in the unit or the decimal point, wider than any household system)"
        );
    }
}
