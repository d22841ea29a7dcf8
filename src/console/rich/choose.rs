//! Picking from a list with the arrow keys; the commands stand behind its last item.

use dialoguer::Select;

use super::RichFace;
use crate::console::face::{Command, Ended, Prompt, Reply, Want};
use crate::console::layout::{choice_text, cut};

/// Columns before an item, and one kept free at the end.
const BESIDE_ITEM: usize = 5;

type Options = [(String, String)];

impl RichFace {
    /// One try at a choice.
    pub(super) fn choose(
        &mut self,
        prompt: &Prompt,
        options: &Options,
    ) -> Result<Result<Reply, String>, Ended> {
        let room = self.columns().saturating_sub(BESIDE_ITEM);
        let texts: Vec<String> = options.iter().map(|(value, words)| choice_text(value, words)).collect();
        // What does not fit on one row is printed in full above the list.
        let cut_off = texts.iter().any(|text| console::measure_text_width(text) > room);
        let inline = self.paper.above(prompt, cut_off)?;
        let more = more(&prompt.commands);
        loop {
            let items = texts.iter().chain(&more).map(String::as_str);
            let at = match self.pick(&inline, items, preset(prompt, options))? {
                None if prompt.commands.contains(&Command::Back) => {
                    self.answered(&inline, Command::Back.word())?;
                    return Ok(Ok(Reply::Command(Command::Back, String::new())));
                }
                None => return Ok(Err("There is nothing to go back to.".into())),
                Some(at) => at,
            };
            if let Some((value, _)) = options.get(at) {
                self.answered(&inline, value)?;
                return Ok(Ok(Reply::Text(value.clone())));
            }
            if let Some(reply) = self.command_menu(prompt)? {
                return Ok(Ok(reply));
            }
        }
    }

    /// Lets one of the commands be picked; `None` to return to the question.
    fn command_menu(&mut self, prompt: &Prompt) -> Result<Option<Reply>, Ended> {
        let texts: Vec<String> = prompt
            .commands
            .iter()
            .map(|command| format!("{:<6}{}", command.word(), command.meaning()))
            .chain(["return to the question".to_string()])
            .collect();
        let picked = self.pick("instead of an answer", texts.iter().map(String::as_str), None)?;
        let Some(&command) = picked.and_then(|at| prompt.commands.get(at)) else { return Ok(None) };
        let words = match command {
            Command::Note => self.words_for("remark")?,
            Command::Skip => self.words_for("reason")?,
            _ => String::new(),
        };
        let needs_words = matches!(command, Command::Note | Command::Skip);
        if needs_words && words.is_empty() {
            return Ok(None);
        }
        if !needs_words {
            self.answered("instead of an answer", command.word())?;
        }
        Ok(Some(Reply::Command(command, words)))
    }

    /// A line of words for a command.
    fn words_for(&mut self, what: &str) -> Result<String, Ended> {
        let prompt = Prompt {
            step: String::new(),
            which: String::new(),
            label: what.to_string(),
            want: Want::Line,
            usual: None,
            earlier: None,
            commands: Vec::new(),
        };
        let words = self.line(what, &prompt)?;
        self.answered(what, &words)?;
        Ok(words.trim().to_string())
    }

    /// Shows a list and gives the place of what was picked; `None` for Esc.
    fn pick<'a>(
        &mut self,
        inline: &str,
        items: impl Iterator<Item = &'a str>,
        preset: Option<usize>,
    ) -> Result<Option<usize>, Ended> {
        let look = self.look();
        let room = self.columns().saturating_sub(BESIDE_ITEM);
        let style = self.paper.style;
        let mut select = Select::with_theme(&look)
            .with_prompt(inline)
            .report(false)
            .items(items.map(|item| cut(item, room, style)));
        if let Some(at) = preset {
            select = select.default(at);
        }
        select.interact_on_opt(&self.term).map_err(|error| self.ended(error))
    }
}

/// The item behind which the commands stand, if there are any.
fn more(commands: &[Command]) -> Option<String> {
    let words: Vec<&str> = commands.iter().map(|command| command.word()).collect();
    (!words.is_empty()).then(|| format!("more: {}", words.join(" ")))
}

/// The item marked at first: the earlier or the usual answer. Otherwise none is, so that a stray
/// Enter does not answer.
fn preset(prompt: &Prompt, options: &Options) -> Option<usize> {
    let value = prompt.earlier.as_ref().or(prompt.usual.as_ref())?;
    options.iter().position(|option| option.0 == *value)
}
