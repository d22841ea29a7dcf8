//! What an entry tells of, and what it is for the run.

/// What an entry tells of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum EntryKind {
    /// Something true before the run: asked, or from the system file.
    Fact,
    /// A warning was read, and the word for that was typed; `warned` has it.
    Understood,
    /// A thing was done.
    Done,
    /// The person said that it is not so, or does not happen.
    NotSo,
    /// A reading was taken.
    Reading,
    /// One of several words was chosen.
    Choice,
    /// A text was written.
    Text,
    /// A value was computed.
    Computed,
    /// A check was made.
    Checked,
    /// A wait began.
    WaitBegun,
    /// A wait ended.
    Waited,
    /// A step was skipped, with a reason.
    Skipped,
    /// An earlier answer was taken back; `replaces` names it.
    Withdrawn,
    /// A remark.
    Note,
    /// The run was left, to be gone on with later.
    Paused,
    /// The run was gone on with.
    Resumed,
    /// The procedure stopped the work.
    Stopped,
    /// The person was told something.
    Message,
    /// A conclusion was drawn.
    Finding,
}

/// What an entry is for the run.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum EntryRole {
    /// What a person answered.
    Answer,
    /// A person said that it is not so; the question stays open.
    Denial,
    /// It comes before the answer itself: a wait begins, a warning was read.
    Beginning,
    /// A step is left out.
    Gap,
    /// It says what came out.
    Result,
    /// It says what there is to say at a step.
    Message,
    /// It takes an answer back.
    Withdrawal,
    /// It stands beside the procedure and moves nothing.
    Aside,
}

impl EntryKind {
    /// What an entry of this kind is for the run.
    pub fn role(self) -> EntryRole {
        use EntryKind::{Checked, Choice, Computed, Done, Fact, Finding, Reading, Stopped, Text, Waited};
        match self {
            Fact | Done | Reading | Choice | Text | Waited => EntryRole::Answer,
            EntryKind::NotSo => EntryRole::Denial,
            EntryKind::WaitBegun | EntryKind::Understood => EntryRole::Beginning,
            EntryKind::Skipped => EntryRole::Gap,
            Computed | Checked | Stopped | Finding => EntryRole::Result,
            EntryKind::Message => EntryRole::Message,
            EntryKind::Withdrawn => EntryRole::Withdrawal,
            EntryKind::Note | EntryKind::Paused | EntryKind::Resumed => EntryRole::Aside,
        }
    }

    /// Whether it tells of a wait, begun or over.
    pub fn is_wait(self) -> bool {
        self == EntryKind::WaitBegun || self == EntryKind::Waited
    }

    /// Whether it only leads from one answer to the next: a wait, a warning that was read.
    pub fn leads_in(self) -> bool {
        self.is_beginning() || self == EntryKind::Waited
    }

    /// Whether it comes before the answer itself: a wait begins, a warning was read.
    pub(crate) fn is_beginning(self) -> bool {
        self.role() == EntryRole::Beginning
    }

    /// Whether it holds what a person answered.
    pub fn is_answer(self) -> bool {
        matches!(self.role(), EntryRole::Answer | EntryRole::Denial)
    }

    /// Whether it leaves what was asked without a value: it is not so, or was left out.
    pub(crate) fn is_without_value(self) -> bool {
        matches!(self.role(), EntryRole::Denial | EntryRole::Gap)
    }

    /// Whether it says what came out, and not what is to be done.
    pub(crate) fn is_result(self) -> bool {
        self.role() == EntryRole::Result
    }

    /// Whether it holds what was read off in the run, or was worked out in it.
    pub(crate) fn is_measured(self) -> bool {
        self == EntryKind::Reading || self == EntryKind::Computed
    }

    /// Whether it stands beside the procedure and moves nothing: a remark, a pause.
    pub fn is_aside(self) -> bool {
        self.role() == EntryRole::Aside
    }
}
