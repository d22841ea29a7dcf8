//! Metals that meet in water.

use tankhand::physics::Joint::{Fine, Separate, Watch};
use tankhand::physics::Metal::{Brass, Copper, Galvanised, Stainless, Steel};
use tankhand::physics::joint;

/// Anodic index, MIL-STD-1250A style (indices from memory, limits seen): pairs and verdicts.
#[test]
fn pairs_by_anodic_index() {
    let table = [
        (Brass, Copper, Fine),
        (Brass, Stainless, Fine),
        (Brass, Galvanised, Separate),
        (Stainless, Galvanised, Separate),
        (Copper, Steel, Separate),
    ];
    for (one, other, expected) in table {
        assert_eq!(joint(one, other).0, expected, "{} with {}", one.name(), other.name());
    }
}

/// Every other pair, worked by hand: the indices of MIL-STD-1250A (from memory: galvanised 1.20 to 1.25, steel
/// 0.85, stainless 0.50, brass 0.40 to 0.45, copper 0.35) lie so many volts apart; 0.15 V is sound where wet,
/// 0.50 V is not.
#[test]
fn every_pair_of_metals() {
    let table = [
        (Galvanised, Steel, "0.375", Watch),
        (Galvanised, Copper, "0.875", Separate),
        (Steel, Stainless, "0.350", Watch),
        (Steel, Brass, "0.425", Watch),
        (Stainless, Copper, "0.150", Fine),
    ];
    for (one, other, volts, expected) in table {
        let what = format!("{} with {}, {volts} V apart", one.name(), other.name());
        assert_eq!((joint(one, other).0, joint(other, one).0), (expected, expected), "{what}");
    }
    for metal in [Galvanised, Steel, Stainless, Brass, Copper] {
        assert_eq!(joint(metal, metal), (Fine, None), "{} with itself", metal.name());
    }
}

/// Flowing sea water, V against the saturated calomel electrode (seen, signs
/// restored; copper, the middle of -0.30 and -0.37 V, from memory): the same metal suffers, but for brass or copper and stainless, where the series disagree.
#[test]
fn the_sea_water_series_names_the_same_sufferer() {
    let potentials =
        [(Galvanised, -1.03), (Steel, -0.61), (Brass, -0.345), (Copper, -0.335), (Stainless, -0.08)];
    for (i, (one, low)) in potentials.iter().enumerate() {
        for (other, high) in &potentials[i + 1..] {
            assert!(low < high);
            if *other != Stainless || ![Brass, Copper].contains(one) {
                assert_eq!(joint(*one, *other).1, Some(*one), "{} with {}", one.name(), other.name());
            }
        }
    }
}
