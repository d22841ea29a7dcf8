//! Which face fits where the program runs.

use std::io::{self, BufWriter, IsTerminal};

use console::Term;

use super::face::Face;
use super::input::StandardInput;
use super::outlet::Outlet;
use super::plain::PlainFace;
use super::rich::RichFace;
use super::signals::Signals;
use super::style::{ColourWish, Style};
use crate::machine::HAS_KEY_MODE;

/// What matters about where the program runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Surroundings {
    /// Standard input is a terminal.
    pub input_terminal: bool,
    /// Standard output is a terminal.
    pub output_terminal: bool,
    /// The terminal cannot move its cursor (`TERM=dumb`, or none named).
    pub dumb: bool,
    /// The user asked for the plain face: lines one after another, nothing in signs, to be read or heard.
    pub plain: bool,
    /// Rows of the terminal.
    pub rows: usize,
    /// Columns of the terminal.
    pub columns: usize,
}

impl Surroundings {
    /// Looks around; `plain` when the user asked for the plain face.
    pub fn look(plain: bool) -> Surroundings {
        let (rows, columns) = Term::stdout().size();
        Surroundings {
            input_terminal: io::stdin().is_terminal(),
            output_terminal: io::stdout().is_terminal(),
            dumb: std::env::var("TERM").map_or(true, |term| term.is_empty() || term == "dumb"),
            plain,
            rows: rows.into(),
            columns: columns.into(),
        }
    }

    /// Whether the rich face fits (lists, line editing and a bar): only on a terminal at both ends that is large and
    /// able enough. Else it is the plain one, a line at a time.
    ///
    /// ```
    /// use tankhand::console::Surroundings;
    /// let usual = Surroundings {
    ///     input_terminal: true, output_terminal: true, dumb: false, plain: false, rows: 24, columns: 80,
    /// };
    /// assert!(usual.is_rich());
    /// assert!(!Surroundings { input_terminal: false, ..usual }.is_rich());
    /// ```
    pub fn is_rich(&self) -> bool {
        let able = self.input_terminal && self.output_terminal && !self.dumb;
        HAS_KEY_MODE && able && !self.plain && self.rows >= 3 && self.columns >= 20
    }

    /// The style for standard output here.
    pub fn style(&self, wish: ColourWish) -> Style {
        let columns = self.output_terminal.then_some(self.columns);
        let style = Style::read(|name| std::env::var(name).ok(), columns, wish);
        Style { signs: !self.plain, ..style }
    }

    /// Opens the face that fits, on standard input and output.
    ///
    /// # Errors
    /// When the standard input cannot be had.
    pub fn open(&self, wish: ColourWish, signals: &Signals) -> io::Result<Box<dyn Face>> {
        let style = self.style(wish);
        if self.is_rich() {
            return Ok(Box::new(RichFace::new(style, signals.clone())?));
        }
        let input = StandardInput::new(signals.clone())?;
        let output = Outlet::new(BufWriter::new(io::stdout()), style.colour);
        Ok(Box::new(PlainFace::new(input, output, style, signals.clone())))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_rich_face_needs_everything() {
        let usual = Surroundings {
            input_terminal: true,
            output_terminal: true,
            dumb: false,
            plain: false,
            rows: 3,
            columns: 20,
        };
        assert_eq!(usual.is_rich(), HAS_KEY_MODE);
        for lacking in [
            Surroundings { input_terminal: false, ..usual },
            Surroundings { output_terminal: false, ..usual },
            Surroundings { dumb: true, ..usual },
            Surroundings { plain: true, ..usual },
            Surroundings { rows: 2, ..usual },
            Surroundings { columns: 19, ..usual },
        ] {
            assert!(!lacking.is_rich(), "{lacking:?}");
        }
    }
}
