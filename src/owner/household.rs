//! An installation with what its owner knows of it.

use std::fmt::Write as _;

use super::random::chance;
use crate::physics::plant::{Instrument, Instruments, PlantSite, TankSite};
use crate::procedure::{Procedure, Step};
use crate::quantity::{GALLON, PSI, Random, unit};
use crate::source::{Fault, SourceText};
use crate::system::{self, System};

/// A household with a well: what stands there, what it is read with, and what its owner knows.
#[derive(Clone, Debug, PartialEq)]
pub struct Household {
    /// What stands there.
    pub site: PlantSite,
    /// What it is read with.
    pub instruments: Instruments,
    /// Volume by the plate of each tank, m³.
    pub plates: Vec<f64>,
    /// Cut-in by the switch's label, Pa.
    pub label_cut_in: f64,
    /// Whether a valve can shut the house off.
    pub house_valve: bool,
    /// Whether every tank has an isolation valve, where there are several.
    pub tank_valves: bool,
    /// Whether a filter or valve sits between tank and switch.
    pub parts_between: bool,
    /// Whether it was laid up: pump off, drained, the drain open.
    pub laid_up: bool,
    /// Whether the pump is a jet pump, above ground.
    pub jet: bool,
    /// Whether a drive, and no valve, holds the pressure.
    pub drive: bool,
    /// Whether the tanks are plain ones, without a bladder.
    pub plain: bool,
}

impl Default for Household {
    fn default() -> Household {
        let site = PlantSite::default();
        Household {
            plates: site.tanks.iter().map(|tank| tank.volume).collect(),
            label_cut_in: site.switch.cut_in,
            instruments: Instruments::default(),
            house_valve: true,
            tank_valves: true,
            parts_between: false,
            laid_up: false,
            jet: false,
            drive: false,
            plain: false,
            site,
        }
    }
}

/// Switches that are sold, by their label, psi.
const SWITCHES_SOLD: &[(f64, f64)] = &[(30.0, 50.0), (40.0, 60.0), (40.0, 60.0), (50.0, 70.0)];
/// Volumes of tanks on plates, gal.
const VOLUMES_SOLD: &[f64] = &[20.0, 32.0, 44.0, 62.0, 86.0, 119.0];

impl Household {
    /// A sound household, drawn from a seed: size of the tank, switch, pump, gauges, place. Ranges are
    /// judgements.
    pub fn at_random(seed: u64) -> Household {
        let mut random = chance(seed);
        let (cut_in, cut_out) = random.one_of(SWITCHES_SOLD);
        let volume = random.one_of(VOLUMES_SOLD) * GALLON;
        let mut home = Household::default();
        let switch = &mut home.site.switch;
        switch.cut_in = (cut_in + random.between(-1.0, 1.0)) * PSI;
        switch.cut_out = (cut_out + random.between(-1.0, 1.0)) * PSI;
        switch.scatter = 0.3 * PSI;
        home.site.pump.shutoff = (cut_out + random.between(20.0, 45.0)) * PSI;
        // A quarter of the tank in 80 to 155 s: with the air warmed by the fill, a minute at least.
        let seconds = random.between(80.0, 155.0);
        home.site.pump.free_flow *= 0.25 * volume / (seconds * home.usual_flow());
        home.site.ambient += random.between(-6.0, 8.0);
        home.site.elevation = random.between(0.0, 900.0);
        home.site.relief = Some((cut_out + 25.0) * PSI);
        home.label_cut_in = cut_in * PSI;
        home.instruments = Household::common_instruments(&mut random);
        let precharge = home.site.switch.cut_in - random.between(1.5, 3.5) * PSI;
        let grit = random.between(0.0, 5e-5);
        let tank = TankSite { volume, precharge, grit, ..TankSite::default() };
        home.plates = vec![volume * random.between(0.99, 1.01)];
        home.site.tanks = vec![tank];
        home
    }

    /// What the pump brings half way between the two pressures of its switch, m³/s.
    pub(super) fn usual_flow(&self) -> f64 {
        let (switch, pump) = (&self.site.switch, &self.site.pump);
        let half_way = 0.5 * (switch.cut_in + switch.cut_out);
        pump.free_flow * (1.0 - half_way / pump.shutoff).max(0.0).sqrt()
    }

    /// Gauges as they are commonly found, each as far off as one such may be.
    fn common_instruments(random: &mut Random) -> Instruments {
        let mut within = |limit: f64| random.between(-limit, limit);
        let exact = Instruments::default();
        Instruments {
            line: Instrument { bias: within(1.2) * PSI, stick: 0.3 * PSI, ..exact.line },
            second: Instrument { bias: within(1.0) * PSI, ..exact.second },
            air: Instrument { bias: within(0.7) * PSI, ..exact.air },
            bucket: Instrument { gain: 1.0 + within(0.025), ..exact.bucket },
            thermometer: Instrument { bias: within(0.8), ..exact.thermometer },
            watch: Instrument { bias: within(0.3), ..exact.watch },
        }
    }

    /// Makes it one that a procedure is for, by the states it speaks of: a loose tank where nothing is
    /// joined to a pump or the pump never ran, a new tank beside the old where one is joined, two tanks where each has its turn.
    pub fn suit(&mut self, procedure: &Procedure) {
        let Some(first) = self.site.tanks.first().cloned() else { return };
        self.laid_up = begins_without_power(procedure);
        let joins = brings(procedure, "new_tank_joined");
        let never_runs = !brings(procedure, "pump_on");
        if brings(procedure, "loose") && (never_runs || self.laid_up) {
            self.site.tanks[0].joined = false;
        } else if joins && !procedure.goes_round() {
            self.site.spare = Some(first);
        } else if procedure.goes_round() {
            self.plates.push(first.volume);
            self.site.tanks.push(TankSite { joined: !joins, ..first });
        }
    }

    /// Its system file, as its owner would have written it.
    ///
    /// # Errors
    /// [`Fault`]s when a figure lies outside what a system file can hold.
    pub fn system(&self) -> Result<System, Vec<Fault>> {
        system::load(&SourceText::new("system.toml", self.system_text()))
    }

    fn system_text(&self) -> String {
        let psi = |pressure: f64| format!("{:.0} psi", pressure / PSI);
        let feet = |length: f64| format!("{:.0} ft", unit("ft").map_or(length, |unit| length / unit.size));
        let mut text = format!(
            "format = 1\ninvented = true\nname = \"A simulated installation\"\nelevation = \"{}\"\nwarmest = \"80 degF\"\n\
             coldest = \"45 degF\"\n[switch]\ncut_in = \"{}\"\nlever = {}\n[pump]\nkind = \"{}\"\ncontrol = \"{}\"\n\
             power = \"0.75 hp\"\n{}[house]\nvalve = {}\ntreatment = false\n[relief]\npresent = {}\n",
            feet(self.site.elevation),
            psi(self.label_cut_in),
            self.site.switch.lever.is_some(),
            if self.jet { "jet" } else { "submersible" },
            self.control(),
            self.maker_says(),
            self.house_valve,
            self.site.relief.is_some(),
        );
        if let Some(opens) = self.site.relief {
            // Written to a text, so it cannot fail.
            let _ = writeln!(text, "setting = \"{}\"", psi(opens));
        }
        if self.site.drain_at_tank {
            text.push_str("[layout]\ndrain = \"tank\"\ncontrols = \"line\"\nspigot = \"line\"\n");
        }
        for (at, (tank, plate)) in self.site.tanks.iter().zip(&self.plates).enumerate() {
            let _ = write!(
                text,
                "[[tank]]\nid = \"tank-{}\"\nname = \"tank {}\"\nkind = \"{}\"\nvolume = \"{:.1} gal\"\nlimit = \"{}\"\n\
                 height = \"{}\"\n",
                at + 1,
                at + 1,
                if self.plain { "plain" } else { "bladder" },
                plate / GALLON,
                psi(tank.limit),
                feet(tank.height),
            );
        }
        text
    }

    /// What runs the pump, in the words of a system file.
    fn control(&self) -> &'static str {
        match (self.drive, self.site.pump.valve) {
            (true, _) => "drive",
            (false, Some(_)) => "valve",
            (false, None) => "switch",
        }
    }

    /// What the manual of a constant-pressure valve or of a drive says: what it holds, and the precharge it wants.
    fn maker_says(&self) -> String {
        let Some(valve) = self.site.pump.valve else { return String::new() };
        let [holds, precharge] = [valve.holds, 0.7 * valve.holds].map(|pressure| pressure / PSI);
        format!("set_pressure = \"{holds:.0} psi\"\nprecharge = \"{precharge:.0} psi\"\n")
    }
}

/// Whether any of the steps brings a state about.
fn brings(procedure: &Procedure, state: &str) -> bool {
    procedure.all_steps().any(|step| step.brings.iter().any(|it| **it == *state))
}

/// Whether the first that is done about the pump's power finds it off: `pump_off` comes about where nothing
/// is turned off.
fn begins_without_power(procedure: &Procedure) -> bool {
    let touches =
        |step: &&Step| step.brings.iter().any(|it| ["pump_on", "pump_waits", "pump_off"].contains(&&**it));
    procedure.all_steps().find(touches).is_some_and(|step| {
        step.brings.iter().any(|it| **it == *"pump_off") && !step.undoes.iter().any(|it| **it == *"pump_on")
    })
}
