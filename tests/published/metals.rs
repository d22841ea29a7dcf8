//! Metals that meet in water.

use tankhand::physics::Joint::{Fine, Separate};
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

/// Flowing sea water, V against the saturated calomel electrode (seen, signs
/// restored): the same metal suffers, but for brass and stainless, where the series disagree.
#[test]
fn the_sea_water_series_names_the_same_sufferer() {
    let potentials = [(Galvanised, -1.03), (Steel, -0.61), (Brass, -0.345), (Stainless, -0.08)];
    for (i, (one, low)) in potentials.iter().enumerate() {
        for (other, high) in &potentials[i + 1..] {
            assert!(low < high);
            if (*one, *other) != (Brass, Stainless) {
                assert_eq!(joint(*one, *other).1, Some(*one), "{} with {}", one.name(), other.name());
            }
        }
    }
}
