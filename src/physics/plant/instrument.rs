//! What is read from: gauges and vessels with their errors.

use crate::quantity::PSI;

/// A gauge, a bucket or a watch, with its own errors.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Instrument {
    /// How much more than the truth it shows, in the unit of the reading.
    pub bias: f64,
    /// By which factor it is off.
    pub gain: f64,
    /// Its smallest mark or step.
    pub mark: f64,
    /// How far its needle may stay behind.
    pub stick: f64,
    /// It shows the same, whatever comes.
    pub stuck: Option<f64>,
}

impl Instrument {
    /// One without error.
    pub const fn exact(mark: f64) -> Instrument {
        Instrument { bias: 0.0, gain: 1.0, mark, stick: 0.0, stuck: None }
    }

    /// Where its needle stands, with `lag` from -1 to 1 the part of its stickiness that holds it back.
    pub fn shows(&self, truth: f64, lag: f64) -> f64 {
        self.stuck.unwrap_or(truth * self.gain + self.bias + lag * self.stick)
    }
}

/// All that a person has at hand.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Instruments {
    /// The gauge on the line, Pa.
    pub line: Instrument,
    /// Another gauge for the line, Pa.
    pub second: Instrument,
    /// The tire gauge, Pa.
    pub air: Instrument,
    /// The bucket, m³.
    pub bucket: Instrument,
    /// The thermometer, K.
    pub thermometer: Instrument,
    /// The watch, s.
    pub watch: Instrument,
}

impl Default for Instruments {
    fn default() -> Instruments {
        Instruments {
            line: Instrument::exact(PSI),
            second: Instrument::exact(PSI),
            air: Instrument::exact(0.5 * PSI),
            bucket: Instrument::exact(0.5e-3),
            thermometer: Instrument::exact(1.0),
            watch: Instrument::exact(1.0),
        }
    }
}
