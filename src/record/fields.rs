//! Takes the fields of a TOML table one by one, each as what it should be.

use serde::de::DeserializeOwned;
use toml::{Table, Value};

use super::unclear::Unclear;
use super::words::verdict;
use crate::clock::Moment;
use crate::quantity::{Truth, Verdict};

/// The fields of a table not yet taken.
pub(super) struct EntryFields(Table);

impl EntryFields {
    /// The fields a block of TOML has.
    pub(super) fn of(block: &str) -> Result<EntryFields, Unclear> {
        block
            .parse()
            .map(EntryFields)
            .map_err(|error: toml::de::Error| Unclear::NotToml(error.message().to_string()))
    }

    /// The fields no one took.
    pub(super) fn rest(self) -> Table {
        self.0
    }

    /// Takes a field out, as what `read` makes of it.
    fn take<T>(
        &mut self,
        key: &str,
        what: &'static str,
        read: fn(Value) -> Option<T>,
    ) -> Result<Option<T>, Unclear> {
        let Some(value) = self.0.remove(key) else { return Ok(None) };
        let found = value.type_str();
        read(value).map(Some).ok_or_else(|| Unclear::WrongType { key: key.to_string(), what, found })
    }

    pub(super) fn needed<T>(&mut self, key: &str, take: TakeField<T>) -> Result<T, Unclear> {
        take(self, key)?.ok_or_else(|| Unclear::Missing(key.to_string()))
    }

    pub(super) fn text(&mut self, key: &str) -> Result<Option<String>, Unclear> {
        self.take(key, "a text", as_is)
    }

    pub(super) fn yes(&mut self, key: &str) -> Result<Option<bool>, Unclear> {
        self.take(key, "true or false", as_is)
    }

    pub(super) fn whole(&mut self, key: &str) -> Result<Option<i64>, Unclear> {
        self.take(key, "a whole number", as_is)
    }

    pub(super) fn count(&mut self, key: &str) -> Result<Option<u64>, Unclear> {
        self.take(key, "a whole number from 1", as_is)
    }

    pub(super) fn small(&mut self, key: &str) -> Result<Option<u32>, Unclear> {
        self.take(key, "a whole number from 1", as_is)
    }

    pub(super) fn rounds(&mut self, key: &str) -> Result<Vec<u32>, Unclear> {
        Ok(self.take(key, "a list of whole numbers", as_is)?.unwrap_or_default())
    }

    pub(super) fn counts(&mut self, key: &str) -> Result<Vec<u64>, Unclear> {
        Ok(self.take(key, "a list of whole numbers", as_is)?.unwrap_or_default())
    }

    pub(super) fn words(&mut self, key: &str) -> Result<Vec<String>, Unclear> {
        Ok(self.take(key, "a list of texts", as_is)?.unwrap_or_default())
    }

    pub(super) fn number(&mut self, key: &str) -> Result<Option<f64>, Unclear> {
        self.take(key, "a number", number)
    }

    pub(super) fn moment(&mut self, key: &str) -> Result<Option<Moment>, Unclear> {
        self.take(key, "a date and time with its offset", |value| {
            Moment::parse(&value.as_datetime()?.to_string())
        })
    }

    pub(super) fn verdict(&mut self) -> Result<Option<Verdict>, Unclear> {
        self.take("verdict", "`pass`, `fail` or `can't tell`", |value| verdict(value.as_str()?))
    }

    /// One of a closed set of words.
    pub(super) fn word<T>(&mut self, key: &str, named: fn(&str) -> Option<T>) -> Result<Option<T>, Unclear> {
        let Some(word) = self.text(key)? else { return Ok(None) };
        let wrong =
            || Unclear::WrongType { key: key.to_string(), what: "one of its words", found: "another" };
        named(&word).map(Some).ok_or_else(wrong)
    }

    pub(super) fn truth(&mut self) -> Result<Option<Truth>, Unclear> {
        self.take("truth", "a table of `best`, `least` and `most`", |value| {
            let bound = |key| number(value.get(key)?.clone());
            Some(Truth { best: value.get("best")?.as_bool()?, least: bound("least")?, most: bound("most")? })
        })
    }

    pub(super) fn table(&mut self, key: &str) -> Result<Option<EntryFields>, Unclear> {
        self.take(key, "a table", fields)
    }

    pub(super) fn tables(&mut self, key: &str) -> Result<Vec<EntryFields>, Unclear> {
        let list = self.take(key, "a list of tables", |value| match value {
            Value::Array(items) => items.into_iter().map(fields).collect::<Option<Vec<EntryFields>>>(),
            _ => None,
        });
        Ok(list?.unwrap_or_default())
    }
}

/// A way to take one field.
type TakeField<T> = fn(&mut EntryFields, &str) -> Result<Option<T>, Unclear>;

/// A value that TOML knows as what is wanted.
fn as_is<T: DeserializeOwned>(value: Value) -> Option<T> {
    value.try_into().ok()
}

/// A finite number, written whole or not.
fn number(value: Value) -> Option<f64> {
    as_is(value).filter(|number: &f64| number.is_finite())
}

fn fields(value: Value) -> Option<EntryFields> {
    if let Value::Table(table) = value { Some(EntryFields(table)) } else { None }
}
