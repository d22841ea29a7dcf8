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
    const TABLES: [&[Function]; 12] = [
        tank::FUNCTIONS,
        target::FUNCTIONS,
        several::FUNCTIONS,
        air::FUNCTIONS,
        water::FUNCTIONS,
        hold::FUNCTIONS,
        pump::FUNCTIONS,
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
    use crate::lang::{Unknown, Value, Values};
    use crate::quantity::Units;

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
            assert_eq!(value.shown_fully(Units::Us), shown, "example of {}", function.name);
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
