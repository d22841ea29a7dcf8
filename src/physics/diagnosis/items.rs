//! What may be tried: each a piece of evidence.

use std::fmt;

/// A piece of evidence. Each is of something that can be observed; [`Item::name`] is what it is called.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Item {
    /// Pressures at which the pump was seen to start.
    Starts,
    /// The pressure at which it stops.
    CutOut,
    /// That it does not stop, with what the gauge shows then.
    NeverStops,
    /// What the pressure gauge shows with the line empty.
    Zero,
    /// Another pressure gauge beside it.
    SecondGauge,
    /// Readings at the air valve of the drained tank.
    Precharge,
    /// The water caught between cut-out and cut-in.
    Drawdown,
    /// How long the pump runs from start to stop.
    RunTime,
    /// What the loose tank weighs against its plate.
    Weighed,
    /// What the precharge was at an earlier visit.
    Earlier,
    /// How far the pressure fell with the house shut.
    HoldShut,
    /// How far it fell with the house open.
    HoldOpen,
    /// What comes out at the air valve's pin.
    Pin,
    /// Whether added air stays.
    AddedAir,
    /// How the tank sounds.
    Sound,
    /// How the needle falls before the pump starts.
    Needle,
    /// Whether the needle climbs again once water was drawn and the drain is shut.
    Climbs,
    /// What the switch does at the start.
    SwitchSound,
    /// Where tank and switch sit along the pipe.
    Order,
    /// How the handle of the tank's own valve stands.
    Handle,
    /// What soapy water shows.
    Soap,
    /// Whether the pump starts when nobody uses water.
    Alone,
    /// What was seen where the pressure fell.
    Look,
    /// That other tanks are on the line.
    OtherTanks,
}

impl Item {
    /// Every item.
    pub const ALL: [Item; 24] = [
        Item::Starts,
        Item::CutOut,
        Item::NeverStops,
        Item::Zero,
        Item::SecondGauge,
        Item::Precharge,
        Item::Drawdown,
        Item::RunTime,
        Item::Weighed,
        Item::Earlier,
        Item::HoldShut,
        Item::HoldOpen,
        Item::Pin,
        Item::AddedAir,
        Item::Sound,
        Item::Needle,
        Item::Climbs,
        Item::SwitchSound,
        Item::Order,
        Item::Handle,
        Item::Soap,
        Item::Alone,
        Item::Look,
        Item::OtherTanks,
    ];

    /// What a sentence calls it.
    pub fn name(self) -> &'static str {
        match self {
            Item::Starts => "the watched cut-in",
            Item::CutOut => "the cut-out",
            Item::NeverStops => "a pump that does not stop",
            Item::Zero => "the pressure gauge at zero",
            Item::SecondGauge => "the second gauge",
            Item::Precharge => "the precharge reading",
            Item::Drawdown => "the drawdown",
            Item::RunTime => "the run time",
            Item::Weighed => "the weight",
            Item::Earlier => "the earlier precharge",
            Item::HoldShut => "the hold test with the house shut",
            Item::HoldOpen => "the hold test with the house open",
            Item::Pin => "the pin test",
            Item::AddedAir => "the added air",
            Item::Sound => "the knock on the tank",
            Item::Needle => "the fall of the needle",
            Item::Climbs => "the needle after water was drawn",
            Item::SwitchSound => "the sound of the switch",
            Item::Order => "the order of the parts",
            Item::Handle => "the handle of the tank's own valve",
            Item::Soap => "the soapy water",
            Item::Alone => "when the pump starts",
            Item::Look => "what was seen of drips and trickles",
            Item::OtherTanks => "the other tanks",
        }
    }

    /// Whether it can only be tried at a tank on its line.
    pub fn is_of_line(self) -> bool {
        match self {
            Item::Starts
            | Item::CutOut
            | Item::NeverStops
            | Item::Drawdown
            | Item::RunTime
            | Item::HoldShut
            | Item::HoldOpen
            | Item::Needle
            | Item::Climbs
            | Item::SwitchSound
            | Item::Order
            | Item::Handle
            | Item::Alone
            | Item::Look
            | Item::OtherTanks => true,
            Item::Zero
            | Item::SecondGauge
            | Item::Precharge
            | Item::Weighed
            | Item::Earlier
            | Item::Pin
            | Item::AddedAir
            | Item::Sound
            | Item::Soap => false,
        }
    }
}

impl fmt::Display for Item {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}
