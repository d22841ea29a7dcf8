//! How results were worked out, told at `?`: the scripts of `explained/`, played and kept as
//! those of the mistakes are.

use crate::mistakes::each_holds;

#[test]
fn results_are_explained_at_the_question_after_them() {
    each_holds("tests/transcripts/explained");
}
