//! Which observables are the smallest mark of a gauge.

use super::fact::Fact;
use super::observables::Observable;

/// Each with the name of its gauge.
const MARKS: [(&str, &str); 2] = [("line_mark", "line"), ("air_mark", "air")];

impl Observable {
    /// The gauge of which it is the smallest mark.
    pub fn marks(&self) -> Option<&'static str> {
        MARKS.iter().find(|(name, _)| *name == self.name).map(|(_, gauge)| *gauge)
    }
}

impl Fact {
    /// Whether it is the smallest mark of a gauge: not asked beside a system file, which tells of gauges.
    pub fn marks_a_gauge(&self) -> bool {
        self.observes.and_then(Observable::marks).is_some()
    }
}
