//! The parts of an expression of which a draw goes one way or another.

use super::Comparison;
use super::compile::Compiler;
use super::part::TypedNode;
use super::program::{Op, Operand, UNKNOWN, ValueOp};
use crate::quantity::Measure;

impl Compiler<'_> {
    /// `and`, which goes on after a yes, or `or`, which goes on after a no.
    pub(super) fn joined_truths(&mut self, a: &TypedNode, b: &TypedNode, goes_on_after: f64) -> Operand {
        let a = Operand::Truth(self.truth(a));
        let to = self.add(|to| Op::Copied { to: Operand::Truth(to), from: a });
        let leave = self.room();
        let b = Operand::Truth(self.truth(b));
        self.program.ops.push(Op::Copied { to: Operand::Truth(to), from: b });
        self.program.ops[leave] = Op::JumpUnless { of: to, is: goes_on_after, target: self.end() };
        Operand::Truth(to)
    }

    /// A comparison, of numbers or of words.
    pub(super) fn comparison(&mut self, comparison: Comparison, a: &TypedNode, b: &TypedNode) -> Operand {
        let (a, b) = (self.part(a), self.part(b));
        if let (Operand::Number(..) | Operand::Wide(_), Operand::Number(..))
        | (Operand::Number(..), Operand::Wide(_)) = (&a, &b)
        {
            let of = [self.number_of(a), self.number_of(b)];
            return Operand::Truth(self.add(|to| Op::Compared { to, comparison, of }));
        }
        let work = ValueOp::Compare(comparison);
        Operand::Truth(self.add(|to| Op::Values { to: Operand::Truth(to), work, given: vec![a, b] }))
    }

    /// One of two values, as a yes or no says.
    pub(super) fn conditional(&mut self, condition: &TypedNode, yes: &TypedNode, no: &TypedNode) -> Operand {
        let of = self.truth(condition);
        let to_no = self.room();
        let yes = self.part(yes);
        let (copy_yes, after_yes) = (self.room(), self.room());
        let no_begins = self.end();
        let to_unknown = self.room();
        let no = self.part(no);
        let (copy_no, after_no) = (self.room(), self.room());
        let unknown_begins = self.end();
        let copy_unknown = self.room();
        let to = self.common(&yes, &no);
        let unknown = Operand::Number(Measure::Number, self.register(UNKNOWN));
        let target = self.end();
        let ops = &mut self.program.ops;
        ops[to_no] = Op::JumpUnless { of, is: 1.0, target: no_begins };
        ops[copy_yes] = Op::Copied { to: to.clone(), from: yes };
        ops[after_yes] = Op::Jump { target };
        ops[to_unknown] = Op::JumpUnless { of, is: 0.0, target: unknown_begins };
        ops[copy_no] = Op::Copied { to: to.clone(), from: no };
        ops[after_no] = Op::Jump { target };
        ops[copy_unknown] = Op::Copied { to: to.clone(), from: unknown };
        to
    }

    /// A value, or what stands in where it is not known.
    pub(super) fn otherwise(&mut self, a: &TypedNode, b: &TypedNode) -> Operand {
        let a = self.part(a);
        let (copy_a, leave) = (self.room(), self.room());
        let b = self.part(b);
        let to = self.common(&a, &b);
        self.program.ops[copy_a] = Op::Copied { to: to.clone(), from: a };
        self.program.ops.push(Op::Copied { to: to.clone(), from: b });
        self.program.ops[leave] = Op::JumpIfKnown { of: to.clone(), target: self.end() };
        to
    }

    /// A new place for either of two values.
    fn common(&mut self, a: &Operand, b: &Operand) -> Operand {
        match (a, b) {
            (Operand::Number(measure, _), Operand::Number(..)) => self.constant(*measure, UNKNOWN),
            (Operand::Truth(_), Operand::Truth(_)) => Operand::Truth(self.register(UNKNOWN)),
            _ => self.wide(),
        }
    }
}
