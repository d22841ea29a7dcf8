//! The look of the rich face's prompts: ASCII signs, the same marker as everywhere else.

use std::fmt;

use dialoguer::theme::Theme;

/// Our look. Bold only supports what the signs tell.
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
