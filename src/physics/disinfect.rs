//! Disinfectant: how much for a dose, and the dose that an amount makes.
//!
//! Never with acid or ammonia (toxic gas); ventilate; keep what is discharged off septic
//! systems, wells and streams. A tank's plate and local rules decide over any figure here; no
//! published limit on chlorine for bladders is known to the writers, who keep to 200 mg/L and
//! 24 h (a judgement).

use super::limits::{DISINFECTANT, DOSE, STRENGTH, VOLUME};
use super::{FormulaResult, limits};
use crate::quantity::Scalar;

/// Mass of active chlorine in a volume of bleach of strength 1 (weight in volume); kg/m³.
const AT_FULL_STRENGTH: f64 = 1_000.0;

formula!(BLEACH:
    "The bleach for a dose of chlorine in so much water.",
    "water × dose / (strength × 1 kg/L)",
    range "strength 0.5 to 20 %, dose to 500 mg/L",
    source "definition of the dose; to 500 mg/L, Maryland COMAR 26.04.04.24"
);

#[doc = BLEACH!()]
///
/// The strength is taken as weight in volume, as the published tables take it; store-bought "% by
/// weight" is some 8 to 10 % stronger by volume. Plain bleach without additives.
///
/// Units: m³, a fraction, kg/m³ to m³.
///
/// ```
/// use tankhand::physics::bleach;
/// // 100 gal at 98.4 mg/L with 5.25 % bleach: three cups.
/// let (gal, cup) = (3.785412e-3, 236.588e-6);
/// let bleach = bleach(100.0 * gal, 0.0525, 98.4e-3).unwrap();
/// assert!((bleach / cup - 3.0).abs() < 0.01);
/// ```
pub fn bleach<S: Scalar>(water: S, strength: S, dose: S) -> FormulaResult<S> {
    VOLUME.check("the water", &water)?;
    STRENGTH.check("the strength of the bleach", &strength)?;
    DOSE.check("the dose", &dose)?;
    Ok(water * dose / (strength * S::from(AT_FULL_STRENGTH)))
}

formula!(GRANULES:
    "The chlorine granules for a dose in so much water.",
    "water × dose / strength",
    range "strength 10 to 80 %, dose to 500 mg/L",
    source "definition of the dose; to 500 mg/L, Maryland COMAR 26.04.04.24"
);

#[doc = GRANULES!()]
///
/// Granules are calcium hypochlorite.
///
/// Units: m³, a fraction, kg/m³ to kg.
///
/// ```
/// use tankhand::physics::granules;
/// let (gal, oz) = (3.785412e-3, 28.349523e-3);
/// let mass = granules(100.0 * gal, 0.70, 104.8e-3).unwrap();
/// assert!((mass / oz - 2.0).abs() < 0.01);
/// ```
pub fn granules<S: Scalar>(water: S, strength: S, dose: S) -> FormulaResult<S> {
    VOLUME.check("the water", &water)?;
    limits::GRANULE_STRENGTH.check("the strength of the granules", &strength)?;
    DOSE.check("the dose", &dose)?;
    Ok(water * dose / strength)
}

formula!(DOSE_OF_BLEACH:
    "The dose of chlorine that an amount of bleach makes.",
    "bleach × strength × 1 kg/L / water",
    range "bleach 0.1 mL to 2 m³",
    source "definition of the dose"
);

#[doc = DOSE_OF_BLEACH!()]
///
/// The bleach is not counted to the water.
///
/// Units: m³, a fraction, m³ to kg/m³.
///
/// ```
/// use tankhand::physics::dose_of_bleach;
/// let (gal, cup) = (3.785412e-3, 236.588e-6);
/// let dose = dose_of_bleach(3.0 * cup, 0.0525, 100.0 * gal).unwrap();
/// assert!((dose * 1e3 - 98.4).abs() < 0.1);
/// ```
pub fn dose_of_bleach<S: Scalar>(bleach: S, strength: S, water: S) -> FormulaResult<S> {
    DISINFECTANT.check("the bleach", &bleach)?;
    STRENGTH.check("the strength of the bleach", &strength)?;
    VOLUME.check("the water", &water)?;
    Ok(bleach * strength * S::from(AT_FULL_STRENGTH) / water)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn there_and_back(water in 0.01f64..10.0, strength in 0.01f64..0.15, dose in 0.01f64..0.4) {
            let amount = bleach(water, strength, dose).unwrap();
            prop_assert!((dose_of_bleach(amount, strength, water).unwrap() / dose - 1.0).abs() < 1e-9);
        }
    }

    #[test]
    fn a_dose_beyond_the_limit_is_told() {
        assert_eq!(
            bleach(1.0, 0.0525, 0.6).unwrap_err().to_string(),
            "the dose, 600 mg/L, is not between 0.1 mg/L and 500 mg/L \
             (Maryland COMAR 26.04.04.24: at most 500 mg/L in a well)"
        );
        assert_eq!(
            bleach(1.0, 5.25, 0.1).unwrap_err().to_string(),
            "the strength of the bleach, 5.25, is not between 0.005 and 0.2 \
             (household bleach is 3 to 8 %, pool bleach to 15 %, common practice)"
        );
    }
}
