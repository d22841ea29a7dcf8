//! `trend`: a tank's air over the years, from its closed records.

use std::collections::BTreeSet;
use std::io::Write;
use std::path::PathBuf;

use super::files::{put_page, write_page};
use super::records::done;
use super::unseen::with_unseen;
use super::{Done, Failure, Home, Result};
use crate::quantity::{Family, Measure, PSI, Units, read_number};
use crate::record::{Contents, FolderAccount, Glance, RecordList, list, read};
use crate::report::{HtmlForm, Page, RunView, TrendOrder, Visit, put_account, to_html, trend_page};
use crate::words::{did_you_mean, list as listed};

/// How far the precharge may stray when nothing else is asked for: the usual gap below the pump's
/// start (common practice); Pa.
pub(super) const BAND: f64 = 2.0 * PSI;

/// What is asked for.
#[derive(Debug, Default, clap::Args)]
pub struct TrendCall {
    /// The tank's id; not needed when all records are of one tank.
    pub tank: Option<String>,
    /// The installation, when tanks of that id stand at several [default: the newest record's].
    #[arg(long, value_name = "NAME")]
    pub site: Option<String>,
    /// How far the precharge may stray from what was wanted [default: 2 psi].
    #[arg(long, value_name = "PRESSURE", allow_hyphen_values = true)]
    pub band: Option<String>,
    /// The HTML file to write the same to, with its figure.
    #[arg(long, value_name = "FILE")]
    pub html: Option<PathBuf>,
}

/// Shows how a tank's air has gone over the years.
///
/// # Errors
/// When the tank is in no record, the band cannot be read, or the file cannot be written.
pub fn trend(call: &TrendCall, home: &Home, width: usize, out: &mut dyn Write) -> Result<Done> {
    let seen = Seen::of(home)?;
    if seen.records.is_empty() && seen.account.wrong() > 0 {
        // That no tank is seen is no fault of the call.
        let mut page = Page::titled("Precharge over the years");
        page.text("None of the records can be understood, so it cannot be said how a tank's air has gone.");
        put_account(&seen.account, &mut page);
        put_page(&page, width, out)?;
        return Ok(done(&seen.account));
    }
    let tank = seen.meant(call.tank.as_deref(), home)?;
    let site = seen.site_of((tank, call.site.as_deref()), home)?;
    let mut account = seen.account.clone();
    let mut history = seen.read((tank, site), &mut account);
    history.visits.sort_by_key(|visit| visit.began.unix_seconds());
    let units = history.newest.as_ref().map(|newest| newest.header.units).unwrap_or_default();
    let called = history
        .newest
        .as_ref()
        .and_then(|newest| RunView::new(newest, None).tank_called(tank_in(newest, tank)));
    let order = TrendOrder {
        tank: called.as_deref(),
        site,
        band: band(call.band.as_deref(), units)?,
        units,
        open: history.open,
        elsewhere: &seen.other_sites(tank, site),
    };
    let mut page = trend_page(&history.visits, &order);
    put_account(&account, &mut page);
    put_page(&page, width, out)?;
    if let Some(path) = &call.html {
        let name = format!("Trend of {}", called.as_deref().unwrap_or("the tank"));
        writeln!(out)?;
        write_page(path, &to_html(&page, HtmlForm::Report, &name), out)?;
    }
    Ok(done(&account))
}

/// What the records of one tank tell.
#[derive(Default)]
struct TankHistory {
    visits: Vec<Visit>,
    open: usize,
    /// The newest record.
    newest: Option<Contents>,
}

/// The records at a glance, the oldest first: which tanks each is about, and where.
struct Seen {
    records: Vec<Glance>,
    /// What became of every file.
    account: FolderAccount,
}

impl Seen {
    fn of(home: &Home) -> Result<Seen> {
        let RecordList { mut records, account } = list(&home.records())?;
        records.reverse();
        Ok(Seen { records, account })
    }

    /// The tank that is meant: the one named, else the only one; `None` when records name none.
    fn meant<'a>(&'a self, site: Option<&'a str>, home: &Home) -> Result<Option<&'a str>> {
        let names: BTreeSet<&str> =
            self.records.iter().flat_map(|glance| &glance.tanks).map(String::as_str).collect();
        let names: Vec<&str> = names.into_iter().collect();
        let none = match (site, names.as_slice()) {
            (None, []) if !self.records.is_empty() => return Ok(None),
            (_, []) => "No record names a tank yet. `tankhand run flush` begins one.".to_string(),
            (None, [only]) => return Ok(Some(only)),
            (None, names) => {
                let calls = listed(names.iter().map(|name| format!("tankhand trend {name}")), "or");
                format!("More than one tank has records. Name one: {calls}")
            }
            (Some(tank), names) if names.contains(&tank) => return Ok(Some(tank)),
            (Some(tank), names) => {
                format!("No record is of a tank `{}`: {}", tank.escape_debug(), did_you_mean(tank, names))
            }
        };
        Err(Failure::Call(with_unseen(&none, &self.account, home)))
    }

    fn of_tank<'a>(&'a self, tank: Option<&'a str>) -> impl Iterator<Item = &'a Glance> {
        self.records.iter().filter(move |glance| match tank {
            Some(tank) => glance.tanks.iter().any(|one| one == tank),
            None => glance.tanks.is_empty(),
        })
    }

    /// The installation that is meant: the one named, else that of the tank's newest record.
    fn site_of<'a>(
        &'a self,
        (tank, site): (Option<&'a str>, Option<&'a str>),
        home: &Home,
    ) -> Result<Option<&'a str>> {
        let Some(site) = site else {
            let newest = self.of_tank(tank).max_by_key(|glance| glance.started.unix_seconds());
            return Ok(newest.and_then(|glance| glance.site.as_deref()));
        };
        let sites: BTreeSet<&str> = self.of_tank(tank).filter_map(|glance| glance.site.as_deref()).collect();
        if sites.contains(&site) {
            return Ok(Some(site));
        }
        let hint = did_you_mean(site, &sites);
        let none = format!("No record of the tank is from `{}`: {hint}", site.escape_debug());
        Err(Failure::Call(with_unseen(&none, &self.account, home)))
    }

    /// Where else tanks of that id stand.
    fn other_sites(&self, tank: Option<&str>, site: Option<&str>) -> Vec<String> {
        let sites = self.of_tank(tank).filter(|glance| glance.site.as_deref() != site);
        let sites: BTreeSet<&str> =
            sites.map(|glance| glance.site.as_deref().unwrap_or("a place without a name")).collect();
        sites.into_iter().map(ToString::to_string).collect()
    }

    /// Reads the records of one tank; of the others the glance sufficed.
    fn read(&self, (tank, site): (Option<&str>, Option<&str>), account: &mut FolderAccount) -> TankHistory {
        let mut history = TankHistory::default();
        for glance in self.of_tank(tank).filter(|glance| glance.site.as_deref() == site) {
            let contents = match read(&glance.path) {
                Ok(contents) => contents,
                Err(fault) => {
                    account.retract(Some(fault));
                    continue;
                }
            };
            match (Visit::of(&contents, tank), &contents.summary) {
                (Some(visit), Some(_)) => history.visits.push(visit),
                (Some(_), None) => history.open += 1,
                (None, _) => {}
            }
            history.newest = Some(contents);
        }
        history
    }
}

/// A tank, where a record is of several.
pub(super) fn tank_in<'t>(contents: &Contents, tank: Option<&'t str>) -> Option<&'t str> {
    tank.filter(|tank| contents.header.tanks.iter().any(|one| one == tank))
}

/// The band in Pa.
fn band(typed: Option<&str>, units: Units) -> Result<f64> {
    let Some(typed) = typed else { return Ok(BAND) };
    let usual = units.unit_for(Measure::PressureChange);
    let wrong = |why: String| Failure::Call(format!("--band: {why}"));
    let read = read_number(typed, Family::Pressure).map_err(|error| wrong(error.to_string()))?;
    let pa = read.number * read.unit.or(usual).map_or(1.0, |unit| unit.size);
    match pa > 0.0 && pa <= 50.0 * PSI {
        true => Ok(pa),
        false => Err(wrong("the precharge may stray by more than nothing and by 50 psi at most".to_string())),
    }
}
