//! The causes of the tank.

use super::cause::CauseId::*;
use super::cause::Group::*;
use super::cause::Weight::*;
use super::cause::Who::*;
use super::cause::{Cause, cause, healthy};
use super::items::Item::*;

/// In the order of their ids.
pub(super) const OF_TANK: [Cause; 12] = [
    healthy(
        TankRight,
        Tank,
        0.46,
        (
            "tank in order",
            "The tank has about the right precharge and gives the water it should.",
            "the precharge lies -0.5 to 7 psi below cut-in, most often 2.5; drawdown by Boyle's law",
        ),
    ),
    cause(
        (Low, Tank, 0.17),
        (
            "precharge low",
            "The precharge is well below cut-in, so the tank gives less water per cycle and the pump starts more often.",
            "the precharge lies more than 7 psi below cut-in; drawdown by Boyle's law",
        ),
        &[&[Precharge, Starts], &[Drawdown, Starts]],
        ("Set the precharge.", Owner, Some(90), Attention),
    ),
    cause(
        (High, Tank, 0.07),
        (
            "precharge high",
            "The precharge is above the cut-in you watched, so the tank is empty before the pump starts.",
            "the precharge lies above cut-in, by 8 psi on average; the needle drops at the end",
        ),
        &[&[Precharge, Starts], &[Drawdown, Starts]],
        ("Let air out until the precharge is at its target.", Owner, Some(90), Attention),
    ),
    cause(
        (Waterlogged, Tank, 0.06),
        (
            "waterlogged",
            "The precharge is gone: the tank is full of water with no air cushion left, and the pump starts for each glass.",
            "a precharge of 0 to 3 psi; often nothing at the air valve's pin; hardly any drawdown",
        ),
        &[&[Precharge], &[Pin], &[Drawdown, Starts]],
        (
            "Set the precharge. If air is lost again, soap the air valve; if the valve is tight, the bladder is failing.",
            Owner,
            Some(30),
            Attention,
        ),
    ),
    cause(
        (Torn, Tank, 0.07),
        (
            "bladder torn",
            "The bladder is torn: air and water mix, and no precharge stays.",
            "water at the air valve's pin, a dull sound, added air that leaves, more weight than the plate's",
        ),
        &[&[Pin, Sound], &[Pin, AddedAir], &[Pin, Weighed], &[Pin, Precharge]],
        (
            "Have the tank replaced. Let its air out and drain it before anyone moves it.",
            Installer,
            None,
            Act,
        ),
    ),
    cause(
        (Stuck, Tank, 0.015),
        (
            "bladder stuck",
            "The bladder sticks to the shell or is folded, and the tank gives only a part of its water.",
            "0 to 60 % of the drawdown that the precharge promises; the precharge itself reads right",
        ),
        &[&[Drawdown, Precharge, Starts]],
        (
            "Fill the tank slowly, with the valve barely open, and drain it three times. If the drawdown stays low, have the tank replaced.",
            Owner,
            Some(30),
            Attention,
        ),
    ),
    cause(
        (Blocked, Tank, 0.015),
        (
            "outlet part-blocked",
            "The tank's outlet is clogged, so water passes slowly: the switch feels the pump at once and the tank too late.",
            "10 to 75 % of the drawdown; short runs; the needle springs back when the tap is shut",
        ),
        &[&[Drawdown, Precharge, Starts]],
        (
            "Drain the tank and clear its outlet, or flush it: `tankhand run flush`.",
            Owner,
            Some(30),
            Attention,
        ),
    ),
    cause(
        (Shut, Tank, 0.015),
        (
            "tank's own valve shut",
            "The valve on the tank's own pipe is shut, so the tank does nothing for the pump and keeps its pressure when the line is drained.",
            "the air valve shows the water's pressure; less than half a gallon of drawdown; runs of seconds",
        ),
        &[&[Drawdown], &[Precharge, Starts], &[Handle]],
        (
            "Open the tank's own valve slowly. Then read the precharge again with the tank drained.",
            Owner,
            Some(30),
            Attention,
        ),
    ),
    cause(
        (Hidden, Tank, 0.02),
        (
            "a failed tank beside this one",
            "A second tank on the line has lost its precharge, and this one works for both.",
            "half of the drawdown as it should be, half as of a tank without air",
        ),
        &[&[Drawdown, Precharge, Starts, OtherTanks]],
        ("Read the precharge of every tank on the line, one by one.", Owner, Some(30), Attention),
    ),
    cause(
        (Plate, Tank, 0.03),
        (
            "tank volume not as given",
            "The tank's volume is not the one given: a name is not a volume.",
            "drawdown in proportion to another volume, 16 to 60 % off, with the precharge right",
        ),
        &[&[Drawdown, Precharge, Starts]],
        ("Read the plate again and correct the volume.", Owner, None, Attention),
    ),
    cause(
        (Trapped, Tank, 0.02),
        (
            "water behind the bladder",
            "Water is trapped behind the bladder, and takes the place of air.",
            "30 to 85 % of the drawdown; a dull sound; more weight than the plate's; at times water at the pin",
        ),
        &[&[Drawdown, Precharge, Starts], &[Weighed], &[Sound, Pin]],
        ("Have the tank replaced: its bladder leaks.", Installer, None, Act),
    ),
    cause(
        (AirLeak, Tank, 0.05),
        (
            "air leaks",
            "The tank loses air, at the air valve or at a seam.",
            "4 to 25 psi less than last year; bubbles in soapy water in 8 of 10 cases",
        ),
        &[&[Precharge, Earlier]],
        (
            "Tighten or replace the air valve's core, then set the precharge. If a seam leaks, have the tank replaced.",
            Owner,
            Some(30),
            Attention,
        ),
    ),
];
