//! `logbook`: every tank, from the newest closed record of each.

use std::collections::BTreeMap;
use std::io::Write;
use std::path::PathBuf;
use std::rc::Rc;

use super::files::{put_page, write_new, write_page};
use super::records::{done, put_end};
use super::trend::{BAND, tank_in};
use super::{Done, Home, Result};
use crate::record::{Contents, FileOrder, FolderAccount, Outcome, RecordFolder, read};
use crate::report::{
    Due, HtmlForm, LogbookTank, RunView, TrendOrder, Visit, calendar, logbook_page, to_html, trend_due,
    trend_figure,
};
use crate::words::path_shown;

/// The place and the id of a tank.
type TankOfPlace = (Option<String>, Option<String>);
/// The closed records of each.
type TankHistories = BTreeMap<TankOfPlace, Vec<Rc<Contents>>>;

/// Where a logbook goes beside the output.
#[derive(Debug, clap::Args)]
pub struct LogbookTo {
    /// An HTML file to write the same to.
    #[arg(long, value_name = "FILE")]
    pub html: Option<PathBuf>,
    /// A new calendar file with what is due (iCalendar).
    #[arg(long, value_name = "FILE")]
    pub ics: Option<PathBuf>,
}

/// Shows every tank that closed records tell of: how it was left, and what is due.
///
/// # Errors
/// When the folder cannot be read, or a file cannot be written.
pub fn logbook(to: &LogbookTo, home: &Home, width: usize, out: &mut dyn Write) -> Result<Done> {
    let (histories, account) = histories(home)?;
    let tanks: Vec<LogbookTank> = histories.into_iter().filter_map(|(of, all)| newest(&of, &all)).collect();
    let mut page = logbook_page(&tanks);
    put_end(&account, home, &mut page);
    put_page(&page, width, out)?;
    if let Some(path) = &to.html {
        writeln!(out)?;
        write_page(path, &to_html(&page, HtmlForm::Report, "Logbook"), out)?;
    }
    if let Some(path) = &to.ics {
        write_new(path, |file| Ok(file.write_all(calendar(&tanks).as_bytes())?))?;
        writeln!(out, "{} written.", path_shown(path))?;
    }
    Ok(done(&account))
}

/// The closed records of each tank at each place, the oldest first.
fn histories(home: &Home) -> Result<(TankHistories, FolderAccount)> {
    let mut of = TankHistories::new();
    let mut folder = RecordFolder::of(&home.records(), FileOrder::Oldest);
    while let Some(glance) = folder.next_record()? {
        if glance.outcome.is_none() {
            continue;
        }
        let contents = match read(&glance.path) {
            Ok(contents) => Rc::new(contents),
            Err(fault) => {
                folder.account.retract(Some(fault));
                continue;
            }
        };
        let header = &contents.header;
        let tanks: Vec<Option<String>> = match header.tanks.as_slice() {
            [] => vec![header.tank.clone()],
            several => several.iter().cloned().map(Some).collect(),
        };
        for tank in tanks.into_iter().filter(Option::is_some) {
            of.entry((header.site.clone(), tank)).or_default().push(contents.clone());
        }
    }
    of.values_mut().for_each(|all| all.sort_by_key(|contents| contents.header.started.unix_seconds()));
    Ok((of, folder.account))
}

/// What the newest record that was not broken off says of a tank.
fn newest((site, tank): &TankOfPlace, all: &[Rc<Contents>]) -> Option<LogbookTank> {
    let ended = |contents: &&Rc<Contents>| {
        contents.summary.as_ref().is_some_and(|end| end.outcome != Outcome::Unfinished)
    };
    let contents = all.iter().rev().find(ended).or_else(|| all.last())?;
    let visits: Vec<Visit> = all.iter().filter_map(|contents| Visit::of(contents, tank.as_deref())).collect();
    let of_several = tank_in(contents, tank.as_deref());
    let view = RunView::new(contents, None);
    let called = view.tank_called(of_several);
    let order = TrendOrder {
        tank: called.as_deref(),
        site: site.as_deref(),
        band: BAND,
        units: contents.header.units,
        open: 0,
        elsewhere: &[],
    };
    let figure = trend_figure(&visits, &order).filter(|_| visits.len() > 1);
    let still =
        all.iter().filter(|other| is_newest_of_its_kind(other, all) && other.header.id != contents.header.id);
    let still = still.flat_map(|other| Due::of(&RunView::new(other, None), tank_in(other, tank.as_deref())));
    let today = contents.header.started.date();
    let still: Vec<Due> = still.filter(|due| due.by.date() >= today).collect();
    let row = LogbookTank::of(&view, of_several, figure);
    Some(row.also_due(still.into_iter().chain(trend_due(&visits, &order))))
}

/// Whether no later record is of the same work.
fn is_newest_of_its_kind(contents: &Contents, all: &[Rc<Contents>]) -> bool {
    let header = &contents.header;
    let later = |other: &Rc<Contents>| {
        other.header.procedure == header.procedure
            && other.header.started.unix_seconds() > header.started.unix_seconds()
    };
    contents.summary.is_some() && !all.iter().any(later)
}
