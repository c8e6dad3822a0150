//! Judging the steel of each stick by the figures of its certificate.

use crate::domain::book::kinds::SteelRule;
use crate::domain::words::ids::Kind;

use super::asked::unasked;
use super::known::Known;
use super::limits::checks;
use super::verdict::{Answer, Verdict};

/// Judges every stick that the build has or its bars were cut from.
pub(super) fn judge(steel: &SteelRule, known: &Known<'_>) -> Vec<Verdict> {
    let rule = &steel.rule;
    if let Some(verdict) = unasked(rule, known) {
        return vec![verdict];
    }
    let sticks = known.balloons(Kind::Stick);
    if sticks.is_empty() {
        let because = "No stick of tube is recorded for this build.";
        return vec![Verdict::new(rule, None, Answer::NotMeasured).because(because)];
    }
    sticks.into_iter().flat_map(|stick| checks(rule, &steel.checks, stick, known)).collect()
}
