//! Reading the options of a plan: every number by the one reader there is, every fault with its place.

use super::call::shown;
use crate::physics::plan::PlanTank;
use crate::quantity::{
    Measure, SourceId, Uncertain, Units, read_number, read_with_limit, rectangular_u, show_roundly,
};
use crate::source::{Fault, Quoted, SourceText};

/// Reads options, and keeps every fault.
pub(super) struct OptionReader {
    pub units: Units,
    faults: Vec<Fault>,
}

/// What each measure can be in a plan, as a person would write it: outside are slips of the pen or of
/// the unit. Common practice, as in system files.
const BETWEEN: &[(Measure, &str, &str)] = &[
    (Measure::Pressure, "5 psi", "150 psi"),
    (Measure::PressureChange, "0.1 psi", "50 psi"),
    (Measure::Volume, "1 gal", "500 gal"),
    (Measure::Flow, "0.01 gal/min", "500 gal/min"),
    (Measure::Length, "-1500 ft", "1500 ft"),
    (Measure::Temperature, "-40 degF", "130 degF"),
    (Measure::Duration, "1 s", "2 h"),
    (Measure::Number, "0.1", "200"),
];

impl OptionReader {
    pub(super) fn new(units: Units) -> OptionReader {
        OptionReader { units, faults: Vec::new() }
    }

    /// The faults, when there are any.
    pub(super) fn finish(self) -> Result<(), Vec<Fault>> {
        if self.faults.is_empty() { Ok(()) } else { Err(self.faults) }
    }

    /// Notes a fault.
    pub(super) fn fault(&mut self, fault: Fault) {
        self.faults.push(fault);
    }

    /// A number of an option that may be left out, without its limits.
    pub(super) fn number(&mut self, option: &str, text: Option<&str>, measure: Measure) -> Option<f64> {
        self.uncertain(option, text, measure).map(|amount| amount.value())
    }

    /// A number of an option that may be left out, with the limits typed behind it.
    pub(super) fn uncertain(
        &mut self,
        option: &str,
        text: Option<&str>,
        measure: Measure,
    ) -> Option<Uncertain> {
        self.amount(&whole(option, text?), measure)
    }

    /// A number, with the limits that stand behind it; a bare one is taken in the household's unit.
    pub(super) fn amount(&mut self, part: &Quoted, measure: Measure) -> Option<Uncertain> {
        let unit_of = |typed: Option<&'static crate::quantity::Unit>| typed.or(self.units.unit_for(measure));
        let (si, off) = match read_with_limit(&part.text, measure.family()) {
            Ok((typed, limit)) => {
                let unit = unit_of(typed.unit);
                let si = unit.map_or(typed.number, |unit| unit.to_si(measure, typed.number));
                (si, limit.unwrap_or(0.0) * unit.map_or(1.0, |unit| unit.size))
            }
            Err(problem) => {
                let message = problem.to_string();
                let fault = cannot_be(part, message.trim_end_matches('.')).why(bare(measure, self.units));
                self.fault(fault.remedy(format!("write {} with its unit", measure.phrase())));
                return None;
            }
        };
        let source = SourceId::limit_at((part.source.name(), part.span.start, &part.text));
        let amount = Uncertain::exact(si).with_component(source, rectangular_u(off));
        self.can_be(part, measure, si).then_some(amount)
    }

    fn can_be(&mut self, part: &Quoted, measure: Measure, si: f64) -> bool {
        let Some((_, low, high)) = BETWEEN.iter().find(|(other, ..)| *other == measure) else { return true };
        let end = |text: &str| {
            let typed = read_number(text, measure.family()).ok()?;
            Some(typed.unit.map_or(typed.number, |unit| unit.to_si(measure, typed.number)))
        };
        let (Some(low), Some(high)) = (end(low), end(high)) else { return true };
        if (low..=high).contains(&si) {
            return true;
        }
        let shown = |si: f64| show_roundly(measure, &Uncertain::exact(si), self.units);
        let message = format!("{} is outside {} to {}", shown(si), shown(low), shown(high));
        self.fault(
            Fault::new("out-of-range", &part.source, part.span, message)
                .why("No household system is like that; most often the unit or the decimal point slipped.")
                .remedy("look at the number, its sign and its unit"),
        );
        false
    }

    /// A tank to add: its volume, and behind `@` its height.
    pub(super) fn tank(&mut self, at: usize, text: &str) -> Option<PlanTank> {
        let option = whole(&format!("--add-tank {}", at + 1), text);
        let (size, above) = parted(&option, &["@"]);
        let volume = self.amount(&size, Measure::Volume)?;
        let above = match above {
            Some(part) => self.amount(&part, Measure::Length)?,
            None => Uncertain::exact(0.0),
        };
        let name = shown(Measure::Volume, volume.value(), self.units);
        Some(PlanTank { name, volume, above, limit: None, precharge: None })
    }
}

/// A fault at a part of an option, with what is wrong there.
pub(super) fn cannot_be(part: &Quoted, message: &str) -> Fault {
    Fault::new("not-a-value", &part.source, part.span, message)
}

/// What a number without its unit would be taken for.
fn bare(measure: Measure, units: Units) -> String {
    match units.unit_for(measure) {
        Some(unit) => format!("A number is needed here; without a unit it counts in {}.", unit.symbol),
        None => "A number is needed here.".to_string(),
    }
}

/// A whole option as a text with places; the option's name stands for a file's.
pub(super) fn whole(option: &str, text: &str) -> Quoted {
    let source = SourceText::new(option, text);
    Quoted { source, text: text.to_string(), span: (0..text.len()).into() }
}

/// A part without the spaces around it.
pub(super) fn trimmed(part: &Quoted) -> Quoted {
    let start = part.text.len() - part.text.trim_start().len();
    let end = (start + part.text.trim().len()).max(start);
    part.part(start..end)
}

/// The parts before and behind the first of some words; the second is none where none of them is
/// there.
pub(super) fn parted(part: &Quoted, words: &[&str]) -> (Quoted, Option<Quoted>) {
    let found = words.iter().filter_map(|word| part.text.find(word).map(|at| (at, word.len()))).min();
    split(part, found)
}

/// The parts before and behind a joint at that place, of that length.
pub(super) fn split(part: &Quoted, joint: Option<(usize, usize)>) -> (Quoted, Option<Quoted>) {
    let Some((at, length)) = joint else { return (trimmed(part), None) };
    (trimmed(&part.part(0..at)), Some(trimmed(&part.part(at + length..part.text.len()))))
}
