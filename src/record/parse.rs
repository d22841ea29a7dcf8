//! Blocks of a record read back: TOML tables into header, entries and result.
//!
//! Fields this version does not know are kept, or in the header passed over; a field it knows
//! must be what it should be.

use toml::{Table, Value};

use super::render::FORMAT;
use super::seal::sha256;
use super::words::verdict;
use super::{Entry, EntryKind, ForeignEntry, Header, KeptText, Outcome, Summary, TextRole};
use crate::clock::Moment;
use crate::quantity::{Truth, Units};

/// What stands between one seal and the next.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Part {
    /// An entry.
    Entry(Box<Entry>),
    /// An entry of a kind this version does not know.
    Foreign(ForeignEntry),
    /// The result.
    Result(Summary),
}

/// Reads the head of a record.
pub(super) fn header(block: &str) -> Result<Header, String> {
    let mut fields = Fields(block.parse::<Table>().map_err(|e| e.message().to_string())?);
    if fields.whole("format")? != Some(FORMAT) {
        return Err(format!("`format` should be {FORMAT}"));
    }
    let units = fields.needed("units", Fields::text)?;
    let header = Header {
        id: fields.needed("id", Fields::text)?,
        program: fields.needed("program", Fields::text)?,
        procedure: fields.needed("procedure", Fields::text)?,
        title: fields.needed("title", Fields::text)?,
        started: fields.needed("started", Fields::moment)?,
        units: Units::named(&units).ok_or_else(|| format!("no units are called {units:?}"))?,
        site: fields.text("site")?,
        tank: fields.text("tank")?,
        demo: fields.yes("demo")?.unwrap_or(false),
        texts: fields.tables("text")?.into_iter().map(kept).collect::<Result<_, _>>()?,
    };
    Ok(header)
}

fn kept(mut fields: Fields) -> Result<KeptText, String> {
    let role = fields.needed("role", Fields::text)?;
    let name = fields.needed("name", Fields::text)?;
    let text = fields.needed("text", Fields::text)?;
    if fields.needed("sha256", Fields::text)? != sha256(&text) {
        return Err(format!("the text {name:?} does not have the digest that stands with it"));
    }
    let role = TextRole::named(&role).ok_or_else(|| format!("no text has the role {role:?}"))?;
    Ok(KeptText { role, name, text: text.into() })
}

/// Reads a block after the head.
pub(super) fn part(block: &str) -> Result<Part, String> {
    let mut fields = Fields(block.parse::<Table>().map_err(|e| e.message().to_string())?);
    let mut entries = fields.tables("entry")?;
    let result = fields.table("result")?;
    match (entries.pop(), entries.is_empty(), result) {
        (Some(fields), true, None) => entry(fields),
        (None, true, Some(fields)) => summary(fields).map(Part::Result),
        _ => Err("one `[[entry]]` or `[result]` should stand here".to_string()),
    }
}

fn entry(mut fields: Fields) -> Result<Part, String> {
    let n = fields.needed("n", Fields::count)?;
    let word = fields.needed("kind", Fields::text)?;
    let Some(kind) = EntryKind::named(&word) else {
        return Ok(Part::Foreign(ForeignEntry { n, kind: word, fields: fields.0 }));
    };
    let entry = Entry {
        n,
        kind,
        step: fields.needed("step", Fields::text)?,
        round: fields.rounds("round")?,
        take: fields.small("take")?,
        at: fields.needed("at", Fields::moment)?,
        asked: fields.text("asked")?,
        given: fields.text("given")?,
        value: fields.number("value")?,
        unit: fields.text("unit")?,
        uncertainty: fields.number("uncertainty")?,
        gauge: fields.text("gauge")?,
        verdict: fields.verdict()?,
        truth: fields.truth()?,
        reason: fields.text("reason")?,
        replaces: fields.count("replaces")?,
        said: fields.text("said")?,
        more: fields.0,
    };
    Ok(Part::Entry(Box::new(entry)))
}

fn summary(mut fields: Fields) -> Result<Summary, String> {
    let outcome = fields.needed("outcome", Fields::text)?;
    Ok(Summary {
        outcome: Outcome::named(&outcome).ok_or_else(|| format!("no outcome is called {outcome:?}"))?,
        at: fields.needed("at", Fields::moment)?,
        words: fields.needed("words", Fields::text)?,
    })
}

/// The fields of a table not yet taken.
struct Fields(Table);

impl Fields {
    /// Takes a field out, as what `read` makes of it.
    fn take<T>(&mut self, key: &str, what: &str, read: fn(Value) -> Option<T>) -> Result<Option<T>, String> {
        let Some(value) = self.0.remove(key) else { return Ok(None) };
        let found = value.type_str();
        read(value).map(Some).ok_or_else(|| format!("`{key}` should be {what}; a {found} stands there"))
    }

    fn needed<T>(&mut self, key: &str, take: TakeField<T>) -> Result<T, String> {
        take(self, key)?.ok_or_else(|| format!("`{key}` is missing"))
    }

    fn text(&mut self, key: &str) -> Result<Option<String>, String> {
        self.take(key, "a text", |value| match value {
            Value::String(text) => Some(text),
            _ => None,
        })
    }

    fn yes(&mut self, key: &str) -> Result<Option<bool>, String> {
        self.take(key, "true or false", |value| value.as_bool())
    }

    fn whole(&mut self, key: &str) -> Result<Option<i64>, String> {
        self.take(key, "a whole number", |value| value.as_integer())
    }

    fn count(&mut self, key: &str) -> Result<Option<u64>, String> {
        self.take(key, "a whole number from 1", |value| count(&value))
    }

    fn small(&mut self, key: &str) -> Result<Option<u32>, String> {
        self.take(key, "a whole number from 1", |value| small(&value))
    }

    fn rounds(&mut self, key: &str) -> Result<Vec<u32>, String> {
        let list = self.take(key, "a list of whole numbers", |value| {
            value.as_array()?.iter().map(small).collect::<Option<Vec<u32>>>()
        });
        Ok(list?.unwrap_or_default())
    }

    fn number(&mut self, key: &str) -> Result<Option<f64>, String> {
        self.take(key, "a number", |value| number(&value))
    }

    fn moment(&mut self, key: &str) -> Result<Option<Moment>, String> {
        self.take(key, "a date and time with its offset", |value| {
            Moment::parse(&value.as_datetime()?.to_string())
        })
    }

    fn verdict(&mut self) -> Result<Option<crate::quantity::Verdict>, String> {
        self.take("verdict", "`pass`, `fail` or `can't tell`", |value| verdict(value.as_str()?))
    }

    fn truth(&mut self) -> Result<Option<Truth>, String> {
        self.take("truth", "a table of `best`, `least` and `most`", |value| {
            Some(Truth {
                best: value.get("best")?.as_bool()?,
                least: number(value.get("least")?)?,
                most: number(value.get("most")?)?,
            })
        })
    }

    fn table(&mut self, key: &str) -> Result<Option<Fields>, String> {
        self.take(key, "a table", |value| match value {
            Value::Table(table) => Some(Fields(table)),
            _ => None,
        })
    }

    fn tables(&mut self, key: &str) -> Result<Vec<Fields>, String> {
        let list = self.take(key, "a list of tables", |value| match value {
            Value::Array(items) => items.into_iter().map(as_fields).collect::<Option<Vec<Fields>>>(),
            _ => None,
        });
        Ok(list?.unwrap_or_default())
    }
}

type TakeField<T> = fn(&mut Fields, &str) -> Result<Option<T>, String>;

fn as_fields(value: Value) -> Option<Fields> {
    match value {
        Value::Table(table) => Some(Fields(table)),
        _ => None,
    }
}

fn count(value: &Value) -> Option<u64> {
    u64::try_from(value.as_integer()?).ok()
}

fn small(value: &Value) -> Option<u32> {
    u32::try_from(value.as_integer()?).ok()
}

/// A finite number, written whole or not.
fn number(value: &Value) -> Option<f64> {
    let whole = |value: &Value| value.as_integer().map(|whole| whole as f64);
    value.as_float().or_else(|| whole(value)).filter(|number| number.is_finite())
}
