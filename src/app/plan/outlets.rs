//! Where water is wanted: `shower +14 ft by 50 ft of 3/4 in at 3 gal/min >= 40 psi`.

use super::amounts::{OptionReader, cannot_be, parted, split, whole};
use crate::physics::plan::PlanOutlet;
use crate::physics::{PlainPipe, SMOOTH_WALL};
use crate::quantity::{Family, Measure, Uncertain, read_with_limit};
use crate::source::Quoted;
use crate::system::sold_pipe;
use crate::words::list;

const FORM: &str = "write a name and its height over the switch, such as \"shower +14 ft\"; a pipe with its flow, and a \
least pressure may follow: \"shower +14 ft, 3/4 in, 50 ft, 3 gal/min >= 40 psi\"";

/// What may stand between a place and its pipe, and between what is told of the pipe.
const JOINTS: [&str; 4] = [", ", " by ", " of ", " at "];
/// No pipe of a house is as wide, and none that is worth telling as short; m.
const WIDEST: f64 = 0.12;

/// What was told of a pipe, in any order.
#[derive(Default)]
struct PipeFacts {
    length: Option<Uncertain>,
    bore: Option<Uncertain>,
    flow: Option<Uncertain>,
}

impl OptionReader {
    /// Every outlet; where no flow is told with a pipe, the demand flows in it.
    pub(super) fn outlets(&mut self, texts: &[String], demand: Option<&Uncertain>) -> Vec<PlanOutlet> {
        (1..)
            .zip(texts)
            .filter_map(|(number, text)| self.outlet(&whole(&format!("--serve {number}"), text), demand))
            .collect()
    }

    fn outlet(&mut self, option: &Quoted, demand: Option<&Uncertain>) -> Option<PlanOutlet> {
        let (rest, least) = parted(option, &[">=", "≥"]);
        let (place, pipe) = place_and_pipe(&rest);
        let Some(height) = height_at(&place.text) else {
            let fault = cannot_be(&place, "here a name and a height are needed");
            self.fault(fault.why("The pressure at a place follows from its height.").remedy(FORM));
            return None;
        };
        let above = self.amount(&place.part(height..place.text.len()), Measure::Length);
        let pipe = match pipe {
            Some(pipe) => Some(self.pipe(&pipe, demand)?),
            None => None,
        };
        let least = match least {
            Some(least) => Some(self.amount(&least, Measure::Pressure)?.value()),
            None => None,
        };
        Some(PlanOutlet { name: place.text[..height].trim().to_string(), above: above?, pipe, least })
    }

    /// The pipe, and the flow in it.
    fn pipe(
        &mut self,
        part: &Quoted,
        demand: Option<&Uncertain>,
    ) -> Option<(PlainPipe<Uncertain>, Uncertain)> {
        let mut facts = PipeFacts::default();
        let mut rest = Some(part.clone());
        while let Some(next) = rest {
            let (piece, more) = parted(&next, &JOINTS);
            self.pipe_fact(&piece, &mut facts)?;
            rest = more;
        }
        let flow = facts.flow.or_else(|| demand.cloned());
        let missing = [
            ("its length", facts.length.is_none()),
            ("its size or inner diameter", facts.bore.is_none()),
            ("the flow in it", flow.is_none()),
        ]
        .into_iter()
        .filter_map(|(what, is_missing)| is_missing.then_some(what));
        if let (Some(length), Some(diameter), Some(flow)) = (facts.length, facts.bore, flow) {
            return Some((PlainPipe { length, diameter, roughness: SMOOTH_WALL }, flow));
        }
        let fault = cannot_be(part, &format!("not told of the pipe: {}", list(missing, "and")));
        let why = "What a pipe takes of the pressure follows from length, inner diameter and flow. --demand gives the \
                   flow too.";
        self.fault(fault.why(why).remedy(FORM));
        None
    }

    /// One thing told of a pipe; by its unit and its size it is flow, diameter or length.
    fn pipe_fact(&mut self, piece: &Quoted, facts: &mut PipeFacts) -> Option<()> {
        let has_unit = |family: Family| {
            read_with_limit(&piece.text, family).is_ok_and(|(typed, _)| typed.unit.is_some())
        };
        let (place, amount) = if has_unit(Measure::Flow.family()) {
            (&mut facts.flow, self.amount(piece, Measure::Flow)?)
        } else if has_unit(Measure::Length.family()) {
            let length = self.amount(piece, Measure::Length)?;
            match length.value() < WIDEST {
                true => (&mut facts.bore, by_size(piece, length)),
                false => (&mut facts.length, length),
            }
        } else {
            let fault = cannot_be(piece, "here a length, a diameter or a flow with its unit is needed");
            self.fault(fault.why("By its unit it is told apart from the others.").remedy(FORM));
            return None;
        };
        if place.replace(amount).is_some() {
            let fault = cannot_be(piece, "this is told of the pipe a second time");
            self.fault(fault.why("Which of the two counts cannot be known.").remedy(FORM));
            return None;
        }
        Some(())
    }
}

/// The diameter: of a pipe sold by that size where it is written as sizes are, `3/4 in`, else as it is.
fn by_size(piece: &Quoted, diameter: Uncertain) -> Uncertain {
    let measured = piece.text.contains(['.', ',', '±', '+']);
    let sold = (!measured).then(|| sold_pipe(diameter.value())).flatten();
    sold.unwrap_or(diameter)
}

/// The place with its height, and what stands behind the first joint after them.
fn place_and_pipe(rest: &Quoted) -> (Quoted, Option<Quoted>) {
    let text = &rest.text;
    let joints = JOINTS.iter().flat_map(|joint| text.match_indices(joint));
    let first = joints.filter(|(at, _)| height_at(&text[..*at]).is_some()).min();
    split(rest, first.map(|(at, joint)| (at, joint.len())))
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
            let found = OptionReader::new(Units::Us).outlets(&[text.to_string()], None);
            let found = found.first().map(|outlet| (outlet.name.as_str(), outlet.above.value()));
            let same = |(a, b): ((&str, f64), (&str, f64))| a.0 == b.0 && (a.1 - b.1).abs() < 1e-9;
            assert!(found.is_some() == expected.is_some() && found.zip(expected).is_none_or(same), "{text}");
        }
    }

    proptest! {
        /// Any text is read, or refused with a place in it.
        #[test]
        fn no_text_brings_it_down(text in "[ a-z0-9@+.,≥>=°−-]{0,20}( by | of | at | to | in |, )?\\PC{0,12}") {
            let mut reader = OptionReader::new(Units::Metric);
            let outlets = reader.outlets(&[text.clone(), format!("x +1 m {text}")], None);
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
