//! One instant, with the offset from UTC that the clock on the wall had.

use std::fmt;
use std::time::Duration;

use chrono::{DateTime, FixedOffset, Local, NaiveDateTime, SecondsFormat, Timelike};

use super::Day;

/// An instant to the second, with its offset from UTC.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Moment(DateTime<FixedOffset>);

impl Moment {
    /// Reads the machine's clock.
    pub(super) fn read_machine() -> Moment {
        Moment::whole_seconds(Local::now().fixed_offset())
    }

    fn whole_seconds(time: DateTime<FixedOffset>) -> Moment {
        Moment(time.with_nanosecond(0).unwrap_or(time))
    }

    /// Reads an RFC 3339 date and time; `None` when the text is none.
    pub fn parse(text: &str) -> Option<Moment> {
        DateTime::parse_from_rfc3339(text).ok().map(Moment::whole_seconds)
    }

    /// The moment that the clock on the wall here showed as `2031-04-05 09:01`; `None` when the
    /// text is none.
    ///
    /// ```
    /// use tankhand::clock::Moment;
    /// let now = Moment::parse("2031-04-05T21:30:10-05:00").unwrap();
    /// let then = now.on_the_wall("2031-04-05 9:01").unwrap();
    /// assert_eq!(then.to_string(), "2031-04-05T09:01:00-05:00");
    /// assert_eq!(now.on_the_wall("2031-04-05 25:01"), None);
    /// ```
    pub fn on_the_wall(self, text: &str) -> Option<Moment> {
        let read = NaiveDateTime::parse_from_str(text.trim(), "%Y-%m-%d %H:%M").ok()?;
        read.and_local_timezone(*self.0.offset()).single().map(Moment)
    }

    /// The moment `span` later.
    pub fn plus(self, span: Duration) -> Moment {
        chrono::TimeDelta::from_std(span)
            .ok()
            .and_then(|delta| self.0.checked_add_signed(delta))
            .map_or(self, Moment::whole_seconds)
    }

    /// The moment `span` earlier.
    pub fn minus(self, span: Duration) -> Moment {
        let delta = chrono::TimeDelta::from_std(span).ok();
        delta.and_then(|delta| self.0.checked_sub_signed(delta)).map_or(self, Moment::whole_seconds)
    }

    /// Time from `earlier` to here; zero when it is not earlier.
    pub fn since(self, earlier: Moment) -> Duration {
        (self.0 - earlier.0).to_std().unwrap_or(Duration::ZERO)
    }

    /// Seconds since 1970-01-01T00:00:00Z.
    pub fn unix_seconds(self) -> i64 {
        self.0.timestamp()
    }

    /// The day of the calendar, by the clock on the wall there.
    pub fn day(self) -> Day {
        Day(self.0.date_naive())
    }

    /// How many minutes the clock on the wall was ahead of UTC; negative when it was behind.
    pub fn offset_minutes(self) -> i32 {
        self.0.offset().local_minus_utc() / 60
    }

    /// `2031-04-05`.
    pub fn date(self) -> String {
        self.0.format("%Y-%m-%d").to_string()
    }

    /// `09:01`, by the clock on the wall there.
    pub fn time_of_day(self) -> String {
        self.0.format("%H:%M").to_string()
    }

    /// The same instant in UTC, as calendars write it.
    ///
    /// ```
    /// use tankhand::clock::Moment;
    /// assert_eq!(Moment::parse("2031-04-05T09:01:00-05:00").unwrap().utc(), "20310405T140100Z");
    /// ```
    pub fn utc(self) -> String {
        self.0.to_utc().format("%Y%m%dT%H%M%SZ").to_string()
    }

    /// `20310405-0901`, for a file's name.
    pub fn stamp(self) -> String {
        self.0.format("%Y%m%d-%H%M").to_string()
    }
}

impl fmt::Display for Moment {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0.to_rfc3339_opts(SecondsFormat::Secs, false))
    }
}
