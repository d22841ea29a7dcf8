//! The measures: what sort of thing a number counts, with points and differences kept apart.

/// A sort of measurable thing.
///
/// A *point* (a gauge pressure, a temperature, an instant) and a *difference* of two points are
/// different measures: two gauge pressures cannot be added, a pressure and a change can.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Measure {
    /// Pressure above the local air, as a gauge shows it; Pa.
    Pressure,
    /// A difference between two pressures; Pa.
    PressureChange,
    /// Pressure above vacuum; Pa.
    AbsolutePressure,
    /// A temperature; K.
    Temperature,
    /// A difference between two temperatures; K.
    TemperatureChange,
    /// A volume; m³.
    Volume,
    /// Volume a time; m³/s.
    Flow,
    /// A length or height; m.
    Length,
    /// A mass; kg.
    Mass,
    /// A power; W.
    Power,
    /// A length of time; s.
    Duration,
    /// A moment; seconds since 1970 UTC.
    Instant,
    /// Volume in volume, as settled solids in a jar; m³/m³, shown in mL/L.
    Concentration,
    /// Mass in volume, as a disinfectant dose; kg/m³, shown in mg/L.
    MassConcentration,
    /// A plain number.
    Number,
    /// How many of something.
    Count,
}

/// Measures that share their units.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Family {
    /// Gauge, absolute and differences of pressure.
    Pressure,
    /// Temperatures and their differences.
    Temperature,
    /// Volumes.
    Volume,
    /// Flows.
    Flow,
    /// Lengths.
    Length,
    /// Masses.
    Mass,
    /// Powers.
    Power,
    /// Durations and instants.
    Time,
    /// Volume in volume.
    Concentration,
    /// Mass in volume.
    MassConcentration,
    /// Numbers and counts.
    Number,
}

/// Everything the rest of the program asks about one measure.
struct About {
    measure: Measure,
    /// The name in procedure files.
    name: &'static str,
    /// With its article, as a sentence uses it.
    phrase: &'static str,
    family: Family,
    /// For a point: the measure of a difference between two of it.
    change: Option<Measure>,
}

const fn about(
    measure: Measure,
    name: &'static str,
    phrase: &'static str,
    family: Family,
    change: Option<Measure>,
) -> About {
    About { measure, name, phrase, family, change }
}

const TABLE: &[About] = &[
    about(Measure::Pressure, "pressure", "a gauge pressure", Family::Pressure, Some(Measure::PressureChange)),
    about(Measure::PressureChange, "pressure change", "a pressure change", Family::Pressure, None),
    about(
        Measure::AbsolutePressure,
        "absolute pressure",
        "an absolute pressure",
        Family::Pressure,
        Some(Measure::PressureChange),
    ),
    about(
        Measure::Temperature,
        "temperature",
        "a temperature",
        Family::Temperature,
        Some(Measure::TemperatureChange),
    ),
    about(
        Measure::TemperatureChange,
        "temperature change",
        "a temperature change",
        Family::Temperature,
        None,
    ),
    about(Measure::Volume, "volume", "a volume", Family::Volume, None),
    about(Measure::Flow, "flow", "a flow", Family::Flow, None),
    about(Measure::Length, "length", "a length", Family::Length, None),
    about(Measure::Mass, "mass", "a mass", Family::Mass, None),
    about(Measure::Power, "power", "a power", Family::Power, None),
    about(Measure::Duration, "duration", "a duration", Family::Time, None),
    about(Measure::Instant, "instant", "an instant", Family::Time, Some(Measure::Duration)),
    about(Measure::Concentration, "concentration", "a concentration", Family::Concentration, None),
    about(
        Measure::MassConcentration,
        "mass concentration",
        "a mass concentration",
        Family::MassConcentration,
        None,
    ),
    about(Measure::Number, "number", "a number", Family::Number, None),
    about(Measure::Count, "count", "a count", Family::Number, None),
];

impl Measure {
    /// Every measure, in the order of the table.
    pub fn all() -> impl Iterator<Item = Measure> {
        TABLE.iter().map(|about| about.measure)
    }

    fn about(self) -> &'static About {
        // The table has one row a measure, in the order of the enum; a test holds that.
        &TABLE[self as usize]
    }

    /// The name used in procedure files, such as `pressure change`.
    pub fn name(self) -> &'static str {
        self.about().name
    }

    /// The name with its article, such as `a pressure change`.
    pub fn phrase(self) -> &'static str {
        self.about().phrase
    }

    /// The family whose units it takes.
    pub fn family(self) -> Family {
        self.about().family
    }

    /// For a point, the measure of the difference between two of them.
    ///
    /// ```
    /// use tankhand::quantity::Measure;
    /// assert_eq!(Measure::Pressure.change(), Some(Measure::PressureChange));
    /// assert_eq!(Measure::Volume.change(), None);
    /// ```
    pub fn change(self) -> Option<Measure> {
        self.about().change
    }

    /// The measure of a difference between two of these: [`change`](Measure::change) for a
    /// point, itself for everything else.
    pub fn difference(self) -> Measure {
        self.change().unwrap_or(self)
    }

    /// The measure of that name.
    pub fn named(name: &str) -> Option<Measure> {
        TABLE.iter().find(|about| about.name == name).map(|about| about.measure)
    }
}

impl Family {
    /// The measure a bare literal of this family has when nothing else decides.
    pub fn usual(self) -> Measure {
        match self {
            Family::Pressure => Measure::Pressure,
            Family::Temperature => Measure::Temperature,
            Family::Volume => Measure::Volume,
            Family::Flow => Measure::Flow,
            Family::Length => Measure::Length,
            Family::Mass => Measure::Mass,
            Family::Power => Measure::Power,
            Family::Time => Measure::Duration,
            Family::Concentration => Measure::Concentration,
            Family::MassConcentration => Measure::MassConcentration,
            Family::Number => Measure::Number,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_stands_in_the_order_of_the_enum() {
        for (at, about) in TABLE.iter().enumerate() {
            assert_eq!(about.measure as usize, at, "{}", about.name);
            assert_eq!(Measure::named(about.name), Some(about.measure));
        }
        assert_eq!(Measure::Count as usize, TABLE.len() - 1, "the last measure has a row");
    }
}
