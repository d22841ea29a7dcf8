//! What parts take and give: whether it has a value.

use super::parts::{Parts, SOUND, USE, used};
use super::{found_beside, in_short};

const HELD: &str = r#"{ id = "held", compute = "water_held(size, 28 psi, 50 psi)" },"#;

#[test]
fn what_decides_in_a_part_must_be_given_a_value() {
    let with = |part: &str| used(r#"takes = { held = "volume" }"#, part, &format!("{HELD}\n{USE}"));
    let decides = [
        r#"{ when = "held > 2 gal", do = "x" },"#,
        r#"{ wait = "if held > 2 gal then 1 min else 2 min" },"#,
        r#"{ repeat = { until = "held > 2 gal", at_most = 2 }, step = [{ do = "x" }] },"#,
    ];
    for part in decides {
        assert_eq!(
            with(part),
            ["[given-perhaps] t.toml:6:9: `it` takes `held`, which may have no value here"],
            "{part}"
        );
    }
    let tells = [
        r#"{ do = "{held}" },"#,
        r#"{ check = "held > 2 gal" },"#,
        r#"{ when = "known(held) and held > 2 gal", do = "x" },"#,
        // Without a value it is not called for.
        r#"{ id = "twice", compute = "held * 2" }, { when = "twice > 2 gal", do = "x" },"#,
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
        ["[given-perhaps] t.toml:6:9: `it` takes `held`, which may have no value here"]
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
    let (decides, tells) = (r#"{ when = "lever or both > 2 gal", do = "x" },"#, r#"{ do = "{both}" },"#);
    let without = ["[maybe-unknown] t.toml:7:20: `both` may have no value here"];
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
        ["[given-perhaps] t.toml:6:9: `it` takes `seen`, which may have no value here"]
    );
}

/// A word that is given decides what else is taken and given.
#[test]
fn the_terms_of_a_part_hang_on_the_words_it_is_given() {
    let head = r#"takes = { brief = { kind = "yes/no", usual = "no" }, held = { kind = "volume", when = "not brief" } }
gives = { both = { kind = "volume", when = "brief" } }"#;
    let part =
        r#"{ when = "not brief", do = "{held}" }, { id = "both", when = "brief", compute = "2 gal" },"#;
    let brief = r#"{ use = "it", with = { brief = "yes" } },"#;
    let known = r#"{ id = "held", compute = "1 gal" },"#;
    let both = r#"{ do = "{both}" },"#;
    assert_eq!(used(head, part, &format!("{brief}\n{both}")), SOUND);
    assert_eq!(used(head, part, &format!("{known}\n{USE}")), SOUND);
    assert_eq!(
        used(head, part, USE),
        ["[not-given] t.toml:5:9: `it` takes `held`, and nothing named `held` stands before this place"]
    );
    assert_eq!(used(head, part, &format!("{known}\n{USE}\n{both}")).len(), 1);
    let strange = head.replace("when = \"brief\"", "when = \"briefly\"");
    assert!(used(&strange, part, brief).iter().any(|fault| fault.contains("briefly")));
}
