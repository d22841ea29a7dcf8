//! What a simulated well system is made of.

use crate::quantity::{GALLON, GPM, PSI};

/// A well system as it stands before anything is done to it. Units: SI, pressures above the local air.
#[derive(Clone, Debug, PartialEq)]
pub struct PlantSite {
    /// Height above the sea, m.
    pub elevation: f64,
    /// Temperature where the tanks stand, K.
    pub ambient: f64,
    /// How fast that changes, K/s.
    pub ambient_rate: f64,
    /// The tanks, in the order of the installation's description.
    pub tanks: Vec<TankSite>,
    /// A tank that stands by to replace the first.
    pub spare: Option<TankSite>,
    /// The pump.
    pub pump: PumpSite,
    /// The pressure switch.
    pub switch: SwitchSite,
    /// What leaks or weeps.
    pub leaks: Leaks,
    /// Whether the valve between tank and house stands open.
    pub house_open: bool,
    /// Where the relief valve opens, Pa; none is fitted without.
    pub relief: Option<f64>,
    /// Conductance of the drain wide open, m³/s for √Pa.
    pub drain: f64,
    /// Share of grit in the water of the well.
    pub well_grit: f64,
    /// Whether the drain sits between the first tank's own valve and that tank, not on the line.
    pub drain_at_tank: bool,
}

/// A tank.
#[derive(Clone, Debug, PartialEq)]
pub struct TankSite {
    /// Its whole volume, m³.
    pub volume: f64,
    /// Precharge at the place's temperature, Pa.
    pub precharge: f64,
    /// Highest pressure it may bear, Pa.
    pub limit: f64,
    /// How much higher than the switch it stands, m.
    pub height: f64,
    /// Metres of water that stand in it when it is full.
    pub column: f64,
    /// How the bladder is.
    pub bladder: Bladder,
    /// Water behind the bladder, m³.
    pub trapped: f64,
    /// The most water that the bladder lets in, m³.
    pub most_water: f64,
    /// Conductance of the outlet, m³/s for √Pa.
    pub outlet: f64,
    /// Whether its own valve stands open.
    pub valve_open: bool,
    /// Whether it is joined to the line.
    pub joined: bool,
    /// Air that leaves at the valve or a seam, mol/s for each pascal above the outside.
    pub air_leak: f64,
    /// Volume of grit that settled in it, m³.
    pub grit: f64,
}

/// How a bladder is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bladder {
    /// It keeps air and water apart.
    Sound,
    /// It is torn.
    Torn {
        /// The tear closes when the tank is empty, so that air stays.
        seals: bool,
        /// Water stands at the air valve.
        wet_valve: bool,
    },
}

/// A pump.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PumpSite {
    /// Pressure at the switch at which no more water comes, Pa; the lift is taken off.
    pub shutoff: f64,
    /// Flow against no pressure at the switch, m³/s.
    pub free_flow: f64,
    /// Whether it starts at all.
    pub works: bool,
    /// Whether a jet pump has its water; without it turns and brings nothing.
    pub primed: bool,
    /// Whether that runs back into the well while the line is drained: its foot valve leaks.
    pub runs_back: bool,
    /// The constant-pressure valve behind it, where there is one.
    pub valve: Option<PressureValve>,
}

/// A constant-pressure valve: it throttles the pump to hold a pressure while water is drawn, and fills the
/// tank slowly once none is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PressureValve {
    /// The pressure it holds, Pa.
    pub holds: f64,
    /// The flow it always lets through, m³/s.
    pub least: f64,
}

/// A pressure switch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SwitchSite {
    /// Where it starts the pump, Pa.
    pub cut_in: f64,
    /// Where it stops it, Pa.
    pub cut_out: f64,
    /// Standard deviation of both from one cycle to the next, Pa.
    pub scatter: f64,
    /// Time constant of its nipple, s.
    pub lag: f64,
    /// How much more than the line it feels while the pump brings its free flow, Pa.
    pub surge: f64,
    /// Its contacts never open.
    pub welded: bool,
    /// How far below the cut-in its low-pressure lever trips, Pa.
    pub lever: Option<f64>,
    /// What a turn of the big nut is worth, Pa: both points.
    pub range_turn: f64,
    /// What a turn of the small nut is worth, Pa: the cut-out.
    pub differential_turn: f64,
}

/// Conductances of what leaks, m³/s for √Pa.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Leaks {
    /// Back through the check valve.
    pub check_valve: f64,
    /// Behind the house's valve.
    pub house: f64,
    /// At the relief valve.
    pub relief: f64,
    /// Water drawn in the house, behind its valve.
    pub demand: f64,
}

impl Default for PlantSite {
    /// A sound installation: one tank of 44 gal with 38 psi, a switch of 40/60 psi, a pump that brings
    /// 8 to 11 gal/min.
    fn default() -> PlantSite {
        PlantSite {
            elevation: 0.0,
            ambient: 288.15,
            ambient_rate: 0.0,
            tanks: vec![TankSite::default()],
            spare: None,
            pump: PumpSite {
                shutoff: 85.0 * PSI,
                free_flow: 15.5 * GPM,
                works: true,
                primed: true,
                runs_back: false,
                valve: None,
            },
            switch: SwitchSite::default(),
            leaks: Leaks::default(),
            house_open: true,
            relief: Some(75.0 * PSI),
            drain: 1.2e-6,
            well_grit: 2e-5,
            drain_at_tank: false,
        }
    }
}

impl Default for SwitchSite {
    fn default() -> SwitchSite {
        SwitchSite {
            cut_in: 40.0 * PSI,
            cut_out: 60.0 * PSI,
            scatter: 0.0,
            lag: 0.0,
            surge: 0.0,
            welded: false,
            lever: None,
            range_turn: 2.5 * PSI,
            differential_turn: 2.5 * PSI,
        }
    }
}

impl Default for TankSite {
    fn default() -> TankSite {
        TankSite {
            volume: 44.0 * GALLON,
            precharge: 38.0 * PSI,
            limit: 100.0 * PSI,
            height: 0.0,
            column: 1.0,
            bladder: Bladder::Sound,
            trapped: 0.0,
            most_water: f64::INFINITY,
            outlet: 1e-5,
            valve_open: true,
            joined: true,
            air_leak: 0.0,
            grit: 0.0,
        }
    }
}
