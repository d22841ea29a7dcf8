//! The causes: what may be wrong with a well system, and what is right with it.
//!
//! Each stands in one of five groups, which are independent of one another: the tank, the switch, the
//! pump, what is measured with, and leaks. In each group one cause holds, the healthy one most often.
//! Priors are judgements: how often each is met by an owner who begins to look.

use super::items::Item::{self, *};

/// What a cause is about. Causes of one group exclude one another; groups are independent.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Group {
    /// Air, bladder and outlet of the tank.
    Tank,
    /// The pressure switch and where it sits.
    Switch,
    /// The pump against the size of the tank.
    Pump,
    /// Gauges, bucket, and the warmth of the air.
    Measuring,
    /// What lets pressure fall while nobody draws water.
    Leaks,
}

impl Group {
    /// Every group.
    pub const ALL: [Group; 5] = [Group::Tank, Group::Switch, Group::Pump, Group::Measuring, Group::Leaks];
}

/// A cause, or a healthy condition: the first of its group.
#[allow(missing_docs)] // Each is told in a sentence in the table below.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum CauseId {
    TankRight,
    Low,
    High,
    Waterlogged,
    Torn,
    Stuck,
    Blocked,
    Shut,
    Hidden,
    Plate,
    Trapped,
    AirLeak,
    SwitchRight,
    Drifted,
    Nipple,
    Narrow,
    Apart,
    Unreached,
    Welded,
    PumpRight,
    ShortFlow,
    TooSmall,
    ReadRight,
    LineOff,
    AirOff,
    WarmAir,
    Tight,
    House,
    CheckValve,
    Weeping,
}

/// How much a cause weighs once it is found.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Weight {
    /// Nothing is wrong.
    Fine,
    /// Worth knowing.
    Note,
    /// To be put right, or looked at again on a date.
    Attention,
    /// Something must be done before the system works as it should.
    Act,
}

/// Who may do what is to be done.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Who {
    /// The owner.
    Owner,
    /// A pump installer or plumber.
    Installer,
    /// An electrician or pump installer: it carries the voltage of the mains.
    Electrician,
}

/// One row of the table.
#[derive(Clone, Copy, Debug)]
pub struct Cause {
    /// Which one it is.
    pub id: CauseId,
    /// What it is about.
    pub group: Group,
    /// How often it is met in its group. Judgement.
    pub prior: f64,
    /// What it is called, in the trade's words.
    pub name: &'static str,
    /// What it means, in a sentence.
    pub says: &'static str,
    /// What is seen where it holds: the model in words.
    pub predicts: &'static str,
    /// What must have been tried before it can be said: all of one of these.
    pub told_by: &'static [&'static [Item]],
    /// What alone can show it, though it cannot rule it out.
    pub shown_by: Option<Item>,
    /// What cures it.
    pub remedy: &'static str,
    /// Who may do that.
    pub who: Who,
    /// After how many days to look again, once it is cured.
    pub again: Option<u16>,
    /// How much it weighs.
    pub weight: Weight,
}

type Told = (&'static str, &'static str, &'static str);
type Cure = (&'static str, Who, Option<u16>, Weight);

const fn cause(
    (id, group, prior): (CauseId, Group, f64),
    (name, says, predicts): Told,
    told_by: &'static [&'static [Item]],
    (remedy, who, again, weight): Cure,
) -> Cause {
    let shown_by = if matches!(id, AirLeak) { Some(Item::Soap) } else { None };
    Cause { id, group, prior, name, says, predicts, told_by, shown_by, remedy, who, again, weight }
}

const fn healthy(id: CauseId, group: Group, prior: f64, (name, says, predicts): Told) -> Cause {
    cause((id, group, prior), (name, says, predicts), &[], ("", Who::Owner, None, Weight::Fine))
}

use CauseId::*;
use Group::{Leaks, Measuring, Pump, Switch, Tank};
use Weight::{Act, Attention, Note};
use Who::{Electrician, Installer, Owner};

/// Every cause, in the order of [`CauseId`], those of a group together and its healthy one first.
pub static CAUSES: [Cause; 30] = [
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
            "The precharge is above cut-in, so the tank is empty before the pump starts.",
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
            "5 to 60 % of the drawdown that the precharge promises; the precharge itself reads right",
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
            "the tank's own valve is shut",
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
            "another tank hides behind this one",
            "A second tank on the line has lost its precharge, and this one works for both.",
            "half of the drawdown as it should be, half as of a tank without air",
        ),
        &[&[Drawdown, Precharge, Starts, OtherTanks]],
        ("Read the precharge of every tank on the line, one by one.", Owner, Some(30), Attention),
    ),
    cause(
        (Plate, Tank, 0.03),
        (
            "tank volume is not as given",
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
        (Apart, Switch, 0.02),
        (
            "something sits between tank and switch",
            "A filter, softener or valve sits between tank and switch, so the switch feels the pump at once and the tank too late.",
            "chatter at the start; runs of a fraction of what the drawdown asks",
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
            "about 35 s for a full drawdown",
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

impl Group {
    /// Its causes, the healthy one first.
    pub fn causes(self) -> &'static [Cause] {
        let first = CAUSES.iter().position(|cause| cause.group == self).unwrap_or(0);
        let count = CAUSES.iter().filter(|cause| cause.group == self).count();
        &CAUSES[first..first + count]
    }

    /// The priors of its causes; they sum to 1.
    pub(super) fn priors<const N: usize>(self) -> [f64; N] {
        let mut priors = [0.0; N];
        let whole: f64 = self.causes().iter().map(|cause| cause.prior).sum();
        for (prior, cause) in priors.iter_mut().zip(self.causes()) {
            *prior = cause.prior / whole;
        }
        priors
    }
}

impl CauseId {
    /// Its row of the table.
    pub fn cause(self) -> &'static Cause {
        &CAUSES[self as usize]
    }

    /// Its place in its group.
    pub fn place(self) -> usize {
        CAUSES[..self as usize].iter().filter(|cause| cause.group == self.cause().group).count()
    }

    /// Whether it is the healthy one of its group.
    pub fn is_healthy(self) -> bool {
        self.cause().weight == Weight::Fine
    }
}

impl Cause {
    /// Whether what was tried is enough to say it.
    pub fn is_shown_by(&self, tried: &dyn Fn(Item) -> bool) -> bool {
        self.is_told_by(tried) || self.shown_by.is_some_and(tried)
    }

    /// Whether what was tried is enough to say it, or to say that it is not so.
    pub fn is_told_by(&self, tried: &dyn Fn(Item) -> bool) -> bool {
        self.told_by.iter().any(|all| all.iter().all(|item| tried(*item)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_stands_in_the_order_of_its_ids_and_its_priors_fill_each_group() {
        for (at, cause) in CAUSES.iter().enumerate() {
            assert_eq!(cause.id as usize, at, "{}", cause.name);
            assert_eq!(cause.told_by.is_empty(), cause.id.is_healthy(), "{}", cause.name);
            assert_eq!(cause.remedy.is_empty(), cause.id.is_healthy(), "{}", cause.name);
            assert!(CAUSES[..at].iter().all(|other| other.name != cause.name), "{}", cause.name);
        }
        for group in Group::ALL {
            assert!(
                group.causes()[0].id.is_healthy() && group.causes()[1..].iter().all(|it| !it.id.is_healthy())
            );
            let whole: f64 = group.causes().iter().map(|cause| cause.prior).sum();
            assert!((whole - 1.0).abs() < 0.011, "{group:?}: {whole}");
        }
    }
}
