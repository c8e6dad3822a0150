//! Judging a whole book, kind by kind, in the book's order.

use std::collections::HashSet;

use crate::domain::rule_books::{Rule, RuleBook};

use super::known::Known;
use super::verdict::{Verdict, Word};
use super::{gussets, kit, limits, members, plates, shots, steel, tubes};

/// What every rule says of what is known. The hold point is no verdict: a person releases it.
pub fn judge(book: &RuleBook, known: &Known<'_>) -> Vec<Verdict> {
    stand_ins(book, known);
    let mut verdicts = tubes::judge(book, known);
    verdicts.extend(judged(book, known, &|_| true));
    verdicts
}

/// What the rules say that are wanted, the weighing and its classes aside.
fn judged(book: &RuleBook, known: &Known<'_>, wanted: &dyn Fn(&Rule) -> bool) -> Vec<Verdict> {
    let mut verdicts = Vec::new();
    let steels = book.steels.iter().filter(|steel| wanted(&steel.rule));
    verdicts.extend(steels.flat_map(|steel| steel::judge(steel, known)));
    let members = book.members.iter().filter(|needed| wanted(&needed.rule));
    verdicts.extend(members.map(|needed| members::judge(needed, known)));
    let limits = book.limits.iter().filter(|limit| wanted(&limit.rule));
    verdicts.extend(limits.flat_map(|limit| limits::judge(limit, known)));
    let plates = book.plates.iter().filter(|plate| wanted(&plate.rule));
    verdicts.extend(plates.flat_map(|plate| plates::judge(plate, known)));
    let gussets = book.gussets.iter().filter(|gusset| wanted(&gusset.rule));
    verdicts.extend(gussets.flat_map(|gusset| gussets::judge(gusset, known)));
    let kit = book.kit.iter().filter(|item| wanted(&item.rule));
    verdicts.extend(kit.flat_map(|item| kit::judge(item, known)));
    let shots = book.shots.iter().filter(|shot| wanted(&shot.rule));
    verdicts.extend(shots.flat_map(|shot| shots::judge(shot, known)));
    verdicts
}

/// Finds which of the rules that stand in for others are met, those first that wait for none; the reader has refused
/// circles. A rule that is not asked of this car stands in for nothing.
fn stand_ins(book: &RuleBook, known: &Known<'_>) {
    let named: HashSet<&str> = book.rules().flat_map(|rule| &rule.exempt_with).map(String::as_str).collect();
    let mut left: Vec<&Rule> = book.rules().filter(|rule| named.contains(rule.id.as_str())).collect();
    while !left.is_empty() {
        let waits: HashSet<&str> = left.iter().map(|rule| rule.id.as_str()).collect();
        let (ready, rest): (Vec<&Rule>, Vec<&Rule>) =
            left.into_iter().partition(|rule| !rule.exempt_with.iter().any(|other| waits.contains(other.as_str())));
        if ready.is_empty() {
            return;
        }
        let ready: HashSet<&str> = ready.iter().map(|rule| rule.id.as_str()).collect();
        let verdicts = judged(book, known, &|rule| ready.contains(rule.id.as_str()));
        for of_rule in verdicts.chunk_by(|one, next| one.rule_id == next.rule_id) {
            let met = of_rule.iter().all(|verdict| verdict.word == Word::Meets);
            if let Some(first) = of_rule.first().filter(|_| met) {
                known.met.borrow_mut().insert(first.rule_id.clone());
            }
        }
        left = rest;
    }
}
