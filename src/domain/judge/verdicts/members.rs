//! Judging which bars are there: straight runs are counted, not the pieces they are cut into.

use std::collections::BTreeMap;

use crate::domain::book::kinds::MemberNeeded;
use crate::domain::cage::Side;
use crate::domain::measure::amounts::{Amount, LimitText};
use crate::domain::words::basis::Basis;
use crate::domain::words::ids::Balloon;

use super::asked::unasked;
use super::known::{Bar, Known};
use super::verdict::{Answer, Verdict};

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
        return Verdict::new(rule, None, Answer::NotMeasured)
            .limited(limit)
            .because("No bar of this cage is recorded yet.");
    }
    let runs = runs(known.members.iter().filter(|bar| needed.takes(bar.role)));
    let on = |side: Side| count(runs.values().filter(|run| run.side == Some(side)).count());
    let found = if needed.each_side { on(Side::Left).min(on(Side::Right)) } else { count(runs.len()) };
    let unplaced = needed.each_side && runs.values().any(|run| run.side.is_none());
    let answer = match (found >= needed.count, unplaced || !known.whole) {
        (true, _) => Answer::Meets(Basis::Drawn),
        (false, true) => Answer::NotMeasured,
        (false, false) => Answer::ShortBy,
    };
    let mut verdict = Verdict::new(rule, None, answer).limited(limit);
    verdict.figure = Some(Amount::Count(found));
    verdict.margin = Some(Amount::Count(found.abs_diff(needed.count)));
    let names: Vec<String> = runs.values().map(Run::describe).collect();
    let description =
        if names.is_empty() { "No bar does.".to_owned() } else { format!("In the model: {}.", names.join(", ")) };
    let mut verdict = verdict.because(description);
    if answer == Answer::NotMeasured && unplaced {
        verdict = verdict.because("Of some bars the side is not known.");
    }
    if answer == Answer::NotMeasured && !known.whole {
        verdict = verdict.because("The cage is not wholly laid out yet: bars may still come.");
    }
    verdict.settled(rule, known)
}

/// A bar with all the pieces it is cut into.
struct Run {
    pieces: Vec<Balloon>,
    side: Option<Side>,
}

impl Run {
    /// Its number, with those of its further pieces: "M9", "M10 with M11".
    fn describe(&self) -> String {
        let pieces: Vec<String> = self.pieces.iter().map(ToString::to_string).collect();
        pieces.join(" with ")
    }
}

/// The straight runs among these bars, by their first pieces. One that has pieces on two sides lies across.
fn runs<'a>(bars: impl Iterator<Item = &'a Bar>) -> BTreeMap<Balloon, Run> {
    let mut runs: BTreeMap<Balloon, Run> = BTreeMap::new();
    for bar in bars {
        let run = runs.entry(bar.run).or_insert_with(|| Run { pieces: Vec::new(), side: bar.side });
        if run.side != bar.side {
            run.side = run.side.and(bar.side).map(|_| Side::Across);
        }
        run.pieces.push(bar.balloon);
    }
    runs
}

/// A count as an amount holds it.
pub(super) fn count(many: usize) -> u32 {
    u32::try_from(many).unwrap_or(u32::MAX)
}
