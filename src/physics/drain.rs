//! Water leaving through an opening: the flow, and how long a tank takes to give its water.

use super::atmosphere::{absolute_of, atmosphere};
use super::constants::WATER_DENSITY;
use super::limits::{DRIVING, FLOW, OPENING, VOLUME};
use super::out_of_range::pressure;
use super::{FormulaResult, MessagePart, OutOfRange};
use crate::quantity::{Measure, Scalar};

formula!(ORIFICE_FLOW:
    "The water that runs through a round opening.",
    "coefficient × π/4 diameter² √(2 pressure / density)",
    range "1 mm to 10 cm across, coefficient 0.05 to 1, 1 kPa to 150 psi",
    source "Torricelli; N. Midoux, Mécanique et rhéologie des fluides en génie chimique, p. 51"
);

#[doc = ORIFICE_FLOW!()]
///
/// The coefficient is about 0.61 for a sharp edge (Midoux); a drain valve with a hose has far less:
/// time one bucket instead.
///
/// Units: m, a number, Pa to m³/s.
///
/// ```
/// use tankhand::physics::orifice_flow;
/// let (psi, gpm) = (6894.757, 3.785412e-3 / 60.0);
/// let flow = orifice_flow(0.0127, 0.61, 40.0 * psi).unwrap();
/// assert!((flow / gpm - 28.77).abs() < 0.01);
/// ```
pub fn orifice_flow<S: Scalar>(diameter: S, coefficient: S, pressure: S) -> FormulaResult<S> {
    OPENING.check("the diameter of the opening", &diameter)?;
    DRIVING.check("the pressure", &pressure)?;
    if !(0.05..=1.0).contains(&coefficient.value()) {
        return Err(OutOfRange::new(
            "the discharge coefficient is {}, outside 0.05 to 1",
            &[MessagePart::Value(Measure::Number, coefficient.value())],
            "Torricelli's law",
        ));
    }
    let area = S::from(std::f64::consts::FRAC_PI_4) * diameter.clone() * diameter;
    Ok(coefficient * area * (S::from(2.0 / WATER_DENSITY.value) * pressure).sqrt())
}

formula!(DRAIN_TIME:
    "How long a tank takes to fall from one pressure to a lower one.",
    "V precharge √from / flow (I(from) - I(to)), I(P) = s / (A P) + atan(s / √A) / A^1.5, s = √(P - A)",
    range "1 kPa to 150 psi, the second pressure and the precharge below the first; air at one temperature",
    source "Boyle's and Torricelli's laws"
);

#[doc = DRAIN_TIME!()]
///
/// `P` is absolute, `A` the atmosphere, `flow` what runs out at the first; it goes with the root of
/// the gauge pressure. With `to` below the precharge, the time until the tank is empty. Derived, and
/// checked by quadrature.
///
/// Units: m³, Pa, m³/s, m to s.
///
/// ```
/// use tankhand::physics::drain_time;
/// let (psi, gal) = (6894.757, 3.785412e-3);
/// let flow = 5.0 * gal / 60.0; // timed with a bucket near the cut-out
/// let time = drain_time(44.0 * gal, 38.0 * psi, [60.0 * psi, 38.0 * psi], flow, 0.0).unwrap();
/// assert!((time - 175.50).abs() < 0.01);
/// ```
pub fn drain_time<S: Scalar>(
    volume: S,
    precharge: S,
    from_to: [S; 2],
    flow: S,
    elevation: S,
) -> FormulaResult<S> {
    let [from, to] = from_to;
    VOLUME.check("the tank's volume", &volume)?;
    FLOW.check("the flow", &flow)?;
    DRIVING.check("the pressure at the start", &from)?;
    DRIVING.check("the pressure at the end", &to)?;
    let air = atmosphere(elevation)?;
    let absolute = absolute_of("the precharge", precharge.clone(), &air)?;
    let end = to.max(precharge);
    if end.value() >= from.value() {
        return Err(OutOfRange::new(
            "draining from {} cannot end at {}",
            &[pressure(&from), pressure(&end)],
            "the pressure falls as water leaves, and a tank holds no water at its precharge",
        ));
    }
    let span = integral(&from, &air) - integral(&end, &air);
    Ok(volume * absolute * from.sqrt() / flow * span)
}

/// `∫ dP / (P² √(P − A))`, by the gauge pressure `P − A`.
fn integral<S: Scalar>(gauge: &S, air: &S) -> S {
    let s = gauge.clone().sqrt();
    let root = air.clone().sqrt();
    let rational = s.clone() / (air.clone() * (gauge.clone() + air.clone()));
    rational + atan(s / root.clone()) / (air.clone() * root)
}

fn atan<S: Scalar>(x: S) -> S {
    let value = x.value();
    x.through(value.atan(), 1.0 / (1.0 + value * value))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::physics::water_held;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn the_closed_form_agrees_with_small_steps(
            precharge in 50e3f64..250e3, from in 300e3f64..500e3, q in 1e-4f64..2e-3, z in 0.0f64..3_000.0
        ) {
            let to = 260e3;
            let time = drain_time(0.15, precharge, [from, to], q, z).unwrap();
            let (steps, mut sum) = (2_000, 0.0);
            let dp = (from - to) / f64::from(steps);
            for i in 0..steps {
                let high = from - dp * f64::from(i);
                let water = water_held(0.15, precharge, high, z).unwrap()
                    - water_held(0.15, precharge, high - dp, z).unwrap();
                sum += water / (q * ((high - dp / 2.0) / from).sqrt());
            }
            prop_assert!((time / sum - 1.0).abs() < 1e-5, "{time} {sum}");
        }
    }

    #[test]
    fn a_tank_does_not_drain_upwards() {
        let fault = drain_time(0.15, 262e3, [276e3, 414e3], 1e-3, 0.0).unwrap_err();
        assert_eq!(
            fault.to_string(),
            "draining from 40.03 psi cannot end at 60.046 psi \
             (the pressure falls as water leaves, and a tank holds no water at its precharge)"
        );
    }
}
