//! Typing a filled-in worksheet in: the times are those of the work, read from the sheet, and
//! nothing is counted down.

use std::collections::{HashMap, HashSet};
use std::io;
use std::time::Duration;

use super::conversation::in_words;
use super::{Done, Failure, Occasion, Result, Stage};
use crate::clock::{Clock, Moment, SetClock};
use crate::console::{Block, Command, Countdown, CountdownEnd, Ended, Face, Prompt, Reply, ReplyKind};
use crate::engine::{ACKNOWLEDGE, Setting};
use crate::procedure::LONGEST_WAIT;
use crate::quantity::{Family, Measure, read_number, unit};
use crate::report::{SheetItem, SheetSection, worksheet};
use crate::words::yes_or_no;

const WELCOME: &str = "You type in a sheet that was filled in by hand, by the numbers of its lines and round by \
round down its grids. Give the times of the work as they stand on the sheet; nothing is counted down, and the \
record will say that it was typed in later.";

/// Where each step stands on the worksheet.
pub(super) type SheetLines = HashMap<String, SheetLine>;

/// Where a step stands on the worksheet.
pub(super) struct SheetLine {
    /// The number of its line; empty where nothing is filled in.
    number: String,
    /// Its section, which has one time.
    section: usize,
}

/// The lines of the worksheet that a run is typed in from.
pub(super) fn sheet_lines(setting: &Setting) -> SheetLines {
    let sheet = worksheet(&setting.name, &setting.procedure, (&setting.system, setting.tank), setting.units);
    let line =
        |section, item: &SheetItem| (item.step.clone(), SheetLine { number: item.number.clone(), section });
    let of = |(section, part): (usize, &SheetSection)| {
        part.all().map(|item| line(section, item)).collect::<Vec<_>>()
    };
    sheet.sections.iter().enumerate().flat_map(of).collect()
}

/// Asks when the work began, and performs the rest by the clock of the sheet.
///
/// # Errors
/// Those of `act`; input that ends before the beginning is known.
pub(super) fn begin(
    lines: SheetLines,
    stage: &mut Stage<'_>,
    act: impl FnOnce(Moment, &mut Stage<'_>) -> Result<Done>,
) -> Result<Done> {
    let typed_at = stage.clock.now();
    stage.show(Block::Aside, WELCOME)?;
    let mut day = typed_at.date();
    loop {
        let Some((on, began)) = beginning(&day, typed_at, stage.face)? else { return Ok(Done::Short) };
        let prompt =
            question("paper_right", &format!("right: {on} {}", began.time_of_day()), Some("yes".to_string()));
        match asked(stage.face, &prompt, yes_or_no, "Type yes, or no to give day and time again.")? {
            Some(true) => return go_on(began, lines, stage, |stage| act(typed_at, stage)),
            Some(false) => day = on,
            None => return Ok(Done::Short),
        }
    }
}

/// The day the work was done and when it began; `usual` is the day an empty line means.
fn beginning(usual: &str, typed_at: Moment, face: &mut dyn Face) -> Result<Option<(String, Moment)>> {
    let mut usual = usual.to_string();
    loop {
        let day = |text: &str| Moment::parse(&format!("{text}T00:00:00Z")).map(|_| text.to_string());
        let refusal = "Write the day as year-month-day, such as 2031-04-05.";
        let prompt = question("paper_day", "day of the work", Some(usual));
        let Some(day) = asked(face, &prompt, day, refusal)? else { return Ok(None) };
        let time = |text: &str| typed_at.on_the_wall(&format!("{day} {text}"));
        let refusal = "Write the time as hours and minutes, such as 08:30.";
        let prompt = question("paper_begin", "time the work began", None);
        let Some(began) = asked(face, &prompt, time, refusal)? else { return Ok(None) };
        if began <= typed_at {
            return Ok(Some((day, began)));
        }
        let later = format!("{day} {} is later than now. Give the day again.", began.time_of_day());
        face.show(&Block::Refusal(later))?;
        usual = typed_at.date();
    }
}

/// Goes on typing in a sheet, whose last line had the time `last`.
///
/// # Errors
/// Those of `act`.
pub(super) fn go_on(
    last: Moment,
    lines: SheetLines,
    stage: &mut Stage<'_>,
    act: impl FnOnce(&mut Stage<'_>) -> Result<Done>,
) -> Result<Done> {
    let clock = SetClock::at(last);
    let latest = stage.clock.now();
    let mut face =
        PaperFace { face: stage.face, clock: &clock, latest, lines, timed: HashSet::new(), initials: None };
    act(&mut Stage { face: &mut face, clock: &clock, width: stage.width, occasion: Occasion::Paper })
}

fn question(step: &str, label: &str, usual: Option<String>) -> Prompt {
    Prompt { usual, ..Prompt::new(step, label, ReplyKind::Line) }
}

/// Asks until the answer can be read; `None` when the person leaves.
fn asked<T>(
    face: &mut dyn Face,
    prompt: &Prompt,
    read: impl Fn(&str) -> Option<T>,
    refusal: &str,
) -> Result<Option<T>> {
    let put = put(face, prompt, read, refusal).map(Some);
    put.or_else(|ended| Failure::unless_left(ended).map(|()| None))
}

/// Asks until the answer can be read.
fn put<T>(
    face: &mut dyn Face,
    prompt: &Prompt,
    read: impl Fn(&str) -> Option<T>,
    refusal: &str,
) -> Result<T, Ended> {
    loop {
        if let Reply::Text(text) = face.ask(prompt)? {
            let text = text.trim();
            let text = if text.is_empty() { prompt.usual.as_deref().unwrap_or("") } else { text };
            if let Some(value) = read(text) {
                return Ok(value);
            }
        }
        face.show(&Block::Refusal(refusal.to_string()))?;
    }
}

/// A face that takes the times from a sheet.
struct PaperFace<'a> {
    face: &'a mut dyn Face,
    /// Shows the time of the work.
    clock: &'a SetClock,
    /// The time of typing: no work was done after it.
    latest: Moment,
    lines: SheetLines,
    /// The sections whose times were told.
    timed: HashSet<usize>,
    /// The initials that say that the hazards were read on paper.
    initials: Option<String>,
}

impl PaperFace<'_> {
    /// The line of a step, as the sheet numbers it, before what is asked there.
    fn labelled(&self, step: &str, label: &str) -> String {
        match self.line(step).filter(|line| !line.number.is_empty()) {
            Some(line) => format!("line {}, {label}", line.number),
            None => label.to_string(),
        }
    }

    fn line(&self, step: &str) -> Option<&SheetLine> {
        self.lines.get(step.split('[').next().unwrap_or_default())
    }

    /// Asks for the time that stands beside the section of a step, where nobody told it yet.
    fn time_at(&mut self, step: &str) -> Result<(), Ended> {
        if !self.line(step).map(|line| line.section).is_some_and(|section| self.timed.insert(section)) {
            return Ok(());
        }
        let (now, latest) = (self.clock.now(), self.latest);
        let prompt = question("paper_time", "time on the sheet", Some(now.time_of_day()));
        let read = |text: &str| {
            let today = || now.on_the_wall(&format!("{} {text}", now.date()));
            let typed = now.on_the_wall(text).or_else(today)?;
            // The times of a sheet have no seconds; the clock may.
            let typed = if typed.time_of_day() == now.time_of_day() { typed.max(now) } else { typed };
            (typed >= now && typed <= latest).then_some(typed)
        };
        let refusal = format!(
            "Write a time from {} on, such as {}, and not later than now. After midnight write the day \
             too, as year-month-day and time.",
            now.time_of_day(),
            now.plus(Duration::from_secs(600)).time_of_day()
        );
        let time = put(self.face, &prompt, read, &refusal)?;
        self.clock.pass(time.since(now));
        Ok(())
    }

    /// One line of the sheet says for all hazards that they were read; its initials go on record as a remark.
    fn hazards(&mut self) -> Result<Reply, Ended> {
        if self.initials.is_some() {
            return Ok(Reply::Text(ACKNOWLEDGE.to_string()));
        }
        let prompt = question("paper_hazards", "hazards read, initials", None);
        let initials = |text: &str| (!text.is_empty()).then(|| text.to_string());
        let refusal = "Type the initials beside \"I read every boxed hazard\". Without them read the boxes of the sheet now.";
        let initials = put(self.face, &prompt, initials, refusal)?;
        let remark = format!("The boxed hazards were read on the sheet. Initials: {initials}");
        self.initials = Some(initials);
        Ok(Reply::Command(Command::Note, remark))
    }
}

impl Face for PaperFace<'_> {
    fn show(&mut self, block: &Block) -> io::Result<()> {
        // They were read on paper, when they mattered.
        if let Block::Warning(..) = block {
            return Ok(());
        }
        self.face.show(block)
    }

    fn ask(&mut self, prompt: &Prompt) -> Result<Reply, Ended> {
        self.time_at(&prompt.step)?;
        if prompt.expects == ReplyKind::Word(ACKNOWLEDGE.to_string()) {
            return self.hazards();
        }
        let label = self.labelled(&prompt.step, &prompt.label);
        self.face.ask(&Prompt { label, ..prompt.clone() })
    }

    fn count_down(&mut self, countdown: &Countdown, _: &dyn Clock) -> Result<CountdownEnd, Ended> {
        self.time_at(&countdown.step)?;
        let label = self.labelled(&countdown.step, "how long it was, min");
        let prompt = question(&countdown.step, &label, Some(in_words(countdown.whole)));
        let read = |text: &str| {
            // 09:36 is a time of day, not nine minutes.
            let text = Some(text).filter(|text| !text.contains(':'))?;
            let typed = read_number(text, Family::Time).ok()?;
            let minutes = unit("min")?;
            let seconds = typed.unit.unwrap_or(minutes).to_si(Measure::Duration, typed.number);
            Duration::try_from_secs_f64(seconds).ok().filter(|length| *length <= LONGEST_WAIT)
        };
        let refusal = "Write how long was waited, in minutes, not the time of day; a week at most.";
        let length = put(self.face, &prompt, read, refusal)?;
        self.clock.pass(length);
        Ok(CountdownEnd::Over(length))
    }
}
