//! One bar on the bench: its blank, its marks, its bends and the cut of both ends.

use glam::DVec3;

use super::checks::{Check, checks};
use super::tool::Tool;
use crate::domain::cage::{Cage, End, Member};
use crate::domain::steel::dies::bender::within_half_a_round;
use crate::domain::steel::dies::{Bender, Die, Made};
use crate::domain::words::ids::Balloon;
use crate::domain::words::wording::listed;
use crate::geometry::{Bend, Cope, angle};
use crate::quantity::{Angle, Length, Units};

/// What the shop bends with.
#[derive(Debug, Clone, Copy, Default)]
pub struct Bench<'a> {
    /// Its dies.
    pub dies: &'a [Die],
    /// The straight tube that its bender holds beyond a bend.
    pub grip: Length,
}

/// One bend in bending order: end A goes through the die first, and each bend is made in the bender's own plane.
#[derive(Debug, Clone, PartialEq)]
pub struct BendStep {
    /// Along the centre line, from the first node to where the bend begins.
    pub start: Length,
    /// From the blank's first cut end, at its long point, to the mark: where the bend begins, less the die's offset.
    pub mark: Length,
    /// How far this bend's plane is turned from the one before in the finished part: right-handed positive about the
    /// direction of travel, over -180 up to and with +180 degrees; 0 for the first.
    pub rotation: Angle,
    /// How far the whole tube is turned in the bender before this bend, as its dial counts; nothing for the first.
    pub turn: Angle,
    /// Where a line scribed along the tube stands before this bend, from where it stood for the first: all turns so far.
    pub scribed: Angle,
    /// The deflection wanted in the finished part; springback comes on top.
    pub angle: Angle,
    /// Over which die, and what to set.
    pub made: Made,
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
    /// The bars besides that it is coped round: fitted before it.
    pub round: Vec<Balloon>,
    /// The cut.
    pub cope: Cope,
    /// What makes the cut.
    pub tool: Tool,
    /// From the bend plane, or for a straight bar from line 0 of its first end, to this end's line 0: turned about the
    /// direction of travel, right-handed positive. The bend plane's line is the inside of the bend next to this end.
    pub clocking: Option<Angle>,
}

/// Two bends with less straight between them than the bender holds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NearBends {
    /// The earlier one's number, from 1; the next is the later one.
    pub first: usize,
    /// The straight between them.
    pub straight: Length,
    /// The least that there must be.
    pub least: Length,
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
    /// How its first bend's bender swings and counts: all its bends are made on one.
    pub bender: Bender,
    /// Bends that are nearer to each other than the bender's hold.
    pub near: Vec<NearBends>,
    /// Check dimensions of the finished part.
    pub checks: Vec<Check>,
}

impl<'a> BarSheet<'a> {
    /// The sheet of a bar of this cage, bent with what the shop has.
    pub fn of(cage: &Cage, member: &'a Member, bench: &Bench<'_>) -> Self {
        let first_cut = member.copes.first().and_then(Option::as_ref).map_or(Length::default(), Cope::long_point);
        let made = |bend: &Bend| Made::of(bench.dies, &member.tube, bend.radius, bend.angle);
        let bender = member.line.bends().first().map(|first| made(first).bender()).unwrap_or_default();
        let mut scribed = Angle::default();
        let bends = member.line.bends().iter().map(|bend| {
            let (made, turn) = (made(bend), bender.turn(bend.rotation));
            scribed = within_half_a_round(scribed + turn);
            BendStep {
                start: bend.start,
                mark: bend.start - first_cut - made.offset(),
                rotation: bend.rotation,
                turn,
                scribed,
                angle: bend.angle,
                made,
                radius: bend.radius,
                arc: bend.arc(),
            }
        });
        Self {
            member,
            bends: bends.collect(),
            ends: [0, 1].map(|number| end_cut(cage, member, number)),
            bender,
            near: near(member, bench.grip),
            checks: checks(member),
        }
    }

    /// What is in the marks and what the set angles rest on, in sentences that name their bends where these differ.
    pub fn describe_making(&self, units: Units) -> Vec<String> {
        let marks = self.describe_bends("Marks", |bend| bend.made.describe_marks(units));
        let set = self.describe_bends("Set", |bend| bend.made.describe_set(units));
        marks.into_iter().chain(set).collect()
    }

    fn describe_bends(&self, what: &str, describe: impl Fn(&BendStep) -> String) -> Vec<String> {
        let mut each: Vec<(String, Vec<String>)> = Vec::new();
        for (number, bend) in (1_u32..).zip(&self.bends) {
            let words = describe(bend);
            match each.iter_mut().find(|known| known.0 == words) {
                Some(known) => known.1.push(number.to_string()),
                None => each.push((words, vec![number.to_string()])),
            }
        }
        if let [(words, _)] = each.as_slice() {
            return vec![format!("{what}: {words}")];
        }
        let named = |(words, bends): (String, Vec<String>)| {
            let word = if bends.len() == 1 { "bend" } else { "bends" };
            format!("{what}, {word} {}: {words}", bends.join(", "))
        };
        each.into_iter().map(named).collect()
    }
}

/// The bends that are nearer to each other than the bender's hold.
fn near(member: &Member, least: Length) -> Vec<NearBends> {
    let between = member.line.straights().iter().skip(1).take(member.line.bends().len().saturating_sub(1));
    let near = |(first, straight): (usize, &Length)| {
        (*straight < least).then_some(NearBends { first, straight: *straight, least })
    };
    (1..).zip(between).filter_map(near).collect()
}

impl NearBends {
    /// What is wrong and what helps.
    pub fn describe(&self, units: Units) -> String {
        format!(
            "Between bends {} and {} the tube is straight for {}; the bender holds {}. It needs {} more: move the corners apart, or \
take a die that holds less.",
            self.first,
            self.first + 1,
            self.straight.by_tape_exactly(units),
            self.least.by_tape_exactly(units),
            (self.least - self.straight).by_tape_exactly(units)
        )
    }
}

fn end_cut(cage: &Cage, member: &Member, number: usize) -> Option<EndCut> {
    let cope = member.copes.get(number)?.clone()?;
    let end = *member.ends.get(number)?;
    let (onto, carrier) = match end {
        End::OnPlate(plate) => (plate.to_string(), None),
        End::Onto { carrier, .. } => (carrier.to_string(), cage.member(carrier).map(|bar| bar.tube.outside)),
        End::Free => (String::new(), None),
    };
    let round = member.round.get(number).cloned().unwrap_or_default();
    let tool = Tool::of(member, end, &cope, carrier);
    let clocking = clocking(member, number, &cope);
    Some(EndCut { end, onto, round, cope, tool, clocking })
}

impl EndCut {
    /// What it is cut to, in words: the carrier, and what is fitted before it.
    pub fn describe(&self) -> String {
        if self.round.is_empty() {
            self.onto.clone()
        } else {
            format!("{}, coped round {}", self.onto, listed(&self.round))
        }
    }
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::domain::cage::record::example::{TUBES, example_record};
    use crate::domain::cage::solve;
    use crate::geometry::CentreLine;

    /// The sheet's straights and bends laid end to end give the finished part back, and the blank is the marks' sum.
    #[test]
    fn the_marks_give_the_part_back() {
        let cage = solve(&example_record(), &TUBES);
        for member in cage.members.iter().filter(|member| !member.line.straight()) {
            let sheet = BarSheet::of(&cage, member, &Bench::default());
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

    /// A line of the tube carried along a straight bar keeps its place: the clocking of the far end is the angle
    /// between both lines 0, seen along the bar.
    #[test]
    fn clocking_of_a_straight_bar_is_the_angle_between_its_lines() {
        let cage = solve(&example_record(), &TUBES);
        for member in cage.members.iter().filter(|member| member.line.straight()) {
            let sheet = BarSheet::of(&cage, member, &Bench::default());
            let (Some(one), Some(other)) = (&sheet.ends[0], &sheet.ends[1]) else { panic!("{}", member.key) };
            let between = angle::between_directions(one.cope.place_zero(), other.cope.place_zero());
            let turned = other.clocking.unwrap();
            assert!((turned.degrees().abs() - between.degrees()).abs() < 1e-6, "{}", member.key);
        }
    }
}
