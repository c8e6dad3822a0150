//! Which worked out figures need their doubt: those that lie near a limit or a condition of the book.

use crate::domain::book::terms::bound::Value;
use crate::domain::book::{NeededIf, RuleBook};
use crate::domain::cage::figures::spreads;
use crate::domain::cage::{CageRecord, Tubes};
use crate::domain::measure::amounts::Amount;
use crate::domain::measure::figures::Figure;
use crate::domain::measure::measures::Measure;

/// Within these of an edge a figure's doubt is worked out: a tape's millimetre would have to be magnified thirtyfold, or
/// swing a line a hand long, to reach over it from farther (own choice).
const NEAR: (f64, f64) = (25.0, 0.05);

/// Gives the figures that follow from the tape's measurements their doubt, where one lies near enough to an edge of the book
/// for it to matter; it costs a laying out for each measurement.
pub(super) fn doubts(rules: &RuleBook, record: &CageRecord, tubes: &Tubes, figures: &mut [Figure]) {
    let edges = edges(rules);
    let near = |figure: &Figure| {
        let beside = edges.iter().filter(|(measure, _)| *measure == figure.measure);
        beside.filter_map(|(_, value)| value.beside(figure, figures)).any(|edge| close(figure.amount, edge))
    };
    if figures.iter().any(|figure| figure.tool.is_none() && near(figure)) {
        spreads(record, tubes, figures);
    }
}

fn close(amount: Amount, edge: Amount) -> bool {
    match amount.apart(edge) {
        Some(Amount::Length(apart)) => apart.mm() <= NEAR.0,
        Some(Amount::Angle(apart)) => apart.radians() <= NEAR.1,
        _ => false,
    }
}

/// The edges of every limit on a figure that follows from lines, and of every condition.
fn edges(rules: &RuleBook) -> Vec<(Measure, Value)> {
    let limits = rules.limits.iter().flat_map(|limit| {
        let bounds = limit.least.iter().chain(&limit.most);
        bounds.map(|bound| (limit.measure, bound.value))
    });
    let conditions = rules.rules().filter_map(|rule| match &rule.needed_if {
        Some(NeededIf::Figure { measure, value, .. }) => Some((*measure, *value)),
        _ => None,
    });
    limits.chain(conditions).filter(|(measure, _)| of_lines(*measure)).collect()
}

/// True for a figure that the tape's measurements move.
const fn of_lines(measure: Measure) -> bool {
    matches!(
        measure,
        Measure::AngleToVertical
            | Measure::BendAngle
            | Measure::EndToFoot
            | Measure::EndToJoint
            | Measure::OverSill
            | Measure::BodyGap
            | Measure::HeadGap
    )
}
