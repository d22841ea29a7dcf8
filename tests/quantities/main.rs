//! Measures, units and how values are shown, from outside: tables of what must come out, the ends of
//! every range among them.

#[path = "../support/golden.rs"]
mod golden;
mod spellings;

use tankhand::quantity::Measure::{self, *};
use tankhand::quantity::{
    Family, Operator, SourceId, Truth, Uncertain, Units, Verdict, read_with_limit, result_of, show,
    show_briefly, show_roundly, show_with_limits,
};

const ALL: [Operator; 4] = [Operator::Add, Operator::Subtract, Operator::Multiply, Operator::Divide];

/// Every pair of measures that goes together, and what comes of it; all others do not.
const TOGETHER: &[(Measure, char, Measure, Measure)] = &[
    (Flow, '*', Duration, Volume),
    (Concentration, '*', Volume, Volume),
    (MassConcentration, '*', Volume, Mass),
    (Volume, '/', Duration, Flow),
    (Volume, '/', Flow, Duration),
    (Mass, '/', Volume, MassConcentration),
];

/// The rules for what is left, by what a measure is: a point on a scale, a plain number, or an amount.
fn by_rule(left: Measure, sign: char, right: Measure) -> Option<Measure> {
    let plain = |measure| measure == Number || measure == Count;
    let point = |measure: Measure| measure.change().is_some();
    let listed = |a, b| TOGETHER.iter().find(|row| (row.0, row.1, row.2) == (a, sign, b)).map(|row| row.3);
    match sign {
        '+' if point(left) && left.change() == Some(right) => Some(left),
        '+' if point(right) && right.change() == Some(left) => Some(right),
        '-' if point(left) && left == right => left.change(),
        '-' if point(left) && left.change() == Some(right) => Some(left),
        _ if point(left) || point(right) => None,
        '+' | '-' if left == right => Some(left),
        '+' | '-' => (plain(left) && plain(right)).then_some(Number),
        '*' if left == Count && right == Count => Some(Count),
        '*' if plain(left) && plain(right) => Some(Number),
        '*' if plain(left) => Some(right),
        '*' if plain(right) => Some(left),
        '*' => listed(left, right).or_else(|| listed(right, left)),
        _ if plain(left) && plain(right) || left == right => Some(Number),
        _ if plain(right) => Some(left),
        _ => listed(left, right),
    }
}

#[test]
fn measures_go_together_as_the_rules_say() {
    for left in Measure::all() {
        for right in Measure::all() {
            for operator in ALL {
                let sign = operator.sign().chars().next().unwrap();
                assert_eq!(
                    result_of(left, operator, right),
                    by_rule(left, sign, right),
                    "{} {sign} {}",
                    left.name(),
                    right.name()
                );
            }
        }
    }
}

#[test]
fn small_and_large_values_have_the_unit_that_fits() {
    let (us, metric) = (Units::Us, Units::Metric);
    let table = [
        (Volume, 1e-3, metric, "1 L"),
        (Volume, 0.999e-3, metric, "999 mL"),
        (Volume, 0.0, metric, "0 L"),
        (Volume, -0.5e-3, metric, "-500 mL"),
        (Volume, 0.9e-3, us, "0.23775 gal"),
        (Volume, 0.473_176_5e-3, us, "1 pt"),
        (Volume, 0.0, us, "0 gal"),
        (Duration, 119.0, us, "119 s"),
        (Duration, 120.0, us, "2 min"),
        (Duration, 299.0, us, "299 s"),
        (Duration, 300.4, us, "5.0067 min"),
        (Duration, 7_199.0, us, "119.98 min"),
        (Duration, 7_200.0, us, "2 h"),
        (Duration, 172_799.0, us, "48 h"),
        (Duration, 172_800.0, us, "2 day"),
        (Duration, -120.0, us, "-2 min"),
        (Instant, 12.4, us, "12 s"),
        (Count, 12.0, metric, "12"),
    ];
    for (measure, si, units, expected) in table {
        assert_eq!(show(measure, &Uncertain::exact(si), units), expected);
    }
    assert_eq!(show_briefly(Instant, &Uncertain::exact(12_345.4), us), "12345 s");
    assert_eq!(show_briefly(Duration, &Uncertain::exact(7_199.0), us), "120 min");
}

/// A literal of a text: as it was written in its own unit, a round number in the other.
#[test]
fn literals_are_round_in_the_other_unit() {
    const PSI: f64 = 6_894.757_293_168_361;
    let table = [
        (1.25, "1.25 psi", "0.09 bar"),
        (6.0, "6 psi", "0.4 bar"),
        (7.5, "7.5 psi", "0.52 bar"),
        (51.0, "51 psi", "3.5 bar"),
        (99.0, "99 psi", "6.8 bar"),
    ];
    for (psi, us, metric) in table {
        let roundly = |units| show_roundly(Pressure, &Uncertain::exact(psi * PSI), units);
        assert_eq!([roundly(Units::Us), roundly(Units::Metric)], [us, metric]);
    }
    assert_eq!(show_briefly(Pressure, &Uncertain::exact(0.125 * PSI), Units::Us), "0.125 psi");
    // An exact number has nine decimals at most.
    assert_eq!(show(Number, &Uncertain::exact(1.234_56e-6), Units::Us), "0.000001235");
}

/// A percentage that is off by percents could be off by points or by a share of itself: it is said how to write each.
#[test]
fn a_percentage_off_by_percents_is_refused() {
    let refused = read_with_limit("8 % ± 50 %", Family::Number).unwrap_err();
    assert_eq!(
        refused.to_string(),
        "The limit of a percentage can mean two things here: write +- 0.04 for the share, or +- 0.5 for the points."
    );
}

#[test]
fn limits_stand_beside_what_is_doubted() {
    let doubted = |si: f64, u: f64| Uncertain::exact(si).with_component(SourceId::Spread(1), u);
    let shown = |measure, si, u| show_with_limits(measure, &doubted(si, u), Units::Metric);
    assert_eq!(shown(Duration, 90.0, 2.0), "90 ± 4 s");
    assert_eq!(shown(Duration, 900.0, 6.0), "15.00 ± 0.20 min");
    assert_eq!(shown(Instant, 900.0, 6.0), "900 s");
    assert_eq!(shown(Temperature, 293.15, 0.5), "20.0 ± 1.0 °C");
    assert_eq!(shown(TemperatureChange, 5.0, 0.5), "5.0 ± 1.0 °C");
    assert_eq!(shown(Number, 0.25, 0.01), "0.250 ± 0.020");
    // What rounding leaves of two equal doubts is none.
    assert_eq!(shown(Number, 4.0, 1e-10), "4");
}

#[test]
fn a_verdict_needs_the_confidence_and_no_more() {
    let truth = |p: f64| Truth { best: p >= 0.5, least: p, most: p };
    let table = [
        (0.95, 0.95, Verdict::Pass),
        (0.95f64.next_down(), 0.95, Verdict::Unsure),
        (0.25, 0.75, Verdict::Fail),
        (0.25f64.next_up(), 0.75, Verdict::Unsure),
        (0.5, 0.5, Verdict::Pass),
    ];
    for (p, confidence, expected) in table {
        assert_eq!(truth(p).verdict(confidence), expected, "{p} at {confidence}");
    }
    let wide = Truth { best: true, least: 0.2, most: 0.96 };
    assert_eq!(wide.verdict(0.95), Verdict::Unsure);
}

#[test]
fn what_is_left_of_a_doubt_is_kept_by_source() {
    let x = Uncertain::exact(1.0)
        .with_component(SourceId::Spread(1), 0.3)
        .with_component(SourceId::Spread(2), 0.4);
    let half = x.clone().rescaled(&|source| if source == SourceId::Spread(1) { 0.5 } else { 0.0 });
    assert_eq!(half.components(), [(SourceId::Spread(1), 0.15)]);
    assert_eq!(x.rescaled(&|_| 0.0), Uncertain::exact(1.0));
}
