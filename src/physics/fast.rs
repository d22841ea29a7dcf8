//! Fast filling and drawing, when the air has no time to keep its temperature.
//!
//! The pressure times the volume to the power `n` stays the same, with `n` from 1 (slow) to
//! 1.4 (no heat passes). Where `n` lies depends on the tank and the pace, so what comes out is
//! a band, not a figure: take both ends.

use super::atmosphere::{absolute_of, atmosphere};
use super::limits::VOLUME;
use super::out_of_range::in_order;
use super::temperature::check_exponent;
use super::{FormulaResult, air};
use crate::quantity::Scalar;

formula!(FAST_FILL:
    "The least water a tank takes from cut-in to cut-out, filled so fast that its air keeps its heat.",
    "Va (1 - (p / cut_out)^(1/n)), Va = V precharge / p, p the higher of cut-in and precharge, absolute",
    range "exponent 1 to 1.4; tanks of 0.1 L to 5,000 gal, pressures above vacuum to 150 psi, cut-in below cut-out",
    source "polytropic change of an ideal gas (textbook); Thorncroft, Patton and Gordon, ASEE AC 2007-2695"
);

#[doc = FAST_FILL!()]
///
/// `p` is the cut-in or, where higher, the precharge. With an exponent of 1 this is the
/// [`drawdown`](super::drawdown); with 1.4 up to a quarter less until the air has cooled. That the
/// exponent depends on the wall and the pace: Thorncroft, Patton and Gordon.
///
/// Units: m³, Pa, m to m³.
///
/// ```
/// use tankhand::physics::fast_fill;
/// let psi = 6894.757;
/// let share = fast_fill(1.0, 38.0 * psi, 40.0 * psi, 60.0 * psi, 0.0, 1.4).unwrap();
/// assert!((share - 0.1923).abs() < 1e-4);
/// ```
pub fn fast_fill<S: Scalar>(
    volume: S,
    precharge: S,
    cut_in: S,
    cut_out: S,
    elevation: S,
    exponent: f64,
) -> FormulaResult<S> {
    let state = FastCycle::new(volume, precharge, [cut_in, cut_out], elevation, exponent)?;
    let start = state.cut_in.max(state.precharge.clone());
    if start.value() >= state.cut_out.value() {
        return Ok(S::from(0.0));
    }
    let air = state.volume * state.precharge / start.clone();
    Ok(air * (S::from(1.0) - (start / state.cut_out).powf(1.0 / exponent)))
}

formula!(FAST_DRAW:
    "The least water a tank gives from cut-out to cut-in, drawn so fast that its air cools.",
    "Va ((cut_out / cut_in)^(1/n) - 1), Va = V precharge / cut_out, absolute; at most the water held",
    range "exponent 1 to 1.4; tanks of 0.1 L to 5,000 gal, pressures above vacuum to 150 psi, cut-in below cut-out",
    source "polytropic change of an ideal gas (textbook)"
);

#[doc = FAST_DRAW!()]
///
/// With an exponent of 1 this is the [`drawdown`](super::drawdown).
///
/// Units: m³, Pa, m to m³.
///
/// ```
/// use tankhand::physics::{drawdown, fast_draw};
/// let slow = drawdown(0.1, 262e3, 276e3, 414e3, 0.0).unwrap();
/// let same = fast_draw(0.1, 262e3, 276e3, 414e3, 0.0, 1.0).unwrap();
/// let fast = fast_draw(0.1, 262e3, 276e3, 414e3, 0.0, 1.4).unwrap();
/// assert!((slow - same).abs() < 1e-12 && fast < 0.7 * slow);
/// ```
pub fn fast_draw<S: Scalar>(
    volume: S,
    precharge: S,
    cut_in: S,
    cut_out: S,
    elevation: S,
    exponent: f64,
) -> FormulaResult<S> {
    let state = FastCycle::new(volume, precharge, [cut_in, cut_out], elevation, exponent)?;
    let water = air::held(&state.volume, &state.precharge, &state.cut_out);
    if water.value() == 0.0 {
        return Ok(S::from(0.0));
    }
    let air = state.volume * state.precharge / state.cut_out.clone();
    let grown = air * ((state.cut_out / state.cut_in).powf(1.0 / exponent) - S::from(1.0));
    Ok(grown.min(water))
}

/// What both share: checked, pressures absolute.
struct FastCycle<S> {
    volume: S,
    precharge: S,
    cut_in: S,
    cut_out: S,
}

impl<S: Scalar> FastCycle<S> {
    fn new(
        volume: S,
        precharge: S,
        switch: [S; 2],
        elevation: S,
        exponent: f64,
    ) -> FormulaResult<FastCycle<S>> {
        let [cut_in, cut_out] = switch;
        VOLUME.check("the tank's volume", &volume)?;
        check_exponent(exponent)?;
        in_order(&cut_in, &cut_out)?;
        let air = atmosphere(elevation)?;
        let precharge = absolute_of("the precharge", precharge, &air)?;
        let cut_in = absolute_of("the cut-in", cut_in, &air)?;
        let cut_out = absolute_of("the cut-out", cut_out, &air)?;
        // Below a thousandth of an atmosphere the powers below lose their meaning.
        Ok(FastCycle { volume, precharge, cut_in: cut_in.max(S::from(100.0)), cut_out })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::physics::drawdown;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn slow_is_the_drawdown_and_fast_is_less(
            precharge in 50e3f64..500e3, cut_in in 100e3f64..300e3, span in 50e3f64..200e3, n in 1.01f64..1.4
        ) {
            let of = |f: fn(f64, f64, f64, f64, f64, f64) -> FormulaResult<f64>, n: f64| {
                f(0.1, precharge, cut_in, cut_in + span, 200.0, n).unwrap()
            };
            let slow = drawdown(0.1, precharge, cut_in, cut_in + span, 200.0).unwrap();
            prop_assert!((of(fast_fill, 1.0) - slow).abs() < 1e-12);
            prop_assert!((of(fast_draw, 1.0) - slow).abs() < 1e-12);
            prop_assert!(of(fast_fill, n) <= slow + 1e-12 && of(fast_fill, n) >= slow / 1.4);
            prop_assert!(of(fast_draw, n) <= slow + 1e-12);
        }
    }

    #[test]
    fn a_charge_from_the_cut_out_on_takes_and_gives_nothing() {
        for precharge in [414e3, 414e3f64.next_up(), 500e3] {
            assert_eq!(fast_fill(0.1, precharge, 276e3, 414e3, 0.0, 1.2), Ok(0.0));
            assert_eq!(fast_draw(0.1, precharge, 276e3, 414e3, 0.0, 1.2), Ok(0.0));
        }
        let [fill, draw] = [fast_fill, fast_draw].map(|of| of(0.1, 413e3, 276e3, 414e3, 0.0, 1.2).unwrap());
        assert!(fill > 0.0 && draw > 0.0 && fill < 1e-3 && draw < 1e-3);
    }
}
