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
        let Some(height) = height_at(&place.text) else {
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

/// Where the height begins behind a name: at the last sign behind a space, else at the first number
/// there.
fn height_at(text: &str) -> Option<usize> {
    let behind_space = |(at, _): &(usize, char)| text[..*at].ends_with(' ') && !text[..*at].trim().is_empty();
    let starts = || text.char_indices().filter(behind_space);
    let sign = starts().rfind(|(_, c)| matches!(c, '+' | '-' | '−'));
    sign.or_else(|| starts().find(|(_, c)| c.is_ascii_digit())).map(|(at, _)| at)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::Units;
    use proptest::prelude::*;

    #[test]
    fn names_may_have_numbers_and_hyphens() {
        let table = [
            ("bath +14 ft", Some(("bath", 4.2672))),
            ("half-bath 2 +14 ft", Some(("half-bath 2", 4.2672))),
            ("basement -8 ft", Some(("basement", -2.4384))),
            ("attic 20", Some(("attic", 6.096))),
            ("half-bath", None),
            ("+14 ft", None),
        ];
        for (text, expected) in table {
            let found = OptionReader::new(Units::Us).outlets(&[text.to_string()]);
            let found = found.first().map(|outlet| (outlet.name.as_str(), outlet.above.value()));
            let same = |(a, b): ((&str, f64), (&str, f64))| a.0 == b.0 && (a.1 - b.1).abs() < 1e-9;
            assert!(found.is_some() == expected.is_some() && found.zip(expected).is_none_or(same), "{text}");
        }
    }

    proptest! {
        /// Any text is read, or refused with a place in it.
        #[test]
        fn no_text_brings_it_down(text in "[ a-z0-9@+.,≥>=°−-]{0,20}( by | of | at | to | in )?\\PC{0,12}") {
            let mut reader = OptionReader::new(Units::Metric);
            let outlets = reader.outlets(&[text.clone(), format!("x +1 m {text}")]);
            let goals = [text.clone(), format!("lowest {text}"), format!("run time {text}")];
            let _ = reader.goals(&goals, &outlets);
            let _ = (reader.tank(0, &text), reader.fill(&whole("--fill", &text)));
            for fault in reader.finish().err().unwrap_or_default() {
                prop_assert!(fault.span.end <= fault.source.text().len(), "{fault:?}");
                prop_assert!(fault.why.is_some() && fault.remedy.is_some(), "{fault:?}");
            }
        }
    }
}
