//! What an entry says of why an answer was taken back.

use crate::record::Entry;

/// What the record says of an answer that is changed, and of those after it, until they are given again.
pub(super) const TO_BE_CARRIED: &str = "to be carried over";
/// What it says of a fact that the system file told and the person will tell.
pub(super) const TO_BE_ASKED: &str = "not as the system file says";

/// Whether an answer taken back is to be carried over.
pub(super) fn is_to_be_carried(withdrawn: &Entry) -> bool {
    withdrawn.reason.as_deref() == Some(TO_BE_CARRIED)
}

/// Whether what the system file told was taken back.
pub(super) fn is_to_be_asked(withdrawn: &Entry) -> bool {
    withdrawn.reason.as_deref() == Some(TO_BE_ASKED)
}
