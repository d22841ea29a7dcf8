//! What a check, a word, a stand-in or a fact proves of a name.

use super::{faults, sound};

/// A fact of yes or no is certain; what was worked out of readings may only not have failed.
#[test]
fn a_check_of_a_name_proves_it_when_it_is_a_fact() {
    let with = |name: &str| {
        faults(&format!(
            r#"
{{ id = "good", check = "size > 2 gal" }},
{{ id = "air", when = "{name}", read = "pressure", ask = "?" }},
{{ check = "{name}", must = true }},
{{ do = "{{air}}" }},
"#
        ))
    };
    assert_eq!(with("lever"), Vec::<String>::new());
    let unknown = ["[maybe-unknown] t.toml:8:10: `air` may not be known here"];
    assert_eq!(with("good"), unknown);
    assert_eq!(with("size > 2 gal"), unknown);
    assert_eq!(with("if lever then size > 2 gal else size > 3 gal"), unknown);
    assert_eq!(with("kind == 'plain'"), Vec::<String>::new());
    assert_eq!(with("not lever"), Vec::<String>::new());
}

/// A name that is one word is no other, and what it is not leaves the others.
#[test]
fn one_word_rules_out_the_others() {
    let with = |asked: &str, shown: &str| {
        faults(&format!(
            r#"
{{ id = "now", choose = ["a", "b", "c"], ask = "?" }},
{{ id = "air", when = "{asked}", read = "pressure", ask = "?" }},
{{ when = "{shown}", do = "{{air}}" }},
"#
        ))
    };
    let unknown =
        |column: u32| vec![format!("[maybe-unknown] t.toml:7:{column}: `air` may not be known here")];
    assert_eq!(with("now != 'b'", "now == 'a'"), Vec::<String>::new());
    assert_eq!(with("now != 'b' and now != 'c'", "now == 'a'"), Vec::<String>::new());
    assert_eq!(with("now != 'b'", "now == 'b'"), unknown(31));
    assert_eq!(with("now == 'a'", "now != 'b'"), unknown(31));
}

/// What stands in for an answer must be known itself, and proves nothing of it.
#[test]
fn what_stands_in_for_an_answer_must_be_known() {
    const READ_TWO: &str = r#"
{ id = "air", when = "lever", read = "pressure", ask = "?" },
{ id = "old", when = "lever", read = "pressure", ask = "?" },"#;
    let with = |step: &str| faults(&format!("{READ_TWO}\n{step}"));
    assert_eq!(with(r#"{ do = "{air otherwise 2 psi}" },"#), Vec::<String>::new());
    assert_eq!(with(r#"{ do = "{air otherwise old otherwise 2 psi}" },"#), Vec::<String>::new());
    let table = [
        (r#"{ do = "{air otherwise old}" },"#, vec![(24, "old")]),
        (r#"{ do = "{max(old, air otherwise 2 psi)}" },"#, vec![(14, "old")]),
        (r#"{ check = "(air otherwise 2 psi) > 1 psi and air > 1 psi" },"#, vec![(46, "air")]),
    ];
    for (step, unknown) in table {
        let expected: Vec<String> = unknown
            .into_iter()
            .map(|(column, name)| {
                format!("[maybe-unknown] t.toml:7:{column}: `{name}` may not be known here")
            })
            .collect();
        assert_eq!(with(step), expected, "{step}");
    }
}

/// A round is no other tank.
#[test]
fn a_fact_about_the_tank_is_the_same_in_every_round() {
    sound(
        r#"
{ id = "air", when = "size > 9 gal", read = "pressure", ask = "?" },
{ repeat = { until = "lever", at_most = 2 }, step = [{ when = "size > 9 gal", do = "{air}" }] },
{ when = "size > 9 gal", do = "{air}" },
"#,
    );
}
