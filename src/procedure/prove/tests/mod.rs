//! Tiny procedures, sound and unsound, with everything that is said of them.

mod bounds;
mod by_itself;
mod cost;
mod hazards;
mod known;
mod out_of_range;
mod part_hazards;
mod part_values;
mod part_words;
mod parts;
mod proven;
mod reached;
mod spelled;
mod states;
mod words;

use crate::procedure::{LoadContext, NoParts, Texts, load};
use crate::source::{Fault, SourceText};

/// Facts and states for every procedure here; the steps begin on line 5.
const REST: &str = r#"]
[[fact]]
id = "lever"
kind = "yes/no"
ask = "?"
[[fact]]
id = "kind"
kind = ["bladder", "plain"]
ask = "?"
[[fact]]
id = "size"
kind = "volume"
ask = "?"
from = "tank.volume"
[[state]]
id = "emptied"
means = "No water is left"
[[state]]
id = "off"
means = "The pump is off"
[[state]]
id = "power"
means = "The pump has power"
hazards = ["mains"]
[[state]]
id = "open"
means = "The switch is open"
hazards = ["mains", "cords"]
[[state]]
id = "live"
means = "The mains are on"
hazards = ["mains"]
[[state]]
id = "hot"
means = "The water is hot"
hazards = ["heat"]
"#;

/// The faults of a procedure whose steps are given as the inside of a TOML list, one line each.
fn found(steps: &str) -> Vec<Fault> {
    found_beside(&NoParts, steps)
}

/// The same where there are parts to use.
fn found_beside(texts: &dyn Texts, steps: &str) -> Vec<Fault> {
    let text = format!("format = 1\ntitle = \"t\"\npurpose = \"p\"\nstep = [{steps}{REST}");
    let paths = [crate::procedure::Path {
        name: "tank.volume",
        kind: crate::quantity::Kind::Measure(crate::quantity::Measure::Volume),
    }];
    let around = LoadContext { texts, paths: &paths };
    load(&SourceText::new("t.toml", text), &around).err().unwrap_or_default()
}

/// The same in short.
fn faults(steps: &str) -> Vec<String> {
    in_short(&found(steps))
}

fn in_short(found: &[Fault]) -> Vec<String> {
    found.iter().map(|fault| format!("[{}] {}", fault.code, fault.heading())).collect()
}

/// Asserts that the steps are sound.
#[track_caller]
fn sound(steps: &str) {
    assert_eq!(faults(steps), Vec::<String>::new());
}

/// Asserts what is said of the steps.
#[track_caller]
fn unsound(steps: &str, expected: &[&str]) {
    assert_eq!(faults(steps), expected);
}
