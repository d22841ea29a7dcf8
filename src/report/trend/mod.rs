//! A tank's air over the years: a table, a figure, and in words whether it loses air.

mod analysis;
mod figure;
mod history;
mod order;

use std::time::Duration;

pub(super) use history::RecordedValue;
pub use history::Visit;
pub use order::TrendOrder;

use self::analysis::{Corrected, Fitted, TrendAnalysis};
use super::logbook::Due;
use super::{Figure, Page, PageBlock, Row};
use crate::clock::Moment;
use crate::physics::diagnosis::AirCourse;
use crate::physics::{Drift, Reading};
use crate::quantity::{Measure, SourceId, Uncertain, show, show_briefly, show_with_limits};
use crate::words::{counted, list};

const FEW: &str = "Only precharges of one tank, each with its temperature, tell. Read the precharge again, with the \
tank drained, a month from now at the soonest, with the same gauge.";

const LOSING: &str = "What to do: set the precharge, then wet the air valve with soapy water. If bubbles grow, let all air out \
and change the valve core. If none grow, air goes through the bladder: ask a pump installer about a new tank.";

/// The page of a tank's visits, which stand in the order of their days.
pub fn trend_page(visits: &[Visit], order: &TrendOrder<'_>) -> Page {
    let mut page = Page::titled(match order.tank {
        Some(tank) => format!("Precharge of {tank} over the years"),
        None => "Precharge of the tank over the years".to_string(),
    });
    page.blocks.extend(order.site.map(|site| PageBlock::Text(format!("At {site}."))));
    let analysis = TrendAnalysis::of(visits, order.band);
    let words = match analysis.as_ref().map(|analysis| (analysis, &analysis.trend)) {
        Some((analysis, Ok(fitted))) => order.fitted(analysis, fitted),
        Some((_, Err(_))) => cannot_tell("there are no two readings of the same filling to compare."),
        None => cannot_tell("no finished record of this tank tells its precharge and how warm it then was."),
    };
    page.texts(words);
    if let Some(analysis) = &analysis {
        page.figures(figure::panels(analysis, order, order.says(analysis)));
        let at = format!("At {}", order.temperature(analysis.reference));
        let head = ["Day", "As", "Tank at", "Precharge", &at, "Drawdown"];
        let rows = analysis.visits.iter().flat_map(|one| order.rows(one));
        page.headed_table("Visits", &head, rows);
        order.notes(analysis, &mut page);
    }
    page
}

/// The figure of the same page alone.
pub fn trend_figure(visits: &[Visit], order: &TrendOrder<'_>) -> Option<Figure> {
    let analysis = TrendAnalysis::of(visits, order.band)?;
    let figure = figure::precharge(&analysis, order, order.says(&analysis))?;
    let tank = order.tank.map(|tank| format!(", {tank}")).unwrap_or_default();
    Some(Figure { title: format!("{}{tank}", figure.title), ..figure })
}

/// When the trend asks for the next reading, and what to do then.
pub fn trend_due(visits: &[Visit], order: &TrendOrder<'_>) -> Option<Due> {
    let analysis = TrendAnalysis::of(visits, order.band)?;
    let fitted = analysis.trend.as_ref().ok()?;
    let turn = bend(&analysis);
    let what = turn.map_or(fitted.drift.words(), |[name, ..]| name);
    let mut next = "Read the precharge again, by the trend of its air.".to_string();
    if fitted.drift == Drift::Losing || turn.is_some() {
        next = format!("{next} {LOSING}");
    }
    let by = after(last_visit(&analysis), fitted.look_again);
    Some(Due { by, what: format!("Trend: {what}"), next })
}

fn cannot_tell(why: &str) -> Vec<String> {
    vec![format!("Can't tell yet: {why}"), FEW.to_string()]
}

/// What is said of a precharge that goes as no straight line tells: it falls ever faster, or it rose.
fn bend(analysis: &TrendAnalysis<'_>) -> Option<[&'static str; 3]> {
    let bends = |course: &AirCourse| matches!(course, AirCourse::LosingFaster | AirCourse::Rising);
    analysis.course.filter(bends).and_then(AirCourse::message)
}

impl TrendOrder<'_> {
    /// A change of pressure with its unit, to the digits that the uncertainty warrants.
    fn change(&self, pa: f64, u: f64) -> String {
        let change = Uncertain::exact(pa).with_component(SourceId::Reading(1), u);
        show(Measure::PressureChange, &change, self.units)
    }

    /// What the visits come to, in sentences.
    fn fitted(&self, analysis: &TrendAnalysis<'_>, fitted: &Fitted) -> Vec<String> {
        let last = last_visit(analysis);
        let (loss, least, most) = fitted.loss;
        let course = bend(analysis);
        let u = fitted.trend.slope_u() * crate::physics::MONTH;
        let first = format!(
            "{}: the loss a month is {} (95 %: {} to {}; below zero is a gain). It is held against {} in a year, at \
             which the precharge would leave its band within the year.",
            crate::words::capitalized(course.map_or(fitted.drift.words(), |[name, ..]| name)),
            self.change(loss, u),
            self.change(least, u),
            self.change(most, u),
            show_briefly(Measure::PressureChange, &Uncertain::exact(self.band), self.units)
        );
        let mut words = vec![first];
        words.extend(course.iter().map(|[_, says, next]| format!("{says} {next}")));
        words.push(self.exit(analysis, fitted, last));
        if fitted.drift == Drift::Losing && course.is_none() {
            words.push(LOSING.to_string());
        }
        if fitted.drift == Drift::Undecided {
            words.push(match fitted.decided_in {
                Some(months) => format!(
                    "If it goes on like this, one more reading {} after the last would tell.",
                    counted(months as usize, "month")
                ),
                None => {
                    "One more reading within three years would hardly tell; a finer gauge would.".to_string()
                }
            });
        }
        words.push(format!("Look again by {}.", after(last, fitted.look_again).date()));
        words
    }

    /// When it leaves its band.
    fn exit(&self, analysis: &TrendAnalysis<'_>, fitted: &Fitted, last: Moment) -> String {
        let pressure = |pa: f64| show_briefly(Measure::Pressure, &Uncertain::exact(pa), self.units);
        let (low, high) = (analysis.centre - self.band, analysis.centre + self.band);
        let band = format!("the band of {} to {}", pressure(low), pressure(high));
        let end = fitted.trend.last_reading();
        let exit = fitted.exit;
        let earliest = exit.earliest.map(|time| roughly(last, time));
        match (exit.estimate, exit.latest) {
            (Some(time), _) if time <= end => {
                format!("By the newest reading it has left {band}: set the precharge.")
            }
            (Some(time), latest) => format!(
                "By this line it leaves {band} about {}; at 95 % not before {}, and {}.",
                roughly(last, time),
                earliest.unwrap_or_else(|| "a hundred years from now".to_string()),
                latest.map_or("perhaps never".to_string(), |time| format!("by {}", roughly(last, time)))
            ),
            (None, _) => match earliest {
                Some(earliest) => {
                    format!("By this line it stays in {band}; at 95 % until {earliest} at least.")
                }
                None => format!("It stays in {band} for as far as one can see."),
            },
        }
    }

    fn says(&self, analysis: &TrendAnalysis<'_>) -> String {
        let segments = analysis.segments.len();
        let readings: usize = analysis.segments.iter().map(Vec::len).sum();
        let lines = match analysis.trend {
            Ok(_) => {
                " The band about the trend is its limits at 95 %. What lies after the last reading is the trend carried on, not data."
            }
            Err(_) => "",
        };
        format!(
            "{} in {} between settings, each with its limits at about 95 %. The dotted lines across are {} below and \
             above the target.{lines}",
            counted(readings, "reading"),
            if segments == 1 { "1 stretch".to_string() } else { format!("{segments} stretches") },
            show_briefly(Measure::PressureChange, &Uncertain::exact(self.band), self.units)
        )
    }

    /// What one visit told: a row for the precharge as found, and one for the precharge as left.
    fn rows(&self, one: &Corrected<'_>) -> Vec<Row> {
        let as_read = |measure, recorded: &Option<RecordedValue>| {
            recorded.as_ref().map_or(String::new(), |recorded| show(measure, &recorded.value, self.units))
        };
        let corrected = |reading: &Option<Reading>| {
            let value = reading.map(|r| Uncertain::exact(r.value).with_component(SourceId::Reading(1), r.u));
            value.map_or(String::new(), |value| show_with_limits(Measure::Pressure, &value, self.units))
        };
        let visit = one.visit;
        let row = |word: &str, recorded: &Option<RecordedValue>, reading, water| {
            recorded.is_some().then(|| {
                Row::new([
                    visit.began.date(),
                    word.to_string(),
                    as_read(Measure::Temperature, &visit.temperature),
                    as_read(Measure::Pressure, recorded),
                    corrected(reading),
                    as_read(Measure::Volume, water),
                ])
            })
        };
        let found = row("found", &visit.found, &one.found, &visit.water_found);
        let left = row("left", &visit.left, &one.left, &visit.water_left);
        found.into_iter().chain(left).collect()
    }

    fn notes(&self, analysis: &TrendAnalysis<'_>, page: &mut Page) {
        if let Some(one) = analysis.visits.iter().rev().find(|one| one.visit.new_tank) {
            let day = one.visit.began.date();
            page.note(format!("On {day} another tank was put there: only what came after counts."));
        }
        let days = |of: &dyn Fn(&Corrected<'_>) -> bool| {
            let days = analysis.visits.iter().filter(|one| of(one)).map(|one| one.visit.began.date());
            days.collect::<Vec<_>>().join(", ")
        };
        let lost = days(&|one| {
            let recorded = [(&one.visit.found, &one.found), (&one.visit.left, &one.left)];
            recorded.iter().any(|(recorded, corrected)| recorded.is_some() && corrected.is_none())
        });
        if !lost.is_empty() {
            page.note(format!("Without a temperature the precharge of {lost} could not be counted."));
        }
        let typed = days(&|one| one.visit.transcribed);
        if !typed.is_empty() {
            page.note(format!("Typed in from a sheet filled in by hand: {typed}."));
        }
        if !self.elsewhere.is_empty() {
            page.note(format!(
                "Not counted, for it stands elsewhere: the tank of that name at {}. Name a place with --site.",
                list(self.elsewhere, "and")
            ));
        }
        if self.open > 0 {
            page.note(format!("Not counted: {} not ended yet.", counted(self.open, "record")));
        }
        page.note(
            "Each time the precharge was set a new stretch begins; the stretches are taken to lose air alike. The gauge's \
             error counts as if it were another every time, so using the same gauge makes the verdict safer than told.",
        );
    }
}

/// The newest visit's time.
fn last_visit(analysis: &TrendAnalysis<'_>) -> Moment {
    let recorded = |one: &Corrected<'_>| {
        one.visit.left.as_ref().or(one.visit.found.as_ref()).map(|recorded| recorded.at)
    };
    let latest = analysis.visits.iter().rev().find_map(recorded);
    latest.unwrap_or(analysis.visits[0].visit.began)
}

/// A moment, from seconds since 1970 that lie after `last`.
fn after(last: Moment, time: f64) -> Moment {
    last.plus(Duration::from_secs_f64((time - last.unix_seconds() as f64).clamp(0.0, 1e11)))
}

/// A day near by; of what lies further off only the year, since no line is that sure.
fn roughly(last: Moment, time: f64) -> String {
    let day = after(last, time).date();
    let far = time - last.unix_seconds() as f64 > 36.0 * crate::physics::MONTH;
    if far { day.chars().take(4).collect() } else { day }
}
