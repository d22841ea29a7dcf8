//! What a write that broke off has left at the end of a record.

use super::scan::{BlockState, RawBlock, Rest, Scan};
use crate::words::harmless;

/// The bytes after the last seal that holds.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TornTail {
    /// How many bytes of the record are sound.
    pub offset: u64,
    /// The number of the first line after them that is not empty.
    pub line: usize,
    /// How many bytes follow.
    pub length: u64,
    /// Those bytes as text, made harmless to show.
    pub text: String,
    /// It does not begin as an entry does: no write that broke off left it.
    pub added: bool,
    /// The step the first broken entry belonged to, when that can be read.
    pub step: Option<String>,
    /// The answer that was given there, when that can be read.
    pub given: Option<String>,
}

impl TornTail {
    pub(super) fn new(tail: &[u8], scan: &Scan<'_>) -> TornTail {
        let text = String::from_utf8_lossy(tail);
        let field = |key: &str| field(&text, key);
        TornTail {
            offset: scan.sealed() as u64,
            line: RawBlock { body: tail, line: scan.line, state: BlockState::Changed }.first_line(),
            length: tail.len() as u64,
            added: scan.rest == Rest::Added,
            step: field("step"),
            given: field("given"),
            text: harmless(&text),
        }
    }

    /// Tells it in a sentence.
    pub fn message(&self) -> String {
        let bytes = crate::words::counted(usize::try_from(self.length).unwrap_or(usize::MAX), "byte");
        if self.added {
            return format!(
                "something other than tankhand added {bytes} at the end, from line {}",
                self.line
            );
        }
        let about = match (&self.step, &self.given) {
            (Some(step), Some(given)) => format!("; the answer to `{step}` in it was {given:?}"),
            (Some(step), None) => format!("; it was about `{step}`"),
            (None, _) => String::new(),
        };
        format!("the last entry was cut off while it was written ({bytes} from line {}){about}", self.line)
    }
}

/// The text a whole line of the first broken entry gives to a key.
fn field(tail: &str, key: &str) -> Option<String> {
    let entry = tail.strip_prefix("\n[[entry]]\n")?;
    let whole = &entry[..=entry.rfind('\n')?];
    let table: toml::Table = whole.parse().ok()?;
    Some(harmless(table.get(key)?.as_str()?))
}
