//! Findings, provenance, answers that cannot be right, and what follows when it is not so.

mod support;

use support::Played;
use tankhand::engine::{Refusal, RunInput};
use tankhand::record::{Entry, EntryKind, Grade, Provenance};

/// A run, and what is asked of it here.
struct Session(Played);

impl Session {
    fn begin(steps: &str, system: &str) -> Session {
        Session(Played::of(steps, system))
    }

    fn take(&mut self, text: &str, sure: bool) -> Result<(), Refusal> {
        let input = if sure { RunInput::Confirmed(text) } else { RunInput::Answer(text) };
        self.0.take(input).map(|_| ())
    }

    fn answers(&mut self, texts: &[&str]) -> &mut Session {
        for text in texts {
            self.0.answer(text);
        }
        self
    }

    /// What was told and recorded of a kind: the words, and what they rest on.
    fn of(&self, kind: EntryKind) -> Vec<String> {
        let words = |entry: &Entry| {
            let grade = entry.grade.map(|grade| format!("[{}]", grade.word()));
            let due = entry.due.map(tankhand::clock::Moment::date);
            let parts = [&grade, &entry.given, &entry.message(), &entry.next, &due, &entry.reason];
            parts.into_iter().flatten().cloned().collect::<Vec<_>>().join(" | ")
        };
        self.0.entries.iter().filter(|entry| entry.kind == kind).map(words).collect()
    }

    fn ended(&self) -> (String, Option<Grade>) {
        (self.0.run.ended().unwrap().1.clone(), self.0.run.grade())
    }

    fn provenance(&self, step: &str) -> Option<Provenance> {
        self.0.entries.iter().rev().find(|entry| entry.step == step)?.provenance
    }
}

const FINDINGS: &str = r#"
fact = [{ id = "cut_in", kind = "pressure", ask = "Cut-in" }]
step = [
  { id = "air", observes = "precharge", read = "pressure", ask = "Air" },
  { id = "near", check = "abs(air - cut_in) <= 3 psi", fail = "It is not." },
  { tell = "The cut-in is {cut_in}." },
  { when = "air < cut_in - 5 psi", conclude = "precharge low", grade = "attention", says = "The precharge is {cut_in - air} low.", next = "Set it.", again = "30 d", rests_on = ["air"] },
  { conclude = "precharge right", grade = "good", says = "The precharge is right.", rests_on = ["air", "near"] },
]
"#;

#[test]
fn a_finding_is_kept_with_what_to_do_and_the_worst_has_the_last_word() {
    let mut low = Session::begin(FINDINGS, "");
    low.answers(&["40", "20"]);
    assert_eq!(low.of(EntryKind::Message), ["The cut-in is 40 psi."]);
    assert_eq!(
        low.of(EntryKind::Finding),
        ["[attention] | precharge low | The precharge is 20 psi low. | Set it. | 2031-05-05"]
    );
    assert_eq!(low.of(EntryKind::Skipped), ["something was found against it"]);
    assert_eq!(
        low.ended(),
        ("The precharge is 20 psi low. Failed: near.".to_string(), Some(Grade::Attention))
    );
    let mut right = Session::begin(FINDINGS, "");
    right.answers(&["40", "38"]);
    assert_eq!(right.of(EntryKind::Finding), ["[good] | precharge right | The precharge is right."]);
    assert_eq!(right.ended(), ("The precharge is right.".to_string(), Some(Grade::Good)));
    let mut off = Session::begin(FINDINGS, "");
    off.answers(&["40", "36"]);
    assert_eq!(off.of(EntryKind::Skipped), ["near is not as it should be"]);
    assert_eq!(off.ended(), ("Failed: near.".to_string(), Some(Grade::Attention)));
}

const OF_EACH: &str = r#"
step = [
  { id = "all", each = "tank", step = [
    { id = "air", observes = "precharge", read = "pressure", ask = "Air" },
    { id = "high", check = "air > 30 psi" },
  ] },
  { conclude = "all high", grade = "good", says = "All are high.", rests_on = ["high"] },
]
"#;

#[test]
fn of_several_tanks_the_worst_decides() {
    let two = "format = 1\n[[tank]]\nid = \"a\"\n[[tank]]\nid = \"b\"";
    let mut low_first = Session::begin(OF_EACH, two);
    low_first.answers(&["20", "40"]);
    assert_eq!(low_first.of(EntryKind::Skipped), ["high is not as it should be"]);
    let mut both = Session::begin(OF_EACH, two);
    both.answers(&["40", "40"]);
    assert_eq!(both.ended(), ("All are high.".to_string(), Some(Grade::Good)));
}

const ASSUMED: &str = r#"
fact = [
  { id = "limit", kind = "pressure", ask = "Limit", between = ["40 psi", "300 psi"], usual = "75 psi", from = "tank.limit" },
  { id = "gap", observes = "dead_gap", kind = "pressure change", ask = "Gap", usual = "2 psi" },
  { id = "volume", kind = "volume", ask = "Volume", unknown = true },
]
step = [
  { id = "air", observes = "precharge", read = "pressure", ask = "Air" },
  { id = "below", check = "air <= limit", pass = "Below.", fail = "Above.", unsure = "Not told." },
  { id = "half", compute = "volume / 2", say = "Half is {half}." },
  { id = "wide", check = "gap >= 1 psi", pass = "Wide." },
  { id = "large", check = "volume > 20 gal", pass = "Large.", unsure = "Not told." },
]
"#;

/// 35 psi is below whatever the limit can be, 50 psi is not.
#[test]
fn an_assumed_value_decides_nothing_that_hangs_on_it() {
    let mut session = Session::begin(ASSUMED, "");
    session.answers(&["", "", "44 gal", "50"]);
    assert_eq!(
        session.of(EntryKind::Checked),
        [
            "x | Not told. It hangs on limit, taken to be 75 psi and never confirmed: look it up.",
            "x | Wide.",
            "x | Large.",
        ]
        .map(|row| row.split_once(" | ").unwrap().1)
    );
    assert_eq!(
        ["limit", "gap", "volume", "air", "half"].map(|step| session.provenance(step)),
        [
            Some(Provenance::Assumed),
            Some(Provenance::Chosen),
            Some(Provenance::Chosen),
            Some(Provenance::Measured),
            Some(Provenance::Chosen)
        ]
    );
    let mut sure = Session::begin(ASSUMED, "");
    sure.answers(&["", "", "44 gal", "35"]);
    assert_eq!(sure.of(EntryKind::Checked)[0], "Below.");
    let mut confirmed = Session::begin(ASSUMED, "");
    confirmed.answers(&["75 psi", "", "44 gal", "50"]);
    assert_eq!(confirmed.of(EntryKind::Checked)[0], "Below.");
    let mut from_file = Session::begin(ASSUMED, "format = 1\n[[tank]]\nid = \"main\"\nlimit = \"75 psi\"");
    from_file.answers(&["", "44 gal", "50"]);
    assert_eq!(from_file.of(EntryKind::Checked)[0], "Below.");
    assert_eq!(from_file.provenance("limit"), Some(Provenance::SystemFile));
}

#[test]
fn what_is_not_known_stays_so() {
    let mut session = Session::begin(ASSUMED, "");
    session.answers(&["75 psi", ""]);
    assert_eq!(session.0.run.ask().unwrap().text, "Volume (or `not known`)");
    session.answers(&["Don't know", "30"]);
    assert_eq!(session.of(EntryKind::Fact)[2], "not known");
    assert_eq!(
        session.of(EntryKind::Computed),
        ["This cannot be worked out: volume is not known. | volume is not known."]
    );
    assert_eq!(
        session.of(EntryKind::Checked)[2],
        "This cannot be told: volume is not known. | volume is not known."
    );
    assert_eq!(session.ended(), ("Not decided: large.".to_string(), Some(Grade::Note)));
}

#[test]
fn a_volume_may_be_good_to_so_much() {
    let check = |volume| {
        let mut session = Session::begin(ASSUMED, "");
        session.answers(&["75 psi", "", volume, "30"]);
        session.of(EntryKind::Checked)[2].clone()
    };
    assert_eq!(check("21 gal"), "Large.");
    assert_eq!(check("21 gal +- 2 %"), "Large.");
    assert_eq!(check("21 gal ± 5 gal"), "Not told.");
}

const OBSERVED: &str = r#"
step = [
  { id = "stops", observes = "cut_out", tells = "found", read = "pressure", ask = "Stops" },
  { id = "starts", observes = "cut_in", tells = "found", read = "pressure", ask = "Starts" },
  { id = "water", observes = "drawdown", tells = "found", read = "volume", ask = "Water" },
  { id = "runs", observes = "run_time", tells = "found", read = "duration", unit = "s", ask = "Runs" },
  { id = "air", observes = "precharge", tells = "found", read = "pressure", ask = "Air" },
  { id = "new_start", observes = "cut_in", tells = "left", read = "pressure", ask = "New start" },
]
"#;

#[test]
fn what_cannot_be_is_questioned_and_marked_when_it_is_meant() {
    let mut session = Session::begin(OBSERVED, "");
    session.answers(&["60"]);
    let unusual = |session: &mut Session, typed: &str| match session.take(typed, false).unwrap_err() {
        Refusal::Unusual(why) => why,
        Refusal::Again(why) => panic!("{why}"),
    };
    assert_eq!(
        unusual(&mut session, "62"),
        "A cut-in of 62 psi is not below the cut-out of 60 psi. Most likely one was misread, or the two were \
         taken for one another. Look at the gauge again."
    );
    session.answers(&["40", "9 gal"]);
    assert_eq!(
        unusual(&mut session, "3"),
        "9 gal in 3 s is no flow that a household pump gives. Most likely the bucket or the watch was misread. A tank \
         whose own valve is shut, or whose outlet is blocked, does the same."
    );
    session.answers(&["65"]);
    let why = "59 psi at the air valve is the cut-out, 60 psi. Most likely the tank is not empty, and this is the \
               water's pressure, not the precharge. Look: is the drain open, the tank's own valve open, the gauge \
               at zero?";
    assert_eq!(unusual(&mut session, "59"), why);
    session.take("59", true).unwrap();
    assert_eq!(session.0.entries.last().unwrap().reason, Some(format!("Confirmed. {why}")));
    // What is left is not held against what was found.
    session.answers(&["62"]);
    assert_eq!(session.ended().1, None);
    let readings: Vec<_> = session.0.entries.iter().map(|entry| entry.observes.clone().unwrap()).collect();
    assert_eq!(readings, ["cut_out", "cut_in", "drawdown", "run_time", "precharge", "cut_in"]);
}

/// The table's own limits bind where the file gives none.
#[test]
fn an_observable_brings_its_limits() {
    let mut session = Session::begin(OBSERVED, "");
    assert_eq!(
        session.take("300", false),
        Err(Refusal::Again("300 psi is outside what can be: 10 psi to 150 psi.".to_string()))
    );
    assert_eq!(
        session.take("120", false),
        Err(Refusal::Unusual("120 psi would be unusual here; 30 psi to 80 psi is usual.".to_string()))
    );
}

const TWO_OUTCOMES: &str = r#"
state = [{ id = "off", means = "The pump is off" }]
step = [
  { id = "breaker", do = "Turn it off.", see = "It is off.", status = "off", not_so = "It is another breaker: try the next.", brings = ["off"] },
  { id = "runs", read = "duration", unit = "s", ask = "How long does it run?", never = { label = "it does not stop", stop = "Breaker off, now.", finding = "pump does not stop" } },
  { do = "Go on.", needs = ["off"] },
]
"#;

#[test]
fn it_may_not_be_so() {
    let mut session = Session::begin(TWO_OUTCOMES, "");
    assert_eq!(session.0.run.ask().unwrap().otherwise, Some(("no", None)));
    session.answers(&["no"]);
    assert_eq!(session.of(EntryKind::NotSo), ["no | It is another breaker: try the next."]);
    assert_eq!(
        (session.0.run.ask().unwrap().place.step.as_ref(), session.0.run.states()),
        ("breaker", vec![])
    );
    assert!(session.take("", false).is_err(), "the status is typed");
    session.answers(&["OFF"]);
    assert_eq!(session.0.run.states(), ["off"]);
    session.answers(&["never"]);
    assert_eq!(session.of(EntryKind::NotSo)[1], "never | Breaker off, now.");
    assert_eq!(session.of(EntryKind::Stopped), ["[act] | pump does not stop | Breaker off, now."]);
    assert_eq!(session.ended(), ("Breaker off, now.".to_string(), Some(Grade::Act)));
}

const AGREE: &str = r#"
step = [{ id = "air", read = "pressure", ask = "Air", times = 3, agree = "1 psi" }, { do = "Go on." }]
"#;

#[test]
fn readings_that_lie_apart_are_questioned_at_the_last_of_them() {
    let mut session = Session::begin(AGREE, "");
    session.answers(&["21", "21.5"]);
    assert_eq!(
        session.take("24", false),
        Err(Refusal::Unusual(
            "The 3 readings lie 3 psi apart; more than 1 psi is unusual. Most likely one was misread. Answer no to read this one again, back to read the one before it again."
                .to_string()
        ))
    );
    session.answers(&["22"]);
    assert_eq!(session.0.run.ask().unwrap().text, "Go on.");
    let mut sure = Session::begin(AGREE, "");
    sure.answers(&["21", "24"]).take("21", true).unwrap();
    assert_eq!(sure.0.run.ask().unwrap().text, "Go on.");
}
