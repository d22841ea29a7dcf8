//! What can be wrong at an installation.

use super::household::Household;
use crate::physics::plant::Bladder;
use crate::quantity::PSI;

/// Something that is wrong.
#[derive(Clone, Copy, Debug)]
pub struct HouseholdFault {
    /// Its name on the command line and in tables.
    pub name: &'static str,
    /// What it is, in a sentence.
    pub means: &'static str,
    /// Brings it about.
    apply: fn(&mut Household),
}

/// A factor on conductances that loses about 5 psi in a quarter of an hour from a tank of 44 gal.
const LEAK: f64 = 1.9e-8;

/// Every fault.
pub static FAULTS: &[HouseholdFault] = &[
    HouseholdFault {
        name: "precharge-low",
        means: "the precharge is 12 psi low",
        apply: |home| of_tank(home, |tank| tank.precharge -= 12.0 * PSI),
    },
    HouseholdFault {
        name: "precharge-high",
        means: "the precharge is 12 psi high",
        apply: |home| of_tank(home, |tank| tank.precharge += 12.0 * PSI),
    },
    HouseholdFault {
        name: "waterlogged",
        means: "the air is all but gone; the bladder is whole",
        apply: |home| of_tank(home, |tank| tank.precharge = 1.0 * PSI),
    },
    HouseholdFault {
        name: "torn",
        means: "the bladder is torn, and water stands at the air valve",
        apply: |home| of_tank(home, |tank| tank.bladder = Bladder::Torn { seals: false, wet_valve: true }),
    },
    HouseholdFault {
        name: "torn-dry",
        means: "the bladder is torn; no water shows at the air valve",
        apply: |home| of_tank(home, |tank| tank.bladder = Bladder::Torn { seals: false, wet_valve: false }),
    },
    HouseholdFault {
        name: "torn-sealing",
        means: "the bladder is torn; the tear closes over air and water",
        apply: |home| {
            of_tank(home, |tank| {
                tank.bladder = Bladder::Torn { seals: true, wet_valve: false };
                tank.trapped = 0.15 * tank.volume;
            })
        },
    },
    HouseholdFault {
        name: "stuck",
        means: "the bladder sticks and lets little water in",
        apply: |home| of_tank(home, |tank| tank.most_water = 0.1 * tank.volume),
    },
    HouseholdFault {
        name: "outlet-blocked",
        means: "grit all but blocks the outlet",
        apply: |home| of_tank(home, |tank| tank.outlet = 1.5e-7),
    },
    HouseholdFault {
        name: "valve-shut",
        means: "the tank's own valve stands shut",
        apply: |home| of_tank(home, |tank| tank.valve_open = false),
    },
    HouseholdFault {
        name: "water-trapped",
        means: "water sits behind the bladder",
        apply: |home| of_tank(home, |tank| tank.trapped = 0.4 * tank.volume),
    },
    HouseholdFault {
        name: "air-leak",
        means: "air leaks at the valve's core",
        apply: |home| {
            of_tank(home, |tank| {
                tank.precharge -= 10.0 * PSI;
                tank.air_leak = 2e-10;
            })
        },
    },
    HouseholdFault {
        name: "plate-wrong",
        means: "the tank is smaller than its plate says",
        apply: |home| of_tank(home, |tank| tank.volume *= 0.65),
    },
    HouseholdFault {
        name: "cut-in-drifted",
        means: "the switch starts the pump 8 psi below its label",
        apply: |home| {
            home.site.switch.cut_in -= 8.0 * PSI;
            home.site.switch.cut_out -= 8.0 * PSI;
        },
    },
    HouseholdFault {
        name: "nipple-plugged",
        means: "grit plugs the small pipe of the switch",
        apply: |home| {
            home.site.switch.scatter = 3.5 * PSI;
            home.site.switch.lag = 4.0;
        },
    },
    HouseholdFault {
        name: "switch-far",
        means: "the switch sits far from the tank and chatters",
        apply: |home| {
            home.site.switch.surge = 30.0 * PSI;
            home.parts_between = true;
        },
    },
    HouseholdFault {
        name: "differential-small",
        means: "start and stop lie 8 psi apart",
        apply: |home| home.site.switch.cut_out = home.site.switch.cut_in + 8.0 * PSI,
    },
    HouseholdFault {
        name: "cut-out-unreachable",
        means: "the pump cannot reach the cut-out",
        apply: |home| home.site.pump.shutoff = home.site.switch.cut_out - 3.0 * PSI,
    },
    HouseholdFault {
        name: "contacts-welded",
        means: "the contacts of the switch never open",
        apply: |home| home.site.switch.welded = true,
    },
    HouseholdFault {
        name: "pump-dead",
        means: "the pump does not start",
        apply: |home| home.site.pump.works = false,
    },
    HouseholdFault {
        name: "pump-short",
        means: "the pump brings a quarter of its water",
        apply: |home| home.site.pump.free_flow *= 0.25,
    },
    HouseholdFault {
        name: "tank-small",
        means: "the tank is far too small for the pump",
        apply: |home| home.site.pump.free_flow *= 3.5,
    },
    HouseholdFault {
        name: "check-valve",
        means: "the check valve lets water back into the well",
        apply: |home| home.site.leaks.check_valve = leak(home),
    },
    HouseholdFault {
        name: "house-leak",
        means: "a toilet runs, or the house leaks",
        apply: |home| home.site.leaks.house = leak(home),
    },
    HouseholdFault {
        name: "relief-weeps",
        means: "the relief valve weeps",
        apply: |home| home.site.leaks.relief = 0.5 * leak(home),
    },
    HouseholdFault {
        name: "line-gauge-off",
        means: "the line gauge shows 7 psi too much",
        apply: |home| home.instruments.line.bias = 7.0 * PSI,
    },
    HouseholdFault {
        name: "line-gauge-stuck",
        means: "the needle of the line gauge is stuck",
        apply: |home| home.instruments.line.stuck = Some(52.0 * PSI),
    },
    HouseholdFault {
        name: "air-gauge-off",
        means: "the tire gauge shows 7 psi too much",
        apply: |home| home.instruments.air.bias = 7.0 * PSI,
    },
];

fn of_tank(home: &mut Household, change: impl FnOnce(&mut crate::physics::plant::TankSite)) {
    if let Some(tank) = home.site.tanks.first_mut() {
        change(tank);
        tank.precharge = tank.precharge.max(0.0);
    }
}

fn leak(home: &Household) -> f64 {
    let volume = home.site.tanks.first().map_or(0.0, |tank| tank.volume);
    LEAK * volume / (44.0 * crate::quantity::GALLON)
}

impl HouseholdFault {
    /// Brings it about at a sound household.
    pub fn apply(&self, home: &mut Household) {
        (self.apply)(home);
    }
}

/// The fault of that name.
pub fn fault(name: &str) -> Option<&'static HouseholdFault> {
    FAULTS.iter().find(|fault| fault.name == name)
}
