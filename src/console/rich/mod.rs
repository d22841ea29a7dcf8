//! The rich face: lines that can be edited, with Tab to finish words and the earlier answers on
//! the up arrow, and a bar that fills while a wait goes by.
//!
//! Long text and lists are printed by us; the prompts stay short, because prompts wider than the
//! screen break. The key mode is held while a person is waited for, and only then.

mod face;
mod line;
mod timer;

use std::io;
use std::time::Duration;

use super::face::{Block, Countdown, CountdownEnd, Ended, Face, Prompt, Reply, ReplyKind};
use super::layout::{choice_text, cut};
use super::not_accepted::NotAccepted;
use super::plain::given;
use super::typed::understand;
use crate::clock::Clock;
use crate::machine::{KeyMode, key_comes};
use line::{BESIDE_PROMPT, to_edit};

pub use face::RichFace;

impl RichFace {
    /// One try at an answer.
    fn try_once(&mut self, keys: &KeyMode, prompt: &Prompt) -> Result<Result<Reply, NotAccepted>, Ended> {
        if self.paper.is_full_for(prompt, usize::from(self.term.size().0)) {
            self.pause_to_read()?;
        }
        let inline = if to_edit(prompt).is_empty() {
            self.paper.above(prompt)?
        } else {
            // The earlier answer stands there to be edited; Enter gives that, not the usual one.
            self.paper.above(&Prompt { usual: None, earlier: None, ..prompt.clone() })?
        };
        let typed = self.line(&inline, prompt)?;
        // A paste of several lines: which of them was meant for this question nobody can tell.
        let several = key_comes(Duration::ZERO)?;
        if several {
            keys.forget_typed_ahead();
        }
        let understood = if several { Err(NotAccepted::SeveralLines) } else { understand(&typed, prompt) };
        let answer = match (&prompt.expects, &understood) {
            (ReplyKind::OneOf(options), Ok(Reply::Text(value))) => {
                self.choice_in_words(&inline, value, options)
            }
            _ => given(&typed, prompt).to_string(),
        };
        self.answered(&inline, &answer)?;
        Ok(understood)
    }

    /// The choice that was made with its words, cut to what is left of the row: a number alone
    /// would not tell later what it stood for.
    fn choice_in_words(&self, inline: &str, value: &str, options: &[(String, String)]) -> String {
        let words = options.iter().find(|option| option.0 == value).map_or("", |option| &option.1);
        let room = self.columns().saturating_sub(console::measure_text_width(inline) + BESIDE_PROMPT);
        cut(&choice_text(value, words), room, self.paper.style)
    }
}

impl Face for RichFace {
    fn show(&mut self, block: &Block) -> io::Result<()> {
        self.fit();
        let rows = usize::from(self.term.size().0);
        match self.paper.in_parts(block, rows) {
            Some((lines, most)) => self.show_in_parts(lines, most),
            None => {
                if self.paper.is_full(block, rows) {
                    self.pause_to_read()?;
                }
                self.paper.show(block)
            }
        }
    }

    fn ask(&mut self, prompt: &Prompt) -> Result<Reply, Ended> {
        let keys = KeyMode::hold()?;
        if matches!(prompt.expects, ReplyKind::Word(_) | ReplyKind::Enter) {
            keys.forget_typed_ahead();
        }
        loop {
            if self.signals.arrived() {
                return Err(Ended::Interrupted);
            }
            self.fit();
            let tried = self.try_once(&keys, prompt);
            // Who breaks off has read it too, and is not held up on the way out.
            self.paper.was_read();
            match tried? {
                Ok(reply) => {
                    self.ready = None;
                    self.untitle()?;
                    return Ok(reply);
                }
                Err(why) => self.paper.show(&Block::Refusal(why.to_string()))?,
            }
        }
    }

    fn count_down(&mut self, countdown: &Countdown, clock: &dyn Clock) -> Result<CountdownEnd, Ended> {
        self.fit();
        let end = self.run_timer(countdown, clock);
        self.paper.was_read();
        end
    }
}
