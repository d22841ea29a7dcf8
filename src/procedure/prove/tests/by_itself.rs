//! Steps that only say something, and what they need: asked for by themselves.

use super::{faults, sound, unsound};

const READ: &str = r#"
{ id = "air", when = "kind == 'bladder'", read = "pressure", ask = "?" },"#;

fn after_read(step: &str) -> Vec<String> {
    faults(&format!("{READ}\n{step}"))
}

#[test]
fn what_only_says_something_need_not_ask_for_what_it_says() {
    let sound = [
        r#"{ tell = "{air}" },"#,
        r#"{ tell = "{air}", why = "{air}" },"#,
        r#"{ id = "x", compute = "air + 2 psi", say = "{x} {air}" },"#,
        r#"{ id = "x", check = "air > 2 psi", pass = "{air}" },"#,
        r#"{ conclude = "a", grade = "note", says = "{air}", next = "{air}" },"#,
        r#"{ conclude = "a", grade = "good", says = "It is good.", rests_on = ["air"] },"#,
    ];
    for step in sound {
        assert_eq!(after_read(step), Vec::<String>::new(), "{step}");
    }
}

/// Nothing that can hurt is lost for want of a number.
#[test]
fn what_warns_or_acts_asks_for_it_in_so_many_words() {
    let unsound = [
        r#"{ tell = "{|air}", hazards = ["mains"] },"#,
        r#"{ tell = "{|air}", brings = ["emptied"] },"#,
        r#"{ tell = "{|air}", undoes = ["emptied"] },"#,
        r#"{ id = "x", compute = "|air + 2 psi", hazards = ["mains"] },"#,
        r#"{ check = "|air > 2 psi", must = true },"#,
        r#"{ conclude = "a", grade = "attention", says = "{|air}" },"#,
        r#"{ conclude = "a", grade = "act", says = "{|air}" },"#,
        r#"{ conclude = "a", grade = "stop", says = "{|air}" },"#,
        r#"{ do = "{|air}" },"#,
        r#"{ stop = "{|air}" },"#,
    ];
    for step in unsound {
        let column = step.find('|').map_or(0, |at| at + 1);
        let expected = format!("[maybe-unknown] t.toml:6:{column}: `air` may not be known here");
        assert_eq!(after_read(&step.replacen('|', "", 1)), [expected], "{step}");
    }
    let rests = r#"{ conclude = "a", grade = "act", says = "It is bad.", rests_on = ["air"] },"#;
    assert_eq!(after_read(rests), ["[rests-on] t.toml:6:67: `air` may not have been answered here"]);
}

/// What one way of an expression does without is not asked for: the file has to say what then.
#[test]
fn only_what_is_certainly_needed_is_asked_for() {
    let unsound = [
        r#"{ id = "x", check = "lever or |air > 2 psi" },"#,
        r#"{ id = "x", compute = "if lever then |air else 0 psi" },"#,
    ];
    for step in unsound {
        let column = step.find('|').map_or(0, |at| at + 1);
        let expected = format!("[maybe-unknown] t.toml:6:{column}: `air` may not be known here");
        assert_eq!(after_read(&step.replacen('|', "", 1)), [expected], "{step}");
    }
}

#[test]
fn what_rests_on_it_is_known_with_it() {
    sound(
        r#"
{ id = "air", when = "kind == 'bladder'", read = "pressure", ask = "?" },
{ id = "more", compute = "air + 2 psi" },
{ tell = "{more}" },
{ when = "known(air)", do = "{more}" },
{ when = "known(more)", do = "{more} {air}" },
"#,
    );
    unsound(
        r#"
{ id = "air", when = "kind == 'bladder'", read = "pressure", ask = "?" },
{ id = "more", compute = "air + 2 psi" },
{ do = "{more}" },
"#,
        &["[maybe-unknown] t.toml:7:10: `more` may not be known here"],
    );
}

#[test]
fn a_step_that_waits_for_its_name_in_vain_is_shown() {
    let never = |column: usize| {
        format!("[never-known] t.toml:6:{column}: `air` is never known here, so the step is always left out")
    };
    for step in [
        r#"{ when = "kind == 'plain'", tell = "{|air}" },"#,
        r#"{ when = "not known(air)", tell = "{|air}" },"#,
        r#"{ when = "kind != 'bladder'", check = "|air > 2 psi" },"#,
        r#"{ when = "kind != 'bladder' and |air > 2 psi", do = "x" },"#,
    ] {
        let column = step.find('|').map_or(0, |at| at + 1);
        assert_eq!(after_read(&step.replacen('|', "", 1)), [never(column)], "{step}");
    }
}

/// Each part of an `and` is looked at where those before it hold.
#[test]
fn what_a_condition_asks_for_first_is_known_in_the_rest_of_it() {
    let sound = [
        r#"{ when = "kind == 'bladder' and (lever or air > 2 psi)", do = "x" },"#,
        r#"{ when = "kind == 'bladder' and not (lever and air > 2 psi)", do = "x" },"#,
    ];
    for step in sound {
        assert_eq!(after_read(step), Vec::<String>::new(), "{step}");
    }
    let step = r#"{ when = "(lever or |air > 2 psi) and kind == 'bladder'", do = "x" },"#;
    let column = step.find('|').map_or(0, |at| at + 1);
    let expected = format!("[maybe-unknown] t.toml:6:{column}: `air` may not be known here");
    assert_eq!(after_read(&step.replacen('|', "", 1)), [expected]);
}
