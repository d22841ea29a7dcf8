//! Truth against last word.
