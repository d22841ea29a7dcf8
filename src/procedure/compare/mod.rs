//! What an owner's file does otherwise than the shipped file it was made from.
//!
//! Steps are told apart by their ids; one without is known by its part, or by its verb and words. What
//! makes the work less safe is told apart from what only makes it another.

mod outline;
mod rules;

use std::collections::BTreeSet;

use self::outline::{Outline, OutlineItem, in_short};
use self::rules::{LOSSES, is_wording, loss};
use super::shipped::{Shipped, shipped, twin};
use crate::document::Written;
use crate::source::SourceText;
use crate::words::list;

/// What is otherwise in a file than in the shipped one.
#[derive(Debug, Default, PartialEq, Eq)]
pub struct FileComparison {
    /// The name of the shipped file.
    pub shipped: &'static str,
    /// What makes the work less safe, each with its line.
    pub less_safe: Vec<Difference>,
    /// What else is otherwise.
    pub others: Vec<Difference>,
}

/// One thing that is otherwise.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Difference {
    /// The line it stands on in the owner's file; none for what is no longer there.
    pub line: Option<usize>,
    /// What it is.
    pub says: String,
}

/// Compares a file with the shipped one of its name; nothing where there is none, or both are one.
///
/// ```
/// use tankhand::procedure::{compare, shipped};
/// use tankhand::source::SourceText;
/// let text = shipped("parts/read-precharge").unwrap().text.replace("times = 3 ", "times = 5 ");
/// let found = compare(&SourceText::new("parts/read-precharge.toml", text)).unwrap();
/// assert_eq!(found.others[0].says, "`air_found`: times 3 → 5");
/// ```
pub fn compare(own: &SourceText) -> Option<FileComparison> {
    let (made, [ours, theirs]) = outlines(own)?;
    let mut found = FileComparison { shipped: made.name, ..FileComparison::default() };
    found.same((&ours.head, &theirs.head));
    found.matched(&ours.states, &theirs.states, "state");
    found.matched(&ours.facts, &theirs.facts, "fact");
    found.matched(&ours.steps, &theirs.steps, "step");
    for part in ours.head.list("leave_out") {
        let part = format!("parts/{}", part.trim_start_matches("parts/"));
        found.left_out("part", &part, &duties_of(&part).unwrap_or_default());
    }
    found.sort();
    Some(found)
}

/// The shipped file of a file's name that has another text, with the outlines of both.
fn outlines(own: &SourceText) -> Option<(&'static Shipped, [Outline; 2])> {
    let made = twin(own.name()).filter(|made| made.text != own.text())?;
    Some((made, [Outline::of(own)?, Outline::of(&made.source())?]))
}

/// The words that a file adds to the choices of the shipped one, each with the id of its step.
pub(super) fn new_words(own: &SourceText) -> Vec<(String, Vec<String>)> {
    let Some((_, [ours, theirs])) = outlines(own) else { return Vec::new() };
    let added = |item: &OutlineItem| {
        let before =
            theirs.steps.iter().filter(|made| made.name == item.name).find_map(OutlineItem::choices)?;
        let words = item.choices()?.into_iter().filter(|word| !before.contains(word));
        Some((item.name.clone(), words.map(ToString::to_string).collect::<Vec<_>>()))
    };
    ours.steps.iter().filter_map(added).filter(|(_, words)| !words.is_empty()).collect()
}

/// What the steps of a shipped part do for safety.
fn duties_of(part: &str) -> Option<Vec<String>> {
    Some(rules::duties(&Outline::of(&shipped(part)?.source())?.steps))
}

/// Whether a shipped file has a choice of that id.
pub(super) fn has_choice(file: Option<&'static Shipped>, id: &str) -> bool {
    let steps = file.and_then(|file| Outline::of(&file.source())).map(|outline| outline.steps);
    steps.is_some_and(|steps| steps.iter().any(|step| step.choices().is_some() && step.name == id))
}

impl FileComparison {
    /// Holds items of one sort against one another.
    fn matched(&mut self, ours: &[OutlineItem], theirs: &[OutlineItem], sort: &str) {
        let (mut same, mut added) = (Vec::new(), Vec::new());
        let mut gone: Vec<&OutlineItem> = theirs.iter().collect();
        for item in ours {
            match gone.iter().position(|made| made.name == item.name) {
                Some(at) => same.push((item, gone.remove(at))),
                None => added.push(item),
            }
        }
        // What has no id is known by its words: one that was only reworded is nearest to what it was.
        added.retain(|item| match gone.iter().position(|made| item.is_reworded(made)) {
            Some(at) => {
                same.push((item, gone.remove(at)));
                false
            }
            None => true,
        });
        same.into_iter().for_each(|pair| self.same(pair));
        for item in added {
            self.other(Some(item.line), format!("a {sort} more: {}", item.called()));
        }
        gone.iter().for_each(|made| self.gone(made, sort));
    }

    /// Holds the keys of an item against those of the shipped one.
    fn same(&mut self, (item, made): (&OutlineItem, &OutlineItem)) {
        let said: Vec<String> = LOSSES.iter().flat_map(|rule| loss(rule, item, made)).collect();
        let keys: BTreeSet<&str> = item.keys.keys().chain(made.keys.keys()).map(String::as_str).collect();
        let mut reworded = Vec::new();
        for key in keys {
            let (ours, theirs) = (item.keys.get(key), made.keys.get(key));
            if ours == theirs
                || ["leave_out", "without"].contains(&key)
                || said.iter().any(|said| rules::speaks_of(said, key))
            {
                continue;
            }
            if is_wording(key) && ours.is_some() && theirs.is_some() {
                reworded.push(key);
                continue;
            }
            let written = |value: Option<&Written>| value.map_or("none".to_string(), in_short);
            let says = format!("{}: {key} {} → {}", item.called(), written(theirs), written(ours));
            self.other(Some(item.line), says);
        }
        if !reworded.is_empty() {
            self.other(Some(item.line), format!("{}: reworded ({})", item.called(), list(&reworded, "and")));
        }
        self.less_safe.extend(said.into_iter().map(|says| Difference { line: Some(item.line), says }));
    }

    /// An item that is no longer there.
    fn gone(&mut self, made: &OutlineItem, sort: &str) {
        let of_part = made.part().and_then(duties_of);
        let duties = of_part.unwrap_or_else(|| rules::duties(std::slice::from_ref(made)));
        self.left_out(sort, &made.called(), &duties);
    }

    /// Something that is left out, with what it did for safety.
    fn left_out(&mut self, sort: &str, called: &str, duties: &[String]) {
        if duties.is_empty() {
            return self.other(None, format!("a {sort} left out: {called}"));
        }
        let says = format!("a {sort} left out: {called}, which {}", list(duties, "and"));
        self.less_safe.push(Difference { line: None, says });
    }

    fn other(&mut self, line: Option<usize>, says: String) {
        self.others.push(Difference { line, says });
    }

    fn sort(&mut self) {
        for found in [&mut self.less_safe, &mut self.others] {
            found.sort_by_key(|difference| difference.line.unwrap_or(usize::MAX));
        }
    }
}
