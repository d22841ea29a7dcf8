//! Bounds that keep any file, however hostile, from costing more than a moment.

use std::time::Duration;

/// The longest file, in bytes.
pub(super) const LONGEST_PROCEDURE_FILE: usize = 768 * 1024;
/// The most tables in one file: what they take in memory must be known before they are read.
pub(super) const MOST_TABLES: usize = 2 * MOST_STEPS;
/// The most steps in one procedure, parts included.
pub(super) const MOST_STEPS: usize = 12_000;
/// The deepest that loops may stand in loops.
pub(super) const DEEPEST_LOOPS: usize = 4;
/// The deepest that parts may use parts.
pub(super) const DEEPEST_PARTS: usize = 2;
/// The most rounds a loop may ask for.
pub(super) const MOST_ROUNDS: u32 = 200;
/// The most rounds that loops inside one another come to.
pub(super) const MOST_ROUNDS_IN_ALL: u32 = 2_000;
/// The most readings a step may take.
pub(super) const MOST_TAKES: u32 = 20;
/// The longest wait: a week.
pub(crate) const LONGEST_WAIT: Duration = Duration::from_secs(7 * 24 * 3600);
