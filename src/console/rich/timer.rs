//! A wait with a bar that fills, ended early or left by a key.
//!
//! One thread: draw, wait a moment for a key, read it. A second thread that reads keys would
//! still sit there when the bar is done and eat the first key of the next answer.
//!
//! A word counts only when it stands alone on its line: whoever types an answer ahead of its question
//! means nothing of it for the wait.

use std::time::Duration;

use console::Term;
use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};

use super::face::RichFace;
use crate::clock::Clock;
use crate::console::face::{Countdown, CountdownEnd, Ended};
use crate::console::not_accepted::{NotAccepted, wait_words};
use crate::console::wait::{RunningWait, WaitWord, understand_wait};
use crate::machine::{KeyMode, key_comes, keys_ready};
use crate::words::{list, wrap};

/// How long a key is waited for before the bar is drawn again.
const MOMENT: Duration = Duration::from_millis(200);
/// More typed characters than this are no word.
const LONGEST_WORD: usize = 12;

impl RichFace {
    /// Shows the wait until it is over or a word ends it.
    pub(super) fn run_timer(
        &mut self,
        countdown: &Countdown,
        clock: &dyn Clock,
    ) -> Result<CountdownEnd, Ended> {
        let keys = KeyMode::hold()?;
        keys.forget_typed_ahead();
        let wait = RunningWait::begin(countdown, clock);
        self.paper.remark(&wait.begins())?;
        self.paper.remark(&format!("({})", list(wait_words(countdown.early), "or")))?;
        self.title(&format!("until {}", wait.ends.time_of_day()))?;
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
                if wait.left().is_zero() {
                    self.ready = Some(wait.ends);
                    self.title(&format!("READY since {}", wait.ends.time_of_day()))?;
                    self.paper.ring()?;
                }
                self.paper.remark(&wait.over())?;
                Ok(CountdownEnd::Over(wait.passed()))
            }
        }
    }

    fn watch(&self, wait: &RunningWait<'_>, early: bool, bar: &ProgressBar) -> Result<WaitWord, Ended> {
        let mut typed = String::new();
        loop {
            if self.heed_keys()? {
                bar.reset_elapsed();
            }
            let left = wait.left();
            if left.is_zero() {
                return Ok(WaitWord::End);
            }
            let typed_so_far = if typed.is_empty() { String::new() } else { format!(" > {typed}") };
            bar.set_message(format!("{}{typed_so_far}", wait.left_words()));
            bar.set_position(u64::try_from(wait.passed().as_millis()).unwrap_or(u64::MAX));
            if key_comes(left.min(MOMENT))? {
                let keys = keys_ready().map_err(|error| self.broken(error))?;
                let mut refused = None;
                if let Some(word) = word_of(&keys, &mut typed, early, &mut refused) {
                    return Ok(word);
                }
                if let Some(why) = refused {
                    let lines = wrap(&format!("Not taken: {why}"), self.paper.style.width, 2);
                    lines.into_iter().for_each(|line| bar.println(line));
                }
            }
        }
    }
}

/// What keys make of the word typed so far; a word that means nothing here is forgotten, and why is told.
fn word_of(
    keys: &[u8],
    typed: &mut String,
    early: bool,
    refused: &mut Option<NotAccepted>,
) -> Option<WaitWord> {
    for key in keys {
        match key {
            // Enter by itself is no word.
            b'\r' | b'\n' if typed.trim().is_empty() => typed.clear(),
            b'\r' | b'\n' => match understand_wait(&std::mem::take(typed), early) {
                Ok(word) => return Some(word),
                Err(why) => *refused = Some(why),
            },
            0x08 | 0x7f => drop(typed.pop()),
            b' '..=b'~' if typed.len() < LONGEST_WORD => typed.push(char::from(*key)),
            // An arrow or function key: what comes with it is no word either.
            0x1b => {
                typed.clear();
                return None;
            }
            _ => {}
        }
    }
    None
}

fn bar(countdown: &Countdown, term: &Term) -> ProgressBar {
    let whole = u64::try_from(countdown.whole.as_millis()).unwrap_or(u64::MAX);
    let bar = ProgressBar::with_draw_target(Some(whole), ProgressDrawTarget::term(term.clone(), 10));
    match ProgressStyle::with_template("  {msg} [{wide_bar}]") {
        Ok(style) => bar.with_style(style.progress_chars("##.")),
        Err(_) => bar,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Typed at once or key by key; corrected; what was typed ahead means nothing.
    #[test]
    fn only_a_word_on_its_own_line_means_anything() {
        let typed = |keys: &[&[u8]], early| {
            let mut typed = String::new();
            keys.iter().find_map(|keys| word_of(keys, &mut typed, early, &mut None))
        };
        let mut refused = None;
        assert_eq!(word_of(b"\r\n", &mut String::new(), true, &mut refused), None);
        assert_eq!(refused, None, "Enter by itself is passed over");
        assert_eq!(word_of(b"list\r", &mut String::new(), true, &mut refused), None);
        assert_eq!(refused, Some(NotAccepted::DuringWait { early: true }));
        assert_eq!(typed(&[b"end\r"], true), Some(WaitWord::End));
        assert_eq!(typed(&[b"e", b"n", b"x", b"\x7f", b"d", b"\n"], true), Some(WaitWord::End));
        assert_eq!(typed(&[b"38\rPause\r"], false), Some(WaitWord::Pause));
        for (keys, early) in [
            (&[&b"end\r"[..]][..], false),
            (&[b"\r"], true),
            (&[b"e\r"], true),
            (&[b"end"], true),
            (&[b"spend\r"], true),
            (&[b"\x1b[A", b"\r"], true),
            (&[b"a very long remark\r"], true),
        ] {
            assert_eq!(typed(keys, early), None, "{keys:?}");
        }
    }
}
