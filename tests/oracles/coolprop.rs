//! Real air (CoolProp, its reference equation for air) against the ideal formulas.

use serde_json::Value;
use tankhand::physics::{drawdown, precharge_at};

use super::{PSI, data};

/// How far the drawdown of an ideal gas may be from that of real air, as a share of it, with the
/// cut-out at 60 psi at most; a tenth more above that, in the cold.
const DRAWDOWN: f64 = 0.002;
/// How far the charge may be at 0 °C to 40 °C, in psi; twice that in greater cold.
const PRECHARGE: f64 = 0.05;

fn rows(table: &str) -> Vec<Value> {
    let rows = data("coolprop.json")[table].as_array().unwrap().clone();
    assert!(rows.len() >= 16, "{table}");
    rows
}

fn number(row: &Value, key: &str) -> f64 {
    row[key].as_f64().unwrap()
}

/// Air at household pressures departs from an ideal gas by less than half a per cent; where it
/// does most is cold and squeezed.
#[test]
fn air_is_nearly_ideal() {
    let departs = |row: &Value| (number(row, "z") - 1.0).abs();
    let most = rows("compressibility").into_iter().max_by(|a, b| departs(a).total_cmp(&departs(b))).unwrap();
    assert!(departs(&most) < 0.005, "{most}");
    assert_eq!((number(&most, "bar"), number(&most, "degC")), (8.0, 0.0));
}

#[test]
fn the_ideal_drawdown_is_within_a_fifth_of_a_per_cent() {
    for row in rows("drawdown") {
        let [precharge, on, off] = ["charge", "cut_in", "cut_out"].map(|key| number(&row, key) * PSI);
        let ideal = drawdown(1.0, precharge, on, off, 0.0).unwrap();
        let real = number(&row, "share");
        let tolerance = if number(&row, "cut_out") > 60.0 { 1.1 * DRAWDOWN } else { DRAWDOWN };
        assert!((ideal / real - 1.0).abs() < tolerance, "{row}: {ideal}");
        assert!(ideal < real, "an ideal gas gives a little less: {row}");
    }
}

#[test]
fn the_ideal_charge_is_within_a_twentieth_of_a_psi() {
    for row in rows("charge") {
        let [before, after] = ["at_degC", "degC"].map(|key| number(&row, key) + 273.15);
        let ideal = precharge_at(number(&row, "set") * PSI, before, after, 0.0).unwrap() / PSI;
        let tolerance = if number(&row, "degC") < 0.0 { 2.0 * PRECHARGE } else { PRECHARGE };
        assert!((ideal - number(&row, "charge")).abs() < tolerance, "{row}: {ideal}");
    }
}
