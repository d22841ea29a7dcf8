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
    "disinfect",
    "flush",
    "lay-up",
    "new-tank",
    "re-open",
    "set-switch",
    "short-cycling",
    "used-tank",
    "parts/air-hold",
    "parts/air-in",
    "parts/air-shut",
    "parts/back-to-house",
    "parts/before-you-start",
    "parts/bucket-left",
    "parts/close-record",
    "parts/drain",
    "parts/drain-again",
    "parts/hold-test",
    "parts/installation",
    "parts/joints-and-hold",
    "parts/kind-of-tank",
    "parts/know-the-tank",
    "parts/leak-side",
    "parts/limits",
    "parts/line",
    "parts/loose-tank",
    "parts/make-safe",
    "parts/part-fill-and-dump",
    "parts/pin-test",
    "parts/plan-switch",
    "parts/plate-and-shell",
    "parts/press-pin",
    "parts/prove",
    "parts/prove-gauges",
    "parts/prove-off",
    "parts/read-charge",
    "parts/refill",
    "parts/relief-and-control",
    "parts/run-dry",
    "parts/run-time",
    "parts/set-charge",
    "parts/shut-house",
    "parts/states",
    "parts/tank-size",
    "parts/target",
    "parts/turn-switch",
    "parts/watch-again",
    "parts/watch-switch",
    "parts/weather",
    "parts/who",
];

/// The shipped file of that name.
pub fn shipped(name: &str) -> Option<&'static Shipped> {
    SHIPPED.iter().find(|file| file.name == name)
}
