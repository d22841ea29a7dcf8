//! Where a run stands: a stack of blocks, each with its place and round.

use std::collections::HashMap;
use std::sync::Arc;

use crate::lang::Value;
use crate::procedure::{LoopKind, Procedure, Step};
use crate::system::System;

/// A block that is being walked.
#[derive(Clone, Debug)]
pub(super) struct Frame {
    /// What it is the body of; none for the procedure itself.
    pub which: Option<LoopKind>,
    /// The step that comes next, by its place in the block.
    pub at: usize,
    /// The round, from 1.
    pub round: u32,
    /// In an `each`: what earlier tanks gave.
    pub per_tank: HashMap<Arc<str>, Vec<Value>>,
}

impl Frame {
    pub(super) fn new(which: Option<LoopKind>) -> Frame {
        Frame { which, at: 0, round: 1, per_tank: HashMap::new() }
    }
}

/// The stack of blocks, the procedure's own at the bottom.
#[derive(Clone, Debug)]
pub(super) struct Frames(pub Vec<Frame>);

impl Default for Frames {
    fn default() -> Frames {
        Frames(vec![Frame::new(None)])
    }
}

impl Frames {
    /// The block that the top frame walks.
    pub(super) fn block<'p>(&self, procedure: &'p Procedure) -> &'p [Step] {
        let mut block: &[Step] = &procedure.steps;
        for frame in &self.0[..self.0.len().saturating_sub(1)] {
            block = block.get(frame.at).map_or(&[], Step::body);
        }
        block
    }

    /// The step that comes next, when the block is not at its end.
    pub(super) fn step<'p>(&self, procedure: &'p Procedure) -> Option<&'p Step> {
        self.block(procedure).get(self.0.last()?.at)
    }

    /// The round of every loop around, outermost first.
    pub(super) fn rounds(&self) -> Vec<u32> {
        self.0.iter().filter(|frame| frame.which.is_some()).map(|frame| frame.round).collect()
    }

    /// Which round of each loop around, outermost first, in words; a tank by what it is called, where there are
    /// several.
    pub(super) fn rounds_in_words(&self, system: &System) -> Vec<String> {
        let words = self.0.iter().filter_map(|frame| match frame.which? {
            LoopKind::Each if system.tanks.len() < 2 => None,
            LoopKind::Each => {
                let called = system.tank_called(frame.round as usize - 1);
                Some(called.unwrap_or_else(|| format!("tank {}", frame.round)))
            }
            LoopKind::Repeat => Some(format!("round {}", frame.round)),
        });
        words.collect()
    }

    /// Whether a `repeat` stands around.
    pub(super) fn repeats(&self) -> bool {
        self.0.iter().any(|frame| frame.which == Some(LoopKind::Repeat))
    }

    /// Which tank an `each` around is at, from 0.
    pub(super) fn tank(&self) -> Option<usize> {
        let each = self.0.iter().find(|frame| frame.which == Some(LoopKind::Each))?;
        Some(each.round as usize - 1)
    }
}
