//! What people are told of a formula.

/// A formula in words, written once: doc comments, guide and explanations all take it from here.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Formula {
    /// What it gives, in one sentence.
    pub sentence: &'static str,
    /// How it is worked out, in the names of the parameters.
    pub formula: &'static str,
    /// What it holds for; empty where that needs no telling.
    pub range: &'static str,
    /// Where it comes from: a publication, a law of physics, or common practice.
    pub source: &'static str,
}

/// `formula!(NAME: sentence, formula, range …, source …)` makes the constant `NAME` for guide and
/// explanations, and a macro of that name that is the doc comment of the item beside it. The range is left
/// out where it needs no telling.
macro_rules! formula {
    ($name:ident: $sentence:literal, $formula:literal, $(range $range:literal,)? source $source:literal) => {
        #[doc = concat!("What people are told of: ", $sentence)]
        // Some are for this crate alone.
        #[allow(unreachable_pub)]
        pub const $name: $crate::words::Formula = $crate::words::Formula {
            sentence: $sentence,
            formula: $formula,
            range: concat!($($range)?),
            source: $source,
        };

        macro_rules! $name {
            () => {
                concat!($sentence, "\n\n`", $formula, "`\n\n", $("Range: ", $range, ". ",)? "Source: ", $source, ".")
            };
        }
    };
}
