//! Water leaving through an opening.

use tankhand::physics::{drain_time, orifice_flow};

use super::{GALLON, GPM, PSI, close};

/// Density the published figures take, 20 °C; the program's is for 10 °C.
const AT_20_CELSIUS: f64 = 998.2;
const AT_10_CELSIUS: f64 = 999.702_5;

/// Torricelli with Cd 0.61, ½ in: psi, gal/min, worked outside the project at 20 °C.
#[test]
fn half_inch_orifice() {
    for (psi, gpm) in [(5.0, 10.18), (10.0, 14.40), (20.0, 20.36), (40.0, 28.79)] {
        let found = orifice_flow(0.0127, 0.61, psi * PSI).unwrap() / GPM;
        close(found * (AT_10_CELSIUS / AT_20_CELSIUS).sqrt(), gpm, 0.006, &format!("{psi} psi"));
    }
}

/// 44 gal, charge 38 psi, 60 to 40 psi through the same orifice: 21.489 s, by quadrature
/// outside the project at 20 °C.
#[test]
fn time_to_give_the_drawdown() {
    let flow = orifice_flow(0.0127, 0.61, 60.0 * PSI).unwrap();
    let found = drain_time(44.0 * GALLON, 38.0 * PSI, [60.0 * PSI, 40.0 * PSI], flow, 0.0).unwrap();
    close(found * (AT_20_CELSIUS / AT_10_CELSIUS).sqrt(), 21.489, 0.001, "seconds");
}
