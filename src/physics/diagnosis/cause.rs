//! What a cause is: a row of the table of causes.
//!
//! Each stands in one of five groups, which are independent of one another: the tank, the switch, the
//! pump, what is measured with, and leaks. In each group one cause holds, the healthy one most often.
//! Priors are judgements: how often each is met by an owner who begins to look.

use super::items::Item;

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
    pub tested_by: &'static [&'static [Item]],
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

/// What holds where a row does not say it: nothing is to be done, and that by the owner.
pub(super) const USUAL_CAUSE: Cause = Cause {
    id: CauseId::TankRight,
    group: Group::Tank,
    prior: 0.0,
    name: "",
    says: "",
    predicts: "",
    tested_by: &[],
    shown_by: None,
    remedy: "",
    who: Who::Owner,
    again: None,
    weight: Weight::Fine,
};

impl Cause {
    /// Whether what was tried is enough to say it.
    pub fn is_shown_by(&self, tried: &dyn Fn(Item) -> bool) -> bool {
        self.is_tested_by(tried) || self.shown_by.is_some_and(tried)
    }

    /// Whether it can only be of a tank on its line: every way of testing it needs one.
    pub fn needs_line(&self) -> bool {
        !self.tested_by.is_empty()
            && self.tested_by.iter().all(|all| all.iter().any(|item| item.is_of_line()))
    }

    /// Whether it harms: more than worth knowing.
    pub fn harms(&self) -> bool {
        self.weight > Weight::Note
    }

    /// Whether what was tried is enough to say it, or to say that it is not so.
    pub fn is_tested_by(&self, tried: &dyn Fn(Item) -> bool) -> bool {
        self.tested_by.iter().any(|all| all.iter().all(|item| tried(*item)))
    }
}
