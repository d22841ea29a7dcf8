//! What a reading or a choice is *of*: the table that pairs, trends, figures, recalled answers,
//! exports and the questions about odd readings go by. No step's id means anything to them.

use std::fmt;

use crate::quantity::{DAY, Kind, Measure};

/// One thing that can be read, chosen or worked out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Observable {
    /// Its name in files and records.
    pub name: &'static str,
    /// The trade's term for it.
    pub term: &'static str,
    /// What an answer about it is.
    pub observed: Observed,
    /// The gauge it is usually read from, by the name the common table gives it.
    pub gauge: Option<&'static str>,
    /// What it can be at all; outside this an answer is refused.
    pub possible: Option<Range>,
    /// What it usually is; outside this an answer is questioned.
    pub usual: Option<Range>,
    /// Whether it is a property that the work may change, so that what was found is held against what
    /// was left.
    pub lasting: bool,
    /// What a report holds against it, each an observable with the word for it; the first that the record
    /// tells counts. Its own name stands for what a fact says of it.
    pub against: &'static [(&'static str, &'static str)],
    /// Whether it is somebody's choice, so that the usual answer is one when it is kept.
    pub chosen: bool,
    /// The state without which its gauge would show something else, and what.
    pub needs: Option<(&'static str, &'static str)>,
    /// What it is, in a sentence.
    pub means: &'static str,
}

/// What an answer is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Observed {
    /// A number of this measure.
    Number(Measure),
    /// One of several words, or yes or no.
    Words,
    /// A text.
    Text,
    /// That something was done; no answer tells more of it.
    Deed,
}

/// From one value to another, in a unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Range {
    /// The lowest.
    pub low: f64,
    /// The highest.
    pub high: f64,
    /// The unit's symbol; empty for plain numbers.
    pub unit: &'static str,
}

impl Range {
    /// Both ends as a file would write them.
    pub fn ends(&self) -> [String; 2] {
        [self.low, self.high].map(|end| format!("{end} {}", self.unit).trim_end().to_string())
    }
}

impl fmt::Display for Range {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} to {} {}", self.low, self.high, self.unit)
    }
}

impl Observed {
    /// Whether an answer of that kind can be one.
    pub fn fits(self, kind: &Kind) -> bool {
        match kind {
            Kind::Measure(measure) => self == Observed::Number(*measure),
            Kind::YesNo | Kind::OneOf(_) => self == Observed::Words,
            Kind::Text => self == Observed::Text,
        }
    }
}

impl fmt::Display for Observed {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Observed::Number(measure) => f.write_str(measure.phrase()),
            Observed::Words => f.write_str("one of several words, or yes or no"),
            Observed::Text => f.write_str("a text"),
            Observed::Deed => f.write_str("that something was done"),
        }
    }
}

const fn number(name: &'static str, term: &'static str, measure: Measure, means: &'static str) -> Observable {
    let observed = Observed::Number(measure);
    Observable {
        name,
        term,
        observed,
        gauge: None,
        possible: None,
        usual: None,
        lasting: false,
        against: &[],
        chosen: false,
        needs: None,
        means,
    }
}

const fn words(name: &'static str, term: &'static str, means: &'static str) -> Observable {
    Observable { observed: Observed::Words, ..number(name, term, Measure::Number, means) }
}

const fn text(name: &'static str, term: &'static str, means: &'static str) -> Observable {
    Observable { observed: Observed::Text, ..number(name, term, Measure::Number, means) }
}

const fn deed(name: &'static str, term: &'static str, means: &'static str) -> Observable {
    Observable { observed: Observed::Deed, ..number(name, term, Measure::Number, means) }
}

impl Observable {
    const fn on(self, gauge: &'static str) -> Observable {
        Observable { gauge: Some(gauge), ..self }
    }

    const fn only_when(self, state: &'static str, otherwise: &'static str) -> Observable {
        Observable { needs: Some((state, otherwise)), ..self }
    }

    const fn lasts(self) -> Observable {
        Observable { lasting: true, ..self }
    }

    const fn against(self, against: &'static [(&'static str, &'static str)]) -> Observable {
        Observable { against, ..self }
    }

    const fn is_chosen(self) -> Observable {
        Observable { chosen: true, ..self }
    }

    const fn from(self, low: f64, high: f64, unit: &'static str) -> Observable {
        Observable { possible: Some(Range { low, high, unit }), ..self }
    }

    const fn mostly(self, low: f64, high: f64, unit: &'static str) -> Observable {
        Observable { usual: Some(Range { low, high, unit }), ..self }
    }
}

use Measure::{
    Concentration, Count, Duration, Instant, Length, Mass, MassConcentration, Number, Power, Pressure,
    PressureChange, Temperature, Volume,
};

/// Every observable. Ranges are judgements: wide enough for any household installation.
pub static OBSERVABLES: &[Observable] = &[
    number("precharge", "precharge", Pressure, "air pressure of the tank with no water in it")
        .on("air")
        .from(0.0, 120.0, "psi")
        .mostly(5.0, 60.0, "psi")
        .only_when("drained", "with water in the tank the gauge would show the line's pressure instead")
        .lasts()
        .against(&[("target_precharge", "target:")]),
    number("target_precharge", "target precharge", Pressure, "the precharge this switch needs"),
    number("cut_in", "cut-in", Pressure, "pressure at which the pump starts")
        .on("line")
        .from(5.0, 120.0, "psi")
        .mostly(15.0, 65.0, "psi")
        .lasts()
        .against(&[("cut_in", "label:")]),
    number("cut_out", "cut-out", Pressure, "pressure at which the pump stops")
        .on("line")
        .from(10.0, 150.0, "psi")
        .mostly(30.0, 80.0, "psi")
        .lasts()
        .against(&[("relief_setting", "relief valve:"), ("plate_limit", "plate limit:")]),
    number("line_pressure", "line pressure", Pressure, "pressure of the water in the line")
        .on("line")
        .from(0.0, 150.0, "psi"),
    number(
        "rested_pressure",
        "pressure after the rest",
        Pressure,
        "what the gauge shows once the tank's air has cooled",
    )
    .on("line")
    .from(0.0, 150.0, "psi"),
    number("resting_gauge", "gauge at rest", Pressure, "what a gauge shows with no pressure on it")
        .on("line")
        .from(0.0, 150.0, "psi")
        .mostly(0.0, 2.0, "psi"),
    number("plate_limit", "plate limit", Pressure, "highest pressure the tank's plate allows")
        .from(40.0, 300.0, "psi"),
    number(
        "old_plate_limit",
        "plate limit of the old tank",
        Pressure,
        "highest pressure that the plate of the tank to be replaced allows",
    )
    .from(40.0, 300.0, "psi"),
    number(
        "pressure_limit",
        "highest pressure allowed",
        Pressure,
        "the lower of plate limit and relief valve",
    )
    .from(30.0, 300.0, "psi"),
    number("relief_setting", "relief setting", Pressure, "pressure on the relief valve's tag")
        .from(30.0, 300.0, "psi"),
    number("pump_shutoff", "shutoff pressure", Pressure, "highest pressure the pump can make")
        .from(20.0, 300.0, "psi"),
    number("pressure_wanted", "pressure wanted", Pressure, "pressure somebody asks for").is_chosen(),
    number("pressure_lost", "pressure lost", PressureChange, "how far the pressure fell in a test").lasts(),
    number(
        "way_loss",
        "loss on the way",
        PressureChange,
        "pressure lost in the pipe on the way to an appliance",
    ),
    number(
        "test_air",
        "air for a test",
        Pressure,
        "air pressure put into an empty tank to see whether it holds",
    )
    .on("air")
    .from(0.0, 120.0, "psi"),
    number("second_gauge", "second gauge", Pressure, "line pressure by another gauge")
        .from(0.0, 150.0, "psi"),
    number("line_mark", "smallest mark of the pressure gauge", PressureChange, "to what it can be read"),
    number("air_mark", "smallest mark of the tire gauge", PressureChange, "to what it can be read"),
    number("dead_gap", "dead gap", PressureChange, "how far the precharge lies below the cut-in").is_chosen(),
    number("tank_temperature", "temperature at the tank", Temperature, "air temperature at the tank")
        .on("thermometer")
        .from(-40.0, 130.0, "degF"),
    number("drawdown", "drawdown", Volume, "the water you get between cut-out and cut-in")
        .on("bucket")
        .from(0.0, 200.0, "gal")
        .lasts()
        .against(&[("drawdown_expected", "expected:")]),
    number(
        "drawdown_expected",
        "drawdown expected",
        Volume,
        "the drawdown this precharge and switch should give",
    ),
    number("plate_volume", "tank volume", Volume, "whole volume of the tank, from its plate")
        .from(1.0, 500.0, "gal"),
    number("water_held", "water in the tank", Volume, "water that stays in the tank"),
    number("water_poured", "water poured", Volume, "water filled in or let out on purpose"),
    number("run_time", "run time", Duration, "how long the pump runs from start to stop")
        .on("watch")
        .from(1.0, 7200.0, "s")
        .mostly(3.0, 1200.0, "s")
        .lasts()
        .against(&[("run_time_wanted", "at least:")]),
    number("pump_flow", "pump flow", Measure::Flow, "the water that the pump brings in a minute"),
    number(
        "start_interval",
        "time between starts",
        Duration,
        "how long the pump rests when no water is drawn",
    )
    .on("watch")
    .from(1.0, 2.0 * DAY, "s"),
    number("run_time_wanted", "run time wanted", Duration, "how long this pump should run at least"),
    number("rest_time", "time at rest", Duration, "how long the tank was left alone"),
    number("time_of", "time", Instant, "when something was read"),
    number("weight", "weight", Mass, "what the tank weighs").on("scale").from(2.0, 2000.0, "lb"),
    number("plate_weight", "weight by the plate", Mass, "what the empty tank should weigh")
        .from(2.0, 2000.0, "lb"),
    number("settled_solids", "settled solids", Concentration, "sediment in a jar after it settled")
        .on("cone"),
    number("chlorine", "chlorine", MassConcentration, "chlorine in the water"),
    number("bleach_strength", "strength of the bleach", Number, "share of chlorine in the bleach"),
    number("elevation", "elevation", Length, "height of the place above the sea"),
    number("length", "length", Length, "a length, a height or a depth"),
    number("motor_power", "motor power", Power, "power of the pump's motor").from(0.1, 20.0, "hp"),
    number("range_turns", "turns of the range nut", Number, "turns of the nut that moves cut-in and cut-out"),
    number(
        "differential_turns",
        "turns of the differential nut",
        Number,
        "turns of the nut that moves cut-out",
    ),
    number("tank_height", "height of the tank", Length, "how much higher than the switch the tank stands"),
    number("months_since", "months since", Number, "how many months ago an earlier visit was"),
    number("number", "number", Number, "an age, a price or another plain number"),
    number("count", "count", Count, "how many of something"),
    words("pin_test", "air valve test", "what comes out when the air valve's center is pressed"),
    words("added_air", "added air", "whether air that was added stays"),
    words("tank_sound", "sound of the tank", "how the tank sounds when knocked"),
    words("jar", "jar", "how the water from the drain looks").lasts(),
    words("symptom", "trouble", "what is wrong, and when it shows"),
    words("water_look", "look of the water", "how the water looks at once and after standing"),
    words("needle_fall", "fall of the needle", "how the needle falls before the pump starts"),
    words("needle_back", "needle after water was drawn", "what the needle does once the drain is shut"),
    words("pump_response", "pump starts", "whether and when the pump starts"),
    words("pump_stop", "pump stops", "whether the pump stops"),
    words("breaker", "breaker", "what the breaker's handle shows, or whether it is the right one"),
    words("joints", "joints", "whether a joint is dry"),
    words("bubbles", "bubbles", "whether soapy water shows a leak of air"),
    words("tank_kind", "kind of tank", "what keeps air and water apart"),
    words("pump_kind", "pump and control", "what pump there is, and what runs it"),
    words("shell", "shell", "how the tank's shell looks"),
    words("valve_position", "valve", "whether a valve is open or shut, or holds"),
    words("relief_valve", "relief valve", "what is seen of the relief valve"),
    words("gauge_moves", "gauge", "whether a gauge answers"),
    words("switch_sound", "switch", "how the switch behaves"),
    words("part_order", "order of the parts", "whether something sits between tank and switch"),
    words("layout", "layout", "where a part sits along the line"),
    words("chlorine_smell", "smell of chlorine", "whether chlorine is smelled"),
    words("lab_result", "laboratory", "what the laboratory found"),
    words("house_draw", "water drawn", "whether water is drawn somewhere"),
    words("tank_rocks", "rocking", "whether the tank rocks easily"),
    words("other_tanks", "other tanks there", "whether other pressure tanks stand on the line"),
    words("house_valve", "house valve", "whether a valve shuts the house off from the tank"),
    words("others_air", "other tanks", "whether the air of the other tanks was set alike"),
    words("material", "material", "what a part is made of"),
    words("water_side", "water side", "whether plugs, pipes or the well were open to dirt"),
    words("presence", "presence", "whether something is there"),
    words("decision", "decision", "what somebody decided").is_chosen(),
    deed("tank_replaced", "tank replaced", "another tank stands there from here on"),
    text("marking", "marking", "what stands on a plate, a tag or a serial number"),
    text("remark", "remark", "what somebody wrote down"),
    text("date", "date", "a day"),
];

/// What readings are taken with: the gauges of the table, each once, with what it measures.
pub fn gauges() -> Vec<(&'static str, Measure)> {
    let mut gauges: Vec<(&'static str, Measure)> = Vec::new();
    for known in OBSERVABLES {
        let (Observed::Number(measure), Some(gauge)) = (known.observed, known.gauge) else { continue };
        if gauges.iter().all(|(name, _)| *name != gauge) {
            gauges.push((gauge, measure));
        }
    }
    gauges
}

/// The observable of that name.
pub fn observable(name: &str) -> Option<&'static Observable> {
    OBSERVABLES.iter().find(|known| known.name == name)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::unit;

    #[test]
    fn every_observable_is_one_thing_with_ranges_in_units_of_its_measure() {
        for (at, known) in OBSERVABLES.iter().enumerate() {
            assert!(OBSERVABLES[..at].iter().all(|other| other.name != known.name), "{}", known.name);
            assert!(known.means.chars().all(|c| c != '.') && known.means.len() <= 70, "{}", known.name);
            for range in known.possible.iter().chain(&known.usual) {
                let Observed::Number(measure) = known.observed else { panic!("{} has no range", known.name) };
                assert!(range.low < range.high, "{}", known.name);
                assert_eq!(unit(range.unit).map(|u| u.family), Some(measure.family()), "{}", known.name);
            }
            if let (Some(possible), Some(usual)) = (known.possible, known.usual) {
                assert!(possible.low <= usual.low && usual.high <= possible.high, "{}", known.name);
            }
        }
    }
}
