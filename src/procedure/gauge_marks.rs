//! Which observables are the smallest mark of a gauge.

use super::observables::Observable;

/// Each with the name of its gauge.
const MARKS: [(&str, &str); 2] = [("line_mark", "line"), ("air_mark", "air")];

impl Observable {
    /// The gauge of which it is the smallest mark.
    pub fn marks(&self) -> Option<&'static str> {
        MARKS.iter().find(|(name, _)| *name == self.name).map(|(_, gauge)| *gauge)
    }
}
