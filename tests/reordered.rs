//! The trade's classic mistakes, made in the shipped files: each is refused when it is loaded.
//! That these are mistakes is common practice among well drillers and plumbers.

use std::sync::LazyLock;

use tankhand::procedure::{LoadContext, Path, SHIPPED, Step, Texts, UnreadableText, load, shipped};
use tankhand::source::SourceText;
use tankhand::system::PATHS;

/// The shipped texts, one of them changed.
struct Changed {
    name: &'static str,
    text: String,
    /// It is not held against the shipped one: only the proofs are tried.
    kept: bool,
}

impl Texts for Changed {
    fn text(&self, name: &str) -> Option<Result<SourceText, UnreadableText>> {
        let file = shipped(name)?;
        let text = if name == self.name { self.text.as_str() } else { file.text };
        Some(Ok(SourceText::new(file.file, text)))
    }

    fn are_kept(&self) -> bool {
        self.kept
    }

    fn names(&self) -> Vec<String> {
        SHIPPED.iter().map(|file| file.name.to_string()).collect()
    }
}

/// The shipped texts as they are.
struct AsShipped;

impl Texts for AsShipped {
    fn text(&self, name: &str) -> Option<Result<SourceText, UnreadableText>> {
        shipped(name).map(|file| Ok(SourceText::new(file.file, file.text)))
    }

    fn names(&self) -> Vec<String> {
        SHIPPED.iter().map(|file| file.name.to_string()).collect()
    }
}

fn paths() -> Vec<Path> {
    PATHS.iter().map(|entry| Path { name: entry.path, kind: entry.kind.kind() }).collect()
}

/// What loading `flush` says when one shipped file is changed.
fn faults(name: &'static str, change: impl FnOnce(&str) -> String) -> Vec<String> {
    faults_of("flush", name, change)
}

/// What loading a shipped procedure says when one shipped file is changed.
fn faults_of(main: &str, name: &'static str, change: impl FnOnce(&str) -> String) -> Vec<String> {
    let text = change(shipped(name).unwrap().text);
    assert_ne!(text, shipped(name).unwrap().text, "the change did not take");
    let changed = Changed { name, text, kept: true };
    let main = changed.text(main).unwrap().unwrap();
    let around = LoadContext { texts: &changed, paths: &paths() };
    let faults = load(&main, &around).err().unwrap_or_default();
    faults.iter().map(|fault| format!("{}: {}", fault.code, fault.message)).collect()
}

fn refused(found: &[String], expected: &str) {
    assert!(found.iter().any(|fault| fault == expected), "{expected} is not among {found:#?}");
}

/// The blocks of a file, each beginning with `[[step]]`; the head is the first.
fn blocks(text: &str) -> Vec<&str> {
    let mut starts: Vec<usize> = text.match_indices("\n[[step]]").map(|(at, _)| at + 1).collect();
    starts.insert(0, 0);
    starts.push(text.len());
    starts.windows(2).map(|w| &text[w[0]..w[1]]).collect()
}

/// The text with the block that holds `what` put before the one that holds `place`.
fn moved_before(text: &str, what: &str, place: &str) -> String {
    let blocks = blocks(text);
    let find = |mark: &str| blocks.iter().position(|block| block.contains(mark)).unwrap();
    let (from, to) = (find(what), find(place));
    let mut order: Vec<&str> = blocks.clone();
    let block = order.remove(from);
    order.insert(if from < to { to - 1 } else { to }, block);
    order.concat()
}

fn without(text: &str, mark: &str) -> String {
    blocks(text).into_iter().filter(|block| !block.contains(mark)).collect()
}

#[test]
fn the_charge_read_with_water_in_the_tank() {
    let found = faults("flush", |text| moved_before(text, "parts/drain", "parts/target-precharge"));
    refused(&found, "needs-state: `drained` may not hold here");
}

#[test]
fn the_pin_pressed_before_the_gauge_has_shown_zero() {
    let found = faults("flush", |text| moved_before(text, "parts/pin-test", "parts/gauge-zero"));
    refused(&found, "needs-state: `line_at_zero` may not hold here");
}

#[test]
fn hands_at_the_tank_with_the_breaker_on() {
    let found = faults("flush", |text| without(text, "parts/prove-off"));
    refused(&found, "needs-state: `pump_proven_off` may not hold here");
}

#[test]
fn the_drain_shut_while_air_is_added() {
    let shut = "[[step]]\ndo = \"Shut the drain.\"\nundoes = [\"drain_open\", \"drained\"]\n\n";
    let found = faults("flush", |text| {
        text.replacen(
            "[[step]]\nuse = \"parts/set-precharge\"",
            &format!("{shut}[[step]]\nuse = \"parts/set-precharge\""),
            1,
        )
    });
    refused(&found, "needs-state: `drain_open` may not hold here");
}

#[test]
fn sludge_drained_through_the_house() {
    let found = faults("flush", |text| without(text, "parts/isolate-house"));
    refused(&found, "needs-state: `house_shut` may not hold here");
}

#[test]
fn power_put_on_before_the_air_is_set() {
    let found = faults("flush", |text| moved_before(text, "parts/refill", "parts/set-precharge"));
    refused(&found, "needs-state: `precharge_set` may not hold here");
}

#[test]
fn another_tank_left_shut_at_power_up() {
    let found = faults("parts/refill", |text| without(text, "id = \"other_tanks_open\""));
    refused(&found, "needs-state: `others_open` may not hold here");
}

/// The text with the hazards of one step taken out.
fn without_hazards(text: &str, step: &str) -> String {
    let at = text.find(&format!("id = \"{step}\"\n")).unwrap();
    let start = at + text[at..].find("\nhazards = ").unwrap() + 1;
    assert!(!text[at..start].contains("[[step"), "{step} has no hazards");
    let end = start + text[start..].find('\n').unwrap() + 1;
    format!("{}{}", &text[..start], &text[end..])
}

/// The procedures that use a file.
fn users(name: &str) -> Vec<&'static str> {
    /// Each procedure with the names of its files, loaded once.
    static FILES: LazyLock<Vec<(&str, Vec<String>)>> = LazyLock::new(|| {
        let mains = SHIPPED.iter().filter(|main| !main.name.starts_with("parts/"));
        let files = mains.map(|main| {
            let source = SourceText::new(main.file, main.text);
            let procedure = load(&source, &LoadContext { texts: &AsShipped, paths: &paths() }).unwrap();
            (main.name, procedure.texts.iter().map(|text| text.name().to_string()).collect())
        });
        files.collect()
    });
    let file = shipped(name).unwrap().file;
    FILES.iter().filter(|(_, files)| files.iter().any(|one| one == file)).map(|(main, _)| *main).collect()
}

/// Steps that are the only ones to show a message before an act: each is missed when it is silent.
const SHOWN_ONCE: &[(&str, &[&str])] = &[
    ("disinfect", &["bleach_ready", "filter_emptied", "power_for_taps", "hose_out"]),
    ("parts/flush-rounds", &["round_fill"]),
    ("parts/gauge-and-relief", &["relief_lifted"]),
    ("parts/joints", &["joint_tightened"]),
    ("parts/loose-tank", &["loose_rocked"]),
    ("parts/drain", &["drain_opened"]),
    ("parts/pump-off", &["breaker_off"]),
    ("parts/refill", &["jet_primed", "power_on"]),
    ("parts/run-dry", &["dull_freed"]),
    ("parts/turn-switch", &["cover_off", "turn_power_on"]),
    ("parts/watch-again", &["power_back"]),
];

#[test]
fn no_message_at_the_one_place_before_the_act() {
    for (name, steps) in SHOWN_ONCE {
        let mains = users(name);
        for step in *steps {
            let missed = |main: &str| {
                let found = faults_of(main, name, |text| without_hazards(text, step));
                found.iter().any(|fault| fault.starts_with("hazard: "))
            };
            assert!(mains.iter().any(|main| missed(main)), "{step} of {name} is not missed in {mains:?}");
        }
    }
}

/// The shipped texts with one hazard named by no step.
struct Silent(&'static str);

impl Texts for Silent {
    fn text(&self, name: &str) -> Option<Result<SourceText, UnreadableText>> {
        let file = shipped(name)?;
        let mut states = false;
        let line = |line: &str| {
            if line.starts_with("[[") {
                states = line.starts_with("[[state]]");
            }
            let silent =
                line.replace(&format!("\"{}\", ", self.0), "").replace(&format!(", \"{}\"", self.0), "");
            let silent = silent.replace(&format!("\"{}\"", self.0), "");
            if line.starts_with("hazards = ") && !states { silent } else { line.to_string() }
        };
        let text: String = file.text.split_inclusive('\n').map(line).collect();
        Some(Ok(SourceText::new(file.file, text)))
    }

    fn are_kept(&self) -> bool {
        true
    }

    fn names(&self) -> Vec<String> {
        SHIPPED.iter().map(|file| file.name.to_string()).collect()
    }
}

/// In each procedure the message of each hazard that work there needs a state of must be shown somewhere.
#[test]
fn no_procedure_is_silent_about_a_hazard_of_its_states() {
    for main in SHIPPED.iter().filter(|main| !main.name.starts_with("parts/")) {
        let source = SourceText::new(main.file, main.text);
        let procedure = load(&source, &LoadContext { texts: &AsShipped, paths: &paths() }).unwrap();
        let needed = needed(&procedure.steps);
        for state in procedure.states.iter().filter(|state| needed.contains(&state.id.as_ref())) {
            for hazard in &state.hazards {
                let silent = Silent(hazard.id);
                let text = silent.text(main.name).unwrap().unwrap();
                let faults =
                    load(&text, &LoadContext { texts: &silent, paths: &paths() }).err().unwrap_or_default();
                let told = faults.iter().any(|fault| fault.code == "hazard");
                assert!(told, "{} says nothing of {} with {}: {faults:#?}", main.name, hazard.id, state.id);
            }
        }
    }
}

fn needed(steps: &[Step]) -> Vec<&str> {
    let mut states = Vec::new();
    for step in steps {
        states.extend(step.needs.iter().map(|(state, _)| state.as_ref()));
        states.extend(needed(step.body()));
    }
    states
}

/// A part that an owner puts in place of a shipped one, with nothing said of what can hurt, is refused.
#[test]
fn no_part_takes_a_warning_away() {
    for file in SHIPPED.iter().filter(|file| file.name.starts_with("parts/")) {
        if !file.text.contains("\nhazards = ") {
            continue;
        }
        let silent: String =
            file.text.split_inclusive('\n').filter(|line| !line.starts_with("hazards = ")).collect();
        let own = Changed { name: file.name, text: silent, kept: false };
        let main = own.text(users(file.name)[0]).unwrap().unwrap();
        let faults = load(&main, &LoadContext { texts: &own, paths: &paths() }).unwrap_err();
        assert!(faults.iter().any(|fault| fault.code == "hazard-dropped"), "{}: {faults:#?}", file.name);
    }
}

#[test]
fn one_of_several_tanks_left_shut_at_power_up() {
    for procedure in ["yearly", "add-tank"] {
        let found =
            faults_of(procedure, "parts/refill", |text| text.replace("brings = [\"others_open\"]\n", ""));
        refused(&found, "needs-state: `others_open` may not hold here");
    }
}

#[test]
fn the_air_of_one_of_several_tanks_read_before_the_line_is_at_zero() {
    let found = faults_of("yearly", "yearly", |text| without(text, "parts/gauge-zero"));
    refused(&found, "needs-state: `line_at_zero` may not hold here");
}

#[test]
fn a_loose_tank_read_before_it_has_run_dry() {
    let found = faults_of("used-tank", "parts/loose-tank", |text| without(text, "id = \"port_drained\""));
    refused(&found, "not-brought: `drained` may not hold at the end of this part");
}

#[test]
fn the_charge_left_as_it_was_after_the_switch_was_changed() {
    let filled = "use = \"parts/refill\"\n";
    let found =
        faults_of("set-switch", "set-switch", |text| moved_before(text, filled, "parts/set-precharge"));
    refused(&found, "needs-state: `precharge_set` may not hold here");
}

#[test]
fn the_switch_opened_with_the_breaker_on() {
    let off = "brings = [\"pump_off\"]\nundoes = [\"pump_on\", \"pump_waits\", \"pumped_up\"]\n";
    let found = faults_of("set-switch", "parts/turn-switch", |text| text.replacen(off, "", 1));
    refused(&found, "needs-state: `pump_off` may not hold here");
}

#[test]
fn a_tank_laid_up_or_opened_again_with_the_breaker_on() {
    let laid_up = faults_of("lay-up", "lay-up", |text| without(text, "parts/prove-off"));
    refused(&laid_up, "needs-state: `pump_proven_off` may not hold here");
    let opened = faults_of("re-open", "re-open", |text| without(text, "id = \"breaker_checked\""));
    refused(&opened, "needs-state: `pump_off` may not hold here");
    let listened = faults_of("re-open", "re-open", |text| without(text, "id = \"silent_held\""));
    refused(&listened, "needs-state: `pump_proven_off` may not hold here");
}

#[test]
fn a_tank_left_for_the_winter_with_water_in_it() {
    let found = faults_of("lay-up", "lay-up", |text| without(text, "parts/run-dry"));
    refused(&found, "needs-state: `drained` may not hold here");
}

#[test]
fn a_tank_filled_after_the_winter_before_its_air_is_set() {
    let found = faults_of("re-open", "re-open", |text| {
        moved_before(text, "use = \"parts/refill\"", "use = \"parts/set-precharge\"")
    });
    refused(&found, "needs-state: `precharge_set` may not hold here");
}

#[test]
fn another_tank_left_shut_while_the_cause_is_sought() {
    let found = faults_of("short-cycling", "parts/refill", |text| without(text, "id = \"other_tanks_open\""));
    refused(&found, "needs-state: `others_open` may not hold here");
}

#[test]
fn a_pump_that_feeds_a_cracked_valve_with_its_only_tank_shut_off() {
    for mark in ["id = \"runs_steadily\"", "id = \"kept_by_tank\""] {
        let found = faults_of("flush", "parts/flush-rounds", |text| without(text, mark));
        refused(&found, "needs-state: `line_kept` may not hold here");
    }
}

#[test]
fn a_short_check_of_the_precharge_with_the_pump_under_power() {
    let found = faults_of("precharge", "precharge", |text| without(text, "parts/prove-off"));
    refused(&found, "needs-state: `pump_proven_off` may not hold here");
    let read = faults_of("precharge", "precharge", |text| without(text, "parts/gauge-zero"));
    refused(&read, "needs-state: `line_at_zero` may not hold here");
}
