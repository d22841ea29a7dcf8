//! The look of the rich face's prompts: ASCII signs, the same marker as everywhere else.

use std::fmt;

use dialoguer::theme::Theme;

/// Our look. Bold and dim only support what the signs tell.
#[derive(Clone, Copy, Debug)]
pub(super) struct Look {
    pub colour: bool,
    /// Columns of the screen.
    pub columns: usize,
}

/// What stands under a list's question when there is room.
const LIST_HINT: &str = "(arrow keys, then Enter)";

impl Look {
    fn bold<'a>(&self, text: &'a str) -> console::StyledObject<&'a str> {
        console::style(text).force_styling(self.colour).bold()
    }

    fn dim<'a>(&self, text: &'a str) -> console::StyledObject<&'a str> {
        console::style(text).force_styling(self.colour).dim()
    }
}

impl Theme for Look {
    fn format_input_prompt(&self, f: &mut dyn fmt::Write, prompt: &str, _: Option<&str>) -> fmt::Result {
        write!(f, "  {} > ", self.bold(prompt))
    }

    fn format_select_prompt(&self, f: &mut dyn fmt::Write, prompt: &str) -> fmt::Result {
        write!(f, "  {} >", self.bold(prompt))?;
        // The page number that may follow takes 16 columns.
        let room = self.columns.saturating_sub(console::measure_text_width(prompt) + 5 + 16);
        if room >= LIST_HINT.len() { write!(f, " {}", self.dim(LIST_HINT)) } else { Ok(()) }
    }

    fn format_select_prompt_item(&self, f: &mut dyn fmt::Write, text: &str, active: bool) -> fmt::Result {
        if active { write!(f, "  > {}", self.bold(text)) } else { write!(f, "    {text}") }
    }
}
