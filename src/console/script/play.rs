//! Playing a script: each question takes the next answer, if it fits.

use std::io::{self, Write};
use std::time::Duration;

use super::answers::{Script, ScriptedAnswer};
use crate::clock::{Clock, SetClock};
use crate::console::face::{Block, Countdown, CountdownEnd, Ended, Face, Prompt, Reply};
use crate::console::paper::TextOutput;
use crate::console::plain::given;
use crate::console::style::Style;
use crate::console::typed::understand;
use crate::console::wait::{RunningWait, WaitWord};
use crate::source::{Fault, Span};
use crate::words::counted;

/// Answers from a [`Script`]; writes the transcript as the plain face does.
#[derive(Debug)]
pub struct ScriptFace<'c, W> {
    script: Script,
    clock: &'c SetClock,
    paper: TextOutput<W>,
    /// The answer that comes next, and how many of its texts were given.
    next: (usize, usize),
    /// What was shown since the last answer, for `asks`.
    shown: String,
    /// Why the last answer was not taken.
    refusal: Option<String>,
}

impl<'c, W: Write> ScriptFace<'c, W> {
    /// Plays `script`; `clock` should begin at [`Script::start`].
    pub fn new(script: Script, clock: &'c SetClock, output: W, style: Style) -> ScriptFace<'c, W> {
        let paper = TextOutput::new(output, style);
        ScriptFace { script, clock, paper, next: (0, 0), shown: String::new(), refusal: None }
    }

    /// Ends the play and gives back the output.
    ///
    /// # Errors
    /// [`Ended::Script`] when answers are left that nothing asked for.
    pub fn finish(self) -> Result<W, Ended> {
        let left = self.script.answers.get(self.next.0..).unwrap_or(&[]);
        let Some(first) = left.first() else { return Ok(self.paper.into_output()) };
        let count = left.iter().map(|answer| answer.give.len()).sum::<usize>() - self.next.1;
        let span = first.give.get(self.next.1).map_or(first.step.span, |give| give.span);
        let verb = if count == 1 { "was" } else { "were" };
        let message = format!("{} {verb} not asked for", counted(count, "answer"));
        let fault = Fault::new("unused-answer", &self.script.source, span, message)
            .label("the first of them")
            .why("The run came to its end without asking this; the answers and the procedure do not fit.")
            .remedy("take the answer out, or look at why the step was not reached");
        Err(Ended::Script(Box::new(fault)))
    }

    /// The answer that comes next.
    fn current(&self) -> Option<&ScriptedAnswer> {
        self.script.answers.get(self.next.0)
    }

    /// Goes on to the next text.
    fn advance(&mut self) {
        self.next.1 += 1;
        if self.current().is_some_and(|answer| self.next.1 >= answer.give.len()) {
            self.next = (self.next.0 + 1, 0);
        }
    }

    fn fault(&self, code: &'static str, span: Span, message: impl Into<String>, remedy: &str) -> Ended {
        let mut fault = Fault::new(code, &self.script.source, span, message).remedy(remedy);
        if let Some(why) = &self.refusal {
            fault = fault.why(format!("The answer before it was not taken: {why}"));
        }
        Ended::Script(Box::new(fault))
    }

    /// The text that answers `prompt`, if the script foresaw it.
    fn take(&mut self, prompt: &Prompt) -> Result<String, Ended> {
        let asked = asked(prompt);
        let Some(answer) = self.current() else {
            let end = self.script.source.text().trim_end().len();
            let message = format!("{asked} is asked, and the answers are at their end");
            let remedy = format!("add an answer with `step = \"{}\"`", prompt.step);
            return Err(self.fault("no-answer", Span::new(end, end), message, &remedy));
        };
        if answer.step.text != prompt.step {
            let (span, message) = match answer.give.get(self.next.1) {
                Some(give) if self.next.1 > 0 => {
                    (give.span, format!("{asked} is asked before this is answered"))
                }
                _ => (answer.step.span, format!("{asked} is asked, but this answers `{}`", answer.step.text)),
            };
            let remedy = "give the answers in the order in which the run asks";
            return Err(self.fault("wrong-step", span, message, remedy));
        }
        self.check_asks(answer, prompt)?;
        if let (0, Some((length, _))) = (self.next.1, answer.after) {
            self.clock.pass(length);
        }
        let text = answer.give.get(self.next.1).map(|give| give.text.clone()).unwrap_or_default();
        self.advance();
        Ok(text)
    }

    /// Whether what must be asked was asked.
    fn check_asks(&self, answer: &ScriptedAnswer, prompt: &Prompt) -> Result<(), Ended> {
        let Some(asks) = answer.asks.as_ref().filter(|_| self.next.1 == 0) else { return Ok(()) };
        let seen = one_line(&format!("{} {} {}", self.shown, prompt.label, prompt.which));
        if seen.contains(&one_line(&asks.text)) {
            return Ok(());
        }
        let message = format!("this was not in the question at `{}`", prompt.step);
        let remedy = format!("the question was: {}", seen.trim());
        Err(self.fault("other-question", asks.span, message, &remedy))
    }

    /// What the script does during a wait: how far the clock moves first, and the word.
    fn during_wait(
        &mut self,
        countdown: &Countdown,
        left: Duration,
    ) -> Result<Option<(Duration, WaitWord)>, Ended> {
        let Some(answer) = self.current().filter(|answer| answer.step.text == countdown.step) else {
            return Ok(None);
        };
        let Some(give) = answer.give.get(self.next.1) else { return Ok(None) };
        let word = match give.text.trim().to_lowercase().as_str() {
            "early" => WaitWord::End,
            "pause" => WaitWord::Pause,
            _ => return Ok(None),
        };
        if word == WaitWord::End && !countdown.early {
            let remedy = "take this answer out: the wait then runs out";
            return Err(self.fault("not-early", give.span, "this wait may not be ended early", remedy));
        }
        let (after, span) = match answer.after {
            Some(after) if self.next.1 == 0 => after,
            _ => (Duration::ZERO, give.span),
        };
        if after >= left {
            let remedy = "make the time shorter than what is left of the wait";
            return Err(self.fault("after-end", span, "the wait is over before that", remedy));
        }
        self.advance();
        Ok(Some((after, word)))
    }
}

/// The question, named for a message.
fn asked(prompt: &Prompt) -> String {
    let which = if prompt.which.is_empty() { String::new() } else { format!(", {}", prompt.which) };
    format!("`{}`{which} ({})", prompt.step, prompt.label)
}

/// A text with every run of spaces and line ends made one space.
fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The words of a block.
fn words(block: &Block) -> String {
    match block {
        Block::Heading(text)
        | Block::Text(text)
        | Block::Result(text)
        | Block::Warning(_, text)
        | Block::Help(text)
        | Block::Aside(text)
        | Block::Verdict(_, text)
        | Block::Finding(_, text)
        | Block::Refusal(text) => text.clone(),
        Block::Lines(lines) | Block::Task { lines, .. } => lines.join("\n"),
    }
}

impl<W: Write> Face for ScriptFace<'_, W> {
    fn show(&mut self, block: &Block) -> io::Result<()> {
        self.shown.push_str(&words(block));
        self.shown.push('\n');
        if let Block::Refusal(why) = block {
            self.refusal = Some(why.clone());
        }
        self.paper.show(block)
    }

    fn ask(&mut self, prompt: &Prompt) -> Result<Reply, Ended> {
        loop {
            let inline = self.paper.above(prompt)?;
            self.paper.put(&inline, false)?;
            let text = match self.take(prompt) {
                Ok(text) => text,
                Err(ended) => {
                    self.paper.end_line()?;
                    return Err(ended);
                }
            };
            self.paper.echo(given(&text, prompt))?;
            self.shown.clear();
            self.refusal = None;
            match understand(&text, prompt) {
                Ok(reply) => return Ok(reply),
                Err(why) => self.show(&Block::Refusal(why.to_string()))?,
            }
        }
    }

    fn count_down(&mut self, countdown: &Countdown, clock: &dyn Clock) -> Result<CountdownEnd, Ended> {
        let wait = RunningWait::begin(countdown, clock);
        self.paper.remark(&wait.begins())?;
        let heard = self.during_wait(countdown, wait.left())?;
        let (after, word) = heard.unwrap_or((wait.left(), WaitWord::End));
        clock.pass(after);
        match word {
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
}
