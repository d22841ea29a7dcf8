//! The diagnosis against simulated owners, within one family of models.

mod calibration;
mod cases;
mod model;

#[allow(dead_code)]
fn main() {
    calibration::explore()
}
