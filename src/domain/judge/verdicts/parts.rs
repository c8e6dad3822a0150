//! The parts that a measure is of, as a rule names them.

use crate::domain::book::Of;
use crate::domain::measure::measures::Measure;
use crate::domain::words::ids::{Balloon, Kind};

use super::known::{Bar, Known};

/// True for a measure that only a bent bar has.
fn of_bends(measure: Measure) -> bool {
    matches!(measure, Measure::BendRadius | Measure::BendAngle | Measure::Roundness)
}

/// True when a bar is known to be straight, and the measure is one of bends.
pub(super) fn straight(measure: Measure, part: Balloon, known: &Known<'_>) -> bool {
    of_bends(measure) && known.straight(part)
}

/// The parts that a limit is of.
pub(super) fn parts_of(measure: Measure, of: Of, known: &Known<'_>) -> Vec<Balloon> {
    match of {
        Of::Plate => known.balloons(Kind::Plate),
        Of::Gusset => known.balloons(Kind::Gusset),
        Of::Stick => known.balloons(Kind::Stick),
        Of::EveryBar => bars(known, |_| true),
        Of::Role(role) => {
            let mut parts = if of_part_of_bar(measure) { Vec::new() } else { bars(known, |bar| bar.role == role) };
            let figures = known.figures.iter();
            let others = figures.filter(|figure| figure.measure == measure && figure.role == Some(role));
            parts.extend(others.map(|figure| figure.of));
            parts.sort();
            parts.dedup();
            parts
        }
    }
}

fn bars(known: &Known<'_>, wanted: impl Fn(&Bar) -> bool) -> Vec<Balloon> {
    known.members.iter().filter(|bar| wanted(bar)).map(|bar| bar.balloon).collect()
}

/// True for a measure of a plate or gusset, which a bar itself does not have.
pub(super) const fn of_part_of_bar(measure: Measure) -> bool {
    matches!(
        measure,
        Measure::PlateArea
            | Measure::PlateShortSide
            | Measure::PlateLongSide
            | Measure::PlateThickness
            | Measure::BoltCount
            | Measure::BoltSize
            | Measure::BoltGrade
            | Measure::BoltSpread
            | Measure::BoltShear
            | Measure::BoltSection
            | Measure::GussetLeg
            | Measure::GussetThickness
            | Measure::GussetHole
    )
}
