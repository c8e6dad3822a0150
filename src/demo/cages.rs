//! The demo's cages: the example coupe, for the tubes of its class, gussets where the book wants them.

use super::DemoError;
use super::house::typed;
use crate::domain::cage::example::example_record;
use crate::domain::cage::{
    Arm, Cage, CageRecord, Diagonal, DoorBars, GussetKind, GussetRecord, Joint, Options, RoofDiagonal, TapeMeasure,
    Toward, TubeRole, Tubes, solve,
};
use crate::domain::ids::Balloon;
use crate::domain::roles::MemberRole;
use crate::domain::rule_books::RuleBook;

/// The whole example, every bar it has.
pub(super) fn whole(tubes: &Tubes, book: &RuleBook) -> Result<CageRecord, DemoError> {
    with_gussets(example_record(), tubes, book)
}

/// No more bars than the book asks for; its hoop and roof so high.
pub(super) fn plain(tubes: &Tubes, book: &RuleBook, [height, inside]: [&str; 2]) -> Result<CageRecord, DemoError> {
    let example = example_record();
    let options = Options {
        hoop_diagonal: Diagonal::One,
        roof_diagonal: RoofDiagonal::One,
        door_left: DoorBars::One,
        door_right: DoorBars::One,
        dash_bar: false,
        sill_bars: false,
        seat_cross_bars: 0,
        ..example.options.clone()
    };
    let mut record = CageRecord { options, gussets: Vec::new(), numbers: std::collections::BTreeMap::new(), ..example };
    record.measures.insert(TapeMeasure::HoopRoofHeight, typed(height)?);
    record.measures.insert(TapeMeasure::RoofInside, typed(inside)?);
    with_gussets(record, tubes, book)
}

/// Adds a gusset at each joint where the book wants one, and the dies that these tubes need.
fn with_gussets(mut record: CageRecord, tubes: &Tubes, book: &RuleBook) -> Result<CageRecord, DemoError> {
    for (role, tube) in [(TubeRole::Hoop, tubes.hoop), (TubeRole::Other, tubes.other)] {
        let radius = tube.outside * 3.0;
        record.bend_radius.insert(role, typed(&format!("{:.2} in", radius.inches()))?);
    }
    let record = record.numbered_for(tubes);
    let cage = solve(&record, tubes);
    let mut gussets = record.gussets.clone();
    let wider = if tubes.hoop.outside > tubes.other.outside { tubes.hoop } else { tubes.other };
    let leg = format!("{:.2} in", (wider.outside.inches() * 2.25 * 4.0).ceil() / 4.0);
    for joint in &cage.joints {
        let roles = roles(&cage, joint);
        let asked = book.gussets.iter().any(|rule| rule.meant(&roles));
        let there = cage.gussets.iter().any(|gusset| gusset.joint == joint.balloon);
        if asked && !there {
            gussets.extend(fitting(&record, tubes, &cage, joint, &leg)?);
        }
    }
    Ok(CageRecord { gussets, ..record }.numbered_for(tubes))
}

fn roles(cage: &Cage, joint: &Joint) -> Vec<MemberRole> {
    let bars = std::iter::once(joint.carrier).chain(joint.incoming.iter().map(|end| end.0));
    bars.filter_map(|bar| cage.member(bar)).map(|bar| bar.role).collect()
}

/// The first gusset between the carrier and an ending bar that can be made.
fn fitting(
    record: &CageRecord,
    tubes: &Tubes,
    cage: &Cage,
    joint: &Joint,
    leg: &str,
) -> Result<Option<GussetRecord>, DemoError> {
    let key = |balloon: Balloon| cage.member(balloon).map(|bar| bar.key.clone());
    for (balloon, end) in &joint.incoming {
        let (Some(carrier), Some(ending)) = (key(joint.carrier), key(*balloon)) else { continue };
        let away = if *end == 0 { Toward::End } else { Toward::Start };
        for toward in [Toward::Start, Toward::End] {
            let gusset = GussetRecord {
                joint: joint.key.clone(),
                between: [Arm::new(carrier.clone(), toward), Arm::new(ending.clone(), away)],
                kind: GussetKind::Saddle,
                leg: typed(leg)?,
                thickness: typed("1/16 in")?,
                hole: Some(typed("1 in")?),
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
