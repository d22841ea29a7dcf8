//! A wait as it goes by: how much is left, when to say so, and the words for it.

use std::time::Duration;

use super::face::Countdown;
use super::not_accepted::NotAccepted;
use crate::clock::{Clock, Moment};

/// A wait that has begun.
pub(crate) struct RunningWait<'a> {
    countdown: &'a Countdown,
    clock: &'a dyn Clock,
    began: Duration,
    next_mark: Duration,
    /// When it is over, by the clock on the wall.
    pub(crate) ends: Moment,
}

impl<'a> RunningWait<'a> {
    pub(crate) fn begin(countdown: &'a Countdown, clock: &'a dyn Clock) -> RunningWait<'a> {
        let left = countdown.whole.saturating_sub(countdown.passed);
        let ends = clock.now().plus(left).minus(countdown.passed.saturating_sub(countdown.whole));
        RunningWait { countdown, clock, began: clock.running(), next_mark: mark_below(left), ends }
    }

    /// How long it has been in all.
    pub(crate) fn passed(&self) -> Duration {
        self.countdown.passed.saturating_add(self.clock.running().saturating_sub(self.began))
    }

    /// How much is still to go.
    pub(crate) fn left(&self) -> Duration {
        self.countdown.whole.saturating_sub(self.passed())
    }

    /// Time until the next mark or the end.
    pub(crate) fn to_mark(&self) -> Duration {
        self.left().saturating_sub(self.next_mark)
    }

    /// Whether a mark was reached since the last call; a wait that is over has none.
    pub(crate) fn mark_reached(&mut self) -> bool {
        let left = self.left();
        let reached = left <= self.next_mark && !left.is_zero();
        if reached {
            self.next_mark = mark_below(left);
        }
        reached
    }

    /// `12:00 to go`.
    pub(crate) fn left_words(&self) -> String {
        format!("{} to go", clock_time(self.left()))
    }

    /// `Waiting until 14:05: 12:00 to go`, where there is something to wait for.
    pub(crate) fn begins(&self) -> String {
        if self.left().is_zero() {
            return self.to_go();
        }
        format!("Waiting until {}: {}", self.ends.time_of_day(), self.left_words())
    }

    /// `Waiting: 12:00 to go`.
    pub(crate) fn to_go(&self) -> String {
        format!("Waiting: {}", self.left_words())
    }

    /// `Waited 15:00. Ready since 14:05.`: the wait's length when it ran out, whatever the last look at
    /// the clock added; whole seconds when it was ended early.
    pub(crate) fn over(&self) -> String {
        let passed = self.passed();
        if passed >= self.countdown.whole {
            let since = self.ends.time_of_day();
            return format!("Waited {}. Ready since {since}.", clock_time(self.countdown.whole));
        }
        let passed = clock_time(Duration::from_secs(passed.as_secs()));
        format!("Waited {passed} of {}.", clock_time(self.countdown.whole))
    }
}

/// The largest mark below `left`: whole minutes in the last half hour, ten minutes in the last
/// three hours, else hours.
fn mark_below(left: Duration) -> Duration {
    let step = match left.as_secs() {
        0..=1800 => 60,
        1801..=10_800 => 600,
        _ => 3600,
    };
    let marks = left.as_nanos().saturating_sub(1) / (u128::from(step) * 1_000_000_000);
    Duration::from_secs(u64::try_from(marks).unwrap_or(u64::MAX).saturating_mul(step))
}

/// `12:00` for twelve minutes, `1:05:00` for an hour and five; a started second counts whole.
fn clock_time(span: Duration) -> String {
    let seconds = span.as_secs().saturating_add(u64::from(span.subsec_nanos() > 0));
    let (hours, minutes, seconds) = (seconds / 3600, seconds / 60 % 60, seconds % 60);
    if hours > 0 { format!("{hours}:{minutes:02}:{seconds:02}") } else { format!("{minutes}:{seconds:02}") }
}

/// What a person may type during a wait.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum WaitWord {
    End,
    Pause,
}

/// Understands a line typed during a wait.
///
/// # Errors
/// [`NotAccepted`], which says what may be typed.
pub(crate) fn understand_wait(line: &str, early: bool) -> Result<WaitWord, NotAccepted> {
    match line.trim().to_lowercase().as_str() {
        "p" | "pause" => Ok(WaitWord::Pause),
        "end" | "early" if early => Ok(WaitWord::End),
        "end" | "early" => Err(NotAccepted::ToTheEnd),
        _ => Err(NotAccepted::DuringWait { early }),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::clock::SetClock;
    use proptest::prelude::*;

    #[test]
    fn times_are_written_as_a_clock_shows_them() {
        let shown = [0, 59, 60, 754, 3600, 90_061].map(|s| clock_time(Duration::from_secs(s)));
        assert_eq!(shown, ["0:00", "0:59", "1:00", "12:34", "1:00:00", "25:01:01"]);
        assert_eq!(clock_time(Duration::from_millis(59_001)), "1:00");
    }

    #[test]
    fn the_end_never_tells_more_than_the_wait_s_length() {
        let clock = SetClock::at(Moment::parse("2031-04-05T09:00:00-05:00").unwrap());
        let countdown = Countdown {
            step: "hold".into(),
            whole: Duration::from_secs(2),
            passed: Duration::ZERO,
            early: true,
        };
        let wait = RunningWait::begin(&countdown, &clock);
        assert_eq!(wait.to_go(), "Waiting: 0:02 to go");
        let mut waited = Vec::new();
        for millis in [0, 1999, 1, 300] {
            clock.pass(Duration::from_millis(millis));
            waited.push(wait.over());
        }
        assert_eq!(
            waited,
            [
                "Waited 0:00 of 0:02.",
                "Waited 0:01 of 0:02.",
                "Waited 0:02. Ready since 09:00.",
                "Waited 0:02. Ready since 09:00."
            ]
        );
    }

    #[test]
    fn words_during_a_wait() {
        assert_eq!(understand_wait(" Pause ", false), Ok(WaitWord::Pause));
        assert_eq!(understand_wait("END", true), Ok(WaitWord::End));
        assert_eq!(understand_wait("end", false), Err(NotAccepted::ToTheEnd));
        for stray in ["", "e", "38"] {
            assert_eq!(understand_wait(stray, true), Err(NotAccepted::DuringWait { early: true }));
        }
        assert_eq!(
            understand_wait("38", true).unwrap_err().to_string(),
            "During the wait you may type: `end` to end it early or `pause` to leave."
        );
    }

    proptest! {
        #[test]
        fn marks_go_down_to_zero(millis in 1u64..200_000_000) {
            let mut left = Duration::from_millis(millis);
            let mut marks = 0;
            while !left.is_zero() {
                let next = mark_below(left);
                prop_assert!(next < left);
                left = next;
                marks += 1;
            }
            prop_assert!(marks < 110);
        }
    }
}
