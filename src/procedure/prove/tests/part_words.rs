//! What is wrong with a head, and what a part did, in words.

use super::parts::{USE, all_of};

/// Every fault of a head, with its reason and what to do.
#[test]
fn what_a_head_says_wrongly_is_shown_in_words() {
    let shown = |head: &str, part: &str, steps: &str| -> Vec<[String; 3]> {
        let words = |text: &Option<String>| text.clone().unwrap_or_default();
        let faults = all_of(head, part, steps);
        faults.iter().map(|fault| [fault.message.clone(), words(&fault.why), words(&fault.remedy)]).collect()
    };
    let brought = "bring it about on every path, or write when: ";
    let given = "write `maybe` before its kind, or let every path answer it";
    let table: [(&str, &str, [String; 3]); 5] = [
        (
            "brings = [\"emptied\"]",
            "{ do = \"x\" },",
            [
                "`emptied` may not hold at the end of this part".into(),
                "It means: No water is left. No step of the part brings it about.".into(),
                format!("{brought}\"emptied if …\""),
            ],
        ),
        (
            "brings = [\"off\"]",
            "{ when = \"lever\", do = \"x\", brings = [\"off\"] },",
            [
                "`off` may not hold at the end of this part".into(),
                "It means: The pump is off. `do_it_1` brings it about only when `lever` (it.toml:6).".into(),
                format!("{brought}\"off if …\""),
            ],
        ),
        (
            "needs = [\"emptied\"]",
            "{ when = \"lever\", do = \"x\", undoes = [\"emptied\"] },",
            [
                "this part may end `emptied`, and its head does not say so".into(),
                "It means: No water is left. `do_it_1` ends it (it.toml:6).".into(),
                "add \"emptied\" to the `undoes` at the top, with `if …` where it is only sometimes".into(),
            ],
        ),
        (
            "gives = { air = \"pressure\" }",
            "{ id = \"air\", when = \"lever\", read = \"pressure\", ask = \"?\" },",
            [
                "`air` may have no value at the end of this part".into(),
                "`air` is only answered when `lever` (it.toml:6), and this place does not ask for that."
                    .into(),
                given.into(),
            ],
        ),
        (
            "gives = { held = \"volume\" }",
            "{ id = \"held\", compute = \"water_held(size, 28 psi, 50 psi)\" },",
            [
                "`held` may have no value at the end of this part".into(),
                "`water_held` gives no result outside its range.".into(),
                given.into(),
            ],
        ),
    ];
    let found: Vec<_> = table.iter().map(|(head, part, _)| shown(head, part, USE)).collect();
    let expected: Vec<_> = table.iter().map(|(.., words)| vec![words.clone()]).collect();
    assert_eq!(found, expected);
}

/// What a part did to a state is told where it is needed.
#[test]
fn a_state_that_a_part_left_open_names_the_part() {
    let why = |head: &str, part: &str, before: &str| {
        let steps = format!("{before}\n{USE}\n{{ do = \"x\", needs = [\"emptied\"] }},");
        all_of(head, part, &steps).into_iter().map(|fault| fault.why.unwrap_or_default()).collect::<Vec<_>>()
    };
    let (brings, undoes) =
        (r#"{ do = "x", brings = ["emptied"] },"#, r#"{ do = "x", undoes = ["emptied"] },"#);
    assert_eq!(
        why(r#"brings = ["emptied if lever"]"#, brings, ""),
        ["It means: No water is left. `it` brings it about only when `lever` (t.toml:6)."]
    );
    assert_eq!(
        why(r#"undoes = ["emptied"]"#, undoes, brings),
        ["It means: No water is left. `it` ends it (t.toml:6)."]
    );
    assert_eq!(
        why(r#"needs = ["off"]"#, r#"{ do = "x", needs = ["off"] },"#, r#"{ do = "x", brings = ["off"] },"#),
        ["It means: No water is left. No step before this one brings it about."]
    );
}
