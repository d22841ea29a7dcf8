//! The causes of the switch, pump, gauges and pipes.

use super::cause::CauseId::*;
use super::cause::Group::*;
use super::cause::Weight::*;
use super::cause::Who::*;
use super::cause::{Cause, USUAL_CAUSE};
use super::items::Item::*;

/// In the order of their ids.
pub(super) const BESIDE: [Cause; 18] = [
    Cause {
        id: SwitchRight,
        group: Switch,
        prior: 0.80,
        name: "switch in order",
        says: "The pump starts and stops about where its label says.",
        predicts: "cut-in within a few psi of its label, cut-out 20 psi above, starts within 1 psi of one another",
        ..USUAL_CAUSE
    },
    Cause {
        id: Drifted,
        group: Switch,
        prior: 0.08,
        name: "cut-in is not what its label says",
        says: "The pump starts well away from where its label says.",
        predicts: "cut-in 4 to 12 psi from its label",
        tested_by: &[&[Starts]],
        remedy: "Go by what you saw, not by the label: the precharge follows the cut-in you watched.",
        weight: Note,
        ..USUAL_CAUSE
    },
    Cause {
        id: Nipple,
        group: Switch,
        prior: 0.03,
        name: "nipple under the switch clogged",
        says: "The cut-in scatters: the nipple, the short pipe under the switch, is likely clogged, or the switch is worn.",
        predicts: "starts that scatter by 2 to 5 psi; at times the switch chatters",
        tested_by: &[&[Starts], &[SwitchSound]],
        remedy: "Have the nipple cleaned or the switch changed, with its gauge.",
        who: Electrician,
        again: Some(30),
        weight: Act,
        ..USUAL_CAUSE
    },
    Cause {
        id: Narrow,
        group: Switch,
        prior: 0.03,
        name: "differential too small",
        says: "Cut-out is too close above cut-in, so each cycle is short.",
        predicts: "4 to 13 psi between cut-in and cut-out",
        tested_by: &[&[Starts, CutOut]],
        remedy: "Have the differential widened: `tankhand run set-switch`.",
        who: Electrician,
        again: Some(30),
        weight: Attention,
        ..USUAL_CAUSE
    },
    Cause {
        id: Apart,
        group: Switch,
        prior: 0.025,
        name: "a part between tank and switch",
        says: "A filter, softener or valve sits between tank and switch, so the switch feels the pump at once and the tank too late.",
        predicts: "chatter at the start; it often stops short of the cut-out on the label; runs of a fraction of what the drawdown asks",
        tested_by: &[&[Order]],
        remedy: "Have a plumber put tank and switch side by side, with treatment after them. No precharge cures this.",
        who: Installer,
        again: Some(30),
        weight: Act,
        ..USUAL_CAUSE
    },
    Cause {
        id: Unreached,
        group: Switch,
        prior: 0.02,
        name: "pump does not reach cut-out",
        says: "The pump runs on below its cut-out.",
        predicts: "it does not stop; the needle stays 1 to 15 psi below the cut-out of the label",
        tested_by: &[&[NeverStops], &[CutOut]],
        remedy: "Turn the breaker off. Have a pump installer look at pump, switch and well.",
        who: Installer,
        weight: Act,
        ..USUAL_CAUSE
    },
    Cause {
        id: Welded,
        group: Switch,
        prior: 0.02,
        name: "switch contacts welded",
        says: "The pump runs on above its cut-out: the switch no longer opens.",
        predicts: "it does not stop; the needle rises above the cut-out of the label",
        tested_by: &[&[NeverStops], &[CutOut]],
        remedy: "Turn the breaker off and leave it off. Have the switch replaced.",
        who: Electrician,
        weight: Act,
        ..USUAL_CAUSE
    },
    Cause {
        id: PumpRight,
        group: Pump,
        prior: 0.84,
        name: "run time as usual",
        says: "The pump runs about as long as usual for the water the tank takes in.",
        predicts: "about 100 s for a full drawdown, within a factor of 1.8 either way",
        ..USUAL_CAUSE
    },
    Cause {
        id: ShortFlow,
        group: Pump,
        prior: 0.06,
        name: "pump short of flow",
        says: "The pump runs far longer than the water calls for: pump, screen or well is short of flow.",
        predicts: "about 420 s for a full drawdown",
        tested_by: &[&[RunTime, Drawdown]],
        remedy: "Measure the flow with a bucket and a watch, then ask a pump installer.",
        who: Installer,
        again: Some(30),
        weight: Attention,
        ..USUAL_CAUSE
    },
    Cause {
        id: TooSmall,
        group: Pump,
        prior: 0.10,
        name: "tank too small for the pump",
        says: "Even with its full drawdown the tank fills in well under a minute: it is too small for this pump.",
        predicts: "about 35 s for a full drawdown; at times the rush stops the pump short of its cut-out",
        tested_by: &[&[RunTime, Drawdown]],
        remedy: "Get a larger tank, or one more.",
        weight: Attention,
        ..USUAL_CAUSE
    },
    Cause {
        id: ReadRight,
        group: Measuring,
        prior: 0.88,
        name: "gauges in order",
        says: "The gauges agree as far as they are accurate.",
        predicts: "errors within what is known of each gauge",
        ..USUAL_CAUSE
    },
    Cause {
        id: LineOff,
        group: Measuring,
        prior: 0.05,
        name: "pressure gauge off",
        says: "The pressure gauge reads clearly too high or too low.",
        predicts: "all line pressures 4 to 10 psi off; in 7 of 10 cases at zero too",
        tested_by: &[&[Zero], &[SecondGauge]],
        remedy: "Fit a new pressure gauge and measure again.",
        weight: Attention,
        ..USUAL_CAUSE
    },
    Cause {
        id: AirOff,
        group: Measuring,
        prior: 0.04,
        name: "tire gauge off",
        says: "The tire gauge reads clearly too high or too low.",
        predicts: "the precharge reads about 7 psi off what the drawdown says",
        tested_by: &[&[Precharge, Drawdown, Starts]],
        remedy: "Read the precharge again with another tire gauge.",
        weight: Note,
        ..USUAL_CAUSE
    },
    Cause {
        id: WarmAir,
        group: Measuring,
        prior: 0.03,
        name: "air was warm from a fast fill",
        says: "The tank's air was still warm when the water was caught, so the drawdown came out low.",
        predicts: "78 to 94 % of the drawdown",
        tested_by: &[&[Drawdown, Precharge, Starts]],
        remedy: "Let the tank rest for 20 minutes and catch the drawdown again.",
        weight: Note,
        ..USUAL_CAUSE
    },
    Cause {
        id: Tight,
        group: Leaks,
        prior: 0.80,
        name: "no leak found",
        says: "The pressure holds.",
        predicts: "no more than about half a psi in 15 minutes",
        ..USUAL_CAUSE
    },
    Cause {
        id: House,
        group: Leaks,
        prior: 0.08,
        name: "leak on the house side",
        says: "The house draws water though nobody uses it.",
        predicts: "about 5 psi lost in 15 minutes with the house open, none with it shut",
        tested_by: &[&[HoldOpen]],
        remedy: "Look for a running toilet, a dripping faucet, a softener that rinses without end, or a wet spot in the yard.",
        again: Some(30),
        weight: Act,
        ..USUAL_CAUSE
    },
    Cause {
        id: CheckValve,
        group: Leaks,
        prior: 0.07,
        name: "check valve leaks",
        says: "Water runs back toward the well: the check valve leaks, or a pipe on the well side.",
        predicts: "about 5 psi lost in 15 minutes with the house shut; a trickle toward the well",
        tested_by: &[&[HoldShut], &[HoldOpen]],
        remedy: "Call a pump installer. Until then the pump lifts the same water again and again.",
        who: Installer,
        again: Some(30),
        weight: Act,
        ..USUAL_CAUSE
    },
    Cause {
        id: Weeping,
        group: Leaks,
        prior: 0.05,
        name: "drip at relief valve or joint",
        says: "Water leaves at the relief valve, the drain valve or a joint.",
        predicts: "about 2.5 psi lost in 15 minutes with the house shut; a drip that is seen",
        tested_by: &[&[HoldShut], &[HoldOpen]],
        remedy: "Have the drip mended, then hold the pressure once more.",
        again: Some(30),
        weight: Act,
        ..USUAL_CAUSE
    },
];
