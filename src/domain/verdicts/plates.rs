//! Judging foot plates.

use crate::domain::ids::{Balloon, Kind};
use crate::domain::rule_books::kinds::PlateRule;

use super::bolts;
use super::known::Known;
use super::limits::{checks, unasked};
use super::verdict::{Verdict, Word};

/// Judges every plate that a rule speaks of, each figure by itself.
pub(super) fn judge(plate: &PlateRule, known: &Known<'_>) -> Vec<Verdict> {
    let rule = &plate.rule;
    if let Some(verdict) = unasked(rule, known) {
        return vec![verdict];
    }
    let plates: Vec<Balloon> =
        known.balloons(Kind::Plate).into_iter().filter(|part| meant(plate, *part, known)).collect();
    if plates.is_empty() {
        let because = "No plate is known under such a foot.";
        return vec![Verdict::new(rule, None, Word::NotMeasured).because(because).settled(rule, known)];
    }
    let mut verdicts = Vec::new();
    for part in plates {
        verdicts.extend(checks(rule, &plate.checks, part, known));
        if plate.bolts.is_empty() && plate.section.is_none() {
            continue;
        }
        if known.welded.contains(&part) {
            let because = "This plate is welded; its bolts are asked for where it is bolted.";
            verdicts.push(Verdict::new(rule, Some(part), Word::NotAsked).because(because));
            continue;
        }
        verdicts.extend(checks(rule, &plate.bolts, part, known));
        verdicts.extend(plate.section.iter().map(|share| bolts::section(rule, share, part, known)));
    }
    verdicts
}

/// True when a plate is under a foot that the rule speaks of; a plate whose bar is not known counts only for every foot.
fn meant(plate: &PlateRule, part: Balloon, known: &Known<'_>) -> bool {
    plate.under.is_none_or(|role| bolts::under(part, role, known))
}
