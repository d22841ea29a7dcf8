//! Which observables are evidence of what, and at which stage of the work their answers count.

use crate::physics::diagnosis::Item;
use crate::record::Phase;

/// Items that are words, with the observable that each is an answer about.
pub(super) const WORDS: [(&str, Item); 13] = [
    ("pin_test", Item::Pin),
    ("added_air", Item::AddedAir),
    ("tank_sound", Item::Sound),
    ("needle_fall", Item::Needle),
    ("needle_back", Item::Climbs),
    ("switch_sound", Item::SwitchSound),
    ("part_order", Item::Order),
    ("valve_position", Item::Handle),
    ("bubbles", Item::Soap),
    ("house_draw", Item::Alone),
    // A relief valve that drips is seen to, whether or not the pressure falls.
    ("relief_valve", Item::Look),
    ("house_draw", Item::Look),
    ("other_tanks", Item::OtherTanks),
];
/// Items that are numbers, with the observable that each is a reading of.
pub(super) const NUMBERS: [(&str, Item); 8] = [
    ("cut_in", Item::Starts),
    ("cut_out", Item::CutOut),
    ("resting_gauge", Item::Zero),
    ("second_gauge", Item::SecondGauge),
    ("precharge", Item::Precharge),
    ("drawdown", Item::Drawdown),
    ("run_time", Item::RunTime),
    ("weight", Item::Weighed),
];
/// What the work on the tank or the switch changes: only readings of the stage that is diagnosed count.
const CHANGED: [Item; 10] = [
    Item::Starts,
    Item::CutOut,
    Item::Precharge,
    Item::Drawdown,
    Item::RunTime,
    Item::Pin,
    Item::AddedAir,
    Item::Needle,
    Item::Climbs,
    Item::SwitchSound,
];
/// Whether an answer of a stage counts in a diagnosis of one.
pub(super) fn is_of_stage(item: Item, tells: Option<Phase>, phase: Phase) -> bool {
    match tells {
        Some(Phase::Before) => false,
        Some(Phase::Left) => phase == Phase::Left || !CHANGED.contains(&item),
        // Water at the air valve is seen before the work, and no work mends it.
        Some(Phase::Found) => phase == Phase::Found || item == Item::Pin || !CHANGED.contains(&item),
        Some(Phase::Done) => item == Item::Pin || !CHANGED.contains(&item),
        None => !CHANGED.contains(&item),
    }
}
