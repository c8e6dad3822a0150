//! Which bars are pieces of one: a straight that was cut where another bar crosses it is still one bar.

use std::collections::BTreeMap;

use glam::DVec3;

use crate::domain::cage::parts::{Cage, Member};
use crate::domain::words::ids::Balloon;
use crate::geometry::angle;
use crate::quantity::Angle;

/// Two pieces that point the same way within this are one straight (own choice: a tape lays a bar out far nearer).
const STRAIGHT_ON: Angle = Angle::from_degrees(3.0);

impl Cage {
    /// The run of each bar, by the first of its pieces: itself, for a bar in one piece. Pieces of a run have one role, end at
    /// one joint from both sides of its carrier, and go straight on.
    pub fn runs(&self) -> BTreeMap<Balloon, Balloon> {
        let mut first: BTreeMap<Balloon, Balloon> =
            self.members.iter().map(|member| (member.balloon, member.balloon)).collect();
        for joint in &self.joints {
            for (number, one) in joint.incoming.iter().enumerate() {
                for other in joint.incoming.iter().skip(number + 1) {
                    if self.goes_on(*one, *other) {
                        join(&mut first, one.0, other.0);
                    }
                }
            }
        }
        first
    }

    /// Whether two ends at one joint belong to one straight.
    fn goes_on(&self, (one, end): (Balloon, usize), (other, far): (Balloon, usize)) -> bool {
        let (Some(one), Some(other)) = (self.member(one), self.member(other)) else { return false };
        let apart = angle::between_directions(into(one, end), -into(other, far));
        one.role == other.role && one.balloon != other.balloon && apart <= STRAIGHT_ON
    }
}

/// The direction from an end into the bar.
fn into(member: &Member, end: usize) -> DVec3 {
    member.line.into_bar(end)
}

/// Puts both runs under the lower of their first pieces.
fn join(first: &mut BTreeMap<Balloon, Balloon>, one: Balloon, other: Balloon) {
    let of = |balloon: Balloon| first.get(&balloon).copied().unwrap_or(balloon);
    let (one, other) = (of(one), of(other));
    let (low, high) = if one < other { (one, other) } else { (other, one) };
    for run in first.values_mut().filter(|run| **run == high) {
        *run = low;
    }
}

#[cfg(test)]
mod tests {
    use crate::domain::cage::CageRecord;
    use crate::domain::cage::record::example::{TUBES, example_record};
    use crate::domain::cage::record::options::{Diagonal, Options};
    use crate::domain::cage::solve;
    use crate::domain::words::roles::MemberRole;

    /// The runs of a role in the example with this choice of hoop diagonals, and how many pieces they are in.
    fn runs(diagonal: Diagonal, role: MemberRole) -> (usize, usize) {
        let full = example_record();
        let options = Options { hoop_diagonal: diagonal, ..full.options.clone() };
        let cage = solve(&CageRecord { options, gussets: Vec::new(), ..full }.numbered_for(&TUBES), &TUBES);
        let runs = cage.runs();
        let pieces: Vec<_> = cage.members.iter().filter(|bar| bar.role == role).collect();
        let mut firsts: Vec<_> = pieces.iter().filter_map(|bar| runs.get(&bar.balloon)).collect();
        firsts.sort();
        firsts.dedup();
        (firsts.len(), pieces.len())
    }

    #[test]
    fn a_bar_that_is_cut_where_another_crosses_it_is_one() {
        assert_eq!(runs(Diagonal::Cross, MemberRole::HoopDiagonal), (2, 3));
        assert_eq!(runs(Diagonal::One, MemberRole::HoopDiagonal).0, 1);
        let (harness, pieces) = runs(Diagonal::Cross, MemberRole::HarnessBar);
        assert!(harness == 1 && pieces > 1, "{harness} of {pieces}");
        assert_eq!(runs(Diagonal::Cross, MemberRole::Backstay), (2, 2));
    }
}
