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
mod reach;
mod series;
mod several;
mod switch;
mod tank;
mod target;
mod uncertainty;
mod water;

use std::sync::LazyLock;

use rustc_hash::FxHashMap;

use crate::lang::Function;

/// Every function, in the order of the reference.
pub fn functions() -> impl Iterator<Item = &'static Function> {
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
    use super::*;
    use crate::lang::{Unknown, Value, Values, Work};
    use crate::quantity::{Units, show};

    /// Functions that no procedure calls, each with who asks for it.
    const ASKED_FOR: &[(&str, &str)] = &[
        ("atmosphere", "calc: the air outside at a house's elevation"),
        ("absolute", "calc: a gauge reading for a formula from a book, which takes it absolute"),
        ("dead_gap_of_all", "diagnosis: the same with several tanks on one line"),
        ("high_precharge_from_drawdown", "diagnosis: how far above the cut-in a precharge is, by the bucket"),
        ("air_leak", "diagnosis: how fast a valve loses air, in air"),
        ("uncertainty_of", "calc: the standard uncertainty of what was read"),
        ("smallest_leak", "planning a hold test: what a gauge can see in a time"),
        ("hold_needed", "planning a hold test: how long it has to stand"),
        ("free_air", "sizing: the air a cylinder has to hold"),
        ("compressor_time", "sizing: how long a compressor takes"),
        ("air_temperature_after", "planning: how warm fast air is, and so how long to let it cool"),
        ("fast_draw", "sizing: the least water in reserve when it is drawn fast"),
        ("drawdown_for_starts", "sizing a tank: by the starts a pump bears"),
        ("water_for_run", "sizing a tank: by the time a pump has to run"),
        ("volume_needed", "sizing a tank: by the drawdown it has to give"),
        ("cut_out_limit", "planning a switch's setting: what it must not pass"),
        ("friction_loss", "planning: what is lost on the way to a faucet"),
        ("starts_at_demand", "planning: how often the pump starts while a sprinkler runs"),
        ("shutoff_pressure", "planning a switch's setting: how far a pump reaches, by its curve"),
        ("shutoff_from_two_flows", "planning a switch's setting: how far a pump reaches, by two timed fills"),
        ("flow_at", "planning a switch's setting: what a pump brings at another pressure"),
        ("orifice_flow", "planning a drain: what an opening lets out"),
        ("verdict", "an owner's procedure: what a comparison comes to, as a word"),
        ("drain_time", "planning a drain: how long a tank takes"),
        ("granules", "calc: the dose in granules in place of bleach"),
        ("dose_of_bleach", "calc: the dose that came of bleach poured in"),
    ];

    /// Whether an expression of a file that comes with the program calls it; comments count for
    /// nothing.
    fn is_called(name: &str) -> bool {
        let call = format!("{name}(");
        let is_name = |letter: char| letter.is_alphanumeric() || letter == '_';
        let lines = crate::procedure::SHIPPED.iter().flat_map(|file| file.text.lines());
        let mut told = lines.filter(|line| !line.trim_start().starts_with('#'));
        told.any(|line| line.match_indices(&call).any(|(at, _)| !line[..at].ends_with(is_name)))
    }

    #[test]
    fn every_function_is_called_by_a_procedure_or_asked_for() {
        let uncalled: std::collections::BTreeSet<&str> =
            functions().map(|function| function.name).filter(|name| !is_called(name)).collect();
        assert_eq!(uncalled, ASKED_FOR.iter().map(|(name, _)| *name).collect());
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
            assert!(f.required <= f.parameters.len(), "{}", f.name);
        }
    }
}
