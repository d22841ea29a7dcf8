//! A fault found in a text: where, what, why, and what to do about it.

use std::fmt;

use super::{SourceText, Span};

/// A second place a fault speaks of, with what is to be seen there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Mark {
    /// Where.
    pub span: Span,
    /// What stands there, in a few words.
    pub says: String,
}

/// One thing wrong with a text.
///
/// The folders that find faults make them; turning them into pages or machine output happens
/// in one place, the report layer.
///
/// ```
/// use tankhand::source::{Fault, SourceText, Span};
/// let text = SourceText::new("demo.toml", "durration = 3");
/// let fault = Fault::new("unknown-key", &text, Span::new(0, 9), "there is no key `durration`")
///     .remedy("did you mean `duration`?");
/// assert_eq!(fault.heading(), "demo.toml:1:1: there is no key `durration`");
/// ```
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// A short fixed name for this sort of fault, such as `unknown-key`.
    pub code: &'static str,
    /// The text it is in.
    pub source: SourceText,
    /// The characters it is about.
    pub span: Span,
    /// What is wrong, in one sentence without a full stop.
    pub message: String,
    /// A few words to stand at the marked characters.
    pub label: String,
    /// Other places that matter to it, in the same text.
    pub marks: Vec<Mark>,
    /// Why it is a fault, for a homeowner.
    pub why: Option<String>,
    /// What to do about it.
    pub remedy: Option<String>,
    /// What faults with one cause have in common, such as the name that all of them miss.
    pub cause: Option<String>,
    /// Where else the same cause was met.
    pub also: Vec<(SourceText, Span)>,
}

impl Fault {
    /// A fault with a message and a place; add the rest with the methods below.
    pub fn new(code: &'static str, source: &SourceText, span: Span, message: impl Into<String>) -> Fault {
        Fault {
            code,
            source: source.clone(),
            span,
            message: message.into(),
            label: String::new(),
            marks: Vec::new(),
            why: None,
            remedy: None,
            cause: None,
            also: Vec::new(),
        }
    }

    /// Says what stands at the marked characters.
    pub fn label(mut self, says: impl Into<String>) -> Fault {
        self.label = says.into();
        self
    }

    /// Adds another place.
    pub fn mark(mut self, span: Span, says: impl Into<String>) -> Fault {
        self.marks.push(Mark { span, says: says.into() });
        self
    }

    /// Says why it is a fault.
    pub fn why(mut self, why: impl Into<String>) -> Fault {
        self.why = Some(why.into());
        self
    }

    /// Says what to do.
    pub fn remedy(mut self, remedy: impl Into<String>) -> Fault {
        self.remedy = Some(remedy.into());
        self
    }

    /// Names the cause: of faults with the same one only the first is told, with the places of the others.
    pub fn cause(mut self, cause: impl Into<String>) -> Fault {
        self.cause = Some(cause.into());
        self
    }

    /// `file:line:column: message`, one line.
    pub fn heading(&self) -> String {
        let place = self.source.place(self.span.start);
        format!("{}:{}:{}: {}", self.source.name(), place.line, place.column, self.message)
    }

    /// Sorts faults by file and place, drops exact repeats, and makes one of those with one cause.
    ///
    /// ```
    /// use tankhand::source::{Fault, SourceText, Span};
    /// let text = SourceText::new("demo.toml", "a + a");
    /// let missing = |at| Fault::new("unknown-name", &text, Span::new(at, at + 1), "no `a`").cause("name a");
    /// let mut faults = vec![missing(4), missing(0)];
    /// Fault::sort(&mut faults);
    /// assert_eq!((faults.len(), faults[0].span.start, faults[0].also.len()), (1, 0, 1));
    /// ```
    pub fn sort(faults: &mut Vec<Fault>) {
        faults.sort_by(|a, b| {
            (a.source.name(), a.span, a.code, &a.message).cmp(&(b.source.name(), b.span, b.code, &b.message))
        });
        faults.dedup();
        let mut kept: Vec<Fault> = Vec::with_capacity(faults.len());
        for fault in faults.drain(..) {
            let named = fault.cause.is_some();
            match kept.iter_mut().find(|known| named && known.cause == fault.cause) {
                Some(known) => known.met_again(fault),
                None => kept.push(fault),
            }
        }
        *faults = kept;
    }

    /// The same cause was met at another place.
    fn met_again(&mut self, other: Fault) {
        let places = std::iter::once((other.source, other.span)).chain(other.also);
        for place in places {
            if (&place.0, place.1) != (&self.source, self.span) && !self.also.contains(&place) {
                self.also.push(place);
            }
        }
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.heading())
    }
}

// Not derived: a derived one would take the text in `source` for an error beneath this one.
impl std::error::Error for Fault {}
