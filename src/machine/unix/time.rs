//! The clock that counts from the machine's start, which nobody sets.

use std::time::Duration;

use rustix::time::{ClockId, clock_gettime};

/// Where Linux names its present start.
const BOOT_ID: &str = "/proc/sys/kernel/random/boot_id";

/// How long the machine has run. On Linux time asleep counts, so that a laptop lid that closes during a
/// hold test does not stretch the test.
pub(crate) fn running() -> Duration {
    #[cfg(target_os = "linux")]
    let id = ClockId::Boottime;
    #[cfg(not(target_os = "linux"))]
    let id = ClockId::Monotonic;
    let t = clock_gettime(id);
    Duration::new(t.tv_sec.unsigned_abs(), u32::try_from(t.tv_nsec).unwrap_or(0))
}

/// Names the machine's present start, where the system does.
pub(crate) fn start_of_machine() -> Option<String> {
    std::fs::read_to_string(BOOT_ID).ok().map(|id| id.trim().to_string())
}
