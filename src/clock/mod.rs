//! The only reader of time.
//!
//! Everything else takes a [`Moment`] or a [`Duration`] as an argument, so that a run can be
//! played again exactly, and tests and demonstrations set the clock themselves.

mod boot;
mod day;
mod moment;

use std::cell::Cell;
use std::time::Duration;

pub use boot::BootTime;
pub use day::Day;
pub use moment::Moment;

/// A source of time.
pub trait Clock {
    /// The time of day, with its offset from UTC.
    fn now(&self) -> Moment;
    /// Time since some fixed instant, running on while the machine sleeps.
    fn running(&self) -> Duration;
    /// How long the machine has run since it was started, by a clock that nobody sets; `None` where that
    /// cannot be told.
    fn boot_time(&self) -> Option<BootTime> {
        None
    }
    /// Lets `span` pass: a real clock sleeps, a set clock moves on at once.
    fn pass(&self, span: Duration);
}

/// The machine's own clock.
#[derive(Clone, Copy, Debug, Default)]
pub struct SystemClock;

impl Clock for SystemClock {
    fn now(&self) -> Moment {
        Moment::read_machine()
    }

    fn running(&self) -> Duration {
        crate::machine::running()
    }

    fn boot_time(&self) -> Option<BootTime> {
        BootTime::read_machine(self.running())
    }

    fn pass(&self, span: Duration) {
        std::thread::sleep(span);
    }
}

/// A clock that stands still until it is told to move.
///
/// ```
/// use std::time::Duration;
/// use tankhand::clock::{Clock, Moment, SetClock};
/// let clock = SetClock::at(Moment::parse("2031-04-05T09:00:00-05:00").unwrap());
/// clock.pass(Duration::from_secs(90));
/// assert_eq!(clock.now().to_string(), "2031-04-05T09:01:30-05:00");
/// assert_eq!(clock.running(), Duration::from_secs(90));
/// ```
#[derive(Debug)]
pub struct SetClock {
    start: Moment,
    passed: Cell<Duration>,
}

impl SetClock {
    /// A clock that shows `start`.
    pub fn at(start: Moment) -> SetClock {
        SetClock { start, passed: Cell::new(Duration::ZERO) }
    }
}

impl Clock for SetClock {
    fn now(&self) -> Moment {
        self.start.plus(self.passed.get())
    }

    fn running(&self) -> Duration {
        self.passed.get()
    }

    fn pass(&self, span: Duration) {
        self.passed.set(self.passed.get().saturating_add(span));
    }
}
