//! Judging gussets at joints.

use crate::domain::book::kinds::{GussetRule, Stiffener};
use crate::domain::cage::GussetKind;
use crate::domain::measure::amounts::{Amount, LimitText};
use crate::domain::words::basis::Basis;
use crate::domain::words::ids::Balloon;
use crate::domain::words::roles::MemberRole;

use super::asked::unasked;
use super::known::{GussetAt, JointOf, Known};
use super::members::count;
use super::verdict::{Answer, Verdict};

/// Judges every joint where the rule's bars meet.
pub(super) fn judge(gusset: &GussetRule, known: &Known<'_>) -> Vec<Verdict> {
    let rule = &gusset.rule;
    if let Some(verdict) = unasked(rule, known) {
        return vec![verdict];
    }
    let joints: Vec<&JointOf> = known.joints.iter().filter(|joint| gusset.meant(&joint.roles)).collect();
    if joints.is_empty() {
        let answer = if known.joints.is_empty() || !known.whole { Answer::NotMeasured } else { Answer::NotAsked };
        return vec![Verdict::new(rule, None, answer).because("No joint of these bars is known.")];
    }
    joints.into_iter().map(|joint| of_joint(gusset, joint, known).settled(rule, known)).collect()
}

fn of_joint(gusset: &GussetRule, joint: &JointOf, known: &Known<'_>) -> Verdict {
    let here = || known.gussets.iter().filter(|at| at.joint == joint.balloon);
    let does = |kind| match kind {
        GussetKind::Tube => gusset.either.contains(&Stiffener::Tube),
        GussetKind::Saddle | GussetKind::Flat => gusset.either.contains(&Stiffener::Gusset),
    };
    let (does, others): (Vec<&GussetAt>, Vec<&GussetAt>) =
        here().partition(|at| gusset.between(at.between) && does(at.kind));
    let there: Vec<String> = does.iter().map(|at| at.balloon.to_string()).collect();
    let found = count(there.len());
    let most = gusset.count_most.map(|most| format!(", at most {most}")).unwrap_or_default();
    let over = gusset.count_most.filter(|most| found > *most);
    let edge = over.unwrap_or(gusset.count_least);
    let looks = found < gusset.count_least && gusset.either.contains(&Stiffener::Tube);
    let instead = looks && (known.photographed)(&gusset.rule.id, &joint.balloon);
    let answer = match (over, found < gusset.count_least) {
        (Some(_), _) => Answer::OverBy,
        (None, true) if instead => Answer::ScrutineerDecides,
        (None, true) => Answer::ShortBy,
        (None, false) => Answer::Meets(Basis::Recorded),
    };
    let limit = LimitText::words(format!("at least {}{most}", gusset.count_least));
    let limit = LimitText { amount: Some(Amount::Count(edge)), ..limit };
    let mut verdict = Verdict::new(&gusset.rule, Some(joint.balloon), answer).limited(limit);
    verdict.figure = Some(Amount::Count(found));
    verdict.margin = Some(Amount::Count(found.abs_diff(edge)));
    let description = if there.is_empty() {
        "No gusset that does is recorded here.".to_owned()
    } else {
        format!("Here: {}.", there.join(", "))
    };
    let mut verdict = verdict.because(description).looked_for(looks.then(|| gusset.rule.id.clone()), joint.balloon);
    if !others.is_empty() {
        let others: Vec<String> = others.iter().map(|at| of_other(at.balloon, at.between, at.kind)).collect();
        verdict = verdict.because(format!("Not what is asked for: {}.", others.join("; ")));
    }
    match answer {
        Answer::ScrutineerDecides => verdict.because("A tube may stand in for it; the photograph shows what is there."),
        Answer::ShortBy if gusset.either.contains(&Stiffener::Tube) => {
            verdict.because("If a tube stands in for it, photograph it under this rule.")
        }
        _ => verdict,
    }
}

/// A gusset at the joint that is not the rule's: "G3, a flat plate between main hoop and backstay".
fn of_other(balloon: Balloon, [one, other]: [MemberRole; 2], kind: GussetKind) -> String {
    format!("{balloon}, a {} between {} and {}", kind.word(), one.word(), other.word())
}
