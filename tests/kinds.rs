//! Which kinds go together: the type an expression has, or what is said of it.

use std::sync::Arc;

use tankhand::lang::{Collapse, Function, Scope, Type, check, parse};
use tankhand::quantity::{Kind, Measure};

/// Where names tell their kinds.
struct Names;

impl Scope for Names {
    fn find(&self, name: &str) -> Option<(Arc<str>, Type)> {
        let ty = match name {
            "n" => Type::measure(Measure::Number),
            "count" => Type::measure(Measure::Count),
            "p" => Type::measure(Measure::Pressure),
            "step" => Type::measure(Measure::PressureChange),
            "note" => Type::One(Kind::Text),
            "jar" => Type::One(Kind::one_of(&["clear", "dirty"])),
            "lever" => Type::One(Kind::YesNo),
            "tanks" => Type::Series(Kind::Measure(Measure::Pressure), Collapse::No),
            "rounds" => Type::Series(Kind::Measure(Measure::Pressure), Collapse::Last),
            _ => return None,
        };
        Some((Arc::from(name), ty))
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

/// The type, or every problem: message, remedy and what is said beside it.
fn type_or_problems(text: &str, wanted: Option<&Kind>) -> String {
    match check(&Arc::new(parse(text).unwrap()), &Names, wanted, None) {
        Ok(checked) => checked.ty().to_string(),
        Err(problems) => {
            let all = problems.iter().map(|p| {
                let notes: Vec<_> = p.notes.iter().map(|note| note.says.as_str()).collect();
                format!("{}; {} [{}{}]", p.message, p.remedy, p.label, notes.join(", "))
            });
            all.collect::<Vec<_>>().join(" | ")
        }
    }
}

#[test]
fn kinds_go_together_or_it_is_said_why_not() {
    let table: &[(&str, &str)] = &[
        ("1", "a number"),
        ("count", "a count"),
        ("1 psi", "a gauge pressure"),
        ("p", "a gauge pressure"),
        ("step", "a pressure change"),
        ("-1 psi", "a gauge pressure"),
        (
            "-p",
            "a gauge pressure cannot be turned negative; subtract two of them, or change the sign of a difference []",
        ),
        ("-step", "a pressure change"),
        ("-n", "a number"),
        ("p + 1 psi", "a gauge pressure"),
        ("1 psi + p", "a gauge pressure"),
        ("p - 1 psi", "a gauge pressure"),
        ("1 psi - p", "a pressure change"),
        ("50 psi - 1 psi", "a pressure change"),
        (
            "50 psi + 1 psi",
            "two of a kind, each a gauge pressure, cannot be added; did you mean a pressure change? A name or literal for the difference fits here [this is a gauge pressure, this is a gauge pressure]",
        ),
        (
            "p + p",
            "two of a kind, each a gauge pressure, cannot be added; did you mean a pressure change? A name or literal for the difference fits here [this is a gauge pressure, this is a gauge pressure]",
        ),
        ("p - p", "a pressure change"),
        ("p + step", "a gauge pressure"),
        ("step + p", "a gauge pressure"),
        (
            "step - p",
            "a pressure change and a gauge pressure cannot be subtracted; make both a pressure change or both a gauge pressure [this is a pressure change, this is a gauge pressure]",
        ),
        (
            "p + 1",
            "a gauge pressure and a number cannot be added; write the unit behind the number, to make it a gauge pressure [this is a gauge pressure, this is a number]",
        ),
        (
            "p + 1 gal",
            "a gauge pressure and a volume cannot be added; use two of the same kind [this is a gauge pressure, this is a volume]",
        ),
        (
            "1 psi + 1 gal",
            "a gauge pressure and a volume cannot be added; use two of the same kind [this is a gauge pressure, this is a volume]",
        ),
        (
            "2 * p",
            "a number and a gauge pressure cannot be multiplied; write the unit behind the number, to make it a gauge pressure [this is a number, this is a gauge pressure]",
        ),
        ("2 * step", "a pressure change"),
        ("step / step", "a number"),
        ("p < 1 psi", "a yes or no"),
        ("1 psi < p", "a yes or no"),
        ("step < 1 psi", "a yes or no"),
        ("1 psi < step", "a yes or no"),
        (
            "p < step",
            "`<` cannot compare a gauge pressure with a pressure change; make both a gauge pressure or both a pressure change [this is a gauge pressure, this is a pressure change]",
        ),
        (
            "p < 1",
            "`<` cannot compare a gauge pressure with a number; write the unit behind the number, to make it a gauge pressure [this is a gauge pressure, this is a number]",
        ),
        (
            "p < 1 gal",
            "`<` cannot compare a gauge pressure with a volume; use two of the same kind [this is a gauge pressure, this is a volume]",
        ),
        ("1 < 2", "a yes or no"),
        ("count < 1", "a yes or no"),
        ("1 < count", "a yes or no"),
        ("n < count", "a yes or no"),
        (
            "p == lever",
            "`==` cannot compare a gauge pressure with a yes or no; use two of the same kind [this is a gauge pressure, this is a yes or no]",
        ),
        ("jar == 'clear'", "a yes or no"),
        ("'clear' == jar", "a yes or no"),
        ("jar == 'green'", "'green' is never the answer here; there is: clear, dirty [not one of the words]"),
        ("'green' == jar", "'green' is never the answer here; there is: clear, dirty [not one of the words]"),
        (
            "jar < 'clear'",
            "one of 'clear', 'dirty' has no order: `<` cannot compare it; compare with == or != [this is one of 'clear', 'dirty', this is one of 'clear']",
        ),
        ("note == 'x'", "a yes or no"),
        ("note == jar", "a yes or no"),
        (
            "note < note",
            "a text has no order: `<` cannot compare it; compare with == or != [this is a text, this is a text]",
        ),
        (
            "lever < lever",
            "a yes or no has no order: `<` cannot compare it; compare with == or != [this is a yes or no, this is a yes or no]",
        ),
        ("if lever then 1 else count", "a number"),
        ("if lever then count else 1", "a number"),
        ("if lever then count else n", "a number"),
        ("if lever then n else count", "a number"),
        ("if lever then p else 1 psi", "a gauge pressure"),
        ("if lever then 1 psi else p", "a gauge pressure"),
        ("if lever then step else 1 psi", "a pressure change"),
        ("if lever then 1 psi else step", "a pressure change"),
        (
            "if lever then p else step",
            "one branch gives a gauge pressure, the other a pressure change; make both a gauge pressure or both a pressure change [this is a gauge pressure, this is a pressure change]",
        ),
        (
            "if lever then p else 1",
            "one branch gives a gauge pressure, the other a number; write the unit behind the number, to make it a gauge pressure [this is a gauge pressure, this is a number]",
        ),
        (
            "if lever then 1 else p",
            "one branch gives a number, the other a gauge pressure; write the unit behind the number, to make it a gauge pressure [this is a number, this is a gauge pressure]",
        ),
        ("if lever then 'a' else 'b'", "one of 'a', 'b'"),
        ("if lever then jar else 'clear'", "one of 'clear', 'dirty'"),
        ("if lever then jar else note", "a text"),
        ("if lever then note else jar", "a text"),
        (
            "if lever then note else 1",
            "one branch gives a text, the other a number; use two of the same kind [this is a text, this is a number]",
        ),
        (
            "if p then 1 else 2",
            "a yes or no is wanted as a yes or no, and this is a gauge pressure; give a yes or no [this is a gauge pressure]",
        ),
        ("p otherwise 1 psi", "a gauge pressure"),
        ("1 psi otherwise step", "a pressure change"),
        (
            "p otherwise 1",
            "what may not be known is a gauge pressure, what stands in for it is a number; write the unit behind the number, to make it a gauge pressure [this is a gauge pressure, this is a number]",
        ),
        ("abs(2 psi)", "a pressure change"),
        ("abs(step)", "a pressure change"),
        (
            "abs(p)",
            "a difference is wanted as `x` of abs, and this is a gauge pressure; subtract two of them first [this is a gauge pressure]",
        ),
        ("abs(p - p)", "a pressure change"),
        ("abs(-2)", "a number"),
        (
            "abs('a')",
            "a number or measured value is wanted as `x` of abs, and this is one of 'a'; give a measured value []",
        ),
        ("max(p, 1 psi)", "a gauge pressure"),
        (
            "max(1 psi, step)",
            "a gauge pressure is wanted as `b` of max, and this is a pressure change; add it to a gauge pressure to get one [this is a pressure change]",
        ),
        (
            "max(p, 1)",
            "a gauge pressure is wanted as `b` of max, and this is a number; write the unit behind the number [this is a number]",
        ),
        (
            "max(p)",
            "a series of answers is wanted as `a` of max, and this is a gauge pressure; name a step with `times` or one inside `repeat` or `each`, or write series(36 psi, 38 psi) []",
        ),
        ("max(rounds)", "a gauge pressure"),
        ("max(tanks) + 1 psi", "a gauge pressure"),
        (
            "tanks + 1 psi",
            "this is one answer for each tank, and one value is wanted here; say which is meant: last(…), min(…), max(…), mean(…) or sum(…) []",
        ),
        ("rounds + 1 psi", "a gauge pressure"),
        (
            "lever and p",
            "a yes or no is wanted as a yes or no, and this is a gauge pressure; give a yes or no [this is a gauge pressure]",
        ),
        (
            "not p",
            "a yes or no is wanted as a yes or no, and this is a gauge pressure; give a yes or no [this is a gauge pressure]",
        ),
        ("not lever", "a yes or no"),
        (
            "lever or jar",
            "a yes or no is wanted as a yes or no, and this is one of 'clear', 'dirty'; give a yes or no [this is one of 'clear', 'dirty']",
        ),
        ("nearest(p, 1 psi)", "a gauge pressure"),
        (
            "nearest(p, p)",
            "a pressure change is wanted as `step` of nearest, and this is a gauge pressure; subtract another pressure to get one [this is a gauge pressure]",
        ),
        ("uncertainty_of(p)", "a pressure change"),
        ("p +- 1 psi", "a gauge pressure"),
        ("1 psi +- 1 psi", "a gauge pressure"),
        (
            "p +- p",
            "a pressure change is wanted as the limit either way, and this is a gauge pressure; subtract another pressure to get one [this is a gauge pressure]",
        ),
        ("step +- 2 %", "a pressure change"),
        ("series(1, count)", "a series, each a number"),
        ("series('a', 'b')", "a series, each one of 'a', 'b'"),
        ("series(p, 1 psi)", "a series, each a gauge pressure"),
        ("series(step, if lever then 1 psi else 2 psi)", "a series, each a pressure change"),
        (
            "mean(series('a', 'b'))",
            "series is wanted as `series` of mean, and this is a series, each one of 'a', 'b'; name a step that reads the right kind []",
        ),
        ("abs(1 psi - p)", "a pressure change"),
        (
            "series(p, 1)",
            "a gauge pressure is wanted as one of a series, and this is a number; write the unit behind the number [this is a number]",
        ),
        ("nosuch(1)", "there is no function `nosuch`; there is none to choose from here []"),
        ("nosuch", "nothing named `nosuch` stands before this place; there is none to choose from here []"),
        ("max", "nothing named `max` stands before this place; `max` is a function: call it as max(…) []"),
        (
            "max(1, 2, 3)",
            "max takes 1 to 2 values, and 3 stand here; write max(a: any or series, [b: any]) -> any []",
        ),
        (
            "known(nosuch)",
            "nothing named `nosuch` stands before this place; there is none to choose from here []",
        ),
        ("known(p)", "a yes or no"),
    ];
    for (text, expected) in table {
        assert_eq!(type_or_problems(text, None), *expected, "{text}");
    }
}

#[test]
fn a_value_is_of_the_kind_that_belongs_there() {
    let kind = Kind::Measure;
    let table: &[(&str, Kind, &str)] = &[
        ("1", kind(Measure::Number), "a number"),
        ("count", kind(Measure::Number), "a count"),
        ("5 psi", kind(Measure::PressureChange), "a pressure change"),
        ("5 psi", kind(Measure::Pressure), "a gauge pressure"),
        (
            "5 psi",
            kind(Measure::Number),
            "a number is wanted as the value that belongs here, and this is a gauge pressure; give a number [this is a gauge pressure]",
        ),
        (
            "step",
            kind(Measure::Number),
            "a number is wanted as the value that belongs here, and this is a pressure change; give a number [this is a pressure change]",
        ),
        (
            "p - 5 psi",
            kind(Measure::Number),
            "a number is wanted as the value that belongs here, and this is a gauge pressure; give a number [this is a gauge pressure]",
        ),
        (
            "'clear'",
            kind(Measure::Number),
            "a number is wanted as the value that belongs here, and this is one of 'clear'; give a number [this is one of 'clear']",
        ),
        (
            "jar",
            kind(Measure::Number),
            "a number is wanted as the value that belongs here, and this is one of 'clear', 'dirty'; give a number [this is one of 'clear', 'dirty']",
        ),
        (
            "note",
            kind(Measure::Number),
            "a number is wanted as the value that belongs here, and this is a text; give a number [this is a text]",
        ),
        (
            "rounds",
            kind(Measure::Number),
            "a number is wanted as the value that belongs here, and this is a gauge pressure; give a number [this is a gauge pressure]",
        ),
        ("1", kind(Measure::Count), "a count"),
        ("count", kind(Measure::Count), "a count"),
        (
            "5 psi",
            kind(Measure::Count),
            "a count is wanted as the value that belongs here, and this is a gauge pressure; give a count [this is a gauge pressure]",
        ),
        (
            "step",
            kind(Measure::Count),
            "a count is wanted as the value that belongs here, and this is a pressure change; give a count [this is a pressure change]",
        ),
        (
            "p - 5 psi",
            kind(Measure::Count),
            "a count is wanted as the value that belongs here, and this is a gauge pressure; give a count [this is a gauge pressure]",
        ),
        (
            "'clear'",
            kind(Measure::Count),
            "a count is wanted as the value that belongs here, and this is one of 'clear'; give a count [this is one of 'clear']",
        ),
        (
            "jar",
            kind(Measure::Count),
            "a count is wanted as the value that belongs here, and this is one of 'clear', 'dirty'; give a count [this is one of 'clear', 'dirty']",
        ),
        (
            "note",
            kind(Measure::Count),
            "a count is wanted as the value that belongs here, and this is a text; give a count [this is a text]",
        ),
        (
            "rounds",
            kind(Measure::Count),
            "a count is wanted as the value that belongs here, and this is a gauge pressure; give a count [this is a gauge pressure]",
        ),
        (
            "1",
            kind(Measure::Pressure),
            "a gauge pressure is wanted as the value that belongs here, and this is a number; write the unit behind the number [this is a number]",
        ),
        (
            "count",
            kind(Measure::Pressure),
            "a gauge pressure is wanted as the value that belongs here, and this is a count; give a gauge pressure [this is a count]",
        ),
        ("5 psi", kind(Measure::Pressure), "a gauge pressure"),
        (
            "step",
            kind(Measure::Pressure),
            "a gauge pressure is wanted as the value that belongs here, and this is a pressure change; add it to a gauge pressure to get one [this is a pressure change]",
        ),
        ("p - 5 psi", kind(Measure::Pressure), "a gauge pressure"),
        (
            "'clear'",
            kind(Measure::Pressure),
            "a gauge pressure is wanted as the value that belongs here, and this is one of 'clear'; give a gauge pressure [this is one of 'clear']",
        ),
        (
            "jar",
            kind(Measure::Pressure),
            "a gauge pressure is wanted as the value that belongs here, and this is one of 'clear', 'dirty'; give a gauge pressure [this is one of 'clear', 'dirty']",
        ),
        (
            "note",
            kind(Measure::Pressure),
            "a gauge pressure is wanted as the value that belongs here, and this is a text; give a gauge pressure [this is a text]",
        ),
        ("rounds", kind(Measure::Pressure), "a gauge pressure"),
        (
            "1",
            kind(Measure::PressureChange),
            "a pressure change is wanted as the value that belongs here, and this is a number; write the unit behind the number [this is a number]",
        ),
        (
            "count",
            kind(Measure::PressureChange),
            "a pressure change is wanted as the value that belongs here, and this is a count; give a pressure change [this is a count]",
        ),
        ("5 psi", kind(Measure::PressureChange), "a pressure change"),
        ("step", kind(Measure::PressureChange), "a pressure change"),
        (
            "p - 5 psi",
            kind(Measure::PressureChange),
            "a pressure change is wanted as the value that belongs here, and this is a gauge pressure; subtract another pressure to get one [this is a gauge pressure]",
        ),
        (
            "'clear'",
            kind(Measure::PressureChange),
            "a pressure change is wanted as the value that belongs here, and this is one of 'clear'; give a pressure change [this is one of 'clear']",
        ),
        (
            "jar",
            kind(Measure::PressureChange),
            "a pressure change is wanted as the value that belongs here, and this is one of 'clear', 'dirty'; give a pressure change [this is one of 'clear', 'dirty']",
        ),
        (
            "note",
            kind(Measure::PressureChange),
            "a pressure change is wanted as the value that belongs here, and this is a text; give a pressure change [this is a text]",
        ),
        (
            "rounds",
            kind(Measure::PressureChange),
            "a pressure change is wanted as the value that belongs here, and this is a gauge pressure; subtract another pressure to get one [this is a gauge pressure]",
        ),
        (
            "1",
            Kind::Text,
            "a text is wanted as the value that belongs here, and this is a number; give a text [this is a number]",
        ),
        (
            "count",
            Kind::Text,
            "a text is wanted as the value that belongs here, and this is a count; give a text [this is a count]",
        ),
        (
            "5 psi",
            Kind::Text,
            "a text is wanted as the value that belongs here, and this is a gauge pressure; give a text [this is a gauge pressure]",
        ),
        (
            "step",
            Kind::Text,
            "a text is wanted as the value that belongs here, and this is a pressure change; give a text [this is a pressure change]",
        ),
        (
            "p - 5 psi",
            Kind::Text,
            "a text is wanted as the value that belongs here, and this is a gauge pressure; give a text [this is a gauge pressure]",
        ),
        ("'clear'", Kind::Text, "one of 'clear'"),
        ("jar", Kind::Text, "one of 'clear', 'dirty'"),
        ("note", Kind::Text, "a text"),
        (
            "tanks",
            Kind::Text,
            "this is one answer for each tank, and one value is wanted here; say which is meant: last(…), min(…), max(…), mean(…) or sum(…) []",
        ),
        (
            "rounds",
            Kind::Text,
            "a text is wanted as the value that belongs here, and this is a gauge pressure; give a text [this is a gauge pressure]",
        ),
        (
            "1",
            Kind::YesNo,
            "a yes or no is wanted as the value that belongs here, and this is a number; give a yes or no [this is a number]",
        ),
        (
            "'clear'",
            Kind::YesNo,
            "a yes or no is wanted as the value that belongs here, and this is one of 'clear'; give a yes or no [this is one of 'clear']",
        ),
        (
            "1",
            Kind::one_of(&["clear", "dirty"]),
            "one of 'clear', 'dirty' is wanted as the value that belongs here, and this is a number; give one of 'clear', 'dirty' [this is a number]",
        ),
        ("'clear'", Kind::one_of(&["clear", "dirty"]), "one of 'clear'"),
        (
            "'green'",
            Kind::one_of(&["clear", "dirty"]),
            "one of 'clear', 'dirty' is wanted as the value that belongs here, and this is one of 'green'; give one of 'clear', 'dirty' [this is one of 'green']",
        ),
        ("jar", Kind::one_of(&["clear", "dirty"]), "one of 'clear', 'dirty'"),
        (
            "note",
            Kind::one_of(&["clear", "dirty"]),
            "one of 'clear', 'dirty' is wanted as the value that belongs here, and this is a text; give one of 'clear', 'dirty' [this is a text]",
        ),
    ];
    for (text, wanted, expected) in table {
        assert_eq!(type_or_problems(text, Some(wanted)), *expected, "{text}");
    }
}
