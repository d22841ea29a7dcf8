//! Fast fills.

use tankhand::physics::fast_fill;

use super::{PSI, close};

/// Polytropic change of an ideal gas, worked outside the project: share of the volume taken in
/// from cut-in to cut-out, by exponent.
#[test]
fn a_fast_fill_takes_less() {
    let table = [(40.0, [0.2580, 0.2204, 0.1923]), (30.0, [0.2953, 0.2533, 0.2218])];
    for (cut_in, row) in table {
        for (exponent, share) in [1.0, 1.2, 1.4].into_iter().zip(row) {
            let (precharge, on, off) = ((cut_in - 2.0) * PSI, cut_in * PSI, (cut_in + 20.0) * PSI);
            let found = fast_fill(1.0, precharge, on, off, 0.0, exponent).unwrap();
            close(found, share, 0.00006, &format!("{cut_in} psi, n = {exponent}"));
        }
    }
}
