//! Checks of whole results against other means of getting them: draws (JCGM 101:2008), the Python
//! packages `uncertainties` and `fluids`, real air by CoolProp, scipy's bisection and quadrature, and a
//! simulated well by scipy. What all but the draws found is kept in files beside the scripts that wrote
//! them; the scripts are not needed to run the tests.

#![allow(clippy::unwrap_used)]

mod asymmetric;
mod coolprop;
mod draws;
mod formulas;
mod intervals;
mod kinks;
mod pipes;
mod plant;
mod sums;
mod tanks;
mod uncertainties;

/// Pascals in a psi (NIST SP 811, App. B.8).
const PSI: f64 = 6_894.757_293_168_361;
/// Cubic metres in a US gallon (NIST SP 811, App. B.8).
const GALLON: f64 = 3.785_411_784e-3;

/// A data file of this folder.
fn data(name: &str) -> serde_json::Value {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/oracles").join(name);
    serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap()
}
