//! The causes of the tank.

use super::cause::CauseId::*;
use super::cause::Group::*;
use super::cause::Weight::*;
use super::cause::Who::*;
use super::cause::{Cause, USUAL_CAUSE};
use super::items::Item::*;

/// In the order of their ids.
pub(super) const OF_TANK: [Cause; 12] = [
    Cause {
        id: TankRight,
        group: Tank,
        prior: 0.46,
        name: "tank in order",
        says: "The tank has about the right precharge and gives the water it should.",
        predicts: "the precharge lies -0.5 to 7 psi below cut-in, most often 2.5; drawdown by Boyle's law",
        ..USUAL_CAUSE
    },
    Cause {
        id: Low,
        group: Tank,
        prior: 0.17,
        name: "precharge low",
        says: "The precharge is well below cut-in, so the tank gives less water per cycle and the pump starts more often.",
        predicts: "the precharge lies more than 7 psi below cut-in; drawdown by Boyle's law",
        tested_by: &[&[Precharge, Starts], &[Drawdown, Starts]],
        remedy: "Set the precharge.",
        again: Some(90),
        weight: Attention,
        ..USUAL_CAUSE
    },
    Cause {
        id: High,
        group: Tank,
        prior: 0.07,
        name: "precharge high",
        says: "The precharge is above the cut-in you watched, so the tank is empty before the pump starts.",
        predicts: "the precharge lies above cut-in, by 8 psi on average; the needle drops at the end",
        tested_by: &[&[Precharge, Starts], &[Drawdown, Starts]],
        remedy: "Let air out until the precharge is at its target.",
        again: Some(90),
        weight: Attention,
        ..USUAL_CAUSE
    },
    Cause {
        id: Waterlogged,
        group: Tank,
        prior: 0.06,
        name: "waterlogged",
        says: "The precharge is gone: the tank is full of water with no air cushion left, and the pump starts for each glass.",
        predicts: "a precharge of 0 to 3 psi; often nothing at the air valve's pin; hardly any drawdown",
        tested_by: &[&[Precharge], &[Pin], &[Drawdown, Starts]],
        remedy: "Set the precharge. If air is lost again, soap the air valve; if the valve is tight, the bladder is failing.",
        again: Some(30),
        weight: Attention,
        ..USUAL_CAUSE
    },
    Cause {
        id: Torn,
        group: Tank,
        prior: 0.07,
        name: "bladder torn",
        says: "The bladder is torn: air and water mix, and no precharge stays.",
        predicts: "water at the air valve's pin, a dull sound, added air that leaves, more weight than the plate's",
        tested_by: &[&[Pin, Sound], &[Pin, AddedAir], &[Pin, Weighed], &[Pin, Precharge]],
        remedy: "Have the tank replaced. Let its air out and drain it before anyone moves it.",
        who: Installer,
        weight: Act,
        ..USUAL_CAUSE
    },
    Cause {
        id: Stuck,
        group: Tank,
        prior: 0.015,
        name: "bladder stuck",
        says: "The bladder sticks to the shell or is folded, and the tank gives only a part of its water.",
        predicts: "0 to 60 % of the drawdown that the precharge promises; the precharge itself reads right",
        tested_by: &[&[Drawdown, Precharge, Starts]],
        remedy: "Fill the tank slowly, with the valve barely open, and drain it three times. If the drawdown stays low, have the tank replaced.",
        again: Some(30),
        weight: Attention,
        ..USUAL_CAUSE
    },
    Cause {
        id: Blocked,
        group: Tank,
        prior: 0.015,
        name: "outlet part-blocked",
        says: "The tank's outlet is clogged, so water passes slowly: the switch feels the pump at once and the tank too late.",
        predicts: "10 to 75 % of the drawdown; short runs; the needle springs back when the tap is shut",
        tested_by: &[&[Drawdown, Precharge, Starts]],
        remedy: "Drain the tank and clear its outlet, or flush it: `tankhand run flush`.",
        again: Some(30),
        weight: Attention,
        ..USUAL_CAUSE
    },
    Cause {
        id: Shut,
        group: Tank,
        prior: 0.015,
        name: "tank's own valve shut",
        says: "The valve on the tank's own pipe is shut, so the tank does nothing for the pump and keeps its pressure when the line is drained.",
        predicts: "the air valve shows the water's pressure; less than half a gallon of drawdown; runs of seconds",
        tested_by: &[&[Drawdown], &[Precharge, Starts], &[Handle]],
        remedy: "Open the tank's own valve slowly. Then read the precharge again with the tank drained.",
        again: Some(30),
        weight: Attention,
        ..USUAL_CAUSE
    },
    Cause {
        id: Hidden,
        group: Tank,
        prior: 0.02,
        name: "a failed tank beside this one",
        says: "A second tank on the line has lost its precharge, and this one works for both.",
        predicts: "half of the drawdown as it should be, half as of a tank without air",
        tested_by: &[&[Drawdown, Precharge, Starts, OtherTanks]],
        remedy: "Read the precharge of every tank on the line, one by one.",
        again: Some(30),
        weight: Attention,
        ..USUAL_CAUSE
    },
    Cause {
        id: Plate,
        group: Tank,
        prior: 0.03,
        name: "tank volume not as given",
        says: "The tank's volume is not the one given: a name is not a volume.",
        predicts: "drawdown in proportion to another volume, 16 to 60 % off, with the precharge right",
        tested_by: &[&[Drawdown, Precharge, Starts]],
        remedy: "Read the plate again and correct the volume.",
        weight: Attention,
        ..USUAL_CAUSE
    },
    Cause {
        id: Trapped,
        group: Tank,
        prior: 0.02,
        name: "water behind the bladder",
        says: "Water is trapped behind the bladder, and takes the place of air.",
        predicts: "30 to 85 % of the drawdown; a dull sound; more weight than the plate's; at times water at the pin",
        tested_by: &[&[Drawdown, Precharge, Starts], &[Weighed], &[Sound, Pin]],
        remedy: "Have the tank replaced: its bladder leaks.",
        who: Installer,
        weight: Act,
        ..USUAL_CAUSE
    },
    Cause {
        id: AirLeak,
        group: Tank,
        prior: 0.05,
        name: "air leaks",
        says: "The tank loses air, at the air valve or at a seam.",
        predicts: "4 to 25 psi less than last year; bubbles in soapy water in 8 of 10 cases",
        tested_by: &[&[Precharge, Earlier]],
        shown_by: Some(Soap),
        remedy: "Tighten or replace the air valve's core, then set the precharge. If a seam leaks, have the tank replaced.",
        again: Some(30),
        weight: Attention,
        ..USUAL_CAUSE
    },
];
