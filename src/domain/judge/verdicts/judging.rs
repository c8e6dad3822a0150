//! Judging a whole book, kind by kind, in the book's order.

use std::collections::HashSet;

use crate::domain::book::kinds::{GussetRule, KitRule, Limit, MemberNeeded, PlateRule, ShotRule, SteelRule};
use crate::domain::book::{Rule, RuleBook};
use crate::domain::words::ids::Balloon;

use super::known::Known;
use super::verdict::{Answer, Verdict, Word};
use super::{gussets, kit, limits, members, plates, shots, steel, tubes};

/// What a book says of a build.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Judged {
    /// What every rule says, in the book's order.
    pub verdicts: Vec<Verdict>,
    /// The photographs that were looked for, by their keys and parts, each once: the shot list is made of them, so that it
    /// cannot differ from the verdicts.
    pub looked_for: Vec<(String, Balloon)>,
}

/// What every rule says of what is known. The hold point is no verdict: a person releases it.
pub fn judge(book: &RuleBook, known: &Known<'_>) -> Judged {
    let rules = OfKind::all(book);
    let (stand_ins, met) = stand_ins(&rules, known);
    let mut verdicts = tubes::judge(book, known);
    let description = rules.iter().zip(stand_ins);
    verdicts.extend(description.flat_map(|(rule, description)| description.unwrap_or_else(|| rule.judge(known, &met))));
    let mut seen = HashSet::new();
    let looked_for = verdicts.iter().flat_map(|verdict| &verdict.looked_for).filter(|one| seen.insert(*one)).cloned();
    let looked_for = looked_for.collect();
    Judged { verdicts, looked_for }
}

/// A rule of any kind, the weighing and its classes aside.
enum OfKind<'b> {
    Steel(&'b SteelRule),
    Member(&'b MemberNeeded),
    Limit(&'b Limit),
    Plate(&'b PlateRule),
    Gusset(&'b GussetRule),
    Kit(&'b KitRule),
    Shot(&'b ShotRule),
}

impl<'b> OfKind<'b> {
    fn all(book: &'b RuleBook) -> Vec<Self> {
        let rules = book.steels.iter().map(Self::Steel);
        let rules = rules.chain(book.members.iter().map(Self::Member)).chain(book.limits.iter().map(Self::Limit));
        let rules = rules.chain(book.plates.iter().map(Self::Plate)).chain(book.gussets.iter().map(Self::Gusset));
        rules.chain(book.kit.iter().map(Self::Kit)).chain(book.shots.iter().map(Self::Shot)).collect()
    }

    const fn rule(&self) -> &'b Rule {
        match self {
            Self::Steel(steel) => &steel.rule,
            Self::Member(needed) => &needed.rule,
            Self::Limit(limit) => &limit.rule,
            Self::Plate(plate) => &plate.rule,
            Self::Gusset(gusset) => &gusset.rule,
            Self::Kit(item) => &item.rule,
            Self::Shot(shot) => &shot.rule,
        }
    }

    /// What it says; of one that another stands in for, which is met, that it is not asked.
    fn judge(&self, known: &Known<'_>, met: &HashSet<String>) -> Vec<Verdict> {
        let rule = self.rule();
        if let Some(other) = rule.exempt_with.iter().find(|other| met.contains(*other)) {
            let because = format!("The rule “{other}” stands in for it and is met.");
            return vec![Verdict::new(rule, None, Answer::NotAsked).because(because)];
        }
        match self {
            Self::Steel(steel) => steel::judge(steel, known),
            Self::Member(needed) => vec![members::judge(needed, known)],
            Self::Limit(limit) => limits::judge(limit, known),
            Self::Plate(plate) => plates::judge(plate, known),
            Self::Gusset(gusset) => gussets::judge(gusset, known),
            Self::Kit(item) => kit::judge(item, known),
            Self::Shot(shot) => shots::judge(shot, known),
        }
    }
}

/// What the rules say that stand in for others, those first that wait for none, each at its place among the rules; and
/// which of them are met, by id. The reader has refused circles. A rule that is not asked of this car stands in for
/// nothing.
fn stand_ins(rules: &[OfKind<'_>], known: &Known<'_>) -> (Vec<Option<Vec<Verdict>>>, HashSet<String>) {
    let mut met = HashSet::new();
    let named: HashSet<&str> = rules.iter().flat_map(|one| &one.rule().exempt_with).map(String::as_str).collect();
    let mut description: Vec<Option<Vec<Verdict>>> = rules.iter().map(|_| None).collect();
    let mut left: Vec<(&OfKind<'_>, &mut Option<Vec<Verdict>>)> =
        rules.iter().zip(&mut description).filter(|(one, _)| named.contains(one.rule().id.as_str())).collect();
    while !left.is_empty() {
        let waits: HashSet<&str> = left.iter().map(|(one, _)| one.rule().id.as_str()).collect();
        let (ready, rest): (Vec<_>, Vec<_>) = left
            .into_iter()
            .partition(|(one, _)| !one.rule().exempt_with.iter().any(|other| waits.contains(other.as_str())));
        if ready.is_empty() {
            break;
        }
        for (one, place) in ready {
            let verdicts = one.judge(known, &met);
            if !verdicts.is_empty() && verdicts.iter().all(|verdict| verdict.word == Word::Meets) {
                met.insert(one.rule().id.clone());
            }
            *place = Some(verdicts);
        }
        left = rest;
    }
    (description, met)
}
