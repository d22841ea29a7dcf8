//! The procedures and parts that come with the program, compiled in.

/// A file that comes with the program.
#[derive(Debug)]
pub struct Shipped {
    /// Its name, such as `flush` or `parts/drain`.
    pub name: &'static str,
    /// The name its text is shown under.
    pub file: &'static str,
    /// Its text.
    pub text: &'static str,
}

macro_rules! shipped {
    ($($name:literal),* $(,)?) => {
        &[$(Shipped {
            name: $name,
            file: concat!("procedures/", $name, ".toml"),
            text: include_str!(concat!("../../procedures/", $name, ".toml")),
        }),*]
    };
}

/// Every file that comes with the program.
pub static SHIPPED: &[Shipped] = shipped![
    "add-tank",
    "commission",
    "disinfect",
    "flush",
    "lay-up",
    "new-tank",
    "re-open",
    "set-switch",
    "short-cycling",
    "used-tank",
    "yearly",
    "parts/air-below-start",
    "parts/air-hold",
    "parts/air-in",
    "parts/air-shut",
    "parts/all-give",
    "parts/all-listed",
    "parts/all-open",
    "parts/as-it-was",
    "parts/as-left-here",
    "parts/at-its-height",
    "parts/back-to-house",
    "parts/before-and-after",
    "parts/before-you-start",
    "parts/bleach-ready",
    "parts/bucket-found",
    "parts/bucket-left",
    "parts/close-record",
    "parts/disinfect-joint",
    "parts/drain",
    "parts/drain-again",
    "parts/fill",
    "parts/first-jar",
    "parts/guards",
    "parts/hold-test",
    "parts/hold-told",
    "parts/hose-on",
    "parts/house-off",
    "parts/installation",
    "parts/join",
    "parts/joints-and-hold",
    "parts/kind-of-tank",
    "parts/know-the-tank",
    "parts/lab-test",
    "parts/last-year",
    "parts/leak-side",
    "parts/lever",
    "parts/limits",
    "parts/line",
    "parts/loose-safe",
    "parts/loose-tank",
    "parts/make-safe",
    "parts/match-tanks",
    "parts/never-tested",
    "parts/not-proven",
    "parts/not-yet-drunk",
    "parts/open-drain",
    "parts/other-tanks",
    "parts/others-air",
    "parts/own-valve",
    "parts/part-fill-and-dump",
    "parts/pin-of-each",
    "parts/pin-test",
    "parts/plan-switch",
    "parts/plate-and-shell",
    "parts/power-on",
    "parts/press-pin",
    "parts/prove",
    "parts/prove-gauges",
    "parts/prove-off",
    "parts/read-charge",
    "parts/refill",
    "parts/relief-and-control",
    "parts/run-dry",
    "parts/run-each-dry",
    "parts/run-time",
    "parts/set-charge",
    "parts/shut-house",
    "parts/size-and-weight",
    "parts/states",
    "parts/tank-size",
    "parts/target",
    "parts/turn-switch",
    "parts/watch-again",
    "parts/watch-switch",
    "parts/water-quality",
    "parts/weakest-plate",
    "parts/weather",
    "parts/who",
    "parts/work-done",
];

/// The shipped file of that name.
pub fn shipped(name: &str) -> Option<&'static Shipped> {
    SHIPPED.iter().find(|file| file.name == name)
}
