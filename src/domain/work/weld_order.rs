//! What is left to weld and in which order, by common practice: heat spread, the hard places first. A suggestion, never a
//! procedure; and which settings an alike joint was welded with.

use glam::DVec3;

use super::seams::{Rates, seams};
use crate::domain::cage::Cage;
use crate::domain::judge::shots::place;
use crate::domain::recorded::welds::Weld;
use crate::domain::recorded::welds::order::WeldOrder;
use crate::domain::recorded::welds::process::WeldProcess;
use crate::domain::recorded::welds::stage::Stage;
use crate::domain::steel::tube::TubeSize;
use crate::domain::words::ids::{Balloon, Kind};
use crate::domain::words::roles::MemberRole;
use crate::quantity::Length;

/// A joint or a foot with its seam, and how far it has come.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Seam {
    /// The joint, or the plate under a foot.
    pub at: Balloon,
    /// How far it has come.
    pub stage: Stage,
    /// The seam's length.
    pub length: Length,
    /// As much of it looks down.
    pub down: Length,
}

impl Seam {
    /// The share that looks down, 0 to 1.
    pub fn overhead(&self) -> f64 {
        if self.length > Length::default() { self.down / self.length } else { 0.0 }
    }
}

/// How far each joint and foot has come, joints first.
pub fn stages(cage: &Cage, welds: &[Weld]) -> Vec<(Balloon, Stage)> {
    let joints = cage.joints.iter().map(|joint| joint.balloon);
    let all = joints.chain(cage.plates.iter().map(|plate| plate.balloon));
    all.map(|at| (at, Stage::of(welds, at))).collect()
}

/// Every joint and foot with its seam, joints first.
pub fn all(cage: &Cage, welds: &[Weld]) -> Vec<Seam> {
    let mut all: Vec<Seam> = Vec::new();
    for one in seams(cage, &Rates::usual()) {
        match all.iter_mut().find(|seam| seam.at == one.at) {
            Some(seam) => {
                seam.length = seam.length + one.estimate.seam;
                seam.down = seam.down + one.estimate.down;
            }
            None => all.push(Seam {
                at: one.at,
                stage: Stage::of(welds, one.at),
                length: one.estimate.seam,
                down: one.estimate.down,
            }),
        }
    }
    all
}

/// When a joint's turn comes: only while the cage is let down, while the middle is open, any time.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Turn {
    WhileLowered,
    Bracing,
    Rest,
}

const fn braces(role: MemberRole) -> bool {
    matches!(
        role,
        MemberRole::HoopDiagonal
            | MemberRole::RoofDiagonal
            | MemberRole::BackstayDiagonal
            | MemberRole::HarnessBar
            | MemberRole::HoopCrossBar
            | MemberRole::SeatCrossBar
            | MemberRole::RearTransverseBar
    )
}

fn turn(cage: &Cage, at: Balloon, lowered: &[Balloon]) -> Turn {
    let incoming = cage.joint(at).into_iter().flat_map(|joint| &joint.incoming);
    let mut roles = incoming.filter_map(|(bar, _)| cage.member(*bar)).map(|bar| bar.role);
    match (lowered.contains(&at), roles.any(braces)) {
        (true, _) => Turn::WhileLowered,
        (false, true) => Turn::Bracing,
        (false, false) => Turn::Rest,
    }
}

/// What is still to be welded, in the order suggested: turn by turn, each time the joint farthest from the last one. `lowered`
/// are the joints that are welded while the cage is let down. Without a joint welded before, the lowest number begins.
pub fn suggested(cage: &Cage, welds: &[Weld], lowered: &[Balloon]) -> Vec<Seam> {
    let mut left: Vec<(Turn, Seam)> = all(cage, welds)
        .into_iter()
        .filter(|seam| seam.stage.to_weld())
        .map(|seam| (turn(cage, seam.at, lowered), seam))
        .collect();
    left.sort_by_key(|(turn, seam)| (*turn, seam.at));
    let newest = welds.iter().rev().find(|weld| weld.stands() && weld.did.on_the_joint().is_some());
    let mut last = newest.and_then(|weld| place(cage, weld.joint));
    let mut order = Vec::new();
    while let Some(turn) = left.first().map(|one| one.0) {
        let from = |seam: &Seam| match (last, place(cage, seam.at)) {
            (Some(last), Some(at)) => DVec3::distance(last, at),
            _ => 0.0,
        };
        let mut next = 0;
        let mut farthest = f64::NEG_INFINITY;
        for (index, (_, seam)) in left.iter().enumerate().take_while(|(_, one)| one.0 == turn) {
            // A hair's difference is none: of two as far, the lower number.
            if from(seam) > farthest + 1e-6 {
                (next, farthest) = (index, from(seam));
            }
        }
        let (_, seam) = left.remove(next);
        last = place(cage, seam.at).or(last);
        order.push(seam);
    }
    order
}

/// What is still to be welded, in order.
#[derive(Debug, Clone, PartialEq)]
pub struct InOrder {
    /// The joints and feet, the first first.
    pub seams: Vec<Seam>,
    /// Those that are not in the order that was set, and stand where they are suggested: what came later, or is to be welded
    /// again. None while no order is set.
    pub placed: Vec<Balloon>,
}

/// The same in the order that was set, where one was: what is not in it stands after what it is suggested to stand after.
pub fn in_order(cage: &Cage, welds: &[Weld], lowered: &[Balloon], set: Option<&WeldOrder>) -> InOrder {
    let suggested = suggested(cage, welds, lowered);
    let Some(set) = set.and_then(|order| order.joints.as_ref()) else {
        return InOrder { seams: suggested, placed: Vec::new() };
    };
    let left = |at: &Balloon| suggested.iter().find(|seam| seam.at == *at).copied();
    let mut seams: Vec<Seam> = set.iter().filter_map(left).collect();
    let (mut placed, mut before) = (Vec::new(), None);
    for seam in &suggested {
        if !set.contains(&seam.at) {
            let after = before.and_then(|before| seams.iter().position(|one| one.at == before));
            seams.insert(after.map_or(0, |after| after + 1), *seam);
            placed.push(seam.at);
        }
        before = Some(seam.at);
    }
    InOrder { seams, placed }
}

/// The tubes that meet at a joint or stand on a plate, in their order; none of what the cage does not have.
fn tubes(cage: &Cage, at: Balloon) -> Option<Vec<TubeSize>> {
    let bars: Vec<Balloon> = match at.kind {
        Kind::Joint => {
            let joint = cage.joint(at)?;
            std::iter::once(joint.carrier).chain(joint.incoming.iter().map(|end| end.0)).collect()
        }
        _ => vec![cage.plate(at)?.under],
    };
    let mut tubes: Vec<TubeSize> = bars.iter().filter_map(|bar| Some(cage.member(*bar)?.tube)).collect();
    tubes.sort_by(|one, other| {
        one.outside.mm().total_cmp(&other.outside.mm()).then(one.wall.mm().total_cmp(&other.wall.mm()))
    });
    tubes.dedup();
    Some(tubes)
}

/// The newest weld of another joint where the same tubes meet, by this process where one is named.
pub fn alike<'w>(cage: &Cage, welds: &'w [Weld], at: Balloon, process: Option<WeldProcess>) -> Option<&'w Weld> {
    let own = tubes(cage, at)?;
    welds.iter().rev().filter(|weld| weld.stands() && weld.joint != at && weld.joint.kind == at.kind).find(|weld| {
        let same = weld.did.on_the_joint().is_some_and(|run| process.is_none_or(|process| run.process == process));
        same && tubes(cage, weld.joint).as_ref() == Some(&own)
    })
}
