//! Takes the fields of a TOML table one by one, each as what it should be.

use serde::Deserialize;
use serde::de::DeserializeOwned;
use toml::de::{DeTable, DeValue, Deserializer, ValueDeserializer};
use toml::{Spanned, Table};

use super::unclear::Unclear;
use super::words::verdict;
use crate::clock::Moment;
use crate::document::mark;
use crate::quantity::{Truth, Verdict};

/// A value as it stands in the text.
type FieldValue<'i> = Spanned<DeValue<'i>>;

/// The fields of a table not yet taken, read where they stand: only what is kept is copied.
pub(super) struct EntryFields<'i> {
    block: &'i str,
    table: DeTable<'i>,
    /// The marks of all keys: most that are asked for are not there.
    marks: u64,
}

impl<'i> EntryFields<'i> {
    /// The fields a block of TOML has.
    pub(super) fn of(block: &'i str) -> Result<EntryFields<'i>, Unclear> {
        let table = DeTable::parse(block).map_err(|error| not_toml(&error))?;
        Ok(EntryFields::in_table(block, table.into_inner()))
    }

    fn in_table(block: &'i str, table: DeTable<'i>) -> EntryFields<'i> {
        let marks = table.keys().fold(0, |marks, key| marks | mark(key.get_ref()));
        EntryFields { block, table, marks }
    }

    /// A table in the same block.
    fn within(&self) -> impl Fn(FieldValue<'i>) -> Option<EntryFields<'i>> + use<'i> {
        let block = self.block;
        move |value| {
            let DeValue::Table(table) = value.into_inner() else { return None };
            Some(EntryFields::in_table(block, table))
        }
    }

    /// The fields no one took.
    pub(super) fn rest(self) -> Result<Table, Unclear> {
        if self.table.is_empty() {
            return Ok(Table::new());
        }
        let whole = Spanned::new(0..0, self.table);
        Table::deserialize(Deserializer::from(whole)).map_err(|error| not_toml(&error))
    }

    /// Takes a field out, as what `read` makes of it.
    fn take<T>(
        &mut self,
        key: &str,
        what: &'static str,
        read: impl FnOnce(FieldValue<'i>) -> Option<T>,
    ) -> Result<Option<T>, Unclear> {
        if self.marks & mark(key) == 0 {
            return Ok(None);
        }
        let Some(value) = self.table.remove(key) else { return Ok(None) };
        let found = value.get_ref().type_str();
        read(value).map(Some).ok_or_else(|| Unclear::WrongType { key: key.to_string(), what, found })
    }

    pub(super) fn needed<T>(&mut self, key: &str, take: TakeField<'i, T>) -> Result<T, Unclear> {
        take(self, key)?.ok_or_else(|| Unclear::Missing(key.to_string()))
    }

    pub(super) fn text(&mut self, key: &str) -> Result<Option<String>, Unclear> {
        self.take(key, "a text", |value| {
            if let DeValue::String(text) = value.into_inner() { Some(text.into_owned()) } else { None }
        })
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
        let block = self.block;
        self.take(key, "a date and time with its offset", |value| {
            value.get_ref().as_datetime()?;
            Moment::parse(block.get(value.span())?)
        })
    }

    pub(super) fn verdict(&mut self) -> Result<Option<Verdict>, Unclear> {
        self.take("verdict", "`pass`, `fail` or `can't tell`", |value| verdict(value.get_ref().as_str()?))
    }

    /// One of a closed set of words.
    pub(super) fn word<T>(&mut self, key: &str, named: fn(&str) -> Option<T>) -> Result<Option<T>, Unclear> {
        let Some(word) = self.text(key)? else { return Ok(None) };
        let wrong =
            || Unclear::WrongType { key: key.to_string(), what: "one of its words", found: "another" };
        named(&word).map(Some).ok_or_else(wrong)
    }

    pub(super) fn truth(&mut self) -> Result<Option<Truth>, Unclear> {
        let within = self.within();
        self.take("truth", "a table of `best`, `least` and `most`", |value| {
            let mut fields = within(value)?.table;
            let mut bound = |key| number(fields.remove(key)?);
            let (least, most) = (bound("least")?, bound("most")?);
            Some(Truth { best: as_is(fields.remove("best")?)?, least, most })
        })
    }

    pub(super) fn table(&mut self, key: &str) -> Result<Option<EntryFields<'i>>, Unclear> {
        let within = self.within();
        self.take(key, "a table", within)
    }

    pub(super) fn tables(&mut self, key: &str) -> Result<Vec<EntryFields<'i>>, Unclear> {
        let within = self.within();
        let list = self.take(key, "a list of tables", |value| {
            let DeValue::Array(items) = value.into_inner() else { return None };
            items.into_iter().map(within).collect::<Option<Vec<EntryFields<'i>>>>()
        });
        Ok(list?.unwrap_or_default())
    }
}

/// A way to take one field.
type TakeField<'i, T> = fn(&mut EntryFields<'i>, &str) -> Result<Option<T>, Unclear>;

/// A value that TOML knows as what is wanted.
fn as_is<T: DeserializeOwned>(value: FieldValue<'_>) -> Option<T> {
    T::deserialize(ValueDeserializer::from(value)).ok()
}

/// A finite number, written whole or not.
fn number(value: FieldValue<'_>) -> Option<f64> {
    as_is(value).filter(|number: &f64| number.is_finite())
}

fn not_toml(error: &toml::de::Error) -> Unclear {
    Unclear::NotToml(error.message().to_string())
}
