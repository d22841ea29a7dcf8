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

    /// Adds a note.
    pub fn note(&mut self, text: impl Into<String>) {
        self.blocks.push(PageBlock::Note(text.into()));
    }

    /// Adds lines that are kept as they are.
    pub fn listing(&mut self, lines: impl Into<String>) {
        self.blocks.push(PageBlock::Listing(lines.into()));
    }

    /// Adds a figure, when there is one and something can be seen on it.
    pub fn figure(&mut self, figure: Option<Figure>) {
        if let Some(figure) = figure.filter(Figure::shows_something) {
            self.blocks.push(PageBlock::Figure(Box::new(figure)));
        }
    }

    /// Adds a table, unless it has no rows.
    pub fn table(&mut self, head: &[&str], rows: Vec<Row>) {
        if !rows.is_empty() {
            let head = head.iter().map(ToString::to_string).collect();
            self.blocks.push(PageBlock::Table { head, rows });
        }
    }

    /// Adds a heading with a list below it, unless the list is empty.
    pub fn headed_list(&mut self, heading: &str, items: Vec<String>) {
        if !items.is_empty() {
            self.heading(heading);
            self.blocks.push(PageBlock::List(items));
        }
    }

    /// Adds a heading with a table below it, unless the table has no rows.
    pub fn headed_table(&mut self, heading: &str, head: &[&str], rows: Vec<Row>) {
        if !rows.is_empty() {
            self.heading(heading);
            self.table(head, rows);
        }
    }
}
