//! The trade's classic mistakes, made in the shipped files: each is refused when it is loaded.
//! That these are mistakes is common practice among well drillers and plumbers.

use tankhand::procedure::{Path, SHIPPED, Surroundings, Texts, load, shipped};
use tankhand::source::SourceText;
use tankhand::system::PATHS;

/// The shipped texts, one of them changed.
struct Changed {
    name: &'static str,
    text: String,
}

impl Texts for Changed {
    fn text(&self, name: &str) -> Option<Result<SourceText, String>> {
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
    let text = change(shipped(name).unwrap().text);
    assert_ne!(text, shipped(name).unwrap().text, "the change did not take");
    let changed = Changed { name, text };
    let main = changed.text("flush").unwrap().unwrap();
    let paths: Vec<Path> =
        PATHS.iter().map(|entry| Path { name: entry.path, kind: entry.kind.kind() }).collect();
    let around = Surroundings { texts: &changed, paths: &paths };
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
    let found = faults("flush", |text| moved_before(text, "parts/drain", "parts/target"));
    refused(&found, "needs-state: `drained` may not hold here");
}

#[test]
fn the_pin_pressed_before_the_gauge_has_shown_zero() {
    let found = faults("flush", |text| moved_before(text, "parts/pin-test", "parts/prove-gauges"));
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
            "[[step]]\nuse = \"parts/set-charge\"",
            &format!("{shut}[[step]]\nuse = \"parts/set-charge\""),
            1,
        )
    });
    refused(&found, "needs-state: `drain_open` may not hold here");
}

#[test]
fn sludge_drained_through_the_house() {
    let found = faults("flush", |text| without(text, "parts/shut-house"));
    refused(&found, "needs-state: `house_shut` may not hold here");
}

#[test]
fn power_put_on_before_the_air_is_set() {
    let found = faults("flush", |text| moved_before(text, "parts/refill", "parts/set-charge"));
    refused(&found, "needs-state: `charge_set` may not hold here");
}

#[test]
fn another_tank_left_shut_at_power_up() {
    let found = faults("parts/refill", |text| without(text, "id = \"other_tanks_open\""));
    refused(&found, "needs-state: `others_open` may not hold here");
}

#[test]
fn the_danger_at_the_switch_taken_out() {
    let found = faults("parts/watch-switch", |text| {
        let start = text.find("danger = ").unwrap();
        let end = start + text[start..].find('\n').unwrap() + 1;
        format!("{}{}", &text[..start], &text[end..])
    });
    refused(&found, "hazard: `pump_on` is a hazard, and its danger may not have been acknowledged before");
}
