//! How wide to write, with which characters, and whether in colour.

/// What the user asked for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum ColourWish {
    /// Colour on a terminal that is fit for it, unless `NO_COLOR` is set.
    #[default]
    Auto,
    /// Always.
    Always,
    /// Never.
    Never,
}

/// How text is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Style {
    /// Columns to wrap at.
    pub width: usize,
    /// Whether characters beyond ASCII may be written.
    pub unicode: bool,
    /// Whether colour may be used. Colour never carries meaning alone.
    pub colour: bool,
    /// Whether signs may stand for words; without them everything is spelt out, to be heard.
    pub signs: bool,
}

impl Style {
    /// ASCII without colour, wrapped at `width` columns.
    pub const fn plain(width: usize) -> Style {
        Style { width, unicode: false, colour: false, signs: true }
    }

    /// Reads the style from environment variables (`COLUMNS`, `NO_COLOR`, `TERM`, `LC_ALL`,
    /// `LC_CTYPE`, `LANG`) and the terminal's width, `None` when the output is no terminal.
    ///
    /// ```
    /// use tankhand::console::{ColourWish, Style};
    /// let variable = |name: &str| (name == "LANG").then(|| "en_US.UTF-8".to_string());
    /// let style = Style::read(variable, Some(44), ColourWish::Auto);
    /// assert_eq!(style, Style { width: 44, unicode: true, colour: true, signs: true });
    /// ```
    pub fn read(
        variable: impl Fn(&str) -> Option<String>,
        terminal_columns: Option<usize>,
        wish: ColourWish,
    ) -> Style {
        let set = |name: &str| variable(name).filter(|value| !value.is_empty());
        let columns = set("COLUMNS").and_then(|text| text.parse().ok()).filter(|&columns| columns > 0);
        let locale = ["LC_ALL", "LC_CTYPE", "LANG"].into_iter().find_map(&set).unwrap_or_default();
        let locale = locale.to_lowercase();
        let colour = match wish {
            ColourWish::Always => true,
            ColourWish::Never => false,
            ColourWish::Auto => {
                let dumb = set("TERM").is_some_and(|term| term == "dumb");
                terminal_columns.is_some() && set("NO_COLOR").is_none() && !dumb
            }
        };
        let unicode = locale.contains("utf-8") || locale.contains("utf8");
        Style { unicode, colour, ..Style::plain(readable(columns.or(terminal_columns).unwrap_or(80))) }
    }

    /// The text with nothing in it that the output may not be able to show.
    pub(crate) fn safe(&self, text: &str) -> String {
        let plain = |c: char| if c.is_ascii() { c.to_string() } else { spelt(c).to_string() };
        if self.unicode || text.is_ascii() { text.to_string() } else { text.chars().map(plain).collect() }
    }
}

/// A width that can be read: long lines tire the eye, very short ones cannot hold a word.
pub(crate) fn readable(columns: usize) -> usize {
    columns.clamp(20, 100)
}

/// A character in ASCII: signs of the trade spelt out, letters without their accents.
fn spelt(c: char) -> &'static str {
    match c {
        '°' => "deg ",
        '±' => "+/-",
        '×' => "x",
        '÷' => "/",
        '·' | '•' => "*",
        '−' | '‐' | '‑' | '–' | '—' => "-",
        '≤' => "<=",
        '≥' => ">=",
        '≈' => "~",
        '≠' => "!=",
        '→' => "->",
        '…' => "...",
        '‘' | '’' | '′' => "'",
        '“' | '”' | '″' | '„' => "\"",
        '\u{a0}' | '\u{202f}' | '\u{2009}' => " ",
        '¼' => "1/4",
        '½' => "1/2",
        '¾' => "3/4",
        '²' => "2",
        '³' => "3",
        'µ' | 'μ' => "u",
        'Δ' => "change ",
        'à' | 'á' | 'â' | 'ã' | 'å' => "a",
        'ä' | 'æ' => "ae",
        'ç' => "c",
        'è' | 'é' | 'ê' | 'ë' => "e",
        'ì' | 'í' | 'î' | 'ï' => "i",
        'ñ' => "n",
        'ò' | 'ó' | 'ô' | 'õ' | 'ø' => "o",
        'ö' => "oe",
        'ù' | 'ú' | 'û' => "u",
        'ü' => "ue",
        'ß' => "ss",
        'Ä' => "Ae",
        'É' => "E",
        'Ö' => "Oe",
        'Ü' => "Ue",
        _ => "?",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    type Variables<'a> = &'a [(&'a str, &'a str)];

    fn style(variables: Variables<'_>, columns: Option<usize>, wish: ColourWish) -> Style {
        let find = |name: &str| variables.iter().find(|(n, _)| *n == name).map(|(_, v)| v.to_string());
        Style::read(find, columns, wish)
    }

    #[test]
    fn the_environment_decides() {
        use ColourWish::*;
        let made = |width, unicode, colour| Style { width, unicode, colour, signs: true };
        let utf8 = ("LANG", "de_DE.utf8");
        let table: [(Variables<'_>, Option<usize>, ColourWish, Style); 9] = [
            (&[], None, Auto, made(80, false, false)),
            (&[], Some(40), Auto, made(40, false, true)),
            (&[("COLUMNS", "60")], Some(40), Auto, made(60, false, true)),
            (&[("COLUMNS", "0")], Some(40), Auto, made(40, false, true)),
            (&[("COLUMNS", "wide")], Some(1000), Never, made(100, false, false)),
            (&[utf8, ("NO_COLOR", "1")], Some(3), Auto, made(20, true, false)),
            (&[utf8, ("LC_ALL", "C"), ("NO_COLOR", "")], Some(80), Auto, made(80, false, true)),
            (&[utf8, ("LC_ALL", ""), ("TERM", "dumb")], Some(80), Auto, made(80, true, false)),
            (&[("NO_COLOR", "1")], None, Always, made(80, false, true)),
        ];
        for (variables, columns, wish, expected) in table {
            assert_eq!(style(variables, columns, wish), expected, "for {variables:?} {columns:?}");
        }
    }

    #[test]
    fn text_is_spelt_out_where_only_ascii_can_be_shown() {
        let ascii = Style::plain(80);
        assert_eq!(
            ascii.safe("80 °F ± 1, 2 × ½ ≤ 38 – “Größe” 水"),
            "80 deg F +/- 1, 2 x 1/2 <= 38 - \"Groesse\" ?"
        );
        let utf8 = Style { unicode: true, ..ascii };
        assert_eq!(utf8.safe("80 °F"), "80 °F");
    }
}
