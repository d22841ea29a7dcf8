//! Steps that are never come to, hazards that can be skipped.

use super::{sound, unsound};

#[test]
fn nothing_comes_after_a_certain_stop() {
    unsound(
        r#"
{ stop = "x" },
{ do = "{2 psi}" },
{ do = "y" },
"#,
        &["[unreachable] t.toml:6:1: this step can never be reached"],
    );
    unsound(
        r#"
{ repeat = { until = "lever", at_most = 2 }, step = [{ do = "x" }, { stop = "x" }] },
{ do = "y" },
"#,
        &["[unreachable] t.toml:6:1: this step can never be reached"],
    );
    sound(
        r#"
{ when = "lever", stop = "x" },
{ repeat = { until = "lever", at_most = 2, at_least = 0 }, step = [{ stop = "x" }] },
{ when = "lever", each = "tank", step = [{ stop = "x" }] },
{ do = "y" },
{ stop = "z" },
"#,
    );
}

/// A loop that ends a state is walked twice, and told of once.
#[test]
fn a_step_that_is_never_reached_in_a_loop_is_shown_once() {
    unsound(
        r#"
{ repeat = { until = "lever", at_most = 2 }, step = [
  { do = "x", undoes = ["drained"] },
  { stop = "x" },
  { do = "y" },
] },
"#,
        &["[unreachable] t.toml:8:3: this step can never be reached"],
    );
}

#[test]
fn a_stop_in_a_loop_counts_for_what_comes_after() {
    sound(
        r#"
{ id = "air", when = "lever", read = "pressure", ask = "?" },
{ when = "not lever", repeat = { until = "lever", at_most = 2 }, step = [{ stop = "x" }] },
{ do = "{air}" },
"#,
    );
}

#[test]
fn a_hazard_cannot_be_skipped() {
    unsound(
        r#"
{ do = "x", hazards = ["mains"], skip = true },
{ do = "x", hazards = ["mains"] },
{ do = "x", skip = true },
"#,
        &["[hazard-skippable] t.toml:5:13: a step with a hazard can be skipped"],
    );
}

#[test]
fn names_made_by_the_program_are_not_those_of_the_file() {
    unsound(
        r#"
{ id = "do_2", write = "text", ask = "?" },
{ do = "x" },
{ id = "air_at", read = "temperature", ask = "?" },
{ id = "air", read = "pressure", ask = "?", at_from_clock = true },
"#,
        &[
            "[same-id] t.toml:6:1: the name `do_2` stands for two things",
            "[same-id] t.toml:8:1: the name `air_at` stands for two things",
        ],
    );
}
