//! How much pressure a pump can make, and what it brings at another pressure.

use super::limits::{FLOW, GAUGE_PRESSURE, HEIGHT, SHUTOFF};
use super::out_of_range::{pressure, value};
use super::{FormulaResult, OutOfRange, head};
use crate::quantity::{Measure, Scalar};

/// What a pump brings at a pressure at the switch.
#[derive(Clone, Debug, PartialEq)]
pub struct PumpDuty<S> {
    /// The pressure at the switch; Pa.
    pub pressure: S,
    /// What it brings against that; m³/s.
    pub flow: S,
}

/// So far below its highest pressure a pump brings nothing to speak of; Pa. Nearer to it no sensitivity could be
/// told.
const LEAST_FALL: f64 = 1.0;

const CURVE: &str = "pump curve taken as head = shutoff head - k flow², a usual approximation";

formula!(SHUTOFF_PRESSURE:
    "The highest pressure a pump can make at the switch, by its shutoff head and the depth to the water.",
    "head(shutoff_head - depth)",
    range "-500 m to 500 m, to 500 psi; refused where no water would come up",
    source "hydrostatics"
);

#[doc = SHUTOFF_PRESSURE!()]
///
/// `shutoff_head` is where the pump's curve meets no flow; `depth` is how far below the switch the
/// water stands while the pump runs. A worn pump makes less than its curve says.
///
/// Units: m to Pa.
///
/// ```
/// use tankhand::physics::shutoff_pressure;
/// let (psi, foot) = (6894.757, 0.3048);
/// let most = shutoff_pressure(260.0 * foot, 90.0 * foot).unwrap();
/// assert!((most / psi - 73.68).abs() < 0.01);
/// ```
pub fn shutoff_pressure<S: Scalar>(shutoff_head: S, depth: S) -> FormulaResult<S> {
    HEIGHT.check("the shutoff head", &shutoff_head)?;
    HEIGHT.check("the depth to the water", &depth)?;
    let most = head(shutoff_head.clone() - depth.clone())?;
    if most.value() <= 0.0 {
        return Err(OutOfRange::new(
            "a shutoff head of {} lifts no water from {} down",
            &[value(Measure::Length, &shutoff_head), value(Measure::Length, &depth)],
            "hydrostatics",
        ));
    }
    SHUTOFF.check("the pump's highest pressure", &most)?;
    Ok(most)
}

formula!(SHUTOFF_FROM_TWO_FLOWS:
    "The highest pressure a pump can make, from what it brings at two pressures.",
    "p1 + (p2 - p1) q1² / (q1² - q2²)",
    range "the flow at the higher pressure below the other; to 150 psi at the two pressures",
    source "pump curve taken as head = shutoff head - k flow², a usual approximation"
);

#[doc = SHUTOFF_FROM_TWO_FLOWS!()]
///
/// The two pressures should lie well apart: what the flows are off weighs by their difference.
///
/// Units: Pa, m³/s to Pa.
///
/// ```
/// use tankhand::physics::{PumpDuty, shutoff_from_two_flows};
/// let low = PumpDuty { pressure: 200e3, flow: 4e-4 };
/// let high = PumpDuty { pressure: 380e3, flow: 2e-4 };
/// assert_eq!(shutoff_from_two_flows(&low, &high).unwrap(), 440e3);
/// ```
pub fn shutoff_from_two_flows<S: Scalar>(low: &PumpDuty<S>, high: &PumpDuty<S>) -> FormulaResult<S> {
    for duty in [low, high] {
        GAUGE_PRESSURE.check("the pressure of a timed fill", &duty.pressure)?;
        FLOW.check("the flow of a timed fill", &duty.flow)?;
    }
    let falls = low.flow.value() > high.flow.value();
    if low.pressure.value() >= high.pressure.value() || !falls {
        return Err(OutOfRange::new(
            "at {} the pump brings no less than at {}, so its highest pressure cannot be told",
            &[pressure(&high.pressure), pressure(&low.pressure)],
            CURVE,
        ));
    }
    let squared = |duty: &PumpDuty<S>| duty.flow.clone() * duty.flow.clone();
    let rise = high.pressure.clone() - low.pressure.clone();
    let most = low.pressure.clone() + rise * squared(low) / (squared(low) - squared(high));
    SHUTOFF.check("the pump's highest pressure", &most)?;
    Ok(most)
}

formula!(FLOW_AT:
    "What a pump brings at another pressure, by its highest pressure and what it brings at one.",
    "flow × √((shutoff - pressure) / (shutoff - pressure of the flow))",
    range "both pressures below the highest the pump can make",
    source "pump curve taken as head = shutoff head - k flow², a usual approximation"
);

#[doc = FLOW_AT!()]
///
/// Units: Pa, m³/s to m³/s.
///
/// ```
/// use tankhand::physics::{PumpDuty, flow_at};
/// let duty = PumpDuty { pressure: 200e3, flow: 4e-4 };
/// assert_eq!(flow_at(440e3, &duty, 380e3).unwrap(), 2e-4);
/// ```
pub fn flow_at<S: Scalar>(shutoff: S, duty: &PumpDuty<S>, at: S) -> FormulaResult<S> {
    FLOW.check("the pump's flow", &duty.flow)?;
    SHUTOFF.check("the pump's highest pressure", &shutoff)?;
    for place in [&duty.pressure, &at] {
        GAUGE_PRESSURE.check("the pressure", place)?;
        if shutoff.value() - place.value() < LEAST_FALL {
            return Err(OutOfRange::new(
                "at {} the pump brings nothing: the most it makes is {}",
                &[pressure(place), pressure(&shutoff)],
                CURVE,
            ));
        }
    }
    let share = (shutoff.clone() - at) / (shutoff - duty.pressure.clone());
    Ok(duty.flow.clone() * share.sqrt())
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        /// Two flows of a true curve give its end again, and each other.
        #[test]
        fn a_true_curve_is_found_again(
            shutoff in 350e3f64..700e3, k in 2e11f64..2e12, low in 100e3f64..200e3, high in 220e3f64..340e3
        ) {
            let duty = |pressure: f64| PumpDuty { pressure, flow: ((shutoff - pressure) / k).sqrt() };
            let found = shutoff_from_two_flows(&duty(low), &duty(high)).unwrap();
            prop_assert!((found / shutoff - 1.0).abs() < 1e-9);
            let flow = flow_at(shutoff, &duty(low), high).unwrap();
            prop_assert!((flow / duty(high).flow - 1.0).abs() < 1e-9);
        }
    }

    #[test]
    fn what_makes_no_sense_is_refused() {
        let duty = |psi: f64, flow: f64| PumpDuty { pressure: psi * crate::quantity::PSI, flow };
        let said = |found: FormulaResult<f64>| found.unwrap_err().to_string();
        assert_eq!(
            said(shutoff_from_two_flows(&duty(40.0, 2e-4), &duty(60.0, 2e-4))),
            format!(
                "at 60 psi the pump brings no less than at 40 psi, so its highest pressure cannot be told ({CURVE})"
            )
        );
        assert_eq!(
            said(flow_at(60.0 * crate::quantity::PSI, &duty(40.0, 2e-4), 65.0 * crate::quantity::PSI)),
            format!("at 65 psi the pump brings nothing: the most it makes is 60 psi ({CURVE})")
        );
        // Half a pascal below the highest, nothing could be told of how sure the flow is.
        let nearly = PumpDuty { pressure: 60.0 * crate::quantity::PSI - 0.5, flow: 2e-4 };
        assert_eq!(
            said(flow_at(60.0 * crate::quantity::PSI, &nearly, 40.0 * crate::quantity::PSI)),
            format!("at 60 psi the pump brings nothing: the most it makes is 60 psi ({CURVE})")
        );
        let at_rest = flow_at(0.0, &PumpDuty { pressure: -2.606e-263, flow: 0.09 }, -0.037);
        assert_eq!(
            said(at_rest),
            format!("at 0 psi the pump brings nothing: the most it makes is 0 psi ({CURVE})")
        );
        for (depth, shown) in [(30.48, "100 ft"), (60.96, "200 ft")] {
            assert_eq!(
                said(shutoff_pressure(30.48, depth)),
                format!("a shutoff head of 100 ft lifts no water from {shown} down (hydrostatics)")
            );
        }
    }
}
