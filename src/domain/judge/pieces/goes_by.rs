//! By what of its part a photograph or a figure goes.

use crate::domain::measure::measures::Measure;
use crate::domain::words::ids::{Balloon, Kind};

/// What of a part must be as it was, so that what was seen or measured is still of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum GoesBy {
    /// Nothing that the cage's record or a saw can change: a stick, a label, the car itself.
    Nothing,
    /// The metal that it is cut from.
    Metal,
    /// The metal, and where it stands.
    Place,
    /// These, and where somebody sits.
    PlaceAndSeat,
}

impl GoesBy {
    /// A photograph of a part.
    pub(super) const fn photo(of: Balloon) -> Self {
        match of.kind {
            Kind::Member | Kind::Joint | Kind::Gusset | Kind::Plate => Self::Place,
            Kind::Car | Kind::Question | Kind::Stick | Kind::WeighIn | Kind::Kit => Self::Nothing,
        }
    }

    /// A figure read off a part.
    pub(super) const fn figure(measure: Measure, of: Balloon) -> Self {
        match of.kind {
            Kind::Member => Self::of_bar(measure),
            Kind::Joint | Kind::Gusset | Kind::Plate => Self::Place,
            Kind::Car | Kind::Question | Kind::Stick | Kind::WeighIn | Kind::Kit => Self::Nothing,
        }
    }

    const fn of_bar(measure: Measure) -> Self {
        match measure {
            Measure::Roundness
            | Measure::WallMeasured
            | Measure::InspectionHole
            | Measure::TubeOutside
            | Measure::TubeWall
            | Measure::Carbon
            | Measure::Manganese
            | Measure::OtherElement
            | Measure::Tensile
            | Measure::Yield => Self::Metal,
            Measure::HeadGap => Self::PlaceAndSeat,
            // Of the body, whichever bar the book asks it beside.
            Measure::OpeningHeight | Measure::PillarDimension => Self::Nothing,
            Measure::AngleToVertical
            | Measure::BendRadius
            | Measure::BendAngle
            | Measure::EndToFoot
            | Measure::EndToJoint
            | Measure::PlateArea
            | Measure::PlateShortSide
            | Measure::PlateLongSide
            | Measure::PlateThickness
            | Measure::GussetLeg
            | Measure::GussetThickness
            | Measure::GussetHole
            | Measure::OverSill
            | Measure::BodyGap
            | Measure::BoltCount
            | Measure::BoltSize
            | Measure::BoltGrade
            | Measure::BoltSpread
            | Measure::BoltShear
            | Measure::BoltSection
            | Measure::DoorBarHeight => Self::Place,
        }
    }
}
