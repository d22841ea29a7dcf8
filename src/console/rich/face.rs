//! What the rich face holds, and what its parts share: the width, the look, the ways it ends.

use std::fmt;
use std::io;

use console::Term;
use dialoguer::BasicHistory;
use dialoguer::theme::Theme;

use crate::clock::{Clock, Moment, SystemClock};
use crate::console::face::Ended;
use crate::console::layout::shown;
use crate::console::paper::TextOutput;
use crate::console::signals::Signals;
use crate::console::style::{Style, readable};
use crate::machine::stop_until_called;
use crate::words::harmless;

/// The rich face, on the terminal at standard input and output.
pub struct RichFace {
    pub(super) term: Term,
    pub(super) paper: TextOutput<Term>,
    pub(super) history: BasicHistory,
    pub(super) signals: Signals,
    /// Whether the window has a title of ours.
    pub(super) titled: bool,
    /// When the last wait was over, until what it was for is answered.
    pub(super) ready: Option<Moment>,
}

impl Drop for RichFace {
    fn drop(&mut self) {
        let _ = self.untitle();
    }
}

impl RichFace {
    /// Talks through the terminal; both standard input and output must be one.
    ///
    /// # Errors
    /// When the system refuses to hand over Ctrl-Z and Ctrl-D.
    pub fn new(style: Style, signals: Signals) -> io::Result<RichFace> {
        signals.take_keys()?;
        let term = Term::stdout();
        let history = BasicHistory::new().max_entries(50).no_duplicates(true);
        Ok(RichFace {
            paper: TextOutput::new(term.clone(), style),
            term,
            history,
            signals,
            titled: false,
            ready: None,
        })
    }

    /// Puts a title on the window; the one before comes back with [`RichFace::untitle`].
    pub(super) fn title(&mut self, title: &str) -> io::Result<()> {
        if !std::mem::replace(&mut self.titled, true) {
            self.term.write_str("\x1b[22;0t")?;
        }
        self.term.set_title(harmless(title));
        Ok(())
    }

    /// Titles the window with how long a wait has been over, in minutes.
    pub(super) fn title_overdue(&mut self, minutes_shown: &mut u64) -> io::Result<()> {
        let Some(ready) = self.ready else { return Ok(()) };
        let minutes = SystemClock.now().since(ready).as_secs() / 60;
        if minutes > std::mem::replace(minutes_shown, minutes) {
            self.title(&format!("READY since {}, {minutes} min ago", ready.time_of_day()))?;
        }
        Ok(())
    }

    /// Takes the title off the window.
    pub(super) fn untitle(&mut self) -> io::Result<()> {
        if std::mem::take(&mut self.titled) { self.term.write_str("\x1b[23;0t") } else { Ok(()) }
    }

    /// What Ctrl-C, Ctrl-D and Ctrl-Z ask for; `true` when the program was stopped and called back, and what
    /// was drawn may be gone.
    pub(super) fn heed_keys(&self) -> Result<bool, Ended> {
        if self.signals.arrived() {
            return Err(Ended::Interrupted);
        }
        if self.signals.take_end() {
            return Err(Ended::NoMoreInput);
        }
        let stopped = self.signals.take_stop();
        if stopped {
            self.term.write_line("")?;
            stop_until_called()?;
        }
        Ok(stopped)
    }

    /// Takes the terminal's present width: a window may have been made narrower.
    pub(super) fn fit(&mut self) {
        self.paper.style.width = readable(self.columns());
    }

    pub(super) fn columns(&self) -> usize {
        usize::from(self.term.size().1)
    }

    pub(super) fn look(&self) -> PromptTheme {
        PromptTheme { colour: self.paper.style.colour }
    }

    /// Writes the question with its answer, as it stays on the screen.
    pub(super) fn answered(&mut self, inline: &str, answer: &str) -> io::Result<()> {
        self.term.write_line(format!("  {inline} > {}", shown(answer.trim(), self.paper.style)).trim_end())
    }

    /// What a failed prompt means.
    pub(super) fn ended(&self, error: dialoguer::Error) -> Ended {
        let dialoguer::Error::IO(error) = error;
        let _ = self.term.write_line("");
        self.broken(error)
    }

    /// What failed reading means.
    pub(super) fn broken(&self, error: io::Error) -> Ended {
        match error.kind() {
            _ if self.signals.arrived() => Ended::Interrupted,
            io::ErrorKind::UnexpectedEof => Ended::NoMoreInput,
            _ => Ended::from(error),
        }
    }
}

/// The look of the prompts: ASCII signs, the same marker as everywhere else. Bold only supports what the signs tell.
#[derive(Clone, Copy, Debug)]
pub(super) struct PromptTheme {
    pub colour: bool,
}

impl PromptTheme {
    /// The words before the cursor, as they are drawn.
    pub(super) fn before_cursor(self, prompt: &str) -> String {
        format!("  {} > ", console::style(prompt).force_styling(self.colour).bold())
    }
}

impl Theme for PromptTheme {
    fn format_input_prompt(&self, f: &mut dyn fmt::Write, prompt: &str, _: Option<&str>) -> fmt::Result {
        f.write_str(&self.before_cursor(prompt))
    }
}
