//! Everyday mistakes of people at a tank.

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
