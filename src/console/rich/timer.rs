//! A wait with a bar that fills, ended early or left by a key.
//!
//! One thread: draw, wait a moment for a key, read it. A second thread that reads keys would
//! still sit there when the bar is done and eat the first key of the next answer.

use std::io;
use std::time::Duration;

use console::{Key, Term};
use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};
use rustix::event::{PollFd, PollFlags, Timespec, poll};

use super::RichFace;
use crate::clock::Clock;
use crate::console::face::{Countdown, CountdownEnd, Ended};
use crate::console::keys::KeyMode;
use crate::console::wait::{Wait, WaitWord};

/// How long a key is waited for before the bar is drawn again.
const MOMENT: Duration = Duration::from_millis(200);

impl RichFace {
    /// Shows the wait until it is over or a key ends it.
    pub(super) fn run_timer(
        &mut self,
        countdown: &Countdown,
        clock: &dyn Clock,
    ) -> Result<CountdownEnd, Ended> {
        let keys = KeyMode::hold()?;
        keys.forget_typed_ahead();
        let wait = Wait::begin(countdown, clock);
        self.paper.remark(&wait.to_go())?;
        self.paper.remark(key_hint(countdown.early))?;
        let bar = bar(countdown, &self.term);
        let word = self.watch(&wait, countdown.early, &bar);
        bar.finish_and_clear();
        keys.forget_typed_ahead();
        match word? {
            WaitWord::Pause => {
                self.paper.remark(&wait.to_go())?;
                Ok(CountdownEnd::Pause)
            }
            WaitWord::End => {
                self.paper.remark(&wait.over())?;
                Ok(CountdownEnd::Over(wait.passed()))
            }
        }
    }

    fn watch(&self, wait: &Wait<'_>, early: bool, bar: &ProgressBar) -> Result<WaitWord, Ended> {
        loop {
            let left = wait.left();
            if self.signals.arrived() {
                return Err(Ended::Interrupted);
            }
            if left.is_zero() {
                return Ok(WaitWord::End);
            }
            bar.set_message(wait.left_words());
            bar.set_position(u64::try_from(wait.passed().as_millis()).unwrap_or(u64::MAX));
            if key_waits(left.min(MOMENT))?
                && let Some(word) = meaning(&self.term.read_key()?, early)
            {
                return Ok(word);
            }
        }
    }
}

fn bar(countdown: &Countdown, term: &Term) -> ProgressBar {
    let whole = u64::try_from(countdown.whole.as_millis()).unwrap_or(u64::MAX);
    let bar = ProgressBar::with_draw_target(Some(whole), ProgressDrawTarget::term(term.clone(), 10));
    match ProgressStyle::with_template("  {msg} [{wide_bar}]") {
        Ok(style) => bar.with_style(style.progress_chars("##.")),
        Err(_) => bar,
    }
}

fn key_hint(early: bool) -> &'static str {
    if early { "(Keys: e or Enter ends it early, p pauses.)" } else { "(Key: p pauses.)" }
}

/// What a key means during a wait.
fn meaning(key: &Key, early: bool) -> Option<WaitWord> {
    match key {
        Key::Char('p' | 'P') => Some(WaitWord::Pause),
        Key::Char('e' | 'E') | Key::Enter | Key::Escape if early => Some(WaitWord::End),
        _ => None,
    }
}

/// Whether a key comes within `span`; a signal cuts the waiting short.
fn key_waits(span: Duration) -> io::Result<bool> {
    let limit = Timespec::try_from(span).unwrap_or(Timespec { tv_sec: 1, tv_nsec: 0 });
    let stdin = io::stdin();
    let mut fds = [PollFd::new(&stdin, PollFlags::IN)];
    match poll(&mut fds, Some(&limit)) {
        Ok(count) => Ok(count > 0),
        Err(rustix::io::Errno::INTR) => Ok(false),
        Err(error) => Err(error.into()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn keys_during_a_wait() {
        assert_eq!(meaning(&Key::Escape, true), Some(WaitWord::End));
        assert_eq!(meaning(&Key::Enter, false), None);
        assert_eq!(meaning(&Key::Char('p'), false), Some(WaitWord::Pause));
        assert_eq!(meaning(&Key::Char('x'), true), None);
    }
}
