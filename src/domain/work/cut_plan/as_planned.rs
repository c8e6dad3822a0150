//! A stick of the plan cut as it was planned: whether it can be said so, and whether the plan still is what was shown.

use std::fmt::Write as _;

use super::of_build::{free, piece};
use super::{CutPlan, CutStick, Free, Piece, micrometres};
use crate::domain::cage::Cage;
use crate::domain::recorded::facts::BuildFacts;
use crate::domain::shop::saw::Saw;
use crate::domain::shop::stock::{Cut, Stick};
use crate::domain::words::fingerprint::Fingerprint;
use crate::domain::words::ids::{Balloon, StickId};
use crate::domain::work::cut_list::balance_of;

/// Why a stick of the plan cannot be taken down as cut by one word.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum NotAsPlanned {
    /// The tube itself is not settled.
    #[error("The weighed car and the book have not settled the tube. Nothing is cut by this plan.")]
    TubeOpen,
    /// It is a stick to buy.
    #[error("Buy it and put it on the rack: the plan then says which stick it is.")]
    ToBuy,
    /// A length that may still change.
    #[error("The length of {0} is not final: an end of it is open. Say what was cut on the tube sheet.")]
    NotFinal(Balloon),
    /// The stick's grade is not the bar's.
    #[error("{0} asks for another grade than this stick's. Say what was cut on the tube sheet.")]
    OtherGrade(Balloon),
    /// What it was planned by is not what it was.
    #[error("The plan has changed since it was shown: {0} Nothing was recorded. Look at the plan as it is now.")]
    Changed(String),
}

/// What the cuts of a build are held against: its facts and cage, the shop's saw.
#[derive(Debug, Clone, Copy)]
pub struct Ground<'g> {
    /// The build.
    pub facts: &'g BuildFacts,
    /// Its cage.
    pub cage: &'g Cage,
    /// How the shop cuts.
    pub saw: &'g Saw,
    /// Whether weight and book have settled the tube.
    pub tube_settled: bool,
}

/// A stick with its bars as somebody was shown them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AsPlanned {
    /// The stick.
    pub stick: StickId,
    /// The bars, in the order in which they are cut.
    pub bars: Vec<Balloon>,
    /// All that the cuts go by, as it was shown.
    pub shown: Fingerprint,
}

impl AsPlanned {
    /// A stick of the plan as it is shown, or why it cannot be taken down as cut.
    pub fn of(ground: Ground<'_>, plan: &CutPlan, planned: &CutStick, sticks: &[Stick]) -> Result<Self, NotAsPlanned> {
        if !ground.tube_settled {
            return Err(NotAsPlanned::TubeOpen);
        }
        let there = planned.stick.as_ref().ok_or(NotAsPlanned::ToBuy)?;
        let gone = || NotAsPlanned::Changed(format!("{} is not in the shop.", planned.name));
        let stick = sticks.iter().find(|stick| stick.describe_number() == there.name).ok_or_else(gone)?;
        let bars: Option<Vec<Balloon>> = planned.pieces.iter().map(|piece| piece.name.parse().ok()).collect();
        let bars = bars.ok_or_else(gone)?;
        pieces(ground, stick, &bars)?;
        Ok(Self { stick: stick.id, bars, shown: print(stick.id, there, &planned.pieces, &plan.saw) })
    }

    /// The bars of it that nobody recorded yet, when the plan still is what was shown.
    pub fn open(&self, ground: Ground<'_>, stick: &Stick, cuts: &[(bool, &Cut)]) -> Result<Vec<Balloon>, NotAsPlanned> {
        if !ground.tube_settled {
            return Err(NotAsPlanned::TubeOpen);
        }
        let changed = |why: String| Err(NotAsPlanned::Changed(why));
        if stick.given_to.is_some_and(|build| build != ground.facts.build.id) {
            return changed(format!("{} was given to another build.", stick.describe_number()));
        }
        let twice = |(at, bar): (usize, &Balloon)| self.bars.iter().skip(at + 1).any(|other| other == bar);
        if self.bars.iter().enumerate().any(twice) {
            return changed("a bar stands in it twice.".to_owned());
        }
        let elsewhere = |bar: &&Balloon| ground.facts.cut_of(**bar).is_some_and(|cut| cut.stick != stick.id);
        if let Some(bar) = self.bars.iter().find(elsewhere) {
            return changed(format!("{bar} was cut from another stick."));
        }
        let pieces = pieces(ground, stick, &self.bars)?;
        // A bar of the plan that was recorded meanwhile is in the plan: what counts is what else was cut from the stick.
        let planned = |(own, cut): &&(bool, &Cut)| *own && self.bars.contains(&cut.member);
        let others = cuts.iter().filter(|one| one.1.stick == stick.id && !planned(one)).map(|one| one.1);
        let left = balance_of(stick, others.collect());
        if left.unknown > 0 || print(stick.id, &free(stick, &left), &pieces, ground.saw) != self.shown {
            return changed("the cage, the stick or how the shop cuts is another.".to_owned());
        }
        Ok(self.bars.iter().filter(|bar| ground.facts.cut_of(**bar).is_none()).copied().collect())
    }
}

/// The bars as the cage has them now, when each can be said to be cut from this stick.
fn pieces(ground: Ground<'_>, stick: &Stick, bars: &[Balloon]) -> Result<Vec<Piece>, NotAsPlanned> {
    let one = |bar: &Balloon| {
        let member = ground.cage.member(*bar);
        let member = member.ok_or_else(|| NotAsPlanned::Changed(format!("{bar} is not in the cage any more.")))?;
        let piece = piece(member, ground.saw);
        match () {
            () if piece.loose => Err(NotAsPlanned::NotFinal(*bar)),
            () if member.is_other_grade(&stick.grade) => Err(NotAsPlanned::OtherGrade(*bar)),
            () => Ok(piece),
        }
    };
    bars.iter().map(one).collect()
}

/// All that the cuts of one stick go by, in whole micrometres.
fn print(stick: StickId, free: &Free, pieces: &[Piece], saw: &Saw) -> Fingerprint {
    let (left, kerf, trim) = (free.length, saw.kerf.value, saw.trim.value);
    let mut all = format!("{stick} {:?} {} {:?}", free.tube, free.begun, [left, kerf, trim].map(micrometres));
    for piece in pieces {
        let [before, after] = piece.more;
        let lengths = [piece.length, before, after].map(micrometres);
        // Writing into a text does not fail.
        let _ = write!(all, "\n{} {:?} {lengths:?}", piece.name, piece.tube);
    }
    Fingerprint::of(all.as_bytes())
}
