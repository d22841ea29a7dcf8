//! The causes of the switch, pump, gauges and pipes.

use super::cause::CauseId::*;
use super::cause::Group::*;
use super::cause::Weight::*;
use super::cause::Who::*;
use super::cause::{Cause, cause, healthy};
use super::items::Item::*;

/// In the order of their ids.
pub(super) const BESIDE: [Cause; 18] = [
    healthy(
        SwitchRight,
        Switch,
        0.80,
        (
            "switch in order",
            "The pump starts and stops about where its label says.",
            "cut-in within a few psi of its label, cut-out 20 psi above, starts within 1 psi of one another",
        ),
    ),
    cause(
        (Drifted, Switch, 0.08),
        (
            "cut-in is not what its label says",
            "The pump starts well away from where its label says.",
            "cut-in 4 to 12 psi from its label",
        ),
        &[&[Starts]],
        (
            "Go by what you saw, not by the label: the precharge follows the cut-in you watched.",
            Owner,
            None,
            Note,
        ),
    ),
    cause(
        (Nipple, Switch, 0.03),
        (
            "nipple under the switch clogged",
            "The cut-in scatters: the nipple, the short pipe under the switch, is likely clogged, or the switch is worn.",
            "starts that scatter by 2 to 5 psi; at times the switch chatters",
        ),
        &[&[Starts], &[SwitchSound]],
        ("Have the nipple cleaned or the switch changed, with its gauge.", Electrician, Some(30), Act),
    ),
    cause(
        (Narrow, Switch, 0.03),
        (
            "differential too small",
            "Cut-out is too close above cut-in, so each cycle is short.",
            "4 to 13 psi between cut-in and cut-out",
        ),
        &[&[Starts, CutOut]],
        ("Have the differential widened: `tankhand run set-switch`.", Electrician, Some(30), Attention),
    ),
    cause(
        (Apart, Switch, 0.025),
        (
            "a part between tank and switch",
            "A filter, softener or valve sits between tank and switch, so the switch feels the pump at once and the tank too late.",
            "chatter at the start; it often stops short of the cut-out on the label; runs of a fraction of what the drawdown asks",
        ),
        &[&[Order]],
        (
            "Have a plumber put tank and switch side by side, with treatment after them. No precharge cures this.",
            Installer,
            Some(30),
            Act,
        ),
    ),
    cause(
        (Unreached, Switch, 0.02),
        (
            "pump does not reach cut-out",
            "The pump runs on below its cut-out.",
            "it does not stop; the needle stays 1 to 15 psi below the cut-out of the label",
        ),
        &[&[NeverStops], &[CutOut]],
        ("Turn the breaker off. Have a pump installer look at pump, switch and well.", Installer, None, Act),
    ),
    cause(
        (Welded, Switch, 0.02),
        (
            "switch contacts welded",
            "The pump runs on above its cut-out: the switch no longer opens.",
            "it does not stop; the needle rises above the cut-out of the label",
        ),
        &[&[NeverStops], &[CutOut]],
        ("Turn the breaker off and leave it off. Have the switch replaced.", Electrician, None, Act),
    ),
    healthy(
        PumpRight,
        Pump,
        0.84,
        (
            "run time as usual",
            "The pump runs about as long as usual for the water the tank takes in.",
            "about 100 s for a full drawdown, within a factor of 1.8 either way",
        ),
    ),
    cause(
        (ShortFlow, Pump, 0.06),
        (
            "pump short of flow",
            "The pump runs far longer than the water calls for: pump, screen or well is short of flow.",
            "about 420 s for a full drawdown",
        ),
        &[&[RunTime, Drawdown]],
        (
            "Measure the flow with a bucket and a watch, then ask a pump installer.",
            Installer,
            Some(30),
            Attention,
        ),
    ),
    cause(
        (TooSmall, Pump, 0.10),
        (
            "tank too small for the pump",
            "Even with its full drawdown the tank fills in well under a minute: it is too small for this pump.",
            "about 35 s for a full drawdown; at times the rush stops the pump short of its cut-out",
        ),
        &[&[RunTime, Drawdown]],
        ("Get a larger tank, or one more.", Owner, None, Attention),
    ),
    healthy(
        ReadRight,
        Measuring,
        0.88,
        (
            "gauges in order",
            "The gauges agree as far as they are accurate.",
            "errors within what is known of each gauge",
        ),
    ),
    cause(
        (LineOff, Measuring, 0.05),
        (
            "pressure gauge off",
            "The pressure gauge reads clearly too high or too low.",
            "all line pressures 4 to 10 psi off; in 7 of 10 cases at zero too",
        ),
        &[&[Zero], &[SecondGauge]],
        ("Fit a new pressure gauge and measure again.", Owner, None, Attention),
    ),
    cause(
        (AirOff, Measuring, 0.04),
        (
            "tire gauge off",
            "The tire gauge reads clearly too high or too low.",
            "the precharge reads about 7 psi off what the drawdown says",
        ),
        &[&[Precharge, Drawdown, Starts]],
        ("Read the precharge again with another tire gauge.", Owner, None, Note),
    ),
    cause(
        (WarmAir, Measuring, 0.03),
        (
            "air was warm from a fast fill",
            "The tank's air was still warm when the water was caught, so the drawdown came out low.",
            "78 to 94 % of the drawdown",
        ),
        &[&[Drawdown, Precharge, Starts]],
        ("Let the tank rest for 20 minutes and catch the drawdown again.", Owner, None, Note),
    ),
    healthy(
        Tight,
        Leaks,
        0.80,
        ("no leak found", "The pressure holds.", "no more than about half a psi in 15 minutes"),
    ),
    cause(
        (House, Leaks, 0.08),
        (
            "leak on the house side",
            "The house draws water though nobody uses it.",
            "about 5 psi lost in 15 minutes with the house open, none with it shut",
        ),
        &[&[HoldOpen]],
        (
            "Look for a running toilet, a dripping faucet, a softener that rinses without end, or a wet spot in the yard.",
            Owner,
            Some(30),
            Act,
        ),
    ),
    cause(
        (CheckValve, Leaks, 0.07),
        (
            "check valve leaks",
            "Water runs back toward the well: the check valve leaks, or a pipe on the well side.",
            "about 5 psi lost in 15 minutes with the house shut; a trickle toward the well",
        ),
        &[&[HoldShut], &[HoldOpen]],
        (
            "Call a pump installer. Until then the pump lifts the same water again and again.",
            Installer,
            Some(30),
            Act,
        ),
    ),
    cause(
        (Weeping, Leaks, 0.05),
        (
            "drip at relief valve or joint",
            "Water leaves at the relief valve, the drain valve or a joint.",
            "about 2.5 psi lost in 15 minutes with the house shut; a drip that is seen",
        ),
        &[&[HoldShut], &[HoldOpen]],
        ("Have the drip mended, then hold the pressure once more.", Owner, Some(30), Act),
    ),
];
