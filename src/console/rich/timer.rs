//! A wait with a bar that fills, ended early or left by a key.
//!
//! One thread: draw, wait a moment for a key, read it. A second thread that reads keys would
//! still sit there when the bar is done and eat the first key of the next answer.
//!
//! A key counts only when it stands alone: whoever types an answer ahead of its question has an
//! `e`, a `p` or an Enter in it and means none of them for the wait.

use std::time::Duration;

use console::Term;
use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};

use super::face::RichFace;
use crate::clock::Clock;
use crate::console::face::{Countdown, CountdownEnd, Ended};
use crate::console::keys::{KeyMode, key_comes, keys_ready};
use crate::console::wait::{RunningWait, WaitWord};

/// How long a key is waited for before the bar is drawn again.
const MOMENT: Duration = Duration::from_millis(200);

/// Keys that follow each other faster than this were typed together.
const TOGETHER: Duration = Duration::from_millis(400);

/// Ctrl-C, which comes as a byte while the key mode is held.
const CTRL_C: u8 = 0x03;

impl RichFace {
    /// Shows the wait until it is over or a key ends it.
    pub(super) fn run_timer(
        &mut self,
        countdown: &Countdown,
        clock: &dyn Clock,
    ) -> Result<CountdownEnd, Ended> {
        let keys = KeyMode::hold()?;
        keys.forget_typed_ahead();
        let wait = RunningWait::begin(countdown, clock);
        self.paper.remark(&wait.to_go())?;
        self.paper.remark(key_hint(countdown.early))?;
        let bar = bar(countdown, &self.term);
        let word = self.watch(&wait, countdown.early, &bar, clock);
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

    fn watch(
        &self,
        wait: &RunningWait<'_>,
        early: bool,
        bar: &ProgressBar,
        clock: &dyn Clock,
    ) -> Result<WaitWord, Ended> {
        let mut together: Vec<u8> = Vec::new();
        let mut last_key = clock.running();
        loop {
            let left = wait.left();
            if self.signals.arrived() || together.contains(&CTRL_C) {
                return Err(Ended::Interrupted);
            }
            if left.is_zero() {
                return Ok(WaitWord::End);
            }
            bar.set_message(wait.left_words());
            bar.set_position(u64::try_from(wait.passed().as_millis()).unwrap_or(u64::MAX));
            if key_comes(left.min(MOMENT))? {
                together.truncate(1);
                together.extend(keys_ready().map_err(|error| self.broken(error))?);
                last_key = clock.running();
            } else if clock.running().saturating_sub(last_key) >= TOGETHER
                && let Some(word) = meaning(&std::mem::take(&mut together), early)
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
    if early {
        "(One key alone: e or Enter ends it early, p leaves. Anything else is ignored.)"
    } else {
        "(The key p alone leaves; the wait goes on. Anything else is ignored.)"
    }
}

/// What keys that came together mean during a wait: nothing, unless it is one key alone.
fn meaning(keys: &[u8], early: bool) -> Option<WaitWord> {
    match keys {
        b"p" | b"P" => Some(WaitWord::Pause),
        b"e" | b"E" | b"\r" | b"\n" if early => Some(WaitWord::End),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_a_key_alone_means_anything() {
        assert_eq!(meaning(b"e", true), Some(WaitWord::End));
        assert_eq!(meaning(b"\n", true), Some(WaitWord::End));
        assert_eq!(meaning(b"P", false), Some(WaitWord::Pause));
        for (keys, early) in [
            (&b"\r"[..], false),
            (b"e", false),
            (b"", true),
            (b"x", true),
            (b"\x1b", true),
            (b"\x1b[A", true),
            (b"38\n", true),
            (b"pp", true),
            (b"\n\n", true),
            (b"pause\n", true),
        ] {
            assert_eq!(meaning(keys, early), None, "{keys:?}");
        }
    }
}
