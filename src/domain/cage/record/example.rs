//! An invented small coupe with a full set of bars, for the demo and the tests. No car was measured for it.

use std::collections::BTreeMap;

use super::basic_structure::BasicStructure;
use super::cage_record::CageRecord;
use super::fittings::{Arm, Fixing, Foot, GussetKind, GussetRecord, PlateRecord, Toward, TubeRole, Tubes};
use super::measures::{Hand, TapeMeasure};
use super::options::{Diagonal, DoorBars, DoorThrough, Options, RoofDiagonal};
use crate::domain::cage::hole::GussetHole;
use crate::domain::steel::tube::TubeSize;
use crate::quantity::{Length, Typed};

/// As the tape showed them, in inches.
const MEASURED: [(TapeMeasure, &str, f64); 25] = [
    (TapeMeasure::HoopFeetWidth, "48 in", 48.0),
    (TapeMeasure::HoopShoulderWidth, "50 1/4 in", 50.25),
    (TapeMeasure::HoopShoulderHeight, "19 1/2 in", 19.5),
    (TapeMeasure::HoopRoofWidth, "38 3/4 in", 38.75),
    (TapeMeasure::HoopRoofHeight, "43 5/8 in", 43.625),
    (TapeMeasure::HoopLean, "1 1/2 in", 1.5),
    (TapeMeasure::RoofInside, "44 7/8 in", 44.875),
    (TapeMeasure::HarnessBarHeight, "29 3/4 in", 29.75),
    (TapeMeasure::HoopPlateHeight(Hand::Left), "1/4 in", 0.25),
    (TapeMeasure::FrontFootForward(Hand::Left), "45 1/4 in", 45.25),
    (TapeMeasure::FrontFootOut(Hand::Left), "25 1/2 in", 25.5),
    (TapeMeasure::FrontPlateHeight(Hand::Left), "1/2 in", 0.5),
    (TapeMeasure::KneeForward(Hand::Left), "42 in", 42.0),
    (TapeMeasure::KneeOut(Hand::Left), "25 3/4 in", 25.75),
    (TapeMeasure::KneeUp(Hand::Left), "26 1/8 in", 26.125),
    (TapeMeasure::ScreenCornerForward(Hand::Left), "27 in", 27.0),
    (TapeMeasure::ScreenCornerOut(Hand::Left), "18 7/8 in", 18.875),
    (TapeMeasure::ScreenCornerUp(Hand::Left), "41 1/2 in", 41.5),
    (TapeMeasure::SillHeight(Hand::Left), "6 3/4 in", 6.75),
    (TapeMeasure::SillBarTop(Hand::Left), "3 in", 3.0),
    (TapeMeasure::DoorOpeningLength(Hand::Left), "41 1/2 in", 41.5),
    (TapeMeasure::DoorOpeningHeight(Hand::Left), "33 1/2 in", 33.5),
    (TapeMeasure::BackstayFootBack(Hand::Left), "33 1/4 in", 33.25),
    (TapeMeasure::BackstayFootOut(Hand::Left), "18 1/2 in", 18.5),
    (TapeMeasure::BackstayFootUp(Hand::Left), "14 7/8 in", 14.875),
];

/// Where the right side differs from the left: floors are rarely even.
const ON_THE_RIGHT: [(TapeMeasure, &str, f64); 2] = [
    (TapeMeasure::HoopPlateHeight(Hand::Right), "3/8 in", 0.375),
    (TapeMeasure::FrontFootForward(Hand::Right), "45 1/8 in", 45.125),
];

/// The tubes it is shown in (own choice; no book asks for just these).
pub const TUBES: Tubes = Tubes::new(TubeSize::inch(1.625, 0.095), TubeSize::inch(1.5, 0.083));

fn inches(text: &str, value: f64) -> Typed<Length> {
    Typed::of(Length::from_inches(value), text)
}

/// The record of the invented coupe, numbered.
pub fn example_record() -> CageRecord {
    let measured = MEASURED.iter().chain(&ON_THE_RIGHT);
    let plate = PlateRecord {
        side_a: inches("4 3/4 in", 4.75),
        side_b: inches("3 1/2 in", 3.5),
        thickness: inches("3/16 in", 0.1875),
        fixed: Fixing::Welded,
    };
    let record = CageRecord {
        measures: measured.map(|(measure, text, value)| (*measure, inches(text, *value))).collect(),
        options: options(),
        plates: Foot::ALL.into_iter().map(|foot| (foot, plate.clone())).collect(),
        gussets: gussets(),
        bend_radius: TubeRole::BOTH.into_iter().map(|role| (role, inches("4 1/2 in", 4.5))).collect(),
        ..CageRecord::default()
    };
    record.numbered_for(&TUBES)
}

/// The same coupe and bars on another basic structure, numbered.
pub fn example_on(structure: BasicStructure) -> CageRecord {
    CageRecord { structure, numbers: BTreeMap::new(), ..example_record() }.numbered_for(&TUBES)
}

fn options() -> Options {
    Options {
        hoop_diagonal: Diagonal::Cross,
        roof_diagonal: RoofDiagonal::VForward,
        backstay_diagonal: Diagonal::None,
        through: Hand::Left,
        door_left: DoorBars::Cross,
        door_right: DoorBars::Cross,
        door_through: DoorThrough::HighAtHoop,
        sill_bars: true,
        harness_bar: true,
        dash_bar: true,
        hoop_cross_bar: true,
        pillar_struts: true,
        seat_cross_bars: 1,
    }
}

/// At each crossing two saddles, in opposite angles.
fn gussets() -> Vec<GussetRecord> {
    let crossings = [
        ("hoop-diagonal/left", "hoop-diagonal/right"),
        ("door-bar/left/high", "door-bar/left/low"),
        ("door-bar/right/high", "door-bar/right/low"),
    ];
    let both = crossings.into_iter().flat_map(|(through, cut)| {
        [(Toward::Start, 1), (Toward::End, 2)].map(|(toward, piece)| GussetRecord {
            joint: format!("joint/{through}+{cut}/1/end"),
            between: [Arm::new(through, toward), Arm::new(format!("{cut}/{piece}"), toward)],
            kind: GussetKind::Saddle,
            leg: inches("3 1/4 in", 3.25),
            thickness: inches("1/16 in", 0.0625),
            hole: GussetHole::Across(inches("1 in", 1.0)),
        })
    });
    both.collect()
}
