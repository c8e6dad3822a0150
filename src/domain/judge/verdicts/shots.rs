//! Judging the photographs that a book asks for: whether each is there, not what it shows.

use crate::domain::book::kinds::{Per, ShotRule};
use crate::domain::measure::amounts::LimitText;
use crate::domain::words::basis::Basis;
use crate::domain::words::ids::{Balloon, Kind};

use super::asked::unasked;
use super::known::{CAR, Known};
use super::verdict::{Answer, Verdict};

/// Judges one photograph rule: a verdict for each part it is asked of.
pub(super) fn judge(shot: &ShotRule, known: &Known<'_>) -> Vec<Verdict> {
    let rule = &shot.rule;
    if let Some(verdict) = unasked(rule, known) {
        return vec![verdict];
    }
    let parts = parts(shot.per, known);
    if parts.is_empty() {
        let because = format!("No {} is recorded yet.", shot.per.word());
        // A cage may rightly be without gussets or bends; sticks, joints, plates, kit and a weighing every car has.
        let absent = matches!(shot.per, Per::Gusset | Per::Bend) && known.laid_out();
        let answer = if absent { Answer::NotAsked } else { Answer::NoPhoto };
        return vec![Verdict::new(rule, None, answer).because(because)];
    }
    parts.into_iter().map(|part| of_part(shot, part, known)).collect()
}

fn of_part(shot: &ShotRule, part: Balloon, known: &Known<'_>) -> Verdict {
    let keys = shot.keys();
    let missing: Vec<&str> = keys
        .iter()
        .filter(|key| !(known.photographed)(key, &part))
        .map(|key| key.strip_prefix(&format!("{}/", shot.rule.id)).unwrap_or(key))
        .collect();
    let of = if part == CAR { None } else { Some(part) };
    let limit = match keys.len() {
        1 => LimitText::words("a photograph"),
        many => LimitText::words(format!("{many} photographs: {}", shot.views.join(", "))),
    };
    let verdict = if missing.is_empty() {
        Verdict::new(&shot.rule, of, Answer::Meets(Basis::Seen)).because("Every photograph asked for is there.")
    } else if shot.views.is_empty() {
        Verdict::new(&shot.rule, of, Answer::NoPhoto).because("The photograph is missing.")
    } else {
        Verdict::new(&shot.rule, of, Answer::NoPhoto).because(format!("Missing: {}.", missing.join(", ")))
    };
    verdict.limited(limit).looked_for(keys, part).decided(&shot.rule)
}

/// The parts that a photograph is asked of.
fn parts(per: Per, known: &Known<'_>) -> Vec<Balloon> {
    match per {
        Per::Joint => known.balloons(Kind::Joint),
        Per::Gusset => known.balloons(Kind::Gusset),
        Per::Plate => known.balloons(Kind::Plate),
        Per::Stick => known.balloons(Kind::Stick),
        Per::Kit => known.balloons(Kind::Kit),
        Per::WeighIn => known.balloons(Kind::WeighIn),
        Per::Bend => known.members.iter().map(|bar| bar.balloon).filter(|bar| known.bent(*bar)).collect(),
        Per::Car => vec![CAR],
    }
}
