//! Which parts of a round are answered and which are not, and the way to each.

use super::reader::Read;
use crate::domain::recorded::reviews::{PartAnswer, Reviewed};
use crate::domain::words::ids::{Balloon, Kind};

/// How many parts have which answer.
pub(super) struct Tally {
    pub(super) answered: usize,
    pub(super) of: usize,
    pub(super) accepted: usize,
    pub(super) change: usize,
    pub(super) question: usize,
    pub(super) open: usize,
    pub(super) groups: Vec<Group>,
}

/// The parts of a kind.
pub(super) struct Group {
    pub(super) words: &'static str,
    pub(super) answered: usize,
    pub(super) of: usize,
    pub(super) open: bool,
    pub(super) parts: Vec<PartLink>,
}

/// One part and how it stands.
pub(super) struct PartLink {
    pub(super) part: String,
    pub(super) to: String,
    pub(super) answer: Option<PartAnswer>,
    pub(super) state: &'static str,
    pub(super) here: bool,
}

impl Tally {
    /// Of a round as it stands, at a part or at none.
    pub(super) fn of(read: &Read<'_>, here: Option<Balloon>) -> Self {
        let (asked, answers) = (&read.asked, read.answers());
        let of = |part: Balloon| answers.iter().find(|one| one.part == part).and_then(|one| one.answer);
        let parts: Vec<Balloon> = counted(read);
        let count = |answer| parts.iter().filter(|part| of(**part) == answer).count();
        let link = |part: Balloon| PartLink {
            part: part.to_string(),
            to: part_address(read, part),
            answer: of(part),
            state: of(part).map_or("not answered", PartAnswer::word),
            here: here == Some(part),
        };
        let group = |words, kinds: &[Kind], of_asked: bool| {
            let own = read.shown.iter().copied().filter(|part| kinds.contains(&part.kind));
            let own: Vec<Balloon> = own.filter(|part| asked.contains(part) == of_asked).collect();
            Group {
                words,
                answered: own.iter().filter(|part| of(**part).is_some()).count(),
                of: own.len(),
                open: here.is_some_and(|here| own.contains(&here)) || (here.is_none() && words == "Joints"),
                parts: own.into_iter().map(link).collect(),
            }
        };
        let groups = [
            group("Joints", &[Kind::Joint], true),
            group("Gussets", &[Kind::Gusset], true),
            group("Foot plates", &[Kind::Plate], true),
            group("Labels and kit", &[Kind::Kit], true),
            group("Bars and tube", &[Kind::Member, Kind::Stick], true),
            group("Weighing, car", &[Kind::WeighIn, Kind::Car], true),
            group(
                "Not asked one by one",
                &[
                    Kind::Joint,
                    Kind::Gusset,
                    Kind::Plate,
                    Kind::Kit,
                    Kind::Member,
                    Kind::Stick,
                    Kind::WeighIn,
                    Kind::Car,
                ],
                false,
            ),
        ];
        Self {
            answered: parts.len() - count(None),
            of: parts.len(),
            accepted: count(Some(PartAnswer::Accepted)),
            change: count(Some(PartAnswer::ChangeWanted)),
            question: count(Some(PartAnswer::Question)),
            open: count(None),
            groups: groups.into_iter().filter(|group| group.of > 0).collect(),
        }
    }
}

/// The parts that a round asks of, and those that were answered beside them.
fn counted(read: &Read<'_>) -> Vec<Balloon> {
    let (asked, answers) = (&read.asked, read.answers());
    let said = |part: &Balloon| answers.iter().any(|one| one.part == *part && one.answer.is_some());
    read.shown.iter().copied().filter(|part| asked.contains(part) || said(part)).collect()
}

/// The first part after this one, going round, that is asked of and not answered; none when all are.
pub(super) fn next(read: &Read<'_>, after: Option<Balloon>) -> Option<Balloon> {
    next_of(&read.asked, &read.answers(), after)
}

/// The same of the parts that are asked, by the answers that stand.
pub(super) fn next_of(asked: &[Balloon], answers: &[&Reviewed], after: Option<Balloon>) -> Option<Balloon> {
    let answered = |part: &Balloon| answers.iter().any(|one| one.part == *part && one.answer.is_some());
    let at = after.and_then(|after| asked.iter().position(|part| *part == after)).map_or(0, |at| at + 1);
    let round = asked.iter().skip(at).chain(asked.iter().take(at));
    round.copied().filter(|part| Some(*part) != after).find(|part| !answered(part))
}

/// The address of a part of the round.
pub(super) fn part_address(read: &Read<'_>, part: Balloon) -> String {
    read.address(&format!("/review?part={part}"))
}
