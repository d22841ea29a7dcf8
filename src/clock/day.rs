//! One day of the calendar.

use std::fmt;
use std::str::FromStr;

use chrono::NaiveDate;
use thiserror::Error;

/// A day of the calendar, wherever it is that day.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Day(pub(super) NaiveDate);

/// A text that is no day of the calendar.
#[derive(Clone, Copy, Debug, Error, PartialEq, Eq)]
#[error("a day is written as year, month and day, such as 2031-04-05")]
pub struct NotADay;

impl FromStr for Day {
    type Err = NotADay;

    /// Reads a day written as ISO 8601 has it.
    ///
    /// ```
    /// use tankhand::clock::{Day, Moment};
    /// let day: Day = "2031-04-05".parse().unwrap();
    /// assert_eq!(Moment::parse("2031-04-05T23:59:00-05:00").unwrap().day(), day);
    /// assert!("5 April".parse::<Day>().is_err());
    /// ```
    fn from_str(text: &str) -> Result<Day, NotADay> {
        let shape = text.len() == 10 && text.bytes().all(|byte| byte.is_ascii_digit() || byte == b'-');
        match NaiveDate::parse_from_str(text, "%Y-%m-%d") {
            Ok(date) if shape => Ok(Day(date)),
            _ => Err(NotADay),
        }
    }
}

impl fmt::Display for Day {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.0.format("%Y-%m-%d"))
    }
}
