//! The one table of functions: it lends the formulas to the language.
//!
//! Everything about a function stands in its entry; help, reference and suggestions are made
//! from it, and a test runs every example.

mod air;
mod disinfect;
mod helpers;
mod hold;
mod numbers;
mod pump;
mod questions;
mod reach;
mod series;
mod several;
mod switch;
mod tank;
mod target;
mod uncertainty;
mod water;

pub use questions::CALC_QUESTIONS;

use std::sync::LazyLock;

use rustc_hash::FxHashMap;

use crate::lang::Function;

/// Every function, in the order of the reference.
pub(crate) fn functions() -> impl Iterator<Item = &'static Function> {
    const TABLES: [&[Function]; 13] = [
        tank::FUNCTIONS,
        target::FUNCTIONS,
        several::FUNCTIONS,
        air::FUNCTIONS,
        water::FUNCTIONS,
        hold::FUNCTIONS,
        pump::FUNCTIONS,
        reach::FUNCTIONS,
        switch::FUNCTIONS,
        disinfect::FUNCTIONS,
        series::FUNCTIONS,
        numbers::FUNCTIONS,
        uncertainty::FUNCTIONS,
    ];
    TABLES.into_iter().flatten()
}

/// The function of that name.
///
/// ```
/// use tankhand::procedure::function;
/// assert_eq!(
///     function("run_time").unwrap().signature(),
///     "run_time(drawdown: volume, flow: flow) -> duration"
/// );
/// ```
pub fn function(name: &str) -> Option<&'static Function> {
    static BY_NAME: LazyLock<FxHashMap<&'static str, &'static Function>> =
        LazyLock::new(|| functions().map(|function| (function.name, function)).collect());
    BY_NAME.get(name).copied()
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;
    use crate::lang::{Unknown, Value, Values, Work};
    use crate::quantity::{Units, show};

    /// Whether a text calls a function of that name: no method, and nothing that it defines.
    fn calls(text: &str, name: &str) -> bool {
        let is_part = |letter: char| letter.is_alphanumeric() || matches!(letter, '_' | '.');
        let call = format!("{name}(");
        let mut found = text.match_indices(&call).map(|(at, _)| &text[..at]);
        found.any(|before| !before.ends_with(is_part) && !before.ends_with("fn "))
    }

    /// Whether an expression of a file that comes with the program calls it; comments count for
    /// nothing.
    fn is_called(name: &str) -> bool {
        let lines = crate::procedure::SHIPPED.iter().flat_map(|file| file.text.lines());
        let mut lines_left = lines.filter(|line| !line.trim_start().starts_with('#'));
        lines_left.any(|line| calls(line, name))
    }

    /// Whether a plan works with its formula.
    fn is_of_plans(name: &str) -> bool {
        let files = ["src/physics/plan", "src/app/plan"].into_iter().flat_map(|folder| {
            std::fs::read_dir(std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join(folder)).unwrap()
        });
        let mut texts = files.map(|file| std::fs::read_to_string(file.unwrap().path()).unwrap());
        texts.any(|text| calls(&text, name))
    }

    #[test]
    fn every_function_is_of_a_procedure_a_plan_or_a_question_for_calc() {
        let names = functions().map(|function| function.name);
        let uncalled: BTreeSet<&str> = names.filter(|name| !is_called(name) && !is_of_plans(name)).collect();
        assert_eq!(uncalled, CALC_QUESTIONS.iter().map(|(_, name)| *name).collect());
    }

    struct Nothing;

    impl Values for Nothing {
        fn value(&self, name: &str) -> Result<Value, Unknown> {
            Err(Unknown::because(format!("{name} is not known")))
        }
    }

    #[test]
    fn every_example_gives_what_it_says() {
        for function in functions() {
            let (expression, shown) = function.example;
            let checked = crate::procedure::check_expression(expression).expect(function.name);
            let value = checked.value(&Nothing).expect(function.name);
            // With every digit worth having.
            let digits = match &value {
                Value::Amount(measure, amount) => show(*measure, amount, Units::Us),
                other => other.shown(Units::Us),
            };
            assert_eq!(digits, shown, "example of {}", function.name);
        }
    }

    /// What stands in the call that an example begins with, each argument worked out.
    fn given(example: &str) -> Vec<Value> {
        let example = example.split_inclusive(')').next().unwrap();
        let expr = crate::lang::parse(example).expect(example);
        let crate::lang::Node::Call(_, _, arguments) = &expr.node else { panic!("{example}") };
        let values = arguments.iter().map(|argument| {
            let checked = crate::procedure::check_expression(&argument.to_string()).expect(example);
            checked.value(&Nothing).expect(example)
        });
        values.collect()
    }

    #[test]
    fn draws_work_out_what_the_language_does() {
        for function in functions() {
            let Work::Numbers { run, plain } = function.work else { continue };
            let given = given(function.example.0);
            let numbers: Option<Vec<f64>> = given.iter().map(|one| Some(one.amount()?.value())).collect();
            let of_values = run(&given).ok().and_then(|value| Some(value.amount()?.value()));
            let of_values = of_values.expect(function.name);
            let of_numbers = plain(&numbers.expect(function.name)).unwrap();
            let apart = (of_values - of_numbers).abs() / of_values.abs();
            assert!(apart < 1e-12, "{}: {of_values} and {of_numbers}", function.name);
        }
    }

    /// Documents whose figures `tests/published/README.md` has from memory, as sources name them.
    const FROM_MEMORY: [&str; 2] = ["JCGM 106:2012, 8.3", "MIL-STD-1250"];

    #[test]
    fn a_source_from_memory_says_so() {
        let table = include_str!("../../../tests/published/README.md");
        for document in FROM_MEMORY {
            let mut rows = table.lines().filter(|row| row.contains(document));
            assert!(rows.any(|row| row.contains("memory")), "{document}");
            let sources = functions().map(|function| function.explanation.source);
            let mut unmarked =
                sources.filter(|source| source.contains(document) && !source.contains("memory"));
            assert_eq!(unmarked.next(), None);
        }
    }

    #[test]
    fn every_entry_is_whole_and_no_name_stands_twice() {
        let mut names = std::collections::HashSet::new();
        for f in functions() {
            assert!(names.insert(f.name), "{} stands twice", f.name);
            assert!(!crate::lang::KEYWORDS.contains(&f.name));
            let help = f.help.is_empty() || f.help.ends_with('.');
            assert!(f.explanation.sentence.ends_with('.') && help, "{}", f.name);
            assert!(!f.explanation.formula.is_empty() && !f.explanation.source.is_empty(), "{}", f.name);
            assert!(
                !f.explanation.formula.ends_with('.') && !f.explanation.source.ends_with('.'),
                "{}",
                f.name
            );
            assert!(f.parameters.is_sorted_by_key(|parameter| parameter.optional), "{}", f.name);
        }
    }
}
