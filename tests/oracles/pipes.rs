//! Friction in pipes against the Python package `fluids` (`make_fluids.py`).

use tankhand::physics::{PlainPipe, SMOOTH_WALL, friction_loss};

use super::{GALLON, PSI, data};

#[test]
fn friction_is_that_of_fluids() {
    let data = data("fluids.json");
    let rows = data["friction"].as_array().unwrap();
    let regimes =
        |laminar: bool| rows.iter().filter(|row| (number(row, "reynolds") < 2_040.0) == laminar).count();
    assert!(regimes(true) >= 5 && regimes(false) >= 20);
    for row in rows {
        let pipe = PlainPipe {
            length: number(row, "ft") * 0.3048,
            diameter: number(row, "in") * 0.0254,
            roughness: SMOOTH_WALL,
        };
        let loss = friction_loss(number(row, "gpm") * GALLON / 60.0, &pipe).unwrap() / PSI;
        assert!((loss / number(row, "psi") - 1.0).abs() < 1e-9, "{row}: {loss}");
    }
}

fn number(row: &serde_json::Value, key: &str) -> f64 {
    row[key].as_f64().unwrap()
}
