//! A procedure read out before anyone stands at the tank.

use super::{Page, Row};
use crate::lang::{Checked, Template};
use crate::procedure::{
    Action, Choose, Fact, Limits, PartAlone, Procedure, Repeat, Step, StopOutcome, Usual, WriteKind,
};
use crate::quantity::Kind;
use crate::words::{counted, list};

/// A procedure as a page: what it is for, what to bring, what is asked first, and its steps,
/// numbered, with their texts as they are written: `{target}` stands where a value will.
///
/// ```
/// use tankhand::procedure::{Surroundings, Texts, load};
/// use tankhand::report::{procedure_page, to_text};
/// use tankhand::source::SourceText;
/// struct NoParts;
/// impl Texts for NoParts {
///     fn text(&self, _: &str) -> Option<Result<SourceText, String>> { None }
///     fn names(&self) -> Vec<String> { Vec::new() }
/// }
/// let text = "format = 1\ntitle = 'Look'\npurpose = 'See.'\n[[step]]\nid = 'a'\ndo = 'Look.'\n";
/// let around = Surroundings { texts: &NoParts, paths: &[] };
/// let procedure = load(&SourceText::new("look.toml", text), &around).unwrap();
/// let lines = to_text(&procedure_page("look", &procedure), 80);
/// assert_eq!(lines.last().unwrap(), "1  Look.");
/// ```
pub fn procedure_page(name: &str, procedure: &Procedure) -> Page {
    let mut page = Page::titled(&procedure.title);
    page.text(&procedure.purpose);
    let mut rows = vec![Row::new(["Name", name])];
    rows.extend(procedure.time.as_ref().map(|time| Row::new(["Time", time])));
    page.table(&[], rows);
    page.headed_list("Bring", procedure.bring.clone());
    told(&mut page, procedure);
    page
}

/// A part as a page: what it takes and gives, and its steps.
pub fn part_page(name: &str, part: &PartAlone) -> Page {
    let mut page = Page::titled(&part.procedure.title);
    page.text(&part.procedure.purpose);
    let head = part.head.iter().filter(|(_, said)| !said.is_empty());
    let head = head.map(|(key, said)| Row::new([key.to_string(), said.join("\n")]));
    page.table(&[], std::iter::once(Row::new(["Name", name])).chain(head).collect());
    told(&mut page, &part.procedure);
    page
}

/// The facts, states and steps.
fn told(page: &mut Page, procedure: &Procedure) {
    page.headed_list("Asked first, unless the system file says", procedure.facts.iter().map(fact).collect());
    let states = procedure.states.iter();
    let states = states.map(|state| Row::new([state.id.replace('_', " "), state.means.clone()]));
    page.headed_table("What its steps rely on", &[], states.collect());
    let mut parts = vec![(None, Vec::new())];
    number(&procedure.steps, "", &mut parts);
    for (title, rows) in parts {
        page.headed_table(title.as_deref().unwrap_or("Steps"), &[], rows);
    }
}

/// A part of the work: its heading and its steps.
type Part = (Option<String>, Vec<Row>);

fn number(steps: &[Step], before: &str, parts: &mut Vec<Part>) {
    for (at, step) in steps.iter().enumerate() {
        let number = format!("{before}{}", at + 1);
        if let Some(title) = &step.title {
            parts.push((Some(title.unfilled()), Vec::new()));
        }
        if let Some((_, rows)) = parts.last_mut() {
            rows.push(Row::new([number.clone(), lines(step).join("\n")]));
        }
        self::number(step.body(), &format!("{number}."), parts);
    }
}

fn fact(fact: &Fact) -> String {
    let mut text = fact.ask.clone();
    if let Some(limits) = &fact.between {
        text.push_str(&format!(" ({})", between(limits)));
    }
    if let Kind::OneOf(words) = &fact.kind {
        text.push_str(&format!(" ({})", list(words, "or")));
    }
    match &fact.usual {
        Some(Usual::Value(value)) => text.push_str(&format!(" Usual: {}.", value.expr())),
        Some(Usual::Word(word)) => text.push_str(&format!(" Usual: {word}.")),
        None => {}
    }
    text
}

fn between(limits: &Limits) -> String {
    format!("{} to {}", limits.low.expr(), limits.high.expr())
}

/// What is said of a step, a line for each thing.
fn lines(step: &Step) -> Vec<String> {
    let mut lines = Vec::new();
    let mut line = |word: &str, text: Option<String>| {
        lines.extend(text.map(|text| if word.is_empty() { text } else { format!("{word}: {text}") }));
    };
    line("Only if", step.when.as_ref().map(written));
    for (word, text) in action(step) {
        line(word, text);
    }
    line("Why", step.why.as_ref().map(Template::unfilled));
    line("How", step.how.as_ref().map(Template::unfilled));
    let needs: Vec<String> = step.needs.iter().map(|(id, _)| id.replace('_', " ")).collect();
    line("Relies on", (!needs.is_empty()).then(|| list(&needs, "and")));
    line("", step.skip.then(|| "May be skipped, with a reason.".to_string()));
    lines
}

/// An expression as it is written.
fn written(checked: &Checked) -> String {
    checked.expr().to_string()
}

/// A text with what it is, when there is one.
type Said = (&'static str, Option<String>);

fn said(word: &'static str, text: &Template) -> Said {
    (word, Some(text.unfilled()))
}

fn may_say(word: &'static str, text: &Option<Template>) -> Said {
    (word, text.as_ref().map(Template::unfilled))
}

/// The words of an action, each with what they are.
fn action(step: &Step) -> Vec<Said> {
    match &step.action {
        Action::Do(action) => vec![
            may_say("DANGER", &action.danger),
            said("", &action.text),
            may_say("See", &action.see),
            ("Takes about", action.minutes.map(|minutes| format!("{minutes} min"))),
        ],
        Action::Read(read) => vec![
            said("Read", &read.ask),
            ("Gauge", read.gauge.clone()),
            ("Can be", read.between.as_ref().map(between)),
            ("Usually", read.expect.as_ref().map(between)),
            ("Times", (read.times > 1).then(|| read.times.to_string())),
        ],
        Action::Choose(choose) => [said("Choose", &choose.ask)].into_iter().chain(choices(choose)).collect(),
        Action::Write(write) => vec![said("Write", &write.ask), ("As", sort_of_text(write.kind))],
        Action::Compute(compute) => vec![
            ("Work out", Some(format!("{} = {}", step.id, written(&compute.expr)))),
            may_say("Told", &compute.say),
        ],
        Action::Check(check) => vec![
            (if check.must { "Check, or stop" } else { "Check" }, Some(written(&check.expr))),
            may_say("Pass", &check.pass),
            may_say("Fail", &check.fail),
            may_say("Can't tell", &check.unsure),
        ],
        Action::Wait(wait) => vec![
            ("Wait", Some(written(&wait.length))),
            may_say("Meanwhile", &wait.ask),
            ("", wait.early.then(|| "May end early.".to_string())),
        ],
        Action::Repeat(repeat) => vec![
            ("Repeat until", Some(format!("{}, {}", written(&repeat.until), bounds(repeat)))),
            may_say("Told after each", &repeat.say),
        ],
        Action::Each(_) => vec![("", Some("For each tank:".to_string()))],
        Action::Stop(stop) => vec![said(stop_word(stop.outcome), &stop.text)],
    }
}

fn stop_word(outcome: StopOutcome) -> &'static str {
    match outcome {
        StopOutcome::Failed => "Stop, failed",
        StopOutcome::Unfinished => "Stop, unfinished",
    }
}

fn bounds(repeat: &Repeat) -> String {
    match (repeat.at_least, repeat.at_most) {
        (0 | 1, most) => format!("at most {}", counted(most as usize, "time")),
        (least, most) => format!("{least} to {}", counted(most as usize, "time")),
    }
}

fn sort_of_text(kind: WriteKind) -> Option<String> {
    match kind {
        WriteKind::Text => None,
        WriteKind::Date => Some("a date".to_string()),
        WriteKind::File => Some("the path of a file".to_string()),
    }
}

/// The words to choose from; with what they mean, where more is said than the word.
fn choices(choose: &Choose) -> Vec<Said> {
    let told = choose.choices.iter().map(|choice| {
        let label = choice.label.as_ref().map(Template::unfilled).filter(|label| *label != *choice.value);
        let help = choice.help.as_ref().map(Template::unfilled);
        let more = [label, help].into_iter().flatten().collect::<Vec<_>>().join(". ");
        if more.is_empty() { choice.value.to_string() } else { format!("{}: {more}", choice.value) }
    });
    told.map(|choice| ("", Some(format!("- {choice}")))).collect()
}
