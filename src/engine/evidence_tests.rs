//! What was observed in a run, and what a diagnosis goes by for it.

use std::fmt::Write as _;
use std::sync::Arc;

use super::evidence::Gatherer;
use super::observations::{Observation, ObservedValue, Origin};
use super::{EarlierAnswers, EarlierVisit, Run, Setting};
use crate::clock::Moment;
use crate::physics::diagnosis::Evidence;
use crate::procedure::{LoadContext, NoParts, Observed, Procedure, load, observable};
use crate::quantity::{PSI, Units, unit};
use crate::record::{Phase, Provenance};
use crate::source::{Fault, SourceText};
use crate::system::{self, System};

fn procedure(steps: &str) -> Procedure {
    let text = format!("format = 1\ntitle = \"t\"\npurpose = \"p\"\n{steps}");
    let around = LoadContext { texts: &NoParts, paths: &[] };
    let loaded = load(&SourceText::new("t.toml", text), &around);
    loaded.unwrap_or_else(|faults| panic!("{:?}", faults.iter().map(Fault::heading).collect::<Vec<_>>()))
}

fn now() -> Moment {
    Moment::parse("2031-04-05T09:00:00-05:00").unwrap()
}

fn run(steps: &str, system: System) -> Run {
    let setting = Setting {
        procedure: Arc::new(procedure(steps)),
        name: "t".to_string(),
        system: Arc::new(system),
        tank: 0,
        units: Units::Us,
        past: EarlierAnswers::default(),
    };
    Run::begin(setting, now()).0
}

const TOLD: &str = "[[step]]\nid = \"told\"\ntell = \"Nothing.\"\n";
const DRAINED: &str = "[[state]]\nid = \"drained\"\nmeans = \"No water is left\"\n";

/// An observation of a line such as `found precharge 38 psi @1 in:drained`: where it is from, what it is of,
/// the number and its unit or the word, the tank, a state that held. Its step is called by its place.
fn observation(at: usize, line: &str) -> Observation {
    let mut words = line.split_whitespace();
    let (origin, tells) = match words.next().unwrap() {
        "fact" => (Origin::Fact, None),
        "computed" => (Origin::Computed, Some(Phase::Found)),
        "before" => (Origin::Step, Some(Phase::Before)),
        "found" => (Origin::Step, Some(Phase::Found)),
        "done" => (Origin::Step, Some(Phase::Done)),
        "left" => (Origin::Step, Some(Phase::Left)),
        "untold" => (Origin::Step, None),
        other => panic!("{other}"),
    };
    let known = observable(words.next().unwrap()).unwrap();
    let mut rest: Vec<&str> = words.collect();
    let mut take = |mark: &str| {
        let place = rest.iter().position(|word| word.starts_with(mark))?;
        Some(rest.remove(place).trim_start_matches(mark))
    };
    let (tank, state, assumed) = (take("@"), take("in:"), take("assumed"));
    let seen = match (known.observed, rest.as_slice()) {
        (Observed::Number(measure), [number]) => ObservedValue::Number(measure, number.parse().unwrap()),
        (Observed::Number(measure), [number, its]) => {
            ObservedValue::Number(measure, unit(its).unwrap().to_si(measure, number.parse().unwrap()))
        }
        (_, [word]) => ObservedValue::Word(Arc::from(*word)),
        (_, rest) => panic!("{line}: {rest:?}"),
    };
    Observation {
        observable: known.name,
        step: Arc::from(format!("{}{at}", known.name)),
        origin,
        tells,
        tank: tank.map(|tank| tank.parse().unwrap()),
        seen,
        provenance: if assumed.is_some() { Provenance::Assumed } else { Provenance::Measured },
        states: state.into_iter().map(Arc::from).collect(),
    }
}

fn observe(run: &mut Run, lines: &str) {
    let lines = lines.split(',').map(str::trim).filter(|line| !line.is_empty());
    run.state.observations.extend(lines.enumerate().map(|(at, line)| observation(at, line)));
}

/// What there is to go by, in a line; a site as nobody knows better is left out.
fn told(evidence: &Evidence) -> String {
    let mut line = String::new();
    let figures = |all: &[f64]| all.iter().map(|it| format!(" {it:.4}")).collect::<String>();
    let mut add = |name: &str, all: &[f64]| {
        if !all.is_empty() {
            write!(line, "{name}{}; ", figures(all)).unwrap();
        }
    };
    let site = evidence.site;
    let whole = [site.label_cut_in, site.label_cut_out, site.atmosphere, site.head, site.gap];
    add("volume", site.volume.as_slice());
    if figures(&whole) != " 40.0000 60.0000 14.6959 0.0000 2.0000" {
        add("site", &whole);
    }
    add("starts", &evidence.starts);
    add("before", &evidence.starts_before);
    add("elsewhere", evidence.cut_in_elsewhere.as_slice());
    add("cut-out", evidence.cut_out.as_slice());
    add("never stops", evidence.never_stops.as_slice());
    add("zero", evidence.zero.as_slice());
    add("second", evidence.second_gauge.as_slice());
    add("precharge", &evidence.precharge);
    add("drawdown", evidence.drawdown.as_slice());
    add("run time", evidence.run_time.as_slice());
    add("weight", evidence.weight.as_ref().map_or(&[], |both| both.as_slice()));
    if let Some(earlier) = evidence.earlier {
        assert!(!earlier.same_gauge, "nobody says so");
        add("earlier", &[earlier.precharge, earlier.years]);
    }
    for (name, hold) in [("shut", evidence.hold_shut), ("open", evidence.hold_open)] {
        if let Some(hold) = hold {
            add(name, &[hold.loss, hold.minutes]);
        }
    }
    evidence.history.iter().for_each(|it| add("stretch", &[it.lost, it.u, it.days]));
    let whole = format!("{evidence:?}");
    let words = whole.split_once("words: {").unwrap().1.trim_end_matches([' ', '}']);
    line + words
}

/// Holds lines against what they say: what was observed, what there is to go by, the steps it came from. How
/// things are left is diagnosed where a line begins so.
#[track_caller]
fn holds(states: &str, rows: &[&str]) {
    hold_at(&format!("{TOLD}{states}"), &System::default(), rows);
}

/// The same in a run of these steps at an installation.
#[track_caller]
fn hold_at(steps: &str, system: &System, rows: &[&str]) {
    let mut wrong = String::new();
    for row in rows {
        let (seen, expected) = row.split_once("=>").unwrap();
        let (phase, seen) =
            seen.strip_prefix("left: ").map_or((Phase::Found, seen), |seen| (Phase::Left, seen));
        let mut run = run(steps, system.clone());
        observe(&mut run, seen);
        let several = run.several_tanks();
        let mut gatherer = Gatherer { run: &run, phase, several, steps: Vec::new() };
        let mut it = told(&gatherer.evidence(now())).trim_end_matches("; ").to_string();
        let from = gatherer.steps.iter().map(|(item, step)| format!("{item:?} {step}")).collect::<Vec<_>>();
        if !from.is_empty() {
            it = format!("{it} | {}", from.join(", "));
        }
        if it != expected.trim() {
            writeln!(wrong, "{seen}=> {it}").unwrap();
        }
    }
    assert!(wrong.is_empty(), "\n{wrong}");
}

#[test]
fn readings_of_the_stage_and_of_this_tank_count() {
    holds(
        "",
        &[
            "=>",
            "found cut_in 39 psi, found cut_in 41 psi @1, left cut_in 44 psi, found cut_in 40.5 psi => site 39.7500 59.7500 14.6959 0.0000 2.0000; starts 39.0000 40.5000 | Starts cut_in0, Starts cut_in3",
            "left: found cut_in 39 psi, left cut_in 44 psi, done cut_in 45 psi, untold cut_in 46 psi => site 44.0000 64.0000 14.6959 0.0000 2.0000; starts 44.0000; before 39.0000 | Starts cut_in1",
            "left: found cut_in 39 psi @1, found cut_in 40 psi, found needle_fall evenly, left cut_in 40 psi => starts 40.0000; before 40.0000 | Starts cut_in3",
            "left: found cut_in 40 psi, found needle_fall dropped, left cut_in 40 psi => starts 40.0000 | Starts cut_in2",
            "left: found needle_fall dropped, found cut_in 40 psi, left cut_in 40 psi => starts 40.0000 | Starts cut_in2",
            "left: found cut_in 40 psi, done range_turns 1, left cut_in 40 psi => starts 40.0000 | Starts cut_in2",
            "found cut_out 59 psi, found cut_out 61 psi, left cut_out 63 psi, computed cut_out 66 psi => cut-out 61.0000 | CutOut cut_out1",
            "before resting_gauge 3 psi, untold resting_gauge 1 psi => zero 1.0000 | Zero resting_gauge1",
            "left: found resting_gauge 1 psi, found resting_gauge 0.5 psi => zero 0.5000 | Zero resting_gauge1",
            "found precharge 30 psi, found precharge 31 psi, computed precharge 35 psi, left precharge 38 psi => precharge 30.0000 31.0000 | Precharge precharge0, Precharge precharge1",
            "left: found precharge 30 psi, left precharge 38 psi, before precharge 36 psi => precharge 38.0000 | Precharge precharge1",
            "found run_time 70 s, found drawdown 8 gal, fact plate_volume 44 gal => volume 44.0000; drawdown 8.0000; run time 70.0000 | Drawdown drawdown1, RunTime run_time0",
            "found run_time 70 s, found drawdown 8 gal, fact plate_volume 44 gal, found other_tanks yes => OtherTanks: 1 | OtherTanks other_tanks3",
            "found run_time 70 s, found drawdown 8 gal, found other_tanks no => drawdown 8.0000; run time 70.0000; OtherTanks: 0 | Drawdown drawdown1, RunTime run_time0, OtherTanks other_tanks2",
            "fact pump_kind valve, found run_time 70 s, found drawdown 8 gal => drawdown 8.0000 | Drawdown drawdown2",
            "fact pump_kind drive, found run_time 70 s =>",
            "fact pump_kind switch, found run_time 70 s => run time 70.0000 | RunTime run_time1",
            "fact weight 150 lb, found plate_weight 90 lb => weight 150.0000 90.0000 | Weighed weight0",
            "found weight 150 lb =>",
        ],
    );
}

#[test]
fn the_second_gauge_is_held_against_the_pressure_read_before_it() {
    holds(
        "",
        &[
            "found line_pressure 50 psi, found second_gauge 52 psi, found line_pressure 60 psi => second -2.0000 | SecondGauge second_gauge1",
            "found line_pressure 50 psi, found cut_out 61 psi, found second_gauge 58 psi => cut-out 61.0000; second 3.0000 | CutOut cut_out1, SecondGauge second_gauge2",
            "fact cut_out 60 psi, found second_gauge 58 psi =>",
            "found cut_in 40 psi, found second_gauge 58 psi => starts 40.0000 | Starts cut_in0",
        ],
    );
}

/// Where all tanks are gone through, the line is all of them: their volumes together, and the mean of their
/// precharges by volume, (44 · 30 + 20 · 34)/64 = 31.25 psi.
#[test]
fn tanks_that_are_gone_through_are_taken_as_one() {
    const ROUND: &str = "[[step]]\neach = \"tank\"\n[[step.step]]\ntell = \"Nothing.\"\n";
    let tanks = |volumes: &[u32]| {
        let tank = |volume| format!("[[tank]]\nid = \"t{volume}\"\nvolume = \"{volume} gal\"\n");
        let text = volumes.iter().map(tank).fold("format = 1\n".to_string(), |all, tank| all + &tank);
        system::load(&SourceText::new("system.toml", text)).unwrap()
    };
    hold_at(
        ROUND,
        &tanks(&[44, 20]),
        &[
            "found precharge 30 psi @0, left precharge 38 psi @0, found precharge 34 psi @1 => volume 64.0000; precharge 31.2500",
            "found precharge 30 psi, found precharge 34 psi @1 => volume 64.0000; precharge 30.0000 31.2500 | Precharge precharge0",
            "found precharge 30 psi @0, fact plate_volume 50 gal @1 => volume 94.0000",
            "found run_time 70 s, found drawdown 8 gal in:others_open => volume 64.0000; drawdown 8.0000; Handle: 0 | Drawdown drawdown1, Handle drawdown1",
        ],
    );
    let seen = "found precharge 30 psi, found run_time 70 s, found drawdown 8 gal";
    let alone = "precharge 30.0000; drawdown 8.0000; run time 70.0000 | Precharge precharge0, Drawdown drawdown2, RunTime run_time1";
    let row = format!("{seen} => {alone}");
    // One tank on file, and a procedure that is about one of two.
    hold_at(ROUND, &tanks(&[44]), &[&row]);
    hold_at(TOLD, &tanks(&[44, 20]), &[&row]);
}

#[test]
fn the_site_is_as_it_is_known() {
    holds(
        "",
        &[
            "fact cut_in 30 psi => site 30.0000 50.0000 14.6959 0.0000 2.0000",
            "fact cut_in 30 psi, fact cut_out 48 psi => site 30.0000 48.0000 14.6959 0.0000 2.0000",
            "fact cut_in 30 psi assumed, fact cut_out 48 psi assumed =>",
            "found cut_in 33 psi, found cut_in 34 psi => site 33.5000 53.5000 14.6959 0.0000 2.0000; starts 33.0000 34.0000 | Starts cut_in0, Starts cut_in1",
            "fact cut_out 70 psi, found cut_in 33 psi => site 33.0000 70.0000 14.6959 0.0000 2.0000; starts 33.0000 | Starts cut_in1",
            "left: fact cut_in 30 psi, fact cut_out 50 psi, left cut_in 38 psi, done range_turns 2 => site 38.0000 58.0000 14.6959 0.0000 2.0000; starts 38.0000 | Starts cut_in2",
            "left: fact cut_in 30 psi, left cut_in 38 psi, done differential_turns -1 => site 38.0000 58.0000 14.6959 0.0000 2.0000; starts 38.0000 | Starts cut_in1",
            "left: fact cut_in 30 psi, left cut_in 38 psi, done range_turns 0 => site 30.0000 50.0000 14.6959 0.0000 2.0000; starts 38.0000 | Starts cut_in1",
            "fact cut_in 30 psi, found cut_in 38 psi, done range_turns 2 => site 30.0000 50.0000 14.6959 0.0000 2.0000; starts 38.0000 | Starts cut_in1",
            "left: fact cut_in 30 psi, left cut_in 38 psi, computed range_turns 2 => site 30.0000 50.0000 14.6959 0.0000 2.0000; starts 38.0000 | Starts cut_in1",
            "fact elevation 1500 m, fact tank_height 3 m => site 40.0000 60.0000 12.2643 4.2657 2.0000",
            "fact dead_gap 4 psi => site 40.0000 60.0000 14.6959 0.0000 4.0000",
            "fact dead_gap 4 psi, computed target_precharge 35 psi => site 40.0000 60.0000 14.6959 0.0000 4.0000",
            "found cut_in 41 psi, found cut_in 40 psi, computed target_precharge 35 psi, fact tank_height 1 m => site 40.5000 60.5000 14.6959 1.4219 3.5781; starts 41.0000 40.0000 | Starts cut_in0, Starts cut_in1",
            "found cut_in 40 psi, computed target_precharge 45 psi => site 40.0000 60.0000 14.6959 0.0000 0.0000; starts 40.0000 | Starts cut_in0",
            "found cut_in 40 psi, computed target_precharge 10 psi => site 40.0000 60.0000 14.6959 0.0000 20.0000; starts 40.0000 | Starts cut_in0",
            "fact plate_volume 20 gal, fact plate_volume 44 gal, fact plate_volume 50 gal @1 => volume 44.0000",
        ],
    );
}

/// By Boyle's law a tank that cooled from 60 to 58 psi gave 1/(40 + 14.696) - 1/(58 + 14.696) of what it gives
/// from 60 psi, 1/(40 + 14.696) - 1/(60 + 14.696): the first is 0.92 of the second.
#[test]
fn water_caught_counts_once_the_air_has_rested_and_as_from_cut_out() {
    holds(
        "",
        &[
            "found rest_time 300 s, found drawdown 8 gal => drawdown 8.0000 | Drawdown drawdown1",
            "found rest_time 240 s, found drawdown 8 gal => drawdown 8.0000 | Drawdown drawdown1",
            "found rest_time 239 s, found drawdown 8 gal =>",
            "found rest_time 60 s, found jar clear, found drawdown 8 gal => drawdown 8.0000 | Drawdown drawdown2",
            "found cut_in 40 psi, found cut_out 60 psi, found rested_pressure 58 psi, found drawdown 8 gal => starts 40.0000; cut-out 60.0000; drawdown 8.6509 | Starts cut_in0, CutOut cut_out1, Drawdown drawdown3",
            "found cut_in 40 psi, found cut_out 60 psi, found rested_pressure 60 psi, found drawdown 8 gal => starts 40.0000; cut-out 60.0000; drawdown 8.0000 | Starts cut_in0, CutOut cut_out1, Drawdown drawdown3",
            "found cut_in 40 psi, found cut_out 60 psi, found rested_pressure 62 psi, found drawdown 8 gal => starts 40.0000; cut-out 60.0000; drawdown 8.0000 | Starts cut_in0, CutOut cut_out1, Drawdown drawdown3",
            "found cut_in 40 psi, found cut_out 60 psi, found rested_pressure 50 psi, found drawdown 8 gal => starts 40.0000; cut-out 60.0000; drawdown 13.8580 | Starts cut_in0, CutOut cut_out1, Drawdown drawdown3",
            "found cut_in 40 psi, found cut_out 60 psi, found rested_pressure 42 psi, found drawdown 8 gal => starts 40.0000; cut-out 60.0000; drawdown 8.0000 | Starts cut_in0, CutOut cut_out1, Drawdown drawdown3",
            "found cut_in 60 psi, found cut_out 40 psi, found rested_pressure 58 psi, found drawdown 8 gal => site 60.0000 80.0000 14.6959 0.0000 2.0000; starts 60.0000; cut-out 40.0000; drawdown 8.0000 | Starts cut_in0, CutOut cut_out1, Drawdown drawdown3",
            "found cut_in 40 psi, found rested_pressure 58 psi, found drawdown 8 gal => starts 40.0000; drawdown 8.0000 | Starts cut_in0, Drawdown drawdown2",
            "found cut_in 40 psi, found cut_out 60 psi, found drawdown 8 gal, found rested_pressure 58 psi => starts 40.0000; cut-out 60.0000; drawdown 8.0000 | Starts cut_in0, CutOut cut_out1, Drawdown drawdown2",
        ],
    );
}

#[test]
fn words_count_where_they_can_be_believed() {
    holds(
        "",
        &[
            "found pin_test water => Pin: 2 | Pin pin_test0",
            "found pin_test nothing => precharge 0.0000; Pin: 1 | Pin pin_test0",
            "found pin_test nothing, found precharge 2 psi => precharge 2.0000; Pin: 1 | Precharge precharge1, Pin pin_test0",
            "left: found pin_test water, left pin_test air => Pin: 2 | Pin pin_test0",
            "left: found pin_test water, done tank_replaced done, left pin_test air => Pin: 0 | Pin pin_test0, Pin pin_test2",
            "found needle_back climbs, left needle_back stays => Climbs: 1 | Climbs needle_back0",
            "found valve_position shut, found tank_sound dull, found tank_sound hollow @1 => Sound: 1 | Sound tank_sound1",
            "found valve_position open, found bubbles valve, found added_air leaves => AddedAir: 1, Handle: 0, Soap: 1 | Handle valve_position0, Soap bubbles1, AddedAir added_air2",
            "found house_draw alone, found house_draw drips => Alone: 1, Look: 0 | Alone house_draw0, Look house_draw1",
            "found needle_fall dropped, found switch_sound chatter, left needle_fall evenly => Needle: 1, SwitchSound: 1 | Needle needle_fall0, SwitchSound switch_sound1",
            "left: found needle_fall dropped, found part_order between, left switch_sound once => SwitchSound: 0, Order: 1 | Order part_order1, SwitchSound switch_sound2",
            "fact part_order right, before tank_sound dull, untold needle_fall dropped => Order: 0 | Order part_order0",
        ],
    );
    holds(
        DRAINED,
        &[
            "found pin_test nothing =>",
            "found pin_test nothing in:drained => precharge 0.0000; Pin: 1 | Pin pin_test0",
            "found pin_test water => Pin: 2 | Pin pin_test0",
        ],
    );
}

#[test]
fn what_an_earlier_visit_left_is_told_for_the_warmth_of_this_one() {
    holds(
        "",
        &[
            "before precharge 38 psi, before months_since 12 => earlier 38.0000 1.0000 | Earlier precharge0",
            "before precharge 38 psi, before months_since 6, before tank_temperature 50 degF => earlier 38.0000 0.5000 | Earlier precharge0",
            "before precharge 38 psi, before months_since 6, before tank_temperature 50 degF, found tank_temperature 70 degF => earlier 40.0678 0.5000 | Earlier precharge0",
            "before precharge 38 psi, before months_since 6, before tank_temperature 50 degF, left tank_temperature 70 degF => earlier 38.0000 0.5000 | Earlier precharge0",
            "before precharge 38 psi, before months_since 6, before tank_temperature 50 degF, found tank_temperature 70 degF, fact elevation 1500 m => site 40.0000 60.0000 12.2643 0.0000 2.0000; earlier 39.9724 0.5000 | Earlier precharge0",
            "before precharge 38 psi =>",
            "found precharge 38 psi, before months_since 12 => precharge 38.0000 | Precharge precharge0",
        ],
    );
}

#[test]
fn a_hold_is_read_from_the_pressures_beside_the_rest() {
    holds(
        "",
        &[
            "found line_pressure 50 psi, found rest_time 15 min, found line_pressure 47.5 psi => open 2.5000 15.0000 | HoldOpen line_pressure0, HoldOpen line_pressure2",
            "found line_pressure 50 psi, found rest_time 15 min, found line_pressure 47.5 psi in:house_shut => shut 2.5000 15.0000 | HoldShut line_pressure0, HoldShut line_pressure2",
            "fact house_valve no, found line_pressure 50 psi, found rest_time 15 min, found line_pressure 47.5 psi in:house_shut => open 2.5000 15.0000 | HoldOpen line_pressure1, HoldOpen line_pressure3",
            "found line_pressure 50 psi, found rest_time 14 min, found line_pressure 50 psi => open 0.0000 14.0000 | HoldOpen line_pressure0, HoldOpen line_pressure2",
            "found line_pressure 50 psi, found rest_time 13 min, found line_pressure 49.5 psi =>",
            "found line_pressure 50 psi, found rest_time 5 min, found line_pressure 48.9 psi => open 1.1000 5.0000 | HoldOpen line_pressure0, HoldOpen line_pressure2",
            "found line_pressure 50 psi, found rest_time 5 min, found line_pressure 49.1 psi =>",
            "found line_pressure 50 psi, found rest_time 5 min, found line_pressure 49 psi =>",
            "found line_pressure 48 psi, found rest_time 5 min, found line_pressure 47 psi =>",
            "found line_pressure 50 psi, found rest_time 4 min, found line_pressure 40 psi =>",
            "found line_pressure 50 psi, found rest_time 15 min, found drawdown 8 gal, found line_pressure 47 psi => drawdown 8.0000 | Drawdown drawdown2",
            "found cut_out 50 psi, found rest_time 15 min, found line_pressure 47 psi => cut-out 50.0000 | CutOut cut_out0",
            "found line_pressure 50 psi, found tank_temperature 60 degF, found rest_time 15 min, found line_pressure 47.5 psi, found tank_temperature 50 degF => open 1.2551 15.0000 | HoldOpen line_pressure0, HoldOpen line_pressure3",
            "found line_pressure 50 psi, found tank_temperature 60 degF, found rest_time 15 min, found line_pressure 47.5 psi => open 2.5000 15.0000 | HoldOpen line_pressure0, HoldOpen line_pressure3",
            "found line_pressure 50 psi, found tank_temperature 60 degF, found rest_time 15 min, found line_pressure 47.5 psi, found tank_temperature 212 degF => open 2.5000 15.0000 | HoldOpen line_pressure0, HoldOpen line_pressure3",
            "fact elevation 1500 m, found line_pressure 50 psi, found tank_temperature 60 degF, found rest_time 15 min, found line_pressure 47.5 psi, found tank_temperature 50 degF => site 40.0000 60.0000 12.2643 0.0000 2.0000; open 1.3018 15.0000 | HoldOpen line_pressure1, HoldOpen line_pressure4",
            "found line_pressure 50 psi, found rest_time 15 min, found line_pressure 49 psi in:house_shut, found line_pressure 48 psi, found rest_time 20 min, found line_pressure 44 psi => shut 1.0000 15.0000; open 4.0000 20.0000 | HoldShut line_pressure0, HoldShut line_pressure2, HoldOpen line_pressure3, HoldOpen line_pressure5",
        ],
    );
}

/// What records of earlier visits tell: day, found, left, temperature; psi and K.
type Visit = (&'static str, Option<f64>, Option<f64>, Option<f64>);

#[test]
fn the_precharge_is_followed_from_visit_to_visit() {
    const WARM: Option<f64> = Some(290.0);
    const OLD: Visit = ("2029-04-05", Some(38.0), Some(40.0), WARM);
    const NEWER: Visit = ("2030-04-05", Some(36.0), None, Some(280.0));
    const NOTHING: Visit = ("2030-09-01", None, None, None);
    const TO_COME: Visit = ("2031-04-06", Some(30.0), None, None);
    let read =
        "found precharge 33 psi, found precharge 34 psi, found precharge 50 psi @1, left precharge 38 psi";
    let warm = format!("{read}, found tank_temperature 20 degC, found tank_temperature 290 K");
    let rows: [(&[Visit], &str, &str); 7] = [
        (&[], read, "precharge 33.0000 34.0000"),
        (&[OLD], read, "precharge 33.0000 34.0000; earlier 40.0000 1.9987; stretch 6.5000 1.1000 730.0000"),
        (&[OLD], &warm, "precharge 33.0000 34.0000; earlier 40.0000 1.9987; stretch 6.5000 1.1000 730.0000"),
        (&[OLD], "left precharge 38 psi", ""),
        (
            &[NEWER, OLD, TO_COME],
            read,
            "precharge 33.0000 34.0000; earlier 36.0000 0.9993; stretch 2.1139 1.1000 365.0000; stretch 2.5000 1.1000 365.0000",
        ),
        (
            &[OLD, NEWER],
            &warm,
            "precharge 33.0000 34.0000; earlier 37.8106 0.9993; stretch 2.1139 1.1000 365.0000; stretch 4.3106 1.1000 365.0000",
        ),
        (&[OLD, NOTHING], read, "precharge 33.0000 34.0000"),
    ];
    let mut wrong = String::new();
    for (visits, seen, expected) in rows {
        let mut run = run(TOLD, System::default());
        for (day, found, left, temperature) in visits {
            let psi = |it: Option<f64>| it.map(|it| it * PSI);
            run.setting.past.note_visit(
                None,
                EarlierVisit {
                    at: Moment::parse(&format!("{day}T09:00:00-05:00")).unwrap(),
                    found: psi(*found),
                    left: psi(*left),
                    temperature: *temperature,
                    new_tank: false,
                },
            );
        }
        observe(&mut run, seen);
        let mut gatherer = Gatherer { run: &run, phase: Phase::Found, several: false, steps: Vec::new() };
        let it = told(&gatherer.evidence(now()));
        let it = it.trim_end_matches("; ");
        wrong += &if it == expected { String::new() } else { format!("{visits:?} {seen}: {it:?}\n") };
    }
    assert_eq!(wrong, "");
}

#[test]
fn gauges_are_as_good_as_they_are_said_to_be() {
    let own = "format = 1\n[[gauge]]\nid = \"line\"\nwithin = \"1 psi\"\ndivision = \"0.5 psi\"\n";
    let errors = |text: &str| {
        let system = match text {
            "" => System::default(),
            text => system::load(&SourceText::new("system.toml", text.to_string()))
                .unwrap_or_else(|faults| panic!("{}", faults[0].heading())),
        };
        let run = run(TOLD, system);
        let mut gatherer = Gatherer { run: &run, phase: Phase::Found, several: false, steps: Vec::new() };
        let it = gatherer.evidence(now()).errors;
        [it.line, it.line_mark, it.air, it.air_mark, it.bucket].map(|it| format!("{it:.4}"))
    };
    // Limits of error taken as even: a third of their square is the variance.
    assert_eq!(errors(""), ["1.1547", "1.0000", "0.5774", "0.5000", "0.0173"]);
    assert_eq!(errors(own), ["0.5774", "0.5000", "0.5774", "0.5000", "0.0173"]);
    // A share, and a grade that is better in the middle of the dial, count where a household reads: the line gauge at
    // 50 psi, the air gauge at 35 psi. Grade B: 2 % of the span in its middle half, 3 % elsewhere (ASME B40.100; from memory).
    let both = |[line, air]: [&str; 2]| {
        let gauge =
            |id: &str, good: &str| format!("[[gauge]]\nid = \"{id}\"\n{good}\ndivision = \"0.5 psi\"\n");
        errors(&format!("format = 1\n{}{}", gauge("line", line), gauge("air", air)))
    };
    let graded = |span: u32| format!("grade = \"B\"\nspan = \"{span} psi\"");
    let shares = both(["within = \"3 %\"", "within = \"2 %\""]);
    assert_eq!(shares, ["0.8660", "0.5000", "0.4041", "0.5000", "0.0173"]);
    assert_eq!(both([&graded(100), &graded(60)]), ["1.1547", "0.5000", "0.6928", "0.5000", "0.0173"]);
    assert_eq!(both([&graded(60), &graded(200)]), ["1.0392", "0.5000", "3.4641", "0.5000", "0.0173"]);
}

/// What the steps before a diagnosis try.
#[test]
fn a_procedure_sets_out_to_test_what_its_steps_are_of() {
    use Phase::{Found, Left};
    const STEPS: &str = r#"
[[state]]
id = "house_shut"
means = "The house is shut off"
[[state]]
id = "pump_off"
means = "The pump is off"
[[state]]
id = "drain_shut"
means = "The drain is shut"
[[fact]]
id = "order"
observes = "part_order"
kind = ["right", "between"]
ask = "?"
[[fact]]
id = "label"
observes = "cut_in"
kind = "pressure"
ask = "?"
[[fact]]
id = "others"
observes = "other_tanks"
kind = "yes/no"
ask = "?"
[[step]]
id = "shut"
do = "Shut all."
see = "All is shut."
brings = ["house_shut", "drain_shut"]
[[step]]
id = "breaker"
do = "Turn the breaker off."
see = "It is off."
status = "off"
brings = ["pump_off"]
[[step]]
id = "starts"
observes = "cut_in"
tells = "found"
read = "pressure"
gauge = "line"
ask = "?"
[[step]]
id = "stops"
observes = "cut_out"
tells = "left"
read = "pressure"
gauge = "line"
ask = "?"
[[step]]
id = "runs"
observes = "run_time"
tells = "found"
read = "duration"
gauge = "watch"
ask = "?"
[[step]]
id = "water"
observes = "drawdown"
tells = "found"
read = "volume"
gauge = "bucket"
ask = "?"
[[step]]
id = "last"
observes = "precharge"
tells = "before"
read = "pressure"
gauge = "air"
ask = "?"
without = { need = "drained", because = "This sample has no drain." }
[[step]]
id = "sound"
observes = "tank_sound"
tells = "found"
choose = ["loud", "low"]
ask = "?"
[[step]]
id = "needle"
observes = "needle_fall"
tells = "done"
choose = ["evenly", "dropped"]
ask = "?"
[[step]]
id = "bubbles"
observes = "bubbles"
tells = "found"
choose = ["yes", "no"]
ask = "?"
[[step]]
id = "begins"
observes = "line_pressure"
tells = "found"
read = "pressure"
gauge = "line"
ask = "?"
needs = ["house_shut", "pump_off", "drain_shut"]
[[step]]
id = "rests"
observes = "rest_time"
wait = "15 min"
ask = "Wait."
[[step]]
id = "open"
do = "Open."
see = "It is open."
undoes = ["house_shut"]
[[step]]
id = "ends"
observes = "line_pressure"
tells = "found"
read = "pressure"
gauge = "line"
ask = "?"
needs = ["pump_off", "drain_shut"]
[[step]]
id = "any"
observes = "line_pressure"
tells = "found"
read = "pressure"
gauge = "line"
ask = "?"
needs = ["pump_off"]
[[step]]
id = "what"
diagnose = "found"
[[step]]
id = "zero"
observes = "resting_gauge"
tells = "found"
read = "pressure"
gauge = "line"
ask = "?"
"#;
    let rows = [
        (Found, "", "Order OtherTanks Starts RunTime Drawdown Earlier Soap HoldShut HoldOpen"),
        (Left, "", "Order OtherTanks CutOut Earlier Soap HoldShut HoldOpen"),
        (Found, "fact other_tanks yes", "Order Starts Earlier Soap HoldShut HoldOpen"),
        (
            Found,
            "fact other_tanks no, fact pump_kind drive",
            "Order OtherTanks Starts Drawdown Earlier Soap HoldShut HoldOpen",
        ),
        (
            Found,
            "fact house_valve no",
            "Order OtherTanks Starts RunTime Drawdown Earlier Soap HoldOpen HoldOpen",
        ),
        (
            Found,
            "fact house_valve no, fact house_valve yes",
            "Order OtherTanks Starts RunTime Drawdown Earlier Soap HoldShut HoldOpen",
        ),
    ];
    let mut wrong = String::new();
    for (phase, seen, expected) in rows {
        let mut run = run(STEPS, System::default());
        observe(&mut run, seen);
        let step = run.setting.procedure.step("what").unwrap().clone();
        let items: Vec<String> = run.set_out(&step, phase).iter().map(|item| format!("{item:?}")).collect();
        let items = items.join(" ");
        wrong += &if items == expected { String::new() } else { format!("{phase:?} {seen}: {items:?}\n") };
    }
    assert_eq!(wrong, "");
}
