//! Parts by themselves, and what their heads say where they are used.

use super::{REST, found_beside, in_short};
use crate::procedure::{Texts, UnreadableText};
use crate::source::{Fault, SourceText};

/// Parts by name: head and steps of each, the head on line 4, the steps from line 6 on.
pub(super) struct Parts<'a>(pub &'a [(&'a str, &'a str, &'a str)]);

impl Texts for Parts<'_> {
    fn text(&self, of: &str) -> Option<Result<SourceText, UnreadableText>> {
        let (name, head, steps) = self.0.iter().find(|(name, ..)| *name == of)?;
        let text = format!("format = 1\ntitle = \"t\"\npurpose = \"p\"\n{head}\nstep = [\n{steps}\n{REST}");
        Some(Ok(SourceText::new(format!("{name}.toml"), text)))
    }

    fn names(&self) -> Vec<String> {
        self.0.iter().map(|(name, ..)| name.to_string()).collect()
    }
}

pub(super) const USE: &str = r#"{ use = "it" },"#;

/// The faults of steps, from line 5 on, among which the part `it` is used.
pub(super) fn all_of(head: &str, part: &str, steps: &str) -> Vec<Fault> {
    found_beside(&Parts(&[("it", head, part)]), &format!("\n{steps}\n"))
}

/// The same in short.
pub(super) fn used(head: &str, part: &str, steps: &str) -> Vec<String> {
    in_short(&all_of(head, part, steps))
}

pub(super) const SOUND: [&str; 0] = [];

#[test]
fn a_part_may_need_a_state_at_times() {
    let head = r#"needs = ["emptied if lever"]"#;
    let part = r#"{ when = "lever", do = "x", needs = ["emptied"] },"#;
    let with = |before: &str| used(head, part, &format!("{before}\n{USE}"));
    assert_eq!(with(r#"{ do = "x", brings = ["emptied"] },"#), SOUND);
    assert_eq!(with(r#"{ when = "lever", do = "x", brings = ["emptied"] },"#), SOUND);
    let missing = ["[needs-state] t.toml:6:9: `emptied` may not hold here"];
    assert_eq!(with(r#"{ when = "not lever", do = "x", brings = ["emptied"] },"#), missing);
    assert_eq!(with(r#"{ do = "x", brings = ["off"] },"#), missing);
    let always = r#"{ do = "x", needs = ["emptied"] },"#;
    let brought = format!("{{ do = \"x\", brings = [\"emptied\"] }},\n{USE}");
    assert_eq!(used(head, always, &brought), ["[needs-state] it.toml:6:22: `emptied` may not hold here"]);
    assert_eq!(used(r#"needs = ["emptied"]"#, always, &brought), SOUND);
}

#[test]
fn a_part_brings_what_its_head_says() {
    let at_times = r#"{ when = "lever", do = "x", brings = ["emptied"] },"#;
    let always = r#"{ do = "x", brings = ["emptied"] },"#;
    let with = |head: &str, part: &str, when: &str| {
        used(head, part, &format!("{USE}\n{{ when = \"{when}\", do = \"x\", needs = [\"emptied\"] }},"))
    };
    let (sometimes, surely) = (r#"brings = ["emptied if lever"]"#, r#"brings = ["emptied"]"#);
    for part in [at_times, always] {
        assert_eq!(with(sometimes, part, "lever"), SOUND);
        assert_eq!(
            with(sometimes, part, "not lever"),
            ["[needs-state] t.toml:6:42: `emptied` may not hold here"]
        );
    }
    assert_eq!(with(surely, always, "not lever"), SOUND);
    for (head, column) in [(surely, 11), (r#"brings = ["emptied if not lever"]"#, 12)] {
        let message = "`emptied` may not hold at the end of this part";
        assert_eq!(with(head, at_times, "lever"), [format!("[not-brought] it.toml:4:{column}: {message}")]);
    }
}

#[test]
fn a_part_ends_what_its_head_says() {
    let (always, at_times) =
        (r#"{ do = "x", undoes = ["emptied"] },"#, r#"{ when = "lever", do = "x", undoes = ["emptied"] },"#);
    let with = |head: &str, part: &str, when: &str| {
        let before = r#"{ do = "x", brings = ["emptied"] },"#;
        let after = format!("{{ when = \"{when}\", do = \"x\", needs = [\"emptied\"] }},");
        used(head, part, &format!("{before}\n{USE}\n{after}"))
    };
    let (sometimes, surely) = (r#"undoes = ["emptied if lever"]"#, r#"undoes = ["emptied"]"#);
    let ended = ["[needs-state] t.toml:7:42: `emptied` may not hold here"];
    let unsaid = ["[not-undone] it.toml:2:1: this part may end `emptied`, and its head does not say so"];
    assert_eq!(with(sometimes, at_times, "not lever"), SOUND);
    assert_eq!(with(surely, at_times, "not lever"), ended);
    assert_eq!(with(surely, always, "not lever"), ended);
    assert_eq!(with(sometimes, always, "not lever"), unsaid);
    assert_eq!(with(r#"undoes = ["off", "emptied if not lever"]"#, at_times, "not lever"), unsaid);
    assert_eq!(
        with(r#"brings = ["off"]"#, &format!("{always}{{ do = \"x\", brings = [\"off\"] }},"), "lever"),
        unsaid
    );
    let again = format!("{always}{{ do = \"x\", brings = [\"emptied\"] }},");
    for head in ["", r#"brings = ["emptied"]"#, sometimes] {
        assert_eq!(with(head, &again, "not lever"), SOUND, "{head}");
    }
}

/// A word that is taken is one of those that the head lists.
#[test]
fn every_word_of_what_a_part_takes_makes_it_certain() {
    let head = "takes = { now = [\"a\", \"b\"] }\nbrings = [\"emptied\"]";
    let step = |word: &str| format!("{{ when = \"now == '{word}'\", do = \"x\", brings = [\"emptied\"] }},");
    let steps = format!("{{ id = \"now\", choose = [\"a\", \"b\"], ask = \"?\" }},\n{USE}");
    assert_eq!(used(head, &(step("a") + &step("b")), &steps), SOUND);
    assert_eq!(
        used(head, &step("a"), &steps),
        ["[not-brought] it.toml:5:11: `emptied` may not hold at the end of this part"]
    );
}

/// What follows from a name may be of an earlier round.
#[test]
fn what_a_part_gives_in_a_round_proves_nothing_of_another() {
    let seen = r#"{ id = "seen", write = "text", ask = "?", skip = true },"#;
    let steps = r#"{ repeat = { until = "lever", at_most = 3 }, step = [
  { id = "now", choose = ["a", "b"], ask = "?" },
  { when = "now == 'a'", repeat = { until = "lever", at_most = 3 }, step = [{ use = "it" }] },
  { id = "air", when = "now == 'a'", read = "pressure", ask = "?" },
  { when = "known(seen)", do = "{air}" },
] },"#;
    assert_eq!(
        used(r#"gives = { seen = "maybe text" }"#, seen, steps),
        ["[maybe-unknown] t.toml:9:34: `air` may not be known here"]
    );
}

/// Whether a part stands in a round decides what its answers prove.
#[test]
fn an_answer_in_a_part_is_that_of_its_round() {
    let head = r#"undoes = ["emptied"]"#;
    let part = r#"{ id = "seen", write = "text", ask = "?", skip = true, brings = ["emptied"] },
{ when = "known(seen)", do = "x", needs = ["emptied"] },
{ do = "x", undoes = ["emptied"] },"#;
    assert_eq!(used(head, part, USE), SOUND);
    assert_eq!(used(head, part, r#"{ each = "tank", step = [{ use = "it" }] },"#), SOUND);
    assert_eq!(
        used(
            head,
            part,
            r#"{ repeat = { until = "lever", at_most = 3 }, step = [{ use = "it" }, { do = "y" }] },"#
        ),
        ["[needs-state] it.toml:7:44: `emptied` may not hold here"]
    );
}

/// Steps behind a part that certainly ends the work.
#[test]
fn a_part_may_end_the_work() {
    let head = r#"brings = ["off"]"#;
    let with = |when: &str| {
        let part = format!("{{ do = \"x\", brings = [\"off\"] }},\n{{ {when}stop = \"x\" }},");
        used(head, &part, &format!("{USE}\n{{ do = \"y\" }},"))
    };
    assert_eq!(with("when = \"lever\", "), SOUND);
    assert_eq!(with(""), ["[unreachable] t.toml:6:1: this step can never be reached"]);
}
