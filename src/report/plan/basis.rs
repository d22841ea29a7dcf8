//! Where the numbers of a plan come from, and what is not known.

use crate::quantity::Units;

/// What a basis is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BasisOf {
    /// Cut-in and cut-out.
    Switch,
    /// The precharge of a tank.
    Precharge,
    /// The height of a tank.
    Height,
    /// The highest pressure a tank's plate allows.
    PlateLimit,
    /// Where the relief valve opens.
    Relief,
    /// What the pump brings.
    Flow,
    /// How high the place lies.
    Elevation,
    /// The temperature at which precharges are set.
    Temperature,
    /// The warmest it gets.
    Warmest,
    /// The power of the motor.
    Power,
}

/// Where a number comes from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum BasisKind {
    /// It was measured; on which day, and in which record.
    Measured(String),
    /// The system file has it.
    InFile,
    /// It was typed with the call.
    Typed,
    /// Nobody said it; it is computed with all the same.
    Assumed,
    /// Nobody said it, and nothing stands in for it.
    NotKnown,
}

/// Where one number comes from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlanBasis {
    /// What it is of.
    pub of: BasisOf,
    /// The tank it is of, when it is of one.
    pub tank: Option<String>,
    /// The number, shown, where there is one.
    pub shown: Option<String>,
    /// Where it comes from.
    pub kind: BasisKind,
}

impl BasisOf {
    /// The term, and where to look when it is not known.
    fn words(self) -> (&'static str, &'static str) {
        match self {
            BasisOf::Switch => (
                "cut-in and cut-out",
                "A label can be off by {off}: watch the gauge while the pump starts and stops (tankhand run yearly)",
            ),
            BasisOf::Precharge => ("precharge", "Read it with the tank drained (tankhand run yearly)"),
            BasisOf::Height => (
                "height over the switch",
                "Measure it, and write it in the system file as `height`; {column}",
            ),
            BasisOf::PlateLimit => {
                ("plate limit", "Read the tank's plate, and write it in the system file as `limit`")
            }
            BasisOf::Relief => (
                "relief valve's setting",
                "Read the tag on the valve, and write it in the system file under [relief] as `setting`",
            ),
            BasisOf::Flow => (
                "pump's flow",
                "Drawdown over run time tells it: give --flow, or two timed fills with --fill",
            ),
            BasisOf::Elevation => (
                "elevation",
                "Look it up on a map, and write it in the system file; {high} give 3 % more drawdown",
            ),
            BasisOf::Temperature => (
                "temperature at the tanks",
                "Read a thermometer beside the tank, and give it with --temperature",
            ),
            BasisOf::Warmest => (
                "warmest day at the tanks",
                "Think of the hottest week of summer, and write it in the system file as `warmest`",
            ),
            BasisOf::Power => (
                "motor power",
                "Read the control box or the pump's manual, and write it in the system file under [pump] as `power`",
            ),
        }
    }

    /// What stands in for it where it is assumed.
    fn stands_in(self) -> &'static str {
        match self {
            BasisOf::Height => "level with the switch",
            BasisOf::Elevation => "at sea level",
            BasisOf::Flow => {
                "as at the pressure it was timed at; the higher the pressure the less a pump brings"
            }
            BasisOf::Power => "3/4 hp or less, so 1 min of run time will do",
            BasisOf::Switch
            | BasisOf::Precharge
            | BasisOf::PlateLimit
            | BasisOf::Relief
            | BasisOf::Temperature
            | BasisOf::Warmest => "as it stands above",
        }
    }
}

/// What a label can be off by, what a column of water weighs, and a high place.
const fn figures(units: Units) -> [(&'static str, &'static str); 3] {
    match units {
        Units::Us => [("{off}", "8 psi"), ("{column}", "10 ft are 4.3 psi"), ("{high}", "5,000 ft")],
        Units::Metric => [("{off}", "0.5 bar"), ("{column}", "3 m are 0.29 bar"), ("{high}", "1,500 m")],
    }
}

impl PlanBasis {
    /// The sentence.
    pub(super) fn says(&self, units: Units) -> String {
        let (term, look) = self.of.words();
        let look =
            figures(units).iter().fold(look.to_string(), |look, (name, figure)| look.replace(name, figure));
        let of_tank = self.tank.as_ref().map_or_else(String::new, |tank| format!(" of {tank}"));
        let shown = self.shown.as_ref().map_or_else(String::new, |shown| format!(" {shown}"));
        let what = format!("{term}{of_tank}{shown}");
        match &self.kind {
            BasisKind::Measured(when) => format!("Measured, {when}: {what}."),
            BasisKind::InFile if self.of == BasisOf::Switch => {
                format!("From the system file: {what}. {look}.")
            }
            BasisKind::InFile => format!("From the system file: {what}."),
            BasisKind::Typed => format!("As typed: {what}."),
            BasisKind::Assumed => format!("ASSUMED: {what}: {}. {look}.", self.of.stands_in()),
            BasisKind::NotKnown => format!("NOT KNOWN: {what}. {look}."),
        }
    }
}
