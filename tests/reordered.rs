//! The trade's classic mistakes, made in the shipped files: each is refused when it is loaded.
//! That these are mistakes is common practice among well drillers and plumbers.

use tankhand::procedure::{LoadContext, Path, SHIPPED, Texts, UnreadableText, load, shipped};
use tankhand::source::SourceText;
use tankhand::system::PATHS;

/// The shipped texts, one of them changed.
struct Changed {
    name: &'static str,
    text: String,
}

impl Texts for Changed {
    fn text(&self, name: &str) -> Option<Result<SourceText, UnreadableText>> {
        let file = shipped(name)?;
        let text = if name == self.name { self.text.as_str() } else { file.text };
        Some(Ok(SourceText::new(file.file, text)))
    }

    fn names(&self) -> Vec<String> {
        SHIPPED.iter().map(|file| file.name.to_string()).collect()
    }
}

/// What loading `flush` says when one shipped file is changed.
fn faults(name: &'static str, change: impl FnOnce(&str) -> String) -> Vec<String> {
    faults_of("flush", name, change)
}

/// What loading a shipped procedure says when one shipped file is changed.
fn faults_of(main: &str, name: &'static str, change: impl FnOnce(&str) -> String) -> Vec<String> {
    let text = change(shipped(name).unwrap().text);
    assert_ne!(text, shipped(name).unwrap().text, "the change did not take");
    let changed = Changed { name, text };
    let main = changed.text(main).unwrap().unwrap();
    let paths: Vec<Path> =
        PATHS.iter().map(|entry| Path { name: entry.path, kind: entry.kind.kind() }).collect();
    let around = LoadContext { texts: &changed, paths: &paths };
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
    refused(&found, "needs-state: `charge_set` may not hold here");
}

#[test]
fn another_tank_left_shut_at_power_up() {
    let found = faults("parts/refill", |text| without(text, "id = \"other_tanks_open\""));
    refused(&found, "needs-state: `others_open` may not hold here");
}

/// The text with the danger of one step taken out.
fn without_danger(text: &str, step: &str) -> String {
    let at = text.find(&format!("id = \"{step}\"\n")).unwrap();
    let start = at + text[at..].find("\ndanger = ").unwrap() + 1;
    assert!(!text[at..start].contains("[[step"), "{step} has no danger");
    let end = start + text[start..].find('\n').unwrap() + 1;
    format!("{}{}", &text[..start], &text[end..])
}

/// Each danger of a shipped file, taken out alone, is missed when the procedure is loaded.
fn every_danger_is_missed(main: &str, name: &'static str, dangers: &[(&str, &str)]) {
    let shown = shipped(name).unwrap().text.matches("\ndanger = ").count();
    assert_eq!(dangers.len(), shown, "{name} has other dangers");
    for (step, hazard) in dangers {
        let found = faults_of(main, name, |text| without_danger(text, step));
        let expected =
            format!("hazard: `{hazard}` is a hazard, and its danger may not have been acknowledged before");
        refused(&found, &expected);
    }
}

#[test]
fn no_danger_at_the_switch() {
    every_danger_is_missed("flush", "parts/watch-cycle", &[("pump_running", "pump_on")]);
}

#[test]
fn no_danger_at_the_breaker() {
    every_danger_is_missed("flush", "parts/pump-off", &[("breaker_off", "pump_waits")]);
}

#[test]
fn no_danger_before_the_drain_is_opened() {
    every_danger_is_missed("flush", "parts/open-drain", &[("drain_opened", "under_pressure")]);
    every_danger_is_missed("flush", "parts/run-dry", &[("dull_freed", "still_full")]);
}

#[test]
fn no_danger_before_air_is_added_for_the_pin_test() {
    every_danger_is_missed("flush", "parts/pin-test", &[("some_air", "valve_bare")]);
}

#[test]
fn no_danger_before_air_is_added_for_the_flush() {
    every_danger_is_missed("flush", "flush", &[("rough_air", "valve_bare")]);
}

#[test]
fn no_danger_in_the_rounds_of_the_flush() {
    let dangers = [("jet_ready", "jet_unfilled"), ("round_fill", "pump_on")];
    every_danger_is_missed("flush", "parts/flush-rounds", &dangers);
}

#[test]
fn no_danger_before_the_air_is_set() {
    every_danger_is_missed("flush", "parts/set-precharge", &[("air_ready", "valve_bare")]);
}

/// In the new tank's procedure: in the flush the plug's danger was shown before the rounds.
#[test]
fn no_danger_when_the_tank_is_filled_again() {
    let dangers = [("jet_primed", "jet_unfilled"), ("power_on", "pump_on")];
    every_danger_is_missed("new-tank", "parts/refill", &dangers);
}

#[test]
fn no_danger_at_the_joints_and_at_the_last_start() {
    let joints = [("joint_tightened", "under_pressure"), ("joint_power", "pump_on")];
    every_danger_is_missed("flush", "parts/joints", &joints);
    every_danger_is_missed("flush", "parts/watch-again", &[("power_back", "pump_on")]);
}

#[test]
fn no_danger_before_a_loose_tank_is_handled() {
    let expected = "hazard: `loose` is a hazard, and its danger may not have been acknowledged before";
    let old_tank = faults_of("new-tank", "new-tank", |text| without_danger(text, "old_tank_air_out"));
    refused(&old_tank, expected);
    let used_tank = faults_of("used-tank", "parts/loose-tank", |text| {
        without_danger(&without_danger(text, "loose_rocked"), "port_opened")
    });
    refused(&used_tank, expected);
}

#[test]
fn one_of_several_tanks_left_shut_at_power_up() {
    for procedure in ["yearly", "add-tank"] {
        let found =
            faults_of(procedure, "parts/all-open", |text| text.replace("brings = [\"others_open\"]\n", ""));
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
fn no_danger_before_the_switch_is_opened_or_gets_its_power_back() {
    let dangers =
        [("switch_danger", "switch_to_open"), ("cover_off", "switch_open"), ("turn_power_on", "pump_on")];
    every_danger_is_missed("set-switch", "parts/turn-switch", &dangers);
}

#[test]
fn the_charge_left_as_it_was_after_the_switch_was_changed() {
    let filled = "use = \"parts/refill\"\n";
    let found =
        faults_of("set-switch", "set-switch", |text| moved_before(text, filled, "parts/set-precharge"));
    refused(&found, "needs-state: `charge_set` may not hold here");
}

#[test]
fn the_switch_opened_with_the_breaker_on() {
    let off = "brings = [\"pump_off\"]\nundoes = [\"pump_on\", \"pump_waits\", \"pumped_up\"]\n";
    let found = faults_of("set-switch", "parts/turn-switch", |text| text.replacen(off, "", 1));
    refused(&found, "needs-state: `pump_off` may not hold here");
}

#[test]
fn no_danger_where_bleach_is_mixed_poured_and_let_out() {
    let dangers = [
        ("bleach_ready", "bleach_out"),
        ("cap_lifted", "well_open"),
        ("well_hose", "pump_on"),
        ("filter_emptied", "housing_open"),
        ("power_for_taps", "pump_on"),
        ("hose_out", "chlorine_in"),
    ];
    every_danger_is_missed("disinfect", "disinfect", &dangers);
}

#[test]
fn no_danger_where_a_cabin_is_laid_up_and_opened_again() {
    for procedure in ["lay-up", "re-open", "short-cycling"] {
        every_danger_is_missed(procedure, "parts/run-dry", &[("dull_freed", "still_full")]);
        every_danger_is_missed(procedure, "parts/pin-test", &[("some_air", "valve_bare")]);
    }
    for procedure in ["lay-up", "short-cycling"] {
        every_danger_is_missed(procedure, "parts/open-drain", &[("drain_opened", "under_pressure")]);
        every_danger_is_missed(procedure, "parts/pump-off", &[("breaker_off", "pump_waits")]);
    }
    for procedure in ["re-open", "short-cycling"] {
        let power = [("jet_primed", "jet_unfilled"), ("power_on", "pump_on")];
        every_danger_is_missed(procedure, "parts/set-precharge", &[("air_ready", "valve_bare")]);
        every_danger_is_missed(procedure, "parts/refill", &power);
    }
    every_danger_is_missed("short-cycling", "parts/watch-cycle", &[("pump_running", "pump_on")]);
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
    refused(&found, "needs-state: `charge_set` may not hold here");
}

#[test]
fn another_tank_left_shut_while_the_cause_is_sought() {
    let found = faults_of("short-cycling", "parts/refill", |text| without(text, "id = \"other_tanks_open\""));
    refused(&found, "needs-state: `others_open` may not hold here");
}
