//! Time since the machine was started, which no setting of its clock changes.

use std::time::Duration;

use crate::machine::start_of_machine;

/// A reading of the clock that counts from the machine's start.
#[derive(Clone, Debug, PartialEq)]
pub struct BootTime {
    /// Names the start; another after each.
    pub boot: String,
    /// Seconds since then, time asleep among them.
    pub seconds: f64,
}

impl BootTime {
    /// The machine's, given how long it has run.
    pub(super) fn read_machine(running: Duration) -> Option<BootTime> {
        let boot = start_of_machine()?;
        Some(BootTime { boot, seconds: (running.as_secs_f64() * 10.0).round() / 10.0 })
    }

    /// The time from `earlier` to here; `None` when the machine was started anew between.
    ///
    /// ```
    /// use tankhand::clock::BootTime;
    /// let at = |boot: &str, seconds| BootTime { boot: boot.to_string(), seconds };
    /// assert_eq!(at("one", 90.0).since(&at("one", 30.0)).unwrap().as_secs(), 60);
    /// assert_eq!(at("two", 90.0).since(&at("one", 30.0)), None);
    /// ```
    pub fn since(&self, earlier: &BootTime) -> Option<Duration> {
        let same = self.boot == earlier.boot;
        same.then(|| Duration::try_from_secs_f64(self.seconds - earlier.seconds).ok()).flatten()
    }
}
