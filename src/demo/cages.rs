//! The demo's cages: an invented car's tape measurements, for the tubes of its class, gussets where the book wants them.

use super::DemoError;
use super::house::typed;
use crate::domain::book::RuleBook;
use crate::domain::book::kinds::GussetRule;
use crate::domain::cage::record::example::example_record;
use crate::domain::cage::solve;
use crate::domain::cage::{
    Arm, Cage, CageRecord, Diagonal, DoorBars, Fixing, Foot, GussetHole, GussetKind, GussetRecord, Hand, Joint,
    Options, PlateRecord, RoofDiagonal, TapeMeasure, Toward, TubeRole, Tubes,
};
use crate::domain::words::ids::Balloon;
use crate::domain::words::roles::MemberRole;
use crate::quantity::{Length, Units};

/// An invented two-door, as the tape shows it in millimetres. No car was measured for it.
const IN_MILLIMETRES: [(TapeMeasure, u32); 27] = [
    (TapeMeasure::HoopFeetWidth, 1215),
    (TapeMeasure::HoopShoulderWidth, 1285),
    (TapeMeasure::HoopShoulderHeight, 505),
    (TapeMeasure::HoopRoofWidth, 1000),
    (TapeMeasure::HoopRoofHeight, 1120),
    (TapeMeasure::HoopLean, 34),
    (TapeMeasure::RoofInside, 1156),
    (TapeMeasure::HarnessBarHeight, 765),
    (TapeMeasure::HoopPlateHeight(Hand::Left), 6),
    (TapeMeasure::HoopPlateHeight(Hand::Right), 9),
    (TapeMeasure::FrontFootForward(Hand::Left), 1160),
    (TapeMeasure::FrontFootForward(Hand::Right), 1156),
    (TapeMeasure::FrontFootOut(Hand::Left), 655),
    (TapeMeasure::FrontPlateHeight(Hand::Left), 12),
    (TapeMeasure::KneeForward(Hand::Left), 1076),
    (TapeMeasure::KneeOut(Hand::Left), 660),
    (TapeMeasure::KneeUp(Hand::Left), 672),
    (TapeMeasure::ScreenCornerForward(Hand::Left), 694),
    (TapeMeasure::ScreenCornerOut(Hand::Left), 486),
    (TapeMeasure::ScreenCornerUp(Hand::Left), 1066),
    (TapeMeasure::SillHeight(Hand::Left), 176),
    (TapeMeasure::SillBarTop(Hand::Left), 74),
    (TapeMeasure::DoorOpeningLength(Hand::Left), 1068),
    (TapeMeasure::DoorOpeningHeight(Hand::Left), 862),
    (TapeMeasure::BackstayFootBack(Hand::Left), 852),
    (TapeMeasure::BackstayFootOut(Hand::Left), 474),
    (TapeMeasure::BackstayFootUp(Hand::Left), 386),
];

/// How a cage of the demo is laid out: with what bars, and in whose units it was measured.
#[derive(Debug, Clone, Copy)]
pub(super) struct Layout {
    /// Every bar there is to choose, or no more than the book asks for.
    pub(super) whole: bool,
    /// As the tape shows it.
    pub(super) units: Units,
}

/// A cage of the demo.
pub(super) fn cage(layout: Layout, tubes: &Tubes, book: &RuleBook) -> Result<CageRecord, DemoError> {
    let example = example_record();
    let options = if layout.whole { example.options.clone() } else { plain(&example.options) };
    let mut record = CageRecord { options, gussets: Vec::new(), numbers: std::collections::BTreeMap::new(), ..example };
    if layout.units == Units::Metric {
        record.measures.clear();
        for (measure, millimetres) in IN_MILLIMETRES {
            record.measures.insert(measure, typed(&format!("{millimetres} mm"))?);
        }
        for foot in Foot::ALL {
            let [side_a, side_b, thickness] = ["125 mm", "90 mm", "5 mm"].map(typed);
            let plate = PlateRecord { side_a: side_a?, side_b: side_b?, thickness: thickness?, fixed: Fixing::Welded };
            record.plates.insert(foot, plate);
        }
    }
    with_gussets(record, layout.units, tubes, book)
}

fn plain(options: &Options) -> Options {
    Options {
        hoop_diagonal: Diagonal::One,
        roof_diagonal: RoofDiagonal::One,
        door_left: DoorBars::Two,
        door_right: DoorBars::Two,
        dash_bar: false,
        sill_bars: false,
        seat_cross_bars: 0,
        ..options.clone()
    }
}

/// What a length is typed as: up to the next step of the shop's own dies and sheets (own choice).
fn stepped(length: Length, units: Units) -> String {
    match units {
        Units::Inch => format!("{:.2} in", (length.inches() * 4.0).ceil() / 4.0),
        Units::Metric => format!("{:.0} mm", (length.mm() / 5.0).ceil() * 5.0),
    }
}

/// Adds a gusset at each joint where the book wants one, and the dies that these tubes need: three diameters, up to the
/// next step (own choice).
fn with_gussets(mut record: CageRecord, units: Units, tubes: &Tubes, book: &RuleBook) -> Result<CageRecord, DemoError> {
    for (role, tube) in [(TubeRole::Hoop, tubes.hoop), (TubeRole::Other, tubes.other)] {
        record.bend_radius.insert(role, typed(&stepped(tube.outside * 3.0, units))?);
    }
    let record = record.numbered_for(tubes);
    let cage = solve(&record, tubes);
    let mut gussets = record.gussets.clone();
    let wider = if tubes.hoop.outside > tubes.other.outside { tubes.hoop } else { tubes.other };
    let leg = stepped(wider.outside * 2.25, units);
    let [thickness, hole] = if units == Units::Inch { ["3/32 in", "7/8 in"] } else { ["2 mm", "24 mm"] };
    for joint in &cage.joints {
        let roles = roles(&cage, joint);
        for rule in book.gussets.iter().filter(|rule| rule.meant(&roles)) {
            gussets.extend(fitting(&record, tubes, (&cage, joint, rule), [&leg, thickness, hole])?);
        }
    }
    Ok(CageRecord { gussets, ..record }.numbered_for(tubes))
}

fn roles(cage: &Cage, joint: &Joint) -> Vec<MemberRole> {
    let bars = std::iter::once(joint.carrier).chain(joint.incoming.iter().map(|end| end.0));
    bars.filter_map(|bar| cage.member(bar)).map(|bar| bar.role).collect()
}

/// The first gusset between the carrier and an ending bar that the rule asks for and that can be made: its leg, sheet and
/// hole as typed.
fn fitting(
    record: &CageRecord,
    tubes: &Tubes,
    (cage, joint, rule): (&Cage, &Joint, &GussetRule),
    [leg, thickness, hole]: [&str; 3],
) -> Result<Option<GussetRecord>, DemoError> {
    let key = |balloon: Balloon| cage.member(balloon).map(|bar| bar.key.clone());
    let role = |balloon: Balloon| cage.member(balloon).map(|bar| bar.role);
    for (balloon, end) in &joint.incoming {
        let pair = role(joint.carrier).zip(role(*balloon));
        if !pair.is_some_and(|(one, other)| rule.between([one, other])) {
            continue;
        }
        let (Some(carrier), Some(ending)) = (key(joint.carrier), key(*balloon)) else { continue };
        let away = if *end == 0 { Toward::End } else { Toward::Start };
        for toward in [Toward::Start, Toward::End] {
            let gusset = GussetRecord {
                joint: joint.key.clone(),
                between: [Arm::new(carrier.clone(), toward), Arm::new(ending.clone(), away)],
                kind: GussetKind::Saddle,
                leg: typed(leg)?,
                thickness: typed(thickness)?,
                hole: GussetHole::Across(typed(hole)?),
            };
            let tried = CageRecord { gussets: vec![gusset.clone()], ..record.clone() }.numbered_for(tubes);
            let tried = solve(&tried, tubes);
            if tried.gussets.len() == 1 && tried.faults.is_empty() {
                return Ok(Some(gusset));
            }
        }
    }
    Ok(None)
}
