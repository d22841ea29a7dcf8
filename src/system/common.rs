//! Gauges as they are commonly found, for owners who know little of theirs.
//!
//! The figures are common practice, not a standard's.

use std::borrow::Cow;

use super::{Accuracy, Gauge, Reads};
use crate::quantity::{Family, PSI, SourceId, Uncertain};

/// Limit of error, division, and what is read.
type Figures = (Accuracy, f64, Reads);

const LINE: Figures = (Accuracy::Within(2.0 * PSI), PSI, Reads::Dial);
const DIAL_TIRE: Figures = (Accuracy::Within(PSI), 0.5 * PSI, Reads::Dial);
const STICK_TIRE: Figures = (Accuracy::Within(3.0 * PSI), PSI, Reads::Dial);
const DIGITAL_TIRE: Figures = (Accuracy::Within(PSI), 0.1 * PSI, Reads::Digital);
const BUCKET: Figures = (Accuracy::Share(0.03), 0.5e-3, Reads::Dial);
const THERMOMETER: Figures = (Accuracy::Within(1.0), 1.0, Reads::Dial);
const DIGITAL_THERMOMETER: Figures = (Accuracy::Within(1.0), 0.1, Reads::Digital);
const WATCH: Figures = (Accuracy::Within(0.5), 1.0, Reads::Digital);
const STOPWATCH: Figures = (Accuracy::Within(0.3), 0.1, Reads::Digital);
const SCALE: Figures = (Accuracy::Within(1.0), 0.1, Reads::Digital);
const CONE: Figures = (Accuracy::Share(0.05), 1e-4, Reads::Dial);

const fn gauge(id: &'static str, name: &'static str, family: Family, figures: Figures) -> Gauge {
    let (accuracy, division, reads) = figures;
    Gauge {
        id: Cow::Borrowed(id),
        name: Cow::Borrowed(name),
        family,
        accuracy,
        span: None,
        division,
        reads,
        serial: None,
        compared: None,
    }
}

const fn kind(word: &'static str, family: Family, figures: Figures) -> Gauge {
    gauge(word, word, family, figures)
}

/// What stands for a gauge that the owner says nothing of, by the names procedures call.
pub(crate) static COMMON_GAUGES: &[Gauge] = &[
    gauge("line", "line gauge, an ordinary dial", Family::Pressure, LINE),
    gauge("air", "tire gauge, a dial", Family::Pressure, DIAL_TIRE),
    gauge("bucket", "bucket with marks", Family::Volume, BUCKET),
    gauge("thermometer", "household thermometer", Family::Temperature, THERMOMETER),
    gauge("watch", "watch, worked by hand", Family::Time, WATCH),
    gauge("scale", "bathroom scale", Family::Mass, SCALE),
    gauge("cone", "settling cone or marked jar", Family::Concentration, CONE),
];

/// Kinds of gauges an owner may name in a system file, by their words.
pub(crate) static GAUGE_KINDS: &[Gauge] = &[
    kind("line gauge", Family::Pressure, LINE),
    kind("dial tire gauge", Family::Pressure, DIAL_TIRE),
    kind("stick tire gauge", Family::Pressure, STICK_TIRE),
    kind("digital tire gauge", Family::Pressure, DIGITAL_TIRE),
    kind("bucket with marks", Family::Volume, BUCKET),
    kind("household thermometer", Family::Temperature, THERMOMETER),
    kind("digital thermometer", Family::Temperature, DIGITAL_THERMOMETER),
    kind("watch", Family::Time, WATCH),
    kind("stopwatch", Family::Time, STOPWATCH),
    kind("bathroom scale", Family::Mass, SCALE),
    kind("settling cone", Family::Concentration, CONE),
];

impl Gauge {
    /// Its accuracy, as a source of uncertainty.
    pub fn source(&self) -> Option<SourceId> {
        let place = COMMON_GAUGES.iter().position(|gauge| gauge.id == self.id)?;
        u16::try_from(place).ok().map(SourceId::Gauge)
    }

    /// What it shows with its uncertainties: its accuracy, which all its readings share, and its resolution, which is
    /// this reading's own.
    ///
    /// ```
    /// use tankhand::quantity::PSI;
    /// let system = tankhand::system::System::default();
    /// let line = system.gauge("line").unwrap();
    /// let [first, second] = [1, 2].map(|entry| line.read(38.0 * PSI, entry));
    /// // What the gauge is off by is the same twice, so that the difference knows the marks alone.
    /// let [once, between] = [first.clone(), second - first].map(|it| it.standard_uncertainty() / PSI);
    /// assert!((once - 1.19).abs() < 0.01 && (between - 0.41).abs() < 0.01);
    /// ```
    pub fn read(&self, si: f64, entry: u64) -> Uncertain {
        let marks = SourceId::Reading(entry);
        let exact = Uncertain::exact(si).with_component(marks, self.resolution_u());
        match self.source() {
            Some(accuracy) => exact.with_component(accuracy, self.accuracy_u(si)),
            None => exact,
        }
    }
}

/// The finest gauge of a family that is commonly to be had, as a limit of error either way, SI;
/// `None` for families measured by shares of the reading ([`FINEST_SHARE`]) or not by gauges.
pub fn finest(family: Family) -> Option<f64> {
    match family {
        Family::Pressure => Some(0.1 * PSI),
        Family::Temperature | Family::Time => Some(0.1),
        Family::Mass => Some(0.05),
        _ => None,
    }
}

/// The finest that marks on a bucket or a jar commonly are, as a share of the reading.
pub const FINEST_SHARE: f64 = 0.005;
