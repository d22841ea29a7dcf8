//! The rich face: lists to pick from with the arrow keys, lines that can be edited, a bar that
//! fills while a wait goes by.
//!
//! Long text is printed by us; the prompts stay short, because prompts wider than the screen
//! break. The key mode is held while a person is waited for, and only then.

mod choose;
mod theme;
mod timer;

use std::io;

use console::Term;
use dialoguer::{BasicHistory, Completion, Input};

use super::face::{Block, Command, Countdown, CountdownEnd, Ended, Face, Prompt, Reply, Want};
use super::keys::KeyMode;
use super::paper::Paper;
use super::plain::given;
use super::signals::Signals;
use super::style::{Style, readable};
use super::typed::understand;
use crate::clock::Clock;
use crate::words::harmless;
use theme::Look;

/// The rich face, on the terminal at standard input and output.
pub struct RichFace {
    term: Term,
    paper: Paper<Term>,
    history: BasicHistory,
    signals: Signals,
}

impl RichFace {
    /// Talks through the terminal; both standard input and output must be one.
    pub fn new(style: Style, signals: Signals) -> RichFace {
        let term = Term::stdout();
        let history = BasicHistory::new().max_entries(50).no_duplicates(true);
        RichFace { paper: Paper::new(term.clone(), style), term, history, signals }
    }

    /// Takes the terminal's present width: a window may have been made narrower.
    fn fit(&mut self) {
        self.paper.style.width = readable(self.columns());
    }

    fn columns(&self) -> usize {
        usize::from(self.term.size().1)
    }

    fn look(&self) -> Look {
        Look { colour: self.paper.style.colour, columns: self.columns() }
    }

    /// Whether a list can be picked from: the prompt library needs three rows.
    fn list_fits(&self) -> bool {
        self.term.size().0 >= 3
    }

    /// One try at an answer.
    fn try_once(&mut self, prompt: &Prompt) -> Result<Result<Reply, String>, Ended> {
        match &prompt.want {
            Want::OneOf(options) if self.list_fits() => self.choose(prompt, options),
            _ => {
                let inline = self.paper.above(prompt, true)?;
                let typed = self.line(&inline, prompt)?;
                self.answered(&inline, given(&typed, prompt))?;
                Ok(understand(&typed, prompt))
            }
        }
    }

    /// Lets a line be typed and takes it off the screen again.
    fn line(&mut self, inline: &str, prompt: &Prompt) -> Result<String, Ended> {
        let look = self.look();
        let words = CommandWords(&prompt.commands);
        let earlier = match prompt.want {
            Want::Line => prompt.earlier.as_deref().unwrap_or_default(),
            _ => "",
        };
        let typed: String = Input::with_theme(&look)
            .with_prompt(inline)
            .allow_empty(true)
            .report(false)
            .with_initial_text(earlier)
            .history_with(&mut self.history)
            .completion_with(&words)
            .interact_text_on(&self.term)
            .map_err(|error| self.ended(error))?;
        // The prompt library takes only the last row of a long line away.
        let taken = console::measure_text_width(inline) + 5 + console::measure_text_width(&typed);
        let rows = taken.saturating_sub(1) / self.columns().max(1);
        if rows > 0 {
            self.term.move_cursor_up(rows)?;
            self.term.clear_to_end_of_screen()?;
        }
        Ok(typed)
    }

    /// Writes the question with its answer, as it stays on the screen.
    fn answered(&mut self, inline: &str, answer: &str) -> io::Result<()> {
        self.term.write_line(format!("  {inline} > {}", harmless(answer.trim())).trim_end())
    }

    /// What a failed prompt means.
    fn ended(&self, error: dialoguer::Error) -> Ended {
        let dialoguer::Error::IO(error) = error;
        let _ = self.term.write_line("");
        match error.kind() {
            _ if self.signals.arrived() => Ended::Interrupted,
            io::ErrorKind::UnexpectedEof => Ended::NoMoreInput,
            _ => Ended::from(error),
        }
    }
}

impl Face for RichFace {
    fn show(&mut self, block: &Block) -> io::Result<()> {
        self.fit();
        self.paper.show(block)
    }

    fn ask(&mut self, prompt: &Prompt) -> Result<Reply, Ended> {
        let keys = KeyMode::hold()?;
        if matches!(prompt.want, Want::Word(_) | Want::Enter) {
            keys.forget_typed_ahead();
        }
        loop {
            if self.signals.arrived() {
                return Err(Ended::Interrupted);
            }
            self.fit();
            match self.try_once(prompt)? {
                Ok(reply) => return Ok(reply),
                Err(why) => self.paper.show(&Block::Refusal(why))?,
            }
        }
    }

    fn count_down(&mut self, countdown: &Countdown, clock: &dyn Clock) -> Result<CountdownEnd, Ended> {
        self.fit();
        self.run_timer(countdown, clock)
    }
}

/// Tab finishes a command's word.
struct CommandWords<'a>(&'a [Command]);

impl Completion for CommandWords<'_> {
    fn get(&self, input: &str) -> Option<String> {
        let typed = input.to_lowercase();
        let mut fitting =
            self.0.iter().filter(|command| !typed.is_empty() && command.word().starts_with(&typed));
        let found = fitting.next()?;
        let more = if matches!(found, Command::Note | Command::Skip) { " " } else { "" };
        fitting.next().is_none().then(|| format!("{}{more}", found.word()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tab_finishes_a_command_only() {
        let words = CommandWords(&[Command::Why, Command::Note, Command::Pause]);
        let finished = ["n", "PA", "", "s", "38"].map(|typed| words.get(typed).unwrap_or_default());
        assert_eq!(finished, ["note ", "pause", "", "", ""]);
    }
}
