//! Gussets in the angles of joints: corners, size and mass.

use super::angles::{FLATTEST, Leaving, leaving};
use crate::domain::cage::hole::GussetHole;
use crate::domain::cage::lay::numbers::Numbers;
use crate::domain::cage::parts::{Gusset, Joint, Member};
use crate::domain::cage::record::CageRecord;
use crate::domain::cage::record::fittings::{Arm, GussetKind, GussetRecord, Tubes};
use crate::domain::cage::record::key_words::words;
use crate::domain::steel::tube::{STEEL_KG_PER_MM3, TubeSize};
use crate::domain::words::faults::Fault;
use crate::domain::words::ids::Balloon;
use crate::geometry::{GussetFault, GussetSeat, SheetBlank, TubeGusset, angle};
use crate::quantity::{Angle, Length, Mass, Units};

/// All gussets that can be made, and why the others cannot.
pub(in crate::domain::cage) fn gussets(
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
    let joint = joint.ok_or_else(|| gone(&record.joint))?;
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
pub(in crate::domain::cage) struct Piece {
    pub(in crate::domain::cage) balloon: Balloon,
    pub(in crate::domain::cage) kind: GussetKind,
    pub(in crate::domain::cage) leg: Length,
    /// Of the sheet, or the tube's wall.
    pub(in crate::domain::cage) thickness: Length,
    pub(in crate::domain::cage) hole: GussetHole<Length>,
    /// Of a tube; not read for the other kinds.
    pub(in crate::domain::cage) outside: Length,
}

/// The gusset in the angle between two arms of a joint, or why it cannot sit there.
pub(in crate::domain::cage) fn fitted(
    joint: &Joint,
    [first, second]: [&Leaving<'_>; 2],
    piece: &Piece,
) -> Result<Gusset, String> {
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
    let mut gusset = Gusset {
        balloon: piece.balloon,
        joint: joint.balloon,
        between: (first.member.balloon, second.member.balloon),
        kind: piece.kind,
        leg,
        thickness: piece.thickness,
        outside: (piece.kind == GussetKind::Tube).then_some(piece.outside),
        hole: piece.hole,
        corners,
        mass: Mass::default(),
    };
    let outside = [first, second].map(|arm| arm.member.tube.outside);
    let cut = gusset.cut(outside).map_err(|fault| fault.to_string())?;
    gusset.mass = cut.mass(gusset.thickness);
    Ok(gusset)
}

/// A gusset as it is cut, before it is bent and welded in.
#[derive(Debug, Clone, PartialEq)]
pub enum GussetCut {
    /// Of sheet.
    Sheet(SheetBlank),
    /// Of tube, with its size.
    Tube(Box<TubeGusset>, TubeSize),
}

impl GussetCut {
    /// Its mass as cut, holes taken out; the thickness is the sheet's.
    pub fn mass(&self, thickness: Length) -> Mass {
        match self {
            Self::Sheet(blank) => Mass::from_kg(blank.net().mm2().max(0.0) * thickness.mm() * STEEL_KG_PER_MM3),
            Self::Tube(piece, tube) => tube.mass(piece.metal_length(tube.wall)),
        }
    }
}

impl Gusset {
    /// The angle it sits in, between tubes of these outside diameters.
    pub fn seat(&self, outside: [Length; 2]) -> GussetSeat {
        let [corner, first, second] = self.corners;
        GussetSeat { between: angle::between_directions(first - corner, second - corner), outside, leg: self.leg }
    }

    /// How it is cut to sit between tubes of these outside diameters.
    pub fn cut(&self, outside: [Length; 2]) -> Result<GussetCut, GussetFault> {
        let seat = self.seat(outside);
        Ok(match self.kind {
            GussetKind::Flat => GussetCut::Sheet(seat.flat(self.hole.across())?),
            GussetKind::Saddle => GussetCut::Sheet(seat.saddle(self.thickness, self.hole.across())?),
            GussetKind::Tube => {
                let of = self.outside.unwrap_or_default();
                let tube = TubeSize { outside: of, wall: self.thickness, printed: Units::Metric };
                GussetCut::Tube(Box::new(seat.tube(of)?), tube)
            }
        })
    }
}

/// What stood at a joint's key when the gusset was set there: the carrier and the bar that ended on it.
fn gone(key: &str) -> String {
    let bars = key.trim_start_matches("joint/").trim_end_matches("/start").trim_end_matches("/end");
    let bars: Vec<String> = bars.split('+').map(words).collect();
    format!("There is no joint of {} any more. Take this gusset out.", bars.join(" and "))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cage::record::example::{TUBES, example_record};
    use crate::domain::cage::solve;
    use crate::domain::words::ids::Kind;
    use glam::DVec3;

    /// By hand: a right-angled triangle of 100 mm legs with 10 mm cut back at the corner is 4950 mm², a hole of 20 mm takes
    /// 314.16 mm² of it; 3 mm of steel weigh 23.55 g for 1000 mm².
    #[test]
    fn masses_by_hand() {
        let gusset = Gusset {
            balloon: Balloon::new(Kind::Gusset, 1),
            joint: Balloon::new(Kind::Joint, 1),
            between: (Balloon::new(Kind::Member, 1), Balloon::new(Kind::Member, 2)),
            kind: GussetKind::Flat,
            leg: Length::from_mm(100.0),
            thickness: Length::from_mm(3.0),
            outside: None,
            hole: GussetHole::Across(Length::from_mm(20.0)),
            corners: [DVec3::ZERO, DVec3::X * 100.0, DVec3::Z * 100.0],
            mass: Mass::default(),
        };
        let mass = |gusset: &Gusset| gusset.cut([Length::from_mm(40.0); 2]).unwrap().mass(gusset.thickness).kg();
        assert!((mass(&gusset) - (4_950.0 - 314.159_265) * 3.0 * 7.85e-6).abs() < 1e-8);
        // A tube's metal, like a solid's, is its section times its axis to where it is cut on average; the wall is thin.
        let tube =
            Gusset { kind: GussetKind::Tube, outside: Some(Length::from_mm(30.0)), hole: GussetHole::NoHole, ..gusset };
        let metre = 0.024_661_5 * 27.0 * 3.0;
        assert!((mass(&tube) / metre * 1000.0 - 197.99 + 2.0 * 25.0).abs() < 5.0, "{}", mass(&tube) / metre);
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
            gusset.joint = "joint/main-hoop+half-hoop/middle/start".to_owned();
        }
        let cage = solve(&record, &TUBES);
        assert!(cage.gussets.is_empty());
        assert!(
            cage.faults
                .iter()
                .any(|fault| fault.at == "G1"
                    && fault.why.contains("no joint of main hoop and half hoop middle any more")),
            "{:?}",
            cage.faults
        );
    }
}
