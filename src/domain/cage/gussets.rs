//! Gussets in the angles of joints: corners, size and mass.

use std::f64::consts::PI;

use super::angles::{FLATTEST, Leaving, leaving};
use super::draft::words;
use super::fittings::{Arm, GussetKind, GussetRecord, Tubes};
use super::parts::{Gusset, Joint, Member};
use super::record::CageRecord;
use super::solve::{Numbers, STEEL};
use crate::domain::faults::Fault;
use crate::domain::ids::Balloon;
use crate::domain::tube::TubeSize;
use crate::geometry::angle;
use crate::quantity::{Angle, Length, Mass, Units};

/// All gussets that can be made, and why the others cannot.
pub(super) fn gussets(
    record: &CageRecord,
    tubes: &Tubes,
    members: &[Member],
    joints: &[Joint],
    numbers: &Numbers,
) -> (Vec<Gusset>, Vec<Fault>) {
    let (mut made, mut faults) = (Vec::new(), Vec::new());
    let mut seen: Vec<String> = Vec::new();
    for gusset in &record.gussets {
        let key = gusset.key();
        if seen.contains(&key) {
            faults.push(Fault::new(&key, "Another gusset sits in the same angle. Take one of them out."));
            continue;
        }
        match one(gusset, tubes, members, joints, numbers) {
            Ok(part) => made.push(part),
            Err(why) => faults.push(Fault::new(&key, why)),
        }
        seen.push(key);
    }
    (made, faults)
}

fn one(
    record: &GussetRecord,
    tubes: &Tubes,
    members: &[Member],
    joints: &[Joint],
    numbers: &Numbers,
) -> Result<Gusset, String> {
    let joint = numbers.of(&record.joint).and_then(|balloon| joints.iter().find(|joint| joint.balloon == balloon));
    let joint = joint.ok_or_else(|| format!("There is no joint of the {}.", words(&record.joint)))?;
    let leaving = leaving(members, joint);
    let named = |arm: &Arm| {
        let absent = || format!("The {} is not at this joint.", words(&arm.member));
        leaving.iter().find(|leaving| leaving.is(arm)).ok_or_else(absent)
    };
    let [first, second] = &record.between;
    let arms = [named(first)?, named(second)?];
    let piece = Piece {
        balloon: numbers.of(&record.key()).ok_or("It has no number.")?,
        kind: record.kind,
        leg: record.leg.value,
        thickness: record.thickness.value,
        hole: record.hole.as_ref().map(|hole| hole.value),
        outside: tubes.other.outside,
    };
    fitted(joint, arms, &piece)
}

/// A gusset before it has its place.
pub(super) struct Piece {
    pub(super) balloon: Balloon,
    pub(super) kind: GussetKind,
    pub(super) leg: Length,
    /// Of the sheet, or the tube's wall.
    pub(super) thickness: Length,
    pub(super) hole: Option<Length>,
    /// Of a tube; not read for the other kinds.
    pub(super) outside: Length,
}

/// The gusset in the angle between two arms of a joint, or why it cannot sit there.
pub(super) fn fitted(joint: &Joint, [first, second]: [&Leaving<'_>; 2], piece: &Piece) -> Result<Gusset, String> {
    let [first_radius, second_radius] = [first, second].map(|arm| arm.member.tube.outside.mm() / 2.0);
    let between = angle::between_directions(first.direction, second.direction);
    if between < FLATTEST || between > Angle::from_degrees(180.0) - FLATTEST {
        return Err("The two bars leave the joint on one line; there is no angle for a gusset.".to_owned());
    }
    let sine = between.radians().sin();
    let corner = joint.at + first.direction * (second_radius / sine) + second.direction * (first_radius / sine);
    let leg = piece.leg;
    let corners = [corner, corner + first.direction * leg.mm(), corner + second.direction * leg.mm()];
    for (arm, reach) in [(first, second_radius / sine), (second, first_radius / sine)] {
        if leg.mm() + reach > arm.member.developed.mm() {
            return Err(format!("Its leg is longer than the {}.", words(&arm.member.key)));
        }
    }
    Ok(Gusset {
        balloon: piece.balloon,
        joint: joint.balloon,
        between: (first.member.balloon, second.member.balloon),
        kind: piece.kind,
        leg,
        thickness: piece.thickness,
        outside: (piece.kind == GussetKind::Tube).then_some(piece.outside),
        hole: piece.hole,
        corners,
        mass: mass(piece, (between, first_radius.max(second_radius) * 2.0)),
    })
}

/// Flat: the triangle. Saddle: two triangles, one on each side of the tubes, and the band between them, as wide as the
/// wider tube. Tube: from leg end to leg end, of the bracing's outside diameter. Holes are taken out.
fn mass(piece: &Piece, (between, wide): (Angle, f64)) -> Mass {
    let leg = piece.leg.mm();
    let side = leg * leg * between.radians().sin() / 2.0;
    let across = 2.0 * leg * (between.radians() / 2.0).sin();
    let hole = piece.hole.map_or(0.0, |hole| PI * hole.mm().powi(2) / 4.0);
    let thickness = piece.thickness.mm();
    match piece.kind {
        GussetKind::Flat => Mass::from_kg((side - hole).max(0.0) * thickness * STEEL),
        GussetKind::Saddle => Mass::from_kg((2.0 * (side - hole).max(0.0) + across * wide) * thickness * STEEL),
        GussetKind::Tube => {
            let tube = TubeSize { outside: piece.outside, wall: piece.thickness, printed: Units::Metric };
            tube.mass(Length::from_mm(across))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cage::example::{TUBES, example_record};
    use crate::domain::cage::solve::solve;
    use crate::domain::ids::Kind;

    /// By hand: a right-angled triangle of 100 mm legs is 5000 mm², 3 mm thick 15 000 mm³, 117.75 g of steel; a hole of
    /// 20 mm takes out 314.16 mm². A saddle has two of them and the band over the long side, 141.42 mm.
    #[test]
    fn masses_by_hand() {
        let flat = Piece {
            balloon: Balloon::new(Kind::Gusset, 1),
            kind: GussetKind::Flat,
            leg: Length::from_mm(100.0),
            thickness: Length::from_mm(3.0),
            hole: None,
            outside: Length::from_mm(30.0),
        };
        let right = (Angle::from_degrees(90.0), 40.0);
        let near = |got: Mass, want: f64| assert!((got.kg() - want).abs() < 1e-6, "got {}", got.kg());
        near(mass(&flat, right), 0.117_75);
        let holed = Piece { hole: Some(Length::from_mm(20.0)), ..flat };
        near(mass(&holed, right), (5_000.0 - 314.159_265) * 3.0 * 7.85e-6);
        let saddle = Piece { kind: GussetKind::Saddle, hole: None, ..holed };
        near(mass(&saddle, right), (10_000.0 + 141.421_356 * 40.0) * 3.0 * 7.85e-6);
    }

    /// The corner lies on both tubes' surfaces, and the legs run along them.
    #[test]
    fn corners_lie_on_the_tubes() {
        let cage = solve(&example_record(), &TUBES);
        assert_eq!(cage.gussets.len(), 6);
        for gusset in &cage.gussets {
            for (member, end) in [(gusset.between.0, gusset.corners[1]), (gusset.between.1, gusset.corners[2])] {
                let member = cage.member(member).unwrap();
                for point in [gusset.corners[0], end] {
                    let off = member.line.nearest(point).2 - member.tube.outside / 2.0;
                    // The two lines of a crossing pass within a fraction of a millimetre.
                    assert!(off.abs() < Length::from_mm(0.5), "{} {}: {}", gusset.balloon, member.key, off.mm());
                }
                assert!((gusset.corners[0].distance(end) - gusset.leg.mm()).abs() < 1e-6);
            }
        }
    }

    #[test]
    fn a_gusset_at_no_joint_is_refused_in_words() {
        let mut record = example_record();
        for gusset in &mut record.gussets {
            gusset.joint = "joint/nowhere".to_owned();
        }
        let cage = solve(&record, &TUBES);
        assert!(cage.gussets.is_empty());
        assert!(
            cage.faults.iter().any(|fault| fault.at == "G1" && fault.why.contains("no joint")),
            "{:?}",
            cage.faults
        );
    }
}
