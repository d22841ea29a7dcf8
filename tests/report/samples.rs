//! A small procedure, the installation it runs on, and runs of it: all invented.

use std::sync::Arc;
use std::time::Duration;

use tankhand::clock::Moment;
use tankhand::engine::{RunInput, Setting};
use tankhand::procedure::{LoadContext, NoParts, Path, Procedure, load};
use tankhand::record::{Contents, Summary};
use tankhand::source::SourceText;
use tankhand::system::{PATHS, System};

use crate::support::{Played, setting_of, start};

/// A procedure with every verb, short enough to read.
pub const SMALL: &str = r#"
format  = 1
title   = "Look at a small tank"
purpose = "Read the air of an empty tank and set it."
time    = "10 min"
bring   = ["a tire gauge", "a bucket"]

[[fact]]
id   = "cut_in"
kind = "pressure"
ask  = "Pressure at which the pump starts"
between = ["10 psi", "80 psi"]
why  = "The air is set by it."

[[fact]]
id   = "pump"
kind = ["jet", "submersible"]
ask  = "What pump is it?"
usual = "jet"

[[state]]
id = "pump_quiet"
means = "The breaker is off and tagged"

[[step]]
id = "breaker"
title = "Make safe"
label = "Breaker off"
tells = "done"
do = "Turn the pump's breaker off and tag it."
see = "The pump stays silent."
hazards = ["mains", "pump_starts"]
minutes = 2
brings = ["pump_quiet"]

[[step]]
id = "air_found"
title = "Read the air"
label = "Air as read"
tells = "found"
read = "pressure"
ask = "Air pressure at the air valve"
gauge = "air"
times = 2
needs = ["pump_quiet"]
between = ["0 psi", "120 psi"]
expect = ["5 psi", "60 psi"]
why = "This is the charge."

[[step]]
id = "found"
observes = "precharge"
label = "Air found"
tells = "found"
compute = "mean(air_found)"
say = "The air is {found} ({found in bar})."

[[step]]
id = "below"
label = "Air below the pump's start"
check = "mean(air_found) < cut_in"
pass = "The air lies below the pump's start."
fail = "The air lies above the pump's start."
unsure = "The gauge is too coarse to tell."

[[step]]
id = "low"
when = "found < cut_in"
conclude = "air low"
grade = "attention"
says = "The air was found {cut_in - found} below the pump's start."
next = "Set it, and read it again in a month."
again = "30 day"
rests_on = ["found"]

[[step]]
id = "temperature"
read = "temperature"
ask = "How warm is it?"
gauge = "thermometer"
skip = true

[[step]]
id = "warm"
label = "Warm enough"
when = "known(temperature)"
check = "temperature > 40 degF"
unsure = "It was not measured."

[[step]]
id = "flush"
title = "Flush"
label = "Rounds of flushing"
tells = "done"
repeat = { until = "look == 'clear'", at_least = 2, at_most = 4 }
say = "Round {count(look)} is over."
[[step.step]]
id = "look"
label = "Jars"
tells = "done"
choose = [ { value = "clear", label = "clear as glass", help = "No haze." }, { value = "dirty" } ]
ask = "How does the jar look?"

[[step]]
id = "soak"
wait = "5 min"
ask = "Let it stand."
early = true

[[step]]
id = "hot"
when = "known(temperature) and temperature > 100 degF"
do = "Let the tank cool."

[[step]]
id = "too_high"
when = "mean(air_found) > 100 psi"
stop = "The air is {found}: out of bounds."

[[step]]
id = "who"
title = "Close"
write = "text"
ask = "Who did the work?"
longest = 60

[[step]]
id = "air_left"
observes = "precharge"
label = "Air left"
tells = "left"
read = "pressure"
ask = "What does the air gauge show now?"
gauge = "air"
needs = ["pump_quiet"]
without = { need = "drained", because = "This sample has no drain." }
"#;

/// Loops of both kinds, one in the other.
pub const LOOPS: &str = r#"
format  = 1
title   = "Look at every tank"
purpose = "Read and set the air of each tank."

[[fact]]
id   = "volume"
kind = "volume"
from = "tank.volume"
ask  = "How much does the tank hold?"

[[step]]
id = "tanks"
each = "tank"

[[step.step]]
id = "air_found"
label = "Air found"
tells = "found"
read = "pressure"
ask = "Air pressure at the air valve"
gauge = "air"

[[step.step]]
id = "low"
label = "Low on air"
check = "air_found < 30 psi"

[[step.step]]
id = "setting"
label = "Rounds of setting"
tells = "done"
repeat = { until = "last(air_now) > 29.2 psi", at_most = 3 }

[[step.step.step]]
id = "air_now"
label = "Air while setting"
tells = "done"
read = "pressure"
ask = "Add air, then read"
gauge = "air"

[[step.step.step]]
id = "near"
label = "Near enough"
check = "air_now > 29 psi and air_now < 31 psi"

[[step.step]]
id = "charged"
label = "Rubber"
tells = "left"
choose = [ { value = "sound", label = "no water at the air valve" }, { value = "torn" } ]
ask = "Press the pin: what comes?"
"#;

/// Two tanks.
pub const TWO_TANKS: &str = r#"
format = 1
name = "Heron Cove"
invented = true

[[tank]]
id = "left"
volume = "20 gal"

[[tank]]
id = "right"
"#;

pub fn moment(text: &str) -> Moment {
    Moment::parse(text).unwrap()
}

/// Loads a procedure that uses no parts.
pub fn loaded(text: &str) -> Procedure {
    let paths: Vec<Path> =
        PATHS.iter().map(|entry| Path { name: entry.path, kind: entry.kind.kind() }).collect();
    let around = LoadContext { texts: &NoParts, paths: &paths };
    match load(&SourceText::new("procedures/small.toml", text), &around) {
        Ok(procedure) => procedure,
        Err(faults) => panic!("{}", tankhand::report::faults_text(&faults, 100, false)),
    }
}

/// Begins a run on an installation.
pub fn begun(procedure: Procedure, system: System) -> Played {
    Played::begin(Setting { name: "small".to_string(), ..setting_of(Arc::new(procedure), system) })
}

/// The record of a run so far.
pub fn record(played: &Played) -> (Contents, Arc<Procedure>) {
    let Played { run, entries, now } = played;
    let mut header = run.setting().header("20310405-0900-small".to_string(), start());
    header.site = Some("Heron Cove (invented)".to_string());
    header.tank = Some("main".to_string());
    header.demo = true;
    header.program = "tankhand 0.1.0".to_string();
    let grade = run.grade();
    let summary = run.ended().map(|(outcome, words)| Summary {
        outcome: *outcome,
        at: *now,
        words: words.clone(),
        grade,
        found: run.worst_names(),
    });
    let contents = Contents { header, entries: entries.clone(), foreign: Vec::new(), summary, torn: None };
    (contents, run.setting().procedure.clone())
}

/// A run with everything in it: an answer taken back, a note, a skip, a pause over night.
pub fn eventful() -> (Contents, Arc<Procedure>) {
    let mut run = begun(loaded(SMALL), System::default());
    run.answers(["30", "", "understood", "", "36", "37.5"]);
    run.then(RunInput::Back).answers(["27.5"]).then(RunInput::Back).then(RunInput::Back);
    run.then(RunInput::Note("read the wrong gauge")).answers(["27", "28"]);
    run.then(RunInput::Skip("no thermometer at hand")).answers(["dirty", "clear"]);
    run.then(RunInput::WaitBegins).then(RunInput::Pause);
    run.now = run.now.plus(Duration::from_secs(20 * 3_600));
    run.then(RunInput::Resume);
    run.then(RunInput::WaitOver(Duration::from_secs(300)));
    run.answers(["A. Helper, owner", "28"]);
    record(&run)
}
