//! Flushing by the isolation valve, by partial fills at the breaker and by full fills, at one household.

use std::sync::Arc;

use tankhand::app::Library;
use tankhand::owner::{Household, Mistakes, Owner};
use tankhand::physics::plant::TankSite;
use tankhand::procedure::Procedure;
use tankhand::quantity::GALLON;

use crate::performance::{Performance, perform};
use crate::played::setting;

/// Sediment that is there at the beginning, m³.
const SEDIMENT: f64 = 2e-5;

/// A flush of a dirty tank; with its drain behind its own valve, or on the line, and a second tank or none.
fn flushed(procedure: &Arc<Procedure>, drain_at_tank: bool, several: bool) -> (Performance, Owner) {
    let mut home = Household::at_random(5);
    home.site.drain_at_tank = drain_at_tank;
    home.site.tanks[0].grit = SEDIMENT;
    if several {
        let twin = TankSite { grit: 0.0, ..home.site.tanks[0].clone() };
        home.plates.push(twin.volume);
        home.site.tanks.push(twin);
    }
    let setting = setting("flush", procedure, &home);
    let mut owner = Owner::new(home, Mistakes::default(), 5);
    let done =
        perform(&mut owner, setting, tankhand::clock::Moment::parse("2031-04-05T09:00:00-05:00").unwrap());
    (done.unwrap(), owner)
}

/// How often each step that lets water in was done, and the water that left by the drain, gal.
fn summed_up(of: &str, (done, owner): &(Performance, Owner)) -> String {
    let count = |step: &str| {
        done.entries.iter().filter(|entry| &*entry.step == step && entry.given.is_some()).count()
    };
    format!(
        "{of}: {} by the valve, {} by the breaker, {:.0} gal by the drain, {:.1} mL of sediment left, dangers {:?}\n",
        count("sip_look"),
        count("look"),
        owner.plant().totals().drained / GALLON,
        owner.plant().sediment(0) * 1e6,
        owner.dangers(),
    )
}

/// How much each fill takes along is a judgement of the model: half of it with a full one, in proportion with
/// less. So this compares water and walks, and does not settle which scours harder.
#[test]
fn the_ways_of_flushing_are_told_apart() {
    let procedure = Arc::new(Library::default().load("flush").unwrap());
    let cases = [("drain on the tee", false, false), ("spigot", true, false), ("another tank", true, true)];
    let lines: String = cases
        .iter()
        .map(|(of, at_tank, several)| summed_up(of, &flushed(&procedure, *at_tank, *several)))
        .collect();
    crate::golden::holds("tests/owner/washing.txt", &lines);
}
