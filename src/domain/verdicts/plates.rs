//! Judging foot plates.

use crate::domain::ids::{Balloon, Kind};
use crate::domain::rule_books::kinds::PlateRule;

use super::known::Known;
use super::limits::{Edges, of_one, unasked};
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
    let check = |part: Balloon| {
        plate.checks.iter().flat_map(move |(measure, least, most)| {
            of_one(rule, *measure, &Edges { least: least.as_ref(), most: most.as_ref() }, part, known)
        })
    };
    plates.into_iter().flat_map(check).collect()
}

/// True when a plate is under a foot that the rule speaks of; a plate whose bar is not known counts only for every foot.
fn meant(plate: &PlateRule, part: Balloon, known: &Known<'_>) -> bool {
    let Some(role) = plate.under else { return true };
    known.figures.iter().any(|figure| figure.of == part && figure.role == Some(role))
}
