//! What may be typed at each sort of question, what is refused and why, and what the engine then
//! knows: whole procedures, driven from outside.

mod support;

use std::time::Duration;

use support::Played;
use tankhand::engine::{AnswerKind, Ask, Refusal, RunInput};
use tankhand::quantity::Units;

/// What becomes of an answer at the first question: what the record has, or why not.
fn answered(steps: &str, system: &str, typed: &str) -> String {
    match Played::of(steps, system).take(RunInput::Answer(typed)) {
        Ok(entries) => {
            let entry = &entries[0];
            let unit = entry.unit.as_deref().map_or(String::new(), |unit| format!(" {unit}"));
            let value = entry.value.map_or(String::new(), |value| format!(" = {value}{unit}"));
            format!("{}{value}", entry.given.as_deref().unwrap_or("-"))
        }
        Err(Refusal::Again(why)) => format!("again: {why}"),
        Err(Refusal::Unusual(why)) => format!("doubt: {why}"),
    }
}

#[track_caller]
fn all_answered(steps: &str, system: &str, table: &[(&str, &str)]) {
    for (typed, expected) in table {
        assert_eq!(answered(steps, system, typed), *expected, "for `{typed}`");
    }
}

#[test]
fn a_choice_is_its_word_its_number_or_the_start_of_its_word() {
    let steps = "step = [{ id = \"jar\", choose = [\"clear\", \"cloudy\", \"dirty\"], ask = \"Jar\" }]";
    let refused = "again: Answer clear, cloudy or dirty.";
    let table = [
        ("clear", "clear"),
        ("CLOUDY", "cloudy"),
        ("1", "clear"),
        ("3", "dirty"),
        ("d", "dirty"),
        ("clo", "cloudy"),
        ("cl", refused),
        ("0", refused),
        ("4", refused),
        ("", refused),
        ("x", refused),
    ];
    all_answered(steps, "", &table);
}

#[test]
fn a_yes_or_no_is_either_word_or_its_letter() {
    let steps = "fact = [{ id = \"valve\", kind = \"yes/no\", ask = \"Valve?\" }]\n\
                 step = [{ id = \"seen\", do = \"Look at it.\", when = \"valve\" }]";
    let refused = "again: Answer yes or no.";
    let table = [
        ("y", "yes"),
        ("YES", "yes"),
        ("n", "no"),
        ("No", "no"),
        ("maybe", refused),
        ("", refused),
        ("1", refused),
    ];
    all_answered(steps, "", &table);
}

#[test]
fn what_is_to_be_done_is_told_as_done() {
    let refused = "again: Press Enter when it is done; `note` adds a remark.";
    let table = [
        ("", ""),
        ("done", "done"),
        ("OK", "OK"),
        ("y", "y"),
        ("yes", "yes"),
        ("no", refused),
        ("not yet", refused),
    ];
    all_answered("step = [{ id = \"a\", do = \"Drain it.\" }]", "", &table);
}

#[test]
fn a_text_has_its_length_and_a_date_its_form() {
    let text = "step = [{ id = \"a\", write = \"text\", ask = \"Who?\", longest = 5 }]";
    let table = [
        ("äöüßé", "äöüßé"),
        ("abcdef", "again: That is longer than 5 characters; say it shorter."),
        ("", "again: Nothing was typed."),
    ];
    all_answered(text, "", &table);
    let date = "step = [{ id = \"a\", write = \"date\", ask = \"When?\" }]";
    let refused = "again: Write the date as year-month-day, such as 2031-04-05.";
    let table = [("2031-04-05", "2031-04-05"), ("2031-02-29", refused), ("5 April", refused)];
    all_answered(date, "", &table);
}

const LINE_GAUGE: &str = "format = 1\n[[gauge]]\nid = \"line\"\nspan = \"100 psi\"\n";

#[test]
fn a_gauge_reads_to_the_end_of_its_scale() {
    let steps = "step = [{ id = \"a\", read = \"pressure\", ask = \"Line\", gauge = \"line\" }]";
    let table = [
        ("100", "100 = 100 psi"),
        ("0", "0 = 0 psi"),
        ("6.8 bar", "6.8 bar = 6.8 bar"),
        ("101", "doubt: The line gauge only goes to 100 psi, by your system file."),
        ("7 bar", "doubt: The line gauge only goes to 100 psi, by your system file."),
    ];
    all_answered(steps, LINE_GAUGE, &table);
}

#[test]
fn both_ends_of_what_can_be_and_of_what_is_usual_belong_to_it() {
    let steps = "step = [{ id = \"a\", read = \"pressure\", ask = \"Air\", between = [\"5 psi\", \"80 psi\"], \
                 expect = [\"20 psi\", \"60 psi\"] }]";
    let unusual = |shown: &str| format!("doubt: {shown} would be unusual here; 20 psi to 60 psi is usual.");
    let never = |shown: &str| format!("again: {shown} is outside what can be: 5 psi to 80 psi.");
    let table = [
        ("20", "20 = 20 psi".to_string()),
        ("60", "60 = 60 psi".to_string()),
        ("19.9", unusual("19.9 psi")),
        ("60.1", unusual("60.1 psi")),
        ("5", unusual("5 psi")),
        ("80", unusual("80 psi")),
        ("4.9", never("4.9 psi")),
        ("80.1", never("80.1 psi")),
    ];
    for (typed, expected) in table {
        assert_eq!(answered(steps, "", typed), expected, "for `{typed}`");
    }
}

#[test]
fn the_usual_word_stands_where_a_fact_is_not_called_for() {
    for (usual, expected) in [("yes", "It is there."), ("no", "It is missing.")] {
        let steps = format!(
            "[[fact]]\nid = \"valve\"\nkind = \"yes/no\"\nask = \"Is there a valve?\"\n\
             [[fact]]\nid = \"tested\"\nkind = \"yes/no\"\nask = \"Was it tested?\"\nwhen = \"valve\"\n\
             usual = \"{usual}\"\n\
             [[step]]\nwhen = \"tested\"\ndo = \"It is there.\"\n[[step]]\nwhen = \"not tested\"\ndo = \"It is missing.\"\n"
        );
        let mut run = Played::of(&steps, "");
        run.answer("no");
        assert_eq!(run.ask().unwrap().text, expected);
    }
}

#[test]
fn a_wait_is_as_long_as_it_is_worked_out_to_be_and_a_week_at_most() {
    for (length, seconds) in [("15 min", 900), ("0 s", 0), ("7 day", 604_800), ("30 day", 604_800)] {
        let run = Played::of(&format!("step = [{{ id = \"a\", wait = \"{length}\", ask = \"Wait.\" }}]"), "");
        let expected = AnswerKind::WaitBegins(Duration::from_secs(seconds));
        assert_eq!(run.ask().unwrap().expects, expected, "{length}");
    }
}

#[test]
fn a_question_says_in_which_rounds_it_stands() {
    let steps = r#"
[[step]]
id = "all"
each = "tank"
[[step.step]]
id = "flush"
repeat = { until = "jar == 'clear'", at_most = 3 }
[[step.step.step]]
id = "jar"
choose = ["clear", "dirty"]
ask = "Jar"
"#;
    let system = "format = 1\n[[tank]]\nid = \"cellar\"\n[[tank]]\nid = \"shed\"\n";
    let mut run = Played::of(steps, system);
    let mut seen = Vec::new();
    for answer in ["dirty", "clear", "clear"] {
        let Ask { place, rounds, .. } = run.ask().unwrap();
        seen.push(format!("{:?} {}", place.round, rounds.join(", ")));
        run.answer(answer);
    }
    assert_eq!(
        seen,
        ["[1, 1] tank cellar, round 1", "[1, 2] tank cellar, round 2", "[2, 1] tank shed, round 1"]
    );
    assert!(run.ask().is_none());
}

/// A result is explained at whatever sort of question shows it.
#[test]
fn what_a_question_shows_can_be_explained() {
    let asks = [
        "do = \"Set {target}.\"",
        "do = \"Set it.\", see = \"It reads {target}.\"",
        "read = \"pressure\", ask = \"Beside {target}?\"",
        "choose = [\"above\", \"below\"], ask = \"Of {target}?\"",
        "write = \"text\", ask = \"Why {target}?\"",
        "wait = \"1 min\", ask = \"For {target}.\"",
        "do = \"Set it.\", why = \"It should be {target}.\"",
        "do = \"Set it.\", how = \"Aim at {target}.\"",
    ];
    for ask in asks {
        let steps = format!(
            "step = [{{ id = \"target\", compute = \"40 psi - 2 psi\" }}, {{ id = \"asked\", {ask} }}]"
        );
        let run = Played::of(&steps, "");
        let shown: Vec<String> = run
            .derivation()
            .iter()
            .map(|one| format!("{} {}", one.step, one.how.result.as_ref().unwrap().shown(Units::Us)))
            .collect();
        assert_eq!(shown, ["target 38 psi"], "{ask}");
    }
}

/// What a question is made of, besides its text.
#[test]
fn a_question_has_all_that_its_step_says() {
    let steps = r#"
fact = [{ id = "size", kind = "volume", ask = "Size", why = "It limits the charge." }]
step = [
  { id = "off", do = "Off.", hazards = ["cords"], see = "The lamp is out.", why = "Of {size}.", how = "By {size}." },
  { id = "air", read = "pressure", ask = "Air", times = 3, skip = true },
  { id = "jar", choose = ["clear", "dirty"], ask = "Jar" },
]
"#;
    let mut run = Played::of(steps, "");
    let seen = |run: &Played| {
        let ask = run.ask().unwrap();
        let texts = [ask.see, ask.why, ask.how, ask.earlier, ask.section].map(Option::unwrap_or_default);
        let warned: Vec<String> = ask.warned.iter().map(|warning| warning.text.replace('\n', " ")).collect();
        let warned = warned.join(" ");
        format!(
            "{} of {}, {} {}: {warned}{}",
            ask.text,
            ask.takes,
            ask.can_skip,
            ask.can_back,
            texts.join("|")
        )
    };
    let first = "What must be known first";
    assert_eq!(seen(&run), format!("Size of 1, false false: |It limits the charge.|||{first}"));
    let off = format!("Off. of 1, false true: The lamp is out.|Of 20 gal.|By 20 gal.||{first}");
    let cords = "SHOCK FROM CORDS IN A WET PLACE: a compressor or lamp stands where it is wet. A damaged cord can \
                 kill. Use a GFCI-protected outlet. Keep plug and compressor off the wet floor. If the outlet trips, \
                 do not reset it with wet hands; find out why.";
    let expected = [
        ("20", format!(" of 1, false true: {cords}||||{first}")),
        ("understood", off.clone()),
        ("done", format!("Air of 3, true true: ||||{first}")),
        ("30", format!("Air of 3, true true: ||||{first}")),
        ("31", format!("Air of 3, true true: ||||{first}")),
        ("32", format!("Jar of 1, false true: ||||{first}")),
    ];
    for (answer, expected) in expected {
        run.answer(answer);
        assert_eq!(seen(&run), expected, "after {answer}");
    }
    // An answer that was taken back is offered again; that something was done is not.
    let back = [
        format!("Air of 3, true true: |||32|{first}"),
        format!("Air of 3, true true: |||31|{first}"),
        format!("Air of 3, true true: |||30|{first}"),
        off,
        format!("Size of 1, false false: |It limits the charge.||20|{first}"),
    ];
    for expected in back {
        run.then(RunInput::Back);
        assert_eq!(seen(&run), expected);
    }
    let none = Err(Refusal::Again("There is no answer before this one.".to_string()));
    assert_eq!(run.take(RunInput::Back), none);
}
