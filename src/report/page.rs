//! A finished view without a layout: what stands on it, not how it looks.

use super::figure::Figure;
use crate::quantity::Verdict;

/// A page.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Page {
    /// What it is about.
    pub title: Option<String>,
    /// What stands on it, in order.
    pub blocks: Vec<PageBlock>,
}

/// A piece of a page.
#[derive(Clone, Debug, PartialEq)]
pub enum PageBlock {
    /// The heading of what follows.
    Heading(String),
    /// What it all comes to, in a sentence or two.
    Lead(String),
    /// A paragraph; line ends in it stay.
    Text(String),
    /// Cells in rows.
    Table {
        /// A word over each column; empty when the first cell of a row says what the others are.
        head: Vec<String>,
        /// The rows.
        rows: Vec<Row>,
    },
    /// Things side by side.
    List(Vec<String>),
    /// Something to bear in mind.
    Note(String),
    /// Lines to be typed or run, kept as they are.
    Listing(String),
    /// A figure.
    Figure(Box<Figure>),
    /// A file that is kept inside the page, where the page can hold one.
    File {
        /// What it is called.
        name: String,
        /// Every byte of it.
        bytes: Vec<u8>,
    },
    /// A text that a camera reads, as a QR code.
    Code(String),
    /// Lines to sign on, each with who signs there.
    Signatures(Vec<String>),
}

/// A row of a table.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Row {
    /// Its cells; line ends in them stay.
    pub cells: Vec<String>,
    /// It was taken back: it is shown, and no longer counts.
    pub struck: bool,
    /// The verdict it tells of, which also stands in words in one of its cells.
    pub verdict: Option<Verdict>,
}

impl Row {
    /// A row that counts.
    ///
    /// ```
    /// use tankhand::report::Row;
    /// assert_eq!(Row::new(["Tank", "main"]).cells, ["Tank", "main"]);
    /// ```
    pub fn new<S: Into<String>>(cells: impl IntoIterator<Item = S>) -> Row {
        Row { cells: cells.into_iter().map(Into::into).collect(), ..Row::default() }
    }

    /// A row of a word and a text for each text there is.
    pub(super) fn led_by<'w>(
        texts: impl IntoIterator<Item = (&'w str, Option<String>)>,
    ) -> impl Iterator<Item = Row> {
        texts.into_iter().filter_map(|(word, text)| Some(Row::new([word.to_string(), text?])))
    }

    /// The same row, struck out or not.
    pub fn struck_if(self, struck: bool) -> Row {
        Row { struck, ..self }
    }
}

impl<S: Into<String>, const N: usize> From<[S; N]> for Row {
    fn from(cells: [S; N]) -> Row {
        Row::new(cells)
    }
}

impl Page {
    /// A page with a title and nothing on it yet.
    pub fn titled(title: impl Into<String>) -> Page {
        Page { title: Some(title.into()), blocks: Vec::new() }
    }

    /// Adds a heading.
    pub fn heading(&mut self, text: impl Into<String>) {
        self.blocks.push(PageBlock::Heading(text.into()));
    }

    /// Adds a paragraph.
    pub fn text(&mut self, text: impl Into<String>) {
        self.blocks.push(PageBlock::Text(text.into()));
    }

    /// Adds paragraphs.
    pub fn texts<S: Into<String>>(&mut self, texts: impl IntoIterator<Item = S>) {
        self.blocks.extend(texts.into_iter().map(|text| PageBlock::Text(text.into())));
    }

    /// Adds a note.
    pub fn note(&mut self, text: impl Into<String>) {
        self.blocks.push(PageBlock::Note(text.into()));
    }

    /// Adds lines that are kept as they are.
    pub fn listing(&mut self, lines: impl Into<String>) {
        self.blocks.push(PageBlock::Listing(lines.into()));
    }

    /// Adds the figures on which something can be seen.
    pub fn figures(&mut self, figures: impl IntoIterator<Item = Figure>) {
        let seen = figures.into_iter().filter(Figure::shows_something);
        self.blocks.extend(seen.map(|figure| PageBlock::Figure(Box::new(figure))));
    }

    /// Adds a table, unless it has no rows.
    pub fn table<R: Into<Row>>(&mut self, head: &[&str], rows: impl IntoIterator<Item = R>) {
        let rows: Vec<Row> = rows.into_iter().map(Into::into).collect();
        if !rows.is_empty() {
            let head = head.iter().map(ToString::to_string).collect();
            self.blocks.push(PageBlock::Table { head, rows });
        }
    }

    /// Adds a heading with a list below it, unless the list is empty.
    pub fn headed_list<S: Into<String>>(&mut self, heading: &str, items: impl IntoIterator<Item = S>) {
        let items: Vec<String> = items.into_iter().map(Into::into).collect();
        if !items.is_empty() {
            self.heading(heading);
            self.blocks.push(PageBlock::List(items));
        }
    }

    /// Adds a heading with a table below it, unless the table has no rows.
    pub fn headed_table<R: Into<Row>>(
        &mut self,
        heading: &str,
        head: &[&str],
        rows: impl IntoIterator<Item = R>,
    ) {
        let mut rows = rows.into_iter().peekable();
        if rows.peek().is_some() {
            self.heading(heading);
            self.table(head, rows);
        }
    }
}
