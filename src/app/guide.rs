//! `guide` and `schema`: the language told to people and to editors.

use std::io::Write;

use serde_json::Value;

use super::arguments::ArgumentWords;
use super::files::put_page;
use super::{Done, Failure, Result};
use crate::procedure::functions;
use crate::report::{
    OTHER_TOPICS, TOPICS, guide_contents, guide_page, procedure_schema, record_schema, system_schema,
};

/// Shows a topic of the language, or a function; without one, what there is.
///
/// # Errors
/// When there is no such topic.
pub fn guide(topic: Option<&str>, width: usize, out: &mut dyn Write) -> Result<Done> {
    let page = match topic {
        None => guide_contents(),
        Some(topic) => guide_page(topic).ok_or_else(|| {
            let topics = TOPICS.iter().chain(OTHER_TOPICS).map(|(name, ..)| *name);
            Failure::unknown("The guide has nothing on", topic, topics.chain(functions().map(|f| f.name)))
        })?,
    };
    put_page(&page, width, out)
}

/// The schemas that there are, by what they are for.
pub(crate) const SCHEMAS: ArgumentWords<fn() -> Value> = &[
    ("procedure", None, procedure_schema),
    ("system", None, system_schema),
    ("record", None, record_schema),
];

/// Writes the JSON Schema of procedure files, system files or records.
///
/// # Errors
/// When writing fails.
pub fn schema(of: fn() -> Value, out: &mut dyn Write) -> Result<Done> {
    writeln!(out, "{:#}", of())?;
    Ok(Done::Well)
}
