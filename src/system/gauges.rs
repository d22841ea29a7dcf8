//! Gauges: what is known of how well they read.
//!
//! A gauge's limits of error are taken as rectangular, a/√3 (JCGM 100:2008, 4.3.7). That part is
//! one and the same for all readings of the gauge. What a reading was rounded to is its own: a
//! display that steps by d, and a dial read to the nearest mark d, lie within d/2 either way, which
//! gives d/√12 (F.2.2.1). Someone who reads a dial between its marks does better than told here.

use std::borrow::Cow;

use super::DialGrade;
use crate::quantity::{Family, rectangular_u};

/// What readings are taken with.
#[derive(Clone, Debug, PartialEq)]
pub struct Gauge {
    /// The name procedures call it by.
    pub id: Cow<'static, str>,
    /// What it is, for a person.
    pub name: Cow<'static, str>,
    /// What it measures.
    pub family: Family,
    /// How far off it may be.
    pub accuracy: Accuracy,
    /// Its highest mark, SI, where that is known.
    pub span: Option<f64>,
    /// Its smallest division, SI; half of it either way is each reading's own uncertainty.
    pub division: f64,
    /// What the reading is taken from.
    pub reads: Reads,
    /// What tells it from others like it, such as the number on its back.
    pub serial: Option<Cow<'static, str>>,
    /// When and with what it was compared last, in its owner's words.
    pub compared: Option<Cow<'static, str>>,
}

/// How far off a gauge may be, either way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Accuracy {
    /// So much, SI.
    Within(f64),
    /// This fraction of the reading, for bucket marks and the like.
    Share(f64),
    /// What its grade allows of its span.
    Grade(&'static DialGrade),
}

/// What a reading is taken from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reads {
    /// Marks, read to the nearest.
    Dial,
    /// Figures.
    Digital,
}

impl Reads {
    /// The words of a system file.
    pub const WORDS: &'static [&'static str] = &["dial", "digital"];

    /// What one of the words means.
    pub fn named(word: &str) -> Option<Reads> {
        match word {
            "dial" => Some(Reads::Dial),
            "digital" => Some(Reads::Digital),
            _ => None,
        }
    }
}

impl Gauge {
    /// The limit of its error at a reading, either way, SI.
    pub fn limit(&self, reading_si: f64) -> f64 {
        match self.accuracy {
            Accuracy::Within(limit) => limit,
            Accuracy::Share(share) => share * reading_si.abs(),
            Accuracy::Grade(grade) => grade.limit(reading_si, self.span.unwrap_or(reading_si)),
        }
    }

    /// Standard uncertainty of its accuracy at a reading: limits taken as rectangular
    /// (JCGM 100:2008, 4.3.7).
    pub fn accuracy_u(&self, reading_si: f64) -> f64 {
        rectangular_u(self.limit(reading_si))
    }

    /// Standard uncertainty from its division d: d/√12 (JCGM 100:2008, F.2.2.1).
    pub fn resolution_u(&self) -> f64 {
        self.division / 12f64.sqrt()
    }

    /// The same with another smallest mark, SI: no gauge is taken to be better than one of its marks (common
    /// practice).
    pub fn marked(&self, mark: f64) -> Gauge {
        let accuracy = match self.accuracy {
            Accuracy::Within(limit) => Accuracy::Within(limit.max(mark)),
            other => other,
        };
        Gauge { accuracy, division: mark, ..self.clone() }
    }

    /// What a sentence calls it: its name up to a comma, such as `line gauge`.
    pub fn called(&self) -> &str {
        self.name.split(',').next().unwrap_or(&self.name).trim()
    }
}
