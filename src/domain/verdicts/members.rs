//! Judging which bars are there.

use crate::domain::cage::Side;
use crate::domain::figures::Amount;
use crate::domain::rule_books::kinds::MemberNeeded;

use super::known::{Bar, Known};
use super::limits::unasked;
use super::verdict::{LimitText, Verdict, Word};

/// Judges whether a bar is there often enough.
pub(super) fn judge(needed: &MemberNeeded, known: &Known<'_>) -> Verdict {
    let rule = &needed.rule;
    if let Some(verdict) = unasked(rule, known) {
        return verdict;
    }
    let sides = if needed.each_side { " on each side" } else { "" };
    let mut limit = LimitText::words(format!("at least {} {}{sides}", needed.count, needed.bars()));
    limit.amount = Some(Amount::Count(needed.count));
    if known.members.is_empty() {
        return Verdict::new(rule, None, Word::NotMeasured)
            .limited(limit)
            .because("No bar of this cage is recorded yet.");
    }
    let bars: Vec<&Bar> = known.members.iter().filter(|bar| needed.takes(bar.role)).collect();
    let on = |side: Side| count(bars.iter().filter(|bar| bar.side == Some(side)).count());
    let found = if needed.each_side { on(Side::Left).min(on(Side::Right)) } else { count(bars.len()) };
    let unplaced = needed.each_side && bars.iter().any(|bar| bar.side.is_none());
    let word = match (found >= needed.count, unplaced) {
        (true, _) => Word::Meets,
        (false, true) => Word::NotMeasured,
        (false, false) => Word::ShortBy,
    };
    let mut verdict = Verdict::new(rule, None, word).limited(limit);
    verdict.figure = Some(Amount::Count(found));
    verdict.margin = Some(Amount::Count(found.abs_diff(needed.count)));
    let names: Vec<String> = bars.iter().map(|bar| bar.balloon.to_string()).collect();
    let told =
        if names.is_empty() { "No bar does.".to_owned() } else { format!("In the model: {}.", names.join(", ")) };
    let verdict = verdict.because(told);
    let verdict =
        if word == Word::NotMeasured { verdict.because("Of some bars the side is not known.") } else { verdict };
    verdict.settled(rule, known)
}

/// A count as an amount holds it.
pub(super) fn count(many: usize) -> u32 {
    u32::try_from(many).unwrap_or(u32::MAX)
}
