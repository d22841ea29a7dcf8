//! What people are told of a formula, written once: doc comments, guide and explanations all take
//! it from here.

/// `formula!(NAME: sentence, formula, range …, source …)` makes the constant `NAME` for guide and
/// explanations, and a macro of that name that is the doc comment of the function beside it.
macro_rules! formula {
    ($name:ident: $sentence:literal, $formula:literal, range $range:literal, source $source:literal) => {
        #[doc = concat!("What people are told of: ", $sentence)]
        pub const $name: $crate::words::Formula =
            $crate::words::Formula { sentence: $sentence, formula: $formula, range: $range, source: $source };

        macro_rules! $name {
            () => {
                concat!($sentence, "\n\n`", $formula, "`\n\nRange: ", $range, ". Source: ", $source, ".")
            };
        }
    };
}
