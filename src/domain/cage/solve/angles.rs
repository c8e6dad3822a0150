//! The angles at a joint that a gusset can sit in, each in words that a person at the car understands.

use glam::DVec3;

use crate::domain::cage::parts::{Cage, Joint, Member};
use crate::domain::cage::record::fittings::{Arm, Toward};
use crate::domain::words::ids::Balloon;
use crate::geometry::angle;
use crate::quantity::Angle;

/// Arms nearer to one line than this leave no angle for a gusset (own choice).
pub(in crate::domain::cage) const FLATTEST: Angle = Angle::from_degrees(10.0);

/// An angle between two bars at a joint.
#[derive(Debug, Clone, PartialEq)]
pub struct AngleAt {
    /// The joint's key.
    pub joint: String,
    /// Its two sides.
    pub arms: [Arm; 2],
    /// The two bars.
    pub bars: [Balloon; 2],
    /// How open it is.
    pub between: Angle,
    /// "M1 main hoop up, M5 backstay".
    pub words: String,
}

/// A bar as it leaves a joint.
pub(in crate::domain::cage) struct Leaving<'a> {
    pub(in crate::domain::cage) member: &'a Member,
    toward: Toward,
    /// The unit direction from the joint into the bar.
    pub(in crate::domain::cage) direction: DVec3,
    carrier: bool,
}

impl Leaving<'_> {
    /// Whether it is what an arm names; a bar that ends here leaves one way only, whatever the arm says.
    pub(in crate::domain::cage) fn is(&self, arm: &Arm) -> bool {
        self.member.key == arm.member && (!self.carrier || self.toward == arm.toward)
    }

    /// The same, the way it leaves included: an end's arm leads away from that end only.
    pub(in crate::domain::cage) fn is_exactly(&self, arm: &Arm) -> bool {
        self.member.key == arm.member && self.toward == arm.toward
    }
}

/// Every angle at a joint that is open enough for a gusset.
pub fn angles_at(cage: &Cage, joint: &Joint) -> Vec<AngleAt> {
    let leaving = leaving(&cage.members, joint);
    let mut angles = Vec::new();
    for (index, one) in leaving.iter().enumerate() {
        for other in leaving.iter().skip(index + 1).filter(|other| other.member.balloon != one.member.balloon) {
            let between = angle::between_directions(one.direction, other.direction);
            if between < FLATTEST || between > Angle::from_degrees(180.0) - FLATTEST {
                continue;
            }
            angles.push(AngleAt {
                joint: joint.key.clone(),
                arms: [one, other].map(|arm| Arm::new(arm.member.key.clone(), arm.toward)),
                bars: [one.member.balloon, other.member.balloon],
                between,
                words: format!("{}, {}", words(one), words(other)),
            });
        }
    }
    angles
}

/// The carrier leaves both ways, unless it ends here; each bar that ends here leaves one way.
pub(in crate::domain::cage) fn leaving<'a>(members: &'a [Member], joint: &Joint) -> Vec<Leaving<'a>> {
    let member = |balloon| members.iter().find(|member| member.balloon == balloon);
    let mut leaving = Vec::new();
    if let Some(member) = member(joint.carrier) {
        let way = member.line.point_at(joint.along).1;
        for (toward, direction) in [(Toward::Start, -way), (Toward::End, way)] {
            leaving.push(Leaving { member, toward, direction, carrier: true });
        }
    }
    for (balloon, end) in &joint.incoming {
        let Some(member) = member(*balloon) else { continue };
        let toward = if *end == 0 { Toward::End } else { Toward::Start };
        leaving.push(Leaving { member, toward, direction: member.line.into_bar(*end), carrier: false });
    }
    leaving
}

fn words(arm: &Leaving<'_>) -> String {
    let bar = format!("{} {}", arm.member.balloon, arm.member.role.word());
    if arm.carrier { format!("{bar} {}", way(arm.direction)) } else { bar }
}

/// Which way a direction goes most, on the car's axes (ISO 8855: x forward, y to the left, z up).
fn way(direction: DVec3) -> &'static str {
    let [x, y, z] = direction.to_array();
    if z.abs() >= x.abs() && z.abs() >= y.abs() {
        if z > 0.0 { "up" } else { "down" }
    } else if x.abs() >= y.abs() {
        if x > 0.0 { "forward" } else { "rearward" }
    } else if y > 0.0 {
        "to the left"
    } else {
        "to the right"
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cage::hole::GussetHole;
    use crate::domain::cage::record::example::{TUBES, example_record};
    use crate::domain::cage::record::fittings::{GussetKind, GussetRecord};
    use crate::domain::cage::solve;
    use crate::quantity::{Length, Typed};

    /// Whatever the list offers can be made: a gusset in each angle of the example's cage is solved without a fault.
    #[test]
    fn every_angle_offered_takes_a_gusset() {
        let mut record = example_record();
        let cage = solve(&record, &TUBES);
        let angles: Vec<AngleAt> = cage.joints.iter().flat_map(|joint| angles_at(&cage, joint)).collect();
        assert!(angles.len() > cage.joints.len());
        let inch = |text: &str, value: f64| Typed::of(Length::from_inches(value), text);
        let gusset = |angle: &AngleAt| GussetRecord {
            joint: angle.joint.clone(),
            between: angle.arms.clone(),
            kind: GussetKind::Flat,
            leg: inch("1/2 in", 0.5),
            thickness: inch("1/8 in", 0.125),
            hole: GussetHole::NoHole,
        };
        record.gussets = angles.iter().map(gusset).collect();
        let solved = solve(&record.numbered_for(&TUBES), &TUBES);
        assert_eq!(solved.gussets.len(), angles.len(), "{:?}", solved.faults);
        for (gusset, angle) in solved.gussets.iter().zip(&angles) {
            assert_eq!([gusset.between.0, gusset.between.1], angle.bars);
        }
    }
}
