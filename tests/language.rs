//! The expression language by itself: a text goes in, a value, a verdict or an interval comes out.
//!
//! Probabilities and intervals are held against distributions that are known in closed form.

use std::collections::HashMap;
use std::sync::Arc;

use tankhand::lang::{
    Ancestry, Asymmetry, CheckedExpr, Collapse, CoverageInterval, Function, GivenCondition, IntervalReason,
    Scope, Type, Unknown, Value, Values, check, parse,
};
use tankhand::quantity::{Measure, SourceId, Truth, Uncertain, Units};

fn number(amount: Uncertain) -> Value {
    Value::Amount(Measure::Number, amount)
}

/// Readings by name, and what others were worked out by.
#[derive(Default)]
struct Known {
    values: HashMap<&'static str, Value>,
    formulas: HashMap<&'static str, CheckedExpr>,
}

impl Known {
    /// `x` and `z` lie at 0, `y` at 3, each normally with standard uncertainty 1; `r` lies evenly within
    /// 1 of 0; `takes` and `others` are readings that scatter, `alike` ones that do not and are doubted by
    /// 1 each; `sure` is 5, `huge` nearly all a number can be, `a` 2, `mark` a reading rounded by 1, `jar` a word, `lever` a yes; `gone` was not answered.
    fn new() -> Known {
        let doubted =
            |value: f64, source: SourceId, u: f64| Uncertain::exact(value).with_component(source, u);
        let exact = |all: [f64; 3]| Value::Series(all.map(|x| number(Uncertain::exact(x))).into());
        let alike = [11, 12, 13].map(|source| number(doubted(10.0, SourceId::Reading(source), 1.0)));
        let values = [
            ("x", number(doubted(0.0, SourceId::Spread(1), 1.0))),
            ("y", number(doubted(3.0, SourceId::Spread(2), 1.0))),
            ("z", number(doubted(0.0, SourceId::Spread(3), 1.0))),
            ("r", number(doubted(0.0, SourceId::Gauge(4), 1.0 / 3f64.sqrt()))),
            ("sure", number(Uncertain::exact(5.0))),
            ("huge", number(Uncertain::exact(1e308))),
            ("a", number(Uncertain::exact(2.0))),
            ("mark", number(doubted(10.0, SourceId::Reading(21), 1.0))),
            ("takes", exact([9.0, 10.0, 11.0])),
            ("others", exact([1.0, 2.0, 6.0])),
            ("alike", Value::Series(alike.into())),
            ("jar", Value::text("dirty")),
            ("lever", Value::Truth(Truth::certain(true))),
        ];
        Known { values: values.into(), formulas: HashMap::new() }
    }

    fn work_out(mut self, name: &'static str, text: &str) -> Known {
        let formula = self.checked(text);
        self.values.insert(name, formula.value(&self).unwrap());
        self.formulas.insert(name, formula);
        self
    }

    fn checked(&self, text: &str) -> CheckedExpr {
        let expr = parse(text).unwrap_or_else(|problem| panic!("{text}: {}", problem.message));
        check(&Arc::new(expr), self, None, None).unwrap_or_else(|_| panic!("{text} is faulty"))
    }

    fn shown(&self, text: &str) -> String {
        match self.checked(text).value(self) {
            Ok(value) => value.shown_with_limits(Units::Us),
            Err(unknown) => unknown.reason(Units::Us).to_string(),
        }
    }

    fn coverage(&self, text: &str) -> Option<CoverageInterval> {
        self.checked(text).coverage_interval(self)
    }
}

impl Values for Known {
    fn value(&self, name: &str) -> Result<Value, Unknown> {
        self.values.get(name).cloned().ok_or_else(|| Unknown::because(format!("{name} was not answered")))
    }

    fn judge(&self, condition: GivenCondition<'_>) -> Option<Result<Truth, Unknown>> {
        Some(condition.judged(self).map(|judged| judged.truth))
    }
}

impl Ancestry for Known {
    fn formula(&self, name: &str) -> Option<&CheckedExpr> {
        self.formulas.get(name)
    }
}

impl Scope for Known {
    fn find(&self, name: &str) -> Option<(Arc<str>, Type)> {
        use tankhand::quantity::Kind;
        let of = match self.values.get(name) {
            None if name == "gone" => Type::measure(Measure::Number),
            Some(Value::Amount(measure, _)) => Type::measure(*measure),
            Some(Value::Text(_)) => Type::One(Kind::one_of(&["clear", "dirty"])),
            Some(Value::Truth(_)) => Type::One(Kind::YesNo),
            Some(Value::Series(_)) if name == "latest" => {
                Type::Series(Kind::Measure(Measure::Number), Collapse::Last)
            }
            Some(Value::Series(_)) => Type::Series(Kind::Measure(Measure::Number), Collapse::Mean),
            _ => return None,
        };
        Some((Arc::from(name), of))
    }

    fn names(&self) -> Vec<String> {
        Vec::new()
    }

    fn function(&self, name: &str) -> Option<&'static Function> {
        tankhand::procedure::function(name)
    }

    fn function_names(&self) -> Vec<&'static str> {
        Vec::new()
    }
}

/// A normal reading lies within half a standard uncertainty of 0 with probability 38 %; to first order, which knows
/// one side only, 69 %.
#[test]
fn a_verdict_in_an_expression_is_judged_as_a_check_is() {
    let known = Known::new();
    let judged = known.checked("abs(x) <= 0.5").judged(&known).unwrap().truth;
    assert!((judged.least - 0.383).abs() < 0.02, "{judged:?}");
    for (text, word) in [
        ("verdict(abs(x) <= 0.5, 0.6)", "fail"),
        ("verdict(abs(x) <= 0.5)", "unsure"),
        ("verdict(abs(x) <= 2, 0.9)", "pass"),
        ("verdict(gone <= 2)", "gone was not answered"),
    ] {
        assert_eq!(known.shown(text), word, "{text}");
    }
    // Which of two it is was decided by the readings as they are, and stays so in every draw.
    let chosen = known.checked("(if verdict(x <= 0.5, 0.6) == 'pass' then x else x + 100) <= 3");
    assert!(chosen.judged(&known).unwrap().truth.least > 0.99);
}

#[test]
fn expressions_have_their_values() {
    let known = Known::new();
    let table = [
        ("2 + 3 * 4", "14"),
        ("(2 + 3) * 4", "20"),
        ("7 - 2 - 3", "2"),
        ("8 / 4 / 2", "1"),
        ("-2 - -3", "1"),
        (".5 + 1.25", "1.75"),
        ("1 / 0", "It would divide by zero."),
        ("huge * huge", "The result of * is too large to be a number."),
        ("huge + huge", "The result of + is too large to be a number."),
        ("huge - huge", "0"),
        ("0 / 4", "0"),
        ("2 in + 1 in", "0.25 ft"),
        ("5 gal / 2 min", "2.5 gal/min"),
        ("5 gal/min * 2 min", "10 gal"),
        ("sure + 1", "6"),
        ("gone + 1", "gone was not answered"),
        ("gone otherwise 2", "2"),
        ("sure otherwise 2", "5"),
        ("known(gone)", "no"),
        ("known(sure)", "yes"),
        ("not known(gone)", "yes"),
        ("jar == 'dirty'", "yes"),
        ("jar == 'clear'", "no"),
        ("jar != 'dirty'", "no"),
        ("jar != 'clear'", "yes"),
        ("lever", "yes"),
        ("lever == yes", "yes"),
        ("lever == no", "no"),
        ("lever != no", "yes"),
        ("not lever", "no"),
        ("if lever then 1 else 2", "1"),
        ("if not lever then 1 else 2", "2"),
        // `or` binds least of all, and may stand wherever a whole expression may.
        ("if 1 > 2 or 1 < 2 then 1 else 2", "1"),
        ("if lever then 1 > 2 or lever else 1 > 2", "yes"),
        ("if lever then 1 > 2 else 1 > 2 or lever", "no"),
        ("if not lever then 1 > 2 else 1 > 2 or lever", "yes"),
        ("not (1 > 2 or lever)", "no"),
        ("not lever and 1 > 2", "no"),
        ("1 > 2 and 1 > 2 or lever", "yes"),
        ("lever or lever and 1 > 2", "yes"),
        ("lever and not 1 > 2", "yes"),
        ("verdict(1 > 2 or lever)", "pass"),
        ("1 < 1", "no"),
        ("1 <= 1", "yes"),
        ("1 > 1", "no"),
        ("1 >= 1", "yes"),
        ("1 == 1", "yes"),
        ("1 != 1", "no"),
        ("1 < 2", "yes"),
        ("2 > 1", "yes"),
        ("2 == 1", "no"),
        ("2 != 1", "yes"),
        // What rounding in the conversion of units leaves must not decide.
        ("36.5 psi - 36 psi <= 0.5 psi", "yes"),
        ("36.5 psi - 36 psi >= 0.5 psi", "yes"),
        ("36.5 psi - 36 psi == 0.5 psi", "yes"),
        ("36.5 psi - 36 psi < 0.5 psi", "no"),
        ("36.5 psi - 36 psi > 0.5 psi", "no"),
        ("36.5 psi - 36 psi != 0.5 psi", "no"),
        ("0.0000000002 == 0.0000000001", "no"),
        // What is settled already does not need the rest to be known.
        ("1 > 2 and gone > 1", "no"),
        ("1 < 2 or gone > 1", "yes"),
        ("1 < 2 and gone > 1", "gone was not answered"),
        ("1 > 2 or gone > 1", "gone was not answered"),
        // The table of the normal distribution (Abramowitz and Stegun, Table 26.1; from memory).
        ("x < 1", "yes, probability of yes 84 %"),
        ("x > 1", "no, probability of yes 16 %"),
        ("not x < 1", "no, probability of yes 16 %"),
        ("y >= 1", "yes, probability of yes 98 %"),
        ("x <= 0", "yes, probability of yes 50 %"),
        ("x < 0", "no, probability of yes 50 %"),
        ("x", "0.0 ± 2.0"),
        ("x - x", "0"),
        ("-y", "-3.0 ± 2.0"),
        ("-y + y", "0"),
        ("x + z", "0 ± 3"),
        ("x + x", "0 ± 4"),
        ("y * y", "9 ± 12"),
        ("1 / y", "0.33 ± 0.22"),
        ("6 +- 50 %", "6 ± 4"),
        // A limit binds tighter than a factor: 2 × (3 ± 1), not 6 ± 1.
        ("2 * 3 +- 1", "6.0 ± 2.3"),
        ("verdict(y > 1)", "pass"),
        ("verdict(y > 2)", "unsure"),
        ("verdict(y < 1)", "fail"),
        ("verdict(y > 2, 80 %)", "pass"),
    ];
    for (text, expected) in table {
        assert_eq!(known.shown(text), expected, "{text}");
    }
}

#[test]
fn a_keyword_is_no_name_and_a_long_sum_is_not_deep() {
    let problem = |text: &str| {
        let problem = parse(text).unwrap_err();
        format!("{} at {}..{}", problem.message, problem.span.start, problem.span.end)
    };
    let table = [
        ("then", "`then` does not fit here at 0..4"),
        ("1 + else", "`else` does not fit here at 4..8"),
        ("in + 1", "`in` does not fit here at 0..2"),
        ("known", "the expression ends too early at 5..5"),
        ("known(and", "this bracket is not closed at 5..6"),
        // `2 in gal` asks for two of something in gallons; `2 in` is two inches.
        ("2 in gal", "`in` does not fit here at 2..4"),
        ("2 in 3", "this number does not fit here at 5..6"),
        ("5 ft m", "`m` does not fit here at 5..6"),
        ("6 ft.5 in", "this number does not fit here at 4..9"),
        ("38 psi 2 ft", "this number does not fit here at 7..11"),
        ("if a then b", "the expression ends too early at 11..11"),
        ("f(a, b", "this bracket is not closed at 1..2"),
        ("a $ b", "`$` has no meaning here at 2..3"),
    ];
    for (text, expected) in table {
        assert_eq!(problem(text), expected, "{text}");
    }
    let remedies = [
        ("=", "to compare, write `==`"),
        ("\"", "put words in single quotes: 'clear'"),
        ("×", "to multiply, write `*`"),
        ("≤", "write `<=`"),
        ("≥", "write `>=`"),
        ("&", "write `and`"),
        ("|", "write `or`"),
        ("!", "write `not`, or `!=` for not equal"),
        ("#", "take it out"),
    ];
    for (sign, remedy) in remedies {
        let problem = parse(&format!("a {sign} b")).unwrap_err();
        assert_eq!((problem.code, problem.remedy.as_str()), ("stray-sign", remedy), "{sign}");
    }
    assert_eq!(Known::new().shown(&format!("{:2000}", "1")), "1");
    assert_eq!(parse(&format!("{:2001}", "1")).unwrap_err().code, "too-long");
    let sum = vec!["1"; 100].join(" + ");
    assert_eq!(Known::new().shown(&sum), "100");
    assert_eq!(Known::new().shown(&format!("{}1{}", "(".repeat(63), ")".repeat(63))), "1");
    assert_eq!(parse(&format!("{}1{}", "(".repeat(64), ")".repeat(64))).unwrap_err().code, "too-deep");
}

#[test]
fn two_expressions_are_one_when_they_are_written_alike() {
    let all = [
        "1",
        "2",
        "1 psi",
        "1 gal",
        "yes",
        "no",
        "'a'",
        "'b'",
        "a",
        "b",
        "known(a)",
        "known(b)",
        "-a",
        "-b",
        "not a",
        "not b",
        "a + b",
        "a - b",
        "b + b",
        "a + a",
        "a and b",
        "a or b",
        "a < b",
        "a <= b",
        "a +- b",
        "a otherwise b",
        "if a then b else c",
        "if b then b else c",
        "if a then c else c",
        "if a then b else a",
        "f(a)",
        "f(b)",
        "g(a)",
        "f(a, b)",
        "f()",
    ];
    for (i, a) in all.iter().enumerate() {
        for (j, b) in all.iter().enumerate() {
            assert_eq!(parse(a) == parse(&format!(" ( {b} ) ")), i == j, "{a} and {b}");
        }
    }
}

#[test]
fn a_comparison_tells_by_how_much_it_holds_and_a_call_what_it_was_fed() {
    let known = Known::new();
    let margin = |text: &str| {
        known.checked(text).margin(&known).map(|(measure, amount)| (measure, amount.value().round()))
    };
    let table = [
        ("2 < 5", Some((Measure::Number, 3.0))),
        ("2 <= 5", Some((Measure::Number, 3.0))),
        ("2 > 5", Some((Measure::Number, -3.0))),
        ("2 >= 5", Some((Measure::Number, -3.0))),
        ("2 == 5", None),
        ("2 != 5", None),
        ("gone < 5", None),
        ("2 < 5 and 1 < 2", None),
        ("40 degC < 50 degC", Some((Measure::TemperatureChange, 10.0))),
    ];
    for (text, expected) in table {
        assert_eq!(margin(text), expected, "{text}");
    }
    let fed = |text: &str| {
        let values = known.checked(text).arguments("max", &known)?;
        Some(values.iter().map(|value| value.shown(Units::Us)).collect::<Vec<_>>().join(" "))
    };
    let wraps = [
        "max(1, 2)",
        "-max(1, 2)",
        "3 + max(1, 2)",
        "max(1, 2) * 3",
        "min(max(1, 2), 3)",
        "max(1, 2) < 3",
        "not 3 < max(1, 2)",
        "1 < 2 and max(1, 2) < 3",
        "max(1, 2) < 3 or 1 < 2",
        "max(1, 2) otherwise 3",
        "if max(1, 2) < 3 then 1 else 2",
        "if lever then max(1, 2) else 2",
        "if lever then 2 else max(1, 2)",
        "max(1, 2) +- 1",
        "3 +- max(1, 2)",
    ];
    for text in wraps {
        assert_eq!(fed(text).as_deref(), Some("1 2"), "{text}");
    }
    for text in ["1 + 2", "max(gone, 2)", "min(1, 2)", "known(sure)", "jar == 'dirty'"] {
        assert_eq!(fed(text), None, "{text}");
    }
}

/// Each probability is what it should be, told as lopsided or not.
#[track_caller]
fn judged(known: &Known, table: &[(&str, f64)], asymmetry: bool) {
    for &(text, expected) in table {
        let checked = known.checked(text);
        let (plain, judged) = (checked.truth(known).unwrap(), checked.judged(known).unwrap());
        // Four standard deviations of a share of 10,000 draws.
        let within = if asymmetry { 0.02 } else { 1e-4 };
        assert!((judged.truth.least - expected).abs() < within, "{text}: {:?}", judged.truth);
        let told = Asymmetry {
            first_order: (plain.least, plain.most),
            monte_carlo: (judged.truth.least, judged.truth.most),
        };
        assert_eq!(judged.asymmetry, asymmetry.then_some(told), "{text}");
        assert_eq!(judged.truth.best, plain.best, "{text}");
    }
}

/// Probabilities with one kink or bend, in closed form: Φ(1) = 0.8413, Φ(1) − Φ(−1) = 0.6827 and
/// Φ(2) = 0.9772 (Abramowitz and Stegun, Table 26.1; from memory).
#[test]
fn a_check_at_a_kink_is_judged_by_what_is_true() {
    let table = [
        ("abs(x) < 1", 0.6827),
        ("abs(x) >= 1", 0.3173),
        ("1 > abs(x)", 0.6827),
        ("not abs(x) <= 1", 0.3173),
        ("max(x, z) < 1", 0.7079),
        ("abs(r) < 0.5", 0.5),
        ("abs(0 +- 1) < 0.5", 0.5),
        ("abs((4 +- 50 %) - 4) < 0.5", 0.25),
        ("abs((4 +- 2) - 4) < 0.5", 0.25),
        // ½(G(2) + G(−2) − 2G(0)) with G(z) = zΦ(z) + φ(z), the integral of Φ.
        ("abs(x +- 1) < 1", 0.6096),
        ("abs(x +- 0) < 1", 0.6827),
        ("(abs(x) otherwise 2) < 1", 0.6827),
        ("(gone otherwise abs(x)) < 1", 0.6827),
        // None of the draws lies on the side of 0 that is asked for.
        ("min(x, 0) > 0", 0.0),
        ("max(x, 0) < 0", 0.0),
        // Which branch it is, draws decide; 0.8413² = 0.7079, and with the other tail 0.7330.
        ("(if x < 1 then 1 else 3) < 2", 0.8413),
        ("(if not x < 1 then 3 else 1) < 2", 0.8413),
        ("(if sure > 2 and x < 1 then 1 else 3) < 2", 0.8413),
        ("(if sure < 2 or x < 1 then 1 else 3) < 2", 0.8413),
        ("(if x < 1 and z < 1 then 1 else 3) < 2", 0.7079),
        ("(if (x < 1) == (z < 1) then 1 else 3) < 2", 0.7330),
        ("(if (if x < 1 then 'low' else 'high') == 'low' then 1 else 3) < 2", 0.8413),
        ("(if series('low', 'high') == 'high' and x < 1 then 1 else 3) < 2", 0.8413),
        ("(if verdict(x < 0.5) == 'unsure' then abs(x) else 9) < 1", 0.6827),
    ];
    judged(&Known::new(), &table, true);
    judged(&Known::new(), &[("min(x, 0) >= 0", 0.5), ("max(x, 0) <= 0", 0.5)], false);
}

/// Which way an `if` goes is decided anew in each draw, whatever its condition is made of.
#[test]
fn draws_go_either_way_of_an_if() {
    let known = Known::new().work_out("share", "1 / max(y - 2, 0)");
    let table = [
        ("(if x > 1 or x < -1 then 3 else 1) < 2", 0.6827),
        ("(if x > -1 and x < 1 then 1 else 3) < 2", 0.6827),
        ("(if not (x > 1 or x < -1) then 3 else 1) < 2", 0.3173),
        ("(if lever == (x > 1) then 3 else 1) < 2", 0.8413),
        ("(if known(share) then 1 + min(share, 0) else 3) < 2", 0.8413),
        ("(if (if x > 1 then 'dirty' else 'clear') == jar then 3 else 1) < 2", 0.8413),
        (
            "(if (if x > 1 then jar else 'clear') == (if z > 1 then jar else 'clear') then 1 else 3) < 2",
            0.733,
        ),
    ];
    judged(&known, &table, true);
    // Where `y` is below 2 nothing is known of the condition; from there to 2.5 it holds.
    let judged = known.checked("(if share > 2 then 3 else 1) < 2").judged(&known).unwrap().truth;
    assert!((judged.least - 0.6915).abs() < 0.02 && (judged.most - 0.8502).abs() < 0.02, "{judged:?}");
}

/// Rounds of which the newest is worked out scatter as readings do: their mean, worked out in each draw, is doubted
/// by Student's t (see [`the_spread_of_readings_is_drawn_with_them`]), each mean by a spread of its own.
#[test]
fn a_spread_that_comes_about_in_a_draw_moves_what_it_should() {
    let mut known = Known::new().work_out("rounds", "9 + a").work_out("more", "5 + a");
    for (name, newest) in [("rounds", 11.0), ("more", 7.0)] {
        let rounds = [newest - 2.0, newest - 1.0].map(|x| number(Uncertain::exact(x)));
        let all = rounds.into_iter().chain([known.values[name].clone()]);
        known.values.insert(name, Value::Series(all.collect()));
    }
    let table = [
        ("abs(rounds - 10) < 0.5", 0.5222),
        ("max(rounds, 10.5) < 10.6", 0.7961),
        ("max(abs(rounds - 10), abs(more - 6)) < 0.5", 0.5222 * 0.5222),
        // Beside a limit: the mean over u, even from -1 to 1, of the probability within 0.5 of -u, by quadrature.
        ("abs(rounds - 10 +- 1) < 0.5", 0.3752),
        ("abs((0 +- 0) + rounds - 10) < 0.5", 0.5222),
    ];
    judged(&known, &table, true);
    judged(&known, &[("abs(rounds) < 10.57735", 0.7887)], false);
    // Beside a reading too it is the mean's own, as first order has it.
    let checked = known.checked("abs(rounds) + x < 12");
    assert_eq!(checked.judged(&known).unwrap().truth, checked.truth(&known).unwrap());
}

#[test]
fn a_check_on_a_bend_is_judged_by_what_is_true() {
    judged(&Known::new(), &[("x * x < 1", 0.6827), ("1 / y < 1", 0.9786)], true);
}

#[test]
fn a_value_worked_out_earlier_is_traced_to_its_readings() {
    let known = Known::new().work_out("off", "abs(x)").work_out("square", "x * x");
    judged(&known, &[("off < 1", 0.6827), ("square < 1", 0.6827)], true);
    judged(&known, &[("(if known(off) and off < 1 then 1 else 3) < 2", 0.6827)], true);
}

/// The mean of 9, 10 and 11 has the standard uncertainty 1/√3 (JCGM 100:2008, 4.2.3) with two degrees of
/// freedom; Student's t lies below t with probability 1/2 + t/2√(2 + t²) then, within 0.866 with 0.5222.
#[test]
fn the_spread_of_readings_is_drawn_with_them() {
    assert_eq!(Known::new().shown("takes + 0"), "10.0 ± 2.5");
    let known = Known::new().work_out("middle", "takes + 0");
    judged(&known, &[("abs(middle - 10) < 0.5", 0.5222)], true);
    judged(&known, &[("takes < 10.5", 0.7611), ("takes - takes < 0.5", 1.0)], false);
    // A kink that takes them straight has the spread moved before it, also where none is left after it:
    // 10.6 lies 1.039 standard uncertainties above the mean.
    // The mean of 1, 2 and 6 has 1.5275, so 0.5 is 0.3273 of it: 0.6128; times 0.7611 for the other, or 0.75 for a limit.
    let kinked = [
        ("abs(takes - 10) < 0.5", 0.5222),
        ("abs(mean(takes) - 10) < 0.5", 0.5222),
        ("max(takes, 10.5) < 10.6", 0.7961),
        ("max(mean(takes), 10.5) < 10.6", 0.7961),
        ("max(mean(takes) - 10, mean(others) - 3) < 0.5", 0.4664),
        ("max(mean(takes) - 10, 0 +- 1) < 0.5", 0.5708),
        ("max(0 +- 1, mean(takes) - 10) < 0.5", 0.5708),
        ("max((sure - 5) +- 0, mean(takes) - 10) < 0.5", 0.7611),
    ];
    judged(&Known::new(), &kinked, true);
    // Readings that do not scatter were rounded alike, evenly within √3 of one.
    judged(&Known::new(), &[("abs(alike - 10) < 0.5", 0.2887)], true);
}

/// Fitted by hand, ln y over the dumps: 3.3623 still to go, uncertain by 0.0483, and 3.3738 by 0.0938, each with two
/// degrees of freedom. Student's t lies below t with probability 1/2 + t/2√(2 + t²) then.
#[test]
fn the_scatter_about_a_fit_is_drawn_with_it() {
    const ONE: &str = "flushes_to_go(series(8 mL/L, 4.1 mL/L, 2 mL/L, 1.02 mL/L), 0.1 mL/L)";
    const OTHER: &str = "flushes_to_go(series(8 mL/L, 4 mL/L, 2.1 mL/L, 1 mL/L), 0.1 mL/L)";
    let mut known = Known::new();
    let kinked = [
        (format!("max({ONE}, 3.4) < 3.4107"), 0.7888),
        (format!("max({ONE} - 3.3623, 0 +- 0.05) < 0.02"), 0.4483),
        (format!("max({ONE}, {OTHER}) < 3.4"), 0.4424),
    ];
    for (text, expected) in &kinked {
        judged(&known, &[(text, *expected)], true);
    }
    // The same fit twice is off by the same, though one stands as it was worked out.
    let fit = known.checked(ONE).value(&known).unwrap();
    known.values.insert("fit", fit);
    judged(&known, &[(&format!("abs({ONE} - fit) < 0.001"), 1.0)], false);
}

/// What tells of doubts themselves is not drawn; what only stands beside a confidence is.
#[test]
fn what_tells_of_doubts_is_left_as_it_is() {
    let mut known = Known::new()
        .work_out("own", "uncertainty_of(x) + y")
        .work_out("square", "x * x")
        .work_out("held", "one_sided_limit(sure) + x * x");
    let table = [
        ("uncertainty_of(x) < 0.5", 0.0),
        ("0.5 > uncertainty_of(x)", 0.0),
        ("uncertainty_of(takes) < 0.5", 0.0),
        ("1 / uncertainty_of(x) < 2", 1.0),
        ("own < 5", 0.8413),
    ];
    judged(&known, &table, false);
    let drawn = [
        ("held < 1", 0.6827),
        ("one_sided_limit(sure) + abs(x) < 1", 0.6827),
        ("one_sided_limit(sure) + abs(takes - 10) < 0.5", 0.5222),
    ];
    judged(&known, &drawn, true);
    // A value that its formula does not give any more is taken as it stands.
    known.values.insert("square", number(Uncertain::exact(3.0).with_component(SourceId::Spread(7), 1.0)));
    judged(&known, &[("square < 4", 0.8413)], false);
}

/// Of a value worked out in rounds the newest is worked out anew; the earlier ones are moved beside it.
#[test]
fn earlier_rounds_are_drawn_as_they_stand() {
    for (formula, expected) in [("abs(x)", 0.8413 * 0.6827), ("abs(takes - 10)", 0.8413 * 0.7746)] {
        let mut known = Known::new().work_out("rounds", formula);
        let rounds = vec![known.values["z"].clone(), known.values["rounds"].clone()];
        known.values.insert("rounds", Value::Series(rounds));
        judged(&known, &[("max(rounds) < 1", expected)], true);
    }
    // An earlier round is off also where it is not the highest: Φ(1) (2 Φ(0.5) - 1).
    let mut known = Known::new().work_out("rounds", "abs(x) + 0.5").work_out("latest", "abs(x) + 0.5");
    for name in ["rounds", "latest"] {
        let rounds = vec![known.values["z"].clone(), known.values[name].clone()];
        known.values.insert(name, Value::Series(rounds));
    }
    judged(&known, &[("max(rounds) < 1", 0.3222)], true);
    // The newest and all of them: twice the integral of φ(x) Φ(1.5 - x) from 0 to 0.5.
    judged(&known, &[("latest + max(latest) < 2", 0.3419)], true);
}

/// Far from its kink a formula is straight, and then first order stands to the last digit.
#[test]
fn a_kink_far_off_leaves_first_order_standing() {
    let table = [
        ("abs(y) < 5", 0.9772),
        ("abs(y) <= 5", 0.9772),
        ("abs(y) > 1", 0.9772),
        ("abs(y) >= 1", 0.9772),
        ("5 > abs(y)", 0.9772),
        ("1 <= abs(y)", 0.9772),
        // One standard uncertainty of a mean of three; of a normal variable and a limit; of two limits.
        ("abs(takes) < 10.57735", 0.7887),
        ("abs(y +- 1) < 4.15470", 0.8396),
        ("abs((3 +- 1) + (5 +- 2)) < 9.29099", 0.8175),
        // The same readings are off by the same.
        ("abs(takes) - takes < 0.5", 1.0),
        ("abs(mean(takes) - takes) < 0.5", 1.0),
    ];
    judged(&Known::new(), &table, false);
}

/// What first order foretells exactly stands also where it holds by equality, though `x` lies above 3.25
/// once in 1,700 times.
#[test]
fn what_is_equal_to_its_limit_is_judged_by_first_order() {
    let table = [
        ("6 - max(x, 3.25) >= 2.75", 1.0),
        ("max(x, 3.25) <= 3.25", 1.0),
        ("max(x, 3.25) > 3.25", 0.0),
        ("6 - max(x, 3.25) < 2.75", 0.0),
        ("abs(x) == 0", 1.0),
        ("abs(x) != 0", 0.0),
    ];
    judged(&Known::new(), &table, false);
}

#[test]
fn every_draw_counts_and_those_without_a_value_either_way() {
    let known = Known::new();
    let truth = |text: &str| {
        let judged = known.checked(text).judged(&known).unwrap();
        (judged.truth.best, judged.truth.least, judged.truth.most)
    };
    assert_eq!(truth("abs(x) > -1"), (true, 1.0, 1.0));
    assert_eq!(truth("abs(x) <= -1"), (false, 0.0, 0.0));
    let (best, least, most) = truth("(if x >= 0 then 5 else gone) < 6");
    assert!(best && (least - 0.5).abs() < 0.02 && most == 1.0, "{least} to {most}");
    let (best, least, most) = truth("(if x >= 0 then 5 else gone) > 6");
    assert!(!best && least == 0.0 && (most - 0.5).abs() < 0.02, "{least} to {most}");
    // A branch that hangs on what has no value has none.
    let (best, least, most) = truth("(if (if x >= 0 then 5 else gone) < 6 then 1 else 3) < 2");
    assert!(best && (least - 0.5).abs() < 0.02 && most == 1.0, "{least} to {most}");
}

#[test]
fn what_is_straight_is_as_first_order_has_it() {
    let table = [
        ("x < 1", 0.8413),
        ("x + x < 2", 0.8413),
        ("1 - x > 0", 0.8413),
        ("x / 2 < 0.5", 0.8413),
        ("2 * x < 2", 0.8413),
        ("abs(y) < 5", 0.9772),
    ];
    judged(&Known::new(), &table, false);
}

/// An interval and why it is told.
type ExpectedInterval = ([f64; 2], IntervalReason);

/// The interval that is told for each, and why; `None` where none is.
#[track_caller]
fn all_intervals(known: &Known, table: &[(&str, Option<ExpectedInterval>)]) {
    for &(text, expected) in table {
        let drawn = known.coverage(text);
        assert_eq!(drawn.map(|drawn| drawn.why), expected.map(|(_, why)| why), "{text}");
        let (Some(drawn), Some((interval, _))) = (drawn, expected) else { continue };
        let width = interval[1] - interval[0];
        for (found, end) in drawn.interval.iter().zip(interval) {
            assert!((found - end).abs() < 0.05 * width, "{text}: {:?}", drawn.interval);
        }
        assert_eq!((drawn.measure, drawn.undefined_share), (Measure::Number, 0.0), "{text}");
    }
}

/// Even within ±1, 95 % lie within ±0.95, and twice the standard uncertainty is 1.15.
#[test]
fn an_interval_is_told_where_one_limit_makes_the_doubt() {
    let table = [
        ("r", Some(([-0.95, 0.95], IntervalReason::OneLimit))),
        ("10 * r + 5", Some(([-4.5, 14.5], IntervalReason::OneLimit))),
        ("0 +- 1", Some(([-0.95, 0.95], IntervalReason::OneLimit))),
        // Two even limits make a triangle, where twice the standard uncertainty is nearly right.
        ("r + (0 +- 1)", None),
    ];
    all_intervals(&Known::new(), &table);
}

/// The square of a normal variable is χ² of one degree of freedom, 0.001 to 5.02 (from memory); its
/// distance from its mean lies within 0.031 and 2.241.
#[test]
fn an_interval_is_told_where_the_doubt_is_lopsided() {
    let table = [
        ("x * x", Some(([0.001, 5.02], IntervalReason::Asymmetric))),
        ("-abs(x)", Some(([-2.241, -0.031], IntervalReason::Asymmetric))),
        ("off", Some(([0.031, 2.241], IntervalReason::Asymmetric))),
        ("abs(takes - 10)", Some(([0.0204, 3.5825], IntervalReason::Asymmetric))),
        ("abs(mean(takes) - 10)", Some(([0.0204, 3.5825], IntervalReason::Asymmetric))),
        (
            "abs(mean(takes) - 10) + (z - z) + ((0 +- 1) - (0 +- 1)) * 0",
            Some(([0.0204, 3.5825], IntervalReason::Asymmetric)),
        ),
        ("one_sided_limit(sure) + x * x", Some(([0.001, 5.02], IntervalReason::Asymmetric))),
    ];
    all_intervals(&Known::new().work_out("off", "abs(x)"), &table);
}

#[test]
fn no_interval_is_told_where_twice_the_standard_uncertainty_is_true() {
    let table = [
        "x",
        "y - x / 2",
        "sure",
        "1 + 2",
        "jar == 'dirty'",
        "gone",
        "takes + x",
        "abs(takes + others)",
        "uncertainty_of(x)",
        "1 / uncertainty_of(x)",
    ];
    all_intervals(&Known::new(), &table.map(|text| (text, None)));
}

/// The names read, and what each call was given, as `parameter=written`.
#[track_caller]
fn explained(known: &Known, text: &str, names: &[&str], given: &[&str]) {
    let told = known.checked(text).explained(known);
    let read: Vec<_> = told.names.iter().map(|name| name.name.as_str()).collect();
    let arguments = told.calls.iter().flat_map(|call| &call.arguments);
    let written = arguments.map(|it| format!("{}={}", it.name, it.written.as_deref().unwrap_or("-")));
    assert_eq!(
        (read, written.collect::<Vec<_>>()),
        (names.to_vec(), given.iter().copied().map(str::to_string).collect()),
        "{text}"
    );
}

#[test]
fn an_explanation_names_each_number_once_and_as_it_was_written() {
    let known = Known::new();
    explained(&known, "x + z + x", &["x", "z"], &[]);
    explained(&known, "max(takes, 1 +- 1)", &["takes"], &["a=takes", "b=1 +- 1"]);
    // What is called as the parameter is, or reckoned on the spot, has no other name.
    explained(&known, "max(a, x)", &["a", "x"], &["a=-", "b=x"]);
    explained(&known, "max(x, a) + max(1, x + 1)", &["x", "a"], &["a=x", "b=a", "a=-", "b=-"]);
    explained(&known, "if lever then x else z", &["lever", "x"], &[]);
    explained(&known, "if not lever then x else z", &["lever", "z"], &[]);
    explained(&known, "gone otherwise z", &["z"], &[]);
    explained(&known, "x otherwise z", &["x"], &[]);
    let renames =
        ["x", "takes", "x otherwise z", "gone otherwise z", "if lever then x else z", "x + 1", "-x"]
            .map(|text| known.checked(text).as_one().explained(&known).renames.unwrap_or_default());
    assert_eq!(renames, ["x", "takes", "x", "z", "x", "", ""]);
}

/// The means of 9, 10, 11 and of 1, 2, 6 have variances of 1/3 and 7/3; what is read by a name is told as it counts.
#[test]
fn the_doubt_of_two_means_is_shared_out() {
    let known = Known::new();
    let told = |text: &str| {
        let explained = known.checked(text).explained(&known);
        let shares = explained.shares(&|_| None);
        let shares: Vec<String> =
            shares.iter().map(|share| format!("{:.1} % {}", share.percent, share.source)).collect();
        let value = |value: &Result<Value, Unknown>| value.as_ref().unwrap().shown_with_limits(Units::Us);
        let names: Vec<String> =
            explained.names.iter().map(|name| format!("{} {}", name.name, value(&name.value))).collect();
        (names.join(", "), shares.join(", "))
    };
    let spread = |name: &str| format!("spread of the readings of {name}");
    let table = [
        (
            "takes + others",
            "takes 10.0 ± 2.5, others 3 ± 7",
            &format!("87.5 % {}, 12.5 % {}", spread("others"), spread("takes")),
        ),
        ("takes + 1", "takes 10.0 ± 2.5", &format!("100.0 % {}", spread("takes"))),
        // A mean that is called for is the call's own.
        ("mean(takes) + mean(others)", "takes 9, 10, 11, others 1, 2, 6", &"100.0 % mean itself".to_string()),
        ("mean(takes) + (4 +- 1)", "takes 9, 10, 11", &"50.0 % 4 +- 1, 50.0 % mean itself".to_string()),
        ("x + 1", "x 0.0 ± 2.0", &"100.0 % a source without a name".to_string()),
        // What both share stays shared: 1 beside the spread of 10 and 11, a variance of 1/4.
        (
            "mean(series(mark, mark + 1))",
            "mark 10.0 ± 2.0",
            &"80.0 % a source without a name, 20.0 % mean itself".to_string(),
        ),
    ];
    for (text, names, shares) in table {
        assert_eq!(told(text), (names.to_string(), shares.clone()), "{text}");
    }
}

/// The shares of a comparison's doubt: (1/3) : (4/3) : (1/3) of limits and of a spread.
#[test]
fn the_doubt_of_a_margin_is_shared_out_by_name() {
    let known = Known::new();
    let checked = known.checked("(4 +- 1) + takes < 20 +- 2");
    let (told, (_, margin)) = (checked.explained(&known), checked.margin(&known).unwrap());
    let shares = |called: &dyn Fn(SourceId) -> Option<String>| {
        let shares = told.shares_of(&margin, called);
        shares.iter().map(|share| format!("{:.1} % {}", share.percent, share.source)).collect::<Vec<_>>()
    };
    assert_eq!(
        shares(&|_| None),
        ["66.7 % 20 +- 2", "16.7 % 4 +- 1", "16.7 % spread of the readings of takes"]
    );
    assert_eq!(shares(&|_| Some("the gauge".to_string())), ["100.0 % the gauge"]);
    // Of the value itself the limits in it go by what is written, whatever else they are called.
    let own = known.checked("(4 +- 1) + takes").explained(&known);
    let names: Vec<_> =
        own.shares(&|_| Some("the gauge".to_string())).into_iter().map(|it| it.source).collect();
    assert_eq!(names, ["4 +- 1", "the gauge"]);
}
