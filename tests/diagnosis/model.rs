//! Well systems drawn at random, and people who read them, with everyday mistakes: the other side of the
//! diagnosis, written anew from what each cause is said to predict.

use rand_core::{Rng, SeedableRng};
use rand_pcg::Pcg64Mcg;
use tankhand::physics::diagnosis::CauseId::{self, *};
use tankhand::physics::diagnosis::{
    EarlierPrecharge, Evidence, GaugeErrors, Group, HoldLoss, Item, WellSite,
};

const AIR: f64 = 14.7;

/// Limits of error of the gauges, and their marks, psi; the bucket's as a share.
#[derive(Clone, Copy, Debug)]
pub struct Gauges {
    pub line: [f64; 2],
    pub air: [f64; 2],
    pub bucket: f64,
}

/// What owners have.
pub const DEFAULT: Gauges = Gauges { line: [2.0, 1.0], air: [3.0, 1.0], bucket: 0.05 };
/// What they could have.
pub const GOOD: Gauges = Gauges { line: [0.5, 0.2], air: [0.5, 0.1], bucket: 0.02 };

impl Gauges {
    pub fn errors(&self) -> GaugeErrors {
        let u = |limit: f64| limit / 3f64.sqrt();
        GaugeErrors {
            line: u(self.line[0]),
            line_mark: self.line[1],
            air: u(self.air[0]),
            air_mark: self.air[1],
            bucket: u(self.bucket),
        }
    }
}

/// Which cause holds in each group.
pub type Truth = [CauseId; 5];

/// Nothing wrong.
pub const SOUND: Truth = [TankRight, SwitchRight, PumpRight, ReadRight, Tight];

/// Nothing wrong but these.
pub fn but(causes: &[CauseId]) -> Truth {
    let mut truth = SOUND;
    for cause in causes {
        let group = Group::ALL.iter().position(|group| *group == cause.cause().group).unwrap();
        truth[group] = *cause;
    }
    truth
}

/// Random numbers.
pub struct Draw(Pcg64Mcg);

impl Draw {
    pub fn new(seed: u64) -> Draw {
        Draw(Pcg64Mcg::seed_from_u64(seed))
    }

    pub fn unit(&mut self) -> f64 {
        (self.0.next_u64() >> 11) as f64 / (1u64 << 53) as f64
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.unit()
    }

    fn normal(&mut self, mean: f64, u: f64) -> f64 {
        let (a, b) = (self.unit().max(1e-300), self.unit());
        mean + u * (-2.0 * a.ln()).sqrt() * (std::f64::consts::TAU * b).cos()
    }

    fn chance(&mut self, p: f64) -> bool {
        self.unit() < p
    }

    fn one<T: Copy>(&mut self, of: &[T]) -> T {
        of[((self.unit() * of.len() as f64) as usize).min(of.len() - 1)]
    }

    fn by(&mut self, weights: &[f64]) -> usize {
        let whole: f64 = weights.iter().sum();
        let mut left = self.unit() * whole;
        weights
            .iter()
            .position(|weight| {
                left -= weight;
                left < 0.0
            })
            .unwrap_or(weights.len() - 1)
    }

    fn sign(&mut self) -> f64 {
        if self.chance(0.5) { -1.0 } else { 1.0 }
    }

    /// A truth as often as its causes are met.
    pub fn truth(&mut self) -> Truth {
        Group::ALL.map(|group| {
            let priors: Vec<f64> = group.causes().iter().map(|cause| cause.prior).collect();
            group.causes()[self.by(&priors)].id
        })
    }
}

/// What is true of an installation, and who reads it.
pub struct Case<'d> {
    pub draw: &'d mut Draw,
    pub gauges: Gauges,
    pub truth: Truth,
    /// How often everyday mistakes are made, as a multiple of what is usual.
    pub mistakes: f64,
    /// The gap of a tank in order where it is not drawn.
    pub gap: Option<f64>,
}

/// True values of an installation.
struct Plant {
    volume: f64,
    label: f64,
    cut_in: f64,
    cut_out: f64,
    scatter: f64,
    /// What the air valve shows, before the gauge.
    air: f64,
    drawdown: f64,
    /// Water behind the bladder.
    water: f64,
    run: f64,
    line_error: f64,
    air_error: f64,
    other_tanks: bool,
}

fn gives(volume: f64, charge: f64, cut_in: f64, cut_out: f64) -> f64 {
    if charge >= cut_out {
        return 0.0;
    }
    volume * (charge + AIR) * (1.0 / (charge.max(cut_in) + AIR) - 1.0 / (cut_out + AIR))
}

impl Case<'_> {
    fn is(&self, cause: CauseId) -> bool {
        self.truth.contains(&cause)
    }

    fn mistake(&mut self, p: f64) -> bool {
        let p = p * self.mistakes;
        self.draw.chance(p)
    }

    /// Everything that could be read.
    pub fn read(&mut self) -> Evidence {
        let plant = self.plant();
        let site = WellSite {
            volume: Some(plant.volume),
            label_cut_in: plant.label,
            label_cut_out: plant.label + 20.0,
            atmosphere: AIR,
            head: 0.0,
            gap: 2.0,
        };
        let mut evidence = Evidence::of(site, self.gauges.errors());
        evidence.word(Item::OtherTanks, if plant.other_tanks { "yes" } else { "no" });
        self.read_line(&plant, &mut evidence);
        self.read_tank(&plant, &mut evidence);
        self.say(&plant, &mut evidence);
        self.hold(&plant, &mut evidence);
        evidence
    }

    fn gap(&mut self) -> f64 {
        if let Some(gap) = self.gap {
            return gap;
        }
        loop {
            let gap = self.draw.normal(2.5, 2.0);
            if (-0.5..=7.0).contains(&gap) {
                return gap;
            }
        }
    }

    fn plant(&mut self) -> Plant {
        let plate = self.draw.one(&[14.0, 20.0, 26.0, 32.0, 36.0, 44.0, 62.0, 81.0, 86.0, 119.0]);
        let label = [20.0, 30.0, 40.0][self.draw.by(&[0.1, 0.4, 0.5])];
        let (cut_in, cut_out) = self.switch(label);
        let scatter = if self.is(Nipple) { self.draw.between(2.0, 5.0) } else { self.draw.between(0.2, 0.7) };
        let off = if self.draw.chance(0.35) {
            self.draw.between(-0.08, 0.08)
        } else {
            self.draw.normal(0.0, 0.015)
        };
        let wrong =
            if self.draw.chance(0.6) { self.draw.between(0.5, 0.84) } else { self.draw.between(1.16, 1.6) };
        let volume = plate * if self.is(Plate) { wrong } else { 1.0 + off };
        let (air, drawdown, water) = self.tank(volume, cut_in, cut_out);
        let nominal = gives(plate, label - 2.0, label, label + 20.0);
        let far = if self.is(Apart) { self.draw.between(0.1, 0.8) } else { 1.0 };
        let run = self.full_run() * drawdown / nominal * far;
        let sign = self.draw.sign();
        let line_error = if self.is(LineOff) {
            sign * self.draw.between(4.0, 10.0)
        } else {
            self.draw.between(-1.0, 1.0) * self.gauges.line[0]
        };
        let air_error = if self.is(AirOff) {
            sign * self.draw.between(4.0, 10.0)
        } else {
            self.draw.between(-1.0, 1.0) * self.gauges.air[0]
        };
        let other_tanks = self.is(Hidden) || self.draw.chance(0.25);
        Plant {
            volume: plate,
            label,
            cut_in,
            cut_out,
            scatter,
            air,
            drawdown,
            water,
            run,
            line_error,
            air_error,
            other_tanks,
        }
    }

    fn full_run(&mut self) -> f64 {
        let (median, u): (f64, f64) = if self.is(ShortFlow) {
            (420.0, 0.4)
        } else if self.is(TooSmall) {
            (35.0, 0.25)
        } else {
            (100.0, 0.3)
        };
        self.draw.normal(median.ln(), u).exp()
    }

    fn switch(&mut self, label: f64) -> (f64, f64) {
        let mut cut_in = label + self.draw.normal(0.0, 1.8);
        let mut apart = 20.0 + self.draw.normal(0.0, 1.8);
        if self.is(Drifted) {
            cut_in = label + self.draw.sign() * self.draw.between(4.0, 12.0);
            apart = 20.0 + self.draw.normal(0.0, 2.5);
        } else if self.is(Nipple) {
            cut_in = label - 1.0 + self.draw.normal(0.0, 2.5);
            apart = 22.0 + self.draw.normal(0.0, 3.0);
        } else if self.is(Narrow) {
            apart = self.draw.between(4.0, 13.0);
        }
        let cut_in = cut_in.max(12.0);
        (cut_in, cut_in + apart)
    }

    /// What the air valve shows, the drawdown, and the water behind the bladder.
    fn tank(&mut self, volume: f64, cut_in: f64, cut_out: f64) -> (f64, f64, f64) {
        let mut air = cut_in - self.gap();
        let draw = &mut *self.draw;
        match self.truth[0] {
            Low => air = cut_in - draw.between(7.0, (cut_in - 3.0).max(9.0)),
            AirLeak => air = cut_in - draw.between(5.0, (cut_in - 3.0).max(7.0)),
            High => air = cut_in + 0.5 - 8.0 * draw.unit().max(1e-12).ln(),
            Waterlogged => air = draw.between(0.0, 3.0),
            Stuck | Blocked | Trapped | Plate | Shut if draw.chance(0.3) => air = 5.0 + cut_in * draw.unit(),
            _ => {}
        }
        let whole = gives(volume, air, cut_in, cut_out);
        match self.truth[0] {
            Torn => {
                let seen = if draw.chance(0.6) { 0.0 } else { draw.between(0.0, 30.0) };
                (
                    seen,
                    gives(volume, draw.between(0.0, 25.0), cut_in, cut_out),
                    draw.between(0.05, 0.7) * volume,
                )
            }
            Stuck => (air, whole * draw.between(0.0, 0.6), 0.0),
            Blocked => (air, whole * draw.between(0.1, 0.75), 0.0),
            Trapped => {
                let water = draw.between(0.15, 0.7);
                (air, whole * (1.0 - water), water * volume)
            }
            Shut => (draw.between(5.0, cut_out), draw.between(0.05, 0.4), 0.0),
            Hidden => {
                let sick =
                    if draw.chance(0.3) { 0.01 - AIR } else { draw.between(0.0, (cut_in - 12.0).max(4.0)) };
                (air, 0.5 * whole + 0.5 * gives(volume, sick, cut_in, cut_out), 0.0)
            }
            _ => (air, whole, draw.between(0.0, 0.01) * volume),
        }
    }

    fn mark(value: f64, mark: f64) -> f64 {
        (value / mark).round() * mark
    }

    fn read_line(&mut self, plant: &Plant, evidence: &mut Evidence) {
        let mark = self.gauges.line[1];
        let seen = |draw: &mut Draw, truth: f64, u: f64| {
            Self::mark(truth + plant.line_error + draw.normal(0.0, u) + draw.normal(0.0, 0.25), mark)
        };
        evidence.starts = (0..3).map(|_| seen(self.draw, plant.cut_in, plant.scatter)).collect();
        let told = seen(self.draw, plant.cut_in, 1.2);
        evidence.cut_out = Some(seen(self.draw, plant.cut_out, 0.3));
        evidence.cut_in_elsewhere = Some(told - plant.line_error);
        if self.mistake(0.015) {
            evidence.starts = vec![plant.label; 3];
        }
        if self.mistake(0.015) {
            evidence.cut_out = Some(plant.label + 20.0);
        }
        let stuck_on = (self.is(Unreached) || self.is(Welded)) && !self.mistake(0.05);
        if stuck_on || self.mistake(0.003) {
            let label = plant.label + 20.0;
            let needle = if self.is(Welded) {
                label + self.draw.between(3.0, 30.0)
            } else {
                label - self.draw.between(1.0, 15.0)
            };
            evidence.never_stops = Some(Self::mark(needle + plant.line_error, mark));
            evidence.cut_out = None;
        }
        let shifted = if self.draw.chance(0.7) { plant.line_error } else { 0.0 };
        let zero = shifted + self.draw.normal(0.0, 0.4);
        evidence.zero = Some(Self::mark(zero, mark / 2.0).max(0.0));
    }

    fn read_tank(&mut self, plant: &Plant, evidence: &mut Evidence) {
        let mark = self.gauges.air[1];
        let mut slip = if self.mistake(0.025) { 10.0 * self.draw.sign() } else { 0.0 };
        slip += if self.mistake(0.02) { self.draw.between(2.0, 15.0) } else { 0.0 };
        let shown = plant.air + plant.air_error + slip;
        evidence.precharge =
            (0..3).map(|_| Self::mark(shown + self.draw.normal(0.0, 0.4), mark).max(0.0)).collect();
        let warm =
            if self.is(WarmAir) { self.draw.between(0.78, 0.94) } else { self.draw.between(0.96, 1.0) };
        let far = if self.is(Apart) { self.draw.between(0.5, 1.0) } else { 1.0 };
        let water = plant.drawdown * warm * far;
        let bucket = 1.0 + self.gauges.bucket * self.draw.between(-1.0, 1.0);
        let stop = water / (plant.cut_out - plant.cut_in) * self.draw.normal(0.0, 0.5);
        let mut caught = water * bucket + self.draw.normal(0.0, 0.05) + stop;
        if self.mistake(0.03) {
            caught *= self.draw.between(0.5, 1.5);
        }
        let mut run = plant.run * self.draw.normal(0.0, 0.03).exp() + self.draw.normal(0.0, 0.7);
        if self.is(Shut) {
            run = self.draw.between(1.0, 6.0);
        }
        if self.is(Blocked) {
            run *= self.draw.between(0.5, 1.1);
        }
        if self.mistake(0.02) {
            run *= self.draw.between(0.4, 2.5);
        }
        if evidence.never_stops.is_none() {
            evidence.drawdown = Some(Self::mark(caught, 0.1).max(0.0));
            evidence.run_time = Some(run.round().max(1.0));
        }
        let plate = 1.9 * plant.volume.powf(0.95);
        let scale = plate * (1.0 + self.draw.normal(0.0, 0.04)) + 8.34 * plant.water;
        evidence.weight = Some([scale, plate]);
        evidence.earlier = Some(self.earlier(plant));
    }

    fn earlier(&mut self, plant: &Plant) -> EarlierPrecharge {
        let usual = plant.cut_in - self.gap();
        let lost = match self.truth[0] {
            AirLeak => self.draw.between(4.0, 25.0),
            Low => self.draw.normal(1.0, 1.2),
            _ => self.draw.normal(0.5, 1.0),
        };
        let then = if matches!(self.truth[0], Waterlogged | Torn | Shut) { usual } else { plant.air + lost };
        let same_gauge = self.draw.chance(0.7);
        let error = if same_gauge && !self.is(AirOff) {
            plant.air_error
        } else {
            self.draw.between(-1.0, 1.0) * self.gauges.air[0]
        };
        let precharge = Self::mark(then + error + self.draw.normal(0.0, 0.5), self.gauges.air[1]).max(0.0);
        EarlierPrecharge { precharge, years: 1.0, same_gauge }
    }

    fn choose(&mut self, evidence: &mut Evidence, item: Item, words: &[&str], weights: &[f64]) {
        let word = words[self.draw.by(weights)];
        assert!(evidence.word(item, word), "{item}: {word}");
    }

    fn say(&mut self, plant: &Plant, evidence: &mut Evidence) {
        let tank = self.truth[0];
        let pin: &[f64] = match tank {
            _ if plant.air < 0.7 && tank != Torn && self.draw.chance(0.7) => &[0.0, 1.0, 0.0],
            Low => &[0.96, 0.03, 0.01],
            Waterlogged => &[0.25, 0.72, 0.03],
            Torn => &[0.15, 0.20, 0.65],
            Trapped => &[0.68, 0.07, 0.25],
            _ => &[0.97, 0.015, 0.015],
        };
        self.choose(evidence, Item::Pin, &["air", "nothing", "water"], pin);
        let sound: &[f64] = match tank {
            Torn => &[0.15, 0.65, 0.20],
            Trapped => &[0.25, 0.60, 0.15],
            Waterlogged => &[0.75, 0.12, 0.13],
            Shut => &[0.4, 0.4, 0.2],
            _ => &[0.8, 0.08, 0.12],
        };
        self.choose(evidence, Item::Sound, &["hollow", "dull", "unsure"], sound);
        let soap: &[f64] = if tank == AirLeak { &[0.2, 0.8] } else { &[0.97, 0.03] };
        self.choose(evidence, Item::Soap, &["none", "valve"], soap);
        let either = |rows: &[(CauseId, f64)], usual: f64| {
            let rows = rows.iter().filter(|(cause, _)| self.truth.contains(cause));
            1.0 - rows.fold(1.0 - usual, |rest, (_, p)| rest * (1.0 - p))
        };
        let drops = [
            (Low, 0.08),
            (High, 0.85),
            (Waterlogged, 0.6),
            (Torn, 0.5),
            (Stuck, 0.5),
            (Blocked, 0.6),
            (Shut, 0.95),
            (Hidden, 0.1),
            (Trapped, 0.2),
            (AirLeak, 0.1),
            (Apart, 0.5),
            (Nipple, 0.2),
            (Narrow, 0.15),
        ];
        let chatter = [
            (Waterlogged, 0.3),
            (Torn, 0.25),
            (Blocked, 0.4),
            (Shut, 0.6),
            (High, 0.12),
            (Stuck, 0.2),
            (Nipple, 0.45),
            (Apart, 0.6),
            (Narrow, 0.1),
        ];
        let (drop, chatter) = (either(&drops, 0.04), either(&chatter, 0.02));
        self.choose(evidence, Item::Needle, &["evenly", "dropped"], &[1.0 - drop, drop]);
        let sound = [0.85 * (1.0 - chatter), 0.85 * chatter, 0.15];
        self.choose(evidence, Item::SwitchSound, &["once", "chatter", "unheard"], &sound);
        let between = if self.is(Apart) { 1.0 - 0.1 * self.mistakes } else { 0.04 };
        let order = [0.9 * (1.0 - between), 0.9 * between, 0.1];
        self.choose(evidence, Item::Order, &["right", "between", "unknown"], &order);
    }

    fn hold(&mut self, plant: &Plant, evidence: &mut Evidence) {
        let leak = self.truth[4];
        let size = self.draw.normal(0.0, 0.8).exp();
        // A tank that gives less falls faster.
        let nominal = gives(plant.volume, plant.label - 2.0, plant.label, plant.label + 20.0);
        let faster = (nominal / plant.drawdown.max(0.05)).clamp(0.5, 5.0);
        let [shut, open] = match leak {
            House => [0.0, 5.0],
            CheckValve => [5.0, 5.0],
            Weeping => [2.5, 2.5],
            _ => [0.0, 0.0],
        }
        .map(|loss| (loss * size * faster).min(plant.cut_out));
        let cool = self.draw.between(0.0, 0.6);
        let mark = self.gauges.line[1] / 2.0;
        let mut seen = |loss: f64| HoldLoss {
            loss: Self::mark(loss + cool + self.draw.normal(0.0, 0.3), mark),
            minutes: 15.0,
        };
        evidence.hold_shut = Some(seen(shut));
        evidence.hold_open = Some(seen(open));
        let alone = if leak == Tight { 0.04 } else { 0.85 };
        self.choose(
            evidence,
            Item::Alone,
            &["use", "alone", "unknown"],
            &[0.85 * (1.0 - alone), 0.85 * alone, 0.15],
        );
        let look: &[f64] = match leak {
            CheckValve => &[0.05, 0.60, 0.35],
            Weeping => &[0.80, 0.02, 0.18],
            _ => &[0.03, 0.01, 0.96],
        };
        self.choose(evidence, Item::Look, &["drips", "trickles", "neither"], look);
    }
}

/// What is tried at a visit.
pub struct Visit {
    pub name: &'static str,
    pub items: &'static [Item],
}

use Item::{
    Alone, CutOut, Drawdown, Earlier, HoldOpen, HoldShut, Look, Needle, NeverStops, Order, OtherTanks, Pin,
    Precharge, RunTime, Soap, Sound, Starts, SwitchSound, Weighed, Zero,
};

/// The visits that are played.
pub const VISITS: [Visit; 4] = [
    Visit {
        name: "flush",
        items: &[
            Starts, CutOut, NeverStops, Needle, RunTime, Drawdown, Precharge, Pin, Sound, Zero, HoldShut,
            Soap, Look, OtherTanks,
        ],
    },
    Visit {
        name: "short cycling",
        items: &[
            Starts,
            CutOut,
            NeverStops,
            Needle,
            RunTime,
            Drawdown,
            SwitchSound,
            Order,
            Alone,
            HoldShut,
            HoldOpen,
            Look,
            OtherTanks,
            Precharge,
            Pin,
            Sound,
            Zero,
        ],
    },
    Visit { name: "yearly", items: &[Starts, CutOut, NeverStops, Needle, Precharge, Pin, Earlier] },
    Visit { name: "used tank", items: &[Precharge, Pin, Sound, Weighed, Soap] },
];

impl Visit {
    /// What of everything is read at this visit.
    pub fn of(&self, all: &Evidence) -> Evidence {
        let left_out = Item::ALL.into_iter().filter(|item| !self.items.contains(item));
        left_out.fold(all.clone(), |rest, item| rest.without(item))
    }
}
