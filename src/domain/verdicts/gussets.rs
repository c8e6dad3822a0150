//! Judging gussets at joints.

use crate::domain::figures::Amount;
use crate::domain::rule_books::kinds::{GussetRule, Stiffener};

use super::known::{JointOf, Known};
use super::limits::unasked;
use super::members::count;
use super::verdict::{LimitText, Verdict, Word};

/// Judges every joint where the rule's bars meet.
pub(super) fn judge(gusset: &GussetRule, known: &Known<'_>) -> Vec<Verdict> {
    let rule = &gusset.rule;
    if let Some(verdict) = unasked(rule, known) {
        return vec![verdict];
    }
    let joints: Vec<&JointOf> = known.joints.iter().filter(|joint| gusset.meant(&joint.roles)).collect();
    if joints.is_empty() {
        let word = if known.joints.is_empty() { Word::NotMeasured } else { Word::NotAsked };
        return vec![Verdict::new(rule, None, word).because("No joint of these bars is known.")];
    }
    joints.into_iter().map(|joint| of_joint(gusset, joint, known).settled(rule, known)).collect()
}

fn of_joint(gusset: &GussetRule, joint: &JointOf, known: &Known<'_>) -> Verdict {
    let there: Vec<String> =
        known.gussets.iter().filter(|at| at.joint == joint.balloon).map(|at| at.balloon.to_string()).collect();
    let found = count(there.len());
    let most = gusset.count_most.map(|most| format!(", at most {most}")).unwrap_or_default();
    let over = gusset.count_most.filter(|most| found > *most);
    let edge = over.unwrap_or(gusset.count_least);
    let instead = found < gusset.count_least
        && gusset.either.contains(&Stiffener::Tube)
        && (known.photographed)(&gusset.rule.id, &joint.balloon);
    let word = match (over, found < gusset.count_least) {
        (Some(_), _) => Word::OverBy,
        (None, true) if instead => Word::ScrutineerDecides,
        (None, true) => Word::ShortBy,
        (None, false) => Word::Meets,
    };
    let limit = LimitText { text: format!("at least {}{most}", gusset.count_least), amount: Some(Amount::Count(edge)) };
    let mut verdict = Verdict::new(&gusset.rule, Some(joint.balloon), word).limited(limit);
    verdict.figure = Some(Amount::Count(found));
    verdict.margin = Some(Amount::Count(found.abs_diff(edge)));
    let told = if there.is_empty() {
        "No gusset is recorded here.".to_owned()
    } else {
        format!("Here: {}.", there.join(", "))
    };
    let verdict = verdict.because(told);
    match word {
        Word::ScrutineerDecides => verdict.because("A tube may stand in for it; the photograph shows what is there."),
        Word::ShortBy if gusset.either.contains(&Stiffener::Tube) => {
            verdict.because("If a tube stands in for it, photograph it under this rule.")
        }
        _ => verdict,
    }
}
