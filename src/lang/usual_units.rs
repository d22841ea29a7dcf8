//! Units for bare numbers where a function's signature leaves no doubt what they measure.

use super::{Binary, Expr, Node, Scope, Sort};
use crate::quantity::{Measure, Units};

/// Gives each bare number that stands for a measured value of a function the household's unit.
/// Returns whether there was one.
pub fn give_usual_units(expr: &mut Expr, scope: &dyn Scope, units: Units) -> bool {
    let mut given = false;
    if let Node::Call(name, _, arguments) = &mut expr.node {
        let sorts = scope.function(name).map(|function| function.parameters).unwrap_or_default();
        for (argument, parameter) in arguments.iter_mut().zip(sorts) {
            if let Sort::Is(measure) = parameter.sort {
                given |= give_unit(argument, measure, units);
            }
        }
    }
    expr.each_operand_mut(&mut |operand| given |= give_usual_units(operand, scope, units));
    given
}

/// Gives the unit of a measure to a bare number, its sign and its limits.
fn give_unit(argument: &mut Expr, measure: Measure, units: Units) -> bool {
    match &mut argument.node {
        Node::Number(_, unit @ None) => {
            *unit = units.unit_for(measure);
            unit.is_some()
        }
        Node::Minus(one) => give_unit(one, measure, units),
        Node::Binary(Binary::Within, _, estimate, limit) => {
            let given = give_unit(estimate, measure, units);
            given && {
                give_unit(limit, measure.difference(), units);
                true
            }
        }
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::procedure::with_usual_units;

    #[test]
    fn bare_numbers_get_the_unit_of_what_they_stand_for() {
        let given = |text| with_usual_units(text, Units::Us).map(|it| it.expr().to_string());
        let table = [
            ("head(3)", Some("head(3 ft)")),
            ("-head(3)", Some("-head(3 ft)")),
            ("head(-3)", Some("head(-3 ft)")),
            ("head(3 +- 0.5)", Some("head(3 ft +- 0.5 ft)")),
            ("head(3 ft +- 0.5 ft)", None),
            ("1 psi + head(3)", Some("1 psi + head(3 ft)")),
            ("head(3) + 1 psi", Some("head(3 ft) + 1 psi")),
            ("if yes then head(3) else 1 psi", Some("if yes then head(3 ft) else 1 psi")),
            ("if yes then head(3) else head(4)", Some("if yes then head(3 ft) else head(4 ft)")),
            ("max(head(3), head(4))", Some("max(head(3 ft), head(4 ft))")),
            ("abs(head(3))", Some("abs(head(3 ft))")),
            ("not head(3) > 1 psi", Some("not head(3 ft) > 1 psi")),
            ("head(3 ft)", None),
            ("1 + 2", None),
            ("abs(-2)", None),
        ];
        for (text, expected) in table {
            assert_eq!(given(text).as_deref(), expected, "{text}");
        }
    }
}
