//! Water trapped behind a bladder, from the weight of the tank.

use super::constants::WATER_DENSITY;
use super::limits::MASS;
use super::out_of_range::value;
use super::{FormulaResult, OutOfRange};
use crate::quantity::{Measure, Scalar};

formula!(TRAPPED_WATER:
    "The water trapped in a drained tank, by its weight.",
    "(weighed - empty) / density of water",
    range "0.1 kg to 20,000 kg",
    source "water at 10 °C, IAPWS-95"
);

#[doc = TRAPPED_WATER!()]
///
/// The empty weight is on the plate. A scale may put a dry tank a little under it; the result is
/// then a little below zero. More than a tenth under is refused. A waterlogged tank is heavy: weigh
/// it only when its air is out and it has been drained.
///
/// Units: kg to m³.
///
/// ```
/// use tankhand::physics::trapped_water;
/// let (lb, gal) = (0.45359237, 3.785412e-3);
/// let water = trapped_water(150.0 * lb, 92.0 * lb).unwrap();
/// assert!((water / gal - 6.95).abs() < 0.01);
/// ```
pub fn trapped_water<S: Scalar>(weighed: S, empty: S) -> FormulaResult<S> {
    MASS.check("the weight found", &weighed)?;
    MASS.check("the empty weight", &empty)?;
    if weighed.value() < 0.9 * empty.value() {
        return Err(OutOfRange::new(
            "the tank weighs {}, well under its empty weight of {}: check the scale and the plate",
            &[value(Measure::Mass, &weighed), value(Measure::Mass, &empty)],
            "a tank weighs no less than itself",
        ));
    }
    Ok((weighed - empty) * S::from(1.0 / WATER_DENSITY.value))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_tank_lighter_than_itself_is_told() {
        let lb = 0.453_592_37;
        assert!(trapped_water(91.0 * lb, 92.0 * lb).unwrap() < 0.0);
        assert_eq!(
            trapped_water(50.0 * lb, 92.0 * lb).unwrap_err().to_string(),
            "the tank weighs 50 lb, well under its empty weight of 92 lb: check the scale and the plate \
             (a tank weighs no less than itself)"
        );
    }
}
