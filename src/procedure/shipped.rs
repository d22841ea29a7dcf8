//! The procedures and parts that come with the program, compiled in.

use crate::document::{Fields, read_document};
use crate::source::SourceText;

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

impl Shipped {
    /// Its text by its name.
    pub fn source(&self) -> SourceText {
        SourceText::compiled_in(self.file, self.text)
    }

    /// What `walk` finds in its text.
    pub(super) fn read<T>(&self, walk: impl FnOnce(&Fields<'_>) -> T) -> Option<T> {
        read_document(&self.source(), walk).ok().map(|(found, _)| found)
    }

    /// Whether it is a part.
    pub(super) fn is_part(&self) -> bool {
        self.name.starts_with("parts/")
    }

    /// Its title, read off its first lines; a test holds it against what the whole file says.
    pub fn title(&self) -> &'static str {
        let line = self.text.lines().find(|line| line.starts_with("title")).unwrap_or_default();
        line.split('"').nth(1).unwrap_or_default()
    }
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
    "failed-tank",
    "first-tank",
    "flush",
    "lay-up",
    "leak",
    "new-tank",
    "plain-tank",
    "precharge",
    "prime",
    "re-open",
    "set-switch",
    "short-cycling",
    "trouble",
    "used-tank",
    "yearly",
    "parts/add-air",
    "parts/air-hold",
    "parts/at-its-height",
    "parts/bang",
    "parts/bleach",
    "parts/close-record",
    "parts/drain",
    "parts/drawdown-test",
    "parts/facts",
    "parts/first-jar",
    "parts/first-look",
    "parts/flush-rounds",
    "parts/gauge-and-relief",
    "parts/gauge-zero",
    "parts/hold-test",
    "parts/house-on",
    "parts/isolate-house",
    "parts/join",
    "parts/joints",
    "parts/lab-test",
    "parts/lever",
    "parts/look-at-tank",
    "parts/loose-tank",
    "parts/match-tanks",
    "parts/no-water",
    "parts/others-air",
    "parts/pin-test",
    "parts/prove-all",
    "parts/prove-off",
    "parts/prove-tank",
    "parts/pump-off",
    "parts/pump-runs-on",
    "parts/read-precharge",
    "parts/refill",
    "parts/since-last",
    "parts/run-dry",
    "parts/second-pump",
    "parts/seen-in-water",
    "parts/set-precharge",
    "parts/starts-often",
    "parts/states",
    "parts/suits",
    "parts/target-precharge",
    "parts/turn-switch",
    "parts/watch-again",
    "parts/watch-cycle",
    "parts/wet-valve",
];

/// Whether a text is that of the shipped file of its name, and no one else's.
pub(crate) fn is_shipped(source: &SourceText) -> bool {
    let name = source.name().strip_prefix("procedures/").and_then(|name| name.strip_suffix(".toml"));
    name.and_then(shipped).is_some_and(|file| file.text == source.text())
}

/// What a part is called, by the name of its file: `drain` for `procedures/parts/drain.toml`.
pub(crate) fn part_name(file: &str) -> &str {
    let name = file.strip_suffix(".toml").unwrap_or(file);
    name.rsplit('/').next().unwrap_or(name)
}

/// The shipped file that a file stands for or was made from, by its name: `parts/drain` for
/// `my/parts/drain.toml`, and for a `drain.toml` that is no procedure's.
pub(crate) fn twin(file: &str) -> Option<&'static Shipped> {
    let (stem, part) = (part_name(file), format!("parts/{}", part_name(file)));
    let among_parts = file.rsplit('/').nth(1) == Some("parts");
    if among_parts { shipped(&part) } else { shipped(stem).or_else(|| shipped(&part)) }
}

/// The shipped file of that name.
pub fn shipped(name: &str) -> Option<&'static Shipped> {
    SHIPPED.iter().find(|file| file.name == name)
}
