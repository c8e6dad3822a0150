//! One bar on the bench: its blank, its marks, its bends and the cut of both ends.

use glam::DVec3;

use crate::domain::cage::{Cage, End, Member};
use crate::domain::dies::{Die, Springback};
use crate::geometry::{Cope, angle};
use crate::quantity::{Angle, Length};

/// An axis so near to a node passes it (own choice).
const NODE: Length = Length::from_mm(0.5);

/// One bend in bending order.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BendStep {
    /// Along the centre line, from the first node to where the bend begins.
    pub start: Length,
    /// From the blank's first cut end, at its long point, to the mark: where the bend begins, less the die's offset.
    pub mark: Length,
    /// How far the tube is turned before this bend: right-handed positive about the direction of travel, over -180 up
    /// to and with +180 degrees; 0 for the first.
    pub rotation: Angle,
    /// The deflection wanted in the finished part; springback comes on top.
    pub angle: Angle,
    /// What to set by the die's test bends, and what that rests on; none without a die that fits, or without a test.
    pub set: Option<(Angle, Springback)>,
    /// Of the centre line.
    pub radius: Length,
    /// The centre line's length within the bend.
    pub arc: Length,
}

/// One end as it is cut.
#[derive(Debug, Clone)]
pub struct EndCut {
    /// What the end stands on.
    pub end: End,
    /// The bar or plate it is cut to, in a word: `M1`, `P2`; empty where it is free.
    pub onto: String,
    /// The cut.
    pub cope: Cope,
    /// The carrier's outside diameter, which a hole saw for this cut has; none on a plate.
    pub hole_saw: Option<Length>,
    /// From the bend plane, or for a straight bar from line 0 of its first end, to this end's line 0: turned about the
    /// direction of travel, right-handed positive. The bend plane's line is the inside of the bend next to this end.
    pub clocking: Option<Angle>,
}

/// A length to check the finished part by.
#[derive(Debug, Clone, PartialEq)]
pub struct Check {
    /// What is measured.
    pub what: String,
    /// From where, mm.
    pub from: DVec3,
    /// To where, mm.
    pub to: DVec3,
    /// How long it is.
    pub length: Length,
    /// Whether it is drawn: between nodes and corners; what a tape takes of the cut ends stands in words alone.
    pub drawn: bool,
}

/// One bar on the bench.
#[derive(Debug, Clone)]
pub struct BarSheet<'a> {
    /// The bar.
    pub member: &'a Member,
    /// Its bends in bending order.
    pub bends: Vec<BendStep>,
    /// Its ends; none where an end is free or cannot be cut.
    pub ends: [Option<EndCut>; 2],
    /// The die its first bend takes, by its name; none where no die of the shop fits.
    pub die: Option<String>,
    /// Check dimensions of the finished part.
    pub checks: Vec<Check>,
}

impl<'a> BarSheet<'a> {
    /// The sheet of a bar of this cage, bent over the shop's dies.
    pub fn of(cage: &Cage, member: &'a Member, dies: &[Die]) -> Self {
        let first_cut = member.copes.first().and_then(Option::as_ref).map_or(Length::default(), Cope::long_point);
        let die = |radius: Length| dies.iter().find(|die| die.fits(member.tube.outside, radius));
        let bends = member.line.bends().iter().map(|bend| BendStep {
            start: bend.start,
            mark: bend.start - first_cut - die(bend.radius).map_or(Length::default(), |die| die.offset.value),
            set: die(bend.radius)
                .and_then(Die::springback)
                .map(|springback| (springback.set_for(bend.angle), springback)),
            rotation: bend.rotation,
            angle: bend.angle,
            radius: bend.radius,
            arc: bend.arc(),
        });
        Self {
            member,
            bends: bends.collect(),
            ends: [0, 1].map(|number| end_cut(cage, member, number)),
            die: member.line.bends().first().and_then(|bend| die(bend.radius)).map(|die| die.name.clone()),
            checks: checks(member),
        }
    }
}

fn end_cut(cage: &Cage, member: &Member, number: usize) -> Option<EndCut> {
    let cope = member.copes.get(number)?.clone()?;
    let end = *member.ends.get(number)?;
    let (onto, hole_saw) = match end {
        End::OnPlate(plate) => (plate.to_string(), None),
        End::Onto { carrier, .. } => (carrier.to_string(), cage.member(carrier).map(|bar| bar.tube.outside)),
        End::Free => (String::new(), None),
    };
    let onto = if cope.several() { beside(cage, member, number, onto) } else { onto };
    let clocking = clocking(member, number, &cope);
    Some(EndCut { end, onto, cope, hole_saw, clocking })
}

/// Of a cope over several bars: all whose axes pass the end's node, the carrier first.
fn beside(cage: &Cage, member: &Member, number: usize, first: String) -> String {
    let points = member.line.points();
    let Some(node) = (if number == 0 { points.first() } else { points.last() }) else { return first };
    let passes = |other: &&Member| other.balloon != member.balloon && other.line.nearest(*node).2 < NODE;
    let others = cage.members.iter().filter(passes).map(|other| other.balloon.to_string());
    let others = others.filter(|other| *other != first).collect::<Vec<_>>();
    std::iter::once(first.clone()).chain(others).collect::<Vec<_>>().join(" and ")
}

/// The turn from the reference line to this end's line 0, about the direction of travel at this end.
fn clocking(member: &Member, number: usize, cope: &Cope) -> Option<Angle> {
    let line = &member.line;
    let travel = if number == 0 { line.direction_at_start() } else { line.direction_at_end() };
    let reference = if line.straight() {
        let first = member.copes.first()?.as_ref()?;
        if number == 0 {
            return None;
        }
        first.place_zero()
    } else {
        inside(member, number)?
    };
    Some(angle::turn_about(travel, reference, cope.place_zero()))
}

/// The unit direction from the tube's axis toward the inside of the bend next to an end.
fn inside(member: &Member, number: usize) -> Option<DVec3> {
    let bends = member.line.bends();
    let bend = if number == 0 { bends.first()? } else { bends.last()? };
    let before = member.line.point_at(bend.start).1;
    let after = member.line.point_at(bend.start + bend.arc()).1;
    // Square to the straight at this end, in the bend's plane, toward where the tube turns to.
    let inward = if number == 0 { after - before * after.dot(before) } else { after * before.dot(after) - before };
    inward.try_normalize()
}

/// From end to end, and both diagonals between an end and the far bend's corner.
fn checks(member: &Member) -> Vec<Check> {
    let points = member.line.points();
    let check = |what: &str, from: DVec3, to: DVec3, drawn: bool| Check {
        what: what.to_owned(),
        from,
        to,
        length: Length::from_mm(from.distance(to)),
        drawn,
    };
    let mut checks = Vec::new();
    let (Some(first), Some(last)) = (points.first(), points.last()) else { return checks };
    checks.push(check("node to node, straight across", *first, *last, true));
    let corners = points.get(1..points.len().saturating_sub(1)).unwrap_or_default();
    if let (Some(near), Some(far)) = (corners.first(), corners.last()) {
        if corners.len() > 1 {
            checks.push(check("first node to the last bend's corner", *first, *far, true));
            checks.push(check("last node to the first bend's corner", *last, *near, true));
        } else {
            checks.push(check("first node to the bend's corner", *first, *near, true));
            checks.push(check("last node to the bend's corner", *last, *near, true));
        }
    }
    if let (Some(one), Some(other)) = (tip(member, 0), tip(member, 1)) {
        checks.push(check("long point to long point of the cut ends, by tape", one, other, false));
    }
    checks
}

/// Where an end's long point is on the finished part; none where the end is not cut.
fn tip(member: &Member, number: usize) -> Option<DVec3> {
    let cope = member.copes.get(number)?.as_ref()?;
    let line = &member.line;
    let (node, branch) = if number == 0 {
        (line.points().first()?, line.direction_at_start())
    } else {
        (line.points().last()?, -line.direction_at_end())
    };
    let (zero, (sine, cosine)) = (cope.place_zero(), cope.long_point_at().radians().sin_cos());
    // Places count from 0 toward carrier x branch, which is `zero` x branch.
    let around = zero * cosine + zero.cross(branch) * sine;
    Some(*node + branch * cope.long_point().mm() + around * (member.tube.outside.mm() / 2.0))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cage::example::{TUBES, example_record};
    use crate::domain::cage::solve;
    use crate::geometry::CentreLine;

    /// The sheet's straights and bends laid end to end give the finished part back, and the blank is the marks' sum.
    #[test]
    fn the_marks_give_the_part_back() {
        let cage = solve(&example_record(), &TUBES);
        for member in cage.members.iter().filter(|member| !member.line.straight()) {
            let sheet = BarSheet::of(&cage, member, &[]);
            let (Some(one), Some(other)) = (&sheet.ends[0], &sheet.ends[1]) else { panic!("{}", member.key) };
            let mut along = -one.cope.long_point();
            let mut straights = Vec::new();
            let mut before = Length::default();
            for step in &sheet.bends {
                assert!((step.mark - (step.start + along)).abs() < Length::from_mm(1e-3));
                straights.push(step.start - before);
                before = step.start + step.arc;
            }
            straights.push(member.developed - before);
            along = along + member.developed - other.cope.long_point();
            assert!((along - member.cut_length).abs() < Length::from_mm(1e-3), "{}", member.key);
            let normal = {
                let bend = member.line.bends()[0];
                let after = member.line.point_at(bend.start + bend.arc()).1;
                member.line.direction_at_start().cross(after)
            };
            let (start, travel) = (member.line.points()[0], member.line.direction_at_start());
            let again = CentreLine::from_bends(start, travel, normal, &straights, member.line.bends()).unwrap();
            let (there, here) = (member.line.points().last().unwrap(), again.points().last().unwrap());
            assert!(there.distance(*here) < 1e-6, "{}", member.key);
        }
    }

    /// The long points lie on the wall where the cut is: each on its carrier's surface, or on its plate.
    #[test]
    fn long_points_lie_on_what_they_are_cut_to() {
        let cage = solve(&example_record(), &TUBES);
        let mut on_bars = 0;
        for member in &cage.members {
            for (number, end) in member.ends.iter().enumerate() {
                let at = tip(member, number).unwrap();
                match end {
                    End::Onto { carrier, along, .. } => {
                        let carrier = cage.member(*carrier).unwrap();
                        let (on, way) = carrier.line.point_at(*along);
                        let off = (at - on - way * (at - on).dot(way)).length();
                        assert!((off - carrier.tube.outside.mm() / 2.0).abs() < 1e-6, "{} {number}", member.key);
                        on_bars += 1;
                    }
                    End::OnPlate(plate) => {
                        assert!((at.z - cage.plate(*plate).unwrap().centre.z).abs() < 1e-6, "{} {number}", member.key);
                    }
                    End::Free => panic!("{}", member.key),
                }
            }
        }
        assert!(on_bars > 20);
    }

    /// A line of the tube carried along a straight bar keeps its place: the clocking of the far end is the angle
    /// between both lines 0, seen along the bar.
    #[test]
    fn clocking_of_a_straight_bar_is_the_angle_between_its_lines() {
        let cage = solve(&example_record(), &TUBES);
        for member in cage.members.iter().filter(|member| member.line.straight()) {
            let sheet = BarSheet::of(&cage, member, &[]);
            let (Some(one), Some(other)) = (&sheet.ends[0], &sheet.ends[1]) else { panic!("{}", member.key) };
            let between = angle::between_directions(one.cope.place_zero(), other.cope.place_zero());
            let turned = other.clocking.unwrap();
            assert!((turned.degrees().abs() - between.degrees()).abs() < 1e-6, "{}", member.key);
        }
    }
}
