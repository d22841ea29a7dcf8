//! What can be wrong at an installation.

use super::household::Household;
use crate::physics::plant::{Bladder, PressureValve, TankSite};
use crate::quantity::{GALLON, GPM, PSI};

/// Something that is wrong.
#[derive(Clone, Copy, Debug)]
pub struct Defect {
    /// Its name on the command line and in tables.
    pub name: &'static str,
    /// What it is, as it follows `At this installation`.
    pub means: &'static str,
    apply: Change,
}

/// What a defect changes.
#[derive(Clone, Copy, Debug)]
enum Change {
    /// The first tank.
    Tank(fn(&mut TankSite)),
    /// Anything.
    Home(fn(&mut Household)),
}

/// A conductance that loses about 5 psi in a quarter of an hour from a tank of 44 gal, m³/s for √Pa.
const LEAK: f64 = 1.9e-8;

const fn tank(name: &'static str, means: &'static str, change: fn(&mut TankSite)) -> Defect {
    Defect { name, means, apply: Change::Tank(change) }
}

const fn home(name: &'static str, means: &'static str, change: fn(&mut Household)) -> Defect {
    Defect { name, means, apply: Change::Home(change) }
}

/// Every defect. How far each goes is a judgement.
pub static DEFECTS: &[Defect] = &[
    tank("precharge-low", "the precharge is 12 psi low", |tank| tank.precharge -= 12.0 * PSI),
    tank("precharge-high", "the precharge is 12 psi high", |tank| tank.precharge += 12.0 * PSI),
    tank("waterlogged", "the air is all but gone; the bladder is whole", |tank| tank.precharge = 1.0 * PSI),
    tank("torn", "the bladder is torn, and water stands at the air valve", |tank| {
        tank.bladder = Bladder::Torn { seals: false, wet_valve: true };
    }),
    tank("torn-dry", "the bladder is torn; no water shows at the air valve", |tank| {
        tank.bladder = Bladder::Torn { seals: false, wet_valve: false };
    }),
    tank("torn-sealing", "the bladder is torn; the tear closes over air and water", |tank| {
        tank.bladder = Bladder::Torn { seals: true, wet_valve: false };
        tank.trapped = 0.15 * tank.volume;
    }),
    tank("stuck", "the bladder sticks and lets little water in", |tank| tank.most_water = 0.1 * tank.volume),
    tank("outlet-blocked", "grit all but blocks the tank's outlet", |tank| tank.outlet = 1.5e-7),
    tank("valve-shut", "the tank's own valve stands shut", |tank| tank.valve_open = false),
    tank("water-trapped", "water sits behind the bladder", |tank| tank.trapped = 0.4 * tank.volume),
    tank("air-leak", "air leaks at the core of the air valve", |tank| {
        tank.precharge -= 10.0 * PSI;
        tank.air_leak = 2e-10;
    }),
    tank("plate-wrong", "the tank is a third smaller than its plate says", |tank| tank.volume *= 0.65),
    home("cut-in-drifted", "the switch starts and stops the pump 8 psi below its label", |home| {
        home.site.switch.cut_in -= 8.0 * PSI;
        home.site.switch.cut_out -= 8.0 * PSI;
    }),
    home("nipple-plugged", "grit plugs the small pipe of the switch", |home| {
        home.site.switch.scatter = 3.5 * PSI;
        home.site.switch.lag = 4.0;
    }),
    home("switch-far", "the switch sits far from the tank and chatters", |home| {
        home.site.switch.surge = 30.0 * PSI;
        home.parts_between = true;
    }),
    home("differential-small", "the pump's start and stop lie only 8 psi apart", |home| {
        home.site.switch.cut_out = home.site.switch.cut_in + 8.0 * PSI;
    }),
    home("cut-out-unreachable", "the pump cannot reach the cut-out", |home| {
        home.site.pump.shutoff = home.site.switch.cut_out - 3.0 * PSI;
    }),
    home("contacts-welded", "the contacts of the switch never open", |home| home.site.switch.welded = true),
    home("pump-dead", "the pump does not start", |home| home.site.pump.works = false),
    home("prime-lost", "the jet pump has lost its water", |home| {
        home.jet = true;
        home.site.pump.primed = false;
    }),
    home("pump-short", "the pump brings a quarter of its water", |home| home.site.pump.free_flow *= 0.25),
    home("tank-small", "the tank is far too small for the pump", |home| home.site.pump.free_flow *= 3.5),
    home("check-valve", "the check valve lets water back into the well", |home| {
        home.site.leaks.check_valve = leak(home);
    }),
    home("house-leak", "a toilet runs, or the house leaks", |home| home.site.leaks.house = leak(home)),
    home("relief-weeps", "the relief valve weeps", |home| home.site.leaks.relief = 0.5 * leak(home)),
    home("line-gauge-off", "the line gauge shows 7 psi too much", |home| {
        home.instruments.line.bias = 7.0 * PSI;
    }),
    home("line-gauge-stuck", "the needle of the line gauge is stuck", |home| {
        home.instruments.line.stuck = Some(52.0 * PSI);
    }),
    home("air-gauge-off", "the tire gauge shows 7 psi too much", |home| {
        home.instruments.air.bias = 7.0 * PSI;
    }),
];

/// Kinds of installations beside the common one; nothing is wrong with them.
pub static KINDS: &[Defect] = &[
    home("jet-pump", "the pump is a jet pump", |home| home.jet = true),
    home("pressure-valve", "a constant-pressure valve stands behind the pump", |home| {
        let switch = &home.site.switch;
        let least = GPM;
        let holds = 0.5 * (switch.cut_in + switch.cut_out);
        home.site.pump.valve = Some(PressureValve { holds, least });
        home.site.tanks.iter_mut().for_each(|tank| tank.precharge = 0.7 * holds);
    }),
    home("drive", "a drive sets the speed of the pump, so that it holds one pressure", |home| {
        let switch = &mut home.site.switch;
        let holds = 0.5 * (switch.cut_in + switch.cut_out);
        // It starts 5 psi below, and stops once hardly any water is drawn.
        (switch.cut_in, switch.cut_out) = (holds - 5.0 * PSI, holds + 1.5 * PSI);
        home.site.pump.valve = Some(PressureValve { holds, least: 0.5 * GPM });
        home.drive = true;
        home.label_cut_in = switch.cut_in;
        home.site.tanks.iter_mut().for_each(|tank| tank.precharge = 0.7 * holds);
    }),
    home("prime-runs-back", "the jet pump loses its water whenever the line is drained", |home| {
        home.jet = true;
        home.site.pump.runs_back = true;
    }),
    home("plain-tank", "the tank is a plain one, without a bladder", |home| {
        home.plain = true;
        home.site
            .tanks
            .iter_mut()
            .for_each(|tank| tank.bladder = Bladder::Torn { seals: false, wet_valve: false });
    }),
    home("lever-switch", "the switch has a low-pressure cut-off", |home| {
        home.site.switch.lever = Some(10.0 * PSI);
    }),
    home("two-tanks", "two tanks stand on the line, each with its isolation valve", second_tank),
    home("two-tanks-joined", "two tanks stand on the line, and neither can be shut off", |home| {
        second_tank(home);
        home.tank_valves = false;
    }),
    home("no-house-valve", "no valve shuts the house off", |home| home.house_valve = false),
];

/// Another tank like the first, where there is only one.
fn second_tank(home: &mut Household) {
    if let ([tank], [plate]) = (home.site.tanks.as_slice(), home.plates.as_slice()) {
        let (tank, plate) = (tank.clone(), *plate);
        home.site.tanks.push(tank);
        home.plates.push(plate);
    }
}

/// A leak in proportion to the first tank.
fn leak(home: &Household) -> f64 {
    let volume = home.site.tanks.first().map_or(0.0, |tank| tank.volume);
    LEAK * volume / (44.0 * GALLON)
}

impl Defect {
    /// Brings it about at a sound household.
    pub fn apply(&self, home: &mut Household) {
        match self.apply {
            Change::Home(change) => change(home),
            Change::Tank(change) => {
                if let Some(tank) = home.site.tanks.first_mut() {
                    change(tank);
                    tank.precharge = tank.precharge.max(0.0);
                }
            }
        }
    }

    /// Whether something is wrong with it, rather than that it is of another kind.
    pub fn is_wrong(&self) -> bool {
        KINDS.iter().all(|kind| kind.name != self.name)
    }
}

/// The defect or the kind of installation of that name.
pub fn defect(name: &str) -> Option<&'static Defect> {
    DEFECTS.iter().chain(KINDS).find(|defect| defect.name == name)
}
