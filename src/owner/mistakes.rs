//! Everyday mistakes of people at a tank.

use super::random::Chance;

/// What an owner gets wrong in a visit.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Mistakes {
    /// The precharge is misread by 10 psi.
    pub misread_air: bool,
    /// The line's pressure is misread by 10 psi once.
    pub misread_line: bool,
    /// One bucket too many or too few is counted.
    pub miscounted_bucket: bool,
    /// The label is told as the cut-in, and the pump is not watched.
    pub label_for_cut_in: bool,
    /// That the pump does not stop is not told: the needle's place is.
    pub no_stop_unreported: bool,
    /// The air is read before the tank has run dry.
    pub read_over_water: bool,
    /// Another breaker is turned off first.
    pub wrong_breaker: bool,
    /// The house's valve is believed shut, and is not.
    pub house_believed_shut: bool,
}

impl Mistakes {
    /// Everyday mistakes, as often as they are made: judgement.
    pub fn everyday(seed: u64) -> Mistakes {
        let mut random = Chance::new(seed ^ 0x6d69_7374);
        let mut happens = |percent: f64| random.happens(percent / 100.0);
        Mistakes {
            misread_air: happens(2.5),
            misread_line: happens(1.0),
            miscounted_bucket: happens(3.0),
            label_for_cut_in: happens(1.5),
            no_stop_unreported: happens(5.0),
            read_over_water: happens(2.0),
            wrong_breaker: happens(3.0),
            house_believed_shut: happens(2.0),
        }
    }
}
