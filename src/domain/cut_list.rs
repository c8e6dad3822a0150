//! The cut list: every bar with its blank and its stick, and what the cuts leave of each stick.

use super::cage::{End, Member, Side};
use super::facts::BuildFacts;
use super::findings::Findings;
use super::ids::{Balloon, StickId};
use super::roles::MemberRole;
use super::saw::Saw;
use super::stock::Stick;
use super::tube::TubeSize;
use crate::quantity::Length;

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
}

/// Every bar of a build's cage with the stick it is cut from.
pub fn cut_list(facts: &BuildFacts, found: &Findings) -> Vec<CutLine> {
    found.cage.members.iter().map(|bar| line(facts, bar)).collect()
}

/// Whether an end of a bar stands on nothing yet or cannot be cut: then its length is not final.
pub fn is_loose(bar: &Member) -> bool {
    bar.ends.contains(&End::Free) || bar.copes.iter().any(Option::is_none)
}

fn line(facts: &BuildFacts, bar: &Member) -> CutLine {
    let stick = facts.stick_of(bar.balloon);
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
    }
}

/// What the cuts take of a stick. Of a bar cut twice only the newest cut is known.
#[derive(Debug, Clone, PartialEq)]
pub struct Balance {
    /// How many bars are cut from it.
    pub bars: usize,
    /// Their blanks with what is added to them, and a kerf for each.
    pub needed: Length,
    /// What is left; less than nothing where the cuts need more than the stick has.
    pub left: Length,
    /// Bars that were cut from it and are no longer in their cage, so that their length is not known.
    pub gone: usize,
}

impl Balance {
    /// How much longer the stick would have to be; none where the cuts fit.
    pub fn short_by(&self) -> Option<Length> {
        (self.left < Length::default()).then(|| self.left.abs())
    }

    /// How much longer the stick would have to be for these pieces too; none where they fit.
    pub fn short_with(&self, pieces: &[Length], saw: &Saw) -> Option<Length> {
        let more: Length = pieces.iter().map(|piece| *piece + saw.kerf.value).sum();
        Self { left: self.left - more, ..self.clone() }.short_by()
    }
}

/// The grades of the sticks that a build's bars are cut from, each once: more than one is worth a look.
pub fn grades(facts: &BuildFacts) -> Vec<String> {
    let used = facts.sticks.iter().filter(|stick| facts.cuts.iter().any(|cut| cut.stick == stick.id));
    let mut grades: Vec<String> = used.map(|stick| stick.grade.clone()).collect();
    grades.sort_by_key(|grade| grade.to_lowercase());
    grades.dedup_by_key(|grade| grade.to_lowercase());
    grades
}

/// What is left of a stick by the cuts of all builds.
pub fn balance<'a>(
    stick: &Stick,
    saw: &Saw,
    builds: impl IntoIterator<Item = (&'a BuildFacts, &'a Findings)>,
) -> Balance {
    let (mut needed, mut bars, mut gone) = (Length::default(), 0, 0);
    for (facts, found) in builds {
        for cut in facts.cuts.iter().filter(|cut| cut.stick == stick.id) {
            match found.cage.member(cut.member) {
                Some(bar) => {
                    bars += 1;
                    needed = needed + saw.piece(bar) + saw.kerf.value;
                }
                None => gone += 1,
            }
        }
    }
    Balance { bars, needed, left: stick.length.value - needed, gone }
}
