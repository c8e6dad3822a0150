//! What a finished part is checked by: lengths between nodes, corners and cut ends, and what tells it from its mirror image.

use glam::DVec3;

use crate::domain::cage::Member;
use crate::quantity::Length;

/// A bar that leaves its first bend's plane by less is taken for flat (own choice: no eye sees it on a bench).
const FLAT: Length = Length::from_mm(5.0);

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

/// From end to end, and both diagonals between an end and the far bend's corner.
pub(super) fn checks(member: &Member) -> Vec<Check> {
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
    checks.extend(handed(member));
    if let (Some(one), Some(other)) = (tip(member, 0), tip(member, 1)) {
        checks.push(check("long point to long point of the cut ends, by tape", one, other, false));
    }
    checks
}

/// What tells a part from its mirror image: with its first bend flat on the bench, how high it stands, and which way that
/// bend then goes. None for a bar in one plane, which is its own mirror image.
fn handed(member: &Member) -> Option<Check> {
    let line = &member.line;
    let (bend, start) = (line.bends().first()?, *line.points().first()?);
    let after = line.point_at(bend.start + bend.arc()).1;
    let up = line.direction_at_start().cross(after).try_normalize()?;
    let height = |point: &DVec3| (*point - start).dot(up);
    let corners = line.points().get(2..)?;
    let highest = corners.iter().map(|point| height(point).abs()).fold(0.0, f64::max);
    if highest < FLAT.mm() {
        return None;
    }
    // The end where it stands out, else the corner that stands out most.
    let last = corners.last().filter(|last| height(last).abs() >= highest / 2.0);
    let at = last.or_else(|| corners.iter().find(|point| height(point).abs() >= highest))?;
    let place = if last.is_some() {
        "the node of end B".to_owned()
    } else {
        let number = corners.iter().position(|corner| corner == at)? + 2;
        format!("the corner of bend {number}")
    };
    // Looked at from above with the first bend flat and the rest over it.
    let way = if height(at) > 0.0 { "left" } else { "right" };
    Some(Check {
        what: format!(
            "bend 1 flat on the bench, bending to the {way} going from A: {place} is higher than the tube at bend 1 (lower: the \
mirror image was bent)"
        ),
        from: *at - up * height(at),
        to: *at,
        length: Length::from_mm(height(at).abs()),
        drawn: false,
    })
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
    use crate::domain::cage::End;
    use crate::domain::cage::record::example::{TUBES, example_record};
    use crate::domain::cage::solve;

    /// The long points lie on the wall where the cut is: each on the surface of its carrier or of a bar
    /// it is coped round, or on its plate.
    #[test]
    fn long_points_lie_on_what_they_are_cut_to() {
        let cage = solve(&example_record(), &TUBES);
        let mut on_bars = 0;
        for member in &cage.members {
            for (number, end) in member.ends.iter().enumerate() {
                let at = tip(member, number).unwrap();
                match end {
                    End::Onto { carrier, .. } => {
                        let all = std::iter::once(carrier).chain(&member.round[number]);
                        let offs = all.map(|bar| {
                            let bar = cage.member(*bar).unwrap();
                            (bar.line.nearest(at).2 - bar.tube.outside / 2.0).mm()
                        });
                        let off = offs.fold(f64::INFINITY, f64::min);
                        assert!(off.abs() < 1e-5, "{} {number}: {off}", member.key);
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
}
