//! Values within limits, and how results came about.

mod support;

use std::f64::consts::SQRT_2;

use support::Played;
use tankhand::engine::RunInput;
use tankhand::lang::{Explanation, IntervalReason, Share, Unknown, Value, Values};
use tankhand::procedure::check_expression;
use tankhand::quantity::{Measure, PSI, SourceId, Units};

struct Nothing;

impl Values for Nothing {
    fn value(&self, name: &str) -> Result<Value, Unknown> {
        Err(Unknown::because(format!("{name} is not known")))
    }
}

fn value(expression: &str) -> Value {
    check_expression(expression).expect(expression).value(&Nothing).expect(expression)
}

/// The standard uncertainty of an expression, in SI units.
fn u(expression: &str) -> f64 {
    value(expression).amount().unwrap().standard_uncertainty()
}

fn explained(expression: &str) -> Explanation {
    check_expression(expression).expect(expression).explained(&Nothing)
}

fn close(found: f64, expected: f64, within: f64) {
    assert!((found - expected).abs() <= within, "{found} is not {expected}");
}

/// JCGM 100:2008, 4.3.7 examples 1 and 2 and 4.4.5 (numbers from memory): the expansion of copper
/// between 16.40 and 16.92 (10⁻⁶ per °C), a voltmeter within 15 µV, a temperature of 96 to 104 °C.
#[test]
fn limits_are_rectangular_as_in_the_guide_to_uncertainty() {
    close(u("16.66 +- 0.26"), 0.15, 0.0005);
    close(u("928571 +- 15"), 8.7, 0.05);
    close(u("100 degC +- 4 degC"), 2.3, 0.05);
}

#[test]
fn limits_may_be_a_percentage_and_their_sign_may_be_typed_either_way() {
    close(u("5 gal +- 3 %"), u("5 gal +- 0.15 gal"), 1e-15);
    close(u("-(5 gal +- 3 %)"), u("5 gal +- 0.15 gal"), 1e-15);
    assert_eq!(value("38 psi ± 1 psi").shown_with_limits(Units::Us), "38.0 ± 1.2 psi");
    assert_eq!(value("38psi+-1psi").shown_with_limits(Units::Us), "38.0 ± 1.2 psi");
    assert_eq!(value("-(2 psi +- 1 psi) - 3 psi").shown_with_limits(Units::Us), "-5.0 ± 1.2 psi");
}

#[test]
fn each_place_is_a_source_of_its_own_and_always_the_same_one() {
    assert_eq!(value("38 psi +- 1 psi"), value("38 psi +- 1 psi"), "worked out twice");
    close(u("(38 psi +- 1 psi) - (38 psi +- 1 psi)"), SQRT_2 * u("38 psi +- 1 psi"), 1e-9);
    close(u("38 psi +- 3 psi +- 4 psi"), u("38 psi +- 5 psi"), 1e-9);
    let steps = r#"
step = [
  { id = "a", compute = "38 psi +- 1 psi" },
  { id = "b", compute = "38 psi +- 1 psi" },
  { id = "apart", compute = "a - b" },
  { id = "same", compute = "a - a" },
]
"#;
    let run = Played::of(steps, "");
    let shown = |name: &str| run.run.value(name).unwrap().shown_with_limits(Units::Us);
    assert_eq!([shown("apart"), shown("same")], ["0.0 ± 1.6 psi", "0 psi"]);
}

#[test]
fn what_cannot_have_limits_is_told() {
    let table = [
        ("38 psi +- 1 gal", "wrong-kind", "1 gal"),
        ("68 degF +- 2 %", "wrong-kind", "2 %"),
        ("38 psi +- -1 psi", "negative-limit", "-1 psi"),
        ("'clear' +- 1", "wrong-kind", "'clear'"),
        ("(1 < 2) +- 1", "wrong-kind", "(1 < 2)"),
        ("38 psi +-", "ends-early", ""),
    ];
    for (expression, code, marked) in table {
        let faults = check_expression(expression).unwrap_err();
        let found: Vec<(&str, &str)> =
            faults.iter().map(|fault| (fault.code, fault.source.slice(fault.span))).collect();
        assert_eq!(found, [(code, marked)], "{expression}");
    }
}

/// One line for each number put in, function called and share of the doubt.
fn outline(told: &Explanation, shares: &[Share]) -> Vec<String> {
    let shown = |value: &Result<Value, Unknown>| match value {
        Ok(value) => value.shown_with_limits(Units::Us),
        Err(unknown) => unknown.reason(Units::Us).to_string(),
    };
    let names = told.names.iter().map(|name| format!("name {} {}", name.name, shown(&name.value)));
    let calls = told.calls.iter().map(|call| {
        let given =
            call.arguments.iter().map(|argument| format!("{} {}", argument.name, shown(&argument.value)));
        format!("{}({}) {}", call.function.name, given.collect::<Vec<_>>().join(", "), shown(&call.result))
    });
    let shares = shares.iter().map(|share| format!("{:.1} % {}", share.percent, share.source));
    names.chain(calls).chain(shares).collect()
}

#[test]
fn an_explanation_follows_what_was_worked_out() {
    let told = explained(
        "if 1 < 2 then max(head(10 ft +- 1 ft), 1 psi +- 0.001 psi) + (1 psi +- 0.02 psi) \
         else head(99 ft)",
    );
    let shares = told.shares(&|_| None);
    assert_eq!(
        outline(&told, &shares),
        [
            "head(height 10.0 ± 1.2 ft) 4.3 ± 0.5 psi",
            "max(a 4.3 ± 0.5 psi, b 1.0000 ± 0.0012 psi) 4.3 ± 0.5 psi",
            "99.8 % 10 ft +- 1 ft",
            "0.2 % 1 psi +- 0.02 psi",
        ],
        "the branch not taken is not told, nor the limits that do not count"
    );
    let told = explained("(9 gal +- 2 gal) + (1 gal +- 0.1 gal) + (1 gal +- 0.05 gal)");
    assert_eq!(
        outline(&told, &told.shares(&|_| None)),
        ["99.7 % 9 gal +- 2 gal", "0.3 % others, each under 1 %"]
    );
    let told = explained("flushes_to_go(series(8 mL/L, 4 mL/L, 2.1 mL/L), 0.25 mL/L)");
    assert_eq!(
        told.shares(&|_| None),
        [Share { source: "flushes_to_go itself".to_string(), percent: 100.0 }]
    );
    let named = |_: SourceId| Some("the fit".to_string());
    assert_eq!(told.shares(&named), [Share { source: "the fit".to_string(), percent: 100.0 }]);
}

const ROUNDABOUT: &str = r#"
step = [
  { id = "air", label = "air as found", read = "pressure", ask = "Air", gauge = "air" },
  { id = "wanted", compute = "air + (2 psi +- 0.5 psi)" },
  { id = "goal", compute = "if known(wanted) then wanted else air" },
  { id = "missing", compute = "goal - air", say = "{missing} is missing." },
  { id = "at_all", check = "goal > 5 psi", pass = "{goal} is something." },
  { id = "next", do = "Bring the air to {goal}." },
  { id = "after", do = "Go on." },
  { id = "last", do = "Go on to {goal}." },
]
"#;

#[test]
fn a_run_tells_what_was_told_last_and_what_the_question_shows() {
    let mut run = Played::of(ROUNDABOUT, "");
    let shown = |run: &Played| -> Vec<String> {
        let derivation = run.derivation();
        derivation.iter().map(|one| format!("{} {:?} {}", one.step, one.same_as, one.how.written)).collect()
    };
    assert_eq!(shown(&run), [""; 0]);
    run.answer("28");
    assert_eq!(
        shown(&run),
        ["missing None goal - air", "goal Some(\"wanted\") air + 2 psi +- 0.5 psi"],
        "what was worked out without a word follows, each once"
    );
    let sources: Vec<String> =
        run.shares(run.derivation()[1].how).into_iter().map(|share| share.source).collect();
    assert_eq!(
        sources,
        ["accuracy of the tire gauge", "2 psi +- 0.5 psi", "division of the tire gauge, air as found"]
    );
    let sources: Vec<String> =
        run.shares(run.derivation()[0].how).into_iter().map(|share| share.source).collect();
    assert_eq!(sources, ["2 psi +- 0.5 psi"], "the limits of another step keep their name");
    run.then(RunInput::Note("a remark changes nothing"));
    assert_eq!(shown(&run).len(), 2);
    run.answer("");
    assert_eq!(shown(&run).len(), 2, "what was told last stays until something is told anew");
    run.answer("");
    assert_eq!(shown(&run), ["goal Some(\"wanted\") air + 2 psi +- 0.5 psi"]);
    run.then(RunInput::Back);
    run.then(RunInput::Back);
    assert_eq!(shown(&run).len(), 2, "an answer taken back leaves things as they were before it");
}

/// What was worked out at a kink has its interval by draws of what it was worked out from.
#[test]
fn a_run_tells_the_interval_of_what_it_worked_out() {
    let steps = r#"
step = [
  { id = "air", read = "pressure", ask = "Air", gauge = "air" },
  { id = "most", compute = "max(air, 28 psi)", say = "{most}" },
  { id = "twice", compute = "air - 20 psi", say = "{twice}" },
  { do = "Go on." },
]
"#;
    let mut played = Played::of(steps, "");
    played.answer("28");
    let run = &played.run;
    let intervals: Vec<_> = run.derivation().iter().map(|one| run.coverage_interval(one)).collect();
    let [Some(most), Some(twice)] = intervals[..] else { panic!("{intervals:?}") };
    assert_eq!((most.measure, most.why), (Measure::Pressure, IntervalReason::Asymmetric));
    assert_eq!((twice.measure, twice.why), (Measure::Pressure, IntervalReason::OneLimit));
    let psi = most.interval.map(|end| end / PSI);
    assert!((psi[0] - 28.0).abs() < 1e-9 && (28.9..29.1).contains(&psi[1]), "{psi:?}");
}
