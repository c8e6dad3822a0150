//! The cut plan of a cage: all its bars from sticks to buy, or what is not cut yet from the sticks that are there.

use super::{CutPlan, Effort, Free, Piece};
use crate::domain::cage::{Cage, Member};
use crate::domain::recorded::facts::BuildFacts;
use crate::domain::shop::saw::Saw;
use crate::domain::shop::stock::Stick;
use crate::domain::work::cut_list::{Balance, is_loose};

pub(super) fn piece(bar: &Member, saw: &Saw) -> Piece {
    let (name, length) = (bar.balloon.to_string(), saw.piece(bar));
    Piece { name, tube: bar.tube, length, more: saw.more(bar), loose: is_loose(bar) }
}

/// A stick with what is left of it.
pub(super) fn free(stick: &Stick, balance: &Balance) -> Free {
    Free {
        name: stick.describe_number(),
        grade: stick.grade.clone(),
        heat: stick.heat.clone(),
        tube: stick.size.value,
        length: balance.left,
        begun: balance.is_begun(),
    }
}

/// Every bar of a cage, from these sticks and others to buy.
pub fn of_cage(cage: &Cage, sticks: &[Free], saw: &Saw, effort: &mut Effort<'_>) -> CutPlan {
    let pieces: Vec<Piece> = cage.members.iter().map(|bar| piece(bar, saw)).collect();
    CutPlan::of(&pieces, sticks, saw, effort)
}

/// What a build's plan is asked for: where it is the same, so is the plan.
#[derive(Debug, Clone, PartialEq)]
pub struct CutRequest {
    pieces: Vec<Piece>,
    sticks: Vec<Free>,
    saw: Saw,
    unsure: Vec<String>,
}

impl CutRequest {
    /// The plan.
    pub fn planned(&self, effort: &mut Effort<'_>) -> CutPlan {
        CutPlan { unsure: self.unsure.clone(), ..CutPlan::of(&self.pieces, &self.sticks, &self.saw, effort) }
    }
}

/// The bars of a build of which nobody said yet from which stick they are cut, from the sticks given to it and those
/// free on the rack, each with what is left of it. Sticks of which nobody knows that are left out and named.
pub fn of_build(facts: &BuildFacts, cage: &Cage, sticks: &[(Stick, Balance)], saw: &Saw) -> CutRequest {
    let uncut = cage.members.iter().filter(|bar| facts.stick_of(bar.balloon).is_none());
    let pieces: Vec<Piece> = uncut.map(|bar| piece(bar, saw)).collect();
    let ours = |stick: &Stick| stick.given_to.is_none_or(|build| build == facts.build.id);
    let (known, unsure): (Vec<_>, Vec<_>) =
        sticks.iter().filter(|one| ours(&one.0)).partition(|(_, balance)| balance.unknown == 0);
    let known: Vec<Free> = known.into_iter().map(|(stick, balance)| free(stick, balance)).collect();
    let wanted = |stick: &Stick| pieces.iter().any(|piece| piece.tube == stick.size.value);
    let unsure = unsure.into_iter().filter(|(stick, _)| wanted(stick)).map(|(stick, _)| stick.describe_number());
    CutRequest { unsure: unsure.collect(), sticks: known, saw: saw.clone(), pieces }
}
