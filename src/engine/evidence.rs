//! What a run has to go by in a diagnosis: answers by what they are of, the stage of the work and the
//! states that held, never by the names of steps.

use std::sync::Arc;

use super::evidence_items::{WORDS, is_of_stage};
use super::observations::{Observation, Origin};
use super::run::Run;
use crate::clock::Moment;
use crate::physics::diagnosis::{Claims, EarlierPrecharge, Evidence, GaugeErrors, Group, Item, WellSite};
use crate::physics::{atmosphere, head, precharge_at};
use crate::procedure::Step;
use crate::quantity::{GALLON, PSI, STANDARD_ATMOSPHERE};
use crate::record::{Phase, Provenance};

/// What a diagnosis goes by.
pub(super) struct RunEvidence {
    /// How things were found, or how they are left.
    pub phase: Phase,
    pub evidence: Evidence,
    /// What the procedure set out to test.
    pub claims: Claims,
    /// The steps that told of each thing.
    pub steps: Vec<(Item, Arc<str>)>,
}

/// Gathers.
pub(super) struct Gatherer<'r> {
    pub run: &'r Run,
    pub phase: Phase,
    /// Other tanks work beside this one, so that water and run time are not its own.
    pub several: bool,
    pub steps: Vec<(Item, Arc<str>)>,
}

impl Run {
    /// What there is to go by at a step, about how things were found or are left.
    pub(super) fn gathered(&self, step: &Step, phase: Phase, now: Moment) -> RunEvidence {
        let mut gatherer = Gatherer { run: self, phase, several: self.several_tanks(), steps: Vec::new() };
        let mut evidence = gatherer.evidence(now);
        let mut items = self.set_out(step, phase);
        if self.is_new_tank() {
            // It was not on the line when the pump was watched, and its precharge is as it was made.
            let of_line = |item: &Item| item.is_of_line() || matches!(item, Item::Zero | Item::SecondGauge);
            items.retain(|item| !of_line(item));
            let of_line = Item::ALL.into_iter().filter(of_line);
            evidence = of_line.fold(evidence, |rest, item| rest.without(item));
        }
        // What an earlier visit left cannot be asked of a tank that had none.
        items.retain(|item| *item != Item::Earlier || evidence.earlier.is_some());
        let watched =
            self.state.observations.iter().any(|seen| seen.observable == "cut_in" && self.was_watched(seen));
        let claims = Claims::by(&items);
        // By its label nothing is said of a switch.
        let claims = if watched { claims } else { claims.without(Group::Switch) };
        let mut steps = gatherer.steps;
        let observed = &self.state.observations;
        steps.sort_by_key(|(_, step)| observed.iter().position(|seen| seen.step == *step));
        RunEvidence { phase, evidence, claims, steps }
    }
}

impl Gatherer<'_> {
    /// What the observations come to.
    pub(super) fn evidence(&mut self, now: Moment) -> Evidence {
        let starts = self.starts();
        let mut evidence = Evidence::of(self.site(&starts), self.errors());
        evidence.starts = starts;
        evidence.starts_before = self.starts_before();
        evidence.cut_out = self.newest("cut_out", Item::CutOut);
        evidence.zero = self.newest("resting_gauge", Item::Zero);
        evidence.second_gauge = self.second_gauge();
        evidence.precharge = self.all("precharge", Item::Precharge);
        evidence.tanks = self.tanks_as_one();
        if evidence.tanks > 1 {
            evidence.precharge.extend(self.mean_precharge());
        }
        if !self.several || evidence.tanks > 1 {
            let drawdown = self.drawdown();
            evidence.drawdown = drawdown.map(|(gallons, _)| gallons);
            evidence.errors.bucket *= drawdown.map_or(1.0, |(_, factor)| factor);
        }
        if !self.several {
            evidence.run_time = self.run_time();
        }
        evidence.weight = self.weight();
        self.words(&mut evidence);
        if evidence.precharge.is_empty() && evidence.says_nothing_came() {
            evidence.precharge.push(0.0);
        }
        evidence.history = self.run.history(now);
        evidence.earlier = self.earlier().or_else(|| self.run.newest_visit(now));
        evidence.earlier_unknown = self.run.left_out_before("precharge");
        [evidence.hold_shut, evidence.hold_open] = self.holds();
        evidence
    }

    /// What was seen at this tank or of all of them.
    pub(super) fn seen(&self) -> impl DoubleEndedIterator<Item = (usize, &Observation)> {
        let tank = self.run.state.frames.tank();
        let all = self.run.state.observations.iter().enumerate();
        all.filter(move |(_, seen)| seen.tank.is_none() || seen.tank == tank)
    }

    /// The same, with the handles of all tanks where they are taken as one.
    fn seen_of_line(&self) -> impl Iterator<Item = (usize, &Observation)> {
        let (tank, line) = (self.run.state.frames.tank(), self.run.is_whole_line());
        let all = self.run.state.observations.iter().enumerate();
        all.filter(move |(_, seen)| {
            let of_each = line && matches!(seen.observable, "valve_position" | "pin_test");
            seen.tank.is_none() || seen.tank == tank || of_each
        })
    }

    pub(super) fn counts(&self, observable: &str, item: Item, seen: &Observation) -> bool {
        seen.observable == observable
            && seen.origin == Origin::Step
            && is_of_stage(item, seen.tells, self.phase)
    }

    /// The newest fact of an observable that somebody knew, SI.
    pub(super) fn fact(&self, observable: &str) -> Option<f64> {
        let known = |seen: &Observation| {
            seen.observable == observable
                && seen.origin == Origin::Fact
                && seen.provenance != Provenance::Assumed
        };
        self.seen().rev().find(|(_, seen)| known(seen))?.1.si()
    }

    /// All readings of an observable, in the unit diagnoses go by.
    pub(super) fn all(&mut self, observable: &str, item: Item) -> Vec<f64> {
        let seen = self.seen().filter(|(_, seen)| self.counts(observable, item, seen));
        let seen: Vec<(Arc<str>, f64)> =
            seen.filter_map(|(_, seen)| Some((seen.step.clone(), seen.si()? / size(item)))).collect();
        self.steps.extend(seen.iter().map(|(step, _)| (item, step.clone())));
        seen.into_iter().map(|(_, value)| value).collect()
    }

    pub(super) fn newest(&mut self, observable: &str, item: Item) -> Option<f64> {
        let found = self.seen().rev().find(|(_, seen)| self.counts(observable, item, seen));
        let (step, value) = found.and_then(|(_, seen)| Some((seen.step.clone(), seen.si()? / size(item))))?;
        self.steps.push((item, step));
        Some(value)
    }

    pub(super) fn site(&self, starts: &[f64]) -> WellSite {
        let run = self.run;
        let newest = |observable: &str| {
            run.state.observations.iter().rev().find(|seen| seen.observable == observable)?.si()
        };
        let volume = self.seen().rev().find(|(_, seen)| seen.observable == "plate_volume");
        let volume = volume.and_then(|(_, seen)| seen.si()).filter(|_| !self.several).map(|si| si / GALLON);
        let volume = if run.is_whole_line() { self.whole_volume() } else { volume };
        let watched = (!starts.is_empty()).then(|| starts.iter().sum::<f64>() / starts.len() as f64);
        // A label that nobody read says nothing against what was watched, nor does one of a switch that was
        // set to something else.
        let by_label = |observable: &str| {
            self.fact(observable)
                .filter(|_| !(self.phase == Phase::Left && self.run.was_turned()))
                .map(|si| si / PSI)
        };
        let label_cut_in = by_label("cut_in").or(watched).unwrap_or(40.0);
        let label_cut_out = by_label("cut_out").unwrap_or(label_cut_in + 20.0);
        let air = atmosphere(newest("elevation").unwrap_or(0.0)).unwrap_or(STANDARD_ATMOSPHERE);
        let head = newest("tank_height").and_then(|height| head(height).ok()).unwrap_or(0.0) / PSI;
        let lowest = starts.iter().copied().reduce(f64::min);
        let target = newest("target_precharge").map(|si| si / PSI);
        let by_target = lowest.zip(target).map(|(cut_in, target)| (cut_in - head - target).clamp(0.0, 20.0));
        let gap = by_target.or_else(|| newest("dead_gap").map(|si| si / PSI)).unwrap_or(2.0);
        WellSite { volume, label_cut_in, label_cut_out, atmosphere: air / PSI, head, gap }
    }

    fn errors(&self) -> GaugeErrors {
        let gauge = |id: &str, at: f64| {
            let gauge = self.run.gauge(id);
            gauge.map_or([0.0; 2], |gauge| [gauge.accuracy_u(at) / PSI, gauge.division / PSI])
        };
        let [line, line_mark] = gauge("line", 50.0 * PSI);
        let [air, air_mark] = gauge("air", 35.0 * PSI);
        let bucket = self.run.setting.system.gauge("bucket").map_or(0.03, |gauge| gauge.accuracy_u(1.0));
        GaugeErrors { line, line_mark, air, air_mark, bucket }
    }

    /// The line gauge less the second one, against the newest pressure read before it.
    fn second_gauge(&mut self) -> Option<f64> {
        let (at, other) = self.seen().rev().find(|(_, seen)| seen.observable == "second_gauge")?;
        let line = |seen: &Observation| {
            seen.origin == Origin::Step && matches!(seen.observable, "cut_out" | "line_pressure")
        };
        let (_, line) = self.seen().rev().find(|(before, seen)| *before < at && line(seen))?;
        let (step, more) = (other.step.clone(), (line.si()? - other.si()?) / PSI);
        self.steps.push((Item::SecondGauge, step));
        Some(more)
    }

    fn words(&mut self, evidence: &mut Evidence) {
        let (mut found, wet) = (Vec::new(), self.was_wet());
        let drawdown = self.seen().rev().find(|(_, seen)| seen.observable == "drawdown");
        if let Some((_, seen)) = drawdown.filter(|(_, seen)| evidence.tanks > 1 && seen.during("others_open"))
        {
            // Every tank was seen to be open.
            found.extend(evidence.word(Item::Handle, "open").then(|| (Item::Handle, seen.step.clone())));
        }
        for (_, seen) in self.seen_of_line() {
            for (observable, item) in WORDS {
                let stage = seen.origin == Origin::Fact || is_of_stage(item, seen.tells, self.phase);
                let Some(word) = seen.word().filter(|_| seen.observable == observable && stage) else {
                    continue;
                };
                // With water in the tank, only water at the pin says anything.
                let full = item == Item::Pin && word != "water" && self.may_be_full(seen);
                // Water once seen tells of this tank, whatever comes later.
                let dry = item == Item::Pin && word != "water" && wet;
                // Whoever sees a shut handle opens it before anything is measured.
                let opened = item == Item::Handle && word == "shut";
                if !full && !dry && !opened && evidence.word(item, word) {
                    found.push((item, seen.step.clone()));
                }
            }
        }
        self.steps.extend(found);
    }

    /// Whether water came at an air valve, and no other tank stands there since.
    fn was_wet(&self) -> bool {
        let last = |counts: &dyn Fn(&Observation) -> bool| {
            self.seen_of_line().filter(|(_, seen)| counts(seen)).map(|(at, _)| at).last()
        };
        let water = last(&|seen| seen.observable == "pin_test" && seen.word() == Some("water"));
        water.is_some() && water > last(&|seen| seen.observable == "tank_replaced")
    }

    fn may_be_full(&self, seen: &Observation) -> bool {
        let known = |state: &str| self.run.setting.procedure.states.iter().any(|it| *it.id == *state);
        known("drained") && !seen.during("drained")
    }

    /// How the precharge was left at an earlier visit, for the temperature of this one.
    fn earlier(&mut self) -> Option<EarlierPrecharge> {
        let before = |observable: &str| {
            let (_, seen) = self
                .seen()
                .rev()
                .find(|(_, seen)| seen.observable == observable && seen.tells == Some(Phase::Before))?;
            Some((seen.step.clone(), seen.si()?))
        };
        let (step, left) = before("precharge")?;
        let (_, months) = before("months_since")?;
        let now = self.seen().rev().find(|(_, seen)| {
            seen.observable == "tank_temperature"
                && seen.origin == Origin::Step
                && seen.tells == Some(Phase::Found)
        });
        let now = now.and_then(|(_, seen)| seen.si());
        let then = before("tank_temperature").map(|(_, si)| si);
        let elevation = self.fact("elevation").unwrap_or(0.0);
        let same = then.zip(now).and_then(|(then, now)| precharge_at(left, then, now, elevation).ok());
        self.steps.push((Item::Earlier, step));
        // Nobody says whether it was the same gauge.
        Some(EarlierPrecharge {
            precharge: same.unwrap_or(left) / PSI,
            years: months / 12.0,
            same_gauge: false,
        })
    }
}

/// What a reading in SI is divided by.
fn size(item: Item) -> f64 {
    if item == Item::Drawdown {
        GALLON
    } else if item == Item::RunTime {
        1.0
    } else {
        PSI
    }
}
