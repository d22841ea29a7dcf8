//! How often a pump starts while water is drawn.

use super::limits::{FLOW, SOME_WATER};
use super::out_of_range::value;
use super::{FormulaResult, OutOfRange};
use crate::quantity::{HOUR, Measure, Scalar};

formula!(STARTS_AT_DEMAND:
    "The starts in an hour while water is drawn at one steady flow.",
    "an hour × demand (flow - demand) / (flow × drawdown)",
    range "drawdown at least 1 mL, flows above zero to 0.1 m³/s; refused where the demand is no less than the flow, for then the pump does not stop",
    source "derived; at half the flow it is that of Water Systems Council's standard for tanks"
);

#[doc = STARTS_AT_DEMAND!()]
///
/// The tank empties in `drawdown / demand` and fills in `drawdown / (flow − demand)`.
///
/// Units: m³, m³/s to a number in an hour.
///
/// ```
/// use tankhand::physics::{starts_at_demand, starts_per_hour};
/// assert_eq!(starts_at_demand(0.06, 0.001, 0.0005), starts_per_hour(0.06, 0.001));
/// assert!(starts_at_demand(0.06, 0.001, 0.001).is_err());
/// ```
pub fn starts_at_demand<S: Scalar>(drawdown: S, flow: S, demand: S) -> FormulaResult<S> {
    SOME_WATER.check("the drawdown", &drawdown)?;
    FLOW.check("the pump's flow", &flow)?;
    FLOW.check("the demand", &demand)?;
    let spare = flow.clone() - demand.clone();
    if spare.value() <= 0.0 {
        return Err(OutOfRange::new(
            "at {} the pump does not stop: it brings {}",
            &[value(Measure::Flow, &demand), value(Measure::Flow, &flow)],
            "a tank fills only with what the pump brings beyond the demand",
        ));
    }
    Ok(S::from(HOUR) * demand * spare / (flow * drawdown))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_demand_that_takes_everything_is_told() {
        let flow = 5.0 * crate::quantity::GPM;
        assert_eq!(
            starts_at_demand(0.04, flow, 2.0 * flow).unwrap_err().to_string(),
            "at 10 gal/min the pump does not stop: it brings 5 gal/min \
             (a tank fills only with what the pump brings beyond the demand)"
        );
    }
}
