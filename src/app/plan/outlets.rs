//! Where water is wanted: `shower +14 ft by 60 ft of 0.75 in at 3 gal/min >= 40 psi`.

use super::amounts::{OptionReader, cannot_be, parted, whole};
use crate::physics::plan::PlanOutlet;
use crate::physics::{PlainPipe, SMOOTH_WALL};
use crate::quantity::{Measure, Uncertain};
use crate::source::Quoted;

const FORM: &str = "write a name and its height over the switch, such as \"shower +14 ft\"; a pipe and a least pressure \
may follow: \"shower +14 ft by 60 ft of 0.75 in at 3 gal/min >= 40 psi\"";

impl OptionReader {
    /// Every outlet.
    pub(super) fn outlets(&mut self, texts: &[String]) -> Vec<PlanOutlet> {
        (1..)
            .zip(texts)
            .filter_map(|(number, text)| self.outlet(&whole(&format!("--serve {number}"), text)))
            .collect()
    }

    fn outlet(&mut self, option: &Quoted) -> Option<PlanOutlet> {
        let (rest, least) = parted(option, &[">=", "≥"]);
        let (place, pipe) = parted(&rest, &[" by "]);
        let height = place.text.find(|c: char| c.is_ascii_digit() || matches!(c, '+' | '-' | '−'));
        let Some(height) = height.filter(|at| !place.text[..*at].trim().is_empty()) else {
            let fault = cannot_be(&place, "here a name and a height are needed");
            self.fault(fault.why("The pressure at a place follows from its height.").remedy(FORM));
            return None;
        };
        let above = self.amount(&place.part(height..place.text.len()), Measure::Length);
        let pipe = match pipe {
            Some(pipe) => Some(self.pipe(&pipe)?),
            None => None,
        };
        let least = match least {
            Some(least) => Some(self.amount(&least, Measure::Pressure)?.value()),
            None => None,
        };
        Some(PlanOutlet { name: place.text[..height].trim().to_string(), above: above?, pipe, least })
    }

    /// The pipe, and the flow in it.
    fn pipe(&mut self, part: &Quoted) -> Option<(PlainPipe<Uncertain>, Uncertain)> {
        let (length, rest) = parted(part, &[" of "]);
        let (diameter, flow) = parted(rest.as_ref().unwrap_or(part), &[" at "]);
        let (Some(_), Some(flow)) = (&rest, flow) else {
            let fault = cannot_be(part, "here a length, an inner diameter and a flow are needed");
            self.fault(fault.why("What a pipe takes of the pressure follows from all three.").remedy(FORM));
            return None;
        };
        let length = self.amount(&length, Measure::Length);
        let diameter = self.amount(&diameter, Measure::Length);
        let flow = self.amount(&flow, Measure::Flow);
        Some((PlainPipe { length: length?, diameter: diameter?, roughness: SMOOTH_WALL }, flow?))
    }
}
