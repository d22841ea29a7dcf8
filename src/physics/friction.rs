//! What water loses to friction on its way through a pipe.

use std::f64::consts::PI;

use super::constants::{WATER_DENSITY, WATER_VISCOSITY};
use super::limits::{BORE, FLOW, PIPE};
use super::{FormulaResult, OutOfRange};
use crate::quantity::Scalar;

/// A pipe without bends or fittings.
#[derive(Clone, Debug, PartialEq)]
pub struct PlainPipe<S> {
    /// How long it is; m.
    pub length: S,
    /// Its inner diameter; m.
    pub diameter: S,
    /// How rough its wall is; m.
    pub roughness: f64,
}

/// The wall of new copper or plastic pipe; m. Moody's "drawn tubing" (*Transactions of the ASME* 66,
/// 1944; figure from memory).
pub const SMOOTH_WALL: f64 = 1.5e-6;

/// Where smooth flow ends, as a Reynolds number; the threshold of the Python package `fluids`.
const LAMINAR_UP_TO: f64 = 2_040.0;
/// The fixed point of Colebrook's equation draws nearer by a factor of five or more each time.
const ROUNDS: usize = 16;

formula!(FRICTION_LOSS:
    "The pressure that water at 10 °C loses to friction in a pipe without bends.",
    "f × length / diameter × density × velocity² / 2; f = 64 / Re up to Re 2040, else by Colebrook 1 / √f = -2 log10(roughness / (3.7 diameter) + 2.51 / (Re √f))",
    range "1 mm to 10 m across, to 1 km, flow above zero to 0.1 m³/s, roughness at most a twentieth of the diameter",
    source "Darcy and Weisbach; Colebrook (1939); viscosity: IAPWS R12-08"
);

#[doc = FRICTION_LOSS!()]
///
/// Bends, valves, filters and softeners take more. The inner diameter counts, which for a pipe sold
/// as ¾ in may be 0.68 to 0.82 in. Old galvanized pipe is far rougher than [`SMOOTH_WALL`].
///
/// Units: m³/s, m to Pa (a change).
///
/// ```
/// use tankhand::physics::{PlainPipe, SMOOTH_WALL, friction_loss};
/// let (psi, gpm, inch, foot) = (6894.757, 6.309020e-5, 0.0254, 0.3048);
/// // 5 gal/min through 100 ft of copper, 0.785 in inside.
/// let pipe = PlainPipe { length: 100.0 * foot, diameter: 0.785 * inch, roughness: SMOOTH_WALL };
/// let loss = friction_loss(5.0 * gpm, &pipe).unwrap() / psi;
/// assert!((loss - 3.140).abs() < 0.001);
/// ```
pub fn friction_loss<S: Scalar>(flow: S, pipe: &PlainPipe<S>) -> FormulaResult<S> {
    FLOW.check("the flow", &flow)?;
    BORE.check("the diameter of the pipe", &pipe.diameter)?;
    PIPE.check("the length of the pipe", &pipe.length)?;
    let relative = pipe.roughness / pipe.diameter.value();
    if !(0.0..=0.05).contains(&relative) {
        return Err(OutOfRange::new(
            "the wall of the pipe is rougher than a twentieth of its diameter",
            &[],
            "the range of Moody's diagram",
        ));
    }
    let diameter = || pipe.diameter.clone();
    let velocity = S::from(4.0 / PI) * flow / (diameter() * diameter());
    let kinematic = WATER_VISCOSITY.value / WATER_DENSITY.value;
    let reynolds = velocity.clone() * diameter() / S::from(kinematic);
    let factor = friction_factor(reynolds, S::from(pipe.roughness) / diameter());
    let dynamic = S::from(WATER_DENSITY.value / 2.0) * velocity.clone() * velocity;
    Ok(factor * pipe.length.clone() / diameter() * dynamic)
}

/// Darcy's friction factor by Reynolds number and relative roughness.
fn friction_factor<S: Scalar>(reynolds: S, roughness: S) -> S {
    if reynolds.value() <= LAMINAR_UP_TO {
        return S::from(64.0) / reynolds;
    }
    // x stands for 1 / √f.
    let mut x = S::from(6.0);
    for _ in 0..ROUNDS {
        let within = roughness.clone() / S::from(3.7) + S::from(2.51) * x / reynolds.clone();
        x = S::from(-2.0 / std::f64::consts::LN_10) * within.ln();
    }
    S::from(1.0) / (x.clone() * x)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn more_flow_and_more_length_lose_more_and_a_wider_pipe_less(
            flow in 1e-5f64..2e-3, length in 0.1f64..100.0, diameter in 0.008f64..0.05
        ) {
            let loss = |flow: f64, length: f64, diameter: f64| {
                friction_loss(flow, &PlainPipe { length, diameter, roughness: SMOOTH_WALL }).unwrap()
            };
            let here = loss(flow, length, diameter);
            prop_assert!(here > 0.0 && loss(1.1 * flow, length, diameter) > here);
            prop_assert!((loss(flow, 2.0 * length, diameter) / here - 2.0).abs() < 1e-12);
            prop_assert!(loss(flow, length, 1.5 * diameter) < here);
        }
    }

    #[test]
    fn a_wall_as_rough_as_that_is_refused() {
        let pipe = PlainPipe { length: 1.0, diameter: 0.01, roughness: 0.001 };
        assert_eq!(
            friction_loss(1e-4, &pipe).unwrap_err().to_string(),
            "the wall of the pipe is rougher than a twentieth of its diameter \
             (the range of Moody's diagram)"
        );
    }
}
