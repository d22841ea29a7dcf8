//! What is to be done for a plan, in order.

use super::view::Forecasts;
use crate::physics::plan::Design;
use crate::procedure::{Hazard, hazard};
use crate::quantity::{Measure, PSI, Uncertain, Units, show_roundly};
use crate::report::Row;
use crate::words::list;

/// What a turn of the range nut gives, at least and at most (common practice); Pa.
const TURN: [f64; 2] = [2.0 * PSI, 3.0 * PSI];

impl Forecasts<'_> {
    /// The steps with their commands; none where nothing changes.
    pub(super) fn work(&self, unsettled: bool) -> Vec<Row> {
        let view = self.view;
        if !self.changes() {
            return Vec::new();
        }
        let first =
            unsettled.then(|| ("Settle what fails or can't be told above.".to_string(), String::new()));
        let steps = [first, self.tanks(), view.to_be_reset().map(|now| self.switch(now))];
        let rows = (1..).zip(steps.into_iter().flatten());
        let text = |what: String, how: String| if how.is_empty() { what } else { format!("{what}: {how}") };
        rows.map(|(number, (what, how))| Row::new([number.to_string(), text(what, how)])).collect()
    }

    /// What can hurt on the way.
    pub(super) fn dangers(&self) -> Vec<String> {
        let air = hazard("stored_air").filter(|_| self.changes());
        let mains = hazard("mains").filter(|_| self.view.to_be_reset().is_some());
        let whole = |hazard: &Hazard| {
            let (word, name) = (hazard.signal.word(), hazard.name.to_uppercase());
            format!("{word}  {name}: {} {} {}", hazard.does, hazard.avoid, hazard.stop)
        };
        air.map(|air| air.briefly(&|_| None, Units::default()).to_string())
            .into_iter()
            .chain(mains.map(whole))
            .collect()
    }

    fn tanks(&self) -> Option<(String, String)> {
        let view = self.view;
        let at = view.site.set_at.map_or_else(
            || "at the temperature they then have".to_string(),
            |kelvin| format!("at {}", view.brief(Measure::Temperature, kelvin)),
        );
        let targets = &self.planned.targets;
        let set = format!("every tank drained, set to {} {at}", view.set_to(&view.planned.tanks, targets));
        let dead = view.now.as_ref().is_some_and(|now| targets.iter().any(|pa| *pa > now.cut_in));
        let until = if dead { "; above today's cut-in, so set the switch the same day" } else { "" };
        let gone = view.removed_names();
        let procedure = match (view.added > 0, gone.is_empty()) {
            (true, true) => "add-tank",
            (true, false) => "new-tank",
            (false, _) => "precharge",
        };
        let out = if gone.is_empty() { String::new() } else { format!("{gone} taken out; ") };
        Some((format!("tankhand run {procedure}"), format!("{out}{set}{until}")))
    }

    fn switch(&self, now: &Design) -> (String, String) {
        let view = self.view;
        let rise = view.planned.cut_in - now.cut_in;
        let wider = (view.planned.cut_out - view.planned.cut_in) - (now.cut_out - now.cut_in);
        let way = if rise < 0.0 { "counterclockwise" } else { "clockwise" };
        let range = (rise != 0.0).then(|| {
            let [most, least] = TURN.map(|turn| quarters(rise.abs() / turn));
            let roundly = |pa| show_roundly(Measure::PressureChange, &Uncertain::exact(pa), view.units);
            let per = view.joined(&TURN.map(roundly), " to ");
            format!("range nut {way}, {least} to {most} turns ({per} a turn): both pressures move together")
        });
        let differential = (wider.abs() > 0.1 * PSI).then(|| {
            let way = if wider < 0.0 { "counterclockwise" } else { "clockwise" };
            format!("differential nut {way}: moves the cut-out alone")
        });
        let how = list([range, differential].into_iter().flatten(), "then");
        ("tankhand run set-switch".to_string(), how)
    }
}

/// Turns to the quarter.
fn quarters(turns: f64) -> String {
    let quarters = (4.0 * turns).round().max(1.0);
    crate::quantity::show_number(quarters / 4.0, 0.0)
}
