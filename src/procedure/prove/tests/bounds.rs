//! How much of what is certain about states is followed.

use super::faults;
use super::states::{held, not_held};

/// The greatest number of cases that are followed one by one.
#[test]
fn eight_words_are_followed_one_by_one() {
    let with = |brought: usize| {
        let words: Vec<String> = ('a'..='h').map(|word| format!("\"{word}\"")).collect();
        let step = |word| format!("\n{{ when = \"now == '{word}'\", do = \"x\", brings = [\"emptied\"] }},");
        let steps: String = ('a'..='h').take(brought).map(step).collect();
        format!("{{ id = \"now\", choose = [{}], ask = \"?\" }},{steps}", words.join(", "))
    };
    held(&with(8));
    not_held(&with(7));
    not_held(&with(1));
}

/// So many conditions that hold together.
fn conditions(count: usize) -> String {
    let all: Vec<String> = (1..=count).map(|least| format!("size > {least} gal")).collect();
    all.join(" and ")
}

/// The largest guard that is kept.
#[test]
fn twelve_conditions_are_followed_together() {
    for (count, followed) in [(12, true), (13, false)] {
        let steps = format!(
            r#"
{{ when = "{0}", do = "x", brings = ["emptied"] }},
{{ when = "{0}", do = "x", needs = ["emptied"] }},
"#,
            conditions(count)
        );
        assert_eq!(faults(&steps).is_empty(), followed, "{count}");
    }
}

/// Of a step that ends a state under four conditions it is known that it leaves it where one does not hold.
#[test]
fn an_end_under_four_conditions_is_followed() {
    for (count, followed) in [(1, true), (4, true), (5, false)] {
        let steps = format!(
            r#"
{{ do = "x", brings = ["emptied"] }},
{{ when = "{}", do = "x", undoes = ["emptied"] }},
{{ when = "size <= {count} gal", do = "x", needs = ["emptied"] }},
"#,
            conditions(count)
        );
        assert_eq!(faults(&steps).is_empty(), followed, "{count}");
    }
}

/// What was brought about where an end cannot be stays, under however many conditions it ends.
#[test]
fn an_end_leaves_what_cannot_hold_with_it() {
    let with = |brought: &str| {
        faults(&format!(
            r#"
{{ when = "{brought}", do = "x", brings = ["emptied"] }},
{{ when = "{} and kind == 'plain'", do = "x", undoes = ["emptied"] }},
{{ when = "{brought}", do = "x", needs = ["emptied"] }},
"#,
            conditions(5)
        ))
    };
    assert_eq!(with("size <= 3 gal"), Vec::<String>::new());
    assert_eq!(with("kind == 'bladder'"), Vec::<String>::new());
    assert_eq!(with("size <= 6 gal").len(), 1);
    assert_eq!(with("lever").len(), 1);
}

/// A round may find what the one before has ended, also where it is all that the round does.
#[test]
fn a_round_of_one_step_is_followed_by_another() {
    let with = |done: &str| {
        faults(&format!(
            r#"
{{ do = "x", brings = ["emptied"] }},
{{ repeat = {{ until = "lever", at_most = 2 }}, step = [{{ do = "x", needs = ["emptied"], {done} = ["emptied"] }}] }},
"#
        ))
    };
    assert_eq!(with("brings"), Vec::<String>::new());
    assert_eq!(with("undoes"), ["[needs-state] t.toml:6:75: `emptied` may not hold here"]);
}
