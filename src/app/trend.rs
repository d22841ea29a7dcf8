//! `trend`: a tank's air over the years, from its closed records.

use std::collections::{BTreeMap, BTreeSet};
use std::fs::OpenOptions;
use std::io::Write;
use std::path::Path;

use super::failure::{Done, Failure};
use super::home::Home;
use crate::quantity::{Family, Measure, Units, read_number, unit};
use crate::record::{Contents, RecordFiles, read};
use crate::report::{HtmlForm, TrendOrder, Visit, to_html, to_text, trend_page};
use crate::words::{did_you_mean, list};

/// How far the charge may stray when nothing else is asked for: the usual gap below the pump's
/// start (common practice).
const BAND_PSI: f64 = 2.0;

/// What is asked for.
#[derive(Clone, Copy, Debug)]
pub struct TrendCall<'a> {
    /// The tank's id; may be left out when all records are of one.
    pub tank: Option<&'a str>,
    /// How far the charge may stray, as typed.
    pub band: Option<&'a str>,
    /// A new file for the page as HTML.
    pub html: Option<&'a Path>,
}

/// Tells how a tank's air has gone over the years.
///
/// # Errors
/// When the tank is in no record, the band cannot be read, or the file cannot be written.
pub fn trend(call: &TrendCall<'_>, home: &Home, width: usize, out: &mut dyn Write) -> Result<Done, Failure> {
    let mut records = Records::default();
    for path in RecordFiles::of(&home.records()) {
        // What cannot be read tells nothing; `records verify` says why.
        if let Ok(contents) = read(&path?) {
            records.take(&contents);
        }
    }
    let (tank, mut told) = records.of_tank(call.tank)?;
    let tank = tank.as_deref();
    told.visits.sort_by_key(|visit| visit.began.unix_seconds());
    let units = told.units.unwrap_or_default();
    let order = TrendOrder { tank, band: band(call.band, units)?, units, open: told.open };
    let page = trend_page(&told.visits, &order);
    for line in to_text(&page, width) {
        writeln!(out, "{line}")?;
    }
    if let Some(path) = call.html {
        let name = format!("Trend {}", tank.unwrap_or("of the tank"));
        write_new(path, &to_html(&page, HtmlForm::Report, &name))?;
        writeln!(out, "\n{} written.", path.display())?;
    }
    Ok(Done::Well)
}

/// What the records of one tank tell so far.
#[derive(Default)]
struct Gathered {
    visits: Vec<Visit>,
    open: usize,
    units: Option<Units>,
}

/// What all records tell, by tank; `None` is the tank that no one named.
#[derive(Default)]
struct Records(BTreeMap<Option<String>, Gathered>);

impl Records {
    fn take(&mut self, contents: &Contents) {
        let own = contents.entries.iter().filter_map(|entry| entry.tank.clone()).map(Some);
        let tanks: BTreeSet<Option<String>> = own.chain([contents.header.tank.clone()]).collect();
        for tank in tanks {
            let visit = Visit::of(contents, tank.as_deref());
            let told = self.0.entry(tank).or_default();
            told.units = Some(contents.header.units);
            match (visit, &contents.summary) {
                (Some(visit), Some(_)) => told.visits.push(visit),
                (Some(_), None) => told.open += 1,
                (None, _) => {}
            }
        }
    }

    /// What is told of the tank meant.
    fn of_tank(mut self, wanted: Option<&str>) -> Result<(Option<String>, Gathered), Failure> {
        let only = self.0.keys().next().cloned().filter(|_| self.0.len() == 1);
        let meant = wanted.map_or(only, |tank| Some(Some(tank.to_string())));
        if let Some(told) = meant.and_then(|tank| self.0.remove_entry(&tank)) {
            return Ok(told);
        }
        let names: Vec<&str> = self.0.keys().flatten().map(String::as_str).collect();
        Err(Failure::Call(match (wanted, names.as_slice()) {
            (_, []) => "No record names a tank yet. `tankhand run flush` begins one.".to_string(),
            (None, names) => {
                let calls: Vec<String> = names.iter().map(|name| format!("tankhand trend {name}")).collect();
                format!("More than one tank has records. Name one: {}", list(&calls, "or"))
            }
            (Some(tank), names) => {
                format!("No record is of a tank `{}`: {}", tank.escape_debug(), did_you_mean(tank, names))
            }
        }))
    }
}

/// The band in Pa.
fn band(typed: Option<&str>, units: Units) -> Result<f64, Failure> {
    let usual = units.unit_for(Measure::PressureChange);
    let Some(typed) = typed else {
        return Ok(BAND_PSI * unit("psi").map_or(1.0, |psi| psi.size));
    };
    let wrong = |why: String| Failure::Call(format!("--band: {why}"));
    let read = read_number(typed, Family::Pressure).map_err(|error| wrong(error.to_string()))?;
    let pa = read.number * read.unit.or(usual).map_or(1.0, |unit| unit.size);
    let most = 50.0 * unit("psi").map_or(1.0, |psi| psi.size);
    match pa > 0.0 && pa <= most {
        true => Ok(pa),
        false => Err(wrong("the charge may stray by more than nothing and by 50 psi at most".to_string())),
    }
}

fn write_new(path: &Path, text: &str) -> Result<(), Failure> {
    let wrong = |error: std::io::Error| match error.kind() {
        std::io::ErrorKind::AlreadyExists => {
            Failure::Call(format!("{}: it is there already, and is not overwritten", path.display()))
        }
        _ => Failure::Call(format!("{}: {error}", path.display())),
    };
    let mut file = OpenOptions::new().write(true).create_new(true).open(path).map_err(wrong)?;
    file.write_all(text.as_bytes()).and_then(|()| file.sync_all()).map_err(wrong)
}
