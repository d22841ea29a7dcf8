//! Metals joined in water: which pairs corrode.
//!
//! The published series disagree and most are for sea water, so the answer is a word, not a
//! number. Whatever the pair, a fitting on drinking water must be lead free (a weighted average
//! of at most 0.25 % over its wetted surfaces, U.S. Safe Drinking Water Act s. 1417(d), NSF/ANSI/CAN
//! 372) and certified for it (NSF/ANSI/CAN 61).

/// A metal of pipes, fittings and tanks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Metal {
    /// Zinc-coated steel.
    Galvanised,
    /// Plain carbon steel or iron.
    Steel,
    /// Stainless steel, passive as it is in fresh water.
    Stainless,
    /// Brass or bronze.
    Brass,
    /// Copper.
    Copper,
}

/// What to expect of a joint.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Joint {
    /// Close together: join them as they are.
    Fine,
    /// Apart: sound where dry or watched; a dielectric fitting is better.
    Watch,
    /// Far apart: keep them apart with a dielectric fitting or plastic.
    Separate,
}

/// Anodic index in volts, the span of the published values (MIL-STD-1250A style; from memory).
const INDEX: &[(Metal, &str, f64, f64)] = &[
    (Metal::Galvanised, "galvanised steel", -1.25, -1.20),
    (Metal::Steel, "steel", -0.85, -0.85),
    (Metal::Stainless, "stainless steel", -0.50, -0.50),
    (Metal::Brass, "brass", -0.45, -0.40),
    (Metal::Copper, "copper", -0.35, -0.35),
];
/// Difference still sound in harsh conditions, as at a wet joint; V (seen with the index).
const SOUND_WET: f64 = 0.15;
/// Difference beyond which the joint fails even where conditions are controlled; V (seen).
const UNSOUND: f64 = 0.50;

impl Metal {
    /// Every metal, least noble first.
    pub fn all() -> impl Iterator<Item = Metal> {
        INDEX.iter().map(|row| row.0)
    }

    /// Its name.
    pub fn name(self) -> &'static str {
        INDEX.iter().find(|row| row.0 == self).map_or("", |row| row.1)
    }

    /// The middle of its published anodic indices; V.
    fn index(self) -> f64 {
        INDEX.iter().find(|row| row.0 == self).map_or(0.0, |row| (row.2 + row.3) / 2.0)
    }
}

formula!(JOINT:
    "What to expect where two metals meet in water.",
    "difference of anodic index: to 0.15 V fine, below 0.5 V watch, from 0.5 V separate",
    range "fresh water, in words only",
    source "anodic index limits as published with MIL-STD-1250 (limits seen, indices from memory)"
);

#[doc = JOINT!()]
///
/// The sufferer is the less noble one; none when they are the same.
///
/// ```
/// use tankhand::physics::{Joint, Metal, joint};
/// assert_eq!(joint(Metal::Brass, Metal::Copper).0, Joint::Fine);
/// assert_eq!(joint(Metal::Brass, Metal::Galvanised), (Joint::Separate, Some(Metal::Galvanised)));
/// ```
pub fn joint(one: Metal, other: Metal) -> (Joint, Option<Metal>) {
    let apart = (one.index() - other.index()).abs();
    let verdict = match apart {
        v if v <= SOUND_WET + 1e-9 => Joint::Fine,
        v if v < UNSOUND - 1e-9 => Joint::Watch,
        _ => Joint::Separate,
    };
    let sufferer = match one.index().total_cmp(&other.index()) {
        std::cmp::Ordering::Less => Some(one),
        std::cmp::Ordering::Greater => Some(other),
        std::cmp::Ordering::Equal => None,
    };
    (verdict, sufferer)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_order_of_the_two_does_not_matter() {
        for one in Metal::all() {
            assert_eq!(joint(one, one), (Joint::Fine, None));
            assert!(!one.name().is_empty());
            for other in Metal::all() {
                assert_eq!(joint(one, other), joint(other, one));
            }
        }
    }
}
