//! Judging foot plates.

use crate::domain::book::kinds::PlateRule;
use crate::domain::words::ids::{Balloon, Kind};

use super::asked::unasked;
use super::bolts;
use super::known::{FootOf, Known};
use super::limits::checks;
use super::verdict::{Answer, Verdict};

/// Judges every plate that a rule speaks of, each figure by itself.
pub(super) fn judge(plate: &PlateRule, known: &Known<'_>) -> Vec<Verdict> {
    let rule = &plate.rule;
    if let Some(verdict) = unasked(rule, known) {
        return vec![verdict];
    }
    let plates: Vec<Balloon> =
        known.balloons(Kind::Plate).into_iter().filter(|part| meant(plate, *part, known)).collect();
    let mut verdicts: Vec<Verdict> =
        known.feet.iter().filter(|foot| bare(plate, foot)).map(|foot| without_plate(plate, foot, known)).collect();
    if plates.is_empty() && verdicts.is_empty() {
        let because = "No plate is known under such a foot.";
        return vec![Verdict::new(rule, None, Answer::NotMeasured).because(because).settled(rule, known)];
    }
    for part in plates {
        verdicts.extend(checks(rule, &plate.checks, part, known));
        if plate.bolts.is_empty() && plate.section.is_none() {
            continue;
        }
        if known.welded.contains(&part) {
            let because = "This plate is welded; its bolts are asked for where it is bolted.";
            verdicts.push(Verdict::new(rule, Some(part), Answer::NotAsked).because(because));
            continue;
        }
        verdicts.extend(checks(rule, &plate.bolts, part, known));
        verdicts.extend(plate.section.iter().map(|share| bolts::section(rule, share, part, known)));
    }
    verdicts
}

/// True for a foot that the rule speaks of and no plate is recorded under.
fn bare(plate: &PlateRule, foot: &FootOf) -> bool {
    foot.plate.is_none() && plate.under.is_none_or(|role| foot.role.is_none_or(|own| own == role))
}

/// A foot without a plate is named by itself: nothing is known of the plate that it needs.
fn without_plate(plate: &PlateRule, foot: &FootOf, known: &Known<'_>) -> Verdict {
    let on = foot.bar.map(|bar| format!(" of {bar}")).unwrap_or_default();
    let because = format!("No plate is recorded under the {}{on}.", foot.name);
    Verdict::new(&plate.rule, foot.bar, Answer::NotMeasured).because(because).settled(&plate.rule, known)
}

/// True when a plate is under a foot that the rule speaks of; a plate whose bar is not known counts only for every foot.
fn meant(plate: &PlateRule, part: Balloon, known: &Known<'_>) -> bool {
    plate.under.is_none_or(|role| bolts::under(part, role, known))
}
