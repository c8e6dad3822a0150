//! The cut list: every bar with its blank and its stick, and what the cuts leave of each stick.

use crate::domain::cage::{Cage, End, Member, Side};
use crate::domain::recorded::facts::BuildFacts;
use crate::domain::shop::saw::Saw;
use crate::domain::shop::stock::{Cut, Stick, Taken};
use crate::domain::steel::tube::TubeSize;
use crate::domain::words::ids::{Balloon, StickId};
use crate::domain::words::roles::MemberRole;
use crate::quantity::{Length, Units};

/// One bar to cut.
#[derive(Debug, Clone, PartialEq)]
pub struct CutLine {
    /// The bar.
    pub member: Balloon,
    /// What it is to the cage.
    pub role: MemberRole,
    /// Where it belongs.
    pub side: Side,
    /// The tube it is drawn with.
    pub size: TubeSize,
    /// Its blank, from long point to long point round the bends, without allowances.
    pub length: Length,
    /// Whether an end stands on nothing yet or cannot be cut: then the length is not final.
    pub loose: bool,
    /// The stick it is cut from, where that was said.
    pub stick: Option<StickId>,
    /// That stick's size, where it is not the bar's.
    pub other_size: Option<TubeSize>,
    /// The grade it has to be of, where that was said.
    pub grade: Option<String>,
    /// That stick's grade, where it is not the bar's.
    pub other_grade: Option<String>,
    /// How often it was cut so far.
    pub times: usize,
    /// What it was cut to, where that was recorded.
    pub taken: Option<Taken>,
    /// By how much its blank is longer now than it was cut, where it is another.
    pub longer_now: Option<Length>,
}

impl CutLine {
    /// By how much the piece that is there does not fit any more; none where it does, or nobody knows.
    pub fn describe_misfit(&self, units: Units) -> Option<String> {
        let (longer, cut) = (self.longer_now?, self.taken?);
        let figure = |length: Length| match units {
            Units::Inch => format!("{:.3} in", length.inches()),
            Units::Metric => format!("{:.1} mm", length.mm()),
        };
        let way = if longer > Length::default() { "longer" } else { "shorter" };
        let (now, by, was) = (figure(self.length), figure(longer.abs()), figure(cut.blank));
        Some(format!("its blank is now {now}, {by} {way} than it was cut ({was})"))
    }
}

/// Every bar of a build's cage with the stick it is cut from.
pub fn cut_list(facts: &BuildFacts, cage: &Cage) -> Vec<CutLine> {
    cage.members.iter().map(|bar| line(facts, bar)).collect()
}

/// Whether an end of a bar stands on nothing yet or cannot be cut: then its length is not final.
pub fn is_loose(bar: &Member) -> bool {
    bar.ends.contains(&End::Free) || bar.copes.iter().any(Option::is_none)
}

fn line(facts: &BuildFacts, bar: &Member) -> CutLine {
    let stick = facts.stick_of(bar.balloon);
    let taken = facts.cut_of(bar.balloon).and_then(|cut| cut.taken);
    let other = stick.filter(|stick| bar.is_other_grade(&stick.grade));
    CutLine {
        member: bar.balloon,
        role: bar.role,
        side: bar.side,
        size: bar.tube,
        length: bar.cut_length,
        loose: is_loose(bar),
        stick: stick.map(|stick| stick.id),
        other_size: stick.map(|stick| stick.size.value).filter(|size| *size != bar.tube),
        grade: bar.grade.clone(),
        other_grade: other.map(|stick| stick.grade.clone()),
        times: facts.cuts.iter().filter(|cut| cut.member == bar.balloon).count(),
        taken,
        longer_now: taken.and_then(|taken| taken.longer_now(bar)),
    }
}

/// What the cuts took of a stick: all that were ever made from it, each as it was recorded.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Balance {
    /// How many pieces were cut from it.
    pub pieces: usize,
    /// Those whose length is known, with what was added to their blanks and a kerf for each, and the trim of its first end.
    pub needed: Length,
    /// What is left of it, with an end as it was bought; less than nothing where the cuts need more than the stick has.
    /// Where a piece's length is not known there is less left than this.
    pub left: Length,
    /// Pieces whose length was not recorded.
    pub unknown: usize,
}

impl Balance {
    /// How much longer the stick would have to be; none where the cuts fit.
    pub fn short_by(&self) -> Option<Length> {
        (self.left < Length::default()).then(|| self.left.abs())
    }

    /// How much longer the stick would have to be for these pieces too; none where they fit.
    pub fn short_with(&self, pieces: &[Length], saw: &Saw) -> Option<Length> {
        let more: Length = pieces.iter().map(|piece| *piece + saw.kerf.value).sum();
        let trim = if self.is_begun() { Length::default() } else { saw.trim.value };
        Self { left: self.left - more - trim, ..self.clone() }.short_by()
    }

    /// Whether one of its ends is sawn, and needs no trim any more.
    pub fn is_begun(&self) -> bool {
        self.pieces > 0
    }
}

/// The grades of the sticks that a build's bars are cut from, each once: more than one is worth a look.
pub fn grades(facts: &BuildFacts) -> Vec<String> {
    let used = facts.sticks.iter().filter(|stick| facts.newest_cuts().any(|cut| cut.stick == stick.id));
    let mut grades: Vec<String> = used.map(|stick| stick.grade.clone()).collect();
    grades.sort_by_key(|grade| grade.to_lowercase());
    grades.dedup_by_key(|grade| grade.to_lowercase());
    grades
}

/// What is left of a stick by the cuts of all builds. What a model or the saw is now says nothing of it.
pub fn balance<'a>(stick: &Stick, builds: impl IntoIterator<Item = &'a BuildFacts>) -> Balance {
    let cuts = builds.into_iter().flat_map(|facts| &facts.cuts).filter(|cut| cut.stick == stick.id);
    balance_of(stick, cuts.collect())
}

/// What these cuts leave of a stick.
pub(super) fn balance_of(stick: &Stick, mut cuts: Vec<&Cut>) -> Balance {
    cuts.sort_by_key(|cut| cut.at);
    let taken = || cuts.iter().filter_map(|cut| cut.taken);
    // The first cut of all trimmed the end; where that one is not known, its trim is not either.
    let trim = cuts.first().and_then(|cut| cut.taken).map_or(Length::default(), |taken| taken.trim);
    let needed = taken().map(|taken| taken.piece() + taken.kerf).sum::<Length>();
    let needed = if cuts.is_empty() { needed } else { needed + trim };
    let unknown = cuts.len() - taken().count();
    Balance { pieces: cuts.len(), needed, left: stick.length.value - needed, unknown }
}
