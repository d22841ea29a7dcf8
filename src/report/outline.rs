//! A procedure read out before anyone stands at the tank.

use super::steps::Steps;
use super::{Page, Row};
use crate::lang::Template;
use crate::procedure::{Fact, PartAlone, Procedure, Step, Usual};
use crate::quantity::Kind;
use crate::source::SourceText;
use crate::words::{list, non_empty};

/// A procedure as a page: what it is for, what to bring, what is asked first, and its steps,
/// numbered, with their texts as they are written: `{target}` stands where a value will.
///
/// ```
/// use tankhand::procedure::{LoadContext, NoParts, load};
/// use tankhand::report::{Places, procedure_page, to_text};
/// use tankhand::source::SourceText;
/// let text = "format = 1\ntitle = 'Look'\npurpose = 'See.'\n[[step]]\nid = 'a'\ndo = 'Look.'\n";
/// let around = LoadContext { texts: &NoParts, paths: &[] };
/// let procedure = load(&SourceText::new("look.toml", text), &around).unwrap();
/// let lines = to_text(&procedure_page("look", &procedure, Places::Left), 80);
/// assert_eq!(lines.last().unwrap(), "1  Look.");
/// ```
pub fn procedure_page(name: &str, procedure: &Procedure, places: Places) -> Page {
    let mut page = Page::titled(&procedure.title);
    page.text(&procedure.purpose);
    let mut rows = vec![Row::new(["Name", name])];
    rows.extend(procedure.time.as_ref().map(|time| Row::new(["Time", time])));
    page.table(&[], rows);
    page.headed_list("Bring", procedure.bring.clone());
    listed(&mut page, procedure, places);
    page
}

/// A part as a page: what it takes and gives, and its steps.
pub(crate) fn part_page(name: &str, part: &PartAlone, places: Places) -> Page {
    let mut page = Page::titled(&part.procedure.title);
    page.text(&part.procedure.purpose);
    let head = part.head.iter().filter(|(_, said)| !said.is_empty());
    let head = head.map(|(key, said)| Row::new([key.to_string(), said.join("\n")]));
    page.table(&[], std::iter::once(Row::new(["Name", name])).chain(head));
    listed(&mut page, &part.procedure, places);
    page
}

/// Whether the file and line of each sentence are named.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Places {
    /// They are.
    Named,
    /// They are not.
    Left,
}

/// The facts, states and steps.
fn listed(page: &mut Page, procedure: &Procedure, places: Places) {
    let asked = procedure.facts.iter().map(|asked| {
        let place = procedure.texts.iter().find_map(|text| place_of(text, 0, &asked.ask));
        with_place(fact(asked), place.filter(|_| places == Places::Named))
    });
    page.headed_list("Asked first, unless the system file says", asked);
    let states = procedure.states.iter();
    let states = states.map(|state| Row::new([state.id.replace('_', " "), state.means.clone()]));
    page.headed_table("What its steps rely on", &[], states);
    let mut sections = vec![(None, Vec::new())];
    for placed in Steps::of(Some(procedure)).placed {
        if let Some(title) = &placed.step.title {
            sections.push((Some(title.unfilled()), Vec::new()));
        }
        if let Some((_, rows)) = sections.last_mut() {
            rows.push(Row::new([placed.number, lines(placed.step, places).join("\n")]));
        }
    }
    for (title, rows) in sections {
        page.headed_table(title.as_deref().unwrap_or("Steps"), &[], rows);
    }
}

fn fact(fact: &Fact) -> String {
    let mut text = fact.ask.clone();
    if let Some(limits) = &fact.between {
        text.push_str(&format!(" ({})", limits.written()));
    }
    if let Kind::OneOf(words) = &fact.kind {
        text.push_str(&format!(" ({})", list(words.iter(), "or")));
    }
    match &fact.usual {
        Some(Usual::Value(value)) => text.push_str(&format!(" Usual: {}.", value.expr())),
        Some(Usual::Word(word)) => text.push_str(&format!(" Usual: {word}.")),
        None => {}
    }
    text
}

/// Where a sentence stands in a file, looked for from an offset on: `flush.toml:12`.
fn place_of(source: &SourceText, from: usize, sentence: &str) -> Option<String> {
    let at = from + source.text().get(from..)?.find(sentence)?;
    let name = source.name();
    Some(format!("{}:{}", name.strip_prefix("procedures/").unwrap_or(name), source.place(at).line))
}

fn with_place(line: String, place: Option<String>) -> String {
    match place {
        Some(place) => format!("{line} [{place}]"),
        None => line,
    }
}

/// What is said of a step, a line for each thing.
fn lines(step: &Step, places: Places) -> Vec<String> {
    let mut lines = Vec::new();
    let mut line = |word: &str, text: Option<String>| {
        lines.extend(text.map(|text| {
            let place = place_of(&step.source, step.span.start, &text);
            let line = if word.is_empty() { text } else { format!("{word}: {text}") };
            with_place(line, place.filter(|_| places == Places::Named))
        }));
    };
    line("Only if", step.when.as_ref().map(|when| when.expr().to_string()));
    for hazard in &step.hazards {
        line(hazard.signal.word(), Some(hazard.line()));
    }
    for (word, text) in step.action.outline(step) {
        line(word, text);
    }
    line("From the second time", step.repeated.as_ref().map(Template::unfilled));
    line("Why", step.why.as_ref().map(Template::unfilled));
    line("How", step.how.as_ref().map(Template::unfilled));
    let needs = step.needs.iter().map(|(id, _)| id.replace('_', " "));
    line("Relies on", non_empty(list(needs, "and")));
    line("", step.skip.then(|| "May be skipped, with a reason.".to_string()));
    lines
}
