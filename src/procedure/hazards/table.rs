//! The table of hazards.

use super::message::{FigureStands, Hazard, HazardFigure, Signal};
use crate::lang::Value;
use crate::physics::constants::WATER_DENSITY;
use crate::quantity::Measure;

use FigureStands::{Always, Instead, Whole};
use Signal::{Caution, Danger, Notice, Warning};

const fn figure(of: &'static str, line: &'static str, stands: FigureStands) -> HazardFigure {
    HazardFigure { of, line, shows: Some, stands }
}

const TARGET: HazardFigure = figure("target_precharge", "The target is {}.", Whole);
const LIMIT: HazardFigure = figure("plate_limit", "Never above the plate limit, {}.", Whole);
const HIGHEST: HazardFigure =
    figure("pressure_limit", "Never above {}, the lower of plate limit and relief valve.", Always);
const RELIEF: HazardFigure =
    figure("relief_setting", "Never above {}, where the relief valve opens.", Instead);
const FULL: HazardFigure = HazardFigure {
    shows: weight_of_water,
    ..figure("plate_volume", "Full of water it weighs about {} more than empty.", Whole)
};

fn weight_of_water(volume: Value) -> Option<Value> {
    Some(Value::exact(Measure::Mass, volume.amount()?.value() * WATER_DENSITY.value))
}

/// Every hazard, with what is said of it.
pub static HAZARDS: &[Hazard] = &[
    Hazard {
        id: "mains",
        signal: Danger,
        name: "Electric shock",
        is: "the pressure switch, the control box and the breaker hold 120/240 V.",
        does: "Touching a live part will kill.",
        avoid: "Dry hands and dry feet. Leave covers on; keep hands and tools off. A silent pump does not prove dead wires.",
        figures: &[],
        stop: "If the panel is wet, keep away and call a licensed electrician. No cover comes off unless a step says so: then breaker off, and a voltage tester tried on a live point first, or an electrician. Control boxes and drives keep charge: wait as the manual says.",
        lead: "Live parts kill: ",
        short: "dry hands at the breaker, hands off pump and switch.",
    },
    Hazard {
        id: "pump_starts",
        signal: Danger,
        name: "A pump that starts by itself",
        is: "the switch can start the pump at any moment while the breaker is on.",
        does: "A pump that starts under your hands will injure or kill.",
        avoid: "Turn off the pump's breaker, not the switch. Tag it. Lock it if you can. Move a switch's lever only with the cover on, and touch nothing else there.",
        figures: &[],
        stop: "If you are not sure which breaker it is, call a licensed electrician.",
        lead: "The pump can start by itself. ",
        short: "Keep hands off pump and switch.",
    },
    Hazard {
        id: "stored_air",
        signal: Danger,
        name: "Stored air",
        is: "the tank holds compressed air behind a small valve.",
        does: "Too much will burst the tank and can kill; a valve core can shoot out and blind you.",
        avoid: "Eye protection on. Set the compressor's regulator a little above the target, as the step says, before you connect it. Short bursts, face aside. The relief valve does not guard the air side. Change a valve core only with all air let out. A torn tank holds air on the water side too.",
        figures: &[TARGET, LIMIT],
        stop: "If any gauge is over the limit, shut the compressor off, leave it, and keep everyone away.",
        lead: "Stored air: ",
        short: "short bursts, face aside, eye protection on.",
    },
    Hazard {
        id: "stored_water",
        signal: Warning,
        name: "Water under pressure",
        is: "tank, line and hoses hold water under pressure.",
        does: "A loosened fitting can shoot off and seriously injure you.",
        avoid: "Let it out at the drain valve, or as the step says. Loosen nothing before the gauge reads zero. Keep your face away.",
        figures: &[],
        stop: "If a fitting moves or sprays, leave it; dry your hands and turn the breaker off.",
        lead: "Water under pressure: ",
        short: "loosen nothing before the gauge reads zero.",
    },
    Hazard {
        id: "relief_valve",
        signal: Warning,
        name: "No relief valve",
        is: "without a working relief valve nothing limits the pressure.",
        does: "A tank or pipe can burst and kill or injure you.",
        avoid: "Look for the relief valve between the pump and the tank. The T&P valve of the water heater is not it; lifting that one scalds.",
        figures: &[],
        stop: "If there is no relief valve, or it is plugged or shut off, do not raise the pressure and add no air. Have a licensed installer fit one.",
        lead: "",
        short: "No relief valve, no pressure.",
    },
    Hazard {
        id: "over_pressure",
        signal: Warning,
        name: "Too much pressure",
        is: "the pump may not stop, and filters, softeners and hoses have limits of their own.",
        does: "A burst fitting can seriously injure you.",
        avoid: "Stay at the gauge while the pump runs. Go by the lowest limit of anything in the line. Above 80 psi (5.5 bar) codes want a pressure-reducing valve: leave that to a plumber.",
        figures: &[HIGHEST, RELIEF],
        stop: "If the gauge passes the limit or the relief valve runs, open the drain; then dry your hands and turn the breaker off.",
        lead: "",
        short: "Stay at the gauge: over the limit open the drain, dry hands, breaker off.",
    },
    Hazard {
        id: "weight",
        signal: Warning,
        name: "Weight",
        is: "a tank can be full of water even though nothing runs out.",
        does: "A tank that falls can crush and kill you.",
        avoid: "Leave it standing: do not tilt, rock or lean on it, and never dig under it. Only where a step moves it: two people or a hoist.",
        figures: &[FULL],
        stop: "If it is heavier than an empty one, do not move it.",
        lead: "",
        short: "It may be full of water: if heavy, leave it.",
    },
    Hazard {
        id: "chlorine",
        signal: Warning,
        name: "Bleach",
        is: "bleach burns eyes, skin and lungs.",
        does: "With acid or ammonia it gives a gas that can kill.",
        avoid: "Never mix it with anything but water. Gloves, eye protection, fresh air. The tank maker's own dose and time go before ours. Dilute it before you let it out; never into a septic tank, stream or pond.",
        figures: &[],
        stop: "If there are fumes or a splash, leave, rinse with water for 15 minutes, and call the emergency number.",
        lead: "Bleach: ",
        short: "gloves, eye protection, fresh air.",
    },
    Hazard {
        id: "drinking_water",
        signal: Warning,
        name: "Unsafe water",
        is: "the water is not safe to drink until a laboratory has tested it.",
        does: "Germs in it can make people seriously ill, infants most of all.",
        avoid: "Boil it: a rolling boil for 1 minute, 3 minutes above 6,500 ft. Boiling does not help against nitrate, fuel or chemicals: then use bottled water.",
        figures: &[],
        stop: "Ask the health department what to test for.",
        lead: "",
        short: "Do not drink the water until the laboratory says so.",
    },
    Hazard {
        id: "well_opening",
        signal: Danger,
        name: "An open well",
        is: "the well's seal may carry the pump and its pipe.",
        does: "A falling pipe will injure you; live wires in the well will kill.",
        avoid: "Breaker off while it is open. Lift only a cap that just covers. Never unbolt a seal with a pipe through it. Keep bleach off the wires' connectors.",
        figures: &[],
        stop: "In some places only licensed people may open a well: ask first.",
        lead: "The well is open: ",
        short: "breaker off, nothing may fall in.",
    },
    Hazard {
        id: "confined_space",
        signal: Danger,
        name: "Bad air in a pit",
        is: "a pit can hold air that does not keep you alive.",
        does: "It will kill without warning, and whoever follows to help.",
        avoid: "Never enter alone. Ventilate it first.",
        figures: &[],
        stop: "In doubt stay out and call a licensed installer.",
        lead: "A pit: its air can kill without smell. ",
        short: "In doubt stay out.",
    },
    Hazard {
        id: "back_siphonage",
        signal: Warning,
        name: "Back-siphonage",
        is: "a hose in a bucket, pool, trough or sprayer draws dirty water back when the pressure goes.",
        does: "Dirty water in the drinking water can make people seriously ill.",
        avoid: "Lift every hose end into the open air now. Use a vacuum breaker.",
        figures: &[],
        stop: "If dirty water was drawn in, do not drink until a laboratory has tested the water.",
        lead: "",
        short: "Every hose end hangs in the open air.",
    },
    Hazard {
        id: "heat",
        signal: Caution,
        name: "Hot water",
        is: "a heater with no water coming in can overheat; a jet pump that ran against a shut valve is hot.",
        does: "Steam or hot water can scald you.",
        avoid: "Gas heater to \"pilot\" or \"off\"; electric heater off at its own breaker. Let a hot pump cool.",
        figures: &[],
        stop: "If the heater hisses or its valve drips, keep away and call a plumber.",
        lead: "Hot water: ",
        short: "the heater stays off until a hot faucet runs without air.",
    },
    Hazard {
        id: "freezing",
        signal: Notice,
        name: "Frost",
        is: "water that freezes bursts tank, pump and pipe; flames and heaters start fires.",
        does: "A burst line floods the place when it thaws.",
        avoid: "No flame on ice. Keep a heater clear of everything; no fuel heater in a closed room.",
        figures: &[],
        stop: "If a part has cracked, keep the breaker off and call a licensed installer.",
        lead: "Frost: ",
        short: "no flame on ice.",
    },
    Hazard {
        id: "cords",
        signal: Warning,
        name: "Shock from cords in a wet place",
        is: "a compressor or lamp stands where it is wet.",
        does: "A damaged cord can kill.",
        avoid: "Use a GFCI-protected outlet. Keep plug and compressor off the wet floor.",
        figures: &[],
        stop: "If the outlet trips, do not reset it with wet hands; find out why.",
        lead: "Cords: ",
        short: "GFCI outlet, plugs off the wet floor.",
    },
    Hazard {
        id: "metal_ground",
        signal: Warning,
        name: "Shock from a metal pipe",
        is: "a metal water pipe may be the electrical ground of the house.",
        does: "Cutting it can put full voltage on the two ends and kill you.",
        avoid: "Do not cut or part a metal line before an electrician has bridged it.",
        figures: &[],
        stop: "If you feel a tingle at a pipe or valve, let go, turn the breaker off and call a licensed electrician.",
        lead: "A tingle at a pipe: ",
        short: "let go, breaker off, electrician.",
    },
    Hazard {
        id: "unattended",
        signal: Notice,
        name: "A pump left alone",
        is: "a pump that runs dry or does not stop is ruined and can flood the place.",
        does: "The damage can be large.",
        avoid: "Stay while it runs, or turn the breaker off.",
        figures: &[],
        stop: "If the gauge stays at zero for 1 min, turn the breaker off.",
        lead: "",
        short: "Stay while the pump runs.",
    },
];
