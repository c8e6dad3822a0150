//! Judging a whole book, kind by kind, in the book's order.

use crate::domain::rule_books::RuleBook;

use super::known::Known;
use super::verdict::Verdict;
use super::{gussets, kit, limits, members, plates, shots, tubes};

/// What every rule says of what is known. The hold point is no verdict: a person releases it.
pub fn judge(book: &RuleBook, known: &Known<'_>) -> Vec<Verdict> {
    let mut verdicts = tubes::judge(book, known);
    verdicts.extend(book.members.iter().map(|needed| members::judge(needed, known)));
    verdicts.extend(book.limits.iter().flat_map(|limit| limits::judge(limit, known)));
    verdicts.extend(book.plates.iter().flat_map(|plate| plates::judge(plate, known)));
    verdicts.extend(book.gussets.iter().flat_map(|gusset| gussets::judge(gusset, known)));
    verdicts.extend(book.kit.iter().flat_map(|item| kit::judge(item, known)));
    verdicts.extend(book.shots.iter().flat_map(|shot| shots::judge(shot, known)));
    verdicts
}
