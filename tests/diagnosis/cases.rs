//! Plain cases: what is sure, what is asked next, what is done for now.
