//! The plain face: one line at a time, nothing moved or repainted.
//!
//! For pipes, simple terminals, screen readers and whoever prefers it.

use std::io::{self, Write};
use std::time::Duration;

use super::face::{Block, Countdown, CountdownEnd, Ended, Face, Prompt, Reply, ReplyKind};
use super::input::{Ready, StandardInput};
use super::line::InputLine;
use super::not_accepted::{NotAccepted, wait_words};
use super::paper::TextOutput;
use super::parts::{GO_ON, PAUSE, Pause, understand_pause};
use super::signals::Signals;
use super::style::Style;
use super::typed::understand;
use super::wait::{RunningWait, WaitWord, understand_wait};
use crate::clock::Clock;
use crate::words::list;

/// The rows of a screen that nothing is known of.
const USUAL_ROWS: usize = 24;
/// How often a pipe is asked the same question: a program that feeds the wrong answers for ever
/// must not fill a disk.
const MOST_TRIES: usize = 1000;

/// The plain face, over any output.
#[derive(Debug)]
pub struct PlainFace<W> {
    input: StandardInput,
    paper: TextOutput<W>,
    signals: Signals,
    /// A line that came during a wait and is not for it.
    kept: Option<InputLine>,
    /// The place of the last question, and how often it was put.
    tries: (String, String, usize),
}

impl<W: Write> PlainFace<W> {
    /// Reads lines from `input` and writes to `output`; never in colour.
    pub fn new(input: StandardInput, output: W, style: Style, signals: Signals) -> PlainFace<W> {
        let style = Style { colour: false, ..style };
        PlainFace {
            input,
            paper: TextOutput::new(output, style),
            signals,
            kept: None,
            tries: Default::default(),
        }
    }

    /// Counts how often one question is put.
    fn count_try(&mut self, prompt: &Prompt) -> Result<(), Ended> {
        if (&self.tries.0, &self.tries.1) != (&prompt.step, &prompt.which) {
            self.tries = (prompt.step.clone(), prompt.which.clone(), 0);
        }
        self.tries.2 += 1;
        if self.tries.2 > MOST_TRIES && !self.input.is_terminal() {
            let why = format!("{MOST_TRIES} answers in a row from the pipe did not fit one question");
            return Err(Ended::Io(io::Error::other(why)));
        }
        Ok(())
    }

    /// Waits until what stands there was read.
    fn pause_to_read(&mut self) -> io::Result<()> {
        let paused = self.pause(GO_ON);
        self.paper.was_read();
        match paused {
            // What ended it is seen at the next question.
            Err(error) if error.kind() == io::ErrorKind::Interrupted => self.paper.end_line(),
            other => other.map(drop),
        }
    }

    /// Waits for Enter.
    fn pause(&mut self, words: &str) -> io::Result<Pause> {
        loop {
            self.paper.put(words, true)?;
            let understood = match self.input.line()? {
                InputLine::Text(typed) => understand_pause(words, &typed),
                InputLine::TooLong => Err(NotAccepted::TooLong),
                InputLine::NotText => Err(NotAccepted::NoText),
                InputLine::End => return Ok(Pause::NoMore),
            };
            match understood {
                Ok(pause) => return Ok(pause),
                Err(why) => self.paper.show(&Block::Refusal(why.to_string()))?,
            }
        }
    }

    /// One try at an answer.
    fn try_once(&mut self, inline: &str, prompt: &Prompt) -> Result<Result<Reply, NotAccepted>, Ended> {
        let interactive = self.input.is_terminal();
        self.paper.put(inline, interactive)?;
        let line = match self.kept.take().map_or_else(|| self.input.line(), Ok) {
            Ok(InputLine::End) => Err(Ended::NoMoreInput),
            line => line.map_err(Ended::from),
        };
        if line.is_err() {
            self.paper.end_line()?;
        }
        let line = line?;
        if let (InputLine::Text(text), false) = (&line, interactive) {
            self.paper.echo(given(text, prompt))?;
        } else if !interactive {
            self.paper.end_line()?;
        }
        if interactive && self.input.more_lies_ready()? {
            self.input.forget_typed_ahead();
            return Ok(Err(NotAccepted::SeveralLines));
        }
        Ok(match line {
            InputLine::Text(text) => understand(&text, prompt),
            InputLine::TooLong => Err(NotAccepted::TooLong),
            _ => Err(NotAccepted::NoText),
        })
    }

    /// Acts on a line that is there during a wait.
    fn during_wait(&mut self, countdown: &Countdown) -> Result<Heard, Ended> {
        let line = self.input.line()?;
        let typed = if let InputLine::Text(text) = &line { text } else { "-" };
        match understand_wait(typed, countdown.early) {
            Ok(word) => Ok(Heard::Word(word)),
            Err(why) if self.input.is_terminal() => {
                self.paper.show(&Block::Refusal(why.to_string()))?;
                Ok(Heard::Nothing)
            }
            Err(_) => {
                self.kept = Some(line);
                Ok(Heard::NotForUs)
            }
        }
    }
}

/// What a line during a wait was.
enum Heard {
    Word(WaitWord),
    Nothing,
    /// It answers a later question.
    NotForUs,
}

/// What an answer stands for: an empty line gives the usual answer.
pub(crate) fn given<'a>(text: &'a str, prompt: &'a Prompt) -> &'a str {
    match &prompt.usual {
        Some(usual) if text.trim().is_empty() && !matches!(prompt.expects, ReplyKind::Word(_)) => usual,
        _ => text,
    }
}

impl<W: Write> Face for PlainFace<W> {
    fn show(&mut self, block: &Block) -> io::Result<()> {
        let interactive = self.input.is_terminal();
        if interactive && self.paper.is_full(block, USUAL_ROWS) {
            self.pause_to_read()?;
        }
        let parts = self.paper.in_parts(block, USUAL_ROWS).filter(|_| interactive);
        let Some((mut left, most)) = parts else { return self.paper.show(block) };
        left = self.paper.part(left, most, true)?;
        while !left.is_empty() && self.pause(PAUSE)? == Pause::More {
            left = self.paper.part(left, most, false)?;
        }
        Ok(())
    }

    fn ask(&mut self, prompt: &Prompt) -> Result<Reply, Ended> {
        if matches!(prompt.expects, ReplyKind::Word(_) | ReplyKind::Enter) {
            self.input.forget_typed_ahead();
        }
        loop {
            self.count_try(prompt)?;
            if self.input.is_terminal() && self.paper.is_full_for(prompt, USUAL_ROWS) {
                self.pause_to_read()?;
            }
            let inline = self.paper.above(prompt)?;
            let tried = self.try_once(&inline, prompt);
            // Who breaks off has read it too, and is not held up on the way out.
            self.paper.was_read();
            match tried? {
                Ok(reply) => return Ok(reply),
                Err(why) => self.paper.show(&Block::Refusal(why.to_string()))?,
            }
        }
    }

    fn count_down(&mut self, countdown: &Countdown, clock: &dyn Clock) -> Result<CountdownEnd, Ended> {
        self.input.forget_typed_ahead();
        self.paper.was_read();
        let mut wait = RunningWait::begin(countdown, clock);
        self.paper.remark(&wait.begins())?;
        if self.input.is_terminal() {
            self.paper.remark(&format!("({})", list(wait_words(countdown.early), "or")))?;
        }
        let mut listening = true;
        while !wait.left().is_zero() {
            if self.signals.arrived() {
                return Err(Ended::Interrupted);
            }
            let slice = wait.to_mark().min(Duration::from_secs(1));
            let ready = if listening { self.input.wait(slice)? } else { Ready::End };
            match ready {
                Ready::Nothing => {}
                Ready::End => clock.pass(slice),
                Ready::Line => match self.during_wait(countdown)? {
                    Heard::Word(WaitWord::Pause) => return Ok(CountdownEnd::Pause),
                    Heard::Word(WaitWord::End) => break,
                    Heard::Nothing => {}
                    Heard::NotForUs => listening = false,
                },
            }
            if wait.mark_reached() {
                self.paper.remark(&wait.to_go())?;
            }
        }
        if self.input.is_terminal() && wait.left().is_zero() {
            self.paper.ring()?;
        }
        self.paper.remark(&wait.over())?;
        self.paper.was_read();
        Ok(CountdownEnd::Over(wait.passed()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::clock::{Moment, SetClock};

    #[test]
    fn a_raised_flag_breaks_a_wait_off() {
        let (reader, _) = io::pipe().unwrap();
        let signals = Signals::none();
        signals.raise();
        let input = StandardInput::piped(reader, Signals::none());
        let mut face = PlainFace::new(input, Vec::new(), Style::plain(80), signals);
        let (whole, passed) = (Duration::from_secs(60), Duration::ZERO);
        let hold = Countdown { step: "hold".to_string(), whole, passed, early: true };
        let clock = SetClock::at(Moment::parse("2031-04-05T09:00:00-05:00").unwrap());
        assert!(matches!(face.count_down(&hold, &clock), Err(Ended::Interrupted)));
    }
}
