//! Parts by themselves, and what their heads say where they are used.

use super::{REST, found_beside, in_short};
use crate::procedure::{Texts, UnreadableText};
use crate::source::{Fault, SourceText};

/// Parts by name: head and steps of each, the head on line 4, the steps from line 6 on.
struct Parts<'a>(&'a [(&'a str, &'a str, &'a str)]);

impl Texts for Parts<'_> {
    fn text(&self, wanted: &str) -> Option<Result<SourceText, UnreadableText>> {
        let (name, head, steps) = self.0.iter().find(|(name, ..)| *name == wanted)?;
        let text = format!("format = 1\ntitle = \"t\"\npurpose = \"p\"\n{head}\nstep = [\n{steps}\n{REST}");
        Some(Ok(SourceText::new(format!("{name}.toml"), text)))
    }

    fn names(&self) -> Vec<String> {
        self.0.iter().map(|(name, ..)| name.to_string()).collect()
    }
}

const USE: &str = r#"{ use = "it" },"#;

/// The faults of steps, from line 5 on, among which the part `it` is used.
fn all_of(head: &str, part: &str, steps: &str) -> Vec<Fault> {
    found_beside(&Parts(&[("it", head, part)]), &format!("\n{steps}\n"))
}

/// The same in short.
fn used(head: &str, part: &str, steps: &str) -> Vec<String> {
    in_short(&all_of(head, part, steps))
}

const SOUND: [&str; 0] = [];

#[test]
fn a_part_may_need_a_state_at_times() {
    let head = r#"needs = ["drained if lever"]"#;
    let part = r#"{ when = "lever", do = "x", needs = ["drained"] },"#;
    let with = |before: &str| used(head, part, &format!("{before}\n{USE}"));
    assert_eq!(with(r#"{ do = "x", brings = ["drained"] },"#), SOUND);
    assert_eq!(with(r#"{ when = "lever", do = "x", brings = ["drained"] },"#), SOUND);
    let missing = ["[needs-state] t.toml:6:1: `drained` may not hold here"];
    assert_eq!(with(r#"{ when = "not lever", do = "x", brings = ["drained"] },"#), missing);
    assert_eq!(with(r#"{ do = "x", brings = ["off"] },"#), missing);
    let always = r#"{ do = "x", needs = ["drained"] },"#;
    let brought = format!("{{ do = \"x\", brings = [\"drained\"] }},\n{USE}");
    assert_eq!(used(head, always, &brought), ["[needs-state] it.toml:6:22: `drained` may not hold here"]);
    assert_eq!(used(r#"needs = ["drained"]"#, always, &brought), SOUND);
}

#[test]
fn a_part_brings_what_its_head_says() {
    let at_times = r#"{ when = "lever", do = "x", brings = ["drained"] },"#;
    let always = r#"{ do = "x", brings = ["drained"] },"#;
    let with = |head: &str, part: &str, when: &str| {
        used(head, part, &format!("{USE}\n{{ when = \"{when}\", do = \"x\", needs = [\"drained\"] }},"))
    };
    let (sometimes, surely) = (r#"brings = ["drained if lever"]"#, r#"brings = ["drained"]"#);
    for part in [at_times, always] {
        assert_eq!(with(sometimes, part, "lever"), SOUND);
        assert_eq!(
            with(sometimes, part, "not lever"),
            ["[needs-state] t.toml:6:42: `drained` may not hold here"]
        );
    }
    assert_eq!(with(surely, always, "not lever"), SOUND);
    for (head, column) in [(surely, 11), (r#"brings = ["drained if not lever"]"#, 12)] {
        let message = "`drained` may not hold at the end of this part";
        assert_eq!(with(head, at_times, "lever"), [format!("[not-brought] it.toml:4:{column}: {message}")]);
    }
}

#[test]
fn a_part_ends_what_its_head_says() {
    let (always, at_times) =
        (r#"{ do = "x", undoes = ["drained"] },"#, r#"{ when = "lever", do = "x", undoes = ["drained"] },"#);
    let with = |head: &str, part: &str, when: &str| {
        let before = r#"{ do = "x", brings = ["drained"] },"#;
        let after = format!("{{ when = \"{when}\", do = \"x\", needs = [\"drained\"] }},");
        used(head, part, &format!("{before}\n{USE}\n{after}"))
    };
    let (sometimes, surely) = (r#"undoes = ["drained if lever"]"#, r#"undoes = ["drained"]"#);
    let ended = ["[needs-state] t.toml:7:42: `drained` may not hold here"];
    let unsaid = ["[not-undone] it.toml:2:1: this part may end `drained`, and its head does not say so"];
    assert_eq!(with(sometimes, at_times, "not lever"), SOUND);
    assert_eq!(with(surely, at_times, "not lever"), ended);
    assert_eq!(with(surely, always, "not lever"), ended);
    assert_eq!(with(sometimes, always, "not lever"), unsaid);
    assert_eq!(with(r#"undoes = ["off", "drained if not lever"]"#, at_times, "not lever"), unsaid);
    assert_eq!(
        with(r#"brings = ["off"]"#, &format!("{always}{{ do = \"x\", brings = [\"off\"] }},"), "lever"),
        unsaid
    );
    let again = format!("{always}{{ do = \"x\", brings = [\"drained\"] }},");
    for head in ["", r#"brings = ["drained"]"#, sometimes] {
        assert_eq!(with(head, &again, "not lever"), SOUND, "{head}");
    }
}

const LIVE: &str = r#"{ when = "lever", do = "x", danger = "Mains voltage.", brings = ["live"] },"#;
const HOT: &str = r#"{ when = "kind == 'plain'", do = "x", danger = "Hot.", brings = ["hot"] },"#;

/// Each of two hazards counts under its own condition.
#[test]
fn a_danger_shown_in_a_part_counts_where_its_state_does() {
    let head = r#"brings = ["live if lever", "hot if kind == 'plain'"]"#;
    let steps = r#"{ use = "it" },
{ when = "lever", do = "x", needs = ["live"] },
{ when = "kind == 'plain'", do = "x", needs = ["hot"] },"#;
    assert_eq!(used(head, &format!("{LIVE}{HOT}"), steps), SOUND);
    let cold = HOT.replace(r#"danger = "Hot.", "#, "");
    let dead = LIVE.replace(r#"danger = "Mains voltage.", "#, "");
    assert_eq!(
        used(head, &format!("{LIVE}{cold}"), steps),
        ["[hazard] t.toml:7:48: `hot` is a hazard, and its danger may not have been acknowledged before"]
    );
    assert_eq!(
        used(head, &format!("{dead}{HOT}"), steps),
        ["[hazard] t.toml:6:38: `live` is a hazard, and its danger may not have been acknowledged before"]
    );
}

/// A danger that a part takes for granted must have been shown before.
#[test]
fn a_danger_met_in_a_part_is_shown_before_it() {
    let meets = r#"{ do = "x", needs = ["live"] },"#;
    let outer = r#"{ use = "inner" },"#;
    let head = r#"needs = ["live"]"#;
    let shown = format!("{{ do = \"x\", danger = \"Mains voltage.\", brings = [\"live\"] }},\n{USE}");
    let unshown = shown.replace(r#"danger = "Mains voltage.", "#, "");
    for parts in [&[("it", head, meets)][..], &[("it", head, outer), ("inner", head, meets)]] {
        let with = |steps: &str| in_short(&found_beside(&Parts(parts), &format!("\n{steps}")));
        assert_eq!(with(&shown), SOUND);
        assert_eq!(
            with(&unshown),
            ["[hazard] t.toml:6:1: `live` is a hazard, and its danger may not have been acknowledged before"]
        );
        let late = format!("{unshown}\n{{ do = \"x\", danger = \"Mains voltage.\", needs = [\"live\"] }},");
        assert_eq!(
            with(&late),
            ["[hazard] t.toml:6:1: `live` is a hazard, and its danger may not have been acknowledged before"]
        );
    }
}

/// What was shown is forgotten with the state.
#[test]
fn a_part_that_ends_a_hazard_ends_that_its_danger_was_shown() {
    let head = r#"undoes = ["live"]"#;
    let part = r#"{ do = "x", undoes = ["live"] },"#;
    let with = |head: &str, part: &str, again: &str| {
        let steps = format!(
            "{{ do = \"x\", danger = \"y\", brings = [\"live\"] }},\n{USE}\n{again}\n{{ do = \"x\", needs = [\"live\"] }},"
        );
        used(head, part, &steps)
    };
    assert_eq!(
        with(head, part, r#"{ do = "x", brings = ["live"] },"#),
        ["[hazard] t.toml:8:22: `live` is a hazard, and its danger may not have been acknowledged before"]
    );
    assert_eq!(with(head, part, r#"{ do = "x", danger = "y", brings = ["live"] },"#), SOUND);
    let both = r#"undoes = ["live"]
brings = ["live"]"#;
    let back = |danger: &str| format!("{part}{{ do = \"x\", {danger}brings = [\"live\"] }},");
    assert_eq!(
        with(both, &back(""), r#"{ do = "x" },"#),
        ["[hazard] t.toml:8:22: `live` is a hazard, and its danger may not have been acknowledged before"]
    );
    assert_eq!(with(both, &back("danger = \"y\", "), r#"{ do = "x" },"#), SOUND);
    assert_eq!(with("brings = [\"off\"]", "{ do = \"x\", brings = [\"off\"] },", r#"{ do = "x" },"#), SOUND);
}

const HELD: &str = r#"{ id = "held", compute = "water_held(size, 28 psi, 50 psi)" },"#;

#[test]
fn what_decides_in_a_part_must_be_given_a_value() {
    let with = |part: &str| used(r#"takes = { held = "volume" }"#, part, &format!("{HELD}\n{USE}"));
    let decides = [
        r#"{ when = "held > 2 gal", do = "x" },"#,
        r#"{ wait = "if held > 2 gal then 1 min else 2 min" },"#,
        r#"{ repeat = { until = "held > 2 gal", at_most = 2 }, step = [{ do = "x" }] },"#,
        r#"{ id = "twice", compute = "held * 2" }, { when = "twice > 2 gal", do = "x" },"#,
    ];
    for part in decides {
        assert_eq!(
            with(part),
            ["[given-perhaps] t.toml:6:1: `it` takes `held`, which may have no value here"],
            "{part}"
        );
    }
    let tells = [
        r#"{ do = "{held}" },"#,
        r#"{ check = "held > 2 gal" },"#,
        r#"{ when = "known(held) and held > 2 gal", do = "x" },"#,
    ];
    for part in tells {
        assert_eq!(with(part), SOUND, "{part}");
    }
}

#[test]
fn what_decides_in_a_part_of_a_part_must_be_given_a_value() {
    let takes = r#"takes = { held = "volume" }"#;
    let with = |inner: &str| {
        let parts = [("it", takes, r#"{ use = "inner" },"#), ("inner", takes, inner)];
        in_short(&found_beside(&Parts(&parts), &format!("\n{HELD}\n{USE}")))
    };
    assert_eq!(
        with(r#"{ when = "held > 2 gal", do = "x" },"#),
        ["[given-perhaps] t.toml:6:1: `it` takes `held`, which may have no value here"]
    );
    assert_eq!(with(r#"{ do = "{held}" },"#), SOUND);
}

/// What the part itself works out may have no value, whatever it was given.
#[test]
fn a_part_answers_for_what_it_works_out_itself() {
    let with = |kind: &str, compute: &str, after: &str| {
        let head = format!("takes = {{ held = \"volume\" }}\ngives = {{ both = \"{kind}\" }}");
        let part = format!("{{ id = \"both\", compute = \"{compute}\" }},");
        used(&head, &part, &format!("{HELD}\n{USE}\n{after}"))
    };
    let own = "water_held(size, 28 psi, 50 psi)";
    let (decides, tells) = (r#"{ when = "both > 2 gal", do = "x" },"#, r#"{ do = "{both}" },"#);
    let without = ["[maybe-unknown] t.toml:7:11: `both` may have no value here"];
    for sum in [format!("held + {own}"), format!("{own} + held"), own.to_string()] {
        assert_eq!(
            with("volume", &sum, tells),
            ["[gives-perhaps] it.toml:5:11: `both` may have no value at the end of this part"],
            "{sum}"
        );
        assert_eq!(with("maybe volume", &sum, tells), SOUND, "{sum}");
        assert_eq!(with("maybe volume", &sum, decides), without, "{sum}");
    }
    assert_eq!(with("volume", "held * 2", tells), SOUND);
    assert_eq!(with("volume", "held * 2", decides), without);
    assert_eq!(with("volume", "if known(held) then held else size", decides), SOUND);
}

/// A part says of what it gives how certain it is.
#[test]
fn a_name_that_a_part_gives_is_as_certain_as_it_says() {
    let with = |head: &str, part: &str, after: &str| used(head, part, &format!("{USE}\n{after}"));
    let (maybe, sure) = (r#"gives = { air = "maybe pressure" }"#, r#"gives = { air = "pressure" }"#);
    let air = |more: &str| format!("{{ id = \"air\", {more}read = \"pressure\", ask = \"?\" }},");
    let show = r#"{ do = "{air}" },"#;
    let unknown = ["[maybe-unknown] t.toml:6:10: `air` may not be known here"];
    let unsure = ["[gives-perhaps] it.toml:4:11: `air` may have no value at the end of this part"];
    assert_eq!(with(sure, &air(""), show), SOUND);
    for perhaps in [air("skip = true, "), air("when = \"lever\", ")] {
        assert_eq!(with(sure, &perhaps, show), unsure);
        assert_eq!(with(maybe, &perhaps, show), unknown);
        assert_eq!(with(maybe, &perhaps, r#"{ when = "known(air)", do = "{air}" },"#), SOUND);
        let asked = format!("{perhaps}{{ check = \"known(air)\", must = true }},");
        assert_eq!(with(sure, &asked, show), SOUND);
    }
}

/// What a part takes as something that may have no value is not known in it.
#[test]
fn a_part_may_take_what_may_not_be_known() {
    let seen = r#"{ id = "seen", write = "text", ask = "?", skip = true },"#;
    let with = |kind: &str, part: &str| {
        used(&format!("takes = {{ seen = \"{kind}\" }}"), part, &format!("{seen}\n{USE}"))
    };
    let asks = r#"{ when = "known(seen)", do = "{seen}" },"#;
    assert_eq!(with("maybe text", asks), SOUND);
    assert_eq!(
        with("maybe text", r#"{ do = "{seen}" },"#),
        ["[maybe-unknown] it.toml:6:10: `seen` may not be known here"]
    );
    assert_eq!(
        with("text", asks),
        ["[given-perhaps] t.toml:6:1: `it` takes `seen`, which may have no value here"]
    );
}

/// A word that is taken is one of those that the head lists.
#[test]
fn every_word_of_what_a_part_takes_makes_it_certain() {
    let head = "takes = { now = [\"a\", \"b\"] }\nbrings = [\"drained\"]";
    let step = |word: &str| format!("{{ when = \"now == '{word}'\", do = \"x\", brings = [\"drained\"] }},");
    let steps = format!("{{ id = \"now\", choose = [\"a\", \"b\"], ask = \"?\" }},\n{USE}");
    assert_eq!(used(head, &(step("a") + &step("b")), &steps), SOUND);
    assert_eq!(
        used(head, &step("a"), &steps),
        ["[not-brought] it.toml:5:11: `drained` may not hold at the end of this part"]
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
    let head = r#"undoes = ["drained"]"#;
    let part = r#"{ id = "seen", write = "text", ask = "?", skip = true, brings = ["drained"] },
{ when = "known(seen)", do = "x", needs = ["drained"] },
{ do = "x", undoes = ["drained"] },"#;
    assert_eq!(used(head, part, USE), SOUND);
    assert_eq!(used(head, part, r#"{ each = "tank", step = [{ use = "it" }] },"#), SOUND);
    assert_eq!(
        used(head, part, r#"{ repeat = { until = "lever", at_most = 3 }, step = [{ use = "it" }] },"#),
        ["[needs-state] it.toml:7:44: `drained` may not hold here"]
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

/// Every fault of a head, with its reason and what to do.
#[test]
fn what_a_head_says_wrongly_is_told_in_words() {
    let told = |head: &str, part: &str, steps: &str| -> Vec<[String; 3]> {
        let words = |text: &Option<String>| text.clone().unwrap_or_default();
        let faults = all_of(head, part, steps);
        faults.iter().map(|fault| [fault.message.clone(), words(&fault.why), words(&fault.remedy)]).collect()
    };
    let brought = "bring it about on every path, or write when: ";
    let given = "write `maybe` before its kind, or let every path answer it";
    let table: [(&str, &str, [String; 3]); 5] = [
        (
            "brings = [\"drained\"]",
            "{ do = \"x\" },",
            [
                "`drained` may not hold at the end of this part".into(),
                "It means: No water is left. No step of the part brings it about.".into(),
                format!("{brought}\"drained if …\""),
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
            "needs = [\"drained\"]",
            "{ when = \"lever\", do = \"x\", undoes = [\"drained\"] },",
            [
                "this part may end `drained`, and its head does not say so".into(),
                "It means: No water is left. `do_it_1` ends it (it.toml:6).".into(),
                "add \"drained\" to the `undoes` at the top, with `if …` where it is only sometimes".into(),
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
    let found: Vec<_> = table.iter().map(|(head, part, _)| told(head, part, USE)).collect();
    let expected: Vec<_> = table.iter().map(|(.., words)| vec![words.clone()]).collect();
    assert_eq!(found, expected);
}

/// What a part did to a state is told where it is needed.
#[test]
fn a_state_that_a_part_left_open_names_the_part() {
    let why = |head: &str, part: &str, before: &str| {
        let steps = format!("{before}\n{USE}\n{{ do = \"x\", needs = [\"drained\"] }},");
        all_of(head, part, &steps).into_iter().map(|fault| fault.why.unwrap_or_default()).collect::<Vec<_>>()
    };
    let (brings, undoes) =
        (r#"{ do = "x", brings = ["drained"] },"#, r#"{ do = "x", undoes = ["drained"] },"#);
    assert_eq!(
        why(r#"brings = ["drained if lever"]"#, brings, ""),
        ["It means: No water is left. `it` brings it about only when `lever` (t.toml:6)."]
    );
    assert_eq!(
        why(r#"undoes = ["drained"]"#, undoes, brings),
        ["It means: No water is left. `it` ends it (t.toml:6)."]
    );
    assert_eq!(
        why(r#"needs = ["off"]"#, r#"{ do = "x", needs = ["off"] },"#, r#"{ do = "x", brings = ["off"] },"#),
        ["It means: No water is left. No step before this one brings it about."]
    );
}
